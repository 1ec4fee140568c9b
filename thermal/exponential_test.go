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

func TestCheckExponentialBridge(t *testing.T) {
	const how = "balance solved by Lambert's function or Newton's method with 40 digits in mpmath, put back into it"
	b := thermal.ExponentialBridge{OnResistance: 0.2, TemperatureCoefficient: 0.005, Supply: 24, Quiescent: 0.4 / 24}
	path, ambient := thermal.Path{SinkToAir: 35}, material.Celsius(40)
	s, err := b.Steady(1.5/math.Sqrt2, ambient, path)
	require.NoError(t, err)
	peak := func(limit float64) float64 {
		current, err := b.LargestCurrent(material.Celsius(limit), ambient, path)
		require.NoError(t, err)
		return current * math.Sqrt2
	}
	runaway, err := b.RunawayCurrent(ambient, path)
	require.NoError(t, err)
	c := thermal.ExponentialBridge(chopper())
	c.TemperatureCoefficient = 0.005
	chip, err := c.Steady(1.5/math.Sqrt2, ambient, path)
	require.NoError(t, err)
	rows := []verify.Row{
		row("junction [°C]", how, verify.Own, 99.7823886027148, material.ToCelsius(s.Junction), 1e-13, "rounding of 373 K"),
		row("loss", how, verify.Own, 1.70806824579185, s.Loss.Total, 1e-13, "rounding of double precision in a logarithm"),
		row("runaway current, peak", how, verify.Own, 2.13214820508204, runaway*math.Sqrt2, 1e-13, "rounding of double precision in a logarithm"),
		row("current for 100 °C, peak", how, verify.Own, 1.50274289276036, peak(100), 1e-13, "rounding of 373 K"),
		row("current for 150 °C, peak", how, verify.Own, 1.91581942814898, peak(150), 1e-13, "rounding of 423 K"),
		row("current for 200 °C, peak", how, verify.Own, 2.08501207384415, peak(200), 1e-13, "rounding of 473 K"),
		row("junction of a chopper [°C]", how, verify.Own, 97.1341376704865, material.ToCelsius(chip.Junction), 1e-13, "rounding of 370 K"),
		row("its runaway current, rms", how, verify.Own, 1.50706550744425, chip.RunawayCurrent, 1e-13, "rounding of double precision in a logarithm"),
	}
	verify.Table(t, rows)
}

// exponential draws one with a current below its runaway.
func exponential(t *rapid.T) (b thermal.ExponentialBridge, path thermal.Path, ambient, runaway, current float64) {
	b, path = thermal.ExponentialBridge(thermaltest.Bridges().Draw(t, "bridge")), thermaltest.Paths().Draw(t, "path")
	ambient = thermaltest.Ambients().Draw(t, "ambient")
	runaway, err := b.RunawayCurrent(ambient, path)
	require.NoError(t, err)
	return b, path, ambient, runaway, runaway * thermaltest.Fractions().Draw(t, "fraction")
}

// The slow twin: let the chip warm up from cold, which ends at the lower of two balances.
func TestPropertyExponentialIsWhereWarmingEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, ambient, runaway, current := exponential(t)
		s, err := b.Steady(current, ambient, path)
		require.NoError(t, err)
		near(t, runaway, s.RunawayCurrent, 1e-14)
		l := s.Loss
		x, at25 := ambient, 4*b.OnResistance*current*current
		others := l.Switching + l.DeadTime + l.Quiescent
		for range 2000 {
			x = ambient + path.Total()*(others+at25*math.Exp(b.TemperatureCoefficient*(x-298.15)))
		}
		near(t, x, s.Junction, 1e-11)
		near(t, l.Total, l.Conduction+others, 1e-14)
		near(t, s.Junction, ambient+path.Total()*l.Total, 1e-12)
		require.Equal(t, s.Junction > 473.15, s.Beyond != nil)
		if s.Beyond == nil {
			law, err := b.Loss(current, s.Junction)
			require.NoError(t, err)
			near(t, law.Total, l.Total, 1e-11)
		}
		// Never cooler than by the line that touches it at 25 °C; monotone.
		if line, err := thermal.Bridge(b).Steady(current, ambient, path); err == nil {
			require.GreaterOrEqual(t, s.Junction, line.Junction*(1-1e-13))
		}
		if more, err := b.Steady(current*1.01, ambient, path); err == nil {
			require.Greater(t, more.Junction, s.Junction)
		}
		if more, err := b.Steady(current, ambient+1, path); err == nil {
			require.Greater(t, more.Junction, s.Junction+1)
		}
		worse := b
		worse.OnResistance *= 1.01
		if more, err := worse.Steady(current, ambient, path); err == nil {
			require.Greater(t, more.Junction, s.Junction)
		}
	})
}

// As the coefficient and with it the bend goes to nothing, the line comes out, its
// difference falling as the square.
func TestPropertyLineIsTheLimitOfTheExponential(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, ambient, _, current := exponential(t)
		difference := func(scale float64) float64 {
			c := b
			c.TemperatureCoefficient *= scale
			bent, err := c.Steady(current, ambient, path)
			require.NoError(t, err)
			line, err := thermal.Bridge(c).Steady(current, ambient, path)
			require.NoError(t, err)
			return bent.Junction - line.Junction
		}
		small, smaller := difference(1e-3), difference(1e-4)
		require.InDelta(t, 0, small, 0.05)
		require.InDelta(t, small/100, smaller, 1e-2*small+1e-10)
		c := b
		c.TemperatureCoefficient = 0
		require.InDelta(t, 0, difference(0), 1e-11)
		most, err := c.RunawayCurrent(ambient, path)
		require.NoError(t, err)
		require.Equal(t, float64(thermal.MostCurrent), most)
	})
}

func TestPropertyExponentialRunsAwayBeyondAndOnlyBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, ambient, runaway, _ := exponential(t)
		last, err := b.Steady(runaway*(1-1e-9), ambient, path)
		require.NoError(t, err)
		// There the conduction stands 1/a above what the others bring.
		require.InDelta(t, 1, b.TemperatureCoefficient*path.Total()*last.Loss.Conduction, 2e-4)
		asked := runaway * draw.Log(1+1e-9, 100).Draw(t, "factor")
		_, err = b.Steady(asked, ambient, path)
		var away *thermal.RunawayError
		require.ErrorAs(t, err, &away)
		require.NotErrorIs(t, err, material.ErrInvalid)
		near(t, runaway, away.Limit, 1e-14)
		// And just there no temperature balances: made less lost has no zero.
		at25 := 4 * b.OnResistance * asked * asked
		l, err := b.Loss(asked, 298.15)
		require.NoError(t, err)
		for x := ambient; x < 5000; x *= 1.02 {
			made := l.Total - l.Conduction + at25*math.Exp(b.TemperatureCoefficient*(x-298.15))
			require.Greater(t, made*(1+1e-12), (x-ambient)/path.Total())
		}
		warmer, err := b.RunawayCurrent(ambient+5, path)
		require.NoError(t, err)
		require.Less(t, warmer, runaway)
	})
}

func TestPropertyExponentialLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, ambient, runaway, _ := exponential(t)
		limit := draw.Uniform(350, 473.15).Draw(t, "limit")
		largest, err := b.LargestCurrent(limit, ambient, path)
		if err != nil {
			require.ErrorIs(t, err, thermal.ErrTooHot)
			return
		}
		require.LessOrEqual(t, largest, runaway*(1+1e-13))
		s, err := b.Steady(largest*(1-1e-9), ambient, path)
		require.NoError(t, err)
		require.LessOrEqual(t, s.Junction, limit)
		if largest < runaway*(1-1e-6) {
			near(t, limit, s.Junction, 1e-6)
		}
		sink, err := b.LargestResistance(largest, limit, ambient)
		require.NoError(t, err)
		near(t, path.Total(), sink, 1e-10)
	})
}

func TestExponentialErrors(t *testing.T) {
	b := thermal.ExponentialBridge(chopper())
	b.TemperatureCoefficient = 0.02
	_, err := b.LargestCurrent(math.NaN(), 300, thermal.Path{})
	for _, word := range []string{"thermal.Bridge.TemperatureCoefficient = 0.02", "thermal.Path.Total = 0", "limit = NaN"} {
		assert.ErrorContains(t, err, word)
	}
	b.TemperatureCoefficient = 0.005
	_, err = b.LargestCurrent(material.Celsius(40), material.Celsius(50), thermal.Path{SinkToAir: 35})
	assert.EqualError(t, err, "too hot without any current: bridge junction at 56.72 °C, limit 40 °C")
}
