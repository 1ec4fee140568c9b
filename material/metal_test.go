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
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/material/materialtest"
)

func TestCheckMetalStrength(t *testing.T) {
	const why = "minimum values of a standard, exact"
	var rows []verify.Row
	add := func(m material.Metal, source string, kind verify.Kind, mm, yield, ultimate float64) {
		s, err := m.StrengthAt(mm * 1e-3)
		require.NoError(t, err)
		name := fmt.Sprintf("%s, %g mm", m.Name, mm)
		rows = append(rows,
			verify.Row{Name: name + ", yield", Source: source, Kind: kind, Want: yield * 1e6, Got: s.Yield, Tol: 1e-12, Why: why},
			verify.Row{Name: name + ", ultimate", Source: source, Kind: kind, Want: ultimate * 1e6, Got: s.Ultimate, Tol: 1e-12, Why: why})
	}
	const plate = "EN 10025-2, Table 7"
	for i, mm := range []float64{16, 40, 63, 80, 100, 150, 200, 250} {
		add(material.S235(), plate, verify.Print, mm, []float64{235, 225, 215, 215, 215, 195, 185, 175}[i], []float64{360, 360, 360, 360, 360, 350, 340, 340}[i])
		add(material.S275(), plate, verify.Print, mm, []float64{275, 265, 255, 245, 235, 225, 215, 205}[i], []float64{410, 410, 410, 410, 410, 400, 380, 380}[i])
		add(material.S355(), plate, verify.Print, mm, []float64{355, 345, 335, 325, 315, 295, 285, 275}[i], []float64{470, 470, 470, 470, 470, 450, 450, 450}[i])
	}
	add(material.S235(), plate, verify.Print, 16.1, 225, 360) // the band's limit belongs to the band below
	for i, mm := range []float64{16, 40, 100} {
		add(material.C45E(), "EN 10083-2:2006, +QT", verify.Print, mm, []float64{490, 430, 370}[i], []float64{700, 650, 630}[i])
	}
	for i, mm := range []float64{16, 40, 100, 160, 250} {
		add(material.CrMo42(), "EN 10083-3:2006, +QT", verify.Print, mm, []float64{900, 750, 650, 550, 500}[i], []float64{1100, 1000, 900, 800, 750}[i])
	}
	for i, mm := range []float64{40, 100, 160, 250} {
		add(material.CrMoV31(), "EN 10085:2001, +QT, from memory", verify.Memory, mm, []float64{900, 800, 700, 650}[i], []float64{1100, 1000, 900, 850}[i])
	}
	for i, mm := range []float64{11, 30, 63} {
		add(material.MnCr16(), "lowest of two steel sheets for 1.7131 and UNI 7846", verify.Print, mm, []float64{735, 490, 440}[i], []float64{970, 740, 620}[i])
	}
	add(material.Stainless(), "EN 10088-3, bars, solution annealed", verify.Print, 160, 190, 500)
	const al = "EN 755-2, extruded, from memory"
	add(material.Al6060(), al, verify.Memory, 3, 160, 215)
	add(material.Al6060(), al, verify.Memory, 10, 150, 195)
	add(material.Al6061(), al, verify.Memory, 5, 240, 260)
	add(material.Al6082(), al, verify.Memory, 5, 250, 290)
	add(material.Al6082(), al, verify.Memory, 20, 250, 290)
	add(material.Al6082(), al, verify.Memory, 25, 260, 310)
	add(material.Brass(), "EN 12164, R430, from memory", verify.Memory, 20, 220, 430)
	verify.Table(t, rows)

	extruded, err := material.Al6061().StrengthAt(5e-3)
	require.NoError(t, err)
	const handbook = "MIL-HDBK-5, 6061-T6 extrusion, from memory: 38/35 ksi, 9.9 Msi, 3.8 Msi"
	const ksi = 6.894757e6
	verify.Table(t, []verify.Row{
		{Name: "6061-T6, ultimate", Source: handbook, Kind: verify.Memory, Want: 38 * ksi, Got: extruded.Ultimate, Tol: 0.0132, Why: "printed to a whole ksi"},
		{Name: "6061-T6, yield", Source: handbook, Kind: verify.Memory, Want: 35 * ksi, Got: extruded.Yield, Tol: 0.0143, Why: "printed to a whole ksi"},
		{Name: "6061-T6, Young's modulus", Source: handbook, Kind: verify.Memory, Want: 9900 * ksi, Got: material.Al6061().Young, Tol: 0.0051, Why: "printed to 0.1 Msi"},
		{Name: "6061-T6, shear modulus", Source: handbook, Kind: verify.Memory, Want: 3800 * ksi, Got: material.Al6061().Shear(), Tol: 0.0263, Why: "printed to 0.1 Msi; E and ν to 1 and 2 %"},
		{Name: "6060-T66, Young's modulus", Source: "EN 1999-1-1, 3.2.5: 70 GPa, from memory", Kind: verify.Memory, Want: 70e9, Got: material.Al6060().Young, Tol: 0.0075, Why: "the standard rounds for all alloys"},
		{Name: "steel, density", Source: "EN 1993-1-1, 3.2.6: 7850 kg/m³, from memory", Kind: verify.Memory, Want: 7850, Got: material.S235().Density, Tol: 1e-12, Why: why},
		{Name: "steel, shear modulus from E and ν", Source: "EN 1993-1-1, 3.2.6, G ≈ 81 GPa, from memory", Kind: verify.Memory, Want: 81e9, Got: material.S235().Shear(), Tol: 0.0062, Why: "printed to a whole GPa"},
		{Name: "42CrMo4, density", Source: "steel sheets for 1.7225: 7840 kg/m³", Kind: verify.Print, Want: 7840, Got: material.CrMo42().Density, Tol: 1e-12, Why: why},
		{Name: "1.4301, density", Source: "EN 10088-1", Kind: verify.Print, Want: 7900, Got: material.Stainless().Density, Tol: 1e-12, Why: why},
		{Name: "1.4301, Young's modulus", Source: "EN 10088-1", Kind: verify.Print, Want: 200e9, Got: material.Stainless().Young, Tol: 1e-12, Why: why},
		{Name: "1.4301, expansion", Source: "EN 10088-1; 10.4e-6 in some tables is the martensitic 1.4125", Kind: verify.Print, Want: 16e-6, Got: material.Stainless().Expansion, Tol: 1e-12, Why: why},
		{Name: "1.4301, conductivity", Source: "EN 10088-1", Kind: verify.Print, Want: 15, Got: material.Stainless().Conductivity, Tol: 1e-12, Why: why},
		{Name: "1.4301, specific heat", Source: "EN 10088-1", Kind: verify.Print, Want: 500, Got: material.Stainless().SpecificHeat, Tol: 1e-12, Why: why},
	})
}

func TestCheckMetalsInTheHeat(t *testing.T) {
	yield := func(m material.Metal, mm, celsius float64) float64 {
		y, err := m.YieldAt(mm*1e-3, material.Celsius(celsius))
		require.NoError(t, err)
		return y
	}
	const bars, fire = "EN 10088-3, 1.4301, smallest proof stress at temperature", "EN 1993-1-2, Annex E, from memory"
	rows := []verify.Row{
		{Name: "1.4301, 100 °C, yield", Source: bars, Kind: verify.Print, Want: 157e6, Got: yield(material.Stainless(), 20, 100), Tol: 1e-12, Why: "a standard's value"},
		{Name: "1.4301, 150 °C, yield", Source: bars, Kind: verify.Print, Want: 142e6, Got: yield(material.Stainless(), 20, 150), Tol: 1e-12, Why: "a standard's value"},
		{Name: "1.4301, 200 °C, yield", Source: bars, Kind: verify.Print, Want: 127e6, Got: yield(material.Stainless(), 20, 200), Tol: 1e-12, Why: "a standard's value"},
		{Name: "1.4301, 125 °C, yield", Source: bars + ", midway", Kind: verify.Own, Want: 149.5e6, Got: yield(material.Stainless(), 20, 125), Tol: 1e-12, Why: "by hand"},
		{Name: "1.4301, 300 °C, yield", Source: bars + ", from memory", Kind: verify.Memory, Want: 110e6, Got: yield(material.Stainless(), 20, 300), Tol: 1e-12, Why: "a standard's value"},
		{Name: "1.4301, 400 °C, yield", Source: bars + ", from memory", Kind: verify.Memory, Want: 98e6, Got: yield(material.Stainless(), 20, 400), Tol: 1e-12, Why: "a standard's value"},
		{Name: "S235, 10 mm, 100 °C, yield", Source: fire, Kind: verify.Memory, Want: 235e6, Got: yield(material.S235(), 10, 100), Tol: 1e-12, Why: "a standard's share"},
		{Name: "S235, 10 mm, 250 °C, yield", Source: fire + ", midway of 0.89 and 0.78", Kind: verify.Memory, Want: 196.225e6, Got: yield(material.S235(), 10, 250), Tol: 1e-12, Why: "by hand"},
		{Name: "S355, 30 mm, 400 °C, yield", Source: fire, Kind: verify.Memory, Want: 0.65 * 345e6, Got: yield(material.S355(), 30, 400), Tol: 1e-12, Why: "a standard's share"},
	}
	const formula = "formulas of EN 1993-1-2 and EN 1999-1-2 as remembered, evaluated independently"
	for _, c := range []struct {
		m                      material.Metal
		celsius, conduct, heat float64
	}{
		{material.S235(), 20, 53.334, 439.802}, {material.S275(), 100, 50.670, 487.620}, {material.S355(), 200, 47.340, 529.760}, {material.S235(), 400, 40.680, 605.880},
		{material.Stainless(), 20, 14.854, 455.485}, {material.Stainless(), 200, 17.140, 495.432}, {material.Stainless(), 400, 19.680, 524.016},
		{material.Al6060(), 20, 191.4, 911.2}, {material.Al6082(), 200, 204, 985},
	} {
		k, err := c.m.ConductivityAt(material.Celsius(c.celsius))
		require.NoError(t, err)
		h, err := c.m.SpecificHeatAt(material.Celsius(c.celsius))
		require.NoError(t, err)
		name := fmt.Sprintf("%s, %g °C, ", c.m.Name, c.celsius)
		rows = append(rows,
			verify.Row{Name: name + "conductivity", Source: formula, Kind: verify.Memory, Want: c.conduct, Got: k, Tol: 1e-6, Why: "digits of the value"},
			verify.Row{Name: name + "specific heat", Source: formula, Kind: verify.Memory, Want: c.heat, Got: h, Tol: 1.2e-6, Why: "digits of the value"})
	}
	verify.Table(t, rows)
}

func TestCheckRotatingBending(t *testing.T) {
	at := func(m material.Metal, mm float64) float64 {
		s, err := m.RotatingBending(mm * 1e-3)
		require.NoError(t, err)
		return s
	}
	const din, why = "DIN 743-3, rotating bending up to 16 mm, from memory", "a table's value"
	hard := material.CrMo42()
	hard.Strength = []material.Strength{{Section: 0.01, Yield: 1.5e9, Ultimate: 1.8e9}}
	verify.Table(t, []verify.Row{
		{Name: "S235, 10 mm", Source: din, Kind: verify.Memory, Want: 180e6, Got: at(material.S235(), 10), Tol: 1e-12, Why: why},
		{Name: "C45E, 16 mm", Source: din, Kind: verify.Memory, Want: 350e6, Got: at(material.C45E(), 16), Tol: 1e-12, Why: why},
		{Name: "42CrMo4, 16 mm", Source: din, Kind: verify.Memory, Want: 550e6, Got: at(material.CrMo42(), 16), Tol: 1e-12, Why: why},
		{Name: "42CrMo4, 16 mm", Source: "handbook value 525 MPa for 1100 MPa, from memory", Kind: verify.Memory, Want: 525e6, Got: at(material.CrMo42(), 16), Tol: 0.048, Why: "two handbooks"},
		{Name: "6061-T6, 10 mm, 5e8 turns", Source: "97 MPa of the typical 310 MPa, from memory: 0.31 of the ultimate", Kind: verify.Memory, Want: 97. / 310 * 260e6, Got: at(material.Al6061(), 10), Tol: 0.05, Why: "two handbooks"},
		{Name: "a steel of 1800 MPa", Source: "R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, eq. 6-8, from memory", Kind: verify.Memory, Want: 700e6, Got: at(hard, 10), Tol: 1e-12, Why: "a rule's value"},
	})
}

func TestPropertyMetals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := materialtest.Metals().Draw(t, "metal")
		require.NoError(t, m.Validate())
		last := m.Strength[len(m.Strength)-1].Section
		section := draw.Log(1e-3, last).Draw(t, "section")
		s, err := m.StrengthAt(section)
		require.NoError(t, err)
		if len(m.Hot) > 0 {
			low, high := m.Hot[0].Temperature, m.Hot[len(m.Hot)-1].Temperature
			temperature := draw.Uniform(low, high).Draw(t, "temperature")
			y, err := m.YieldAt(section, temperature)
			require.NoError(t, err)
			require.LessOrEqual(t, y, s.Yield*(1+1e-12), "heat takes strength away")
			require.GreaterOrEqual(t, y, s.Yield*m.Hot[len(m.Hot)-1].Share*(1-1e-12))
			hotter, err := m.YieldAt(section, min(high, temperature+10))
			require.NoError(t, err)
			require.LessOrEqual(t, hotter, y*(1+1e-12))
			for _, d := range m.Hot {
				y, err := m.YieldAt(section, d.Temperature)
				require.NoError(t, err)
				require.InEpsilon(t, s.Yield*d.Share, y, 1e-12, "the entries themselves")
			}
			_, err = m.YieldAt(section, high+1)
			require.ErrorIs(t, err, material.ErrInvalid)
			_, err = m.YieldAt(section, low-1)
			require.ErrorIs(t, err, material.ErrInvalid)
		} else {
			_, err := m.YieldAt(section, 400)
			require.ErrorIs(t, err, material.ErrNoData)
			require.NotErrorIs(t, err, material.ErrInvalid)
		}
		if m.Fatigue > 0 {
			e, err := m.RotatingBending(section)
			require.NoError(t, err)
			require.InEpsilon(t, min(700e6, m.Fatigue*s.Ultimate), e, 1e-12)
		} else {
			_, err := m.RotatingBending(section)
			require.ErrorIs(t, err, material.ErrNoData)
		}
	})
}

// A law that misses its metal's own figure at room temperature belongs to another metal.
func TestLawsMeetRoomTemperature(t *testing.T) {
	for _, m := range material.Metals() {
		if k, err := m.ConductivityAt(material.Celsius(20)); err == nil {
			assert.InEpsilon(t, m.Conductivity, k, 0.15, m.Name)
		}
		if h, err := m.SpecificHeatAt(material.Celsius(20)); err == nil {
			assert.InEpsilon(t, m.SpecificHeat, h, 0.1, m.Name)
		}
	}
}

// provenance asserts that every number of a thing names its source, and that
// nothing else does.
func provenance(t *testing.T, owner string, v any, source map[string]string) {
	s := reflect.ValueOf(v)
	fields := 0
	for i := range s.NumField() {
		name, field := s.Type().Field(i).Name, s.Field(i)
		switch {
		case field.IsZero(): // not known
		case field.Kind() == reflect.Struct: // it brings its own
			assert.NotEmpty(t, field.FieldByName("Source").String(), "%s.%s", owner, name)
		case field.Kind() == reflect.Float64, field.Kind() == reflect.Slice:
			fields++
			assert.NotEmpty(t, source[name], "%s.%s", owner, name)
		}
	}
	assert.Len(t, source, fields, "%s: a source for a field that is not there", owner)
}

func TestEveryMetalHasItsSources(t *testing.T) {
	for _, m := range material.Metals() {
		provenance(t, m.Name, m, m.Source)
		assert.NoError(t, m.Validate(), m.Name)
		assert.NotEmpty(t, m.Strength, m.Name)
		named, err := material.MetalNamed(m.Name)
		require.NoError(t, err)
		assert.Equal(t, m, named)
	}
}

func TestBadMetalsAreNamed(t *testing.T) {
	m := material.Stainless()
	m.Fatigue = 2
	m.Hot = []material.Derating{{Temperature: 300, Share: 1}, {Temperature: 300, Share: math.NaN()}}
	m.HeatLaw = material.Trend{Coefficients: [4]float64{math.Inf(1)}, Low: 300, High: 200}
	m.Strength[0].Brinell = -1
	err := m.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"material.Metal.Fatigue = 2: allowed 0.05 to 0.7", "material.Derating.Temperature = 300 K: allowed above that of the entry before, 300 K, up to 1500 K",
		"material.Derating.Share = NaN", "material.Metal.HeatLaw.Coefficients = +Inf", "material.Metal.HeatLaw.High = 200 K: allowed 300 to 1500 K", "material.Strength.Brinell = -1"} {
		assert.ErrorContains(t, err, part)
	}
	_, err = material.C45E().YieldAt(0.01, 400)
	assert.EqualError(t, err, "no data: material.Metal.Hot (C45E): yield at temperature")
	_, err = material.S235().YieldAt(0.01, 1000)
	assert.EqualError(t, err, "material.Metal.YieldAt (S235): temperature = 1000 K: allowed 293.15 to 873.15 K")
	_, err = material.Brass().ConductivityAt(300)
	assert.EqualError(t, err, "no data: material.Metal.ConductivityLaw (CW614N)")
	_, err = material.Trend{Coefficients: [4]float64{-5}, Low: 200, High: 400}.At(300)
	assert.EqualError(t, err, "material.Trend: value = -5: allowed above 0")
	_, err = material.S235().SpecificHeatAt(material.Celsius(620))
	assert.ErrorContains(t, err, "material.Metal.HeatLaw (S235): temperature = 893.15 K: allowed 293.15 to 873.15 K")
}

// Ranges are taken at their ends and refused beyond them.
func TestMetalLimits(t *testing.T) {
	for name, c := range map[string]struct {
		end, beyond func(*material.Metal)
	}{
		"most fatigue":     {func(m *material.Metal) { m.Fatigue = 0.7 }, func(m *material.Metal) { m.Fatigue = 0.701 }},
		"least fatigue":    {func(m *material.Metal) { m.Fatigue = 0.05 }, func(m *material.Metal) { m.Fatigue = 0.0499 }},
		"largest section":  {func(m *material.Metal) { m.Strength[0].Section = 10 }, func(m *material.Metal) { m.Strength[0].Section = 10.01 }},
		"hottest":          {func(m *material.Metal) { m.Hot[7].Temperature = 1500 }, func(m *material.Metal) { m.Hot[7].Temperature = 1501 }},
		"coldest":          {func(m *material.Metal) { m.Hot[0].Temperature = 100 }, func(m *material.Metal) { m.Hot[0].Temperature = 99 }},
		"most coefficient": {func(m *material.Metal) { m.HeatLaw.Coefficients[0] = 1e6 }, func(m *material.Metal) { m.HeatLaw.Coefficients[0] = 1.001e6 }},
		"least":            {func(m *material.Metal) { m.HeatLaw.Coefficients[1] = -1e6 }, func(m *material.Metal) { m.HeatLaw.Coefficients[1] = -1.001e6 }},
		"law's high":       {func(m *material.Metal) { m.HeatLaw.High = 1500 }, func(m *material.Metal) { m.HeatLaw.High = 1501 }},
		"law's low":        {func(m *material.Metal) { m.HeatLaw.Low = 100 }, func(m *material.Metal) { m.HeatLaw.Low = 99 }},
	} {
		m := material.Stainless()
		c.end(&m)
		assert.NoError(t, m.Validate(), name)
		c.beyond(&m)
		assert.ErrorIs(t, m.Validate(), material.ErrInvalid, name)
	}
	m := material.Stainless()
	y, err := m.YieldAt(0.16, material.Celsius(400)+5e-10) // the rounding of Celsius and back
	require.NoError(t, err)
	assert.InEpsilon(t, 98e6, y, 1e-12)
	small, err := material.Trend{Coefficients: [4]float64{1e-3}, Low: 200, High: 400}.At(300)
	require.NoError(t, err)
	assert.Equal(t, 1e-3, small)
}

func FuzzMetal(f *testing.F) {
	f.Add(0.01, 400.0, 0.02, 3e8, 5e8, 0.5, 500.0, 0.8, 400.0, 0.1, -1e-4, 1e-8)
	f.Fuzz(func(t *testing.T, section, temperature, band, yield, ultimate, fatigue, hot, share, c0, c1, c2, c3 float64) {
		m := material.Metal{
			Strength: []material.Strength{{Section: band, Yield: yield, Ultimate: ultimate}}, Fatigue: fatigue,
			Hot:     []material.Derating{{Temperature: 300, Share: 1}, {Temperature: hot, Share: share}},
			HeatLaw: material.Trend{Coefficients: [4]float64{c0, c1, c2, c3}, Low: 250, High: hot},
		}
		_ = m.Validate()
		for name, ask := range map[string]func() (float64, error){
			"yield":   func() (float64, error) { return m.YieldAt(section, temperature) },
			"fatigue": func() (float64, error) { return m.RotatingBending(section) },
			"heat":    func() (float64, error) { return m.SpecificHeatAt(temperature) },
			"trend":   func() (float64, error) { return m.ConductivityAt(temperature) },
		} {
			if x, err := ask(); err == nil && !(x > 0 && x <= 1e17) {
				t.Fatalf("%s %g", name, x)
			}
		}
	})
}

func TestPropertyMetalAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := func(name string) float64 { return draw.Bits().Draw(t, name) }
		m := materialtest.Metals().Draw(t, "metal")
		if len(m.Hot) > 1 && rapid.Bool().Draw(t, "spoil") {
			m.Hot = []material.Derating{{bits("t0"), bits("s0")}, {bits("t1"), bits("s1")}}
			m.HeatLaw = material.Trend{Coefficients: [4]float64{bits("c0"), bits("c1"), bits("c2"), bits("c3")}, Low: bits("low"), High: bits("high")}
		}
		_ = m.Validate()
		section, temperature := rapid.OneOf(draw.Bits(), draw.Log(1e-3, 0.3)).Draw(t, "section"), rapid.OneOf(draw.Bits(), draw.Uniform(200, 900)).Draw(t, "temperature")
		if y, err := m.YieldAt(section, temperature); err == nil {
			require.True(t, y > 0 && y < 1e11, "%g", y)
		}
		if h, err := m.SpecificHeatAt(temperature); err == nil {
			require.True(t, h > 0 && h < 1e17, "%g", h)
		}
	})
}

func TestMetalKernelsAllocateNothing(t *testing.T) {
	m := material.Stainless()
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = m.YieldAt(0.02, 450)
		_, _ = m.RotatingBending(0.02)
		_, _ = m.SpecificHeatAt(450)
		_, _ = m.ConductivityAt(450)
	}))
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

func ExampleMetal_YieldAt() {
	// A barrel of 30 mm at 240 °C, of stainless or of structural steel.
	for _, m := range []material.Metal{material.Stainless(), material.S355(), material.C45E()} {
		y, err := m.YieldAt(30e-3, material.Celsius(240))
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Printf("%s: %.0f MPa\n", m.Name, y*1e-6)
	}
	// Output:
	// 1.4301: 120 MPa
	// S355: 292 MPa
	// no data: material.Metal.Hot (C45E): yield at temperature
}

func BenchmarkYieldAt(b *testing.B) {
	m := material.S235()
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { y, _ := m.YieldAt(0.01, 300+float64(i&511)); sum += y },
		func(i int) {
			temperature := 300 + float64(i&511)
			for j := 1; j < len(m.Hot); j++ {
				if temperature <= m.Hot[j].Temperature {
					lo, hi := m.Hot[j-1], m.Hot[j]
					sum += m.Strength[0].Yield * (lo.Share + (temperature-lo.Temperature)/(hi.Temperature-lo.Temperature)*(hi.Share-lo.Share))
					break
				}
			}
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
