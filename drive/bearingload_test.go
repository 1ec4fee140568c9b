package drive_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

const degree = math.Pi / 180

func TestCheckBearingLoads(t *testing.T) {
	const (
		med    = "Budynas & Nisbett, Shigley's, 9th ed. (2011), Example 11-4"
		manual = "solutions manual to Mechanical Engineering Design, 8th ed., problem 11-6"
		notes  = "course notebook with the table of Fa/C₀, outer ring turning"
		table  = "Budynas & Nisbett, Shigley's, 9th ed. (2011), Table 11-1"
		iso    = "ISO 281:2007, Table 3"
		iso76  = "ISO 76:2006"
		hand   = "by hand"
		own    = verify.Own
	)
	must := func(l drive.EquivalentLoad, err error) drive.EquivalentLoad {
		require.NoError(t, err)
		return l
	}
	number := func(x float64, err error) float64 {
		require.NoError(t, err)
		return x
	}
	example := must(drive.DeepGrooveLoad(500, 400, 4450, 0))
	hours, err := drive.Bearing{Dynamic: 7900 * lbf, Static: 4450 * lbf, Exponent: drive.Ball}.Life(example.Dynamic*lbf, 12, 0.9)
	require.NoError(t, err)
	outer := must(drive.DeepGrooveLoad(1.2*7e3, 3e3, 34e3, 0))
	between := must(drive.DeepGrooveLoad(5e3, 2e3, 10e3, 0))
	rows := []verify.Row{
		{Name: "deep groove, Fa 400, Fr 500, C₀ 4450 lbf, lbf", Source: med, Kind: verify.Memory, Want: 891, Got: example.Dynamic, Tol: 6e-4, Why: "three digits printed"},
		{Name: "the same, own", Source: "Y 1.5274 between 0.084 and 0.110, " + hand, Kind: own, Want: 890.942092, Got: example.Dynamic, Tol: 1e-9, Why: "nine digits given"},
		{Name: "its life with C 7900 lbf at 720 rpm, h", Source: med, Kind: verify.Memory, Want: 16150, Got: hours.Seconds / hour, Tol: 1e-3, Why: "the example rounds P to three digits, life moves by three times that"},
		{Name: "its life, own, h", Source: hand, Kind: own, Want: 16137.98, Got: hours.Seconds / hour, Tol: 4e-7, Why: "seven digits given"},
		{Name: "Fr 8 kN, Fa 4 kN, Y 1.46, kN", Source: manual, Kind: verify.Print, Want: 10.32, Got: must(drive.DeepGrooveLoad(8, 4, 4/(0.11-0.01*0.026/0.10), 0)).Dynamic, Tol: 5e-4, Why: "four digits printed; C₀ chosen for its Y of 1.46"},
		{Name: "Fr 7 kN × 1.2, Fa 3 kN, C₀ 34 kN, Y", Source: notes, Kind: verify.Practice, Want: 1.53, Got: outer.Axial, Tol: 3.3e-3, Why: "three digits printed"},
		{Name: "the same, P, N", Source: notes, Kind: verify.Practice, Want: 9294, Got: outer.Dynamic, Tol: 1.6e-3, Why: "it rounds Y to 1.53, 0.15 % of P"},
		{Name: "the same, Y, own", Source: "0.084 to 0.110, " + hand, Kind: own, Want: 1.5337104, Got: outer.Axial, Tol: 1e-7, Why: "eight digits given"},
		{Name: "C₀ 10, Fa 2, Fr 5 kN, N", Source: "course notebook with the table of Fa/C₀", Kind: verify.Practice, Want: 5340, Got: between.Dynamic, Tol: 1.9e-3, Why: "it rounds Y to 1.27"},
		{Name: "the same, own, N", Source: "0.17 to 0.28, " + hand, Kind: own, Want: 5332.72727, Got: between.Dynamic, Tol: 1e-9, Why: "nine digits given"},
		{Name: "deep groove P₀, Fr 1.2, Fa 2 kN, N", Source: iso76 + ", 0.6·Fr + 0.5·Fa " + hand, Kind: own, Want: 1720, Got: must(drive.DeepGrooveLoad(1200, 2000, 6800, 0)).Static, Tol: 1e-12, Why: "exact"},
		{Name: "deep groove P₀, Fr 1, Fa 0.6 kN, N", Source: iso76 + ", 0.9 kN is below Fr", Kind: own, Want: 1000, Got: must(drive.DeepGrooveLoad(1000, 600, 6800, 0)).Static, Tol: 1e-12, Why: "exact"},
		{Name: "taper, Y 1.6, Fr 4, Fa 3 kN, N", Source: "0.4·Fr + Y·Fa " + hand, Kind: own, Want: 6400, Got: must(drive.TaperLoad(4e3, 3e3, 1.6)).Dynamic, Tol: 1e-12, Why: "exact"},
		{Name: "taper at e, α = 14.036°, Fr 1 kN, N", Source: "e = 1.5·tan α, just above it P = 0.4·Fr + 0.4·cot α·Fa = Fr", Kind: own, Want: 1000, Got: must(drive.TaperLoad(1e3, 375.001, 1.6)).Dynamic, Tol: 2e-6, Why: "Fa 1e-6 above e"},
		{Name: "taper P₀, Y 1.6, Fr 1, Fa 3 kN, N", Source: iso76 + ", 0.22·cot α = 0.88 " + hand, Kind: own, Want: 3140, Got: must(drive.TaperLoad(1e3, 3e3, 1.6)).Static, Tol: 1e-12, Why: "exact"},
		{Name: "thrust ball, 20 MPa on 20 mm, N", Source: "p·A " + hand, Kind: own, Want: 6283.1853, Got: must(drive.ThrustLoad(number(drive.HeadThrust(20e6, 20e-3)), 0)).Dynamic, Tol: 1e-8, Why: "eight digits given"},
		{Name: "thrust, 200 bar on 16 mm, N", Source: "p·A " + hand, Kind: own, Want: 4021.23860, Got: number(drive.HeadThrust(20e6, 16e-3)), Tol: 2e-9, Why: "nine digits given"},
		{Name: "least thrust, factor 5 N, 3000 rpm, N", Source: hand, Kind: own, Want: 45, Got: number(drive.LeastThrust(5, 50)), Tol: 1e-12, Why: "exact"},
		{Name: "spherical roller thrust, Fr 1, Fa 4 kN, N", Source: "catalogues' P = Fa + 1.2·Fr", Kind: verify.Practice, Want: 5200, Got: must(drive.AngularThrustLoad(1e3, 4e3, math.Atan(1.2), drive.Roller)).Dynamic, Tol: 1e-9, Why: "exact at tan α 1.2"},
		{Name: "the same, P₀, N", Source: "catalogues' P₀ = Fa + 2.7·Fr", Kind: verify.Practice, Want: 6700, Got: must(drive.AngularThrustLoad(1e3, 4e3, math.Atan(1.2), drive.Roller)).Static, Tol: 9e-3, Why: "2.3 × 1.2 = 2.76 printed as 2.7"},
	}
	for _, c := range []struct{ deg, x, e float64 }{{45, 0.66, 1.25}, {60, 0.92, 2.17}, {75, 1.66, 4.67}} {
		l := must(drive.AngularThrustLoad(1e3, 1e6, c.deg*degree, drive.Ball))
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("thrust ball at %g°, X", c.deg), Source: "ISO 281:2007, thrust ball bearings", Kind: verify.Memory, Want: c.x, Got: l.Radial, Tol: 0.0055 / c.x, Why: "two decimals printed"},
			verify.Row{Name: fmt.Sprintf("thrust ball at %g°, e", c.deg), Source: "ISO 281:2007, thrust ball bearings", Kind: verify.Memory, Want: c.e, Got: thrustLimit(t, c.deg*degree, drive.Ball), Tol: 0.0055 / c.e, Why: "two decimals printed"})
	}
	for _, c := range []struct{ x, e, y float64 }{
		{.172, .19, 2.30}, {.345, .22, 1.99}, {.689, .26, 1.71}, {1.03, .28, 1.55}, {1.38, .30, 1.45}, {2.07, .34, 1.31}, {3.45, .38, 1.15}, {5.17, .42, 1.04}, {6.89, .44, 1.00},
	} {
		const c0, f0 = 14e3, 14
		axial := c.x * c0 / f0
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("deep groove, f₀·Fa/C₀ %g, Y", c.x), Source: iso, Kind: verify.Memory, Want: c.y, Got: must(drive.DeepGrooveLoad(1, axial, c0, f0)).Axial, Tol: 1e-9, Why: "the table"},
			verify.Row{Name: fmt.Sprintf("deep groove, f₀·Fa/C₀ %g, e", c.x), Source: iso, Kind: verify.Memory, Want: c.e, Got: limitOf(t, axial, func(r float64) (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(r, axial, c0, f0) }), Tol: 1e-9, Why: "the table"},
			// The bare table is that of f₀ = 12.3.
			verify.Row{Name: fmt.Sprintf("deep groove, Fa/C₀ %.3g, Y", c.x/12.3), Source: iso + ", f₀ 12.3", Kind: verify.Memory, Want: c.y, Got: must(drive.DeepGrooveLoad(1, c.x/12.3*c0, c0, 0)).Axial, Tol: 4.1e-3, Why: "Fa/C₀ printed to two digits: up to 1.8 %, of which Y takes 0.23"})
	}
	for _, c := range []struct{ x, e, y float64 }{
		{.014, .19, 2.30}, {.021, .21, 2.15}, {.028, .22, 1.99}, {.042, .24, 1.85}, {.056, .26, 1.71}, {.070, .27, 1.63},
		{.084, .28, 1.55}, {.110, .30, 1.45}, {.17, .34, 1.31}, {.28, .38, 1.15}, {.42, .42, 1.04}, {.56, .44, 1.00},
	} {
		const c0 = 10e3
		axial := c.x * c0
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("deep groove, Fa/C₀ %g, Y", c.x), Source: table, Kind: verify.Memory, Want: c.y, Got: must(drive.DeepGrooveLoad(1, axial, c0, 0)).Axial, Tol: 1e-9, Why: "the table"},
			verify.Row{Name: fmt.Sprintf("deep groove, Fa/C₀ %g, e", c.x), Source: table, Kind: verify.Memory, Want: c.e, Got: limitOf(t, axial, func(r float64) (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(r, axial, c0, 0) }), Tol: 1e-9, Why: "the table"})
	}
	for _, c := range []struct{ deg, e, x, y, y0 float64 }{
		{20, .57, .43, 1.00, .42}, {25, .68, .41, .87, .38}, {30, .80, .39, .76, .33}, {35, .95, .37, .66, .29}, {40, 1.14, .35, .57, .26}, {45, 1.34, .33, .50, .22},
	} {
		at := func(radial, axial float64) (drive.EquivalentLoad, error) {
			return drive.AngularContactLoad(radial, axial, c.deg*degree)
		}
		l := must(at(1e3, 1e4))
		for name, v := range map[string][2]float64{"X": {c.x, l.Radial}, "Y": {c.y, l.Axial}, "Y₀": {c.y0, l.Static/1e4 - 0.05},
			"e": {c.e, limitOf(t, 1e3, func(r float64) (drive.EquivalentLoad, error) { return at(r, 1e3) })}} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("angular contact %g°, %s", c.deg, name), Source: iso + "; " + iso76, Kind: verify.Memory, Want: v[0], Got: v[1], Tol: 1e-9, Why: "the table"})
		}
	}
	verify.Table(t, rows)
}

// limitOf finds e as the Fa/Fr at which the axial load begins to count.
func limitOf(t *testing.T, axial float64, at func(radial float64) (drive.EquivalentLoad, error)) float64 {
	lo, hi := axial*1e-3, axial*1e3
	for range 200 {
		r := math.Sqrt(lo * hi)
		l, err := at(r)
		require.NoError(t, err)
		if l.Axial > 0 {
			lo = r
		} else {
			hi = r
		}
	}
	return axial / hi
}

// thrustLimit finds e of a thrust bearing as the Fa/Fr at which Beyond ends.
func thrustLimit(t *testing.T, angle, exponent float64) float64 {
	lo, hi := 1e-3, 1e3
	for range 100 {
		a := math.Sqrt(lo * hi)
		l, err := drive.AngularThrustLoad(1, a, angle, exponent)
		require.NoError(t, err)
		if strings.Contains(strings.Join(l.Beyond, "; "), "radial load too large") {
			lo = a
		} else {
			hi = a
		}
	}
	return hi
}

func TestBearingLoadBeyond(t *testing.T) {
	for _, c := range []struct {
		name string
		at   func() (drive.EquivalentLoad, error)
		want string
	}{
		{"radial alone", func() (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(1e3, 0, 1e4, 14) }, ""},
		{"in the table", func() (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(1e3, 1e3, 1e4, 14) }, ""},
		{"little load", func() (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(1, 1, 1e4, 14) }, "first row"},
		{"much load", func() (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(1, 6e3, 1e4, 0) }, "last row"},
		{"sliding", func() (drive.EquivalentLoad, error) { return drive.ThrustLoad(10, 11) }, "slide"},
		{"enough", func() (drive.EquivalentLoad, error) { return drive.ThrustLoad(11, 11) }, ""},
		{"radial on thrust", func() (drive.EquivalentLoad, error) { return drive.AngularThrustLoad(1e3, 1e3, 1, drive.Ball) }, "one direction"},
		{"much radial on thrust", func() (drive.EquivalentLoad, error) {
			return drive.AngularThrustLoad(450, 1e3, math.Pi/4, drive.Roller)
		}, "0.44"},
		{"some radial on thrust", func() (drive.EquivalentLoad, error) {
			return drive.AngularThrustLoad(430, 1e3, math.Pi/4, drive.Roller)
		}, ""},
		{"nothing on thrust", func() (drive.EquivalentLoad, error) { return drive.AngularThrustLoad(0, 0, 1, drive.Ball) }, ""},
	} {
		l, err := c.at()
		require.NoError(t, err, c.name)
		if c.want == "" {
			assert.Empty(t, l.Beyond, c.name)
		} else {
			assert.Contains(t, strings.Join(l.Beyond, "; "), c.want, c.name)
		}
	}
}

func TestBearingLoadRefuses(t *testing.T) {
	_, err := drive.DeepGrooveLoad(-1, math.NaN(), 0, 1)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.DeepGrooveLoad: radial load = -1 N: allowed 0 to 1e+09 N\n"+
		"drive.DeepGrooveLoad: axial load = NaN N: allowed 0 to 1e+09 N\n"+
		"drive.DeepGrooveLoad: static rating = 0 N: allowed 1 to 1e+09 N\n"+
		"drive.DeepGrooveLoad: f₀ = 1: allowed 5 to 20")
	_, err = drive.AngularThrustLoad(1, 1, math.Pi/2, 3.1)
	assert.EqualError(t, err, "drive.AngularThrustLoad: angle = 1.5708 rad: allowed 0.785 to 1.484 rad\n"+
		"drive.AngularThrustLoad: exponent = 3.1: allowed Ball (3) or Roller (10/3)")
	_, err = drive.EquivalentLoad{Dynamic: 1}.Utilisations(drive.Bearing{Dynamic: 1, Static: 1, Exponent: 3}, 1, 0.9, 1)
	assert.EqualError(t, err, "drive.EquivalentLoad.Static = 0 N: allowed 0.001 to 1e+09 N")
}

func TestPropertyBearingLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		radial, axial := draw.Log(1, 1e4).Draw(t, "radial"), draw.Log(1, 1e4).Draw(t, "axial")
		static := draw.Log(1e3, 1e5).Draw(t, "static")
		f0 := rapid.SampledFrom([]float64{0, 11, 14, 16}).Draw(t, "f0")
		angle := draw.Uniform(0.35, 0.785).Draw(t, "angle")
		y := draw.Uniform(0.5, 2.5).Draw(t, "taper's Y")
		steep := draw.Uniform(0.8, 1.4).Draw(t, "thrust angle")
		exponent := rapid.SampledFrom([]float64{drive.Ball, drive.Roller}).Draw(t, "exponent")
		k := draw.Log(1.001, 3).Draw(t, "factor")
		for name, of := range map[string]func(r, a, c0 float64) (drive.EquivalentLoad, error){
			"deep groove": func(r, a, c0 float64) (drive.EquivalentLoad, error) { return drive.DeepGrooveLoad(r, a, c0, f0) },
			"angular":     func(r, a, _ float64) (drive.EquivalentLoad, error) { return drive.AngularContactLoad(r, a, angle) },
			"taper":       func(r, a, _ float64) (drive.EquivalentLoad, error) { return drive.TaperLoad(r, a, y) },
			"thrust": func(r, a, _ float64) (drive.EquivalentLoad, error) {
				return drive.AngularThrustLoad(r, a, steep, exponent)
			},
		} {
			at := func(r, a, c0 float64) drive.EquivalentLoad {
				l, err := of(r, a, c0)
				require.NoError(t, err, name)
				return l
			}
			l := at(radial, axial, static)
			least := radial
			if name == "thrust" {
				least = axial
			}
			require.GreaterOrEqual(t, l.Dynamic, least*(1-1e-12), name)
			require.GreaterOrEqual(t, l.Static, least*(1-1e-12), name)
			// It grows with either load, and all loads with the rating scale it.
			require.GreaterOrEqual(t, at(radial, axial*k, static).Dynamic, l.Dynamic*(1-1e-12), name)
			require.GreaterOrEqual(t, at(radial, axial*k, static).Static, l.Static*(1-1e-12), name)
			require.GreaterOrEqual(t, at(radial*k, axial, static).Static, l.Static*(1-1e-12), name)
			if l.Axial == at(radial*k, axial, static).Axial {
				require.GreaterOrEqual(t, at(radial*k, axial, static).Dynamic, l.Dynamic*(1-1e-12), name)
			}
			scaled := at(radial*k, axial*k, static*k)
			require.InEpsilon(t, k*l.Dynamic, scaled.Dynamic, 1e-9, name)
			require.InEpsilon(t, k*l.Static, scaled.Static, 1e-12, name)
			alone := at(radial, 0, static)
			if name != "thrust" {
				require.Equal(t, radial, alone.Dynamic, name)
				require.Equal(t, radial, alone.Static, name)
			}
		}
		// Utilisations are those of the two loads each by itself.
		b := drivetest.Bearings().Draw(t, "bearing")
		l, err := drive.AngularContactLoad(radial, axial, angle)
		require.NoError(t, err)
		u, err := l.Utilisations(b, 1, 0.95, 1e6)
		require.NoError(t, err)
		byLife, err := b.Utilisations(l.Dynamic, 1, 0.95, 1e6)
		require.NoError(t, err)
		byStatic, err := b.Utilisations(l.Static, 1, 0.95, 1e6)
		require.NoError(t, err)
		require.Equal(t, byLife[0], u[0])
		require.Equal(t, byStatic[1], u[1])
	})
}
