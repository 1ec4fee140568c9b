package main

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

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
	return fmt.Sprintf("%s, with a safety of %s%s.\n%s", what, safetyText(l.Safety()), margin, m.remedy(l, a))
}

// remedy says which inputs would each, alone, bring a part to its limit, and what
// else would then give way.
func (m *Machine) remedy(l limit, a *answer) string {
	m.before = a
	defer func() { m.before = nil }()
	var ways []string
	for _, key := range l.levers {
		now := find(reflect.ValueOf(m).Elem(), key).Float()
		value, found := m.bringToLimit(l.Part, key)
		if !found {
			continue
		}
		way := fmt.Sprintf("%s at %.4g (now %.4g)", key, value, now)
		if l.Safety() < 1 {
			way += m.sideEffect(key, value, l.Part, a)
		}
		ways = append(ways, way)
	}
	switch {
	case len(ways) == 0:
		return "None of these alone brings it to its limit: " + strings.Join(l.levers, ", ") + "."
	case l.Safety() < 1:
		return "To bring it just to its limit would take " + strings.Join(ways, ", or ") + "."
	}
	return "It would be at its limit with " + strings.Join(ways, ", or ") + "."
}

// sideEffect tells what a remedy would break that holds now, or where it leaves a
// model's range.
func (m *Machine) sideEffect(key string, value float64, part string, before *answer) string {
	trial := *m
	find(reflect.ValueOf(&trial).Elem(), key).SetFloat(value)
	after, err := trial.again()
	if err != nil {
		return ""
	}
	held := map[string]bool{}
	for _, l := range before.limits {
		held[l.Part] = l.Safety() >= 1
	}
	for _, l := range after.limits {
		if l.Part != part && l.Safety() < 1 && held[l.Part] {
			return fmt.Sprintf(", which %s would not bear (%s)", l.Part, safetyText(l.Safety()))
		}
	}
	for _, n := range after.notes {
		if !slices.Contains(before.notes, n) && strings.HasPrefix(n, "motor: ") {
			return ", but " + strings.TrimPrefix(n, "motor: ")
		}
	}
	return ""
}

// bringToLimit returns the value of a key, nearest to the present one, at which
// the safety of a part is 1.
func (m *Machine) bringToLimit(part, key string) (float64, bool) {
	now := find(reflect.ValueOf(m).Elem(), key).Float()
	margin := func(logFactor float64) float64 {
		trial := *m
		find(reflect.ValueOf(&trial).Elem(), key).SetFloat(now * math.Exp(logFactor))
		return math.Log(trial.safetyOf(part))
	}
	if m.before == nil {
		if a, err := m.again(); err == nil {
			m.before = &a
			defer func() { m.before = nil }()
		}
	}
	start := margin(0)
	const first, grows, steps = 0.04, 1.2, 15 // as far as twenty times up or down
	reach := func(i int) float64 { return first * (math.Pow(grows, float64(i)) - 1) / (grows - 1) }
	for i := range steps {
		for _, sign := range [...]float64{1, -1} {
			from, to := sign*reach(i), sign*reach(i+1)
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
	p, err := m.build()
	if err != nil {
		return math.NaN()
	}
	a, err := m.solveFor(&p, part)
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
