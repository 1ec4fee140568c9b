package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/material"
)

func Example() {
	run([]string{"-out", "-"}, os.Stdout, os.Stderr)
	// Output:
	// GROUND PLANT POTS through a nozzle of 1.5 mm, 10 mm long (invented numbers)
	//
	//   melt °C  g in s       bar  entrance  rate 1/s  viscosity Pa·s  law   off %
	//       200  12.1 in 180   17.9       2.4       365           159.1  164.6  -3.3
	//       200  24.4 in 120   30.3       3.9      1105            89.6   84.5  +6.0
	//       200  25.2 in 60    37.1       5.3      2282            52.3   54.6  -4.3
	//       200  41.0 in 60    49.4       6.7      3713            43.1   40.8  +5.8
	//       215  12.3 in 180   17.4       2.1       396           144.7  137.7  +5.1
	//       215  24.1 in 120   24.2       3.4      1165            66.9   72.0  -7.0
	//       215  24.9 in 60    34.8       4.6      2408            47.0   46.5  +1.2
	//       215  40.7 in 60    39.9       5.8      3936            32.5   34.6  -6.1
	//       230  12.0 in 180   13.9       1.8       365           124.4  127.2  -2.2
	//       230  24.6 in 120   23.5       3.0      1122            68.5   64.7  +5.9
	//       230  25.3 in 60    28.6       4.1      2307            39.8   41.9  -5.0
	//       230  40.2 in 60    37.8       5.1      3666            33.4   31.7  +5.4
	//
	// Power law at 215 °C, 12 points, 9 more than parameters; points scatter by 5.8 %
	//   Consistency          5044 Pa·sⁿ  3664 to 6944 in 95 cases of 100
	//   Index              0.3981        0.3542 to 0.442 in 95 cases of 100
	//   TemperatureSlope 0.008609 1/K    0.005495 to 0.01172 in 95 cases of 100
	//   The points of one temperature share the error of its slope: count on 85 to 95 cases.
	//
	// What the machine will meet
	//   in the nozzle            2300 1/s at 215 °C: 47.79 Pa·s, 45.73 to 49.94
	//   in the screw channel       45 1/s at 215 °C: 510.1 Pa·s, 436.8 to 595.8
	//                           shear rate 45 1/s, viscosity law fitted from 365 to 3.94e+03 1/s
	//   in the nozzle, too hot   2300 1/s at 245 °C: 36.91 Pa·s, 33.29 to 40.93
	//                           melt at 245 °C, viscosity law fitted from 200 to 230 °C
}

func TestPicture(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	var out, faults bytes.Buffer
	require.Zero(t, run([]string{"-out", folder}, &out, &faults), faults.String())
	assert.Contains(t, out.String(), "flowcurve.svg")
	svg, err := os.ReadFile(filepath.Join(folder, "flowcurve.svg"))
	require.NoError(t, err)
	text := string(svg)
	assert.True(t, strings.HasSuffix(strings.TrimSpace(text), "</svg>"))
	for _, word := range []string{"shear rate / (1/s)", "viscosity / (Pa·s)", "200 °C", "215 °C", "230 °C"} {
		assert.Contains(t, text, word)
	}
}

// The law must run amid its own points, and they scatter about it as it says.
func TestLawHoldsItsPoints(t *testing.T) {
	p, err := find(notebook)
	require.NoError(t, err)
	var sum, squares float64
	for _, at := range p.points {
		off := math.Log(at.Viscosity / p.law.At(at.ShearRate, at.Temperature, 0))
		assert.Less(t, math.Abs(off), 2*p.fit.Residual)
		sum += off
		squares += off * off
	}
	assert.InDelta(t, 0, sum, 1e-9)
	assert.InEpsilon(t, p.fit.Residual, math.Sqrt(squares/float64(p.fit.Freedom)), 1e-9)
}

func TestFaults(t *testing.T) {
	for _, args := range [][]string{{"-out", ""}, {"more"}, {"-what"}} {
		var faults bytes.Buffer
		assert.Equal(t, 2, run(args, &bytes.Buffer{}, &faults))
		assert.NotEmpty(t, faults.String())
	}
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	var out, faults bytes.Buffer
	assert.Equal(t, 1, run([]string{"-out", file}, &out, &faults))
	assert.Empty(t, out.String())
	assert.Contains(t, faults.String(), "-out")
	assert.ErrorIs(t, tell(notebook[:1], "-", &out), material.ErrTooFew)
	assert.ErrorIs(t, tell([]weighing{{200, 10, 60, -1, 0}}, "-", &out), material.ErrInvalid)
}
