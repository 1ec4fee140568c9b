package screw_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/screw"
)

func TestCheckStirrer(t *testing.T) {
	torque, err := screw.Stirrer{Rods: 2, Diameter: 5e-3, Depth: 0.1, Radius: 0.03}.Torque(grains(350, 4e-3))
	require.NoError(t, err)
	const rod = "η·ρ·g·d·H² with η = 2.5 from memory, "
	verify.Table(t, []verify.Row{{Name: "one rod's drag [N]", Source: "R. Albert et al. 1999, " + rod + evaluated, Kind: verify.Own, Want: 0.4290409375, Got: torque / (2 * 0.03), Tol: 1e-9, Why: tenDigits}, {Name: "two rods [N·m]", Source: "R. Albert et al. 1999, η = 2.5 from memory, " + evaluated, Kind: verify.Own, Want: 0.02574245625, Got: torque, Tol: 1e-9, Why: tenDigits}})
}

func TestPropertyStirrer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := screw.Stirrer{Rods: rapid.IntRange(1, 20).Draw(t, "rods"), Diameter: draw.Log(1e-3, 0.02).Draw(t, "diameter"),
			Depth: draw.Log(0.01, 1).Draw(t, "depth"), Radius: draw.Log(0.01, 1).Draw(t, "radius")}
		density := draw.Log(50, 1000).Draw(t, "density")
		torque := func(s screw.Stirrer, density float64) float64 { return must(t)(s.Torque(grains(density, 4e-3))) }
		once := torque(s, density)
		same(t, 2*once, torque(s, 2*density), 1e-14, "density")
		for _, v := range []struct {
			times   float64
			changed screw.Stirrer
		}{
			{2, screw.Stirrer{Rods: 2 * s.Rods, Diameter: s.Diameter, Depth: s.Depth, Radius: s.Radius}},
			{2, screw.Stirrer{Rods: s.Rods, Diameter: 2 * s.Diameter, Depth: s.Depth, Radius: s.Radius}},
			{4, screw.Stirrer{Rods: s.Rods, Diameter: s.Diameter, Depth: 2 * s.Depth, Radius: s.Radius}},
			{2, screw.Stirrer{Rods: s.Rods, Diameter: s.Diameter, Depth: s.Depth, Radius: 2 * s.Radius}},
		} {
			same(t, v.times*once, torque(v.changed, density), 1e-14, "in proportion")
		}
	})
}
