package thermal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/thermal"
)

func sleeve() thermal.Sleeve {
	return thermal.Sleeve{Outer: 0.02, Inner: 0.008, Length: 0.12, Conductivity: 45, Coefficient: 15}
}

func TestCheckSleeve(t *testing.T) {
	const how = "closed form in 25 digits and 4000 finite volumes"
	hot, cold, air := material.Celsius(220), material.Celsius(50), material.Celsius(25)
	s, err := sleeve().Between(hot, cold, air)
	require.NoError(t, err)
	mid, err := sleeve().Temperature(0.5, hot, cold, air)
	require.NoError(t, err)
	tight := sleeve()
	tight.Coefficient = 0
	lossless, err := tight.Between(hot, cold, air)
	require.NoError(t, err)
	rows := []verify.Row{
		row("section [m²]", how, verify.Own, 1.05557513161e-3, sleeve().Section(), 1e-11, digits),
		row("m·L", how, verify.Own, 0.755928946018, s.Parameter, 1e-11, digits),
		row("from the hot barrel [W]", how, verify.Own, 82.3475244139, s.Hot, 1e-11, digits),
		row("into the throat [W]", how, verify.Own, 58.5869359581, s.Throat, 1e-11, digits),
		row("into the air [W]", how, verify.Own, 23.7605884558, s.Side, 1e-11, digits),
		row("in the middle [°C]", how, verify.Own, 127.584861421, material.ToCelsius(mid), 1e-11, digits),
		row("without losses, in [W]", "k·A·ΔT/L", verify.Own, 67.2929146399, lossless.Hot, 1e-11, digits),
		row("without losses, out [W]", "k·A·ΔT/L", verify.Own, 67.2929146399, lossless.Throat, 1e-11, digits),
	}
	// A stainless neck without cooling.
	const fin = "fin with an insulated tip"
	for _, c := range [][3]float64{{0.02, 182.9, 11.51}, {0.04, 145.3, 19.42}, {0.06, 107.7, 23.57}} {
		neck := thermal.Sleeve{Outer: 0.014, Inner: 0.008, Length: c[0], Conductivity: 16, Coefficient: 40}
		r, err := neck.Cooled(material.Celsius(200), 0, 300, air)
		require.NoError(t, err)
		rows = append(rows,
			row(fmt.Sprintf("end of %g m of stainless [°C]", c[0]), fin, verify.Own, c[1], material.ToCelsius(r.Cold), 0.05/c[1], "given to 0.1 K"),
			row(fmt.Sprintf("heat into %g m of it [W]", c[0]), fin, verify.Own, c[2], r.Hot, 0.005/c[2], "given to 0.01 W"))
	}
	verify.Table(t, rows)
}

func sleeves() *rapid.Generator[thermal.Sleeve] {
	return rapid.Custom(func(t *rapid.T) thermal.Sleeve {
		s := thermal.Sleeve{
			Inner: draw.Log(1e-3, 0.03).Draw(t, "inner"), Length: draw.Log(0.01, 0.5).Draw(t, "length"),
			Conductivity: draw.Log(0.2, 400).Draw(t, "conductivity"), Coefficient: draw.Log(0.01, 100).Draw(t, "coefficient"),
		}
		s.Outer = s.Inner + draw.Log(1e-3, 0.03).Draw(t, "wall")
		return s
	})
}

func TestPropertySleeve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := sleeves().Draw(t, "sleeve")
		air := draw.Uniform(260, 320).Draw(t, "air")
		hot := air + draw.Uniform(50, 300).Draw(t, "hot")
		cold := air + draw.Uniform(0, 0.9).Draw(t, "cold")*(hot-air)
		r, err := s.Between(hot, cold, air)
		require.NoError(t, err)
		lossless := s.Conductivity * s.Section() * (hot - cold) / s.Length
		require.Less(t, r.Throat, lossless*(1+1e-12))
		require.Greater(t, r.Hot, lossless*(1-1e-12))
		near(t, r.Hot, r.Throat+r.Side, 1e-9*(1+math.Abs(r.Throat/r.Hot)))
		// The profile's slope at the ends is the heat there.
		const d = 1e-6
		at := func(part float64) float64 {
			x, err := s.Temperature(part, hot, cold, air)
			require.NoError(t, err)
			return x
		}
		near(t, hot, at(0), 1e-14)
		near(t, cold, at(1), 1e-14)
		near(t, r.Hot, (at(0)-at(d))/(d*s.Length)*s.Conductivity*s.Section(), 1e-4+2e-7*r.Parameter*r.Parameter/2*10)
		// A collar takes what comes out, and a better one leaves it colder.
		g := draw.Log(1e-3, 1e3).Draw(t, "collar")
		c, err := s.Cooled(hot, g, air, air)
		require.NoError(t, err)
		require.InEpsilon(t, 1+g*(c.Cold-air), 1+c.Throat, 1e-8)
		better, err := s.Cooled(hot, 2*g, air, air)
		require.NoError(t, err)
		require.LessOrEqual(t, better.Cold, c.Cold)
		best, err := s.Cooled(hot, 1e6, air, air)
		require.NoError(t, err)
		require.InDelta(t, air, best.Cold, 1)
	})
}

func throats() *rapid.Generator[thermal.Throat] {
	return rapid.Custom(func(t *rapid.T) thermal.Throat {
		return thermal.Throat{
			Sleeve: sleeves().Draw(t, "sleeve"), ScrewSection: draw.Log(1e-5, 1e-3).Draw(t, "screw section"),
			ScrewConductivity: draw.Log(10, 60).Draw(t, "screw conductivity"), Exchange: draw.Log(1e-3, 100).Draw(t, "exchange"),
			Collar: draw.Log(1e-3, 100).Draw(t, "collar"), Coolant: draw.Uniform(280, 320).Draw(t, "coolant"),
			Shank: draw.Log(1e-3, 10).Draw(t, "shank"), Drive: draw.Uniform(290, 350).Draw(t, "drive"), Air: draw.Uniform(270, 310).Draw(t, "air"),
		}
	})
}

func TestPropertyThroat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := throats().Draw(t, "throat")
		s, err := h.At(500, 480)
		require.NoError(t, err)
		least := math.Min(h.Air, math.Min(h.Coolant, h.Drive))
		for _, x := range []float64{s.Throat, s.Screw} {
			require.True(t, x > least-1e-6 && x < 500)
		}
		// Without plastic between them each is by itself.
		h.Exchange = 0
		apart, err := h.At(500, 480)
		require.NoError(t, err)
		alone, err := h.Sleeve.Cooled(500, h.Collar, h.Coolant, h.Air)
		require.NoError(t, err)
		near(t, alone.Cold, apart.Throat, 1e-10)
		rod := h.ScrewConductivity * h.ScrewSection / h.Sleeve.Length
		near(t, (rod*480+h.Shank*h.Drive)/(rod+h.Shank), apart.Screw, 1e-10)
		// With a great deal of it both are one sleeve, if they are cooled alike.
		whole := h.Sleeve.Section() + h.ScrewSection
		g := h.Collar
		h.Exchange, h.ScrewConductivity = 1e4, h.Sleeve.Conductivity
		h.Collar, h.Shank, h.Drive = g*h.Sleeve.Section()/whole, g*h.ScrewSection/whole, h.Coolant
		together, err := h.At(500, 500)
		require.NoError(t, err)
		one := h.Sleeve
		one.Conductivity *= whole / h.Sleeve.Section()
		if one.Conductivity > 1e4 {
			return
		}
		single, err := one.Cooled(500, g, h.Coolant, h.Air)
		require.NoError(t, err)
		slack := 250 * 2 * math.Pi * one.Outer * one.Coefficient / 1e4
		require.InDelta(t, single.Cold, together.Throat, slack+1e-6)
		require.InDelta(t, single.Cold, together.Screw, slack+1e-6)
		require.InDelta(t, single.Hot, together.Hot, 1e-2*single.Hot)
		require.InDelta(t, single.Side, together.Side, 1e-2*single.Hot)
	})
}

// Cut into ever shorter lengths, a barrel's network nears the two fins side by side.
func TestBarrelNetworkNearsTheFins(t *testing.T) {
	const power = 60
	b := thermal.Barrel{
		Zones: []thermal.Zone{
			{Name: "neck", Length: 0.12, Outer: 0.02, Inner: 0.008, Loss: 2 * math.Pi * 0.02 * 15, Exchange: 1.5},
			{Name: "heated", Length: 0.001, Outer: 0.02, Inner: 0.008, Power: power},
		},
		Metal:  thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490},
		Collar: 2, Coolant: 293, Air: 298,
	}
	ends := func(cuts int, screw bool) (cold, hot, screwCold, screwHot float64) {
		b.ScrewSection, b.Shank, b.Drive = 0, 0, 300
		if screw {
			b.ScrewSection, b.Shank, b.Screw = 1e-4, 0.1, thermal.BarrelMetal{Conductivity: 30, Density: 7850, SpecificHeat: 490}
		}
		n, err := b.Network(cuts)
		require.NoError(t, err)
		s, err := n.Steady(0)
		require.NoError(t, err)
		x := s.Temperatures
		// The ends are half a length from the first node, and between the last of the neck and the first heated.
		half := 0.12 / float64(cuts) / 2
		section := math.Pi * (0.02*0.02 - 0.008*0.008) * 45
		cold = x[0] - (x[0]-x[n.Coolant])/(1/b.Collar+half/section)*half/section
		rest := 0.001 / float64(cuts) / 2
		hot = (x[cuts-1]*rest + x[cuts]*half) / (rest + half)
		if screw {
			screwCold = x[n.Screw] - (x[n.Screw]-x[n.Drive])/(1/b.Shank+half/3e-3)*half/3e-3
			screwHot = (x[n.Screw+cuts-1]*rest + x[n.Screw+cuts]*half) / (rest + half)
		}
		return cold, hot, screwCold, screwHot
	}
	var miss, far []float64
	for _, cuts := range []int{10, 20, 40} {
		cold, hot, _, _ := ends(cuts, false)
		fin, err := sleeve().Cooled(hot, 2, 293, 298)
		require.NoError(t, err)
		near(t, power, fin.Hot, 0.2/float64(cuts*cuts))
		miss = append(miss, math.Abs(fin.Cold-cold))

		cold, hot, screwCold, screwHot := ends(cuts, true)
		pair, err := thermal.Throat{Sleeve: sleeve(), ScrewSection: 1e-4, ScrewConductivity: 30, Exchange: 1.5,
			Collar: 2, Coolant: 293, Shank: 0.1, Drive: 300, Air: 298}.At(hot, screwHot)
		require.NoError(t, err)
		near(t, power, pair.Hot, 0.2/float64(cuts*cuts))
		far = append(far, math.Hypot(pair.Throat-cold, pair.Screw-screwCold))
	}
	for i := range 2 {
		near(t, 4, miss[i]/miss[i+1], 0.05)
		near(t, 4, far[i]/far[i+1], 0.05)
	}
	assert.Less(t, miss[2], 0.01)
	assert.Less(t, far[2], 0.02)
}

func TestBarrelNetworkWarms(t *testing.T) {
	b := thermal.Barrel{
		Zones: []thermal.Zone{
			{Name: "throat", Length: 0.04, Outer: 0.02, Inner: 0.008, Exchange: 1},
			{Name: "rear", Length: 0.1, Outer: 0.02, Inner: 0.008, Loss: 0.5, Power: 150, Exchange: 1},
			{Name: "front", Length: 0.1, Outer: 0.02, Inner: 0.008, Loss: 0.5, Power: 150, Exchange: 1},
		},
		Metal:        thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490},
		ScrewSection: 1e-4, Screw: thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490},
		Collar: 3, Coolant: 293, Shank: 0.05, Drive: 310, Air: 295,
	}
	n, err := b.Network(6)
	require.NoError(t, err)
	assert.Equal(t, "rear 4/6", n.Nodes[n.In(1)].Name)
	assert.Equal(t, "screw rear 4/6", n.Nodes[n.Screw+n.In(1)].Name)
	s, err := n.Steady(0)
	require.NoError(t, err)
	assert.True(t, s.Unique)
	near(t, 300, s.Given, 1e-10)
	m, err := n.Modes()
	require.NoError(t, err)
	late, err := m.At(1e6)
	require.NoError(t, err)
	for i := range late {
		near(t, s.Temperatures[i], late[i], 1e-9)
	}
	capacity := 0.
	for _, node := range n.Nodes {
		if !node.Held {
			capacity += node.Capacity
		}
	}
	near(t, 7850*490*0.24*(math.Pi*(0.02*0.02-0.008*0.008)+1e-4), capacity, 1e-12)

	b.Zones, b.Collar, b.Shank = b.Zones[:1], 0, 0
	_, err = b.Network(1)
	require.NoError(t, err) // barrel and screw, linked to each other alone
	b.ScrewSection = 0
	_, err = b.Network(1)
	require.ErrorIs(t, err, material.ErrInvalid)
}

func TestBarrelsAllocateNothing(t *testing.T) {
	h := thermal.Throat{Sleeve: sleeve(), ScrewSection: 1e-4, ScrewConductivity: 30, Exchange: 1.5, Collar: 2, Coolant: 293, Shank: 0.1, Drive: 300, Air: 298}
	l := thermal.Lagged{Radius: 0.0225, Length: 1, Thickness: 0.025, Conductivity: 0.05, Emissivity: 0.9}
	m := heated(thermal.Tube, 0.01)
	band := thermal.Heater{Kind: thermal.Band, Power: 500, Length: 0.1, Radius: 0.0225}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		a, _ := h.Sleeve.Cooled(500, 2, 293, 298)
		b, _ := h.At(500, 480)
		c, _ := l.At(493, 295)
		d, _ := m.At(450, 480)
		e, _ := heatUp().Time(293.15, 493.15)
		f, _ := band.For(heatUp(), 293.15, 493.15, 900)
		g, _ := thermal.Platinum(100).Temperature(80)
		k, _ := thermal.TypeK.Temperature(8e-3, 298)
		sink += a.Cold + b.Throat + c.Loss + d.Outlet + e + f.Time + g + k
	}))
}

func BenchmarkThroat(b *testing.B) {
	h := thermal.Throat{Sleeve: sleeve(), ScrewSection: 1e-4, ScrewConductivity: 30, Exchange: 1.5, Collar: 2, Coolant: 293, Shank: 0.1, Drive: 300, Air: 298}
	n, err := thermal.Barrel{
		Zones: []thermal.Zone{{Name: "neck", Length: 0.12, Outer: 0.02, Inner: 0.008, Loss: 1.9, Exchange: 1.5, Power: 60}},
		Metal: thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490}, Collar: 2, Coolant: 293, Air: 298,
	}.Network(20)
	require.NoError(b, err)
	versus.Report(b, "x-network-of-20", func(i int) {
		h.Collar = 2 + 1e-3*float64(i%100)
		s, err := h.At(500, 480)
		if err != nil {
			b.Fatal(err)
		}
		sink += s.Throat
	}, func(int) {
		s, err := n.Steady(0)
		if err != nil {
			b.Fatal(err)
		}
		sink += s.Given
	})
}
