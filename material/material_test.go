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

// What the polymers are made of, held against other books than those they are from.
func TestCheckPolymers(t *testing.T) {
	at := func(p material.Polymer, rate, celsius float64) float64 {
		return p.Viscosity.At(rate, material.Celsius(celsius), 0)
	}
	const table = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, m·γ̇^(n−1), from memory"
	const melt = "fixed melt density of ASTM D1238, from memory"
	const rauwendaal = "C. Rauwendaal, Polymer Extrusion, Table 6.1, from memory"
	pp, pe, abs := material.PP(), material.HDPE(), material.ABS()
	verify.Table(t, []verify.Row{
		{Name: "PP, 190 °C, 100 1/s [Pa·s]", Source: table, Kind: verify.Memory, Want: 323.08, Got: at(pp, 100, 190), Tol: 2e-5, Why: "five digits"},
		{Name: "PP, 200 °C, 1000 1/s [Pa·s]", Source: table, Kind: verify.Memory, Want: 73.874, Got: at(pp, 1000, 200), Tol: 2e-5, Why: "five digits"},
		{Name: "HDPE, 180 °C, 100 1/s [Pa·s]", Source: table, Kind: verify.Memory, Want: 816.00, Got: at(pe, 100, 180), Tol: 2e-5, Why: "five digits"},
		{Name: "HDPE, 220 °C, 100 1/s [Pa·s]", Source: table, Kind: verify.Memory, Want: 619.03, Got: at(pe, 100, 220), Tol: 2e-5, Why: "five digits"},
		{Name: "HDPE, 220 °C, 1000 1/s [Pa·s]", Source: table, Kind: verify.Memory, Want: 252.179, Got: at(pe, 1000, 220), Tol: 0.12, Why: "the law keeps the index of 180 °C, stated"},
		{Name: "PP melt density [kg/m³]", Source: melt + ", 230 °C", Kind: verify.Memory, Want: 738.6, Got: pp.MeltDensity, Tol: 0.01, Why: "ten kelvins apart, 0.6 %"},
		{Name: "HDPE melt density [kg/m³]", Source: melt + ", 190 °C", Kind: verify.Memory, Want: 763.6, Got: pe.MeltDensity, Tol: 0.01, Why: "two sources, 0.5 % apart"},
		{Name: "PP solid density [kg/m³]", Source: rauwendaal, Kind: verify.Memory, Want: 910, Got: pp.SolidDensity, Tol: 0.006, Why: "two handbooks"},
		{Name: "HDPE solid density [kg/m³]", Source: rauwendaal, Kind: verify.Memory, Want: 950, Got: pe.SolidDensity, Tol: 0.006, Why: "two handbooks"},
		{Name: "ABS solid density [kg/m³]", Source: rauwendaal, Kind: verify.Memory, Want: 1020, Got: abs.SolidDensity, Tol: 0.02, Why: "two handbooks"},
		{Name: "ABS solid specific heat [J/(kg·K)]", Source: rauwendaal, Kind: verify.Memory, Want: 1400, Got: abs.SolidSpecificHeat, Tol: 0.08, Why: "two handbooks"},
		{Name: "hopper of 6 l at 320 kg/m³ [kg]", Source: "by hand", Kind: verify.Own, Want: 1.92, Got: material.Bulk{BulkDensity: 320}.Mass(6e-3), Tol: 1e-12, Why: "rounding"},
	})
}

// A number without provenance is a number nobody may trust.
func TestEveryNumberHasASource(t *testing.T) {
	require := func(owner string, v any, source map[string]string) {
		s := reflect.ValueOf(v)
		fields := 0
		for i := range s.NumField() {
			name := s.Type().Field(i).Name
			switch s.Field(i).Kind() {
			case reflect.Float64, reflect.Slice, reflect.Interface, reflect.Struct:
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
	assert.Equal(t, 0.0, material.Utilisation{Demand: math.Inf(1), Capacity: math.Inf(1)}.Safety())
	assert.Equal(t, float64(material.MostSafety), material.Utilisation{Demand: 0, Capacity: 1}.Safety())
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
	p = material.PP()
	p.Drying = material.Drying{Moisture: 1, Temperature: 0, Time: math.NaN()}
	for _, part := range []string{"material.Drying.Moisture = 1:", "material.Drying.Temperature = 0 K:", "material.Drying.Time = NaN s:"} {
		assert.ErrorContains(t, p.Validate(), part)
	}
	p = material.PP()
	p.Viscosity, p.PVT = nil, nil
	assert.NoError(t, p.Validate(), "no law is no fault")
	_, _, err = p.ViscosityAt(100, 480, 0)
	assert.ErrorIs(t, err, material.ErrNoData)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "no data: PP has no published law of viscosity here; give it one of your own")

	m := material.C45E()
	m.Strength = []material.Strength{{Section: 0.01, Yield: 3e8, Ultimate: 2e8}, {Section: 0.01, Yield: math.NaN(), Ultimate: 2e8}}
	err = m.Validate()
	assert.ErrorContains(t, err, "material.Strength.Ultimate = 2e+08 Pa: allowed 3e+08 to 1e+10 Pa")
	assert.ErrorContains(t, err, "material.Strength.Section = 0.01 m: allowed above that of the band before, 0.01 m")
	assert.ErrorContains(t, err, "material.Strength.Yield = NaN Pa")
	_, err = m.StrengthAt(0.005)
	assert.ErrorIs(t, err, material.ErrInvalid)

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
		eta, _, err := p.ViscosityAt(bits("rate"), bits("temperature"), bits("pressure"))
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
		eta, _, err := p.ViscosityAt(rate, temperature, pressure)
		if err == nil && !(eta > 0 && eta <= math.MaxFloat64) {
			t.Fatalf("viscosity %g", eta)
		}
	})
}

func ExamplePolymer_ViscosityAt() {
	pp := material.PP()
	eta, beyond, err := pp.ViscosityAt(100, material.Celsius(215), 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("PP at 215 °C and 100 1/s: %.4g Pa·s\n", eta)
	fmt.Println(beyond)
	fmt.Println(pp.Source["Viscosity"])
	// Output:
	// PP at 215 °C and 100 1/s: 241.1 Pa·s
	// [melt at 215 °C, viscosity law fitted from 190 to 200 °C]
	// Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, from memory, 190 and 200 °C
}
