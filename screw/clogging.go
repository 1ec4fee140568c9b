package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Clogging is how likely grains lock to an arch over an outlet.
type Clogging struct {
	PerParticle float64  // probability that the next particle is the last, 0 to 1 [-]
	Probability float64  // that it clogs before the mass asked for is through, 0 to 1 [-]
	Ratio       float64  // Outlet.Width ÷ particle size [-]
	Beyond      []string // in words, where the law's stated range is left; nil inside it
}

const (
	perCube   = 0.155       // own fit, see Clogging [-]
	elongated = 6.15 / 4.94 // rice against spheres [-]
)

// perSphere returns how much wider an outlet must be than for spheres of the size.
func perSphere(b *material.Bulk) float64 {
	if b.Shape == "pellets" {
		return 1
	}
	return elongated
}

// particles returns how many of them make a mass.
func particles(b *material.Bulk, mass float64) float64 {
	return mass / (b.BulkDensity * b.ParticleSize * b.ParticleSize * b.ParticleSize)
}

// Clogging returns how likely a round outlet clogs while a mass, 1e-6 to 1e9 [kg],
// runs through. It errs on an outlet, a bulk or a mass out of range and on a slot.
//
// Each particle is taken to be as likely the last as the one before, which makes the
// mass between clogs an exponential distribution (I. Zuriguel et al., Phys. Rev. E
// 71 (2005) 051303). There is no width from which on nothing clogs: the chance falls as
// exp(−β (D/d)³) (form: C. C. Thomas and D. J. Durian, Phys. Rev. Lett. 114 (2015) 178001).
// β = 0.155 is our own fit to Zuriguel's mean between clogs of spheres,
// 9900/(4.94 − D/d)^6.9 particles (from memory), met within a factor of 2.2
// from two to four and a half particles' width; wider ones are extrapolated and tell
// so in Beyond from 4.94 on.
//
// Assumed: pellets clog as spheres do, any other shape as rice, at 6.15/4.94 of the width
// (from memory); one particle for each cube of its size in the bulk; a flat floor, no
// shaking. Flake is safer judged by its diagonal, √2 of a square's edge. That grains
// stick or hook, as film does, is not in it: see [Hopper.CriticalOutlet]. The rule of
// the trade, six to eight particles (common practice, no source), is a probability
// small enough.
func (o Outlet) Clogging(b material.Bulk, mass float64) (Clogging, error) {
	var f input.Faults
	o.round(&f)
	f.Add(b.Validate())
	f.Between("screw.Outlet.Clogging: mass", mass, 1e-6, 1e9, "kg")
	if err := f.Err(); err != nil {
		return Clogging{}, err
	}
	c := Clogging{Ratio: o.Width / b.ParticleSize}
	spheres := c.Ratio / perSphere(&b)
	c.PerParticle = math.Exp(-perCube * spheres * spheres * spheres)
	c.Probability = -math.Expm1(particles(&b, mass) * math.Log1p(-c.PerParticle))
	if spheres > 4.94 {
		c.Beyond = append(c.Beyond, fmt.Sprintf("outlet as of %.3g spheres' width, measured up to 4.94: extrapolated", spheres))
	}
	if b.Shape == "fluff" {
		c.Beyond = append(c.Beyond, hangs)
	}
	return c, nil
}

// OutletAgainstClogging returns the narrowest round outlet that clogs with no more than a
// probability, 1e-12 to 1 − 1e-6 [-], while a mass, 1e-6 to 1e9 [kg], runs through: with
// N particles in it D = d·(−ln(1 − (1−P)^(1/N))/β)^(1/3), [Outlet.Clogging] turned round,
// and no narrower than an Outlet may be. It errs on a bulk, a mass or a probability out
// of range.
//
// Nearly every outlet worth having is wider than what was measured: Clogging's Beyond
// tells. A little width saves much: of a thousand particles, an outlet for 0.005 is but a
// fifth wider than one for 0.5. That grains stick or hook is not in it.
func OutletAgainstClogging(b material.Bulk, mass, probability float64) (Outlet, error) {
	var f input.Faults
	f.Add(b.Validate())
	f.Between("screw.OutletAgainstClogging: mass", mass, 1e-6, 1e9, "kg")
	f.Between("screw.OutletAgainstClogging: probability", probability, 1e-12, 1-1e-6, "")
	if err := f.Err(); err != nil {
		return Outlet{}, err
	}
	perParticle := -math.Expm1(math.Log1p(-probability) / particles(&b, mass))
	spheres := math.Cbrt(-math.Log(perParticle) / perCube)
	return Outlet{Width: math.Max(narrowest, spheres*perSphere(&b)*b.ParticleSize)}, nil
}
