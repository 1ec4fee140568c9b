package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Duty is a run and a rest that follow each other over and over: S3 of IEC 60034-1. Without
// rest it is S1; with a rest of many time constants, after which all is cold again, S2.
type Duty struct {
	On  float64 // 1e-3 to 1e9 [s]
	Off float64 // 0 to 1e9 [s]
}

// Validate reports the fields out of range.
func (d Duty) Validate() error {
	var f input.Faults
	d.check(&f)
	return f.Err()
}

func (d *Duty) check(f *input.Faults) {
	f.Between("thermal.Duty.On", d.On, 1e-3, 1e9, "s")
	f.Between("thermal.Duty.Off", d.Off, 0, 1e9, "s")
}

// Factor returns the part of the time it runs, the cyclic duration factor [-].
func (d Duty) Factor() float64 { return d.On / (d.On + d.Off) }

// Peak returns the highest rise of one body under the duty, over that of running for good [-]:
//
//	p = (1 − e^(−on/τ))/(1 − e^(−on/τ − off/τ′))
//
// with time constants of heating and of cooling, which is slower where a fan rests too, each
// 1e-6 to 1e12 [s]. With one τ it is Factor for short cycles and 1 for long runs. The loss must not
// hang on the temperature: [Motor.DutyPeak] is for when it does.
//
// Source: the first-order balance of IEC 60034-1's S2 and S3 (any text on electric drives).
func (d Duty) Peak(heating, cooling float64) (float64, error) {
	var f input.Faults
	d.check(&f)
	f.Between("thermal.Duty.Peak: heating", heating, 1e-6, 1e12, "s")
	f.Between("thermal.Duty.Peak: cooling", cooling, 1e-6, 1e12, "s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	run := d.On / heating
	return math.Expm1(-run) / math.Expm1(-run-d.Off/cooling), nil
}

// Overload returns by how much a current may be above that of running for good, by the peak of its
// duty, 1e-12 to 1 [-], and the loss that does not go with current, while it runs, over the copper
// loss at that current, 0 to 1e3 [-]:
//
//	K² = (1 + a)/p − a
//
// Without the last term, as some print it, fixed loss would be allowed twice.
func Overload(peak, fixed float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Overload: peak", peak, 1e-12, 1, "")
	f.Between("thermal.Overload: fixed", fixed, 0, 1e3, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Sqrt(1/peak + fixed*(1-peak)/peak), nil
}

// Load is a current for a time.
type Load struct {
	Current  float64 // rms a phase, 0 to MostCurrent [A]
	Duration float64 // 1e-6 to 1e9 [s]
}

// RootMeanSquare returns the one current [A] that heats copper as loads do that follow each
// other, 1 to 1e6 of them, in a cycle far shorter than the time constant.
func RootMeanSquare(loads []Load) (float64, error) {
	var f input.Faults
	f.Count("thermal.RootMeanSquare: loads", len(loads), 1, 1e6)
	sum, time := 0.0, 0.0
	for _, l := range loads {
		checkCurrent(&f, "thermal.RootMeanSquare: Current", l.Current)
		f.Between("thermal.RootMeanSquare: Duration", l.Duration, 1e-6, 1e9, "s")
		sum, time = sum+l.Current*l.Current*l.Duration, time+l.Duration
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Sqrt(sum / time), nil
}

// crossing finds the current at which a function that grows is 0: least where it is not below 0
// there, and MostCurrent where it still is then. The function tells by how much a run is
// longer than what may be, −1 where it may last for ever.
func crossing(short func(current float64) float64, least float64) (float64, error) {
	low := short(least)
	if low >= 0 {
		return least, nil
	}
	most := math.Max(2*least, 1e-3)
	for most < MostCurrent && short(most) < 0 {
		most *= 2
	}
	most = math.Min(most, MostCurrent)
	high := short(most)
	if high <= 0 {
		return most, nil
	}
	return root.Between(short, least, low, most, high, 1e-14)
}

// LargestDutyCurrent is [LargestCurrent] under a duty: what a chip and the motor it drives may
// have while they run.
func LargestDutyCurrent(d Duty, c Chip, junctionLimit, chipAmbient float64,
	m Motor, windingLimit, motorAmbient float64) (CurrentLimit, error) {
	chip, err := c.DutyCurrent(d, junctionLimit, chipAmbient)
	var f input.Faults
	f.Add(err)
	motor, err := m.DutyCurrent(d, windingLimit, motorAmbient)
	f.Add(err)
	if err := f.Err(); err != nil {
		return CurrentLimit{}, err
	}
	return CurrentLimit{Bridge: chip, Winding: motor}, nil
}
