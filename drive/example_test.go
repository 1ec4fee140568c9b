package drive_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"meltflight/drive"
	"meltflight/material"
)

// A screw asks 6 N·m at 45 rpm and pushes back with 20 MPa on a 20 mm bore. Which
// part of its drive gives way first?
func Example() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	stage := drive.PlanetaryStage{
		Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6 * unit.Milli, Face: 10 * unit.Milli,
		MeshEfficiency: 0.97, LoadShare: 1.1,
	}
	shaft := drive.Shaft{Diameter: 12 * unit.Milli, BendingNotch: 1.7, TorsionNotch: 1.5, Yield: 490 * unit.Mega, Ultimate: 700 * unit.Mega, Endurance: 215 * unit.Mega}
	bearing := drive.Bearing{Dynamic: 26.7 * unit.Kilo, Static: 47 * unit.Kilo, Exponent: drive.Ball}

	const torque, speed, thrust = 6, 0.75, 6283
	load, err := stage.Load(torque, speed)
	if err != nil {
		fmt.Println(err)
		return
	}
	out, err := motor.PullOut(load.SunSpeed, 2.8, 36)
	if err != nil {
		fmt.Println(err)
		return
	}
	roots, err := stage.Bending(load, 250*unit.Mega)
	if err != nil {
		fmt.Println(err)
		return
	}
	fatigue, err := shaft.Fatigue(drive.ShaftLoad{BendingAlternating: 2, TorqueMean: torque, AxialMean: thrust})
	if err != nil {
		fmt.Println(err)
		return
	}
	rating, err := bearing.Utilisations(thrust, speed, 0.95, 5000*3600)
	if err != nil {
		fmt.Println(err)
		return
	}
	parts := append([]material.Utilisation{out.Utilisation(load.SunTorque)}, roots[:]...)
	ends := fatigue.Utilisations(shaft)
	parts = append(append(parts, ends[:]...), rating[:]...)
	for _, u := range parts {
		fmt.Printf("%-20s %.3g\n", u.Part, u.Safety())
	}
	// Output:
	// motor pull-out       1.55
	// sun tooth root       5.46
	// planet tooth root    4.33
	// ring tooth root      8.57
	// shaft fatigue        4.11
	// shaft yield          3.97
	// bearing life         1.54
	// bearing static load  7.48
}

// How the torque falls as the motor turns faster, and why.
func ExampleStepper_PullOut() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	for _, rpm := range []float64{225, 450, 900} {
		p, err := motor.PullOut(rpm/60, 2.8, 36)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%3.0f rpm: %.3f N·m, %.3f A, %.1f W of copper loss, %v\n", rpm, p.Torque, p.Current, p.CopperLoss, p.Regime)
	}
	// Output:
	// 225 rpm: 1.900 N·m, 2.800 A, 17.2 W of copper loss, current limited
	// 450 rpm: 1.773 N·m, 2.800 A, 17.2 W of copper loss, current and voltage limited
	// 900 rpm: 0.933 N·m, 2.327 A, 11.9 W of copper loss, voltage limited
}

// A warm winding on a sagging supply: up to which speed is the torque whole?
func ExampleStepper_Corners() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	warm, err := motor.Warm(material.Celsius(90))
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, m := range []drive.Stepper{motor, warm} {
		full, bound, err := m.Corners(2.8, 24)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.3f Ω: full torque to %.0f rpm, current limit to %.0f rpm\n", m.Resistance, full*60, bound*60)
	}
	// Output:
	// 1.100 Ω: full torque to 237 rpm, current limit to 370 rpm
	// 1.403 Ω: full torque to 227 rpm, current limit to 348 rpm
}

// The current to set for the torque wanted, at twice the torque wanted as pull-out.
func ExampleStepper_CurrentFor() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	amperes, err := motor.CurrentFor(2*0.82, 3.75, 36)
	fmt.Printf("%.3f A %v\n", amperes, err)
	_, err = motor.CurrentFor(2*0.82, 15, 36)
	fmt.Println(err)
	// Output:
	// 2.417 A <nil>
	// motor falls out of step: drive.Stepper.CurrentFor: 1.64 N·m at 15 rev/s: 36 V allow at most 0.9335 N·m
}

// What the stage hands to the motor, and what its parts see.
func ExamplePlanetaryStage_Load() {
	stage := drive.PlanetaryStage{
		Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6 * unit.Milli, Face: 10 * unit.Milli,
		MeshEfficiency: 0.97, LoadShare: 1.1,
	}
	l, err := stage.Load(8, 0.75)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("ratio %g, efficiency %.3f\n", stage.Ratio(), stage.Efficiency())
	fmt.Printf("sun %.4g N·m at %.4g rev/s, housing holds %.4g N·m\n", l.SunTorque, l.SunSpeed, l.RingTorque)
	fmt.Printf("tooth %.4g N, planet pin %.4g N at %.3g rev/s\n", l.ToothForce, l.PinForce, -l.PlanetSpeed)

	stage.Planets = 4
	_, err = stage.Load(8, 0.75)
	fmt.Println(err)
	// Output:
	// ratio 5, efficiency 0.976
	// sun 1.639 N·m at 3.75 rev/s, housing holds 6.361 N·m
	// tooth 111.3 N, planet pin 217.3 N at 2 rev/s
	// drive.PlanetaryStage.Planets = 4: allowed a divisor of the sun's 18 + the ring's 72 = 90, for planets to mesh at even spacing
}

// The force that a pinion of 16 teeth bears at 70 MPa and 1200 rpm.
func ExampleToothBending() {
	y, err := drive.LewisFormFactor(16)
	if err != nil {
		fmt.Println(err)
		return
	}
	tooth := drive.ToothBending{Force: 1000, PitchSpeed: 3.016, Module: 3 * unit.Milli, Face: 38 * unit.Milli, FormFactor: y}
	u, err := tooth.Utilisation("pinion", 70*unit.Mega)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g MPa at 1 kN, so %.0f N at 70 MPa\n", u.Demand/1e6, 1000*u.Safety())
	// Output: 44.3 MPa at 1 kN, so 1580 N at 70 MPa
}

// A shank of quenched and tempered steel with a shoulder, from drawing to safety.
func ExampleShaft_Fatigue() {
	steel, err := material.C45E().StrengthAt(16 * unit.Milli)
	if err != nil {
		fmt.Println(err)
		return
	}
	shoulder := drive.Shoulder{Large: 16 * unit.Milli, Small: 12 * unit.Milli, Radius: 0.8 * unit.Milli}
	kf, kfs, err := shoulder.Fatigue(steel.Ultimate)
	if err != nil {
		fmt.Println(err)
		return
	}
	endurance, err := drive.EnduranceLimit(steel.Ultimate, shoulder.Small, drive.Machined, 0.99)
	if err != nil {
		fmt.Println(err)
		return
	}
	shaft := drive.Shaft{
		Diameter: shoulder.Small, BendingNotch: kf, TorsionNotch: kfs,
		Yield: steel.Yield, Ultimate: steel.Ultimate, Endurance: endurance,
	}
	f, err := shaft.Fatigue(drive.ShaftLoad{BendingAlternating: 2, TorqueMean: 8, AxialMean: 6283})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("K_f %.3g, K_fs %.3g, endurance limit %.4g MPa\n", kf, kfs, endurance/1e6)
	fmt.Printf("safety: fatigue %.3g (Goodman), yield %.3g\n", f.Goodman, f.Yield)
	// Output:
	// K_f 1.67, K_fs 1.41, endurance limit 215.7 MPa
	// safety: fatigue 4.04 (Goodman), yield 3.87
}

// How long a thrust bearing lasts behind the screw, and which rating 10 000 h need.
func ExampleBearing_Life() {
	bearing := drive.Bearing{Dynamic: 27 * unit.Kilo, Static: 47 * unit.Kilo, Exponent: drive.Ball}
	l, err := bearing.Life(6283, 0.75, 0.9)
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := drive.RequiredRating(6283, 0.75, 0.99, 10000*3600, drive.Ball)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.4g h in nine of ten, static safety %.3g\n", l.Seconds/3600, l.StaticSafety)
	fmt.Printf("C for 10 000 h in 99 of 100: %.4g kN\n", c/1e3)
	// Output:
	// 2.939e+04 h in nine of ten, static safety 7.48
	// C for 10 000 h in 99 of 100: 29.99 kN
}
