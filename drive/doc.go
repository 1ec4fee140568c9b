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
// # Methods
//
//	Stepper         two-phase machine in rotor axes inside a current and a voltage
//	                circle; no saliency, saturation, iron loss or detent
//	PlanetaryStage  Willis' equation, ring held; losses in the meshes alone
//	ToothBending    Lewis root stress with Barth's velocity factor
//	GearPair.Rate   ISO 6336 method B: 30° tangent at the root, Hertz at the flank
//	GearPair.RatePlastic  VDI 2736: temperature, then strength at it
//	GearPair.ToothWear    VDI 2736's mean, Archard's local depth
//	TorqueLine      Palmgren's and Miner's sum, equivalent torque
//	Shaft           distortion energy with Soderberg, Goodman, Gerber, elliptic lines
//	EnduranceLimit  Marin's factors for steel
//	Shoulder        Peterson's stress concentration, Neuber's notch sensitivity
//	Bearing         ISO 281 basic rating life with the reliability factor of 2007
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
// Lewis' formula knows neither the fillet's stress concentration nor the sharing of
// load between teeth; it ranks a drive and sizes a module, and GearPair.Rate then rates it
// by a gear standard. Form factors of the two go opposite ways: Lewis' is large where
// the tooth is strong, the standard's where it is weak.
//
// All quantities are in SI base units, rotational frequency in rev/s. An input no
// machine can have is refused with an error for which errors.Is(err,
// material.ErrInvalid) holds; one that a motor cannot follow is [ErrOutOfStep].
package drive
