// Package drive rates what stands between the motor's terminals and the screw's
// shank: stepper motor, planetary stage, tooth roots, shaft, bearing.
//
// A drive is read from the screw backwards. The screw asks a torque at a speed;
// the stage passes it to the motor, smaller by ratio and efficiency; the motor
// holds it or falls out of step:
//
//	load, err := stage.Load(8, 0.75)                  // N·m and rev/s at the screw
//	out, err := motor.PullOut(load.SunSpeed, 2.8, 36) // rev/s, A rms, V
//	safety := out.Utilisation(load.SunTorque).Safety()
//
// Everything that can give way reports a [material.Utilisation]: pull-out, tooth
// roots of sun, planet and ring, fatigue and yield of the shaft, rating and
// static load of the bearing. The least Safety is the part to mend first.
//
// # Where to begin
//
// Eight types carry a whole drive; every other one answers a question about one of them.
//
//	Stepper         does the motor hold the torque at its speed (PullOut), and at what lag (Operate)
//	Train           how fast it runs up and turns back
//	PlanetaryStage  torques, speeds and tooth forces (Load), then teeth and their hours (Rate)
//	GearPair        two gears alone: geometry (Mesh), rating (Rate), play (Backlash), size (SizeModule)
//	Shaft           fatigue and yield (Fatigue), with EnduranceLimit and the notches for its numbers
//	KeyJoint        what turns the hub
//	Bearing         life and static load, under what EquivalentLoad makes of thrust and radial load
//	Transmission    stage, shank, key and bearing in one call
//
// # Methods
//
//	Stepper         two-phase machine in rotor axes inside a current and a voltage
//	                circle; no saliency, saturation, iron loss or detent. Lag, stiffness,
//	                micro-steps, resonance and start as of a pendulum in its field
//	Train           Newton's law of rotor, gear and screw: run-up, turning back
//	PlanetaryStage  Willis' equation, ring held; losses in the meshes alone
//	GearPair        involute geometry of external and internal, spur and helical pairs
//	ToothBending    Lewis root stress with Barth's velocity factor
//	GearPair.Rate, PlanetaryStage.Rate
//	                ISO 6336 method B: 30° tangent at the root, Hertz at the flank
//	GearPair.RatePlastic
//	                VDI 2736: temperature, then strength at it
//	GearPair.ToothWear
//	                VDI 2736's mean, Archard's local depth
//	TorqueLine      Palmgren's and Miner's sum, equivalent torque
//	Shaft           distortion energy with Soderberg, Goodman, Gerber, elliptic lines, and
//	                the diameters they ask for
//	EnduranceLimit  Marin's factors for steel
//	Shoulder, Groove, Keyseat
//	                Peterson's stress concentration, Neuber's notch sensitivity
//	StressLife      line of finite life, Palmgren's and Miner's sum
//	StepShaft       bending of steps on any bearings, critical speeds with the bounds of
//	                Rayleigh and Dunkerley, torsional stiffness
//	Column          buckling under thrust by Euler and Johnson
//	KeyJoint, CrossPin, ClampHub, PressFit
//	                DIN 6885, shear and bearing, friction, Lamé's rings
//	Coupling        beams bent by offset and angle
//	Bearing         ISO 281 basic rating life with the reliability factor of 2007; ISO
//	                76 static rating; film and dirt by a_ISO in ModifiedLife
//	EquivalentLoad  radial and axial load by the factors of ISO 281 and ISO 76
//	BearingMean     duty of several loads and speeds by Palmgren and Miner
//	LifeSpread      three-parameter Weibull reliability
//	Transmission    all of them behind one screw; SizeModule, SizeShaft, SizeKey and
//	                SizeStage look through standard sizes for the smallest that holds
//
// # Cautions
//
// Phase currents are rms, as drivers are set; a data sheet that states peak current
// has to be divided by √2 first, or the torque comes out 40 % wrong. The supply is the
// amplitude a full bridge reaches at full modulation; take off the drop of its switches.
//
// Pull-out torque is where a motor that turns already loses step under a slowly
// rising load. Resonance, jerk and a screw that starts cold take their part of it: half
// of it is what designers use (common practice, no source).
//
// A screw only resists. A motor that it pulls out of step is not overrun: it stops and hums,
// pressure and flow fade, and at a speed above that of [Stepper.Start] it does not fall
// in again by itself.
//
// Lewis' formula knows neither the fillet's stress concentration nor the sharing of
// load between teeth; it ranks a drive and sizes a module, and GearPair.Rate then rates it
// by a gear standard. Form factors of the two go opposite ways: Lewis' is large where
// the tooth is strong, the standard's where it is weak.
//
// Safeties of flanks are of stress, and stress grows as the root of the load; those of roots,
// shafts and keys are of load.
//
// [Transmission] counts the torque of running and its ripple. A jam lays on the drive all that
// the motor holds, and the blow of its rotor besides, which nothing here computes.
//
// A bearing's figures are the user's, from any catalogue. How long its grease lasts is not
// rated at all; behind a hot barrel it may well be the shorter life.
//
// Shafts are rated by the criteria above and not by DIN 743: its size, surface and notch
// factors could not be compared with the standard or with a worked example of it.
//
// All quantities are in SI base units, rotational frequency in rev/s. An input no
// machine can have is refused with an error for which errors.Is(err,
// material.ErrInvalid) holds; one that a motor cannot follow is [ErrOutOfStep].
package drive
