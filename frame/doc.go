// Package frame tells what the structure of a small machine does: how it rings
// with the hopper empty and full, how far a move may hurry it, and whether its
// stand buckles or tips.
//
// A [Section] is the cross-section of a tube, bar or I, a [Rolled] that of an
// angle, channel or tee, a [Polygon] any other, corner by corner. A [Beam] is a
// length of a section in a metal. A [Planar] is such a beam bending in one plane on any
// supports, with any bodies and a load along it; a [SpaceFrame] any number of them joined
// in space. An [Axis] is a gantry beam on springs with bodies at mid-span, a [Gantry] one with
// them anywhere, solved exactly; a [Stand] is four legs under a ring that carry the same hopper
// beside the machine, a [StandFrame] one with braces and hoses, solved exactly. A
// [Move], with a jerk limit or without, says what ringing a start and stop leave
// behind; as a [Profile] what it does on the way to any list of [Tone], the natural
// vibrations as they show at one point; a [Shaper] splits it so that little is left.
// A [SpaceFrame] is any frame of members, bodies and springs, exact in its theory: how it
// rings, sags and buckles.
//
//	tube, err := frame.RectangularTube(0.060, 0.040, 0.003)
//	axis := frame.Axis{
//		Beam:   frame.Beam{Length: 1, Section: tube, Metal: material.Al6060()},
//		Ends:   frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4},
//		Bodies: []frame.Body{carriage, hopper},
//	}
//	modes, err := axis.Modes()
//	a, err := frame.LargestAcceleration(modes[0].Frequency, 50e-6)
//
// Axes: x along the beam, y horizontal across it, z up. Vertical bending turns
// the section about y and takes Iy; horizontal bending takes Iz.
//
// # Methods and what they leave out
//
//   - A SpaceFrame's frequencies are exact to rounding, and counted so that none is
//     missing; its members bend after Euler and Bernoulli or after Timoshenko, as told.
//   - Beams bend after Euler and Bernoulli, but for a Planar told its shear. Shear and the turning of the section
//     lower a frequency by about ½(βr)²(1+E/κG), r the radius of gyration, π/β
//     the half wave, κ the share of the area that takes shear (0.83 solid bar,
//     about 0.5 thin tube): 1.6 % for a solid bar ten times as long as high on
//     pinned ends, 1 to 2 % for a tube of 60 mm over 1 m. Where βr passes 0.14, 4 to
//     6 % on pinned ends, the result comes with [ErrStubby].
//   - Sections have thin walls where they say so, J is Saint-Venant's, ends free to
//     warp; notches and fillets are left out.
//   - A Planar counts shear and that turning if asked to. Its frequencies, shapes,
//     deflections and buckling load are those of its differential equation, by
//     counting, so that no mode is missed.
//   - An Axis is solved with one static shape for each of the five motions of
//     mid-span (Rayleigh and Ritz), so that no frequency is below the exact one of
//     the same model.
//   - A Stand is two portals side by side, its legs stretching, with its mass at the ring.
//   - Joints are rigid, walls thin enough for the formula they stand under,
//     motions small. Bolted joints and profile nuts give way, so that a machine
//     rings lower than told here: knock on it and measure.
//   - Moves are followed exactly by the base: the drive's own give and the
//     controller's lag are left out. Vibrations are linear, each with its damping
//     ratio; friction in guides ends a small ringing sooner than told.
//   - Weight does not stiffen or soften but in a Planar or SpaceFrame: the error is of the order of load ÷
//     buckling load. [SpaceFrame.Stiffened] makes it do so.
//
// A hopper off the beam's axis couples bending with twist, and the lowest
// frequency then lies below every uncoupled one, easily by 10 %: compute bodies
// with their offsets, not as a point mass.
//
// # Units and errors
//
// Everything is in SI base units; frequencies of vibration in hertz. A refused
// input is an error that names the field and for which
// errors.Is(err, material.ErrInvalid) holds.
package frame
