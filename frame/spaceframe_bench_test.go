package frame_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/versus"
)

// coarseGantry is the gantry axis in finite elements.
func coarseGantry(elements int) model {
	s := hopperAxis(false)
	axis := frame.Axis{Beam: frame.Beam{Length: 1, Section: thinTube(), Metal: alu}, Ends: frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}}
	for _, l := range s.Lumps {
		axis.Bodies = append(axis.Bodies, l.Body)
	}
	m, _ := finiteAxis(axis, elements, 1e6)
	return m
}

// meshed is the coarsest mesh whose eight lowest frequencies are good to 1e-6.
const meshed = 36

func TestCoarsestMesh(t *testing.T) {
	exact := frequencies(t, hopperAxis(false), 8)
	worst := func(elements int) (e float64) {
		values, _ := coarseGantry(elements).vibrations(t)
		for i, f := range exact {
			e = math.Max(e, math.Abs(hertz(values[i])/f-1))
		}
		return e
	}
	require.Less(t, worst(meshed), 1e-6)
	require.Greater(t, worst(meshed-2), 1e-6)
}

// BenchmarkSpaceFrameModes takes the eight lowest modes of the gantry axis, exact,
// against gonum's dense eigenvalues of that mesh.
func BenchmarkSpaceFrameModes(b *testing.B) {
	s := hopperAxis(false)
	versus.Report(b, "x-dense-mesh", func(int) {
		m, _ := s.Modes(8)
		sink += m[7].Frequency
	}, func(int) {
		v, _ := coarseGantry(meshed).vibrations(b)
		sink += v[7]
	})
}

// bays is a row of portals that share their legs, with 2·bays+1 members.
func bays(n int) frame.SpaceFrame {
	var s frame.SpaceFrame
	for i := range n + 1 {
		x := 0.8 * float64(i)
		s.Nodes = append(s.Nodes, [3]float64{x, 0, 0}, [3]float64{x, 0, 0.9})
		s.Supports = append(s.Supports, frame.Support{Node: 2 * i, Held: all})
		s.Members = append(s.Members, frame.Member{From: 2 * i, To: 2*i + 1, Section: squareTube(), Metal: mild})
		if i > 0 {
			s.Members = append(s.Members, frame.Member{From: 2*i - 1, To: 2*i + 1, Section: thinTube(), Metal: mild})
		}
	}
	return s
}

// BenchmarkLongFrame reports how the time grows with the number of members, as the
// exponent between 500 and 5000.
func BenchmarkLongFrame(b *testing.B) {
	short, long := bays(250), bays(2500)
	best := [2]time.Duration{math.MaxInt64, math.MaxInt64}
	for range b.N {
		for k, s := range [2]*frame.SpaceFrame{&short, &long} {
			start := time.Now()
			m, _ := s.Modes(8)
			sink += m[7].Frequency
			best[k] = min(best[k], time.Since(start))
		}
	}
	b.ReportMetric(math.Log10(float64(best[1])/float64(best[0])), "exponent")
	b.ReportMetric(0, "ns/op")
}
