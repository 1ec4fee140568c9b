package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrStubby accompanies a frequency of a beam too short for its height, or of a
// mode too high, for Euler-Bernoulli theory: the frequency stands but is too high,
// on pinned ends by more than 4 % for a solid bar and 6 % for a thin tube and on
// clamped ends by up to twice that, because shear and the turning of the section
// are left out. The message tells how far the limit is passed.
var ErrStubby = errors.New("beam too stubby for bending theory")

// stubby is the largest wave number × radius of gyration without ErrStubby. At it
// Timoshenko's beam on pinned ends is 3.9 % lower with κ 5/6 and 5.8 % with 1/2; at
// 0.27 a solid clamped bar is 24 % too high (Lee and Schultz, J. Sound Vib. 269
// (2004) 609, h/L = 0.2, from memory).
const stubby = 0.14

// Beam is a straight uniform member.
type Beam struct {
	Length  float64        // 1e-3 to 1000 [m]
	Section Section        // cross-section
	Metal   material.Metal // its Density, Young and Poisson count here
}

// Validate reports fields out of range.
func (b Beam) Validate() error {
	var f input.Faults
	f.Between("frame.Beam.Length", b.Length, 1e-3, 1000, "m")
	f.Add(b.Section.Validate())
	elastic(&f, b.Metal)
	return f.Err()
}

// elastic refuses a metal whose density and elasticity are out of the ranges of
// material.Metal; the rest of it plays no part in vibration.
func elastic(f *input.Faults, m material.Metal) {
	f.Between("material.Metal.Density", m.Density, 500, 25000, "kg/m³")
	f.Between("material.Metal.Young", m.Young, 1e8, 1e12, "Pa")
	f.Between("material.Metal.Poisson", m.Poisson, 0, 0.5, "")
}

// Mass returns the mass of the beam [kg].
func (b Beam) Mass() float64 { return b.Metal.Density * b.Section.Area * b.Length }

// rigidity returns EI/L³ for vertical and horizontal bending [N/m].
func (b *Beam) rigidity() (vertical, horizontal float64) {
	e := b.Metal.Young / (b.Length * b.Length * b.Length)
	return e * b.Section.Iy, e * b.Section.Iz
}

// Frequency returns the natural frequencies [Hz] of the bare beam in vertical and
// horizontal bending, for modes 1 to 1000; [Eigenvalue] gives the source. It errs
// on a beam, ends or mode out of range; with [ErrStubby] the values are returned too.
func (b Beam) Frequency(ends Ends, mode int) (vertical, horizontal float64, err error) {
	var f input.Faults
	f.Add(b.Validate())
	eigen, err := Eigenvalue(ends, mode)
	f.Add(err)
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	v, h := b.rigidity()
	scale := eigen * eigen / (2 * math.Pi)
	return scale * math.Sqrt(v/b.Mass()), scale * math.Sqrt(h/b.Mass()), b.slender(eigen)
}

// slender returns ErrStubby with the amount if bending theory does not hold for βL.
func (b *Beam) slender(eigen float64) error {
	y, z := b.Section.Gyration()
	if x := eigen * math.Max(y, z) / b.Length; x > stubby {
		return fmt.Errorf("%w: wave number × radius of gyration is %.3g, at most %g", ErrStubby, x, stubby)
	}
	return nil
}

// Stiffness returns force ÷ deflection [N/m] in vertical and horizontal bending
// under the force: at the free or guided end of ClampedFree (3EI/L³) and
// ClampedGuided (12), at mid-span of PinnedPinned (48), ClampedPinned (768/7) and
// ClampedClamped (192). It errs on a beam out of range and on other ends.
// Source: W. Young and R. Budynas, Roark's Formulas for Stress and Strain, 7th
// ed., Table 8.1, from memory; the checks derive them anew.
func (b Beam) Stiffness(ends Ends) (vertical, horizontal float64, err error) {
	var f input.Faults
	f.Add(b.Validate())
	var factor float64
	switch ends {
	case ClampedFree:
		factor = 3
	case ClampedGuided:
		factor = 12
	case PinnedPinned:
		factor = 48
	case ClampedPinned:
		factor = 768.0 / 7
	case ClampedClamped:
		factor = 192
	default:
		f.Refuse("frame.Beam.Stiffness: ends "+ends.String(), float64(ends), "", "ends that hold a beam at rest under a force across it")
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	v, h := b.rigidity()
	return factor * v, factor * h, nil
}
