package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
)

// Any bits in any field are answered with numbers or words.
func TestPropertyNetworkAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := networks(t, rapid.Bool().Draw(t, "linear"))
		bits := draw.Bits()
		for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
			node := &n.Nodes[rapid.IntRange(0, len(n.Nodes)-1).Draw(t, "node")]
			link := &n.Links[rapid.IntRange(0, len(n.Links)-1).Draw(t, "link")]
			x := bits.Draw(t, "bits")
			switch rapid.IntRange(0, 8).Draw(t, "field") {
			case 0:
				node.Capacity = x
			case 1:
				node.Start = x
			case 2:
				node.Power = x
			case 3:
				node.PowerRise, node.Reference = x, 300
			case 4:
				node.PowerRise, node.Reference = 1, x
			case 5:
				link.Exchange = thermal.Conductance(x)
			case 6:
				link.Exchange = thermal.Radiating{Area: x, Emissivity: 0.5}
			case 7:
				link.Exchange = thermal.Convecting{Coefficient: 1, Exponent: x}
			case 8:
				node.Held = !node.Held
			}
		}
		numbers := func(list []float64, err error) {
			if err != nil {
				require.NotEmpty(t, err.Error())
				return
			}
			for _, x := range list {
				require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "%v", list)
			}
		}
		s, err := n.Steady(bits.Draw(t, "time"))
		numbers(append(s.Temperatures, s.Made, s.Given), err)
		if m, err := n.Modes(); err == nil {
			numbers(m.At(bits.Draw(t, "when")))
			_, err := m.Foster(rapid.IntRange(-1, 10).Draw(t, "heated"), 0)
			numbers(nil, err)
		}
		if w, err := n.Warm([]float64{draw.Log(1e-3, 100).Draw(t, "until")}, bits.Draw(t, "tolerance")); err == nil {
			numbers(w.Temperatures[0], nil)
		}
		c, err := n.Duty([]thermal.Block{{Duration: draw.Log(1e-3, 100).Draw(t, "duration"), Power: make([]float64, len(n.Nodes))}, {Duration: bits.Draw(t, "block"), Power: make([]float64, len(n.Nodes))}}, 0.01)
		numbers(append(c.Start, c.Hottest...), err)
	})
}
