package material

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
)

// curve is ln η over ln rate and temperature with coordinates to be found. It puts the
// derivatives by the coordinates into the gradient and returns ln η.
type curve func(coordinates []float64, logRate, temperature float64, gradient []float64) float64

// solution is what a search found.
type solution struct {
	coordinates []float64
	covariance  [][]float64
	residual    float64 // standard deviation at weight 1
	freedom     int
}

// worstCondition is how unlike the best and the worst determined combination of
// coordinates may be, each coordinate taken by its own effect.
const worstCondition = 1e6

// linearise returns the weighted residuals and derivatives at some coordinates.
func (t *table) linearise(c curve, at []float64) (residuals *mat.VecDense, jacobian *mat.Dense) {
	residuals, jacobian = mat.NewVecDense(len(t.x), nil), mat.NewDense(len(t.x), len(at), nil)
	g := make([]float64, len(at))
	for i := range t.x {
		residuals.SetVec(i, t.root[i]*(t.y[i]-c(at, t.x[i], t.temperature[i], g)))
		for j, v := range g {
			jacobian.Set(i, j, t.root[i]*v)
		}
	}
	return residuals, jacobian
}

// local is the linear problem at some coordinates: residuals and derivatives, these
// taken apart by singular values with each coordinate scaled by its own effect.
type local struct {
	sum    float64   // of squares of the residuals
	scale  []float64 // of the coordinates, 0 for one without effect
	values []float64 // singular, falling
	along  []float64 // residuals along each singular direction
	v      mat.Dense // singular directions in the scaled coordinates
}

func (t *table) localAt(c curve, at []float64) (l local, ok bool) {
	residuals, jacobian := t.linearise(c, at)
	l.sum = mat.Dot(residuals, residuals)
	l.scale = make([]float64, len(at))
	for j := range at {
		l.scale[j] = mat.Norm(jacobian.ColView(j), 2)
		if !(l.scale[j] < math.MaxFloat64) {
			return l, false
		}
	}
	jacobian.Apply(func(_, j int, v float64) float64 { return v / math.Max(l.scale[j], smallestScale) }, jacobian)
	var svd mat.SVD
	if !svd.Factorize(jacobian, mat.SVDThin) {
		return l, false
	}
	l.values = svd.Values(nil)
	var u mat.Dense
	svd.UTo(&u)
	svd.VTo(&l.v)
	l.along = make([]float64, len(at))
	for k := range l.along {
		l.along[k] = mat.Dot(u.ColView(k), residuals)
	}
	return l, true
}

const smallestScale = 1e-100 // keeps a coordinate without effect from dividing by zero

// step returns the coordinates a full Gauss-Newton step on from at.
func (l *local) step(at []float64) []float64 {
	next := append([]float64(nil), at...)
	for k, s := range l.values {
		if s <= 0 {
			continue
		}
		length := l.along[k] / s
		for j := range next {
			next[j] += l.v.At(j, k) * length / math.Max(l.scale[j], smallestScale)
		}
	}
	return next
}

// gain returns what the full step takes off the sum of squares if the problem is linear.
func (l *local) gain() float64 {
	var gain float64
	for _, a := range l.along {
		gain += a * a
	}
	return gain
}

// inverse returns the inverse of JᵀWJ.
func (l *local) inverse() [][]float64 {
	n := len(l.scale)
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
		for j := range n {
			for k, s := range l.values {
				m[i][j] += l.v.At(i, k) * l.v.At(j, k) / (s * s) / (l.scale[i] * l.scale[j])
			}
		}
	}
	return m
}

// search finds the coordinates of least squares from the best of several starts, by
// Newton's method with the Hessian of the linearised problem (Gauss and Newton), and
// tells their spread.
func (t *table) search(c curve, starts [][]float64) (solution, error) {
	problem := optimize.Problem{
		Func: func(x []float64) float64 {
			residuals, _ := t.linearise(c, x)
			return 0.5 * mat.Dot(residuals, residuals)
		},
		Grad: func(gradient, x []float64) {
			residuals, jacobian := t.linearise(c, x)
			mat.NewVecDense(len(x), gradient).MulVec(jacobian.T(), residuals)
			for i := range gradient {
				gradient[i] = -gradient[i]
			}
		},
		Hess: func(hessian *mat.SymDense, x []float64) {
			_, jacobian := t.linearise(c, x)
			hessian.SymOuterK(1, jacobian.T())
		},
	}
	var best []float64
	least := math.Inf(1)
	for _, start := range starts {
		// An error here is a line search that rounding stops; settle judges what came of it.
		r, _ := optimize.Minimize(problem, start, &optimize.Settings{MajorIterations: 300}, &optimize.Newton{})
		if r != nil && r.F < least {
			least, best = r.F, r.X
		}
	}
	if best == nil {
		return solution{}, fmt.Errorf("%s: %w: no curve comes near", t.who, ErrUndetermined)
	}
	return t.settle(c, best)
}

// settle takes full steps while they lower the sum of squares, and tells the spread of
// the coordinates where they end. A linear problem is solved by the first of them.
func (t *table) settle(c curve, at []float64) (solution, error) {
	const mostSteps = 20
	freedom := float64(len(t.x) - len(at))
	l, ok := t.localAt(c, at)
	for range mostSteps {
		if !ok {
			break
		}
		next := l.step(at)
		there, nextOK := t.localAt(c, next)
		if !nextOK || !(there.sum < l.sum) {
			break
		}
		at, l = next, there
	}
	if !ok {
		return solution{}, fmt.Errorf("%s: %w: no curve comes near", t.who, ErrUndetermined)
	}
	if worst, best := l.values[len(at)-1], l.values[0]; !(worst*worstCondition >= best && slices.Min(l.scale) > smallestScale) {
		return solution{}, fmt.Errorf("%s: %w: some change of the parameters together moves the curve by less than 1 part in %.0e of another",
			t.who, ErrUndetermined, worstCondition)
	}
	// What a full step would still gain must be nothing against scatter and rounding.
	if gain := l.gain(); !(gain <= 1e-4*l.sum/freedom+1e-16*float64(len(t.x))) {
		return solution{}, fmt.Errorf("%s: %w: the search does not settle, a step would still take %.2g off a sum of squares of %.2g",
			t.who, ErrUndetermined, gain, l.sum)
	}
	variance := l.sum / freedom
	covariance := l.inverse()
	for _, row := range covariance {
		for j := range row {
			row[j] *= variance
		}
	}
	return solution{at, covariance, math.Sqrt(variance), len(t.x) - len(at)}, nil
}

// fit puts a solution into words. Each coordinate is one parameter, or turned into one:
// outer[i][j] is how parameter i moves with coordinate j.
func (s *solution) fit(law Viscosity, c curve, outer [][]float64, parameters []Parameter) Fit {
	n := len(parameters)
	f := Fit{Parameters: parameters, Residual: s.residual, Freedom: s.freedom, law: law, inner: s.covariance}
	f.gradient = func(logRate, temperature float64, into []float64) float64 {
		return c(s.coordinates, logRate, temperature, into)
	}
	f.Covariance = make([][]float64, n)
	for i := range n {
		f.Covariance[i] = make([]float64, n)
		for j := range n {
			for k, row := range s.covariance {
				for l, v := range row {
					f.Covariance[i][j] += outer[i][k] * v * outer[j][l]
				}
			}
		}
		f.Parameters[i].StandardError = math.Sqrt(f.Covariance[i][i])
	}
	return f
}

func identity(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
		m[i][i] = 1
	}
	return m
}
