// Command machine tells what a small plastics-melting machine will do, from
// hopper to nozzle and from motor chip to frame: its operating point, its drive,
// its heat, its frame, and every limit in one table, weakest first.
//
//	go run ./examples/machine                    the embedded machine
//	go run ./examples/machine -print-default     its file, to start from
//	go run ./examples/machine -explain           what each key of the file means
//	go run ./examples/machine -machine my.json   your own
//
// Pictures go to the folder that -out names. Exit status: 0 with an answer, also
// if a part of the machine gives way; 1 if a file cannot be read or written or
// describes no machine; 2 for wrong usage.
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
	flags := flag.NewFlagSet("machine", flag.ContinueOnError)
	flags.SetOutput(faults)
	file := flags.String("machine", "", "`file` that describes the machine; the embedded one if not given")
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	show := flags.Bool("print-default", false, "print the embedded machine's file and end")
	explain := flags.Bool("explain", false, "print what each key of the file means, and end")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	}
	given := map[string]bool{}
	flags.Visit(func(f *flag.Flag) { given[f.Name] = true })
	for wrong, words := range map[string]bool{
		fmt.Sprintf("%q is not understood; a file is given as -machine FILE", strings.Join(flags.Args(), " ")): flags.NArg() > 0,
		"-machine needs the name of a file":                     given["machine"] && *file == "",
		"-out needs the name of a folder, or - for no pictures": *folder == "",
		"-print-default and -explain stand alone":               (*show || *explain) && len(given) > 1,
	} {
		if words {
			fmt.Fprintln(faults, "machine: "+wrong)
			return 2
		}
	}
	if err := tell(*file, *folder, *show, *explain, out); err != nil {
		fmt.Fprintln(faults, err)
		return 1
	}
	return 0
}

// tell reads, computes and only then writes.
func tell(file, folder string, show, explain bool, out io.Writer) error {
	source, text := "embedded machine", defaultFile
	if file != "" {
		var err error
		source = file
		if text, err = os.ReadFile(file); err != nil {
			return err
		}
	}
	m, err := read(source, text)
	if err != nil {
		return err
	}
	if show || explain {
		page := string(defaultFile)
		if explain {
			page = m.explain()
		}
		_, err = io.WriteString(out, page)
		return err
	}
	p, err := m.build()
	if err != nil {
		return errors.New(source + ": " + strings.Join(m.tidy(err), "\n"+source+": "))
	}
	a, err := m.solve(&p)
	if err != nil {
		return fmt.Errorf("%s: %w", source, err)
	}
	var pictures []chart.Picture
	if folder != "-" {
		if pictures, err = m.draw(&p, &a); err != nil {
			return err
		}
	}
	if _, err = io.WriteString(out, m.report(&p, &a)); err != nil || folder == "-" {
		return err
	}
	names, err := chart.Write(folder, pictures)
	if err != nil {
		return fmt.Errorf("-out: %w", err)
	}
	_, err = io.WriteString(out, "\nPictures: "+strings.Join(names, ", ")+"\n")
	return err
}
