package frame_test

import (
	"math"
	"testing"

	"meltflight/frame"
	"meltflight/internal/versus"
)

var sink float64

func BenchmarkRinging(b *testing.B) {
	m := frame.Move{Distance: 0.024, Speed: 0.1, Acceleration: 2.5}
	versus.Report(b, "x-inline", func(int) {
		r, _ := m.Ringing(20, 0.01)
		sink += r.AfterMove
	}, func(int) {
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
	versus.Report(b, "x-inline", func(int) {
		x, y, _ := s.Modes()
		sink += x + y
	}, func(int) {
		h, line := s.Height, s.Metal.Density*s.Leg.Area
		for _, c := range [2][2]float64{{s.Width, s.Leg.Iy}, {s.Depth, s.Leg.Iz}} {
			l, i := c[0], c[1]
			k := s.Leg.Iy / l * h / (i * (1 + 24*s.Leg.Iy*h/(s.Leg.Area*l*l*l)))
			turn := 3 / (3*k + 2)
			mass := s.Mass + line*(2*(s.Width+s.Depth)+4*h*(39+turn*(turn-11))/105)
			sink += math.Sqrt(48*s.Metal.Young*i/(h*h*h)*(6*k+1)/(6*k+4)/mass) / (2 * math.Pi)
		}
	})
}

func BenchmarkEigenvalue(b *testing.B) {
	versus.Report(b, "x-inline", func(int) {
		x, _ := frame.Eigenvalue(frame.ClampedFree, 3)
		sink += x
	}, func(int) {
		x := 2.5 * math.Pi // Newton's rule from the asymptote
		for range 4 {
			x -= (math.Cos(x) + 1/math.Cosh(x)) / (-math.Sin(x) - math.Tanh(x)/math.Cosh(x))
		}
		sink += x
	})
}

// The count finds any mode of any beam; for the beams that have an equation of
// their own, this is what that generality costs.
func BenchmarkPlanarFrequency(b *testing.B) {
	p := frame.Planar{Length: 1, Bending: 1, Line: 1, Start: frame.Joint{Hold: frame.HoldClamped}, End: frame.Joint{Mass: 0.5}}
	versus.Report(b, "x-equation", func(int) {
		f, _ := p.Frequency(1)
		sink += f
	}, func(int) {
		x, _ := frame.TipMassEigenvalue(0.5, 1)
		sink += x
	})
}
