package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/internal/verify"
	"meltflight/material"
)

// Two tables of power-law constants. They disagree by up to a factor of two for one
// resin, so much do grades differ.
func TestCheckPowerLaw(t *testing.T) {
	const (
		westover = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, constants from memory, formula evaluated independently"
		osswald  = "T. A. Osswald and G. Menges, Materials Science of Polymers for Engineers, table of power-law constants, from memory, formula evaluated independently"
		own      = "formula evaluated independently, constants made up"
	)
	type constants struct {
		name          string
		celsius, m, n float64
		want          []float64 // at 100 and, if there, 1000 1/s
	}
	var rows []verify.Row
	add := func(source string, kind verify.Kind, c constants, low, tol float64) {
		law := material.PowerLaw{Consistency: c.m, Index: c.n, Reference: material.Celsius(c.celsius)}
		require.NoError(t, law.Validate())
		for i, want := range c.want {
			rate := low * math.Pow(10, float64(i))
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g °C, %g 1/s [Pa·s]", c.name, c.celsius, rate), Source: source, Kind: kind,
				Want: want, Got: law.At(rate, law.Reference, 0), Tol: tol, Why: "digits of the independent value"})
		}
	}
	for _, c := range []constants{
		{"ABS", 170, 119000, 0.25, []float64{3763.11, 669.186}},
		{"ABS", 190, 62900, 0.25, []float64{1989.07, 353.713}},
		{"ABS", 210, 39300, 0.25, []float64{1242.78, 221.000}},
		{"PS", 190, 44700, 0.22, []float64{1231.14, 204.318}},
		{"PS", 225, 15600, 0.28, []float64{566.40, 107.926}},
		{"HIPS", 170, 75800, 0.2, []float64{1904.01, 301.765}},
		{"HIPS", 190, 45700, 0.21, []float64{1202.03, 194.947}},
		{"HIPS", 210, 36100, 0.19, []float64{865.98, 134.124}},
		{"PP", 180, 6790, 0.37, []float64{373.14, 87.472}},
		{"PP", 190, 4890, 0.41, []float64{323.08, 83.044}},
		{"PP", 200, 4350, 0.41, []float64{287.40, 73.874}},
		{"HDPE", 180, 6190, 0.56, []float64{816.00, 296.272}},
		{"HDPE", 220, 3730, 0.61, []float64{619.03, 252.179}},
		{"LDPE", 160, 9360, 0.41, []float64{618.41, 158.956}},
		{"LDPE", 180, 5210, 0.46, []float64{433.35, 124.979}},
		{"LDPE", 200, 4310, 0.47, []float64{375.39, 110.784}},
		{"PA6", 225, 2620, 0.63, []float64{476.76, 203.377}},
		{"PA6", 230, 1950, 0.66, []float64{407.41, 186.224}},
		{"PA6", 235, 1810, 0.66, []float64{378.16, 172.854}},
		{"PMMA", 220, 88300, 0.19, []float64{2118.17, 328.066}},
		{"PMMA", 240, 42700, 0.25, []float64{1350.29, 240.120}},
		{"PMMA", 260, 26200, 0.27, []float64{908.45, 169.161}},
		{"PC", 280, 8390, 0.64, []float64{1598.68, 697.850}},
		{"PC", 300, 4310, 0.67, []float64{942.93, 441.039}},
		{"PC", 320, 1080, 0.8, []float64{429.96, 271.284}},
	} {
		add(westover, verify.Memory, c, 100, 1.5e-5)
	}
	for _, c := range []constants{
		{"PS", 170, 28000, 0.28, []float64{1016.619}},
		{"HDPE", 180, 20000, 0.41, []float64{1321.387}},
		{"LDPE", 160, 6000, 0.39, []float64{361.536}},
		{"PP", 200, 7500, 0.38, []float64{431.580}},
		{"PA66", 300, 600, 0.66, []float64{125.358}},
		{"PC", 300, 600, 0.98, []float64{547.207}},
		{"PVC", 180, 17000, 0.26, []float64{562.923}},
	} {
		add(osswald, verify.Memory, c, 100, 5e-6)
	}
	add(own, verify.Own, constants{"n = 0.35", 200, 1e4, 0.35, []float64{10000, 2238.7211, 501.18723, 112.20185}}, 1, 5e-8)
	verify.Table(t, rows)
}
