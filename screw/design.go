package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// SpeedFor returns what happens at the speed at which screw and die deliver a flow, 1e-15
// to 1e3 [m³/s], and that speed, 1e-4 to 100 [rev/s]; Running's own Speed counts for
// nothing. It errs on invalid input; with ErrNoFlow if the screw builds too little at any
// speed; and as [Profile.March] does.
func (p Profile) SpeedFor(d Die, m Melt, r Running, flow float64) (speed float64, c Course, err error) {
	r.Speed = 1 // whatever it was
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Add(d.Validate())
	f.Between("screw.Profile.SpeedFor: flow", flow, 1e-15, 1e3, "m³/s")
	if err := f.Err(); err != nil {
		return 0, Course{}, err
	}
	var failed error
	excess := func(lnSpeed float64) float64 {
		run := r
		run.Speed = speedOf(lnSpeed)
		var w marcher
		w.prepare(&p, m, run)
		x, err := w.excess(d, flow, 0)
		if failed == nil {
			failed = err
		}
		return -x
	}
	// From where drag alone would do, up or down by halves until it turns.
	c1 := p.ChannelAt(p.Length())
	c1.Depth = p.least()
	perTurn := float64(p.Starts) * c1.Width() * c1.Depth * math.Pi * p.Bore * math.Cos(c1.HelixAngle()) / 2
	lnSpeed, ok := turn(excess, math.Log(flow/perTurn), math.Log(slowestTurn), math.Log(fastestTurn), 0.5, 1e-10)
	if failed != nil {
		return 0, Course{}, failed
	}
	if !ok {
		return 0, Course{}, fmt.Errorf("%w: %.4g m³/s takes a speed outside %g to %g rev/s", ErrNoFlow, flow, slowestTurn, fastestTurn)
	}
	r.Speed = speedOf(lnSpeed)
	var w marcher
	w.prepare(&p, m, r)
	if c, err = w.agreed(d, flow, 0); err != nil {
		return 0, Course{}, err
	}
	return r.Speed, c, nil
}

// speedOf undoes a logarithm, within bounds that rounding may pass [rev/s].
func speedOf(ln float64) float64 { return min(max(math.Exp(ln), slowestTurn), fastestTurn) }

const (
	slowestTurn = 1e-4  // [rev/s]
	fastestTurn = 100.0 // [rev/s]
)

// turn finds where a rising function passes zero, from a guess within bounds on, by
// steps that double until it has turned. The bounds are tried last.
func turn(f func(float64) float64, guess, low, high, step, tol float64) (x float64, ok bool) {
	x = min(max(guess, low), high)
	value := f(x)
	for range 64 {
		if math.IsNaN(value) {
			return 0, false
		}
		next := min(x+step, high)
		if value > 0 {
			next = max(x-step, low)
		}
		if next == x {
			return 0, value == 0
		}
		last := value
		value = f(next)
		if value > 0 != (last > 0) {
			at, err := root.Between(f, x, last, next, value, tol)
			return at, err == nil
		}
		x, step = next, 2*step
	}
	return 0, false
}

// NozzleFor returns the diameter of a nozzle at which the die that is built around it
// takes a flow, 1e-15 to 1e3 [m³/s], at the speed that the screw is run at; and what
// happens then. nozzle builds the die for a diameter; pressure must fall as it grows, and
// diameters are sought from 1e-5 m to the bore, as far as nozzle builds them. It errs on invalid input, with ErrNoFlow
// where the screw builds no pressure at that flow or no diameter takes it, and as
// [Profile.March] does.
func (p Profile) NozzleFor(nozzle func(diameter float64) Die, m Melt, r Running, flow float64) (diameter float64, c Course, err error) {
	if c, err = p.March(m, r, flow); err != nil {
		return 0, Course{}, err
	}
	if nozzle == nil {
		var f input.Faults
		f.Add(&input.Word{Name: "screw.Profile.NozzleFor: nozzle", Value: "nil", Allowed: "a function that builds a die"})
		return 0, Course{}, f.Err()
	}
	if c.Pressure <= 0 {
		return 0, Course{}, fmt.Errorf("%w: at %.4g rev/s and %.4g m³/s the screw builds no pressure, but %.4g Pa too little", ErrNoFlow, r.Speed, flow, -c.Pressure)
	}
	hot := m
	hot.Temperature = c.Temperature
	var failed error
	guess := math.Log(32*flow/(math.Pi*1000)) / 3 // where a hole would shear the melt some 1000 1/s
	spare := func(lnDiameter float64) float64 {
		d := nozzle(math.Exp(lnDiameter))
		if failed = d.Validate(); failed != nil { // too wide or too narrow to be built
			return math.Copysign(100, lnDiameter-guess)
		}
		return math.Log(c.Pressure / d.PressureDrop(hot, flow))
	}
	ln, ok := turn(spare, guess, math.Log(1e-5), math.Log(p.Bore), 0.3, 1e-12)
	if d := nozzle(math.Exp(ln)); ok {
		failed = d.Validate()
	}
	if failed != nil {
		return 0, Course{}, failed
	}
	if ok { // not only the widest or narrowest that can be built
		need := nozzle(math.Exp(ln)).PressureDrop(hot, flow)
		ok = math.Abs(need-c.Pressure) <= 1e-6*c.Pressure
	}
	if !ok {
		return 0, Course{}, fmt.Errorf("%w: no nozzle from 1e-05 m to the bore takes %.4g m³/s at %.4g Pa", ErrNoFlow, flow, c.Pressure)
	}
	var w marcher
	w.prepare(&p, m, r)
	w.front(&c, nozzle(math.Exp(ln)))
	return math.Exp(ln), c, nil
}

// Metered returns the screw with another depth of its last zone [m], constant over the
// zone even if it was not, which the zone before meets if it met it before.
func (p Profile) Metered(depth float64) Profile {
	last := len(p.Zones) - 1
	if last < 0 {
		return p
	}
	was := p.Zones[last].DepthIn
	p.Zones = append([]Zone{}, p.Zones...)
	p.Zones[last].DepthIn, p.Zones[last].DepthOut = depth, depth
	if last > 0 && p.Zones[last-1].DepthOut == was {
		p.Zones[last-1].DepthOut = depth
	}
	return p
}

// DepthFor returns the shallowest depth of the last zone at which the screw builds a
// pressure, above 0 to 1e9 [Pa], at a flow, 1e-15 to 1e3 [m³/s], and what happens then.
// Where the shallowest builds more, it is the deep one at which pressure has fallen to
// that. A deeper one may build as much, but with more melt flowing back, so that its output
// hangs more on pressure. Depths are sought from twice the clearance to the depth
// before, or 0.45 of the bore. It errs on invalid input; with ErrNoFlow where no depth
// builds as much, saying what the best one does; and as [Profile.March] does.
func (p Profile) DepthFor(m Melt, r Running, flow, pressure float64) (depth float64, c Course, err error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Between("screw.Profile.DepthFor: flow", flow, 1e-15, 1e3, "m³/s")
	f.Between("screw.Profile.DepthFor: pressure", pressure, math.SmallestNonzeroFloat64, 1e9, "Pa")
	if err := f.Err(); err != nil {
		return 0, Course{}, err
	}
	var failed error
	built := func(lnDepth float64) float64 {
		c, err := p.Metered(math.Exp(lnDepth)).March(m, r, flow)
		if err != nil && !errors.Is(err, ErrTooHot) {
			failed = errors.Join(failed, err)
		}
		if err != nil {
			return math.Inf(-1)
		}
		return c.Pressure
	}
	low, high := p.depths()
	best := highest(built, low, high)
	most := built(best)
	switch {
	case failed != nil:
		return 0, Course{}, failed
	case most < pressure:
		return 0, Course{}, fmt.Errorf("%w: at %.4g rev/s and %.4g m³/s the best depth, %.4g m, builds %.4g Pa", ErrNoFlow, r.Speed, flow, math.Exp(best), most)
	}
	// Up the hill from the shallow end or, where even that builds more or burns the melt
	// before it builds less, down the far side.
	for _, end := range [...]float64{low, high} {
		at := max(built(end), -1e12)
		if at >= pressure {
			continue
		}
		ln, err := root.Between(func(x float64) float64 { return max(built(x), -1e12) - pressure }, end, at-pressure, best, most-pressure, 1e-9)
		if err != nil || failed != nil {
			return 0, Course{}, errors.Join(err, failed)
		}
		if c, err = p.Metered(math.Exp(ln)).March(m, r, flow); err == nil && math.Abs(c.Pressure-pressure) <= 1e-5*pressure {
			return math.Exp(ln), c, nil
		}
	}
	return 0, Course{}, fmt.Errorf("%w: at %.4g rev/s and %.4g m³/s every depth builds more than %.4g Pa or burns the melt", ErrNoFlow, r.Speed, flow, pressure)
}

// BestDepth returns the depth of the last zone at which screw and die deliver most, and
// what happens then: a deeper channel drags more, but lets more flow back. With a
// Newtonian melt, a channel of one depth and a tight clearance a third of what is
// dragged then flows back. Depths are sought as by DepthFor; an end of theirs is the
// answer where more or less would be better still. It errs as [Profile.OperatingPoint]
// does.
func (p Profile) BestDepth(d Die, m Melt, r Running) (depth float64, c Course, err error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Add(d.Validate())
	if err := f.Err(); err != nil {
		return 0, Course{}, err
	}
	var failed error
	delivered := func(lnDepth float64) float64 {
		c, err := p.Metered(math.Exp(lnDepth)).OperatingPoint(d, m, r)
		if err != nil && !errors.Is(err, ErrNoFlow) && !errors.Is(err, ErrTooHot) {
			failed = errors.Join(failed, err)
		}
		return c.Flow
	}
	low, high := p.depths()
	best := highest(delivered, low, high)
	if failed != nil {
		return 0, Course{}, failed
	}
	c, err = p.Metered(math.Exp(best)).OperatingPoint(d, m, r)
	return math.Exp(best), c, err
}

// depths returns the logarithms of the least and the greatest depth that the last zone
// may be given.
func (p *Profile) depths() (low, high float64) {
	most := 0.45 * p.Bore
	if n := len(p.Zones); n > 1 {
		most = min(most, p.Zones[n-2].DepthIn)
	}
	least := min(max(2*p.Clearance, 1e-5*(1+1e-9)), most)
	return math.Log(least), math.Log(most)
}

// highest finds where a function is highest, within 1e-5: about the highest of a few even
// places, as it may have flat ends, by golden section.
func highest(f func(float64) float64, low, high float64) float64 {
	const golden, places = 0.6180339887498949, 12
	best, most := low, math.Inf(-1)
	step := (high - low) / places
	for k := range places + 1 {
		x := low + float64(k)*step
		if y := f(x); y > most {
			best, most = x, y
		}
	}
	low, high = max(low, best-step), min(high, best+step)
	a, b := high-golden*(high-low), low+golden*(high-low)
	fa, fb := f(a), f(b)
	for high-low > 1e-5 {
		if fa >= fb {
			high, b, fb = b, a, fa
			a = high - golden*(high-low)
			fa = f(a)
		} else {
			low, a, fa = a, b, fb
			b = low + golden*(high-low)
			fb = f(b)
		}
	}
	if max(fa, fb) < most {
		return best
	}
	if fa >= fb {
		return a
	}
	return b
}

// Limits are what a screw is not to be run beyond; 0 is no limit.
type Limits struct {
	Temperature float64 // of the melt anywhere in the screw, 100 to 1500 [K]
	Torque      float64 // on the screw, 1e-6 to 1e9 [N·m]
	DieStress   float64 // at the wall of the die, as of [FractureStress], 1 to 1e9 [Pa]
}

// FastestRun returns the largest speed, 1e-4 to 100 [rev/s], at which screw and die stay
// within limits, what happens then, and the limit that stops it, whose Safety is 1. At
// 100 rev/s with all limits kept its Safety is above 1. It errs on invalid input and
// without any limit; with ErrNoFlow where a limit is passed at the lowest speed already;
// and as [Profile.OperatingPoint] does.
func (p Profile) FastestRun(d Die, m Melt, r Running, l Limits) (speed float64, c Course, stop material.Utilisation, err error) {
	r.Speed = 1 // whatever it was
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Add(d.Validate())
	l.check(&f, m)
	if err := f.Err(); err != nil {
		return 0, Course{}, stop, err
	}
	var failed error
	beyond := func(lnSpeed float64) float64 {
		run := r
		run.Speed = speedOf(lnSpeed)
		at, err := p.OperatingPoint(d, m, run)
		if err != nil {
			failed = errors.Join(failed, err)
			return math.NaN()
		}
		c, stop = at, l.weakest(&at, m)
		return -math.Log(stop.Safety())
	}
	ln, ok := turn(beyond, 0, math.Log(slowestTurn), math.Log(fastestTurn), 0.5, 1e-10)
	if failed != nil {
		return 0, Course{}, material.Utilisation{}, failed
	}
	if !ok {
		if stop.Safety() < 1 {
			return 0, Course{}, stop, fmt.Errorf("%w: %s passes its limit at %g rev/s already", ErrNoFlow, stop.Part, slowestTurn)
		}
		ln = math.Log(fastestTurn)
	}
	beyond(ln)
	return speedOf(ln), c, stop, failed
}

func (l *Limits) check(f *input.Faults, m Melt) {
	if *l == (Limits{}) {
		f.Add(&input.Word{Name: "screw.Limits", Value: "none", Allowed: "at least one limit"})
	}
	if l.Temperature != 0 {
		f.Between("screw.Limits.Temperature", l.Temperature, 100, hottest, "K")
		if l.Temperature <= m.Temperature {
			f.Refuse("screw.Limits.Temperature", l.Temperature, "K", "above the melt's own, "+input.WithUnit(m.Temperature, "K"))
		}
	}
	if l.Torque != 0 {
		f.Between("screw.Limits.Torque", l.Torque, 1e-6, 1e9, "N·m")
	}
	if l.DieStress != 0 {
		f.Between("screw.Limits.DieStress", l.DieStress, 1, 1e9, "Pa")
	}
}

// weakest returns the limit nearest to being passed.
func (l *Limits) weakest(c *Course, m Melt) (w material.Utilisation) {
	for _, u := range [...]material.Utilisation{
		{Part: "melt temperature", Demand: c.Hottest - m.Temperature, Capacity: l.Temperature - m.Temperature, Unit: "K", Method: "warming of the melt along the screw"},
		{Part: "screw torque", Demand: c.Torque, Capacity: l.Torque, Unit: "N·m", Method: "shear of the melt that fills the screw"},
		c.Fracture(l.DieStress),
	} {
		if u.Capacity > 0 && (w.Part == "" || u.Safety() < w.Safety()) {
			w = u
		}
	}
	return w
}
