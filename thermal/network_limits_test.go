package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/thermal"
)

func between(from, to int, e thermal.Exchange) thermal.Link {
	return thermal.Link{From: from, To: to, Exchange: e}
}

var air300 = thermal.Node{Name: "air", Start: 300, Held: true}

// A law that answers with NaN ends in an error, not in a search without end.
func TestNetworkOfNaN(t *testing.T) {
	n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 1, Start: 300, Heat: func(_, _ float64) (float64, float64) { return math.NaN(), 0 }}, air300},
		Links: []thermal.Link{between(0, 1, thermal.Conductance(1))}}
	_, err := n.Steady(0)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	_, err = n.Warm([]float64{1}, 1e-3)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	_, err = n.Duty([]thermal.Block{{Duration: 1, Power: []float64{0, 0}}}, 1e-3)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
}

// A part of little heat beside a link of the stiffest: not at rest until it is.
func TestSteadyOfFewWatts(t *testing.T) {
	for _, small := range []thermal.Exchange{thermal.Conductance(1e-3), thermal.Convecting{Coefficient: 1e-3, Exponent: 1}} {
		n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 1, Start: 300}, {Name: "b", Capacity: 1, Start: 300}, {Name: "c", Capacity: 1, Start: 300, Power: 0.01}, air300},
			Links: []thermal.Link{between(0, 1, thermal.Conductance(1e12)), between(1, 3, thermal.Conductance(1)), between(2, 3, small)}}
		s, err := n.Steady(0)
		require.NoError(t, err)
		require.InDelta(t, 310, s.Temperatures[2], 1e-9)
	}
}

// What nothing cools fades never, and rounding does not tell otherwise.
func TestAdrift(t *testing.T) {
	for _, capacity := range []float64{0.3, 1, 3, 7} {
		n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: capacity, Start: 300}, {Name: "b", Capacity: 0.7, Start: 310}, {Name: "c", Capacity: 1.3, Start: 300, Power: 2}},
			Links: []thermal.Link{between(0, 1, thermal.Conductance(0.3)), between(1, 2, thermal.Conductance(0.37))}}
		m, err := n.Modes()
		require.NoError(t, err)
		require.Equal(t, math.Inf(1), m.TimeConstants()[0])
		require.Less(t, m.TimeConstants()[1], 10.)
		_, err = m.Foster(0, 0)
		require.ErrorIs(t, err, thermal.ErrNoBalance)
		x, err := m.At(1000)
		require.NoError(t, err)
		require.InDelta(t, 2*1000+0.7*10, capacity*(x[0]-300)+0.7*(x[1]-300)+1.3*(x[2]-300), 1e-6, "energy")
		_, err = n.Duty([]thermal.Block{{Duration: 1, Power: []float64{0, 0, 0}}}, 1e-3)
		require.ErrorContains(t, err, "no way leads from a")
	}
	stiff := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 1e-9, Start: 300}, {Name: "b", Capacity: 1e6, Start: 320}, air300},
		Links: []thermal.Link{between(0, 1, thermal.Conductance(1e3)), between(1, 2, thermal.Conductance(0.01))}}
	_, err := stiff.Modes()
	require.ErrorContains(t, err, "lost in rounding")
}

// More drawn off than there is: words, not temperatures below 0 K.
func TestDrained(t *testing.T) {
	n := thermal.Network{Nodes: []thermal.Node{{Name: "cold plate", Capacity: 1, Start: 300, Power: -1e4}, air300}, Links: []thermal.Link{between(0, 1, thermal.Conductance(1))}}
	_, steady := n.Steady(0)
	m, err := n.Modes()
	require.NoError(t, err)
	_, modes := m.At(100)
	_, duty := n.Duty([]thermal.Block{{Duration: 1, Power: []float64{-1e4, 0}}}, 1e-3)
	_, warm := n.Warm([]float64{100}, 1e-3)
	for _, err := range []error{steady, modes, duty, warm} {
		require.ErrorIs(t, err, thermal.ErrNoBalance)
		require.ErrorContains(t, err, "drawn from cold plate")
	}
}

// A pulse each 10 s is followed by who asks for the times at which it jumps.
func TestWarmPulses(t *testing.T) {
	const c, g, power = 10.0, 0.01, 20.0
	n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: c, Start: 300, Heat: func(time, _ float64) (float64, float64) {
		if math.Mod(time, 10) < 1 {
			return power, 0
		}
		return 0, 0
	}}, air300}, Links: []thermal.Link{between(0, 1, thermal.Conductance(g))}}
	var times []float64
	want, left := 0.0, func(time float64) float64 { return math.Exp(-g / c * time) }
	for i := range 20 {
		times = append(times, float64(10*i+1), float64(10*i+10))
		want = (want*left(1) + power/g*(1-left(1))) * left(9)
	}
	w, err := n.Warm(times, 1e-6)
	require.NoError(t, err)
	assert.InDelta(t, want, w.Temperatures[len(times)-1][0]-300, 1e-3)
}

// The modes keep what they were made of.
func TestModesKeepTheirNetwork(t *testing.T) {
	n := sixNodes()
	m, err := n.Modes()
	require.NoError(t, err)
	before, err := m.At(60)
	require.NoError(t, err)
	n.Nodes[6].Start = 350
	after, err := m.At(60)
	require.NoError(t, err)
	assert.Equal(t, before, after)
}

// What is not asked for may be anything.
func TestNetworkUnasked(t *testing.T) {
	n := sixNodes()
	want, err := n.Steady(0)
	require.NoError(t, err)
	n.Nodes[0].Reference, n.Nodes[6].Capacity = math.NaN(), math.Inf(-1)
	got, err := n.Steady(0)
	require.NoError(t, err)
	assert.Equal(t, want, got)
	m, err := n.Modes()
	require.NoError(t, err)
	x, err := m.At(1e6)
	require.NoError(t, err)
	assert.InDelta(t, want.Temperatures[0], x[0], 1e-9)
}

// A source of one cycle's period repeats with the blocks: A·(1 − cos ωt) on top of them.
func TestDutyOfTimedSource(t *testing.T) {
	const c, g, amplitude, period, power = 50.0, 0.2, 3.0, 300.0, 8.0
	omega := 2 * math.Pi / period
	n := thermal.Network{Nodes: []thermal.Node{{Name: "body", Capacity: c, Start: 300, Heat: func(time, _ float64) (float64, float64) { return amplitude * (1 - math.Cos(omega*time)), 0 }}, air300},
		Links: []thermal.Link{between(0, 1, thermal.Conductance(g))}}
	d, err := n.Duty([]thermal.Block{{Duration: 100, Power: []float64{power, 0}}, {Duration: 200, Power: []float64{0, 0}}}, 1e-6)
	require.NoError(t, err)
	swing := func(time float64) float64 {
		return amplitude/g - amplitude/(g*g+c*c*omega*omega)*(g*math.Cos(omega*time)+c*omega*math.Sin(omega*time))
	}
	left := func(time float64) float64 { return math.Exp(-g / c * time) }
	block := power / g * (1 - left(100)) / (1 - left(300)) // at the first block's end
	assert.InDelta(t, 300+block*left(200)+swing(0), d.Start[0], 1e-4)
	assert.InDelta(t, 300+block+swing(100), d.Ends[0][0], 1e-4)
	assert.InDelta(t, d.Start[0], d.Ends[1][0], 1e-5)
}

// A build that is none, or that makes another network of other parameters.
func TestFitWarmingBuild(t *testing.T) {
	readings := []thermal.Reading{{Time: 0, Temperature: 300}, {Time: 1, Temperature: 300.5}, {Time: 2, Temperature: 300.6}}
	_, err := thermal.FitWarming(nil, []float64{1}, 0, readings)
	require.ErrorContains(t, err, "build")
	calls := 0
	_, err = thermal.FitWarming(func(p []float64) thermal.Network {
		if calls++; calls == 1 {
			return thermal.Ladder([]float64{1, p[0]}, []float64{1, 1}, 1, 300)
		}
		return thermal.Ladder([]float64{p[0]}, []float64{1}, 1, 300)
	}, []float64{1}, 1, readings)
	require.ErrorContains(t, err, "node 1 is not there, or held")
}

// Sources that fall steeply beside thin links: rounding of temperatures is all that is left in the end.
func TestSteadyOfSteepSources(t *testing.T) {
	n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 2.55e-5, Start: 486.7, Power: 1.66e-9, PowerRise: -0.00936, Reference: 300},
		{Name: "b", Capacity: 0.0306, Start: 375.6, Power: 5.4e-9, PowerRise: -0.0149, Reference: 300}, {Name: "air", Start: 316.5, Held: true}},
		Links: []thermal.Link{between(0, 1, thermal.Conductance(1.1494470131154893e-6)), between(1, 2, thermal.Conductance(4.106556859169109e-6))}}
	s, err := n.Steady(0)
	require.NoError(t, err)
	require.InDelta(t, 300.00455, s.Temperatures[1], 1e-5) // 16.5 K by 4.1e-6/(0.0149 + 4.1e-6)
	require.True(t, s.Unique)
}
