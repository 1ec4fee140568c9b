// Command worn tells why a worn screw pumps less, and why one that was cut deeper for
// more output may: where its flow goes, what depth would have been best for the nozzle,
// and how fast it must turn to make up for it.
//
//	go run ./examples/worn            tables and pictures
//	go run ./examples/worn -out -     no pictures
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

// plan is what the workshop has. The numbers are invented.
type plan struct {
	speed   float64   // [rpm]
	screws  []version // the new one first
	nozzles []nozzle  // the one that troubles first, and a wider or shorter one
}

// version is the same screw new, worn or cut anew.
type version struct {
	name      string
	depth     float64 // of the metering zone [mm]
	clearance float64 // [mm]
}

func (v version) label() string {
	return fmt.Sprintf("%s: %.1f mm deep, clearance %.2f mm", v.name, v.depth, v.clearance)
}

// nozzle is a cone of 60° and a straight hole.
type nozzle struct {
	name     string
	diameter float64 // of the hole [mm]
	land     float64 // its length [mm]
}

var workshop = plan{
	speed:   45,
	screws:  []version{{"new", 1.6, 0.08}, {"worn", 1.6, 0.30}, {"re-cut", 2.6, 0.08}},
	nozzles: []nozzle{{"tie nozzle", 1.2, 30}, {"edging nozzle", 1.5, 10}},
}

// The screw from where melt fills it: that is from the taper on, which is assumed, as
// is that it comes there at the barrel's temperature and without pressure.
const (
	celsius  = 215 // [°C]
	taper    = 80  // [mm]
	metering = 120 // [mm]
	feed     = 3.6 // depth before the taper [mm]
	entry    = 8   // of the nozzles' cones [mm]
)

func (v version) profile() screw.Profile {
	barrel, depth := material.Celsius(celsius), v.depth*1e-3
	return screw.Profile{Bore: 20e-3, Lead: 20e-3, Land: 2e-3, Clearance: v.clearance * 1e-3, Starts: 1, Zones: []screw.Zone{
		{Length: taper * 1e-3, DepthIn: feed * 1e-3, DepthOut: depth, Barrel: barrel},
		{Length: metering * 1e-3, DepthIn: depth, DepthOut: depth, Barrel: barrel},
	}}
}

func (n nozzle) die() (screw.Die, error) {
	cone, err := screw.ConeOf(entry*1e-3, n.diameter*1e-3, math.Pi/3)
	return screw.Die{cone, screw.Capillary{Diameter: n.diameter * 1e-3, Length: n.land * 1e-3}}, err
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("worn", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "worn: only -out is understood, with the name of a folder, or - for no pictures")
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
	melt   screw.Melt
	fronts []front // one a nozzle
}

// front is a nozzle and what each screw does behind it.
type front struct {
	nozzle nozzle
	die    screw.Die
	points []point // one a screw
	best   float64 // depth of the metering zone for the most output [m]
	most   screw.Course
}

// point is a screw behind a nozzle.
type point struct {
	course  screw.Course
	warmest float64          // of the melt if no heat passes the barrel [K]
	tip     screw.Conveyance // of a metering zone that is all along as it is at the tip

	// To put out as much as the new one:
	speed        float64 // [rev/s]
	again        screw.Course
	againWarmest float64 // [K]
}

func held(speed float64) screw.Running {
	return screw.Running{Speed: speed, Heating: screw.HeldBarrel}
}

func find(p plan) (*answer, error) {
	a := &answer{plan: p}
	var err error
	if a.melt, err = screw.MeltOf(material.PP(), material.Celsius(celsius)); err != nil {
		return nil, err
	}
	for _, n := range p.nozzles {
		f := front{nozzle: n}
		if f.die, err = n.die(); err != nil {
			return nil, fmt.Errorf("%s: %w", n.name, err)
		}
		for _, v := range p.screws {
			var flow float64
			if len(f.points) > 0 {
				flow = f.points[0].course.Flow
			}
			at, err := a.run(v.profile(), f.die, flow)
			if err != nil {
				return nil, fmt.Errorf("%s screw, %s: %w", v.name, n.name, err)
			}
			f.points = append(f.points, at)
		}
		if f.best, f.most, err = p.screws[0].profile().BestDepth(f.die, a.melt, held(p.speed/60)); err != nil {
			return nil, fmt.Errorf("%s: %w", n.name, err)
		}
		a.fronts = append(a.fronts, f)
	}
	return a, nil
}

// run tells what a screw does at the workshop's speed, and at the one at which it
// delivers a flow; 0 is that of the former [m³/s].
func (a *answer) run(p screw.Profile, die screw.Die, flow float64) (at point, err error) {
	speed := a.plan.speed / 60
	if at.course, at.warmest, err = a.bounds(p, die, speed); err != nil {
		return at, err
	}
	if at.tip, err = a.atTip(p, at.course); err != nil {
		return at, err
	}
	if flow == 0 {
		flow = at.course.Flow
	}
	if at.speed, _, err = p.SpeedFor(die, a.melt, held(speed), flow); err != nil {
		return at, err
	}
	at.again, at.againWarmest, err = a.bounds(p, die, at.speed)
	return at, err
}

// bounds returns what happens with the barrel held, and how warm the melt becomes if no
// heat passes it [K].
func (a *answer) bounds(p screw.Profile, die screw.Die, speed float64) (c screw.Course, warmest float64, err error) {
	if c, err = p.OperatingPoint(die, a.melt, held(speed)); err != nil {
		return c, 0, err
	}
	warm, err := p.OperatingPoint(die, a.melt, screw.Running{Speed: speed, Heating: screw.Adiabatic})
	return c, warm.Hottest, err
}

// atTip tells where the flow goes at the tip: of the metering zone, with melt as warm and
// pressure as steep as they are there.
func (a *answer) atTip(p screw.Profile, c screw.Course) (screw.Conveyance, error) {
	zone, tip := p.ChannelAt(p.Length()), c.Stations[len(c.Stations)-1]
	melt := a.melt
	melt.Temperature = tip.Temperature
	return zone.Convey(melt, a.plan.speed/60, max(tip.Slope, 0)*zone.Length)
}

const (
	rpm = 60.0
	bar = 1e5 // [Pa]
)

func kgh(c screw.Course) float64 { return c.MassFlow * 3600 }

// carried is a share of the flow as mass [kg/h].
func (a *answer) carried(flow float64) float64 { return flow * a.melt.Density * 3600 }
