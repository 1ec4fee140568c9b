package frame_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

func TestCheckSupport(t *testing.T) {
	b := frame.Belt{Specific: 2e5, Direct: 0.4, Around: 1.6}
	both, slack, err := b.Stiffness()
	require.NoError(t, err)
	force, err := b.SlackForce(80)
	require.NoError(t, err)
	series, err := frame.Series(2e6, 3e6, 6e6)
	require.NoError(t, err)
	parallel, err := frame.Parallel(2e6, 3e6, 6e6)
	require.NoError(t, err)
	turn, err := frame.PairTurn(5e7, 0.04)
	require.NoError(t, err)
	const hand = "Hooke's law, by hand"
	verify.Table(t, []verify.Row{
		{Name: "belt of EA 2e5 N, spans 0.4 and 1.6 m [N/m]", Source: hand, Kind: verify.Own, Want: 625000, Got: both, Tol: 1e-15, Why: "rounding"},
		{Name: "the same, short span slack [N/m]", Source: hand, Kind: verify.Own, Want: 125000, Got: slack, Tol: 1e-15, Why: "rounding"},
		{Name: "force that slackens it at 80 N [N]", Source: hand, Kind: verify.Own, Want: 100, Got: force, Tol: 1e-15, Why: "rounding"},
		{Name: "2, 3 and 6 MN/m in series [N/m]", Source: hand, Kind: verify.Own, Want: 1e6, Got: series, Tol: 1e-15, Why: "rounding"},
		{Name: "side by side [N/m]", Source: hand, Kind: verify.Own, Want: 11e6, Got: parallel, Tol: 1e-15, Why: "rounding"},
		{Name: "blocks of 50 MN/m, 40 mm apart [N·m/rad]", Source: hand, Kind: verify.Own, Want: 40000, Got: turn, Tol: 1e-15, Why: "rounding"},
	})
}

// The springs do what a space frame of the same springs does: a rod as long as each span.
func TestPropertyBelt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := frame.Belt{Specific: draw.Log(1e4, 1e6).Draw(t, "EA"), Direct: draw.Log(0.1, 2).Draw(t, "direct"), Around: draw.Log(0.1, 2).Draw(t, "around")}
		both, slack, err := b.Stiffness()
		require.NoError(t, err)
		rod := thinTube()
		rod.Area = b.Specific / alu.Young
		s := frame.SpaceFrame{
			Nodes:    [][3]float64{{0, 0, 0}, {b.Direct, 0, 0}, {b.Direct + b.Around, 0, 0}},
			Members:  []frame.Member{{From: 0, To: 1, Section: rod, Metal: alu}, {From: 1, To: 2, Section: rod, Metal: alu}},
			Supports: []frame.Support{{Node: 0, Held: all}, {Node: 2, Held: all}},
		}
		d, err := s.Static(frame.Load{Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{1}}}})
		require.NoError(t, err)
		require.InEpsilon(t, both, 1/d.Nodes[1][0], 1e-9)
		require.Less(t, slack, both/2*(1+1e-12))
		// The stretch of both spans at the slackening force and tension.
		tension := draw.Log(1, 1e3).Draw(t, "tension")
		force, err := b.SlackForce(tension)
		require.NoError(t, err)
		short := b.Specific / min(b.Direct, b.Around)
		require.InEpsilon(t, tension, force/both*short, 1e-12)
		// Two alike in series are half, and the order is nothing.
		half, err := frame.Series(both, both)
		require.NoError(t, err)
		require.InEpsilon(t, both/2, half, 1e-12)
		x, err := frame.Series(both, slack)
		require.NoError(t, err)
		y, err := frame.Parallel(both, slack)
		require.NoError(t, err)
		require.InEpsilon(t, both*slack, x*y, 1e-12)
	})
}

func TestPropertySupportBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := frame.Belt{Specific: draw.Bits().Draw(t, "EA"), Direct: 1, Around: draw.Bits().Draw(t, "around")}
		x, y := draw.Bits().Draw(t, "x"), draw.Bits().Draw(t, "y")
		both, slack, err := b.Stiffness()
		finite(t, err, both, slack)
		worded(t, err)
		for _, f := range []func() (float64, error){
			func() (float64, error) { return b.SlackForce(x) },
			func() (float64, error) { return frame.Series(x, y) },
			func() (float64, error) { return frame.Parallel(x, y) },
			func() (float64, error) { return frame.PairTurn(x, y) },
			func() (float64, error) { return frame.Series() },
		} {
			v, err := f()
			finite(t, err, v)
			worded(t, err)
		}
	})
	_, err := frame.Series()
	require.ErrorContains(t, err, "frame.Series: springs = 0: allowed 1 to 1000")
}
