package material_test

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
	"meltflight/material/materialtest"
)

func TestCheckGearPlastics(t *testing.T) {
	const vdi, why = "VDI 2736-2:2014, fits as remembered, evaluated independently, 1e7 cycles", "five digits"
	pom, pa := material.POM(), material.PA66()
	var rows []verify.Row
	for _, c := range []struct {
		name     string
		ask      func(temperature, cycles float64) (float64, error)
		celsius  float64
		megapasc float64
	}{
		{"POM root", pom.RootAt, 20, 40.924}, {"POM root", pom.RootAt, 60, 32.924}, {"POM root", pom.RootAt, 80, 25.924},
		{"PA66 root", pa.RootAt, 20, 36.690}, {"PA66 root", pa.RootAt, 60, 23.884}, {"PA66 root", pa.RootAt, 80, 18.198},
		{"PA66 flank", pa.FlankAt, 20, 69.066}, {"PA66 flank", pa.FlankAt, 60, 62.515}, {"PA66 flank", pa.FlankAt, 80, 56.783},
	} {
		got, err := c.ask(material.Celsius(c.celsius), 1e7)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g °C", c.name, c.celsius), Source: vdi, Kind: verify.Memory,
			Want: c.megapasc * 1e6, Got: got, Tol: 3e-5, Why: why})
	}
	verify.Table(t, rows)
}

func TestPropertyGearPlastics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := materialtest.GearPlastics().Draw(t, "plastic")
		celsius := draw.Uniform(20, 79).Draw(t, "temperature")
		cycles := draw.Log(1e5, 9e7).Draw(t, "cycles")
		for _, ask := range []func(temperature, cycles float64) (float64, error){g.RootAt, g.FlankAt} {
			s, err := ask(material.Celsius(celsius), cycles)
			if err != nil {
				require.ErrorIs(t, err, material.ErrNoData)
				continue
			}
			hot, err := ask(material.Celsius(celsius+1), cycles)
			require.NoError(t, err)
			long, err := ask(material.Celsius(celsius), 1.1*cycles)
			require.NoError(t, err)
			require.Less(t, hot, s, "heat weakens")
			require.Less(t, long, s, "cycles weaken")
		}
	})
}

func TestEveryGearPlasticHasItsSources(t *testing.T) {
	for _, g := range material.GearPlastics() {
		provenance(t, g.Name, g, g.Source)
		assert.NoError(t, g.Validate(), g.Name)
		named, err := material.GearPlasticNamed(g.Name)
		require.NoError(t, err)
		assert.Equal(t, g, named)
	}
	_, err := material.GearPlasticNamed("cheese")
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestGearPlasticsEnd(t *testing.T) {
	pom := material.POM()
	_, err := pom.RootAt(material.Celsius(100), 1e9)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "material.GearPlastic.Root (POM): temperature = 373.15 K: allowed 293.15 to 353.15 K\n"+
		"material.GearPlastic.Root (POM): cycles = 1e+09: allowed 100000 to 1e+08")
	_, err = pom.FlankAt(300, 1e6)
	assert.EqualError(t, err, "no data: material.GearPlastic.Flank (POM)")
	pom.Root.Q = 3
	pom.Yield = 0
	assert.ErrorContains(t, pom.Validate(), "material.GearPlastic.Root.Q = 3: allowed 0 to 1")
	assert.ErrorContains(t, pom.Validate(), "material.GearPlastic.Yield = 0 Pa")
	_, err = material.CycleFit{A: -1, Coldest: 280, Hottest: 400, Fewest: 1, Most: 1e6}.At(300, 10)
	assert.ErrorContains(t, err, "the fit gives no strength here")
	pa := material.PA66()
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = pa.RootAt(300, 1e6) }))
}

func TestGearPlasticsHoldAtTheirEnds(t *testing.T) {
	pa := material.PA66()
	for _, temperature := range []float64{material.Celsius(20), material.Celsius(100)} {
		for _, cycles := range []float64{1e5, 1e8} {
			_, err := pa.FlankAt(temperature, cycles)
			assert.NoError(t, err)
			_, err = pa.RootAt(temperature, cycles)
			assert.NoError(t, err)
			_, err = pa.RootAt(temperature, 1.001e8)
			assert.ErrorIs(t, err, material.ErrInvalid)
			_, err = pa.RootAt(temperature, 0.999e5)
			assert.ErrorIs(t, err, material.ErrInvalid)
		}
	}
}

func FuzzCycleFit(f *testing.F) {
	f.Add(30e6, -0.22e6, 0.0, 4600e6, -900e6, 0.3, 0.33, 293.0, 373.0, 1e5, 1e8, 330.0, 1e7)
	f.Fuzz(func(t *testing.T, a, b, c, d, e, p, q, cold, hot, few, most, temperature, cycles float64) {
		fit := material.CycleFit{A: a, B: b, C: c, D: d, E: e, P: p, Q: q, Coldest: cold, Hottest: hot, Fewest: few, Most: most}
		if s, err := fit.At(temperature, cycles); err == nil && !(s > 0 && s <= 1e22) {
			t.Fatalf("stress %g", s)
		}
	})
}

func TestPropertyCycleFitAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := func(name string) float64 { return draw.Bits().Draw(t, name) }
		g := material.PA66()
		if rapid.Bool().Draw(t, "spoil") {
			g.Flank = material.CycleFit{A: bits("a"), B: bits("b"), C: bits("c"), D: bits("d"), E: bits("e"), P: bits("p"), Q: bits("q"),
				Coldest: bits("cold"), Hottest: bits("hot"), Fewest: bits("few"), Most: bits("most")}
		}
		_ = g.Validate()
		if s, err := g.FlankAt(bits("temperature"), bits("cycles")); err == nil {
			require.True(t, s > 0 && !math.IsInf(s, 0))
		}
	})
}

func ExampleGearPlastic_RootAt() {
	// A planet wheel of POM on a steel pinion, 10 million turns, cold and warm.
	pom := material.POM()
	for _, celsius := range []float64{30, 60, 90} {
		s, err := pom.RootAt(material.Celsius(celsius), 1e7)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%g °C: %.1f MPa\n", celsius, s*1e-6)
	}
	// Output:
	// 30 °C: 39.7 MPa
	// 60 °C: 32.9 MPa
	// material.GearPlastic.Root (POM): temperature = 363.15 K: allowed 293.15 to 353.15 K
}

func BenchmarkCycleFit(b *testing.B) {
	fit := material.PA66().Root
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { s, _ := fit.At(300+float64(i&63), 1e7); sum += s },
		func(i int) {
			x := 300 + float64(i&63) - 273.15
			sum += fit.A + fit.B*x + fit.C*x*x + (fit.D+fit.E*math.Pow(x, fit.P))*math.Pow(1e7, -fit.Q)
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
