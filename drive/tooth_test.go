package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

const (
	inch = 0.0254
	lbf  = 4.4482216152605
	psi  = lbf / (inch * inch)
	hp   = 745.69987158227
	lbin = lbf * inch
)

func TestCheckLewisFormFactor(t *testing.T) {
	const table = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 10th ed. (2015), Table 14-2"
	read := map[int]bool{12: true, 15: true, 18: true, 22: true, 26: true, 30: true, 34: true, 60: true, 100: true}
	var rows []verify.Row
	for _, c := range []struct {
		teeth int
		want  float64
	}{
		{12, .245}, {13, .261}, {14, .277}, {15, .290}, {16, .296}, {17, .303}, {18, .309}, {19, .314}, {20, .322},
		{21, .328}, {22, .331}, {24, .337}, {26, .346}, {28, .353}, {30, .359}, {34, .371}, {38, .384}, {43, .397},
		{50, .409}, {60, .422}, {75, .435}, {100, .447}, {150, .460}, {300, .472}, {400, .480},
	} {
		got, err := drive.LewisFormFactor(c.teeth)
		require.NoError(t, err)
		kind, from := verify.Memory, table
		if read[c.teeth] {
			kind, from = verify.Print, table+", as copied in a public source"
		}
		rows = append(rows, verify.Row{Name: fmt.Sprintf("Lewis form factor, %d teeth", c.teeth), Source: from, Kind: kind,
			Want: c.want, Got: got, Tol: 1e-12, Why: "the table itself"})
	}
	for _, c := range []struct {
		teeth int
		want  float64
	}{{23, 0.334130435}, {40, 0.389590000}, {200, 0.466}, {800, 0.4825}} {
		got, err := drive.LewisFormFactor(c.teeth)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("between entries, %d teeth", c.teeth), Source: "linear in 1/teeth by hand; above 400 to the rack's 0.485",
			Kind: verify.Own, Want: c.want, Got: got, Tol: 3e-9, Why: "nine decimals given"})
	}
	// Inscribed parabola of largest stress in the fillet that a rack of ISO 53 profile A
	// generates (20 000 points of the trochoid).
	for _, c := range []struct {
		teeth int
		want  float64
	}{
		{12, .237735}, {13, .251171}, {14, .263155}, {17, .292397}, {20, .314454}, {24, .336630}, {30, .360275},
		{43, .391155}, {50, .401754}, {60, .412969}, {75, .424590}, {100, .436672}, {150, .449285}, {300, .462649},
	} {
		got, err := drive.LewisFormFactor(c.teeth)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("against geometry, %d teeth", c.teeth), Source: "Lewis parabola in the generated fillet, ISO 53 profile A",
			Kind: verify.Own, Want: c.want, Got: got, Tol: 0.054, Why: "the printed table's own distance from that rack, most at 14 teeth"})
	}
	verify.Table(t, rows)
}

func TestCheckLewisStress(t *testing.T) {
	const example = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 10th ed. (2015), Example 14-1"
	y, err := drive.LewisFormFactor(16)
	require.NoError(t, err)
	// 8 teeth an inch, 1.5 in wide, 1200 rpm, 10 kpsi allowed.
	tooth := drive.ToothBending{Force: lbf, PitchSpeed: math.Pi * 2 * inch * 20, Module: inch / 8, Face: 1.5 * inch, FormFactor: y}
	u, err := tooth.Utilisation("pinion", 10e3*psi)
	require.NoError(t, err)
	barth, err := drive.BarthFactor(tooth.PitchSpeed)
	require.NoError(t, err)
	force := u.Safety()

	// SI twin of the example: 3 mm, 38 mm, 16 teeth, 20 rev/s, 70 MPa.
	metric := drive.ToothBending{Force: 1, PitchSpeed: math.Pi * 0.048 * 20, Module: 3e-3, Face: 38e-3, FormFactor: 0.296}
	stress, err := metric.Stress()
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "pitch-line speed, ft/min", Source: example, Kind: verify.Memory, Want: 628, Got: tooth.PitchSpeed / 0.3048 * 60, Tol: 8e-4, Why: "three digits printed"},
		{Name: "Barth factor", Source: example, Kind: verify.Memory, Want: 1.52, Got: barth, Tol: 3.3e-3, Why: "three digits printed"},
		{Name: "Barth factor", Source: "1 + 628.3185/1200", Kind: verify.Own, Want: 1.5235988, Got: barth, Tol: 4e-8, Why: "eight digits given"},
		{Name: "force allowed, lbf", Source: example, Kind: verify.Memory, Want: 365, Got: force, Tol: 3e-3, Why: "the source goes on with a factor of 1.52"},
		{Name: "power allowed, hp", Source: example, Kind: verify.Memory, Want: 6.95, Got: force * lbf * tooth.PitchSpeed / hp, Tol: 3e-3, Why: "the source goes on with a factor of 1.52"},
		{Name: "force allowed, lbf", Source: "σ·b·m·Y/K_v by hand, unrounded", Kind: verify.Own, Want: 364.269, Got: force, Tol: 2e-6, Why: "six digits given"},
		{Name: "metric twin, force allowed at 70 MPa, N", Source: "the same by hand with 6.1 m/s for 1200 ft/min", Kind: verify.Own,
			Want: 1580.6, Got: 70e6 / stress, Tol: 3e-4, Why: "6.1 m/s rounds 6.096 m/s"},
	})
}

func TestToothRefuses(t *testing.T) {
	for _, teeth := range []int{math.MinInt, 0, 11, 10001, math.MaxInt} {
		_, err := drive.LewisFormFactor(teeth)
		assert.ErrorIs(t, err, material.ErrInvalid)
	}
	_, err := drive.BarthFactor(21)
	assert.EqualError(t, err, "drive.BarthFactor: pitch speed = 21 m/s: allowed 0 to 20 m/s")
	_, err = drive.ToothBending{}.Stress()
	assert.ErrorContains(t, err, "drive.ToothBending.Module = 0 m: allowed 5e-05 to 0.1 m")
	_, err = drive.ToothBending{Force: 1, Module: 1e-3, Face: 1e-2, FormFactor: 0.3}.Utilisation("pinion", 0)
	assert.ErrorContains(t, err, "drive.ToothBending.Utilisation: allowable = 0 Pa")
}

func TestPropertyLewisRisesToRack(t *testing.T) {
	last := 0.0
	for teeth := 12; teeth <= 10000; teeth++ {
		y, err := drive.LewisFormFactor(teeth)
		require.NoError(t, err)
		require.Greater(t, y, last)
		last = y
	}
	assert.Less(t, last, drive.LewisRack)
	assert.InEpsilon(t, drive.LewisRack, last, 1e-3)
}

func TestPropertyToothStressIsLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tooth := drive.ToothBending{
			Force:      draw.Log(0.1, 1e4).Draw(t, "force"),
			PitchSpeed: draw.Uniform(0, 10).Draw(t, "speed"),
			Module:     draw.Log(1e-4, 1e-2).Draw(t, "module"),
			Face:       draw.Log(1e-3, 0.1).Draw(t, "face"),
			FormFactor: draw.Uniform(0.245, 0.485).Draw(t, "form factor"),
		}
		k := draw.Log(0.5, 2).Draw(t, "scale")
		stress := func(b drive.ToothBending) float64 {
			s, err := b.Stress()
			require.NoError(t, err)
			return s
		}
		base := stress(tooth)
		heavier, still, larger := tooth, tooth, tooth
		heavier.Force *= k
		require.InEpsilon(t, k*base, stress(heavier), 1e-12)
		still.PitchSpeed = 0
		require.InEpsilon(t, stress(still)*(1+tooth.PitchSpeed/6.096), base, 1e-12, "1200 ft/min doubles the stress")
		larger.Module, larger.Face, larger.Force = tooth.Module*k, tooth.Face*k, tooth.Force*k*k
		require.InEpsilon(t, base, stress(larger), 1e-12, "similar teeth, force as their area")
		u, err := tooth.Utilisation("x", base*k)
		if base*k >= 1e5 && base*k <= 1e10 {
			require.NoError(t, err)
			require.InEpsilon(t, k, u.Safety(), 1e-12)
		}
	})
}
