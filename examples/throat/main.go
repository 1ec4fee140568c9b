// Command throat tells whether the throat of a barrel stays cold enough for pellets not to
// stick: how warm it and the screw in it become by length of the sleeve and by its collar, what
// heat goes there, what holds and heats the barrel, and what a warm-up that was read tells.
//
//	go run ./examples/throat            tables and pictures
//	go run ./examples/throat -out -     no pictures
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
	"meltflight/material"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("throat", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "throat: only -out is understood, with the name of a folder, or - for no pictures")
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
	hot, shed float64 // barrel and air [°C]
	margin    float64 // that the throat stays below softening [K]
	plastics  []material.Polymer

	barrel  float64 // length that is heated [mm]
	outer   float64 // its diameter [mm]
	bore    float64 // [mm]
	wool    float64 // thickness of the insulation [mm]
	bands   int
	power   float64 // of each band [W]
	band    float64 // length of each [mm]
	warm    float64 // time in which it should be warm [min]
	sleeve  float64 // outer diameter of the throat's sleeve [mm]
	root    float64 // diameter of the screw's root there [mm]
	shank   float64 // conductance of the screw's end to the gear [W/K]
	gear    float64 // [°C]
	collars []collar
	lengths []float64 // of the sleeve [mm]
	cases   []scene   // that are drawn
	chosen  int       // the case that is advised on

	test warmup
}

// collar is what cools the throat.
type collar struct {
	name        string
	conductance float64 // to the coolant [W/K]
	coolant     float64 // [°C]
}

// scene is a sleeve in a collar.
type scene struct {
	length float64 // [mm]
	collar int     // of the plan's
}

// warmup is what was read of a barrel heated by a known power.
type warmup struct {
	power float64 // [W]
	air   float64 // [°C]
	pairs [][2]float64
}

var workshop = plan{
	hot: 215, shed: 30, margin: 25, plastics: []material.Polymer{material.PP(), material.PET(), material.PLA()},
	barrel: 320, outer: 42, bore: 20, wool: 15, bands: 2, power: 150, band: 60, warm: 30,
	sleeve: 30, root: 12.8, shank: 0.4, gear: 45,
	collars: []collar{{"none", 0, 30}, {"finned block", 0.35, 30}, {"block with a fan", 1.5, 30}, {"water", 8, 20}},
	lengths: []float64{20, 40, 60, 80, 100},
	cases:   []scene{{20, 0}, {60, 1}, {60, 3}}, chosen: 1,
	// Minutes and °C, in the block that is advised on.
	test: warmup{300, 22, [][2]float64{{0, 22}, {2, 41.5}, {4, 60.7}, {6, 78.5}, {8, 97.1}, {10, 115.1}, {12, 131.8}, {14, 149.3}, {16, 163.9}, {18, 180.4}, {20, 195.4}, {22, 210.4}}},
}
