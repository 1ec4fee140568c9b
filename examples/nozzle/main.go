// Command nozzle chooses nozzle and speed: a garden's workshop has its screw and wants
// so much bead an hour; which nozzle does it without a rough bead, too hot a melt or too
// much torque, how fast must the screw turn for it, and how much faster could it?
//
//	go run ./examples/nozzle            tables, choice and pictures
//	go run ./examples/nozzle -out -     no pictures
//
// The pictures go to the folder that -out names. Exit status: 0 with an answer; 1 if
// it cannot be had or written; 2 for wrong usage.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"strings"

	"meltflight/internal/chart"
	"meltflight/material"
	"meltflight/screw"
)

// plan is what the workshop has and wants. The numbers are invented.
type plan struct {
	wanted  float64   // bead [kg/h]
	running float64   // as fast as the screw turns now [rpm]
	nozzles []float64 // diameters of their lands [mm]
	torque  float64   // that the drive has for the melt, with 3 N·m kept for feeding, melting and seals [N·m]
	hottest float64   // that the melt may become [°C]
}

var workshop = plan{wanted: 1.5, running: 45, nozzles: []float64{1, 1.2, 1.5, 2, 2.5}, torque: 4, hottest: 230}

// The screw from where melt fills it: that is from the taper on, which is assumed, as
// is that it comes there at the barrel's temperature and without pressure.
const (
	celsius = 215 // [°C]
	taper   = 80  // [mm]
	entry   = 8   // of the nozzles' cones [mm]
	land    = 10  // [mm]
	late    = 0.99
)

func pressScrew() screw.Profile {
	barrel := material.Celsius(celsius)
	return screw.Profile{Bore: 20e-3, Lead: 20e-3, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Zones: []screw.Zone{
		{Length: taper * 1e-3, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: barrel},
		{Length: 120e-3, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: barrel},
	}}
}

// nozzle is a cone of 60° and a straight hole [m], or the hole alone where it is as
// wide as the cone.
func nozzle(diameter float64) screw.Die {
	hole := screw.Capillary{Diameter: diameter, Length: land * 1e-3}
	cone, err := screw.ConeOf(entry*1e-3, diameter, math.Pi/3)
	if err != nil {
		return screw.Die{hole}
	}
	return screw.Die{cone, hole}
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("nozzle", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "nozzle: only -out is understood, with the name of a folder, or - for no pictures")
		return 2
	}
	if err := tell(workshop, *folder, out); err != nil {
		fmt.Fprintln(faults, err)
		return 1
	}
	return 0
}

// tell finds, draws, and only then writes.
func tell(p plan, folder string, out io.Writer) error {
	a, err := find(p)
	if err != nil {
		return err
	}
	text := a.report()
	if folder == "-" {
		_, err = io.WriteString(out, text)
		return err
	}
	pictures, err := a.draw()
	if err != nil {
		return err
	}
	names, err := chart.Write(folder, pictures)
	if err != nil {
		return fmt.Errorf("-out: %w", err)
	}
	_, err = io.WriteString(out, text+"\nPictures: "+strings.Join(names, ", ")+"\n")
	return err
}

// answer is what is found.
type answer struct {
	plan   plan
	screw  screw.Profile
	melt   screw.Melt
	trials []trial // one a nozzle, in the plan's order
	chosen *trial  // with the smallest nozzle that keeps all limits

	now     float64      // nozzle for the speed that the screw turns at now [m]
	nowDone screw.Course // what happens then
}

// trial is a nozzle with as much bead as wanted, and with as much as it can.
type trial struct {
	nozzle  float64 // [mm]
	speed   float64 // [rev/s]
	course  screw.Course
	warmest float64 // of the melt if no heat passes the barrel [K]
	stay    screw.ResidenceTimes
	latest  float64 // by when all but a hundredth has left [s]
	broken  []string

	fastest, insulated fastest // with the barrel held, and if no heat passes it
}

type fastest struct {
	speed  float64 // [rev/s]
	course screw.Course
	stop   material.Utilisation
}

// errNone reports that no nozzle will do.
var errNone = errors.New("no nozzle of these keeps the limits")

func held(speed float64) screw.Running {
	return screw.Running{Speed: speed, Heating: screw.HeldBarrel}
}

func insulated(speed float64) screw.Running {
	return screw.Running{Speed: speed, Heating: screw.Adiabatic}
}

// find tries every nozzle and chooses.
func find(p plan) (*answer, error) {
	a := &answer{plan: p, screw: pressScrew(), trials: make([]trial, len(p.nozzles))}
	var err error
	if a.melt, err = screw.MeltOf(material.PP(), material.Celsius(celsius)); err != nil {
		return nil, err
	}
	for i, diameter := range p.nozzles {
		t := &a.trials[i]
		t.nozzle = diameter
		if err := a.try(t); err != nil {
			return nil, fmt.Errorf("nozzle of %g mm: %w", diameter, err)
		}
		if len(t.broken) == 0 && (a.chosen == nil || diameter < a.chosen.nozzle) {
			a.chosen = t
		}
	}
	if a.chosen == nil {
		return nil, fmt.Errorf("%w at %g kg/h", errNone, p.wanted)
	}
	a.now, a.nowDone, err = a.screw.NozzleFor(nozzle, a.melt, held(p.running/60), a.flow())
	return a, err
}

// flow is as much melt as is wanted [m³/s].
func (a *answer) flow() float64 { return a.plan.wanted / 3600 / a.melt.Density }

func (a *answer) limits() screw.Limits {
	return screw.Limits{Temperature: material.Celsius(a.plan.hottest), Torque: a.plan.torque, DieStress: screw.FractureStress}
}

func (a *answer) try(t *trial) (err error) {
	die := nozzle(t.nozzle * 1e-3)
	if t.speed, t.course, err = a.screw.SpeedFor(die, a.melt, held(0), a.flow()); err != nil {
		return err
	}
	warm, err := a.screw.OperatingPoint(die, a.melt, insulated(t.speed))
	if err != nil {
		return err
	}
	t.warmest = warm.Hottest
	if t.stay, err = a.screw.ResidenceTimes(a.melt, held(t.speed), t.course); err != nil {
		return err
	}
	if t.latest, err = t.stay.At(late); err != nil {
		return err
	}
	limits := a.limits()
	for _, l := range []struct {
		word          string
		demand, limit float64
	}{{"bead", t.course.DieShearStress, limits.DieStress}, {"torque", t.course.Torque, limits.Torque}, {"heat", t.warmest, limits.Temperature}} {
		if l.demand > l.limit {
			t.broken = append(t.broken, l.word)
		}
	}
	f := &t.fastest
	if f.speed, f.course, f.stop, err = a.screw.FastestRun(die, a.melt, held(0), limits); err != nil {
		return err
	}
	f = &t.insulated
	f.speed, f.course, f.stop, err = a.screw.FastestRun(die, a.melt, insulated(0), limits)
	return err
}

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
