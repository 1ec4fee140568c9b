package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/material"
)

func (a *answer) report() string {
	var b strings.Builder
	p := &a.plan
	broke := &a.stages[0]
	fmt.Fprint(&b, "WHICH GEAR STAGE NEXT? A stripped motor pinion ended the season (invented numbers)\n\n")
	fmt.Fprintf(&b, "The screw asks %g N·m at %g rpm and pushes back with %g N; a season is %g h, a new stage should last %g h.\n", p.torque, p.speed, p.thrust, p.season, p.wanted)
	fmt.Fprintf(&b, "At other speeds it asks (speed/%g rpm)^%g of that: the power law of a melt that stays as warm.\n", p.speed, p.index)
	fmt.Fprintf(&b, "Motor of %g N·m at %g A, winding %g °C, on %g V. Assumed: %d planets, the heaviest with %g of an even share;\n",
		p.motor.HoldingTorque, p.current, p.warm, p.supply, planets, share)
	fmt.Fprintf(&b, "meshes of %g; rings of %s steel; no profile shift; teeth cut %g to %g mm thinner, axes ±%g mm.\n", efficiency, strings.Split(alloy.word, ",")[0], thinLeast, thinMost, axes)

	fmt.Fprintf(&b, "\nThe stage that broke: %s\n", a.describe(broke))
	fmt.Fprintf(&b, "  Its sun turns %.0f rpm under %.2f N·m. For a season its teeth bear %.2g N·m of the screw; it asks %g.\n", broke.load.SunSpeed/rpm, broke.load.SunTorque, broke.bears, p.torque)
	a.tellTeeth(&b, broke)
	fmt.Fprintln(&b, "  At once: stressed more than it bears even a few times. Flanks wear to pits and steps first; then roots break.")
	weak := ""
	if broke.reserve.Safety() >= 1 {
		weak = ": not for want of it did the pinion go"
	}
	fmt.Fprintf(&b, "  The motor holds %.2f times what is asked%s.\n", broke.reserve.Safety(), weak)

	a.tellStages(&b)
	a.tellChoice(&b)
	a.tellBehind(&b)
	a.conclude(&b)
	fmt.Fprintln(&b, "Not rated: scuffing, the planets' pins, grease, shock of a cold start, teeth that are already worn.")
	fmt.Fprintln(&b, "Turning gears and screws draw fingers in: cover them, and switch off before you reach in. A broken tooth lets go under load, and what was wound up springs back.")
	return b.String()
}

func (a *answer) describe(r *rated) string {
	return fmt.Sprintf("%d/%d/%d teeth, ratio %.3g, module %g mm, face %.3g mm, %s", r.Sun, r.Planet, r.Ring, r.Ratio(), round(r.Module/mm), r.Face/mm, r.steel.word)
}

// round takes the rounding of metres off millimetres.
func round(x float64) float64 { return math.Round(x*1e6) / 1e6 }

// tellTeeth sets out safety and life of a stage's teeth.
func (a *answer) tellTeeth(b *strings.Builder, r *rated) {
	fmt.Fprintf(b, "            safety over %.0f h         lasts, h\n", a.plan.wanted)
	fmt.Fprintln(b, "            sun     planet  ring      sun      planet   ring")
	for i, name := range []string{"root", "flank"} {
		fmt.Fprintf(b, "    %-7s", name)
		for k := range flanks {
			fmt.Fprintf(b, " %-7.2f", r.rating.Utilisations[i*flanks+k].Safety())
		}
		fmt.Fprint(b, "  ")
		for k := range flanks {
			fmt.Fprintf(b, "%-9s", hours(r.rating.Life[i*flanks+k]))
		}
		trim(b)
	}
	fmt.Fprintf(b, "  Nearest to its limit: %s. ", r.rating.Utilisations[r.rating.Weakest].Part)
	first := 0
	for i := range flanks {
		if r.rating.Life[i] < r.rating.Life[first] {
			first = i
		}
	}
	if life := r.rating.Life[first]; life < endless {
		fmt.Fprintf(b, "Of the roots, whose teeth break off, the first to go is the %s, after %s h.\n", r.rating.Utilisations[first].Part, hours(life))
	} else {
		fmt.Fprintln(b, "No root breaks.")
	}
}

// trim ends a line without blanks before its end.
func trim(b *strings.Builder) {
	text := strings.TrimRight(b.String(), " ")
	b.Reset()
	b.WriteString(text + "\n")
}

// endless stands for no end in what drive returns [s].
const endless = 1e15

// hours puts a life in words.
func hours(life float64) string {
	switch {
	case life >= endless:
		return "no end"
	case life == 0:
		return "at once"
	}
	h := life / hour
	if h < 99.5 {
		return fmt.Sprintf("%.2g", h)
	}
	digit := math.Pow(10, math.Floor(math.Log10(h))-1)
	return fmt.Sprintf("%.0f", math.Round(h/digit)*digit)
}

// tellStages sets out what can be had.
func (a *answer) tellStages(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintf(b, "\nWhat can be had, safeties over %g h (root/flank)\n", p.wanted)
	fmt.Fprintln(b, "     teeth      ratio  mod.  face  outer  sun        planet     ring       sun lasts, h       bears  motor  play")
	fmt.Fprintln(b, "                       mm    mm    mm                                      root     flank     N·m           °")
	rows := append(append([]rated{}, a.stages...), a.chosen)
	for i := range rows {
		r, mark := &rows[i], string(rune('a'+i))
		if i == len(a.stages) {
			mark = "*" // the chosen one
		}
		u := &r.rating.Utilisations
		fmt.Fprintf(b, "  %s  %-10s %-6.3g %-5g %-5.3g %-6.3g", mark, fmt.Sprintf("%d/%d/%d", r.Sun, r.Planet, r.Ring), r.Ratio(), round(r.Module/mm), r.Face/mm, r.outer/mm)
		for k := range flanks {
			fmt.Fprintf(b, " %-10s", fmt.Sprintf("%.2f/%.2f", u[k].Safety(), u[flanks+k].Safety()))
		}
		fmt.Fprintf(b, " %-8s %-9s %-6.2g %-6.2f %.2f to %.2f\n", hours(r.rating.Life[0]), hours(r.rating.Life[flanks]), r.bears, r.reserve.Safety(), degrees(r.play[0]), degrees(r.play[1]))
	}
	for i := range rows {
		if i == len(a.stages) {
			fmt.Fprintf(b, "  *  chosen below; %s", rows[i].steel.word)
		} else {
			fmt.Fprintf(b, "  %c  %s; %s", 'a'+i, p.stages[i].name, rows[i].steel.word)
		}
		if rows[i].mesh.Sun.Pinion.Undercut {
			fmt.Fprint(b, ", sun undercut")
		}
		if lacks := a.lacks(&rows[i]); len(lacks) > 0 {
			fmt.Fprintf(b, ": not enough, %s\n", strings.Join(lacks, ", "))
		} else {
			fmt.Fprintln(b, ": does all that is asked")
		}
	}
	fmt.Fprintf(b, "  Asked: roots %g, flanks %g, %g mm outside at most, motor %g (2 is common practice).\n", p.root, p.flank, p.outer, p.reserve)
	fmt.Fprintln(b, "  Bears: torque of the screw that its teeth bear for a season. Motor: pull-out over what is asked. Play: of the screw, motor held.")
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// tellChoice tells what the smallest stage is, and why not a smaller one.
func (a *answer) tellChoice(b *strings.Builder) {
	p, r := &a.plan, &a.chosen
	fmt.Fprintf(b, "\nThe smallest that lasts, ratio %g to %g, face of %g modules: %s\n", p.least, p.most, p.width, a.describe(r))
	a.tellTeeth(b, r)
	if s := a.choice.Smaller; s.Part != "" {
		fmt.Fprintf(b, "  The next smaller module of these teeth fails: %s %.2f.\n", s.Part, s.Safety())
	}
	fmt.Fprintf(b, "  Its teeth hum at %.0f Hz; each of the sun is loaded %.0f times a second.\n", r.hum.Mesh, r.hum.Sun)
	for _, side := range [][]string{r.rating.Beyond, r.mesh.Sun.Beyond, r.mesh.Ring.Beyond} {
		for _, text := range side {
			fmt.Fprintf(b, "  To mind: %s.\n", text)
		}
	}
	pair := &a.bare.Pair
	fmt.Fprintf(b, "  A plain pair of %d and %d teeth instead: module %g mm, face %.3g mm, %.0f mm across both.\n",
		pair.Pinion.Teeth, pair.Wheel.Teeth, round(pair.Module/mm), pair.Face/mm, pair.Module*float64(pair.Pinion.Teeth+pair.Wheel.Teeth+2)/mm)
}

// tellBehind tells shank, key, and what is weakest behind the screw.
func (a *answer) tellBehind(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintf(b, "\nShank and key behind the screw, safety %g, ripple %g of the torque, %g N·m of turning moment\n", p.safe, p.ripple, p.bending)
	part := func(name string, least float64, smaller material.Utilisation) {
		fmt.Fprintf(b, "  %s: %.2f", name, least)
		if smaller.Part != "" {
			fmt.Fprintf(b, "; the next smaller fails: %s %.2f", smaller.Part, smaller.Safety())
		}
		fmt.Fprintln(b)
	}
	part(fmt.Sprintf("Shank %g mm", round(a.shank.Shaft.Diameter/mm)), math.Min(a.shank.Fatigue.Goodman, a.shank.Fatigue.Yield), a.shank.Smaller)
	key := a.key.Joint
	part(fmt.Sprintf("Key %g × %g × %g mm", round(key.Size.Width/mm), round(key.Size.Height/mm), round(key.Length/mm)), worst(a.key.Utilisations[:]), a.key.Smaller)
	u := a.whole.Utilisations[a.whole.Weakest]
	fmt.Fprintf(b, "  All behind the screw, with a thrust bearing of %g kN: nearest to its limit is the %s, %.2f; teeth and bearing last %s h.\n",
		thrustBearing.Dynamic/1e3, u.Part, u.Safety(), hours(a.whole.Lasts))
}

func worst(list []material.Utilisation) float64 {
	least := math.Inf(1)
	for _, u := range list {
		least = math.Min(least, u.Safety())
	}
	return least
}

// conclude says what to do.
func (a *answer) conclude(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintln(b, "\nWhat it says")
	var others []string
	for i, ratio := range p.ratios {
		if ratio != a.best.Ratio {
			others = append(others, fmt.Sprintf("%.2f at %g", a.spare[i], ratio))
		}
	}
	fmt.Fprintf(b, "  Of the ratios %s the motor has most to spare at %g: %.2f", list(p.ratios), a.best.Ratio, a.best.Reserve.Safety())
	if len(others) > 0 {
		fmt.Fprintf(b, ", against %s", strings.Join(others, " and "))
	}
	fmt.Fprintln(b, ".")
	top := 0.0
	for i := range a.stages {
		top = math.Max(top, a.stages[i].stalls)
	}
	fmt.Fprintln(b, "    A larger ratio buys torque only while the motor has its full current. Beyond, its supply limits power:")
	fmt.Fprintf(b, "    through none of these does it turn the screw faster than %.0f rpm.\n", top/rpm)
	next := -1
	for i := range a.stages {
		if len(a.lacks(&a.stages[i])) == 0 && (next < 0 || a.stages[i].outer < a.stages[next].outer) {
			next = i
		}
	}
	if next < 0 {
		fmt.Fprintln(b, "  None that can be had does all that is asked.")
	} else {
		s := &a.stages[next]
		fmt.Fprintf(b, "  Next: %c, %s (%s), %.3g mm outside. It bears %.2g N·m for a season, %.2g times what broke.\n", 'a'+next, p.stages[next].name, a.describe(s), s.outer/mm, s.bears, s.bears/a.stages[0].bears)
	}
	if lacks := a.lacks(&a.chosen); len(lacks) > 0 {
		fmt.Fprintf(b, "  Made to measure (*) it could be as small as %.3g mm, but: %s.\n", a.chosen.outer/mm, strings.Join(lacks, ", "))
	} else {
		fmt.Fprintf(b, "  Made to measure (*) it could be as small as %.3g mm.\n", a.chosen.outer/mm)
	}
}

func list(values []float64) string {
	var words []string
	for _, v := range values {
		words = append(words, fmt.Sprintf("%g", v))
	}
	return strings.Join(words, ", ")
}
