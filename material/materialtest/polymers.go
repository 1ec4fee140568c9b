package materialtest

import (
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// Taits draws melts whose specific volume follows the Tait equation, near the
// published ones and good from 400 to 560 K.
func Taits() *rapid.Generator[material.Tait] {
	return rapid.Custom(func(t *rapid.T) material.Tait {
		return material.Tait{
			A0: draw.Uniform(0.75e-3, 1.25e-3).Draw(t, "A0"),
			A1: draw.Uniform(2e-7, 15e-7).Draw(t, "A1"),
			A2: draw.Uniform(-5e-10, 22e-10).Draw(t, "A2"),
			B0: draw.Uniform(1.4e8, 3.5e8).Draw(t, "B0"),
			B1: draw.Uniform(3.5e-3, 5e-3).Draw(t, "B1"),
		}
	})
}

// TwoDomainTaits draws plastics with a solid and a melt side, amorphous (the two
// meet) and semi-crystalline (the solid is denser).
func TwoDomainTaits() *rapid.Generator[material.TwoDomainTait] {
	return rapid.Custom(func(t *rapid.T) material.TwoDomainTait {
		c := material.TwoDomainTait{
			Melt: material.TaitBranch{
				B1: draw.Uniform(0.8e-3, 1.3e-3).Draw(t, "b1m"),
				B2: draw.Uniform(5e-7, 11e-7).Draw(t, "b2m"),
				B3: draw.Uniform(7e7, 2.2e8).Draw(t, "b3m"),
				B4: draw.Uniform(3e-3, 6e-3).Draw(t, "b4m"),
			},
			Solid: material.TaitBranch{
				B2: draw.Uniform(1e-7, 5e-7).Draw(t, "b2s"),
				B3: draw.Uniform(1.2e8, 3e8).Draw(t, "b3s"),
				B4: draw.Uniform(1e-3, 4e-3).Draw(t, "b4s"),
			},
			B5: draw.Uniform(370, 440).Draw(t, "b5"),
			B6: draw.Uniform(1e-7, 4e-7).Draw(t, "b6"),
		}
		c.Solid.B1 = c.Melt.B1
		if rapid.Bool().Draw(t, "semi-crystalline") {
			c.Solid.B1 *= draw.Uniform(0.88, 0.94).Draw(t, "b1s/b1m")
			c.B7 = (c.Melt.B1 - c.Solid.B1) * draw.Uniform(0.3, 0.9).Draw(t, "b7/jump")
			c.B8 = draw.Uniform(0.03, 0.15).Draw(t, "b8")
			// So that the crystals' last volume does not swell along the transition line.
			c.B9 = c.B8 * c.B6 * draw.Uniform(1, 1.3).Draw(t, "b9/(b8·b6)")
		}
		return c
	})
}

// PVTs draws a plastic of any law of specific volume.
func PVTs() *rapid.Generator[material.PVT] {
	return rapid.OneOf(
		rapid.Map(Taits(), func(c material.Tait) material.PVT { return c }),
		rapid.Map(TwoDomainTaits(), func(c material.TwoDomainTait) material.PVT { return c }),
	)
}

// UserPolymers draws a polymer as a user might fill it in: every number random, with
// or without crystals, laws and drying.
func UserPolymers() *rapid.Generator[material.Polymer] {
	return rapid.Custom(func(t *rapid.T) material.Polymer {
		p := material.Polymer{
			Name:                   rapid.StringMatching(`[A-Z]{1,4}[ <&"\\é]?[0-9]?`).Draw(t, "name"),
			Crystalline:            rapid.Bool().Draw(t, "crystalline"),
			Transition:             draw.Uniform(320, 540).Draw(t, "transition"),
			Softening:              draw.Uniform(300, 450).Draw(t, "softening"),
			SolidDensity:           draw.Uniform(850, 1500).Draw(t, "solid density"),
			SolidSpecificHeat:      draw.Uniform(900, 2500).Draw(t, "solid specific heat"),
			SolidSpecificHeatSlope: draw.Uniform(0, 6).Draw(t, "slope"),
			SolidConductivity:      draw.Uniform(0.1, 0.6).Draw(t, "solid conductivity"),
			MeltDensity:            draw.Uniform(700, 1300).Draw(t, "melt density"),
			MeltSpecificHeat:       draw.Uniform(1500, 3000).Draw(t, "melt specific heat"),
			MeltConductivity:       draw.Uniform(0.1, 0.4).Draw(t, "melt conductivity"),
		}
		p.ProcessLow = p.Transition + draw.Uniform(5, 90).Draw(t, "process low")
		p.ProcessHigh = p.ProcessLow + draw.Uniform(10, 90).Draw(t, "window")
		if p.Crystalline {
			p.MeltingLow = p.Transition - draw.Log(0.1, 60).Draw(t, "below peak")
			p.MeltingHigh = p.Transition + draw.Log(0.1, 30).Draw(t, "above peak")
			p.Crystallinity = draw.Uniform(0.01, 0.9).Draw(t, "crystallinity")
			p.CrystalFusionHeat = draw.Uniform(50e3, 330e3).Draw(t, "fusion heat")
		}
		if rapid.Bool().Draw(t, "takes up water") {
			p.Drying = material.Drying{Moisture: draw.Log(1e-5, 1e-2).Draw(t, "moisture"),
				Temperature: draw.Uniform(310, 450).Draw(t, "drying temperature"), Time: draw.Log(1e3, 1e5).Draw(t, "drying time")}
		}
		if rapid.Bool().Draw(t, "known viscosity") {
			p.Viscosity = Viscosities().Draw(t, "viscosity")
		}
		if rapid.Bool().Draw(t, "known volume") {
			p.PVT = PVTs().Draw(t, "PVT")
		}
		if rapid.Bool().Draw(t, "with sources") {
			p.Source = map[string]string{"Transition": "my own scales", "Viscosity": "four strands, < 5 % & \"clean\""}
		}
		return p
	})
}
