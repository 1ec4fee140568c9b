package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
)

// anySurface puts any bits, and the ends of the ranges, into everything that gives off heat.
func anySurface(t *rapid.T) {
	f, s := faces().Draw(t, "face"), sinks().Draw(t, "sink")
	fluid := thermal.Fluid{Conductivity: 0.026, KinematicViscosity: 1.6e-5, Prandtl: 0.71, Expansion: 1 / 300.}
	duct := thermal.Duct{Width: 0.01, Height: 0.02, Length: 0.1}
	plate := thermal.Plate{Source: 1e-4, Area: 4e-3, Thickness: 5e-3, Conductivity: 180, Coefficient: 100}
	board := thermal.Board{Source: 4e-3, Radius: 0.04, Sheet: 0.03, Coefficient: 20}
	trace := thermal.Trace{Width: 1e-3, Thickness: 35e-6, Buried: rapid.Bool().Draw(t, "buried")}
	fin := thermal.StraightFin{Length: 0.03, Thickness: 0.001, Width: 0.1}
	pin := thermal.PinFin{Length: 0.03, Diameter: 0.004}
	ring := thermal.AnnularFin{Inner: 0.01, Outer: 0.02, Thickness: 0.001}
	if rapid.Bool().Draw(t, "extreme") {
		f = rapid.SampledFrom([]thermal.Face{
			{Shape: f.Shape, Length: 1e-4, Area: 1e-8}, {Shape: f.Shape, Length: 10, Area: 100, Emissivity: 1}, {Shape: f.Shape, Length: 10, Area: 100, Emissivity: 1, Blown: math.SmallestNonzeroFloat64},
		}).Draw(t, "extreme face")
		fluid = rapid.SampledFrom([]thermal.Fluid{
			{Conductivity: 1e-3, KinematicViscosity: 1, Prandtl: 0.6, Expansion: 1e-6}, {Conductivity: 1e3, KinematicViscosity: 1e-9, Prandtl: 1e5, Expansion: 0.1},
		}).Draw(t, "extreme fluid")
		s = rapid.SampledFrom([]thermal.Sink{
			{Width: 1, Length: 1, Fins: 1000, FinHeight: 1, FinThickness: 1e-5, Conductivity: 0.1}, {Width: 1e-3, Length: 1e-3, Fins: 2, FinHeight: 1e-3, FinThickness: 1e-5, Conductivity: 1e4, Emissivity: 1},
		}).Draw(t, "extreme sink")
		duct = rapid.SampledFrom([]thermal.Duct{{Width: 1e-4, Height: 10, Length: 1e-4}, {Width: 10, Height: 10, Length: 10}}).Draw(t, "extreme duct")
		plate = rapid.SampledFrom([]thermal.Plate{{Source: 1e-8, Area: 1e-8, Thickness: 1e-5, Conductivity: 0.01, Coefficient: 1e6}, {Source: 1e-8, Area: 10, Thickness: 0.5, Conductivity: 1e4, Coefficient: 0.1}}).Draw(t, "extreme plate")
		board = rapid.SampledFrom([]thermal.Board{{Source: 1e-4, Radius: 1, Sheet: 1e-6, Coefficient: 1000}, {Source: 0.1, Radius: 0.101, Sheet: 10, Coefficient: 0.1}}).Draw(t, "extreme board")
		fin = rapid.SampledFrom([]thermal.StraightFin{{Length: 1e-5, Thickness: 0.1, Width: 10}, {Length: 1, Thickness: 1e-5, Width: 1e-4}}).Draw(t, "extreme fin")
		pin = rapid.SampledFrom([]thermal.PinFin{{Length: 1e-5, Diameter: 0.1}, {Length: 1, Diameter: 1e-5}}).Draw(t, "extreme pin")
		ring = rapid.SampledFrom([]thermal.AnnularFin{{Inner: 1e-5, Outer: 1.00001, Thickness: 1e-5}, {Inner: 1, Outer: 1.00002, Thickness: 0.1}, {Inner: 1e-5, Outer: 2e-5, Thickness: 1e-5}}).Draw(t, "extreme ring")
	}
	fin.Profile = thermal.Profile(rapid.IntRange(0, 4).Draw(t, "profile"))
	pin.Profile = fin.Profile
	for _, v := range []any{&f, &s, &fluid, &duct, &plate, &board, &trace, &fin, &pin, &ring} {
		spoil(t, v)
	}
	if rapid.IntRange(0, 9).Draw(t, "spoil whole numbers") == 0 {
		s.Fins = rapid.Int().Draw(t, "fins")
		f.Shape = thermal.Shape(rapid.Int().Draw(t, "shape"))
	}
	temperature := edges(draw.Uniform(200, 473.15), 200, 473.15, math.Nextafter(200, 300))
	air := temperature.Draw(t, "air")
	warm := edges(draw.Uniform(200, 1200), 200, 1200, air, math.Nextafter(air, 1e9)).Draw(t, "warm")
	length := edges(draw.Log(1e-4, 10), 1e-4, 10, 0).Draw(t, "length")
	difference := edges(draw.Uniform(-1000, 1000), 0, 1000, -1000, math.SmallestNonzeroFloat64).Draw(t, "difference")
	speed := edges(draw.Log(1e-3, 1000), 1e-3, 1000).Draw(t, "speed")
	flow := edges(draw.Log(1e-7, 100), 1e-7, 100).Draw(t, "flow")
	power := edges(draw.Log(1e-6, 1e5), 0, 1e5, math.SmallestNonzeroFloat64).Draw(t, "power")
	part := edges(draw.Uniform(0, 1), 0, 1, 1e-3).Draw(t, "part")
	other := edges(draw.Uniform(0, 1), 0, 1, 1e-3).Draw(t, "other")
	h := edges(draw.Log(0.01, 1e5), 0.01, 1e5).Draw(t, "h")
	k := edges(draw.Log(0.01, 1e4), 0.01, 1e4).Draw(t, "k")

	film, err := thermal.AirFilm(warm, air)
	finite(t, film, err)
	c, err := thermal.Natural(f.Shape, length, difference, fluid)
	finite(t, c, err)
	c, err = thermal.ForcedPlate(length, speed, fluid)
	finite(t, c, err)
	c, err = duct.Convection(speed, fluid)
	finite(t, c, err)
	d, err := duct.Blow(flow, warm, air)
	finite(t, d, err)
	d, err = s.Blow(flow, warm, air)
	finite(t, d, err)
	best, err := thermal.OptimumSpacing(length, part/10, speed, difference, fluid)
	finite(t, best, err)
	x, err := thermal.RadiationCoefficient(part, warm, air)
	finite(t, x, err)
	x, err = thermal.BetweenPlates(part, other, part)
	finite(t, x, err)
	x, err = thermal.CavityEmissivity(part, other)
	finite(t, x, err)
	x, err = thermal.ArrayEfficiency(part, other)
	finite(t, x, err)
	at, err := f.At(warm, air)
	finite(t, at, err)
	if err == nil {
		loss := f.Loss(warm, air)
		finite(t, loss, nil)
		require.LessOrEqual(t, math.Abs(at.Loss-loss), 1e-14*math.Abs(loss)+1e-300)
	}
	at, err = f.Steady(power, air)
	finite(t, at, err)
	require.GreaterOrEqual(t, at.Loss, 0.)
	sunk, err := s.At(warm, air)
	finite(t, sunk, err)
	sunk, err = s.Steady(power, air)
	finite(t, sunk, err)
	for _, ask := range []func(h, k float64) (thermal.Fin, error){fin.At, pin.At, ring.At} {
		r, err := ask(h, k)
		finite(t, r, err)
		require.True(t, r.Efficiency >= 0 && r.Efficiency <= 1)
	}
	spread, err := plate.Spreading()
	finite(t, spread, err)
	x, err = thermal.Interface(part/100, k, other/100, length)
	finite(t, x, err)
	x, err = board.Resistance()
	finite(t, x, err)
	x, err = thermal.CopperArea(h)
	finite(t, x, err)
	x, err = thermal.Vias(s.Fins, part/200, other/5000, length, k)
	finite(t, x, err)
	amps, err := trace.Current(warm - air)
	finite(t, amps, err)
	x, err = trace.Resistance(length, air)
	finite(t, x, err)
	for _, v := range []interface{ Validate() error }{f, s, fluid, duct, plate, board, trace, fin, pin, ring} {
		if err := v.Validate(); err != nil {
			require.NotEmpty(t, err.Error())
		}
	}
}

func TestAnySurfaceBitsGiveNumbersOrErrors(t *testing.T) { rapid.Check(t, anySurface) }

func FuzzAnySurface(f *testing.F) { f.Fuzz(rapid.MakeFuzz(anySurface)) }
