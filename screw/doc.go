// Package screw computes what a single screw does between hopper outlet and
// nozzle tip: here, how much melt its metering zone conveys against the nozzle,
// at what pressure, torque, power and thrust.
//
// A [Channel] is the metering zone as the drawing gives it, a [Die] the chain of
// passages in front of it, a [Melt] the plastic at its temperature. Where the
// characteristics of screw and die cross lies the [OperatingPoint]:
//
//	point, err := screw.OperatingPoint(channel, die, melt, 0.75) // 45 rpm
//
// # Model
//
// The channel is unrolled flat between the still screw and the barrel, which
// slides over it at the helix angle. For a Newtonian melt drag and pressure flow
// are exact for a rectangular channel; circulation across the channel and leakage
// over the lands follow from a balance over one pitch by lubrication theory. The
// power put in at the shaft equals pumping plus dissipation, and the thrust is
// that of the head pressure and of the melt's shear along the barrel, both to
// rounding. The shear at the flanks of the flight is left out of power and torque:
// it adds some 5 to 10 % in a narrow deep channel (depth ÷ width 0.1).
//
// Any other melt is solved with both components of its velocity together in channel
// and land, joined over a pitch as above: by [Gap] exactly for walls wide against
// their distance, to 1e-10 for a power law and 1e-7 for other laws. The flights'
// side walls are then brought in by the shape factors of a Newtonian melt, the one
// on drag, the other on what pressure takes; this is an approximation for a thinning
// melt, small where the channel is wide (depth ÷ width below 0.1 takes 5 to 6 %
// altogether), and not held against a full solution of the cross-section yet. The
// melt has one temperature throughout. Pressure's own effect on viscosity is left
// out, which Beyond tells where it matters.
//
// In the passages of a die shear flow is exact for any law in round holes, wide slits
// and annuli, and slice by slice in cones and wedges. Of the side walls of a slit the
// same is true as of the channel's; see [Slit.PressureDrop]. Where viscous heating in the
// die is not small, Beyond tells so.
//
// Not covered: curvature (depths above a tenth of the bore are told in Beyond); the
// stretching of melt in cones above some 30° and, unless an [Entrance] brings it in,
// the loss at the ends of a hole, which together make a short nozzle's pressure 10 to
// 30 % higher; heat exchange; feeding and melting of solids, whose torque adds to the
// figures here.
//
// # Cautions
//
// Melt in front of a turning screw is hot and under pressure: a blocked nozzle
// can burst a barrel or eject melt, and trapped gas or water does so without
// warning. A turning screw draws fingers in. The figures are estimates for
// design, not a certification of pressure equipment; local codes and licensed
// practice prevail.
package screw
