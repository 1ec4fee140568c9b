package screw_test

import (
	"testing"

	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
)

// How many bare viscosities a whole marched operating point costs: screw with feed,
// taper and metering zone, cone and nozzle, from input to every result.
func BenchmarkMarchedPoint(b *testing.B) {
	p := screw.Profile{Bore: 0.02, Lead: 0.02, Land: 2e-3, Clearance: 8e-5, Starts: 1, Zones: []screw.Zone{
		{Length: 0.06, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: 478},
		{Length: 0.08, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: 488},
		{Length: 0.12, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: 488},
	}}
	d := screw.Die{screw.Cone{Inlet: 8e-3, Outlet: 1.5e-3, Length: 5.6e-3}, screw.Capillary{Diameter: 1.5e-3, Length: 1e-2}}
	for _, v := range []struct {
		name    string
		polymer material.Polymer
		heating screw.Heating
	}{
		{"PowerLawIsothermal", material.PP(), screw.Isothermal}, {"PowerLawAdiabatic", material.PP(), screw.Adiabatic}, {"PowerLawHeldBarrel", material.PP(), screw.HeldBarrel},
		{"CrossWLFIsothermal", material.ABS(), screw.Isothermal}, {"CrossWLFHeldBarrel", material.ABS(), screw.HeldBarrel},
	} {
		b.Run(v.name, func(b *testing.B) {
			m, err := screw.MeltOf(v.polymer, 488)
			if err != nil {
				b.Fatal(err)
			}
			sum := 0.0
			versus.Report(b, "x-1000-viscosities", func(i int) {
				c, err := p.OperatingPoint(d, m, screw.Running{Speed: 1.2 + 1e-4*float64(i&255), Heating: v.heating})
				if err != nil {
					b.Fatal(err)
				}
				sum += c.Flow
			}, func(i int) {
				for k := range 1000 {
					sum += m.Viscosity.At(10+float64(k+i&255), 488, 0)
				}
			})
			if sum == 0 {
				b.Fatal("nothing computed")
			}
		})
	}
}
