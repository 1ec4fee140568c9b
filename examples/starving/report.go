package main

import (
	"fmt"
	"math"
	"strings"

	"meltflight/material"
	"meltflight/screw"
)

func (a *answer) report() string {
	var b strings.Builder
	p, s := a.plan, a.plan.state
	fmt.Fprintf(&b, "WHY THE SCREW STARVES: %g kg/h of %s bead wanted, %.3g come at %g rpm (invented numbers)\n\n", p.wanted, s.plastic.Name, a.base.sound(), s.speed)
	fmt.Fprintf(&b, "Screw of %d mm, square pitch: throat %d mm and feed %d mm, %g mm deep; taper %d mm; metering %d mm, %g mm deep. Nozzle %g mm.\n",
		bore, throat, feed, s.depth, taper, metering, shallow, s.nozzle)
	fmt.Fprintf(&b, "Barrel %g °C, collar round the throat %g °C, root in it %g °C. Flake of %d mm, %g kg/m³ as poured.\n", s.plastic.barrel+s.hotter, s.collar, s.root, flake, s.bulk)
	fmt.Fprintf(&b, "Assumed: %g of a full channel arrives; flake packs to %g times as dense; friction by temperature is invented;\n", s.efficiency, packs)
	fmt.Fprintf(&b, "the bed enters as warm as collar and root are in the mean; all should be molten by %g of the length.\n\n", moltenBy)

	d := &a.base
	fmt.Fprintf(&b, "Each by itself, kg/h: throat %.3g, friction of the solids %.3g, melting %.3g, pump %.3g. The %s limits.\n",
		d.Throat*hour, d.Friction*hour, d.Melting*hour, d.Pump*hour, d.limit())
	fmt.Fprintf(&b, "  Along the screw: melting begins at %.0f mm, nothing is solid from %.0f mm on, melt fills it from %.0f mm to the tip at %.0f mm.\n",
		d.Bed.From*1e3, (d.Bed.From+d.Bed.Length)*1e3, d.Filled*1e3, s.profile().Length()*1e3)
	fmt.Fprintf(&b, "  A throat that feeds %g instead: %.3g kg/h (%s); %g: %.3g kg/h (%s). Weigh a minute's output to know.\n",
		leastFed, a.least.sound(), a.least.limit(), mostFed, a.most.sound(), a.most.limit())
	for _, text := range d.fed.Beyond {
		fmt.Fprintf(&b, "  In the throat: %s.\n", text)
	}

	fmt.Fprintln(&b, "\n  speed  flake  throat  friction  melting  pump   molten in  limited by  may surge")
	fmt.Fprintln(&b, "  rpm    kg/m³  kg/h    kg/h      kg/h     kg/h   time, kg/h")
	var told []string
	for _, r := range a.rows {
		marks := ""
		for _, text := range r.done.Surge {
			marks += mark(&told, text)
		}
		fmt.Fprintf(&b, "  %-6g %-6g %-7.3g %-9.3g %-8.3g %-6.3g %-10.3g %-11s %s\n", r.speed, r.bulk, r.done.Throat*hour, r.done.Friction*hour, r.done.Melting*hour,
			r.done.Pump*hour, r.done.sound(), r.done.limit(), orDash(marks))
	}
	for i, text := range told {
		fmt.Fprintf(&b, "  %c  %s\n", letter(i), text)
	}
	fmt.Fprintf(&b, "  At %g rpm flake of %.0f kg/m³ or more no longer lets the screw starve: then the %s limits.\n", s.speed, a.enough, limitOf(rest(d), d))

	fmt.Fprintf(&b, "\nHow warm the root in the throat may become at %g rpm, its collar at %g °C\n", s.speed, s.collar)
	for _, w := range a.warm {
		fmt.Fprintf(&b, "  %-5s from %.0f °C on friction carries less than the throat lets in, from %.0f °C on flake slips, from %.0f °C on it sticks.\n",
			w.plastic.Name+":", w.rubs, w.slips, material.ToCelsius(w.plastic.Softening))
	}
	a.tellChanges(&b)

	fmt.Fprintln(&b, "\nWhat it says")
	for i := range a.starts {
		s := &a.starts[i]
		best := s.best()
		if best < 0 {
			fmt.Fprintf(&b, "  %s: %s limits, and none of these changes helps.\n", s.name, word(&s.done))
			continue
		}
		fmt.Fprintf(&b, "  %s: %s limits, and this buys most: %s, %.0f %% more.\n", s.name, word(&s.done), p.changes[best].name, 100*(s.after[best].Sound/s.done.Sound-1))
	}
	fmt.Fprintln(&b, "    (Not counted: what lets a larger share leave too late to be molten.)")
	fmt.Fprintln(&b, "  One after another, the best first, from as it runs:")
	for _, s := range a.steps {
		fmt.Fprintf(&b, "    %s: %.3g kg/h, limited by %s\n", s.name, s.done.sound(), word(&s.done))
	}
	last := a.last()
	if last.sound() >= p.wanted {
		fmt.Fprintf(&b, "    The %g kg/h are reached.\n", p.wanted)
	} else {
		fmt.Fprintf(&b, "    No more of these helps: the %g kg/h are not reached.\n", p.wanted)
	}
	return b.String() + a.cautions()
}

// tellChanges sets out what each change makes of each start.
func (a *answer) tellChanges(b *strings.Builder) {
	p := a.plan
	fmt.Fprintln(b, "\nWhat one change makes of it: molten in time, of all that leaves, kg/h")
	line := func(name string, cell func(*start) string) {
		text := fmt.Sprintf("  %-33s", name)
		for i := range a.starts {
			text += fmt.Sprintf(" %-23s", cell(&a.starts[i]))
		}
		fmt.Fprintln(b, strings.TrimRight(text, " "))
	}
	flows := func(d *done) string {
		if d.Sound < d.Output*(1-even) {
			return fmt.Sprintf("%.3g of %.3g, %s", d.sound(), d.Output*hour, word(d))
		}
		return fmt.Sprintf("%.3g, %s", d.sound(), word(d))
	}
	line("", func(s *start) string { return s.name })
	line("unchanged", func(s *start) string { return flows(&s.done) })
	for i, c := range p.changes {
		line(c.name, func(s *start) string { return flows(&s.after[i]) })
	}
	fmt.Fprintf(b, "  dense: flake of %g kg/m³; fast: %g rpm\n", p.dense, p.fast)
}

// cautions tells what is left out, where models end, and what hurts.
func (a *answer) cautions() string {
	var b strings.Builder
	fmt.Fprintln(&b, "Pressure that packed flake builds is left out; of a starved screw melting is not well known. Left of what is measured of this melt:")
	for _, text := range a.base.Beyond {
		fmt.Fprintf(&b, "  %s\n", text)
	}
	fmt.Fprintln(&b, "A turning screw draws fingers in: guard the throat, and stop it before you clear a bridge. Melt burns, and spits when a starved screw fills again.")
	return b.String()
}

// last is what is reached by the steps.
func (a *answer) last() *done {
	if n := len(a.steps); n > 0 {
		return &a.steps[n-1].done
	}
	return &a.base
}

// word is the first word of what limits.
func word(d *done) string {
	if d.stop != "" {
		return d.stop
	}
	first, _, _ := strings.Cut(d.limit(), " ")
	return first
}

// limitOf names which of melting and pump a flow is of.
func limitOf(flow float64, d *done) screw.Bottleneck {
	if flow == d.Melting {
		return screw.ByMelting
	}
	return screw.ByPump
}

// mark returns the letter of a text, told before or now.
func mark(told *[]string, text string) string {
	for i, t := range *told {
		if t == text {
			return string(letter(i))
		}
	}
	*told = append(*told, text)
	return string(letter(len(*told) - 1))
}

func letter(i int) rune { return 'a' + rune(math.Min(float64(i), 25)) }

func orDash(word string) string {
	if word == "" {
		return "-"
	}
	return word
}
