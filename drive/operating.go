package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// OperatingPoint is a motor that turns a load below its pull-out torque. All that goes in
// comes out: ElectricalPower = CopperLoss + IronLoss + ShaftPower.
type OperatingPoint struct {
	Torque          float64  // at the shaft [N·m]
	Speed           float64  // of the shaft [rev/s]
	Current         float64  // that flows, rms in each phase [A]
	Voltage         float64  // across each phase, amplitude [V]
	LoadAngle       float64  // electrical, by which the current leads the magnet, π/2 for most torque per ampere [rad]
	ElectricalPower float64  // into both windings, voltage times current [W]
	CopperLoss      float64  // in both windings [W]
	IronLoss        float64  // as given [W]
	ShaftPower      float64  // [W]
	Regime          Regime   // CurrentLimited, or VoltageLimited where the current set does not flow
	Beyond          []string // in words, how the model's range is left; nil inside it
}

// Efficiency returns shaft power ÷ electrical power [-], 0 for a motor that takes none.
func (o OperatingPoint) Efficiency() float64 {
	if o.ElectricalPower > 0 {
		return o.ShaftPower / o.ElectricalPower
	}
	return 0
}

// Operate returns the state in which a motor turns a load torque, 0 to 1e3 [N·m], at a
// speed, 0 to 1e4 [rev/s], with the driver set to a current, rms in each phase, 1e-6 to
// 1e3 [A], on a supply, 0.1 to 1e4 [V]. Iron loss, 0 to 1e6 [W], is as measured at this
// speed and brakes the rotor; at standstill there is none.
//
// The machine is that of PullOut. The driver lets its full current flow whatever the load,
// and the rotor lags just as far as the load wants: a stepper idles at full copper loss.
// Where the supply does not drive that current, as much flows as it does drive. Of the
// two lags that give a torque the smaller one, which is stable, is taken.
//
// It errs with ErrOutOfStep above the pull-out torque. A screw is a load that resists
// and never drives: what falls out of step stops, and stands humming in a field that
// turns on, while pressure and flow of the melt fade. It does not fall in again above the
// speed of Start; the driver has to stop and ramp up anew, and a count of steps is lost.
func (s Stepper) Operate(torque, speed, current, supply, ironLoss float64) (OperatingPoint, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.Operate: torque", torque, 0, 1e3, "N·m")
	f.Between("drive.Stepper.Operate: speed", speed, 0, highestSpeed, "rev/s")
	f.Between("drive.Stepper.Operate: current", current, 1e-6, 1e3, "A")
	f.Between("drive.Stepper.Operate: supply", supply, 0.1, 1e4, "V")
	f.Between("drive.Stepper.Operate: iron loss", ironLoss, 0, 1e6, "W")
	if f.None() && speed == 0 && ironLoss > 0 {
		f.Refuse("drive.Stepper.Operate: iron loss", ironLoss, "W", "0 W at standstill")
	}
	if err := f.Err(); err != nil {
		return OperatingPoint{}, err
	}
	r, limit := s.Resistance, math.Sqrt2*current
	k, e, x := s.atSpeed(speed)
	inner := torque // between field and rotor
	if ironLoss > 0 {
		inner += ironLoss / (2 * math.Pi * speed)
	}
	q := inner / k
	d, regime, ok := strongest(q, limit, supply, r, x, e)
	if !ok {
		return OperatingPoint{}, s.cannot(inner, speed, current, supply)
	}
	vd, vq := r*d-x*q, r*q+x*d+e
	out := OperatingPoint{
		Torque: torque, Speed: speed, IronLoss: ironLoss, Regime: regime, Beyond: s.over(current),
		Current: math.Sqrt((d*d + q*q) / 2), Voltage: math.Sqrt(vd*vd + vq*vq), LoadAngle: math.Atan2(q, d),
		ElectricalPower: vd*d + vq*q, CopperLoss: r * (d*d + q*q), ShaftPower: torque * 2 * math.Pi * speed,
	}
	return out, nil
}

// strongest returns the largest d-current that the circles of current and voltage leave
// beside a q-current; ok is false if they leave none.
func strongest(q, limit, supply, r, x, e float64) (d float64, regime Regime, ok bool) {
	if q > limit {
		return 0, 0, false
	}
	byCurrent := math.Sqrt((limit - q) * (limit + q))
	z2 := r*r + x*x
	if z2*limit*limit+2*e*(r*q+x*byCurrent)+e*e <= supply*supply {
		return byCurrent, CurrentLimited, true
	}
	// |v| = supply: z²d² + 2ex·d + lack = 0, its larger root written without cancellation.
	lack := z2*q*q + 2*e*r*q + e*e - supply*supply
	root := square(e*x) - z2*lack
	if root < 0 {
		return 0, 0, false
	}
	if lack != 0 {
		d = -lack / (e*x + math.Sqrt(root))
	}
	return d, VoltageLimited, d >= -byCurrent
}

func (s Stepper) cannot(torque, speed, current, supply float64) error {
	p, err := s.PullOut(speed, current, supply)
	if err != nil {
		return err
	}
	return fmt.Errorf("%w: drive.Stepper.Operate: %.4g N·m with the iron's share at %.4g rev/s: %.4g A on %.4g V hold %.4g N·m",
		ErrOutOfStep, torque, speed, current, supply, p.Torque)
}
