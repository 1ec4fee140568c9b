package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

func TestCheckClogging(t *testing.T) {
	const zuriguel = "I. Zuriguel et al., Phys. Rev. E 71 (2005) 051303, mean between clogs 9900/(4.94 − R)^6.9 of spheres, from memory"
	var rows []verify.Row
	for _, ratio := range []float64{2, 2.5, 3, 3.5, 4, 4.5} {
		c, err := screw.Outlet{Width: ratio * 4e-3}.Clogging(grains(535, 4e-3), 1)
		require.NoError(t, err)
		mean := 9900 / math.Pow(4.94-ratio, 6.9)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("log of particles to a clog, R = %g", ratio), Source: zuriguel, Kind: verify.Memory,
			Want: math.Log1p(mean), Got: -math.Log(c.PerParticle), Tol: math.Log(2.2) / math.Log1p(mean), Why: "the fit's stated factor of 2.2 of the mean"})
	}
	// Rice: the same one particle wider by the ratio of critical widths.
	b := grains(535, 4e-3)
	b.Shape = "flake"
	spheres, err := screw.Outlet{Width: 0.016}.Clogging(grains(535, 4e-3), 1)
	require.NoError(t, err)
	flake, err := screw.Outlet{Width: 0.016 * 6.15 / 4.94}.Clogging(b, 1)
	require.NoError(t, err)
	const inverse = "D = d·(−ln(1 − (1−P)^(1/N))/0.155)^(1/3), flake 6.15/4.94 of it, to 20 digits"
	pellets, err := screw.OutletAgainstClogging(grains(535, 4e-3), 1, 0.01)
	require.NoError(t, err)
	b.BulkDensity, b.ParticleSize = 350, 6e-3
	regrind, err := screw.OutletAgainstClogging(b, 1000, 1e-3)
	require.NoError(t, err)
	verify.Table(t, append(rows,
		verify.Row{Name: "outlet for a clog in 100 runs of 1 kg [m]", Source: inverse, Kind: verify.Own, Want: 0.01831635731109800, Got: pellets.Width, Tol: 1e-12, Why: "rounding"},
		verify.Row{Name: "outlet of flake, a clog in 1000 runs of 1 t [m]", Source: inverse, Kind: verify.Own, Want: 0.03971966909238746, Got: regrind.Width, Tol: 1e-12, Why: "rounding"},
		verify.Row{Name: "flake at 6.15/4.94 of the width", Source: "critical widths of rice and spheres, Zuriguel et al. 2005, from memory", Kind: verify.Memory,
			Want: spheres.PerParticle, Got: flake.PerParticle, Tol: 1e-12, Why: "the assumption itself, to rounding"},
		verify.Row{Name: "clogs within 1 kg at R = 4", Source: "1 − (1−q)^N, q = exp(−0.155·64), N = 1 kg/(535 kg/m³·(4 mm)³), to 20 digits", Kind: verify.Own,
			Want: 0.7622179741, Got: spheres.Probability, Tol: 1e-9, Why: tenDigits}))
}

func TestPropertyClogging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(material.Bulks()).Draw(t, "bulk")
		o := screw.Outlet{Width: math.Max(1e-4, draw.Uniform(0.3, 8).Draw(t, "ratio")*b.ParticleSize)}
		mass := draw.Log(1e-4, 1e3).Draw(t, "mass")
		c, err := o.Clogging(b, mass)
		require.NoError(t, err)
		wider, err := screw.Outlet{Width: o.Width * 1.05}.Clogging(b, mass)
		require.NoError(t, err)
		require.True(t, c.Probability >= 0 && c.Probability <= 1 && c.PerParticle > 0 && c.PerParticle < 1, "%v", c)
		require.Less(t, wider.PerParticle, c.PerParticle)
		require.True(t, wider.Probability < c.Probability || c.Probability > 1-1e-9, "%v, wider %v", c, wider)
		// The inverse of the inverse, where the chance is neither none nor certain.
		if c.Probability > 1e-12 && c.Probability < 1-1e-6 {
			back, err := screw.OutletAgainstClogging(b, mass, c.Probability)
			require.NoError(t, err)
			same(t, o.Width, back.Width, 1e-9, "inverse") // 1 − P has but ten digits near certainty
		}
		// What is not clogged by the one mass and not by the other is not by both.
		twice, err := o.Clogging(b, 2*mass)
		require.NoError(t, err)
		require.InDelta(t, (1-c.Probability)*(1-c.Probability), 1-twice.Probability, 1e-12)
		// One particle's mass clogs with one particle's chance.
		one, err := o.Clogging(b, math.Max(1e-6, b.Mass(math.Pow(b.ParticleSize, 3))))
		require.NoError(t, err)
		if b.Mass(math.Pow(b.ParticleSize, 3)) > 1e-6 {
			same(t, c.PerParticle, one.Probability, 1e-9, "one particle")
		}
	})
}

// In thousands of particles a fifth of the width saves a hundredfold.
func TestOutletAgainstCloggingSaves(t *testing.T) {
	b := grains(500, 4e-3)
	mass := b.Mass(1000 * math.Pow(b.ParticleSize, 3))
	rare, err := screw.OutletAgainstClogging(b, mass, 0.005)
	require.NoError(t, err)
	common, err := screw.OutletAgainstClogging(b, mass, 0.5)
	require.NoError(t, err)
	same(t, 1.2, rare.Width/common.Width, 0.02, "a fifth")
}
