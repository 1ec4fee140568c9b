package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Scraping is a screw that leans on its barrel.
type Scraping struct {
	Force      float64 // between them, 1e-6 to 1e6 [N]; see [Root.LeaningForce]
	Length     float64 // of the screw that leans, axial, 1e-4 up to the channel's [m]
	LandRate   float64 // wear rate of the land, material.PlainRate of its pair, 1e-25 to 1e-5 [1/Pa]
	BarrelRate float64 // wear rate of the bore, 1e-25 to 1e-5 [1/Pa]
}

// Worn is what scraping takes in a time.
type Worn struct {
	Distance  float64 // that a land has slid [m]
	Land      float64 // taken off the lands, radially [m]
	Barrel    float64 // taken out of the bore, radially [m]
	Clearance float64 // radial, then, where it leans: as it was, and both [m]

	Beyond []string // in words, where no land is left to wear; nil if one is
}

// LeaningForce returns with what force the tip of a screw leans on the barrel [N] whose
// bearing holds it on a line off the barrel's axis by an offset, 0 to 0.1 [m], and at an
// angle to it, 0 to 0.1 [rad], to the same side; and the moment that the bearing or coupling
// bears for it [N·m]. It errs on invalid input.
//
//	F = 3EI(δ + αL)/L³,  M = F·L
//
// A cantilever led back at its end (S. Timoshenko, Strength of Materials, part I, from
// memory). A shorter screw leans more. The bearing is taken as rigid and the clearance as
// none, which overstates the force. A screw that touches before its tip, as at the mouth of
// a barrel that begins at the bearing, leans there, harder by the cube of the lengths.
// Turning, it is bent to and fro once a turn, the most at the bearing.
func (r Root) LeaningForce(offset, angle float64) (force, moment float64, err error) {
	var f input.Faults
	r.check(&f)
	f.Between("screw.Root.LeaningForce: offset", offset, 0, 0.1, "m")
	f.Between("screw.Root.LeaningForce: angle", angle, 0, 0.1, "rad")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	stiff := 3 * r.Modulus * math.Pi / 64 * r.quartic() // 3EI
	force = stiff * (offset + angle*r.Length) / math.Pow(r.Length, 3)
	return force, force * r.Length, nil
}

func (w *Scraping) check(f *input.Faults, c *Channel) {
	f.Between("screw.Scraping.Force", w.Force, 1e-6, 1e6, "N")
	f.Between("screw.Scraping.Length", w.Length, 1e-4, math.Max(1e-4, c.Length), "m")
	f.Between("screw.Scraping.LandRate", w.LandRate, 1e-25, 1e-5, "1/Pa")
	f.Between("screw.Scraping.BarrelRate", w.BarrelRate, 1e-25, 1e-5, "1/Pa")
}

// Wear returns what a scraping screw loses in a time, 0 to 1e10 [s], at a speed, 1e-4 to
// 100 [rev/s]. By J. F. Archard, J. Appl. Phys. 24 (1953) 981, each body loses the volume
// rate × force × distance, here spread evenly over the lands that lean, e × helix, and
// over the bore round them. Where the side that leans is always the same one, of the screw or
// of the barrel, that side wears deeper than this. Melt between them bears part of the load; wear rates, those of
// dry pairs above all, are good to a power of ten. It errs on invalid input.
func (c Channel) Wear(w Scraping, speed, time float64) (Worn, error) {
	var f input.Faults
	c.check(&f)
	w.check(&f, &c)
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Channel.Wear: time", time, 0, 1e10, "s")
	if err := f.Err(); err != nil {
		return Worn{}, err
	}
	distance := math.Pi * c.Bore * speed * time
	land, barrel := c.perDistance(&w)
	worn := Worn{Distance: distance, Land: land * distance, Barrel: barrel * distance, Clearance: c.Clearance + (land+barrel)*distance}
	if high := c.Depth - c.Clearance; worn.Land > high {
		worn.Beyond = append(worn.Beyond, fmt.Sprintf("%.3g m taken off lands that are %.3g m high", worn.Land, high))
	}
	return worn, nil
}

// perDistance returns what each metre of sliding takes off land and bore [-].
func (c *Channel) perDistance(w *Scraping) (land, barrel float64) {
	sin, _ := c.sincos()
	return w.LandRate * w.Force / (float64(c.Starts) * c.Land * w.Length / sin), w.BarrelRate * w.Force / (math.Pi * c.Bore * w.Length)
}

// TimeTo returns how long a scraping screw runs until, through a die, it delivers a share,
// above 0 and below 1, of what it delivers now [s], taking the clearance as wide all along
// as where it leans; and the clearance then [m]. It errs on invalid input; with
// ErrNoFlow where the screw delivers nothing now; and as [OperatingPoint] does. A share that
// is not reached before the land is worn off down to half the channel's depth is ErrNoFlow
// too: such a screw has long been replaced.
func (c Channel) TimeTo(share float64, w Scraping, d Die, m Melt, speed float64) (time, clearance float64, err error) {
	var f input.Faults
	w.check(&f, &c)
	if !(share > 0 && share < 1) {
		f.Refuse("screw.Channel.TimeTo: share", share, "", "above 0 and below 1")
	}
	now, err := OperatingPoint(c, d, m, speed)
	if !f.None() || err != nil {
		f.Add(err)
		return 0, 0, f.Err()
	}
	var failed error
	left := func(clearance float64) float64 {
		worn := c
		worn.Clearance = clearance
		p, err := OperatingPoint(worn, d, m, speed)
		if err != nil && !errors.Is(err, ErrNoFlow) && failed == nil {
			failed = err
		}
		return p.Flow/now.Flow - share
	}
	most := c.Depth / 2
	end := -1.0
	if most > c.Clearance {
		end = left(most)
	}
	switch {
	case failed != nil:
		return 0, 0, failed
	case most <= c.Clearance || end > 0:
		return 0, 0, fmt.Errorf("%w: so much is not lost, with half the depth worn off the screw still delivers %.3g of what it does now", ErrNoFlow, end+share)
	}
	clearance, err = root.Between(left, c.Clearance, 1-share, most, end, 1e-10)
	if err != nil || failed != nil {
		return 0, 0, errors.Join(err, failed)
	}
	land, barrel := c.perDistance(&w)
	return (clearance - c.Clearance) / ((land + barrel) * math.Pi * c.Bore * speed), clearance, nil
}
