// Command firstlook asks one question of the library: what comes out of the nozzle?
package main

import (
	"fmt"
	"log"
	"math"

	"meltflight/material"
	"meltflight/screw"
)

func main() {
	melt, errMelt := screw.MeltOf(material.PP(), material.Celsius(215))
	entry, errEntry := screw.ConeOf(8e-3, 1.5e-3, math.Pi/3)
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Length: 120e-3}
	die := screw.Die{entry, screw.Capillary{Diameter: 1.5e-3, Length: 10e-3}}
	p, err := screw.OperatingPoint(channel, die, melt, 72.0/60)
	if errMelt != nil || errEntry != nil || err != nil {
		log.Fatal(errMelt, errEntry, err)
	}
	fmt.Printf("%.2f kg/h at %.0f bar, %.1f N·m\n", p.MassFlow*3600, p.Pressure/1e5, p.Torque)
}
