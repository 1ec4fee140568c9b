package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/material"
	"meltflight/thermal"
)

// Both ends of each documented range are accepted, the next number outside is refused by name.
func TestSurfaceRanges(t *testing.T) {
	fluid := thermal.Fluid{Conductivity: 0.026, KinematicViscosity: 1.6e-5, Prandtl: 0.71, Expansion: 1 / 300.}
	face := thermal.Face{Shape: thermal.VerticalPlate, Length: 0.1, Area: 0.02}
	duct := thermal.Duct{Width: 0.01, Height: 0.02, Length: 0.1}
	plate := thermal.Plate{Source: 1e-8, Area: 10, Thickness: 5e-3, Conductivity: 180, Coefficient: 100}
	board := thermal.Board{Source: 4e-3, Radius: 0.5, Sheet: 0.03, Coefficient: 20}
	trace := thermal.Trace{Width: 1e-3, Thickness: 35e-6}
	fin := thermal.StraightFin{Profile: thermal.Rectangular, Length: 0.03, Thickness: 0.001, Width: 0.1}
	pin := thermal.PinFin{Profile: thermal.Triangular, Length: 0.03, Diameter: 0.004}
	ring := thermal.AnnularFin{Inner: 0.01, Outer: 1.5, Thickness: 0.001}
	s := profile()
	s.FinThickness = 1e-5
	length, difference, speed, flow, power := 0.1, 1., 1., 1e-3, 0.
	warm, air, part, other, h, k := 350., 300., 0.5, 0.5, 10., 100.
	thickness, width, gap, contact, area, hole, wall, rise, theta := 1e-3, 0.1, 1e-3, 0., 1e-4, 3e-3, 25e-6, 10., 50.

	for _, c := range []struct {
		name   string
		value  *float64
		lo, hi float64
		ask    func() error
	}{
		{"thermal.Fluid.Conductivity", &fluid.Conductivity, 1e-3, 1e3, func() error { return fluid.Validate() }},
		{"thermal.Fluid.KinematicViscosity", &fluid.KinematicViscosity, 1e-9, 1, func() error { return fluid.Validate() }},
		{"thermal.Fluid.Prandtl", &fluid.Prandtl, 0.6, 1e5, func() error { return fluid.Validate() }},
		{"thermal.Fluid.Expansion", &fluid.Expansion, 1e-6, 0.1, func() error { return fluid.Validate() }},
		{"thermal.Natural: length", &length, 1e-4, 10, func() error { _, err := thermal.Natural(1, length, difference, fluid); return err }},
		{"thermal.Natural: difference", &difference, -1000, 1000, func() error { _, err := thermal.Natural(1, length, difference, fluid); return err }},
		{"thermal.ForcedPlate: length", &length, 1e-4, 10, func() error { _, err := thermal.ForcedPlate(length, speed, fluid); return err }},
		{"thermal.ForcedPlate: speed", &speed, 1e-3, 1000, func() error { _, err := thermal.ForcedPlate(length, speed, fluid); return err }},
		{"thermal.Duct.Width", &duct.Width, 1e-4, 10, func() error { return duct.Validate() }},
		{"thermal.Duct.Height", &duct.Height, 1e-4, 10, func() error { return duct.Validate() }},
		{"thermal.Duct.Length", &duct.Length, 1e-4, 10, func() error { return duct.Validate() }},
		{"thermal.Duct.Convection: speed", &speed, 1e-3, 1000, func() error { _, err := duct.Convection(speed, fluid); return err }},
		{"thermal.Duct.Blow: walls", &warm, 200, 1200, func() error { _, err := duct.Blow(flow, warm, air); return err }},
		{"thermal.Duct.Blow: air", &air, 200, 473.15, func() error { _, err := duct.Blow(flow, warm, air); return err }},
		{"thermal.RadiationCoefficient: emissivity", &part, 0, 1, func() error { _, err := thermal.RadiationCoefficient(part, warm, air); return err }},
		{"thermal.RadiationCoefficient: surface", &warm, 200, 1200, func() error { _, err := thermal.RadiationCoefficient(part, warm, air); return err }},
		{"thermal.RadiationCoefficient: surroundings", &air, 200, 1200, func() error { _, err := thermal.RadiationCoefficient(part, warm, air); return err }},
		{"thermal.BetweenPlates: first", &part, 1e-3, 1, func() error { _, err := thermal.BetweenPlates(part, other, 1); return err }},
		{"thermal.BetweenPlates: second", &other, 1e-3, 1, func() error { _, err := thermal.BetweenPlates(part, other, 1); return err }},
		{"thermal.BetweenPlates: areas", &other, 0, 1, func() error { _, err := thermal.BetweenPlates(part, part, other); return err }},
		{"thermal.CavityEmissivity: wall", &part, 1e-3, 1, func() error { _, err := thermal.CavityEmissivity(part, other); return err }},
		{"thermal.CavityEmissivity: opening", &other, 0, 1, func() error { _, err := thermal.CavityEmissivity(part, other); return err }},
		{"thermal.Face.Length", &face.Length, 1e-4, 10, func() error { return face.Validate() }},
		{"thermal.Face.Area", &face.Area, 1e-8, 100, func() error { return face.Validate() }},
		{"thermal.Face.Emissivity", &face.Emissivity, 0, 1, func() error { return face.Validate() }},
		{"thermal.Face.Blown", &face.Blown, 0, 1e4, func() error { return face.Validate() }},
		{"thermal.Face.At: surface", &warm, 200, 1200, func() error { _, err := face.At(warm, air); return err }},
		{"thermal.Face.At: air", &air, 200, 473.15, func() error { _, err := face.At(warm, air); return err }},
		{"thermal.Face.Steady: air", &air, 200, 473.15, func() error { _, err := face.Steady(power, air); return err }},
		{"thermal.StraightFin.Length", &fin.Length, 1e-5, 1, func() error { return fin.Validate() }},
		{"thermal.StraightFin.Thickness", &fin.Thickness, 1e-5, 0.1, func() error { return fin.Validate() }},
		{"thermal.StraightFin.Width", &fin.Width, 1e-4, 10, func() error { return fin.Validate() }},
		{"thermal.StraightFin.At: coefficient", &h, 0.01, 1e5, func() error { _, err := fin.At(h, k); return err }},
		{"thermal.StraightFin.At: conductivity", &k, 0.01, 1e4, func() error { _, err := fin.At(h, k); return err }},
		{"thermal.PinFin.Length", &pin.Length, 1e-5, 1, func() error { return pin.Validate() }},
		{"thermal.PinFin.Diameter", &pin.Diameter, 1e-5, 0.1, func() error { return pin.Validate() }},
		{"thermal.PinFin.At: coefficient", &h, 0.01, 1e5, func() error { _, err := pin.At(h, k); return err }},
		{"thermal.PinFin.At: conductivity", &k, 0.01, 1e4, func() error { _, err := pin.At(h, k); return err }},
		{"thermal.AnnularFin.Inner", &ring.Inner, 1e-5, 1, func() error { return ring.Validate() }},
		{"thermal.AnnularFin.Outer", &ring.Outer, 0.01001, 2, func() error { return ring.Validate() }},
		{"thermal.AnnularFin.Thickness", &ring.Thickness, 1e-5, 0.1, func() error { return ring.Validate() }},
		{"thermal.AnnularFin.At: coefficient", &h, 0.01, 1e5, func() error { _, err := ring.At(h, k); return err }},
		{"thermal.AnnularFin.At: conductivity", &k, 0.01, 1e4, func() error { _, err := ring.At(h, k); return err }},
		{"thermal.ArrayEfficiency: part", &part, 0, 1, func() error { _, err := thermal.ArrayEfficiency(part, other); return err }},
		{"thermal.ArrayEfficiency: efficiency", &other, 0, 1, func() error { _, err := thermal.ArrayEfficiency(part, other); return err }},
		{"thermal.OptimumSpacing: height", &length, 1e-3, 10, func() error { _, err := thermal.OptimumSpacing(length, thickness, width, 40, fluid); return err }},
		{"thermal.OptimumSpacing: thickness", &thickness, 0, 0.1, func() error { _, err := thermal.OptimumSpacing(length, thickness, width, 40, fluid); return err }},
		{"thermal.OptimumSpacing: width", &width, 1e-3, 10, func() error { _, err := thermal.OptimumSpacing(length, thickness, width, 40, fluid); return err }},
		{"thermal.OptimumSpacing: difference", &rise, 0.1, 1000, func() error { _, err := thermal.OptimumSpacing(length, thickness, width, rise, fluid); return err }},
		{"thermal.Sink.Length", &s.Length, 1e-3, 1, func() error { return s.Validate() }},
		{"thermal.Sink.FinHeight", &s.FinHeight, 1e-3, 1, func() error { return s.Validate() }},
		{"thermal.Sink.Conductivity", &s.Conductivity, 0.1, 1e4, func() error { return s.Validate() }},
		{"thermal.Sink.Emissivity", &s.Emissivity, 0, 1, func() error { return s.Validate() }},
		{"thermal.Sink.At: base", &warm, 200, 600, func() error { _, err := s.At(warm, air); return err }},
		{"thermal.Sink.At: air", &air, 200, 473.15, func() error { _, err := s.At(warm, air); return err }},
		{"thermal.Sink.Steady: air", &air, 200, 473.15, func() error { _, err := s.Steady(power, air); return err }},
		{"thermal.Sink.Blow: walls", &warm, 200, 1200, func() error { _, err := s.Blow(flow, warm, air); return err }},
		{"thermal.Sink.Blow: air", &air, 200, 473.15, func() error { _, err := s.Blow(flow, warm, air); return err }},
		{"thermal.Plate.Source", &plate.Source, 1e-8, 1, func() error { return plate.Validate() }},
		{"thermal.Plate.Area", &plate.Area, 1e-8, 10, func() error { return plate.Validate() }},
		{"thermal.Plate.Thickness", &plate.Thickness, 1e-5, 0.5, func() error { return plate.Validate() }},
		{"thermal.Plate.Conductivity", &plate.Conductivity, 0.01, 1e4, func() error { return plate.Validate() }},
		{"thermal.Plate.Coefficient", &plate.Coefficient, 0.1, 1e6, func() error { return plate.Validate() }},
		{"thermal.Interface: thickness", &gap, 1e-7, 0.01, func() error { _, err := thermal.Interface(gap, k, contact, area); return err }},
		{"thermal.Interface: conductivity", &k, 1e-3, 1e4, func() error { _, err := thermal.Interface(gap, k, contact, area); return err }},
		{"thermal.Interface: contact", &contact, 0, 1e-2, func() error { _, err := thermal.Interface(gap, k, contact, area); return err }},
		{"thermal.Interface: area", &area, 1e-8, 100, func() error { _, err := thermal.Interface(gap, k, contact, area); return err }},
		{"thermal.CopperArea: resistance", &theta, 1, 1000, func() error { _, err := thermal.CopperArea(theta); return err }},
		{"thermal.Board.Source", &board.Source, 1e-4, 0.1, func() error { return board.Validate() }},
		{"thermal.Board.Radius", &board.Radius, 1.01 * 4e-3, 1, func() error { return board.Validate() }},
		{"thermal.Board.Sheet", &board.Sheet, 1e-6, 10, func() error { return board.Validate() }},
		{"thermal.Board.Coefficient", &board.Coefficient, 0.1, 1000, func() error { return board.Validate() }},
		{"thermal.Vias: hole", &hole, 1e-4, 5e-3, func() error { _, err := thermal.Vias(1, hole, wall, thickness, k); return err }},
		{"thermal.Vias: wall", &wall, 1e-6, 2e-4, func() error { _, err := thermal.Vias(1, hole, wall, thickness, k); return err }},
		{"thermal.Vias: thickness", &thickness, 1e-5, 0.01, func() error { _, err := thermal.Vias(1, hole, wall, thickness, k); return err }},
		{"thermal.Vias: conductivity", &k, 10, 400, func() error { _, err := thermal.Vias(1, hole, wall, thickness, k); return err }},
		{"thermal.Trace.Width", &trace.Width, 1e-5, 0.1, func() error { return trace.Validate() }},
		{"thermal.Trace.Thickness", &trace.Thickness, 1e-6, 1e-3, func() error { return trace.Validate() }},
		{"thermal.Trace.Current: rise", &rise, 0.1, 1000, func() error { _, err := trace.Current(rise); return err }},
		{"thermal.Trace.Resistance: length", &length, 1e-4, 100, func() error { _, err := trace.Resistance(length, air); return err }},
		{"thermal.Trace.Resistance: temperature", &air, 200, 473.15, func() error { _, err := trace.Resistance(length, air); return err }},
	} {
		was := *c.value
		for _, v := range []float64{c.lo, c.hi} {
			*c.value = v
			assert.NoError(t, c.ask(), "%s %g", c.name, v)
		}
		for _, v := range []float64{math.Nextafter(c.lo, math.Inf(-1)), math.Nextafter(c.hi, math.Inf(1)), math.NaN(), math.Inf(1), math.Inf(-1)} {
			*c.value = v
			err := c.ask()
			assert.ErrorIs(t, err, material.ErrInvalid, "%s %g", c.name, v)
			assert.ErrorContains(t, err, c.name+" = ")
		}
		*c.value = was
	}
}
