package thermal

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"

	"meltflight/internal/input"
)

// Reading is a temperature read while something warmed up or cooled down.
type Reading struct {
	Time        float64 // since the start, 0 to 1e9 [s]
	Temperature float64 // 50 to 3000 [K]
}

// WarmFit is a network fitted to readings.
type WarmFit struct {
	Network    Network
	Parameters []float64 // that describe it best
	Errors     []float64 // standard error of each, if readings scatter by chance and the network is the right one
	Scatter    float64   // of the readings about the course, root mean square by degrees of freedom [K]
}

// FitWarming returns the parameters, resistances and capacities for instance, of a
// network that comes nearest to what was read of a node, by least squares. build makes
// the network of parameters, which are all above 0; start is a first guess of them, good to
// a factor of some ten. Readings must outnumber the parameters.
//
// Two parameters that only their product or ratio can be told from are no fit: it errs, as it does where the
// search from a poor start ends with a parameter that has no effect any more. The way down leads to the
// nearest hollow: fit from another start as well. Errors are those of scatter alone, none of a network that is
// not the right one, or of readings whose own errors last from one to the next; the latter make
// them too small.
// A temperature read while nothing but a known power changed tells resistance and
// capacity; without the power, the time constant alone.
//
// The sum of squares is brought down by BFGS in the logarithms of the parameters (gonum's
// optimize); errors are those of the linearised problem at its end. It errs on invalid
// input or networks, on readings that determine no parameters, and where none fit.
func FitWarming(build func(parameters []float64) Network, start []float64, node int, readings []Reading) (WarmFit, error) {
	var f input.Faults
	f.Count("thermal.FitWarming: parameters", len(start), 1, 20)
	for i, p := range start {
		if !(p >= 1e-9 && p <= 1e9) {
			f.Between(fmt.Sprintf("thermal.FitWarming: start[%d]", i), p, 1e-9, 1e9, "")
		}
	}
	f.Count("thermal.FitWarming: readings", len(readings), len(start)+1, 1e5)
	for i, r := range readings {
		if !(r.Time >= 0 && r.Time <= 1e9) {
			f.Between(fmt.Sprintf("thermal.FitWarming: readings[%d].Time", i), r.Time, 0, 1e9, "s")
		}
		if !(r.Temperature >= 50 && r.Temperature <= 3000) {
			f.Between(fmt.Sprintf("thermal.FitWarming: readings[%d].Temperature", i), r.Temperature, 50, 3000, "K")
		}
		if i > 0 && r.Time <= readings[i-1].Time {
			f.Refuse(fmt.Sprintf("thermal.FitWarming: readings[%d].Time", i), r.Time, "s", "above the one before")
		}
	}
	if build == nil {
		f.Add(&input.Word{Name: "thermal.FitWarming: build", Value: "nil", Allowed: "a function that makes a network"})
	}
	if f.None() {
		n := build(start)
		if err := n.Validate(); err != nil {
			f.Add(err)
		} else if node < 0 || node >= len(n.Nodes) || n.Nodes[node].Held {
			f.Refuse("thermal.FitWarming: node", float64(node), "", "a node that is not held")
		}
	}
	if err := f.Err(); err != nil {
		return WarmFit{}, err
	}
	w := warmFit{build: build, node: node, readings: readings, parameters: make([]float64, len(start))}
	x := make([]float64, len(start))
	for i, p := range start {
		x[i] = math.Log(p)
	}
	sum := func(x []float64) float64 {
		miss, err := w.misses(x)
		if err != nil {
			return math.Inf(1)
		}
		total := 0.0
		for _, m := range miss {
			total += m * m
		}
		return total
	}
	problem := optimize.Problem{Func: sum, Grad: func(grad, x []float64) {
		fd.Gradient(grad, sum, x, &fd.Settings{Formula: fd.Central, Step: 1e-5})
	}}
	if math.IsInf(sum(x), 1) {
		_, err := w.misses(x)
		return WarmFit{}, err
	}
	found, err := optimize.Minimize(problem, x, &optimize.Settings{GradientThreshold: 1e-9, MajorIterations: 500,
		Converger: &optimize.FunctionConverge{Relative: 1e-13, Iterations: 10}}, &optimize.BFGS{})
	if found == nil || math.IsInf(found.F, 1) {
		return WarmFit{}, fmt.Errorf("thermal.FitWarming: no fit found: %w", err)
	}
	return w.tell(found.X)
}

// warmFit is what the sum of squares is made of.
type warmFit struct {
	build      func([]float64) Network
	node       int
	readings   []Reading
	parameters []float64
}

// misses returns how far the network is above each reading [K].
func (w *warmFit) misses(x []float64) ([]float64, error) {
	for i := range x {
		w.parameters[i] = math.Exp(math.Max(-30, math.Min(30, x[i])))
	}
	n := w.build(w.parameters)
	if err := n.Validate(); err != nil {
		return nil, err
	}
	if w.node >= len(n.Nodes) || n.Nodes[w.node].Held {
		return nil, fmt.Errorf("thermal.FitWarming: of some parameters node %d is not there, or held", w.node)
	}
	miss := make([]float64, len(w.readings))
	if n.linear() {
		m, err := n.Modes()
		if err != nil {
			return nil, err
		}
		for i, r := range w.readings {
			t, err := m.At(r.Time)
			if err != nil {
				return nil, err
			}
			miss[i] = t[w.node] - r.Temperature
		}
		return miss, nil
	}
	s := n.stepper(1e-7)
	for i, r := range w.readings {
		if err := s.to(r.Time); err != nil {
			return nil, err
		}
		miss[i] = s.all()[w.node] - r.Temperature
	}
	return miss, nil
}

func (w *warmFit) tell(x []float64) (WarmFit, error) {
	miss, err := w.misses(x)
	if err != nil {
		return WarmFit{}, err
	}
	fit := WarmFit{Parameters: append([]float64(nil), w.parameters...)}
	fit.Network = w.build(fit.Parameters)
	sum := 0.0
	for _, m := range miss {
		sum += m * m
	}
	freedom := float64(len(miss) - len(x))
	fit.Scatter = math.Sqrt(sum / freedom)
	jacobian := mat.NewDense(len(miss), len(x), nil)
	var failed error
	fd.Jacobian(jacobian, func(y, x []float64) {
		at, err := w.misses(x)
		if failed = errors.Join(failed, err); err == nil {
			copy(y, at)
		}
	}, x, &fd.JacobianSettings{Formula: fd.Central, Step: 1e-4})
	if failed != nil {
		return WarmFit{}, failed
	}
	var normal mat.SymDense
	normal.SymOuterK(1, jacobian.T())
	var root mat.Cholesky
	if ok := root.Factorize(&normal); !ok || root.Cond() > 1e12 {
		return WarmFit{}, fmt.Errorf("thermal.FitWarming: the readings do not tell these %d parameters apart", len(x))
	}
	var inverse mat.SymDense
	if err := root.InverseTo(&inverse); err != nil {
		return WarmFit{}, fmt.Errorf("thermal.FitWarming: %w", err)
	}
	for i, p := range fit.Parameters {
		fit.Errors = append(fit.Errors, p*fit.Scatter*math.Sqrt(inverse.At(i, i)))
	}
	return fit, nil
}
