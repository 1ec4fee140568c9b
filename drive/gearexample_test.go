package drive_test

import (
	"fmt"

	"gonum.org/v1/gonum/unit"

	"meltflight/drive"
	"meltflight/material"
)

// A sun of 18 teeth of alloy steel, 300 HV, drives a planet with 0.5 N·m for a season.
// What gives way first, and what do a bore of 5 mm and a keyway of 1 mm do to the sun?
func ExampleGearPair_Rate() {
	g := drive.GearPair{
		Rack: drive.RackA(), Module: 0.6 * unit.Milli, Face: 12 * unit.Milli,
		Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: 27},
	}
	steel, err := material.GearSteelNamed("alloy QT MQ")
	if err != nil {
		fmt.Println(err)
		return
	}
	tooth := drive.ToothMaterial{Young: 206 * unit.Giga, Poisson: 0.3, Life: drive.QuenchedLife(), Cycles: 2e7}
	if tooth.RootLimit, err = steel.Root(300); err != nil {
		fmt.Println(err)
		return
	}
	if tooth.FlankLimit, err = steel.Contact(300); err != nil {
		fmt.Println(err)
		return
	}
	planet := tooth
	planet.Reversed = true
	for _, bore := range []float64{0, 5 * unit.Milli} {
		if bore > 0 {
			if tooth.Rim, err = g.BoredRim(bore, 1*unit.Milli); err != nil {
				fmt.Println(err)
				return
			}
		}
		r, err := g.Rate(0.5, [2]drive.ToothMaterial{tooth, planet}, drive.CommonGearFactors())
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, u := range r.Utilisations {
			fmt.Printf("%-18s %4.0f of %4.0f MPa, safety %.3g\n", u.Part, u.Demand/1e6, u.Capacity/1e6, u.Safety())
		}
	}
	// Output:
	// pinion tooth root    71 of  629 MPa, safety 8.81
	// wheel tooth root     67 of  440 MPa, safety 6.53
	// pinion flank        689 of  699 MPa, safety 1.01
	// wheel flank         651 of  699 MPa, safety 1.07
	// pinion tooth root   110 of  629 MPa, safety 5.69
	// wheel tooth root     67 of  440 MPa, safety 6.53
	// pinion flank        689 of  699 MPa, safety 1.01
	// wheel flank         651 of  699 MPa, safety 1.07
}
