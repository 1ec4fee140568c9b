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

func TestCheckMeltFlow(t *testing.T) {
	const (
		iso    = "ISO 1133-1 die, barrel and piston, from memory; F/A and pD/4L evaluated independently"
		shenoy = "A. V. Shenoy and D. R. Saini, Adv. Polym. Technol. 6 (1986) 1, constants from memory"
		digits = "digits of the independent value"
	)
	var rows []verify.Row
	add := func(name, source string, kind verify.Kind, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name, Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why})
	}
	for _, c := range []struct{ load, pressure, barrel, piston, tol float64 }{
		{0.325, 44.495e3, 2.913e3, 2.960e3, 2e-4}, {1.2, 164.288e3, 10.756e3, 10.929e3, 5e-5},
		{2.16, 295.718e3, 19.3603e3, 19.6722e3, 3e-6}, {3.8, 520.245e3, 34.060e3, 34.608e3, 2e-5},
		{5, 684.532e3, 44.815e3, 45.537e3, 2e-5}, {10, 1369.065e3, 89.631e3, 91.075e3, 1e-5}, {21.6, 2957.180e3, 193.603e3, 196.722e3, 3e-6},
	} {
		m := material.MeltFlow{Load: c.load, Density: 738.6}
		add(fmt.Sprintf("%g kg, pressure by barrel [Pa]", c.load), iso, verify.Own, c.pressure, m.Pressure(), math.Min(c.tol, 1.2e-5), digits)
		add(fmt.Sprintf("%g kg, wall stress by barrel [Pa]", c.load), iso, verify.Own, c.barrel, m.WallStress(), c.tol, digits)
		m.ByPiston = true
		add(fmt.Sprintf("%g kg, wall stress by piston [Pa]", c.load), iso, verify.Own, c.piston, m.WallStress(), c.tol, digits)
	}
	unit := material.MeltFlow{Rate: material.GramsPerTenMinutes(1), Load: 2.16, Density: 1000}
	add("apparent rate at MFR 1, 1 g/cm³ [1/s]", iso, verify.Own, 1.84628, unit.ApparentRate(), 3e-6, digits)
	add("apparent rate at MFR 1, 1 g/cm³ [1/s]", shenoy+": 1.83", verify.Memory, 1.83, unit.ApparentRate(), 0.0095, "a die of 2.1 mm in place of 2.095, 0.7 %, and a rounding of 0.3 %")
	add("apparent viscosity at MFR 1, 1 g/cm³, 2.16 kg [Pa·s]", iso, verify.Own, 10486.1, unit.ApparentViscosity(), 5e-6, digits)
	unit.ByPiston = true
	add("wall stress for each kg by piston [Pa]", shenoy+": 9.13e4 dyn/cm²", verify.Memory, 9.13e3, unit.WallStress()/2.16, 0.003, "a die of 2.1 mm in place of 2.095, 0.24 %, and a rounding of 0.01 %")
	pp := material.MeltFlow{Rate: material.GramsPerTenMinutes(1), Load: 2.16, Density: 738.6, Temperature: material.Celsius(230)}
	add("PP, MFR 1, apparent rate [1/s]", iso, verify.Own, 2.4997, pp.ApparentRate(), 2e-5, digits)
	add("PP, MFR 1, apparent viscosity [Pa·s]", iso, verify.Own, 7745.05, pp.ApparentViscosity(), 2e-6, digits)
	add("PP, MFR 1, volume in 10 min [m³]", "1 g over 0.7386 g/cm³ by hand", verify.Own, 1e-6/0.7386, pp.VolumeRate()*600, 1e-14, "rounding")
	pp.Rate *= 10
	point, err := pp.Point(0.4)
	require.NoError(t, err)
	add("PP, MFR 10, n = 0.4, true rate [1/s]", iso, verify.Own, 34.371, point.ShearRate, 2e-5, digits)
	add("PP, MFR 10, n = 0.4, true viscosity [Pa·s]", iso, verify.Own, 563.28, point.Viscosity, 1e-5, digits)
	pe := material.MeltFlow{Rate: material.GramsPerTenMinutes(5), Load: 2.16, Density: 763.6, Temperature: material.Celsius(190)}
	point, err = pe.Point(0.45)
	require.NoError(t, err)
	add("PE, MFR 5, apparent rate [1/s]", iso, verify.Own, 12.0893, pe.ApparentRate(), 5e-6, digits)
	add("PE, MFR 5, apparent viscosity [Pa·s]", iso, verify.Own, 1601.44, pe.ApparentViscosity(), 5e-6, digits)
	add("PE, MFR 5, n = 0.45, true rate [1/s]", iso, verify.Own, 15.7832, point.ShearRate, 5e-6, digits)
	add("PE, MFR 5, n = 0.45, true viscosity [Pa·s]", iso, verify.Own, 1226.64, point.Viscosity, 5e-6, digits)
	verify.Table(t, rows)
}

func TestPropertyMeltFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := material.MeltFlow{
			Rate: material.GramsPerTenMinutes(draw.Log(0.1, 100).Draw(t, "MFR")), Load: draw.Log(0.3, 22).Draw(t, "load"),
			Density: draw.Uniform(700, 1200).Draw(t, "density"), Temperature: draw.Uniform(450, 560).Draw(t, "temperature"),
			ByPiston: rapid.Bool().Draw(t, "by piston"),
		}
		require.InEpsilon(t, m.Rate, material.GramsPerTenMinutes(material.ToGramsPerTenMinutes(m.Rate)), 1e-15)
		newtonian, err := m.Point(1)
		require.NoError(t, err)
		require.InEpsilon(t, m.ApparentViscosity(), newtonian.Viscosity, 1e-14, "an index of 1 corrects nothing")
		// Hagen and Poiseuille: Q = πD⁴Δp/128ηL.
		require.InEpsilon(t, m.VolumeRate(), math.Pi*math.Pow(2.095e-3, 4)*m.Pressure()/(128*newtonian.Viscosity*8e-3), 1e-13)

		// A melt of known power law flows through the die at two loads; its law must come back.
		law := material.PowerLaw{Consistency: draw.Log(100, 1e5).Draw(t, "consistency"), Index: draw.Uniform(0.2, 1.2).Draw(t, "index"), Reference: 500}
		through := func(m material.MeltFlow) material.MeltFlow {
			wall := math.Pow(m.WallStress()/law.Consistency, 1/law.Index)
			m.Rate = wall * 4 * law.Index / (3*law.Index + 1) * math.Pi * math.Pow(2.095e-3, 3) / 32 * m.Density
			return m
		}
		other := m
		other.Load *= draw.Uniform(1.2, 5).Draw(t, "times the load")
		m, other = through(m), through(other)
		if m.Validate() != nil || other.Validate() != nil {
			return
		}
		found, err := m.PowerLaw(other)
		require.NoError(t, err)
		require.InEpsilon(t, law.Index, found.Index, 1e-12)
		require.InEpsilon(t, law.Consistency, found.Consistency, 1e-10)
		turned, err := other.PowerLaw(m)
		require.NoError(t, err)
		require.InEpsilon(t, found.Consistency, turned.Consistency, 1e-10, "in either order")
		point, err := m.Point(found.Index)
		require.NoError(t, err)
		require.InEpsilon(t, point.Viscosity, found.At(point.ShearRate, m.Temperature, 0), 1e-11)
	})
}

func TestMeltFlowSaysWhatIsWrong(t *testing.T) {
	m := material.MeltFlow{Rate: material.GramsPerTenMinutes(10), Load: 2.16, Density: 738.6, Temperature: material.Celsius(230)}
	_, err := material.MeltFlow{Rate: -1, Load: math.NaN(), Temperature: 1e9}.Point(0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"material.MeltFlow.Rate = -1 kg/s", "Load = NaN kg", "Density = 0 kg/m³", "Temperature = 1e+09 K", "index = 0: allowed 0.05 to 1.5"} {
		assert.ErrorContains(t, err, part)
	}
	other := m
	other.Load, other.Rate = 5, m.Rate/2
	_, err = m.PowerLaw(other)
	require.ErrorIs(t, err, material.ErrUnphysical)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "2.315 times the load makes 0.5 times the rate")
	other.Rate = m.Rate
	_, err = m.PowerLaw(other)
	require.ErrorIs(t, err, material.ErrUnphysical, "a flow that load does not move")
	other = m
	other.Load, other.Temperature = 2.2, material.Celsius(190)
	_, err = m.PowerLaw(other)
	require.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "allowed the first's, 503.15 K")
	other.Temperature = m.Temperature
	_, err = m.PowerLaw(other)
	assert.ErrorContains(t, err, "a tenth and more from the first's, 2.16 kg")
	other.Load, other.ByPiston = 5, true
	_, err = m.PowerLaw(other)
	assert.ErrorContains(t, err, "ByPiston")
}

func FuzzMeltFlow(f *testing.F) {
	f.Add(1e-5, 2.16, 738.6, 503.15, 6e-5, 5.0, 503.15, 0.4)
	f.Fuzz(func(t *testing.T, rate, load, density, temperature, rate2, load2, temperature2, index float64) {
		m := material.MeltFlow{Rate: rate, Load: load, Density: density, Temperature: temperature}
		if p, err := m.Point(index); err == nil && !(p.Viscosity > 0 && p.ShearRate > 0 && p.Viscosity*p.ShearRate <= math.MaxFloat64) {
			t.Fatalf("%+v", p)
		}
		law, err := m.PowerLaw(material.MeltFlow{Rate: rate2, Load: load2, Density: density, Temperature: temperature2})
		if err == nil && law.Validate() != nil {
			t.Fatalf("%+v", law)
		}
	})
}

func ExampleMeltFlow() {
	// A sheet prints MFR 8 g/10 min (230 °C, 2.16 kg) and 33 (5 kg) for a PP.
	light := material.MeltFlow{Rate: material.GramsPerTenMinutes(8), Load: 2.16, Density: 738.6, Temperature: material.Celsius(230)}
	heavy := light
	heavy.Rate, heavy.Load = material.GramsPerTenMinutes(33), 5
	law, err := light.PowerLaw(heavy)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g kPa at the wall, apparent %.3g 1/s\n", light.WallStress()/1e3, light.ApparentRate())
	fmt.Printf("n = %.3f, m = %.4g Pa·sⁿ, from %.3g to %.3g 1/s\n", law.Index, law.Consistency, law.Range.RateLow, law.Range.RateHigh)
	// Output:
	// 19.4 kPa at the wall, apparent 20 1/s
	// n = 0.592, m = 2989 Pa·sⁿ, from 23.4 to 96.7 1/s
}
