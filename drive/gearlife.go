package drive

import (
	"math"

	"meltflight/internal/input"
)

// LifeCurve is how much more than for ever a tooth bears for a number of load cycles: Most
// up to Few cycles, 1 from Many on, a straight line in the logarithms between. The zero
// value bears the same for any number.
type LifeCurve struct {
	Most float64 // 1 to 10 [-]
	Few  float64 // 1 to 1e9 [-]
	Many float64 // twice Few to 1e10 [-]
}

// GearLife is the life curve of a steel's tooth root and flank.
type GearLife struct {
	Root, Flank LifeCurve
}

// QuenchedLife, CaseLife and NitridedLife return the curves of teeth quenched and
// tempered, case-hardened, and of nitriding steel nitrided: Y_NT of ISO 6336-3 and Z_NT,
// without pits allowed, of ISO 6336-2 (2006, from memory). Past Many those standards let the
// factor fall to 0.85 at 1e10 cycles unless all about the gear is of the best; here it
// stays 1.
func QuenchedLife() GearLife {
	return GearLife{Root: LifeCurve{2.5, 1e4, 3e6}, Flank: LifeCurve{1.6, 1e5, 5e7}}
}

// CaseLife: see [QuenchedLife].
func CaseLife() GearLife {
	return GearLife{Root: LifeCurve{2.5, 1e3, 3e6}, Flank: LifeCurve{1.6, 1e5, 5e7}}
}

// NitridedLife: see [QuenchedLife].
func NitridedLife() GearLife {
	return GearLife{Root: LifeCurve{1.6, 1e3, 3e6}, Flank: LifeCurve{1.3, 1e5, 2e6}}
}

// Factor returns Y_NT or Z_NT for a number of load cycles, 0 to 1e15 [-].
func (c LifeCurve) Factor(cycles float64) (float64, error) {
	var f input.Faults
	c.check(&f, "drive.LifeCurve")
	f.Between("drive.LifeCurve.Factor: cycles", cycles, 0, mostCycles, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return c.factor(cycles), nil
}

// Cycles returns how many load cycles the tooth bears at a stress that is so many times,
// 0 to 1e6, what it bears for ever: 1e15, standing for no end, up to 1, and none above Most [-].
func (c LifeCurve) Cycles(over float64) (float64, error) {
	var f input.Faults
	c.check(&f, "drive.LifeCurve")
	f.Between("drive.LifeCurve.Cycles: stress", over, 0, 1e6, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return c.cycles(over), nil
}

func (c LifeCurve) cycles(over float64) float64 {
	switch {
	case over <= 1:
		return mostCycles
	case over > c.Most:
		return 0
	}
	return c.Many * math.Pow(over, -c.Slope())
}

// Slope returns the exponent p of N·σ^p = constant on the falling part [-], 0 for the
// zero value. A root's stress grows as the torque, a flank's as its root: on torque a
// flank's exponent is half of it.
func (c LifeCurve) Slope() float64 {
	if !(c.Most > 1) {
		return 0
	}
	return math.Log(c.Many/c.Few) / math.Log(c.Most)
}

const mostCycles = 1e15

func (c LifeCurve) check(f *input.Faults, owner string) {
	if c == (LifeCurve{}) || c.Most >= 1 && c.Most <= 10 && c.Few >= 1 && c.Few <= 1e9 && c.Many >= 2*c.Few && c.Many <= 1e10 {
		return // before names are put together
	}
	f.Between(owner+".Most", c.Most, 1, 10, "")
	f.Between(owner+".Few", c.Few, 1, 1e9, "")
	f.Between(owner+".Many", c.Many, 2*math.Max(1, math.Min(1e9, c.Few)), 1e10, "")
}

func (c LifeCurve) factor(cycles float64) float64 {
	switch {
	case c == LifeCurve{} || cycles >= c.Many:
		return 1
	case cycles <= c.Few:
		return c.Most
	}
	return math.Pow(c.Most, math.Log(c.Many/cycles)/math.Log(c.Many/c.Few))
}
