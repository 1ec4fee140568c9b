package frame_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/verify"
	"meltflight/material"
)

var (
	alu  = material.Metal{Density: 2700, Young: 70e9, Poisson: 0.33}
	mild = material.Metal{Density: 7850, Young: 210e9, Poisson: 0.3}
	all  = [6]bool{true, true, true, true, true, true}
)

// thinTube is the 60 x 40 x 3 tube of the references, J after Bredt.
func thinTube() frame.Section {
	return frame.Section{Area: 564e-6, Iy: 273852e-12, Iz: 143132e-12, J: 283907.29787e-12}
}

func squareTube() frame.Section {
	return frame.Section{Area: 224e-6, Iy: 29418.0e-12 + 2.0/3*1e-12, Iz: 29418.0e-12 + 2.0/3*1e-12, J: 43904e-12}
}

// hopperAxis is the axis of the references with an offset hopper, its ends on springs or held.
func hopperAxis(rigid bool) frame.SpaceFrame {
	s := frame.SpaceFrame{
		Nodes:   [][3]float64{{0, 0, 0}, {0.5, 0, 0}, {1, 0, 0}},
		Members: []frame.Member{{From: 0, To: 1, Section: thinTube(), Metal: alu}, {From: 1, To: 2, Section: thinTube(), Metal: alu}},
		Lumps: []frame.Lump{
			{Node: 1, Body: frame.Body{Mass: 1.2, Offset: [3]float64{0, 0, 0.03}, Inertia: [3]float64{.002, .002, .002}}},
			{Node: 1, Body: frame.Body{Mass: 3, Offset: [3]float64{0, -0.12, 0.15}, Inertia: [3]float64{.010, .010, .006}}},
		},
	}
	for _, n := range []int{0, 2} {
		if rigid {
			s.Supports = append(s.Supports, frame.Support{Node: n, Held: [6]bool{true, true, true, true, false, false}})
		} else {
			s.Springs = append(s.Springs, frame.Spring{Node: n, To: frame.Ground, Stiffness: [6]float64{1e6, 2e6, 5e6, 2e4, 0, 0}})
		}
	}
	return s
}

// fourLegs is the stand of the references.
func fourLegs(fixed bool) frame.SpaceFrame {
	var s frame.SpaceFrame
	for _, z := range []float64{0, 0.9} {
		for _, c := range [][2]float64{{0, 0}, {0.5, 0}, {0.5, 0.4}, {0, 0.4}} {
			s.Nodes = append(s.Nodes, [3]float64{c[0], c[1], z})
		}
	}
	held := all
	if !fixed {
		held[3], held[4] = false, false
	}
	for i := range 4 {
		s.Members = append(s.Members,
			frame.Member{From: i, To: 4 + i, Section: squareTube(), Metal: mild},
			frame.Member{From: 4 + i, To: 4 + (i+1)%4, Section: squareTube(), Metal: mild})
		s.Lumps = append(s.Lumps, frame.Lump{Node: 4 + i, Body: frame.Body{Mass: 3}})
		s.Supports = append(s.Supports, frame.Support{Node: i, Held: held})
	}
	return s
}

// inPlane holds every node to the x-z plane, in which Iy counts, and keeps members
// from swinging across it or twisting between nodes.
func inPlane(s *frame.SpaceFrame) {
	for i := range s.Members {
		c := &s.Members[i].Section
		c.Iz *= 1e4
		c.J = c.Iy + c.Iz
	}
	for n := range s.Nodes {
		s.Supports = append(s.Supports, frame.Support{Node: n, Held: [6]bool{false, true, false, true, false, true}})
	}
}

func frequencies(t require.TestingT, s frame.SpaceFrame, n int) []float64 {
	modes, err := s.Modes(n)
	require.NoError(t, err)
	f := make([]float64, n)
	for i, m := range modes {
		f[i] = m.Frequency
	}
	return f
}

func TestCheckSpaceFrameModes(t *testing.T) {
	const own = "exact dynamic stiffness with Wittrick-Williams counts by bisection, own, and 5 and 20 finite elements a span"
	var rows []verify.Row
	check := func(name string, s frame.SpaceFrame, tol float64, why string, want ...float64) {
		got := frequencies(t, s, len(want))
		for i, w := range want {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, f%d [Hz]", name, i+1), Source: own, Kind: verify.Own, Want: w, Got: got[i], Tol: tol, Why: why})
		}
	}
	beam := frame.SpaceFrame{Nodes: hopperAxis(true).Nodes, Members: hopperAxis(true).Members, Lumps: []frame.Lump{{Node: 1, Body: frame.Body{Mass: 4.2}}}}
	inPlane(&beam)
	for n := range 3 { // bending alone
		beam.Supports = append(beam.Supports, frame.Support{Node: n, Held: [6]bool{true}})
	}
	sprung, held := beam, beam
	for _, n := range []int{0, 2} {
		sprung.Springs = append(sprung.Springs, frame.Spring{Node: n, To: frame.Ground, Stiffness: [6]float64{2: 2e6}})
		held.Supports = append(held.Supports, frame.Support{Node: n, Held: [6]bool{2: true}})
	}
	check("beam with mid mass on springs", sprung, 1e-8, "the digits printed", 61.343174, 394.738391, 560.167325)
	check("beam with mid mass, ends rigid", held, 4.4e-9, "the digits printed", 68.6799007, 704.961522, 1148.25051)
	check("axis with hopper on springs", hopperAxis(false), 1.3e-8, "the digits printed", 40.001788, 59.421563, 86.795512, 118.134242, 243.073778, 382.028195, 517.188645, 617.492958)
	check("axis with hopper, ends rigid", hopperAxis(true), 1.3e-8, "the digits printed", 45.136877, 64.143245, 144.471566, 179.921181, 458.661479, 865.432318)
	check("stand on fixed feet", fourLegs(true), 3e-8, "the digits printed", 21.767870, 22.135856, 27.662403, 103.543672)
	check("stand on pinned feet", fourLegs(false), 6e-8, "the digits printed", 10.552848, 10.763038, 18.674279, 97.494670)
	verify.Table(t, rows)
}
