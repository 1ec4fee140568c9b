package drive

import (
	"math"

	"meltflight/internal/input"
)

// Shoulder is a step of a round shaft with a fillet.
type Shoulder struct {
	Large  float64 // larger diameter, 1e-4 to 10 [m]
	Small  float64 // smaller diameter, 1e-4 to 10, below Large [m]
	Radius float64 // of the fillet, 1e-6 to 1 [m]
}

// Bending returns the stress concentration factor K_t on the nominal stress of
// the smaller diameter in bending [-]: W. D. Pilkey and D. F. Pilkey, Peterson's Stress
// Concentration Factors, 3rd ed. (2008), chart 3.10. For a step (Large − Small)/2 of 0.1
// to 20 fillet radii; the fit keeps within some 4 % of readings of the chart.
func (s Shoulder) Bending() (float64, error) {
	var f input.Faults
	s.check(&f)
	s.checkStep(&f, 0.1, 20)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return s.bending(), nil
}

// Torsion returns the stress concentration factor K_ts in torsion [-]: Peterson's,
// 3rd ed. (2008), chart 3.12. For a step of 0.25 to 4 fillet radii.
func (s Shoulder) Torsion() (float64, error) {
	var f input.Faults
	s.check(&f)
	s.checkStep(&f, 0.25, 4)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return s.torsion(), nil
}

// Axial returns the stress concentration factor K_t in tension or compression [-]:
// Peterson's, 3rd ed. (2008), chart 3.4. For a step of 0.1 to 20 fillet radii.
func (s Shoulder) Axial() (float64, error) {
	var f input.Faults
	s.check(&f)
	s.checkStep(&f, 0.1, 20)
	if err := f.Err(); err != nil {
		return 0, err
	}
	x := s.step()
	c := peterson{
		{0.926, 1.157, -0.099}, {0.012, -3.036, 0.961}, {-0.302, 3.977, -1.744}, {0.365, -2.098, 0.878},
	}
	if x > 2 {
		c = peterson{
			{1.200, 0.860, -0.022}, {-1.805, -0.346, -0.038}, {2.198, -0.486, 0.165}, {-0.593, -0.028, -0.106},
		}
	}
	return c.at(x, s.depth()), nil
}

// Fatigue returns the fatigue notch factors K_f in bending and K_fs in torsion [-]
// that a Shaft of a steel's tensile strength, 345e6 to 1517e6 [Pa], takes:
// K_f = 1 + q(K_t − 1) with the q of NotchSensitivity. For a step of 0.25 to 4 radii.
func (s Shoulder) Fatigue(ultimate float64) (bending, torsion float64, err error) {
	var f input.Faults
	s.check(&f)
	s.checkStep(&f, 0.25, 4)
	f.Between("drive.Shoulder.Fatigue: ultimate", ultimate, softest, hardest, "Pa")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	q, qs := sensitivity(ultimate, s.Radius)
	return 1 + q*(s.bending()-1), 1 + qs*(s.torsion()-1), nil
}

// NotchSensitivity returns Neuber's notch sensitivity of steel in bending or axial
// load and in torsion [-], for a tensile strength, 345e6 to 1517e6 [Pa], and a notch
// radius, 1e-6 to 1 [m]: q = 1/(1 + √(a/r)), with Neuber's constant by Shigley's
// Mechanical Engineering Design, 9th ed. (2011), eqs. 6-34 and 6-35.
func NotchSensitivity(ultimate, radius float64) (bending, torsion float64, err error) {
	var f input.Faults
	f.Between("drive.NotchSensitivity: ultimate", ultimate, softest, hardest, "Pa")
	f.Between("drive.NotchSensitivity: radius", radius, 1e-6, 1, "m")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	bending, torsion = sensitivity(ultimate, radius)
	return bending, torsion, nil
}

const (
	softest, hardest = 345e6, 1517e6 // 50 to 220 kpsi, range of Neuber's constant [Pa]
	kpsi             = 6.894757293168e6
	inch             = 0.0254
)

// sensitivity takes the polynomials as published, in √inch by kpsi.
func sensitivity(ultimate, radius float64) (bending, torsion float64) {
	s, root := ultimate/kpsi, math.Sqrt(radius/inch)
	b := 0.246 + s*(-3.08e-3+s*(1.51e-5-2.67e-8*s))
	t := 0.190 + s*(-2.51e-3+s*(1.35e-5-2.67e-8*s))
	return 1 / (1 + b/root), 1 / (1 + t/root)
}

// check allows any step; checkStep follows for the range of a chart.
func (s Shoulder) check(f *input.Faults) {
	f.Between("drive.Shoulder.Large", s.Large, 1e-4, 10, "m")
	f.Between("drive.Shoulder.Small", s.Small, 1e-4, max(1e-4, min(s.Large, 10)), "m")
	f.Between("drive.Shoulder.Radius", s.Radius, 1e-6, 1, "m")
}

func (s Shoulder) checkStep(f *input.Faults, lo, hi float64) {
	if !f.None() {
		return
	}
	// A billionth of slack, since the ends of the range in metres have rounding.
	if x := s.step(); x < lo*(1-1e-9) || x > hi*(1+1e-9) {
		f.Refuse("drive.Shoulder: step (Large − Small)/2 ÷ Radius", x, "", input.Range(lo, hi, ""))
	}
}

func (s Shoulder) step() float64  { return (s.Large - s.Small) / (2 * s.Radius) }
func (s Shoulder) depth() float64 { return (s.Large - s.Small) / s.Large }

func (s Shoulder) bending() float64 {
	x := s.step()
	c := peterson{
		{0.947, 1.206, -0.131}, {0.022, -3.405, 0.915}, {0.869, 1.777, -0.555}, {-0.810, 0.422, -0.260},
	}
	if x > 2 {
		c = peterson{
			{1.232, 0.832, -0.008}, {-3.813, 0.968, -0.260}, {7.423, -4.868, 0.869}, {-3.839, 3.070, -0.600},
		}
	}
	return c.at(x, s.depth())
}

func (s Shoulder) torsion() float64 {
	c := peterson{
		{0.905, 0.783, -0.075}, {-0.437, -1.969, 0.553}, {1.557, 1.073, -0.578}, {-1.061, 0.171, 0.086},
	}
	return c.at(s.step(), s.depth())
}

// peterson is how the charts are fitted: a cubic in the step ÷ half the larger diameter,
// whose coefficients are quadratic in the root of the step ÷ radius.
type peterson [4][3]float64

func (c peterson) at(step, depth float64) float64 {
	root, k := math.Sqrt(step), 0.0
	for i := len(c) - 1; i >= 0; i-- {
		k = k*depth + c[i][0] + c[i][1]*root + c[i][2]*step
	}
	return max(1, k)
}
