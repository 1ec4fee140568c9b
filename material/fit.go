package material

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"meltflight/internal/input"
)

// What measurements can lack for what is asked of them, for errors.Is to find. None is
// [ErrInvalid]: each number could be. The message tells by how much.
var (
	// ErrTooFew: fewer measurements than the question takes.
	ErrTooFew = errors.New("too few measurements")
	// ErrOneTemperature: a temperature law takes more than one temperature.
	ErrOneTemperature = errors.New("one temperature")
	// ErrFlat: the viscosity does not fall with rate, so nothing tells how it thins.
	ErrFlat = errors.New("no thinning")
	// ErrUndetermined: other parameters would serve as well, such as a plateau never come near.
	ErrUndetermined = errors.New("not determined by the measurements")
	// ErrUnphysical: flow that falls as pressure rises, viscosity that rises with
	// temperature, or a law out of the range of melts.
	ErrUnphysical = errors.New("no melt behaves so")
)

// FlowPoint is one measured point of a melt's flow curve, true rate and viscosity
// rather than apparent ones: [Rabinowitsch] and [MeltFlow.Point] make them.
type FlowPoint struct {
	ShearRate   float64 // 1e-6 to 1e8 [1/s]
	Temperature float64 // 100 to 1500 [K]
	Viscosity   float64 // 1e-4 to 1e10 [Pa·s]
	Weight      float64 // inverse variance of ln Viscosity relative to the others', 1e-6 to 1e6; 0 counts as 1 [-]
}

// Validate reports fields out of range.
func (p FlowPoint) Validate() error {
	var f input.Faults
	f.Between("material.FlowPoint.ShearRate", p.ShearRate, 1e-6, 1e8, "1/s")
	f.Between("material.FlowPoint.Temperature", p.Temperature, lowestTemperature, highestTemperature, "K")
	f.Between("material.FlowPoint.Viscosity", p.Viscosity, 1e-4, 1e10, "Pa·s")
	if p.Weight != 0 {
		f.Between("material.FlowPoint.Weight", p.Weight, 1e-6, 1e6, "")
	}
	return f.Err()
}

// Parameter is one constant found by a fit.
type Parameter struct {
	Name          string  // field of the law, such as "Index"
	Unit          string  // of the field; empty for a pure number
	Value         float64 // [Unit]
	StandardError float64 // [Unit]; of the natural logarithm of Value if Logarithmic [-]
	Logarithmic   bool    // found in its logarithm, in which its error is even
}

// Fit tells how well a law follows the measurements it was fitted to: least squares
// in the logarithm of viscosity, so that every point errs by a share of itself. All
// figures are of linear error theory (G. A. F. Seber and C. J. Wild, Nonlinear Regression
// (1989), ch. 5, from memory), exact for a power law, and suppose that points err
// independently, which those of [Rabinowitsch] do not quite. They tell scatter alone: a gauge that reads 5 % high all day, or a
// law of the wrong shape, shows in none but, perhaps, Residual.
type Fit struct {
	Parameters []Parameter
	Covariance [][]float64 // of the parameters, in the scale of their standard errors
	Residual   float64     // standard deviation of ln Viscosity at weight 1 [-]
	Freedom    int         // points less parameters [-]

	law      Viscosity
	gradient func(logRate, temperature float64, into []float64) float64 // of ln η by what covariance is of; returns ln η
	inner    [][]float64                                                // covariance in the coordinates fitted in, which are nearly independent
}

// Interval returns the limits between which a parameter, by its place in Parameters,
// lies with a confidence level of 0.01 to 0.9999, by Student's t [Unit]. Limits beyond a
// factor of e¹⁰⁰ are held.
func (f Fit) Interval(parameter int, level float64) (lo, hi float64, err error) {
	var faults input.Faults
	faults.Count("material.Fit.Interval: parameter", parameter, 0, len(f.Parameters)-1)
	f.checkLevel(&faults, "material.Fit.Interval: level", level)
	if err := faults.Err(); err != nil {
		return 0, 0, err
	}
	p := f.Parameters[parameter]
	half := f.quantile(level) * p.StandardError
	if p.Logarithmic {
		half = math.Min(mostExponent, half)
		return p.Value * math.Exp(-half), p.Value * math.Exp(half), nil
	}
	return p.Value - half, p.Value + half, nil
}

// Band is the viscosity of a fitted law with its confidence limits.
type Band struct {
	Low, Viscosity, High float64  // [Pa·s]
	Beyond               []string // where the law was not fitted, in words; nil inside its domain
}

// Band returns the law's viscosity at a shear rate, 1e-9 to 1e9 [1/s], and a
// temperature, 100 to 1500 [K], and the limits between which the melt's true
// viscosity lies with a confidence level of 0.01 to 0.9999: the delta method in ln η with
// Student's t. It is the band of the curve; single measurements scatter wider, by
// Residual. Beyond the measured range it widens, but takes the law to hold there. Limits
// beyond a factor of e¹⁰⁰ are held.
func (f Fit) Band(shearRate, temperature, level float64) (Band, error) {
	const who = "material.Fit.Band"
	var faults input.Faults
	faults.Between(who+": shear rate", math.Abs(shearRate), lowestRate, 1e9, "1/s")
	faults.Between(who+": temperature", temperature, lowestTemperature, highestTemperature, "K")
	f.checkLevel(&faults, who+": level", level)
	if err := faults.Err(); err != nil {
		return Band{}, err
	}
	g := make([]float64, len(f.inner))
	f.gradient(math.Log(math.Abs(shearRate)), temperature, g)
	half := math.Min(mostExponent, f.quantile(level)*math.Sqrt(math.Max(0, quadratic(f.inner, g))))
	eta := f.law.At(shearRate, temperature, 0)
	b := Band{Low: eta * math.Exp(-half), Viscosity: eta, High: eta * math.Exp(half)}
	d := f.law.Domain()
	for _, text := range [...]string{d.BeyondTemperature(temperature), d.BeyondRate(shearRate)} {
		if text != "" {
			b.Beyond = append(b.Beyond, text)
		}
	}
	return b, nil
}

// checkLevel refuses a level, and a Fit that no fit made.
func (f Fit) checkLevel(faults *input.Faults, name string, level float64) {
	faults.Between(name, level, 0.01, 0.9999, "")
	if f.law == nil {
		faults.Add(&input.Word{Name: "material.Fit", Value: "empty", Allowed: "one made by a fit, such as material.FitPowerLaw"})
	}
}

func (f Fit) quantile(level float64) float64 {
	return distuv.StudentsT{Sigma: 1, Nu: float64(f.Freedom)}.Quantile((1 + level) / 2)
}

// quadratic returns gᵀ·C·g.
func quadratic(c [][]float64, g []float64) float64 {
	var sum float64
	for i, row := range c {
		for j, v := range row {
			sum += g[i] * v * g[j]
		}
	}
	return sum
}

// table holds measured points as fits take them.
type table struct {
	who         string
	x, y        []float64 // ln rate, ln viscosity
	temperature []float64 // [K]
	root        []float64 // square root of the weight
	domain      Domain
	middle      float64 // weighted mean temperature [K]
	single      bool    // all at one temperature
}

// tabulate checks and gathers the points for a law of some parameters, one more if the
// points tell temperatures apart and the law has a temperature law.
func tabulate(who string, points []FlowPoint, parameters int) (table, error) {
	t := table{who: who, domain: Domain{RateLow: math.Inf(1), TemperatureLow: math.Inf(1)}}
	var f input.Faults
	var weights float64
	for i, p := range points {
		if err := p.Validate(); err != nil {
			f.Add(fmt.Errorf("%s: point %d: %w", who, i, err))
		}
		weight := p.Weight
		if weight == 0 {
			weight = 1
		}
		t.x, t.y = append(t.x, math.Log(p.ShearRate)), append(t.y, math.Log(p.Viscosity))
		t.temperature, t.root = append(t.temperature, p.Temperature), append(t.root, math.Sqrt(weight))
		t.domain.RateLow, t.domain.RateHigh = math.Min(t.domain.RateLow, p.ShearRate), math.Max(t.domain.RateHigh, p.ShearRate)
		t.domain.TemperatureLow, t.domain.TemperatureHigh = math.Min(t.domain.TemperatureLow, p.Temperature), math.Max(t.domain.TemperatureHigh, p.Temperature)
		t.middle += weight * p.Temperature
		weights += weight
	}
	if err := f.Err(); err != nil {
		return t, err
	}
	t.middle = math.Max(t.domain.TemperatureLow, math.Min(t.domain.TemperatureHigh, t.middle/weights))
	t.single = !(t.domain.TemperatureHigh-t.domain.TemperatureLow > sameWithin)
	if !t.single {
		parameters++
	}
	if len(points) <= parameters {
		return t, fmt.Errorf("%s: %w: %d points, at least %d for %d parameters and their errors", who, ErrTooFew, len(points), parameters+1, parameters)
	}
	return t, nil
}
