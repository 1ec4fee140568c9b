package screw

import "math"

// Parallel is branches side by side, each from the same inlet pressure to the same
// outlet pressure, such as the holes of a strand die.
type Parallel []Passage

// Validate reports no branches and the faults of every branch.
func (p Parallel) Validate() error {
	return checkPassages("screw.Parallel", "screw.Parallel: branches", p)
}

// Split returns the flow of each branch [m³/s] at a flow of all [m³/s].
func (p Parallel) Split(m Melt, flow float64) []float64 {
	s := p.split(m, flow)
	return append([]float64(nil), s.flows[:len(p)]...)
}

// PressureDrop returns the pressure that all branches share [Pa] at a flow of all [m³/s].
func (p Parallel) PressureDrop(m Melt, flow float64) float64 { return p.split(m, flow).pressure }

// WallShear returns the greatest wall shear rate [1/s] and, there, stress [Pa] of the branches.
func (p Parallel) WallShear(m Melt, flow float64) (rate, stress float64) {
	s := p.split(m, flow)
	for i, b := range p {
		if r, t := b.WallShear(m, s.flows[i]); t > stress {
			rate, stress = r, t
		}
	}
	return rate, stress
}

// ViscousHeating returns the numbers of the branch with the largest Nahme number.
func (p Parallel) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	s := p.split(m, flow)
	for i, b := range p {
		if na, gz := b.ViscousHeating(m, s.flows[i]); na > nahme || na == nahme && gz > graetz {
			nahme, graetz = na, gz
		}
	}
	return nahme, graetz
}

// Volume returns the sum of the branches [m³].
func (p Parallel) Volume() float64 { return Die(p).Volume() }

// split is how a flow parts between branches.
type split struct {
	pressure float64 // of all [Pa]
	flows    [64]float64
}

const smallFlow = 1e-100 // [m³/s]

// split finds the one pressure at which the branches take the flow together, to 1e-12.
//
// Each branch is taken for a power law, Δp ~ q^s, through its last two flows, and the
// flows for those at which such branches would share their pressure. A slope taken too
// steep only shortens the step, so that where the pressures do not draw together all
// slopes are doubled for once.
func (p Parallel) split(m Melt, flow float64) (s split) {
	if flow <= 0 {
		return s
	}
	if flow < smallFlow { // so slow that every law is Newtonian
		s = p.split(m, smallFlow)
		for i := range s.flows {
			s.flows[i] *= flow / smallFlow
		}
		s.pressure *= flow / smallFlow
		return s
	}
	var lnDrop, slope, step [64]float64
	for i := range p {
		s.flows[i], slope[i] = flow/float64(len(p)), 1
	}
	least := math.Inf(1)
	for round := range 200 {
		low, high := math.Inf(1), math.Inf(-1)
		for i, b := range p {
			now := math.Log(b.PressureDrop(m, s.flows[i]))
			if round > 0 && math.Abs(step[i]) > 1e-7 {
				slope[i] = math.Max(0.02, math.Min(2, (now-lnDrop[i])/step[i]))
			}
			lnDrop[i] = now
			low, high = math.Min(low, now), math.Max(high, now)
		}
		apart := high - low
		if math.IsInf(high, 1) || math.IsNaN(high) { // beyond all numbers
			s.pressure = math.Inf(1)
			return s
		}
		damp := 1.0
		if apart >= least {
			damp = 2
		}
		least = math.Min(least, apart)
		shared := s.shared(p, &lnDrop, &slope, damp, low, high, flow)
		for i := range p {
			step[i] = (shared - lnDrop[i]) / (damp * slope[i])
			s.flows[i] *= math.Exp(step[i])
		}
		s.pressure = math.Exp(shared)
		if !(apart > 1e-9) { // the slopes being good to 1e-4 and better
			return s
		}
	}
	return s
}

// shared returns ln of the pressure at which the branches as power laws take the flow.
func (s *split) shared(p Parallel, lnDrop, slope *[64]float64, damp, low, high, flow float64) float64 {
	x := high
	for range 60 { // the sum is convex in its logarithm: from above Newton's method falls to the root
		var sum, rise float64
		for i := range p {
			part := s.flows[i] * math.Exp((x-lnDrop[i])/(damp*slope[i]))
			sum += part
			rise += part / (damp * slope[i])
		}
		step := math.Log(sum/flow) * sum / rise
		x = math.Max(low, math.Min(high, x-step))
		if !(math.Abs(step) > 1e-15*(1+math.Abs(x))) {
			break
		}
	}
	return x
}
