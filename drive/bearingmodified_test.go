package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

var kinds = [...]drive.BearingKind{drive.RadialBall, drive.RadialRoller, drive.ThrustBall, drive.ThrustRoller}

// modified is a_ISO for a share e_C·C_u/P.
func modified(t require.TestingT, kind drive.BearingKind, kappa, share float64) float64 {
	a, err := drive.BearingFilm{Kind: kind, ViscosityRatio: kappa, Cleanliness: 1, FatigueLimit: share * 1e3}.Factor(1e3)
	require.NoError(t, err)
	return a
}

func TestCheckModifiedLife(t *testing.T) {
	const (
		iso  = "ISO 281:2007, equations 31 to 42 (from memory), at 30 digits"
		nine = "nine digits given"
		own  = verify.Own
	)
	var rows []verify.Row
	for _, c := range []struct {
		kappa, share float64
		want         [4]float64
	}{
		{.2, .1, [4]float64{.188350488, .124216258, .154398852, .116156126}},
		{.5, .1, [4]float64{.529483796, .195215491, .307463075, .158160333}},
		{1, .1, [4]float64{2.43051778, .398648572, .809417328, .254975435}},
		{2, .2, [4]float64{15.112687, .933684745, 2.38998039, .443247369}},
		{4, .1, [4]float64{7.20183495, .66441921, 1.55674072, .356105548}},
	} {
		for i, kind := range kinds {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("a_ISO, %v, κ %g, e_C·C_u/P %g", kind, c.kappa, c.share), Source: iso, Kind: own, Want: c.want[i], Got: modified(t, kind, c.kappa, c.share), Tol: 5e-9, Why: nine})
		}
	}
	viscosity := func(diameter, rpm float64) float64 {
		v, err := drive.ReferenceViscosity(diameter, rpm/60)
		require.NoError(t, err)
		return v * 1e6
	}
	bearing := drive.Bearing{Dynamic: 14e3, Static: 14e3, Exponent: drive.Ball}
	l, err := bearing.ModifiedLife(2e3, 5, 0.9, drive.BearingFilm{Kind: drive.RadialBall, ViscosityRatio: 1, Cleanliness: 0.5, FatigueLimit: 400})
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "ν₁, 45 rpm, 30 mm, mm²/s", Source: "45000·n^−0.83·D^−0.5 at 30 digits", Kind: own, Want: 348.726941, Got: viscosity(30e-3, 45), Tol: 2e-9, Why: nine},
		verify.Row{Name: "ν₁, 100 rpm, 50 mm, mm²/s", Source: "45000·n^−0.83·D^−0.5 at 30 digits", Kind: own, Want: 139.228297, Got: viscosity(50e-3, 100), Tol: 4e-9, Why: nine},
		verify.Row{Name: "ν₁, 1500 rpm, 40 mm, mm²/s", Source: "4500·n^−0.5·D^−0.5 at 30 digits", Kind: own, Want: 18.3711731, Got: viscosity(40e-3, 1500), Tol: 4e-9, Why: nine},
		verify.Row{Name: "C 14, P 2 kN, κ 1, e_C·C_u/P 0.1, Mrev", Source: "343 Mrev × a_ISO above", Kind: own, Want: 343 * 2.43051778, Got: l.Revolutions / 1e6, Tol: 5e-9, Why: nine},
		verify.Row{Name: "the same at 300 rpm, h", Source: "19055.5556 h × a_ISO above", Kind: own, Want: 19055.55556 * 2.43051778, Got: l.Seconds / hour, Tol: 5e-9, Why: nine})
	verify.Table(t, rows)
}

func TestModifiedLifeEnds(t *testing.T) {
	for _, kind := range kinds {
		assert.InEpsilon(t, 0.1, modified(t, kind, 0.1, 1e-6), 1e-2, "%v: next to no film", kind)
		filthy, err := drive.BearingFilm{Kind: kind, ViscosityRatio: 4, FatigueLimit: 1}.Factor(1)
		require.NoError(t, err)
		assert.Equal(t, 0.1, filthy, kind)
		assert.Equal(t, 50.0, modified(t, kind, 4, 100), "%v: below the fatigue limit", kind)
		for share := 2.0; share < 1e3; share *= 1.2 { // all through the bracket's end, next to and far below it
			assert.False(t, math.IsNaN(modified(t, kind, 4, share)), "%v at %g", kind, share)
		}
		assert.Equal(t, modified(t, kind, 4, 0.1), modified(t, kind, 1e3, 0.1), "%v: more than κ 4 does not help", kind)
		for _, meet := range []float64{0.4, 1} {
			below, at := modified(t, kind, math.Nextafter(meet, 0), 0.1), modified(t, kind, meet, 0.1)
			assert.InEpsilon(t, at, below, 2e-3, "%v: the formulas of κ meet at %g", kind, meet)
		}
	}
	assert.Equal(t, "BearingKind(4)", drive.BearingKind(4).String())
}

func TestModifiedLifeRefuses(t *testing.T) {
	film := drive.BearingFilm{Kind: 4, ViscosityRatio: 0.05, Cleanliness: 1.1, FatigueLimit: math.NaN()}
	_, err := drive.Bearing{Dynamic: 1e4, Static: 1e4, Exponent: 3}.ModifiedLife(0, 1, 0.9, film)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.BearingFilm.Kind = 4: allowed 0 to 3\n"+
		"drive.BearingFilm.ViscosityRatio = 0.05: allowed 0.1 to 10000\n"+
		"drive.BearingFilm.Cleanliness = 1.1: allowed 0 to 1\n"+
		"drive.BearingFilm.FatigueLimit = NaN N: allowed 0.001 to 1e+09 N\n"+
		"drive.Bearing.Life: load = 0 N: allowed 0.001 to 1e+09 N")
	assert.ErrorIs(t, film.Validate(), material.ErrInvalid)
	_, err = drive.ReferenceViscosity(0, 0)
	assert.EqualError(t, err, "drive.ReferenceViscosity: diameter = 0 m: allowed 0.001 to 10 m\n"+
		"drive.ReferenceViscosity: speed = 0 rev/s: allowed 0.001 to 10000 rev/s")
}

func TestPropertyModifiedLife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drivetest.Bearings().Draw(t, "bearing")
		load := b.Dynamic * draw.Log(0.01, 0.5).Draw(t, "load ÷ rating")
		film := drive.BearingFilm{
			Kind:           rapid.SampledFrom(kinds[:]).Draw(t, "kind"),
			ViscosityRatio: draw.Log(0.1, 6).Draw(t, "viscosity ratio"),
			Cleanliness:    draw.Uniform(0.05, 0.5).Draw(t, "cleanliness"),
			FatigueLimit:   b.Static * draw.Uniform(0.02, 0.1).Draw(t, "fatigue limit ÷ static"),
		}
		factor := func(film drive.BearingFilm, load float64) float64 {
			a, err := film.Factor(load)
			require.NoError(t, err)
			require.GreaterOrEqual(t, a, 0.1)
			require.LessOrEqual(t, a, 50.0)
			return a
		}
		a := factor(film, load)
		k := draw.Log(1.01, 2).Draw(t, "factor")
		require.LessOrEqual(t, factor(film, load*k), a, "heavier load")
		cleaner, thicker := film, film
		cleaner.Cleanliness *= k
		thicker.ViscosityRatio *= k
		require.GreaterOrEqual(t, factor(cleaner, load), a)
		require.GreaterOrEqual(t, factor(thicker, load), a*(1-1e-3), "the formulas of κ meet to 1e-3")
		cleaner.FatigueLimit /= k
		require.InEpsilon(t, a, factor(cleaner, load), 1e-9, "both count by their product")
		thrust := film
		switch film.Kind {
		case drive.RadialBall:
			thrust.Kind = drive.ThrustBall
			require.InEpsilon(t, factor(film, 3*load), factor(thrust, load), 1e-9)
		case drive.RadialRoller:
			thrust.Kind = drive.ThrustRoller
			require.InEpsilon(t, factor(film, 2.5*load), factor(thrust, load), 1e-9)
		}
		require.LessOrEqual(t, factor(thrust, load), a)

		plain, err := b.Life(load, 1, 0.95)
		require.NoError(t, err)
		l, err := b.ModifiedLife(load, 1, 0.95, film)
		require.NoError(t, err)
		require.InEpsilon(t, a*plain.Revolutions, l.Revolutions, 1e-12)
		require.InEpsilon(t, a*plain.Seconds, l.Seconds, 1e-12)
		require.Equal(t, plain.StaticSafety, l.StaticSafety)

		d, n := draw.Log(5e-3, 1).Draw(t, "diameter"), draw.Log(0.01, 100).Draw(t, "speed")
		v, err := drive.ReferenceViscosity(d, n)
		require.NoError(t, err)
		faster, err := drive.ReferenceViscosity(d*1.01, n*1.01)
		require.NoError(t, err)
		require.Less(t, faster, v)
	})
}
