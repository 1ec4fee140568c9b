// Package screwtest draws random valid channels, dies and melts for property
// tests, those of this module and of programs built on it, by the rapid library.
package screwtest

import (
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/material/materialtest"
	"meltflight/screw"
)

// Channels draws metering zones of small machines, from shallow to deep and from
// tight to worn.
func Channels() *rapid.Generator[screw.Channel] {
	return rapid.Custom(func(t *rapid.T) screw.Channel {
		bore := draw.Log(8e-3, 60e-3).Draw(t, "bore")
		depth := bore * draw.Log(0.02, 0.2).Draw(t, "depth/bore")
		return screw.Channel{
			Bore:      bore,
			Lead:      bore * draw.Uniform(0.5, 1.5).Draw(t, "lead/bore"),
			Depth:     depth,
			Land:      bore * draw.Uniform(0.04, 0.12).Draw(t, "land/bore"),
			Clearance: depth * draw.Log(0.005, 0.3).Draw(t, "clearance/depth"),
			Starts:    rapid.IntRange(1, 2).Draw(t, "starts"),
			Length:    bore * draw.Uniform(3, 20).Draw(t, "length/bore"),
		}
	})
}

// Speeds draws rotational frequencies of such screws [rev/s].
func Speeds() *rapid.Generator[float64] { return draw.Log(0.05, 5) }

// Passages draws one passage of a small machine's die: of any kind but those made of others.
func Passages() *rapid.Generator[screw.Passage] {
	return rapid.Custom(func(t *rapid.T) screw.Passage {
		size, length := draw.Log(0.5e-3, 5e-3).Draw(t, "size"), draw.Log(1e-3, 50e-3).Draw(t, "length")
		ratio := draw.Uniform(1.2, 8).Draw(t, "ratio")
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0:
			return screw.Capillary{Diameter: size, Length: length}
		case 1:
			return screw.Cone{Inlet: ratio * size, Outlet: size, Length: length}
		case 2:
			return screw.Slit{Width: ratio * size, Height: size, Length: length}
		case 3:
			return screw.Wedge{Width: 10 * size, Inlet: ratio * size, Outlet: size, Length: length}
		case 4:
			return screw.Annulus{Outer: 2 * ratio * size, Inner: 2 * (ratio - 1) * size, Length: length}
		}
		return screw.Entrance{Diameter: size, Diameters: draw.Log(0.5, 5).Draw(t, "diameters")}
	})
}

// Dies draws a nozzle: passages in a row, of which one may be branches side by side.
func Dies() *rapid.Generator[screw.Die] {
	return rapid.Custom(func(t *rapid.T) screw.Die {
		d := screw.Die(rapid.SliceOfN(Passages(), 1, 2).Draw(t, "chain"))
		if rapid.IntRange(0, 7).Draw(t, "branched") == 7 {
			d = append(d, screw.Parallel{Passages().Draw(t, "branch"), screw.Die{Passages().Draw(t, "other branch")}})
		}
		return d
	})
}

// Melts draws a melt of any viscosity law.
func Melts() *rapid.Generator[screw.Melt] {
	return rapid.Custom(func(t *rapid.T) screw.Melt { return melt(t, materialtest.Viscosities().Draw(t, "viscosity")) })
}

// NewtonianMelts draws a melt of constant viscosity.
func NewtonianMelts() *rapid.Generator[screw.Melt] {
	return rapid.Custom(func(t *rapid.T) screw.Melt { return melt(t, materialtest.Newtonians().Draw(t, "viscosity")) })
}

func melt(t *rapid.T, v material.Viscosity) screw.Melt {
	return screw.Melt{
		Viscosity:    v,
		Density:      draw.Uniform(650, 1400).Draw(t, "density"),
		SpecificHeat: draw.Uniform(1500, 3000).Draw(t, "specific heat"),
		Temperature:  draw.Uniform(440, 560).Draw(t, "temperature"),
		Conductivity: draw.Uniform(0.1, 0.4).Draw(t, "conductivity"),
	}
}

// Profiles draws screws of one to three zones, the depth falling towards the tip, of
// barrels held about melt temperature.
func Profiles() *rapid.Generator[screw.Profile] {
	return rapid.Custom(func(t *rapid.T) screw.Profile {
		c := Channels().Draw(t, "metering")
		p := c.Profile()
		p.Zones[0].Barrel = draw.Uniform(440, 560).Draw(t, "barrel")
		if rapid.Bool().Draw(t, "taper") {
			depth := min(c.Depth*draw.Uniform(1.1, 4).Draw(t, "compression"), 0.3*c.Bore)
			taper := screw.Zone{Length: c.Bore * draw.Uniform(2, 10).Draw(t, "taper/bore"), DepthIn: max(depth, c.Depth), DepthOut: c.Depth,
				Barrel: draw.Uniform(440, 560).Draw(t, "barrel")}
			p.Zones = append([]screw.Zone{taper}, p.Zones...)
			if rapid.Bool().Draw(t, "feed") {
				feed := screw.Zone{Length: c.Bore * draw.Uniform(1, 8).Draw(t, "feed/bore"), DepthIn: taper.DepthIn, DepthOut: taper.DepthIn, Barrel: taper.Barrel}
				p.Zones = append([]screw.Zone{feed}, p.Zones...)
			}
		}
		return p
	})
}
