package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/versus"
)

func TestPropertyMesh(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drivetest.GearPairs().Draw(t, "pair")
		m, err := g.Mesh()
		require.NoError(t, err)
		near := func(want, got, tol float64) { t.Helper(); require.InDelta(t, 0, (got-want)/g.Module, tol) }

		// Where an undercut just begins, rounding in its depth moves the involute's end by its cube root.
		tol := 1e-9
		if m.Pinion.Undercut || m.Wheel.Undercut {
			tol = 2e-5
		}

		near(m.Path, m.Approach+m.Recess, 1e-9)
		require.InEpsilon(t, m.Path/m.BasePitch, m.Contact, 1e-12)
		if g.Ring {
			near(m.Distance, m.Wheel.Working-m.Pinion.Working, 1e-9)
		} else {
			near(m.Distance, m.Wheel.Working+m.Pinion.Working, 1e-9)
			require.LessOrEqual(t, m.Tight, m.Module*float64(g.Pinion.Teeth+g.Wheel.Teeth)/2+g.Module*(g.Pinion.Shift+g.Wheel.Shift)+1e-12)
		}
		require.InEpsilon(t, m.Pinion.Base, m.Pinion.Working*math.Cos(m.WorkingAngle), 1e-12)
		require.GreaterOrEqual(t, m.Pinion.Active, m.Pinion.Begin*(1-1e-12))
		require.Less(t, m.Pinion.Active, m.Pinion.Tip)

		// The distance found asks for the shifts given.
		sum, err := g.ShiftFor(m.Distance)
		require.NoError(t, err)
		want := g.Wheel.Shift + g.Pinion.Shift
		if g.Ring {
			want = g.Wheel.Shift - g.Pinion.Shift
		}
		require.InDelta(t, want, sum, 1e-9)
		// And at it the teeth have no play.
		g.Distance = m.Distance
		same, err := g.Mesh()
		require.NoError(t, err)
		near(0, same.Backlash, 1e-10)
		g.Distance = 0

		// Similar gears mesh alike.
		k := draw.Log(0.5, 2).Draw(t, "scale")
		big := g
		big.Module, big.Face = g.Module*k, g.Face*k
		b, err := big.Mesh()
		require.NoError(t, err)
		require.InEpsilon(t, m.Contact, b.Contact, tol)
		require.InEpsilon(t, m.Distance*k, b.Distance, 1e-12)
		require.InEpsilon(t, m.LossFactor, b.LossFactor, 2*tol)
		require.InDelta(t, m.Overlap, b.Overlap, 1e-9)

		none, err := m.Efficiency(0)
		require.NoError(t, err)
		require.Equal(t, 1.0, none)
		eta, err := m.Efficiency(0.1)
		require.NoError(t, err)
		require.InDelta(t, 1-0.1*m.LossFactor, eta, 1e-12)
		require.Greater(t, m.LossFactor, 0.0)
		// No flank slides faster on the mean than at its worse end, and cos α of the force turns the gear.
		worst := max(m.StartSliding, m.EndSliding) / math.Cos(m.WorkingAngle) / math.Cos(m.BaseHelix)
		require.Less(t, m.LossFactor, worst)

		if g.Ring {
			return
		}
		// Who drives does not matter to the geometry.
		swap := g
		swap.Pinion, swap.Wheel = g.Wheel, g.Pinion
		s, err := swap.Mesh()
		require.NoError(t, err)
		require.InEpsilon(t, m.Contact, s.Contact, tol)
		require.InEpsilon(t, m.LossFactor, s.LossFactor, 2*tol)
		near(m.Approach, s.Recess, 10*tol)
		near(m.Pinion.Active, s.Wheel.Active, 10*tol)
		require.InEpsilon(t, 1-m.Pinion.RootSliding, 1-s.Wheel.RootSliding, max(1e-6, 100*tol))
		require.InDelta(t, m.Pinion.TipSliding, s.Wheel.TipSliding, 10*tol)
		require.InEpsilon(t, m.Pinion.TipThickness, s.Wheel.TipThickness, 1e-9)

		// Of shifts that add up to nothing the distance knows nothing.
		even := g
		even.Wheel.Shift = -g.Pinion.Shift
		if e, err := even.Mesh(); err == nil {
			near(e.Module*float64(g.Pinion.Teeth+g.Wheel.Teeth)/2, e.Distance, 1e-9)
		}
	})
}

func TestPropertyShiftEndsUndercut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z, x := rapid.IntRange(8, 40).Draw(t, "teeth"), draw.Uniform(-0.3, 0.3).Draw(t, "shift")
		g := gears(1, z, 100, x, 0)
		a, err := g.Mesh()
		if err != nil {
			return
		}
		g.Pinion.Shift += 0.1
		b, err := g.Mesh()
		if err != nil {
			return
		}
		require.Equal(t, a.Pinion.LeastShift > x, a.Pinion.Undercut)
		require.False(t, b.Pinion.Undercut && !a.Pinion.Undercut, "more shift, no more undercut")
		if a.Pinion.Undercut {
			require.Greater(t, a.Pinion.Begin-a.Pinion.Base, 0.0)
			if b.Pinion.Undercut {
				require.Less(t, b.Pinion.Begin, a.Pinion.Begin)
			}
		}
		require.Less(t, b.Pinion.TipThickness, a.Pinion.TipThickness)
		// Without a cut the involute begins on the base circle, not above it.
		g.Pinion.Shift = a.Pinion.LeastShift
		if edge, err := g.Mesh(); err == nil {
			require.InEpsilon(t, edge.Pinion.Base, edge.Pinion.Begin, 1e-5)
		}
	})
}

func TestPropertyBacklash(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := drivetest.GearPairs().Draw(t, "pair")
		off := g.Module * draw.Uniform(0.005, 0.05).Draw(t, "distance")
		thin := g.Module * draw.Uniform(0.01, 0.1).Draw(t, "thinning")
		least, most, err := g.Backlash(drive.Allowance{Most: thin}, drive.Allowance{Least: thin / 2, Most: thin}, drive.Allowance{Least: -off, Most: off})
		require.NoError(t, err)
		require.Less(t, least.Circumferential, most.Circumferential)
		m, err := g.Mesh()
		require.NoError(t, err)
		exact, _, err := g.Backlash(drive.Allowance{Least: thin, Most: thin}, drive.Allowance{}, drive.Allowance{})
		require.NoError(t, err)
		// Thinning in the normal plane leaves its part along the normal.
		require.InEpsilon(t, thin*math.Cos(g.Rack.PressureAngle), exact.Normal, 1e-9)
		require.InEpsilon(t, exact.Circumferential, exact.WheelAngle*m.Wheel.Working, 1e-12)
		require.InEpsilon(t, exact.Circumferential, exact.PinionAngle*m.Pinion.Working, 1e-12)

		// Axes a little apart let the teeth play by 2·tan α of it; a ring's take it away.
		_, far, err := g.Backlash(drive.Allowance{}, drive.Allowance{}, drive.Allowance{Least: off / 1e4, Most: off / 1e4})
		require.NoError(t, err)
		slope := 2 * math.Tan(m.WorkingAngle)
		if g.Ring {
			slope = -slope
		}
		require.InEpsilon(t, slope, far.Circumferential/(off/1e4), 1e-3)
	})
}

func TestMeshAllocatesNothing(t *testing.T) {
	g := gears(1, 20, 40, 0.1, 0)
	stage := machine.stage
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := g.Mesh(); err != nil {
			t.Fatal(err)
		}
		if _, err := g.ShiftFor(30.5e-3); err != nil {
			t.Fatal(err)
		}
		if _, err := stage.Frequencies(1); err != nil {
			t.Fatal(err)
		}
		if _, _, err := g.Backlash(drive.Allowance{}, drive.Allowance{}, drive.Allowance{}); err != nil {
			t.Fatal(err)
		}
	}))
}

// BenchmarkMesh compares a pair's whole geometry with its contact ratio alone, written out.
func BenchmarkMesh(b *testing.B) {
	g := gears(1, 20, 40, 0.1, 0)
	versus.Report(b, "x-contact-ratio", func(i int) {
		g.Pinion.Shift = 0.001 * float64(i%300)
		m, err := g.Mesh()
		if err != nil {
			b.Fatal(err)
		}
		sink += m.Contact
	}, func(i int) {
		x := 0.001 * float64(i%300)
		alpha := 20 * math.Pi / 180
		sin, cos := math.Sincos(alpha)
		v := sin/cos - alpha + 2*x*sin/cos/60
		a := math.Cbrt(3*v) - 0.4*v
		for range 3 {
			tan := math.Tan(a)
			a -= (tan - a - v) / (tan * tan)
		}
		at := func(z, x float64) float64 { r := z/2 + 1 + x; return math.Sqrt(r*r - z*z*cos*cos/4) }
		sink += (at(20, x) + at(40, 0) - 30*cos*math.Tan(a)) / (math.Pi * cos)
	})
}
