package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
	"meltflight/thermal/thermaltest"
)

const cengel = "Çengel and Ghajar, Heat and Mass Transfer, 5th ed., "

func TestCheckPath(t *testing.T) {
	// Example 3-10: a transistor case at 85 °C in 25 °C by 20 K/W loses 3 W.
	_, transistor, _ := thermal.Path{SinkToAir: 20}.Temperatures(3, material.Celsius(25))
	// Example 3-11: 60 W, case at 90 °C in 30 °C.
	_, heatSink, _ := thermal.Path{SinkToAir: 1.0}.Temperatures(60, material.Celsius(30))
	// Example 3-5: transistors on a copper plate, a tenth of a metre square each.
	joint, err := thermal.Surface(42000, 8e-4)
	require.NoError(t, err)
	plate, err := thermal.Layer(0.01, 386, 0.1*0.1)
	require.NoError(t, err)
	air, err := thermal.Surface(25, 0.1*0.1)
	require.NoError(t, err)
	chain := thermal.Path{JunctionToCase: joint, CaseToSink: plate, SinkToAir: air}
	q := (70 - 20) / chain.Total()
	face, plateBack, plateFront := chain.Temperatures(q, material.Celsius(20))
	pad, err := thermal.Layer(0.2e-3, 3, 100e-6)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("transistor case above air", cengel+"Example 3-10", verify.Print, 60, transistor-material.Celsius(25), 1e-12, "exact"),
		row("heat sink of 1.0 K/W, case above air", cengel+"Example 3-11", verify.Print, 60, heatSink-material.Celsius(30), 1e-12, "exact"),
		row("dry joint", cengel+"Example 3-5", verify.Print, 0.030, joint, 0.0005/0.030, "printed to 0.001 K/W"),
		row("copper plate", cengel+"Example 3-5", verify.Print, 0.0026, plate, 0.00005/0.0026, "printed to 0.0001 K/W"),
		row("surface to air", cengel+"Example 3-5", verify.Print, 4.0, air, 1e-12, "exact"),
		row("whole chain", cengel+"Example 3-5", verify.Print, 4.0326, chain.Total(), 0.0003/4.0326,
			"printed as the sum of the rounded links, of which the joint alone is 0.00024 K/W high"),
		row("heat", cengel+"Example 3-5", verify.Print, 12.4, q, 0.05/12.4, "printed to 0.1 W"),
		row("jump at the joint", cengel+"Example 3-5", verify.Print, 0.37, face-plateBack, 0.005/0.37, "printed to 0.01 K"),
		row("heat, all digits", "1/hA and L/kA in 30-digit arithmetic", verify.Own, 12.3997093579, q, 1e-11, digits),
		row("drop across the plate", "12.3997093579 W times 0.00259067357513 K/W", verify.Own, 0.0321235994, plateBack-plateFront, 1e-8,
			"difference of two temperatures near 293 K, each with 6e-14 K of rounding"),
		row("pad of 0.2 mm, 3 W/(m·K), 1 cm²", "0.2 mm/(3·100 mm²) = 2/3 K/W", verify.Own, 2./3, pad, 1e-14, "exact"),
	})
}

// A chip glued to a plate, air on both sides, heat both ways.
func TestCheckTwoWays(t *testing.T) {
	const source = "Incropera, DeWitt, Bergman and Lavine, Fundamentals of Heat and Mass Transfer, 6th ed., Example 3.2, p. 107"
	top, err := thermal.Surface(100, 1)
	require.NoError(t, err)
	epoxy, err := thermal.Surface(1/0.9e-4, 1)
	require.NoError(t, err)
	plate, err := thermal.Layer(8e-3, 239, 1)
	require.NoError(t, err)
	both, err := thermal.Parallel(top, epoxy+plate+top)
	require.NoError(t, err)
	chip, _, _ := thermal.Path{SinkToAir: both}.Temperatures(1e4, material.Celsius(25))
	verify.Table(t, []verify.Row{
		row("chip [°C]", source, verify.Memory, 75.3, material.ToCelsius(chip), 0.05/75.3, "printed to 0.1 °C"),
		row("chip [°C]", "two resistances side by side in 30-digit arithmetic", verify.Own, 75.3067880095893, material.ToCelsius(chip), 1e-14*300/75, "rounding of 348 K"),
	})
}

func TestPropertyLinks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := draw.Log(1e-3, 0.1).Draw(t, "thickness")
		k := draw.Log(0.02, 400).Draw(t, "conductivity")
		a := draw.Log(1e-6, 1).Draw(t, "area")
		n := draw.Log(0.1, 10).Draw(t, "scale")
		layer, err := thermal.Layer(l, k, a)
		require.NoError(t, err)
		// All lengths n times: n/n² of the resistance; twice half a layer is one.
		scaled, err := thermal.Layer(n*l, k, n*n*a)
		require.NoError(t, err)
		near(t, layer/n, scaled, 1e-13)
		better, err := thermal.Layer(l/2, 2*k, a)
		require.NoError(t, err)
		near(t, layer/4, better, 1e-13)
		// A layer conducts as a surface of coefficient k/l does.
		surface, err := thermal.Surface(k/l, a)
		require.NoError(t, err)
		near(t, layer, surface, 1e-13)
		// Two halves of the area side by side are the whole.
		half, err := thermal.Surface(k/l, a/2)
		require.NoError(t, err)
		both, err := thermal.Parallel(half, half)
		require.NoError(t, err)
		near(t, surface, both, 1e-13)
		other := layer * draw.Log(0.01, 100).Draw(t, "other")
		one, err := thermal.Parallel(layer, other)
		require.NoError(t, err)
		two, err := thermal.Parallel(other, layer)
		require.NoError(t, err)
		near(t, one, two, 1e-14)
		require.Less(t, one, math.Min(layer, other))
		require.Greater(t, one, math.Min(layer, other)/2*(1-1e-12))
		// Heat of the two ways at the same difference adds.
		near(t, 1/layer+1/other, 1/one, 1e-13)
	})
}

func TestPropertyPathAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := thermaltest.Paths().Draw(t, "path")
		ambient := thermaltest.Ambients().Draw(t, "ambient")
		loss := draw.Log(0.01, 20).Draw(t, "loss")
		junction, c, sink := p.Temperatures(loss, ambient)
		near(t, junction, ambient+loss*p.Total(), 1e-14)
		near(t, sink, ambient+loss*p.SinkToAir, 1e-14)
		near(t, junction, c+loss*p.JunctionToCase, 1e-14)
		_, _, bare := thermal.Path{SinkToAir: p.Total()}.Temperatures(loss, ambient)
		near(t, junction, bare, 1e-14)
	})
}

func TestPathErrors(t *testing.T) {
	err := thermal.Path{}.Validate()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "thermal.Path.Total = 0 K/W: allowed at least 0.001 K/W")
	err = thermal.Path{JunctionToCase: math.NaN(), CaseToSink: -1, SinkToAir: 2e4}.Validate()
	assert.EqualError(t, err, "thermal.Path.JunctionToCase = NaN K/W: allowed 0 to 10000 K/W\n"+
		"thermal.Path.CaseToSink = -1 K/W: allowed 0 to 10000 K/W\n"+
		"thermal.Path.SinkToAir = 20000 K/W: allowed 0 to 10000 K/W")
	_, err = thermal.Layer(0, 0, math.Inf(1))
	assert.EqualError(t, err, "thermal.Layer: thickness = 0 m: allowed 1e-07 to 1 m\n"+
		"thermal.Layer: conductivity = 0 W/(m·K): allowed 0.001 to 10000 W/(m·K)\n"+
		"thermal.Layer: area = +Inf m²: allowed 1e-08 to 100 m²")
	_, err = thermal.Surface(-5, 0)
	assert.EqualError(t, err, "thermal.Surface: coefficient = -5 W/(m²·K): allowed 0.01 to 1e+06 W/(m²·K)\n"+
		"thermal.Surface: area = 0 m²: allowed 1e-08 to 100 m²")
	_, err = thermal.Parallel(0, math.NaN())
	assert.EqualError(t, err, "thermal.Parallel: first = 0 K/W: allowed 1e-13 to 1e+11 K/W\n"+
		"thermal.Parallel: second = NaN K/W: allowed 1e-13 to 1e+11 K/W")
}
