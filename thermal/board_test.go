package thermal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
)

func TestCheckBoard(t *testing.T) {
	const how = "Bessel functions in 25-digit arithmetic, and a shooting solution of the equation"
	copper, err := thermal.CopperArea(80 - 1.9)
	require.NoError(t, err)
	b := thermal.Board{Source: 0.004, Radius: 0.040, Sheet: 390 * 70e-6, Coefficient: 20}
	r, err := b.Resistance()
	require.NoError(t, err)
	// Without the pad's own faces in parallel.
	ring := 1 / (1/r - 20*math.Pi*16e-6)
	perfect := b
	perfect.Sheet = 10
	flat, err := perfect.Resistance()
	require.NoError(t, err)
	wide := b
	wide.Radius = 1
	endless, err := wide.Resistance()
	require.NoError(t, err)
	via, err := thermal.Vias(1, 0.3e-3, 25e-6, 1.6e-3, 390)
	require.NoError(t, err)
	strip := thermal.Trace{Width: 1e-3, Thickness: 35e-6}
	cold, err := strip.Resistance(0.05, material.Celsius(20))
	require.NoError(t, err)
	hot, err := strip.Resistance(0.05, material.Celsius(80))
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("copper for 78.1 K/W [in²]", "a maker's application report as quoted by its readers", verify.Practice, 0.99, copper/(0.0254*0.0254), 0.005/0.99, "printed to 0.01 in²"),
		row("copper for 78.1 K/W [in²]", "77.5/78.1", verify.Own, 0.992317541613, copper/(0.0254*0.0254), 1e-11, digits),
		row("ring around the pad", how, verify.Own, 19.0130130799, ring, 1e-11, digits),
		row("board with the pad", how, verify.Own, 18.656415007, r, 1e-10, "11 digits"),
		row("perfect spreader", "1/(h·π·b²)", verify.Own, 9.94718394324, flat, 0.003, "the sheet is not quite perfect"),
		row("board without end", how, verify.Own, 13.9257971846, 1/(1/endless-20*math.Pi*16e-6), 1e-9, "1 m is 27 decay lengths"),
		row("via barrel", "L/(k·π·(d−w)·w) in 25-digit arithmetic", verify.Own, 189.947158, via, 3e-9, "nine digits"),
		row("strip at 20 °C [mΩ]", "ρ·L/A", verify.Own, 24.62857, cold*1e3, 1e-7, "seven digits"),
		row("strip at 80 °C [mΩ]", "the same with 0.00393 a kelvin, where ours is 1/254.5", verify.Own, 30.43599, hot*1e3, 4e-5, "0.00393 is rounded from 0.003929"),
	})
}

func TestCheckTraces(t *testing.T) {
	const how = "the fit turned round, in double precision; its constants as printed by many"
	var rows []verify.Row
	for _, v := range []struct {
		current, rise, ounces float64
		buried                bool
		millimetres           float64
	}{
		{1, 10, 1, false, 0.30037622}, {1, 10, 1, true, 0.78141067}, {2, 20, 1, false, 0.51308022},
		{2.5, 20, 1, false, 0.69799812}, {5, 10, 1, false, 2.76542643}, {10, 30, 2, false, 1.84664178},
	} {
		// An ounce is 1.378 mil in these tools.
		tr := thermal.Trace{Width: v.millimetres / 1e3, Thickness: v.ounces * 1.378 * 25.4e-6, Buried: v.buried}
		c, err := tr.Current(v.rise)
		require.NoError(t, err)
		require.Nil(t, c.Beyond)
		rows = append(rows, row(fmt.Sprintf("%.4g mm, %g oz, %g K [A]", v.millimetres, v.ounces, v.rise), how, verify.Own, v.current, c.Current, 2e-8, "eight digits of the width"))
	}
	verify.Table(t, rows)
	hot, err := thermal.Trace{Width: 0.02, Thickness: 70e-6}.Current(150)
	require.NoError(t, err)
	require.Len(t, hot.Beyond, 3)
}

func TestPropertyBoard(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := thermal.Board{
			Source: draw.Log(1e-3, 0.01).Draw(t, "source"), Sheet: draw.Log(1e-3, 0.2).Draw(t, "sheet"),
			Coefficient: draw.Log(5, 50).Draw(t, "coefficient"),
		}
		b.Radius = b.Source * draw.Log(1.05, 20).Draw(t, "ratio")
		r, err := b.Resistance()
		require.NoError(t, err)
		// More board, copper or air: less resistance; never less than of a perfect spreader.
		for _, change := range []func(*thermal.Board){
			func(b *thermal.Board) { b.Radius *= 1.05 }, func(b *thermal.Board) { b.Sheet *= 1.05 }, func(b *thermal.Board) { b.Coefficient *= 1.05 },
		} {
			better := b
			change(&better)
			less, err := better.Resistance()
			require.NoError(t, err)
			require.LessOrEqual(t, less, r*(1+1e-12))
		}
		require.GreaterOrEqual(t, r*(1+1e-12), 1/(math.Pi*b.Radius*b.Radius*b.Coefficient))
		// Inside, a trace needs 2^(1/0.725) of the section for the same current.
		tr := thermal.Trace{Width: draw.Log(1e-4, 5e-3).Draw(t, "width"), Thickness: 35e-6}
		rise := draw.Log(10, 100).Draw(t, "rise")
		out, err := tr.Current(rise)
		require.NoError(t, err)
		tr.Buried, tr.Width = true, tr.Width*2.60143984071
		in, err := tr.Current(rise)
		require.NoError(t, err)
		near(t, out.Current, in.Current, 1e-10)
		n := rapid.IntRange(1, 50).Draw(t, "holes")
		one, err := thermal.Vias(1, 3e-4, 25e-6, 1.6e-3, 390)
		require.NoError(t, err)
		many, err := thermal.Vias(n, 3e-4, 25e-6, 1.6e-3, 390)
		require.NoError(t, err)
		near(t, one/float64(n), many, 1e-13)
	})
}
