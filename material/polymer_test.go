package material_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/internal/verify"
	"meltflight/material"
)

// Each law against the rows of the table it is from, and against those it smooths over.
func TestCheckPolymerViscosity(t *testing.T) {
	const table = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, m·γ̇^(n−1), from memory"
	const digits = "five digits"
	var rows []verify.Row
	for _, c := range []struct {
		polymer material.Polymer
		celsius float64
		rate    float64
		want    float64
		tol     float64
		why     string
	}{
		{material.LDPE(), 180, 100, 433.35, 2e-5, digits},
		{material.LDPE(), 180, 1000, 124.979, 2e-5, digits},
		{material.LDPE(), 200, 100, 375.39, 2e-5, digits},
		{material.LDPE(), 200, 1000, 110.784, 0.03, "the law keeps the index of 180 °C, 0.46 for 0.47: 10^0.01"},
		{material.HIPS(), 190, 100, 1202.03, 2e-5, digits},
		{material.HIPS(), 190, 1000, 194.947, 2e-5, digits},
		{material.HIPS(), 170, 100, 1904.01, 0.07, "one exponential for three temperatures: the middle lies 6.4 % under the line"},
		{material.HIPS(), 170, 1000, 301.765, 0.05, "the same, and the index 0.21 for 0.20"},
		{material.HIPS(), 210, 100, 865.98, 0.07, "the same"},
		{material.HIPS(), 210, 1000, 134.124, 0.02, "the same, and the index 0.21 for 0.19"},
		{material.PA6(), 230, 100, 407.41, 2e-5, digits},
		{material.PA6(), 235, 100, 378.16, 2e-5, digits},
		{material.PA6(), 235, 1000, 172.854, 2e-5, digits},
	} {
		eta, beyond, err := c.polymer.ViscosityAt(c.rate, material.Celsius(c.celsius), 0)
		require.NoError(t, err)
		require.Nil(t, beyond, "%s at %g °C", c.polymer.Name, c.celsius)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g °C, %g 1/s [Pa·s]", c.polymer.Name, c.celsius, c.rate), Source: table,
			Kind: verify.Memory, Want: c.want, Got: eta, Tol: c.tol, Why: c.why})
	}
	const direct = "formula evaluated independently in extended precision; constants as remembered for general-purpose PS"
	for _, c := range []struct{ celsius, rate, want float64 }{{180, 100, 870.391}, {200, 10, 2182.74}, {200, 100, 573.893}, {200, 1000, 111.961}, {220, 100, 388.293}} {
		eta, _, err := material.PS().ViscosityAt(c.rate, material.Celsius(c.celsius), 0)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("PS, %g °C, %g 1/s, its own law [Pa·s]", c.celsius, c.rate), Source: direct,
			Kind: verify.Own, Want: c.want, Got: eta, Tol: 5e-6, Why: "six digits"})
	}
	verify.Table(t, rows)
}

func TestCheckPolymerNumbers(t *testing.T) {
	const rauwendaal = "C. Rauwendaal, Polymer Extrusion, Table 6.1, from memory"
	const crawford = "R. J. Crawford, Plastics Engineering, 3rd ed. (1998), Table 1.8"
	const two = "two handbooks, and what lies between them"
	const pages = "spread of sources, from memory"
	ldpe, ps, pet, pa, petg, pla := material.LDPE(), material.PS(), material.PET(), material.PA6(), material.PETG(), material.PLA()
	row := func(name, source string, kind verify.Kind, want, got, tol float64, why string) verify.Row {
		return verify.Row{Name: name, Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why}
	}
	verify.Table(t, []verify.Row{
		row("LDPE solid density [kg/m³]", rauwendaal, verify.Memory, 920, ldpe.SolidDensity, 1e-12, "the same in both"),
		row("PS solid density [kg/m³]", rauwendaal, verify.Memory, 1060, ps.SolidDensity, 0.01, two),
		row("PET solid density [kg/m³]", rauwendaal, verify.Memory, 1350, pet.SolidDensity, 0.01, two),
		row("PA6 solid density [kg/m³]", "wall chart of thermal-analysis data: 1120 to 1150", verify.Practice, 1135, pa.SolidDensity, 0.0133, "half that span"),
		row("PETG solid density [kg/m³]", "property pages: 1250 to 1290", verify.Practice, 1270, petg.SolidDensity, 0.016, "half that span"),
		row("PLA solid density [kg/m³]", "property pages: 1210 to 1430 by crystallinity, 1300 and below usual", verify.Practice, 1255, pla.SolidDensity, 0.036, "half the usual span"),
		row("LDPE solid conductivity [W/(m·K)]", crawford+" 0.24; other pages 0.36", verify.Print, 0.30, ldpe.SolidConductivity, 0.2, "half the span"),
		row("PS solid conductivity [W/(m·K)]", rauwendaal+", 0.12; Crawford 0.15", verify.Memory, 0.135, ps.SolidConductivity, 0.112, "half the span"),
		row("PET solid conductivity [W/(m·K)]", crawford+" 0.2; Rauwendaal 0.29, from memory", verify.Memory, 0.245, pet.SolidConductivity, 0.184, "half the span"),
		row("PA6 solid conductivity [W/(m·K)]", "wall chart of thermal-analysis data: 0.22 to 0.33", verify.Practice, 0.275, pa.SolidConductivity, 0.2, "half that span"),
		row("PETG solid conductivity [W/(m·K)]", "property pages: 0.2 and 0.29", verify.Practice, 0.245, petg.SolidConductivity, 0.184, "half that span"),
		row("PLA solid conductivity [W/(m·K)]", "property pages: 0.13", verify.Practice, 0.13, pla.SolidConductivity, 1e-12, "the same number"),
		row("PS melt density [kg/m³]", pages+": 970 at 200 °C", verify.Memory, 970, ps.MeltDensity, 0.01, "ten kelvins apart, 0.6 %"),
		row("PET melt density [kg/m³]", pages+": 1160 to 1200 at 280 °C", verify.Memory, 1180, pet.MeltDensity, 0.017, "half that span"),
		row("PA6 melt density [kg/m³]", pages+": 960 to 990 at 240 °C", verify.Memory, 975, pa.MeltDensity, 0.016, "half that span"),
		row("PLA melt density [kg/m³]", pages+": 1070 to 1100 at 200 °C", verify.Memory, 1085, pla.MeltDensity, 0.014, "half that span"),
		row("ABS melt density [kg/m³]", pages+": 930 to 960 at 230 °C", verify.Memory, 945, material.ABS().MeltDensity, 0.016, "half that span"),
		row("PP solid conductivity [W/(m·K)]", crawford+" 0.2; others 0.17 to 0.22", verify.Memory, 0.195, material.PP().SolidConductivity, 0.13, "half that span"),
		row("PS slope of the law by pressure at 100 1/s, 200 °C [1/Pa]", "25.7·0.51e-6/(61.06 + 473.15 − 373.15) × local index, constants as remembered", verify.Memory,
			25.7*0.51e-6/161.06*ps.Viscosity.Slopes(100, 473.15, 0).Index(), ps.Viscosity.Slopes(100, 473.15, 0).Pressure, 1e-12, "rounding"),
		row("PETG melt density [kg/m³]", pages+": some 1130 at 240 °C", verify.Memory, 1130, petg.MeltDensity, 1e-12, "the same number"),
		row("LDPE melting [K]", "wall chart of thermal-analysis data: peak at 112 °C", verify.Practice, 385.15, ldpe.Transition, 0.006, "two kelvins between samples"),
		row("HDPE melting [K]", "wall chart of thermal-analysis data: peak at 133 °C; another sample 130.8 °C", verify.Practice, 406.15, material.HDPE().Transition, 0.006, "two kelvins between samples"),
		row("PLA melting [K]", "wall chart of thermal-analysis data: peak at 158 °C, 150 to 160", verify.Practice, 431.15, pla.Transition, 0.012, "five kelvins between samples"),
		row("PA6 melting [K]", rauwendaal+", 225 °C", verify.Memory, 498.15, pa.Transition, 0.007, "tables run 220 to 225 °C"),
		row("PET melting [K]", "measured 242 to 256 °C, application notes", verify.Print, 522.15, pet.Transition, 0.014, "half that span"),
		row("PS glass temperature [K]", rauwendaal+", 101 °C", verify.Memory, 374.15, ps.Transition, 0.003, two),
		row("PETG glass temperature [K]", "property pages: 81 and 88 °C", verify.Practice, 357.65, petg.Transition, 0.01, "half that span"),
	})
}

// What holds between the numbers of any plastic.
func TestPolymersAreConsistent(t *testing.T) {
	dryer := map[string]bool{}
	for _, p := range material.Polymers() {
		assert.Less(t, p.Softening, p.Transition, p.Name)
		assert.Less(t, p.Transition, p.ProcessLow, p.Name)
		assert.Less(t, p.MeltDensity, p.SolidDensity, "%s swells in melting", p.Name)
		assert.Greater(t, p.MeltSpecificHeat, p.SolidSpecificHeat, p.Name)
		last := p.SolidSpecificHeat + p.SolidSpecificHeatSlope*(p.Transition-material.HeatReference)
		assert.Less(t, last, 1.12*p.MeltSpecificHeat, "%s: the solid takes hardly more heat than the melt", p.Name)
		if p.Drying != (material.Drying{}) {
			dryer[p.Name] = true
			if p.Name != "PET" { // dried after it has crystallised
				assert.Less(t, p.Drying.Temperature, p.Softening+0.5, "%s would stick in the dryer", p.Name)
			}
		}
		_, _, err := p.ViscosityAt(1000, p.ProcessLow, 0)
		switch p.Name {
		case "PET", "PETG", "PLA":
			assert.ErrorIs(t, err, material.ErrNoData, p.Name)
			assert.ErrorContains(t, err, p.Name+" has no published law of viscosity")
		default:
			assert.NoError(t, err, p.Name)
		}
	}
	assert.Equal(t, map[string]bool{"ABS": true, "PA6": true, "PET": true, "PETG": true, "PLA": true}, dryer, "polyolefins and polystyrene need no drying")
}

func ExamplePolymers() {
	// Which plastic takes how much heat to its lowest melt temperature, and must it be dry?
	for _, p := range material.Polymers() {
		h, _, err := p.EnthalpyAt(p.ProcessLow)
		if err != nil {
			fmt.Println(err)
			return
		}
		dry := "as it is"
		if p.Drying.Moisture > 0 {
			dry = fmt.Sprintf("below %.0f ppm", p.Drying.Moisture*1e6)
		}
		fmt.Printf("%-4s %.3g °C %.3g kJ/kg, %s\n", p.Name, material.ToCelsius(p.ProcessLow), h*1e-3, dry)
	}
	// Output:
	// PP   200 °C 515 kJ/kg, as it is
	// HDPE 180 °C 571 kJ/kg, as it is
	// ABS  200 °C 337 kJ/kg, below 1000 ppm
	// LDPE 160 °C 466 kJ/kg, as it is
	// PS   180 °C 268 kJ/kg, as it is
	// HIPS 180 °C 278 kJ/kg, as it is
	// PET  265 °C 429 kJ/kg, below 50 ppm
	// PETG 220 °C 344 kJ/kg, below 400 ppm
	// PA6  230 °C 523 kJ/kg, below 1500 ppm
	// PLA  180 °C 285 kJ/kg, below 250 ppm
}
