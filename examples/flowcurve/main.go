// Command flowcurve makes a material of weighed strands: a garden's workshop lets its
// ground plant pots out of the machine's own nozzle, weighs what comes in a minute or
// two at several screw speeds and heats, reads the pressure gauge, and has a flow curve
// with its errors.
//
//	go run ./examples/flowcurve            table, fit and picture
//	go run ./examples/flowcurve -out -     no picture
//
// The picture goes to the folder that -out names. Exit status: 0 with an answer; 1 if
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

// The nozzle's land and what its entrance cone costs, the latter from strands of a
// second nozzle of twice the land.
const (
	bore  = 1.5 // [mm]
	land  = 10  // [mm]
	level = 0.95
)

// weighing is a line of the workshop's notebook. The numbers are invented.
type weighing struct {
	celsius  float64 // melt, by a needle probe in the strand
	grams    float64
	seconds  float64
	bar      float64 // before the nozzle
	entrance float64 // of it lost at the entrance [bar]
}

var notebook = []weighing{
	{200, 12.1, 180, 17.9, 2.4}, {200, 24.4, 120, 30.3, 3.9}, {200, 25.2, 60, 37.1, 5.3}, {200, 41.0, 60, 49.4, 6.7},
	{215, 12.3, 180, 17.4, 2.1}, {215, 24.1, 120, 24.2, 3.4}, {215, 24.9, 60, 34.8, 4.6}, {215, 40.7, 60, 39.9, 5.8},
	{230, 12.0, 180, 13.9, 1.8}, {230, 24.6, 120, 23.5, 3.0}, {230, 25.3, 60, 28.6, 4.1}, {230, 40.2, 60, 37.8, 5.1},
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("flowcurve", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the picture; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "flowcurve: only -out is understood, with the name of a folder, or - for no picture")
		return 2
	}
	if err := tell(notebook, *folder, out); err != nil {
		fmt.Fprintln(faults, err)
		return 1
	}
	return 0
}

// pots is what the workshop has found out about its melt.
type pots struct {
	points []material.FlowPoint
	law    material.PowerLaw
	fit    material.Fit
}

// find goes from the notebook to a law.
func find(notebook []weighing) (p pots, err error) {
	strands := make([]material.Strand, len(notebook))
	for i, w := range notebook {
		strands[i] = material.Strand{
			Diameter: bore * 1e-3, Length: land * 1e-3,
			MassFlow: w.grams * 1e-3 / w.seconds,
			Pressure: w.bar * 1e5, EndPressure: w.entrance * 1e5,
			Temperature: material.Celsius(w.celsius),
		}
	}
	if p.points, err = material.Rabinowitsch(strands, material.PP().MeltDensity); err != nil {
		return p, err
	}
	p.law, p.fit, err = material.FitPowerLaw(p.points)
	return p, err
}

// tell finds, draws, and only then writes.
func tell(notebook []weighing, folder string, out io.Writer) error {
	p, err := find(notebook)
	if err != nil {
		return err
	}
	text, err := p.report(notebook)
	if err != nil {
		return err
	}
	if folder == "-" {
		_, err = io.WriteString(out, text)
		return err
	}
	svg, err := p.draw()
	if err != nil {
		return err
	}
	names, err := chart.Write(folder, []chart.Picture{{Name: "flowcurve.svg", SVG: svg}})
	if err != nil {
		return fmt.Errorf("-out: %w", err)
	}
	_, err = io.WriteString(out, text+"\nPicture: "+names[0]+"\n")
	return err
}

func (p *pots) report(notebook []weighing) (string, error) {
	var b strings.Builder
	fmt.Fprintf(&b, "GROUND PLANT POTS through a nozzle of %g mm, %g mm long (invented numbers)\n\n", float64(bore), float64(land))
	fmt.Fprintln(&b, "  melt °C  g in s       bar  entrance  rate 1/s  viscosity Pa·s  law   off %")
	for i, w := range notebook {
		at := p.points[i]
		law := p.law.At(at.ShearRate, at.Temperature, 0)
		fmt.Fprintf(&b, "  %7.0f  %4.1f in %-4.0f %5.1f  %8.1f  %8.0f  %14.1f  %5.1f %+5.1f\n",
			w.celsius, w.grams, w.seconds, w.bar, w.entrance, at.ShearRate, at.Viscosity, law, 100*(at.Viscosity/law-1))
	}
	fmt.Fprintf(&b, "\nPower law at %.0f °C, %d points, %d more than parameters; points scatter by %.1f %%\n",
		material.ToCelsius(p.law.Reference), len(p.points), p.fit.Freedom, 100*p.fit.Residual)
	for i, parameter := range p.fit.Parameters {
		lo, hi, err := p.fit.Interval(i, level)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "  %-16s %8.4g %-5s  %.4g to %.4g in %g cases of 100\n", parameter.Name, parameter.Value, parameter.Unit, lo, hi, 100*level)
	}
	fmt.Fprintln(&b, "  The points of one temperature share the error of its slope: count on 85 to 95 cases.")
	fmt.Fprintln(&b, "\nWhat the machine will meet")
	for _, ask := range []struct {
		where         string
		rate, celsius float64
	}{{"in the nozzle", 2300, 215}, {"in the screw channel", 45, 215}, {"in the nozzle, too hot", 2300, 245}} {
		band, err := p.fit.Band(ask.rate, material.Celsius(ask.celsius), level)
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&b, "  %-23s %5.0f 1/s at %.0f °C: %.4g Pa·s, %.4g to %.4g\n", ask.where, ask.rate, ask.celsius, band.Viscosity, band.Low, band.High)
		for _, text := range band.Beyond {
			fmt.Fprintf(&b, "  %23s %s\n", "", text)
		}
	}
	return b.String(), nil
}
