package drive_test

import (
	"fmt"
	"math"
	"strings"
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

const hour = 3600

func TestCheckBearingLife(t *testing.T) {
	const (
		iso    = "ISO 281:2007, table of a₁"
		manual = "solutions manual to Mechanical Engineering Design, 8th ed., problem 11-3"
		mott   = "R. L. Mott, Machine Elements in Mechanical Design, problems of the chapter on rolling bearings"
		hand   = "(C/P)^p by hand"
	)
	life := func(c, load, speed, reliability, exponent float64) drive.BearingLife {
		l, err := drive.Bearing{Dynamic: c, Static: c, Exponent: exponent}.Life(load, speed, reliability)
		require.NoError(t, err)
		return l
	}
	rating := func(load, speed, reliability, wanted, exponent float64) float64 {
		c, err := drive.RequiredRating(load, speed, reliability, wanted, exponent)
		require.NoError(t, err)
		return c
	}
	const nine, own = "nine digits given", verify.Own
	rows := []verify.Row{
		{Name: "ball, C 14 kN, P 2.2 kN, Mrev", Source: hand, Kind: own, Want: 257.7010, Got: life(14e3, 2.2e3, 1, 0.9, drive.Ball).Revolutions / 1e6, Tol: 2e-7, Why: "seven digits given"},
		{Name: "roller, C 14 kN, P 2.2 kN, Mrev", Source: hand, Kind: own, Want: 477.5489, Got: life(14e3, 2.2e3, 1, 0.9, drive.Roller).Revolutions / 1e6, Tol: 1.1e-7, Why: "seven digits given"},
		{Name: "thrust, 20 MPa on 20 mm, C 27 kN, 45 rpm, h", Source: hand, Kind: own, Want: 29389.21, Got: life(27e3, 20e6*math.Pi*1e-4, 0.75, 0.9, drive.Ball).Seconds / hour, Tol: 2e-7, Why: "seven digits given"},
		{Name: "ball, C 14 kN, P 2 kN, Mrev", Source: hand, Kind: own, Want: 343, Got: life(14e3, 2e3, 5, 0.9, drive.Ball).Revolutions / 1e6, Tol: 1e-12, Why: "exact"},
		{Name: "ball, C 14 kN, P 2 kN, 300 rpm, h", Source: hand, Kind: own, Want: 19055.5556, Got: life(14e3, 2e3, 5, 0.9, drive.Ball).Seconds / hour, Tol: 3e-9, Why: nine},
		{Name: "ball, C 14.3 kN, P 3 kN, 100 rpm, h", Source: hand, Kind: own, Want: 18050.6605, Got: life(14.3e3, 3e3, 100.0/60, 0.9, drive.Ball).Seconds / hour, Tol: 3e-9, Why: nine},
		{Name: "P 1.5 kN, 20 000 h, 120 rpm, ball, N", Source: hand, Kind: own, Want: 7862.22418, Got: rating(1.5e3, 2, 0.9, 20e3*hour, drive.Ball), Tol: 1e-9, Why: nine},
		{Name: "the same, roller, N", Source: hand, Kind: own, Want: 6661.92910, Got: rating(1.5e3, 2, 0.9, 20e3*hour, drive.Roller), Tol: 1e-9, Why: nine},
		{Name: "the same, ball at 95 %, N", Source: hand + ", a₁ = 0.64 of the table", Kind: own, Want: 9123.30299, Got: rating(1.5e3, 2, 0.95, 20e3*hour, drive.Ball), Tol: 1.2e-3, Why: "a₁ rounded in the table, 0.64 for 0.6379"},
		{Name: "thrust, 200 bar on 16 mm, 5000 h, 60 rpm, N", Source: hand, Kind: own, Want: 10538.6264, Got: rating(20e6*math.Pi*64e-6, 1, 0.9, 5000*hour, drive.Ball), Tol: 5e-9, Why: nine},
		{Name: "P 4 kN, 500 h, 0.75 rev/s, N", Source: "twice the load; 1.35 Mrev alone would ask 4.42 kN", Kind: own, Want: 8e3, Got: rating(4e3, 0.75, 0.9, 500*hour, drive.Ball), Tol: 1e-12, Why: "exact"},
		{Name: "P 4 kN, 8 Mrev, N", Source: "(8 Mrev)^(1/3), where both meet", Kind: own, Want: 8e3, Got: rating(4e3, 1, 0.9, 8e6, drive.Ball), Tol: 1e-12, Why: "exact"},
		{Name: "P 4 kN, 8.1 Mrev, N", Source: hand, Kind: own, Want: 8033.19540, Got: rating(4e3, 1, 0.9, 8.1e6, drive.Ball), Tol: 1e-9, Why: nine},
		{Name: "10.279 kN, 1440 Mrev, roller, kN", Source: manual, Kind: verify.Print, Want: 91.1, Got: rating(10.279e3, 1, 0.9, 1440e6, drive.Roller) / 1e3, Tol: 6e-4, Why: "three digits printed"},
		{Name: "1250 lbf, 880 rpm, 20 000 h, lbf", Source: mott, Kind: verify.Print, Want: 12729, Got: rating(1250*lbf, 880.0/60, 0.9, 20e3*hour, drive.Ball) / lbf, Tol: 4e-5, Why: "five digits printed"},
		{Name: "6351 N, 288 Mrev, N", Source: mott, Kind: verify.Print, Want: 41941, Got: rating(6351, 1, 0.9, 288e6, drive.Ball), Tol: 1.2e-5, Why: "five digits printed"},
		{Name: "C 3150, P 2200 lbf, Mrev", Source: mott, Kind: verify.Print, Want: 2.94, Got: life(3150*lbf, 2200*lbf, 1, 0.9, drive.Ball).Revolutions / 1e6, Tol: 1.8e-3, Why: "three digits printed"},
		{Name: "400 lbf, 5000 h, 1725 rpm, lbf", Source: "Budynas & Nisbett, Shigley's, 9th ed. (2011), Example 11-1", Kind: verify.Memory, Want: 3211, Got: rating(400*lbf, 1725.0/60, 0.9, 5000*hour, drive.Ball) / lbf, Tol: 1.6e-4, Why: "four digits printed"},
		{Name: "static safety, C₀ 6.8, P₀ 1.72 kN", Source: "C₀/P₀ by hand", Kind: own, Want: 3.95348837, Got: life(6.8e3, 1.72e3, 1, 0.9, drive.Ball).StaticSafety, Tol: 1e-9, Why: nine},
	}
	for _, c := range []struct{ r, table, half, own float64 }{
		{95, .64, .005, .63791}, {96, .55, .005, .55490}, {97, .47, .005, .46535}, {98, .37, .005, .36590}, {99, .25, .005, .24833},
		{99.2, .22, .005, .22080}, {99.4, .19, .005, .19090}, {99.6, .16, .005, .15745}, {99.8, .12, .005, .11765}, {99.9, .093, .0005, .09260},
		{99.92, .087, .0005, .08671}, {99.94, .080, .0005, .08030}, {99.95, .077, .0005, .07683},
	} {
		got := life(1e3, 1e3, 1, c.r/100, drive.Ball).Revolutions / 1e6
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("a₁ at %g %%", c.r), Source: iso, Kind: verify.Memory, Want: c.table, Got: got, Tol: c.half / c.table, Why: "half a unit of the table's last digit"},
			verify.Row{Name: fmt.Sprintf("a₁ at %g %%", c.r), Source: "0.05 + 0.95·(ln(1/S)/ln(1/0.9))^(2/3) by hand", Kind: own, Want: c.own, Got: got, Tol: 7e-5, Why: "five decimals given"})
	}
	verify.Table(t, rows)
}

func TestBearingBeyond(t *testing.T) {
	b := drive.Bearing{Dynamic: 10e3, Static: 8e3, Exponent: drive.Ball}
	for load, want := range map[float64]string{4e3: "", 5e3: "", 5001: "half the dynamic", 8e3: "half the dynamic", 8001: "above the static"} {
		l, err := b.Life(load, 1, 0.9)
		require.NoError(t, err)
		if want == "" {
			assert.Empty(t, l.Beyond)
			continue
		}
		assert.Contains(t, strings.Join(l.Beyond, "; "), want)
	}
}

func TestBearingRefuses(t *testing.T) {
	_, err := drive.Bearing{Dynamic: 0, Static: 1e4, Exponent: 2}.Life(0, math.Inf(1), 0.5)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Bearing.Dynamic = 0 N: allowed 1 to 1e+09 N\n"+
		"drive.Bearing.Exponent = 2: allowed 3 to 3.33333\n"+
		"drive.Bearing.Life: load = 0 N: allowed 0.001 to 1e+09 N\n"+
		"drive.Bearing.Life: speed = +Inf rev/s: allowed 1e-06 to 10000 rev/s\n"+
		"drive.Bearing.Life: reliability = 0.5: allowed 0.9 to 0.9995")
	_, err = drive.RequiredRating(1, 1, 0.9, 0, 5)
	assert.EqualError(t, err, "drive.RequiredRating: wanted life = 0 s: allowed 1 to 1e+10 s\n"+
		"drive.RequiredRating: exponent = 5: allowed 3 to 3.33333")
	_, err = drive.Bearing{}.Utilisations(1, 1, 0.9, 1)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorIs(t, drive.Bearing{}.Validate(), material.ErrInvalid)
}

func TestPropertyBearing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drivetest.Bearings().Draw(t, "bearing")
		load := b.Dynamic * draw.Log(0.01, 0.5).Draw(t, "load ÷ rating")
		speed := draw.Log(0.01, 100).Draw(t, "speed")
		reliability := draw.Uniform(0.9, 0.9995).Draw(t, "reliability")
		k := draw.Log(0.5, 2).Draw(t, "factor")
		at := func(load, speed, reliability float64) drive.BearingLife {
			l, err := b.Life(load, speed, reliability)
			require.NoError(t, err)
			return l
		}
		l := at(load, speed, reliability)
		require.InEpsilon(t, l.Revolutions, l.Seconds*speed, 1e-12)
		require.InEpsilon(t, l.Revolutions*math.Pow(k, -b.Exponent), at(load*k, speed, reliability).Revolutions, 1e-10)
		require.InEpsilon(t, l.Seconds/k, at(load, speed*k, reliability).Seconds, 1e-12)
		require.Less(t, at(load, speed, math.Min(0.9995, reliability*1.0005)).Revolutions, l.Revolutions*(1+1e-12))

		// RequiredRating is the inverse of Life down to twice the load, the utilisation
		// its ratio.
		wanted := math.Min(l.Seconds, 1e10)
		c, err := drive.RequiredRating(load, speed, reliability, wanted, b.Exponent)
		require.NoError(t, err)
		require.LessOrEqual(t, c, b.Dynamic*(1+1e-12))
		if wanted == l.Seconds {
			require.InEpsilon(t, b.Dynamic, c, 1e-12)
		}
		u, err := b.Utilisations(load, speed, reliability, wanted*0.9)
		require.NoError(t, err)
		require.InEpsilon(t, math.Max(c*math.Pow(0.9, 1/b.Exponent), 2*load), u[0].Demand, 1e-10)
		require.InEpsilon(t, b.Dynamic/u[0].Demand, u[0].Safety(), 1e-12)
		require.InEpsilon(t, l.StaticSafety, u[1].Safety(), 1e-12)
		require.Greater(t, u[0].Safety(), 1-1e-12)
		// Where the life says that the standard is left, the rating is not enough.
		over, err := b.Utilisations(b.Dynamic*draw.Uniform(0.501, 1).Draw(t, "load beyond"), speed, 0.9, 1)
		require.NoError(t, err)
		require.Less(t, over[0].Safety(), 1.0)
	})
}
