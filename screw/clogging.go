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
	spheres := c.Ratio
	if b.Shape != "pellets" {
		spheres /= elongated
	}
	c.PerParticle = math.Exp(-perCube * spheres * spheres * spheres)
	particles := mass / (b.BulkDensity * b.ParticleSize * b.ParticleSize * b.ParticleSize)
	c.Probability = -math.Expm1(particles * math.Log1p(-c.PerParticle))
	if spheres > 4.94 {
		c.Beyond = append(c.Beyond, fmt.Sprintf("outlet as of %.3g spheres' width, measured up to 4.94: extrapolated", spheres))
	}
	if b.Shape == "fluff" {
		c.Beyond = append(c.Beyond, hangs)
	}
	return c, nil
}
