package screw

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/integrate/quad"

	"meltflight/internal/root"
)

// Layers of a circulating melt are told by the share F = cos φ of the flow within
// each, at Gauss's points of φ from the core (π/2) to the walls (0). Times over φ are
// 1/sin φ times what is smooth, so that so few give the mean as well:
//
//	t̄ = ∫ t dF = ∫ t·sin φ dφ.
const layerCount = 24

var layerShares, layerWeights, layerNewtonian = func() (share, weight, newtonian [layerCount]float64) {
	quad.Legendre{}.FixedLocations(share[:], weight[:], 0, math.Pi/2) // which fall
	for i, phi := range share {
		share[i] = math.Cos(phi)
		weight[i] *= math.Sin(phi)
		newtonian[i] = channelTime(math.Sin(phi))
	}
	return share, weight, newtonian
}()

// layers is how long the layers of a melt take for a metre of channel [s/m], or for
// all of it [s]. A layer keeps its share from station to station, as what is within
// it stays within; so the times of a screw are the sum of its stations'.
type layers struct {
	at   [layerCount]float64 // of layerShares
	core float64             // of the innermost
	mean float64             // cross-section ÷ flow
}

// add lengthens the way by a length [m] of channel of which each metre takes per.
func (l *layers) add(length float64, per *layers) {
	for i := range l.at {
		l.at[i] += length * per.at[i]
	}
	l.core += length * per.core
	l.mean += length * per.mean
}

// newtonian fills in the layers of a Newtonian melt for a mean, in closed form.
func (l *layers) newtonian(mean float64) {
	for i, t := range layerNewtonian {
		l.at[i] = mean * t
	}
	l.core, l.mean = 0.75*mean, mean
}

// times returns the layers as a table. That the inner is the quicker, as every melt
// in the tests shows, rounding may have disturbed.
func (l *layers) times() ResidenceTimes {
	shares, times := layerShares, l.at
	last := l.core
	for i := range times {
		last = math.Max(last, times[i])
		times[i] = last
	}
	return ResidenceTimes{Shares: shares[:], Times: times[:], Mean: l.mean, Least: l.core}
}

// solve fills in the layers of a gap as solved, for a metre of channel. What leaks
// over a land is left out: the gap is solved again without. The layers' mean is held
// against cross-section ÷ flow, and refused if it is off by more than meanError; next
// to closed discharge, where each layer's way forward is a small difference, it is.
// ErrNoFlow if some layer does not come forward, and if nothing goes across: that
// melt does not circulate, and what touches a wall never comes out.
func (l *layers) solve(g Gap, solved *gapState) error {
	s := *solved
	if s.across != 0 {
		s.across = 0
		if !s.newton() {
			return fmt.Errorf("%w: %+v, without leakage", ErrNotFound, g)
		}
	}
	if math.Abs(s.v[0]) < leastCrossing*math.Abs(s.v[1]) || s.v[0] == 0 {
		return fmt.Errorf("%w: nothing circulates where the wall does not slide across: %+v", ErrNoFlow, g)
	}
	var c circulation
	c.integrate(&s)
	per := 1 / (s.rate * g.Depth)
	sum, forward := 0.0, c.locate()
	if forward {
		_, u := c.stream(c.core)
		l.core, l.mean = per/u[1], per/c.at[panelCount].sum[1]
		forward = l.core > 0 && l.mean > 0
	}
	back := c.core
	for i := 0; i < layerCount && forward; i++ {
		back = c.find(layerShares[i], back)
		_, slowness, _ := c.layer(back)
		l.at[i] = per * slowness
		sum += layerWeights[i] * l.at[i]
		forward = slowness > 0
	}
	if !forward || !(math.Abs(sum-l.mean) <= meanError*l.mean) {
		return fmt.Errorf("%w: %.2g of what is dragged comes out, too little to tell that all its layers come forward",
			ErrNoFlow, 2*c.at[panelCount].sum[1]/math.Abs(s.v[1]))
	}
	return nil
}

// layers fills in the layers of the channel as last solved, for a metre of it: those of
// the wide flat gap that has the same share of backflow, exactly for a Newtonian melt.
func (p *pitch) layers(l *layers) error {
	var s gapState
	s.fluid.curve, s.fluid.rough = p.free.fluid.curve, p.free.fluid.rough
	g, m := p.channelGap, p.free.fluid.melt
	if !s.solve(g, m, 0) {
		return fmt.Errorf("%w: %+v, no gradient, %+v", ErrNotFound, g, m)
	}
	flow := s.along(g) * p.alongChannel() / (p.w * p.drag * p.dragged)
	if !s.newtonFor(s.prepareFor(g, m, flow)) {
		return fmt.Errorf("%w: %+v, flow %g m²/s, %+v", ErrNotFound, g, flow, m)
	}
	return l.solve(g, &s)
}

const (
	meanError     = 1e-3
	leastCrossing = 1e-4 // of the speed along, below which rounding would tell the layers
)

// circulation is the velocity in a gap at the ends of panels, in units of the gap's
// depth and rate, across (0) and along (1), across as the sliding wall goes.
type circulation struct {
	at   [panelCount + 1]height
	core float64 // height where nothing crosses
	turn int     // panel of the core
}

type height struct {
	y     float64
	u     [2]float64 // velocity
	slope [2]float64 // du/dy
	sum   [2]float64 // ∫₀ʸ u dy: stream function across, flow along
}

const panelCount = 32

// integrate fills in velocities for stresses as solved.
func (c *circulation) integrate(s *gapState) {
	sign := math.Copysign(1, s.v[0])
	near := s.rate
	// slope returns du/dy at a height.
	slope := func(y float64) [2]float64 {
		t0, t1 := s.a[0]+s.g[0]*y, s.a[1]+s.g[1]*y
		square := t0*t0 + t1*t1
		if square == 0 {
			return [2]float64{}
		}
		var fluidity float64
		if s.fluid.power {
			fluidity = math.Pow(square, s.fluid.s)
		} else {
			root := math.Sqrt(square)
			near, _ = s.fluid.rateAt(root*s.stress, near)
			fluidity = near / (s.rate * root)
		}
		return [2]float64{sign * fluidity * t0, fluidity * t1}
	}
	// Where the stress is least, profiles of a thinning melt have their kinks.
	cut := 0.5
	if g2 := s.g[0]*s.g[0] + s.g[1]*s.g[1]; g2 > 0 {
		cut = math.Max(0.1, math.Min(0.9, -(s.a[0]*s.g[0]+s.a[1]*s.g[1])/g2))
	}
	c.at[0] = height{slope: slope(0)}
	for k := range panelCount {
		lo, hi := &c.at[k], &c.at[k+1]
		// Closer towards the walls and the cut.
		sin := math.Sin(math.Pi / panelCount * float64(k+1))
		if hi.y = cut * sin * sin; k >= panelCount/2 {
			hi.y = 1 - (1-cut)*sin*sin
		}
		half, mid := (hi.y-lo.y)/2, (hi.y+lo.y)/2
		hi.u, hi.slope = lo.u, slope(hi.y)
		for i := range 2 {
			hi.sum[i] = lo.sum[i] + 2*half*lo.u[i]
		}
		for _, k := range twelve {
			y, weight := mid+half*k.at, half*k.weight
			for i, du := range slope(y) {
				hi.u[i] += weight * du
				hi.sum[i] += weight * du * (hi.y - y)
			}
		}
	}
}

// within returns ∫u dy and u at a fraction x of panel k, by the polynomial of the
// fifth degree that has the sums, velocities and slopes of both ends.
func (c *circulation) within(k, i int, x float64) (sum, u float64) {
	lo, hi := &c.at[k], &c.at[k+1]
	h := hi.y - lo.y
	rise := hi.sum[i] - lo.sum[i]
	v0, v1, a0, a1 := h*lo.u[i], h*hi.u[i], h*h*lo.slope[i], h*h*hi.slope[i]
	c3 := 10*rise - 6*v0 - 4*v1 - 1.5*a0 + 0.5*a1
	c4 := -15*rise + 8*v0 + 7*v1 + 1.5*a0 - a1
	c5 := 6*rise - 3*v0 - 3*v1 - 0.5*a0 + 0.5*a1
	sum = lo.sum[i] + x*(v0+x*(0.5*a0+x*(c3+x*(c4+x*c5))))
	return sum, (v0 + x*(a0+x*(3*c3+x*(4*c4+x*5*c5)))) / h
}

// locate finds the core.
func (c *circulation) locate() bool {
	for k := range panelCount {
		if c.at[k].u[0] < 0 && c.at[k+1].u[0] >= 0 {
			x, err := root.Find(func(x float64) float64 { _, u := c.within(k, 0, x); return u }, 0, 1, 1e-15)
			if err != nil { // by rounding, at the end
				x = 1
			}
			c.turn, c.core = k, c.at[k].y+x*(c.at[k+1].y-c.at[k].y)
			return true
		}
	}
	return false
}

// stream returns stream function and velocities at a height.
func (c *circulation) stream(y float64) (sum, u [2]float64) {
	k := sort.Search(panelCount-1, func(k int) bool { return c.at[k+1].y > y })
	x := (y - c.at[k].y) / (c.at[k+1].y - c.at[k].y)
	for i := range 2 {
		sum[i], u[i] = c.within(k, i, x)
	}
	return sum, u
}

// layer returns the flow within and the slowness of the layer that comes back at a
// height from the still wall up to the core: above and below as much crosses, and the
// melt stays at each the longer, the slower it crosses. Thinner is the change of that
// flow with the height.
func (c *circulation) layer(back float64) (flow, slowness, thinner float64) {
	below, v := c.stream(back)
	k := c.turn
	for k < panelCount-1 && c.at[k+1].sum[0] < below[0] {
		k++
	}
	lo, hi := &c.at[k], &c.at[k+1]
	from, wide := 0.0, hi.y-lo.y
	if k == c.turn {
		from = (c.core - lo.y) / wide
	}
	x := 1.0
	if below[0] < hi.sum[0] { // else rounding at the wall
		x = rising(from, 1, func(x float64) (float64, float64) {
			sum, u := c.within(k, 0, x)
			return sum - below[0], u * wide
		})
	}
	above, u := c.stream(lo.y + x*wide)
	both := v[1]*u[0] - u[1]*v[0]
	return above[1] - below[1], (u[0] - v[0]) / both, -both / u[0]
}

// find returns the height at which the layer of a share comes back, below the height
// of a lesser share's.
func (c *circulation) find(share, above float64) float64 {
	inside := share * c.at[panelCount].sum[1]
	return above - rising(0, above, func(down float64) (float64, float64) {
		flow, _, thinner := c.layer(above - down)
		return flow - inside, -thinner
	})
}

// rising returns where a function that rises between lo and hi is zero, by Newton's
// steps as long as they stay where it must be.
func rising(lo, hi float64, f func(float64) (value, slope float64)) float64 {
	x := lo
	for range 100 {
		value, slope := f(x)
		if value > 0 {
			hi = x
		} else {
			lo = x
		}
		next := x - value/slope
		if !(next > lo && next < hi) {
			next = lo + (hi-lo)/2
		}
		if math.Abs(next-x) <= 1e-11 { // of which the square is left
			return next
		}
		x = next
	}
	return x
}
