package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

func TestCheckMeltGivesWay(t *testing.T) {
	const source = "Tait equation with C = 0.0894, CRC Handbook, PVT relationship for polymer melts; constants of P. A. Rodgers, J. Appl. Polym. Sci. 48 (1993) 1061"
	const digits = "five digits"
	const atmosphere = "rounding of the last digit; and taken from one atmosphere on, not from none: 0.1 MPa/B, 2e-3 at most"
	var rows []verify.Row
	for _, v := range []struct {
		name            string
		celsius, b0, b1 float64
		at0, at10, at30 float64 // [1/GPa]
		percent         float64 // of the volume at no pressure, to 30 MPa
	}{
		{"PS", 200, 216.9, 3.319, 0.80050, 0.74039, 0.64471, 2.127},
		{"LDPE", 200, 177.1, 4.699, 1.29202, 1.14266, 0.93125, 3.220},
		{"PP", 220, 149.1, 4.177, 1.50297, 1.30479, 1.03694, 3.651},
		{"PET", 280, 369.7, 4.150, 0.77293, 0.71673, 0.62666, 2.062},
		{"PC", 280, 310.0, 4.078, 0.90338, 0.82759, 0.71004, 2.367},
	} {
		law := material.Tait{A0: 1e-3, B0: v.b0 * 1e6, B1: v.b1 * 1e-3}
		at := material.Celsius(v.celsius)
		for _, k := range []struct{ p, want float64 }{{0, v.at0}, {10e6, v.at10}, {30e6, v.at30}} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, compressibility at %g MPa [1/GPa]", v.name, k.p*1e-6), Source: source,
				Kind: verify.Memory, Want: k.want, Got: 1e9 * law.Compressibility(at, k.p), Tol: 1.2e-5, Why: digits})
		}
		p := material.PP()
		p.PVT = law
		mean, _, err := screw.MeanCompressibility(p, at, 30e6)
		require.NoError(t, err)
		// What melt expands by when let out is told of its volume under pressure.
		rows = append(rows, verify.Row{Name: v.name + ", 1 − v(30 MPa)/v(0) [%]", Source: source,
			Kind: verify.Memory, Want: v.percent, Got: 100 * (1 - 1/(1+mean*30e6)), Tol: 2e-3, Why: atmosphere})
	}
	yield, err := screw.Barrel{Inner: 20e-3, Outer: 40e-3, Yield: 5e8}.Widening(200e9, 0.3)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "steel tube, 20/40 mm, widening [1/Pa]", Source: "G. Lamé's thick cylinder, ends free",
		Kind: verify.Memory, Want: 1.9667e-11, Got: yield, Tol: 3e-5, Why: digits})
	verify.Table(t, rows)
	require.Less(t, yield, 0.05*1e-9, "little beside the melt")
	c, err := screw.Room{Volume: 1e-5, Compressibility: 1e-9, Widening: 5e-10}.Compliance()
	require.NoError(t, err)
	require.InEpsilon(t, 1.5e-14, c, 1e-12)
}

func TestCheckTurnBack(t *testing.T) {
	// ½π²D²h·sinφ·cosφ of a square pitch, flight and shape left out.
	const perTurn = 547.693e-9
	back, err := screw.Held{Pressure: 10e6, Compliance: 1e-14}.TurnBack(perTurn, math.Pi/180)
	require.NoError(t, err)
	const source = "100 mm³ over the drag flow of a turn between plates, D = 16 mm, h = 1.5 mm, square pitch, 547.693 mm³"
	verify.Table(t, []verify.Row{
		{Name: "turns back", Source: source, Kind: verify.Own, Want: 0.18258, Got: back.Melt, Tol: 3e-5, Why: "five digits"},
		{Name: "turns back with 1° backlash [°]", Source: source, Kind: verify.Own, Want: 65.7 + 1, Got: back.Turns * 360, Tol: 8e-4, Why: "a tenth of a degree"},
	})
	require.Empty(t, back.Beyond)
	back, err = screw.Held{Pressure: 30e6, Compliance: 2e-14}.TurnBack(perTurn, 0)
	require.NoError(t, err)
	require.Len(t, back.Beyond, 1)
}

func helds() *rapid.Generator[screw.Held] {
	return rapid.Custom(func(t *rapid.T) screw.Held {
		return screw.Held{Pressure: draw.Log(1e5, 6e7).Draw(t, "pressure"), Compliance: draw.Log(1e-15, 1e-12).Draw(t, "compliance")}
	})
}
