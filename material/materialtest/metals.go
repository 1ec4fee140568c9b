package materialtest

import (
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// Metals draws a known metal.
func Metals() *rapid.Generator[material.Metal] { return rapid.SampledFrom(material.Metals()) }

// GearPlastics draws a known gear plastic.
func GearPlastics() *rapid.Generator[material.GearPlastic] {
	return rapid.SampledFrom(material.GearPlastics())
}

// Bulks draws a bulk solid of any shape, every field known.
func Bulks() *rapid.Generator[material.Bulk] {
	return rapid.Custom(func(t *rapid.T) material.Bulk {
		solid := draw.Uniform(850, 1500).Draw(t, "solid density")
		loose := solid * draw.Uniform(0.05, 0.65).Draw(t, "packing")
		internal := draw.Uniform(0.35, 0.85).Draw(t, "internal friction")
		least, err := material.ActiveRatio(internal)
		if err != nil {
			panic(err) // the range above is valid
		}
		return material.Bulk{
			Name:             "random bulk",
			Shape:            rapid.SampledFrom([]string{"pellets", "flake", "powder", "fluff"}).Draw(t, "shape"),
			BulkDensity:      loose,
			TappedDensity:    loose * draw.Uniform(1, 1.5).Draw(t, "tapping"),
			ParticleSize:     draw.Log(1e-4, 2e-2).Draw(t, "particle size"),
			SolidDensity:     solid,
			InternalFriction: internal,
			WallFriction:     internal * draw.Uniform(0.3, 1).Draw(t, "wall friction"),
			Repose:           internal + draw.Uniform(-0.1, 0.2).Draw(t, "repose"),
			StressRatio:      least + (1-least)*draw.Uniform(0, 1).Draw(t, "stress ratio"),
		}
	})
}
