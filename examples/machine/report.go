package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/frame"
	"meltflight/material"
	"meltflight/screw"
)

// report writes the page.
func (m *Machine) report(p *parts, a *answer) string {
	var w strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&w, format+"\n", args...) }
	line("%s: %s at %.0f °C, screw at %.4g rpm", strings.ToUpper(m.Name), p.polymer.Name, m.Feedstock.Temperature, m.Screw.Speed)
	whose := " of " + p.polymer.Name + " in general:\na grade may have half or twice that, and so pressure and torque."
	if m.feed != nil {
		whose = " by " + m.Feedstock.Polymer + "."
	}
	line("Viscosity %.3g Pa·s in the channel, %.3g in the nozzle,%s", p.viscosity(math.Pi*p.channel.Bore*p.speed/p.channel.Depth), p.viscosity(a.whole.Course.DieShearRate), whose)
	m.reportScrew(line, p, a)
	m.reportFeed(line, a)
	m.reportDrive(line, p, a)
	m.reportHeat(line, a)
	m.reportWear(line, p, a)
	m.reportFrame(line, a)

	line("\nLimits, weakest first (safety = capacity ÷ demand)")
	line("  %-24s %9s %9s  %-5s %7s  %s", "part", "demand", "capacity", "unit", "safety", "method")
	for _, l := range a.limits {
		scale, unit := people(l.Unit)
		line("  %-24s %9s %9s  %-5s %7s  %s", l.Part, plainNumber(l.Demand/scale), plainNumber(l.Capacity/scale), unit, safetyText(l.Safety()), l.Method)
	}
	line("\n%s", m.advice(a))
	if len(a.notes) > 0 {
		line("\nWhere the models leave their stated range")
		for _, n := range a.notes {
			line("  %s", n)
		}
	}
	line("\nEstimates for design, not a certification. Not computed: bolts and threads of the nozzle, trapped gas, which can")
	line("burst a barrel that melt would not. Hot melt under pressure, fumes, heaters on mains, a turning screw and auger and")
	line("hung masses hurt people: guard them, extract the fumes, and heed local codes.")
	return w.String()
}

func (p *parts) viscosity(rate float64) float64 {
	return p.melt.Viscosity.At(rate, p.melt.Temperature, 0)
}

// stalls reports whether the motor cannot turn the screw.
func (a *answer) stalls() bool { return a.stalled != nil || a.load.SunTorque > a.pullOut.Torque }

type printer func(format string, args ...any)

func (m *Machine) reportScrew(line printer, p *parts, a *answer) {
	w, c := &a.whole, &a.whole.Course
	line("\nOperating point%s", map[bool]string{true: ", if the motor held"}[a.stalls()])
	if a.noFlow != nil {
		line("  the screw delivers nothing: %v", a.noFlow)
		line("  torque %.3g N·m together", a.torque)
		return
	}
	line("  output %.3g kg/h (%.3g cm³/s) of %.3g kg/h wanted, as much as %s, at %.3g bar; closed nozzle %.3g bar",
		w.Output*hour, c.Flow/micro, m.Feedstock.Wanted, limitedBy[passes(w)], c.Pressure/1e5, w.ClosedPressure/1e5)
	if w.Sound < w.Output {
		line("  but no more than %.3g kg/h would be molten in time: feed less or turn slower", w.Sound*hour)
	}
	if w.Bed.Left == 1 {
		line("  nothing tells where it melts, as solids plug the screw or pass it (see surge, below); torque and power are those of a screw full of melt from %.0f mm on",
			w.Filled/milli)
	} else if w.Bed.Molten == 1 {
		line("  melting begins %.0f mm from the throat and ends at %.0f mm of %.0f, conduction gives %.0f %% of its heat; melt fills the screw from %.0f mm on",
			w.Bed.From/milli, (w.Bed.From+w.Bed.Length)/milli, p.plastic.Profile.Length()/milli, 100/(1+w.Bed.Dissipation), w.Filled/milli)
	} else {
		line("  melting begins %.0f mm from the throat and %.2g of the flow reaches the nozzle solid; melt fills the screw from %.0f mm on",
			w.Bed.From/milli, 1-w.Bed.Molten, w.Filled/milli)
	}
	line("  melt warms by up to %.3g K in the screw and %.3g K in the nozzle; %.3g s from where it fills the screw; thrust on the screw %.3g N",
		a.warming(p), c.DieTemperatureRise, c.ResidenceTime, c.Thrust)
	line("  torque %.3g N·m of melting and melt and %.3g N·m given for the rest, %.3g N·m together", w.Torque, m.Screw.OtherTorque, a.torque)
	shaft := 2 * math.Pi * p.speed * a.torque
	line("  melting film %.3g W, melt pumped %.3g W; whole screw %.3g W, %.2g kWh on a kilogram", w.Bed.Work, c.Power, shaft, shaft/w.Output/3.6e6)
	if heat, ok := m.meltingHeat(p); ok {
		if share := shaft / (heat * w.Output); share < 1 {
			line("  to melt it takes %.3g W, of which the shaft gives %.0f %% and the heaters the rest and their losses", heat*w.Output, 100*share)
		} else {
			line("  to melt it takes %.3g W; the shaft gives %.2g times that: cool the barrel or the melt overheats", heat*w.Output, share)
		}
	}
}

// passes tells what lets the least through, molten or not.
func passes(w *screw.Plasticated) screw.Bottleneck {
	switch w.Output {
	case w.Throat:
		return screw.ByThroat
	case w.Friction:
		return screw.ByFriction
	}
	return screw.ByPump
}

// meltingHeat returns the heat that takes a kilogram from the shed to the melt.
func (m *Machine) meltingHeat(p *parts) (heat float64, ok bool) {
	melt, _, err := p.polymer.EnthalpyAt(p.melt.Temperature)
	if err != nil {
		return 0, false
	}
	flake, _, err := p.polymer.EnthalpyAt(material.Celsius(m.Motor.Ambient))
	return melt - flake, err == nil
}

func (m *Machine) reportDrive(line printer, p *parts, a *answer) {
	line("\nDrive")
	if a.stalled != nil {
		line("  the motor stalls: %v", a.stalled)
	} else {
		line("  motor at %.4g rpm: %.3g N·m asked, %.3g N·m before it falls out of step (%s)",
			a.load.SunSpeed*minute, a.load.SunTorque, a.pullOut.Torque, a.pullOut.Regime)
		if a.stalls() {
			line("  the motor stalls: it is short of %.3g N·m", a.load.SunTorque-a.pullOut.Torque)
		}
	}
	line("  stage %.4g : 1, efficiency %.3f, tooth force %.3g N at %.2g m/s", p.stage.Ratio(), p.stage.Efficiency(), a.load.ToothForce, a.load.PitchSpeed)
	line("  teeth last %s h, the first to go the %s's", upTo(a.gears.Shortest/hour, 1e5), strings.Fields(a.gears.Utilisations[a.gears.First()].Part)[0])
	if a.noFlow == nil {
		line("  thrust bearing %s h at %.0f %% reliability; a season is %.4g h", upTo(a.bearing.Seconds/hour, 1e5), reliability*100, m.Feedstock.Season)
	}
}

func (m *Machine) reportHeat(line printer, a *answer) {
	line("\nHeat at %.3g A rms", m.Motor.SetCurrent)
	if a.chipErr != nil {
		line("  driver chip: %v", a.chipErr)
	} else {
		line("  driver chip %.3g W, junction %.0f °C of %.0f allowed, in a box of %.3g °C",
			a.chip.Loss.Total, material.ToCelsius(a.chip.Junction), m.Driver.Limit, m.Driver.Ambient)
	}
	if a.windingErr != nil {
		line("  motor winding: %v", a.windingErr)
	} else {
		line("  motor winding %.3g W, %.0f °C of %.0f allowed, in a shed of %.3g °C",
			a.winding.Loss, material.ToCelsius(a.winding.Temperature), m.Motor.Limit, m.Motor.Ambient)
	}
}

func (m *Machine) reportFrame(line printer, a *answer) {
	line("\nFrame, hopper on %s", map[string]string{"axis": "the axis", "stand": "its own stand"}[m.Hopper.On])
	for _, f := range []struct {
		name  string
		modes [3]frame.Mode
	}{{"empty", a.fills[0].modes}, {"full", a.fills[len(a.fills)-1].modes}} {
		line("  gantry with the hopper %-5s  %.3g Hz %s, %.3g Hz %s, %.3g Hz %s", f.name, f.modes[0].Frequency, f.modes[0].Shape,
			f.modes[1].Frequency, f.modes[1].Shape, f.modes[2].Frequency, f.modes[2].Shape)
	}
	at := ""
	if m.Hopper.On == "axis" {
		at = fmt.Sprintf(", worst at %.0f %% full", 100*a.worst.fill)
	}
	line("  a move rings the nozzle by up to %.3g mm%s, %.3g mm after this very move; %.3g mm allowed",
		a.worst.ringing.Worst/milli, at, a.worst.ringing.AfterMove/milli, m.Gantry.Ripple)
	if a.hurry > 0 {
		line("  at any timing and filling that ripple allows %.3g m/s²%s, asked are %.3g", a.hurry, map[bool]string{true: " and more"}[a.hurry >= fastest*(1-1e-9)], m.Gantry.Acceleration)
	}
	if m.Hopper.On == "stand" {
		line("  stand sways at %.3g and %.3g Hz with the hopper full", a.swayX, a.swayY)
	}
}

// plainNumber prints four digits without an exponent where people would.
func plainNumber(x float64) string {
	if a := math.Abs(x); a >= 1000 && a < 1e7 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.4g", x)
}

func safetyText(s float64) string {
	if s > 99 {
		return "> 99"
	}
	return fmt.Sprintf("%.2f", s)
}

// upTo prints a number, or that it is above the most that is worth telling.
func upTo(x, most float64) string {
	if x > most {
		return fmt.Sprintf("over %.0f", most)
	}
	return fmt.Sprintf("%.3g", x)
}

// people returns the unit in which people read a quantity, in SI units of it.
func people(unit string) (scale float64, name string) {
	switch unit {
	case "Pa":
		return 1e6, "MPa"
	case "m":
		return milli, "mm"
	case "kg/s":
		return 1 / hour, "kg/h"
	}
	return 1, unit
}
