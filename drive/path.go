package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// curvature is the radius of curvature of an involute at a radius [m], its distance from the
// base circle along the line of action.
func (t *Toothing) curvature(radius float64) float64 { return curvature(radius, t.Base) }

func curvature(radius, base float64) float64 {
	return math.Sqrt(math.Max(0, (radius-base)*(radius+base)))
}

func (t *Toothing) radius(curvature float64) float64 { return math.Hypot(t.Base, curvature) }

// contact finds where contact starts and ends, as curvature radii of the pinion: its distance
// from where the line of action touches the pinion's base circle.
func (m *Meshing) contact(g *GearPair, f *input.Faults) (r reach) {
	p, w := &m.Pinion, &m.Wheel
	between := m.Distance * math.Sin(m.WorkingAngle) // of the points where the line touches both base circles
	var begin, wheelBegin float64
	begin, p.Undercut = g.begin(g.Pinion, m, p)
	p.Begin = p.radius(begin)
	p.LeastShift = m.leastShift(g, g.Pinion)
	start, end := between-w.curvature(w.Tip), p.curvature(p.Tip)
	if g.Ring {
		start = w.curvature(w.Tip) - between
		w.Begin = w.Root
	} else {
		wheelBegin, w.Undercut = g.begin(g.Wheel, m, w)
		w.Begin = w.radius(wheelBegin)
		w.LeastShift = m.leastShift(g, g.Wheel)
	}
	slack := 1e-3 * g.Module // the rounding of a rack takes a little of the flank a rack's tip could use
	if start < begin {
		if start < begin-slack {
			r.wheel = w.radius(between - g.side()*begin)
		}
		start = begin
	}
	if last := between - wheelBegin; !g.Ring && end > last {
		if end > last+slack {
			r.pinion = p.radius(last)
		}
		end = last
	} else if last := w.curvature(w.Root) - between; g.Ring && end > last {
		r.pinion = p.radius(last)
		end = last
	}
	pitch := p.Base * math.Tan(m.WorkingAngle)
	m.Approach, m.Recess, m.Path = pitch-start, end-pitch, end-start
	m.Contact = m.Path / m.BasePitch
	m.Overlap = g.Face * math.Sin(g.Helix) / (math.Pi * g.Module)
	p.Active = p.radius(start)
	w.Active = w.radius(between - end)
	if g.Ring {
		w.Active = w.radius(between + end)
	}
	if m.Contact <= 0 || m.Contact+m.Overlap < 1 {
		f.Refuse("drive.GearPair.Distance", m.Distance, "m", fmt.Sprintf(
			"one at which a tooth pair takes over before the last one leaves: contact ratio %.4g, of the helix %.4g", m.Contact, m.Overlap))
	}
	return r
}

// reach holds the radii at which tips would have to end that reach for flank where
// their mates have no involute; 0 where they do not [m].
type reach struct{ pinion, wheel float64 }

func (m *Meshing) reaches(tip, mate string, radius float64) {
	if radius == 0 {
		return
	}
	m.Beyond = append(m.Beyond, fmt.Sprintf(
		"%s's tip reaches past the %s's involute and may foul its fillet: contact is counted as if the tip ended at a radius of %.5g mm", tip, mate, radius*1e3))
}

// leastShift is where the end of the rack's straight flank just meets the line of action's
// end on the base circle.
func (m *Meshing) leastShift(g *GearPair, w Wheel) float64 {
	sin := math.Sin(m.PressureAngle)
	return g.Rack.straight() - float64(w.Teeth)*sin*sin/(2*math.Cos(g.Helix))
}

// foul refuses a ring whose tips the pinion's tips would meet outside the path of contact.
// Elements of Metric Gear Technology, section 5.2, eqs. 5-6 and 5-7 (trochoid
// interference) and 5-9 and 5-10 (trimming).
func (m *Meshing) foul(g *GearPair, f *input.Faults) {
	p, w, a := &m.Pinion, &m.Wheel, m.Distance
	ratio := float64(g.Wheel.Teeth) / float64(g.Pinion.Teeth)
	onPinion := involute(math.Acos(p.Base/p.Tip)) - involute(m.WorkingAngle)
	onWheel := involute(math.Acos(w.Base/w.Tip)) - involute(m.WorkingAngle)
	gap := w.Tip*w.Tip - p.Tip*p.Tip
	pinion := acos((gap-a*a)/(2*a*p.Tip)) + onPinion
	wheel := acos((gap+a*a)/(2*a*w.Tip)) + onWheel
	if pinion/ratio < wheel {
		f.Refuse("drive.GearPair.Wheel.Teeth", float64(g.Wheel.Teeth), "", fmt.Sprintf(
			"more, or a larger distance or shorter tips, as the ring's and the pinion's tips foul each other by %.3g rad of the ring", wheel-pinion/ratio))
		return
	}
	// Moved out along the line of centres, as two tips pass.
	cos := p.Base * w.Tip / (p.Tip * w.Base) // of the pinion's tip angle ÷ of the ring's
	if cos >= 1 {
		return
	}
	pinion = math.Asin(math.Min(1, math.Sqrt((1-cos*cos)/(1-1/(ratio*ratio))))) + onPinion
	wheel = math.Asin(math.Min(1, math.Sqrt((1/(cos*cos)-1)/(ratio*ratio-1)))) + onWheel
	if pinion < ratio*wheel {
		m.Beyond = append(m.Beyond, "the pinion cannot be put into the ring along a radius, only along its axis")
	}
}

func acos(x float64) float64 { return math.Acos(math.Max(-1, math.Min(1, x))) }

// slide finds sliding at both ends of contact and the loss.
func (m *Meshing) slide(g *GearPair) {
	p, w := &m.Pinion, &m.Wheel
	u := float64(g.Wheel.Teeth) / float64(g.Pinion.Teeth)
	pitch := p.Base * math.Tan(m.WorkingAngle)
	turn := g.curved() // of the flanks against each other, by a turn of the pinion
	m.StartSliding = turn * math.Abs(m.Approach) / p.Working
	m.EndSliding = turn * math.Abs(m.Recess) / p.Working

	between := m.Distance * math.Sin(m.WorkingAngle)
	at := func(rho float64) (pinion, wheel float64) {
		mate := (between - g.side()*rho) / u // rolling speeds, in one unit
		if g.Ring {
			mate = (between + rho) / u
		}
		return 1 - over(mate, rho), 1 - over(rho, mate)
	}
	p.RootSliding, w.TipSliding = at(pitch - m.Approach)
	p.TipSliding, w.RootSliding = at(pitch + m.Recess)

	m.LossFactor = m.lossFactor(g)
}

func (m *Meshing) lossFactor(g *GearPair) float64 {
	return math.Pi * g.curved() / float64(g.Pinion.Teeth) / math.Cos(m.BaseHelix) *
		rubbing(m.Recess/m.BasePitch, m.Approach/m.BasePitch)
}

// over is a/b, at most 1 - worstSliding the other way.
func over(a, b float64) float64 {
	if !(a < b*(1+worstSliding)) {
		return 1 + worstSliding
	}
	return a / b
}

// rubbing is twice the mean of distance from the pitch point times share of the load, in base
// pitches, along a path from -before to after. With n or n + 1 tooth pairs in contact each
// carries an even share. For one or two, and the pitch point where there is one, it is
// Ohlendorf's 1 − ε + after² + before².
func rubbing(after, before float64) float64 {
	whole := func(from, to float64) float64 { return to*math.Abs(to) - from*math.Abs(from) }
	contact := after + before
	n := math.Floor(contact)
	if n < 1 { // the helix spreads the load along the path
		return whole(-before, after) / contact
	}
	sum := 0.0
	for k := 0.0; k <= n; k++ {
		sum += whole(k-before, after-n+k) / (n + 1)
		if k < n {
			sum += whole(after-n+k, k+1-before) / n
		}
	}
	return sum
}

// Efficiency returns the share of the power that comes through the mesh at a coefficient
// of friction, 0 to 1: 1 − friction·LossFactor, and 0 where friction takes all [-]. Typical are
// 0.03 to 0.08 greased steel and 0.2 to 0.4 dry plastic (common practice, no source).
func (m Meshing) Efficiency(friction float64) (float64, error) {
	var f input.Faults
	f.Between("drive.Meshing.Efficiency: friction", friction, 0, 1, "")
	f.Between("drive.Meshing.LossFactor", m.LossFactor, 0, 10, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Max(0, 1-friction*m.LossFactor), nil
}
