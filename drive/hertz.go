package drive

import (
	"math"

	"meltflight/internal/input"
)

// LineContact is two parallel cylinders pressed together.
type LineContact struct {
	Force   float64    // 0 to 1e12 [N]
	Length  float64    // 1e-6 to 10 [m]
	Radius  [2]float64 // the first 1e-6 to 1e3, the second so too, or below -1.001 times the first for a hollow one around it [m]
	Young   [2]float64 // 1e7 to 1e12 [Pa]
	Poisson [2]float64 // 0 to 0.5 [-]
}

// LineStress is what [LineContact.Stress] finds.
type LineStress struct {
	Pressure  float64 // largest, at the middle of the contact [Pa]
	HalfWidth float64 // of the contact [m]
	Shear     float64 // largest, below the surface [Pa]
	Depth     float64 // of the largest shear [m]
}

// The largest shear under a line contact and where it is, in pressures and half widths,
// to all digits of closed form: K. L. Johnson, Contact Mechanics (1985), section 4.2, prints 0.30 and 0.78.
const lineShear, lineDepth = 0.30028310600, 0.78615137776

// Stress returns pressure and shear by H. Hertz (1881), as in K. L. Johnson, Contact
// Mechanics (1985), section 4.2: p = √(F·E*/(π·l·R)), 1/R = 1/r₁ + 1/r₂, 1/E* =
// Σ(1 − ν²)/E. Both bodies elastic, smooth and large against the contact.
func (c LineContact) Stress() (LineStress, error) {
	var f input.Faults
	f.Between("drive.LineContact.Force", c.Force, 0, 1e12, "N")
	f.Between("drive.LineContact.Length", c.Length, 1e-6, 10, "m")
	f.Between("drive.LineContact.Radius[0]", c.Radius[0], 1e-6, 1e3, "m")
	if c.Radius[1] < 0 {
		f.Between("drive.LineContact.Radius[1]", c.Radius[1], -1e6, -1.001*math.Max(1e-6, c.Radius[0]), "m")
	} else {
		f.Between("drive.LineContact.Radius[1]", c.Radius[1], 1e-6, 1e3, "m")
	}
	f.Between("drive.LineContact.Young[0]", c.Young[0], 1e7, 1e12, "Pa")
	f.Between("drive.LineContact.Young[1]", c.Young[1], 1e7, 1e12, "Pa")
	f.Between("drive.LineContact.Poisson[0]", c.Poisson[0], 0, 0.5, "")
	f.Between("drive.LineContact.Poisson[1]", c.Poisson[1], 0, 0.5, "")
	if err := f.Err(); err != nil {
		return LineStress{}, err
	}
	line := c.Force / c.Length
	curvature := 1/c.Radius[0] + 1/c.Radius[1]
	p := elastic(c.Young[0], c.Poisson[0], c.Young[1], c.Poisson[1]) * math.Sqrt(line*curvature)
	s := LineStress{Pressure: p, Shear: lineShear * p}
	if p > 0 {
		s.HalfWidth = 2 * line / (math.Pi * p)
	}
	s.Depth = lineDepth * s.HalfWidth
	return s, nil
}
