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

func TestCheckPhases(t *testing.T) {
	const how = "loss formulas evaluated in 40-digit decimal arithmetic"
	b, cold := chopper(), material.Celsius(25)
	sine, full := thermal.MicroSteps(1.5), thermal.Steps(1.5, 1)
	first, second := thermal.Held(1.5, math.Pi/2)
	running, err := b.PhaseLoss(sine, cold)
	require.NoError(t, err)
	held, err := b.PhaseLoss(first, cold)
	require.NoError(t, err)
	sense, err := thermal.SenseLoss(0.1, sine)
	require.NoError(t, err)
	path := thermal.Path{SinkToAir: 35}
	standing, err := b.SteadyPhases(first, second, material.Celsius(40), path)
	require.NoError(t, err)
	stepping, err := b.SteadyPhases(full, full, material.Celsius(40), path)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("rms of a sine of 1.5 A", how, verify.Own, 1.06066017178, sine.RMS, 1e-11, digits),
		row("its mean amount", how, verify.Own, 0.954929658551, sine.Mean, 1e-11, digits),
		row("conduction of a running phase", how, verify.Own, 0.45, running.Conduction, 1e-12, digits),
		row("its switching", how, verify.Own, 0.0618794418741, running.Switching, 1e-11, digits),
		row("its dead time", how, verify.Own, 0.0128915503904, running.DeadTime, 1e-11, digits),
		row("conduction of a phase held at the peak", how, verify.Own, 0.9, held.Conduction, 1e-12, digits),
		row("its switching", how, verify.Own, 0.0972, held.Switching, 1e-12, digits),
		row("its dead time", how, verify.Own, 0.02025, held.DeadTime, 1e-12, digits),
		row("chip that holds on one phase", how, verify.Own, 1.20945, standing.Loss.Total, 1e-12, digits),
		row("its junction [°C]", how, verify.Own, 82.33075, material.ToCelsius(standing.Junction), 1e-12, digits),
		row("chip in full steps", how, verify.Own, 2.2269, stepping.Loss.Total, 1e-12, digits),
		row("its junction [°C]", how, verify.Own, 117.9415, material.ToCelsius(stepping.Junction), 1e-12, digits),
		row("sense resistor", how, verify.Own, 0.1125, sense, 1e-12, digits),
	})
}

// Two phases that run in sines are the Bridge's own current; conduction does not hang on
// the angle a motor is held at; nor do two phases care which of them is which.
func TestPropertyPhases(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, path, current, ambient, s := steady(t)
		peak := current * math.Sqrt2
		sine := thermal.MicroSteps(peak)
		same, err := b.SteadyPhases(sine, sine, ambient, path)
		require.NoError(t, err)
		near(t, s.Junction, same.Junction, 1e-11)
		near(t, s.Loss.Total, same.Loss.Total, 1e-11)
		near(t, s.RunawayCurrent, same.RunawayCurrent, 1e-15)
		first, second := thermal.Held(peak, draw.Uniform(-10, 10).Draw(t, "angle"))
		held, err := b.SteadyPhases(first, second, ambient, path)
		require.NoError(t, err)
		turned, err := b.SteadyPhases(second, first, ambient, path)
		require.NoError(t, err)
		near(t, held.Junction, turned.Junction, 1e-14)
		ratio := (held.Loss.Switching + held.Loss.DeadTime) / (s.Loss.Switching + s.Loss.DeadTime)
		require.True(t, ratio > math.Pi/4*(1-1e-9) && ratio < math.Pi/4*math.Sqrt2*(1+1e-9), "%g", ratio)
		if held.Junction <= 473.15 {
			a, err := b.PhaseLoss(first, held.Junction)
			require.NoError(t, err)
			c, err := b.PhaseLoss(second, held.Junction)
			require.NoError(t, err)
			near(t, held.Loss.Total, a.Total+c.Total+b.Supply*b.Quiescent, 1e-11)
			near(t, held.Loss.Conduction, a.Conduction+c.Conduction, 1e-11)
		}
	})
}

// Half steps at the same peak lie between one phase on and two.
func TestStepsByShare(t *testing.T) {
	wave, half, full := thermal.Steps(1, 0.5), thermal.Steps(1, 0.75), thermal.Steps(1, 1)
	near(t, 0.5, wave.RMS*wave.RMS, 1e-15)
	near(t, 0.75, half.RMS*half.RMS, 1e-15)
	assert.Equal(t, thermal.Phase{RMS: 1, Mean: 1}, full)
	assert.Equal(t, []float64{0.5, 0.75}, []float64{wave.Mean, half.Mean})
}

func TestPhaseErrors(t *testing.T) {
	_, err := chopper().SteadyPhases(thermal.Phase{RMS: 1, Mean: 1.1}, thermal.Phase{}, 300, thermal.Path{SinkToAir: 35})
	assert.EqualError(t, err, "thermal.Bridge.SteadyPhases: first.Mean = 1.1 A: allowed up to 1 A, its rms")
	_, err = chopper().PhaseLoss(thermal.Phase{RMS: math.NaN()}, 300)
	assert.ErrorContains(t, err, "phase.RMS = NaN A")
	b := chopper()
	b.TemperatureCoefficient = 0.005
	_, err = b.SteadyPhases(thermal.Steps(4, 1), thermal.Steps(4, 1), 300, thermal.Path{SinkToAir: 35})
	assert.ErrorIs(t, err, thermal.ErrRunaway)
}

// Heat over two ways makes no more than one junction temperature.
func TestPropertyWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := thermal.Ways{Top: thermaltest.Paths().Draw(t, "top"), Board: thermaltest.Paths().Draw(t, "board")}
		loss, air := draw.Log(0.01, 100).Draw(t, "loss"), thermaltest.Ambients().Draw(t, "air")
		s, err := w.At(loss, air)
		require.NoError(t, err)
		p, err := w.Path()
		require.NoError(t, err)
		together, err := thermal.Parallel(w.Top.Total(), w.Board.Total())
		require.NoError(t, err)
		near(t, together, p.Total(), 1e-14)
		require.Less(t, p.Total(), math.Min(w.Top.Total(), w.Board.Total()))
		near(t, loss, s.TopHeat+s.BoardHeat, 1e-14)
		junction, _, _ := p.Temperatures(loss, air)
		near(t, junction, s.Junction, 1e-13)
		other, pad, board := w.Board.Temperatures(s.BoardHeat, air)
		near(t, junction, other, 1e-13)
		require.Equal(t, []float64{pad, board}, []float64{s.Pad, s.Board})
		require.True(t, s.Junction > s.Case && s.Case > s.Sink && s.Sink > air)
		near(t, s.PsiTop, (s.Junction-s.Case)/loss, 1e-7)
		require.Less(t, s.PsiTop, w.Top.JunctionToCase)
	})
}

func TestPropertyMount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw.Log(0.1, 100)
		m := thermal.Mount{WindingToCase: r.Draw(t, "case"), CaseToAir: r.Draw(t, "air"), CaseToBracket: r.Draw(t, "joint"), BracketToAir: r.Draw(t, "bracket")}
		loss, air := draw.Log(0.1, 100).Draw(t, "loss"), thermaltest.Ambients().Draw(t, "ambient")
		total, err := m.Resistance()
		require.NoError(t, err)
		s, err := m.At(loss, air)
		require.NoError(t, err)
		near(t, air+loss*total, s.Winding, 1e-13)
		near(t, loss, s.BracketHeat+(s.Case-air)/m.CaseToAir, 1e-9)
		near(t, s.Case-s.Bracket, s.BracketHeat*m.CaseToBracket, 1e-6)
		bare := m
		bare.BracketToAir = 1e4
		worse, err := bare.Resistance()
		require.NoError(t, err)
		require.Greater(t, worse, total)
	})
}

func TestIronLossBySpeed(t *testing.T) {
	at := func(eddy, speed float64) float64 {
		loss, err := thermal.Iron{Loss: 2, Speed: 5, Eddy: eddy}.At(speed)
		require.NoError(t, err)
		return loss
	}
	assert.Equal(t, 2., at(0.3, 5))
	assert.Equal(t, 4., at(0, 10))
	assert.Equal(t, 8., at(1, 10))
	assert.Equal(t, 6., at(0.5, 10))
	assert.Zero(t, at(0.5, 0))
	_, err := thermal.Iron{Loss: 2, Speed: 5}.At(51)
	assert.ErrorContains(t, err, "speed = 51 rev/s: allowed 0 to 50 rev/s")
}
