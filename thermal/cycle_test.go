package thermal_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
)

// A duty's cycle comes back to its start, and is where marching leads.
func TestPropertyDuty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		linear := rapid.Bool().Draw(t, "linear")
		n := networks(t, linear)
		blocks := make([]thermal.Block, rapid.IntRange(1, 3).Draw(t, "blocks"))
		for k := range blocks {
			blocks[k] = thermal.Block{Duration: draw.Log(1, 300).Draw(t, "duration"), Power: make([]float64, len(n.Nodes))}
			for i := range n.Nodes[:len(n.Nodes)-1] {
				blocks[k].Power[i] = draw.Uniform(0, 20).Draw(t, "power")
			}
		}
		c, err := n.Duty(blocks, 1e-5)
		require.NoError(t, err)
		m := n
		m.Nodes = append([]thermal.Node(nil), n.Nodes...)
		for i := range m.Nodes {
			m.Nodes[i].Start = c.Start[i]
		}
		for k, b := range blocks {
			for i := range m.Nodes {
				m.Nodes[i].Power = b.Power[i]
			}
			w, err := m.Warm([]float64{b.Duration}, 1e-7)
			require.NoError(t, err)
			for i := range m.Nodes {
				m.Nodes[i].Start = w.Temperatures[0][i]
				require.InDelta(t, c.Ends[k][i], w.Temperatures[0][i], 2e-4, "end of block")
				require.GreaterOrEqual(t, c.Hottest[i], c.Ends[k][i]-1e-9)
			}
		}
		for i := range m.Nodes {
			require.InDelta(t, c.Start[i], m.Nodes[i].Start, 2e-4, "comes back")
		}
		// One power all the time is the steady state.
		for k := range blocks {
			blocks[k].Power = blocks[0].Power
		}
		even, err := n.Duty(blocks, 1e-6)
		require.NoError(t, err)
		for i := range m.Nodes {
			m.Nodes[i].Power = blocks[0].Power[i]
		}
		rest, err := m.Steady(0)
		require.NoError(t, err)
		for i := range m.Nodes {
			require.InDelta(t, rest.Temperatures[i], even.Start[i], 1e-4)
		}
	})
}
