package drive_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
)

func bentShaft(t *rapid.T, s drive.StepShaft) drive.ShaftBending {
	b, err := s.Bend()
	require.NoError(t, err)
	return b
}

func shaftPoint(t *rapid.T, b drive.ShaftBending, x float64) drive.ShaftPoint {
	p, err := b.At(x)
	require.NoError(t, err)
	return p
}

// largestBend returns the largest deflection and slope among some places: what rounding
// is measured by.
func largestBend(t *rapid.T, s drive.StepShaft, b drive.ShaftBending) (deflection, slope float64) {
	for i := range 21 {
		p := shaftPoint(t, b, s.Length()*float64(i)/20)
		deflection, slope = max(deflection, math.Abs(p.Deflection)), max(slope, math.Abs(p.Slope))
	}
	return deflection, slope
}

// The deflection by virtual work: ∫ M·m/EI plus what the bearings give, with m of a unit
// force on the two outer bearings alone, which is in equilibrium whatever the others do.
func TestPropertyStepShaftObeysVirtualWork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		b, x := bentShaft(t, s), s.Length()*draw.Uniform(0, 1).Draw(t, "place")
		first, last := s.Bearings[0].Position, s.Bearings[len(s.Bearings)-1].Position
		right := -(x - first) / (last - first)
		left := -1 - right
		virtual := func(at float64) float64 {
			return macaulay(at-x) + left*macaulay(at-first) + right*macaulay(at-last)
		}
		actual := func(at float64) float64 {
			m := 0.0
			for _, l := range s.Loads {
				if at > l.Position {
					m += l.Force*(at-l.Position) - l.Couple
				}
			}
			for i, r := range b.Reactions {
				m += r * macaulay(at-s.Bearings[i].Position)
			}
			return m
		}
		ends := []float64{0, x}
		for _, l := range s.Loads {
			ends = append(ends, l.Position)
		}
		for _, c := range s.Bearings {
			ends = append(ends, c.Position)
		}
		want, from, size := 0.0, 0.0, 0.0
		for _, g := range s.Segments {
			to := from + g.Length
			stiffness := s.Modulus * math.Pi / 64 * (math.Pow(g.Diameter, 4) - math.Pow(g.Bore, 4))
			cuts := append([]float64{from, to}, ends...)
			slices.Sort(cuts)
			for i, a := range cuts[:len(cuts)-1] {
				if z := cuts[i+1]; a >= from && z <= to && z > a {
					part := quad.Fixed(func(at float64) float64 { return actual(at) * virtual(at) / stiffness }, a, z, 3, nil, 0)
					want += part
					size += math.Abs(part)
				}
			}
			from = to
		}
		for i, c := range s.Bearings {
			part := b.Reactions[i] * c.Give
			switch i {
			case 0:
				part *= left
			case len(s.Bearings) - 1:
				part *= right
			default:
				part = 0
			}
			want += part
			size += math.Abs(part)
		}
		scale, _ := largestBend(t, s, b)
		require.InDelta(t, 0, (shaftPoint(t, b, x).Deflection-want)/max(scale, size), 1e-9)
		// And every bearing is where its force has pushed it.
		for i, c := range s.Bearings {
			require.InDelta(t, 0, (shaftPoint(t, b, c.Position).Deflection+c.Give*b.Reactions[i])/scale, 1e-9)
		}
	})
}

func macaulay(x float64) float64 { return max(0, x) }

func TestPropertyStepShaftIsInEquilibriumAndSmooth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		b := bentShaft(t, s)
		force, couple, size := 0.0, 0.0, 0.0
		for _, l := range s.Loads {
			force += l.Force
			couple += l.Force*l.Position + l.Couple
			size += math.Abs(l.Force) + math.Abs(l.Couple)/s.Length()
		}
		for i, r := range b.Reactions {
			force += r
			couple += r * s.Bearings[i].Position
			size += math.Abs(r)
		}
		require.InDelta(t, 0, force/size, 1e-11)
		require.InDelta(t, 0, couple/(size*s.Length()), 1e-11)
		// The right end is free but for a couple at the very end.
		p := shaftPoint(t, b, s.Length())
		require.InDelta(t, 0, p.Moment/(size*s.Length()), 1e-11)
		require.InDelta(t, 0, p.Shear/size, 1e-11)
		// Slope is the derivative of deflection, moment of slope: a cubic between two places
		// of the same section without a load between them.
		x, h := s.Length()*draw.Uniform(0.01, 0.99).Draw(t, "place"), 1e-6*s.Length()
		a, z, mid := shaftPoint(t, b, x-h), shaftPoint(t, b, x+h), shaftPoint(t, b, x)
		scale, slope := largestBend(t, s, b)
		require.InDelta(t, 0, ((z.Deflection-a.Deflection)-h*(a.Slope+z.Slope))/scale, 1e-9)
		require.InDelta(t, 0, (a.Slope+z.Slope-2*mid.Slope)/slope, 1e-4)
	})
}

func TestPropertyStepShaftSuperposes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		more := drivetest.StepShafts().Draw(t, "others").Loads
		for i := range more {
			more[i].Position = math.Mod(more[i].Position, s.Length())
		}
		other, both := s, s
		other.Loads, both.Loads = more, append(slices.Clone(s.Loads), more...)
		a, b, c := bentShaft(t, s), bentShaft(t, other), bentShaft(t, both)
		x := s.Length() * draw.Uniform(0, 1).Draw(t, "place")
		p, q, sum := shaftPoint(t, a, x), shaftPoint(t, b, x), shaftPoint(t, c, x)
		ya, ta := largestBend(t, s, a)
		yb, tb := largestBend(t, s, b)
		require.InDelta(t, 0, (p.Deflection+q.Deflection-sum.Deflection)/(ya+yb), 1e-10)
		require.InDelta(t, 0, (p.Slope+q.Slope-sum.Slope)/(ta+tb), 1e-10)
		for i := range c.Reactions {
			require.InDelta(t, 0, (a.Reactions[i]+b.Reactions[i]-c.Reactions[i])/(1+math.Abs(c.Reactions[i])), 1e-9)
		}
	})
}

// Maxwell: what a force here moves there, the same force there moves here; and so
// for a couple and the slope, or a force and the slope by a couple.
func TestPropertyStepShaftIsReciprocal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		place := draw.Uniform(0, s.Length())
		here, there := place.Draw(t, "here"), place.Draw(t, "there")
		l := s.Length()
		// Slopes by the length and couples by it make all four of one size.
		reply := func(l drive.PointLoad, at float64) (deflection, slope float64) {
			s.Loads = []drive.PointLoad{l}
			p := shaftPoint(t, bentShaft(t, s), at)
			return p.Deflection, p.Slope * s.Length()
		}
		ff, fs := reply(drive.PointLoad{Position: here, Force: 1}, there)
		cf, cs := reply(drive.PointLoad{Position: here, Couple: l}, there)
		gg, gs := reply(drive.PointLoad{Position: there, Force: 1}, here)
		df, ds := reply(drive.PointLoad{Position: there, Couple: l}, here)
		size := 0.0
		for _, at := range []float64{0, l / 2, l} {
			y, _ := reply(drive.PointLoad{Position: at, Force: 1}, at)
			_, z := reply(drive.PointLoad{Position: at, Couple: l}, at)
			size = max(size, y, z)
		}
		require.InDelta(t, 0, (ff-gg)/size, 1e-10)
		require.InDelta(t, 0, (cs-ds)/size, 1e-10)
		require.InDelta(t, 0, (fs-df)/size, 1e-10)
		require.InDelta(t, 0, (cf-gs)/size, 1e-10)
		y, _ := reply(drive.PointLoad{Position: here, Force: 1}, here)
		require.GreaterOrEqual(t, y, -1e-12*size, "a force moves its own place its own way")
	})
}

// Splitting a segment, and turning the shaft end for end, change nothing. Turned, a thin
// shaft with a thick part on four bearings loses some digits more.
func TestPropertyStepShaftSplitAndTurned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		i := rapid.IntRange(0, len(s.Segments)-1).Draw(t, "segment")
		share := draw.Uniform(0.05, 0.95).Draw(t, "share")
		split, turned := s, s
		left, right := s.Segments[i], s.Segments[i]
		left.Length *= share
		right.Length -= left.Length
		split.Segments = slices.Concat(s.Segments[:i], []drive.Segment{left, right}, s.Segments[i+1:])

		l := s.Length()
		turned.Segments, turned.Bearings, turned.Loads = slices.Clone(s.Segments), slices.Clone(s.Bearings), slices.Clone(s.Loads)
		slices.Reverse(turned.Segments)
		slices.Reverse(turned.Bearings)
		for i := range turned.Bearings {
			turned.Bearings[i].Position = l - turned.Bearings[i].Position
		}
		for i := range turned.Loads {
			turned.Loads[i].Position = l - turned.Loads[i].Position
			turned.Loads[i].Couple *= -1
		}
		x := l * draw.Uniform(0, 1).Draw(t, "place")
		a, b, c := bentShaft(t, s), bentShaft(t, split), bentShaft(t, turned)
		p, q, r := shaftPoint(t, a, x), shaftPoint(t, b, x), shaftPoint(t, c, l-x)
		y, slope := largestBend(t, s, a)
		require.InDelta(t, 0, (p.Deflection-q.Deflection)/y, 1e-10)
		require.InDelta(t, 0, (p.Slope-q.Slope)/slope, 1e-10)
		require.InDelta(t, 0, (p.Deflection-r.Deflection)/y, 1e-8)
		require.InDelta(t, 0, (p.Slope+r.Slope)/slope, 1e-8)
		n := len(a.Reactions)
		for i := range n {
			require.InDelta(t, 0, (a.Reactions[i]-b.Reactions[i])/(1+math.Abs(a.Reactions[i])), 1e-9)
			require.InDelta(t, 0, (a.Reactions[i]-c.Reactions[n-1-i])/(1+math.Abs(a.Reactions[i])), 1e-7)
		}
	})
}

// scaledShaft is a shaft of k times the size under the same stress.
func scaledShaft(s drive.StepShaft, k float64) drive.StepShaft {
	s.Segments, s.Bearings = slices.Clone(s.Segments), slices.Clone(s.Bearings)
	s.Loads, s.Disks = slices.Clone(s.Loads), slices.Clone(s.Disks)
	for i := range s.Segments {
		g := &s.Segments[i]
		*g = drive.Segment{Length: g.Length * k, Diameter: g.Diameter * k, Bore: g.Bore * k}
	}
	for i := range s.Bearings {
		s.Bearings[i].Position *= k
		s.Bearings[i].Give /= k
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		*l = drive.PointLoad{Position: l.Position * k, Force: l.Force * k * k, Couple: l.Couple * k * k * k}
	}
	for i := range s.Disks {
		d := &s.Disks[i]
		*d = drive.Disk{Position: d.Position * k, Mass: d.Mass * k * k * k, Inertia: d.Inertia * math.Pow(k, 5)}
	}
	return s
}

func TestPropertyStepShaftScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, k := drivetest.StepShafts().Draw(t, "shaft"), draw.Log(0.5, 2).Draw(t, "scale")
		x := s.Length() * draw.Uniform(0.01, 0.99).Draw(t, "place")
		a := bentShaft(t, s)
		p, q := shaftPoint(t, a, x), shaftPoint(t, bentShaft(t, scaledShaft(s, k)), x*k)
		y, slope := largestBend(t, s, a)
		require.InDelta(t, 0, (p.Deflection-q.Deflection/k)/y, 1e-10)
		require.InDelta(t, 0, (p.Slope-q.Slope)/slope, 1e-10)
	})
}
