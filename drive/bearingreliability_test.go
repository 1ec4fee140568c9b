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

func TestCheckBearingReliability(t *testing.T) {
	const (
		eighth = "solutions manual to Mechanical Engineering Design, 8th ed., problem "
		tenth  = "solutions manual to Mechanical Engineering Design, 10th ed., problem "
		med    = "Budynas & Nisbett, Shigley's, 9th ed. (2011), Example 11-3"
		hand   = "Weibull 0.02, 4.439, 1.483 by hand"
		print  = verify.Print
		own    = verify.Own
	)
	spread := drive.ManufacturerSpread()
	rating := func(load, x, reliability, exponent float64) float64 {
		c, err := spread.Rating(load, x*1e6, reliability, exponent)
		require.NoError(t, err)
		return c
	}
	plain := func(load, x float64) float64 {
		c, err := drive.RequiredRating(load, 1, .9, x*1e6, drive.Ball)
		require.NoError(t, err)
		return c
	}
	reached := func(load, c, x, exponent float64) float64 {
		r, err := spread.Reliability(load, c, x*1e6, exponent)
		require.NoError(t, err)
		return r
	}
	factor := func(reliability float64, table drive.ReliabilityTable) float64 {
		a, err := drive.ReliabilityFactor(reliability, table)
		require.NoError(t, err)
		return a
	}
	system := func(slope float64, lives ...float64) float64 {
		l, err := drive.SystemLife(lives, slope)
		require.NoError(t, err)
		return l
	}
	const three, four, five = "half a unit of three digits printed", "half a unit of four digits printed", "half a unit of five digits printed"
	const ball, roller = drive.Ball, drive.Roller
	rows := []verify.Row{
		{Name: "2.278 kN, 540 lives, kN", Source: eighth + "11-1", Kind: print, Want: 18.59, Got: rating(2278, 540, .9, ball) / 1e3, Tol: 2.7e-4, Why: four},
		{Name: "the same, own", Source: hand, Kind: own, Want: 18.5916446, Got: rating(2278, 540, .9, ball) / 1e3, Tol: 4e-9, Why: "nine digits given"},
		{Name: "the same, C 19.5 kN, R", Source: eighth + "11-1", Kind: print, Want: .919, Got: reached(2278, 19.5e3, 540, ball), Tol: 5.5e-4, Why: three},
		{Name: "854 lbf, 1440 lives, lbf", Source: eighth + "11-2", Kind: print, Want: 9665, Got: rating(854*lbf, 1440, .9, ball) / lbf, Tol: 5.2e-5, Why: four},
		{Name: "3.80 kN, C 46.2 kN, R", Source: eighth + "11-2", Kind: print, Want: .927, Got: reached(3800, 46.2e3, 1440, ball), Tol: 5.4e-4, Why: three},
		{Name: "10.28 kN, 1440 lives, C 102 kN, roller, R", Source: eighth + "11-3", Kind: print, Want: .942, Got: reached(10.28e3, 102e3, 1440, roller), Tol: 5.4e-4, Why: three},
		{Name: "854 lbf, R 0.95, lbf", Source: eighth + "11-5", Kind: print, Want: 11315, Got: rating(854*lbf, 1440, .95, ball) / lbf, Tol: 4.5e-5, Why: five},
		{Name: "3.80 kN, C 55.9 kN, R", Source: eighth + "11-5", Kind: print, Want: .969, Got: reached(3800, 55.9e3, 1440, ball), Tol: 5.2e-4, Why: three},
		{Name: "10.279 kN, R 0.95, roller, kN", Source: eighth + "11-5", Kind: print, Want: 105.2, Got: rating(10.279e3, 1440, .95, roller) / 1e3, Tol: 4.8e-4, Why: four},
		{Name: "10.279 kN, C 123 kN, roller, R", Source: eighth + "11-5", Kind: print, Want: .977, Got: reached(10.279e3, 123e3, 1440, roller), Tol: 5.2e-4, Why: three},
		{Name: "10.32 kN, 270 lives, plain cube root, kN", Source: eighth + "11-6", Kind: print, Want: 66.7, Got: plain(10.32e3, 270) / 1e3, Tol: 7.5e-4, Why: three},
		{Name: "10.60 kN, 270 lives, plain cube root, kN", Source: eighth + "11-6", Kind: print, Want: 68.51, Got: plain(10.60e3, 270) / 1e3, Tol: 7.3e-5, Why: four},
		{Name: "3 kN, 525 lives, kN", Source: tenth + "11-1", Kind: print, Want: 24.3, Got: rating(3e3, 525, .9, ball) / 1e3, Tol: 2.1e-3, Why: three},
		{Name: "the same, C 25.5 kN, R", Source: tenth + "11-1", Kind: print, Want: .920, Got: reached(3e3, 25.5e3, 525, ball), Tol: 5.5e-4, Why: three},
		{Name: "4.52 kN, 1248 lives, C 55.9 kN, R", Source: tenth + "11-2", Kind: print, Want: .945, Got: reached(4.52e3, 55.9e3, 1248, ball), Tol: 5.3e-4, Why: three},
		{Name: "20 kN, 456 lives, R 0.95, roller, kN", Source: tenth + "11-6", Kind: print, Want: 145, Got: rating(20e3, 456, .95, roller) / 1e3, Tol: 3.5e-3, Why: three},
		{Name: "413 lbf × 1.2, 540 lives, R 0.99, lbf", Source: med, Kind: verify.Memory, Want: 6696, Got: rating(1.2*413*lbf, 540, .99, ball) / lbf, Tol: 1.1e-3, Why: "the example takes 1 − R for ln(1/R), 0.1 % here"},
		{Name: "the same, own", Source: hand, Kind: own, Want: 6689.4741, Got: rating(1.2*413*lbf, 540, .99, ball) / lbf, Tol: 1e-8, Why: "eight digits given"},
		{Name: "lives at 90 %", Source: hand, Kind: own, Want: .99334816, Got: math.Pow(rating(1e3, 1, .9, ball)/1e3, -3), Tol: 6e-9, Why: "eight digits given"},
		{Name: "lives at 95 %", Source: hand, Kind: own, Want: .61905626, Got: math.Pow(rating(1e3, 1, .95, ball)/1e3, -3), Tol: 9e-9, Why: "eight digits given"},
		{Name: "lives at 99 %", Source: hand, Kind: own, Want: .21958958, Got: math.Pow(rating(1e3, 1, .99, ball)/1e3, -3), Tol: 3e-8, Why: "eight digits given"},
		{Name: "two bearings, 20 000 and 35 000 h", Source: "(Σ L^−e)^(−1/e), e 10/9, at 30 digits", Kind: own, Want: 13584.03284, Got: system(drive.BallSlope, 20000, 35000), Tol: 4e-10, Why: "ten digits given"},
		{Name: "two like bearings, e 9/8", Source: "2^(−8/9)", Kind: own, Want: 0.5400298694461, Got: system(drive.RollerSlope, 1, 1), Tol: 1e-12, Why: "thirteen digits given"},
	}
	for _, c := range []struct{ r, table, half float64 }{
		{90, 1, .005}, {95, .64, .005}, {96, .55, .005}, {97, .47, .005}, {98, .37, .005}, {99, .25, .005},
		{99.2, .22, .005}, {99.4, .19, .005}, {99.6, .16, .005}, {99.8, .12, .005}, {99.9, .093, .0005}, {99.95, .077, .0005},
	} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("a₁ at %g %%, %v", c.r, drive.ISO281of2007), Source: "ISO 281:2007, table of a₁", Kind: verify.Memory, Want: c.table, Got: factor(c.r/100, drive.ISO281of2007), Tol: c.half / c.table, Why: "half a unit of the table's last digit"})
	}
	for _, c := range []struct{ r, table, own float64 }{{90, 1, 1}, {95, .62, .61885}, {96, .53, .53147}, {97, .44, .43721}, {98, .33, .33252}, {99, .21, .20877}} {
		got := factor(c.r/100, drive.ISO281of1990)
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("a₁ at %g %%, %v", c.r, drive.ISO281of1990), Source: "ISO 281:1990, table of a₁ as reprinted", Kind: verify.Practice, Want: c.table, Got: got, Tol: .005 / c.table, Why: "half a unit of the table's last digit"},
			verify.Row{Name: fmt.Sprintf("a₁ at %g %%, %v, own", c.r, drive.ISO281of1990), Source: "(ln(1/S)/ln(1/0.9))^(2/3) by hand", Kind: own, Want: c.own, Got: got, Tol: 2.5e-5, Why: "five decimals given"})
	}
	verify.Table(t, rows)
}

func TestBearingReliabilityRefuses(t *testing.T) {
	_, err := drive.ReliabilityFactor(0.995, drive.ISO281of1990)
	assert.EqualError(t, err, "drive.ReliabilityFactor: reliability = 0.995: allowed 0.9 to 0.99")
	_, err = drive.ReliabilityFactor(0.995, 2)
	assert.EqualError(t, err, "drive.ReliabilityFactor: table = 2: allowed 0 to 1")
	assert.Equal(t, "ISO 281:2007", drive.ISO281of2007.String())
	assert.Equal(t, "ISO 281:1990", drive.ISO281of1990.String())
	assert.Equal(t, "ReliabilityTable(2)", drive.ReliabilityTable(2).String())
	_, err = drive.LifeSpread{Least: -1, Scale: math.Inf(1)}.Rating(0, 0, 1, 4)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.LifeSpread.Least = -1: allowed 0 to 1\n"+
		"drive.LifeSpread.Scale = +Inf: allowed 0.1 to 100\n"+
		"drive.LifeSpread.Slope = 0: allowed 0.5 to 10\n"+
		"drive.LifeSpread.Rating: load = 0 N: allowed 0.001 to 1e+09 N\n"+
		"drive.LifeSpread.Rating: revolutions = 0: allowed 1 to 1e+14\n"+
		"drive.LifeSpread.Rating: exponent = 4: allowed 3 to 3.33333\n"+
		"drive.LifeSpread.Rating: reliability = 1: allowed 0.5 to 0.9999")
	_, err = drive.ManufacturerSpread().Reliability(1, 0, 1, 3)
	assert.EqualError(t, err, "drive.LifeSpread.Reliability: rating = 0 N: allowed 1 to 1e+09 N")
	_, err = drive.SystemLife([]float64{1, 0}, 0.5)
	assert.EqualError(t, err, "drive.SystemLife: slope = 0.5: allowed 1 to 10\n"+
		"drive.SystemLife: life 2 = 0: allowed 1e-06 to 1e+30")
	_, err = drive.SystemLife(nil, 1)
	assert.EqualError(t, err, "drive.SystemLife: lives = 0: allowed 1 to 1000")
	assert.ErrorIs(t, drive.LifeSpread{}.Validate(), material.ErrInvalid)
}

func TestPropertyBearingReliability(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drivetest.Bearings().Draw(t, "bearing")
		load := b.Dynamic * draw.Log(0.01, 0.49).Draw(t, "load ÷ rating")
		reliability := draw.Uniform(0.9, 0.9995).Draw(t, "reliability")
		spread := rapid.SampledFrom([]drive.LifeSpread{drive.ManufacturerSpread(), drive.StandardSpread(), {Least: 0, Scale: 5, Slope: 1.2}}).Draw(t, "spread")
		turns := draw.Log(1e6, 1e10).Draw(t, "revolutions")
		rating := func(load, turns, reliability float64) float64 {
			c, err := spread.Rating(load, turns, reliability, b.Exponent)
			require.NoError(t, err)
			return c
		}
		c := rating(load, turns, reliability)
		back, err := spread.Reliability(load, c, turns, b.Exponent)
		require.NoError(t, err)
		require.InEpsilon(t, reliability, back, 1e-10)
		k := draw.Log(1.01, 3).Draw(t, "factor")
		require.InEpsilon(t, c*k, rating(load*k, turns, reliability), 1e-12)
		require.InEpsilon(t, c*math.Pow(k, 1/b.Exponent), rating(load, turns*k, reliability), 1e-12)
		worse, err := spread.Reliability(load*k, c, turns, b.Exponent)
		require.NoError(t, err)
		require.Less(t, worse, back)

		// The standard's spread undoes Life, and its factor falls with reliability.
		l, err := b.Life(load, 1, reliability)
		require.NoError(t, err)
		if l.Revolutions >= 1 && l.Revolutions <= 1e14 {
			back, err = drive.StandardSpread().Reliability(load, b.Dynamic, l.Revolutions, b.Exponent)
			require.NoError(t, err)
			require.InEpsilon(t, reliability, back, 1e-10)
		}
		for table, most := range map[drive.ReliabilityTable]float64{drive.ISO281of2007: 0.9995, drive.ISO281of1990: 0.99} {
			s := draw.Uniform(0.9, most-1e-4).Draw(t, "S")
			lower, err := drive.ReliabilityFactor(s, table)
			require.NoError(t, err)
			higher, err := drive.ReliabilityFactor(s+1e-4, table)
			require.NoError(t, err)
			require.Less(t, higher, lower)
			require.LessOrEqual(t, lower, 1.0+1e-12)
		}

		// The reliabilities of all bearings at the system's life multiply to 90 %; it is at
		// most the weakest's, and n like ones share.
		lives := rapid.SliceOfN(draw.Log(1e3, 1e6), 1, 6).Draw(t, "lives")
		slope := rapid.SampledFrom([]float64{drive.BallSlope, drive.RollerSlope, 1.5}).Draw(t, "slope")
		life, err := drive.SystemLife(lives, slope)
		require.NoError(t, err)
		product, least := 1.0, math.Inf(1)
		for _, l := range lives {
			product *= math.Pow(0.9, math.Pow(life/l, slope))
			least = min(least, l)
		}
		require.InEpsilon(t, 0.9, product, 1e-12)
		require.LessOrEqual(t, life, least*(1+1e-12))
		require.GreaterOrEqual(t, life, least*math.Pow(float64(len(lives)), -1/slope)*(1-1e-12))
	})
}
