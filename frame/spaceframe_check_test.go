package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/root"
	"meltflight/internal/verify"
	"meltflight/material"
)

// along is a beam of one member along x, held at its ends, that stays in the x-z
// plane and, unless it may stretch, does not move along x.
func along(length float64, section frame.Section, metal material.Metal, stretch bool, start, end [6]bool) frame.SpaceFrame {
	s := frame.SpaceFrame{
		Nodes:    [][3]float64{{0, 0, 0}, {length, 0, 0}},
		Members:  []frame.Member{{From: 0, To: 1, Section: section, Metal: metal}},
		Supports: []frame.Support{{Node: 0, Held: start}, {Node: 1, Held: end}},
	}
	inPlane(&s)
	if !stretch {
		for n := range 2 {
			s.Supports = append(s.Supports, frame.Support{Node: n, Held: [6]bool{true}})
		}
	}
	return s
}

// upright returns the n lowest frequencies of such a beam that move it in its
// plane: between still ends it also swings across, stretches and twists.
func upright(t require.TestingT, s frame.SpaceFrame, n int) (f []float64) {
	modes, err := s.Modes(6 * n)
	require.NoError(t, err)
	for _, m := range modes {
		u, err := m.Along(0, 0.3137*s.Nodes[1][0])
		require.NoError(t, err)
		if math.Abs(u[2]) > 1e-3 && len(f) < n {
			f = append(f, m.Frequency)
		}
	}
	require.Len(t, f, n)
	return f
}

var (
	free    [6]bool
	clamped = [6]bool{true, false, true, false, true, false}
	pinned  = [6]bool{true, false, true, false, false, false}
	guided  = [6]bool{true, false, false, false, true, false}
)

// TestCheckTimoshenkoMembers holds λ = √(ωL²√(ρA/EI)) against the exact equations.
func TestCheckTimoshenkoMembers(t *testing.T) {
	const lee = "exact Timoshenko determinants, own; J. Lee and W. Schultz, J. Sound Vib. 269 (2004) 609, tables, give them to six digits, from memory"
	metal := material.Metal{Density: 7850, Young: 210e9, Poisson: 0.3}
	var rows []verify.Row
	for _, c := range []struct {
		ends       string
		start, end [6]bool
		want       [4][2]float64
	}{
		{"pinned", pinned, pinned, [4][2]float64{{3.14132659, 6.28105854}, {3.13498439, 6.23136493}, {3.11568247, 6.09066161}, {3.04533081, 5.67155190}}},
		{"clamped", clamped, clamped, [4][2]float64{{4.72839975, 7.84690499}, {4.68991088, 7.70352008}, {4.57954700, 7.33121857}, {4.24201419, 6.41793816}}},
		{"clamped-free", clamped, free, [4][2]float64{{1.87502927, 4.69278599}, {1.87323967, 4.66203606}, {1.86771383, 4.57240806}, {1.84655982, 4.28528915}}},
		{"clamped-pinned", clamped, pinned, [4][2]float64{{3.92581355, 7.06468732}, {3.90714058, 6.97477389}, {3.85176004, 6.73057218}, {3.66560929, 6.07267671}}},
	} {
		for i, h := range []float64{0.01, 0.05, 0.1, 0.2} {
			bar, err := frame.Rectangle(h, h)
			require.NoError(t, err)
			s := along(1, bar, metal, false, c.start, c.end)
			s.Members[0].ShearY, s.Members[0].ShearZ = bar.Area*5/6, bar.Area*5/6
			for k, f := range upright(t, s, 2) {
				got := math.Sqrt(2 * math.Pi * f * math.Sqrt(metal.Density*bar.Area/(metal.Young*bar.Iy)))
				rows = append(rows, verify.Row{Name: fmt.Sprintf("λ%d, %s, h/L %g", k+1, c.ends, h), Source: lee, Kind: verify.Own, Want: c.want[i][k], Got: got, Tol: 4e-9, Why: "nine digits"})
			}
		}
	}
	verify.Table(t, rows)
}

// TestCheckUniformMembers holds Euler and Bernoulli's beam, bare and under axial load.
func TestCheckUniformMembers(t *testing.T) {
	var rows []verify.Row
	tube := thinTube()
	scale := math.Sqrt(alu.Young*tube.Iy/(alu.Density*tube.Area)) / (2 * math.Pi)
	for ends, held := range map[frame.Ends][2][6]bool{
		frame.ClampedFree: {clamped, free}, frame.ClampedClamped: {clamped, clamped}, frame.ClampedPinned: {clamped, pinned},
		frame.ClampedGuided: {clamped, guided}, frame.PinnedPinned: {pinned, pinned}, frame.GuidedPinned: {guided, pinned},
	} {
		got := upright(t, along(1, tube, alu, false, held[0], held[1]), 6)
		for i, f := range got {
			b, err := frame.Eigenvalue(ends, i+1)
			require.NoError(t, err)
			rows = append(rows, verify.Row{Name: fmt.Sprintf("f%d of one member, %v [Hz]", i+1, ends), Source: "roots of the beam's own frequency equation, Blevins (1979), Table 8-1", Kind: verify.Own, Want: b * b * scale, Got: f, Tol: 1e-12, Why: "rounding"})
		}
	}
	// Under axial load, in units of √(EI/mL⁴); P/Pcr with the Pcr of those ends.
	for _, c := range []struct {
		name       string
		start, end [6]bool
		euler      float64 // Pcr·L²/π²EI
		load       float64
		want       []float64
	}{
		{"pinned", pinned, pinned, 1, 0.1, []float64{9.363128854}},
		{"pinned", pinned, pinned, 1, 0.5, []float64{6.978864200, 36.928678212}},
		{"pinned", pinned, pinned, 1, -1, []float64{13.957728399}},
		{"pinned", pinned, pinned, 1, -10, []float64{32.733774628}},
		{"clamped-free", clamped, free, 0.25, -1, []float64{4.8147715702, 23.770134423}},
		{"clamped-free", clamped, free, 0.25, 0.2, []float64{3.1682307281, 21.668062065}},
		{"clamped-free", clamped, free, 0.25, 0.5, []float64{2.5345602161, 21.105172355}},
		{"clamped-free", clamped, free, 0.25, 0.8, []float64{1.6236557019, 20.525579721}},
		{"clamped-free", clamped, free, 0.25, 0.95, []float64{0.81736376969, 20.229229677}},
		{"clamped", clamped, clamped, 4, -1, []float64{31.248581701, 74.882614695}},
		{"clamped", clamped, clamped, 4, 0.5, []float64{15.951287605, 53.762642907}},
	} {
		s := along(1, tube, alu, false, c.start, c.end)
		s.Members[0].Axial = -c.load * c.euler * math.Pi * math.Pi * alu.Young * tube.Iy
		for i, f := range upright(t, s, len(c.want)) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("ω%d, %s, P/Pcr %g", i+1, c.name, c.load), Source: "roots of the beam-column's frequency equation, own", Kind: verify.Own, Want: c.want[i], Got: f / scale, Tol: 2e-10, Why: "ten digits"})
		}
	}
	verify.Table(t, rows)
}

// TestCheckSpaceFrameBenchmarks holds published problems and one of our own.
func TestCheckSpaceFrameBenchmarks(t *testing.T) {
	var rows []verify.Row
	add := func(name, source string, kind verify.Kind, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name + " [Hz]", Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why})
	}

	// Deep beam, 10 x 2 x 2 m.
	deep := material.Metal{Density: 8000, Young: 200e9, Poisson: 0.3}
	bar := frame.Section{Area: 4, Iy: 4.0 / 3, Iz: 4.0 / 3, J: 8.0 / 3}
	beam := frame.SpaceFrame{
		Nodes:    [][3]float64{{0, 0, 0}, {10, 0, 0}},
		Members:  []frame.Member{{From: 0, To: 1, Section: bar, Metal: deep, ShearY: 0.85 * 4, ShearZ: 0.85 * 4}},
		Supports: []frame.Support{{Node: 0, Held: [6]bool{true, true, true, true}}, {Node: 1, Held: [6]bool{false, true, true}}},
	}
	const fv5 = "NAFEMS R0015, Selected Benchmarks for Natural Frequency Analysis, FV5, geometry from memory"
	printed := []float64{42.649, 42.649, 77.542, 125.00, 148.31, 148.31, 233.10, 284.55, 284.55}
	exact := []float64{42.64562, 42.64562, 77.52171, 125, 148.15648, 148.15648, 232.56513, 283.49017, 283.49017}
	for i, f := range frequencies(t, beam, 9) {
		add(fmt.Sprintf("deep beam, f%d", i+1), fv5, verify.Memory, printed[i], f, 5e-3, "the reference is of finite elements: torsion 77.542 and 233.10 are those of 20 linear ones")
		add(fmt.Sprintf("deep beam, f%d, exact", i+1), "Timoshenko's quadratic on pinned ends, κ = 0.85, and rods, by hand", verify.Own, exact[i], f, 1.2e-7, "the digits printed")
	}

	// Double cross of eight arms in a plane.
	cross := frame.SpaceFrame{Nodes: [][3]float64{{0, 0, 0}}}
	arm, err := frame.Rectangle(0.125, 0.125)
	require.NoError(t, err)
	for i := range 8 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 4)
		cross.Nodes = append(cross.Nodes, [3]float64{5 * cos, 0, 5 * sin})
		cross.Members = append(cross.Members, frame.Member{From: 0, To: i + 1, Section: arm, Metal: deep, Up: [3]float64{-sin, 0, cos}})
		cross.Supports = append(cross.Supports, frame.Support{Node: i + 1, Held: pinned})
	}
	inPlane(&cross)
	const fv2 = "NAFEMS R0015, FV2, geometry from memory"
	crossPrinted := []float64{11.336, 17.709, 17.709, 17.709, 17.709, 17.709, 17.709, 17.709, 45.345, 57.390, 57.390, 57.390, 57.390, 57.390, 57.390, 57.390}
	got := frequencies(t, cross, 16)
	for i, f := range got {
		add(fmt.Sprintf("double cross, f%d", i+1), fv2, verify.Memory, crossPrinted[i], f, 6e-3, "the reference takes arms that do not stretch: two of each group lie lower")
	}
	const dynamic = "exact dynamic stiffness with stretch by bisection, own"
	for i, want := range []float64{11.336246, 17.680766, 17.680766, 17.709380, 17.709380, 17.709380, 17.709380, 17.709380} {
		add(fmt.Sprintf("double cross, f%d, exact", i+1), dynamic, verify.Own, want, got[i], 5e-8, "eight digits")
	}
	add("double cross, f9, exact", "one arm pinned at both ends, 4π²", verify.Own, 45.34498411, got[8], 1e-9, "ten digits")
	add("double cross, f16, exact", "one arm clamped and pinned", verify.Own, 57.38973374, got[15], 1e-9, "ten digits")

	// Slender cantilever with a tip mass on its axis and beside it.
	tube, err := frame.RoundTube(0.350, 0.015)
	require.NoError(t, err)
	const card = "SFM/AFNOR, Guide de validation des progiciels de calcul de structures (1990), SDLL15/89, from memory"
	for _, c := range []struct {
		beside   float64
		printed  []float64
		rounding float64
		exact    []float64
	}{
		{0, []float64{1.65, 1.65, 16.07, 16.07, 50.02, 50.02, 76.47, 80.47, 103.2, 103.2}, 3.5e-3, []float64{1.65543339, 1.65543339, 16.0711448, 16.0711448, 50.0234541, 50.0234541, 76.4705542, 80.4480795, 103.199537, 103.199537}},
		{1, []float64{1.636, 1.642, 13.46, 13.59, 28.90, 31.96, 61.61, 63.93}, 4e-4, []float64{1.63632661, 1.64164565, 13.4551339, 13.5918857, 28.8970263, 31.9593052, 61.6076281, 63.9278990}},
	} {
		s := frame.SpaceFrame{
			Nodes:    [][3]float64{{0, 0, 0}, {10, 0, 0}},
			Members:  []frame.Member{{From: 0, To: 1, Section: tube, Metal: material.Metal{Density: 7800, Young: 2.1e11, Poisson: 0.3}}},
			Lumps:    []frame.Lump{{Node: 1, Body: frame.Body{Mass: 1000, Offset: [3]float64{0, c.beside, 0}}}},
			Supports: []frame.Support{{Node: 0, Held: all}},
		}
		for i, f := range frequencies(t, s, len(c.exact)) {
			name := fmt.Sprintf("cantilever, mass %g m beside, f%d", c.beside, i+1)
			add(name, card, verify.Memory, c.printed[i], f, c.rounding, "the digits printed; torsion 80.47 is a finite element's")
			add(name+", exact", dynamic, verify.Own, c.exact[i], f, 5e-9, "nine digits")
		}
	}

	// Portal of square tube in its plane.
	for _, c := range []struct {
		foot   [6]bool
		corner float64
		want   []float64
	}{
		{clamped, 0, []float64{86.4595787, 154.808413, 431.847624, 657.222792}},
		{clamped, 5, []float64{37.3651240, 154.775654, 429.253018, 617.031812}},
		{pinned, 0, []float64{38.8868088, 145.016365, 384.065327, 466.573354}},
	} {
		s := frame.SpaceFrame{Nodes: [][3]float64{{0, 0, 0}, {0, 0, 0.5}, {1, 0, 0.5}, {1, 0, 0}}}
		for i := range 3 {
			s.Members = append(s.Members, frame.Member{From: i, To: i + 1, Section: squareTube(), Metal: mild})
		}
		for i := range 2 {
			s.Lumps = append(s.Lumps, frame.Lump{Node: 1 + i, Body: frame.Body{Mass: c.corner}})
			s.Supports = append(s.Supports, frame.Support{Node: 3 * i, Held: c.foot})
		}
		inPlane(&s)
		for i, f := range frequencies(t, s, 4) {
			add(fmt.Sprintf("portal, corner mass %g, turns at foot %v, f%d", c.corner, !c.foot[4], i+1), dynamic, verify.Own, c.want[i], f, 5e-9, "nine digits")
		}
	}
	verify.Table(t, rows)
}

// TestCheckColumns holds buckling loads and deflections that have closed forms.
func TestCheckColumns(t *testing.T) {
	tube := thinTube()
	var rows []verify.Row
	const euler = "Euler's cases; S. Timoshenko and J. Gere, Theory of Elastic Stability, ch. 2, from memory"
	ei := alu.Young * tube.Iy
	tan := 4.4934094579090641753 // tan x = x
	for _, c := range []struct {
		name       string
		start, end [6]bool
		want       float64 // Pcr·L²/EI
	}{
		{"clamped-free", clamped, free, math.Pi * math.Pi / 4},
		{"pinned", pinned, [6]bool{2: true}, math.Pi * math.Pi},
		{"clamped-pinned", clamped, [6]bool{2: true}, tan * tan},
		{"clamped-guided", clamped, [6]bool{4: true}, math.Pi * math.Pi},
		{"clamped", clamped, [6]bool{2: true, 4: true}, 4 * math.Pi * math.Pi},
	} {
		s := along(2, tube, alu, true, c.start, c.end)
		p, err := s.Buckling(frame.Load{Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{-1000}}}})
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "Pcr·L²/EI, " + c.name, Source: euler, Kind: verify.Memory, Want: c.want, Got: p * 1000 * 4 / ei, Tol: 1e-11, Why: "rounding and a search to 1e-13"})
	}
	// With shear Engesser's load, N + κGA·... of a pinned column: 1/P = 1/PE + 1/κGA.
	s := along(2, tube, alu, true, pinned, [6]bool{2: true})
	s.Members[0].ShearZ = 0.5 * tube.Area
	p, err := s.Buckling(frame.Load{Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{-1000}}}})
	require.NoError(t, err)
	pe := math.Pi * math.Pi * ei / 4
	rows = append(rows, verify.Row{Name: "Pcr with shear, pinned [N]", Source: "F. Engesser's formula, Timoshenko and Gere, art. 2.17, from memory", Kind: verify.Memory, Want: 1 / (1/pe + 1/(alu.Shear()*0.5*tube.Area)), Got: p * 1000, Tol: 1e-11, Why: "rounding"})

	// Cantilever under its weight and a tip load, with and without shear.
	const g = 9.80665
	for _, shear := range []float64{0, 0.5 * tube.Area} {
		s := along(2, tube, alu, true, clamped, free)
		s.Members[0].ShearZ = shear
		d, err := s.Static(frame.Load{Field: [3]float64{0, 0, -g}, Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{2: -50}}}})
		require.NoError(t, err)
		w, l := alu.Density*tube.Area*g, 2.0
		soft := 0.0
		if shear > 0 {
			soft = 1 / (alu.Shear() * shear)
		}
		at := func(x float64) float64 {
			return w*x*x*(6*l*l-4*l*x+x*x)/(24*ei) + 50*x*x*(3*l-x)/(6*ei) + soft*(w*(l*x-x*x/2)+50*x)
		}
		add := func(name string, want, got float64) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, shear area %.3g", name, shear), Source: "a cantilever's closed forms; S. Timoshenko, Strength of Materials, from memory", Kind: verify.Memory, Want: want, Got: got, Tol: 1e-11, Why: "rounding"})
		}
		add("tip sag [m]", at(l), -d.Nodes[1][2])
		for _, x := range []float64{0.3, 1.1} {
			u, err := d.Along(0, x)
			require.NoError(t, err)
			add(fmt.Sprintf("sag at %g m [m]", x), at(x), -u[2])
		}
		add("tip slope [rad]", w*l*l*l/(6*ei)+50*l*l/(2*ei), d.Nodes[1][4])
		add("reaction [N]", w*l+50, d.Reactions[0][2])
		add("reaction moment [N·m]", w*l*l/2+50*l, -d.Reactions[0][4])
	}
	verify.Table(t, rows)
}

// TestCheckManySpans holds 5000 spans in a row, whose lowest eight frequencies lie
// within a part in a million, to their closed form. A span turns at its ends by
// S·θ there and C·θ at the other; cos(jπi/N) at support i gives S + C·cos(jπ/N) = 0.
func TestCheckManySpans(t *testing.T) {
	const spans = 5000
	var s frame.SpaceFrame
	for i := range spans + 1 {
		s.Nodes = append(s.Nodes, [3]float64{float64(i), 0, 0})
		s.Supports = append(s.Supports, frame.Support{Node: i, Held: pinned})
		if i > 0 {
			s.Members = append(s.Members, frame.Member{From: i - 1, To: i, Section: thinTube(), Metal: alu})
		}
	}
	inPlane(&s)
	c := s.Members[0].Section
	scale := math.Sqrt(alu.Young*c.Iy/(alu.Density*c.Area)) / (2 * math.Pi)
	var rows []verify.Row
	for i, f := range frequencies(t, s, 8) {
		cos := -math.Cos(float64(i) / spans * math.Pi)
		b, err := root.Find(func(b float64) float64 {
			return math.Cosh(b)*math.Sin(b) - math.Sinh(b)*math.Cos(b) + cos*(math.Sinh(b)-math.Sin(b))
		}, math.Pi-1e-9, 3.3, 0)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("f%d of 5000 spans [Hz]", i+1), Source: "the slope-deflection equation S + C·cos(jπ/N) = 0, own", Kind: verify.Own, Want: b * b * scale, Got: f, Tol: 1e-12, Why: "rounding"})
	}
	verify.Table(t, rows)
}
