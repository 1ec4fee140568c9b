package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/internal/versus"
	"meltflight/thermal"
)

var sink float64

// many cases in a row, so that the compiler cannot work one out once for all.
const many = 256

// inlineSteady is the same balance written out, without checks.
func inlineSteady(b thermal.Bridge, current, ambient float64, p thermal.Path) thermal.BridgeState {
	theta := p.JunctionToCase + p.CaseToSink + p.SinkToAir
	cold := 4 * b.OnResistance * current * current
	mean := current * 2 * math.Sqrt2 / math.Pi
	s := thermal.BridgeState{RunawayCurrent: 1 / math.Sqrt(4*b.OnResistance*b.TemperatureCoefficient*theta)}
	s.Loss.Switching = b.Supply * mean * (b.RiseTime + b.FallTime) * b.ChopFrequency
	s.Loss.DeadTime = 4 * b.DiodeDrop * mean * b.DeadTime * b.ChopFrequency
	s.Loss.Quiescent = b.Supply * b.Quiescent
	constant := s.Loss.Switching + s.Loss.DeadTime + s.Loss.Quiescent
	s.Junction = (ambient + theta*(constant+cold*(1-298.15*b.TemperatureCoefficient))) / (1 - theta*cold*b.TemperatureCoefficient)
	s.Loss.Conduction = cold * (1 + b.TemperatureCoefficient*(s.Junction-298.15))
	s.Loss.Total = s.Loss.Conduction + constant
	return s
}

func BenchmarkBridgeSteady(b *testing.B) {
	bridges, paths := make([]thermal.Bridge, many), make([]thermal.Path, many)
	for i := range many {
		bridges[i], paths[i] = exampleDriver()
		bridges[i].OnResistance *= 1 - float64(i)/1000
		paths[i].SinkToAir *= 1 - float64(i)/1000
	}
	versus.Report(b, "x-inline", func(int) {
		for i := range many {
			s, err := bridges[i].Steady(1.2, 318.15, paths[i])
			if err != nil {
				b.Fatal(err)
			}
			sink += s.Junction + s.Loss.Total + s.RunawayCurrent
		}
	}, func(int) {
		for i := range many {
			s := inlineSteady(bridges[i], 1.2, 318.15, paths[i])
			sink += s.Junction + s.Loss.Total + s.RunawayCurrent
		}
	})
}

func BenchmarkWindingSteady(b *testing.B) {
	windings := make([]thermal.Winding, many)
	for i := range many {
		windings[i] = thermal.Winding{Resistance: 1.5 - float64(i)/1000, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}
	}
	versus.Report(b, "x-inline", func(int) {
		for i := range many {
			s, err := windings[i].Steady(1.2, 298.15)
			if err != nil {
				b.Fatal(err)
			}
			sink += s.Temperature + s.Resistance + s.Loss + s.RunawayCurrent
		}
	}, func(int) {
		for i := range many {
			w := windings[i]
			cold := float64(w.Phases) * 1.2 * 1.2 * w.Resistance
			t := (298.15 + w.ThermalResistance*(w.IronLoss+cold*(1-293.15/254.5))) / (1 - w.ThermalResistance*cold/254.5)
			hot := w.Resistance * (1 + (t-293.15)/254.5)
			sink += t + hot + float64(w.Phases)*1.2*1.2*hot + w.IronLoss +
				math.Sqrt(254.5/(float64(w.Phases)*w.Resistance*w.ThermalResistance))
		}
	})
}

func TestNothingIsAllocated(t *testing.T) {
	bridge, path := exampleDriver()
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		s, _ := bridge.Steady(1.2, 318.15, path)
		m, _ := w.Steady(1.2, 298.15)
		c, _ := thermal.LargestCurrent(bridge, path, 398.15, 318.15, w, 383.15, 298.15)
		r, _ := bridge.LargestResistance(1.2, 398.15, 318.15)
		sink += s.Junction + m.Temperature + c.Bridge + r
	}))
}
