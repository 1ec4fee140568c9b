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

// leaning is a bulk of a friction coefficient and a stress ratio.
func leaning(density, mu, ratio float64) material.Bulk {
	return material.Bulk{BulkDensity: density, ParticleSize: 3e-3, WallFriction: math.Atan(mu), StressRatio: ratio}
}

func TestCheckJanssen(t *testing.T) {
	const source = "H. A. Janssen 1895, form from memory, " + evaluated
	var rows []verify.Row
	for _, v := range []struct{ density, diameter, mu, ratio, depth, down, wall, length float64 }{
		{350, 0.05, 0.30, 0.40, 0.1, 220.636845616, 88.2547382464, 0.1041666667},
		{350, 0.05, 0.30, 0.40, 0.5, 354.591699259, 141.836679704, 0.1041666667},
		{350, 0.05, 0.30, 0.40, 100, 357.534114583, 143.013645833, 0.1041666667},
		{560, 0.25, 0.35, 0.45, 0.3, 1156.00607351, 520.20273308, 0.3968253968},
		{560, 0.25, 0.35, 0.45, 1.0, 2003.91351055, 901.761079747, 0.3968253968},
	} {
		s, err := screw.Tube{Diameter: v.diameter}.StressAt(leaning(v.density, v.mu, v.ratio), v.depth)
		require.NoError(t, err)
		name := fmt.Sprintf(" %g m down %g m ", v.depth, v.diameter)
		rows = append(rows,
			verify.Row{Name: "stress down" + name + "[Pa]", Source: source, Kind: verify.Own, Want: v.down, Got: s.Down, Tol: 1e-10, Why: tenDigits},
			verify.Row{Name: "stress on the wall" + name + "[Pa]", Source: source, Kind: verify.Own, Want: v.wall, Got: s.Wall, Tol: 1e-10, Why: tenDigits},
			verify.Row{Name: "length" + name + "[m]", Source: source, Kind: verify.Own, Want: v.length, Got: s.Length, Tol: 1e-9, Why: "ten decimals of the independent value"})
	}
	verify.Table(t, rows)
}

func TestPropertyJanssen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := leaning(draw.Log(20, 1500).Draw(t, "density"), draw.Uniform(0.05, 1).Draw(t, "mu"), draw.Uniform(0.1, 1).Draw(t, "ratio"))
		u := screw.Tube{Diameter: draw.Log(0.01, 0.5).Draw(t, "diameter")}
		at := func(u screw.Tube, z float64) screw.BulkStress {
			s, err := u.StressAt(b, z)
			require.NoError(t, err)
			return s
		}
		length := at(u, 0).Length
		z := length * draw.Log(1e-3, 10).Draw(t, "depth")
		s, below := at(u, z), at(u, 1.01*z)
		weight := b.BulkDensity * 9.80665
		require.Zero(t, at(u, 0).Down)
		require.Greater(t, below.Down, s.Down)
		require.Less(t, s.Down, math.Min(weight*z, s.Deep))
		same(t, weight, at(u, 1e-9*length).Down/(1e-9*length), 1e-8, "slope at the top")
		// A layer's weight is what the stress grows by and the wall bears.
		dz := 1e-4 * length
		mid := at(u, z)
		grow := (at(u, z+dz).Down - at(u, z-dz).Down) / (2 * dz)
		same(t, weight, grow+4*math.Tan(b.WallFriction)*mid.Wall/u.Diameter, 1e-7, "weight of a layer")
		// Two tubes on one another are one.
		same(t, at(u, 3*z).Down, at(screw.Tube{Diameter: u.Diameter, Surcharge: s.Down}, 2*z).Down, 1e-12, "in two parts")
		deep := screw.Tube{Diameter: u.Diameter, Surcharge: s.Deep}
		same(t, s.Deep, at(deep, z).Down, 1e-12, "at the asymptote it stays")
	})
}

func TestBulkWithoutFriction(t *testing.T) {
	_, err := screw.Tube{Diameter: 0.05}.StressAt(grains(350, 4e-3), 0.1)
	require.ErrorIs(t, err, material.ErrNoData)
	smooth := leaning(350, 0.3, 0.4)
	smooth.WallFriction = 0
	_, err = screw.Tube{Diameter: 0.05}.StressAt(smooth, 0.1)
	require.ErrorIs(t, err, material.ErrNoData)
}
