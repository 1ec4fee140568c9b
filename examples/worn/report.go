package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/material"
)

func (a *answer) report() string {
	var b strings.Builder
	p := a.plan
	fmt.Fprintf(&b, "WHY A WORN OR RE-CUT SCREW PUMPS LESS, at %g rpm (invented numbers)\n\n", p.speed)
	fmt.Fprintf(&b, "Screw of 20 mm, square pitch: taper %d mm from %g mm deep, then a metering zone of %d mm.\n", taper, feed, metering)
	fmt.Fprintf(&b, "Assumed: PP melt fills it from the taper on, entering at %d °C; the barrel is held at that.\n\n", celsius)
	for _, v := range p.screws {
		fmt.Fprintf(&b, "  %s\n", v.label())
	}
	for i := range a.fronts {
		a.fronts[i].tell(&b, a)
	}
	fmt.Fprintln(&b, "  Melt from as warm as the held barrel leaves it to as warm as if no heat passed the barrel.")
	fmt.Fprintln(&b, "\nWhat it says")
	for i := range p.screws[1:] {
		a.compare(&b, i+1)
	}
	for _, f := range a.fronts {
		fmt.Fprintf(&b, "  For the %s a metering zone of %.1f mm is best, with new lands: %.2f kg/h.%s\n",
			f.nozzle.name, f.best*1e3, kgh(f.most), ifTrue(f.best > 0.999e-3*feed, " It could be deeper still, but for the feed zone."))
	}
	if len(a.fronts) > 1 && a.fronts[1].best > a.fronts[0].best {
		fmt.Fprintln(&b, "  A deep screw is not bad: it wants a nozzle that asks for little pressure.")
	}
	fmt.Fprintln(&b, "How fast lands wear is not computed. Feeding, melting and entrance loss are left out. Left of what is measured of this melt:")
	for _, text := range a.fronts[0].points[0].course.Beyond {
		fmt.Fprintf(&b, "  %s\n", text)
	}
	fmt.Fprintln(&b, "Melt under pressure burns: relieve it before you open anything, and never look into a nozzle.")
	return b.String()
}

// tell sets out what each screw does behind a nozzle.
func (f *front) tell(b *strings.Builder, a *answer) {
	fmt.Fprintf(b, "\nThrough the %s, %g mm with a land of %g mm; flows in kg/h\n", f.nozzle.name, f.nozzle.diameter, f.nozzle.land)
	fmt.Fprintln(b, "           output  pressure  dragged  pressed  back over  torque  warmest      as much as the new one at")
	fmt.Fprintln(b, "  screw            bar       along    back     the lands  N·m     melt, °C     rpm    N·m    °C")
	for i, at := range f.points {
		fmt.Fprintf(b, "  %-8s %-7.2f %-9.0f %-8.2f %-8.2f %-10.2f %-7.1f %.0f to %-5.0f %-6.0f %-6.1f %.0f to %.0f\n", a.plan.screws[i].name,
			kgh(at.course), at.course.Pressure/bar, a.carried(at.tip.Drag), -a.carried(at.tip.PressureFlow), -a.carried(at.tip.Leakage), at.course.Torque,
			material.ToCelsius(at.course.Hottest), material.ToCelsius(at.warmest),
			at.speed*rpm, at.again.Torque, material.ToCelsius(at.again.Hottest), material.ToCelsius(at.againWarmest))
	}
}

// compare says how a screw differs from the new one.
func (a *answer) compare(b *strings.Builder, i int) {
	first := &a.fronts[0]
	was, is := first.points[0], first.points[i]
	var outputs []string
	for _, f := range a.fronts {
		outputs = append(outputs, fmt.Sprintf("%s through the %s", change(f.points[i].course.Flow/f.points[0].course.Flow), f.nozzle.name))
	}
	name := a.plan.screws[i].name
	fmt.Fprintf(b, "  The %s screw puts out %s.\n", name, strings.Join(outputs, " and "))
	fmt.Fprintf(b, "    Behind the %s it drags %.1f times as much along as the new one; %.2f kg/h are pressed back, not %.2f, and %.2f leak over the lands, not %.2f.\n",
		first.nozzle.name, is.tip.Drag/was.tip.Drag, -a.carried(is.tip.PressureFlow), -a.carried(was.tip.PressureFlow), -a.carried(is.tip.Leakage), -a.carried(was.tip.Leakage))
	fmt.Fprintf(b, "    To put out as much there it must turn %.1f times as fast, with %.1f times the torque.\n",
		is.speed/was.speed, is.again.Torque/was.again.Torque)
}

// change puts a ratio in words.
func change(ratio float64) string {
	word := "more"
	if ratio < 1 {
		word = "less"
	}
	return fmt.Sprintf("%.0f %% %s", 100*math.Abs(ratio-1), word)
}

func ifTrue(yes bool, text string) string {
	if yes {
		return text
	}
	return ""
}
