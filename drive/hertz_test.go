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

func TestCheckLineContact(t *testing.T) {
	var rows []verify.Row
	own := func(name string, want, got, tol float64) {
		rows = append(rows, verify.Row{Name: name, Source: "√(F·E*/(π·b·R)) by hand, depth and size of the largest shear from the stresses below the surface", Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
	}
	c := drive.LineContact{Force: 250, Length: 20e-3, Radius: [2]float64{10e-3, 15e-3}, Young: [2]float64{207e9, 207e9}, Poisson: [2]float64{.3, .3}}
	s, err := c.Stress()
	require.NoError(t, err)
	own("250 N, 10 and 15 mm: pressure, MPa", 274.634, s.Pressure/1e6, 2e-6)
	own("whole width, mm", 0.0579517, 2e3*s.HalfWidth, 1e-6)
	own("largest shear, MPa", 82.4679, s.Shear/1e6, 1e-6)
	own("its depth, mm", 0.0227794, s.Depth*1e3, 3e-6)
	own("largest shear over pressure", 0.3002831060, s.Shear/s.Pressure, 1e-10)
	c = drive.LineContact{Force: 1000, Length: 10e-3, Radius: [2]float64{10e-3, 20e-3}, Young: [2]float64{206e9, 206e9}, Poisson: [2]float64{.3, .3}}
	s, err = c.Stress()
	require.NoError(t, err)
	own("1000 N, 20 and 40 mm across: pressure, MPa", 735.13756, s.Pressure/1e6, 1e-8)
	own("half width, mm", 0.08659873, s.HalfWidth*1e3, 1e-7)
	verify.Table(t, rows)
}

func TestPropertyLineContact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw.Log(1e-3, 0.1).Draw(t, "radius")
		c := drive.LineContact{Force: draw.Log(1, 1e5).Draw(t, "force"), Length: draw.Log(1e-3, 1).Draw(t, "length"), Radius: [2]float64{r, 2 * r}, Young: [2]float64{206e9, 3e9}, Poisson: [2]float64{.3, .4}}
		s, err := c.Stress()
		require.NoError(t, err)
		require.InEpsilon(t, c.Force, math.Pi/2*s.Pressure*s.HalfWidth*c.Length, 1e-12, "the pressure's half ellipse carries the force")
		hollow := c
		hollow.Radius[1] = -2 * r
		h, err := hollow.Stress()
		require.NoError(t, err)
		require.InEpsilon(t, s.Pressure/math.Sqrt(3), h.Pressure, 1e-12, "curvature of a half against one and a half")
		swapped := c
		swapped.Radius, swapped.Young, swapped.Poisson = [2]float64{2 * r, r}, [2]float64{3e9, 206e9}, [2]float64{.4, .3}
		w, err := swapped.Stress()
		require.NoError(t, err)
		require.InEpsilon(t, s.Pressure, w.Pressure, 1e-12)
	})
}

func TestLineContactRefuses(t *testing.T) {
	_, err := drive.LineContact{Radius: [2]float64{1e-2, -1e-2}}.Stress()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.LineContact.Radius[1] = -0.01 m: allowed -1e+06 to -0.01001 m")
}
