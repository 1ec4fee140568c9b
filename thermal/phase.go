package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Phase is what one phase's current heats with: its square, and its mean amount.
type Phase struct {
	RMS  float64 // 0 to MostCurrent [A]
	Mean float64 // of |i|, 0 to RMS [A]
}

// MicroSteps returns a phase that runs in micro-steps of a peak [A], a sine: rms peak/√2,
// mean 2·peak/π. It checks nothing, as do the others that make a Phase.
func MicroSteps(peak float64) Phase { return Phase{peak / math.Sqrt2, peak * 2 / math.Pi} }

// Steps returns a phase that is at plus or minus its peak [A] for a share of the time, else at zero:
// full steps with both phases on 1, half steps ¾, full steps with one phase on ½ [-].
func Steps(peak, share float64) Phase { return Phase{peak * math.Sqrt(share), peak * share} }

// Held returns both phases of a motor that stands at an electrical angle [rad], their
// currents peak·|sin| and peak·|cos| of a peak [A]: at 0 one carries all of it.
func Held(peak, angle float64) (first, second Phase) {
	sin, cos := math.Sincos(angle)
	sin, cos = math.Abs(peak*sin), math.Abs(peak*cos)
	return Phase{sin, sin}, Phase{cos, cos}
}

func (p *Phase) check(f *input.Faults, name string) {
	const rounding = 1 + 1e-12
	if p.RMS >= 0 && p.RMS <= MostCurrent && p.Mean >= 0 && p.Mean <= p.RMS*rounding {
		return // without names put together
	}
	checkCurrent(f, name+".RMS", p.RMS)
	f.Between(name+".Mean", p.Mean, 0, MostCurrent, "A")
	if f.None() && p.Mean > p.RMS*rounding {
		f.Refuse(name+".Mean", p.Mean, "A", "up to "+input.WithUnit(p.RMS, "A")+", its rms")
	}
}

// PhaseLoss returns the heat of the one bridge that drives a phase, at a junction
// temperature of 200 to 473.15 [K], by the laws of [Bridge.Loss]; Quiescent, which is the
// chip's, is 0 in it. A bridge at its peak for good makes twice the conduction loss of its
// running mean in half of the chip, which is locally hotter than its one junction temperature tells.
func (b Bridge) PhaseLoss(p Phase, junction float64) (BridgeLoss, error) {
	var f input.Faults
	b.check(&f)
	p.check(&f, "thermal.Bridge.PhaseLoss: phase")
	checkTemperature(&f, "thermal.Bridge.PhaseLoss: junction", junction)
	if err := f.Err(); err != nil {
		return BridgeLoss{}, err
	}
	l := BridgeLoss{
		Conduction: 2 * conduction(b.OnResistance, p.RMS) * b.growth(junction),
		Switching:  transitions(b.Supply, p.Mean, b.RiseTime, b.FallTime, b.ChopFrequency),
		DeadTime:   freewheel(b.DiodeDrop, p.Mean, b.DeadTime, b.ChopFrequency),
	}
	l.Total = l.Conduction + (l.Switching + l.DeadTime)
	return l, nil
}

// SteadyPhases is [Bridge.Steady] by the currents of each phase. The currents in the state
// and in a [*RunawayError] are the rms of both phases together.
func (b Bridge) SteadyPhases(first, second Phase, ambient float64, path Path) (s BridgeState, err error) {
	var f input.Faults
	b.check(&f)
	path.check(&f)
	first.check(&f, "thermal.Bridge.SteadyPhases: first")
	second.check(&f, "thermal.Bridge.SteadyPhases: second")
	checkTemperature(&f, "thermal.Bridge.SteadyPhases: ambient", ambient)
	if err = f.Err(); err != nil {
		return s, err
	}
	rms := math.Sqrt((first.RMS*first.RMS + second.RMS*second.RMS) / 2)
	err = b.settle(&s, rms, (first.Mean+second.Mean)/(2*meanOfSine), ambient, path.Total())
	return s, err
}

// SenseLoss returns the heat [W] of the sense resistor of a phase, 0 to 100 [Ω], that
// carries its current all the time: R·I². One in the foot of the bridge carries none
// while the current goes round through the lower switches, and so less. It is the
// chip's own heat only where it is in the chip.
func SenseLoss(resistance float64, p Phase) (float64, error) {
	var f input.Faults
	f.Between("thermal.SenseLoss: resistance", resistance, 0, 100, "Ω")
	p.check(&f, "thermal.SenseLoss: phase")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return conduction(resistance, p.RMS), nil
}
