package screw_test

import (
	"math"
	"reflect"
	"testing"

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
