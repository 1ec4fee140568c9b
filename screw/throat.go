package screw

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"

	"meltflight/internal/input"
	"meltflight/material"
)

// Feed is what a screw takes from a throat that never runs empty.
type Feed struct {
	MassFlow float64  // [kg/s]
	Full     float64  // what it would carry, channel full, with a lead a turn [kg/s]
	Beyond   []string // in words, where common practice is left; nil inside it
}

// Feed returns what a screw whose channel under the throat is c takes of a bulk that lies
// over it, at a speed, 1e-4 to 100 [rev/s], with a feed efficiency, 0.05 to 1 [-]: the
// share of Full that arrives.
//
//	Full = ρ·N·π/4·(D² − (D−2h)²)·(S − e·starts/cosθ),  MassFlow = efficiency·Full
//
// with the bulk's poured density. The volume is geometry; the efficiency is not known
// before a screw is weighed: 0.2 to 0.45 in smooth throats (our own inference from one
// measured screw, 0.25 if its pellets lay at 550 kg/m³), 0.5 to 0.8 in grooved ones (common
// practice, no source). Weigh a minute's output against an open end and divide by Full. Flow
// is in proportion to speed only up to one that the model does not know, which is higher for
// small round granules than for larger lenses and cylinders (K. S. Johann and C. Bonten,
// Polymers 14(5) (2022) 898, abstract). Usual error: that of the efficiency, a factor of 1.5
// unmeasured.
//
// Beyond tells of particles longer than half the depth, worse from 0.7 on (common practice,
// no source; flake that lies flat passes longer), of fewer than 12 to the bore (the rule
// of screw conveyors for sized lumps, from memory; small machines rarely keep it, and feed
// in jerks), and of an efficiency that smooth throats do not have.
//
// What reaches the screw's end is the least of what a feeder gives, of MassFlow and of
// what friction carries, [SolidsFlow.Most]. A screw is starved, its flow the feeder's, where
// the feeder's is the least. It errs on invalid input.
func (c Channel) Feed(b material.Bulk, speed, efficiency float64) (Feed, error) {
	var f input.Faults
	c.check(&f)
	f.Add(b.Validate())
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Channel.Feed: efficiency", efficiency, 0.05, 1, "")
	if err := f.Err(); err != nil {
		return Feed{}, err
	}
	full := b.BulkDensity * speed * c.Volume() / c.Length * c.Lead
	return Feed{MassFlow: efficiency * full, Full: full, Beyond: c.feedBeyond(b.ParticleSize, efficiency)}, nil
}

func (c *Channel) feedBeyond(size, efficiency float64) (beyond []string) {
	const slack = 1 + 1e-9
	switch share := size / c.Depth; {
	case share > 0.7*slack:
		beyond = append(beyond, fmt.Sprintf("particles as long as %.3g of the channel's depth: expect jams above 0.7", share))
	case share > 0.5*slack:
		beyond = append(beyond, fmt.Sprintf("particles as long as %.3g of the channel's depth: jams begin above 0.5", share))
	}
	if fit := c.Bore / size; fit*slack < 12 {
		beyond = append(beyond, fmt.Sprintf("bore of %.3g particles, conveyors want 12: it feeds in jerks", fit))
	}
	if efficiency > 0.45*slack || efficiency*slack < 0.2 {
		beyond = append(beyond, fmt.Sprintf("feed efficiency %.3g, smooth throats have 0.2 to 0.45", efficiency))
	}
	return beyond
}

// Intake compares a flow that is wanted, or that the screw pumps [kg/s], with what the
// throat lets in.
func (d Feed) Intake(wanted float64) material.Utilisation {
	return material.Utilisation{Part: "throat's intake", Demand: wanted, Capacity: d.MassFlow, Unit: "kg/s", Method: "bulk volume a turn, feed efficiency"}
}

// FrictionReading is one reading of a solid plastic's friction on steel.
type FrictionReading struct {
	Temperature float64 // of the steel, 100 to 1500, each at least 0.1 above the one before [K]
	Coefficient float64 // 0.01 to 2 [-]
}

// Friction is the friction of a solid plastic on one steel by temperature: 2 to 64
// readings, as measured at the pressure and sliding speed of the feed zone. The package
// has none: [material.SteelFrictionOf] gives ranges well below softening, and what
// becomes of them towards it differs by polymer, pressure, speed and polish.
type Friction []FrictionReading

// Validate reports readings out of range or order.
func (r Friction) Validate() error {
	var f input.Faults
	r.check(&f, "screw.Friction")
	return f.Err()
}

func (r Friction) check(f *input.Faults, name string) {
	f.Count(name, len(r), 2, 64)
	for i, p := range r {
		if !(p.Temperature >= 100 && p.Temperature <= 1500) || i > 0 && p.Temperature-r[i-1].Temperature < apart {
			f.Refuse(fmt.Sprintf("%s[%d].Temperature", name, i), p.Temperature, "K", "100 to 1500 K, each 0.1 K or more above the one before")
		}
		if !(p.Coefficient >= leastGrip && p.Coefficient <= mostGrip) {
			f.Between(fmt.Sprintf("%s[%d].Coefficient", name, i), p.Coefficient, leastGrip, mostGrip, "")
		}
	}
}

const (
	apart               = 0.1 * (1 - 1e-9) // [K]
	leastGrip, mostGrip = 0.01, 2          // [-]
)

// At returns the coefficient of friction at a temperature of the steel within the
// readings [-], by the cubics of F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput.
// 5 (1984) 300 (from memory), which run through the readings and between two of them rise
// or fall as these do. It errs on readings that are invalid and outside them.
func (r Friction) At(temperature float64) (float64, error) {
	var f input.Faults
	r.check(&f, "screw.Friction")
	if f.None() {
		r.within(&f, "screw.Friction.At: temperature", temperature)
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return r.at(temperature), nil
}

// within refuses a temperature outside good readings.
func (r Friction) within(f *input.Faults, name string, temperature float64) {
	f.Between(name, temperature, r[0].Temperature, r[len(r)-1].Temperature, "K")
}

func (r Friction) at(temperature float64) float64 {
	t, mu := make([]float64, len(r)), make([]float64, len(r))
	for i, p := range r {
		t[i], mu[i] = p.Temperature, p.Coefficient
	}
	var curve interp.FritschButland
	_ = curve.Fit(t, mu) // never errs
	return math.Max(leastGrip, math.Min(mostGrip, curve.Predict(temperature)))
}

// Throat is where a plastic enters the screw: what it touches there, and how warm that is.
// Heat creeps into both from the hot end, into the root along the screw.
type Throat struct {
	Barrel    float64 // temperature of the bore under the hopper, 200 to 800 [K]
	Root      float64 // of the screw's root and flights there, 200 to 800 [K]
	Softening float64 // of the plastic, material.Polymer.Softening, 200 to 800 [K]
}

// Validate reports temperatures out of range.
func (h Throat) Validate() error {
	var f input.Faults
	h.check(&f)
	return f.Err()
}

func (h *Throat) check(f *input.Faults) {
	f.Between("screw.Throat.Barrel", h.Barrel, 200, 800, "K")
	f.Between("screw.Throat.Root", h.Root, 200, 800, "K")
	f.Between("screw.Throat.Softening", h.Softening, 200, 800, "K")
}

// Solids returns the bed of a density, as Solids.Density [kg/m³], with the friction it has
// on barrel and screw, each at its own temperature: what [Channel.ConveySolids] asks for.
// Friction that rises towards softening helps on the barrel and hinders on the root: a
// root warmer than its barrel carries less, until the plug turns with the screw. Assumed:
// a plug that slides takes the walls' temperature at its skin; heat of friction is left
// out. It errs on invalid input and on temperatures outside the readings; and with
// ErrNoFlow where one of the two is at Softening or above: what sticks there bridges the
// throat or turns with the screw.
func (h Throat) Solids(density float64, barrel, screw Friction) (Solids, error) {
	var f input.Faults
	h.check(&f)
	f.Between("screw.Solids.Density", density, 10, 3000, "kg/m³")
	barrel.check(&f, "screw.Throat.Solids: barrel")
	screw.check(&f, "screw.Throat.Solids: screw")
	if err := f.Err(); err != nil {
		return Solids{}, err
	}
	if hottest := math.Max(h.Barrel, h.Root); hottest >= h.Softening {
		return Solids{}, fmt.Errorf("%w: flake sticks in the throat at %.4g °C, from %.4g °C on", ErrNoFlow,
			material.ToCelsius(hottest), material.ToCelsius(h.Softening))
	}
	barrel.within(&f, "screw.Throat.Barrel", h.Barrel)
	screw.within(&f, "screw.Throat.Root", h.Root)
	if err := f.Err(); err != nil {
		return Solids{}, err
	}
	return Solids{Density: density, BarrelFriction: barrel.at(h.Barrel), ScrewFriction: screw.at(h.Root)}, nil
}

// Sticking compares how warm the throat is, at its warmer side, with what it may be: a
// margin, 0 to 100 [K], below Softening; both over the air's temperature, 200 to 400 [K],
// with which they would rise. 20 to 30 K are usual (common practice, no source), and a
// throat no warmer than the air has next to no demand. It errs on invalid input.
func (h Throat) Sticking(air, margin float64) (material.Utilisation, error) {
	var f input.Faults
	h.check(&f)
	f.Between("screw.Throat.Sticking: air", air, 200, 400, "K")
	f.Between("screw.Throat.Sticking: margin", margin, 0, 100, "K")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	part, hottest := "throat's barrel, over the air", h.Barrel
	if h.Root > h.Barrel {
		part, hottest = "screw root in the throat, over the air", h.Root
	}
	return material.Utilisation{Part: part, Demand: math.Max(0, hottest-air), Capacity: h.Softening - margin - air, Unit: "K",
		Method: "softening less a margin"}, nil
}
