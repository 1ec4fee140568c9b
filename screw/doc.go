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
// slides over it at the helix angle. For a Newtonian melt the answer is exact for
// fully developed flow: drag and pressure flow with the series solution for a
// rectangular channel, cross-channel circulation, and leakage over the lands
// coupled to the channel by a balance over one pitch. Power put in at the shaft
// equals pumping plus dissipation to rounding.
//
// A shear-thinning melt is estimated by the Newtonian formulas at the viscosity
// of the down-channel shear rate, with drag times (4+n)/5 and pressure flow times
// 3/(1+2n), n being the local power-law index. Against the full equations for two
// velocity components the flow so found is within 5 % up to G* = 0.3 at n = 0.8
// and 0.5, and within 12 % at n = 0.3; beyond G* = 0.3 it is far too optimistic at
// low n, which the result tells in Beyond. G* is the pressure flow over the drag
// flow that a Newtonian melt of that viscosity would have. The dissipation of a
// thinning melt comes out up to some 15 % high.
//
// Not covered: curvature (depths above a tenth of the bore are told in Beyond),
// heat exchange, feeding and melting of solids, whose torque adds to the figures here.
//
// # Cautions
//
// Melt in front of a turning screw is hot and under pressure: a blocked nozzle
// can burst a barrel or eject melt, and trapped gas or water does so without
// warning. A turning screw draws fingers in. The figures are estimates for
// design, not a certification of pressure equipment; local codes and licensed
// practice prevail.
package screw
