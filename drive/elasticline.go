package drive

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

// elasticLine is a shaft as bending sees it, from left to right.
type elasticLine []flexible

// flexible is a stretch of one section.
type flexible struct {
	from, to float64 // [m]
	give     float64 // 1/EI [1/(N·m²)]
	modulus  float64 // of section [m³]
}

// supports is an elastic line on its bearings, their equations factored for any load.
type supports struct {
	line      elasticLine
	bearings  []ShaftBearing
	unit      float64 // of deflection by force: of the whole shaft, or of its softest bearing [m/N]
	equations mat.LU
}

// At worstCondition a solution keeps some four of its sixteen digits.
const worstCondition = 1e12

func (s *StepShaft) supports() (*supports, error) {
	line, x, flexibility := make(elasticLine, 0, len(s.Segments)), 0.0, 0.0
	for i := range s.Segments {
		g := &s.Segments[i]
		second := math.Pi / 64 * (square(g.Diameter) - square(g.Bore)) * (square(g.Diameter) + square(g.Bore))
		give := 1 / (s.Modulus * second)
		line = append(line, flexible{from: x, to: x + g.Length, give: give, modulus: 2 * second / g.Diameter})
		x += g.Length
		flexibility += give * g.Length
	}
	u := &supports{line: line, bearings: make([]ShaftBearing, len(s.Bearings)), unit: x * x * flexibility}
	for i, b := range s.Bearings {
		b.Position = min(b.Position, x)
		u.bearings[i] = b
		u.unit = max(u.unit, b.Give)
	}
	n := len(u.bearings)
	m := mat.NewDense(n+2, n+2, nil)
	for i, b := range u.bearings {
		for j, c := range u.bearings[:i] {
			w, _ := line.bentBy(&PointLoad{Position: c.Position, Force: 1}, b.Position)
			m.Set(i, j, w/u.unit)
		}
		m.Set(i, i, b.Give/u.unit)
		m.Set(i, n, 1)
		m.Set(i, n+1, b.Position/x)
		m.Set(n, i, 1)
		m.Set(n+1, i, b.Position/x)
	}
	u.equations.Factorize(m)
	if c := u.equations.Cond(); !(c <= worstCondition) {
		var f input.Faults
		f.Refuse("drive.StepShaft.Bearings: condition number of their equations", c, "", input.Range(1, worstCondition, "")+
			", with bearings farther apart or a more even shaft")
		return nil, f.Err()
	}
	return u, nil
}

// bend returns the shaft bent by loads.
func (u *supports) bend(loads []PointLoad, beyond []string) ShaftBending {
	n, length := len(u.bearings), u.line.length()
	b := ShaftBending{
		Reactions: make([]float64, n), Beyond: beyond, line: u.line, carried: make([]PointLoad, 0, len(loads)+n),
	}
	for _, l := range loads {
		l.Position = min(l.Position, length)
		b.carried = append(b.carried, l)
	}
	known, free := mat.NewVecDense(n+2, nil), mat.NewVecDense(n+2, nil)
	force, couple := 0.0, 0.0
	for i := range b.carried {
		l := &b.carried[i]
		for j, c := range u.bearings {
			w, _ := u.line.bentBy(l, c.Position)
			known.SetVec(j, known.AtVec(j)-w/u.unit)
		}
		force += l.Force
		couple += l.Force*l.Position + l.Couple
	}
	known.SetVec(n, -force)
	known.SetVec(n+1, -couple/length)
	// Its error tells of a condition number that supports has refused already.
	_ = u.equations.SolveVecTo(free, false, known)
	for i, c := range u.bearings {
		b.Reactions[i] = free.AtVec(i)
		b.carried = append(b.carried, PointLoad{Position: c.Position, Force: b.Reactions[i]})
	}
	b.lift, b.tilt = free.AtVec(n)*u.unit, free.AtVec(n+1)*u.unit/length
	return b
}

func (e elasticLine) length() float64 {
	if len(e) == 0 {
		return 0
	}
	return e[len(e)-1].to
}

// bentBy returns deflection and slope at x of the shaft clamped to the left of a load.
// Each stretch adds ∫ M/EI and ∫ (x − s)·M/EI; no term of a force cancels another.
func (e elasticLine) bentBy(l *PointLoad, x float64) (deflection, slope float64) {
	for i := range e {
		from, to := max(e[i].from, l.Position), min(e[i].to, x)
		h := to - from
		if h <= 0 {
			continue
		}
		before, after, give := from-l.Position, x-to, e[i].give
		slope += give * h * (l.Force*(before+h/2) - l.Couple)
		deflection += give * h * (l.Force*(before*after+(before+after)*h/2+h*h/6) - l.Couple*(after+h/2))
	}
	return deflection, slope
}

// modulus returns the modulus of section at x, of the thinner side of a step.
func (e elasticLine) modulus(x float64) float64 {
	least, near := math.Inf(1), lengthSlack*e.length()
	for i := range e {
		if e[i].from <= x+near && e[i].to >= x-near {
			least = min(least, e[i].modulus)
		}
	}
	return least
}
