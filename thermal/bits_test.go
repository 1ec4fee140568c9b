package thermal_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
	"meltflight/thermal/thermaltest"
)

// spoil puts any bits into some of the float64 fields of the struct that v points to.
func spoil(t *rapid.T, v any) {
	s := reflect.ValueOf(v).Elem()
	for i := range s.NumField() {
		if s.Field(i).Kind() == reflect.Float64 && rapid.IntRange(0, 7).Draw(t, "spoil") == 0 {
			s.Field(i).SetFloat(draw.Bits().Draw(t, s.Type().Field(i).Name))
		}
	}
}

// finite requires an error or numbers, in a float64 or in any depth of a struct.
func finite(t *rapid.T, result any, err error) {
	if err != nil {
		require.NotEmpty(t, err.Error())
		require.True(t, reflect.ValueOf(result).IsZero(), "%v beside an error", result)
		return
	}
	v := reflect.ValueOf(result)
	switch v.Kind() {
	case reflect.Float64:
		require.False(t, math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0), "%v", result)
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i).Interface(), nil)
		}
	}
}

// edges draws values at the ends of ranges as often as any bits.
func edges(inside *rapid.Generator[float64], ends ...float64) *rapid.Generator[float64] {
	return rapid.OneOf(inside, inside, rapid.SampledFrom(ends), draw.Bits())
}

func anyBits(t *rapid.T) {
	b, p, w := thermaltest.Bridges().Draw(t, "bridge"), thermaltest.Paths().Draw(t, "path"), thermaltest.Windings().Draw(t, "winding")
	if rapid.Bool().Draw(t, "extreme") {
		// The most of everything, and the least.
		b = rapid.SampledFrom([]thermal.Bridge{
			{OnResistance: 1e-4, Supply: 1},
			{OnResistance: 100, TemperatureCoefficient: 0.01, Supply: 1000, RiseTime: 1e-4, FallTime: 1e-4, ChopFrequency: 2500, Quiescent: 1, DiodeDrop: 5, DeadTime: 1e-4},
			{OnResistance: 1e-4, TemperatureCoefficient: math.SmallestNonzeroFloat64, Supply: 1, Quiescent: math.SmallestNonzeroFloat64},
		}).Draw(t, "extreme bridge")
		p = rapid.SampledFrom([]thermal.Path{{SinkToAir: 1e-3}, {JunctionToCase: 1e4, CaseToSink: 1e4, SinkToAir: 1e4}}).Draw(t, "extreme path")
		w = rapid.SampledFrom([]thermal.Winding{
			{Resistance: 1e-4, Phases: 1, ThermalResistance: 1e-3},
			{Resistance: 1e5, Phases: 12, ThermalResistance: 1e4, IronLoss: 1e5},
		}).Draw(t, "extreme winding")
	}
	spoil(t, &b)
	spoil(t, &p)
	spoil(t, &w)
	if rapid.IntRange(0, 9).Draw(t, "spoil phases") == 0 {
		w.Phases = rapid.Int().Draw(t, "phases")
	}
	current := edges(draw.Log(1e-3, 1e5), 0, 1e5).Draw(t, "current")
	temperature := edges(draw.Uniform(200, 473.15), 200, 473.15, math.Nextafter(200, 300))
	ambient, limit, other := temperature.Draw(t, "ambient"), temperature.Draw(t, "limit"), temperature.Draw(t, "other")
	ohm := edges(draw.Log(1e-6, 1e6), 1e-6, 1e6)
	cold, hot := ohm.Draw(t, "cold"), ohm.Draw(t, "hot")

	loss, err := b.Loss(current, limit)
	finite(t, loss, err)
	chip, err := b.Steady(current, ambient, p)
	finite(t, chip, err)
	x, err := b.LargestCurrent(limit, ambient, p)
	finite(t, x, err)
	require.True(t, x >= 0 && x < thermal.MostCurrent)
	x, err = b.LargestResistance(current, limit, ambient)
	finite(t, x, err)
	x, err = b.RunawayCurrent(p)
	finite(t, x, err)
	u, err := b.Utilisation(current, limit, ambient, p)
	finite(t, u, err)
	motor, err := w.Steady(current, ambient)
	finite(t, motor, err)
	x, err = w.LargestCurrent(limit, ambient)
	finite(t, x, err)
	require.True(t, x >= 0 && x < thermal.MostCurrent)
	x, err = w.LargestResistance(current, limit, ambient)
	finite(t, x, err)
	x, err = w.RunawayCurrent()
	finite(t, x, err)
	u, err = w.Utilisation(current, limit, ambient)
	finite(t, u, err)
	both, err := thermal.LargestCurrent(b, p, limit, ambient, w, limit, other)
	finite(t, both, err)
	x, err = thermal.RiseByResistance(cold, hot, other, ambient)
	finite(t, x, err)
	x, err = thermal.Layer(cold, hot, current)
	finite(t, x, err)
	x, err = thermal.Surface(cold, hot)
	finite(t, x, err)
	x, err = thermal.Parallel(cold, hot)
	finite(t, x, err)
}

func TestAnyBitsGiveNumbersOrErrors(t *testing.T) { rapid.Check(t, anyBits) }

func FuzzAnyBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(anyBits)) }
