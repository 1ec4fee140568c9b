package main

import (
	"fmt"
	"strings"
)

const micro = 1e-6

func (a *answer) report() string {
	var b strings.Builder
	p := &a.plan
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	full, bare := &a.laden[len(a.laden)-1], &a.bare
	line("ON THE AXIS OR ON ITS OWN FEET? A full hopper on the gantry makes it swing (invented numbers)\n")
	line("Axis: aluminium tube %g x %g x %g mm, %g mm long; ends hold %.3g N/mm along the travel. Head %g kg, %g mm below it, its tip %g mm.", p.height, p.width, p.wall, p.span, p.ends.Y/1e3, p.head, p.headBelow, p.nozzleBelow)
	line("Hopper: %g to %.3g kg, %g mm beside the axis and %g mm above. Moves of %g mm at %g m/s and %g m/s²; a bead may ripple %g µm.", p.empty, p.hopper(1), p.aside, p.above, p.move.Distance/mm, p.move.Speed, p.move.Acceleration, p.ripple*mm/micro)
	line("Assumed: damping %g %% of critical in every mode; head and hopper are points; the ends follow the command exactly.\n", 100*p.damping)

	line("Hopper on the axis")
	line("  fill   lowest modes     rings at the nozzle, µm   wave in    may be hurried to, m/s²")
	line("         Hz               as timed    at worst      bead, mm   plain   2 parts   3 parts")
	for i := range a.laden {
		a.laden[i].tell(&b, fmt.Sprintf("%.0f %%", 100*a.laden[i].fill))
	}
	bare.tell(&b, "none")
	line("  At worst, and hurried: however ramps and cruise are timed. Parts: moves shaped in two or three, made for %.3g Hz, half fill; for none, for its own.", a.shapers[0].Frequency)
	line("  Over the fills two parts let through up to %.2g of the main ringing and three %.2g, and prolong every move by %.2g and %.2g ms.", a.most(0), a.most(1), a.shapers[0].Delay()*1e3, a.shapers[1].Delay()*1e3)
	line("  Made for the middle of the drift instead: %.2g and %.2g.", a.drift[0], a.drift[1])
	line("  Up and down the nozzle goes %.2g µm at worst with the hopper full, none without: it hangs to the side.", full.bobs.Worst/micro)
	line("\nA full hopper higher or lower, %g mm beside the axis", p.aside)
	line("  above axis, mm   lowest, Hz   rings at worst, µm   may, m/s²")
	for i := range a.heights {
		h := &a.heights[i]
		line("  %-16g %-12.3g %-20.3g %.3g", h.axis.Bodies[1].Offset[2]/mm, h.modes[0].Frequency, h.rings.Worst/micro, h.may.AnyTiming)
	}
	line("  Above the axis it balances the head below: the nozzle turns less with the beam. Below it, both turn it.")

	line("\nHopper on its feet: four legs of %g x %g mm steel, %g mm high on %g x %g mm, %.2g kg", p.leg, p.legWall, p.standHeight, p.standWidth, p.standDepth, a.stands[0].mass)
	line("  feet      sways at, Hz               two feet lift at a push of    leg      %g N of the hose", p.hose)
	line("            empty        full          empty        full             buckles  move it by, µm")
	for i, name := range []string{"loose", "bolted"} {
		s := &a.stands[i]
		push := fmt.Sprintf("%-12s %-16s", fmt.Sprintf("%.2g N", s.push[0]), fmt.Sprintf("%.2g N", s.push[1]))
		if i == 1 {
			push = fmt.Sprintf("%-29s", "held by bolts")
		}
		line("  %-9s %-12s %-13s %s at %-5s %.2g", name, two(s.sway[0]), two(s.sway[1]), push, fmt.Sprintf("%.2gx", s.buckles.Safety()), s.yields/micro)
	}
	loose := &a.stands[0]
	ramp, cruise := p.move.Times()
	line("  Someone leans on it with %g N at %g mm: the loose stand, %.2g times that empty, %s.", p.lean, p.leanAt, loose.push[0]/p.lean, a.stays())
	line("  A move takes %.3g s and a ramp %.2g s: the full loose stand sways %.2g times in a ramp, so it follows the hose's pull and hardly rings.", 2*ramp+cruise, ramp, ramp*min(loose.sway[1][0], loose.sway[1][1]))

	line("\nAxis against feet, over all fills                axis           feet")
	row := func(name, axis, feet, gain string) {
		line("%s", strings.TrimRight(fmt.Sprintf("  %-46s %-14s %-10s %s", name, axis, feet, gain), " "))
	}
	row("lowest frequency, Hz", fmt.Sprintf("%.3g to %.3g", full.modes[0].Frequency, a.laden[0].modes[0].Frequency), fmt.Sprintf("%.3g", bare.modes[0].Frequency), gain(bare.modes[0].Frequency/full.modes[0].Frequency))
	row("moves with the axis, kg", fmt.Sprintf("%.3g to %.3g", a.laden[0].mass(), full.mass()), fmt.Sprintf("%.3g", bare.mass()), gain(bare.mass()/full.mass()))
	row("acceleration allowed, plain, m/s²", fmt.Sprintf("%.3g", a.least(plain)), fmt.Sprintf("%.3g", plain(bare)), gain(plain(bare)/a.least(plain)))
	for i, n := range parts {
		of := func(l *laden) float64 { return l.shaped[i].may }
		row(fmt.Sprintf("  in %d parts", n), fmt.Sprintf("%.3g", a.least(of)), fmt.Sprintf("%.3g", of(bare)), gain(of(bare)/a.least(of)))
	}
	row(fmt.Sprintf("drive's force for %g m/s², N", p.move.Acceleration), fmt.Sprintf("%.3g", full.mass()*p.move.Acceleration), fmt.Sprintf("%.3g", bare.mass()*p.move.Acceleration), "")
	line("")
	a.advise(&b)
	line("Left out: flake that shifts and a hopper that hangs loose (it is rigid here), the hose's pull on the axis, belts and a bench that give way,")
	line("modes of the beam above those told, grout and floor under the feet. Keep hands, hair and hose clear of a moving gantry; tie a hung hopper with a second,")
	line("separate hold, and let nobody reach below it; the hose must reach every corner of the bench with slack.")
	return b.String()
}

func plain(l *laden) float64 { return l.may.AnyTiming }

// mass of tube and what hangs on it [kg].
func (l *laden) mass() float64 {
	sum := l.axis.Beam.Mass()
	for _, b := range l.axis.Bodies {
		sum += b.Mass
	}
	return sum
}

func (l *laden) tell(b *strings.Builder, name string) {
	fmt.Fprintf(b, "  %-6s %-16s %-11.2g %-13.3g %-10.2g %-7.3g %-9.3g %.3g\n", name,
		fmt.Sprintf("%.3g, %.3g", l.modes[0].Frequency, l.modes[1].Frequency), max(l.rings.AfterRamp, l.rings.AfterMove)/micro, l.rings.Worst/micro,
		l.wave/mm, l.may.AnyTiming, l.shaped[0].may, l.shaped[1].may)
}

// most is the largest residual of the loudest tone over the fills.
func (a *answer) most(shaper int) float64 {
	return -a.least(func(l *laden) float64 { return -l.passes[shaper] })
}

func two(v [2]float64) string { return fmt.Sprintf("%.3g, %.3g", v[0], v[1]) }

func gain(ratio float64) string { return fmt.Sprintf("%+.0f %%", 100*(ratio-1)) }

// stays says what keeps the loose stand up.
func (a *answer) stays() string {
	if a.ballast == 0 {
		return "stays on all four"
	}
	return fmt.Sprintf("lifts two feet; bolt it, or lay %.2g kg low between the legs", a.ballast)
}

// advise weighs the feet against what a shaper buys on the axis.
func (a *answer) advise(b *strings.Builder) {
	feet := plain(&a.bare) / a.least(plain)
	shaper := a.least(func(l *laden) float64 { return l.shaped[0].may }) / a.least(plain)
	both := a.bare.shaped[0].may / a.least(plain)
	fmt.Fprintf(b, "Advice: feet alone let the axis hurry %.2g times as much, a two-part shaper with the hopper where it is %.2g times, both %.2g times.\n", feet, shaper, both)
	asked, may := a.plan.move.Acceleration, a.least(plain)
	switch {
	case asked <= may:
		fmt.Fprintf(b, "  The %.3g m/s² asked are within the %.3g allowed at the worst fill: for the bead the hopper may stay. For more, shape the moves first", asked, may)
	case asked <= plain(&a.bare):
		fmt.Fprintf(b, "  The %.3g m/s² asked are beyond the %.3g allowed at the worst fill, but within what feet allow: give it feet, or shape the moves", asked, may)
	default:
		fmt.Fprintf(b, "  The %.3g m/s² asked are beyond the %.3g allowed at the worst fill, and feet alone allow %.3g: shape the moves first", asked, may, plain(&a.bare))
	}
	if shaper < feet {
		fmt.Fprint(b, ", though feet do more")
	}
	fmt.Fprintf(b, ".\n  Feet also take %.2g of %.2g kg off the drive, and the frequency then no longer drifts: a shaper made for it stays right.", a.plan.hopper(1), a.laden[len(a.laden)-1].mass())
	if a.ballast > 0 {
		fmt.Fprint(b, " If feet, then bolted or weighed down.")
	}
	fmt.Fprintln(b)
}
