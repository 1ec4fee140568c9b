package material_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckWear(t *testing.T) {
	const page = "worked example on an encyclopaedia's page of the wear coefficient: mild steel, K = 7e-3, 120 HB = 1.176e9 Pa, 100 N, 1 m"
	const direct = "the law evaluated independently: 1 rev/s for 1000 h at 16 mm diameter, s = 180955.74 m, 5 N, K without the 3"
	rate := func(f func(coefficient, hardness float64) (float64, error), k, h float64) float64 {
		r, err := f(k, h)
		require.NoError(t, err)
		return r
	}
	volume := func(rate, force, distance float64) float64 {
		v, err := material.WornVolume(rate, force, distance)
		require.NoError(t, err)
		return v
	}
	depth := func(rate, pressure, distance float64) float64 {
		d, err := material.WornDepth(rate, pressure, distance)
		require.NoError(t, err)
		return d
	}
	thirds, plain := rate(material.ThirdsRate, 7e-3, 1.176e9), rate(material.PlainRate, 7e-3, 1.176e9)
	const s, land = 180955.74, 84.4009e-6
	verify.Table(t, []verify.Row{
		{Name: "worn volume", Source: page, Kind: verify.Practice, Want: 0.198413e-9, Got: volume(thirds, 100, 1), Tol: 3e-6, Why: "six digits"},
		{Name: "wear rate with the 3 [mm³/(N·m)]", Source: page, Kind: verify.Own, Want: 1.98413e-3, Got: thirds * 1e9, Tol: 3e-6, Why: "six digits"},
		{Name: "wear rate without the 3 [mm³/(N·m)]", Source: page, Kind: verify.Own, Want: 5.95238e-3, Got: plain * 1e9, Tol: 3e-6, Why: "six digits"},
		{Name: "unit identity k = 1000·K/(3·H[MPa]) [mm³/(N·m)]", Source: "by hand: 1000 × 7e-3/(3 × 1176)", Kind: verify.Own, Want: 7. / (3 * 1176), Got: thirds * 1e9, Tol: 1e-12, Why: "rounding"},
		{Name: "flight of a nitrided screw, volume", Source: direct, Kind: verify.Own, Want: 0.0904779e-9, Got: volume(rate(material.PlainRate, 1e-6, 10e9), 5, s), Tol: 1e-6, Why: "six digits"},
		{Name: "flight of a nitrided screw, depth", Source: direct, Kind: verify.Own, Want: 0.001072e-3, Got: depth(rate(material.PlainRate, 1e-6, 10e9), 5/land, s), Tol: 5e-4, Why: "four digits"},
		{Name: "flight of a soft screw, volume", Source: direct, Kind: verify.Own, Want: 30.15929e-9, Got: volume(rate(material.PlainRate, 1e-4, 3e9), 5, s), Tol: 1e-6, Why: "six digits"},
		{Name: "flight of a soft screw, depth", Source: direct, Kind: verify.Own, Want: 0.357334e-3, Got: depth(rate(material.PlainRate, 1e-4, 3e9), 5/land, s), Tol: 5e-6, Why: "six digits"},
	})

	const washer = "a compounder's table of thrust washer tests after ASTM D3702 [1e-8 mm³/(N·m)]"
	var rows []verify.Row
	for i, want := range [][3]float64{{26, 265, 0.24}, {26, 82, 0.47}, {122, 459, 0.22}, {8, 22, 0.10}} {
		p := material.WearPairs()[i]
		name := p.Body + " on " + p.Counter
		assert.NotEmpty(t, p.Source)
		rows = append(rows,
			verify.Row{Name: name + ", body", Source: washer, Kind: verify.Practice, Want: want[0], Got: p.BodyRate * 1e17, Tol: 1e-12, Why: "a table's value"},
			verify.Row{Name: name + ", counter", Source: washer, Kind: verify.Practice, Want: want[1], Got: p.CounterRate * 1e17, Tol: 1e-12, Why: "a table's value"},
			verify.Row{Name: name + ", friction", Source: washer, Kind: verify.Practice, Want: want[2], Got: p.Friction, Tol: 1e-12, Why: "a table's value"})
	}
	for i, want := range []float64{1.3e-7, 7e-6, 1.7e-5, 2.5e-5, 3.7e-5, 1.3e-4, 6e-4, 7e-3} {
		c := material.WearCoefficients()[i]
		rows = append(rows, verify.Row{Name: "wear coefficient, " + c.Pair, Source: "table on an encyclopaedia's page of the wear coefficient", Kind: verify.Practice,
			Want: want, Got: c.Coefficient, Tol: 1e-12, Why: "a table's value"})
		assert.NotEmpty(t, c.Source)
		if i > 0 {
			assert.Greater(t, c.Coefficient, material.WearCoefficients()[i-1].Coefficient)
		}
	}
	verify.Table(t, rows)
}

func TestPropertyWear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, h := draw.Log(1e-8, 1e-2).Draw(t, "K"), draw.Log(1e8, 2e10).Draw(t, "hardness")
		force, distance, area := draw.Log(1, 1e4).Draw(t, "force"), draw.Log(1, 1e6).Draw(t, "distance"), draw.Log(1e-6, 1e-3).Draw(t, "area")
		thirds, err := material.ThirdsRate(k, h)
		require.NoError(t, err)
		plain, err := material.PlainRate(k, h)
		require.NoError(t, err)
		require.InEpsilon(t, 3*thirds, plain, 1e-12)
		volume, err := material.WornVolume(plain, force, distance)
		require.NoError(t, err)
		depth, err := material.WornDepth(plain, force/area, distance)
		require.NoError(t, err)
		require.InEpsilon(t, volume, depth*area, 1e-12, "the same plastic, spread over the face")
		twice, err := material.WornVolume(plain, 2*force, distance/2)
		require.NoError(t, err)
		require.InEpsilon(t, volume, twice, 1e-12, "force and distance trade")
	})
}

func TestPropertyWearAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := func(name string) float64 { return draw.Bits().Draw(t, name) }
		for _, x := range []func() (float64, error){
			func() (float64, error) { return material.ThirdsRate(bits("K"), bits("H")) },
			func() (float64, error) { return material.PlainRate(bits("K"), bits("H")) },
			func() (float64, error) { return material.WornVolume(bits("rate"), bits("force"), bits("distance")) },
			func() (float64, error) { return material.WornDepth(bits("rate"), bits("pressure"), bits("distance")) },
		} {
			if v, err := x(); err == nil {
				require.True(t, v >= 0 && v < 1e30, "%g", v)
			} else {
				require.ErrorIs(t, err, material.ErrInvalid)
			}
		}
	})
	_, err := material.ThirdsRate(2, 0)
	assert.EqualError(t, err, "material.ThirdsRate: coefficient = 2: allowed 1e-12 to 1\nmaterial.ThirdsRate: hardness = 0 Pa: allowed 100000 to 1e+12 Pa")
	_, err = material.WornDepth(1e-15, -1, 1)
	assert.EqualError(t, err, "material.WornDepth: pressure = -1 Pa: allowed 0 to 1e+11 Pa")
}

// Every argument is taken at the ends of its range and refused beyond them.
func TestWearLimits(t *testing.T) {
	for _, f := range []struct {
		ask   func(x [3]float64) (float64, error)
		lo    [3]float64
		hi    [3]float64
		count int
	}{
		{func(x [3]float64) (float64, error) { return material.ThirdsRate(x[0], x[1]) }, [3]float64{1e-12, 1e5}, [3]float64{1, 1e12}, 2},
		{func(x [3]float64) (float64, error) { return material.PlainRate(x[0], x[1]) }, [3]float64{1e-12, 1e5}, [3]float64{1, 1e12}, 2},
		{func(x [3]float64) (float64, error) { return material.WornVolume(x[0], x[1], x[2]) }, [3]float64{1e-25, 0, 0}, [3]float64{1e-5, 1e9, 1e12}, 3},
		{func(x [3]float64) (float64, error) { return material.WornDepth(x[0], x[1], x[2]) }, [3]float64{1e-25, 0, 0}, [3]float64{1e-5, 1e11, 1e12}, 3},
	} {
		_, err := f.ask(f.lo)
		assert.NoError(t, err)
		_, err = f.ask(f.hi)
		assert.NoError(t, err)
		for i := range f.count {
			low, high := f.lo, f.hi
			low[i] = 0.999*low[i] - 1e-30
			high[i] *= 1.001
			_, err := f.ask(low)
			assert.ErrorIs(t, err, material.ErrInvalid)
			_, err = f.ask(high)
			assert.ErrorIs(t, err, material.ErrInvalid)
		}
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = material.ThirdsRate(1e-5, 1e9) }))
}

func TestSteelFriction(t *testing.T) {
	for _, s := range material.SteelFrictions() {
		assert.True(t, s.Low >= 0.05 && s.High > s.Low && s.High <= 1, "%+v", s)
		assert.NotEmpty(t, s.Source)
	}
	pp, err := material.SteelFrictionOf("pp")
	require.NoError(t, err)
	assert.True(t, pp.Low <= 0.3 && pp.High >= 0.3, "PP sheet on ground steel: 0.3")
	hdpe, err := material.SteelFrictionOf("HDPE")
	require.NoError(t, err)
	assert.True(t, hdpe.Low <= 0.12 && hdpe.High >= 0.22, "Burke and Malloy, ANTEC 1991: 0.12 to 0.22")
	_, err = material.SteelFrictionOf("cheese")
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func ExampleWornDepth() {
	// A flight land of 84 mm² pressed by 5 N at 1 rev/s and 16 mm for 1000 h: nitrided or soft.
	const sliding, pressure = 0.016 * 3.1416 * 3.6e6, 5 / 84e-6
	for _, c := range []struct {
		name      string
		k, number float64
	}{{"nitrided, clean melt", 1e-6, 1000}, {"soft, dirty melt", 1e-4, 300}} {
		hardness, err := material.HardnessPressure(c.number)
		if err != nil {
			fmt.Println(err)
			return
		}
		rate, err := material.PlainRate(c.k, hardness)
		if err != nil {
			fmt.Println(err)
			return
		}
		depth, err := material.WornDepth(rate, pressure, sliding)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.3f mm\n", c.name, depth*1e3)
	}
	// Output:
	// nitrided, clean melt: 0.001 mm
	// soft, dirty melt: 0.366 mm
}
