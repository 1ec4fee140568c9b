package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

func dieFlows() *rapid.Generator[float64] { return draw.Log(1e-9, 1e-5) }

// scaled returns a passage with sections and lengths so many times as large.
func scaled(p screw.Passage, size, length float64) screw.Passage {
	switch p := p.(type) {
	case screw.Capillary:
		return screw.Capillary{Diameter: size * p.Diameter, Length: length * p.Length}
	case screw.Cone:
		return screw.Cone{Inlet: size * p.Inlet, Outlet: size * p.Outlet, Length: length * p.Length}
	case screw.Slit:
		return screw.Slit{Width: size * p.Width, Height: size * p.Height, Length: length * p.Length}
	case screw.Wedge:
		return screw.Wedge{Width: size * p.Width, Inlet: size * p.Inlet, Outlet: size * p.Outlet, Length: length * p.Length}
	case screw.Annulus:
		return screw.Annulus{Outer: size * p.Outer, Inner: size * p.Inner, Length: length * p.Length}
	case screw.Entrance:
		return screw.Entrance{Diameter: size * p.Diameter, Diameters: length / size * p.Diameters}
	}
	panic("no such passage")
}

func TestPropertyPassages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, m, q := screwtest.Passages().Draw(t, "passage"), screwtest.Melts().Draw(t, "melt"), dieFlows().Draw(t, "flow")
		drop := p.PressureDrop(m, q)
		require.Positive(t, drop)
		more := p.PressureDrop(m, 2*q)
		require.Greater(t, more, drop, "rises with flow")
		require.LessOrEqual(t, more, 2*drop*(1+1e-9), "at most in proportion, as the melt thins")
		same(t, 3*drop, scaled(p, 1, 3).PressureDrop(m, q), 1e-11, "in proportion to length")
		rate, stress := p.WallShear(m, q)
		same(t, stress, rate*m.Viscosity.At(rate, m.Temperature, 0), 1e-9, "the wall's shear is the law's")

		const k = 2.5
		big := scaled(p, k, k)
		same(t, drop, big.PressureDrop(m, k*k*k*q), 1e-9, "similar at one rate")
		_, bigStress := big.WallShear(m, k*k*k*q)
		same(t, stress, bigStress, 1e-9, "similar at one stress")
		same(t, k*k*k*p.Volume(), big.Volume(), 1e-12, "volume")
		nahme, graetz := p.ViscousHeating(m, q)
		bigNahme, bigGraetz := big.ViscousHeating(m, k*k*k*q)
		same(t, k*k*nahme, bigNahme, 1e-8, "Nahme number by v²")
		same(t, k*k*graetz, bigGraetz, 1e-8, "Graetz number by v·H²/L")
		m.Conductivity *= 2
		half, _ := p.ViscousHeating(m, q)
		same(t, nahme, 2*half, 1e-12, "conduction takes heat away")
		m.Conductivity = 0
		nahme, graetz = p.ViscousHeating(m, q)
		require.Zero(t, nahme)
		require.Zero(t, graetz)

		require.Zero(t, p.PressureDrop(m, 0))
	})
}

// A law whose type is hidden is summed layer by layer; that must be the closed form.
func TestPropertyLayersEqualClosedForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := screwtest.Passages().Draw(t, "passage"), dieFlows().Draw(t, "flow")
		closed := screwtest.Melts().Draw(t, "melt")
		closed.Viscosity = rapid.OneOf(
			rapid.Map(draw.Log(10, 1e5), func(eta float64) material.Viscosity { return material.Newtonian{Eta: eta} }),
			rapid.Map(draw.Uniform(0.05, 1.5), func(n float64) material.Viscosity {
				return material.PowerLaw{Consistency: 1e4, Index: n, Reference: closed.Temperature, TemperatureSlope: 0.01}
			})).Draw(t, "law")
		summed := closed
		summed.Viscosity = hidden{closed.Viscosity}
		same(t, p.PressureDrop(closed, q), p.PressureDrop(summed, q), 1e-8, "pressure")
		steep := screw.Cone{Inlet: 0.3, Outlet: 1e-3, Length: 0.1}
		same(t, steep.PressureDrop(closed, 1e4*q), steep.PressureDrop(summed, 1e4*q), 1e-8, "a steep cone")
	})
}

// What a passage turns into at the ends of its range.
func TestPropertyLimitsOfPassages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, q := screwtest.Melts().Draw(t, "melt"), dieFlows().Draw(t, "flow")
		h := draw.Log(2e-4, 4.9e-3).Draw(t, "height")
		slit := screw.Slit{Width: 0.1, Height: h, Length: 0.02}
		drop := slit.PressureDrop(m, q)
		same(t, drop, screw.Wedge{Width: 0.1, Inlet: h * (1 + 1e-7), Outlet: h, Length: 0.02}.PressureDrop(m, q), 1e-6, "a wedge without taper")
		cut := screw.Wedge{Width: 0.1, Inlet: 3 * h, Outlet: 2 * h, Length: 0.01}.PressureDrop(m, q) +
			screw.Wedge{Width: 0.1, Inlet: 2 * h, Outlet: h, Length: 0.01}.PressureDrop(m, q)
		same(t, cut, screw.Wedge{Width: 0.1, Inlet: 3 * h, Outlet: h, Length: 0.02}.PressureDrop(m, q), 1e-8, "two wedges in a row")

		// A thin annulus is a slit as wide as it is long around, which has no side walls.
		const thin = 5e-3
		tube := screw.Annulus{Outer: h / thin * (1 + thin), Inner: h / thin * (1 - thin), Length: 0.02}
		around := math.Pi * h / thin
		wide := screw.Slit{Width: math.Min(10, around), Height: h, Length: 0.02}
		same(t, wide.PressureDrop(m, q*wide.Width/around)*screw.PressureShape(h/wide.Width), tube.PressureDrop(m, q), 2e-5, "a thin annulus")

		// A core costs pressure even where it takes next to no room.
		open := screw.Capillary{Diameter: h, Length: 0.02}.PressureDrop(m, q)
		wire := screw.Annulus{Outer: h, Inner: 1e-3 * h, Length: 0.02}.PressureDrop(m, q)
		require.Greater(t, wire, open)
		require.Less(t, wire, 1.2*open)
		require.Less(t, wire, screw.Annulus{Outer: h, Inner: 1e-2 * h, Length: 0.02}.PressureDrop(m, q))
	})
}

func TestPropertySeriesAndParallel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := screwtest.Passages().Draw(t, "a"), screwtest.Passages().Draw(t, "b")
		m, q := screwtest.Melts().Draw(t, "melt"), dieFlows().Draw(t, "flow")
		pa, pb := a.PressureDrop(m, q), b.PressureDrop(m, q)
		row := screw.Die{a, screw.Die{b}}
		same(t, pa+pb, row.PressureDrop(m, q), 1e-15, "in series pressures add")
		same(t, a.Volume()+b.Volume(), row.Volume(), 1e-15, "volumes add")

		three := screw.Parallel{a, a, a}
		same(t, pa, three.PressureDrop(m, 3*q), 1e-12, "three alike share the flow")
		split := screw.Parallel{a, row, b}
		require.NoError(t, split.Validate())
		drop, flows := split.PressureDrop(m, q), split.Split(m, q)
		require.Len(t, flows, 3)
		same(t, q, flows[0]+flows[1]+flows[2], 1e-13, "flows add")
		for i, p := range split {
			same(t, drop, p.PressureDrop(m, flows[i]), 1e-11, "branches share the pressure")
		}
		require.Less(t, drop, math.Min(pa, pb), "another way out costs less")
		ra, sa := a.WallShear(m, q)
		rb, sb := b.WallShear(m, q)
		if sa < sb {
			ra, sa = rb, sb
		}
		r, s := row.WallShear(m, q)
		require.Equal(t, [2]float64{ra, sa}, [2]float64{r, s}, "the worst wall of the chain")
		same(t, pa, screw.Parallel{a}.PressureDrop(m, q), 1e-12, "one branch")
		// The worst wall and the warmest branch are those of some branch.
		rate, stress := split.WallShear(m, q)
		nahme, graetz := split.ViscousHeating(m, q)
		found, warm := false, false
		for i, p := range split {
			r, s := p.WallShear(m, flows[i])
			require.LessOrEqual(t, s, stress)
			found = found || r == rate && s == stress
			na, gz := p.ViscousHeating(m, flows[i])
			require.LessOrEqual(t, na, nahme)
			warm = warm || na == nahme && gz == graetz
		}
		require.True(t, found && warm)
	})
}

func TestPropertyPointTellsOfTheDie(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, d := screwtest.Channels().Draw(t, "channel"), screwtest.Dies().Draw(t, "die")
		m, n := screwtest.Melts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		p, err := screw.OperatingPoint(c, d, m, n)
		if err != nil {
			t.Skip(err)
		}
		same(t, d.Volume(), p.DieVolume, 1e-15, "volume")
		same(t, p.DieVolume, p.DieResidenceTime*p.Flow, 1e-14, "residence time")
		na, gz := d.ViscousHeating(m, p.Flow)
		require.Equal(t, [2]float64{na, gz}, [2]float64{p.DieNahme, p.DieGraetz})
		told := false
		for _, text := range p.Beyond {
			told = told || len(text) > 30 && text[:30] == "in the die: viscous heating th"
		}
		require.Equal(t, na > 1, told)
		same(t, p.DieShearStress, p.Fracture(1e5).Demand, 1e-15, "fracture")
	})
}

func TestBadPassagesAreNamed(t *testing.T) {
	for _, c := range []struct {
		p    screw.Passage
		text string
	}{
		{screw.Capillary{Diameter: 2, Length: 1}, "screw.Capillary.Diameter = 2 m: allowed 1e-05 to 1 m"},
		{screw.Slit{Width: 1e-3, Height: 2e-3, Length: 1}, "screw.Slit.Height = 0.002 m: allowed 1e-05 to 0.001 m"},
		{screw.Slit{Width: 1e-3, Height: 1e-3}, "screw.Slit.Length = 0 m"},
		{screw.Wedge{Width: 1e-2, Inlet: 1e-3, Outlet: 1e-3, Length: 1}, "screw.Wedge.Outlet = 0.001 m: allowed below the inlet, 0.001 m"},
		{screw.Wedge{Width: 1e-2, Inlet: 1e-1, Outlet: 1e-3, Length: 1}, "screw.Wedge.Inlet = 0.1 m: allowed 1e-05 to 0.01 m"},
		{screw.Annulus{Outer: 1e-2, Inner: 1e-2, Length: 1}, "screw.Annulus.Inner = 0.01 m: allowed 1e-05 to 0.00999999 m"},
		{screw.Annulus{Outer: 1e-2, Inner: math.NaN(), Length: 1}, "screw.Annulus.Inner = NaN m"},
		{screw.Entrance{Diameter: 1e-2, Diameters: -1}, "screw.Entrance.Diameters = -1: allowed 0.01 to 100"},
		{screw.Parallel{}, "screw.Parallel: branches = 0: allowed 1 to 64"},
		{screw.Parallel{nil}, `screw.Parallel[0] = "nil"`},
		{screw.Die{screw.Parallel{screw.Die{}}}, "screw.Die[0]: screw.Parallel[0]: screw.Die: passages = 0"},
	} {
		assert.ErrorContains(t, c.p.Validate(), c.text)
		assert.ErrorIs(t, c.p.Validate(), material.ErrInvalid)
	}
	itself := screw.Die{nil, nil, nil}
	for i := range itself {
		itself[i] = itself
	}
	assert.ErrorContains(t, itself.Validate(), "screw.Die: passages with all that they are made of")
}

func TestViscousHeatingIsTold(t *testing.T) {
	m, err := screw.MeltOf(material.PS(), material.Celsius(200))
	require.NoError(t, err)
	p, err := screw.OperatingPoint(benchChannel, screw.Die{benchHole}, m, 3)
	require.NoError(t, err)
	require.Greater(t, p.DieNahme, 1.0)
	require.Contains(t, p.Beyond[len(p.Beyond)-1], "in the die: viscous heating thins the melt, Nahme number ")
	m.Conductivity = 0
	p, err = screw.OperatingPoint(benchChannel, screw.Die{benchHole}, m, 3)
	require.NoError(t, err)
	require.Zero(t, p.DieNahme)
	for _, text := range p.Beyond {
		require.NotContains(t, text, "Nahme")
	}
}

// The corners of what is allowed, laws as sharp as they can be included.
func TestPropertyCornersOfPassages(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		size, wide, length := pick("size", 1e-5, 1), pick("width", 1e-5, 10), pick("length", 1e-6, 10)
		passages := []screw.Passage{
			screw.Capillary{Diameter: size, Length: length}, screw.Entrance{Diameter: size, Diameters: pick("diameters", 0.01, 100)},
			screw.Cone{Inlet: pick("cone", 1.00001e-5, 1), Outlet: 1e-5, Length: length},
			screw.Slit{Width: wide, Height: pick("height", 1e-5, wide), Length: length},
			screw.Wedge{Width: 10, Inlet: pick("wedge", 1.00001e-5, 10), Outlet: 1e-5, Length: length},
			screw.Annulus{Outer: size, Inner: size * pick("core", 1e-3, 0.5, 1-1e-6), Length: length},
		}
		passages = append(passages, screw.Parallel{passages[0], passages[5], passages[3]})
		m := screw.Melt{Density: 1000, SpecificHeat: 2000, Temperature: pick("temperature", 100, 500, 1500), Conductivity: pick("conductivity", 0, 0.01, 100)}
		m.Viscosity = rapid.SampledFrom([]material.Viscosity{
			material.Newtonian{Eta: 1e-4}, material.ABS().Viscosity, hidden{material.Newtonian{Eta: 1e9}},
			material.PowerLaw{Consistency: 1e9, Index: 0.05, Reference: 1500, TemperatureSlope: 0.2},
			material.PowerLaw{Consistency: 1e-3, Index: 1.5, Reference: 100, TemperatureSlope: 0.2},
			material.CarreauYasuda{Eta0: 1e12, Lambda: 1e6, N: 0.05, Yasuda: 10}, material.CarreauYasuda{Eta0: 1e-3, Lambda: 1e-9, N: 0.05, Yasuda: 0.1},
		}).Draw(t, "law")
		p := rapid.SampledFrom(passages).Draw(t, "passage")
		require.NoError(t, p.Validate())
		require.NoError(t, m.Validate())
		flow := rapid.OneOf(draw.Log(1e-20, 1e3), rapid.SampledFrom([]float64{0, 5e-324, 1e-300, 1e-60, 1e3})).Draw(t, "flow")
		numbers(t, p, m, flow)
		require.LessOrEqual(t, p.PressureDrop(m, flow), p.PressureDrop(m, 1.01*flow))
	})
}

func everyPassage() screw.Die {
	return screw.Die{
		screw.Capillary{Diameter: 2e-3, Length: 1e-2}, screw.Cone{Inlet: 8e-3, Outlet: 2e-3, Length: 5e-3},
		screw.Slit{Width: 0.02, Height: 1e-3, Length: 1e-2}, screw.Wedge{Width: 0.02, Inlet: 5e-3, Outlet: 1e-3, Length: 1e-2},
		screw.Annulus{Outer: 1e-2, Inner: 8e-3, Length: 1e-2}, screw.Entrance{Diameter: 2e-3, Diameters: 2},
		screw.Parallel{screw.Capillary{Diameter: 2e-3, Length: 1e-2}, screw.Capillary{Diameter: 1e-3, Length: 1e-2}},
	}
}

func TestPassagesAllocateNothing(t *testing.T) {
	d := everyPassage()
	require.NoError(t, d.Validate())
	for _, law := range []material.Viscosity{material.Newtonian{Eta: 500}, thin(0.4).Viscosity, material.ABS().Viscosity} {
		m := screw.Melt{Viscosity: law, Density: 740, SpecificHeat: 2700, Temperature: 510, Conductivity: 0.2}
		require.Zero(t, testing.AllocsPerRun(10, func() {
			_, stress := d.WallShear(m, 1e-7)
			na, _ := d.ViscousHeating(m, 1e-7)
			if d.Validate() != nil || d.PressureDrop(m, 1e-7)+stress+na+d.Volume() <= 0 {
				panic("nothing computed")
			}
		}), "%T", law)
	}
}

// BenchmarkCapillaryPowerLaw holds a hole of a power-law melt against two powers, the
// least that its closed form needs.
func BenchmarkCapillaryPowerLaw(b *testing.B) {
	m := thin(0.4)
	var sum float64
	versus.Report(b, "x-powers",
		func(i int) { sum += benchHole.PressureDrop(m, 1e-7+1e-10*float64(i&255)) },
		func(i int) {
			apparent := 100 + float64(i&255)
			sum += math.Pow(apparent, -0.6) * math.Pow(1.375+1e-6*apparent, 0.4)
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// BenchmarkCapillaryAnyLaw counts a hole of a Cross melt in evaluations of its
// viscosity and slope.
func BenchmarkCapillaryAnyLaw(b *testing.B) {
	m := thin(1)
	m.Viscosity = material.ABS().Viscosity
	var sum float64
	versus.Report(b, "x-viscosities",
		func(i int) { sum += benchHole.PressureDrop(m, 1e-7+1e-10*float64(i&255)) },
		func(i int) {
			rate := 100 + float64(i&255)
			sum += m.Viscosity.At(rate, m.Temperature, 0) * m.Viscosity.Slopes(rate, m.Temperature, 0).Rate
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// What would take for ever or crash is refused.
func TestDiesThatCannotBe(t *testing.T) {
	loop := make(screw.Die, 1)
	loop[0] = &loop
	require.ErrorContains(t, loop.Validate(), "passages with all that they are made of")
	require.ErrorContains(t, screw.Die{(*screw.Capillary)(nil)}.Validate(), `screw.Die[0] = "nil"`)
	hole := screw.Capillary{Diameter: 2e-3, Length: 1e-2}
	require.NoError(t, screw.Die{&hole}.Validate())
	nested := screw.Passage(hole)
	for range 3 {
		nested = screw.Parallel{nested, hole}
	}
	require.NoError(t, screw.Die{nested}.Validate())
	require.ErrorContains(t, screw.Die{screw.Parallel{nested, hole}}.Validate(), "flows that part within flows that part = 4: allowed 0 to 3")
}

// Without a slope by temperature there is a Graetz number all the same.
func TestGraetzWithoutNahme(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 510, Conductivity: 0.2}
	hole := screw.Capillary{Diameter: 2e-3, Length: 1e-2}
	_, want := hole.ViscousHeating(m, 1e-7)
	require.Positive(t, want)
	for _, p := range []screw.Passage{screw.Die{hole}, screw.Die{screw.Entrance{Diameter: 2e-3, Diameters: 1}, hole}} {
		na, gz := p.ViscousHeating(m, 1e-7)
		require.Zero(t, na)
		same(t, want, gz, 1e-14, "Graetz")
	}
	_, gz := screw.Parallel{hole, hole}.ViscousHeating(m, 2e-7)
	same(t, want, gz, 1e-9, "Graetz of each branch")
	// The narrow end of a taper is where it is sheared most.
	cone, wedge := screw.Cone{Inlet: 8e-3, Outlet: 2e-3, Length: 5e-3}, screw.Wedge{Width: 0.02, Inlet: 5e-3, Outlet: 1e-3, Length: 1e-2}
	rate, _ := cone.WallShear(m, 1e-7)
	same(t, 32e-7/(math.Pi*8e-9), rate, 1e-12, "cone")
	rate, _ = wedge.WallShear(m, 1e-7)
	wide, _ := screw.Slit{Width: 0.02, Height: 1e-3, Length: 1e-2}.WallShear(m, 1e-7)
	same(t, wide, rate, 1e-12, "wedge")
	same(t, 0.02*3e-3*1e-2, wedge.Volume(), 1e-12, "volume")
}
