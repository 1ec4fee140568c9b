package drive_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/verify"
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
