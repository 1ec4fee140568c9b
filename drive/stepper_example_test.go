package drive_test

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"

	"meltflight/drive"
)

// Where the power goes while a motor turns a screw at half of its pull-out torque.
func ExampleStepper_Operate() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	for _, rpm := range []float64{225, 450} {
		o, err := motor.Operate(0.85, rpm/60, 2.8, 36, 2)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f rpm: %.3g W in = %.3g W shaft + %.3g W copper + %.3g W iron, %.3g A, %v\n",
			rpm, o.ElectricalPower, o.ShaftPower, o.CopperLoss, o.IronLoss, o.Current, o.Regime)
	}
	_, err := motor.Operate(0.85, 20, 2.8, 36, 2)
	fmt.Println(err)
	// Output:
	// 225 rpm: 39.3 W in = 20 W shaft + 17.2 W copper + 2 W iron, 2.8 A, current limited
	// 450 rpm: 46.9 W in = 40.1 W shaft + 4.83 W copper + 2 W iron, 1.48 A, voltage limited
	// motor falls out of step: drive.Stepper.Operate: 0.8659 N·m with the iron's share at 20 rev/s: 2.8 A on 36 V hold 0.7007 N·m
}

// How finely a motor follows micro-steps under friction and detent.
func ExampleStepper_Microstep() {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	step, err := motor.Microstep(16, 1.4)
	if err != nil {
		fmt.Println(err)
		return
	}
	under, err := motor.Hold(0.3, 1.4)
	if err != nil {
		fmt.Println(err)
		return
	}
	detent, err := motor.Detent(0.07, 1.4)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("a sixteenth is %.4g° and %.2g N·m\n", step.Angle*180/math.Pi, step.Torque)
	fmt.Printf("0.3 N·m turn it by %.2g steps of these, detent by ±%.2g\n", under.Lag/step.Angle, detent.Lag/step.Angle)
	fmt.Printf("it holds %.3g N·m, and %.3g N·m everywhere\n", under.Holding, detent.Torque)
	// Output:
	// a sixteenth is 0.1125° and 0.093 N·m
	// 0.3 N·m turn it by 3.3 steps of these, detent by ±0.75
	// it holds 0.95 N·m, and 0.88 N·m everywhere
}

// A screw is turned back by a quarter of a turn and again: how long does it take?
func ExampleTrain_TurnBack() {
	train := drive.Train{Rotor: 6.8e-5, Screw: 5e-5, Ratio: 5, Efficiency: 0.95, Backlash: 0.003}
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6 * unit.Milli, RotorTeeth: 50}
	const speed, torque = 1.0, 4.0 // of the screw
	out, err := motor.PullOut(speed*train.Ratio, 2.8, 36)
	if err != nil {
		fmt.Println(err)
		return
	}
	back, err := train.TurnBack(math.Pi/2, speed, out.Torque*0.6, torque)
	if err != nil {
		fmt.Println(err)
		return
	}
	start, err := motor.Start(train.Inertia(), torque/train.Ratio/train.Efficiency, 2.8, 36)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g s back, %.3g s back and again\n", back.Time, 2*back.Time)
	fmt.Printf("without a ramp the screw starts up to %.3g rev/s\n", start.Speed/train.Ratio)
	// Output:
	// 0.258 s back, 0.516 s back and again
	// without a ramp the screw starts up to 0.942 rev/s
}
