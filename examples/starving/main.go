// Command starving tells why a screw starves, and which limits it: what the throat lets
// in, what the friction of the flake carries, what melts, or what the pump takes; how that
// changes with the flake, the speed and a warm throat; and which change buys most.
//
//	go run ./examples/starving            tables and pictures
//	go run ./examples/starving -out -     no pictures
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
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("starving", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "starving: only -out is understood, with the name of a folder, or - for no pictures")
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

// plan is what the workshop has, wants and asks. The numbers are invented.
type plan struct {
	wanted    float64   // bead [kg/h]
	state     state     // as the screw runs now
	dense     float64   // bulk density of a flake with which the throat does not limit [kg/m³]
	fast      float64   // speed at which melting limits then [rpm]
	densities []float64 // of the table [kg/m³]
	speeds    []float64 // of the table and the curves, three at most [rpm]
	changes   []change
	other     *plastic // softer, whose throat is told beside
}

var workshop = plan{
	wanted: 1.5,
	state:  state{plastic: &pp, speed: 45, bulk: 320, efficiency: 0.3, depth: 3.6, nozzle: 1.5, collar: 40, root: 70},
	dense:  550, fast: 135,
	densities: []float64{200, 320, 450, 600},
	speeds:    []float64{45, 90, 135},
	changes: []change{
		{"pellets to a quarter more density", func(s *state) { s.bulk *= 1.25 }},
		{"feed channel a quarter deeper", func(s *state) { s.depth *= 1.25 }},
		{"a quarter faster", func(s *state) { s.speed *= 1.25 }},
		{"a quarter slower", func(s *state) { s.speed *= 0.75 }},
		{"barrel 20 °C hotter", func(s *state) { s.hotter += 20 }},
		{"nozzle a quarter wider", func(s *state) { s.nozzle *= 1.25 }},
		{"root in the throat 20 °C colder", func(s *state) { s.root -= 20 }},
		{"root in the throat 25 °C warmer", func(s *state) { s.root += 25 }},
	},
	other: &ldpe,
}

// change is something that the workshop could do.
type change struct {
	name string
	do   func(*state)
}
