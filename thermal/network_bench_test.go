package thermal_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"meltflight/internal/versus"
	"meltflight/thermal"
)

// explicit follows a network by the plain adaptive pair of E. Fehlberg, order 4(5), written
// out: what one would do first.
func explicit(n thermal.Network, end, tolerance float64) []float64 {
	count := len(n.Nodes)
	x := make([]float64, count)
	for i := range x {
		x[i] = n.Nodes[i].Start
	}
	rate := func(x, out []float64) {
		for i := range out {
			node := &n.Nodes[i]
			out[i] = node.Power + node.PowerRise*(x[i]-node.Reference)
		}
		for _, l := range n.Links {
			q, _, _ := l.Exchange.Flow(x[l.From], x[l.To])
			out[l.From] -= q
			out[l.To] += q
		}
		for i := range out {
			if n.Nodes[i].Held {
				out[i] = 0
			} else {
				out[i] /= n.Nodes[i].Capacity
			}
		}
	}
	a := [6][5]float64{{}, {1. / 4}, {3. / 32, 9. / 32}, {1932. / 2197, -7200. / 2197, 7296. / 2197}, {439. / 216, -8, 3680. / 513, -845. / 4104}, {-8. / 27, 2, -3544. / 2565, 1859. / 4104, -11. / 40}}
	high := [6]float64{16. / 135, 0, 6656. / 12825, 28561. / 56430, -9. / 50, 2. / 55}
	low := [6]float64{25. / 216, 0, 1408. / 2565, 2197. / 4104, -1. / 5, 0}
	var k [6][]float64
	for s := range k {
		k[s] = make([]float64, count)
	}
	at := make([]float64, count)
	h := 1e-3
	for t := 0.0; t < end; {
		h = math.Min(h, end-t)
		for s := range k {
			copy(at, x)
			for j := range s {
				for i := range at {
					at[i] += h * a[s][j] * k[j][i]
				}
			}
			rate(at, k[s])
		}
		wrong := 0.0
		for i := range at {
			up, down := 0.0, 0.0
			for s := range k {
				up += high[s] * k[s][i]
				down += low[s] * k[s][i]
			}
			at[i] = x[i] + h*up
			wrong = math.Max(wrong, h*math.Abs(up-down))
		}
		if wrong <= tolerance {
			t += h
			copy(x, at)
		}
		h *= math.Min(4, math.Max(0.2, 0.9*math.Pow(math.Max(wrong, 1e-300)/tolerance, -0.2)))
	}
	return x
}

func TestExplicitTwinAgrees(t *testing.T) {
	for _, n := range []thermal.Network{sixNodes(), radiating()} {
		w, err := n.Warm([]float64{100}, 1e-8)
		require.NoError(t, err)
		for i, x := range explicit(n, 100, 1e-9) {
			assert.InDelta(t, x, w.Temperatures[0][i], 1e-6)
		}
	}
}

func BenchmarkModesAgainstExplicit(b *testing.B) {
	n := sixNodes()
	versus.Report(b, "of-explicit", func(int) {
		m, err := n.Modes()
		if err != nil {
			b.Fatal(err)
		}
		x, err := m.At(7200)
		if err != nil {
			b.Fatal(err)
		}
		sink += x[0]
	}, func(int) { sink += explicit(n, 7200, 1e-10)[0] })
}

func BenchmarkWarmAgainstExplicit(b *testing.B) {
	n := radiating()
	versus.Report(b, "of-explicit", func(int) {
		w, err := n.Warm([]float64{7200}, 1e-8)
		if err != nil {
			b.Fatal(err)
		}
		sink += w.Temperatures[0][0]
	}, func(int) { sink += explicit(n, 7200, 1e-8)[0] })
}

// ladder is a barrel cut fine, which radiates along its length.
func ladder(count int) thermal.Network {
	var n thermal.Network
	for i := range count {
		n.Nodes = append(n.Nodes, thermal.Node{Name: fmt.Sprint(i), Capacity: 1e3 / float64(count), Start: 300})
	}
	n.Nodes[0].Power = 200
	n.Nodes = append(n.Nodes, thermal.Node{Name: "air", Start: 300, Held: true})
	for i := range count {
		if i > 0 {
			n.Links = append(n.Links, thermal.Link{From: i - 1, To: i, Exchange: thermal.Conductance(float64(count))})
		}
		n.Links = append(n.Links, thermal.Link{From: i, To: count, Exchange: thermal.Radiating{Area: 0.1 / float64(count), Emissivity: 0.8}})
	}
	return n
}

// How cost grows with the nodes of a ladder: the exponent is fitted to the fastest of
// some runs of 125 to 2000 nodes.
func BenchmarkLadderGrowth(b *testing.B) {
	var size, steady, warm []float64
	fastest := func(f func()) float64 {
		best := math.Inf(1)
		for range 7 {
			begin := time.Now()
			f()
			best = math.Min(best, float64(time.Since(begin)))
		}
		return math.Log(best)
	}
	for range b.N {
		size, steady, warm = nil, nil, nil
		for count := 125; count <= 2000; count *= 2 {
			n := ladder(count)
			size = append(size, math.Log(float64(count)))
			steady = append(steady, fastest(func() {
				if _, err := n.Steady(0); err != nil {
					b.Fatal(err)
				}
			}))
			warm = append(warm, fastest(func() {
				if _, err := n.Warm([]float64{600}, 1e-4); err != nil {
					b.Fatal(err)
				}
			}))
		}
	}
	_, s := stat.LinearRegression(size, steady, nil, false)
	_, w := stat.LinearRegression(size, warm, nil, false)
	b.ReportMetric(s, "steady-exponent")
	b.ReportMetric(w, "warm-exponent")
	b.ReportMetric(0, "ns/op")
}
