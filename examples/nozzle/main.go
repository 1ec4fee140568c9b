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
