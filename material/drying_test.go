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
	"meltflight/material"
)

func TestCheckHydrolysis(t *testing.T) {
	const each = "each water molecule cuts one chain: 1/Mn' = 1/20000 + w/18.015, evaluated independently in Python"
	const digits = "digits of the independent value"
	var rows []verify.Row
	for _, c := range []struct{ ppm, mass, ratio float64 }{
		{50, 18.9482, 0.963931}, {300, 15.0031, 0.822438}, {3000, 4.6183, 0.369105},
	} {
		got, err := material.Hydrolysed(20, c.ppm*1e-6)
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("PET of 20 kg/mol, %g ppm [kg/mol]", c.ppm), Source: each, Kind: verify.Own, Want: c.mass, Got: got, Tol: 1.2e-5, Why: digits},
			verify.Row{Name: fmt.Sprintf("its intrinsic viscosity, %g ppm, share kept", c.ppm), Source: each + "; exponent 0.68 from memory", Kind: verify.Own, Want: c.ratio, Got: math.Pow(got/20, 0.68), Tol: 1.5e-6, Why: digits})
	}
	verify.Table(t, rows)
}

func TestCheckDrying(t *testing.T) {
	const bottles = "practice of bottle makers as read: at most 50 ppm, 150 to 180 °C, 4 to 7 h"
	const sheets = "processors' sheets as read: 0.04 %, 4 h at 65 °C, never above 66 °C"
	const table = "a processor's drying table as read: "
	const same = "the same number"
	pet, petg, abs, pa := material.PET(), material.PETG(), material.ABS(), material.PA6()
	verify.Table(t, []verify.Row{
		{Name: "PET moisture", Source: bottles, Kind: verify.Practice, Want: 50e-6, Got: pet.Drying.Moisture, Tol: 1e-12, Why: same},
		{Name: "PET temperature [°C]", Source: bottles, Kind: verify.Practice, Want: 165, Got: material.ToCelsius(pet.Drying.Temperature), Tol: 0.09, Why: "half the span"},
		{Name: "PET temperature, another table [°C]", Source: table + "340 °F, 5 h", Kind: verify.Practice, Want: 171, Got: material.ToCelsius(pet.Drying.Temperature), Tol: 0.09, Why: "half the span of the first"},
		{Name: "PET time [h]", Source: table + "340 °F, 5 h", Kind: verify.Practice, Want: 5, Got: pet.Drying.Time / 3600, Tol: 1e-12, Why: same},
		{Name: "PETG moisture", Source: sheets, Kind: verify.Practice, Want: 400e-6, Got: petg.Drying.Moisture, Tol: 1e-12, Why: same},
		{Name: "PETG temperature [°C]", Source: sheets, Kind: verify.Practice, Want: 65, Got: material.ToCelsius(petg.Drying.Temperature), Tol: 1e-12, Why: same},
		{Name: "PETG softening [°C]", Source: sheets, Kind: verify.Practice, Want: 66, Got: material.ToCelsius(petg.Softening), Tol: 1e-12, Why: same},
		{Name: "PETG time [h]", Source: sheets, Kind: verify.Practice, Want: 4, Got: petg.Drying.Time / 3600, Tol: 1e-12, Why: same},
		{Name: "ABS temperature [°C]", Source: table + "190 °F, 4 h", Kind: verify.Practice, Want: 88, Got: material.ToCelsius(abs.Drying.Temperature), Tol: 0.06, Why: "80 to 90 °C is usual, from memory"},
		{Name: "PA6 temperature [°C]", Source: table + "180 °F, 4 h", Kind: verify.Practice, Want: 82.2, Got: material.ToCelsius(pa.Drying.Temperature), Tol: 0.03, Why: "the table rounds to 10 °F"},
	})
}

func TestPropertyHydrolysis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mass := draw.Log(1, 500).Draw(t, "molar mass")
		water := draw.Log(1e-6, 1e-2).Draw(t, "water")
		once, err := material.Hydrolysed(mass, water)
		require.NoError(t, err)
		require.Less(t, once, mass)
		// Chains and water cut into as many ends as there were: moles add up.
		require.InEpsilon(t, 1/mass+water/material.WaterMolarMass, 1/once, 1e-13)
		twice, err := material.Hydrolysed(once, water)
		require.NoError(t, err)
		both, err := material.Hydrolysed(mass, 2*water)
		require.NoError(t, err)
		require.InEpsilon(t, both, twice, 1e-13, "two passes are one with twice the water")
	})
	_, err := material.Hydrolysed(0, math.NaN())
	assert.ErrorContains(t, err, "material.Hydrolysed: molar mass = 0 kg/mol: allowed 0.1 to 10000 kg/mol")
	assert.ErrorContains(t, err, "material.Hydrolysed: water = NaN: allowed 0 to 0.5")
	dry, err := material.Hydrolysed(20, 0)
	require.NoError(t, err)
	assert.Equal(t, 20.0, dry)
}

func ExampleHydrolysed() {
	// What do 300 ppm of water leave of a bottle's PET? Melt viscosity goes with the
	// 3.4th power of molar mass (common practice, no source).
	left, err := material.Hydrolysed(20, 300e-6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g of 20 kg/mol, %.2g of the viscosity\n", left, math.Pow(left/20, 3.4))
	d := material.PET().Drying
	fmt.Printf("dry to %.0f ppm: %.0f °C, %.0f h\n", d.Moisture*1e6, material.ToCelsius(d.Temperature), d.Time/3600)
	// Output:
	// 15 of 20 kg/mol, 0.38 of the viscosity
	// dry to 50 ppm: 160 °C, 5 h
}
