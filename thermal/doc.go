// Package thermal tells where the heat of a machine goes and how hot it makes
// the parts it passes: the driver chip and the winding of a stepper motor, and the
// barrel that melts.
//
// # Where to begin
//
//   - How much current may the motor have? [LargestCurrent], of a [Bridge], its [Path] and a [Winding]
//   - How hot are chip and motor at a current? [Bridge.Steady], [Winding.Steady]
//   - May they have more for a while? [LargestDutyCurrent], [Motor.TimeUntil]
//   - Which sink, with or without a fan? [OnSink]; of a sink alone [Sink], of any surface [Face]
//   - How strong a heater, how long to warm up? [Lagged], then [HeatUp] and [Heater]
//   - How hot does the throat become after a stop? [Sleeve], with the screw [Throat]
//   - Is the melt warm through at the nozzle? [HeatedMelt]
//   - What does the sensor really tell? [Platinum], [Thermocouple], [SteinhartHart], [Sheath]
//   - Anything of many parts: [Network]; a barrel is cut into one by [Barrel]
//
// All is in SI units, temperatures in kelvins ([meltflight/material.Celsius] makes them), and every call
// refuses what cannot be with the field's name and what is allowed.
//
// # Motor and chip
//
// The question that limits a small machine is how much current its motor may
// have. Torque goes with current, heat with its square, and two parts get hot:
// the chip that chops the current and the copper that carries it. Each is a
// struct filled from a data sheet, [Bridge] and [Winding], and each answers the
// same four questions:
//
//	Steady            how hot does it become at a current?
//	LargestCurrent    at which current does it reach its limit?
//	LargestResistance how good must the cooling be for a current?
//	RunawayCurrent    from which current on is there no steady temperature?
//
// [LargestCurrent] asks both at once; [CurrentLimit.Lowest] names the weaker.
//
// # Current
//
// Every current is the root mean square of one phase. Drivers are often set by
// the peak of the sine, which is √2 times that; taking the peak for the rms
// doubles the copper loss. A motor's rated current is mostly the direct current
// that both phases bear at once (common practice, no source), which is an rms.
//
// # Runaway
//
// The resistance of a switch and of copper rises with temperature, the loss with
// it, the temperature with that. With a resistance linear in temperature the
// balance T = Ta + θ·P(T) is linear too and is solved in closed form:
//
//	T = Ta + θ·P(Ta) / (1 − θ·dP/dT)
//
// As θ·dP/dT nears 1 the temperature grows without bound, and from there on no
// steady state exists: [ErrRunaway], with the current at which it starts. A
// current can always be compared with another where a temperature may not exist,
// which is why [Bridge.Utilisation] and [Winding.Utilisation] are in amperes.
// Mind that heat goes with the square: 1.2 in current is about 1.4 in heat.
//
// A switch bends upwards: [ExponentialBridge] runs away sooner, at a temperature that
// is not infinite. Who wants to know whether a hot chip is safe asks it.
//
// # Time
//
// A [Motor] is a winding and a [Chip] a bridge on its sink, each with what it takes to warm
// it. Both tell their temperature After a time, the time until they are too hot, and the
// current of a [Duty] of runs and rests ([LargestDutyCurrent] of both). The feedback that makes
// a part run away makes it slow as well: its time constant grows as R·C/(1 − θ·dP/dT).
//
// # Networks
//
// A [Network] is parts of one temperature each and the ways of heat between them, straight ([Conductance]) or
// bent ([Radiating], [Convecting], or any [Exchange]). Steady tells where it comes to rest and whether that is proven to be the
// only place, Warm follows it, Duty finds what it settles to under blocks that repeat, Modes is
// the exact course of a straight one, and [FitWarming] finds resistances and capacities from readings. A network is as
// good as its cuts and its resistances; no solver makes them better.
//
// # Thermal resistance
//
// A [Path] is the chain junction, case, sink, air. [Layer] and [Surface] make
// its links from a drawing, [Parallel] joins two ways out; [Ways] tells what each of them
// takes, of the sink on top of a chip and the board beneath it. [Mount] does so for a motor's air and
// bracket. On a [Sink] whose own law is to count, [OnSink] tells what a fan buys and how
// long the sink must be.
//
// Of the figures that data sheets print after JEDEC JESD51, only θ is a
// resistance. Ψ, such as Ψ(JT) from junction to top, divides a temperature
// difference by all of the heat though only some of it takes that way: it turns
// a measured surface temperature into a junction temperature and must not be put
// in series with anything. A θ(JA) holds for the board it was measured on, which
// is not yours: take it as SinkToAir of a Path, and as a first guess.
//
// # Surfaces
//
// What a surface gives off does not grow as its temperature does: still air rises
// faster along a hotter face, and radiation goes with the fourth power. A [Face] and a
// [Sink] therefore tell their Loss by two temperatures, which never falls as they get
// hotter, so that Steady finds the one temperature of a power. Beneath them stand
// [Natural], [ForcedPlate], [Duct], [RadiationCoefficient], and the fins
// [StraightFin], [PinFin] and [AnnularFin], to be asked by themselves. On the way from
// a chip to its surface stand [Interface], [Plate], [Vias] and [Board].
//
// These laws are fits to readings in quiet laboratories, mostly within 10 to 25 %: what
// they tell apart by less is not apart. Which temperatures may be touched is another
// matter (ISO 13732-1) and not in here.
//
// # Barrels
//
// [HeatUp] tells how long a barrel takes to warm up, what holds it and how hot a stuck switch
// makes it; [Heater] compares a heater with that. [Lagged] gives the losses bare or in
// insulation, [Soak] and [RodSoak] how far heat lags inside wall and plastic. What goes on to the
// throat is [Sleeve], with the screw beside it [Throat]; [Barrel] cuts all of it into a
// [Network]. [HeatedMelt] warms a melt in a hot passage, [Sheared] by friction, [Melting] sums up the energy of a
// kilogram. [Platinum], [Thermocouple] and [SteinhartHart] turn readings into temperatures, [RampLag] and
// [Sheath] tell by how much those are late or low.
//
// No controller is a safeguard: a hot barrel needs a thermal cut-out with a sensor and a switch of
// its own. Mains heaters are connected by licensed people.
//
// # Range
//
// Air, and the limits of chips and motors, lie between 200 K (−73 °C) and 473.15 K (200 °C), where
// both resistance laws are near enough to straight. Steady may find a higher
// temperature; the state then says so in its field Beyond. Barrels, faces and what is around them may have up
// to 1200 K, the base of a sink 600 K, nodes of a network 50 to 3000 K.
package thermal
