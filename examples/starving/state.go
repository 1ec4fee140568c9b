package main

import (
	"errors"
	"fmt"
	"math"

	"meltflight/material"
	"meltflight/screw"
)

// plastic is one with its friction by temperature on this barrel, bored rough, and on
// this screw, polished. The readings are invented.
type plastic struct {
	material.Polymer
	barrel   float64 // held from the feed zone to the tip [°C]
	onBarrel screw.Friction
	onScrew  screw.Friction
}

var pp = plastic{material.PP(), 215,
	readings(20, 0.35, 60, 0.37, 90, 0.42, 120, 0.55),
	readings(20, 0.22, 60, 0.26, 90, 0.34, 120, 0.55)}

var ldpe = plastic{material.LDPE(), 190,
	readings(20, 0.40, 50, 0.44, 85, 0.60),
	readings(20, 0.28, 50, 0.36, 85, 0.60)}

// readings lists temperature [°C] and coefficient [-] in turn.
func readings(pairs ...float64) (list screw.Friction) {
	for i := 0; i < len(pairs); i += 2 {
		list = append(list, screw.FrictionReading{Temperature: material.Celsius(pairs[i]), Coefficient: pairs[i+1]})
	}
	return list
}

// The screw, one start of square pitch, and what is assumed of what it carries.
const (
	bore     = 20   // [mm]
	throat   = 40   // the part of the feed zone under the hopper, as warm as its collar [mm]
	feed     = 80   // the rest of it [mm]
	taper    = 80   // [mm]
	metering = 120  // [mm]
	shallow  = 1.6  // depth of the metering zone [mm]
	flake    = 4    // [mm]
	packs    = 1.25 // density in the screw over that poured [-]
	bed      = 0.6  // of the plastic's own density where it melts [-]
	moltenBy = 0.75 // of the length [-]
	entry    = 8    // of the nozzle's cone [mm]
	land     = 10   // [mm]
)

// state is a screw and how it runs.
type state struct {
	plastic    *plastic
	speed      float64 // [rpm]
	bulk       float64 // poured density of the flake [kg/m³]
	efficiency float64 // share of a full channel that arrives from the throat [-]
	depth      float64 // of the feed zone [mm]
	nozzle     float64 // [mm]
	hotter     float64 // barrel above the plastic's usual [°C]
	collar     float64 // temperature of the barrel round the throat [°C]
	root       float64 // of the screw's root there [°C]
}

func (s state) profile() screw.Profile {
	hot, depth := material.Celsius(s.plastic.barrel+s.hotter), s.depth*1e-3
	return screw.Profile{Bore: bore * 1e-3, Lead: bore * 1e-3, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Zones: []screw.Zone{
		{Length: throat * 1e-3, DepthIn: depth, DepthOut: depth, Barrel: material.Celsius(s.collar)},
		{Length: feed * 1e-3, DepthIn: depth, DepthOut: depth, Barrel: hot},
		{Length: taper * 1e-3, DepthIn: depth, DepthOut: shallow * 1e-3, Barrel: hot},
		{Length: metering * 1e-3, DepthIn: shallow * 1e-3, DepthOut: shallow * 1e-3, Barrel: hot},
	}}
}

// held is how it runs: the barrel's bore held at the temperature of each zone.
func (s state) held() screw.Running {
	return screw.Running{Speed: s.speed / 60, Heating: screw.HeldBarrel}
}

// done is what a state leads to.
type done struct {
	screw.Plasticated
	stop string // why nothing comes, which leaves all else but fed 0; empty if something does
	fed  screw.Feed
}

// Why nothing comes.
const (
	sticks = "flake sticks"
	slips  = "flake slips"
)

// limit names what limits.
func (d *done) limit() string {
	if d.stop != "" {
		return d.stop
	}
	return d.Bottleneck.String()
}

// sound is what the screw delivers molten in time [kg/h].
func (d *done) sound() float64 { return d.Sound * hour }

const hour = 3600.0 // [s]

// carried returns the flake as the throat leaves it and what its friction carries
// against no pressure; or why it carries none.
func (s state) carried() (solids screw.Solids, most float64, stop string, err error) {
	mouth := screw.Throat{Barrel: material.Celsius(s.collar), Root: material.Celsius(s.root), Softening: s.plastic.Softening}
	solids, err = mouth.Solids(packs*s.bulk, s.plastic.onBarrel, s.plastic.onScrew)
	if errors.Is(err, screw.ErrNoFlow) {
		return solids, 0, sticks, nil
	} else if err != nil {
		return solids, 0, "", err
	}
	flow, err := s.mouth().ConveySolids(solids, s.speed/60, 1)
	if errors.Is(err, screw.ErrNoFlow) {
		return solids, 0, slips, nil
	}
	return solids, flow.Most, "", err
}

// mouth is the channel under the hopper.
func (s state) mouth() screw.Channel { return s.profile().ChannelAt(0) }

// run tells what a state leads to.
func (s state) run() (d done, err error) {
	if d.fed, err = s.mouth().Feed(material.Bulk{Name: "flake", BulkDensity: s.bulk, ParticleSize: flake * 1e-3}, s.speed/60, s.efficiency); err != nil {
		return d, err
	}
	solids, _, stop, err := s.carried()
	if d.stop = stop; err != nil || stop != "" {
		return d, err
	}
	p := screw.Plasticating{Profile: s.profile(), Solids: solids, Throat: d.fed.MassFlow, MoltenBy: moltenBy}
	cone, err := screw.ConeOf(entry*1e-3, s.nozzle*1e-3, math.Pi/3)
	if err != nil {
		return d, fmt.Errorf("nozzle of %g mm: %w", s.nozzle, err)
	}
	p.Die = screw.Die{cone, screw.Capillary{Diameter: s.nozzle * 1e-3, Length: land * 1e-3}}
	if p.Bed, err = screw.BedOf(s.plastic.Polymer, bed*s.plastic.SolidDensity, material.Celsius((s.collar+s.root)/2)); err != nil {
		return d, err
	}
	if p.Melt, err = screw.MeltOf(s.plastic.Polymer, material.Celsius(s.plastic.barrel+s.hotter)); err != nil {
		return d, err
	}
	d.Plasticated, err = p.Run(s.held())
	return d, err
}

// enough returns the bulk density from which on the feed does not limit [kg/m³]: what
// throat and friction carry is in proportion to it, what melts and is pumped is not. It is
// not known, infinite, of a screw that nothing comes from.
func (s state) enough() (float64, done, error) {
	d, err := s.run()
	if err != nil || d.stop != "" {
		return math.Inf(1), d, err
	}
	return s.bulk * rest(&d) / math.Min(d.Throat, d.Friction), d, nil
}

// rest is what could be melted and pumped of enough feed [kg/s].
func rest(d *done) float64 { return math.Min(d.Melting, d.Pump) }

// after returns a state changed.
func (s state) after(do func(*state)) state {
	do(&s)
	return s
}
