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

func TestCheckPlatinum(t *testing.T) {
	const table = "IEC 60751, table of a Pt100"
	const law = "its law in 25-digit arithmetic"
	ohms := func(celsius float64) float64 {
		r, err := thermal.Platinum(100).Resistance(material.Celsius(celsius))
		require.NoError(t, err)
		return r
	}
	var rows []verify.Row
	for _, c := range [][2]float64{{-200, 18.520}, {-100, 60.256}, {-50, 80.306}, {0, 100}, {50, 119.397}, {100, 138.506}, {150, 157.325}, {200, 175.856},
		{250, 194.098}, {300, 212.052}, {400, 247.092}, {600, 313.708}, {850, 390.481}} {
		rows = append(rows, row(fmt.Sprintf("Pt100 at %g °C [Ω]", c[0]), table, verify.Print, c[1], ohms(c[0]), 0.00051/c[1], "printed to 1 mΩ"))
	}
	back, err := thermal.Platinum(100).Temperature(175.86)
	require.NoError(t, err)
	a, err := thermal.PlatinumTolerance(material.Celsius(200), true)
	require.NoError(t, err)
	b, err := thermal.PlatinumTolerance(material.Celsius(200), false)
	require.NoError(t, err)
	rows = append(rows,
		// A table in use prints 35.34 here.
		row("Pt100 at -160 °C [Ω]", law, verify.Own, 35.54, ohms(-160), 0.005/35.54, "given to 10 mΩ"),
		row("Pt100 at -200 °C [Ω]", law, verify.Own, 18.52008, ohms(-200), 1e-8, "exact"),
		row("at 220 °C [Ω]", law, verify.Own, 183.1875, ohms(220), 1e-10, "exact"),
		row("its slope there [Ω/K]", law, verify.Own, 0.36542, (ohms(220.5)-ohms(219.5)), 1e-9, "exact"),
		row("from 0 to 100 °C [1/K]", table, verify.Print, 0.00385055, (ohms(100)-100)/1e4, 2e-6, "six digits"),
		row("175.86 Ω [°C]", law, verify.Own, 200.01088, material.ToCelsius(back), 3e-8, "8 digits"),
		row("class A at 200 °C [K]", "IEC 60751", verify.Print, 0.55, a, 1e-12, "exact"),
		row("class B at 200 °C [K]", "IEC 60751", verify.Print, 1.3, b, 1e-12, "exact"))
	verify.Table(t, rows)
}

func TestCheckThermocouple(t *testing.T) {
	const law = "NIST's polynomial in 25-digit arithmetic, digits from memory"
	volts := func(k thermal.Thermocouple, tip, cold float64) float64 {
		v, err := k.Voltage(material.Celsius(tip), material.Celsius(cold))
		require.NoError(t, err)
		return 1000 * v
	}
	var rows []verify.Row
	for _, c := range [][2]float64{{25, 1.0002424}, {50, 2.0230779}, {100, 4.0962302}, {150, 6.1383439}, {200, 8.1384733}, {220, 8.9398931}, {250, 10.153369}, {300, 12.208566}, {400, 16.397142}, {500, 20.644286}} {
		rows = append(rows, row(fmt.Sprintf("type K at %g °C [mV]", c[0]), law, verify.Own, c[1], volts(thermal.TypeK, c[0], 0), 5e-8, "8 digits"))
	}
	for _, c := range [][2]float64{{100, 5.2689161}, {200, 10.778746}, {220, 11.889263}, {300, 16.327206}, {500, 27.392631}} {
		rows = append(rows, row(fmt.Sprintf("type J at %g °C [mV]", c[0]), law, verify.Own, c[1], volts(thermal.TypeJ, c[0], 0), 5e-8, "8 digits"))
	}
	// That the ends of the polynomials meet IEC's tables there tells of their last digits.
	rows = append(rows,
		row("type K at 500 °C [mV]", "IEC 60584-1, upper end of its inverse polynomial", verify.Print, 20.644, volts(thermal.TypeK, 500, 0), 0.00051/20.644, "printed to 1 µV"),
		row("type K at 200 °C [mV]", "IEC 60584-1, table", verify.Memory, 8.138, volts(thermal.TypeK, 200, 0), 0.00051/8.138, "to 1 µV"),
		row("type K at 1372 °C [mV]", "IEC 60584-1, table", verify.Memory, 54.886, volts(thermal.TypeK, 1372, 0), 0.00051/54.886, "to 1 µV"),
		row("type J at 760 °C [mV]", "IEC 60584-1, table", verify.Memory, 42.919, volts(thermal.TypeJ, 760, 0), 0.00051/42.919, "to 1 µV"),
		row("220 °C with a cold junction of 25 °C [mV]", law, verify.Own, 7.93965073, volts(thermal.TypeK, 220, 25), 2e-9, nine))
	naive, err := thermal.TypeK.Temperature(volts(thermal.TypeK, 220, 25)/1000, 273.15)
	require.NoError(t, err)
	rows = append(rows, row("the same, 25 K added to what the voltage stands for [°C]", law, verify.Own, 220.02298, material.ToCelsius(naive)+25, 3e-8, "8 digits"))
	verify.Table(t, rows)
	assert.InDelta(t, 0, volts(thermal.TypeK, 0, 0), 1e-8)
}

func TestCheckThermistor(t *testing.T) {
	const how = "its inputs in 25-digit arithmetic"
	s := thermal.SteinhartHart{A: 1.129148e-3, B: 2.34125e-4, C: 8.76741e-8}
	at := func(s thermal.SteinhartHart, ohms float64) float64 {
		k, err := s.Temperature(ohms)
		require.NoError(t, err)
		return material.ToCelsius(k)
	}
	ohms := func(s thermal.SteinhartHart, celsius float64) float64 {
		r, err := s.Resistance(material.Celsius(celsius))
		require.NoError(t, err)
		return r
	}
	kelvin := func(celsius float64) float64 { return material.Celsius(celsius) }
	fit, err := thermal.FitSteinhartHart([3]float64{32650, 10000, 678}, [3]float64{kelvin(0), kelvin(25), kelvin(100)})
	require.NoError(t, err)
	worn, err := thermal.FitSteinhartHart([3]float64{2045, 100, 15}, [3]float64{kelvin(-50), kelvin(25), kelvin(100)})
	require.NoError(t, err)
	beta, err := thermal.Beta(100e3, kelvin(25), 3950)
	require.NoError(t, err)
	// The printed set for those readings: it does not go through them.
	printed := thermal.SteinhartHart{A: 1.75e-3, B: 339.9e-6, C: 308.9e-9}
	verify.Table(t, []verify.Row{
		row("32650 Ω above 0 °C [K]", how, verify.Own, 0.000224803, at(s, 32650), 3e-6, "six digits of 273 K"),
		row("10000 Ω [°C]", how, verify.Own, 24.99966818, at(s, 10000), 1e-9, tenDigits),
		row("5000 Ω [°C]", how, verify.Own, 41.57212484, at(s, 5000), 1e-9, tenDigits),
		row("1000 Ω [°C]", how, verify.Own, 87.16814013, at(s, 1000), 1e-9, tenDigits),
		row("680 Ω [°C]", how, verify.Own, 99.92073623, at(s, 680), 1e-9, tenDigits),
		row("25 °C [Ω]", how, verify.Own, 9999.854436, ohms(s, 25), 1e-9, tenDigits),
		row("100 °C [Ω]", how, verify.Own, 678.423511, ohms(s, 100), 1e-9, nine),
		row("A of three readings", how, verify.Own, 1.13027856694e-3, fit.A, 1e-11, digits),
		row("B", how, verify.Own, 2.33948197783e-4, fit.B, 1e-11, digits),
		row("C", how, verify.Own, 8.83065054055e-8, fit.C, 1e-11, digits),
		row("3603 Ω [°C]", how, verify.Own, 49.98252628, at(fit, 3603), 1e-9, tenDigits),
		row("3603 Ω [°C]", "table of such a thermistor", verify.Memory, 50, at(fit, 3603), 1e-3, "a fit through three readings of whole ohms"),
		row("A of other readings", how, verify.Own, 1.7401798e-3, worn.A, 3e-8, "8 digits"),
		row("B", how, verify.Own, 3.4518961e-4, worn.B, 3e-8, "8 digits"),
		row("C", how, verify.Own, 2.4757897e-7, worn.C, 3e-8, "8 digits"),
		row("the set printed for them, at 100 Ω, is not 25 [°C]", how, verify.Own, 25.8, at(printed, 100), 0.05/25.8, "3 digits"),
		row("β law at 220 °C [Ω]", how, verify.Own, 530.7514831, ohms(beta, 220), 1e-9, tenDigits),
		row("β law at 470 Ω [°C]", how, verify.Own, 227.5997208, at(beta, 470), 1e-9, tenDigits),
	})
}

func TestPropertySensorsTurnRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := thermal.Platinum(draw.Log(10, 2000).Draw(t, "ohms at 0 °C"))
		kelvin := draw.Uniform(73.15, 1123.15).Draw(t, "temperature")
		ohms, err := p.Resistance(kelvin)
		require.NoError(t, err)
		back, err := p.Temperature(ohms)
		require.NoError(t, err)
		near(t, kelvin, back, 1e-12)
		more, err := p.Resistance(math.Min(kelvin+1, 1123.15))
		require.NoError(t, err)
		require.GreaterOrEqual(t, more, ohms)

		k := thermal.Thermocouple(rapid.IntRange(1, 2).Draw(t, "type"))
		tip, cold := draw.Uniform(273.15, 1030).Draw(t, "tip"), draw.Uniform(273.15, 340).Draw(t, "cold")
		v, err := k.Voltage(tip, cold)
		require.NoError(t, err)
		back, err = k.Temperature(v, cold)
		require.NoError(t, err)
		near(t, tip, back, 1e-11)

		s, err := thermal.Beta(draw.Log(1e3, 1e5).Draw(t, "ohms"), 298.15, draw.Uniform(3000, 4500).Draw(t, "beta"))
		require.NoError(t, err)
		s.C = draw.Log(1e-9, 1e-7).Draw(t, "C")
		warm := draw.Uniform(230, 520).Draw(t, "warm")
		ohms, err = s.Resistance(warm)
		if err == nil {
			back, err = s.Temperature(ohms)
			require.NoError(t, err)
			near(t, warm, back, 1e-12)
		}
	})
}

func TestCheckLag(t *testing.T) {
	lag := func(time float64) float64 {
		x, err := thermal.RampLag(0.3, 12, time)
		require.NoError(t, err)
		return x
	}
	// A ramp's response, by small steps of the sensor's own equation.
	reading, step := 0., 1e-4
	for i := range 100_000 {
		mid := reading + step/2/12*(0.3*float64(i)*step-reading)
		reading += step / 12 * (0.3*(float64(i)+0.5)*step - mid)
	}
	s := thermal.Sheath{Radius: 1.5e-3, Bore: 1e-3, Immersion: 0.03, Conductivity: 16, Coefficient: 200}
	miss, err := s.Error(material.Celsius(60), material.Celsius(220))
	require.NoError(t, err)
	m := math.Sqrt(200 * 2 * math.Pi * 1.5e-3 / (16 * math.Pi * (1.5e-3*1.5e-3 - 1e-6)))
	verify.Table(t, []verify.Row{
		row("settled lag [K]", "rate times time constant", verify.Own, 3.6, lag(1e4), 1e-13, "exact"),
		row("lag after 10 s [K]", "100000 midpoint steps", verify.Own, 3-reading, lag(10), 1e-8, "error of the steps"),
		row("error of a sheath [K]", "fin with an insulated tip", verify.Own, -160/math.Cosh(0.03*m), miss, 1e-12, "rounding"),
	})
}

func TestCheckHeater(t *testing.T) {
	h := thermal.Heater{Kind: thermal.Band, Power: 500, Length: 0.12, Radius: 0.0225, Gap: 0.1}
	s, err := h.For(heatUp(), material.Celsius(20), material.Celsius(220), 15*60)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("density of a band [W/m²]", "500 W over 0.9·π·D·L", verify.Own, 500/(0.9*math.Pi*0.045*0.12), s.Density, 1e-13, "exact"),
		row("warm-up [s]", "closed form in 25 digits", verify.Own, 640.847938059, s.Time, 1e-11, digits),
		row("for 15 min [W]", "240/(1 − e^(−900·1.2/1176))", verify.Own, 240/(1-math.Exp(-900*1.2/1176)), s.Needed, 1e-13, "rounding"),
		row("duty", "240 W of 500 W", verify.Own, 0.48, s.Duty, 1e-12, "exact"),
		row("overheat, never switched off [K]", "500/1.2 − 200", verify.Own, 216.666666666667, s.Overheat, 1e-12, "exact"),
		row("safety of its face", "density of mica bands", verify.Practice, 4e4/s.Density, s.Load.Safety(), 1e-13, "exact"),
		row("safety of its power", "reserve of 1.5", verify.Practice, 500/(1.5*s.Needed), s.Supply.Safety(), 1e-13, "exact"),
	})
	h.Power = 200
	_, err = h.For(heatUp(), 293, 493.15, 900)
	require.ErrorIs(t, err, thermal.ErrNeverReached)
	assert.ErrorContains(t, err, "186.") // °C, where 200 W end

	m, err := thermal.Melting{Flow: 1e-3, Enthalpy: 5e5, Loss: 200, Cooling: 50, Shaft: 150}.Energy()
	require.NoError(t, err)
	assert.Equal(t, thermal.MeltingState{Melt: 500, Heater: 600, Specific: 7.5e5, Useful: 500. / 750}, m)
	m, err = thermal.Melting{Flow: 1e-3, Enthalpy: 5e5, Loss: 200, Shaft: 1000}.Energy()
	require.NoError(t, err)
	assert.Equal(t, thermal.MeltingState{Melt: 500, Surplus: 300, Specific: 1e6, Useful: 0.5}, m)
}

func BenchmarkPlatinum(b *testing.B) {
	versus.Report(b, "x-inline", func(i int) {
		t, err := thermal.Platinum(100).Temperature(110 + float64(i%100))
		if err != nil {
			b.Fatal(err)
		}
		sink += t
	}, func(i int) {
		r := (110+float64(i%100))/100 - 1
		sink += 273.15 + 2*r/(3.9083e-3+math.Sqrt(3.9083e-3*3.9083e-3-4*5.775e-7*r))
	})
}
