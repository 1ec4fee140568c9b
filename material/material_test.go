package material_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/material/materialtest"
)

func TestCheckSteelStrength(t *testing.T) {
	const why = "minimum values of a standard, exact"
	var rows []verify.Row
	add := func(m material.Metal, source string, mm, yield, ultimate float64) {
		s, err := m.StrengthAt(mm * 1e-3)
		require.NoError(t, err)
		name := fmt.Sprintf("%s, %g mm", m.Name, mm)
		rows = append(rows,
			verify.Row{Name: name + ", yield", Source: source, Kind: verify.Print, Want: yield * 1e6, Got: s.Yield, Tol: 1e-12, Why: why},
			verify.Row{Name: name + ", ultimate", Source: source, Kind: verify.Print, Want: ultimate * 1e6, Got: s.Ultimate, Tol: 1e-12, Why: why})
	}
	const plate = "EN 10025-2, Table 7"
	for i, mm := range []float64{16, 40, 63, 80, 100, 150, 200, 250} {
		add(material.S235(), plate, mm, []float64{235, 225, 215, 215, 215, 195, 185, 175}[i], []float64{360, 360, 360, 360, 360, 350, 340, 340}[i])
		add(material.S355(), plate, mm, []float64{355, 345, 335, 325, 315, 295, 285, 275}[i], []float64{470, 470, 470, 470, 470, 450, 450, 450}[i])
	}
	add(material.S235(), plate, 16.1, 225, 360) // the band's limit belongs to the band below
	for i, mm := range []float64{16, 40, 100} {
		add(material.C45E(), "EN 10083-2:2006, +QT", mm, []float64{490, 430, 370}[i], []float64{700, 650, 630}[i])
	}
	for i, mm := range []float64{16, 40, 100, 160, 250} {
		add(material.CrMo42(), "EN 10083-3:2006, +QT", mm, []float64{900, 750, 650, 550, 500}[i], []float64{1100, 1000, 900, 800, 750}[i])
	}
	verify.Table(t, rows)

	verify.Table(t, []verify.Row{{Name: "steel, shear modulus from E and ν", Source: "EN 1993-1-1, 3.2.6, G ≈ 81 GPa, from memory",
		Kind: verify.Memory, Want: 81e9, Got: material.S235().Shear(), Tol: 0.0062, Why: "printed to a whole GPa"}})
}

// A number without provenance is a number nobody may trust.
func TestEveryNumberHasASource(t *testing.T) {
	require := func(owner string, v any, source map[string]string) {
		s := reflect.ValueOf(v)
		fields := 0
		for i := range s.NumField() {
			name := s.Type().Field(i).Name
			switch s.Field(i).Kind() {
			case reflect.Float64, reflect.Slice, reflect.Interface:
				if s.Field(i).IsZero() {
					continue // an amorphous polymer has no heat of fusion
				}
				fields++
				assert.NotEmpty(t, source[name], "%s.%s", owner, name)
			}
		}
		assert.Len(t, source, fields, "%s: a source for a field that is not there", owner)
	}
	for _, p := range material.Polymers() {
		require(p.Name, p, p.Source)
		assert.NoError(t, p.Validate())
	}
	for _, m := range material.Metals() {
		require(m.Name, m, m.Source)
		assert.NoError(t, m.Validate())
	}
	for _, b := range []material.Bulk{material.Regrind(), material.Pellets()} {
		require(b.Name, b, b.Source)
		assert.NoError(t, b.Validate())
	}
}

func TestNamed(t *testing.T) {
	p, err := material.PolymerNamed("hdpe")
	require.NoError(t, err)
	assert.Equal(t, "HDPE", p.Name)
	_, err = material.PolymerNamed("lead")
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, `material.PolymerNamed: name = "lead": allowed PP, HDPE, ABS`)
	m, err := material.MetalNamed("42crmo4")
	require.NoError(t, err)
	assert.Equal(t, "42CrMo4", m.Name)
	_, err = material.MetalNamed("")
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestCelsius(t *testing.T) {
	assert.Equal(t, 488.15, material.Celsius(215))
	assert.InDelta(t, 215, material.ToCelsius(material.Celsius(215)), 1e-12)
}

func TestPropertySafetyIsBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := material.Utilisation{Demand: draw.Bits().Draw(t, "demand"), Capacity: draw.Bits().Draw(t, "capacity")}
		s := u.Safety()
		require.False(t, math.IsNaN(s))
		require.GreaterOrEqual(t, s, 0.0)
		require.LessOrEqual(t, s, float64(material.MostSafety))
	})
	assert.Equal(t, 2.0, material.Utilisation{Demand: 3, Capacity: 6}.Safety())
	assert.Equal(t, 2.0, material.Utilisation{Demand: -3, Capacity: 6}.Safety(), "a load either way")
	assert.Equal(t, 0.0, material.Utilisation{Demand: 3, Capacity: -1}.Safety())
}

func TestBadMaterialsAreNamed(t *testing.T) {
	p := material.PP()
	p.MeltDensity = -1
	p.ProcessHigh = math.NaN()
	p.Viscosity = material.PowerLaw{Consistency: 0, Index: 9, Reference: 400}
	err := p.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"material.Polymer.MeltDensity = -1 kg/m³", "material.Polymer.ProcessHigh = NaN K",
		"material.PowerLaw.Consistency = 0 Pa·sⁿ", "material.PowerLaw.Index = 9: allowed 0.05 to 1.5"} {
		assert.ErrorContains(t, err, part)
	}
	p.Viscosity = nil
	assert.ErrorContains(t, p.Validate(), `material.Polymer.Viscosity = "nil": allowed a law`)

	_, err = material.C45E().StrengthAt(0.2)
	assert.ErrorContains(t, err, "section = 0.2 m: allowed above 0, up to 0.1 m")
}

// Whatever bits come in, an error or a finite number comes out.
func TestPropertyAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := func(name string) float64 { return draw.Bits().Draw(t, name) }
		p := materialtest.Polymers().Draw(t, "polymer")
		switch rapid.IntRange(0, 2).Draw(t, "spoil") {
		case 1:
			p.Viscosity = material.CrossWLF{N: bits("n"), TauStar: bits("tau"), D1: bits("D1"), D2: bits("D2"),
				D3: bits("D3"), A1: bits("A1"), A2: bits("A2")}
		case 2:
			p.Viscosity = material.PowerLaw{Consistency: bits("m"), Index: bits("n"), Reference: bits("T0"), TemperatureSlope: bits("b")}
		}
		eta, err := p.ViscosityAt(bits("rate"), bits("temperature"), bits("pressure"))
		if err == nil {
			require.True(t, eta > 0 && eta <= math.MaxFloat64, "%g", eta)
		}
		s, err := material.CrMo42().StrengthAt(bits("section"))
		if err == nil {
			require.Positive(t, s.Yield)
		}
	})
}

func FuzzViscosityAt(f *testing.F) {
	f.Add(100.0, 470.0, 1e6, 0.3, 3e4, 1e12, 373.0, 1e-7, 28.0, 51.6)
	f.Fuzz(func(t *testing.T, rate, temperature, pressure, n, tau, d1, d2, d3, a1, a2 float64) {
		p := material.ABS()
		p.Viscosity = material.CrossWLF{N: n, TauStar: tau, D1: d1, D2: d2, D3: d3, A1: a1, A2: a2}
		eta, err := p.ViscosityAt(rate, temperature, pressure)
		if err == nil && !(eta > 0 && eta <= math.MaxFloat64) {
			t.Fatalf("viscosity %g", eta)
		}
	})
}

func ExamplePolymer_ViscosityAt() {
	pp := material.PP()
	eta, err := pp.ViscosityAt(100, material.Celsius(200), 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("PP at 200 °C and 100 1/s: %.4g Pa·s\n", eta)
	fmt.Println(pp.Source["Viscosity"])
	// Output:
	// PP at 200 °C and 100 1/s: 287.4 Pa·s
	// Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, from memory, 190 and 200 °C
}

func ExampleMetal_StrengthAt() {
	// A quenched and tempered bar loses yield as it gets thicker.
	for _, mm := range []float64{12, 20, 50} {
		s, err := material.CrMo42().StrengthAt(mm * 1e-3)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%g mm: %.0f MPa\n", mm, s.Yield*1e-6)
	}
	// Output:
	// 12 mm: 900 MPa
	// 20 mm: 750 MPa
	// 50 mm: 650 MPa
}
