package drive

import (
	"meltflight/internal/input"
)

// Groove is a groove of U shape around a round shaft, its bottom a half circle. The flat
// bottom of a ring's groove, with Radius that of its corner, has somewhat less. Each fit has two
// branches that part by up to 4 % where they meet, at a depth of two radii.
type Groove struct {
	Outer  float64 // diameter of the shaft, 1e-4 to 10 [m]
	Bottom float64 // diameter at the bottom, 1e-4 to 10, below Outer [m]
	Radius float64 // of the bottom, 1e-6 to 1 [m]
}

// Bending returns the stress concentration factor K_t on the nominal stress of the bottom
// diameter in bending [-]: W. D. Pilkey and D. F. Pilkey, Peterson's Stress Concentration
// Factors, 3rd ed. (2008), chart 2.41 (its number from memory). For a depth (Outer − Bottom)/2 of
// 0.25 to 50 radii.
func (g Groove) Bending() (float64, error) {
	if err := g.faults(0.25); err != nil {
		return 0, err
	}
	return g.bending(), nil
}

// Torsion returns the stress concentration factor K_ts in torsion [-]: Peterson's, 3rd ed.
// (2008), chart 2.47 (its number from memory). For a depth of 0.25 to 50 radii.
func (g Groove) Torsion() (float64, error) {
	if err := g.faults(0.25); err != nil {
		return 0, err
	}
	return g.torsion(), nil
}

// Axial returns the stress concentration factor K_t in tension or compression [-]: Peterson's,
// 3rd ed. (2008), chart 2.19 (its number from memory). For a depth of 0.1 to 50 radii.
func (g Groove) Axial() (float64, error) {
	if err := g.faults(0.1); err != nil {
		return 0, err
	}
	x := g.step()
	c := peterson{
		{0.89, 2.208, -0.094}, {-0.923, -6.678, 1.638}, {2.893, 6.448, -2.516}, {-1.912, -1.944, 0.963},
	}
	if x > 2 {
		c = peterson{
			{1.037, 1.967, 0.002}, {-2.679, -2.980, -0.053}, {3.090, 2.124, 0.165}, {-0.424, -1.153, -0.106},
		}
	}
	return c.at(x, g.depth()), nil
}

// Fatigue returns the fatigue notch factors K_f in bending and K_fs in torsion [-] that a
// Shaft of a steel's tensile strength, 345e6 to 1517e6 [Pa], takes, as Shoulder.Fatigue does. For a
// depth of 0.25 to 50 radii.
func (g Groove) Fatigue(ultimate float64) (bending, torsion float64, err error) {
	var f input.Faults
	f.Add(g.faults(0.25))
	f.Between("drive.Groove.Fatigue: ultimate", ultimate, softest, hardest, "Pa")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	q, qs := sensitivity(ultimate, g.Radius)
	return 1 + q*(g.bending()-1), 1 + qs*(g.torsion()-1), nil
}

func (g Groove) faults(least float64) error {
	var f input.Faults
	f.Between("drive.Groove.Outer", g.Outer, 1e-4, 10, "m")
	f.Between("drive.Groove.Bottom", g.Bottom, 1e-4, max(1e-4, min(g.Outer, 10)), "m")
	f.Between("drive.Groove.Radius", g.Radius, 1e-6, 1, "m")
	if f.None() {
		// A billionth of slack, since the ends of the range in metres have rounding.
		if x := g.step(); x < least*(1-1e-9) || x > 50*(1+1e-9) {
			f.Refuse("drive.Groove: depth (Outer − Bottom)/2 ÷ Radius", x, "", input.Range(least, 50, ""))
		}
	}
	return f.Err()
}

func (g Groove) step() float64  { return (g.Outer - g.Bottom) / (2 * g.Radius) }
func (g Groove) depth() float64 { return (g.Outer - g.Bottom) / g.Outer }

func (g Groove) bending() float64 {
	x := g.step()
	c := peterson{
		{0.594, 2.958, -0.520}, {0.422, -10.545, 2.692}, {0.501, 14.375, -4.486}, {-0.613, -6.573, 2.177},
	}
	if x > 2 {
		c = peterson{
			{0.965, 1.926, 0}, {-2.773, -4.414, -0.017}, {4.785, 4.681, 0.096}, {-1.995, -2.241, -0.074},
		}
	}
	return c.at(x, g.depth())
}

func (g Groove) torsion() float64 {
	x := g.step()
	c := peterson{
		{0.966, 1.056, -0.022}, {-0.192, -4.037, 0.674}, {0.808, 5.321, -1.231}, {-0.567, -2.364, 0.566},
	}
	if x > 2 {
		c = peterson{
			{1.089, 0.924, 0.018}, {-1.504, -2.141, -0.047}, {2.486, 2.289, 0.091}, {-1.056, -1.104, -0.059},
		}
	}
	return c.at(x, g.depth())
}
