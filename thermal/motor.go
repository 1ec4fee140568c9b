package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Motor is a winding that takes time to warm. Copper and iron are one body of one
// temperature, which is slow by minutes; that the copper is ahead of the iron in the first of them
// only a [Network] tells.
type Motor struct {
	Winding  Winding
	Capacity float64 // mass times specific heat, of all that warms with the winding; iron and copper near 450 and 385 J/(kg·K); 1e-3 to 1e9 [J/K]
}

// Validate reports the fields out of range.
func (m Motor) Validate() error {
	var f input.Faults
	m.check(&f)
	return f.Err()
}

func (m *Motor) check(f *input.Faults) {
	m.Winding.check(f)
	checkCapacity(f, "thermal.Motor.Capacity", m.Capacity)
}

// cooling is how fast the motor cools when nothing heats it [1/s].
func (m *Motor) cooling() float64 { return 1 / (m.Winding.ThermalResistance * m.Capacity) }

// lump is the motor at a temperature of its own.
func (m *Motor) lump(current, temperature, ambient float64) lump {
	w := &m.Winding
	slope := float64(w.Phases) * current * current * w.Resistance * material.CopperCoefficient
	return lump{
		rate: (w.loss(current, temperature) - (temperature-ambient)/w.ThermalResistance) / m.Capacity,
		fall: (1 - w.ThermalResistance*slope) * m.cooling(),
	}
}

// TimeConstant returns that of the warming at a current, rms a phase [A], in [s]:
//
//	τ = R·C/(1 − R·dP/dT)
//
// longer than the R·C at which the motor cools without current, as the copper's loss grows with it.
// From the runaway current on there is none and the error is a [*RunawayError].
func (m Motor) TimeConstant(current float64) (float64, error) {
	var f input.Faults
	m.check(&f)
	checkCurrent(&f, "thermal.Motor.TimeConstant: current", current)
	if err := f.Err(); err != nil {
		return 0, err
	}
	fall := m.lump(current, copperAt, copperAt).fall
	if fall <= 0 {
		return 0, &RunawayError{Part: "winding", Current: current, Limit: m.Winding.runaway()}
	}
	return 1 / fall, nil
}

// After returns the temperature [K] of the motor, at first at start, at a time, 0 to 1e12 [s], of
// a current, rms a phase [A], with ambient around it [K]; beyond runaway too, until it is past
// 1e6 K, where the error is [ErrNoBalance]. Copper is taken as linear all the way.
func (m Motor) After(time, current, start, ambient float64) (float64, error) {
	var f input.Faults
	m.check(&f)
	checkTime(&f, "thermal.Motor.After: time", time)
	checkCurrent(&f, "thermal.Motor.After: current", current)
	checkTemperature(&f, "thermal.Motor.After: start", start)
	checkTemperature(&f, "thermal.Motor.After: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	t := start + m.lump(current, start, ambient).after(time)
	if err := tooFar("winding", t); err != nil {
		return 0, err
	}
	return t, nil
}

// TimeUntil returns how long [s] the motor takes from start to limit at a current, rms a phase
// [A], with ambient around it [K]; 0 where it is there already. Where it never comes there, or not in
// 1e12 s, the error is [ErrNeverReached].
func (m Motor) TimeUntil(limit, current, start, ambient float64) (float64, error) {
	var f input.Faults
	m.check(&f)
	checkTemperature(&f, "thermal.Motor.TimeUntil: limit", limit)
	checkCurrent(&f, "thermal.Motor.TimeUntil: current", current)
	checkTemperature(&f, "thermal.Motor.TimeUntil: start", start)
	checkTemperature(&f, "thermal.Motor.TimeUntil: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	if start >= limit {
		return 0, nil
	}
	return untilLimit("winding", m.lump(current, start, ambient).until(limit-start), limit)
}

// DutyPeak returns the highest temperature [K] of the motor, that at the end of each run, once a duty
// at a current, rms a phase [A], has come to repeat itself; at rest there is neither current
// nor iron loss. A duty with rest bears more than the runaway current of a steady one, up to
// √(1 + off/on) times that: from there on the error is a [*RunawayError].
func (m Motor) DutyPeak(d Duty, current, ambient float64) (float64, error) {
	var f input.Faults
	m.check(&f)
	d.check(&f)
	checkCurrent(&f, "thermal.Motor.DutyPeak: current", current)
	checkTemperature(&f, "thermal.Motor.DutyPeak: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	l := m.lump(current, ambient, ambient)
	left := l.fall*d.On + m.cooling()*d.Off // of a cycle's start at its end, as −ln
	if left <= 0 {
		return 0, &RunawayError{Part: "winding", Current: current, Limit: math.Min(current, m.Winding.runaway()*math.Sqrt(1+d.Off/d.On))}
	}
	peak := ambient + l.after(d.On)/-math.Expm1(-left)
	if err := tooFar("winding", peak); err != nil {
		return 0, err
	}
	return peak, nil
}

// DutyCurrent returns the largest rms current of a phase while it runs [A], at most MostCurrent, at
// which a duty keeps the winding within limit [K] in surroundings at ambient [K], with what copper
// makes more as it warms and less while it is colder. Where iron loss alone is too much
// the error is ErrTooHot.
func (m Motor) DutyCurrent(d Duty, limit, ambient float64) (float64, error) {
	var f input.Faults
	m.check(&f)
	d.check(&f)
	checkTemperature(&f, "thermal.Motor.DutyCurrent: limit", limit)
	checkTemperature(&f, "thermal.Motor.DutyCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	steady, err := m.Winding.LargestCurrent(limit, ambient)
	if limit <= ambient || d.Off == 0 {
		return steady, err
	}
	start := ambient + (limit-ambient)*math.Exp(-m.cooling()*d.Off)
	rise := (limit - ambient) * -math.Expm1(-m.cooling()*d.Off)
	short := func(current float64) float64 {
		return math.Min(1, d.On/m.lump(current, start, ambient).until(rise)-1)
	}
	if err != nil && short(0) > 0 {
		return 0, err
	}
	return crossing(short, steady)
}
