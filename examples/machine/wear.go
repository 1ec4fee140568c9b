package main

import (
	"errors"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
	"meltflight/screw"
)

// wearParts is what the screw is made of.
type wearParts struct {
	root     screw.Root
	barrel   screw.Barrel
	scraping screw.Scraping // its Force once it is solved
}

// wearAnswer is how long screw and barrel last, and what it costs.
type wearAnswer struct {
	force float64 // with which the tip leans on the barrel [N]
	hours float64 // until so much of the metering zone's flow is lost; 0 if never
	gap   float64 // then [m]
	price float64 // on a kilogram, of the user's money; 0 where nothing comes molten in time
}

// stopAnswer is what happens when the screw stops.
type stopAnswer struct {
	back    screw.TurnBack
	dribble screw.Ooze // until a tenth of the pressure is left
	restart float64    // to nine tenths of the pressure; 0 if it takes long beyond telling [s]
	beyond  []string   // where the melt's compressibility is not known
}

// wearInput is all that wear and stopping hang on.
type wearInput struct {
	screw    screwInput
	wear     Wear
	backlash float64
}

const (
	wornOut = "screw and barrel wear"
	steel   = 200e9 // Young's modulus of a warm steel screw, assumed [Pa]
	density = 7850  // of steel [kg/m³]
)

func (m *Machine) ownWear(f *input.Faults) {
	f.Between("wear.offset_mm", m.Wear.Offset, 1e-4, 10, "mm")
	f.Between("wear.angle_deg", m.Wear.Angle, 0, 5, "°")
	f.Between("wear.wear_coefficient", m.Wear.Coefficient, 1e-10, 1, "")
	f.Between("wear.land_hardness_hv", m.Wear.Land, 20, 3000, "HV")
	f.Between("wear.barrel_hardness_hv", m.Wear.Barrel, 20, 3000, "HV")
	f.Between("wear.lost_share", m.Wear.Lost, 0.001, 0.5, "")
	f.Between("wear.screw_and_barrel_price", m.Wear.Price, 0, 1e9, "")
	f.Between("gear.backlash_deg", m.Gear.Backlash, 0, 360, "°")
}

func (m *Machine) buildWear(p *parts, f *input.Faults) {
	s := m.Screw
	p.root = screw.Root{Diameter: (s.Bore - 2*s.FeedDepth) * milli, Length: (s.FeedLength + s.TaperLength + s.Length) * milli,
		Modulus: steel, Density: density, Yield: s.Yield * 1e6}
	p.barrel = screw.Barrel{Inner: s.Bore * milli, Outer: m.Barrel.Outer * milli, Yield: m.Barrel.Yield * 1e6}
	blame(f, "barrel", p.barrel.Validate())
	rate := func(hardness float64) float64 {
		pressure, err := material.HardnessPressure(hardness)
		if err != nil {
			return 0 // told already
		}
		k, err := material.PlainRate(m.Wear.Coefficient, pressure)
		if err != nil {
			return 0
		}
		return k
	}
	p.scraping = screw.Scraping{Length: p.channel.Lead, LandRate: rate(m.Wear.Land), BarrelRate: rate(m.Wear.Barrel)}
}

// solveStrength holds root and barrel against a jam and a blocked nozzle.
func (m *Machine) solveStrength(p *parts, a *answer, jamTorque float64) error {
	root, err := p.root.Strength(jamTorque, a.whole.ClosedThrust)
	if err != nil {
		return err
	}
	a.limit("screw.feed_depth_mm motor.set_current_a_rms", named("screw root, screw jammed", root))
	barrel, err := p.barrel.Strength(a.whole.ClosedPressure)
	if err != nil {
		return err
	}
	a.limit("barrel.outer_mm", named("barrel, nozzle blocked", barrel))
	return nil
}

// solveWear tells how long screw and barrel last, and what oozes when the screw stops.
func (m *Machine) solveWear(p *parts, a *answer) error {
	if a.noFlow != nil {
		return nil
	}
	a.worn = wearInput{a.asked, m.Wear, m.Gear.Backlash}
	if m.before != nil && m.before.noFlow == nil && m.before.worn == a.worn {
		force := a.wear.force
		a.wear, a.stop = m.before.wear, m.before.stop
		a.wear.force = force
	} else if err := m.wearOut(p, a); err != nil {
		return err
	}
	a.note("melt compressibility", a.stop.beyond...)
	a.note("turning back", a.stop.back.Beyond...)
	if a.wear.hours > 0 {
		a.limit("wear.angle_deg wear.wear_coefficient wear.land_hardness_hv", material.Utilisation{Part: wornOut, Demand: m.Feedstock.Season,
			Capacity: a.wear.hours, Unit: "h", Method: "wear of scraping lands by Archard, metering zone through the nozzle"})
	}
	return nil
}

func (m *Machine) wearOut(p *parts, a *answer) error {
	var err error
	scraping := p.scraping
	scraping.Force = a.wear.force
	cost, err := p.channel.WearCost(m.Wear.Price, 1-m.Wear.Lost, scraping, p.die, p.melt, p.speed)
	if err == nil {
		a.wear.hours, a.wear.gap = cost.Time/hour, cost.Clearance
		if a.whole.Sound > 0 {
			a.wear.price = m.Wear.Price / (cost.Time * math.Min(cost.MassFlow, a.whole.Sound))
		}
	} else if !errors.Is(err, screw.ErrNoFlow) {
		return err
	}
	return m.solveStop(p, a)
}

func (m *Machine) solveStop(p *parts, a *answer) error {
	c := &a.whole.Course
	compressibility, beyond, err := screw.MeanCompressibility(p.polymer, p.melt.Temperature, c.Pressure)
	if errors.Is(err, material.ErrNoData) {
		compressibility = 1e-9 // of any melt, ± 40 %
	} else if err != nil {
		return err
	}
	a.stop.beyond = beyond
	widening, err := p.barrel.Widening(steel, 0.3)
	if err != nil {
		return err
	}
	compliance, err := screw.Room{Volume: c.Flow*c.ResidenceTime + c.DieVolume, Compressibility: compressibility, Widening: widening}.Compliance()
	if err != nil {
		return err
	}
	held := screw.Held{Pressure: c.Pressure, Compliance: compliance}
	open, err := p.channel.Convey(p.melt, p.speed, 0)
	if err != nil {
		return err
	}
	if a.stop.back, err = held.TurnBack(open.Flow/p.speed, m.Gear.Backlash*math.Pi/180); err != nil {
		return err
	}
	if a.stop.dribble, err = held.Until(p.die, p.melt, 0.1); err != nil {
		return err
	}
	a.stop.restart, err = held.Restart(p.die, p.melt, math.Max(open.Flow, c.Flow*1.01), 0.9)
	if errors.Is(err, screw.ErrNoFlow) {
		err = nil
	}
	return err
}

func (m *Machine) reportWear(line printer, p *parts, a *answer) {
	if a.noFlow != nil {
		return
	}
	line("\nWear and stopping")
	if a.wear.hours > 0 {
		line("  the tip leans on the barrel with %.3g N; %.0f %% of the pump is lost after %s h, with %.2g mm between land and bore",
			a.wear.force, 100*m.Wear.Lost, upTo(a.wear.hours, 1e5), a.wear.gap/milli)
		if a.whole.Sound > 0 {
			line("  screw and barrel cost %.2g on each kilogram; wear rates are good to a power of ten", a.wear.price)
		}
	} else {
		line("  the tip leans on the barrel with %.3g N; so much of the pump is never lost", a.wear.force)
	}
	line("  when the screw stops, %.3g mm³ ooze out, and the pressure falls to a tenth in %.3g s; turn back %.2g turns to stop it",
		a.stop.dribble.Oozed/0.9/(milli*milli*milli), a.stop.dribble.Time, a.stop.back.Turns)
	if a.stop.restart > 0 {
		line("  it takes %.2g s at full speed to come back to nine tenths of the pressure", a.stop.restart)
	}
}
