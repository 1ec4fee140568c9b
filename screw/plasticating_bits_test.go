package screw_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// plasticating draws a whole screw of any shape that zones can give it: tapered or not, stepped,
// deepening, of one zone or of four, from tiny to large.
func plasticating(t *rapid.T) screw.Plasticating {
	bore := draw.Log(4e-3, 0.2).Draw(t, "bore")
	p := screw.Profile{Bore: bore, Lead: bore * draw.Uniform(0.5, 1.5).Draw(t, "lead"), Land: 0.07 * bore,
		Clearance: bore * draw.Log(5e-4, 1e-2).Draw(t, "clearance"), Starts: rapid.IntRange(1, 2).Draw(t, "starts")}
	melting := draw.Uniform(360, 450).Draw(t, "melting")
	depth := bore * draw.Uniform(0.05, 0.2).Draw(t, "depth")
	for i := range rapid.IntRange(1, 4).Draw(t, "zones") {
		z := screw.Zone{Length: bore * draw.Log(0.3, 8).Draw(t, "length"), DepthIn: depth, DepthOut: depth, Barrel: melting + draw.Log(1, 150).Draw(t, "hotter")}
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0, 1:
			z.DepthOut *= draw.Uniform(0.3, 1).Draw(t, "taper")
		case 2:
			z.DepthOut *= draw.Uniform(1, 1.5).Draw(t, "deeper")
		case 3:
			z.DepthIn *= draw.Uniform(0.6, 1.4).Draw(t, "step")
			z.DepthOut = z.DepthIn
		}
		if i == 0 && rapid.Bool().Draw(t, "cooled") {
			z.Barrel = 320
		}
		z.DepthIn, z.DepthOut = math.Max(0.02*bore, z.DepthIn), math.Max(0.02*bore, math.Min(z.DepthOut, 0.3*bore))
		depth = z.DepthOut
		p.Zones = append(p.Zones, z)
	}
	p.Zones[len(p.Zones)-1].Barrel = melting + 40
	melt := screwtest.Melts().Draw(t, "melt")
	return screw.Plasticating{Profile: p, Die: screwtest.Dies().Draw(t, "die"), Melt: melt,
		Solids: screw.Solids{Density: 400, BarrelFriction: draw.Uniform(0.2, 0.6).Draw(t, "barrel friction"), ScrewFriction: draw.Uniform(0, 0.4).Draw(t, "screw friction")},
		Bed: screw.Bed{Density: draw.Uniform(300, 1000).Draw(t, "packed"), Temperature: 310, Melting: melting, SpecificHeat: 2000,
			FusionHeat: draw.Uniform(0, 2e5).Draw(t, "fusion"), Conductivity: 0.15},
		Throat: draw.Log(1e-6, 1).Draw(t, "throat"), MoltenBy: draw.Uniform(0.1, 1).Draw(t, "molten by")}
}

// Beds and whole screws too.
func TestPropertyPlasticatingAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plasticating(t)
		if _, ok := p.Melt.Viscosity.(material.Blend); ok {
			t.Skip("takes long where it warms")
		}
		r := screw.Running{Speed: screwtest.Speeds().Draw(t, "speed"), Heating: screw.Heating(rapid.IntRange(-1, 3).Draw(t, "heating"))}
		if rapid.Bool().Draw(t, "pushed") {
			r.StartPressure = draw.Log(1e3, 1e8).Draw(t, "start pressure")
		}
		flow, place := draw.Log(1e-12, 1).Draw(t, "flow"), p.Profile.Length()*draw.Uniform(0, 1).Draw(t, "place")
		bits, z := draw.Bits(), &p.Profile.Zones[0]
		fields := []*float64{&p.Profile.Bore, &p.Profile.Lead, &p.Profile.Land, &p.Profile.Clearance, &z.Length, &z.DepthIn, &z.DepthOut, &z.Barrel,
			&p.Melt.Density, &p.Melt.SpecificHeat, &p.Melt.Temperature, &p.Melt.Conductivity, &r.Speed, &r.StartPressure, &p.Throat, &p.Feeder, &p.MoltenBy,
			&p.Bed.Density, &p.Bed.Temperature, &p.Bed.Melting, &p.Bed.SpecificHeat, &p.Bed.FusionHeat, &p.Bed.Conductivity,
			&p.Solids.Density, &p.Solids.BarrelFriction, &p.Solids.ScrewFriction, &flow, &place}
		for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = bits.Draw(t, "bits")
		}
		if m, err := p.Profile.MeltBed(p.Bed, p.Melt, r.Speed, flow); err == nil {
			finite(t, reflect.ValueOf(m))
			require.True(t, m.Left >= 0 && m.Left <= 1 && m.Molten >= 0 && m.Molten <= 1 && m.Work >= 0, "%+v", m)
			if solid := m.Solid(place); place == place {
				require.True(t, solid >= 0 && solid <= 1, "%g", solid)
			}
		}
		if most, err := p.Profile.MeltCapacity(p.Bed, p.Melt, r.Speed, place); err == nil {
			require.True(t, most > 0 && most <= 1e4, "%g", most)
		}
		if rapid.IntRange(0, 2).Draw(t, "whole") > 0 {
			return // takes longest
		}
		if s, err := p.Run(r); err == nil {
			finite(t, reflect.ValueOf(s))
			require.True(t, s.Output > 0 && s.Sound >= 0 && s.Pump >= s.Metering*(1-1e-9) && s.ClosedPressure >= 0, "%+v", s)
			same(t, s.Output, s.Course.MassFlow, 1e-6, "mass in and out")
		}
	})
}
