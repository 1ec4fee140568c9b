package thermal

import (
	"math"

	"meltflight/internal/input"
)

// ExponentialBridge is a Bridge whose on-resistance bends upwards as that of a silicon
// switch does: R = R₂₅·exp(a·(T − 25 °C)) with a its TemperatureCoefficient. For small
// a·(T − 25 °C) it is the line of a Bridge, elsewhere above it. A switch whose resistance
// doubles from 25 to 150 °C has a = ln 2/125 K = 0.0055 per kelvin.
//
// The balance T = T₀ + θ·P₂₅·exp(a·(T − 25 °C)), with T₀ what all other losses bring,
// is u·e^(−u) = k for u = a·(T − T₀) and k = a·θ·P₂₅·exp(a·(T₀ − 25 °C)). Its smaller root
// −W₀(−k) (Lambert's function) is where a chip settles that warms up; the greater one
// is unstable. At k = 1/e they meet: the hottest steady chip is 1/a above T₀, and from that
// current on it runs away. Unlike the line's, this limit falls as the ambient rises, and it
// is reached at a temperature that is not infinite.
type ExponentialBridge Bridge

// Validate reports the fields out of range, named as those of a Bridge.
func (e ExponentialBridge) Validate() error { return Bridge(e).Validate() }

func (e *ExponentialBridge) growth(junction float64) float64 {
	return math.Exp(e.TemperatureCoefficient * (junction - onResistanceAt))
}

// logFeedback is ln of a·θ·4·R₂₅·exp(a·(T − 25 °C)), for a current of 1 A.
func (e *ExponentialBridge) logFeedback(total, temperature float64) float64 {
	a := e.TemperatureCoefficient
	return math.Log(a) + math.Log(4*e.OnResistance*total) + a*(temperature-onResistanceAt)
}

func (e *ExponentialBridge) loss(current, junction float64) BridgeLoss {
	b := Bridge(*e)
	b.TemperatureCoefficient = 0
	l := b.loss(current, onResistanceAt)
	l.Conduction *= e.growth(junction)
	l.Total = l.Conduction + (l.Switching + l.DeadTime + l.Quiescent)
	return l
}

// Loss is [Bridge.Loss] by the exponential law.
func (e ExponentialBridge) Loss(current, junction float64) (BridgeLoss, error) {
	if _, err := Bridge(e).Loss(current, junction); err != nil {
		return BridgeLoss{}, err
	}
	return e.loss(current, junction), nil
}

// Steady returns the state the chip settles to as it warms up at a current, rms a phase [A], in
// air at ambient [K]. Where there is none the error is a [*RunawayError]. Next to the
// runaway current the temperature goes with the root of what is left to it, and has half the digits.
func (e ExponentialBridge) Steady(current, ambient float64, path Path) (s BridgeState, err error) {
	var f input.Faults
	(*Bridge)(&e).check(&f)
	path.check(&f)
	checkCurrent(&f, "thermal.ExponentialBridge.Steady: current", current)
	checkTemperature(&f, "thermal.ExponentialBridge.Steady: ambient", ambient)
	if err = f.Err(); err != nil {
		return s, err
	}
	total := path.Total()
	l := e.loss(current, onResistanceAt)
	others := l.Switching + l.DeadTime + l.Quiescent
	base := ambient + total*others
	log := 2*math.Log(current) + e.logFeedback(total, base) // ln k; −Inf without current or feedback
	limit := e.runaway(ambient, total)
	if log >= -1 {
		return s, &RunawayError{Part: "bridge", Current: current, Limit: math.Min(limit, current)}
	}
	bend := 0.0
	if !math.IsInf(log, -1) {
		bend = smallerRoot(-log)
	}
	if current > 0 {
		l.Conduction = math.Exp(math.Log(l.Conduction) + e.TemperatureCoefficient*(base-onResistanceAt) + bend)
	}
	l.Total = l.Conduction + others
	s = BridgeState{Junction: base + total*l.Conduction, Loss: l, RunawayCurrent: math.Max(limit, current)}
	s.Beyond = beyondLine("junction", s.Junction, "on-resistance taken as exponential")
	return s, nil
}

// smallerRoot returns u of u·e^(−u) = e^(−l), l above 1, that is below 1.
func smallerRoot(l float64) float64 {
	// In w = ln u it is e^w − 1 − w = l − 1, convex: Newton's steps from beyond the root
	// all end on its one side and then go to it without turning.
	d := l - 1
	w := -math.Sqrt(2 * d)
	for range 60 {
		slope := math.Expm1(w)
		step := (slope - w - d) / slope
		w -= step
		if math.Abs(step) <= 1e-15*math.Abs(w) {
			break
		}
	}
	return math.Exp(w)
}

// logLinear returns x of ln x + β·x = g, β at least 0: W₀(β·e^g)/β.
func logLinear(beta, g float64) float64 {
	if beta == 0 {
		return math.Exp(g)
	}
	// In s = ln x it is s + β·e^s = g, convex, from its upper side: a step of 1 for each
	// power of e that β·e^g is too great, of which there are at most some 25 here.
	s := g
	for range 60 {
		v := math.Exp(math.Log(beta) + s)
		step := (s + v - g) / (1 + v)
		s -= step
		if math.Abs(step) <= 1e-16*(1+math.Abs(s)) {
			break
		}
	}
	return math.Exp(s)
}

// RunawayCurrent returns the rms current of a phase [A] from which on the chip has no
// steady temperature in air at ambient [K]: that of k = 1/e, in closed form by Lambert's
// function. It is MostCurrent where that is less.
func (e ExponentialBridge) RunawayCurrent(ambient float64, path Path) (float64, error) {
	var f input.Faults
	(*Bridge)(&e).check(&f)
	path.check(&f)
	checkTemperature(&f, "thermal.ExponentialBridge.RunawayCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return e.runaway(ambient, path.Total()), nil
}

func (e *ExponentialBridge) runaway(ambient, total float64) float64 {
	switching, deadTime := (*Bridge)(e).perAmpere()
	beta := e.TemperatureCoefficient * total * (switching + deadTime) / 2
	g := -(1 + e.logFeedback(total, ambient+total*e.Supply*e.Quiescent)) / 2
	return math.Min(MostCurrent, logLinear(beta, g))
}

// LargestCurrent is [Bridge.LargestCurrent] by the exponential law. Where the chip runs away
// before it comes to limit it is the runaway current, which is to be kept below.
func (e ExponentialBridge) LargestCurrent(limit, ambient float64, path Path) (float64, error) {
	b := Bridge(e)
	var f input.Faults
	b.check(&f)
	path.check(&f)
	checkTemperature(&f, "thermal.ExponentialBridge.LargestCurrent: limit", limit)
	checkTemperature(&f, "thermal.ExponentialBridge.LargestCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	total, growth := path.Total(), e.growth(limit)
	current, err := b.largest(limit, ambient, total, growth)
	if err != nil {
		return 0, err
	}
	if e.TemperatureCoefficient*total*b.conductionAt25(current)*growth >= 1 { // the unstable root
		return e.runaway(ambient, total), nil
	}
	return current, nil
}

// LargestResistance is [Bridge.LargestResistance] by the exponential law. Where the chip
// runs away before it comes to limit it is the resistance that this starts at.
func (e ExponentialBridge) LargestResistance(current, limit, ambient float64) (float64, error) {
	if _, err := Bridge(e).LargestResistance(current, limit, ambient); err != nil {
		return 0, err
	}
	l := e.loss(current, limit)
	most, err := largestResistance("bridge junction", l.Total, limit, ambient)
	if err != nil || e.TemperatureCoefficient*most*l.Conduction < 1 {
		return most, err
	}
	others := l.Total - l.Conduction
	g := -1 - 2*math.Log(current) - e.logFeedback(1, ambient)
	return math.Min(mostResistance, logLinear(e.TemperatureCoefficient*others, g)), nil
}
