package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

func TestCheckSolids(t *testing.T) {
	const source = "W. H. Darnell and E. A. J. Mol (1956) in the form of Z. Tadmor and I. Klein (1970), evaluated independently, and both balances of the plug solved directly"
	const why = "digits of the independent value"
	c := screw.Channel{Bore: 0.0635, Lead: 0.0635, Depth: 9.5e-3, Land: 6.4e-3, Clearance: 1e-5, Starts: 1, Length: 0.254}
	s := screw.Solids{Density: 550, BarrelFriction: 0.4, ScrewFriction: 0.2}
	var rows []verify.Row
	for _, v := range [][3]float64{{1, 38.857037, 129.6149}, {10, 35.339831, 124.80107}, {100, 31.709672, 119.341}} {
		f, err := c.ConveySolids(s, 1, v[0])
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: "angle of the plug [rad]", Source: source, Kind: verify.Own, Want: v[1] * math.Pi / 180, Got: f.Angle, Tol: 2e-8, Why: why},
			verify.Row{Name: "solids [kg/h]", Source: source, Kind: verify.Own, Want: v[2], Got: f.MassFlow * 3600, Tol: 5e-7, Why: why})
	}
	// At φ = 15° pressure would rise a millionfold.
	tan, helix := math.Tan(15*math.Pi/180), math.Tan(c.HelixAngle())
	free, err := c.ConveySolids(s, 1, 1)
	require.NoError(t, err)
	at := math.Tan(free.Angle)
	rise, err := c.SolidsRise(s, 1, free.MassFlow*tan/(tan+helix)*(at+helix)/at)
	require.NoError(t, err)
	// Where nothing rubs on a shallow screw, the plug goes square to the flight.
	slick := c
	slick.Depth, slick.Clearance = 1e-5, 1e-6
	limit, err := slick.ConveySolids(screw.Solids{Density: 550, BarrelFriction: 0.4}, 1, 1)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "rise at an angle of 15° [-]", Source: source, Kind: verify.Own, Want: 1.182905e6, Got: rise, Tol: 1e-6, Why: why},
		verify.Row{Name: "no friction on a shallow screw: 90° − θ [rad]", Source: "geometry", Kind: verify.Own, Want: 72.343213 * math.Pi / 180, Got: limit.Angle, Tol: 2e-4, Why: "a depth of 1.6e-4 of the bore"})
	verify.Table(t, rows)
}

func TestPropertySolids(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, n := screwtest.Channels().Draw(t, "channel"), screwtest.Speeds().Draw(t, "speed")
		s := screw.Solids{Density: draw.Uniform(200, 900).Draw(t, "density"), BarrelFriction: draw.Uniform(0.2, 0.8).Draw(t, "barrel")}
		s.ScrewFriction = s.BarrelFriction * draw.Uniform(0.05, 0.6).Draw(t, "screw/barrel")
		f, err := c.ConveySolids(s, n, 1)
		if err != nil {
			require.ErrorIs(t, err, screw.ErrNoFlow)
			return
		}
		// No more than fills the channel: a turn carries one lead of it at most.
		require.Less(t, f.MassFlow, 1.0001*s.Density*n*c.Lead*c.Volume()/c.Length)
		same(t, f.MassFlow, f.Most, 1e-12, "no rise")
		double, err := c.ConveySolids(s, 2*n, 1)
		require.NoError(t, err)
		same(t, 2*f.MassFlow, double.MassFlow, 1e-12, "in proportion to speed")
		// Two starts with lands half as wide carry as much where nothing rubs on the screw, and
		// less where twice as many flights rub.
		one, two := c, c
		one.Starts, two.Starts, two.Land = 1, 2, c.Land/2
		smooth := s
		smooth.ScrewFriction = 0
		a, err := one.ConveySolids(smooth, n, 1.5)
		require.NoError(t, err)
		b, err := two.ConveySolids(smooth, n, 1.5)
		require.NoError(t, err)
		same(t, a.MassFlow, b.MassFlow, 1e-12, "two starts")
		if rough, err := two.ConveySolids(s, n, 1); err == nil {
			single, err := one.ConveySolids(s, n, 1)
			require.NoError(t, err)
			require.Less(t, rough.MassFlow, single.MassFlow)
		}
		// More friction on the barrel carries more, more on the screw less.
		grip, slick := s, s
		grip.BarrelFriction *= 1.1
		slick.ScrewFriction *= 0.9
		for _, better := range []screw.Solids{grip, slick} {
			more, err := c.ConveySolids(better, n, 1)
			require.NoError(t, err)
			require.Greater(t, more.MassFlow, f.MassFlow)
		}
		// What is not drawn off builds pressure; the inverse of the inverse.
		flow := f.MassFlow * draw.Uniform(0.3, 0.99).Draw(t, "share")
		rise, err := c.SolidsRise(s, n, flow)
		require.NoError(t, err)
		require.Greater(t, rise, 1.0)
		none, err := c.SolidsRise(s, n, f.MassFlow)
		require.NoError(t, err)
		require.GreaterOrEqual(t, none, 1.0, "the most against no rise")
		if rise < 1e200 {
			back, err := c.ConveySolids(s, n, rise)
			require.NoError(t, err)
			same(t, flow, back.MassFlow, 1e-9, "inverse of the inverse")
		}
		_, err = c.SolidsRise(s, n, 1.01*f.MassFlow)
		require.ErrorIs(t, err, screw.ErrNoFlow)
	})
}

func TestPropertySolidsAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, bits := screwtest.Channels().Draw(t, "channel"), draw.Bits()
		s := screw.Solids{Density: 500, BarrelFriction: 0.4, ScrewFriction: 0.2}
		for range rapid.IntRange(1, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom([]*float64{&c.Bore, &c.Lead, &c.Depth, &c.Land, &c.Length, &s.Density, &s.BarrelFriction, &s.ScrewFriction}).Draw(t, "field") = bits.Draw(t, "bits")
		}
		if f, err := c.ConveySolids(s, 1, bits.Draw(t, "rise")); err == nil {
			for _, x := range []float64{f.MassFlow, f.Angle, f.Rise, f.Most} {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0))
			}
		}
		if rise, err := c.SolidsRise(s, 1, bits.Draw(t, "flow")); err == nil {
			require.True(t, rise >= 1 && rise <= math.MaxFloat64, "%g", rise)
		}
	})
}

func TestSolidsFaults(t *testing.T) {
	c := screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 3e-3, Land: 2e-3, Clearance: 1e-4, Starts: 1, Length: 0.1}
	_, err := c.ConveySolids(screw.Solids{}, 0, 0.5)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Solids.Density = 0", "screw.Solids.BarrelFriction = 0", "speed = 0", "rise = 0.5: allowed 1 to"} {
		assert.ErrorContains(t, err, part)
	}
	_, err = c.ConveySolids(screw.Solids{Density: 400, BarrelFriction: 0.1, ScrewFriction: 1.5}, 1, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "cannot push solids with 1.5 on the screw")
	// A flight so steep and rough that nothing slides along it holds the plug, however the barrel grips.
	steep := screw.Channel{Bore: 0.02, Lead: 0.17, Depth: 7e-4, Land: 4.8e-3, Clearance: 1e-4, Starts: 1, Length: 0.1}
	_, err = steep.ConveySolids(screw.Solids{Density: 400, BarrelFriction: 2, ScrewFriction: 1.7}, 1, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.Error(t, screw.Solids{}.Validate())
}
