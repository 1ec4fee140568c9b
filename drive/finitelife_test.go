package drive_test

import (
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

func TestCheckStressLife(t *testing.T) {
	const (
		kpsi   = 1e3 * psi
		miner  = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), p. 325"
		shaft  = "Shigley's, 9th ed. (2011), Example 6-9, as remembered"
		hand   = "(σ/a)^(1/b) by hand"
		digits = "digits given"
	)
	life := func(l drive.StressLife, stress float64) float64 {
		n, endless, err := l.Cycles(stress)
		require.NoError(t, err)
		require.False(t, endless)
		return n
	}
	first := drive.StressLife{Ultimate: 80 * kpsi, Endurance: 40 * kpsi, Fraction: 0.9}
	second := drive.StressLife{Ultimate: 690e6, Endurance: 236.058e6, Fraction: 0.844}
	damage, err := second.Damage([]drive.Repeat{{Stress: 400e6, Cycles: 1000}, {Stress: 335.1e6, Cycles: 10000}, {Stress: 280e6, Cycles: 20000}, {Stress: 236e6, Cycles: 1e12}})
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "60 kpsi, cycles", Source: miner, Kind: verify.Print, Want: 8520, Got: life(first, 60*kpsi), Tol: 6e-4, Why: "three digits printed"},
		{Name: "60 kpsi, cycles", Source: hand, Kind: verify.Own, Want: 8522.16, Got: life(first, 60*kpsi), Tol: 1e-6, Why: digits},
		{Name: "335.1 MPa, cycles", Source: shaft, Kind: verify.Memory, Want: 68e3, Got: life(second, 335.1e6), Tol: 0.01, Why: "two digits printed"},
		{Name: "400 MPa, cycles", Source: hand, Kind: verify.Own, Want: 17698, Got: life(second, 400e6), Tol: 1e-3, Why: "the endurance limit given to four digits"},
		{Name: "280 MPa, cycles", Source: hand, Kind: verify.Own, Want: 270944, Got: life(second, 280e6), Tol: 1e-3, Why: "the endurance limit given to four digits"},
		{Name: "damage of three stresses and a harmless one", Source: "Σn/N by hand", Kind: verify.Own, Want: 0.276177, Got: damage, Tol: 1e-3, Why: "the endurance limit given to four digits"},
	})
}

func TestPropertyStressLife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drive.StressLife{Ultimate: draw.Uniform(300e6, 1400e6).Draw(t, "ultimate"), Fraction: draw.Uniform(0.76, 0.9).Draw(t, "fraction")}
		top := l.Fraction * l.Ultimate
		l.Endurance = top * draw.Uniform(0.2, 0.85).Draw(t, "endurance ratio")
		at := func(stress float64) float64 {
			n, endless, err := l.Cycles(stress)
			require.NoError(t, err)
			require.False(t, endless)
			return n
		}
		stress := l.Endurance * math.Pow(top/l.Endurance, draw.Uniform(0.01, 0.99).Draw(t, "height"))
		// Ends of the line, and a straight line between them.
		require.InEpsilon(t, 1e3, at(top), 1e-9)
		require.InEpsilon(t, 1e6, at(l.Endurance*(1+1e-12)), 1e-6)
		require.InEpsilon(t, at(stress)*at(stress), at(stress*1.0001)*at(stress/1.0001), 1e-9)
		b := -math.Log10(top/l.Endurance) / 3
		require.InEpsilon(t, math.Pow(stress/(top*top/l.Endurance), 1/b), at(stress), 1e-9)
		// A life used up is a damage of one, whole or in parts.
		n := at(stress)
		d, err := l.Damage([]drive.Repeat{{Stress: stress, Cycles: n / 4}, {Stress: l.Endurance, Cycles: 1e9}, {Stress: stress, Cycles: 3 * n / 4}})
		require.NoError(t, err)
		require.InEpsilon(t, 1, d, 1e-12)
	})
}

func TestPropertyStressLifeSurvivesArbitraryBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		value := func(name string, lo, hi float64) float64 {
			if rapid.IntRange(0, 3).Draw(t, "kind of "+name) == 0 {
				return draw.Bits().Draw(t, name)
			}
			return draw.Log(lo, hi).Draw(t, name)
		}
		l := drive.StressLife{Ultimate: value("ultimate", 1e5, 1e10), Endurance: value("endurance", 1e4, 1e10), Fraction: value("fraction", 0.7, 0.95)}
		r := drive.Repeat{Stress: value("stress", 1, 1e10), Cycles: value("cycles", 1, 1e15)}
		n, _, err := l.Cycles(r.Stress)
		finite(t, "StressLife.Cycles", err, n)
		d, err := l.Damage([]drive.Repeat{r, r})
		finite(t, "StressLife.Damage", err, d)
	})
}

func TestStressLifeRefuses(t *testing.T) {
	l := drive.StressLife{Ultimate: 700e6, Endurance: 200e6, Fraction: 0.8}
	_, err := l.Damage([]drive.Repeat{{}, {Stress: 600e6, Cycles: -1}})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.StressLife.Damage: repeats[1]: Stress = 6e+08 Pa: allowed 0 to 5.6e+08 Pa\n"+
		"Cycles = -1: allowed 0 to 1e+15")
	_, endless, err := l.Cycles(200e6)
	require.NoError(t, err)
	assert.True(t, endless)
}
