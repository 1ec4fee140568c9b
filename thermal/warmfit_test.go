package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/thermal"
)

// A table made by a known network with known scatter gives it back within its errors.
func TestFitWarming(t *testing.T) {
	build := func(p []float64) thermal.Network { return thermal.Ladder([]float64{p[0]}, []float64{p[1]}, 12, 295) }
	truth := []float64{90, 2.6}
	m, err := build(truth).Modes()
	require.NoError(t, err)
	var readings []thermal.Reading
	for i := range 40 {
		time := 20 * float64(i)
		x, err := m.At(time)
		require.NoError(t, err)
		readings = append(readings, thermal.Reading{Time: time, Temperature: x[0] + 0.2*math.Sin(7.3*float64(i*i))})
	}
	fit, err := thermal.FitWarming(build, []float64{20, 10}, 0, readings)
	require.NoError(t, err)
	for i, p := range fit.Parameters {
		assert.Less(t, math.Abs(p-truth[i]), 3*fit.Errors[i])
		assert.Less(t, fit.Errors[i], 0.02*p)
	}
	assert.InDelta(t, 0.2/math.Sqrt2, fit.Scatter, 0.03)
	assert.Equal(t, fit.Parameters[0], fit.Network.Nodes[0].Capacity)
	// Radiating: emissivity found.
	radiates := func(p []float64) thermal.Network {
		return thermal.Network{Nodes: []thermal.Node{{Name: "barrel", Capacity: p[0], Start: 293, Power: 200}, {Name: "walls", Start: 293, Held: true}},
			Links: []thermal.Link{{From: 0, To: 1, Exchange: thermal.Radiating{Area: 0.06, Emissivity: math.Min(1, p[1])}}}}
	}
	w, err := radiates([]float64{1100, 0.7}).Warm([]float64{100, 300, 600, 1000, 2000, 4000}, 1e-8)
	require.NoError(t, err)
	readings = nil
	for k, time := range w.Times {
		readings = append(readings, thermal.Reading{Time: time, Temperature: w.Temperatures[k][0]})
	}
	fit, err = thermal.FitWarming(radiates, []float64{500, 0.3}, 0, readings)
	require.NoError(t, err)
	assert.InEpsilon(t, 1100, fit.Parameters[0], 1e-4)
	assert.InEpsilon(t, 0.7, fit.Parameters[1], 1e-4)
	// Capacity and its twin cannot be told apart.
	twin := func(p []float64) thermal.Network { return build([]float64{p[0] * p[2], p[1]}) }
	_, err = thermal.FitWarming(twin, []float64{10, 2, 10}, 0, readings)
	require.ErrorContains(t, err, "do not tell these 3 parameters apart")
	_, err = thermal.FitWarming(build, []float64{-1, 2}, 1, readings[:2])
	require.ErrorContains(t, err, "start[0] = -1")
	require.ErrorContains(t, err, "readings = 2")
}
