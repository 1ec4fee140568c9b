package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/verify"
	"meltflight/material"
)

// overhung is a shaft of four diameters, its load beyond the right bearing.
func overhung() drive.StepShaft {
	return drive.StepShaft{
		Modulus:  205e9,
		Segments: []drive.Segment{{Length: 20e-3, Diameter: 12e-3}, {Length: 60e-3, Diameter: 20e-3}, {Length: 40e-3, Diameter: 15e-3}, {Length: 30e-3, Diameter: 12e-3}},
		Bearings: []drive.ShaftBearing{{Position: 0}, {Position: 120e-3}},
		Loads:    []drive.PointLoad{{Position: 50e-3, Force: -300}, {Position: 150e-3, Force: -100}},
	}
}

func TestCheckStepShaft(t *testing.T) {
	const (
		own  = "unit-load integral at 30 digits and Hermite elements, which agree"
		nine = "nine digits given"
	)
	b, err := overhung().Bend()
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "left reaction, N", Source: "statics by hand", Kind: verify.Own, Want: 150, Got: b.Reactions[0], Tol: 1e-12, Why: "rounding"},
		{Name: "right reaction, N", Source: "statics by hand", Kind: verify.Own, Want: 250, Got: b.Reactions[1], Tol: 1e-12, Why: "rounding"},
	}
	for _, c := range []struct{ mm, deflection, slope, moment, stress float64 }{
		{0, 0, -2.55008935e-4, 0, 0},
		{20, -4.14170268e-6, -1.11237532e-4, 3, 17.6838826e6},
		{50, -6.22111640e-6, -1.34154694e-5, 7.5, 9.54929659e6},
		{80, -4.94663084e-6, 8.44065932e-5, 3, 9.05414787e6},
		{120, 0, 8.44065932e-5, -3, 17.6838826e6},
		{150, -1.78094429e-6, -1.31250511e-4, 0, 0},
	} {
		p, err := b.At(c.mm * 1e-3)
		require.NoError(t, err)
		name := fmt.Sprintf("at %g mm, ", c.mm)
		rows = append(rows, verify.Row{Name: name + "slope", Source: own, Kind: verify.Own, Want: c.slope, Got: p.Slope, Tol: 4e-9, Why: nine})
		for _, r := range []verify.Row{
			{Name: name + "deflection, m", Source: own, Want: c.deflection, Got: p.Deflection, Tol: 4e-9, Why: nine},
			{Name: name + "moment, N·m", Source: "statics by hand", Want: c.moment, Got: p.Moment, Tol: 1e-12, Why: "rounding"},
			{Name: name + "stress, Pa", Source: "32M/πd³", Want: c.stress, Got: p.Stress, Tol: 4e-9, Why: nine},
		} {
			r.Kind = verify.Own
			if r.Want == 0 { // 0 within a millionth of the others
				r.Tol, r.Why = map[bool]float64{true: 1e-17, false: 1e-6}[r.Name == name+"deflection, m"], "rounding"
			}
			rows = append(rows, r)
		}
	}
	verify.Table(t, rows)
}

// An even shaft on three bearings with a load amid each span, and one pulled by a couple.
func TestCheckStepShaftOnThreeBearings(t *testing.T) {
	const span, load, textbook = 0.2, 400.0, "three-moment equation, Roark's Formulas for Stress and Strain (from memory)"
	s := evenShaft(2*span, 15e-3, 205e9, 0)
	s.Bearings = append(s.Bearings[:1], drive.ShaftBearing{Position: span}, s.Bearings[1])
	s.Loads = []drive.PointLoad{{Position: span / 2, Force: -load}, {Position: 3 * span / 2, Force: -load}}
	b, err := s.Bend()
	require.NoError(t, err)
	middle, err := b.At(span)
	require.NoError(t, err)
	stiffness := 205e9 * math.Pi / 64 * math.Pow(15e-3, 4)
	s.Bearings[1].Give = span * span * span / stiffness
	soft, err := s.Bend()
	require.NoError(t, err)
	c := evenShaft(span, 15e-3, 205e9, 0)
	c.Loads = []drive.PointLoad{{Position: span, Couple: 10}}
	couple, err := c.Bend()
	require.NoError(t, err)
	far, err := couple.At(0)
	require.NoError(t, err)
	near, err := couple.At(span)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "middle reaction, of P", Source: textbook, Kind: verify.Memory, Want: 11.0 / 8, Got: b.Reactions[1] / load, Tol: 1e-12, Why: "exact"},
		{Name: "outer reaction, of P", Source: textbook, Kind: verify.Memory, Want: 5.0 / 16, Got: b.Reactions[0] / load, Tol: 1e-12, Why: "exact"},
		{Name: "moment over the middle, of Pl", Source: textbook, Kind: verify.Memory, Want: -3.0 / 16, Got: middle.Moment / (load * span), Tol: 1e-12, Why: "exact"},
		{Name: "middle on a spring of EI/l³, of P", Source: "11/48 ÷ (1/6 + 1) by the simple beam of two spans", Kind: verify.Own,
			Want: 11.0 / 48 / (1.0/6 + 1), Got: soft.Reactions[1] / load, Tol: 1e-12, Why: "exact"},
		{Name: "slope at a couple, of Ml/EI", Source: "1/3, at the far end −1/6", Kind: verify.Own, Want: 1.0 / 3, Got: near.Slope * stiffness / (10 * span), Tol: 1e-12, Why: "exact"},
		{Name: "slope far from it, of Ml/EI", Source: "1/3, at the far end −1/6", Kind: verify.Own, Want: -1.0 / 6, Got: far.Slope * stiffness / (10 * span), Tol: 1e-12, Why: "exact"},
		{Name: "moment at it, N·m", Source: "statics", Kind: verify.Own, Want: 10, Got: near.Moment, Tol: 1e-12, Why: "exact"},
	})
}

func TestStepShaftRefuses(t *testing.T) {
	s := overhung()
	s.Segments[1].Diameter = -1
	s.Segments[3].Bore = math.NaN()
	_, err := s.Bend()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.StepShaft.Segments[1]: Diameter = -1 m: allowed 0.0001 to 10 m\n"+
		"drive.StepShaft.Segments[3]: Bore = NaN m: allowed 0 to 0.01188 m")
	s = overhung()
	s.Bearings[1].Position = 1e-5
	s.Loads[1].Position = 0.2
	assert.EqualError(t, s.Validate(), "drive.StepShaft.Bearings[1]: Position = 1e-05 m: allowed 0.00015 to 0.15 m\n"+
		"drive.StepShaft.Loads[1]: Position = 0.2 m: allowed 0 to 0.15 m")
	assert.EqualError(t, drive.StepShaft{Modulus: 2e11}.Validate(), "drive.StepShaft.Segments: number = 0: allowed 1 to 64\n"+
		"drive.StepShaft.Bearings: number = 0: allowed 2 to 8")
	b, err := overhung().Bend()
	require.NoError(t, err)
	assert.Empty(t, b.Beyond)
	_, err = b.At(-1e-3)
	assert.EqualError(t, err, "drive.ShaftBending.At: position = -0.001 m: allowed 0 to 0.15 m")
	stubby, err := evenShaft(0.05, 20e-3, 2e11, 0).Bend()
	require.NoError(t, err)
	assert.NotEmpty(t, stubby.Beyond)
}
