package frame_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"meltflight/frame"
)

// ratio runs both turn and turn about, so that a busy machine slows both, and
// reports how many times as long the package takes as the bare formulas.
func ratio(b *testing.B, library, inline func()) {
	b.Helper()
	var ours, theirs time.Duration
	const block = 256
	for b.Loop() {
		start := time.Now()
		for range block {
			library()
		}
		middle := time.Now()
		for range block {
			inline()
		}
		ours += middle.Sub(start)
		theirs += time.Since(middle)
	}
	b.ReportMetric(float64(ours)/float64(theirs), "×inline")
	b.ReportMetric(0, "ns/op")
}

var sink float64

func BenchmarkAxisModes(b *testing.B) {
	a := gantry(b, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, offset()...)
	m := modes(b, a)
	require.InEpsilon(b, m[0].Frequency, inlineModes(&a), 1e-12)
	ratio(b, func() {
		m, _ := a.Modes()
		sink += m[0].Frequency
	}, func() { sink += inlineModes(&a) })
}

// inlineModes is what Modes computes, without checks, names and shares.
func inlineModes(a *frame.Axis) float64 {
	s, metal, l := a.Beam.Section, &a.Beam.Metal, a.Beam.Length
	own := metal.Density * s.Area * l
	roll := metal.Density * (s.Iy + s.Iz) * l
	var m [5][5]float64
	for i := range a.Bodies {
		body := &a.Bodies[i]
		w, x, y, z := body.Mass, body.Offset[0], body.Offset[1], body.Offset[2]
		m[0][0] += w
		m[1][1] += w
		m[0][2] -= w * z
		m[0][4] += w * x
		m[1][2] += w * y
		m[1][3] -= w * x
		m[2][2] += body.Inertia[0] + w*(y*y+z*z)
		m[3][3] += body.Inertia[1] + w*(z*z+x*x)
		m[4][4] += body.Inertia[2] + w*(x*x+y*y)
		m[2][3] -= w * x * y
		m[2][4] -= w * x * z
		m[3][4] -= w * y * z
	}
	bend := [6]float64{5. / 8, 5. / 8, 16. / 25, 17. / 35, 277. / 560, 3968. / 7875}
	turn := [6]float64{7. / 40, 7. / 40, 16. / 49, 2. / 35, 381. / 3920, 640. / 3773}
	twist := [6]float64{1. / 2, 1. / 2, 2. / 3, 1. / 3, 5. / 12, 8. / 15}
	e := metal.Young / (l * l * l)
	g := metal.Young / (2 * (1 + metal.Poisson))
	var k [5]float64
	for i, c := range [5]struct {
		s                    *[6]float64
		own, stiffness, ends float64
	}{
		{&bend, own, 48 * e * s.Iz, 2 * a.Ends.Y}, {&bend, own, 48 * e * s.Iy, 2 * a.Ends.Z},
		{&twist, roll, 4 * g * s.J / l, 2 * a.Ends.Roll},
		{&turn, own * l * l / 12, 12 * e * s.Iy * l * l, 0.5 * l * l * a.Ends.Z},
		{&turn, own * l * l / 12, 12 * e * s.Iz * l * l, 0.5 * l * l * a.Ends.Y},
	} {
		mid := m[i][i]
		r, p, u := (c.own+mid)/c.ends, mid/c.stiffness, c.own*c.s[0]/c.stiffness
		w := r + p + u
		r, p, u = r/w, p/w, u/w
		mean := p*c.s[1] + u*c.s[2]
		k[i] = (c.own*(r+mean) + mid) / w
		m[i][i] += c.own * (r*(r+2*mean) + p*p*c.s[3] + 2*p*u*c.s[4] + u*u*c.s[5])
	}
	for i := range 5 {
		k[i] = 1 / math.Sqrt(k[i])
	}
	for i := range 5 {
		for j := i; j < 5; j++ {
			m[i][j] *= k[i] * k[j]
			m[j][i] = m[i][j]
		}
	}
	v := [5][5]float64{{1}, {0, 1}, {0, 0, 1}, {0, 0, 0, 1}, {0, 0, 0, 0, 1}}
	for still := false; !still; {
		still = true
		for p := range 5 {
			for q := p + 1; q < 5; q++ {
				if math.Abs(m[p][q]) <= 0x1p-53*math.Sqrt(m[p][p]*m[q][q]) {
					continue
				}
				still = false
				theta := (m[q][q] - m[p][p]) / (2 * m[p][q])
				t := math.Copysign(1/(math.Abs(theta)+math.Sqrt(1+theta*theta)), theta)
				c := 1 / math.Sqrt(1+t*t)
				s := t * c
				d := t * m[p][q]
				m[p][p] -= d
				m[q][q] += d
				m[p][q], m[q][p] = 0, 0
				for r := range 5 {
					if r != p && r != q {
						x, y := m[r][p], m[r][q]
						m[r][p], m[r][q] = c*x-s*y, s*x+c*y
						m[p][r], m[q][r] = m[r][p], m[r][q]
					}
					x, y := v[p][r], v[q][r]
					v[p][r], v[q][r] = c*x-s*y, s*x+c*y
				}
			}
		}
	}
	largest := 0.0
	for i := range 5 {
		largest = math.Max(largest, m[i][i])
	}
	return 1 / (2 * math.Pi * math.Sqrt(largest))
}

func BenchmarkRinging(b *testing.B) {
	m := frame.Move{Distance: 0.024, Speed: 0.1, Acceleration: 2.5}
	ratio(b, func() {
		r, _ := m.Ringing(20, 0.01)
		sink += r.AfterMove
	}, func() {
		d, v, a, f, z := m.Distance, m.Speed, m.Acceleration, 20.0, 0.01
		peak := math.Min(v, math.Sqrt(a*d))
		ramp := peak / a
		cruise := d/peak - ramp
		w := 2 * math.Pi * f
		wd := w * math.Sqrt(1-z*z)
		one := math.Exp(-z * w * ramp)
		two := math.Exp(-z * w * (ramp + cruise))
		sin, cos := math.Sincos(wd * ramp)
		after := math.Hypot(1-one*cos, one*sin) / math.Sqrt(1-z*z) * a / (w * w)
		sin, cos = math.Sincos(wd * (ramp + cruise))
		sink += after * math.Hypot(1-two*cos, two*sin)
	})
}

func BenchmarkStandModes(b *testing.B) {
	s := referenceStand(b, true)
	ratio(b, func() {
		x, y, _ := s.Modes()
		sink += x + y
	}, func() {
		i, h := s.Leg.Iy, s.Height
		line := s.Metal.Density * s.Leg.Area
		mass := s.Mass + line*(2*(s.Width+s.Depth)+4*h*13/35)
		unit := 48 * s.Metal.Young / (h * h * h)
		k, l := i/s.Width*h/i, i/s.Depth*h/s.Leg.Iz
		sink += math.Sqrt(unit*i*(6*k+1)/(6*k+4)/mass)/(2*math.Pi) + math.Sqrt(unit*s.Leg.Iz*(6*l+1)/(6*l+4)/mass)/(2*math.Pi)
	})
}

func BenchmarkEigenvalue(b *testing.B) {
	ratio(b, func() {
		x, _ := frame.Eigenvalue(frame.ClampedFree, 3)
		sink += x
	}, func() {
		x := 2.5 * math.Pi // Newton's rule from the asymptote
		for range 4 {
			x -= (math.Cos(x) + 1/math.Cosh(x)) / (-math.Sin(x) - math.Tanh(x)/math.Cosh(x))
		}
		sink += x
	})
}
