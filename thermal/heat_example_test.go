package thermal_test

import (
	"fmt"

	"meltflight/material"
	"meltflight/thermal"
)

// How long may a motor hold 2.5 A, and what may it have for 5 of every 15 minutes?
func ExampleMotor_DutyCurrent() {
	m := thermal.Motor{Winding: thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}, Capacity: 140}
	room, limit := material.Celsius(25), material.Celsius(110)
	steady, _ := m.Winding.LargestCurrent(limit, room)
	time, _ := m.TimeUntil(limit, 2.5, room, room)
	duty, err := m.DutyCurrent(thermal.Duty{On: 300, Off: 600}, limit, room)
	fmt.Printf("for good %.3g A; 2.5 A for %.3g s; 5 of 15 min %.3g A, %v\n", steady, time, duty, err)
	// Output: for good 1.58 A; 2.5 A for 686 s; 5 of 15 min 2.52 A, <nil>
}

// What does a fan that drives 0.1 l/s, 1.2 m/s, through the fins buy a chip, and how short may its sink then be?
func ExampleOnSink_Fan() {
	o := gluedOn()
	air, limit := material.Celsius(40), material.Celsius(125)
	g, _ := o.Fan(0.1e-3, limit, air)
	short, err := o.ShortestSink(g.Still, 0.1e-3, limit, air)
	fmt.Printf("still %.3g A, blown %.3g A; the fan makes do with %.2g mm, %v\n", g.Still, g.Blown, short.Length*1e3, err)
	// Output: still 1.25 A, blown 1.46 A; the fan makes do with 1.2 mm, <nil>
}

// The line through 25 °C tells that a chip is safe; its bend that it is not.
func ExampleExponentialBridge() {
	b, path := exampleDriver()
	line, _ := b.RunawayCurrent(path)
	bent, err := thermal.ExponentialBridge(b).RunawayCurrent(material.Celsius(45), path)
	fmt.Printf("line %.3g A, bent %.3g A, %v\n", line, bent, err)
	// Output: line 2.63 A, bent 1.47 A, <nil>
}

// How much of a chip's heat takes the board?
func ExampleWays() {
	w := thermal.Ways{
		Top:   thermal.Path{JunctionToCase: 25, CaseToSink: 8, SinkToAir: 45},
		Board: thermal.Path{JunctionToCase: 3, CaseToSink: 5, SinkToAir: 30},
	}
	s, err := w.At(2, material.Celsius(40))
	fmt.Printf("%.3g of 2 W by the board; junction %.4g °C, sink %.3g °C, Ψ(JT) %.3g K/W, %v\n",
		s.BoardHeat, material.ToCelsius(s.Junction), material.ToCelsius(s.Sink), s.PsiTop, err)
	// Output: 1.34 of 2 W by the board; junction 91.1 °C, sink 69.5 °C, Ψ(JT) 8.19 K/W, <nil>
}
