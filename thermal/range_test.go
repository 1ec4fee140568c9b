package thermal_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/material"
	"meltflight/thermal"
)

// Both ends of each documented range are accepted, the next number outside is refused by name.
func TestRanges(t *testing.T) {
	b, p := exampleDriver()
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8}
	// Alone, so that no edge fills the period of another.
	b.ChopFrequency, b.RiseTime, b.FallTime, b.DeadTime = 0, 0, 0, 0
	current, ambient, limit := 0., 300., 400.
	cold, hot, coldTemperature, atEnd := 1., 1., 300., 300.
	thickness, conductivity, coefficient, area, first, second := 1., 1., 1., 1., 1., 1.

	bridge := func() error { return b.Validate() }
	path := func() error { return p.Validate() }
	winding := func() error { return w.Validate() }
	loss := func() error { _, err := b.Loss(current, limit); return err }
	chip := func() error { _, err := b.Steady(current, ambient, p); return err }
	largest := func() error { _, err := b.LargestCurrent(limit, ambient, p); return err }
	cooling := func() error { _, err := b.LargestResistance(current, limit, ambient); return err }
	used := func() error { _, err := b.Utilisation(current, limit, ambient, p); return err }
	motor := func() error { _, err := w.Steady(current, ambient); return err }
	most := func() error { _, err := w.LargestCurrent(limit, ambient); return err }
	mount := func() error { _, err := w.LargestResistance(current, limit, ambient); return err }
	loaded := func() error { _, err := w.Utilisation(current, limit, ambient); return err }
	rise := func() error { _, err := thermal.RiseByResistance(cold, hot, coldTemperature, atEnd); return err }
	layer := func() error { _, err := thermal.Layer(thickness, conductivity, area); return err }
	surface := func() error { _, err := thermal.Surface(coefficient, area); return err }
	parallel := func() error { _, err := thermal.Parallel(first, second); return err }

	for _, c := range []struct {
		name   string
		value  *float64
		lo, hi float64
		ask    func() error
	}{
		{"thermal.Bridge.OnResistance", &b.OnResistance, 1e-4, 100, bridge},
		{"thermal.Bridge.TemperatureCoefficient", &b.TemperatureCoefficient, 0, 0.01, bridge},
		{"thermal.Bridge.Supply", &b.Supply, 1, 1000, bridge},
		{"thermal.Bridge.RiseTime", &b.RiseTime, 0, 1e-4, bridge},
		{"thermal.Bridge.FallTime", &b.FallTime, 0, 1e-4, bridge},
		{"thermal.Bridge.ChopFrequency", &b.ChopFrequency, 0, 1e7, bridge},
		{"thermal.Bridge.Quiescent", &b.Quiescent, 0, 1, bridge},
		{"thermal.Bridge.DiodeDrop", &b.DiodeDrop, 0, 5, bridge},
		{"thermal.Bridge.DeadTime", &b.DeadTime, 0, 1e-4, bridge},
		{"thermal.Path.JunctionToCase", &p.JunctionToCase, 0, 1e4, path},
		{"thermal.Path.CaseToSink", &p.CaseToSink, 0, 1e4, path},
		{"thermal.Path.SinkToAir", &p.SinkToAir, 0, 1e4, path},
		{"thermal.Winding.Resistance", &w.Resistance, 1e-4, 1e5, winding},
		{"thermal.Winding.ThermalResistance", &w.ThermalResistance, 1e-3, 1e4, winding},
		{"thermal.Winding.IronLoss", &w.IronLoss, 0, 1e5, winding},
		{"thermal.Bridge.Loss: current", &current, 0, 1e5, loss},
		{"thermal.Bridge.Loss: junction", &limit, 200, 473.15, loss},
		{"thermal.Bridge.Steady: current", &current, 0, 1e5, chip},
		{"thermal.Bridge.Steady: ambient", &ambient, 200, 473.15, chip},
		{"thermal.Bridge.LargestCurrent: limit", &limit, 200, 473.15, largest},
		{"thermal.Bridge.LargestCurrent: ambient", &ambient, 200, 473.15, largest},
		{"thermal.Bridge.LargestResistance: current", &current, 0, 1e5, cooling},
		{"thermal.Bridge.LargestResistance: limit", &limit, 200, 473.15, cooling},
		{"thermal.Bridge.LargestResistance: ambient", &ambient, 200, 473.15, cooling},
		{"thermal.Bridge.Utilisation: current", &current, 0, 1e5, used},
		{"thermal.Winding.Steady: current", &current, 0, 1e5, motor},
		{"thermal.Winding.Steady: ambient", &ambient, 200, 473.15, motor},
		{"thermal.Winding.LargestCurrent: limit", &limit, 200, 473.15, most},
		{"thermal.Winding.LargestCurrent: ambient", &ambient, 200, 473.15, most},
		{"thermal.Winding.LargestResistance: current", &current, 0, 1e5, mount},
		{"thermal.Winding.LargestResistance: limit", &limit, 200, 473.15, mount},
		{"thermal.Winding.LargestResistance: ambient", &ambient, 200, 473.15, mount},
		{"thermal.Winding.Utilisation: current", &current, 0, 1e5, loaded},
		{"thermal.RiseByResistance: cold", &cold, 1e-6, 1e6, rise},
		{"thermal.RiseByResistance: hot", &hot, 1e-6, 1e6, rise},
		{"thermal.RiseByResistance: coldTemperature", &coldTemperature, 200, 473.15, rise},
		{"thermal.RiseByResistance: ambientAtEnd", &atEnd, 200, 473.15, rise},
		{"thermal.Layer: thickness", &thickness, 1e-7, 1, layer},
		{"thermal.Layer: conductivity", &conductivity, 1e-3, 1e4, layer},
		{"thermal.Layer: area", &area, 1e-8, 100, layer},
		{"thermal.Surface: coefficient", &coefficient, 0.01, 1e6, surface},
		{"thermal.Surface: area", &area, 1e-8, 100, surface},
		{"thermal.Parallel: first", &first, 1e-13, 1e11, parallel},
		{"thermal.Parallel: second", &second, 1e-13, 1e11, parallel},
	} {
		was := *c.value
		for value, inside := range map[float64]bool{
			c.lo: true, c.hi: true,
			math.Nextafter(c.lo, math.Inf(-1)): false, math.Nextafter(c.hi, math.Inf(1)): false,
			math.NaN(): false, math.Inf(1): false, math.Inf(-1): false,
		} {
			*c.value = value
			if c.value == &cold || c.value == &hot {
				cold, hot = value, value // both alike, or the copper leaves its range
			}
			err := c.ask()
			refused := err != nil && strings.Contains(err.Error(), c.name+" =")
			assert.Equal(t, !inside, refused, "%s = %g: %v", c.name, value, err)
			if refused {
				assert.ErrorIs(t, err, material.ErrInvalid)
			}
		}
		*c.value = was
		cold, hot = 1, 1
	}
	for phases, inside := range map[int]bool{0: false, 1: true, 12: true, 13: false} {
		w.Phases = phases
		assert.Equal(t, inside, w.Validate() == nil, "%d phases", phases)
	}
}

// A chop period has room for all edges and dead times, or it is refused.
func TestChopPeriodIsLongEnough(t *testing.T) {
	b := thermal.Bridge{OnResistance: 0.2, Supply: 24, RiseTime: 1e-6, FallTime: 2e-6, DeadTime: 1e-6, ChopFrequency: 0.9999 / 5e-6}
	assert.NoError(t, b.Validate())
	b.ChopFrequency = 1.0001 / 5e-6
	assert.ErrorContains(t, b.Validate(), "allowed up to 200000 Hz")
}

// At the limit without a current there is a largest current, and it is none.
func TestNoRoomIsNoCurrent(t *testing.T) {
	w := thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8}
	none, err := w.LargestCurrent(300, 300)
	assert.NoError(t, err)
	assert.Zero(t, none)
	u, err := w.Utilisation(1, 300, 300)
	assert.NoError(t, err)
	assert.Zero(t, u.Safety())
}
