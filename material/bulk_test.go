package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/material/materialtest"
)

const degree = math.Pi / 180

func bulk(t require.TestingT, name string) material.Bulk {
	b, err := material.BulkNamed(name)
	require.NoError(t, err)
	return b
}

func TestCheckBulk(t *testing.T) {
	const table = "a processor's table of pellets, lb/ft³ × 16.018463"
	const why = "rounded to a whole kg/m³"
	packing := func(name string) float64 {
		x, err := bulk(t, name).PackingFraction()
		require.NoError(t, err)
		return x
	}
	active, err := material.ActiveRatio(30 * degree)
	require.NoError(t, err)
	silo, err := material.SiloRatio(30 * degree)
	require.NoError(t, err)
	c, err := material.Bulk{BulkDensity: 400, TappedDensity: 500, ParticleSize: 1e-3}.Compression()
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "ABS pellets, bulk density", Source: table, Kind: verify.Practice, Want: 42 * 16.018463, Got: bulk(t, "ABS pellets").BulkDensity, Tol: 8e-4, Why: why},
		{Name: "PA6 pellets, bulk density", Source: table, Kind: verify.Practice, Want: 41 * 16.018463, Got: bulk(t, "PA6 pellets").BulkDensity, Tol: 8e-4, Why: why},
		{Name: "PET pellets, bulk density", Source: table, Kind: verify.Practice, Want: 52 * 16.018463, Got: bulk(t, "PET pellets").BulkDensity, Tol: 8e-4, Why: why},
		{Name: "PET bottle flake, bulk density", Source: "a recycler's specification: at least 250 kg/m³", Kind: verify.Practice, Want: 250, Got: bulk(t, "PET bottle flake").BulkDensity, Tol: 1e-12, Why: "as printed"},
		{Name: "ABS pellets, packing", Source: "672.8/1040 by hand", Kind: verify.Own, Want: 0.647, Got: packing("ABS pellets"), Tol: 1e-3, Why: "three digits"},
		{Name: "PA6 pellets, packing", Source: "656.8/1130 by hand", Kind: verify.Own, Want: 0.581, Got: packing("PA6 pellets"), Tol: 1e-3, Why: "three digits"},
		{Name: "PP pellets, packing", Source: "random packing of pellets 0.58 to 0.64", Kind: verify.Practice, Want: 0.61, Got: packing("PP pellets"), Tol: 0.05, Why: "the range"},
		{Name: "PP regrind, packing", Source: "flake 0.25 to 0.45", Kind: verify.Practice, Want: 0.35, Got: packing("PP regrind flake"), Tol: 0.286, Why: "the range"},
		{Name: "Rankine's active ratio, 30°", Source: "(1 − 1/2)/(1 + 1/2) by hand", Kind: verify.Own, Want: 1. / 3, Got: active, Tol: 1e-12, Why: "rounding"},
		{Name: "ratio at rest, 30°", Source: "EN 1991-4:2006, 4.5, from memory: 1.1·(1 − sin φ)", Kind: verify.Memory, Want: 0.55, Got: silo, Tol: 1e-12, Why: "rounding"},
		{Name: "Hausner ratio of 400 and 500 kg/m³", Source: "by hand", Kind: verify.Own, Want: 1.25, Got: c.Hausner, Tol: 1e-12, Why: "rounding"},
		{Name: "Carr index of 400 and 500 kg/m³", Source: "by hand", Kind: verify.Own, Want: 0.2, Got: c.Carr, Tol: 1e-12, Why: "rounding"},
	})
}

func TestFlowByRepose(t *testing.T) {
	// Belt Conveyors for Bulk Materials, Table 3-1.
	for _, c := range []struct {
		repose, surcharge float64
		class             string
	}{
		{0, 5, "very free flowing"}, {19, 5, "very free flowing"}, {20, 10, "free flowing"}, {29, 10, "free flowing"}, {30, 20, "average flowing"},
		{34, 20, "average flowing"}, {35, 25, "average flowing"}, {39, 25, "average flowing"}, {40, 30, "sluggish"}, {80, 30, "sluggish"},
	} {
		f, err := material.FlowByRepose(c.repose * degree)
		require.NoError(t, err)
		assert.Equal(t, c.class, f.Class, "%g°", c.repose)
		assert.InEpsilon(t, c.surcharge*degree, f.Surcharge, 1e-12, "%g°", c.repose)
	}
	for _, repose := range []float64{-0.1, 1.41, math.NaN()} {
		_, err := material.FlowByRepose(repose)
		assert.ErrorIs(t, err, material.ErrInvalid)
	}
}

func TestCompressionClasses(t *testing.T) {
	// USP <1174>, from memory: index and Hausner ratio side by side.
	for _, c := range []struct {
		hausner float64
		class   string
	}{
		{1.00, "excellent"}, {1.11, "excellent"}, {1.12, "good"}, {1.17, "good"}, {1.19, "fair"}, {1.25, "fair"}, {1.26, "passable"}, {1.33, "passable"},
		{1.35, "poor"}, {1.44, "poor"}, {1.46, "very poor"}, {1.58, "very poor"}, {1.61, "very, very poor"},
	} {
		got, err := material.Bulk{BulkDensity: 300, TappedDensity: 300 * c.hausner, ParticleSize: 1e-3}.Compression()
		require.NoError(t, err)
		assert.Equal(t, c.class, got.Class, "%g", c.hausner)
	}
}

func TestCompressionClassesEnd(t *testing.T) {
	for i, carr := range []float64{0.10, 0.15, 0.20, 0.25, 0.31, 0.37} {
		classes := []string{"excellent", "good", "fair", "passable", "poor", "very poor", "very, very poor"}
		for k, beyond := range []float64{0, 1e-4} {
			got, err := material.Bulk{BulkDensity: 300, TappedDensity: 300 / (1 - carr - beyond), ParticleSize: 1e-3}.Compression()
			require.NoError(t, err)
			assert.Equal(t, classes[i+k], got.Class, "%g", carr+beyond)
		}
	}
}

func TestPropertyBulk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := materialtest.Bulks().Draw(t, "bulk")
		require.NoError(t, b.Validate())
		volume := draw.Log(1e-6, 1).Draw(t, "volume")
		require.InEpsilon(t, volume, b.Volume(b.Mass(volume)), 1e-12)
		packing, err := b.PackingFraction()
		require.NoError(t, err)
		require.True(t, packing > 0 && packing <= 1)
		require.InEpsilon(t, b.Mass(volume), packing*b.SolidDensity*volume, 1e-12, "the plastic is all that weighs")
		c, err := b.Compression()
		require.NoError(t, err)
		require.InDelta(t, 1-1/c.Hausner, c.Carr, 1e-12)
		active, err := material.ActiveRatio(b.InternalFriction)
		require.NoError(t, err)
		rest, err := material.SiloRatio(b.InternalFriction)
		require.NoError(t, err)
		require.True(t, active < rest && rest < 1/active, "at rest lies between the two states of sliding")
		steeper, err := material.ActiveRatio(b.InternalFriction + 0.1)
		require.NoError(t, err)
		require.Less(t, steeper, active)
		require.InEpsilon(t, math.Pow(math.Tan(math.Pi/4-b.InternalFriction/2), 2), active, 1e-9, "the other form of the same ratio")
	})
}

func TestEveryBulkHasItsSources(t *testing.T) {
	for _, b := range material.Bulks() {
		provenance(t, b.Name, b, b.Source)
		assert.NoError(t, b.Validate(), b.Name)
		assert.NotEmpty(t, b.Shape, b.Name)
		assert.Equal(t, b, bulk(t, b.Name))
	}
	_, err := material.BulkNamed("cheese")
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestBadBulksAreNamed(t *testing.T) {
	bad := material.Bulk{Shape: "cheese", BulkDensity: math.NaN(), ParticleSize: 1, Repose: 2, StressRatio: -1}
	err := bad.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{`material.Bulk.Shape = "cheese": allowed pellets`, "material.Bulk.BulkDensity = NaN kg/m³", "material.Bulk.ParticleSize = 1 m",
		"material.Bulk.Repose = 2 rad", "material.Bulk.StressRatio = -1"} {
		assert.ErrorContains(t, err, part)
	}
	for part, spoil := range map[string]func(*material.Bulk){
		"material.Bulk.SolidDensity = 300 kg/m³: allowed 535 to 5000 kg/m³":    func(b *material.Bulk) { b.SolidDensity = 300 },
		"material.Bulk.TappedDensity = 500 kg/m³: allowed 535 to 905 kg/m³":    func(b *material.Bulk) { b.TappedDensity = 500 },
		"material.Bulk.TappedDensity = 1000 kg/m³: allowed 535 to 905 kg/m³":   func(b *material.Bulk) { b.TappedDensity = 1000 },
		"material.Bulk.WallFriction = 0.7 rad: allowed 0 to 0.558505 rad":      func(b *material.Bulk) { b.WallFriction = 0.7 },
		"material.Bulk.Repose = 1 rad: allowed 0.208505 to 0.908505 rad":       func(b *material.Bulk) { b.Repose = 1 },
		"material.Bulk.StressRatio = 0.1: allowed 0.307259 to 3.25459":         func(b *material.Bulk) { b.StressRatio = 0.1 },
		"material.Bulk.InternalFriction = 0.01 rad: allowed 0.02 to 1.4 rad":   func(b *material.Bulk) { b.InternalFriction = 0.01 },
		"material.Bulk.SolidDensity = 6000 kg/m³: allowed 100 to 5000 kg/m³":   func(b *material.Bulk) { b.SolidDensity = 6000 },
		"material.Bulk.BulkDensity = 9 kg/m³: allowed 10 to 2000 kg/m³":        func(b *material.Bulk) { b.BulkDensity = 9 },
		"material.Bulk.WallFriction = 1.5 rad: allowed 0.02 to 1.4 rad":        func(b *material.Bulk) { b.WallFriction = 1.5 },
		"material.Bulk.ParticleSize = 1e-06 m: allowed 1e-05 to 0.1 m":         func(b *material.Bulk) { b.ParticleSize = 1e-6 },
		"material.Bulk.TappedDensity = -1 kg/m³: allowed 10 to 5000 kg/m³":     func(b *material.Bulk) { b.TappedDensity = -1 },
		"material.Bulk.StressRatio = 10000: allowed 0.001 to 1000":             func(b *material.Bulk) { b.StressRatio = 1e4 },
		"material.Bulk.InternalFriction = NaN rad: allowed 0.02 to 1.4 rad":    func(b *material.Bulk) { b.InternalFriction = math.NaN() },
		"material.Bulk.BulkDensity = +Inf kg/m³: allowed 10 to 2000 kg/m³":     func(b *material.Bulk) { b.BulkDensity = math.Inf(1) },
		`material.Bulk.Shape = "Flake": allowed pellets, flake, powder, fluff`: func(b *material.Bulk) { b.Shape = "Flake" },
	} {
		b := material.Pellets()
		spoil(&b)
		assert.ErrorContains(t, b.Validate(), part)
	}
	bare := material.Bulk{Name: "sweepings", BulkDensity: 320, ParticleSize: 3e-3}
	assert.NoError(t, bare.Validate())
	_, err = bare.PackingFraction()
	assert.EqualError(t, err, "no data: material.Bulk.SolidDensity (sweepings)")
	_, err = bare.Compression()
	assert.EqualError(t, err, "no data: material.Bulk.TappedDensity (sweepings)")
}

func TestBulkAllocatesNothing(t *testing.T) {
	b := material.Pellets()
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = b.PackingFraction() }))
}

func TestPropertyBulkAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := materialtest.Bulks().Draw(t, "bulk")
		fields := []*float64{&b.BulkDensity, &b.ParticleSize, &b.TappedDensity, &b.SolidDensity, &b.Repose, &b.InternalFriction, &b.WallFriction, &b.StressRatio}
		*fields[rapid.IntRange(0, len(fields)-1).Draw(t, "field")] = draw.Bits().Draw(t, "bits")
		if x, err := b.PackingFraction(); err == nil {
			require.True(t, x > 0 && x <= 1)
		}
		if c, err := b.Compression(); err == nil {
			require.True(t, c.Hausner >= 1 && c.Carr >= 0 && c.Carr < 1)
		}
		angle := draw.Bits().Draw(t, "angle")
		for _, f := range []func(float64) (float64, error){material.ActiveRatio, material.SiloRatio} {
			if x, err := f(angle); err == nil {
				require.True(t, x > 0 && x <= 1.1)
			}
		}
	})
}

func ExampleBulk_PackingFraction() {
	// What a hopper of 6 l holds, as flake and as pellets.
	for _, b := range []material.Bulk{material.Regrind(), material.Pellets()} {
		packing, err := b.PackingFraction()
		if err != nil {
			fmt.Println(err)
			return
		}
		flow, err := material.FlowByRepose(b.Repose)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.2f kg, %.0f %% plastic, %s\n", b.Name, b.Mass(6e-3), 100*packing, flow.Class)
	}
	// Output:
	// PP regrind flake: 2.25 kg, 41 % plastic, sluggish
	// PP pellets: 3.21 kg, 59 % plastic, average flowing
}
