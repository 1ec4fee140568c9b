// Package screw computes what a single screw does between hopper outlet and
// nozzle tip: here, how much melt it conveys against the nozzle, at what pressure,
// temperature, torque, power and thrust, how long the melt stays, and what speed, depth
// or nozzle gives what is wanted.
//
// A [Channel] is a length of constant depth as the drawing gives it, a [Die] the chain
// of passages in front of it, a [Melt] the plastic at its temperature. Where the
// characteristics of screw and die cross lies the [OperatingPoint]:
//
//	point, err := screw.OperatingPoint(channel, die, melt, 0.75) // 45 rpm
//
// A [Profile] is a whole screw of zones, along which pressure and temperature are
// marched together, with the barrel held at its temperatures or no heat passing:
//
//	course, err := profile.OperatingPoint(die, melt, screw.Running{Speed: 0.75, Heating: screw.HeldBarrel})
//	speed, course, err := profile.SpeedFor(die, melt, screw.Running{Heating: screw.HeldBarrel}, flow)
//
// # Model
//
// Melt fills the channel between still screw and turning barrel; its velocity has two
// components, round the screw and along its axis, as drag and pressure drive it along
// the channel and the flights turn it back across. Both are solved together, with the
// channel's curvature, for any law of viscosity: no pressure gradient but one lets as
// much leak over the land as the channel does not carry back across, under the pressure
// that is left over a pitch. A Newtonian melt has this in closed form, any other by
// Newton's method on a convex function ([Gap] is its flat case, open to use), to 1e-9
// in a channel and 1e-6 along a march.
//
// The flights' side walls are brought in by the shape factors of a Newtonian melt, one on
// drag, one on what pressure takes, for a thinning melt those of a channel narrower by
// the cube root of its index: within 0.6 % of the drag flow at indices from 0.3 and
// depth ÷ width 0.1, held against whole cross-sections. Curvature and side walls together
// have not been. The shear at the flanks of the flight is left out of power and torque:
// it adds some 5 to 10 % in a narrow deep channel (depth ÷ width 0.1). Power put in at
// the shaft equals pumping plus dissipation to rounding, and the thrust is that of the
// head pressure and of the melt's shear along the barrel.
//
// Over a cross-section the melt has one temperature, which mixing in the channel makes
// nearly true and in the clearance does not; along a [Profile] it follows shaft work and
// barrel heat. Density and specific heat are those of the melt as given. Pressure's own
// effect on viscosity is left out, which Beyond tells where it matters.
//
// In the passages of a die shear flow is exact for any law in round holes, wide slits
// and annuli, and slice by slice in cones and wedges; the side walls of a slit come in by
// their shape factor, see [Slit.PressureDrop]. Where viscous heating in the die is not
// small, Beyond tells so.
//
// A whole screw from throat to tip is [Plasticating]: what the throat lets in, the solids'
// friction carries, the film melts and screw and die agree on, and which of them is the
// least. Beside it stand the rooms before and after: the hopper's outlet and drop tube
// ([Outlet], [Tube], [Clogging], [Stirrer]), a feed auger ([Auger]), switched by a level
// ([LevelControl]), what the throat lets in and where flake sticks there
// ([Channel.Feed], [Throat], [Friction]), solids carried by friction
// ([Channel.ConveySolids]), a bed that melts by its film ([Profile.MeltBed]), the strength of
// root and barrel ([Root], [Barrel]), wear ([Channel.Wear], [Channel.TimeTo]), and what
// oozes out when the screw stops ([Held]).
//
// Not covered: the stretching of melt in cones above some 30° and, unless an [Entrance]
// brings it in, the loss at the ends of a hole, which together make a nozzle's
// pressure some 10 to 30 % higher at a land of ten diameters and far more at a short one
// (common practice, no source); the torque of solids (that of the film [Plasticating] counts), which adds to the
// figures here; screws that run partly empty before their tip.
//
// # Cautions
//
// Melt in front of a turning screw is hot and under pressure: a blocked nozzle
// can burst a barrel or eject melt, and trapped gas or water does so without
// warning. A turning screw draws fingers in. The figures are estimates for
// design, not a certification of pressure equipment; local codes and licensed
// practice prevail.
package screw
