package screw

import (
	"math"

	"meltflight/internal/root"
)

// pitch is the flow over one pitch of the unrolled screw: the melt that a channel
// does not carry back across must leak over the land beside it, under the pressure
// that is left when the channel's own rise across is taken from that of a turn:
//
//	W·gc + e·gl = g·(W+e)/tanθ,  both with the same net flow across.
//
// The sum of the complementary energies of both, weighted by their widths, is least
// there under this one condition, whose multiplier the common flow is; so Newton's
// method with it eliminated is as safe as for one gap.
//
// Side walls enter by two factors on what a channel without them would carry, q: the
// flow along is drag·q(0) + press·(q(g) − q(0)), where q(0) meets no pressure and leaks
// nothing; see [sideWalls].
type pitch struct {
	channel, land       gapState
	free                gapState // the channel against no pressure, where nothing leaks
	channelGap, landGap Gap
	w, e                float64 // widths [m]
	around              float64 // (W+e)/tanθ [m]
	drag, press         float64 // factors of the side walls [-]
	opened              opened  // what is known of free
	dragged             float64 // flow of free for each metre of width [m²/s]
	wide                bool    // no side walls, as handbooks have it
	close               float64 // how near a flow is to be met, of what cancels; 0 for rounding [-]

	gradient float64 // along [Pa/m]
	leak     float64 // net flow across for each metre along, forward [m²/s]
	byFlow   float64 // about how the gradient rises with the flow, where one was met [Pa·s/m⁴]
}

// pitchOf returns the pitch of an unrolled screw, at its depth.
func pitchOf(b *balance) pitch {
	p := pitch{landGap: Gap{Depth: b.gap, Along: b.vz, Across: -b.vx}, w: b.w, e: b.e, around: b.around}
	p.deep(b, b.h)
	return p
}

// deep sets the depth of the channel [m].
func (p *pitch) deep(b *balance, depth float64) {
	p.channelGap = Gap{Depth: depth, Along: b.vz, Across: -b.vx}
	p.channel.bend = bend{h: depth / b.radius, sin: b.sin, cos: b.cos}
	p.free.bend = p.channel.bend
}

// tabulated has a law that is no power law solved by its curve.
func (p *pitch) tabulated(curve *flowCurve) {
	p.channel.fluid.curve, p.land.fluid.curve, p.free.fluid.curve = curve, curve, curve
}

// rough has integrals taken to some 1e-8, as a march along a screw can do with.
func (p *pitch) rough() {
	for _, s := range [...]*gapState{&p.channel, &p.land, &p.free} {
		s.fluid.rough = true
	}
	p.free.loose = 1e-6 // it counts by the difference of drag and press alone
}

// melted sets the melt, and units from the rates of drag. It returns false if the flow
// against no pressure was not found.
func (p *pitch) melted(m Melt) bool {
	p.channel.fluid.melt, p.land.fluid.melt = m, m
	p.channel.units(p.channelGap, m, math.Hypot(p.channelGap.Along, p.channelGap.Across)/p.channelGap.Depth)
	p.land.units(p.landGap, m, math.Hypot(p.landGap.Along, p.landGap.Across)/p.landGap.Depth)
	return p.open(m)
}

// open finds the flow against no pressure, from where it was last.
func (p *pitch) open(m Melt) bool {
	f := &p.free
	f.fluid.melt = m
	f.units(p.channelGap, m, math.Hypot(p.channelGap.Along, p.channelGap.Across)/p.channelGap.Depth)
	found := true
	// Of a power law nothing but the units depends on the melt's temperature.
	now := opened{bend: f.bend, index: f.index, temperature: m.Temperature}
	if f.fluid.power {
		now.temperature = 0
	}
	if p.opened.bend.h != now.bend.h || p.opened.index != now.index || p.opened.temperature != now.temperature || p.opened.index == 0 {
		if p.opened.index == 0 {
			f.start(f.index)
		}
		found = f.newton()
		now.along = f.top[1] - f.lever[1]
		p.opened = now
	}
	p.dragged = p.opened.along * f.perFlow(p.channelGap)
	p.drag, p.press = 1, 1
	if !p.wide {
		p.drag, p.press = sideWalls(p.channelGap.Depth/p.w, f.index)
	}
	return found
}

// opened is a flow against no pressure, in units of the gap, with what it hangs on.
type opened struct {
	bend               bend
	index, temperature float64
	along              float64
}

// solve finds stresses in channel and land for a gradient along [Pa/m], from anywhere.
func (p *pitch) solve(m Melt, gradient float64) bool {
	p.gradient, p.leak = gradient, 0 // whatever was solved before
	opened := p.open(m)
	p.channel.prepare(p.channelGap, m, gradient)
	p.land.prepare(p.landGap, m, gradient)
	c, l := &p.channel, &p.land
	// Start on the condition: what the channel's guess leaves, the land takes.
	l.startFrom((gradient*p.around - p.w*c.perGradient(p.channelGap)*c.g[0]) / (p.e * l.perGradient(p.landGap)))
	return p.newton() && opened
}

// flow returns the net flow of one channel and land as solved [m³/s].
func (p *pitch) flow() float64 {
	return p.alongChannel() + p.e*p.land.along(p.landGap) + p.leak*p.around
}

// alongChannel returns the flow along the channel as solved, walls included [m³/s].
func (p *pitch) alongChannel() float64 {
	return p.w * (p.drag*p.dragged + p.press*(p.channel.along(p.channelGap)-p.dragged))
}

// channelHeat returns what is turned to heat on each square metre of channel [W/m²]:
// what the walls take from the flow of the pressure they take from its heat.
func (p *pitch) channelHeat() float64 {
	return p.channel.dissipation(p.channelGap) + (1-p.press)*p.gradient*(p.channel.along(p.channelGap)-p.dragged)
}

// forward returns the shear along the screw's axis that the barrel puts on each metre
// of helix, towards the tip [N/m]. As the walls hold part of the drag, so they bear part
// of the pressure's shear.
func (p *pitch) forward(sin, cos float64) float64 {
	across, along := p.channel.sliding()
	unsheared := (1 - p.drag) * p.gradient * p.dragged / p.channelGap.Along
	shore, ashore := p.land.sliding()
	return p.w*((along*p.channel.stress-unsheared)*sin+across*p.channel.stress*cos) +
		p.e*p.land.stress*(ashore*sin+shore*cos)
}

func (p *pitch) newton() bool {
	c, l := &p.channel, &p.land
	gc, gl := c.perGradient(p.channelGap), l.perGradient(p.landGap)
	qc, ql := c.perFlow(p.channelGap), l.perFlow(p.landGap)
	// Weights of the two energies: width times units of stress, rate and depth.
	wc, wl := p.w*c.stress*c.rate*p.channelGap.Depth, p.e*l.stress*l.rate*p.landGap.Depth
	c.fluid.evaluate(c)
	l.fluid.evaluate(l)
	left := math.Inf(1)
	for range mostNewton {
		c.across, l.across = p.leak/qc, p.leak/ql
		rc, rl := c.residual(), l.residual()
		hc, hl := c.hessian(), l.hessian()
		dc, ok1 := cholesky(hc, rc)
		dl, ok2 := cholesky(hl, rl)
		uc, ok3 := cholesky(hc, [3]float64{0, 0, 1})
		ul, ok4 := cholesky(hl, [3]float64{0, 0, 1})
		if !ok1 || !ok2 || !ok3 || !ok4 {
			return false
		}
		// A change dq of the common flow takes uc·dq/qc and ul·dq/ql from the steps;
		// together the gradients must stay on the condition.
		off := p.gradient*p.around - p.w*gc*c.g[0] - p.e*gl*l.g[0]
		dq := (p.w*gc*dc[2] + p.e*gl*dl[2] - off) / (p.w*gc*uc[2]/qc + p.e*gl*ul[2]/ql)
		for i := range 3 {
			dc[i] -= uc[i] * dq / qc
			dl[i] -= ul[i] * dq / ql
		}
		p.leak += dq
		c.across, l.across = p.leak/qc, p.leak/ql
		rc, rl = c.residual(), l.residual()
		last := left
		left = size(rc)/c.size + size(rl)/l.size
		if left <= 4e-15 || left <= goodEnough && left > last/4 {
			return true
		}
		// Downhill along the condition.
		slope := wc*dot(rc, dc) + wl*dot(rl, dl)
		ac, al := *c, *l
		for factor := 1.0; ; factor /= 2 {
			for i := range 2 {
				c.a[i] = ac.a[i] + factor*dc[i]
				l.a[i] = al.a[i] + factor*dl[i]
			}
			c.g[0] = ac.g[0] + factor*dc[2]
			l.g[0] = al.g[0] + factor*dl[2]
			c.fluid.evaluate(c)
			l.fluid.evaluate(l)
			if back := -(wc*dot(c.residual(), dc) + wl*dot(l.residual(), dl)); back <= 0.5*slope {
				break
			}
			if factor < 1e-9 {
				return left <= goodEnough
			}
		}
	}
	return left <= goodEnough
}

// state is all that Newton's method needs to know of a solved pitch to go on from
// there, in units of each gap, so that it serves another melt or depth as well.
type state struct {
	channel, land  [2]float64 // stresses at the still walls
	across, ashore float64    // gradients across channel and land
	gradient       float64    // along, in units of the channel
	leak           float64    // in units of the channel
	opened         opened
	byFlow         float64
}

func (p *pitch) state() state {
	c, l := &p.channel, &p.land
	return state{c.a, l.a, c.g[0], l.g[0], p.gradient / c.perGradient(p.channelGap), p.leak / c.perFlow(p.channelGap), p.opened, p.byFlow}
}

func (p *pitch) restore(s *state) {
	c, l := &p.channel, &p.land
	c.a, l.a, c.g[0], l.g[0] = s.channel, s.land, s.across, s.ashore
	p.gradient, p.leak = s.gradient*c.perGradient(p.channelGap), s.leak*c.perFlow(p.channelGap)
	p.byFlow = s.byFlow
}

const fewNewton = 20 // steps enough from a state near

// meet finds the gradient along at which one channel and land together deliver a flow
// [m³/s], for the melt set last: from the state it is in if that is near, else
// from anywhere.
func (p *pitch) meet(flow float64) bool {
	if p.meetFromHere(flow) {
		return true
	}
	found := p.solve(p.channel.fluid.melt, 0)
	p.inUnitsOfDrag()
	if found && p.meetFromHere(flow) {
		return true
	}
	found = p.meetFromAnywhere(flow)
	p.inUnitsOfDrag()
	return found
}

// inUnitsOfDrag puts what was solved from anywhere in the units of melted.
func (p *pitch) inUnitsOfDrag() {
	c, l := &p.channel, &p.land
	before := [2]float64{c.stress, l.stress}
	p.melted(c.fluid.melt)
	for i, s := range [...]*gapState{c, l} {
		ratio := before[i] / s.stress
		s.a, s.g = [2]float64{s.a[0] * ratio, s.a[1] * ratio}, [2]float64{s.g[0] * ratio, s.g[1] * ratio}
		s.fluid.evaluate(s)
	}
}

// meetFromHere is Newton's method on all at once: stresses, gradients and leakage.
func (p *pitch) meetFromHere(flow float64) bool {
	c, l := &p.channel, &p.land
	gc, gl := c.perGradient(p.channelGap), l.perGradient(p.landGap)
	qc, ql := c.perFlow(p.channelGap), l.perFlow(p.landGap)
	scale := p.w*qc*math.Abs(c.v[1]) + math.Abs(flow)
	last := math.Inf(1)
	var dc, dl [3]float64
	var dq, dg float64
	for range fewNewton {
		left := p.distance(flow, scale)
		for factor := 1.0; left > (1-0.3*factor)*last && left > goodEnough; { // back from a step too far
			if factor /= 2; factor < 0.02 {
				return false
			}
			p.move(dc, dl, dq, dg, -factor)
			left = p.distance(flow, scale)
		}
		if left <= p.close || left <= goodEnough && left > last/4 {
			return true
		}
		if math.IsNaN(left) {
			return false
		}
		last = left
		rc, rl := c.residual(), l.residual()
		off := p.gradient*p.around - p.w*gc*c.g[0] - p.e*gl*l.g[0]
		short := flow - p.flow()
		// A change dq of the leakage and dg of the gradient along take from the steps.
		hc, hl := c.hessian(), l.hessian()
		kc, kl := c.byGradient(), l.byGradient()
		var ok [6]bool
		var uc, ul, tc, tl [3]float64
		dc, ok[0] = cholesky(hc, rc)
		dl, ok[1] = cholesky(hl, rl)
		uc, ok[2] = cholesky(hc, [3]float64{0, 0, 1 / qc})
		ul, ok[3] = cholesky(hl, [3]float64{0, 0, 1 / ql})
		tc, ok[4] = cholesky(hc, kc)
		tl, ok[5] = cholesky(hl, kl)
		if ok != [6]bool{true, true, true, true, true, true} {
			return false
		}
		for i := range 3 {
			tc[i] /= gc
			tl[i] /= gl
		}
		// The condition, and the flow: two equations for dq and dg.
		a11 := -(p.w*gc*uc[2] + p.e*gl*ul[2])
		a12 := -(p.w*gc*tc[2] + p.e*gl*tl[2]) - p.around
		b1 := off - p.w*gc*dc[2] - p.e*gl*dl[2]
		wc := p.w * qc * p.press
		a21 := p.around + wc*dot(kc, uc) + p.e*ql*dot(kl, ul)
		a22 := wc*(dot(kc, tc)-c.stiff[2][1][1]/gc) + p.e*ql*(dot(kl, tl)-l.stiff[2][1][1]/gl)
		b2 := short + wc*dot(kc, dc) + p.e*ql*dot(kl, dl)
		det := a11*a22 - a12*a21
		dq, dg = (b1*a22-a12*b2)/det, (a11*b2-a21*b1)/det
		p.byFlow = a11 / det
		for i := range 3 {
			dc[i] -= uc[i]*dq + tc[i]*dg
			dl[i] -= ul[i]*dq + tl[i]*dg
		}
		p.move(dc, dl, dq, dg, 1)
	}
	return false
}

// move adds a step to stresses, gradients and leakage.
func (p *pitch) move(dc, dl [3]float64, dq, dg, factor float64) {
	for i := range 2 {
		p.channel.a[i] += factor * dc[i]
		p.land.a[i] += factor * dl[i]
	}
	p.channel.g[0] += factor * dc[2]
	p.land.g[0] += factor * dl[2]
	p.leak += factor * dq
	p.gradient += factor * dg
}

// distance evaluates both gaps and returns how far the pitch is from a flow, all
// that is left in parts of what cancels.
func (p *pitch) distance(flow, scale float64) float64 {
	c, l := &p.channel, &p.land
	gc, gl := c.perGradient(p.channelGap), l.perGradient(p.landGap)
	c.g[1], l.g[1] = p.gradient/gc, p.gradient/gl
	c.across, l.across = p.leak/c.perFlow(p.channelGap), p.leak/l.perFlow(p.landGap)
	c.fluid.evaluate(c)
	l.fluid.evaluate(l)
	off := p.gradient*p.around - p.w*gc*c.g[0] - p.e*gl*l.g[0]
	return size(c.residual())/c.size + size(l.residual())/l.size + math.Abs(flow-p.flow())/scale +
		math.Abs(off)/(math.Abs(p.gradient)*p.around+math.Abs(p.w*gc*c.g[0])+math.Abs(p.e*gl*l.g[0]))
}

// meetFromAnywhere brackets the gradient; the flow falls as it rises.
func (p *pitch) meetFromAnywhere(flow float64) bool {
	m := p.channel.fluid.melt
	found := true
	excess := func(gradient float64) float64 {
		found = p.solve(m, gradient) && found
		return p.flow() - flow
	}
	eta, _ := m.local(math.Abs(p.channelGap.Along) / p.channelGap.Depth)
	near, far := 0.0, 6*eta*math.Abs(p.channelGap.Along)/(p.channelGap.Depth*p.channelGap.Depth)
	if excess(0) < 0 {
		far = -far
	}
	sign := math.Copysign(1, far)
	for range 200 {
		if sign*excess(far) <= 0 {
			break
		}
		near, far = far, 2*far
	}
	gradient, err := root.Find(excess, near, far, 1e-13)
	found = found && err == nil
	excess(gradient)
	return found
}

// perGradient returns what a gradient in units of the state is [Pa/m].
func (s *gapState) perGradient(g Gap) float64 { return s.stress / g.Depth }

// perFlow returns what a flow in units of the state is [m²/s].
func (s *gapState) perFlow(g Gap) float64 { return s.rate * g.Depth * g.Depth }

// byGradient returns how speeds and lever across move with the gradient along.
func (s *gapState) byGradient() [3]float64 {
	return [3]float64{s.stiff[1][0][1], s.stiff[1][1][1], s.stiff[2][0][1]}
}

func dot(x, y [3]float64) float64 { return x[0]*y[0] + x[1]*y[1] + x[2]*y[2] }

func size(r [3]float64) float64 { return math.Abs(r[0]) + math.Abs(r[1]) + math.Abs(r[2]) }
