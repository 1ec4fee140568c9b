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

func endurance(t require.TestingT, ultimate, diameter float64, finish drive.Finish, reliability float64) float64 {
	s, err := drive.EnduranceLimit(ultimate, diameter, finish, reliability)
	require.NoError(t, err)
	return s
}

// Each factor alone: the others are 1 below 7.62 mm, and at a reliability of a half.
func TestCheckEnduranceLimit(t *testing.T) {
	const (
		shigley = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), "
		manual  = "solutions manual to Mechanical Engineering Design, 8th ed., problem 7-2"
		sheet   = "worked sheet of Example 6-6, Mechanical Engineering Design, 10th ed."
		kpsi    = 1e3 * psi
	)
	surface := func(mpa float64, finish drive.Finish) float64 {
		return endurance(t, mpa*1e6, 5e-3, finish, 0.5) / (0.5e6 * mpa)
	}
	size := func(mm float64) float64 {
		return endurance(t, 600e6, mm*1e-3, drive.Ground, 0.5) / endurance(t, 600e6, 5e-3, drive.Ground, 0.5)
	}
	reliable := func(r float64) float64 {
		return endurance(t, 600e6, 5e-3, drive.Ground, r) / endurance(t, 600e6, 5e-3, drive.Ground, 0.5)
	}
	rows := []verify.Row{
		{Name: "endurance limit, kpsi", Source: shigley + "Example 7-1, p. 371", Kind: verify.Print, Want: 29.3,
			Got: endurance(t, 105*kpsi, 1.1*inch, drive.Machined, 0.99) / kpsi, Tol: 3e-3, Why: "three digits printed of factors rounded to three; MPa and kpsi fits differ by 0.1 %"},
		{Name: "surface, machined, 1226 MPa", Source: manual, Kind: verify.Print, Want: 0.685, Got: surface(1226, drive.Machined), Tol: 8e-4, Why: "three digits printed"},
		{Name: "size, 22 mm", Source: manual, Kind: verify.Print, Want: 0.893, Got: size(22), Tol: 6e-4, Why: "three digits printed"},
		{Name: "endurance limit, MPa", Source: manual, Kind: verify.Print, Want: 375,
			Got: endurance(t, 1226e6, 22e-3, drive.Machined, 0.5) / 1e6, Tol: 1.4e-3, Why: "three digits printed"},
		{Name: "surface, ground, 690 MPa", Source: sheet, Kind: verify.Print, Want: 0.906473, Got: surface(690, drive.Ground), Tol: 6e-7, Why: "six digits printed"},
		{Name: "size, 32 mm", Source: sheet, Kind: verify.Print, Want: 0.855797, Got: size(32), Tol: 2.3e-3, Why: "printed by 1.24·d^−0.107, a rounded form of the same law"},
		{Name: "reliability 90 %", Source: sheet, Kind: verify.Print, Want: 0.89696, Got: reliable(0.9), Tol: 6e-4, Why: "the source takes z = 1.288, the normal quantile is 1.2816"},
		{Name: "size, 60 mm", Source: "1.51·60^−0.157 by hand", Kind: verify.Own, Want: 0.79397568, Got: size(60), Tol: 1e-8, Why: "eight digits given"},
		{Name: "size, 51.5 mm", Source: "1.51·51.5^−0.157 by hand", Kind: verify.Own, Want: 0.81324839, Got: size(51.5), Tol: 1e-8, Why: "eight digits given"},
		{Name: "size, 51 mm", Source: "(51/7.62)^−0.107 by hand", Kind: verify.Own, Want: 0.81594178, Got: size(51), Tol: 1e-8, Why: "eight digits given"},
		{Name: "size, 100 mm", Source: "1.51·100^−0.157 by hand", Kind: verify.Own, Want: 0.73278564, Got: size(100), Tol: 1e-8, Why: "eight digits given"},
		{Name: "size, 10 mm", Source: "(10/7.62)^−0.107 by hand", Kind: verify.Own, Want: 0.97133532, Got: size(10), Tol: 1e-8, Why: "eight digits given"},
		{Name: "size, 5 mm, capped", Source: "common practice, no source: not above the test bar", Kind: verify.Practice, Want: 1, Got: size(7.62), Tol: 1e-12, Why: "exact"},
		{Name: "soft bar, hot-rolled, MPa", Source: "57.7·200^−0.718 = 1.29 by hand, capped at the polished specimen's 1", Kind: verify.Own, Want: 100,
			Got: endurance(t, 200e6, 5e-3, drive.HotRolled, 0.5) / 1e6, Tol: 1e-12, Why: "exact"},
		{Name: "hard steel, polished specimen, MPa", Source: shigley + "eq. 6-8", Kind: verify.Memory, Want: 700,
			Got: endurance(t, 2000e6, 5e-3, drive.Ground, 0.5) / 1e6 / (1.58 * math.Pow(2000, -0.085)), Tol: 1e-12, Why: "exact"},
	}
	for _, c := range []struct{ r, want float64 }{
		{0.90, 0.897}, {0.95, 0.868}, {0.99, 0.814}, {0.999, 0.753}, {0.9999, 0.702}, {0.99999, 0.659}, {0.999999, 0.620},
	} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("reliability %g", c.r), Source: shigley + "p. 345", Kind: verify.Print,
			Want: c.want, Got: reliable(c.r), Tol: 9e-4, Why: "three digits printed"})
	}
	for finish, want := range map[drive.Finish][3]float64{ // 400, 690, 1000 MPa
		drive.Ground: {.949472, .906473, .878329}, drive.Machined: {.921787, .797777, .723064},
		drive.HotRolled: {.781442, .528302, .404740}, drive.Forged: {.700679, .407300, .281559},
	} {
		for i, mpa := range []float64{400, 690, 1000} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("surface, %v, %g MPa", finish, mpa), Source: "a·S_ut^b by hand, constants of " + shigley + "p. 345",
				Kind: verify.Own, Want: want[i], Got: surface(mpa, finish), Tol: 2e-6, Why: "six digits given"})
		}
	}
	verify.Table(t, rows)
}

func TestEnduranceRefuses(t *testing.T) {
	_, err := drive.EnduranceLimit(1e6, 0.3, drive.Finish(4), 1)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.EnduranceLimit: ultimate = 1e+06 Pa: allowed 2e+08 to 2.2e+09 Pa\n"+
		"drive.EnduranceLimit: diameter = 0.3 m: allowed 0.001 to 0.254 m\n"+
		"drive.EnduranceLimit: reliability = 1: allowed 0.5 to 0.999999\n"+
		"drive.EnduranceLimit: finish = 4: allowed 0 to 3")
	assert.Equal(t, "as forged", drive.Forged.String())
	assert.Equal(t, "Finish(-1)", drive.Finish(-1).String())
}

func TestPropertyEnduranceBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ultimate := draw.Uniform(200e6, 2.2e9).Draw(t, "ultimate")
		diameter := draw.Log(1e-3, 0.2).Draw(t, "diameter")
		r := draw.Uniform(0.5, 0.9999).Draw(t, "reliability")
		more := draw.Uniform(1, 1.2).Draw(t, "factor")
		last := math.Min(ultimate/2, 700e6)
		for finish := drive.Ground; finish <= drive.Forged; finish++ {
			s := endurance(t, ultimate, diameter, finish, r)
			require.Positive(t, s)
			require.LessOrEqual(t, s, last*(1+1e-12))
			require.LessOrEqual(t, endurance(t, ultimate, diameter*more, finish, r), s*(1+1e-12))
			require.LessOrEqual(t, endurance(t, ultimate, diameter, finish, math.Min(0.9999, r*more)), s*(1+1e-12))
			if ultimate > 345e6 { // the fits of softer steel cross
				last = s
			}
		}
	})
}
