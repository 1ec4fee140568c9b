package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Solids is a bed of flake or pellets that fills the feed zone as a plug, and what it
// rubs on.
type Solids struct {
	Density        float64 // of the bed as packed in the screw, 10 to 3000 [kg/m³]
	BarrelFriction float64 // against the barrel, 0.01 to 2 [-]
	ScrewFriction  float64 // against root and flights, 0 to 2; the plug needs less of it than of the barrel's [-]
}

// SolidsFlow is what a feed zone does with a plug of solids.
type SolidsFlow struct {
	MassFlow float64 // [kg/s]
	Angle    float64 // in which the plug moves against the plane of rotation, seen from the screw [rad]
	Rise     float64 // pressure at the end of the zone over that at its start [-]
	Most     float64 // what it would carry against no rise of pressure [kg/s]
}

// Validate reports properties out of range.
func (s Solids) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Solids) check(f *input.Faults) {
	f.Between("screw.Solids.Density", s.Density, 10, 3000, "kg/m³")
	f.Between("screw.Solids.BarrelFriction", s.BarrelFriction, 0.01, 2, "")
	f.Between("screw.Solids.ScrewFriction", s.ScrewFriction, 0, 2, "")
}

// ConveySolids returns what a channel full of solids carries at a speed, 1e-4 to 100
// [rev/s], while pressure in it rises by a factor from its start to its end, 1 to 1e300 [-].
//
// The plug fills the channel, touches all its walls, and is held back by the screw's
// friction and driven by the barrel's; pressure is the same all through a section. Forces
// along the axis and moments about it give the angle φ of its motion:
//
//	cosφ = K·sinφ + M,  G = ρ·N·π²·H·D(D−H)·tanφ·tanθ/(tanφ+tanθ)·(1 − e/π(D−H)sinθ̄)
//
// W. H. Darnell and E. A. J. Mol, SPE J. 12 (1956) 20, in the form of Z. Tadmor and I.
// Klein (1970), from memory, derived anew from the two balances. Real screws, not always
// full and fed by gravity, carry 0.2 to 0.45 of what fills their channel (common practice,
// no source); this model tells what the friction allows, not what the throat lets in.
//
// It errs on invalid input; and with ErrNoFlow where friction on the screw holds the plug
// or the rise is more than the barrel's friction can push against.
func (c Channel) ConveySolids(s Solids, speed, rise float64) (SolidsFlow, error) {
	var f input.Faults
	c.check(&f)
	s.check(&f)
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Channel.ConveySolids: rise", rise, 1, 1e300, "")
	if err := f.Err(); err != nil {
		return SolidsFlow{}, err
	}
	p := plugOf(&c, &s)
	angle, ok := p.angle(math.Log(rise))
	if !ok || angle <= 0 {
		return SolidsFlow{}, fmt.Errorf("%w: friction %.3g on the barrel cannot push solids with %.3g on the screw against a rise of %.4g", ErrNoFlow,
			s.BarrelFriction, s.ScrewFriction, rise)
	}
	free, _ := p.angle(0)
	return SolidsFlow{MassFlow: p.carried(angle, speed), Angle: angle, Rise: rise, Most: p.carried(free, speed)}, nil
}

// SolidsRise returns by what factor a channel full of solids raises pressure from its
// start to its end while it carries a flow, above 0 [kg/s]: the inverse of
// ConveySolids [-]. The rise is exponential in length, and soon more than any machine
// bears: solids that are not drawn off pack and stall the screw. It errs on invalid input
// and with ErrNoFlow on more than the friction carries against no rise.
func (c Channel) SolidsRise(s Solids, speed, massFlow float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	s.check(&f)
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Channel.SolidsRise: mass flow", massFlow, math.SmallestNonzeroFloat64, 1e6, "kg/s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	p := plugOf(&c, &s)
	free, ok := p.angle(0)
	most := 0.0
	if ok && free > 0 {
		most = p.carried(free, speed)
	}
	if massFlow > most {
		return 0, fmt.Errorf("%w: asked %.4g kg/s of solids, friction carries at most %.4g kg/s, against no rise", ErrNoFlow, massFlow, most)
	}
	angle, err := root.Find(func(phi float64) float64 { return p.carried(phi, speed) - massFlow }, 0, free, 1e-14)
	if err != nil {
		return 0, err
	}
	rise := math.Exp((math.Cos(angle) - p.k*math.Sin(angle) - p.still) / p.byRise)
	return math.Max(1, math.Min(math.MaxFloat64, rise)), nil // by rounding, the most might ask for less than none
}

// plug is the balance of a plug of solids: M = still + byRise·ln(P₂/P₁).
type plug struct {
	k, still, byRise float64
	tan, filled      float64 // of the helix at the barrel; mass that one turn sweeps [kg]
}

func plugOf(c *Channel, s *Solids) plug {
	mean, inner := c.Bore-c.Depth, c.Bore-2*c.Depth
	helix := func(d float64) (sin, cos float64) {
		along := math.Hypot(math.Pi*d, c.Lead)
		return c.Lead / along, math.Pi * d / along
	}
	sb, cb := helix(c.Bore)
	sm, cm := helix(mean)
	ss, cs := helix(inner)
	starts := float64(c.Starts)
	width := func(cos float64) float64 { return c.Lead*cos/starts - c.Land }
	wb, wm, ws := width(cb), math.Max(0, width(cm)), math.Max(0, width(cs))
	fs, fb, h := s.ScrewFriction, s.BarrelFriction, c.Depth
	ratio := mean / c.Bore
	k := ratio * (sm + fs*cm) / (cm - fs*sm)
	turned := k + ratio*cm/sm
	z := c.Length / sb
	return plug{
		k: k,
		still: 2*h/wb*fs/fb*sb*turned +
			ws/wb*fs/fb*sb*(k+inner/c.Bore*cs/ss),
		byRise: wm / wb * h / z / fb * sm * turned,
		tan:    sb / cb,
		filled: s.Density * math.Pi * math.Pi * h * c.Bore * mean * math.Max(0, 1-starts*c.Land/(math.Pi*mean*sm)),
	}
}

// angle solves cosφ = K·sinφ + M at a logarithm of the rise.
func (p *plug) angle(lnRise float64) (phi float64, ok bool) {
	m := p.still + p.byRise*lnRise
	square := 1 + p.k*p.k - m*m
	if !(square >= 0) || !(p.k >= 0) {
		return 0, false
	}
	sin := (math.Sqrt(square) - p.k*m) / (1 + p.k*p.k)
	return math.Asin(math.Max(-1, math.Min(1, sin))), true
}

// carried returns the mass flow at an angle [kg/s].
func (p *plug) carried(phi, speed float64) float64 {
	tan := math.Tan(phi)
	return p.filled * speed * tan * p.tan / (tan + p.tan)
}
