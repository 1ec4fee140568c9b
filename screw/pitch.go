package screw

import "math"

// pitch is the flow over one pitch of the unrolled screw: the melt that a channel
// does not carry back across must leak over the land beside it, under the pressure
// that is left when the channel's own rise across is taken from that of a turn:
//
//	W·gc + e·gl = g·(W+e)/tanθ,  both with the same net flow across.
//
// The sum of the complementary energies of both, weighted by their widths, is least
// there under this one condition, whose multiplier the common flow is; so Newton's
// method with it eliminated is as safe as for one gap.
type pitch struct {
	channel, land       gapState
	channelGap, landGap Gap
	w, e                float64 // widths [m]
	around              float64 // (W+e)/tanθ [m]
	z                   float64 // helical length [m]
	gradient            float64 // along [Pa/m]
	leak                float64 // net flow across for each metre along, forward [m²/s]
}

// solve finds stresses in channel and land for a gradient along [Pa/m].
func (p *pitch) solve(m Melt, gradient float64) bool {
	p.gradient, p.leak = gradient, 0 // whatever was solved before
	p.channel.prepare(p.channelGap, m, gradient)
	p.land.prepare(p.landGap, m, gradient)
	c, l := &p.channel, &p.land
	// Gradients across in Pa/m are the states' own times these.
	gc, gl := c.stress/p.channelGap.Depth, l.stress/p.landGap.Depth
	// Flows across in m²/s are the states' own times these.
	qc := c.rate * p.channelGap.Depth * p.channelGap.Depth
	ql := l.rate * p.landGap.Depth * p.landGap.Depth
	turn := gradient * p.around
	// Start on the condition: what the channel's guess leaves, the land takes.
	l.startFrom((turn - p.w*gc*c.g[0]) / (p.e * gl))
	return p.newton(gc, gl, qc, ql)
}

func (p *pitch) newton(gc, gl, qc, ql float64) bool {
	c, l := &p.channel, &p.land
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
		left = (math.Abs(rc[0])+math.Abs(rc[1])+math.Abs(rc[2]))/c.size + (math.Abs(rl[0])+math.Abs(rl[1])+math.Abs(rl[2]))/l.size
		if left <= 4e-15 || left <= goodEnough && left > last/4 {
			return true
		}
		// Downhill along the condition.
		dot := func(x, y [3]float64) float64 { return x[0]*y[0] + x[1]*y[1] + x[2]*y[2] }
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
