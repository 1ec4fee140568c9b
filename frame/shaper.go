package frame

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Shaper splits a command into a few delayed parts whose ringing cancels: two
// (zero vibration), three (zero vibration and derivative, far less sensitive to
// the frequency) or four (second derivative too). Each part more costs half a
// period of the vibration on every move.
//
// Amplitudes and times: N. C. Singer, W. P. Seering, Preshaping Command Inputs to
// Reduce System Vibration, ASME J. Dyn. Sys. Meas. Control 112 (1990) 76, from memory.
type Shaper struct {
	Frequency float64 // undamped, that it is made for, 1e-3 to 1e6 [Hz]
	Damping   float64 // ratio ζ that it is made for, 0 to 0.3 [-]
	Impulses  int     // parts, 2 to 4
}

// Validate reports fields out of range.
func (s Shaper) Validate() error {
	var f input.Faults
	f.Between("frame.Shaper.Frequency", s.Frequency, leastFrequency, mostFrequency, "Hz")
	f.Between("frame.Shaper.Damping", s.Damping, 0, mostDamping, "")
	f.Count("frame.Shaper.Impulses", s.Impulses, 2, 4)
	return f.Err()
}

// ShaperOver returns the shaper for a frequency that drifts between two, 1e-3 to 1e6
// [Hz], such as those of a full and an empty hopper, made for their mean, and the
// largest residual over the drift; damping is 0 to 0.3 [-], impulses 2 to 4. It
// errs on arguments out of range.
//
// Without damping no other centre does better; with it, the lower end rings a
// little more than the upper.
func ShaperOver(lowest, highest, damping float64, impulses int) (s Shaper, residual float64, err error) {
	var f input.Faults
	f.Between("frame.ShaperOver: highest frequency", highest, leastFrequency, mostFrequency, "Hz")
	if f.None() {
		f.Between("frame.ShaperOver: lowest frequency", lowest, leastFrequency, highest, "Hz")
	}
	s = Shaper{0.5*lowest + 0.5*highest, damping, impulses}
	if f.None() {
		f.Add(s.Validate())
	}
	if err := f.Err(); err != nil {
		return Shaper{}, 0, err
	}
	return s, math.Max(s.residual(lowest, damping), s.residual(highest, damping)), nil
}

// decay is K of a valid shaper, by how much the vibration decays in half a period.
func (s *Shaper) decay() float64 {
	return math.Exp(-s.Damping * math.Pi / math.Sqrt(1-s.Damping*s.Damping))
}

// spacing is the time between two parts of a valid shaper, half the damped period [s].
func (s *Shaper) spacing() float64 {
	return 0.5 / (s.Frequency * math.Sqrt(1-s.Damping*s.Damping))
}

// Delay returns by how much a valid shaper prolongs every move [s].
func (s Shaper) Delay() float64 { return float64(s.Impulses-1) * s.spacing() }

// Impulse returns the share of the command in a part, counted from 0, and when it
// starts [s], of a valid shaper; no other part has a share. The shares sum to 1:
// terms of (1+K)ⁿ⁻¹ over their sum.
func (s Shaper) Impulse(part int) (share, delay float64) {
	if part < 0 || part >= s.Impulses {
		return 0, 0
	}
	k := s.decay()
	share = 1
	for i := 1; i < s.Impulses; i++ {
		share /= 1 + k
	}
	for i := range part {
		share *= k * float64(s.Impulses-1-i) / float64(i+1)
	}
	return share, float64(part) * s.spacing()
}

// Residual returns V, the ringing that a shaped command leaves ÷ what the command
// alone leaves at its own end, of a vibration of a frequency, 1e-3 to 1e6 [Hz], and
// damping ratio, 0 to 0.3 [-]: times Ringing.AfterMove it is the amplitude at the
// end of the shaped move. It errs on a shaper or arguments out of range.
//
// V = e^(−ζωt_n)·|Σ A_i·e^((ζ+i√(1−ζ²))ωt_i)|, Singer and Seering as above; the
// printed form D. Newman, S.-W. Hong, J. E. Vaughan, ASME J. Dyn. Sys. Meas. Control
// 140 (2018) 101005.
func (s Shaper) Residual(frequency, damping float64) (float64, error) {
	var f input.Faults
	f.Add(s.Validate())
	oscillator(&f, frequency, damping)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return s.residual(frequency, damping), nil
}

// residual is that of a pair of impulses, to the power of the pairs there are.
func (s *Shaper) residual(frequency, damping float64) float64 {
	x := 2 * math.Pi * frequency * s.spacing()
	free := math.Sqrt(1 - damping*damping)
	k, decay := s.decay(), math.Exp(-damping*x)
	// |decay + k·e^(iφ)| with φ near π, where the two cancel.
	gap := decay - k
	cos := math.Cos(0.5 * free * x)
	pair := math.Sqrt(gap*gap+4*k*decay*cos*cos) / (1 + k)
	v := pair
	for range s.Impulses - 2 {
		v *= pair
	}
	return v
}

// Insensitivity returns between which frequencies the residual stays at or below
// a level, 1e-6 to 0.5 [-], the damping ratio being right [Hz]; highest is at most
// twice the shaper's frequency. It errs on a shaper or a level out of range.
func (s Shaper) Insensitivity(level float64) (lowest, highest float64, err error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Between("frame.Shaper.Insensitivity: level", level, 1e-6, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	excess := func(ratio float64) float64 { return s.residual(ratio*s.Frequency, s.Damping) - level }
	// The residual falls all the way from 1 at rest, and rises up to near twice the
	// frequency, where the decay of the later parts takes over.
	lowest, err = root.Find(excess, 0, 1, 1e-12)
	if err != nil {
		return 0, 0, err
	}
	most, k := 2.0, s.decay()
	if k < 1 {
		rise := func(ratio float64) float64 {
			return math.Log(k)*(math.Pow(k, ratio)+k*math.Cos(math.Pi*ratio)) - math.Pi*k*math.Sin(math.Pi*ratio)
		}
		if most, err = root.Find(rise, 1.5, 2, 1e-12); err != nil {
			return 0, 0, err
		}
	}
	highest = 2
	if excess(most) > 0 {
		if highest, err = root.Find(excess, 1, most, 1e-12); err != nil {
			return 0, 0, err
		}
	}
	return lowest * s.Frequency, highest * s.Frequency, nil
}
