// Command current tells how far the current of a stepper motor can be turned up before the
// chip that drives it, or its winding, gets too hot: for good and for a duty, where each runs
// away, what a larger sink or a fan buys in amperes, and how warm a day's work makes all parts.
//
//	go run ./examples/current            tables and pictures
//	go run ./examples/current -out -     no pictures
//
// The pictures go to the folder that -out names. Exit status: 0 with an answer; 1 if
// it cannot be had or written; 2 for wrong usage.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"meltflight/internal/chart"
	"meltflight/thermal"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("current", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "current: only -out is understood, with the name of a folder, or - for no pictures")
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

// plan is what the workshop has and asks. The numbers are invented.
type plan struct {
	box, shed         float64 // air around the chip and around the motor [°C]
	junction, winding float64 // the hottest that each may be [°C]
	reserve           float64 // part of the limit's current that is set [-]

	cooled  cooled
	motor   motor
	changes []change

	run, rest float64   // of the day's work, between refills [min]
	cycle     float64   // of the table of duties [min]
	factors   []float64 // parts of it that the motor runs [-]
}

// cooled is the chip and what takes its heat.
type cooled struct {
	bridge thermal.Bridge // its line of on-resistance is drawn by bends
	bends  float64        // growth of on-resistance, exponential as silicon's [1/K]
	top    float64        // junction to the top of the case [K/W]
	pad    float64        // junction to the copper beneath, solder and vias included [K/W]
	body   float64        // side of the square case [mm]
	glue   float64        // thickness [mm]
	sink   thermal.Sink   // glued on top
	base   float64        // thickness of its base [mm]
	flow   float64        // of a fan between its fins; 0 in still air [L/s]
	pour   float64        // side of the square copper pour [mm]
}

// motor is a winding in a case on a bracket.
type motor struct {
	resistance float64 // of a phase at 20 °C [Ω]
	iron       float64 // loss while it turns [W]
	mount      thermal.Mount
	copper     float64 // capacity of the windings [J/K]
	rest       float64 // of case and iron [J/K]
}

// change is something that the workshop could do.
type change struct {
	name string
	do   func(*cooled, *motor)
}

var small = thermal.Sink{Width: 20e-3, Length: 20e-3, Fins: 6, FinHeight: 10e-3, FinThickness: 1e-3, Conductivity: 200, Emissivity: 0.8}

func larger(c *cooled, _ *motor) {
	c.sink.Width, c.sink.Length, c.sink.Fins, c.sink.FinHeight = 40e-3, 40e-3, 8, 20e-3
}

func fan(c *cooled, _ *motor) { c.flow = 0.6 }

func bracket(_ *cooled, m *motor) { m.mount.BracketToAir = 2.5 }

var workshop = plan{
	box: 45, shed: 30, junction: 125, winding: 120, reserve: 0.9,
	cooled: cooled{
		bridge: thermal.Bridge{OnResistance: 0.065, Supply: 36, RiseTime: 100e-9, FallTime: 100e-9,
			ChopFrequency: 40e3, Quiescent: 8e-3, DiodeDrop: 0.8, DeadTime: 200e-9},
		bends: 0.0055, top: 12, pad: 4, body: 7, glue: 0.2, sink: small, base: 2, pour: 40,
	},
	motor: motor{resistance: 1.1, iron: 3, copper: 100, rest: 380,
		mount: thermal.Mount{WindingToCase: 1, CaseToAir: 4, CaseToBracket: 0.5, BracketToAir: 6}},
	changes: []change{
		{"glue twice as thick", func(c *cooled, _ *motor) { c.glue *= 2 }},
		{"sink of 40 mm, fins of 20", larger},
		{"fan, 0.6 L/s between the fins", fan},
		{"larger sink and fan", func(c *cooled, m *motor) { larger(c, m); fan(c, m) }},
		{"pour of 70 mm", func(c *cooled, _ *motor) { c.pour = 70 }},
		{"motor on an aluminium plate", bracket},
		{"all but the glue", func(c *cooled, m *motor) { larger(c, m); fan(c, m); c.pour = 70; bracket(c, m) }},
	},
	run: 25, rest: 5,
	cycle: 10, factors: []float64{1, 0.75, 0.5, 0.25},
}
