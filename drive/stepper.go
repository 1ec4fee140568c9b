package drive

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrOutOfStep reports a speed or a torque that the motor cannot follow on its
// supply at any load angle. The message says how far it would.
var ErrOutOfStep = errors.New("motor falls out of step")

// Stepper is a two-phase hybrid stepper motor as its data sheet describes it.
type Stepper struct {
	HoldingTorque float64 // at Current, both phases sinusoidal, 1e-4 to 1e3 [N·m]
	Current       float64 // rated, rms in each phase (a peak current ÷ √2), 1e-3 to 1e3 [A]
	Resistance    float64 // of one phase at the temperature considered, 1e-4 to 1e4 [Ω]
	Inductance    float64 // of one phase, 1e-7 to 10 [H]
	RotorTeeth    int     // 50 for a step of 1.8°, 100 for 0.9°; 2 to 1000 [-]
}

const (
	highestSpeed = 1e4 // [rev/s]
	saturates    = "current above rated: saturation leaves less torque than computed"
)

// Validate reports the fields out of range.
func (s Stepper) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s Stepper) check(f *input.Faults) {
	f.Between("drive.Stepper.HoldingTorque", s.HoldingTorque, 1e-4, 1e3, "N·m")
	f.Between("drive.Stepper.Current", s.Current, 1e-3, 1e3, "A")
	f.Between("drive.Stepper.Resistance", s.Resistance, 1e-4, 1e4, "Ω")
	f.Between("drive.Stepper.Inductance", s.Inductance, 1e-7, 10, "H")
	f.Count("drive.Stepper.RotorTeeth", s.RotorTeeth, 2, 1000)
}

// TorqueConstant returns torque per amplitude (√2·rms) of phase current [N·m/A].
// It is also the amplitude of one phase's back-emf per mechanical rad/s [V·s/rad].
func (s Stepper) TorqueConstant() float64 { return s.HoldingTorque / (math.Sqrt2 * s.Current) }

// Warm returns the motor with Resistance, taken as that at 20 °C, at another
// winding temperature, 200 to 600 [K]: 0.393 % a kelvin (IEC 60028, copper).
// The magnet's own loss, about 1 % in 10 K for neodymium (from memory), is not followed.
func (s Stepper) Warm(temperature float64) (Stepper, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.Warm: temperature", temperature, 200, 600, "K")
	if err := f.Err(); err != nil {
		return Stepper{}, err
	}
	s.Resistance *= 1 + material.CopperCoefficient*(temperature-material.Celsius(20))
	return s, nil
}

// Regime tells what holds the torque of a motor down.
type Regime int

const (
	CurrentLimited Regime = iota // the driver reaches the current set: full torque
	BothLimited                  // current and voltage are both at their limits
	VoltageLimited               // the current set is never reached: raising it changes nothing
)

// String names the regime.
func (r Regime) String() string {
	switch r {
	case CurrentLimited:
		return "current limited"
	case BothLimited:
		return "current and voltage limited"
	case VoltageLimited:
		return "voltage limited"
	}
	return fmt.Sprintf("Regime(%d)", int(r))
}

// PullOut is the state of a motor at the largest torque it holds at a speed.
type PullOut struct {
	Torque          float64  // at the shaft [N·m]
	Speed           float64  // of the shaft [rev/s]
	Current         float64  // that flows, rms in each phase [A]
	Voltage         float64  // across each phase, amplitude [V]
	MechanicalPower float64  // [W]
	ElectricalPower float64  // into both windings [W]
	CopperLoss      float64  // in both windings [W]
	Regime          Regime   // what holds the torque down
	Beyond          []string // in words, how the model's range is left; nil inside it
}

// Utilisation compares a torque asked of the motor [N·m] with the pull-out torque.
func (p PullOut) Utilisation(torque float64) material.Utilisation {
	return material.Utilisation{
		Part: "motor pull-out", Demand: torque, Capacity: p.Torque, Unit: "N·m",
		Method: "two-phase machine within current and voltage circle",
	}
}

// PullOut returns the largest torque the motor holds at a speed, 0 to 1e4 [rev/s],
// with the driver set to a current, rms in each phase, 1e-6 to 1e3 [A], on a
// supply, 0.1 to 1e4 [V]. A full bridge for each phase is taken to reach a sine
// whose amplitude is the supply; subtract the drop of the switches, or multiply by
// 4/π for a driver that goes on to a square wave.
//
// In rotor axes, with all quantities as amplitudes, ω = RotorTeeth·2π·speed, X = ωL,
// E = K·2π·speed,
//
//	v_d = R·i_d − X·i_q,  v_q = R·i_q + X·i_d + E,  torque = K·i_q
//
// and the torque is the largest that |i| ≤ √2·current and |v| ≤ supply leave at any
// load angle; at speed the rotor lags so far that i_d < 0 weakens the magnet's field.
// Where voltage alone limits, it is K(V/Z − E·R/Z²) with Z² = R² + X²: P. Acarnley,
// Stepping Motors, chapter on high-speed operation (equation from memory). No saliency,
// saturation, iron loss or detent: real torque at speed is lower by what the iron takes.
//
// From standstill to the first corner torque is constant. Far beyond the second it falls
// as 1/speed: shaft power tends to K·V/pL − K²R/(pL)², p the RotorTeeth, whatever the
// current set; where that is negative, torque ends at a finite speed.
//
// It errs with ErrOutOfStep at a speed where the motor makes no torque.
func (s Stepper) PullOut(speed, current, supply float64) (PullOut, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.PullOut: speed", speed, 0, highestSpeed, "rev/s")
	f.Between("drive.Stepper.PullOut: current", current, 1e-6, 1e3, "A")
	f.Between("drive.Stepper.PullOut: supply", supply, 0.1, 1e4, "V")
	if err := f.Err(); err != nil {
		return PullOut{}, err
	}
	r, limit := s.Resistance, math.Sqrt2*current
	k, e, x := s.atSpeed(speed)
	z2 := r*r + x*x

	out := PullOut{Speed: speed, Regime: CurrentLimited}
	d, q := 0.0, limit
	if v2 := square(x*limit) + square(r*limit+e); v2 > supply*supply {
		z := math.Sqrt(z2)
		d, q = -e*x/z2, supply/z-e*r/z2
		out.Regime = VoltageLimited
		if d*d+q*q > limit*limit {
			d, q = crossing(limit, supply, r, x, z, e)
			out.Regime = BothLimited
		}
		if q <= 0 {
			top, _ := s.noTorque(limit, supply)
			return PullOut{}, fmt.Errorf("%w: drive.Stepper.PullOut: no torque at %.4g rev/s with %.4g A on %.4g V: torque ends at %.4g rev/s",
				ErrOutOfStep, speed, current, supply, top)
		}
	}
	i2 := d*d + q*q
	out.Torque = k * q
	out.Current = math.Sqrt(i2 / 2)
	out.Voltage = math.Sqrt(square(r*d-x*q) + square(r*q+x*d+e))
	out.MechanicalPower = out.Torque * 2 * math.Pi * speed
	out.CopperLoss = r * i2
	out.ElectricalPower = out.MechanicalPower + out.CopperLoss
	out.Beyond = s.over(current)
	return out, nil
}

// crossing returns where the circle of current and the circle of voltage meet,
// the meeting with more torque. Along the direction (X, R)/Z the meeting lies at
// (V² − E² − Z²I²)/2EZ from the origin.
func crossing(limit, supply, r, x, z, e float64) (d, q float64) {
	along := (supply*supply - e*e - z*z*limit*limit) / (2 * e * z)
	// Where current alone no longer decides, the meeting is short of R·I/Z. Near
	// standstill the difference above is mostly rounding and could lie beyond.
	along = min(along, r*limit/z)
	across := math.Sqrt(max(0, limit*limit-along*along))
	return (along*x - across*r) / z, (along*r + across*x) / z
}

// CurrentFor returns the least current setting, rms in each phase [A], with which
// the motor holds a torque, 0 to 1e3 [N·m], at a speed, 0 to 1e4 [rev/s], on a
// supply, 0.1 to 1e4 [V]: the inverse of PullOut. It may be above the rated current.
// It errs with ErrOutOfStep where no current would do.
func (s Stepper) CurrentFor(torque, speed, supply float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.CurrentFor: torque", torque, 0, 1e3, "N·m")
	f.Between("drive.Stepper.CurrentFor: speed", speed, 0, highestSpeed, "rev/s")
	f.Between("drive.Stepper.CurrentFor: supply", supply, 0.1, 1e4, "V")
	if err := f.Err(); err != nil {
		return 0, err
	}
	r := s.Resistance
	k, e, x := s.atSpeed(speed)
	z2 := r*r + x*x
	q, d := torque/k, 0.0
	if lack := z2*q*q + 2*e*r*q + e*e - supply*supply; lack > 0 {
		// |v| = supply at the root for i_d that is nearer to zero.
		root := square(e*x) - z2*lack
		if root < 0 {
			most := max(0, k*(supply/math.Sqrt(z2)-e*r/z2))
			return 0, fmt.Errorf("%w: drive.Stepper.CurrentFor: %.4g N·m at %.4g rev/s: %.4g V allow at most %.4g N·m",
				ErrOutOfStep, torque, speed, supply, most)
		}
		d = -lack / (e*x + math.Sqrt(root))
	}
	return math.Sqrt((d*d + q*q) / 2), nil
}

// Corners returns the two corners of the pull-out curve with a driver set to a current,
// rms in each phase, 1e-6 to 1e3 [A], on a supply, 0.1 to 1e4 [V].
//
// Up to fullTorque [rev/s] the torque is that at standstill. It is 0 if the supply cannot
// drive the current even at standstill; then so is currentBound.
//
// From currentBound [rev/s] the motor no longer takes the current set. It does not
// exist for a motor whose magnet flux ÷ Inductance is above the amplitude of the
// current, unless the supply is low: then the current limit binds up to the speed
// where torque ends, and that is returned. (With so low a supply the limit may bind
// once more at a still higher speed.) Neither is given above 1e4 rev/s.
func (s Stepper) Corners(current, supply float64) (fullTorque, currentBound float64, err error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.Corners: current", current, 1e-6, 1e3, "A")
	f.Between("drive.Stepper.Corners: supply", supply, 0.1, 1e4, "V")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	full, bound := s.corners(math.Sqrt2*current, supply)
	return min(full, highestSpeed), min(bound, highestSpeed), nil
}

// atSpeed returns the torque constant, the amplitude of back-emf [V] and the
// reactance of a phase [Ω].
func (s Stepper) atSpeed(speed float64) (constant, emf, reactance float64) {
	constant = s.TorqueConstant()
	w := 2 * math.Pi * speed
	return constant, constant * w, float64(s.RotorTeeth) * w * s.Inductance
}

func square(x float64) float64 { return x * x }
