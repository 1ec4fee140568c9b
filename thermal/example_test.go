package thermal_test

import (
	"errors"
	"fmt"

	"meltflight/material"
	"meltflight/thermal"
)

// A driver chip with a small sink glued on top, in a box at 45 °C.
func exampleDriver() (thermal.Bridge, thermal.Path) {
	b := thermal.Bridge{
		OnResistance: 0.25, TemperatureCoefficient: 0.005, Supply: 24,
		RiseTime: 100e-9, FallTime: 100e-9, ChopFrequency: 35e3,
		Quiescent: 8e-3, DiodeDrop: 0.8, DeadTime: 200e-9,
	}
	return b, thermal.Path{JunctionToCase: 6, CaseToSink: 3, SinkToAir: 20}
}

// How hot do chip, case and sink become at 1.2 A rms?
func ExampleBridge_Steady() {
	b, path := exampleDriver()
	s, err := b.Steady(1.2, material.Celsius(45), path)
	if err != nil {
		fmt.Println(err)
		return
	}
	_, housing, sink := path.Temperatures(s.Loss.Total, material.Celsius(45))
	fmt.Printf("%.4g W: junction %.4g °C, case %.4g °C, sink %.4g °C\n", s.Loss.Total,
		material.ToCelsius(s.Junction), material.ToCelsius(housing), material.ToCelsius(sink))
	fmt.Printf("conduction %.3g W, switching %.3g W, dead time %.3g W, quiescent %.3g W\n",
		s.Loss.Conduction, s.Loss.Switching, s.Loss.DeadTime, s.Loss.Quiescent)
	fmt.Printf("runs away at %.3g A\n", s.RunawayCurrent)
	// Output:
	// 2.505 W: junction 117.6 °C, case 102.6 °C, sink 95.09 °C
	// conduction 2.11 W, switching 0.182 W, dead time 0.0242 W, quiescent 0.192 W
	// runs away at 2.63 A
}

// Beyond runaway there is a current to compare with, but no temperature.
func ExampleRunawayError() {
	b, path := exampleDriver()
	_, err := b.Steady(2.8, material.Celsius(45), path)
	var runaway *thermal.RunawayError
	if errors.As(err, &runaway) {
		fmt.Printf("%s at %.3g A, steady only below %.3g A\n", runaway.Part, runaway.Current, runaway.Limit)
	}
	// Output: bridge at 2.8 A, steady only below 2.63 A
}

// Which part limits the current, and what sink would lift it to 1.5 A?
func ExampleLargestCurrent() {
	b, path := exampleDriver()
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}
	limits, err := thermal.LargestCurrent(b, path, material.Celsius(125), material.Celsius(45),
		w, material.Celsius(110), material.Celsius(35))
	if err != nil {
		fmt.Println(err)
		return
	}
	current, which := limits.Lowest()
	fmt.Printf("bridge %.3g A, winding %.3g A: the %s limits to %.3g A\n", limits.Bridge, limits.Winding, which, current)
	total, err := b.LargestResistance(1.5, material.Celsius(125), material.Celsius(45))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1.5 A wants a sink of %.3g K/W\n", total-path.JunctionToCase-path.CaseToSink)
	// Output:
	// bridge 1.25 A, winding 1.48 A: the bridge limits to 1.25 A
	// 1.5 A wants a sink of 11.9 K/W
}

// A thermal pad, a sink in still air and the board beneath as a second way out.
func ExampleParallel() {
	pad, _ := thermal.Layer(0.5e-3, 3, 81e-6) // 0.5 mm, 3 W/(m·K), 9 mm square
	sink, _ := thermal.Surface(8, 24e-4)      // fins of 24 cm² in still air
	board, err := thermal.Parallel(10+pad+sink, 45)
	fmt.Printf("pad %.3g K/W, sink %.3g K/W, with the board %.3g K/W, %v\n", pad, sink, board, err)
	// Output: pad 2.06 K/W, sink 52.1 K/W, with the board 26.4 K/W, <nil>
}

// A motor's rise from its resistance cold at 20 °C and hot in a room by then at 27 °C.
func ExampleRiseByResistance() {
	rise, err := thermal.RiseByResistance(1.60, 2.05, material.Celsius(20), material.Celsius(27))
	fmt.Printf("%.3g K, %v\n", rise, err)
	// Output: 64.6 K, <nil>
}

// How near is a winding of class 130 to its limit at 1.2 A rms?
func ExampleWinding_Utilisation() {
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}
	u, err := w.Utilisation(1.2, material.Celsius(110), material.Celsius(35))
	fmt.Printf("%s: %.3g of %.3g %s, safety %.3g, %v\n", u.Part, u.Demand, u.Capacity, u.Unit, u.Safety(), err)
	// Output: motor winding: 1.2 of 1.48 A, safety 1.23, <nil>
}
