package thermal_test

import (
	"fmt"

	"meltflight/material"
	"meltflight/thermal"
)

// How warm does the lid of an electronics box get that must lose 6 W, lying flat?
func ExampleFace() {
	lid := thermal.Face{Shape: thermal.PlateUp, Length: 0.15 * 0.1 / 0.5, Area: 0.15 * 0.1, Emissivity: 0.9}
	s, err := lid.Steady(6, material.Celsius(25))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f °C, %.1f W of it radiated\n", material.ToCelsius(s.Temperature), s.Radiation)
	// Output:
	// 54 °C, 2.7 W of it radiated
}

// A bought aluminium profile under a heat break: in still air, and with a small fan.
func ExampleSink() {
	s := thermal.Sink{Width: 0.04, Length: 0.04, Fins: 8, FinHeight: 0.02, FinThickness: 0.001, Conductivity: 200, Emissivity: 0.1}
	still, err := s.Steady(4, material.Celsius(30))
	if err != nil {
		fmt.Println(err)
		return
	}
	blown, err := s.Blow(1.5e-3, material.Celsius(50), material.Celsius(30)) // 1.5 l/s between the fins
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("still %.2g K/W, blown %.2g K/W\n", still.Resistance, 1/blown.Conductance)
	// Output:
	// still 11 K/W, blown 3 K/W
}
