// Package thermaltest makes random chips, cooling paths and windings of small
// machines for property tests with pgregory.net/rapid.
//
// Everything drawn is valid. The runaway current of what is drawn says which
// currents have a steady state; draw a fraction of it:
//
//	b := thermaltest.Bridges().Draw(t, "bridge")
//	p := thermaltest.Paths().Draw(t, "path")
//	runaway, _ := b.RunawayCurrent(p)
//	current := runaway * thermaltest.Fractions().Draw(t, "fraction")
package thermaltest

import (
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
)

// Bridges draws two-phase drivers from a few milliohms to 2 Ω a switch, on 8 to
// 60 V, whose resistance rises with temperature.
func Bridges() *rapid.Generator[thermal.Bridge] {
	return rapid.Custom(func(t *rapid.T) thermal.Bridge {
		return thermal.Bridge{
			OnResistance:           draw.Log(0.005, 2).Draw(t, "on-resistance"),
			TemperatureCoefficient: draw.Uniform(0.002, 0.009).Draw(t, "temperature coefficient"),
			Supply:                 draw.Uniform(8, 60).Draw(t, "supply"),
			RiseTime:               draw.Log(5e-9, 3e-7).Draw(t, "rise time"),
			FallTime:               draw.Log(5e-9, 3e-7).Draw(t, "fall time"),
			ChopFrequency:          draw.Log(1e4, 1e5).Draw(t, "chop frequency"),
			Quiescent:              draw.Uniform(0, 0.02).Draw(t, "quiescent"),
			DiodeDrop:              draw.Uniform(0.4, 1.4).Draw(t, "diode drop"),
			DeadTime:               draw.Log(2e-8, 1e-6).Draw(t, "dead time"),
		}
	})
}

// Paths draws ways from junction to air of 4 to 100 K/W.
func Paths() *rapid.Generator[thermal.Path] {
	return rapid.Custom(func(t *rapid.T) thermal.Path {
		return thermal.Path{
			JunctionToCase: draw.Log(0.5, 30).Draw(t, "junction to case"),
			CaseToSink:     draw.Log(0.2, 10).Draw(t, "case to sink"),
			SinkToAir:      draw.Log(3, 60).Draw(t, "sink to air"),
		}
	})
}

// Windings draws motor windings of one to three phases.
func Windings() *rapid.Generator[thermal.Winding] {
	return rapid.Custom(func(t *rapid.T) thermal.Winding {
		return thermal.Winding{
			Resistance:        draw.Log(0.1, 50).Draw(t, "resistance"),
			Phases:            rapid.IntRange(1, 3).Draw(t, "phases"),
			ThermalResistance: draw.Log(0.8, 20).Draw(t, "thermal resistance"),
			IronLoss:          draw.Uniform(0, 3).Draw(t, "iron loss"),
		}
	})
}

// Ambients draws surroundings from −20 to 70 °C [K].
func Ambients() *rapid.Generator[float64] { return draw.Uniform(253.15, 343.15) }

// Fractions draws what part of its runaway current a part is given, 0.01 to 0.95 [-].
func Fractions() *rapid.Generator[float64] { return draw.Uniform(0.01, 0.95) }
