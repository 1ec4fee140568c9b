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
)

func TestCheckHardness(t *testing.T) {
	tensile := func(hb float64) float64 {
		r, err := material.TensileFromBrinell(hb)
		require.NoError(t, err)
		return r
	}
	pressure, err := material.HardnessPressure(120)
	require.NoError(t, err)
	vickers, err := material.VickersFromBrinell(190)
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "120 HB as a pressure", Source: "1 kgf/mm² = 9.80665 MPa, by hand", Kind: verify.Own, Want: 1176.798e6, Got: pressure, Tol: 1e-12, Why: "exact"},
		{Name: "190 HB in Vickers", Source: "ISO 18265, Table A.1, from memory", Kind: verify.Memory, Want: 200, Got: vickers, Tol: 1e-12, Why: "a table's value"},
	}
	for _, c := range [][2]float64{{76, 255}, {95, 320}, {124, 415}, {152, 510}, {190, 640}, {238, 800}, {285, 965}, {342, 1155}, {380, 1290}, {437, 1485}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("tensile strength of %g HB", c[0]), Source: "ISO 18265, Table A.1, from memory", Kind: verify.Memory,
			Want: c[1] * 1e6, Got: tensile(c[0]), Tol: 0.014, Why: "one line through a table, stated"})
	}
	// The steel standards print hardness and strength side by side.
	for _, m := range []material.Metal{material.C45E(), material.CrMo42()} {
		for _, s := range m.Strength {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g mm, tensile from %g HB", m.Name, s.Section*1e3, s.Brinell),
				Source: m.Source["Strength"], Kind: verify.Print, Want: s.Ultimate, Got: tensile(s.Brinell), Tol: 0.041,
				Why: "least hardness against least strength, each rounded up; hardness conversion is uncertain by 5 %"})
		}
	}
	verify.Table(t, rows)
}

func TestPropertyHardness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		hb := rapid.OneOf(draw.Bits(), draw.Uniform(60, 500)).Draw(t, "hardness")
		for _, f := range []func(float64) (float64, error){material.HardnessPressure, material.VickersFromBrinell, material.TensileFromBrinell} {
			if x, err := f(hb); err == nil {
				require.True(t, x > 0 && x < 1e12)
				twice, err := f(hb * 1.0001)
				if err == nil {
					require.InEpsilon(t, 1.0001*x, twice, 1e-12, "in proportion")
				}
			} else {
				require.ErrorIs(t, err, material.ErrInvalid)
			}
		}
	})
	_, err := material.TensileFromBrinell(600)
	assert.EqualError(t, err, "material.TensileFromBrinell: number = 600: allowed 76 to 437")
	_, err = material.HardnessPressure(math.NaN())
	assert.ErrorIs(t, err, material.ErrInvalid)
}
