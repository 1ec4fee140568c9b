package main

import (
	"errors"
	"math"
	"strings"
	"unicode"

	"meltflight/drive"
	"meltflight/frame"
	"meltflight/internal/input"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/thermal"
)

const (
	milli  = 1e-3
	micro  = 1e-6
	nano   = 1e-9
	kilo   = 1e3
	minute = 60.0
	hour   = 3600.0
)

// parts is a machine as the library's packages take it, in SI units.
type parts struct {
	polymer material.Polymer
	melt    screw.Melt
	channel screw.Channel
	die     screw.Die
	speed   float64 // of the screw [rev/s]
	plastic screw.Plasticating
	feedParts
	wearParts

	motor    drive.Stepper // at 20 °C
	stage    drive.PlanetaryStage
	teeth    drive.ToothMaterial
	factors  drive.GearFactors
	shank    drive.Shaft
	key      drive.KeyJoint
	keySteel drive.KeyStrength
	bearing  drive.Bearing

	bridge  thermal.Bridge
	path    thermal.Path
	winding thermal.Winding

	beam  frame.Beam
	ends  frame.EndStiffness
	move  frame.Move
	stand frame.Stand
}

// Reliability at which shaft and bearing are rated.
const reliability = 0.9

// build makes the parts and reports every field that none of them could have.
func (m *Machine) build() (parts, error) {
	var f input.Faults
	m.own(&f)
	var p parts
	m.buildScrew(&p, &f)
	m.buildFeed(&p, &f)
	m.buildPlastic(&p, &f)
	m.buildWear(&p, &f)
	m.buildDrive(&p, &f)
	m.buildHeat(&p, &f)
	m.buildFrame(&p, &f)
	return p, f.Err()
}

// own checks what only this program knows.
func (m *Machine) own(f *input.Faults) {
	m.ownFeed(f)
	m.ownWear(f)
	if strings.TrimSpace(m.Name) == "" || strings.ContainsFunc(m.Name, func(r rune) bool { return !unicode.IsPrint(r) }) {
		f.Add(&input.Word{Name: "name", Value: m.Name, Allowed: "a word or more, without control characters"})
	}
	f.Between("feedstock.wanted_output_kg_per_h", m.Feedstock.Wanted, 1e-4, 1e4, "kg/h")
	f.Between("feedstock.season_h", m.Feedstock.Season, 0.1, 1e6, "h")
	f.Between("feedstock.bulk_density_kg_per_m3", m.Feedstock.BulkDensity, 10, 2000, "kg/m³")
	f.Between("screw.speed_rpm", m.Screw.Speed, 0.1, 3000, "rpm")
	f.Between("screw.other_torque_nm", m.Screw.OtherTorque, 0, 1e4, "N·m")
	f.Between("screw.feed_length_mm", m.Screw.FeedLength, 1, 1e4, "mm")
	f.Between("screw.taper_length_mm", m.Screw.TaperLength, 1, 1e4, "mm")
	f.Between("screw.root_yield_mpa", m.Screw.Yield, 1, 1e4, "MPa")
	f.Between("barrel.molten_by", m.Barrel.MoltenBy, 0.1, 1, "")
	f.Between("nozzle.fracture_stress_mpa", m.Nozzle.Fracture, 1e-3, 10, "MPa")
	f.Between("motor.set_current_a_rms", m.Motor.SetCurrent, 1e-3, 1e3, "A")
	f.Between("motor.shed_c", m.Motor.Ambient, -40, 80, "°C")
	above(f, "motor.winding_limit_c", m.Motor.Limit, "shed_c", m.Motor.Ambient)
	f.Between("driver.box_c", m.Driver.Ambient, -40, 100, "°C")
	above(f, "driver.junction_limit_c", m.Driver.Limit, "box_c", m.Driver.Ambient)
	f.Between("gear.application_factor", m.Gear.Shock, 1, 10, "")
	f.Between("key.length_mm", m.Key.Length, 1, 1000, "mm")
	f.Between("key.yield_mpa", m.Key.Yield, 1, 1e4, "MPa")
	f.Between("key.hub_yield_mpa", m.Key.HubYield, 1, 1e4, "MPa")
	f.Between("coupling.rated_nm", m.Coupling.Rated, 1e-3, 1e6, "N·m")
	f.Between("coupling.service_factor", m.Coupling.Service, 1, 20, "")
	f.Between("shank.bending_nm", m.Shank.Bending, 0, 1e4, "N·m")
	f.Between("shank.torque_ripple", m.Shank.TorqueRipple, 0, 5, "")
	f.Between("gantry.head_kg", m.Gantry.Head, 1e-3, 1e4, "kg")
	f.Between("gantry.head_below_mm", m.Gantry.HeadDrop, -5000, 5000, "mm")
	f.Between("gantry.nozzle_below_mm", m.Gantry.NozzleDrop, -5000, 5000, "mm")
	f.Between("gantry.damping_ratio", m.Gantry.Damping, 0, 0.3, "")
	f.Between("gantry.allowed_ripple_mm", m.Gantry.Ripple, 1e-4, 100, "mm")
	f.Between("hopper.empty_kg", m.Hopper.Empty, 0.001, 1e4, "kg")
	f.Between("hopper.volume_l", m.Hopper.Volume, 0.01, 1e4, "l")
	f.Between("hopper.beside_axis_mm", m.Hopper.Aside, -5000, 5000, "mm")
	f.Between("hopper.above_axis_mm", m.Hopper.Above, -5000, 5000, "mm")
	f.Between("stand.push_m_per_s2", m.Stand.Push, 0, 100, "m/s²")
	if m.Hopper.On != "axis" && m.Hopper.On != "stand" {
		f.Add(&input.Word{Name: "hopper.carried_by", Value: m.Hopper.On, Allowed: "axis or stand"})
	}
}

// bodiesSane reports whether head and hopper are within what own allows.
func (m *Machine) bodiesSane() bool {
	var f input.Faults
	f.Between("", m.Gantry.Head, 1e-3, 1e4, "")
	f.Between("", m.hopperMass(1), 1e-3, 1e7, "")
	for _, offset := range [...]float64{m.Gantry.HeadDrop, m.Hopper.Aside, m.Hopper.Above} {
		f.Between("", offset, -5000, 5000, "")
	}
	return f.None()
}

// above checks a temperature limit [°C] against the air it lies in.
func above(f *input.Faults, key string, limit float64, air string, ambient float64) {
	if !(limit > ambient && limit <= 200) {
		f.Refuse(key, limit, "°C", "above "+air+" ("+input.WithUnit(ambient, "°C")+"), up to 200 °C")
	}
}

func (m *Machine) polymer() (material.Polymer, error) {
	if m.feed != nil {
		return *m.feed, nil
	}
	return material.PolymerNamed(m.Feedstock.Polymer)
}

func (m *Machine) buildScrew(p *parts, f *input.Faults) {
	polymer, err := m.polymer()
	blame(f, "feedstock.polymer", err)
	if err == nil {
		p.polymer = polymer
		// As far above the usual as a user may want to know what would happen.
		solid, most := m.molten(p), material.ToCelsius(polymer.ProcessHigh)+100
		if m.Feedstock.Temperature > solid && m.Feedstock.Temperature <= most {
			p.melt, err = screw.MeltOf(polymer, material.Celsius(m.Feedstock.Temperature))
			blame(f, "feedstock", err)
		} else {
			f.Refuse("feedstock.melt_temperature_c", m.Feedstock.Temperature, "°C",
				"above "+input.WithUnit(solid, "°C")+", below which "+polymer.Name+" is solid, to "+input.WithUnit(most, "°C"))
		}
	}
	s := m.Screw
	p.channel = screw.Channel{Bore: s.Bore * milli, Lead: s.Lead * milli, Depth: s.Depth * milli, Land: s.Land * milli,
		Clearance: s.Clearance * milli, Starts: s.Starts, Length: s.Length * milli}
	blame(f, "screw", p.channel.Validate())
	p.speed = s.Speed / minute
	hole := screw.Capillary{Diameter: m.Nozzle.Diameter * milli, Length: m.Nozzle.Land * milli}
	blame(f, "nozzle", hole.Validate())
	p.die = screw.Die{hole}
	if m.Screw.Bore > 0 && m.Nozzle.Entry > m.Screw.Bore {
		f.Refuse("nozzle.entry_mm", m.Nozzle.Entry, "mm", "at most the bore, "+input.WithUnit(m.Screw.Bore, "mm"))
	}
	if m.Nozzle.Entry != m.Nozzle.Diameter {
		cone, err := screw.ConeOf(m.Nozzle.Entry*milli, m.Nozzle.Diameter*milli, m.Nozzle.Angle*math.Pi/180)
		blame(f, "nozzle", err)
		p.die = screw.Die{cone, hole}
	}
}

// molten returns from what temperature on the plastic counts as melt [°C].
func (m *Machine) molten(p *parts) float64 {
	bed, err := screw.BedOf(p.polymer, 600, 273)
	if err != nil {
		return material.ToCelsius(p.polymer.Transition)
	}
	return material.ToCelsius(bed.Melting)
}

// buildPlastic joins throat, screw, barrel and nozzle to the whole that melts.
func (m *Machine) buildPlastic(p *parts, f *input.Faults) {
	s, t := m.Screw, m.Throat
	if half := s.Bore / 2; !(s.FeedDepth >= s.Depth && s.FeedDepth < half) {
		f.Refuse("screw.feed_depth_mm", s.FeedDepth, "mm", "depth_mm ("+input.WithUnit(s.Depth, "mm")+") to below half the bore, "+input.WithUnit(half, "mm"))
	}
	if !(t.Cooled >= 1 && t.Cooled < s.FeedLength) {
		f.Refuse("throat.cooled_length_mm", t.Cooled, "mm", "1 mm to below feed_length_mm ("+input.WithUnit(s.FeedLength, "mm")+")")
	}
	p.plastic.Solids = screw.Solids{Density: m.Feedstock.BulkDensity, BarrelFriction: t.BarrelFriction, ScrewFriction: t.RootFriction}
	blame(f, "throat", p.plastic.Solids.Validate())
	f.Between("throat.packed_density_kg_per_m3", t.Packed, 10, 5000, "kg/m³")
	if p.polymer.Name == "" {
		return
	}
	melts := m.molten(p)
	if !(m.Barrel.Wall > melts && m.Barrel.Wall <= 600) {
		f.Refuse("barrel.wall_c", m.Barrel.Wall, "°C", "above "+input.WithUnit(melts, "°C")+", where "+p.polymer.Name+" melts, to 600 °C")
	}
	if !(t.Temperature >= -40 && t.Temperature < melts) {
		f.Refuse("throat.throat_c", t.Temperature, "°C", "-40 °C to below "+input.WithUnit(melts, "°C")+", where "+p.polymer.Name+" melts")
		return
	}
	bed, err := screw.BedOf(p.polymer, t.Packed, material.Celsius(t.Temperature))
	if err != nil {
		return // told above
	}
	wall, melt := material.Celsius(m.Barrel.Wall), material.Celsius(m.Feedstock.Temperature)
	deep, shallow := s.FeedDepth*milli, s.Depth*milli
	p.plastic.Bed, p.plastic.Melt, p.plastic.Die, p.plastic.MoltenBy = bed, p.melt, p.die, m.Barrel.MoltenBy
	p.plastic.Profile = screw.Profile{Bore: p.channel.Bore, Lead: p.channel.Lead, Land: p.channel.Land, Clearance: p.channel.Clearance, Starts: p.channel.Starts,
		Zones: []screw.Zone{
			{Length: t.Cooled * milli, DepthIn: deep, DepthOut: deep, Barrel: material.Celsius(t.Temperature)},
			{Length: (s.FeedLength - t.Cooled) * milli, DepthIn: deep, DepthOut: deep, Barrel: wall},
			{Length: s.TaperLength * milli, DepthIn: deep, DepthOut: shallow, Barrel: wall},
			{Length: p.channel.Length, DepthIn: shallow, DepthOut: shallow, Barrel: melt}}}
	if f.None() {
		p.plastic.Throat = 1 // until the speed is known
		blame(f, "screw", p.plastic.Validate())
	}
}

func (m *Machine) buildDrive(p *parts, f *input.Faults) {
	p.motor = drive.Stepper{HoldingTorque: m.Motor.HoldingTorque, Current: m.Motor.RatedCurrent,
		Resistance: m.Motor.Resistance, Inductance: m.Motor.Inductance * milli, RotorTeeth: m.Motor.RotorTeeth}
	blame(f, "motor", p.motor.Validate())
	g := m.Gear
	p.stage = drive.PlanetaryStage{Sun: g.Sun, Planet: g.Planet, Ring: g.Ring, Planets: g.Planets,
		Module: g.Module * milli, Face: g.Face * milli, MeshEfficiency: g.Efficiency, LoadShare: g.LoadShare}
	if err := p.stage.Validate(); err != nil {
		blame(f, "gear", err)
	} else if _, err := p.stage.Meshes(); err != nil {
		blame(f, "gear", err)
	}
	p.teeth = drive.ToothMaterial{Young: 206e9, Poisson: 0.3, RootLimit: 1e8, FlankLimit: 1e8}
	if steel, err := material.GearSteelNamed(g.Steel); err != nil {
		blame(f, "gear.steel", err)
	} else {
		var errContact error
		p.teeth.RootLimit, err = steel.Root(g.Hardness)
		p.teeth.FlankLimit, errContact = steel.Contact(g.Hardness)
		if err = errors.Join(err, errContact); err != nil {
			blame(f, "gear.hardness_hv", err)
		}
		p.teeth.Life = drive.QuenchedLife()
		switch name := strings.ToLower(g.Steel); {
		case strings.HasPrefix(name, "case"):
			p.teeth.Life = drive.CaseLife()
		case strings.HasPrefix(name, "nitrided"):
			p.teeth.Life = drive.NitridedLife()
		}
	}
	p.factors = drive.CommonGearFactors()
	p.factors.Application = g.Shock
	d := m.Shank.Diameter * milli
	p.shank = drive.Shaft{Diameter: d, BendingNotch: m.Shank.BendingNotch, TorsionNotch: m.Shank.TorsionNotch,
		Yield: 1e8, Ultimate: 1e8, Endurance: 1e8} // until the metal is known
	if s, ok := strength(f, "shank", m.Shank.Metal, "diameter_mm", d); ok {
		endurance, err := drive.EnduranceLimit(s.Ultimate, d, drive.Machined, reliability)
		blame(f, "shank", err)
		if err == nil {
			p.shank.Yield, p.shank.Ultimate, p.shank.Endurance = s.Yield, s.Ultimate, endurance
		}
	}
	blame(f, "shank", p.shank.Validate())
	if size, err := drive.StandardKey(d); err != nil {
		blame(f, "shank", err)
	} else {
		p.key = drive.KeyJoint{Diameter: d, Size: size, Length: m.Key.Length * milli, Keys: 1}
		blame(f, "key", p.key.Validate())
	}
	p.keySteel = drive.KeyStrength{Key: m.Key.Yield * 1e6, Shaft: p.shank.Yield, Hub: m.Key.HubYield * 1e6}
	p.bearing = drive.Bearing{Dynamic: m.Bearing.Dynamic * kilo, Static: m.Bearing.Static * kilo, Exponent: drive.Ball}
	if m.Bearing.Rollers {
		p.bearing.Exponent = drive.Roller
	}
	blame(f, "thrust_bearing", p.bearing.Validate())
}

func (m *Machine) buildHeat(p *parts, f *input.Faults) {
	d := m.Driver
	p.bridge = thermal.Bridge{OnResistance: d.OnResistance * milli, TemperatureCoefficient: d.Coefficient,
		Supply: m.Motor.Supply, RiseTime: d.Rise * nano, FallTime: d.Fall * nano, ChopFrequency: d.Chop * kilo,
		Quiescent: d.Quiescent * milli, DiodeDrop: d.Diode, DeadTime: d.DeadTime * nano}
	blame(f, "driver", p.bridge.Validate())
	p.path = thermal.Path{JunctionToCase: d.JunctionToCase, CaseToSink: d.CaseToSink, SinkToAir: d.SinkToAir}
	blame(f, "driver", p.path.Validate())
	p.winding = thermal.Winding{Resistance: m.Motor.Resistance, Phases: 2,
		ThermalResistance: m.Motor.ThermalResistance, IronLoss: m.Motor.IronLoss}
	blame(f, "motor", p.winding.Validate())
}

func (m *Machine) buildFrame(p *parts, f *input.Faults) {
	g := m.Gantry
	p.beam = frame.Beam{Length: g.Span * milli, Section: tube(f, "gantry", g.Height, g.Width, g.Wall),
		Metal: metalNamed(f, "gantry", g.Metal)}
	p.ends = frame.EndStiffness{Y: g.EndY / milli, Z: g.EndZ / milli, Roll: g.EndRoll}
	axis := m.axis(p, 1)
	if !m.bodiesSane() {
		axis.Bodies = nil // told already
	}
	blame(f, "gantry", axis.Validate())
	p.move = frame.Move{Distance: g.Distance * milli, Speed: g.Speed, Acceleration: g.Acceleration}
	blame(f, "gantry", p.move.Validate())

	s := m.Stand
	p.stand = frame.Stand{Height: s.Height * milli, Width: s.Width * milli, Depth: s.Depth * milli,
		Leg: tube(f, "stand", s.Leg, s.Leg, s.Wall), Metal: metalNamed(f, "stand", s.Metal), FeetFixed: s.Bolted,
		Mass: math.Max(0, m.hopperMass(1)), MassHeight: m.Hopper.Height * milli}
	strength(f, "stand", s.Metal, "leg_wall_mm", s.Wall*milli)
	blame(f, "stand", p.stand.Validate())
}

// tube is a square-cornered tube [mm]. Where there is none, a bar stands in for
// it, so that the other fields are checked all the same.
func tube(f *input.Faults, section string, height, width, wall float64) frame.Section {
	s, err := frame.RectangularTube(height*milli, width*milli, wall*milli)
	blame(f, section, err)
	if err != nil {
		s, _ = frame.Rectangle(0.01, 0.01)
	}
	return s
}

// axis is the gantry with its head, and with the hopper filled to a share if it hangs there.
func (m *Machine) axis(p *parts, fill float64) frame.Axis {
	bodies := []frame.Body{{Mass: m.Gantry.Head, Offset: [3]float64{0, 0, -m.Gantry.HeadDrop * milli}}}
	if m.Hopper.On == "axis" {
		bodies = append(bodies, frame.Body{Mass: m.hopperMass(fill),
			Offset: [3]float64{0, m.Hopper.Aside * milli, m.Hopper.Above * milli}})
	}
	return frame.Axis{Beam: p.beam, Ends: p.ends, Bodies: bodies}
}

// hopperMass is the hopper with flake to a share of its volume [kg].
func (m *Machine) hopperMass(fill float64) float64 {
	return m.Hopper.Empty + fill*m.Hopper.Volume*milli*m.Feedstock.BulkDensity
}

// strength looks up what a named metal bears at a section, which a key stands for.
func strength(f *input.Faults, section, metal, key string, size float64) (material.Strength, bool) {
	found, err := material.MetalNamed(metal)
	if err != nil {
		blame(f, section+".metal", err)
		return material.Strength{}, false
	}
	s, err := found.StrengthAt(size)
	blame(f, section+"."+key, err)
	return s, err == nil
}

// metalNamed looks up a metal; where there is none, steel stands in for it, so
// that the other fields are checked all the same.
func metalNamed(f *input.Faults, section, name string) material.Metal {
	metal, err := material.MetalNamed(name)
	if err != nil {
		blame(f, section+".metal", err)
		return material.S235()
	}
	return metal
}
