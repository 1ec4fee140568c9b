package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/material"
	"meltflight/thermal"
)

func (a *answer) report() string {
	var b strings.Builder
	p, c := &a.plan, &a.plan.cooled
	fmt.Fprint(&b, "HOW FAR CAN I TURN UP THE CURRENT? Chip and motor of the melt screw (invented numbers)\n\n")
	fmt.Fprintf(&b, "Chip: %g mΩ a switch at 25 °C and growing by exp(%g·ΔT), %g V; glued on it a sink of %.0f × %.0f mm with %d fins of %.0f mm,\n",
		c.bridge.OnResistance*1e3, c.bends, c.bridge.Supply, c.sink.Width/mm, c.sink.Length/mm, c.sink.Fins, c.sink.FinHeight/mm)
	fmt.Fprintf(&b, "beneath it a pour of %g × %g mm; box at %g °C, junction to stay below %g °C.\n", c.pour, c.pour, p.box, p.junction)
	fmt.Fprintf(&b, "Motor: %g Ω a phase at 20 °C, %g W of iron loss, %.3g K/W to a shed of %g °C, winding to stay below %g °C.\n",
		p.motor.resistance, p.motor.iron, a.copper.ThermalResistance, p.shed, p.winding)
	fmt.Fprintln(&b, "All currents are rms of a phase; the peak of the sine, which many drivers are set by, is √2 times that.")
	a.tellLimits(&b)
	a.tellGains(&b)
	a.tellDuties(&b)
	a.tellDay(&b)
	a.conclude(&b)
	return b.String()
}

// tellLimits tells both limits and what stands in the way of heat.
func (a *answer) tellLimits(b *strings.Builder) {
	s, box := a.onSink, material.Celsius(a.plan.box)
	fmt.Fprintln(b, "\nFor good                 limit of current, A   runs away from, A")
	fmt.Fprintf(b, "  chip                   %-21.3g %.3g\n", a.limit.Bridge, a.bent)
	fmt.Fprintf(b, "  winding                %-21.3g %.3g\n", a.limit.Winding, a.wire)
	l := s.Loss
	fmt.Fprintf(b, "  The chip then makes %.2g W: %.2g by conducting, %.2g by switching, %.2g in dead times, %.2g by itself.\n",
		l.Total, l.Conduction, l.Switching, l.DeadTime, l.Quiescent)
	upper := l.Total - s.BoardHeat
	fmt.Fprintf(b, "    %.2g W leave by the sink, at %.0f °C (%.2g K/W in the case, %.2g in glue and base, %.2g from sink to air), %.2g W by the board (%.2g K/W).\n",
		upper, material.ToCelsius(s.Base), a.ways.toCase, a.ways.glued, (s.Base-box)/upper, s.BoardHeat, a.ways.Board)
	fmt.Fprintf(b, "  Were its switches' resistance a straight line it would run away only from %.2g A; real ones bend upwards, so trust no margin that a line promises.\n", a.straight)
}

// tellGains tells what each change buys.
func (a *answer) tellGains(b *strings.Builder) {
	fmt.Fprintln(b, "\nWhat it buys                     chip, A        winding, A     both allow, A")
	row := func(name string, l thermal.CurrentLimit) {
		lowest, which := l.Lowest()
		gain := func(now, was float64) string {
			if math.Abs(now-was) < 5e-3 {
				return fmt.Sprintf("%.2f", now)
			}
			return fmt.Sprintf("%.2f (%+.2f)", now, now-was)
		}
		fmt.Fprintf(b, "  %-30s %-14s %-14s %.2f, the %s\n", name, gain(l.Bridge, a.limit.Bridge), gain(l.Winding, a.limit.Winding), lowest, part(which))
	}
	row("as it is", a.limit)
	for i, c := range a.plan.changes {
		row(c.name, a.gains[i])
	}
}

// part is what this page calls it.
func part(which string) string {
	if which == "bridge" {
		return "chip"
	}
	return which
}

func (a *answer) tellDuties(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintf(b, "\nRuns and rests, no current at rest; A while it runs\n")
	fmt.Fprintf(b, "  of every %g min         ", p.cycle)
	for _, f := range p.factors {
		fmt.Fprintf(b, "%8s", fmt.Sprintf("%g %%", 100*f))
	}
	fmt.Fprint(b, "\n  chip                  ")
	for _, d := range a.duties {
		fmt.Fprintf(b, "%8.2f", d.Bridge)
	}
	fmt.Fprint(b, "\n  winding               ")
	for _, d := range a.duties {
		fmt.Fprintf(b, "%8.2f", d.Winding)
	}
	fmt.Fprintf(b, "\n  %g min on, %g min off, over and over: chip %.2f, winding %.2f (winding, case, sink and board each by itself).\n", p.run, p.rest, a.work.Bridge, a.work.Winding)
}

func (a *answer) tellDay(b *strings.Builder) {
	p, d := &a.plan, &a.day
	at := func(node int) float64 { return material.ToCelsius(d.hottest[node]) }
	fmt.Fprintf(b, "\nA day at %.1f A: barrel warming %d min, then %g min on and %g off, with a break of %d min, until the %.3g h are over\n",
		a.set, heating, p.run, p.rest, lunch, float64(heating+morning+lunch+evening)/60)
	fmt.Fprintf(b, "  hottest, °C: junction %.0f, sink %.0f, board %.0f; winding %.0f, motor case %.0f\n",
		at(junctionNode), at(sinkNode), at(boardNode), at(windingNode), at(motorNode))
}

// conclude says what to do.
func (a *answer) conclude(b *strings.Builder) {
	p := &a.plan
	lowest, which := a.limit.Lowest()
	fmt.Fprintln(b, "\nWhat it says")
	fmt.Fprintf(b, "  The %s is the first to be too hot, at %.2f A for good. Set %.1f A rms, %.2g A peak: within %g of what the work allows.\n",
		part(which), lowest, a.set, a.set*math.Sqrt2, p.reserve)
	fmt.Fprintf(b, "  From there the chip is %.2g A from running away. Heat goes with the square, and more: a tenth more current is %.0f %% more heat in the chip.\n",
		a.bent-a.set, 100*(a.tenth-1))
	best, most := -1, lowest
	for i, l := range a.gains {
		if now, _ := l.Lowest(); now > most+5e-3 {
			best, most = i, now
		}
	}
	if best >= 0 {
		for i, l := range a.gains {
			if now, by := l.Lowest(); by != which {
				fmt.Fprintf(b, "  Enough to make the %s the limit, at %.2f A: %s.\n", part(by), now, p.changes[i].name)
				break
			}
		}
		l := a.gains[best]
		now, by := l.Lowest()
		fmt.Fprintf(b, "  The most is bought by %s: %.2f A, %+.2f; then the %s limits.\n", p.changes[best].name, now, now-lowest, part(by))
	}
	last := len(a.duties) - 1
	fmt.Fprintf(b, "  Rests help the motor, of %.0f J/K, not the chip: at %g %% of %g min the winding may have %.1f times its current for good, the chip %.1f times.\n",
		p.motor.copper+p.motor.rest, 100*p.factors[last], p.cycle, a.duties[last].Winding/a.limit.Winding, a.duties[last].Bridge/a.limit.Bridge)
	for _, text := range a.onSink.Beyond {
		fmt.Fprintf(b, "  Beyond what the laws are made for: %s.\n", text)
	}
	fmt.Fprintln(b, "Sinks and board are known to some 15 to 25 %, so are these currents to 10 %: measure the sink on the first day.\n  Left out: how one phase at its peak heats its half of the chip.")
	fmt.Fprintln(b, "Sink and motor burn fingers: guard them. Work on the box is for when its mains are off and out.")
}
