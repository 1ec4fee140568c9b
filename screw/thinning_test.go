package screw_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// A power law of index 1 is a Newtonian melt: what is solved point by point must be
// what the closed form says, in every field.
func TestPropertyIndexOneIsNewtonian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, d, n := screwtest.Channels().Draw(t, "channel"), screwtest.Dies().Draw(t, "die"), screwtest.Speeds().Draw(t, "speed")
		newton := screwtest.NewtonianMelts().Draw(t, "melt")
		one := newton
		one.Viscosity = material.PowerLaw{Consistency: newton.Viscosity.At(1, newton.Temperature, 0), Index: 1, Reference: newton.Temperature}
		pressure := draw.Log(1e4, 1e8).Draw(t, "pressure")

		closed, err := c.Convey(newton, n, pressure)
		require.NoError(t, err)
		solved, err := c.Convey(one, n, pressure)
		require.NoError(t, err)
		alike(t, closed, solved)

		point, err := screw.OperatingPoint(c, d, newton, n)
		other, err1 := screw.OperatingPoint(c, d, one, n)
		require.Equal(t, err == nil, err1 == nil)
		if err == nil {
			alike(t, point.Conveyance, other.Conveyance)
			same(t, point.DieShearStress, other.DieShearStress, 1e-9, "die")
		}
	})
}

// alike compares every number, differences by what they are differences of.
func alike(t require.TestingT, want, got screw.Conveyance) {
	flow := want.Drag + math.Abs(want.PressureFlow) + math.Abs(want.Leakage)
	power := want.ChannelDissipation + want.LandDissipation + math.Abs(want.Pumping)
	scale := map[string]float64{"Flow": flow, "OpenFlow": flow, "PressureFlow": flow, "Leakage": flow,
		"MassFlow": flow * want.MassFlow / want.Flow, "Power": power, "Pumping": power, "Torque": power * want.Torque / want.Power}
	w, g := reflect.ValueOf(want), reflect.ValueOf(got)
	for i := range w.NumField() {
		name := w.Type().Field(i).Name
		if w.Field(i).Kind() != reflect.Float64 {
			continue
		}
		x, y := w.Field(i).Float(), g.Field(i).Float()
		if name == "TemperatureRise" || name == "ResidenceTime" { // over a flow that may be next to nothing
			if math.Abs(want.Flow) < 1e-3*flow {
				continue
			}
		}
		require.LessOrEqual(t, math.Abs(x-y), 1e-9*math.Max(math.Abs(x), math.Abs(scale[name])), "%s: %g, %g", name, x, y)
	}
}

// What a screw delivers against nothing, it can be asked for; and the tightest die
// still has a point, whatever rounding leaves of the flow.
func TestEndsOfTheCharacteristic(t *testing.T) {
	for i := range 40 {
		m := thin(0.2 + 0.02*float64(i))
		s, err := benchChannel.Convey(m, 1, 0)
		require.NoError(t, err)
		p, err := benchChannel.PressureAgainst(m, 1, s.OpenFlow)
		require.NoError(t, err, "index %g", 0.2+0.02*float64(i))
		require.LessOrEqual(t, p, 1e-9*s.ClosedPressure)
		q, err := screw.OperatingPoint(benchChannel, screw.Die{screw.Capillary{Diameter: 1e-5, Length: 10}}, m, 1)
		require.NoError(t, err, "index %g", 0.2+0.02*float64(i))
		same(t, q.Pressure, s.ClosedPressure, 1e-3, "as good as closed")
		require.Positive(t, q.Flow)
	}
}

// Rates at the walls leave the range of the law before drag alone would.
func TestWallRatesAreTold(t *testing.T) {
	m, err := screw.MeltOf(material.HDPE(), material.Celsius(190))
	require.NoError(t, err)
	fast := benchChannel
	fast.Clearance = 3e-4
	gentle, err := fast.Convey(m, 3, 1e5)
	require.NoError(t, err)
	assert.Nil(t, gentle.Beyond)
	hard, err := fast.Convey(m, 3, 5*gentle.ClosedPressure)
	require.NoError(t, err)
	require.Len(t, hard.Beyond, 2)
	assert.Contains(t, hard.Beyond[0], "in the channel, at its wall: shear rate")
	assert.Contains(t, hard.Beyond[1], "in the clearance, at its wall: shear rate")
	// A law that stiffens under pressure is asked without it, and that is told.
	m.Viscosity = material.CrossExponential{N: 0.3, TauStar: 3e4, B: 1e-3, Tb: 6000, Beta: 3e-8}
	s, err := benchChannel.Convey(m, 1, 1e8)
	require.NoError(t, err)
	require.Len(t, s.Beyond, 1)
	assert.Contains(t, s.Beyond[0], "pressure would stiffen the melt by a factor up to")
	s, err = benchChannel.Convey(m, 1, 1e6)
	require.NoError(t, err)
	assert.Empty(t, s.Beyond)
}
