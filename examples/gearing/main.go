// Command gearing tells which gear stage to put in next: a stripped motor pinion ended
// the season. What the screw asks, how long the stage that broke lasts by rating and which
// of its teeth give way first, what others bear, how large they are and what they leave the
// motor, and which would be the smallest that lasts.
//
//	go run ./examples/gearing            tables and pictures
//	go run ./examples/gearing -out -     no pictures
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

	"meltflight/drive"
	"meltflight/internal/chart"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("gearing", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "gearing: only -out is understood, with the name of a folder, or - for no pictures")
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

// plan is what the workshop has and wants. The numbers are invented.
type plan struct {
	torque, thrust float64 // of the screw at its speed [N·m], [N]
	speed          float64 // of the screw [rpm]
	index          float64 // of the melt's power law [-]
	season, wanted float64 // that a stage must run, and should [h]

	motor   drive.Stepper // at 20 °C
	warm    float64       // its winding [°C]
	current float64       // set, rms [A]
	supply  float64       // less what the switches drop [V]

	stages  []stage // the one that broke first
	reserve float64 // least safety of the motor [-]
	root    float64 // least safety of the teeth's roots [-]
	flank   float64 // and of their flanks [-]
	outer   float64 // the most that a ring may measure outside [mm]

	least, most float64   // ratio of the stage that is sought [-]
	width       float64   // of its face, in modules [-]
	ratios      []float64 // that are drawn, three at most [-]
	steps       []float64 // modules that are drawn [mm]

	ripple, bending float64 // of the torque, of its mean [-]; moment that turns against the shank [N·m]
	safe            float64 // safety of shank and key [-]
}

// stage is one that can be had, with three planets.
type stage struct {
	name         string
	sun, planet  int     // teeth [-]
	module, face float64 // [mm]
	steel        steel   // of sun and planets; the ring is of alloy
}

var workshop = plan{
	torque: 6.3, thrust: 900, speed: 72, index: 0.35, season: 600, wanted: 2000,
	motor: drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50},
	warm:  80, current: 2.8, supply: 35,
	stages: []stage{
		{"the one that broke", 12, 24, 0.4, 4.5, plain},
		{"same teeth, larger", 12, 24, 0.5, 8, cased},
		{"more teeth, soft", 18, 27, 0.6, 10, alloy},
		{"more teeth, hard", 18, 27, 0.5, 8, cased},
		{"slower", 18, 36, 0.5, 8, cased},
		{"slower still", 18, 45, 0.5, 8, cased},
		{"slow and slim", 12, 42, 0.4, 8, cased},
	},
	reserve: 1.5, root: 1.4, flank: 1.1, outer: 60,
	least: 6, most: 9, width: 12,
	ratios: []float64{5, 6, 9}, steps: []float64{0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1},
	ripple: 0.3, bending: 1.5, safe: 1.5,
}
