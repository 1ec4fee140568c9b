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

func must(t require.TestingT) func(x float64, err error) float64 {
	return func(x float64, err error) float64 {
		require.NoError(t, err)
		return x
	}
}

// pintoTadmor returns share and reduced time as the paper has them, by the height ξ
// of the upper position.
func pintoTadmor(xi float64) (share, time float64) {
	root := math.Sqrt((1 - xi) * (1 + 3*xi))
	return (3*xi*xi - 1 + (xi-1)*root) / 2, (3*xi - 1 + 3*root) / (6 * xi * (1 - xi + root))
}

func TestCheckResidenceNewtonian(t *testing.T) {
	const source = "G. Pinto and Z. Tadmor, Polym. Eng. Sci. 10 (1970) 279, formula from memory, verified by flow-weighted integration at three pressures"
	const why = "eight digits of the independent value"
	get := must(t)
	rows := []verify.Row{
		{Name: "t/t̄ of the quickest melt", Source: source, Kind: verify.Own, Want: 0.75, Got: get(screw.ChannelTime(0)), Tol: 1e-15, Why: "exact"},
		{Name: "share by the mean time, pipe", Source: "Hagen-Poiseuille, f(t) = t̄²/2t³ from t̄/2", Kind: verify.Own, Want: 0.75, Got: get(screw.PipeShare(1)), Tol: 1e-15, Why: "exact"},
	}
	for _, v := range [][3]float64{
		{0.01, 0.75002373, 0.67040967}, {0.05, 0.75059431, 0.68524570}, {0.10, 0.75238987, 0.70350102}, {0.25, 0.76551829, 0.75656714},
		{0.50, 0.82246071, 0.84053547}, {0.75, 0.98431649, 0.92073923}, {0.95, 1.70899271, 0.98388143}, {0.99, 3.31716756, 0.99672373},
	} {
		share, time := pintoTadmor(v[2])
		name := fmt.Sprintf(" at F = %g", v[0])
		rows = append(rows,
			verify.Row{Name: "t/t̄" + name, Source: source, Kind: verify.Own, Want: v[1], Got: get(screw.ChannelTime(v[0])), Tol: 1e-8, Why: why},
			verify.Row{Name: "F of the height ξ" + name, Source: source, Kind: verify.Own, Want: v[0], Got: share, Tol: 1.5e-6, Why: "ξ to eight decimals, of which F is a difference"},
			verify.Row{Name: "t/t̄ of the height ξ" + name, Source: source, Kind: verify.Own, Want: v[1], Got: time, Tol: 1e-6, Why: "ξ to eight decimals, 1 − ξ to six digits"})
	}
	for _, v := range [][2]float64{{0.76, 0.20229162}, {0.8, 0.42777815}, {0.9, 0.65545549}, {1, 0.76303332}, {1.25, 0.88176550},
		{1.5, 0.92923123}, {3, 0.98739338}, {5, 0.99600091}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("F at t/t̄ = %g", v[0]), Source: source, Kind: verify.Own, Want: v[1],
			Got: get(screw.ChannelShare(v[0])), Tol: 3e-8, Why: why})
	}
	verify.Table(t, rows)
}

// The paper's two functions of ξ and the ones of s are the same curve; there and back
// is where one was.
func TestPropertyResidenceNewtonian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		get := must(t)
		share, time := pintoTadmor(draw.Uniform(0.67, 1-1e-6).Draw(t, "ξ"))
		same(t, time, get(screw.ChannelTime(share)), 1e-9, "time")
		require.InDelta(t, share, get(screw.ChannelShare(time)), 1e-12)

		rest := draw.Log(1e-15, 0.99).Draw(t, "rest")
		share = 1 - rest
		slip := 1e-15 / (share * rest) // of a share by rounding of the time at either end
		require.InDelta(t, share, get(screw.ChannelShare(get(screw.ChannelTime(share)))), 1e-14+1e-15/share)
		require.InDelta(t, share, get(screw.PipeShare(get(screw.PipeTime(share)))), 1e-15)
		require.Less(t, get(screw.ChannelTime(share*(1-1e-9))), get(screw.ChannelTime(share))*(1+slip))
		time = 0.75 / math.Max(1e-4, rest)
		same(t, time, get(screw.ChannelTime(get(screw.ChannelShare(time)))), 1e-14*(1+time*time), "there and back")
		// The screw's quickest melt is slower than the pipe's, its slowest quicker.
		require.Greater(t, get(screw.ChannelTime(0)), get(screw.PipeTime(0)))
		require.Less(t, get(screw.ChannelTime(0.999)), get(screw.PipeTime(0.999)))
	})
}

func TestPassingRefuses(t *testing.T) {
	for _, bad := range []float64{-1e-9, 1, 2, math.NaN(), math.Inf(1)} {
		_, err := screw.ChannelTime(bad)
		require.ErrorIs(t, err, material.ErrInvalid)
		_, err = screw.PipeTime(bad)
		require.ErrorIs(t, err, material.ErrInvalid)
	}
	for _, bad := range []float64{-1e-9, math.NaN(), math.Inf(1)} {
		_, err := screw.ChannelShare(bad)
		require.ErrorIs(t, err, material.ErrInvalid)
		_, err = screw.PipeShare(bad)
		require.ErrorIs(t, err, material.ErrInvalid)
	}
}

// BenchmarkChannelTime compares a time at a share with a dozen square roots.
func BenchmarkChannelTime(b *testing.B) {
	sum := 0.0
	versus.Report(b, "x-12-sqrt", func(i int) {
		x, err := screw.ChannelTime(float64(i&255) / 256)
		if err != nil {
			b.Fatal(err)
		}
		sum += x
	}, func(i int) {
		x := float64(i & 255)
		for range 12 {
			x = math.Sqrt(1 + x)
		}
		sum += x
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
