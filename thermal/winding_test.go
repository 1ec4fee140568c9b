package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
	"meltflight/thermal/thermaltest"
)

func TestCheckWinding(t *testing.T) {
	const how = "linear balance solved in 30-digit decimal arithmetic"
	w := thermal.Winding{Resistance: 1.6, Phases: 2, ThermalResistance: 4}
	cool, err := w.Steady(2, material.Celsius(25))
	require.NoError(t, err)
	warm, err := w.Steady(2, material.Celsius(40))
	require.NoError(t, err)
	largest, err := w.LargestCurrent(material.Celsius(109.131333005), material.Celsius(40))
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("winding in 25 °C [°C]", how, verify.Own, 90.3536645352, material.ToCelsius(cool.Temperature), 1e-11, digits),
		row("loss", how, verify.Own, 16.3384161338, cool.Loss, 1e-11, digits),
		row("hot resistance", how, verify.Own, 2.04230201672, cool.Resistance, 1e-11, digits),
		row("runaway current", "√(254.5 K/(2·1.6 Ω·4 K/W))", verify.Own, math.Sqrt(19.8828125), cool.RunawayCurrent, 1e-14, "exact radicand"),
		row("winding in 40 °C [°C]", how, verify.Own, 109.131333005, material.ToCelsius(warm.Temperature), 1e-11, digits),
		row("loss", how, verify.Own, 17.2828332514, warm.Loss, 1e-11, digits),
		row("current for 109.13 °C in 40 °C", how, verify.Own, 2, largest, 1e-11, digits),
		row("copper's coefficient", "IEC 60028, from memory", verify.Memory, 0.00393, material.CopperCoefficient, 0.000005/0.00393, "given to 0.00001 per kelvin"),
	})
}

func TestCheckRiseByResistance(t *testing.T) {
	rise := func(cold, hot, t1, ta float64) float64 {
		r, err := thermal.RiseByResistance(cold, hot, material.Celsius(t1), material.Celsius(ta))
		require.NoError(t, err)
		return r
	}
	const how = "(R₂/R₁)(234.5 + t₁) − 234.5 − tₐ in exact decimals"
	verify.Table(t, []verify.Row{
		row("80 to 100 Ω from 20 °C", "exercise worked in Physics Forums, thread 381286", verify.Print, 63.63, rise(80, 100, 20, 20), 1.2e-4,
			"worked with 1/234.5 rounded to 0.004264: 0.005 K, and printed to 0.01 K"),
		row("80 to 100 Ω from 20 °C", how, verify.Own, 63.625, rise(80, 100, 20, 20), 1e-13, "rounding of 357 K"),
		row("1.60 to 2.05 Ω from 20 °C in 27 °C", how, verify.Own, 64.578125, rise(1.60, 2.05, 20, 27), 1e-13, "rounding of 365 K"),
	})
}

func steadyWinding(t *rapid.T) (w thermal.Winding, current, ambient float64, s thermal.WindingState) {
	w = thermaltest.Windings().Draw(t, "winding")
	runaway, err := w.RunawayCurrent()
	require.NoError(t, err)
	current = runaway * thermaltest.Fractions().Draw(t, "fraction")
	ambient = thermaltest.Ambients().Draw(t, "ambient")
	s, err = w.Steady(current, ambient)
	require.NoError(t, err)
	return w, current, ambient, s
}

func TestPropertyWindingBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, current, ambient, s := steadyWinding(t)
		require.Greater(t, s.Temperature, ambient)
		near(t, s.Temperature, ambient+w.ThermalResistance*s.Loss, 1e-11)
		near(t, s.Loss, float64(w.Phases)*current*current*s.Resistance+w.IronLoss, 1e-12)
		near(t, s.Resistance, w.Resistance*(234.5+material.ToCelsius(s.Temperature))/254.5, 1e-11)
		require.Equal(t, s.Temperature > material.Celsius(200), s.Beyond != nil)
	})
}

// What a test by resistance would find of a winding at work is its rise.
func TestPropertyRiseByResistanceFindsSteadyRise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, _, ambient, s := steadyWinding(t)
		cold := thermaltest.Ambients().Draw(t, "cold")
		r := w.Resistance * (234.5 + material.ToCelsius(cold)) / 254.5
		rise, err := thermal.RiseByResistance(r, s.Resistance, cold, ambient)
		if s.Beyond != nil {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.NoError(t, err)
		near(t, s.Temperature, ambient+rise, 1e-11)
	})
}

func TestPropertyWindingIsWhereIterationEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, current, ambient, s := steadyWinding(t)
		x := ambient
		for range 5000 {
			x = ambient + w.ThermalResistance*(w.IronLoss+float64(w.Phases)*current*current*w.Resistance*(x-38.65)/254.5)
		}
		near(t, s.Temperature, x, 1e-9)
	})
}

func TestPropertyWindingRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, current, ambient, s := steadyWinding(t)
		k := draw.Uniform(1.001, 1.02).Draw(t, "factor")
		check := func(w thermal.Winding, current, ambient float64) {
			worse, err := w.Steady(current, ambient)
			require.NoError(t, err)
			require.Greater(t, worse.Temperature, s.Temperature)
		}
		check(w, current*k, ambient)
		check(w, current, ambient*k)
		worse := w
		worse.Resistance *= k
		check(worse, current, ambient)
		worse = w
		worse.ThermalResistance *= k
		check(worse, current, ambient)
		worse = w
		worse.IronLoss += k
		check(worse, current, ambient)
	})
}

// n phases of R are one of n·R; a current halved with four times the resistance heats the same.
func TestPropertySimilarWindings(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, current, ambient, s := steadyWinding(t)
		one := w
		one.Phases, one.Resistance = 1, float64(w.Phases)*w.Resistance
		same, err := one.Steady(current, ambient)
		require.NoError(t, err)
		near(t, s.Temperature, same.Temperature, 1e-11)
		k := draw.Log(0.3, 3).Draw(t, "scale")
		turns := w
		turns.Resistance *= k * k
		same, err = turns.Steady(current/k, ambient)
		require.NoError(t, err)
		near(t, s.Temperature, same.Temperature, 1e-11)
		near(t, s.RunawayCurrent/k, same.RunawayCurrent, 1e-12)
		cooler := w
		cooler.ThermalResistance, cooler.IronLoss = w.ThermalResistance/(k*k), w.IronLoss*k*k
		same, err = cooler.Steady(current*k, ambient)
		require.NoError(t, err)
		near(t, s.Temperature, same.Temperature, 1e-11)
	})
}

func TestPropertyLargestWindingCurrentReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, _, ambient, _ := steadyWinding(t)
		limit := draw.Uniform(350, 473.15).Draw(t, "limit")
		largest, err := w.LargestCurrent(limit, ambient)
		if ambient+w.ThermalResistance*w.IronLoss > limit {
			require.ErrorIs(t, err, thermal.ErrTooHot)
			return
		}
		require.NoError(t, err)
		s, err := w.Steady(largest, ambient)
		require.NoError(t, err)
		near(t, limit, s.Temperature, 1e-10)
		require.Less(t, largest, s.RunawayCurrent)
		bare := w
		bare.ThermalResistance = 0
		mount, err := bare.LargestResistance(largest, limit, ambient)
		require.NoError(t, err)
		near(t, w.ThermalResistance, mount, 1e-9)
		u, err := w.Utilisation(largest/2, limit, ambient)
		require.NoError(t, err)
		near(t, 2, u.Safety(), 1e-12)
	})
}

func TestPropertyWindingRunsAwayBeyondAndOnlyBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, _, ambient, s := steadyWinding(t)
		_, err := w.Steady(s.RunawayCurrent*(1-1e-9), ambient)
		require.NoError(t, err)
		asked := s.RunawayCurrent * draw.Log(1+1e-9, 100).Draw(t, "factor")
		_, err = w.Steady(asked, ambient)
		require.ErrorIs(t, err, thermal.ErrRunaway)
		var runaway *thermal.RunawayError
		require.ErrorAs(t, err, &runaway)
		require.Equal(t, thermal.RunawayError{Part: "winding", Current: asked, Limit: s.RunawayCurrent}, *runaway)
	})
}

func TestWindingErrors(t *testing.T) {
	w := thermal.Winding{Resistance: math.NaN(), Phases: 0, ThermalResistance: 0, IronLoss: -1}
	_, err := w.Steady(math.Inf(1), 20)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "thermal.Winding.Resistance = NaN Ω: allowed 0.0001 to 100000 Ω\n"+
		"thermal.Winding.Phases = 0: allowed 1 to 12\n"+
		"thermal.Winding.IronLoss = -1 W: allowed 0 to 100000 W\n"+
		"thermal.Winding.ThermalResistance = 0 K/W: allowed 0.001 to 10000 K/W\n"+
		"thermal.Winding.Steady: current = +Inf A: allowed 0 to 100000 A\n"+
		"thermal.Winding.Steady: ambient = 20 K: allowed 200 to 473.15 K")

	w = thermal.Winding{Resistance: 1.6, Phases: 2, ThermalResistance: 4, IronLoss: 20}
	_, err = w.LargestCurrent(material.Celsius(100), material.Celsius(40))
	assert.EqualError(t, err, "too hot without any current: winding at 120 °C, limit 100 °C")
	s, err := w.Steady(3, material.Celsius(40))
	assert.NoError(t, err)
	assert.Equal(t, []string{"winding at 413.2 °C, copper taken as linear up to 200 °C"}, s.Beyond)

	_, err = thermal.RiseByResistance(1, 3, material.Celsius(20), material.Celsius(20))
	assert.EqualError(t, err, "thermal.RiseByResistance: hot = 3 Ω: allowed 0.633988 to 1.70727 Ω")
}

func TestPropertyCurrentLimitIsThatOfTheWeaker(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, w := thermaltest.Bridges().Draw(t, "bridge"), thermaltest.Paths().Draw(t, "path"), thermaltest.Windings().Draw(t, "winding")
		box, room := thermaltest.Ambients().Draw(t, "box"), thermaltest.Ambients().Draw(t, "room")
		limits, err := thermal.LargestCurrent(b, path, 423.15, box, w, 403.15, room)
		chip, chipErr := b.LargestCurrent(423.15, box, path)
		motor, motorErr := w.LargestCurrent(403.15, room)
		if chipErr != nil || motorErr != nil {
			require.ErrorIs(t, err, thermal.ErrTooHot)
			require.Zero(t, limits)
			return
		}
		require.NoError(t, err)
		require.Equal(t, thermal.CurrentLimit{Bridge: chip, Winding: motor}, limits)
		current, which := limits.Lowest()
		require.Equal(t, math.Min(chip, motor), current)
		require.Equal(t, map[bool]string{true: "winding", false: "bridge"}[motor < chip], which)
	})
}

func TestLargestCurrentReportsBothParts(t *testing.T) {
	_, err := thermal.LargestCurrent(thermal.Bridge{}, thermal.Path{}, 400, 300, thermal.Winding{}, 400, 300)
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, name := range []string{"thermal.Bridge.OnResistance", "thermal.Bridge.Supply", "thermal.Path.Total", "thermal.Winding.Resistance", "thermal.Winding.Phases"} {
		assert.ErrorContains(t, err, name)
	}
}
