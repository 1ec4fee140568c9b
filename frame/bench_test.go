package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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

func BenchmarkPolygonMoments(b *testing.B) {
	p := drawn("I", 0.1, 0.05, 0.004, 0.006)
	versus.Report(b, "x-inline", func(int) {
		m, _ := p.Moments()
		sink += m.Iy
	}, func(int) {
		for range 2 {
			var area, first, second float64
			last := p.Outline[len(p.Outline)-1]
			for _, q := range p.Outline {
				cross := last.Y*q.Z - q.Y*last.Z
				area += cross
				first += cross * (last.Z + q.Z)
				second += cross * (last.Z*last.Z + last.Z*q.Z + q.Z*q.Z)
				last = q
			}
			sink += second/12 - first*first/(18*area)
		}
	})
}

func BenchmarkIBeam(b *testing.B) {
	versus.Report(b, "x-inline", func(int) {
		s, _ := frame.IBeam(0.1, 0.05, 0.004, 0.006)
		sink += s.ShearZ + s.J
	}, func(int) {
		h, w, web, flange := 0.1, 0.05, 0.004, 0.006
		m, n := 2*w*flange/((h-flange)*web), w/(h-flange)
		sink += 10 * (1 + 3*m) * (1 + 3*m) / (12 + m*(72+m*(150+m*90)) + 30*n*n*(m+m*m))
		sink += (2*w*math.Pow(flange, 3) + (h-2*flange)*math.Pow(web, 3)) / 3
		sink += 2*w*flange*h*h/4 + web*math.Pow(h-2*flange, 3)/12 + flange*math.Pow(w, 3)/6
	})
}

func BenchmarkRectangle(b *testing.B) {
	versus.Report(b, "x-inline", func(i int) {
		s, _ := frame.Rectangle(0.01*float64(i%16+1), 0.01)
		sink += s.J
	}, func(i int) {
		r := float64(i%16 + 1)
		var sum float64
		for n := 1.0; n < 24; n += 2 {
			sum += math.Tanh(0.5*n*math.Pi*r) / (n * n * n * n * n)
		}
		sink += (1.0/3 - 64/math.Pow(math.Pi, 5)/r*sum) * r * 1e-8
	})
}

// Largest deflection and ringing of a seven-piece move, to stepping through it a
// hundred times a period.
func BenchmarkResponse(b *testing.B) {
	p, err := frame.Move{Distance: 0.024, Speed: 0.1, Acceleration: 2.5, Jerk: 100}.Profile()
	if err != nil {
		b.Fatal(err)
	}
	tone := frame.Tone{Frequency: 20, Damping: 0.01, Share: 1}
	versus.Report(b, "x-stepped", func(int) {
		r, _ := p.Response(tone)
		sink += r.During
	}, func(int) {
		const omega = 2 * math.Pi * 20
		u, v, most := 0.0, 0.0, 0.0
		for _, q := range p {
			h := 1.0 / 2000
			a := q.Acceleration
			for t := 0.0; t < q.Duration; t += h { // leapfrog
				v += h * (-a - 2*0.01*omega*v - omega*omega*u)
				u += h * v
				a += h * q.Jerk
				most = math.Max(most, math.Abs(u))
			}
		}
		sink += most
	})
}

func BenchmarkShaperResidual(b *testing.B) {
	s := frame.Shaper{Frequency: 20, Damping: 0.01, Impulses: 3}
	versus.Report(b, "x-inline", func(i int) {
		v, _ := s.Residual(18+float64(i%64)/16, 0.01)
		sink += v
	}, func(i int) {
		omega := 2 * math.Pi * (18 + float64(i%64)/16)
		free := math.Sqrt(1 - 0.01*0.01)
		k := math.Exp(-0.01 * math.Pi / free)
		var c, d float64
		for j, a := range [3]float64{1, 2 * k, k * k} {
			t := float64(j) * 0.025 / free
			sin, cos := math.Sincos(omega * free * t)
			grow := a * math.Exp(0.01*omega*t)
			c += grow * cos
			d += grow * sin
		}
		sink += math.Exp(-0.01*omega*0.05/free) * math.Hypot(c, d) / ((1 + k) * (1 + k))
	})
}

// A closed form allocates nothing.
func TestMotionsAllocateNothing(t *testing.T) {
	m := frame.Move{Distance: 0.024, Speed: 0.1, Acceleration: 2.5, Jerk: 100}
	p, err := m.Profile()
	require.NoError(t, err)
	s := frame.Shaper{Frequency: 20, Damping: 0.01, Impulses: 3}
	a, b := frame.Tone{Frequency: 20, Damping: 0.01, Share: 0.9}, frame.Tone{Frequency: 55, Damping: 0.01, Share: 0.1}
	for name, f := range map[string]func(){
		"ringing":       func() { _, _ = m.Ringing(20, 0.01) },
		"of tones":      func() { _, _ = m.RingingOf(a, b) },
		"response":      func() { _, _ = p.Response(a, b) },
		"deflection":    func() { _, _ = p.Deflection(0.1, a, b) },
		"settling":      func() { _, _ = p.Settling(1e-6, a, b) },
		"accelerations": func() { _, _ = m.Accelerations(5e-5, a, b) },
		"residual":      func() { _, _ = s.Residual(18, 0.02) },
		"insensitivity": func() { _, _, _ = s.Insensitivity(0.05) },
		"over":          func() { _, _, _ = frame.ShaperOver(18, 22, 0.01, 3) },
		"shock":         func() { _, _ = p.Shock(20, 0.01) },
		"half sine":     func() { _, _ = frame.HalfSineShock(0.7) },
		"shaken":        func() { _, _ = frame.Transmissibility(2, 0.01) },
		"bandwidth":     func() { _, _ = frame.DampingOfBandwidth(19, 21) },
		"peaks":         func() { _, _ = frame.DecrementOfPeaks(3, 1, 5) },
		"wave":          func() { _, _ = frame.RippleWavelength(0.1, 20, 0.01) },
	} {
		assert.Zero(t, testing.AllocsPerRun(20, f), name)
	}
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
