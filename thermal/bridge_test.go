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

// chopper is the driver of the worked case below, on 24 V, sine of 1.5 A peak.
func chopper() thermal.Bridge {
	return thermal.Bridge{
		OnResistance: 0.20, Supply: 24, RiseTime: 100e-9, FallTime: 80e-9, ChopFrequency: 30e3,
		Quiescent: 8e-3, DiodeDrop: 0.9, DeadTime: 250e-9,
	}
}

const digits = "rounding of the 12 digits given"

func TestCheckBridgeLoss(t *testing.T) {
	const how = "loss formulas evaluated in 30-digit decimal arithmetic"
	rms := 1.5 / math.Sqrt2
	l, err := chopper().Loss(rms, material.Celsius(25))
	require.NoError(t, err)
	path := thermal.Path{SinkToAir: 35}
	junction, _, _ := path.Temperatures(l.Total, material.Celsius(40))
	steady, err := chopper().Steady(rms, material.Celsius(40), path)
	require.NoError(t, err)
	full, err := chopper().Loss(1.5, material.Celsius(25))
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("conduction, both phases", how, verify.Own, 0.9, l.Conduction, 1e-12, digits),
		row("switching, both phases", how, verify.Own, 2*0.0618794418741, l.Switching, 1e-11, digits),
		row("dead time, both phases", how, verify.Own, 2*0.0128915503904, l.DeadTime, 1e-11, digits),
		row("quiescent", how, verify.Own, 0.192, l.Quiescent, 1e-12, digits),
		row("chip total", how, verify.Own, 1.24154198453, l.Total, 1e-11, digits),
		row("junction of that loss [°C]", how, verify.Own, 83.4539694585, material.ToCelsius(junction), 1e-11, digits),
		row("junction, resistance constant [°C]", how, verify.Own, 83.4539694585, material.ToCelsius(steady.Junction), 1e-11, digits),
		row("conduction, full steps at the same peak", "both phases at the peak: (1.5 A)²·4·0.2 Ω", verify.Own, 1.8, full.Conduction, 1e-12, digits),
	})
}

func TestCheckBridgeFixedPoint(t *testing.T) {
	const how = "linear balance solved in 30-digit decimal arithmetic"
	b := thermal.Bridge{OnResistance: 0.2, TemperatureCoefficient: 0.005, Supply: 24, Quiescent: 0.4 / 24}
	path := thermal.Path{SinkToAir: 35}
	ambient := material.Celsius(40)
	s, err := b.Steady(1.5/math.Sqrt2, ambient, path)
	require.NoError(t, err)
	largest, err := b.LargestCurrent(material.Celsius(150), ambient, path)
	require.NoError(t, err)
	sink, err := b.LargestResistance(2.05421036405/math.Sqrt2, material.Celsius(150), ambient)
	require.NoError(t, err)
	constant := b
	constant.TemperatureCoefficient = 0
	c, err := constant.Steady(1.5/math.Sqrt2, ambient, path)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("junction [°C]", how, verify.Own, 96.8100890208, material.ToCelsius(s.Junction), 1e-11, digits),
		row("loss", how, verify.Own, 1.62314540059, s.Loss.Total, 1e-11, digits),
		row("runaway current, peak", how, verify.Own, 3.77964473009, s.RunawayCurrent*math.Sqrt2, 1e-11, digits),
		row("current for 150 °C, peak", how, verify.Own, 2.05421036405, largest*math.Sqrt2, 1e-11, digits),
		row("path for 150 °C at that current", how, verify.Own, 35, sink, 1e-11, digits),
		row("junction, resistance constant [°C]", how, verify.Own, 85.5, material.ToCelsius(c.Junction), 1e-12, digits),
	})
}

// A small chopper with a glued-on sink and a size-17 motor, all figures of the
// kind their data sheets give, must come out as such drives are known to be (common
// practice, no source).
func TestDriveComesOutWarm(t *testing.T) {
	glue, err := thermal.Layer(0.2e-3, 1, 25e-6) // 5 mm square pad
	require.NoError(t, err)
	top := thermal.Path{JunctionToCase: 25, CaseToSink: glue, SinkToAir: 60}
	out, err := thermal.Parallel(top.Total(), 40) // and 40 K/W by the board's copper
	require.NoError(t, err)
	b := thermal.Bridge{
		OnResistance: 0.25, TemperatureCoefficient: 0.005, Supply: 24, RiseTime: 100e-9, FallTime: 100e-9,
		ChopFrequency: 35e3, Quiescent: 8e-3, DiodeDrop: 0.8, DeadTime: 200e-9,
	}
	chip, err := b.Steady(1.2, material.Celsius(45), thermal.Path{SinkToAir: out})
	require.NoError(t, err)
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}
	motor, err := w.Steady(1.2, material.Celsius(25))
	require.NoError(t, err)
	// Invented parts in the range that the trade finds usual: hot, and no wonder.
	junction, copper := material.ToCelsius(chip.Junction), material.ToCelsius(motor.Temperature)
	assert.True(t, junction > 80 && junction < 130, "%g °C", junction)
	assert.True(t, copper > 50 && copper < 100, "%g °C", copper)
}

// steady draws a chip, its cooling and a current it can bear for ever.
func steady(t *rapid.T) (b thermal.Bridge, path thermal.Path, current, ambient float64, s thermal.BridgeState) {
	b, path = thermaltest.Bridges().Draw(t, "bridge"), thermaltest.Paths().Draw(t, "path")
	runaway, err := b.RunawayCurrent(path)
	require.NoError(t, err)
	current = runaway * thermaltest.Fractions().Draw(t, "fraction")
	ambient = thermaltest.Ambients().Draw(t, "ambient")
	s, err = b.Steady(current, ambient, path)
	require.NoError(t, err)
	return b, path, current, ambient, s
}

func TestPropertyJunctionBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, current, ambient, s := steady(t)
		junction, c, sink := path.Temperatures(s.Loss.Total, ambient)
		near(t, s.Junction, junction, 1e-11)
		require.Greater(t, s.Junction, ambient)
		require.True(t, junction > c && c > sink && sink > ambient)
		near(t, s.Loss.Total, s.Loss.Conduction+s.Loss.Switching+s.Loss.DeadTime+s.Loss.Quiescent, 1e-14)
		require.Equal(t, s.Junction > material.Celsius(200), s.Beyond != nil)
		if s.Beyond == nil {
			l, err := b.Loss(current, s.Junction)
			require.NoError(t, err)
			require.Equal(t, s.Loss, l)
		}
	})
}

// The slow twin of the closed form: let the chip warm up in small steps.
func TestPropertyJunctionIsWhereIterationEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, current, ambient, s := steady(t)
		cold, err := b.Loss(current, material.Celsius(25))
		require.NoError(t, err)
		x := ambient
		for range 5000 {
			hot := cold.Total + cold.Conduction*b.TemperatureCoefficient*(x-298.15)
			x = ambient + path.Total()*hot
		}
		near(t, s.Junction, x, 1e-9)
	})
}

// The losses at each angle of the sine, both bridges added and averaged, are
// those of the rms; conduction does not even depend on the angle.
func TestPropertyLossIsMeanOverTheSine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := thermaltest.Bridges().Draw(t, "bridge")
		peak := draw.Log(0.05, 20).Draw(t, "peak")
		l, err := b.Loss(peak/math.Sqrt2, 298.15)
		require.NoError(t, err)
		const n = 4000
		var switching, dead float64
		for i := range n {
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / n)
			ia, ib := math.Abs(peak*sin), math.Abs(peak*cos)
			near(t, l.Conduction, 2*b.OnResistance*(ia*ia+ib*ib), 1e-12)
			// A triangle of voltage times current, once up and once down a period.
			switching += (ia + ib) * b.Supply / 2 * b.RiseTime * b.ChopFrequency / n
			switching += (ia + ib) * b.Supply / 2 * b.FallTime * b.ChopFrequency / n
			dead += (ia + ib) * b.DiodeDrop * 2 * b.DeadTime * b.ChopFrequency / n
		}
		near(t, l.Switching, switching, 1e-6) // midpoint rule on a kinked sine
		near(t, l.DeadTime, dead, 1e-6)
	})
}

func TestPropertyJunctionRises(t *testing.T) {
	for name, worsen := range map[string]func(b *thermal.Bridge, p *thermal.Path, current, ambient *float64, by float64){
		"current":                  func(_ *thermal.Bridge, _ *thermal.Path, i, _ *float64, by float64) { *i *= by },
		"ambient":                  func(_ *thermal.Bridge, _ *thermal.Path, _, a *float64, by float64) { *a *= by },
		"junction to case":         func(_ *thermal.Bridge, p *thermal.Path, _, _ *float64, by float64) { p.JunctionToCase *= by },
		"case to sink":             func(_ *thermal.Bridge, p *thermal.Path, _, _ *float64, by float64) { p.CaseToSink *= by },
		"sink to air":              func(_ *thermal.Bridge, p *thermal.Path, _, _ *float64, by float64) { p.SinkToAir *= by },
		"on-resistance":            func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.OnResistance *= by },
		"supply":                   func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.Supply *= by },
		"rise time":                func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.RiseTime *= by },
		"fall time":                func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.FallTime *= by },
		"chop frequency":           func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.ChopFrequency *= by },
		"quiescent, plus a little": func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.Quiescent += by / 100 },
		"diode drop":               func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.DiodeDrop *= by },
		"dead time":                func(b *thermal.Bridge, _ *thermal.Path, _, _ *float64, by float64) { b.DeadTime *= by },
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				b, path, current, ambient, s := steady(t)
				worsen(&b, &path, &current, &ambient, draw.Uniform(1.001, 1.02).Draw(t, "factor"))
				worse, err := b.Steady(current, ambient, path)
				require.NoError(t, err)
				require.Greater(t, worse.Junction, s.Junction)
			})
		})
	}
}

// Feedback warms what is above 25 °C and cools what is below.
func TestPropertyFeedbackTurnsAt25(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, current, ambient, s := steady(t)
		b.TemperatureCoefficient = 0
		constant, err := b.Steady(current, ambient, path)
		require.NoError(t, err)
		if constant.Junction > 298.15 {
			require.GreaterOrEqual(t, s.Junction, constant.Junction*(1-1e-14))
		} else {
			require.LessOrEqual(t, s.Junction, constant.Junction*(1+1e-14))
		}
	})
}

func TestPropertySimilarBridges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, current, ambient, s := steady(t)
		k := draw.Log(0.3, 3).Draw(t, "scale")
		// All losses k times, all resistances to air a k-th: the same temperature.
		volts := b
		volts.OnResistance, volts.Supply, volts.DiodeDrop = k*b.OnResistance, k*b.Supply, k*b.DiodeDrop
		cooler := thermal.Path{JunctionToCase: path.JunctionToCase / k, CaseToSink: path.CaseToSink / k, SinkToAir: path.SinkToAir / k}
		same, err := volts.Steady(current, ambient, cooler)
		require.NoError(t, err)
		near(t, s.Junction, same.Junction, 1e-12)
		near(t, k*s.Loss.Total, same.Loss.Total, 1e-11)
		near(t, s.RunawayCurrent, same.RunawayCurrent, 1e-12)
		// Faster chopping with edges as much shorter: the same.
		quick := b
		quick.ChopFrequency, quick.RiseTime, quick.FallTime, quick.DeadTime = k*b.ChopFrequency, b.RiseTime/k, b.FallTime/k, b.DeadTime/k
		same, err = quick.Steady(current, ambient, path)
		require.NoError(t, err)
		near(t, s.Junction, same.Junction, 1e-12)
	})
}

func TestPropertyLargestCurrentReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, _, ambient, _ := steady(t)
		idle, err := b.Steady(0, ambient, path)
		require.NoError(t, err)
		near(t, idle.Junction-ambient, path.Total()*b.Supply*b.Quiescent, 1e-9)
		limit := draw.Uniform(350, 473.15).Draw(t, "limit")
		largest, err := b.LargestCurrent(limit, ambient, path)
		if idle.Junction > limit {
			require.ErrorIs(t, err, thermal.ErrTooHot)
			require.NotErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.NoError(t, err)
		s, err := b.Steady(largest, ambient, path)
		require.NoError(t, err)
		near(t, limit, s.Junction, 1e-10)
		require.Less(t, largest, s.RunawayCurrent)
		sink, err := b.LargestResistance(largest, limit, ambient)
		require.NoError(t, err)
		near(t, path.Total(), sink, 1e-9)
		u, err := b.Utilisation(largest/2, limit, ambient, path)
		require.NoError(t, err)
		near(t, 2, u.Safety(), 1e-12)
	})
}

func TestPropertyBridgeRunsAwayBeyondAndOnlyBeyond(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, _, ambient, s := steady(t)
		_, err := b.Steady(s.RunawayCurrent*(1-1e-9), ambient, path)
		require.NoError(t, err)
		asked := s.RunawayCurrent * draw.Log(1+1e-9, 100).Draw(t, "factor")
		_, err = b.Steady(asked, ambient, path)
		require.ErrorIs(t, err, thermal.ErrRunaway)
		require.NotErrorIs(t, err, material.ErrInvalid)
		var runaway *thermal.RunawayError
		require.ErrorAs(t, err, &runaway)
		require.Equal(t, thermal.RunawayError{Part: "bridge", Current: asked, Limit: s.RunawayCurrent}, *runaway)
	})
}

func TestBridgeErrors(t *testing.T) {
	b := chopper()
	b.OnResistance, b.Supply, b.DeadTime = -0.2, math.NaN(), 1
	_, err := b.Steady(-1, 40, thermal.Path{SinkToAir: math.Inf(1)})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "thermal.Bridge.OnResistance = -0.2 Ω: allowed 0.0001 to 100 Ω\n"+
		"thermal.Bridge.Supply = NaN V: allowed 1 to 1000 V\n"+
		"thermal.Bridge.DeadTime = 1 s: allowed 0 to 0.0001 s\n"+
		"thermal.Path.SinkToAir = +Inf K/W: allowed 0 to 10000 K/W\n"+
		"thermal.Bridge.Steady: current = -1 A: allowed 0 to 100000 A\n"+
		"thermal.Bridge.Steady: ambient = 40 K: allowed 200 to 473.15 K")

	b = chopper()
	b.ChopFrequency = 2e6
	assert.EqualError(t, b.Validate(), "thermal.Bridge.ChopFrequency = 2e+06 Hz: "+
		"allowed up to 1.47059e+06 Hz, the edges and dead times fill a period there")

	b = chopper()
	_, err = b.LargestCurrent(material.Celsius(40), material.Celsius(50), thermal.Path{SinkToAir: 35})
	assert.EqualError(t, err, "too hot without any current: bridge junction at 56.72 °C, limit 40 °C")
	_, err = b.LargestResistance(1, material.Celsius(40), material.Celsius(40))
	assert.EqualError(t, err, "too hot without any current: bridge junction in surroundings of 40 °C, limit 40 °C")

	b.TemperatureCoefficient = 0.005
	_, err = b.Steady(4, material.Celsius(40), thermal.Path{SinkToAir: 35})
	assert.EqualError(t, err, "thermal runaway: bridge at 4 A rms: no steady temperature from 2.67261 A on")
	s, err := b.Steady(2.4, material.Celsius(40), thermal.Path{SinkToAir: 35})
	assert.NoError(t, err)
	assert.Equal(t, []string{"junction at 1031 °C, on-resistance taken as linear up to 200 °C"}, s.Beyond)
}

// A chip that makes no heat at all needs no sink, and one without feedback never runs away.
func TestBridgeEdges(t *testing.T) {
	b := chopper()
	b.Quiescent = 0
	sink, err := b.LargestResistance(0, 400, 300)
	assert.NoError(t, err)
	assert.Equal(t, 1e4, sink)
	none, err := b.LargestCurrent(300, 300, thermal.Path{SinkToAir: 35})
	assert.NoError(t, err)
	assert.Zero(t, none)
	runaway, err := b.RunawayCurrent(thermal.Path{SinkToAir: 35})
	assert.NoError(t, err)
	assert.Equal(t, float64(thermal.MostCurrent), runaway)
	b = thermal.Bridge{OnResistance: 1e-4, TemperatureCoefficient: 1.005e-10 / 4e-7, Supply: 1}
	runaway, err = b.RunawayCurrent(thermal.Path{SinkToAir: 1e-3})
	assert.NoError(t, err)
	near(t, 1e5/math.Sqrt(1.005), runaway, 1e-12)
}

func row(name, source string, kind verify.Kind, want, got, tol float64, why string) verify.Row {
	return verify.Row{Name: name, Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why}
}

// near requires got to be want within a relative tolerance.
func near(t require.TestingT, want, got, tol float64) {
	if !(math.Abs(got-want) <= tol*math.Abs(want)) {
		require.Failf(t, "not near", "want %.15g, got %.15g, relative tolerance %g", want, got, tol)
	}
}
