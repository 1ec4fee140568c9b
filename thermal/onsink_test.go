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

// gluedOn is a small driver on a sink as stepper drivers have, a chip of 5 mm on a board
// that spreads.
func gluedOn() thermal.OnSink {
	b, _ := exampleDriver()
	return thermal.OnSink{
		Bridge: b, Before: 25 + 8, Board: 40,
		Sink: thermal.Sink{Width: 14e-3, Length: 14e-3, Fins: 5, FinHeight: 9e-3, FinThickness: 1e-3, Conductivity: 200, Emissivity: 0.8},
	}
}

// Such a drive at 1.2 A through a size-17 motor is known to come out warm but within limits.
func TestCheckGluedOnSinkComesOutWarm(t *testing.T) {
	o := gluedOn()
	chip, err := o.Steady(1.2, 0, material.Celsius(40))
	require.NoError(t, err)
	resistance, err := thermal.Mount{WindingToCase: 2, CaseToAir: 8, CaseToBracket: 1.5, BracketToAir: 12}.Resistance()
	require.NoError(t, err)
	iron, err := thermal.Iron{Loss: 1.5, Speed: 5, Eddy: 0.4}.At(1)
	require.NoError(t, err)
	motor, err := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: resistance, IronLoss: iron}.Steady(1.2, material.Celsius(25))
	require.NoError(t, err)
	const source = "common practice, no source: invented parts of the usual kind"
	verify.Table(t, []verify.Row{
		row("junction, between warm and its limit [°C]", source, verify.Practice, 105, material.ToCelsius(chip.Junction), 0.25, "80 to 130 °C"),
		row("winding [°C]", source, verify.Practice, 70, material.ToCelsius(motor.Temperature), 0.3, "50 to 90 °C"),
	})
	assert.Empty(t, chip.Beyond)
}

func onSinks(t *rapid.T) (o thermal.OnSink, flow, ambient, limit float64) {
	o = thermal.OnSink{Bridge: thermaltest.Bridges().Draw(t, "bridge"), Sink: sinks().Draw(t, "sink"), Before: draw.Log(0.5, 40).Draw(t, "before")}
	if rapid.Bool().Draw(t, "with board") {
		o.Board = draw.Log(15, 200).Draw(t, "board")
	}
	if rapid.Bool().Draw(t, "with fan") {
		flow = draw.Log(0.05, 20).Draw(t, "speed") * float64(o.Sink.Fins-1) * o.Sink.Gap() * o.Sink.FinHeight
		flow = math.Max(flow, 1e-7)
	}
	return o, flow, thermaltest.Ambients().Draw(t, "ambient"), draw.Uniform(370, 440).Draw(t, "limit")
}

func TestPropertyOnSink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, flow, ambient, limit := onSinks(t)
		most, err := o.LargestCurrent(flow, limit, ambient)
		if err != nil {
			require.NotErrorIs(t, err, material.ErrInvalid)
			require.ErrorIs(t, err, thermal.ErrTooHot)
			return
		}
		s, err := o.Steady(most, flow, ambient)
		require.NoError(t, err)
		near(t, limit, s.Junction, 1e-8)
		// What is made goes where it is said to.
		near(t, s.Loss.Total-s.BoardHeat, (s.Junction-s.Base)/o.Before, 1e-6)
		if flow == 0 {
			near(t, s.Loss.Total-s.BoardHeat, o.Sink.Loss(s.Base, ambient), 1e-9)
			// The same by resistances, as found.
			w := thermal.Ways{Top: thermal.Path{CaseToSink: o.Before, SinkToAir: (s.Base - ambient) / (s.Loss.Total - s.BoardHeat)}}
			total := w.Top.Total()
			if o.Board != 0 {
				w.Board.SinkToAir = o.Board
				total = w.Total()
			}
			same, err := o.Bridge.LargestCurrent(limit, ambient, thermal.Path{SinkToAir: total})
			require.NoError(t, err)
			near(t, most, same, 1e-6)
		}
		cooler, err := o.LargestCurrent(flow, limit, ambient-5)
		require.NoError(t, err)
		require.Greater(t, cooler, most)
		less, err := o.Steady(most*0.9, flow, ambient)
		require.NoError(t, err)
		require.Less(t, less.Junction, s.Junction)
		if flow != 0 {
			g, err := o.Fan(flow, limit, ambient)
			if err == nil {
				require.Equal(t, most, g.Blown)
				require.GreaterOrEqual(t, g.Blown, g.Still*(1-1e-12))
			}
		}
	})
}

func TestPropertyShortestSink(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o, flow, ambient, limit := onSinks(t)
		longest := o
		longest.Sink.Length = 1
		most, err := longest.LargestCurrent(flow, limit, ambient)
		if err != nil {
			return
		}
		current := most * draw.Uniform(0.3, 0.99).Draw(t, "part")
		s, err := o.ShortestSink(current, flow, limit, ambient)
		require.NoError(t, err)
		cut := o
		cut.Sink = s
		largest, err := cut.LargestCurrent(flow, limit, ambient)
		require.NoError(t, err)
		if s.Length > 1e-3 {
			near(t, current, largest, 1e-6)
		} else {
			require.GreaterOrEqual(t, largest, current)
		}
		_, err = o.ShortestSink(most*1.001, flow, limit, ambient)
		require.ErrorIs(t, err, thermal.ErrNoSink)
	})
}

func TestOnSinkErrors(t *testing.T) {
	o := gluedOn()
	_, err := o.Steady(20, 0, 300)
	assert.EqualError(t, err, "no steady temperatures: bridge at 20 A rms makes more than leaves a sink of 600 K")
	_, err = o.LargestCurrent(-1, 400, 300)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = o.LargestCurrent(math.NaN(), 400, 300)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = o.LargestCurrent(0, 300, 310)
	assert.ErrorIs(t, err, thermal.ErrTooHot)
	_, err = o.ShortestSink(1, 0, 300, 300)
	assert.ErrorIs(t, err, thermal.ErrTooHot)
	o.Board = -1
	assert.ErrorContains(t, o.Validate(), "thermal.OnSink.Board = -1 K/W")
}
