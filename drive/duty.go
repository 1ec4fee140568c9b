package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// DutyBlock is a torque held for a number of load cycles.
type DutyBlock struct {
	Torque float64 // 0 to 1e8 [N·m]
	Cycles float64 // 0 to 1e15 [-]
}

// TorqueLine is how many cycles a part bears: N = Cycles·(Torque/T)^Slope.
type TorqueLine struct {
	Torque float64 // 1e-9 to 1e8 [N·m]
	Cycles float64 // 1 to 1e15 [-]
	Slope  float64 // p, such as LifeCurve.Slope for a root and half of it for a flank, 1 to 100 [-]
	Knee   bool    // torques below Torque do no harm; else the line goes on down
}

// Damage returns the sum of n/N over a duty [-], 1 at the end of life: A. Palmgren
// (1924) and M. A. Miner, Cumulative Damage in Fatigue, J. Appl. Mech. 12 (1945) A159 (from
// memory). The order of blocks does not count, which is its known weakness: parts have
// failed at 0.3 and at 3. Above the most it can name, 1e15, it is 1e15.
func (l TorqueLine) Damage(duty []DutyBlock) (float64, error) {
	var f input.Faults
	l.check(&f)
	checkDuty(&f, duty)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return l.damage(duty), nil
}

// Life returns the time at which the damage reaches 1 if a duty that takes a time, 1e-3
// to 1e12 [s], is run over and over [s]; a million times that at most, standing for no end.
func (l TorqueLine) Life(duty []DutyBlock, time float64) (float64, error) {
	var f input.Faults
	l.check(&f)
	checkDuty(&f, duty)
	f.Between("drive.TorqueLine.Life: time", time, 1e-3, 1e12, "s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return time * safety(l.damage(duty)), nil
}

// EquivalentTorque returns the torque that does in as many cycles the damage of a duty
// [N·m]: (Σ n·T^p/Σ n)^(1/p), with the slope p of a TorqueLine without knee, 1 to 100
// [-] (ISO 6336-6:2006, from memory). Duty needs a cycle.
func EquivalentTorque(duty []DutyBlock, slope float64) (float64, error) {
	var f input.Faults
	checkDuty(&f, duty)
	f.Between("drive.EquivalentTorque: slope", slope, 1, 100, "")
	var most, cycles float64
	for _, b := range duty {
		cycles += b.Cycles
		if b.Cycles > 0 {
			most = math.Max(most, b.Torque)
		}
	}
	if f.None() && cycles == 0 {
		f.Refuse("drive.EquivalentTorque: cycles", cycles, "", "above 0")
	}
	if err := f.Err(); err != nil || most == 0 {
		return 0, err
	}
	var sum float64
	for _, b := range duty {
		if b.Cycles > 0 { // else its torque may be any number of times the most
			sum += b.Cycles / cycles * math.Pow(b.Torque/most, slope)
		}
	}
	return most * math.Pow(sum, 1/slope), nil
}

func (l *TorqueLine) damage(duty []DutyBlock) (sum float64) {
	for _, b := range duty {
		if b.Cycles > 0 && !(l.Knee && b.Torque < l.Torque) {
			sum += b.Cycles / l.Cycles * math.Min(math.MaxFloat64, math.Pow(b.Torque/l.Torque, l.Slope)) // never 0·∞
		}
	}
	return math.Min(sum, mostCycles)
}

func (l *TorqueLine) check(f *input.Faults) {
	f.Between("drive.TorqueLine.Torque", l.Torque, 1e-9, 1e8, "N·m")
	f.Between("drive.TorqueLine.Cycles", l.Cycles, 1, mostCycles, "")
	f.Between("drive.TorqueLine.Slope", l.Slope, 1, 100, "")
}

func checkDuty(f *input.Faults, duty []DutyBlock) {
	for i, b := range duty {
		if !(b.Torque >= 0 && b.Torque <= 1e8 && b.Cycles >= 0 && b.Cycles <= mostCycles) { // before names are put together
			f.Between(fmt.Sprintf("drive.DutyBlock[%d].Torque", i), b.Torque, 0, 1e8, "N·m")
			f.Between(fmt.Sprintf("drive.DutyBlock[%d].Cycles", i), b.Cycles, 0, mostCycles, "")
		}
	}
}
