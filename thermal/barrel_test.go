package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
)

const (
	bejan   = "Bejan and Kraus, Heat Transfer Handbook, "
	nine    = "digits of the value"
	recount = "its inputs in 25-digit arithmetic"
)

func lagged(t require.TestingT, l thermal.Lagged, barrel, air float64) thermal.LaggedState {
	s, err := l.At(barrel, air)
	require.NoError(t, err)
	return s
}

func TestCheckCriticalRadius(t *testing.T) {
	// A wire in plastic that makes 80 W, in air of 30 °C.
	wire := func(cover float64) float64 {
		return 30 + 80/lagged(t, thermal.Lagged{Radius: 1.5e-3, Length: 5, Thickness: cover, Conductivity: 0.15, Blown: 12}, 320, 300).Conductance
	}
	tube := func(thickness float64) float64 {
		return 1 / lagged(t, thermal.Lagged{Radius: 5e-3, Length: 1, Thickness: thickness, Conductivity: 0.055, Blown: 5}, 320, 300).Conductance
	}
	layer, err := thermal.TubeLayer(1.5e-3, 3.5e-3, 0.15, 5)
	require.NoError(t, err)
	pipe, err := thermal.TubeLayer(0.025, 0.0275, 80, 1)
	require.NoError(t, err)
	wool, err := thermal.TubeLayer(0.0275, 0.0575, 0.05, 1)
	require.NoError(t, err)
	critical, err := thermal.CriticalRadius(0.15, 12)
	require.NoError(t, err)
	of, err := thermal.CriticalRadius(0.055, 5)
	require.NoError(t, err)
	// A wall that makes heat, 1.5 MW/m³ in 50 mm, behind 20 mm of another, in water of 30 °C.
	second, err := thermal.Layer(0.02, 150, 1)
	require.NoError(t, err)
	film, err := thermal.Surface(1000, 1)
	require.NoError(t, err)
	const wall = incropera + "Example 3.7, p. 129, its inputs"
	const example = cengel + "Example 3-9"
	const copper = incropera + "Example 3.5, p. 119, its inputs"
	verify.Table(t, []verify.Row{
		row("critical radius of a wire [m]", example, verify.Print, 12.5e-3, critical, 1e-12, "exact"),
		row("its plastic [K/W]", example, verify.Print, 0.18, layer, 0.005/0.18, "printed to 0.01"),
		row("its plastic [K/W]", example+", "+recount, verify.Own, 0.179802190, layer, 3e-9, nine),
		row("temperature in 2 mm of plastic [°C]", example, verify.Print, 105, wire(2e-3), 0.5/105, "printed to 1 K"),
		row("temperature in 2 mm of plastic [°C]", example+", "+recount, verify.Own, 105.01463, wire(2e-3), 5e-8, "8 digits"),
		row("in 4 mm [°C]", example, verify.Print, 90.6, wire(4e-3), 0.05/90.6, "printed to 0.1 K"),
		row("in 4 mm [°C]", example+", "+recount, verify.Own, 90.640330, wire(4e-3), 6e-9, "8 digits"),
		row("at the critical radius [°C]", example, verify.Print, 83, wire(11e-3), 0.5/83, "printed to 1 K"),
		row("at the critical radius [°C]", example+", "+recount, verify.Own, 82.971239, wire(11e-3), 7e-9, "8 digits"),
		row("critical radius of a tube [m]", incropera+"Example 3.5, p. 119", verify.Memory, 0.011, of, 1e-12, "exact"),
		row("bare tube [K/W]", copper, verify.Own, 6.366197724, tube(0), 1e-9, tenDigits),
		row("at its critical radius [K/W]", copper, verify.Own, 5.175305989, tube(6e-3), 1e-9, tenDigits),
		row("beyond it [K/W]", copper, verify.Own, 5.603105797, tube(15e-3), 1e-9, tenDigits),
		row("outside of a composite wall [°C]", wall, verify.Own, 105, 30+75e3*film, 1e-13, "exact"),
		row("its joint [°C]", wall, verify.Own, 115, 30+75e3*(film+second), 1e-13, "exact"),
		row("wall of a steam pipe [K/W]", cengel+"Example 3-8, "+recount, verify.Own, 1.896136e-4, pipe, 3e-7, "7 digits"),
		row("its wool [K/W]", cengel+"Example 3-8, "+recount, verify.Own, 2.3478504, wool, 3e-8, "8 digits"),
		row("its heat [W]", cengel+"Example 3-8", verify.Memory, 121, 315/(1/(60*math.Pi*0.05)+pipe+wool+1/(18*math.Pi*0.115)), 0.5/121, "remembered to 1 W"),
		row("its heat [W]", cengel+"Example 3-8, "+recount, verify.Own, 120.786092, 315/(1/(60*math.Pi*0.05)+pipe+wool+1/(18*math.Pi*0.115)), 5e-9, nine),
	})
}

func TestCheckLaggedBarrel(t *testing.T) {
	const air = "the same laws with air by Sutherland's formulas"
	const why = "that air's conductivity is up to 3 % off"
	hot, cold := material.Celsius(220), material.Celsius(22)
	bare := thermal.Lagged{Radius: 0.0225, Length: 1, Emissivity: 0.8}
	b := lagged(t, bare, hot, cold)
	bare.Emissivity = 0.2
	bright := lagged(t, bare, hot, cold)
	wool := thermal.Lagged{Radius: 0.0225, Length: 1, Thickness: 0.025, Conductivity: 0.05, Emissivity: 0.9}
	w := lagged(t, wool, hot, cold)
	wool.Emissivity = 0.2
	foil := lagged(t, wool, hot, cold)
	through := (hot - w.Surface) * 2 * math.Pi * 0.05 / math.Log(0.0475/0.0225)
	verify.Table(t, []verify.Row{
		row("bare barrel at 220 °C, convection [W]", air, verify.Own, 243.924304517, b.Convection, 0.03, why),
		row("radiation, oxidised [W]", "Stefan and Boltzmann, "+recount, verify.Own, 330.630667563, b.Radiation, 1e-11, digits),
		row("radiation, bright [W]", "the same", verify.Own, 82.6576668908, bright.Radiation, 1e-11, digits),
		row("in 25 mm of wool [W]", air, verify.Own, 73.5131797479, w.Loss, 0.003, why+", which counts for a tenth of the way"),
		row("its outside above the air [K]", air, verify.Own, 23.1520400992, w.Surface-cold, 0.02, why),
		row("what the wool lets through [W]", "ln(ro/ri)/2πk at the surface found", verify.Own, through, w.Loss, 1e-11, "rounding"),
		row("in foil [W]", air, verify.Own, 68.7099166481, foil.Loss, 0.004, why),
		row("its outside above the air [K]", air, verify.Own, 34.5763963403, foil.Surface-cold, 0.02, why),
	})
	assert.Greater(t, foil.Surface, w.Surface) // bright and hot to the touch
}

func TestPropertyLagged(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := thermal.Lagged{
			Radius: draw.Log(5e-4, 0.1).Draw(t, "radius"), Length: 1, Conductivity: draw.Log(0.02, 2).Draw(t, "conductivity"),
			Blown: draw.Log(1, 100).Draw(t, "coefficient"),
		}
		critical, err := thermal.CriticalRadius(l.Conductivity, l.Blown)
		require.NoError(t, err)
		loss := func(outer float64) float64 {
			l.Thickness = outer - l.Radius
			return lagged(t, l, 450, 300).Loss
		}
		if critical > 1.01*l.Radius && critical < 0.5 {
			most := loss(critical)
			require.Greater(t, most, loss(0.99*critical))
			require.Greater(t, most, loss(1.01*critical))
			require.Greater(t, most, loss(l.Radius))
		}
		beyond := math.Max(l.Radius, critical) * draw.Uniform(1.01, 2).Draw(t, "beyond")
		if 1.1*beyond < 0.9 {
			require.Greater(t, loss(beyond), loss(1.1*beyond))
		}
		// Still air: the surface lies between, and what goes through comes out.
		l.Blown, l.Emissivity, l.Thickness = 0, draw.Uniform(0, 1).Draw(t, "emissivity"), draw.Log(1e-4, 0.1).Draw(t, "thickness")
		hot := draw.Uniform(250, 700).Draw(t, "hot")
		s := lagged(t, l, hot, 300)
		require.True(t, (s.Surface-300)*(hot-s.Surface) > 0)
		layer, err := thermal.TubeLayer(l.Radius, l.Radius+l.Thickness, l.Conductivity, l.Length)
		require.NoError(t, err)
		near(t, hot-s.Surface, s.Loss*layer, 1e-6)
		if hot > 301 {
			ceiling, there, err := l.Ceiling(s.Loss, 300)
			require.NoError(t, err)
			near(t, hot-300, ceiling-300, 1e-9)
			near(t, s.Loss, there.Loss, 1e-9)
			_, _, err = l.Ceiling(1e5, 300)
			require.ErrorIs(t, err, material.ErrInvalid)
			require.ErrorContains(t, err, "1200 K")
		}
	})
}

// A barrel of 2.4 kg of steel with 500 W.
func heatUp() thermal.HeatUp {
	return thermal.HeatUp{Capacity: 2.4 * 490, Power: 500, Conductance: 1.2, Air: material.Celsius(20)}
}

func TestCheckHeatUp(t *testing.T) {
	const how = "closed form or adaptive quadrature in 25-digit arithmetic"
	from, to := material.Celsius(20), material.Celsius(220)
	h := heatUp()
	time, err := h.Time(from, to)
	require.NoError(t, err)
	ceiling, err := h.Ceiling()
	require.NoError(t, err)
	power, err := h.PowerFor(time, from, to)
	require.NoError(t, err)
	after, err := h.After(time, from)
	require.NoError(t, err)
	holding, duty, err := h.Holding(to)
	require.NoError(t, err)
	free := h
	free.Conductance = 0
	quick, err := free.Time(from, to)
	require.NoError(t, err)
	radiating, err := thermal.RadiationCooling(1176, 0.06, 0.8, to, material.Celsius(50), from)
	require.NoError(t, err)
	natural, err := thermal.FreeCooling(1176, 8*0.06, 0.25, 0.15)
	require.NoError(t, err)
	constant, err := thermal.FreeCooling(1176, 8*0.06, 0, 0.15)
	require.NoError(t, err)
	wall, err := thermal.Soak{Outer: 0.0225, Inner: 0.008, Conductivity: 45, Density: 7850, SpecificHeat: 490}.Heated(30e3)
	require.NoError(t, err)
	// The same barrel radiating, as a network.
	n := thermal.Network{
		Nodes: []thermal.Node{{Name: "barrel", Capacity: 1176, Power: 500, Start: from}, {Name: "air", Start: from, Held: true}},
		Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Conductance(0.48)}, {From: 0, To: 1, Exchange: thermal.Radiating{Area: 0.06, Emissivity: 0.8}}},
	}
	warm := func(t0, power, time float64) float64 {
		n.Nodes[0].Start, n.Nodes[0].Power = t0, power
		w, err := n.Warm([]float64{time}, 1e-8)
		require.NoError(t, err)
		return material.ToCelsius(w.Temperatures[0][0])
	}
	rest, err := n.Steady(0)
	require.NoError(t, err)
	held := 0.48*200 + 0.06*0.8*thermal.StefanBoltzmann*(math.Pow(to, 4)-math.Pow(from, 4))
	verify.Table(t, []verify.Row{
		row("without losses [s]", how, verify.Own, 470.4, quick, 1e-13, "exact"),
		row("with 1.2 W/K [s]", how, verify.Own, 640.847938059, time, 1e-11, digits),
		row("its ceiling [°C]", how, verify.Own, 436.666666666667, material.ToCelsius(ceiling), 1e-12, "exact"),
		row("power for that time [W]", "the inverse", verify.Own, 500, power, 1e-12, "rounding"),
		row("temperature then [K]", "the inverse", verify.Own, to, after, 1e-13, "rounding"),
		row("holding [W]", "1.2 W/K times 200 K", verify.Own, 240, holding, 1e-13, "exact"),
		row("duty", "240 W of 500 W", verify.Own, 0.48, duty, 1e-13, "exact"),
		row("radiating, after 609.16 s [°C]", how, verify.Own, 220, warm(from, 500, 609.158735798), 1e-8, "tolerance of the steps"),
		row("radiating, at rest [°C]", how, verify.Own, 333.83575145, material.ToCelsius(rest.Temperatures[0]), 3e-11, "11 digits"),
		row("radiating, held at 220 °C [W]", how, verify.Own, 236.87819826, held, 3e-11, "11 digits"),
		row("cooling by air and radiation, after 2462.8 s [°C]", how, verify.Own, 50, warm(to, 0, 2462.841886645), 1e-8, "tolerance of the steps"),
		row("cooling by radiation [s]", how+"; form of "+bejan+"eq. 3.283", verify.Own, 5370.972394536, radiating, 3e-13, "13 digits"),
		row("cooling by free convection [s]", how+"; form of "+bejan+"eqs. 3.285, 3.286", verify.Own, 5947.197011315, natural, 3e-13, "13 digits"),
		row("by a constant coefficient [s]", how, verify.Own, 4647.943962970, constant, 3e-13, "13 digits"),
		row("rate of a barrel's wall [K/s]", how, verify.Own, 0.7935973156, wall.Rate, 1e-9, tenDigits),
		row("difference across it [K]", how, verify.Own, 5.255317543, wall.Difference, 1e-9, tenDigits),
	})
}

func TestCheckSoak(t *testing.T) {
	// Exact parts left by the whole series, at the times returned.
	rod := func(fourier float64) (sum float64) {
		for n := 1; n < 30; n++ {
			z := (float64(n) - 0.25) * math.Pi
			for range 20 {
				z += math.J0(z) / math.J1(z)
			}
			sum += 2 / (z * math.J1(z)) * math.Exp(-z*z*fourier)
		}
		return sum
	}
	slab := func(fourier float64) (sum float64) {
		for n := range 30 {
			z := (float64(n) + 0.5) * math.Pi
			sum += 2 / z * math.Cos(math.Pi*float64(n)) * math.Exp(-z*z*fourier)
		}
		return sum
	}
	var rows []verify.Row
	for _, c := range []struct{ part, off float64 }{{0.5, 5e-3}, {0.1, 1e-5}, {0.01, 1e-9}} {
		round, err := thermal.RodSoak(0.004, 1e-7, c.part)
		require.NoError(t, err)
		flat, err := thermal.SlabSoak(0.004, 1e-7, c.part)
		require.NoError(t, err)
		rows = append(rows,
			row("part left in a rod", "series of 29 terms, zeros of J₀ by Newton's method", verify.Own, c.part, rod(round*1e-7/1.6e-5), c.off, "terms left out"),
			row("part left in a slab", "series of 30 terms", verify.Own, c.part, slab(flat*1e-7/1.6e-5), c.off, "terms left out"))
	}
	verify.Table(t, rows)
}

func TestPropertyHeatUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := thermal.HeatUp{
			Capacity: draw.Log(1, 1e5).Draw(t, "capacity"), Power: draw.Log(1, 1e4).Draw(t, "power"),
			Conductance: draw.Log(1e-6, 10).Draw(t, "conductance"), Air: draw.Uniform(250, 320).Draw(t, "air"),
		}
		from := draw.Uniform(h.Air, 400).Draw(t, "from")
		ceiling, err := h.Ceiling()
		require.NoError(t, err)
		if ceiling < 1199 {
			_, err := h.Time(from, math.Nextafter(ceiling, 2000))
			require.True(t, err != nil || from >= ceiling)
			if from < ceiling {
				_, err = h.Time(from, ceiling+1e-9*ceiling)
				require.ErrorIs(t, err, thermal.ErrNeverReached)
			}
		}
		to := from + draw.Uniform(0.01, 0.99).Draw(t, "part")*(math.Min(ceiling, 1200)-from)
		if math.Abs(to-from) < 1e-3 {
			return
		}
		time, err := h.Time(from, to)
		require.NoError(t, err)
		after, err := h.After(time, from)
		require.NoError(t, err)
		near(t, to-from, after-from, 1e-7)
		if to > from && time > 0.1 && time < 1e9 {
			power, err := h.PowerFor(time, from, to)
			require.NoError(t, err)
			near(t, h.Power, power, 1e-7)
		}
		// Half of the way and the rest of it add up.
		half := from + (to-from)/2
		one, err := h.Time(from, half)
		require.NoError(t, err)
		two, err := h.Time(half, to)
		require.NoError(t, err)
		near(t, time, one+two, 1e-9)
		// No losses, no time lost.
		least := h.Capacity * (to - from) / h.Power
		if to > from && from >= h.Air {
			require.GreaterOrEqual(t, time, least*(1-1e-12))
		}
		h.Conductance = 1e-12
		tight, err := h.Time(from, math.Max(from, to))
		require.NoError(t, err)
		near(t, math.Max(0, least), tight, 1e-6)
	})
}

func TestRadiationCoolingNearsItsLimits(t *testing.T) {
	// Over a short way the rate is constant; over two it adds up; heating is cooling turned round.
	short, err := thermal.RadiationCooling(1000, 0.1, 0.5, 500, 499.999, 300)
	require.NoError(t, err)
	near(t, 1000*0.001/(0.1*0.5*thermal.StefanBoltzmann*(math.Pow(499.9995, 4)-math.Pow(300, 4))), short, 1e-9)
	for _, to := range []float64{300, 299, 501} {
		_, err = thermal.RadiationCooling(1000, 0.1, 0.5, 500, to, 300)
		assert.ErrorIs(t, err, thermal.ErrNeverReached)
	}
	up, err := thermal.RadiationCooling(1000, 0.1, 0.5, 300, 499, 500)
	require.NoError(t, err)
	assert.Positive(t, up)
}
