// Package frametest draws random valid sections, beams, axes, stands and moves of
// the size of small machines, for property tests on top of package frame.
//
//	rapid.Check(t, func(t *rapid.T) {
//		axis := frametest.Axes().Draw(t, "axis")
//		...
//	})
package frametest

import (
	"fmt"
	"math"

	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/material"
)

// Metals draws one of the metals the material package knows.
func Metals() *rapid.Generator[material.Metal] { return rapid.SampledFrom(material.Metals()) }

// Sections draws square and flat tubes, round tubes and bars of 10 to 100 mm.
func Sections() *rapid.Generator[frame.Section] {
	return rapid.Custom(func(t *rapid.T) frame.Section {
		a := draw.Log(0.01, 0.1).Draw(t, "height")
		b := draw.Log(0.01, 0.1).Draw(t, "width")
		part := draw.Uniform(0.03, 0.25).Draw(t, "wall ÷ side")
		var s frame.Section
		var err error
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			s, err = frame.RectangularTube(a, b, part*math.Min(a, b))
		case 1:
			s, err = frame.RoundTube(a, part*a)
		case 2:
			s, err = frame.Rectangle(a, b)
		default:
			s, err = frame.Round(a)
		}
		return must(s, err)
	})
}

// Beams draws members of 23 to 100 times their larger radius of gyration, none stubby.
func Beams() *rapid.Generator[frame.Beam] {
	return rapid.Custom(func(t *rapid.T) frame.Beam {
		s := Sections().Draw(t, "section")
		y, z := s.Gyration()
		return frame.Beam{
			Length:  math.Max(y, z) * draw.Log(23, 100).Draw(t, "slenderness"),
			Section: s,
			Metal:   Metals().Draw(t, "metal"),
		}
	})
}

// AllEnds draws a way to hold a beam.
func AllEnds() *rapid.Generator[frame.Ends] {
	return rapid.SampledFrom([]frame.Ends{
		frame.ClampedFree, frame.ClampedClamped, frame.ClampedPinned, frame.ClampedGuided, frame.PinnedPinned,
		frame.FreeFree, frame.FreePinned, frame.GuidedPinned, frame.GuidedGuided, frame.GuidedFree,
	})
}

// Bodies draws a compact body of a tenth to ten times a mass [kg], its centre
// within a part of a length from the axis along each direction.
func Bodies(mass, length float64) *rapid.Generator[frame.Body] {
	return rapid.Custom(func(t *rapid.T) frame.Body {
		b := frame.Body{Mass: mass * draw.Log(0.1, 10).Draw(t, "mass")}
		radius := draw.Uniform(0.02, 0.1)
		for i := range b.Offset {
			b.Offset[i] = length * draw.Uniform(-0.15, 0.15).Draw(t, "offset")
		}
		// A box of these half-diagonals has an inertia that a body can have.
		var square [3]float64
		for i := range square {
			r := length * radius.Draw(t, "half side")
			square[i] = r * r / 3
		}
		for i := range b.Inertia {
			b.Inertia[i] = b.Mass * (square[(i+1)%3] + square[(i+2)%3])
		}
		return b
	})
}

// Axes draws beams with none to three bodies, on ends from as soft as the beam to
// a thousand times stiffer.
func Axes() *rapid.Generator[frame.Axis] {
	return rapid.Custom(func(t *rapid.T) frame.Axis {
		b := Beams().Draw(t, "beam")
		l := b.Length
		stiff := draw.Log(1, 1000)
		a := frame.Axis{
			Beam: b,
			Ends: frame.EndStiffness{
				Y:    stiff.Draw(t, "y") * 48 * b.Metal.Young * b.Section.Iz / (l * l * l),
				Z:    stiff.Draw(t, "z") * 48 * b.Metal.Young * b.Section.Iy / (l * l * l),
				Roll: stiff.Draw(t, "roll") * 4 * b.Metal.Shear() * b.Section.J / l,
			},
		}
		for i := range rapid.IntRange(0, 3).Draw(t, "bodies") {
			a.Bodies = append(a.Bodies, Bodies(b.Mass(), l).Draw(t, fmt.Sprintf("body %d", i)))
		}
		return a
	})
}

// Stands draws stands of structural steel on rectangular tubes, 0.3 to 1.5 m high,
// neither side longer than that, with the hopper at the ring and heavier than the legs.
func Stands() *rapid.Generator[frame.Stand] {
	return rapid.Custom(func(t *rapid.T) frame.Stand {
		side := draw.Uniform(0.015, 0.06)
		a, b := side.Draw(t, "leg's height"), side.Draw(t, "leg's width")
		leg := must(frame.RectangularTube(a, b, math.Min(a, b)*draw.Uniform(0.04, 0.15).Draw(t, "wall ÷ side")))
		h := draw.Uniform(0.3, 1.5).Draw(t, "height")
		part := draw.Uniform(0.15, 1)
		s := frame.Stand{
			Height: h, Width: h * part.Draw(t, "width ÷ height"), Depth: h * part.Draw(t, "depth ÷ height"),
			Leg: leg, Metal: material.S235(),
			FeetFixed: rapid.Bool().Draw(t, "feet fixed"),
		}
		legs := 4 * s.Height * s.Metal.Density * leg.Area
		s.Mass = legs * draw.Log(1, 10).Draw(t, "mass ÷ legs")
		s.MassHeight = s.Height * draw.Uniform(1, 1.25).Draw(t, "mass height")
		return s
	})
}

// Moves draws moves of 1 mm to 1 m, with and without a cruise.
func Moves() *rapid.Generator[frame.Move] {
	return rapid.Custom(func(t *rapid.T) frame.Move {
		return frame.Move{
			Distance:     draw.Log(1e-3, 1).Draw(t, "distance"),
			Speed:        draw.Log(0.01, 1).Draw(t, "speed"),
			Acceleration: draw.Log(0.1, 20).Draw(t, "acceleration"),
		}
	})
}

// JerkMoves draws Moves with a jerk limit, one in four without; some never reach
// their acceleration.
func JerkMoves() *rapid.Generator[frame.Move] {
	return rapid.Custom(func(t *rapid.T) frame.Move {
		m := Moves().Draw(t, "move")
		if rapid.IntRange(0, 3).Draw(t, "kind") > 0 {
			m.Jerk = draw.Log(1, 1e5).Draw(t, "jerk")
		}
		return m
	})
}

// Tones draws one to four tones of 0.3 to 3 times a frequency [Hz], damped by up to
// 0.2, with shares of either sign.
func Tones(frequency float64) *rapid.Generator[[]frame.Tone] {
	return rapid.Custom(func(t *rapid.T) []frame.Tone {
		tones := make([]frame.Tone, rapid.IntRange(1, 4).Draw(t, "tones"))
		for i := range tones {
			tones[i] = frame.Tone{
				Frequency: frequency * draw.Log(0.3, 3).Draw(t, "frequency"),
				Damping:   draw.Uniform(0, 0.2).Draw(t, "damping"),
				Share:     draw.Uniform(-1, 1).Draw(t, "share"),
			}
		}
		return tones
	})
}

// must unwraps what is drawn inside the range allowed.
func must[T any](s T, err error) T {
	if err != nil {
		panic(err)
	}
	return s
}

// Planars draws beams that bend in one plane, on any ends, springs, bodies and up to
// two joints between, some with shear, a third under tension or compression up to nine
// tenths of what buckles them. A beam that is not held at rest is one of them.
func Planars() *rapid.Generator[frame.Planar] {
	return rapid.Custom(func(t *rapid.T) frame.Planar {
		kappa := rapid.SampledFrom([]float64{0, 0.5, 5.0 / 6}).Draw(t, "kappa")
		p := must(Beams().Draw(t, "beam").Vertical(kappa)).Held(AllEnds().Draw(t, "ends"))
		for _, at := range []float64{0.37, 0.64}[:rapid.IntRange(0, 2).Draw(t, "joints between")] {
			p.Between = append(p.Between, frame.Joint{At: p.Length * (at + draw.Uniform(-0.1, 0.1).Draw(t, "place"))})
		}
		joints := []*frame.Joint{&p.Start, &p.End}
		for i := range p.Between {
			p.Between[i].Hold = rapid.SampledFrom([]frame.Hold{frame.HoldFree, frame.HoldFree, frame.HoldPinned, frame.HoldGuided}).Draw(t, "hold")
			joints = append(joints, &p.Between[i])
		}
		for _, j := range joints {
			fit(t, j, p)
		}
		axial := rapid.SampledFrom([]float64{0, 0, 1}).Draw(t, "loaded") * draw.Uniform(-2, 0.9).Draw(t, "load ÷ buckling load")
		if load, err := p.BucklingLoad(); err == nil {
			p.Axial = math.Max(axial*load, -100*p.Bending/(p.Length*p.Length))
		}
		return p
	})
}

// fit puts springs, a body and a hung mass on a joint, each as often as not.
func fit(t *rapid.T, j *frame.Joint, p frame.Planar) {
	l := p.Length
	mass := p.Line * l
	some := func(name string, lo, hi float64) float64 {
		if rapid.Bool().Draw(t, name+" none") {
			return 0
		}
		return draw.Log(lo, hi).Draw(t, name)
	}
	j.Spring = p.Bending / (l * l * l) * some("spring", 0.1, 1e4)
	j.Hinge = p.Bending / l * some("hinge", 0.1, 1e3)
	j.Mass = mass * some("mass", 0.1, 10)
	j.Inertia = mass * l * l * some("inertia", 1e-4, 0.1)
	j.Offset = l * draw.Uniform(-0.2, 0.2).Draw(t, "offset")
	if j.Hold == frame.HoldFree {
		if j.HungMass = mass * some("hung mass", 0.01, 1); j.HungMass > 0 {
			j.HungOn = p.Bending / (l * l * l) * draw.Log(1, 1e4).Draw(t, "hung on")
		}
	}
}
