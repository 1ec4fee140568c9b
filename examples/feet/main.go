// Command feet tells whether the hopper should ride on the gantry axis or stand on its
// own feet: a full hopper on the axis makes it swing. How low either vibrates over the
// fill, what a move leaves at the nozzle, how far the axis may be hurried and what a
// shaper buys, and whether the stand falls, buckles or sways.
//
//	go run ./examples/feet            tables and pictures
//	go run ./examples/feet -out -     no pictures
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

	"meltflight/frame"
	"meltflight/internal/chart"
	"meltflight/internal/input"
	"meltflight/material"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, faults io.Writer) int {
	flags := flag.NewFlagSet("feet", flag.ContinueOnError)
	flags.SetOutput(faults)
	folder := flags.String("out", "pictures", "`folder` for the pictures; - for none")
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case err != nil:
		return 2
	case flags.NArg() > 0 || *folder == "":
		fmt.Fprintln(faults, "feet: only -out is understood, with the name of a folder, or - for no pictures")
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

// plan is what the volunteers have. The numbers are invented.
type plan struct {
	span, height, width, wall float64 // of the gantry's tube [mm]
	ends                      frame.EndStiffness
	head                      float64 // mass of the screw head [kg]
	headBelow, nozzleBelow    float64 // its centre of mass and its tip below the tube's axis [mm]
	damping                   float64 // ratio, of every mode [-]
	move                      frame.Move
	ripple                    float64 // that a bead may have [mm]
	fastest                   float64 // acceleration that the drive gives [m/s²]

	empty, volume, bulk float64 // hopper's mass [kg], what it holds [l], density of flake [kg/m³]
	aside, above        float64 // its centre of mass from the tube's axis, along the travel and up [mm]

	standHeight, standWidth, standDepth float64 // [mm]
	leg, legWall                        float64 // of square tube [mm]
	standing                            float64 // the hopper's centre of mass above the floor [mm]
	lean, leanAt                        float64 // of a person [N], above the floor [mm]
	hose                                float64 // its pull as the gantry drags it along [N]
}

var workshop = plan{
	span: 900, height: 60, width: 40, wall: 3, ends: frame.EndStiffness{Y: 1e6, Z: 5e6, Roll: 2e4},
	head: 4.5, headBelow: 80, nozzleBelow: 200, damping: 0.01,
	move: frame.Move{Distance: 0.3, Speed: 0.15, Acceleration: 1.5}, ripple: 0.15, fastest: 10,
	empty: 1, volume: 6, bulk: 320, aside: 120, above: 150,
	standHeight: 900, standWidth: 500, standDepth: 400, leg: 30, legWall: 2, standing: 1050,
	lean: 40, leanAt: 1000, hose: 5,
}

const mm = 1e-3

// check refuses what no solver sees.
func (p *plan) check() error {
	var f input.Faults
	f.Between("feet: head", p.head, 1e-3, 1e4, "kg")
	f.Between("feet: empty hopper", p.empty, 1e-3, 1e4, "kg")
	f.Between("feet: volume of the hopper", p.volume, 0.01, 1e4, "l")
	f.Between("feet: bulk density", p.bulk, 10, 2000, "kg/m³")
	f.Between("feet: damping ratio", p.damping, 0, 0.3, "")
	f.Between("feet: nozzle below the axis", p.nozzleBelow, -5000, 5000, "mm")
	f.Between("feet: fastest", p.fastest, 1e-3, 1e4, "m/s²")
	f.Between("feet: someone's lean", p.lean, 0, 1e4, "N")
	f.Between("feet: pull of the hose", p.hose, 0, 1e4, "N")
	return f.Err()
}

// hopper is its mass filled to a share [kg].
func (p *plan) hopper(fill float64) float64 { return p.empty + fill*p.volume*1e-3*p.bulk }

// none is the fill of a hopper that is not on the axis.
const none = -1

// axis is the gantry with its head, and with the hopper filled to a share or none.
func (p *plan) axis(fill float64) (frame.Axis, error) {
	tube, err := frame.RectangularTube(p.height*mm, p.width*mm, p.wall*mm)
	if err != nil {
		return frame.Axis{}, err
	}
	a := frame.Axis{Beam: frame.Beam{Length: p.span * mm, Section: tube, Metal: material.Al6060()}, Ends: p.ends,
		Bodies: []frame.Body{{Mass: p.head, Offset: [3]float64{0, 0, -p.headBelow * mm}}}}
	if fill != none {
		a.Bodies = append(a.Bodies, frame.Body{Mass: p.hopper(fill), Offset: [3]float64{0, p.aside * mm, p.above * mm}})
	}
	return a, nil
}

// nozzle is where its tip is, from mid-span of the axis [m].
func (p *plan) nozzle() [3]float64 { return [3]float64{0, 0, -p.nozzleBelow * mm} }

// stand is the hopper's own, filled to a share.
func (p *plan) stand(fill float64, bolted bool) (frame.Stand, error) {
	tube, err := frame.RectangularTube(p.leg*mm, p.leg*mm, p.legWall*mm)
	return frame.Stand{Height: p.standHeight * mm, Width: p.standWidth * mm, Depth: p.standDepth * mm, Leg: tube,
		Metal: material.S235(), FeetFixed: bolted, Mass: p.hopper(fill), MassHeight: p.standing * mm}, err
}

// space is an axis as a frame in space, for the shapes of its modes: its two halves meet
// at node 1, where the bodies are. It finds modes without [frame.Axis]'s assumed shapes.
func space(a frame.Axis) frame.SpaceFrame {
	l := a.Beam.Length
	s := frame.SpaceFrame{Nodes: [][3]float64{{-l / 2}, {}, {l / 2}}}
	for i := range 2 {
		s.Members = append(s.Members, frame.Member{From: i, To: i + 1, Section: a.Beam.Section, Metal: a.Beam.Metal})
		end := 2 * i
		s.Springs = append(s.Springs, frame.Spring{Node: end, To: frame.Ground, Stiffness: [6]float64{0, a.Ends.Y, a.Ends.Z, a.Ends.Roll}})
		s.Supports = append(s.Supports, frame.Support{Node: end, Held: [6]bool{true}})
	}
	for _, b := range a.Bodies {
		s.Lumps = append(s.Lumps, frame.Lump{Node: 1, Body: b})
	}
	return s
}
