package main

import (
	"fmt"
	"math"
	"strings"
)

const micro = 1e-6

func (a *answer) report() string {
	var b strings.Builder
	p := &a.plan
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("ON THE AXIS OR ON ITS OWN FEET? Where the hopper of a moving gantry should be (invented numbers)\n")
	line("Axis: aluminium tube %g x %g x %g mm, %g mm long, its ends held with %g N/mm along the travel; its drive gives up to %g m/s².", p.height, p.width, p.wall, p.span, p.ends.Y/1e3, p.fastest)
	line("Head of %g kg %g mm below it, nozzle %g mm. Moves of %g mm at %g m/s and %g m/s²; a bead may ripple by %g µm.", p.head, p.headBelow, p.nozzleBelow, p.move.Distance/mm, p.move.Speed, p.move.Acceleration, p.ripple*mm/micro)
	line("Hopper of %g to %.3g kg, on the axis %g mm beside and %g mm above it.", p.empty, p.hopper(1), p.aside, p.above)
	line("Assumed: %g %% of critical damping in all modes; head and hopper are points; the tube's ends do as told.", 100*p.damping)
	a.tellAxis(&b)
	a.tellHeights(&b)
	a.tellStand(&b)
	a.compare(&b)
	a.advise(&b)
	line("Left out: flake that shifts, a hopper or head that hangs loose (they are rigid here), the hose's pull on the axis, belts and a bench")
	line("that give way beyond the ends' stiffness, higher modes, the floor under the feet. Tie what hangs with a second hold of its own, keep")
	line("hands, hair and hose clear of the gantry, and let nobody reach below it; the hose must reach every corner with slack.")
	return b.String()
}

// tellAxis sets out what the fill does to the axis.
func (a *answer) tellAxis(b *strings.Builder) {
	p := &a.plan
	line := func(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }
	line("\nHopper on the axis")
	line("  fill   lowest     nozzle rings, µm                  wave in   may be hurried to, m/s²")
	line("         modes, Hz  as     at     shaped in           bead, mm  plain  shaped  plain,")
	line("                    timed  worst  2 parts  3 parts                     in 2    as timed")
	for i := range a.laden {
		a.laden[i].tell(b, fmt.Sprintf("%.0f %%", 100*a.laden[i].fill), p)
	}
	a.bare.tell(b, "none", p)
	ramp, _ := p.move.Times()
	line("  At worst, plain and shaped: however ramps and cruise are timed. As timed counts on the %.2g s of a ramp, which leaves least if whole periods", ramp)
	line("  long, as %.0f are at %.3g Hz: good only while fill and frequency are known.", math.Round(ramp*a.quietest().loudest().Frequency), math.Round(ramp*a.quietest().loudest().Frequency)/ramp)
	line("  Parts: moves shaped in two or three, made for half fill, %.3g Hz; for no hopper, for its own. Over the fills two let through at most", a.shapers[0].Frequency)
	line("  %.2g of the main ringing and three %.2g, for %.2g and %.2g ms more a move. Made for the middle of the drift: %.2g and %.2g.\n  The rest is of higher modes, which these shapers are not made for.", a.passes(0), a.passes(1), a.shapers[0].Delay()*1e3, a.shapers[1].Delay()*1e3, a.drift[0], a.drift[1])
	line("  Hung to the side, the full hopper also makes the nozzle bob by %.2g µm at worst.", a.full().bobs.Worst/micro)
}

func (l *laden) tell(b *strings.Builder, name string, p *plan) {
	fmt.Fprintf(b, "  %-6s %-10s %-6.2g %-6.3g %-8.2g %-8.2g %-9.2g %-6s %-7s %s\n", name, fmt.Sprintf("%.3g %.3g", l.modes[0].Frequency, l.modes[1].Frequency),
		max(l.rings.AfterRamp, l.rings.AfterMove)/micro, l.rings.Worst/micro, l.shaped[0].worst/micro, l.shaped[1].worst/micro,
		l.wave/mm, p.hurry(plain(l)), p.hurry(inTwo(l)), p.hurry(l.may.Timed))
}

// tellHeights tells what hanging it higher or lower does, which turns the beam.
func (a *answer) tellHeights(b *strings.Builder) {
	fmt.Fprintf(b, "\nThe full hopper higher or lower, as far beside\n  above axis, mm  lowest mode, Hz  rings at worst, µm  may be hurried to, m/s²\n")
	for i := range a.heights {
		h := &a.heights[i]
		fmt.Fprintf(b, "  %-15g %-16.3g %-19.3g %s\n", h.above, h.modes[0].Frequency, h.rings.Worst/micro, a.plan.hurry(plain(h)))
	}
	if a.turnsLow() {
		fmt.Fprintln(b, "  Above the axis it balances the head below, so that the nozzle turns less with the beam; hung low, both turn it.")
	}
}

// turnsLow tells whether the nozzle rings more with the hopper as low as the head.
func (a *answer) turnsLow() bool { return a.heights[0].rings.Worst > a.heights[2].rings.Worst }

// tellStand tells whether the stand stands.
func (a *answer) tellStand(b *strings.Builder) {
	p := &a.plan
	line := func(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }
	loose, bolted := &a.stands[0], &a.stands[1]
	line("\nHopper on its feet: legs of %g x %g mm steel tube, %g mm high, %g x %g mm apart, %.2g kg", p.leg, p.legWall, p.standHeight, p.standWidth, p.standDepth, loose.mass)
	line("  feet    sways at, Hz             two feet lift   a leg bears  under %g N of the hose, µm", p.hose)
	line("          empty       full         at a push of, N its load     leans  rings")
	lift := [2]string{fmt.Sprintf("%.2g to %.2g", loose.push[0], loose.push[1]), "bolts hold"}
	for i, name := range []string{"loose", "bolted"} {
		s := &a.stands[i]
		line("  %-7s %-11s %-12s %-15s %-12s %-6.2g %.2g", name, two(s.sway[0][0], s.sway[0][1]), two(s.sway[1][0], s.sway[1][1]), lift[i],
			fmt.Sprintf("%.0f times", s.buckles.Safety()), s.leans/micro, s.rings/micro)
	}
	line("  Someone leans on it with %g N at %g mm: empty, when it is lightest, the loose stand bears %.2g times as much.\n  %s.", p.lean, p.leanAt, loose.push[0]/p.lean, a.stays())
	ramp, cruise := p.move.Times()
	full := min(loose.sway[1][0], loose.sway[1][1])
	line("  Moves come every %.2g s, %.2g Hz, with ramps of %.2g s, %.2g Hz; the full loose stand sways at %.3g.\n  If the hose pulls by %g N more at the end of a move than at its start,", 2*ramp+cruise, 1/(2*ramp+cruise), ramp, 1/ramp, full, p.hose)
	line("  the stand leans by %.2g µm and rings by %.2g; bolted, by %.2g and %.2g.", loose.leans/micro, loose.rings/micro, bolted.leans/micro, bolted.rings/micro)
	if full < a.full().modes[0].Frequency {
		line("  The stand is softer than the axis, which does not matter: the nozzle does not ride on it.")
	}
}

// compare sets axis against feet.
func (a *answer) compare(b *strings.Builder) {
	p, full, bare := &a.plan, a.full(), &a.bare
	row := func(name, axis, feet, gains string) {
		fmt.Fprintln(b, strings.TrimRight(fmt.Sprintf("%-44s %-13s %-8s %s", name, axis, feet, gains), " "))
	}
	fmt.Fprintln(b)
	row("What the gantry gains", "on the axis", "on feet", "")
	span := func(of func(*laden) float64) string {
		low, high := of(&a.laden[0]), of(full)
		return fmt.Sprintf("%.3g to %.3g", min(low, high), max(low, high))
	}
	row("  lowest mode, Hz", span(first), fmt.Sprintf("%.3g", first(bare)), change(first(bare)/first(full)))
	row("  moving mass, kg", span((*laden).mass), fmt.Sprintf("%.3g", bare.mass()), change(bare.mass()/full.mass()))
	row(fmt.Sprintf("  drive's force at %g m/s², full, N", p.move.Acceleration), fmt.Sprintf("%.3g", full.mass()*p.move.Acceleration), fmt.Sprintf("%.3g", bare.mass()*p.move.Acceleration), "")
	for _, r := range []struct {
		name string
		of   func(*laden) float64
	}{{"  may be hurried at any fill to, m/s²", plain}, {"    shaped in two parts", inTwo}} {
		least, _ := a.least(r.of)
		gains := ""
		if r.of(bare) < p.fastest {
			gains = change(r.of(bare) / least)
		}
		row(r.name, p.hurry(least), p.hurry(r.of(bare)), gains)
	}
}

// advise weighs the feet against what a shaper buys on the axis.
func (a *answer) advise(b *strings.Builder) {
	line := func(format string, args ...any) { fmt.Fprintf(b, format+"\n", args...) }
	p := &a.plan
	may, worst := a.least(plain)
	shaped, _ := a.least(inTwo)
	feet, asked := plain(&a.bare), p.move.Acceleration
	line("\nAdvice")
	line("  The worst fill is %.0f %%, which allows %s m/s²; feet allow %s; a shaper of two parts, the hopper on the axis, %s, for %.2g ms more a move.", 100*worst, p.hurry(may), p.hurry(feet), p.hurry(shaped), a.shapers[0].Delay()*1e3)
	switch {
	case asked <= may:
		line("  For the bead the hopper may stay where it is: the %g m/s² asked are allowed.", asked)
	case asked <= max(feet, shaped):
		line("  The %g m/s² asked are too much for the hopper on the axis as it is: %s.", asked, better(feet, shaped))
	default:
		line("  The %g m/s² asked are too much, with feet or a shaper alone: a stiffer tube or ends come first.", asked)
	}
	if asked <= may {
		line("  To go faster, %s.%s", better(feet, shaped), ifTrue(a.turnsLow(), " Do not hang it lower."))
	}
	line("  Feet take %.2g of %.2g kg off the drive and end the drift of the frequency, so that a shaper stays right.%s", p.hopper(1), a.full().mass(), ifTrue(a.ballast > 0, " If feet, then held down."))
}

// better says which of two gives more.
func better(feet, shaped float64) string {
	if shaped > feet {
		return fmt.Sprintf("shape the moves before you build a stand (%.2g times what feet allow, or more)", shaped/feet)
	}
	return fmt.Sprintf("give it feet before you shape the moves (%.2g times what the shaper allows, or more)", feet/shaped)
}

func first(l *laden) float64 { return l.modes[0].Frequency }
func plain(l *laden) float64 { return l.may.AnyTiming }
func inTwo(l *laden) float64 { return l.shaped[0].may }

// mass of tube and what hangs on it [kg].
func (l *laden) mass() float64 {
	sum := l.axis.Beam.Mass()
	for _, b := range l.axis.Bodies {
		sum += b.Mass
	}
	return sum
}

func (a *answer) full() *laden { return &a.laden[len(a.laden)-1] }

// quietest is the fill at which the move as timed leaves least.
func (a *answer) quietest() *laden {
	_, fill := a.least(func(l *laden) float64 { return l.rings.AfterRamp })
	return &a.laden[int(math.Round(fill*float64(len(a.laden)-1)))]
}

// passes is the largest residual of the loudest tone over the fills.
func (a *answer) passes(shaper int) float64 {
	v, _ := a.least(func(l *laden) float64 { return -l.passes[shaper] })
	return -v
}

// hurry tells an acceleration, or that all that the drive gives is allowed.
func (p *plan) hurry(acceleration float64) string {
	if acceleration >= p.fastest {
		return fmt.Sprintf("all %g", p.fastest)
	}
	return fmt.Sprintf("%.3g", acceleration)
}

// stays says what keeps the loose stand up.
func (a *answer) stays() string {
	if a.ballast == 0 {
		return "It stays on all four"
	}
	return fmt.Sprintf("Bolt it, or lay %.2g kg low between the legs", a.ballast)
}

func two(a, b float64) string { return fmt.Sprintf("%.3g, %.3g", a, b) }

func change(ratio float64) string { return fmt.Sprintf("%+.0f %%", 100*(ratio-1)) }

func ifTrue(yes bool, text string) string {
	if yes {
		return text
	}
	return ""
}
