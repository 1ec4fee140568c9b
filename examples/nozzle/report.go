package main

import (
	"fmt"
	"strings"

	"meltflight/material"
	"meltflight/screw"
)

const (
	rpm = 60.0
	bar = 1e5 // [Pa]
)

func kgh(c screw.Course) float64 { return c.MassFlow * 3600 }

func (a *answer) report() string {
	var b strings.Builder
	p, limits := a.plan, a.limits()
	fmt.Fprintf(&b, "NOZZLE AND SPEED for %g kg/h of PP bead (invented numbers)\n\n", p.wanted)
	fmt.Fprintf(&b, "Screw of 20 mm, square pitch: taper %d mm from 3.6 to 1.6 mm deep, then 120 mm of 1.6 mm; clearance 0.08 mm.\n", taper)
	fmt.Fprintf(&b, "Assumed: melt fills it from the taper on, entering at %d °C; the barrel is held at that.\n", celsius)
	fmt.Fprintf(&b, "Limits: bead %.2g MPa at the nozzle's wall, torque %.2g N·m, melt %g °C even if no heat passed the barrel.\n\n",
		limits.DieStress/1e6, limits.Torque, p.hottest)

	fmt.Fprintln(&b, "  nozzle  speed  pressure  melt at tip  if no heat  torque  wall    melt stays, s        breaks")
	fmt.Fprintln(&b, "  mm      rpm    bar       °C           passed, °C  N·m     MPa     least  mean  99 % by")
	for i := range a.trials {
		t := &a.trials[i]
		fmt.Fprintf(&b, "  %-7.1f %-6.0f %-9.3g %-12.0f %-11.0f %-7.2g %-7.2g %-6.0f %-5.0f %-8.0f %s\n", t.nozzle, t.speed*rpm, t.course.Pressure/bar,
			material.ToCelsius(t.course.Temperature), material.ToCelsius(t.warmest), t.course.Torque, t.course.DieShearStress/1e6,
			t.stay.Least, t.stay.Mean, t.latest, orDash(t.broken))
	}

	c := a.chosen
	fmt.Fprintf(&b, "\nThe smallest nozzle within all limits is %.1f mm, at %.0f rpm.\n", c.nozzle, c.speed*rpm)
	small, wide := a.ends()
	fmt.Fprintf(&b, "  From %.1f down to %.1f mm pressure grows %.2g times, but speed only %.2g times and torque %.2g times.\n", wide.nozzle, small.nozzle,
		small.course.Pressure/wide.course.Pressure, small.speed/wide.speed, small.course.Torque/wide.course.Torque)
	fmt.Fprintf(&b, "  Of the %.2g W at the shaft the barrel must take %.2g W; without that the melt could come at %.0f °C.\n",
		c.course.Power, -c.course.BarrelHeat, material.ToCelsius(c.warmest))
	fmt.Fprintf(&b, "  A hundredth of the melt stays longer than %.2g times the mean: wait for it when you change plastic or colour.\n", c.latest/c.stay.Mean)
	fmt.Fprintf(&b, "  At the %g rpm it turns now the screw wants a nozzle of %.2g mm for as much, at %.2g bar.\n", p.running, a.now*1e3, a.nowDone.Pressure/bar)

	fmt.Fprintln(&b, "\nAs fast as the limits let it")
	fmt.Fprintln(&b, "  nozzle  barrel held                        no heat passes")
	fmt.Fprintln(&b, "  mm      rpm    kg/h   stopped by           rpm    kg/h   stopped by")
	for i := range a.trials {
		t := &a.trials[i]
		fmt.Fprintf(&b, "  %-7.1f %s %s\n", t.nozzle, t.fastest.row(), strings.TrimRight(t.insulated.row(), " "))
	}
	fmt.Fprintln(&b, "  Feeding and melting are not computed here, and may stop it before.")

	fmt.Fprintln(&b, "\nEntrance loss is left out: a short nozzle's pressure is 10 to 30 % higher. Left of what is measured of this melt:")
	for _, text := range c.course.Beyond {
		fmt.Fprintf(&b, "  %s\n", text)
	}
	fmt.Fprintln(&b, "Melt under pressure burns: relieve it before you change a nozzle, and never look into one.")
	return b.String()
}

func (f *fastest) row() string {
	return fmt.Sprintf("%-6.0f %-6.2g %-20s", f.speed*rpm, kgh(f.course), f.stop.Part)
}

// ends returns the trials with the smallest and the widest nozzle.
func (a *answer) ends() (small, wide *trial) {
	small, wide = &a.trials[0], &a.trials[0]
	for i := range a.trials {
		t := &a.trials[i]
		if t.nozzle < small.nozzle {
			small = t
		}
		if t.nozzle > wide.nozzle {
			wide = t
		}
	}
	return small, wide
}

func orDash(words []string) string {
	if len(words) == 0 {
		return "-"
	}
	return strings.Join(words, ", ")
}
