package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/material"
)

// report writes the page.
func (m *Machine) report(p *parts, a *answer) string {
	var w strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&w, format+"\n", args...) }
	celsius := material.ToCelsius

	line("%s: %s at %.0f °C, screw at %.4g rpm", strings.ToUpper(m.Name), m.Feedstock.Polymer, m.Feedstock.Temperature, m.Screw.Speed)
	line("")
	line("Operating point")
	o := &a.point
	if a.noFlow != nil {
		line("  the screw pumps nothing: %v", a.noFlow)
	} else {
		line("  output %.3g kg/h (%.3g cm³/s) of %.3g kg/h wanted, at %.3g bar", o.MassFlow*hour, o.Flow/micro, m.Feedstock.Wanted, o.Pressure/1e5)
		line("  drag %.3g, pressure %.3g, leakage %.3g cm³/s; closed nozzle %.3g bar", o.Drag/micro, o.PressureFlow/micro, o.Leakage/micro, o.ClosedPressure/1e5)
		line("  melt warms by up to %.3g K in the screw and %.3g K in the nozzle; %.3g s in the metering zone", o.TemperatureRise, o.DieTemperatureRise, o.ResidenceTime)
	}
	line("  torque %.3g N·m of the metering zone + %.3g N·m of the rest = %.3g N·m", o.Torque, m.Screw.OtherTorque, a.torque)
	line("  power %.3g W: pumping %.3g, heat in channel %.3g, over lands %.3g; thrust %.3g N", o.Power, o.Pumping, o.ChannelDissipation, o.LandDissipation, o.Thrust)
	if o.MassFlow > 0 {
		line("  the screw uses %.3g kWh on a kilogram; a full hopper lasts %.2g h",
			2*math.Pi*p.speed*a.torque/o.MassFlow/3.6e6, (m.Hopper.Full-m.Hopper.Empty)/(o.MassFlow*hour))
	}

	line("")
	line("Drive")
	line("  motor at %.4g rpm: %.3g N·m asked, %.3g N·m before it falls out of step (%s)",
		a.load.SunSpeed*minute, a.load.SunTorque, a.pullOut.Torque, a.pullOut.Regime)
	if a.load.SunTorque > a.pullOut.Torque {
		line("  the motor stalls: it is short of %.3g N·m", a.load.SunTorque-a.pullOut.Torque)
	}
	line("  stage %.4g : 1, efficiency %.3f, tooth force %.3g N at %.2g m/s", p.stage.Ratio(), p.stage.Efficiency(), a.load.ToothForce, a.load.PitchSpeed)
	line("  thrust bearing %s h at %.0f %% reliability; a season is %.3g h", upTo(a.bearing.Seconds/hour, 1e5), reliability*100, m.Feedstock.Season)

	line("")
	line("Heat at %.3g A rms", m.Motor.SetCurrent)
	if a.chipErr != nil {
		line("  driver chip: %v", a.chipErr)
	} else {
		line("  driver chip %.3g W, junction %.3g °C in a box of %.3g °C", a.chip.Loss.Total, celsius(a.chip.Junction), m.Driver.Ambient)
	}
	if a.windingErr != nil {
		line("  motor winding: %v", a.windingErr)
	} else {
		line("  motor winding %.3g W, %.3g °C in a shed of %.3g °C", a.winding.Loss, celsius(a.winding.Temperature), m.Motor.Ambient)
	}

	line("")
	line("Frame, hopper on the %s", map[string]string{"axis": "axis", "stand": "stand of its own"}[m.Hopper.On])
	empty, full := a.fills[0], a.fills[len(a.fills)-1]
	line("  gantry %.3g Hz (%s) with the hopper empty, %.3g Hz (%s) full", empty.mode.Frequency, empty.mode.Shape, full.mode.Frequency, full.mode.Shape)
	line("  a move leaves up to %.2g mm of ringing, worst at %.0f %% full; %.3g mm allowed", a.worst.ringing.Worst/milli, 100*a.worst.fill, m.Gantry.Ripple)
	if m.Hopper.On == "stand" {
		line("  stand sways at %.3g and %.3g Hz with the hopper full", a.swayX, a.swayY)
	}

	line("")
	line("Limits, weakest first (safety = capacity ÷ demand)")
	line("  %-26s %10s %10s  %-5s %7s  %s", "part", "demand", "capacity", "unit", "safety", "method")
	for _, l := range a.limits {
		scale, unit := people(l.Unit)
		line("  %-26s %10.4g %10.4g  %-5s %7s  %s", l.Part, l.Demand/scale, l.Capacity/scale, unit, safetyText(l.Safety()), l.Method)
	}
	line("")
	line("%s", m.advice(a))
	if len(a.notes) > 0 {
		line("")
		line("Where the models leave their stated range")
		for _, n := range a.notes {
			line("  %s", n)
		}
	}
	line("")
	line("Estimates for design, not a certification. Hot melt under pressure, heaters on mains,")
	line("a turning screw and hung masses hurt people: guard them, and heed local codes.")
	return w.String()
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
	case "s":
		return hour, "h"
	}
	return 1, unit
}
