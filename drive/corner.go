package drive

import (
	"math"

	"meltflight/internal/root"
)

// corners returns the end of full torque and the end of the current limit [rev/s]
// for a current amplitude and a supply.
func (s Stepper) corners(limit, supply float64) (full, bound float64) {
	r, l, flux := s.Resistance, s.Inductance, s.flux()
	drop := r * limit
	if supply <= drop {
		return 0, 0
	}
	// (ωLI)² + (RI + ωψ)² = V², its positive root written without cancellation.
	spare := (supply - drop) * (supply + drop)
	full = spare / (drop*flux + math.Sqrt(square(drop*flux)+(square(l*limit)+flux*flux)*spare))

	// With s = ωL/Z and a = ψR/L, the current at the voltage optimum obeys
	// R²(|i|² − I²) = g(s), which falls from s = 0 to its only minimum there.
	a, v := flux*r/l, supply
	g := func(s float64) float64 { return ((2*v*a*s+(a-v)*(a+v))*s-2*v*a)*s + spare }
	lowest := leastAt(a, v)
	sine, err := root.Find(g, 0, lowest, 0)
	if err != nil {
		top, _ := s.noTorque(limit, supply)
		return s.shaftSpeed(full), max(s.shaftSpeed(full), top)
	}
	// The corner can reach s = 1, infinite speed; the caller bounds it. Where the two
	// corners fall together rounding would put it an ulp before the first.
	return s.shaftSpeed(full), s.shaftSpeed(max(full, r/l*sine/math.Sqrt((1-sine)*(1+sine))))
}

// leastAt returns where 2vas³ + (a²−v²)s² − 2vas is least on 0 to 1: the
// positive root of 3va·s² + (a²−v²)s − va, or 1.
func leastAt(a, v float64) float64 {
	half := (a - v) * (a + v) / 2
	turn := math.Sqrt(half*half + 3*square(v*a))
	if half > 0 {
		return min(1, v*a/(half+turn))
	}
	return min(1, (turn-half)/(3*v*a))
}

// noTorque returns the speed at which torque ends [rev/s]; ok is false if the
// motor makes some torque at any speed.
//
// Torque ends where the least voltage that i_q = 0 needs equals the supply. It
// needs E·R/Z while the current for that, E·X/Z², is within its limit, and
// √((RI)² + (E − XI)²) beyond.
func (s Stepper) noTorque(limit, supply float64) (speed float64, ok bool) {
	r, l, flux := s.Resistance, s.Inductance, s.flux()
	excess := flux - l*limit
	if a := flux * r; a > supply*l {
		w := supply * r / math.Sqrt((a-supply*l)*(a+supply*l))
		if w*w*l*excess <= limit*r*r {
			return s.shaftSpeed(w), true
		}
	}
	if excess > 0 {
		drop := r * limit
		return s.shaftSpeed(math.Sqrt(max(0, (supply-drop)*(supply+drop))) / excess), true
	}
	return math.Inf(1), false
}

// flux returns the amplitude of a phase's flux linkage by the magnet [Wb].
func (s Stepper) flux() float64 { return s.TorqueConstant() / float64(s.RotorTeeth) }

func (s Stepper) shaftSpeed(electrical float64) float64 {
	return electrical / (2 * math.Pi * float64(s.RotorTeeth))
}
