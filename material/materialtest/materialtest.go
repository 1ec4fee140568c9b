// Package materialtest draws random valid materials for property tests, those of
// this module and of programs built on it, by the rapid library.
package materialtest

import (
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// PowerLaws draws shear-thinning power laws as plastics melts have them.
func PowerLaws() *rapid.Generator[material.PowerLaw] {
	return rapid.Custom(func(t *rapid.T) material.PowerLaw {
		return material.PowerLaw{
			Consistency:      draw.Log(100, 1e5).Draw(t, "consistency"),
			Index:            draw.Uniform(0.2, 1).Draw(t, "index"),
			Reference:        draw.Uniform(420, 560).Draw(t, "reference"),
			TemperatureSlope: draw.Uniform(0.002, 0.03).Draw(t, "temperature slope"),
		}
	})
}

// CrossWLFs draws melts with a Newtonian plateau and a WLF temperature law.
func CrossWLFs() *rapid.Generator[material.CrossWLF] {
	return rapid.Custom(func(t *rapid.T) material.CrossWLF {
		return material.CrossWLF{
			N:       draw.Uniform(0.2, 0.7).Draw(t, "n"),
			TauStar: draw.Log(5e3, 2e5).Draw(t, "tau star"),
			D1:      draw.Log(1e10, 1e14).Draw(t, "D1"),
			D2:      draw.Uniform(350, 420).Draw(t, "D2"),
			D3:      draw.Uniform(0, 5e-7).Draw(t, "D3"),
			A1:      draw.Uniform(22, 34).Draw(t, "A1"),
			A2:      draw.Uniform(45, 65).Draw(t, "A2"),
		}
	})
}

// Newtonians draws melts of constant viscosity.
func Newtonians() *rapid.Generator[material.Newtonian] {
	return rapid.Custom(func(t *rapid.T) material.Newtonian {
		return material.Newtonian{Eta: draw.Log(10, 1e5).Draw(t, "viscosity")}
	})
}

// Viscosities draws a melt of any law.
func Viscosities() *rapid.Generator[material.Viscosity] {
	return rapid.OneOf(
		rapid.Map(Newtonians(), func(n material.Newtonian) material.Viscosity { return n }),
		rapid.Map(PowerLaws(), func(p material.PowerLaw) material.Viscosity { return p }),
		rapid.Map(CrossWLFs(), func(c material.CrossWLF) material.Viscosity { return c }),
		rapid.Map(CarreauYasudas(), func(c material.CarreauYasuda) material.Viscosity { return c }),
		rapid.Map(CrossExponentials(), func(c material.CrossExponential) material.Viscosity { return c }),
		rapid.Map(Blends(), func(b material.Blend) material.Viscosity { return b }),
	)
}

// Polymers draws a known polymer with a random melt.
func Polymers() *rapid.Generator[material.Polymer] {
	return rapid.Custom(func(t *rapid.T) material.Polymer {
		p := rapid.SampledFrom(material.Polymers()).Draw(t, "polymer")
		p.Viscosity = Viscosities().Draw(t, "viscosity")
		return p
	})
}
