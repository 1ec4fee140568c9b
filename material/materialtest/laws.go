package materialtest

import (
	"math"

	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// Shifts draws temperature laws of melts that are fluid from 430 K on; none is nil.
func Shifts() *rapid.Generator[material.Shift] {
	return rapid.OneOf(
		rapid.Custom(func(t *rapid.T) material.Shift {
			return material.Arrhenius{
				ActivationEnergy: draw.Uniform(20e3, 120e3).Draw(t, "activation energy"),
				Reference:        draw.Uniform(430, 560).Draw(t, "reference"),
			}
		}),
		rapid.Custom(func(t *rapid.T) material.Shift {
			glass := draw.Uniform(350, 400).Draw(t, "glass temperature")
			return material.WLF{C1: draw.Uniform(12, 18).Draw(t, "C1"), C2: draw.Uniform(45, 65).Draw(t, "C2"), Reference: glass}.
				Referred(draw.Uniform(450, 520).Draw(t, "reference"))
		}),
	)
}

// CarreauYasudas draws melts with a plateau, a bend of any sharpness and no plateau
// at high rates.
func CarreauYasudas() *rapid.Generator[material.CarreauYasuda] {
	return rapid.Custom(func(t *rapid.T) material.CarreauYasuda {
		return material.CarreauYasuda{
			Eta0:   draw.Log(200, 5e4).Draw(t, "eta0"),
			Lambda: draw.Log(1e-3, 5).Draw(t, "lambda"),
			N:      draw.Uniform(0.2, 0.8).Draw(t, "n"),
			Yasuda: draw.Uniform(0.5, 3).Draw(t, "yasuda"),
			Shift:  Shifts().Draw(t, "shift"),
		}
	})
}

// CrossExponentials draws melts with a plateau and an exponential temperature law.
func CrossExponentials() *rapid.Generator[material.CrossExponential] {
	return rapid.Custom(func(t *rapid.T) material.CrossExponential {
		tb := draw.Uniform(3e3, 20e3).Draw(t, "Tb")
		return material.CrossExponential{
			N:       draw.Uniform(0.2, 0.7).Draw(t, "n"),
			TauStar: draw.Log(5e3, 2e5).Draw(t, "tau star"),
			B:       draw.Log(200, 5e4).Draw(t, "plateau at 490 K") * math.Exp(-tb/490),
			Tb:      tb,
			Beta:    draw.Uniform(0, 3e-8).Draw(t, "beta"),
		}
	})
}

// Blends draws two melts mixed by any rule.
func Blends() *rapid.Generator[material.Blend] {
	laws := rapid.OneOf(
		rapid.Map(PowerLaws(), func(p material.PowerLaw) material.Viscosity { return p }),
		rapid.Map(CrossWLFs(), func(c material.CrossWLF) material.Viscosity { return c }),
		rapid.Map(CarreauYasudas(), func(c material.CarreauYasuda) material.Viscosity { return c }),
		rapid.Map(CrossExponentials(), func(c material.CrossExponential) material.Viscosity { return c }),
	)
	return rapid.Custom(func(t *rapid.T) material.Blend {
		return material.Blend{
			First: laws.Draw(t, "first"), Second: laws.Draw(t, "second"),
			Share: draw.Uniform(0, 1).Draw(t, "share"),
			Power: rapid.OneOf(draw.Uniform(-1, 1), rapid.SampledFrom([]float64{
				material.Logarithmic, material.KendallMonroe, material.ByMolarMass, material.Linear, material.Reciprocal})).Draw(t, "power"),
		}
	})
}
