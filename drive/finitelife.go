package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// StressLife is the line of a steel part between a thousand cycles and a million, in
// the logarithms of stress amplitude and cycles.
type StressLife struct {
	Ultimate  float64 // tensile strength, 1e5 to 1e10 [Pa]
	Endurance float64 // endurance limit of the part, 1e4 to 0.9 of Fraction·Ultimate [Pa]
	Fraction  float64 // of Ultimate that is borne a thousand times, 0.7 to 0.95, often 0.76 to 0.9 [-]
}

// Repeat is a stress amplitude, fully reversed and its notch counted, and how often it comes.
type Repeat struct {
	Stress float64 // 0 to Fraction·Ultimate [Pa]
	Cycles float64 // 0 to 1e15 [-]
}

// Cycles returns the cycles that a stress amplitude is borne, 1e3 to 1e6 [-], or endless
// at or below the endurance limit, for a stress up to Fraction·Ultimate [Pa]:
//
//	N = (σ/a)^(1/b),  a = (f·S_ut)²/S_e,  b = −lg(f·S_ut/S_e)/3
//
// (R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011),
// eqs. 6-14 to 6-16). The line is of the middle of tests; 1 % in stress is some 8 % in life.
func (l StressLife) Cycles(stress float64) (cycles float64, endless bool, err error) {
	var f input.Faults
	l.check(&f)
	f.Between("drive.StressLife.Cycles: stress", stress, 0, l.most(), "Pa")
	if err := f.Err(); err != nil {
		return 0, false, err
	}
	cycles, endless = l.cycles(stress)
	return cycles, endless, nil
}

// Damage returns the share of the life that some repeats use up, 1 at failure [-]:
// Σ n/N by Palmgren and Miner (Shigley's, 9th ed., eq. 6-57), whatever their order. Stresses
// at or below the endurance limit do no harm here, though they do once others have. Tests
// fail at anything from 0.5 to 2 (common practice, no source).
func (l StressLife) Damage(repeats []Repeat) (float64, error) {
	var f input.Faults
	l.check(&f)
	for i := range repeats {
		r := &repeats[i]
		var e input.Faults
		e.Between("Stress", r.Stress, 0, l.most(), "Pa")
		e.Between("Cycles", r.Cycles, 0, 1e15, "")
		if err := e.Err(); err != nil {
			f.Add(fmt.Errorf("drive.StressLife.Damage: repeats[%d]: %w", i, err))
		}
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	sum := 0.0
	for i := range repeats {
		if n, endless := l.cycles(repeats[i].Stress); !endless {
			sum += repeats[i].Cycles / n
		}
	}
	return sum, nil
}

func (l *StressLife) check(f *input.Faults) {
	f.Between("drive.StressLife.Ultimate", l.Ultimate, 1e5, 1e10, "Pa")
	f.Between("drive.StressLife.Fraction", l.Fraction, 0.7, 0.95, "")
	f.Between("drive.StressLife.Endurance", l.Endurance, 1e4, 0.9*l.most(), "Pa")
}

// most is the stress borne a thousand times, inside the ranges whatever the fields.
func (l *StressLife) most() float64 {
	return max(0.7, min(l.Fraction, 0.95)) * max(1e5, min(l.Ultimate, 1e10))
}

func (l *StressLife) cycles(stress float64) (cycles float64, endless bool) {
	if stress <= l.Endurance {
		return 0, true
	}
	top := l.Fraction * l.Ultimate
	return 1e3 * math.Pow(1e3, math.Log(top/stress)/math.Log(top/l.Endurance)), false
}
