package thermal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/thermal"
)

// sixNodes is chip, case, sink, box air, winding and frame, in air of 25 °C.
func sixNodes() thermal.Network {
	var n thermal.Network
	power := []float64{2.6, 0, 0, 1.5, 11, 0.8}
	for i, c := range []float64{0.02, 0.8, 45, 600, 90, 260} {
		n.Nodes = append(n.Nodes, thermal.Node{Name: fmt.Sprintf("node %d", i), Capacity: c, Start: 298.15, Power: power[i]})
	}
	n.Nodes = append(n.Nodes, thermal.Node{Name: "air", Start: 298.15, Held: true})
	for _, l := range []struct {
		from, to   int
		resistance float64
	}{{0, 1, 1.8}, {1, 2, 0.6}, {2, 3, 5.5}, {4, 5, 1.25}, {5, 3, 3.2}, {3, 6, 0.9}, {2, 6, 40}, {5, 6, 6}} {
		n.Links = append(n.Links, thermal.Link{From: l.from, To: l.to, Exchange: thermal.Conductance(1 / l.resistance)})
	}
	return n
}

// radiating is the same with sink and frame radiating and cooled by free air, and copper
// whose loss grows.
func radiating() thermal.Network {
	n := sixNodes()
	n.Nodes[4].PowerRise, n.Nodes[4].Reference = 0.03, 298.15
	n.Links = append(n.Links, thermal.Link{From: 5, To: 6, Exchange: thermal.Radiating{Area: 0.03, Emissivity: 0.9}},
		thermal.Link{From: 2, To: 6, Exchange: thermal.Convecting{Coefficient: 0.02, Exponent: 1.25}})
	return n
}

func TestCheckNetwork(t *testing.T) {
	const source = "six nodes, eigenvalues at 40 digits, held against the matrix exponential"
	n := sixNodes()
	s, err := n.Steady(0)
	require.NoError(t, err)
	m, err := n.Modes()
	require.NoError(t, err)
	var rows []verify.Row
	for i, want := range []float64{51.939655857897, 47.259655857897, 45.699655857897, 34.245858538358, 69.405994698929, 55.655994698929} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("at rest, node %d [°C]", i), Source: source, Kind: verify.Own, Want: want, Got: s.Temperatures[i] - 273.15, Tol: 1e-13, Why: "digits of the value and rounding"})
	}
	for i, want := range []float64{1009.15228215, 408.66508638, 198.367612678, 79.8790475602, 0.48410558158, 0.035054497545} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("time constant %d [s]", i), Source: source, Kind: verify.Own, Want: want, Got: m.TimeConstants()[i], Tol: 1e-11, Why: "digits of the value"})
	}
	for _, at := range []struct {
		time float64
		want [6]float64
	}{
		{0.05, [6]float64{28.5394134788, 25.0712497409, 25.0000491638, 25.0001249938, 25.0061097875, 25.000154301}},
		{1, [6]float64{31.0152047625, 26.3537613147, 25.0309900753, 25.0025009469, 25.1216947892, 25.0032580518}},
		{10, [6]float64{31.7382578354, 27.0602230238, 25.5270765199, 25.0255360715, 26.1713130062, 25.0481523373}},
		{60, [6]float64{34.1946884786, 29.5162755727, 27.9779626457, 25.1732093067, 30.8087781803, 25.6882815528}},
		{7200, [6]float64{51.9285863731, 47.248586768, 45.6885921645, 34.2360364573, 69.3774805498, 55.630659305}},
	} {
		x, err := m.At(at.time)
		require.NoError(t, err)
		w, err := n.Warm([]float64{at.time}, 1e-9)
		require.NoError(t, err)
		for i, want := range at.want {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("node %d after %g s, by modes [°C]", i, at.time), Source: source, Kind: verify.Own, Want: want, Got: x[i] - 273.15, Tol: 3e-12, Why: "digits of the value"},
				verify.Row{Name: fmt.Sprintf("node %d after %g s, by steps [°C]", i, at.time), Source: source, Kind: verify.Own, Want: want, Got: w.Temperatures[0][i] - 273.15, Tol: 3e-11, Why: "asked to 1e-9 K a step"})
		}
	}
	verify.Table(t, rows)
	assert.InDelta(t, 15.9, s.Made, 1e-12)
	assert.InDelta(t, 15.9, s.Given, 1e-12)
	assert.True(t, s.Unique)
}

func TestCheckRadiatingBarrel(t *testing.T) {
	const source = "closed form of a body that radiates alone, and of one in air of a power of the difference (Bejan and Kraus, Heat Transfer Handbook, eqs. 3.283, 3.286), evaluated independently"
	cooling := func(e thermal.Exchange, from, until float64) float64 {
		n := thermal.Network{Nodes: []thermal.Node{{Name: "barrel", Capacity: 1176, Start: from}, {Name: "air", Start: 295.15, Held: true}}, Links: []thermal.Link{{From: 0, To: 1, Exchange: e}}}
		low, high := 1.0, 1e5
		for range 60 {
			at := (low + high) / 2
			w, err := n.Warm([]float64{at}, 1e-8)
			require.NoError(t, err)
			if w.Temperatures[0][0] > until {
				low = at
			} else {
				high = at
			}
		}
		return low
	}
	convecting := thermal.Convecting{Coefficient: 8 * 0.06 / math.Pow(200, 0.25), Exponent: 1.25}
	verify.Table(t, []verify.Row{
		{Name: "radiating from 220 to 50 °C, walls of 20 °C [s]", Source: source, Kind: verify.Own, Want: 5370.972394536,
			Got: radiatingFrom20(t), Tol: 1e-8, Why: "asked to 1e-8 K a step"},
		{Name: "in free air, to 0.15 of the difference [s]", Source: source, Kind: verify.Own, Want: 5947.197011315,
			Got: cooling(convecting, 495.15, 295.15+0.15*200), Tol: 1e-8, Why: "asked to 1e-8 K a step"},
	})
}

func radiatingFrom20(t *testing.T) float64 {
	n := thermal.Network{Nodes: []thermal.Node{{Name: "barrel", Capacity: 1176, Start: 493.15}, {Name: "walls", Start: 293.15, Held: true}},
		Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Radiating{Area: 0.06, Emissivity: 0.8}}}}
	low, high := 1.0, 1e5
	for range 60 {
		at := (low + high) / 2
		w, err := n.Warm([]float64{at}, 1e-8)
		require.NoError(t, err)
		if w.Temperatures[0][0] > 323.15 {
			low = at
		} else {
			high = at
		}
	}
	return low
}

// networks draws connected networks of 2 to 8 free nodes and air; linear or not.
func networks(t *rapid.T, linear bool) thermal.Network {
	count := rapid.IntRange(2, 8).Draw(t, "nodes")
	var n thermal.Network
	for i := range count {
		n.Nodes = append(n.Nodes, thermal.Node{Name: fmt.Sprint(i), Capacity: draw.Log(0.01, 1e3).Draw(t, "capacity"), Start: draw.Uniform(280, 400).Draw(t, "start"),
			Power: draw.Uniform(0, 20).Draw(t, "power")})
	}
	n.Nodes = append(n.Nodes, thermal.Node{Name: "air", Start: draw.Uniform(270, 320).Draw(t, "air"), Held: true})
	exchange := func() thermal.Exchange {
		if !linear && rapid.Bool().Draw(t, "bent") {
			if rapid.Bool().Draw(t, "radiates") {
				return thermal.Radiating{Area: draw.Log(0.03, 0.3).Draw(t, "area"), Emissivity: draw.Uniform(0.1, 1).Draw(t, "emissivity")}
			}
			return thermal.Convecting{Coefficient: draw.Log(0.1, 2).Draw(t, "coefficient"), Exponent: draw.Uniform(1.2, 1.4).Draw(t, "exponent")}
		}
		return thermal.Conductance(draw.Log(0.3, 20).Draw(t, "conductance"))
	}
	for i := range count { // each to a later one, the last to air
		n.Links = append(n.Links, thermal.Link{From: i, To: rapid.IntRange(i+1, count).Draw(t, "to"), Exchange: exchange()})
	}
	for range rapid.IntRange(0, 4).Draw(t, "more") {
		a := rapid.IntRange(0, count-1).Draw(t, "a")
		n.Links = append(n.Links, thermal.Link{From: rapid.IntRange(a+1, count).Draw(t, "b"), To: a, Exchange: exchange()})
	}
	return n
}

// At rest all heat made is given off, no node is colder than the air, and more ways for
// heat make the hottest no hotter.
func TestPropertyNetworkAtRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := networks(t, false)
		s, err := n.Steady(0)
		require.NoError(t, err)
		require.True(t, s.Unique)
		require.InDelta(t, s.Made, s.Given, 1e-9*math.Max(1, s.Made))
		air := n.Nodes[len(n.Nodes)-1].Start
		hottest := 0.0
		for _, x := range s.Temperatures {
			require.GreaterOrEqual(t, x, air-1e-6)
			hottest = math.Max(hottest, x)
		}
		// Another start, the same end.
		again := n
		again.Nodes = append([]thermal.Node(nil), n.Nodes...)
		for i := range again.Nodes[:len(again.Nodes)-1] {
			again.Nodes[i].Start = draw.Uniform(250, 1500).Draw(t, "other start")
		}
		other, err := again.Steady(0)
		require.NoError(t, err)
		for i := range s.Temperatures {
			require.InDelta(t, s.Temperatures[i], other.Temperatures[i], 1e-6)
		}
		// A link more to the air.
		more := n
		more.Links = append(append([]thermal.Link(nil), n.Links...), thermal.Link{From: rapid.IntRange(0, len(n.Nodes)-2).Draw(t, "from"), To: len(n.Nodes) - 1,
			Exchange: thermal.Conductance(draw.Log(0.01, 10).Draw(t, "extra"))})
		cooler, err := more.Steady(0)
		require.NoError(t, err)
		for _, x := range cooler.Temperatures {
			require.LessOrEqual(t, x, hottest+1e-6)
		}
		// Time brings it there, and a network that starts there stays.
		for i := range again.Nodes {
			again.Nodes[i].Start = s.Temperatures[i]
		}
		w, err := again.Warm([]float64{1e3}, 1e-6)
		require.NoError(t, err)
		for i := range s.Temperatures {
			require.InDelta(t, s.Temperatures[i], w.Temperatures[0][i], 1e-5)
		}
	})
}

// Linear networks: modes and steps agree; a watt here warms there as one there here; a
// step response ends at the resistance; powers add up; capacities all greater only stretch time.
func TestPropertyLinearNetwork(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := networks(t, true)
		m, err := n.Modes()
		require.NoError(t, err)
		time := draw.Log(0.1, 3000).Draw(t, "time")
		x, err := m.At(time)
		require.NoError(t, err)
		w, err := n.Warm([]float64{time / 3, time}, 1e-7)
		require.NoError(t, err)
		start, err := m.At(0)
		require.NoError(t, err)
		for i := range x {
			require.InDelta(t, x[i], w.Temperatures[1][i], 2e-5, "modes and steps")
			require.InDelta(t, n.Nodes[i].Start, start[i], 1e-8)
		}
		free := len(n.Nodes) - 1
		a, b := rapid.IntRange(0, free-1).Draw(t, "heated"), rapid.IntRange(0, free-1).Draw(t, "read")
		there, err := m.Foster(a, b)
		require.NoError(t, err)
		back, err := m.Foster(b, a)
		require.NoError(t, err)
		sum, other := 0.0, 0.0
		for k := range there {
			sum, other = sum+there[k].Resistance, other+back[k].Resistance
		}
		rest, err := n.Steady(0)
		require.NoError(t, err)
		warmer := n
		warmer.Nodes = append([]thermal.Node(nil), n.Nodes...)
		warmer.Nodes[a].Power++
		more, err := warmer.Steady(0)
		require.NoError(t, err)
		require.InDelta(t, more.Temperatures[b]-rest.Temperatures[b], sum, 1e-8*(1+sum), "a watt more")
		require.InDelta(t, sum, other, 1e-9*(1+sum), "reciprocity")
		slow := n
		slow.Nodes = append([]thermal.Node(nil), n.Nodes...)
		for i := range slow.Nodes {
			slow.Nodes[i].Capacity *= 3
		}
		ms, err := slow.Modes()
		require.NoError(t, err)
		y, err := ms.At(3 * time)
		require.NoError(t, err)
		for i := range x {
			require.InDelta(t, x[i], y[i], 1e-6)
		}
	})
}

// Without a way out, heat stays: capacities times temperatures grow as power tells, to
// rounding, step by step.
func TestPropertyNetworkKeepsEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := networks(t, false)
		for i := range n.Links { // air is but another body
			if c, ok := n.Links[i].Exchange.(thermal.Convecting); ok {
				c.Exponent = math.Max(c.Exponent, 1.2)
				n.Links[i].Exchange = c
			}
		}
		last := len(n.Nodes) - 1
		n.Nodes[last] = thermal.Node{Name: "body", Capacity: 50, Start: 300}
		times := []float64{1, 5, 30, 60}
		w, err := n.Warm(times, draw.Log(1e-6, 1e-2).Draw(t, "tolerance"))
		require.NoError(t, err)
		power, capacity := 0.0, 0.0
		for _, node := range n.Nodes {
			power, capacity = power+node.Power, capacity+node.Capacity*node.Start
		}
		for k, time := range times {
			held := -power * time
			for i, x := range w.Temperatures[k] {
				held += n.Nodes[i].Capacity * x
			}
			require.InDelta(t, capacity, held, 1e-9*capacity, "energy")
		}
		_, err = n.Steady(0)
		require.ErrorIs(t, err, thermal.ErrNoBalance)
	})
}

// Sources that outgrow their cooling have no rest; and one that hangs on time is followed.
func TestNetworkSources(t *testing.T) {
	n := sixNodes()
	n.Nodes[4].PowerRise, n.Nodes[4].Reference = 2, 298.15
	_, err := n.Steady(0)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	m, err := n.Modes()
	require.NoError(t, err)
	_, err = m.At(1e5)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	_, err = m.Foster(0, 0)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	_, err = n.Warm([]float64{1e5}, 1e-4)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	// One body, heat A·sin ωt: C·dT/dt + G·T.
	const c, g, amplitude, omega = 50.0, 0.2, 3.0, 0.02
	one := thermal.Network{Nodes: []thermal.Node{{Name: "body", Capacity: c, Start: 300, Heat: func(time, _ float64) (float64, float64) { return amplitude * math.Sin(omega*time), 0 }},
		{Name: "air", Start: 300, Held: true}}, Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Conductance(g)}}}
	w, err := one.Warm([]float64{100, 1000}, 1e-9)
	require.NoError(t, err)
	for k, time := range w.Times {
		want := amplitude / (g*g + c*c*omega*omega) * (g*math.Sin(omega*time) - c*omega*math.Cos(omega*time) + c*omega*math.Exp(-g/c*time))
		require.InDelta(t, want, w.Temperatures[k][0]-300, 1e-6)
	}
	_, err = one.Modes()
	require.ErrorContains(t, err, "not linear")
}

func TestNetworkFaults(t *testing.T) {
	n := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: -1, Start: 300}, {Name: "b", Start: math.NaN(), Held: true}, {Name: "c", Capacity: 1, Start: 300, PowerRise: 1}},
		Links: []thermal.Link{{From: 0, To: 5}, {From: 0, To: 1}, {From: 1, To: 0, Exchange: thermal.Radiating{Area: -1, Emissivity: 2}}}}
	err := n.Validate()
	for _, part := range []string{"Nodes[0].Capacity = -1", "Nodes[1].Start = NaN", "Nodes[2].Reference = 0", "Links[0] = 5: allowed two different nodes", "Links[1].Exchange", "Radiating.Area = -1",
		"Radiating.Emissivity = 2", "Nodes[2] (c) = 0: allowed at least one link"} {
		assert.ErrorContains(t, err, part)
	}
	_, err = thermal.Network{}.Steady(0)
	assert.ErrorContains(t, err, "Nodes = 0")
	ok := sixNodes()
	_, err = ok.Warm([]float64{5, 5}, 0)
	assert.ErrorContains(t, err, "times[1] = 5 s: allowed above the one before, 5 s")
	assert.ErrorContains(t, err, "tolerance = 0 K")
	_, err = ok.Duty([]thermal.Block{{Duration: 1, Power: []float64{1}}}, 1)
	assert.ErrorContains(t, err, "blocks[0].Power")
	_, err = ok.Modes()
	require.NoError(t, err)
	// Nothing made, and bodies of one temperature that only free air joins: at rest as they are.
	quiet := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 1, Start: 300}, {Name: "b", Capacity: 1, Start: 300}, {Name: "air", Start: 300, Held: true}},
		Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Convecting{Coefficient: 1, Exponent: 1.25}}, {From: 1, To: 2, Exchange: thermal.Convecting{Coefficient: 1, Exponent: 1.25}}}}
	s, err := quiet.Steady(0)
	require.NoError(t, err)
	assert.Equal(t, []float64{300, 300, 300}, s.Temperatures)
	quiet.Nodes[0].Start = 320
	s, err = quiet.Steady(0)
	require.NoError(t, err)
	assert.InDelta(t, 300, s.Temperatures[0], 1e-3)
	lone := thermal.Network{Nodes: []thermal.Node{{Name: "a", Capacity: 1, Start: 300}, {Name: "b", Capacity: 1, Start: 300}, {Name: "air", Start: 300, Held: true}, {Name: "c", Capacity: 1, Start: 300}},
		Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Conductance(1)}, {From: 2, To: 3, Exchange: thermal.Conductance(1)}}}
	_, err = lone.Steady(0)
	require.ErrorIs(t, err, thermal.ErrNoBalance)
	assert.ErrorContains(t, err, "no way leads from a")
	assert.Equal(t, 3, len(thermal.Ladder([]float64{1, 2}, []float64{1, 1}, 1, 300).Nodes))
}
