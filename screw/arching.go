package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Hopper is the part of a bin that narrows to its outlet.
type Hopper struct {
	HalfAngle float64 // of the wall from the vertical, 0 to 1.2 [rad]
	Slot      bool    // a wedge over a long slot; else a cone over a round hole
}

// Validate reports the fields out of range.
func (h Hopper) Validate() error {
	var f input.Faults
	f.Between("screw.Hopper.HalfAngle", h.HalfAngle, 0, 1.2, "rad")
	return f.Err()
}

// CriticalOutlet returns the width of outlet below which a bulk that sticks holds
// an arch [m], for a strength of its free face of 0 to 1e6 [Pa], as from
// [FlowFunction.CriticalStrength]. It errs on a hopper, a bulk or a strength out of
// range.
//
// A. W. Jenike, Bulletin 123, Univ. of Utah (1964), from memory: B = H σ/(ρ g), with
// H = 2 + θ/60° of a cone and 1 + θ/180° of a wedge, a fit to his chart. Range: mass
// flow, in which all of the bulk moves, see [MassFlowHalfAngle]; the grains' own size
// does not count here but in [Outlet.Clogging], and the wider outlet of both is needed.
func (h Hopper) CriticalOutlet(b material.Bulk, strength float64) (float64, error) {
	var f input.Faults
	f.Add(h.Validate())
	f.Add(b.Validate())
	f.Between("screw.Hopper.CriticalOutlet: strength", strength, 0, 1e6, "Pa")
	if err := f.Err(); err != nil {
		return 0, err
	}
	shape := 2 + h.HalfAngle*3/math.Pi
	if h.Slot {
		shape = 1 + h.HalfAngle/math.Pi
	}
	return shape * strength / (b.BulkDensity * gravity), nil
}

// FlowFunction is how strong a bulk is at a free face by what compacted it: a power
// law, Strength·(σ/1 kPa)^Exponent, fitted to a shear cell's readings.
type FlowFunction struct {
	Strength float64 // after 1 kPa, 1 to 1e5 [Pa]
	Exponent float64 // 0 to 0.95 [-]
}

// Validate reports the fields out of range.
func (y FlowFunction) Validate() error {
	var f input.Faults
	f.Between("screw.FlowFunction.Strength", y.Strength, 1, 1e5, "Pa")
	f.Between("screw.FlowFunction.Exponent", y.Exponent, 0, 0.95, "")
	return f.Err()
}

// CriticalStrength returns the strength at which an arch just holds [Pa]: where the
// bulk's is what the hopper compacts it with divided by the hopper's flow factor, 1 to 10 [-],
// which Jenike's charts give. It errs on fields or a flow factor out of range.
//
// A. W. Jenike, Bulletin 123 (1964), from memory; for a strength of 1 kPa after 1 kPa this is
// ff^(n/(1−n)) kPa.
func (y FlowFunction) CriticalStrength(flowFactor float64) (float64, error) {
	var f input.Faults
	f.Add(y.Validate())
	f.Between("screw.FlowFunction.CriticalStrength: flowFactor", flowFactor, 1, 10, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	const kPa = 1e3
	return kPa / flowFactor * math.Pow(y.Strength/kPa*flowFactor, 1/(1-y.Exponent)), nil
}

// MassFlowHalfAngle returns the widest half angle from the vertical at which a cone
// still empties as a whole, nothing standing at its wall [rad], for a bulk of an effective
// angle of friction, 0.35 to 1.4 [rad], on a wall of an angle of friction of 0.01 up to that
// [rad]; 0 where no cone is steep enough. It errs outside.
//
// Closed form of A. W. Jenike's chart, Bulletin 123 (1964), from memory:
// θ = 90° − ½ arccos((1 − sin δ)/(2 sin δ)) − ½ (φ + arcsin(sin φ/sin δ)). It is the very
// limit: 3 to 4° less is usual (common practice, no source). The angle of internal friction
// of a bulk that does not stick is its effective one. A wedge may lean further; its chart
// is not here.
func MassFlowHalfAngle(effective, wall float64) (float64, error) {
	var f input.Faults
	f.Between("screw.MassFlowHalfAngle: effective", effective, 0.35, 1.4, "rad")
	if f.None() {
		f.Between("screw.MassFlowHalfAngle: wall", wall, 0.01, effective, "rad")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	sin := math.Sin(effective)
	ratio := math.Min(1, math.Sin(wall)/sin)
	return math.Max(0, (math.Pi-math.Acos((1-sin)/(2*sin))-wall-math.Asin(ratio))/2), nil
}
