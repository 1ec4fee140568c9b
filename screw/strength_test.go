package screw_test

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
	"meltflight/screw"
)

func TestCheckStrength(t *testing.T) {
	const why = "digits of the independent value"
	const inch, psi, pound = 0.0254, 6894.757293168, 4.4482216152605
	var rows []verify.Row
	root := screw.Root{Diameter: 0.014, Length: 0.4, Modulus: 210e9, Density: 7850, Yield: 600e6}
	for _, v := range [][2]float64{{0.640, 3851}, {0.810, 7805}, {0.880, 9996}} {
		r := root
		r.Diameter = v[0] * inch
		stress, err := r.Torsion(v[1] * pound * inch)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("stress of the torque allowed on a root of %g in [psi]", v[0]),
			Source: "a supplier's note on small screws, after Machinery's Handbook, 0.60·125000 psi", Kind: verify.Practice, Want: 75000, Got: stress / psi, Tol: 5e-3,
			Why: "its torques are 0.2 to 0.4 % below its own formula"})
	}
	stress, err := root.Torsion(30)
	require.NoError(t, err)
	both, err := root.Strength(30, 2000)
	require.NoError(t, err)
	bowing, err := root.Buckling(2000)
	require.NoError(t, err)
	sag, err := root.Sag()
	require.NoError(t, err)
	const direct = "formulas of torsion, compression, Euler and a cantilever evaluated independently"
	rows = append(rows,
		verify.Row{Name: "torsion, 14 mm, 30 N·m [Pa]", Source: direct, Kind: verify.Own, Want: 55.681030e6, Got: stress, Tol: 2e-8, Why: why},
		verify.Row{Name: "with 2 kN [Pa]", Source: direct, Kind: verify.Own, Want: 97.313563e6, Got: both.Demand, Tol: 2e-8, Why: why},
		verify.Row{Name: "bowing load, 14 mm, 400 mm [N]", Source: direct, Kind: verify.Own, Want: 6106.9042, Got: bowing.Capacity, Tol: 2e-8, Why: why},
		verify.Row{Name: "sag of its tip [m]", Source: direct, Kind: verify.Own, Want: 9.5760174e-5, Got: sag, Tol: 1e-8, Why: why})
	const lame = "Lamé's thick cylinder with closed ends, evaluated independently"
	for _, v := range [][6]float64{
		{70, 20, 40, 116.667, 23.333, 161.658}, {50, 16, 30, 89.752, 19.876, 121.028}, {100, 20, 45, 149.231, 24.615, 215.840}, {30, 20, 40, 50, 10, 69.282032},
	} {
		s, err := screw.Barrel{Inner: v[1] * 1e-3, Outer: v[2] * 1e-3, Yield: 650e6}.Stress(v[0] * 1e6)
		require.NoError(t, err)
		name := fmt.Sprintf(", %g on %g mm, %g MPa [Pa]", v[2], v[1], v[0])
		for _, x := range []struct {
			name      string
			want, got float64
		}{{"hoop", v[3], s.Hoop}, {"axial", v[4], s.Axial}, {"equivalent", v[5], s.Equivalent}} {
			rows = append(rows, verify.Row{Name: x.name + name, Source: lame, Kind: verify.Own, Want: x.want * 1e6, Got: x.got, Tol: 5.1e-4 / x.want, Why: "three decimals of a MPa"})
		}
	}
	b := screw.Barrel{Inner: 0.02, Outer: 0.04, Yield: 650e6}
	wall, err := b.Strength(100e6)
	require.NoError(t, err)
	collapse, err := b.Collapse()
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "first yield of twice its bore [Pa]", Source: lame, Kind: verify.Own, Want: 281.458e6, Got: 100e6 * wall.Safety(), Tol: 2e-6, Why: "six digits"},
		verify.Row{Name: "its full yield [Pa]", Source: lame, Kind: verify.Own, Want: 520.245e6, Got: collapse, Tol: 1e-6, Why: "six digits"})
	verify.Table(t, rows)
}

func TestPropertyStrength(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := screw.Barrel{Inner: draw.Log(5e-3, 0.1).Draw(t, "bore"), Yield: 5e8}
		b.Outer = b.Inner * draw.Uniform(1.05, 4).Draw(t, "outer/inner")
		p := draw.Log(1e5, 3e8).Draw(t, "pressure")
		s, err := b.Stress(p)
		require.NoError(t, err)
		// Halves of the wall are in balance: hoop over the wall carries pressure on the bore.
		mean := math.Sqrt(((s.Hoop-s.Axial)*(s.Hoop-s.Axial) + (s.Axial-s.Radial)*(s.Axial-s.Radial) + (s.Radial-s.Hoop)*(s.Radial-s.Hoop)) / 2)
		same(t, mean, s.Equivalent, 1e-12, "distortion energy of the three")
		same(t, s.Axial*(b.Outer*b.Outer-b.Inner*b.Inner), p*b.Inner*b.Inner, 1e-12, "the end is carried by the wall")
		same(t, s.Hoop+s.Radial, 2*s.Axial, 1e-9, "Lamé's sum")
		thin := p * b.Inner / (b.Outer - b.Inner)
		require.Greater(t, s.Hoop, thin*b.Inner/b.Outer*(1-1e-12))
		collapse, err := b.Collapse()
		require.NoError(t, err)
		u, err := b.Strength(p)
		require.NoError(t, err)
		require.LessOrEqual(t, p*u.Safety(), collapse*(1+1e-12), "the bore yields before the wall")
		// A hole takes little from a root, a thinner one much.
		r := screw.Root{Diameter: 0.016, Drilled: 0.016 * draw.Uniform(0, 0.9).Draw(t, "hole"), Length: 0.3, Modulus: 2e11, Density: 7800, Yield: 5e8}
		solid := r
		solid.Drilled = 0
		a, err := r.Strength(20, 1000)
		require.NoError(t, err)
		c, err := solid.Strength(20, 1000)
		require.NoError(t, err)
		require.GreaterOrEqual(t, a.Demand, c.Demand)
		// A drilled root is a solid one less the core that was drilled.
		if core := solid; r.Drilled > 1e-4 {
			core.Diameter = r.Drilled
			whole, err := solid.Buckling(1)
			require.NoError(t, err)
			bored, err := core.Buckling(1)
			require.NoError(t, err)
			left, err := r.Buckling(1)
			require.NoError(t, err)
			same(t, whole.Capacity-bored.Capacity, left.Capacity, 1e-9, "stiffness")
			area := math.Pi / 4 * (r.Diameter*r.Diameter - r.Drilled*r.Drilled)
			pressed, err := r.Strength(0, 1000)
			require.NoError(t, err)
			same(t, 1000/area, pressed.Demand, 1e-9, "compression")
			twisted, err := r.Torsion(20)
			require.NoError(t, err)
			stiff := left.Capacity * 4 * r.Length * r.Length / (math.Pi * math.Pi * r.Modulus) // I
			same(t, 20*r.Diameter/2/(2*stiff), twisted, 1e-9, "torsion by the polar moment")
			sag, err := r.Sag()
			require.NoError(t, err)
			same(t, r.Density*9.80665*area*math.Pow(r.Length, 4)/(8*r.Modulus*stiff), sag, 1e-9, "cantilever")
		}
	})
}

func TestStrengthFaults(t *testing.T) {
	_, err := screw.Root{Drilled: 1}.Strength(math.NaN(), math.Inf(1))
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Root.Diameter = 0", "screw.Root.Drilled = 1 m: allowed 0 to below the diameter", "torque = NaN", "thrust = +Inf", "screw.Root.Yield = 0"} {
		assert.ErrorContains(t, err, part)
	}
	_, err = screw.Barrel{Inner: 0.02, Outer: 0.02, Yield: 1e8}.Strength(-1)
	for _, part := range []string{"screw.Barrel.Outer = 0.02 m: allowed above Inner, 0.02 m", "pressure = -1 Pa: allowed 0 to 1e+10 Pa"} {
		assert.ErrorContains(t, err, part)
	}
	_, err = screw.Root{}.Sag()
	assert.Error(t, err)
	_, err = screw.Root{}.Torsion(0)
	assert.Error(t, err)
	_, err = screw.Root{}.Buckling(0)
	assert.Error(t, err)
	_, err = screw.Barrel{}.Collapse()
	assert.Error(t, err)
}
