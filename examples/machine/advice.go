package main

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"meltflight/internal/root"
)

// advice says in two sentences what gives way first and what it would take.
func (m *Machine) advice(a *answer) string {
	weakest := a.limits[0]
	safety := weakest.Safety()
	now := *number(reflect.ValueOf(m).Elem(), weakest.lever)
	value, found := m.bringToLimit(weakest)
	take := fmt.Sprintf("No %s between a fifth and five times %.4g changes that; look further back in the chain.", weakest.lever, now)
	if safety >= 1 {
		if found {
			take = fmt.Sprintf("It would take a %s of %.4g, now %.4g, to bring it to its limit.", weakest.lever, value, now)
		}
		return fmt.Sprintf("Nothing gives way; nearest to its limit is: %s, with a safety of %.2f.\n%s", weakest.Part, safety, take)
	}
	if found {
		take = fmt.Sprintf("It would take a %s of %.4g, now %.4g, to bring it just to its limit.", weakest.lever, value, now)
	}
	return fmt.Sprintf("First to give way: %s, with a safety of %.2f.\n%s", weakest.Part, safety, take)
}

// bringToLimit returns the value of the limit's lever, nearest to the present
// one, at which its safety is 1.
func (m *Machine) bringToLimit(l limit) (float64, bool) {
	now := *number(reflect.ValueOf(m).Elem(), l.lever)
	margin := func(logFactor float64) float64 {
		trial := *m
		*number(reflect.ValueOf(&trial).Elem(), l.lever) = now * math.Exp(logFactor)
		return math.Log(trial.safetyOf(l.Part))
	}
	start := margin(0)
	const step, most = 0.05, 1.6
	for at := step; at <= most; at += step {
		for _, sign := range [...]float64{1, -1} {
			from, to := sign*(at-step), sign*at
			end := margin(to)
			if math.IsNaN(end) || math.Signbit(end) == math.Signbit(start) {
				continue
			}
			x, err := root.Find(margin, from, to, 1e-9)
			return now * math.Exp(x), err == nil
		}
	}
	return 0, false
}

// safetyOf returns the safety of a part, NaN for a machine that cannot be.
func (m *Machine) safetyOf(part string) float64 {
	p, err := m.build()
	if err != nil {
		return math.NaN()
	}
	a, err := m.solve(&p)
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

// number finds the number that a key of the file, such as gear.module_mm, stands for.
func number(v reflect.Value, key string) *float64 {
	name, rest, deeper := strings.Cut(key, ".")
	for i := range v.NumField() {
		if v.Type().Field(i).Tag.Get("json") == name {
			if deeper {
				return number(v.Field(i), rest)
			}
			return v.Field(i).Addr().Interface().(*float64)
		}
	}
	return nil
}
