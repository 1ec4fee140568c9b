package frame

import (
	"math"

	"meltflight/internal/input"
)

// Shock is what a pulse of acceleration does to a mass on a spring on the base it
// moves: ω² times the largest deflection ÷ the pulse's highest acceleration [-].
// Without damping that is the mass's own highest acceleration ÷ the pulse's.
type Shock struct {
	During float64 // while the pulse lasts
	After  float64 // from its end on
}

// Most is the larger of both, the pulse's shock spectrum.
func (s Shock) Most() float64 { return math.Max(s.During, s.After) }

// Shock returns what a pulse does to a vibration of a frequency, 1e-3 to 1e6 [Hz],
// and damping ratio, 0 to 0.3 [-]; zero for a pulse without acceleration. It errs on
// arguments out of range.
//
// Exact for any pulse of pieces, as [Profile.Response]; such spectra are drawn by
// R. Ayre in Harris, Shock and Vibration Handbook, ch. 8, from memory. After long pulses
// of high frequency the phase is lost in rounding.
func (p Profile) Shock(frequency, damping float64) (Shock, error) {
	r, err := p.Response(Tone{frequency, damping, 1})
	if err != nil {
		return Shock{}, err
	}
	most := p.Greatest()
	if most == 0 {
		return Shock{}, nil
	}
	omega := 2 * math.Pi * frequency
	return Shock{r.During * omega * omega / most, r.After * omega * omega / most}, nil
}

// HalfSineShock returns what half a wave of a sine, the push of a bump or a blow,
// does to an undamped vibration that would go through a number of cycles, 1e-6 to
// 1e6 [-], while it lasts. It errs on another number.
//
// Closed form, Ayre as above; A. K. Chopra, Dynamics of Structures, 4.8, from memory:
// with b = 1/(2·cycles), sin(2πkb/(1+b))/(1−b) at the k-th peak during the pulse,
// 2b·cos(π/2b)/(1−b²) after it.
func HalfSineShock(cycles float64) (Shock, error) {
	var f input.Faults
	f.Between("frame.HalfSineShock: cycles", cycles, 1e-6, 1e6, "")
	if err := f.Err(); err != nil {
		return Shock{}, err
	}
	b := 1 / (2 * cycles)
	// Each as sin(y)/y, which stays finite where frequency and pulse agree, b = 1.
	s := Shock{After: math.Pi / (1 + b) * math.Abs(sinc(math.Pi*(b-1)/(2*b)))}
	if b >= 1 { // still rising at the end
		s.During = math.Pi / (1 + b) * sinc(math.Pi*(b-1)/b)
		return s, nil
	}
	// The peaks lie at Ωt = 2πkb/(1+b) < π; the highest is the one nearest to π/2.
	last := math.Floor((1 + b) / (2 * b))
	near := math.Floor((1 + b) / (4 * b))
	for _, k := range [2]float64{near, near + 1} {
		if k = math.Max(1, math.Min(last, k)); k == 1 {
			s.During = math.Max(s.During, math.Pi/(1+b)*sinc(math.Pi*(1-b)/(1+b)))
		} else {
			s.During = math.Max(s.During, math.Sin(2*math.Pi*k*b/(1+b))/(1-b))
		}
	}
	return s, nil
}

// sinc is sin(x)/x.
func sinc(x float64) float64 {
	if x == 0 {
		return 1
	}
	return math.Sin(x) / x
}
