package drive_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"meltflight/drive"
)

// A stepped shaft with a pulley beyond its right bearing: how far it bends, where it is
// most strained, and at which speed it would whirl.
func ExampleStepShaft() {
	shaft := drive.StepShaft{
		Modulus: 205 * unit.Giga, Density: 7850,
		Segments: []drive.Segment{
			{Length: 20 * unit.Milli, Diameter: 12 * unit.Milli},
			{Length: 60 * unit.Milli, Diameter: 20 * unit.Milli},
			{Length: 40 * unit.Milli, Diameter: 15 * unit.Milli},
			{Length: 30 * unit.Milli, Diameter: 12 * unit.Milli},
		},
		Bearings: []drive.ShaftBearing{{Position: 0}, {Position: 120 * unit.Milli}},
		Loads:    []drive.PointLoad{{Position: 50 * unit.Milli, Force: -300}, {Position: 150 * unit.Milli, Force: -100}},
		Disks:    []drive.Disk{{Position: 150 * unit.Milli, Mass: 0.4}},
	}
	bent, err := shaft.Bend()
	if err != nil {
		fmt.Println(err)
		return
	}
	end, err := bent.At(150 * unit.Milli)
	if err != nil {
		fmt.Println(err)
		return
	}
	seat, err := bent.At(120 * unit.Milli)
	if err != nil {
		fmt.Println(err)
		return
	}
	whirl, err := shaft.Whirl()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("bearings carry %.4g N and %.4g N\n", bent.Reactions[0], bent.Reactions[1])
	fmt.Printf("pulley moves %.3g µm, %.3g MPa at its bearing\n", end.Deflection*1e6, seat.Stress/1e6)
	fmt.Printf("critical at %.3g rev/s, between %.3g and %.3g\n", whirl.First, whirl.Dunkerley, whirl.Rayleigh)
	// Output:
	// bearings carry 150 N and 250 N
	// pulley moves -1.78 µm, 17.7 MPa at its bearing
	// critical at 773 rev/s, between 750 and 778
}
