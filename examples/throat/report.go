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
	fmt.Fprint(&b, "DOES MY THROAT STAY COLD? Barrel, sleeve, collar (invented numbers)\n\n")
	fmt.Fprintf(&b, "Barrel: %g mm of steel around a bore of %g mm, %g mm long, %d bands of %g W, %g mm of mineral wool, held at %g °C; shed at %g °C.\n",
		p.outer, p.bore, p.barrel, p.bands, p.power, p.wool, p.hot, p.shed)
	fmt.Fprintf(&b, "Throat: a bare sleeve of stainless, %g mm outside, to a collar; the screw in it, root %g mm, ends in a gear at %g °C.\n", p.sleeve, p.root, p.gear)
	fmt.Fprintf(&b, "Pellets begin to stick at their softening; the throat is to stay %g K below:", p.margin)
	for i, m := range p.plastics {
		fmt.Fprintf(&b, "%s %s %.0f °C", ifTrue(i > 0, ","), m.Name, a.limit(i))
	}
	fmt.Fprint(&b, ".\n")
	a.tellTable(&b)
	a.tellShortest(&b)
	a.tellCases(&b)
	a.tellFit(&b)
	a.conclude(&b)
	return b.String()
}

// limit is what a plastic allows in the throat [°C].
func (a *answer) limit(plastic int) float64 {
	return material.ToCelsius(a.plan.plastics[plastic].Softening) - a.plan.margin
}

func (a *answer) tellTable(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintln(b, "\nScrew standing, hot ends of sleeve and screw as hot as the barrel: throat / screw there, °C (heat that both take in, W)")
	fmt.Fprint(b, "  collar, W/K             ")
	for _, l := range p.lengths {
		fmt.Fprintf(b, "%16s", fmt.Sprintf("%g mm", l))
	}
	fmt.Fprintln(b)
	for i, c := range p.collars {
		fmt.Fprintf(b, "  %-24s", fmt.Sprintf("%s, %g", c.name, c.conductance))
		for _, s := range a.table[i] {
			fmt.Fprintf(b, "%16s", fmt.Sprintf("%.0f / %.0f (%.0f)", material.ToCelsius(s.Throat), material.ToCelsius(s.Screw), s.Hot))
		}
		fmt.Fprintln(b)
	}
}

func (a *answer) tellShortest(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintln(b, "\nShortest sleeve for the throat / for the screw as well, mm")
	fmt.Fprint(b, "  collar                  ")
	for _, m := range p.plastics {
		fmt.Fprintf(b, "%16s", m.Name)
	}
	fmt.Fprintln(b)
	for i, c := range p.collars {
		fmt.Fprintf(b, "  %-24s", c.name)
		for k := range p.plastics {
			fmt.Fprintf(b, "%16s", millimetres(a.shortest[i][0][k])+" / "+millimetres(a.shortest[i][1][k]))
		}
		fmt.Fprintln(b)
	}
	fmt.Fprintf(b, "  none: not even %d mm.\n", longest)
}

func millimetres(x float64) string {
	if math.IsNaN(x) {
		return "none"
	}
	return fmt.Sprintf("%.0f", math.Ceil(x-1e-3))
}

// name tells a scene in words.
func (a *answer) name(s scene) string {
	return fmt.Sprintf("%g mm, collar: %s", s.length, a.plan.collars[s.collar].name)
}

func (a *answer) tellCases(b *strings.Builder) {
	p := &a.plan
	fmt.Fprintf(b, "\nThe whole barrel, screw standing, each band held by a controller of its own (within %g K)\n", width)
	fmt.Fprintln(b, "                                   throat  screw  barrel's rear  to throat  holding, W      warm in  throat by then")
	fmt.Fprintln(b, "  sleeve                           °C      °C     °C             W          rear and front  min      °C")
	for i := range a.cases {
		c := &a.cases[i]
		warm, then := "never", "-"
		if !math.IsNaN(c.until) {
			warm = fmt.Sprintf("%.0f", c.until/minute)
			then = fmt.Sprintf("%.0f", material.ToCelsius(c.throat(c.at(c.until))))
		}
		fmt.Fprintf(b, "  %-32s %-7.0f %-6.0f %-14.0f %-10.0f %-15s %-8s %s\n", a.name(c.scene), material.ToCelsius(c.throat(c.steady)), material.ToCelsius(c.screw(c.steady)),
			material.ToCelsius(c.rear(c.steady)), c.toThroat, watts(c.holding), warm, then)
	}
	fmt.Fprintf(b, "  The barrel's lagged length alone loses %.0f W, its wool is %.0f °C outside.\n", a.lagged.Loss, material.ToCelsius(a.lagged.Surface))
	h := a.cases[p.chosen].heaters
	fmt.Fprintf(b, "  Bands: %.1f W/cm² (%.2g of what mica bears); their power is %.2f times what %g min of warm-up ask for with reserve.\n",
		h.Density/1e4, 1/h.Load.Safety(), h.Supply.Safety(), p.warm)
}

func watts(list []float64) string {
	var words []string
	for _, x := range list {
		words = append(words, fmt.Sprintf("%.0f", x))
	}
	return strings.Join(words, " + ")
}

// at returns the temperatures at one of the times kept.
func (c *course) at(time float64) []float64 {
	for k, t := range c.times {
		if t >= time {
			return c.warming[k]
		}
	}
	return c.warming[len(c.warming)-1]
}

func (a *answer) tellFit(b *strings.Builder) {
	p, f := &a.plan, &a.fit
	last := p.test.pairs[len(p.test.pairs)-1]
	drawn := &a.cases[p.chosen]
	fmt.Fprintf(b, "\nA warm-up that was read (invented readings): %g W, from %g to %g °C in %g min, taken as one body\n", p.test.power, p.test.pairs[0][1], last[1], last[0])
	fmt.Fprintf(b, "  heat capacity   %.0f ± %.0f J/K     of the drawing %.0f\n", tens(f.capacity), f.capacityError, tens(drawn.capacity()))
	fmt.Fprintf(b, "  resistance      %.2f ± %.2f K/W   of the drawing %.2f\n", f.resistance, f.resistanceError, a.drawnResistance())
	fmt.Fprintf(b, "  Readings scatter by %.1f K about it; the errors are those of scatter, not of taking it as one body. Holding %g °C would take %.0f W (%.0f to %.0f), the drawing says %.0f.\n",
		f.scatter, p.hot, a.holds(f.resistance), a.holds(f.resistance+2*f.resistanceError), a.holds(f.resistance-2*f.resistanceError), sum(drawn.holding))
}

func tens(x float64) float64 { return 10 * math.Round(x/10) }

// drawnResistance is that of the chosen case as one body [K/W].
func (a *answer) drawnResistance() float64 {
	return (a.plan.hot - a.plan.shed) / sum(a.cases[a.plan.chosen].holding)
}

// holds is the power that holds the barrel in the shed through a resistance [W].
func (a *answer) holds(resistance float64) float64 { return (a.plan.hot - a.plan.shed) / resistance }

// conclude says what to do.
func (a *answer) conclude(b *strings.Builder) {
	p, f := &a.plan, &a.fit
	fmt.Fprintln(b, "\nWhat it says")
	for k, m := range p.plastics {
		fmt.Fprintf(b, "  %s: %s\n", m.Name, a.advise(k))
	}
	c := &a.cases[p.chosen]
	fmt.Fprintf(b, "  Take %s: at worst %.0f °C in the throat and %.0f on the screw, %.0f W lost that way.\n",
		a.name(c.scene), material.ToCelsius(a.worst.Throat), material.ToCelsius(a.worst.Screw), a.worst.Hot)
	fmt.Fprintln(b, "  No collar cools the screw much: after a stop it is what sticks pellets together. Run the throat empty before a stop.")
	if off := a.drawnResistance()/f.resistance - 1; f.resistance+2*f.resistanceError < a.drawnResistance() {
		fmt.Fprintf(b, "  The barrel that was read seems to lose %.0f %% more than the one drawn. Look for bare gaps, clamps and cables, and read the power that holds it for an hour.\n", 100*off)
	}
	fmt.Fprintf(b, "  A switch that sticks makes it %d K too hot in %.0f s. Set a cut-out with a sensor and switch of its own there.\n", overheat, tens(c.stuck))
	for _, text := range append(append([]string(nil), a.lagged.Beyond...), a.worst.Beyond...) {
		fmt.Fprintf(b, "  Beyond what the laws are made for: %s.\n", text)
	}
	fmt.Fprintln(b, "Coefficients in air are known to some 25 %, collars are guesses until read. Pellets that move carry heat back and are left out.")
	fmt.Fprintln(b, "Mains heaters are connected by licensed people, with earth and fuse. Barrel and sleeve burn at once: guard them; wool hides how hot they are.")
}

// advise returns the first collar of the list, the plainest, that serves a plastic.
func (a *answer) advise(plastic int) string {
	p := &a.plan
	for _, of := range []struct {
		which int
		word  string
	}{{1, "%s and a sleeve of %s mm keep throat and screw below %.0f °C."},
		{0, "%s and a sleeve of %s mm keep the throat below %.0f °C, but the screw of a stopped machine gets hotter: clear it first."}} {
		for i, c := range p.collars {
			if l := a.shortest[i][of.which][plastic]; l <= p.lengths[len(p.lengths)-1] {
				return fmt.Sprintf(of.word, ifTrue(c.conductance == 0, "no collar")+ifTrue(c.conductance > 0, c.name), millimetres(l), a.limit(plastic))
			}
		}
	}
	return fmt.Sprintf("none of these keeps the throat below %.0f °C.", a.limit(plastic))
}

func ifTrue(yes bool, text string) string {
	if yes {
		return text
	}
	return ""
}
