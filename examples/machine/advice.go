package main

import (
	"fmt"
	"math"
	"reflect"

	"meltflight/internal/root"
)

// uncertain is the safety below which the uncertainty of data and models, such as a
// factor of two in the viscosity of an unknown regrind, may well be all of it.
const uncertain = 1.5

// first returns the limit to speak of: the weakest that stops the machine if any
// does, else the weakest of all.
func (a *answer) first() limit {
	for _, l := range a.limits {
		if l.stops && l.Safety() < 1 {
			return l
		}
	}
	return a.limits[0]
}

// advice says in two sentences what gives way first and what it would take.
func (m *Machine) advice(a *answer) string {
	l := a.first()
	var what, margin string
	switch {
	case l.stops && l.Safety() < 1:
		what = "The machine does not run: " + l.Part
	case l.Safety() < 1:
		what = "First to give way: " + l.Part
	case l.Safety() < uncertain:
		what, margin = "Nearest to its limit: "+l.Part, ": within the uncertainty of data and models"
	default:
		what = "Nothing is near its limit; nearest: " + l.Part
	}
	return fmt.Sprintf("%s, with a safety of %s%s.\n%s", what, safetyText(l.Safety()), margin, m.remedy(l))
}

func (m *Machine) remedy(l limit) string {
	now := find(reflect.ValueOf(m).Elem(), l.lever).Float()
	value, found := m.bringToLimit(l)
	if !found {
		return fmt.Sprintf("%s alone, now %.4g, does not bring it to its limit.", l.lever, now)
	}
	if l.Safety() >= 1 {
		return fmt.Sprintf("It would be at its limit with %s at %.4g, now %.4g.", l.lever, value, now)
	}
	text := fmt.Sprintf("It would take %s at %.4g, now %.4g, to bring it to its limit", l.lever, value, now)
	trial := *m
	find(reflect.ValueOf(&trial).Elem(), l.lever).SetFloat(value)
	if a, err := trial.again(); err == nil {
		for _, next := range a.limits {
			if next.Part != l.Part && next.Safety() < 1 {
				return fmt.Sprintf("%s; but then %s is at %s.", text, next.Part, safetyText(next.Safety()))
			}
		}
	}
	return text + "."
}

// bringToLimit returns the value of the limit's lever, nearest to the present
// one, at which its safety is 1.
func (m *Machine) bringToLimit(l limit) (float64, bool) {
	now := find(reflect.ValueOf(m).Elem(), l.lever).Float()
	margin := func(logFactor float64) float64 {
		trial := *m
		find(reflect.ValueOf(&trial).Elem(), l.lever).SetFloat(now * math.Exp(logFactor))
		return math.Log(trial.safetyOf(l.Part))
	}
	start := margin(0)
	const step, steps = 0.05, 60 // as far as twenty times up or down
	for i := range steps {
		for _, sign := range [...]float64{step, -step} {
			from, to := sign*float64(i), sign*float64(i+1)
			if end := margin(to); math.IsNaN(end) || math.Signbit(end) == math.Signbit(start) {
				continue
			}
			if x, err := root.Find(margin, from, to, 1e-9); err == nil {
				return now * math.Exp(x), true
			}
		}
	}
	return 0, false
}

// again builds and solves a machine that was changed.
func (m *Machine) again() (answer, error) {
	p, err := m.build()
	if err != nil {
		return answer{}, err
	}
	return m.solve(&p)
}

// safetyOf returns the safety of a part, NaN for a machine that cannot be.
func (m *Machine) safetyOf(part string) float64 {
	a, err := m.again()
	if err != nil {
		return math.NaN()
	}
	for _, l := range a.limits {
		if l.Part == part {
			return l.Safety()
		}
	}
	return math.NaN()
}
