package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckBearingDuty(t *testing.T) {
	const (
		med  = "Budynas & Nisbett, Shigley's, 9th ed. (2011), Example 11-5"
		hand = "(Σ n·t·P^p ÷ Σ n·t)^(1/p) by hand"
		quad = "∫x^p by numerical integration at 30 digits"
		nine = "nine digits given"
		own  = verify.Own
	)
	mean := func(exponent float64, blocks ...drive.BearingBlock) drive.BearingMean {
		m, err := drive.MeanBearingLoad(blocks, exponent)
		require.NoError(t, err)
		return m
	}
	steady := func(load, rpm, time float64) drive.BearingBlock {
		return drive.BearingBlock{From: load, To: load, Speed: rpm / 60, Time: time}
	}
	ramp := func(from, to float64) drive.BearingBlock {
		return drive.BearingBlock{From: from, To: to, Speed: 1, Time: 1}
	}
	hours := func(c float64, m drive.BearingMean, exponent float64) float64 {
		l, err := drive.Bearing{Dynamic: c, Static: c, Exponent: exponent}.Life(m.Load, m.Speed, 0.9)
		require.NoError(t, err)
		return l.Seconds / hour
	}
	book := mean(drive.Ball, steady(873, 2000, .1), steady(966, 3000, .3), steady(795, 3000, .1), steady(835, 2400, .5))
	three := []drive.BearingBlock{steady(1000, 30, .5), steady(2000, 60, .3), steady(3000, 45, .2)}
	other := []drive.BearingBlock{steady(3000, 60, .2), steady(1200, 120, .5), steady(400, 30, .3)}
	verify.Table(t, []verify.Row{
		{Name: "four blocks, lbf", Source: med, Kind: verify.Memory, Want: 884, Got: book.Load, Tol: 6e-4, Why: "three digits printed"},
		{Name: "its mean speed, rpm", Source: med + ", 200 + 300 + 900 + 1200", Kind: own, Want: 2600, Got: book.Speed * 60, Tol: 1e-12, Why: "exact"},
		{Name: "1, 2, 3 kN at 30, 60, 45 rpm, N", Source: hand, Kind: own, Want: 2123.2066, Got: mean(drive.Ball, three...).Load, Tol: 3e-8, Why: "eight digits given"},
		{Name: "the same, rpm", Source: hand, Kind: own, Want: 42, Got: mean(drive.Ball, three...).Speed * 60, Tol: 1e-12, Why: "exact"},
		{Name: "the same, C 14 kN, h", Source: hand, Kind: own, Want: 113764.5, Got: hours(14e3, mean(drive.Ball, three...), drive.Ball), Tol: 5e-7, Why: "seven digits given"},
		{Name: "3, 1.2, 0.4 kN at 60, 120, 30 rpm, N", Source: hand, Kind: own, Want: 1742.09892, Got: mean(drive.Ball, other...).Load, Tol: 3e-9, Why: nine},
		{Name: "the same, roller, N", Source: hand, Kind: own, Want: 1803.05087, Got: mean(drive.Roller, other...).Load, Tol: 3e-9, Why: nine},
		{Name: "the same, C 9 kN, h", Source: "sum of the lives used up, by hand", Kind: own, Want: 28370.8810, Got: hours(9e3, mean(drive.Ball, other...), drive.Ball), Tol: 2e-9, Why: nine},
		{Name: "1000, 600, 300 N, 20/50/30 % of turns, N", Source: hand, Kind: own, Want: 681.2003, Got: mean(drive.Ball, steady(1000, 60, .2), steady(600, 60, .5), steady(300, 60, .3)).Load, Tol: 1e-7, Why: "seven digits given"},
		{Name: "ramp 200 to 1000 N", Source: quad, Kind: own, Want: 678.242288603, Got: mean(drive.Ball, ramp(200, 1000)).Load, Tol: 1e-12, Why: "twelve digits given"},
		{Name: "ramp 2 to 0.5 N", Source: quad, Kind: own, Want: 1.38491456419, Got: mean(drive.Ball, ramp(2, 0.5)).Load, Tol: 4e-12, Why: "twelve digits given"},
		{Name: "the same, roller", Source: quad, Kind: own, Want: 1.40327885395, Got: mean(drive.Roller, ramp(2, 0.5)).Load, Tol: 4e-12, Why: "twelve digits given"},
		{Name: "ramp 1 to 1.08 N, roller", Source: quad, Kind: own, Want: 1.04059790913, Got: mean(drive.Roller, ramp(1, 1.08)).Load, Tol: 5e-12, Why: "twelve digits given"},
		{Name: "ramp from nothing to 1 N, roller", Source: quad, Kind: own, Want: 0.644100106142, Got: mean(drive.Roller, ramp(0, 1)).Load, Tol: 1e-12, Why: "twelve digits given"},
		{Name: "ramp 0.29 to 1 N, handbook ÷ mean", Source: "(a + 2b)/3 over the exact mean, largest over a/b by a scan", Kind: own, Want: 1.08354730, Got: 2.29 / 3 / mean(drive.Ball, ramp(0.29, 1)).Load, Tol: 5e-9, Why: nine},
	})
}

func TestBearingDutyRefuses(t *testing.T) {
	_, err := drive.MeanBearingLoad(nil, 2)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.MeanBearingLoad: blocks = 0: allowed 1 to 1000\n"+
		"drive.MeanBearingLoad: exponent = 2: allowed 3 to 3.33333")
	_, err = drive.MeanBearingLoad([]drive.BearingBlock{{From: 1, To: 1, Speed: 1, Time: 1}, {From: -1, To: math.NaN(), Speed: 1, Time: 1}}, 3)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "block 2: drive.BearingBlock.From = -1 N: allowed 0 to 1e+09 N\n"+
		"drive.BearingBlock.To = NaN N: allowed 0 to 1e+09 N")
	_, err = drive.MeanBearingLoad([]drive.BearingBlock{{From: 1, To: 1, Time: 1}}, 3)
	assert.EqualError(t, err, "drive.MeanBearingLoad: revolutions of all blocks = 0: allowed 1e-12 or more")
	m, err := drive.MeanBearingLoad([]drive.BearingBlock{{Speed: 1, Time: 1}, {From: 5, To: 5, Speed: 9}}, 3)
	require.NoError(t, err)
	assert.Equal(t, drive.BearingMean{Speed: 1}, m, "no load, and a block of no time")
	m, err = drive.MeanBearingLoad([]drive.BearingBlock{{From: 2, To: 2, Speed: 1, Time: 1}, {From: 5, To: 7, Time: 1}}, 3)
	require.NoError(t, err)
	assert.Equal(t, drive.BearingMean{Load: 2, Speed: 0.5, Most: 7}, roundMean(m), "a rest under load")
}

func roundMean(m drive.BearingMean) drive.BearingMean {
	m.Load = math.Round(m.Load*1e12) / 1e12
	return m
}

func TestPropertyBearingDuty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		exponent := rapid.SampledFrom([]float64{drive.Ball, 3.1, drive.Roller}).Draw(t, "exponent")
		blocks := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) drive.BearingBlock {
			from := draw.Log(10, 1e4).Draw(t, "from")
			return drive.BearingBlock{From: from, To: from * draw.Log(0.5, 2).Draw(t, "to"),
				Speed: draw.Log(0.01, 10).Draw(t, "speed"), Time: draw.Log(1, 1e5).Draw(t, "time")}
		}), 1, 5).Draw(t, "blocks")
		mean := func(blocks ...drive.BearingBlock) drive.BearingMean {
			m, err := drive.MeanBearingLoad(blocks, exponent)
			require.NoError(t, err)
			return m
		}
		m := mean(blocks...)
		// The lives used up block by block add up to what the mean uses up.
		used, time := 0.0, 0.0
		lo, hi := math.Inf(1), 0.0
		for _, b := range blocks {
			one := mean(b)
			l, err := drive.Bearing{Dynamic: 1e6, Static: 1e6, Exponent: exponent}.Life(one.Load, one.Speed, 0.9)
			require.NoError(t, err)
			used, time = used+b.Time/l.Seconds, time+b.Time
			lo, hi = min(lo, b.From, b.To), max(hi, b.From, b.To)
		}
		l, err := drive.Bearing{Dynamic: 1e6, Static: 1e6, Exponent: exponent}.Life(m.Load, m.Speed, 0.9)
		require.NoError(t, err)
		require.InEpsilon(t, used, time/l.Seconds, 1e-9)
		require.GreaterOrEqual(t, m.Load, lo*(1-1e-12))
		require.LessOrEqual(t, m.Load, hi*(1+1e-12))
		require.Equal(t, hi, m.Most)

		// Equal blocks are one; a ramp cut in two is the same ramp, whichever way it runs.
		b := blocks[0]
		one := mean(b)
		twice := mean(b, b)
		require.InEpsilon(t, one.Load, twice.Load, 1e-12)
		require.InEpsilon(t, one.Speed, twice.Speed, 1e-12)
		cut := draw.Uniform(0.01, 0.99).Draw(t, "cut")
		at := b.From + cut*(b.To-b.From)
		first := drive.BearingBlock{From: b.From, To: at, Speed: b.Speed, Time: b.Time * cut}
		second := drive.BearingBlock{From: b.To, To: at, Speed: b.Speed, Time: b.Time * (1 - cut)}
		require.InEpsilon(t, one.Load, mean(first, second).Load, 1e-11)
		require.GreaterOrEqual(t, one.Load, (b.From+b.To)/2*(1-1e-12), "no less than the plain mean")

		// Loads scale, time and order do not matter.
		k := draw.Log(0.5, 2).Draw(t, "factor")
		other := make([]drive.BearingBlock, len(blocks))
		for i, b := range blocks {
			other[len(blocks)-1-i] = drive.BearingBlock{From: b.From * k, To: b.To * k, Speed: b.Speed, Time: b.Time * k}
		}
		require.InEpsilon(t, m.Load*k, mean(other...).Load, 1e-11)
	})
}

// The series near a level load and the closed form of a ramp meet.
func TestPropertyEvenLoadMeets(t *testing.T) {
	mean := func(half, exponent float64) float64 {
		m, err := drive.MeanBearingLoad([]drive.BearingBlock{{From: 1 - half, To: 1 + half, Speed: 1, Time: 1}}, exponent)
		require.NoError(t, err)
		return m.Load
	}
	for _, p := range []float64{drive.Ball, drive.Roller} {
		below, at, above := mean(0.049999, p), mean(0.05, p), mean(0.050001, p)
		assert.InEpsilon(t, at, below, 2e-7)
		assert.InDelta(t, 2*at, below+above, 1e-11, "no step")
	}
}
