package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// ErrNoCourse reports that a law of viscosity gave no pressure that rises with the flow
// through a die, so that none could be followed as it falls.
var ErrNoCourse = errors.New("the pressure's course was not found")

// Ooze is how far melt held has oozed out some time after the screw stopped.
type Ooze struct {
	Time         float64 // since the screw stopped [s]
	Pressure     float64 // left [Pa]
	Flow         float64 // out of the nozzle [m³/s]
	Oozed        float64 // out so far, never more than Held.Volume [m³]
	TimeConstant float64 // Compliance × Pressure ÷ Flow now: what is left would take so long at the present flow [s]

	FirstFlow         float64 // when the screw stopped [m³/s]
	FirstTimeConstant float64 // and what would have taken so long then [s]
	Exponential       float64 // pressure left if the melt kept its first viscosity; a thinning melt's is above it, after long by far [Pa]

	Beyond []string // in words, where the model's stated range is left; nil inside it
}

// After returns how far the melt has oozed out through a die by a time, 0 to 1e12 [s].
// It errs on invalid input and with ErrNoCourse.
//
//	C·dp/dt = −q(p)
//
// The pressure of a Newtonian melt falls as exp(−t/τ) with τ = R·C, R being Δp/q. That
// of a power law, q ~ p^(1/n), has a long tail,
//
//	p = p₀·(1 + (1/n−1)·t/τ)^(−n/(1−n)),  τ = C·p₀/q₀
//
// so that no one time constant describes it: at n = 0.4 it takes 20 τ to a tenth of the
// pressure, an exponential 2.3. (Both integrated from the line above.) For
// any other law t = ∫C·dp/q is summed over ln q, by parts so that only Δp(q) is asked
// for, to 1e-8 of FirstTimeConstant; from 1e-6 of the pressure on the law is taken for
// the power law that touches it. The closed form knows no lowest rate, which laws have at
// 1e-9 1/s. Isothermal, quasi-steady, C constant.
func (h Held) After(d Die, m Melt, time float64) (Ooze, error) {
	var f input.Faults
	f.Between("screw.Held.After: time", time, 0, 1e12, "s")
	return h.course(d, m, &f, func(w *emptying) (Ooze, bool) { return w.after(time) })
}

// Until returns when the pressure has fallen to a share of the first, 1e-6 to 1 [-],
// and how far the melt has oozed out by then. As [Held.After].
func (h Held) Until(d Die, m Melt, share float64) (Ooze, error) {
	var f input.Faults
	f.Between("screw.Held.Until: share", share, tailShare, 1, "")
	return h.course(d, m, &f, func(w *emptying) (Ooze, bool) { return w.until(share) })
}

// tailShare of the pressure is where a law is no longer followed.
const tailShare = 1e-6

func (h Held) course(d Die, m Melt, f *input.Faults, ask func(*emptying) (Ooze, bool)) (Ooze, error) {
	h.check(f)
	f.Add(d.Validate())
	m.check(f)
	if err := f.Err(); err != nil {
		return Ooze{}, err
	}
	w := emptying{Held: h, d: d, m: m}
	if err := w.open(); err != nil {
		return Ooze{}, err
	}
	o, ok := ask(&w)
	for _, x := range [...]float64{o.Time, o.Pressure, o.Flow, o.TimeConstant} {
		ok = ok && x >= 0 && x <= math.MaxFloat64
	}
	if !ok {
		return Ooze{}, fmt.Errorf("%w: from %.4g Pa on", ErrNoCourse, h.Pressure)
	}
	o.Oozed = math.Min(o.Oozed, h.Volume())
	o.FirstFlow, o.FirstTimeConstant = w.flow, w.tau
	o.Exponential = h.Pressure * math.Exp(-o.Time/w.tau)
	o.Beyond = w.beyond(o.Flow)
	return o, nil
}

// emptying is the course of the pressure through one die.
type emptying struct {
	Held
	d Die
	m Melt

	x, flow, tau float64 // when the screw stopped: ln flow, flow, time constant
	index        float64 // of a power law, Δp ~ qⁿ; 0 for any other
}

// open finds the first flow, and whether the closed form holds.
func (w *emptying) open() error {
	x, err := w.at(w.Pressure, math.Log(1e-7))
	if err != nil {
		return err
	}
	w.x, w.flow = x, math.Exp(x)
	w.tau = w.Compliance * w.Pressure / w.flow
	rate, _ := w.d.WallShear(w.m, w.flow)
	if err := w.m.notLiquid(rate, w.m.Viscosity.At(rate, w.m.Temperature, 0)); err != nil {
		return err
	}
	switch w.m.Viscosity.(type) {
	case material.Newtonian, material.PowerLaw:
		// A passage of another's making may cost what it likes.
		_, n := w.m.local(rate)
		if rise := w.Pressure / (w.drop(x-3) * math.Exp(3*n)); math.Abs(rise-1) < 1e-9 {
			w.index = n
		}
	}
	return nil
}

func (w *emptying) drop(x float64) float64 { return w.d.PressureDrop(w.m, math.Exp(x)) }

// resistance is Δp/q.
func (w *emptying) resistance(x float64) float64 { return w.drop(x) / math.Exp(x) }

var leastFlow, mostFlow = math.Log(smallFlow), math.Log(1e3)

// at returns the logarithm of the flow that a pressure drives, sought from a guess on.
func (w *emptying) at(pressure, guess float64) (float64, error) {
	excess := func(x float64) float64 { return math.Log(w.drop(x) / pressure) }
	a, b := guess, guess
	fa := excess(a)
	fb := fa
	for step := 1.0; math.Signbit(fa) == math.Signbit(fb); step *= 2 {
		a, fa = b, fb
		switch {
		case fb < 0 && b < mostFlow:
			b = math.Min(b+step, mostFlow)
		case fb >= 0 && b > leastFlow:
			b = math.Max(b-step, leastFlow)
		case fb < 0:
			var f input.Faults
			f.Refuse("screw.Held.Pressure", w.Pressure, "Pa", "less, or a closer die: more than 1000 m³/s would flow")
			return 0, f.Err()
		default:
			return 0, fmt.Errorf("%w: no flow through the die costs %.4g Pa", ErrNoCourse, pressure)
		}
		fb = excess(b)
	}
	x, err := root.Between(excess, a, fa, b, fb, 1e-15)
	if err != nil {
		return 0, fmt.Errorf("%w: through the die: %w", ErrNoCourse, err)
	}
	return x, nil
}

// panel is over how much of ln q twelve points sum a law's resistance.
const panel = 3.0

// sum returns ∫R over ln q, from low to high and no further than a panel.
func (w *emptying) sum(low, high float64) (sum float64) {
	half := (high - low) / 2
	for _, n := range twelve {
		sum += n.weight * w.resistance(low+half*(1+n.at))
	}
	return half * sum
}

// after follows the pressure to a time.
func (w *emptying) after(time float64) (Ooze, bool) {
	if w.index != 0 {
		return fall(w.Compliance, w.Pressure, w.flow, w.index, time), true
	}
	// From ∫dp/q = Δ(p/q) + ∫(p/q)d ln q.
	first := w.Pressure / w.flow
	high, pressure, sum := w.x, w.Pressure, 0.0
	for high-panel > leastFlow && pressure > tailShare*w.Pressure {
		from, before := high, sum
		took := func(x float64) float64 {
			if x == from {
				return w.Compliance*(first-w.resistance(from)+before) - time
			}
			return w.Compliance*(first-w.resistance(x)+before+w.sum(x, from)) - time
		}
		low := high - panel
		if late := took(low); !(late < 0) {
			x, err := root.Between(took, low, late, high, math.Min(took(high), 0), 1e-13)
			return w.state(time, math.Min(w.Pressure, w.drop(x)), math.Exp(x)), err == nil
		}
		sum += w.sum(low, high)
		high, pressure = low, w.drop(low)
	}
	spent := w.Compliance * (first - pressure/math.Exp(high) + sum)
	n := math.Log(w.drop(high+0.1)/pressure) / 0.1
	o := fall(w.Compliance, pressure, math.Exp(high), n, math.Max(0, time-spent))
	return w.state(time, o.Pressure, o.Flow), n > 0
}

// until follows the pressure to a share of the first.
func (w *emptying) until(share float64) (Ooze, bool) {
	p := share * w.Pressure
	if w.index != 0 {
		k, fell := 1/w.index-1, -math.Log(share)
		if k != 0 {
			fell = math.Expm1(k*fell) / k
		}
		return w.state(w.tau*fell, p, w.flow*math.Pow(share, 1/w.index)), true
	}
	x, err := w.at(p, w.x)
	if err != nil {
		return Ooze{}, false
	}
	panels := math.Max(1, math.Ceil((w.x-x)/panel))
	sum, width := 0.0, (w.x-x)/panels
	for i := range int(panels) {
		high := w.x - float64(i)*width
		sum += w.sum(high-width, high)
	}
	return w.state(math.Max(0, w.Compliance*(w.Pressure/w.flow-p/math.Exp(x)+sum)), p, math.Exp(x)), true
}

func (w *emptying) state(time, pressure, flow float64) Ooze {
	o := Ooze{Time: time, Pressure: pressure, Flow: flow, Oozed: w.Compliance * (w.Pressure - pressure)}
	if flow > 0 {
		o.TimeConstant = w.Compliance * pressure / flow
	}
	return o
}

// fall is the closed form for a melt of index n.
func fall(c, pressure, flow, n, time float64) (o Ooze) {
	k, tau := 1/n-1, c*pressure/flow
	fell, slower := time/tau, 1.0 // fell: −ln(p/p₀)
	if k != 0 {
		slower = math.Max(0, 1+k*fell) // a thickening melt's pressure ends at some time
		fell = math.Log1p(math.Max(-1, k*fell)) / k
	}
	return Ooze{Time: time, Pressure: pressure * math.Exp(-fell), Flow: flow * math.Exp(-fell/n),
		Oozed: -c * pressure * math.Expm1(-fell), TimeConstant: tau * slower}
}

// beyond tells of the die at the first flow and of the law at the present one.
func (w *emptying) beyond(flow float64) (told []string) {
	domain := w.m.Viscosity.Domain()
	if text := domain.BeyondTemperature(w.m.Temperature); text != "" {
		told = append(told, text)
	}
	told = append(told, ahead(w.d, w.m, w.flow).Beyond...)
	rate, _ := w.d.WallShear(w.m, flow)
	if text := domain.BeyondRate(rate); text != "" && flow < w.flow {
		told = append(told, inThe("die, at last", text))
	}
	return told
}

// Restart returns how long a screw that delivers a flow, 1e-20 to 1e3 [m³/s], takes to
// bring the pressure from 0 to a share of Held.Pressure, 1e-6 to 1 [-], while the nozzle
// stands open: ∫C·dp/(flow − q(p)) [s], to 1e-6. A screw at rest within its gear's backlash
// takes that up first: backlash/(2π·speed). It errs on invalid input, with [ErrNoFlow] where
// the nozzle takes 0.999 of the flow or more at that pressure, which then is never
// reached, and with ErrNoCourse.
//
// A flow that falls as the pressure rises, as a screw's does, takes longer.
func (h Held) Restart(d Die, m Melt, flow, share float64) (float64, error) {
	var f input.Faults
	f.Between("screw.Held.Restart: flow", flow, 1e-20, 1e3, "m³/s")
	f.Between("screw.Held.Restart: share", share, tailShare, 1, "")
	var short error
	o, err := h.course(d, m, &f, func(w *emptying) (Ooze, bool) {
		p := share * w.Pressure
		x, err := w.at(p, w.x)
		if err != nil {
			return Ooze{}, false
		}
		q := math.Exp(x)
		if !(q < 0.999*flow) {
			short = fmt.Errorf("%w: at %.4g Pa the nozzle takes %.4g of %.4g m³/s", ErrNoFlow, p, q, flow)
			return Ooze{}, true
		}
		return Ooze{Time: w.Compliance / flow * w.fill(p, q, flow)}, true
	})
	if err != nil {
		return 0, err
	}
	return o.Time, short
}

// fill returns ∫dp/(1−y), y = q/flow, by parts: p/(1−y) − ∫p·y/(1−y) dz over
// z = ln(y/(1−y)), so that only Δp(q) is asked for and the pole at y = 1 is far.
func (w *emptying) fill(p, q, flow float64) float64 {
	odds := q / (flow - q)
	high, sum := math.Log(odds), 0.0
	for range 64 { // p·y/(1−y) falls by more than panel e-folds in each
		part := 0.0
		for _, n := range twelve {
			e := math.Exp(high - panel/2*(1-n.at))
			part += n.weight * panel / 2 * w.drop(math.Log(flow*e/(1+e))) * e
		}
		sum, high = sum+part, high-panel
		if part <= 1e-13*sum {
			break
		}
	}
	return p*(1+odds) - sum
}
