package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
)

func upright(diameter, ratio float64) screw.Auger {
	return screw.Auger{Diameter: diameter, Pitch: ratio * diameter, Length: 1, Incline: math.Pi / 2}
}

// lift asks at a multiple of the critical speed, which it finds first.
func lift(t require.TestingT, a screw.Auger, b material.Bulk, tube, multiple float64) screw.AugerLift {
	fast, err := a.Lift(b, tube, 100, 0.3)
	require.NoError(t, err)
	l, err := a.Lift(b, tube, fast.Critical*multiple, 0.3)
	require.NoError(t, err)
	return l
}

func TestCheckUprightAuger(t *testing.T) {
	const source = "the particle's balance in its first form solved to 40 digits, g = 9.80665; φ = 20°, μ = 0.35, p = D"
	row := func(name string, want, got float64) verify.Row {
		return verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: 1e-11, Why: "rounding, a steep root at the critical speed included"}
	}
	b := rubbing(400, 20)
	rows := []verify.Row{
		row("critical speed, 20 mm [rpm]", 444.03518872366, 60*lift(t, upright(0.02, 1), b, 0.35, 2).Critical),
		row("critical speed, 50 mm [rpm]", 280.83251152589, 60*lift(t, upright(0.05, 1), b, 0.35, 2).Critical),
	}
	for _, v := range [][5]float64{
		{1.05, 0.80658685902589, 0.042355647468197, 0.010407987498824, 57.865804508114}, {1.5, 7.5303591799032, 0.29343208557206, 0.10300658694185, 9.2004740391264},
		{2, 13.83455239058, 0.43619354773458, 0.20416221586949, 6.8619091346085}, {5, 34.204746739199, 0.68106190157676, 0.79693468468501, 7.4865002560767},
	} {
		l := lift(t, upright(0.05, 1), b, 0.35, v[0])
		name := fmt.Sprintf(" at %g of the critical speed, 50 mm ", v[0])
		rows = append(rows, row("angle"+name+"[°]", v[1], l.Angle/degrees(1)), row("efficiency"+name+"[-]", v[2], l.Efficiency),
			row("rise"+name+"[m/s]", v[3], l.Rise), row("work to raise it"+name+"[g]", v[4], l.Progress+1))
	}
	verify.Table(t, rows)
}

func TestPropertyUprightAuger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio, angle, tube := draw.Uniform(0.3, 1.5).Draw(t, "pitch/diameter"), draw.Uniform(5, 30).Draw(t, "friction"), draw.Uniform(0.1, 0.8).Draw(t, "tube")
		a, b, multiple := upright(draw.Log(0.02, 0.2).Draw(t, "diameter"), ratio), rubbing(400, angle), draw.Log(1.01, 5).Draw(t, "multiple")
		l := lift(t, a, b, tube, multiple)
		speed := l.Critical * multiple

		// Only the multiple of the critical speed counts.
		other := lift(t, upright(draw.Log(0.02, 0.2).Draw(t, "other"), ratio), b, draw.Uniform(0.1, 0.8).Draw(t, "other tube"), multiple)
		same(t, l.Efficiency, other.Efficiency, 1e-11, "efficiency")
		same(t, l.Angle, other.Angle, 1e-11, "angle")
		same(t, l.Progress, other.Progress, 1e-11, "progress")

		// It ends where a slow full auger of the rim's pitch is, from below. The rest falls as 1/speed².
		full, err := screw.Auger{Diameter: a.Diameter, Pitch: a.Pitch * 2 / 3, Length: 1}.Feed(b, 1)
		require.NoError(t, err)
		slip := 1 - full.Efficiency
		fast, faster := lift(t, upright(2, ratio), b, 2, 5/slip), lift(t, upright(2, ratio), b, 2, 10/slip)
		require.True(t, l.Efficiency < fast.Efficiency && fast.Efficiency < faster.Efficiency && faster.Efficiency < full.Efficiency)
		same(t, full.Efficiency, (4*faster.Efficiency-fast.Efficiency)/3, 1e-3, "limit")

		// What the shaft puts in goes to lift, tube and flight: along the flight the balance of forces gives what presses on it.
		sin, cos := math.Sincos(l.Angle)
		tanAlpha, mu := ratio/math.Pi, math.Tan(b.WallFriction)
		alpha := math.Atan(tanAlpha)
		radius, omega := a.Diameter/2, 2*math.Pi*speed
		around := l.Rise * cos / sin
		onTube := tube * around * around / radius
		pressed := (9.80665 + onTube*sin) / (math.Cos(alpha) - mu*math.Sin(alpha))
		spent := 9.80665*l.Rise + onTube*l.Rise/sin + mu*pressed*(omega*radius-around)/math.Cos(alpha)
		same(t, (l.Progress+1)*9.80665*l.Rise, spent, 1e-10, "energy")
		same(t, onTube*cos, pressed*(math.Sin(alpha)+mu*math.Cos(alpha)), 1e-10, "forces around")
		same(t, l.MassFlow, 0.3*l.Rise*a.Swept()/a.Pitch*b.BulkDensity, 1e-13, "mass")

		rougher := b
		rougher.WallFriction *= 1.05
		require.Greater(t, lift(t, a, rougher, tube, 2).Critical, l.Critical)
		require.Greater(t, lift(t, upright(a.Diameter, ratio*1.05), b, tube, 2).Critical, l.Critical)
		require.Less(t, lift(t, a, b, tube*1.05, 2).Critical, l.Critical)
		_, err = a.Lift(b, tube, l.Critical*draw.Uniform(0.1, 1).Draw(t, "slow"), 0.3)
		require.ErrorIs(t, err, screw.ErrNoFlow)
	})
}

// Inside the handbooks' band of an upright auger, 4 to 8, where it works with least.
func TestUprightProgress(t *testing.T) {
	b := rubbing(400, 20)
	least := math.Inf(1)
	for multiple := 1.2; multiple < 6; multiple += 0.1 {
		p := lift(t, upright(0.05, 1), b, 0.35, multiple).Progress
		if least = math.Min(least, p); p == least {
			require.Less(t, multiple, 3.)
		}
	}
	require.True(t, least > 4 && least < 8, "%g", least)
}

func TestUprightTellsAndRefuses(t *testing.T) {
	a, b := upright(0.05, 1), rubbing(400, 20)
	beyond := func(b material.Bulk, fill float64) int {
		l, err := a.Lift(b, 0.35, 10, fill)
		require.NoError(t, err)
		return len(l.Beyond)
	}
	require.Zero(t, beyond(b, 0.6))
	require.Equal(t, 1, beyond(b, 0.61))
	b.Shape, b.ParticleSize = "fluff", 4.2e-3
	require.Equal(t, 3, beyond(b, 1))
	b.WallFriction = 0
	_, err := a.Lift(b, 0.35, 10, 0.3)
	require.ErrorIs(t, err, material.ErrNoData)
	a.Incline = 1.5
	_, err = a.Lift(b, 3, 0, 0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, named := range []string{"screw.Auger.Incline", "Lift: tube", "screw: speed", "Lift: fill"} {
		require.ErrorContains(t, err, named)
	}
}

// BenchmarkLift compares the root found with a halving of the same balance to its last digit.
func BenchmarkLift(b *testing.B) {
	a, bulk := upright(0.05, 1), rubbing(400, 20)
	var sum float64
	versus.Report(b, "x-bisection", func(i int) {
		l, err := a.Lift(bulk, 0.35, 10+1e-3*float64(i&255), 0.3)
		if err != nil {
			b.Fatal(err)
		}
		sum += l.MassFlow
	}, func(i int) {
		rise := a.Pitch / (math.Pi * a.Diameter)
		alpha, speed := math.Atan(rise), 10+1e-3*float64(i&255)
		grip := math.Tan(alpha + bulk.WallFriction)
		square := math.Pow(2*math.Pi*speed, 2) * 0.35 * a.Diameter / 2 / (9.80665 * grip)
		lo, hi := 0., math.Pi/2-alpha-bulk.WallFriction
		for mid := hi / 2; lo < mid && mid < hi; mid = (lo + hi) / 2 {
			sin, cos := math.Sincos(mid)
			share := rise / (rise + sin/cos)
			if square*share*share*(cos-grip*sin) > 1 {
				lo = mid
			} else {
				hi = mid
			}
		}
		tan := math.Tan(lo)
		sum += a.Swept() * speed * bulk.BulkDensity * 0.3 * tan / (rise + tan)
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
