package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/thermal"
)

// profile is a common aluminium sink 100 mm long.
func profile() thermal.Sink {
	return thermal.Sink{Width: 0.1, Length: 0.1, Fins: 10, FinHeight: 0.03, FinThickness: 0.0015, Conductivity: 200, Emissivity: 0.85}
}

func sinks() *rapid.Generator[thermal.Sink] {
	return rapid.Custom(func(t *rapid.T) thermal.Sink {
		s := thermal.Sink{
			Fins:         rapid.IntRange(2, 20).Draw(t, "fins"),
			Length:       draw.Log(0.01, 0.3).Draw(t, "length"),
			FinHeight:    draw.Log(0.003, 0.06).Draw(t, "fin height"),
			FinThickness: draw.Log(3e-4, 3e-3).Draw(t, "fin thickness"),
			Conductivity: draw.Log(1, 400).Draw(t, "conductivity"),
			Emissivity:   draw.Uniform(0, 1).Draw(t, "emissivity"),
		}
		gap := draw.Log(1e-3, 0.02).Draw(t, "gap")
		s.Width = math.Max(1e-3, float64(s.Fins)*s.FinThickness+float64(s.Fins-1)*gap)
		return s
	})
}

func TestCheckSink(t *testing.T) {
	s := profile()
	s.Emissivity = 0
	r, err := s.At(340, 300)
	require.NoError(t, err)
	p, err := thermal.AirFilm(340, 300)
	require.NoError(t, err)
	gap := (0.1 - 10*0.0015) / 9
	h := thermal.ChannelNusselt(p.Rayleigh(gap, 40)*gap/0.1) * p.Conductivity / gap
	one, err := thermal.StraightFin{Profile: thermal.Rectangular, Length: 0.03, Thickness: 0.0015, Width: 0.1}.At(h, 200)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("polished sink [W]", "ten fins and nine strips of base, each by its own law", verify.Own, 40*(10*one.Conductance+9*gap*0.1*h), r.Loss, 1e-12, "rounding"),
		row("efficiency of a fin", "StraightFin", verify.Own, one.Efficiency, r.Efficiency, 1e-13, "rounding"),
	})
}

// What a coated sink loses beyond a polished one, of fins that conduct as well as can be, is
// the radiation of its channels' openings and of its outside.
func TestSinkRadiates(t *testing.T) {
	polished, coated := profile(), profile()
	polished.Conductivity, coated.Conductivity = 1e4, 1e4
	polished.Emissivity, coated.Emissivity = 0, 0.5
	gap, h, l := coated.Gap(), 0.03, 0.1
	opening := gap * (l + 2*h)
	e, err := thermal.CavityEmissivity(0.5, opening/((gap+2*h)*l))
	require.NoError(t, err)
	r, err := thermal.RadiationCoefficient(1, 350, 300)
	require.NoError(t, err)
	want := r * 50 * (9*opening*e + 0.5*l*(2*h+10*0.0015))
	near(t, want, coated.Loss(350, 300)-polished.Loss(350, 300), 2e-3)
}

// Air in a narrow channel would choke it when very hot; the loss must not fall all the same.
func TestHotSinkLosesMore(t *testing.T) {
	s := thermal.Sink{Width: 0.0016, Length: 0.1, Fins: 2, FinHeight: 0.003, FinThickness: 0.0003, Conductivity: 200}
	for base := 250.; base < 1200; base += 50 {
		require.Greater(t, s.Loss(base+50, 220), s.Loss(base, 220), "%g K", base)
	}
}

func TestPropertySink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sinks().Draw(t, "sink")
		air := draw.Uniform(200, 470).Draw(t, "air")
		a := draw.Uniform(220, 600).Draw(t, "base")
		b := a + draw.Log(0.01, 900).Draw(t, "more")
		low, high := s.Loss(a, air), s.Loss(b, air)
		require.Greater(t, high, low)
		require.Zero(t, s.Loss(air, air))
		// Energy, back and forth.
		if a > air+0.1 {
			back, err := s.Steady(low, air)
			require.NoError(t, err)
			require.InDelta(t, a, back.Temperature, 1e-7)
			near(t, low, back.Loss, 1e-10)
			near(t, back.Resistance, (back.Temperature-air)/back.Loss, 1e-9)
			require.True(t, back.Efficiency > 0 && back.Efficiency <= 1)
			// Better metal, blacker skin: more heat.
			better := s
			better.Conductivity *= 2
			require.Greater(t, better.Loss(a, air), low)
			black := s
			black.Emissivity = 1
			require.GreaterOrEqual(t, black.Loss(a, air), low*(1-1e-12))
			// No more than a box around it radiates, black, if convection were none.
			polished := s
			polished.Emissivity = 0
			box := 2*s.FinHeight*(s.Width+s.Length) + s.Width*s.Length
			h, err := thermal.RadiationCoefficient(1, a, air)
			require.NoError(t, err)
			require.Less(t, black.Loss(a, air)-polished.Loss(a, air), box*h*(a-air)*(1+1e-9))
		}
		// A fan: more air, more heat, up to all the area's worth; never more than the air can hold.
		flow := draw.Log(2e-4, 0.02).Draw(t, "flow")
		d, err := s.Blow(flow, 350, 300)
		if err == nil {
			more, err := s.Blow(1.1*flow, 350, 300)
			if err == nil {
				require.Greater(t, more.Conductance, d.Conductance)
			}
			require.True(t, d.Outlet > 0 && d.Outlet <= 1)
			require.Less(t, d.Conductance, 1.2*flow*1010)
		}
	})
}

// A fan's flow between fins against a law made for them, in which speed and heat begin together.
func TestCheckBlownSink(t *testing.T) {
	const source = "P. Teertstra, M. M. Yovanovich and J. R. Culham, Analytical Forced Convection Modeling of Plate Fin Heat Sinks, J. Electronics Manufacturing 10 (2000) 253"
	var rows []verify.Row
	for _, v := range []struct{ length, flow float64 }{{0.04, 1.5e-3}, {0.1, 1e-3}, {0.3, 4e-4}} {
		s := thermal.Sink{Width: 0.036, Length: v.length, Fins: 8, FinHeight: 0.05, FinThickness: 0.001, Conductivity: 1e4}
		d, err := s.Blow(v.flow, 330, 300)
		require.NoError(t, err)
		p, err := thermal.AirFilm(330, 300)
		require.NoError(t, err)
		gap := s.Gap()
		re := d.Speed * gap / p.KinematicViscosity * gap / v.length
		nu := math.Pow(math.Pow(re*p.Prandtl/2, -3)+math.Pow(0.664*math.Sqrt(re)*math.Cbrt(p.Prandtl)*math.Sqrt(1+3.65/math.Sqrt(re)), -3), -1./3)
		// By the difference to the entering air, over both sides of the channels.
		area := 7 * 2 * s.FinHeight * v.length
		rows = append(rows, row("sink in a fan's flow, Nusselt number", source, verify.Memory, nu, d.Conductance/area*gap/p.Conductivity, 0.1,
			"ours has the speed developed before the heat, which is less, and the base besides, which is more"))
	}
	verify.Table(t, rows)
}

// What the functions of a disc cost beside the tangent of a straight fin.
func BenchmarkAnnularFin(b *testing.B) {
	ring := thermal.AnnularFin{Inner: 0.01, Outer: 0.02, Thickness: 0.001}
	flat := thermal.StraightFin{Profile: thermal.Rectangular, Length: 0.01, Thickness: 0.001, Width: 0.1}
	versus.Report(b, "x-straight", func(i int) {
		for j := range many {
			f, _ := ring.At(20+float64(i+j)/100, 5)
			sink += f.Conductance
		}
	}, func(i int) {
		for j := range many {
			f, _ := flat.At(20+float64(i+j)/100, 5)
			sink += f.Conductance
		}
	})
}
