package main

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/thermal"
)

// feedParts is what brings the flake to the screw.
type feedParts struct {
	bulk   material.Bulk
	outlet screw.Outlet
	auger  screw.Auger
	level  screw.LevelControl // its AugerRate once the auger is solved
	throat screw.Throat
	under  screw.Channel // the screw under the throat
	sleeve thermal.Sleeve
}

// feedAnswer is what the feed does.
type feedAnswer struct {
	throat   screw.Feed
	auger    screw.AugerFlow
	drive    screw.AugerDrive
	cycle    screw.FeedCycle
	short    error // the auger cannot keep up, if so
	clogging screw.Clogging
	hopper   float64 // of flake in a full hopper [kg]
	sleeve   thermal.SleeveState
}

func (m *Machine) ownFeed(f *input.Faults) {
	f.Between("feeder.auger_rpm", m.Feeder.Speed, 0.1, 3000, "rpm")
	f.Between("feeder.share", m.Feeder.Share, 0.01, 1, "")
	f.Between("feeder.drop_tube_mm", m.Feeder.Tube, 2, 1000, "mm")
	f.Between("throat.efficiency", m.Throat.Efficiency, 0.05, 1, "")
	f.Between("throat.margin_k", m.Throat.Margin, 0, 100, "K")
	f.Between("throat.collar_w_per_k", m.Throat.Collar, 0, 1e4, "W/K")
	f.Between("throat.collar_c", m.Throat.Coolant, -40, 150, "°C")
	f.Between("throat.sleeve_mm", m.Throat.Sleeve, 0.1, 1e4, "mm")
	if m.Screw.Bore >= 1 && m.Screw.Bore <= 1000 && !(m.Throat.SleeveOuter >= m.Screw.Bore+0.1 && m.Throat.SleeveOuter <= 2000) {
		f.Refuse("throat.sleeve_outer_mm", m.Throat.SleeveOuter, "mm", "0.1 mm above the bore, "+input.WithUnit(m.Screw.Bore, "mm")+", to 2000 mm")
	}
	f.Between("throat.sleeve_w_per_m_k", m.Throat.SleeveConducts, 0.01, 1e4, "W/(m·K)")
	f.Between("feedstock.flake_friction_deg", m.Feedstock.Friction, 2, 60, "°")
}

func (m *Machine) buildFeed(p *parts, f *input.Faults) {
	p.bulk = material.Bulk{Name: "flake", Shape: "flake", BulkDensity: m.Feedstock.BulkDensity, ParticleSize: m.Feedstock.Flake * milli}
	blame(f, "feedstock", p.bulk.Validate())
	p.bulk.WallFriction = m.Feedstock.Friction * math.Pi / 180
	p.outlet = screw.Outlet{Width: m.Hopper.Outlet * milli}
	blame(f, "hopper", p.outlet.Validate())
	d := m.Feeder
	p.auger = screw.Auger{Diameter: d.Diameter * milli, Shaft: d.Shaft * milli, Pitch: d.Pitch * milli, Thickness: d.Flight * milli,
		Clearance: d.Gap * milli, Length: d.Length * milli}
	blame(f, "feeder", p.auger.Validate())
	p.level = screw.LevelControl{Area: math.Pi / 4 * d.Tube * d.Tube * micro, Below: d.Below * milli, Band: d.Band * milli, Above: d.Above * milli,
		SensorDelay: d.SensorDelay, StartDelay: d.StartDelay, AfterRun: d.AfterRun, AugerRate: 1, BulkDensity: 100}
	blame(f, "feeder", p.level.Validate())
	const ambientFilm = 10 // of a warm surface in still air, radiation included (common practice, no source) [W/(m²·K)]
	p.sleeve = thermal.Sleeve{Outer: m.Throat.SleeveOuter * milli / 2, Inner: m.Screw.Bore * milli / 2, Length: m.Throat.Sleeve * milli,
		Conductivity: m.Throat.SleeveConducts, Coefficient: ambientFilm}
	t := material.Celsius(m.Throat.Temperature)
	p.throat = screw.Throat{Barrel: t, Root: t, Softening: p.polymer.Softening}
	p.under = p.channel
	p.under.Depth, p.under.Length = m.Screw.FeedDepth*milli, m.Screw.FeedLength*milli
}

// solveFeed tells what the feed does while the screw draws its output.
func (m *Machine) solveFeed(p *parts, a *answer) error {
	drawn := a.whole.Output
	var err error
	sticking, err := p.throat.Sticking(material.Celsius(m.Motor.Ambient), m.Throat.Margin)
	if err != nil {
		return err
	}
	a.limit("throat.throat_c", named("throat, over the air", sticking))
	air := material.Celsius(m.Motor.Ambient)
	if a.feed.sleeve, err = p.sleeve.Cooled(material.Celsius(m.Barrel.Wall), m.Throat.Collar, material.Celsius(m.Throat.Coolant), air); err != nil {
		return err
	}
	a.note("throat", a.feed.sleeve.Beyond...)
	a.limit("throat.collar_w_per_k throat.sleeve_mm", material.Utilisation{Part: "throat collar, over the air", Demand: math.Max(0, a.feed.sleeve.Cold-air),
		Capacity: math.Max(0, p.throat.Barrel-air), Unit: "K", Method: "sleeve as a fin, cooled at its end"})
	a.feed.hopper = m.hopperMass(1) - m.hopperMass(0)
	if a.feed.auger, err = p.auger.Feed(p.bulk, m.Feeder.Speed/minute); err != nil && !errors.Is(err, screw.ErrNoFlow) {
		return err
	}
	rate := a.feed.auger.MassFlow * m.Feeder.Share
	if a.noFlow != nil || rate == 0 {
		return nil
	}
	a.note("feed auger", a.feed.auger.Beyond...)
	a.note("throat", a.feed.throat.Beyond...)
	wide, err := p.outlet.Discharge(p.bulk)
	if err != nil {
		return err
	}
	a.note("hopper outlet", wide.Beyond...)
	small, err := p.outlet.SmallFlow(p.bulk)
	if err != nil {
		return err
	}
	a.limit("hopper.outlet_mm", material.Utilisation{Part: "hopper outlet", Demand: math.Max(rate, drawn), Capacity: math.Min(wide.Flow, small),
		Unit: "kg/s", Method: "discharge of few particles' width"})
	if a.feed.clogging, err = p.outlet.Clogging(p.bulk, a.feed.hopper); err != nil {
		return err
	}
	a.limit("feeder.auger_rpm feeder.share feedstock.bulk_density_kg_per_m3", material.Utilisation{Part: "feed auger", Demand: drawn, Capacity: rate,
		Unit: "kg/s", Method: "flooded auger, friction on its flight"})
	const light = 1.2 // progress resistance of light goods that flow
	if a.feed.drive, err = p.auger.Drive(rate, m.Feeder.Speed/minute, light); err != nil {
		return err
	}
	level := p.level
	level.AugerRate, level.BulkDensity = rate, m.Feedstock.BulkDensity
	if a.feed.cycle, err = level.Cycle(drawn); errors.Is(err, screw.ErrCannotKeepUp) {
		a.feed.short = err
		return nil
	} else if err != nil {
		return err
	}
	a.note("feed auger", a.feed.cycle.Beyond...)
	a.limit("feeder.below_mm feeder.start_delay_s", named("drop tube reserve", a.feed.cycle.Reserve))
	return nil
}

func (m *Machine) reportFeed(line printer, a *answer) {
	line("\nFeed")
	if a.noFlow != nil {
		line("  nothing to bring")
		return
	}
	if a.feed.auger.MassFlow == 0 {
		line("  the auger brings nothing: friction turns the flake with its flight")
		return
	}
	w, c := &a.whole, &a.feed.cycle
	line("  throat lets in %.3g kg/h, friction of the flake carries %.3g, the screw melts %.3g in time, screw and nozzle pump %.3g (%.3g full in the metering zone alone)",
		w.Throat*hour, w.Friction*hour, w.Melting*hour, w.Pump*hour, w.Metering*hour)
	if a.feed.short != nil {
		line("  the feed auger brings %.3g kg/h, less than the screw draws: it starves, and delivers no more than that", a.feed.auger.MassFlow*m.Feeder.Share*hour)
	} else {
		line("  feed auger runs %.0f %% of the time, %.3g s on and %.3g s off, %.3g starts an hour; level sinks to %.0f mm over the screw",
			100*c.Duty, c.Run, c.Pause, c.Starts*hour, c.Lowest/milli)
		if c.Starved > 0 {
			line("  in each turn the screw runs empty for %.2g s", c.Starved)
		}
	}
	line("  auger %.2g W and %.2g N·m when nothing jams; a jam asks many times that, and sizes its motor", a.feed.drive.Power, a.feed.drive.Torque)
	line("  the throat comes to %.0f °C, %.0f taken for it: its sleeve brings %.3g W, which its collar carries off",
		material.ToCelsius(a.feed.sleeve.Cold), m.Throat.Temperature, a.feed.sleeve.Throat)
	line("  hopper: a full one lasts %.2g h%s", a.feed.hopper/(w.Output*hour), clogs(a.feed.clogging.Probability))
}

// clogs tells how likely an outlet clogs while a hopper empties.
func clogs(probability float64) string {
	if probability < 0.001 {
		return "; its outlet clogs less than once in a thousand fillings unless flake hooks"
	}
	return fmt.Sprintf("; its outlet clogs in %.0f %% of the fillings, without a stirrer", math.Max(1, 100*probability))
}
