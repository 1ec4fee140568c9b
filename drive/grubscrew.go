package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// grubScrews: diameter [in], holding power [lbf] of a cup point.
var grubScrews = [...]struct{ diameter, holds float64 }{
	{0.060, 50}, {0.073, 65}, {0.086, 85}, {0.099, 120}, {0.112, 160}, {0.125, 200}, {0.138, 250},
	{0.164, 385}, {0.190, 540}, {0.250, 1000}, {0.3125, 1500}, {0.375, 2000}, {0.4375, 2500}, {0.5, 3000},
}

const poundForce = 4.4482216152605 // [N]

// GrubScrewHolds returns the force along the shaft or round its surface [N] at which one
// hardened grub screw with a cup point, seated by its full torque on a softer steel
// shaft, begins to slip, by its diameter, 1.6e-3 to 12.7e-3 [m]: R. G. Budynas and J. K.
// Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Table 7-4, tests on
// inch screws (values from memory), on a power law between its rows for metric ones.
// Torque is that times half the shaft's diameter. The same book asks a safety of 1.5 to 2
// at rest and 4 to 8 under shock (from memory); a shaft as hard as the screw holds less.
func GrubScrewHolds(diameter float64) (float64, error) {
	var f input.Faults
	f.Between("drive.GrubScrewHolds: diameter", diameter, 1.6e-3, 12.7e-3+1e-9, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return grubScrewHolds(diameter), nil
}

func grubScrewHolds(diameter float64) float64 {
	x, i := diameter/inch, 1
	for x > grubScrews[i].diameter && i < len(grubScrews)-1 {
		i++
	}
	a, b := grubScrews[i-1], grubScrews[i]
	slope := math.Log(b.holds/a.holds) / math.Log(b.diameter/a.diameter)
	return poundForce * a.holds * math.Pow(x/a.diameter, slope)
}

// GrubScrewUtilisation compares what torque, 0 to 1e8 [N·m], and axial force, 0 to 1e10 [N],
// together drag at a shaft, 1e-3 to 10 [m], with what one grub screw as in GrubScrewHolds
// holds. A second at a right angle does not double it. A grub screw works loose
// when the torque changes sign and then flies off or lets the shaft go: seat it on a flat, and lock it.
func GrubScrewUtilisation(diameter, shaft, torque, axial float64) (material.Utilisation, error) {
	var f input.Faults
	f.Between("drive.GrubScrewUtilisation: diameter", diameter, 1.6e-3, 12.7e-3+1e-9, "m")
	f.Between("drive.GrubScrewUtilisation: shaft", shaft, leastJoint, 10, "m")
	f.Between("drive.GrubScrewUtilisation: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.GrubScrewUtilisation: axial", axial, 0, 1e10, "N")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{
		Part: "grub screw", Demand: math.Hypot(2*torque/shaft, axial), Capacity: grubScrewHolds(diameter), Unit: "N",
		Method: "Shigley's Table 7-4, cup point, one screw",
	}, nil
}
