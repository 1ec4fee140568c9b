package material_test

import (
	"fmt"
	"testing"

	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckCopper(t *testing.T) {
	const source = "R/R20 = (234.5+t)/254.5, the rule of IEC 60028 and IEEE 112, recomputed"
	var rows []verify.Row
	for _, v := range [][2]float64{{-20, 0.842829}, {25, 1.019646}, {50, 1.117878}, {75, 1.216110}, {80, 1.235756},
		{100, 1.314342}, {120, 1.392927}, {130, 1.432220}, {155, 1.530452}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("copper at %g °C ÷ at 20 °C", v[0]), Source: source, Kind: verify.Own,
			Want: v[1], Got: 1 + material.CopperCoefficient*(v[0]-20), Tol: 6e-7, Why: "six decimals"})
	}
	rows = append(rows, verify.Row{Name: "copper's coefficient [1/K]", Source: "IEC 60028: 0.00393, from memory", Kind: verify.Memory,
		Want: 0.00393, Got: material.CopperCoefficient, Tol: 0.0013, Why: "three digits printed"})
	verify.Table(t, rows)
}
