package screw_test

import (
	"fmt"
	"math"
	"reflect"
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
	short := root
	short.Diameter, short.Length, short.Modulus = 0.010, 0.24, 205e9
	bow, err := short.Buckling(6032)
	require.NoError(t, err)
	pressed, err := root.Strength(0, 2000)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "thrust of 2 kN alone [Pa]", Source: direct, Kind: verify.Own, Want: 12.992240e6, Got: pressed.Demand, Tol: 4e-8, Why: why},
		verify.Row{Name: "bowing pressure on a bore of 20 mm [Pa]", Source: "π²Ed⁴/64L²D², evaluated independently", Kind: verify.Own, Want: 19.438880e6, Got: bowing.Capacity / (math.Pi / 4 * 0.02 * 0.02), Tol: 3e-8, Why: why},
		verify.Row{Name: "bowing load, 10 mm, 240 mm [N]", Source: direct, Kind: verify.Own, Want: 4310.632812, Got: bow.Capacity, Tol: 1e-9, Why: why})
	require.Less(t, bow.Safety(), 1.0, "30 MPa on a 16 mm bore: only the barrel keeps it straight")
	for _, v := range [][2]float64{{8, 34.656830}, {10, 67.689121}, {12, 116.966802}, {16, 277.254641}} {
		r := root
		r.Diameter = v[0] * 1e-3
		stress, err := r.Torsion(v[1])
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("stress of the torque allowed on %g mm [psi]", v[0]), Source: "torque by πd³/16 for 50000 psi, evaluated independently", Kind: verify.Own,
			Want: 50000, Got: stress / psi, Tol: 2e-8, Why: why})
	}
	bored := root
	bored.Diameter, bored.Drilled = 0.012, 0.004
	weaker, err := bored.Torsion(100)
	require.NoError(t, err)
	bored.Drilled = 0
	stronger, err := bored.Torsion(100)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "strength lost to 4 mm in 12 mm [%]", Source: "100·(4/12)⁴", Kind: verify.Own, Want: 100. / 81, Got: 100 * (1 - stronger/weaker), Tol: 1e-12, Why: "rounding"})
	const lame = "Lamé's thick cylinder with closed ends, evaluated independently"
	for _, v := range [][7]float64{
		{70, 20, 40, 116.667, 23.333, 161.658, 186.667}, {50, 16, 30, 89.752, 19.876, 121.028, 139.752}, {100, 20, 45, 149.231, 24.615, 215.840, 249.231}, {30, 20, 40, 50, 10, 69.282032, 80},
	} {
		s, err := screw.Barrel{Inner: v[1] * 1e-3, Outer: v[2] * 1e-3, Yield: 650e6}.Stress(v[0] * 1e6)
		require.NoError(t, err)
		name := fmt.Sprintf(", %g on %g mm, %g MPa [Pa]", v[2], v[1], v[0])
		for _, x := range []struct {
			name      string
			want, got float64
		}{{"hoop", v[3], s.Hoop}, {"axial", v[4], s.Axial}, {"equivalent", v[5], s.Equivalent}, {"twice the greatest shear", v[6], s.Hoop - s.Radial}} {
			rows = append(rows, verify.Row{Name: x.name + name, Source: lame, Kind: verify.Own, Want: x.want * 1e6, Got: x.got, Tol: 5e-4 * 1.01 / x.want, Why: "half of three decimals of a MPa"})
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
		mean := math.Sqrt(((s.Hoop-s.Axial)*(s.Hoop-s.Axial) + (s.Axial-s.Radial)*(s.Axial-s.Radial) + (s.Radial-s.Hoop)*(s.Radial-s.Hoop)) / 2)
		same(t, mean, s.Equivalent, 1e-12, "distortion energy of the three")
		same(t, s.Axial*(b.Outer*b.Outer-b.Inner*b.Inner), p*b.Inner*b.Inner, 1e-12, "the end is carried by the wall")
		same(t, s.Hoop+s.Radial, 2*s.Axial, 1e-9, "Lamé's sum")
		// The wall's mean hoop stress is a thin wall's; at the bore it is more.
		require.Greater(t, s.Hoop, p*b.Inner/(b.Outer-b.Inner))
		collapse, err := b.Collapse()
		require.NoError(t, err)
		u, err := b.Strength(p)
		require.NoError(t, err)
		require.LessOrEqual(t, p*u.Safety(), collapse*(1+1e-12), "the bore yields before the wall")
		// A hole takes little from a root, a thinner one much.
		r := screw.Root{Diameter: 0.016, Drilled: 0.016 * draw.Uniform(0, 0.9).Draw(t, "hole"), Length: 0.3, Modulus: 2e11, Density: 7800, Yield: 5e8}
		forth, err := r.Torsion(20)
		require.NoError(t, err)
		back, err := r.Torsion(-20)
		require.NoError(t, err)
		require.Equal(t, forth, back, "backwards as forwards")
		pulled, err := r.Buckling(-1000)
		require.NoError(t, err)
		require.Zero(t, pulled.Demand, "a pull bows nothing")
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

// A root of a wall as thin as numbers can tell still has a strength.
func TestStrengthOfAThinWall(t *testing.T) {
	r := screw.Root{Diameter: 0.016, Length: 0.3, Modulus: 2e11, Density: 7800, Yield: 5e8}
	r.Drilled = r.Diameter * (1 - 0x1p-40)
	wall := r.Diameter - r.Drilled // of twice its thickness
	pressed, err := r.Strength(0, 1000)
	require.NoError(t, err)
	same(t, 1000/(math.Pi/2*r.Diameter*wall), pressed.Demand, 1e-11, "compression")
	shear, err := r.Torsion(20)
	require.NoError(t, err)
	same(t, 20/(math.Pi/4*math.Pow(r.Diameter, 2)*wall), shear, 1e-11, "Bredt")
}

// Whatever bits come in, an error or finite numbers come out.
func TestPropertyStrengthAnyBits(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		r := screw.Root{Diameter: pick("diameter", 1e-4, 0.016, 1), Length: pick("length", 1e-3, 0.4, 100), Modulus: pick("modulus", 1e8, 2e11, 1e12),
			Density: pick("density", 500, 7800, 25000), Yield: pick("yield", 1e5, 5e8, 1e10)}
		r.Drilled = r.Diameter * pick("drilled", 0, 0.5, 1-0x1p-53)
		b := screw.Barrel{Inner: pick("inner", 1e-4, 0.02, 1), Yield: pick("barrel", 1e5, 1e10)}
		b.Outer = b.Inner * pick("outer", 1.00001, 2, 10)
		c := benchChannel
		w := screw.Scraping{Force: pick("force", 1e-6, 1, 1e6), Length: pick("leans", 1e-4, 0.12), LandRate: pick("land", 1e-25, 1e-15, 1e-5), BarrelRate: pick("bore", 1e-25, 1e-5)}
		torque, thrust, pressure := pick("torque", -1e9, 20, 1e9), pick("thrust", -1e9, 0, 1e9), pick("pressure", 0, 3e7, 1e10)
		offset, angle, speed, time, share, price := pick("offset", 0, 0.1), pick("angle", 0, 0.1), pick("speed", 1e-4, 1, 100), pick("time", 0, 1e10), pick("share", 0.5, 0.9, 0.999), pick("price", 0, 1e12)
		fields := []*float64{&r.Diameter, &r.Drilled, &r.Length, &r.Modulus, &r.Density, &r.Yield, &b.Inner, &b.Outer, &b.Yield, &w.Force, &w.Length, &w.LandRate, &w.BarrelRate,
			&c.Land, &c.Length, &c.Clearance, &torque, &thrust, &pressure, &offset, &angle, &speed, &time, &share, &price}
		for range rapid.IntRange(0, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = draw.Bits().Draw(t, "bits")
		}
		told := func(err error, values ...any) {
			for _, v := range values {
				if err == nil {
					finite(t, reflect.ValueOf(v))
				} else {
					require.Zero(t, v)
				}
			}
		}
		stress, err := r.Torsion(torque)
		told(err, stress)
		both, err := r.Strength(torque, thrust)
		told(err, both)
		bow, err := r.Buckling(thrust)
		told(err, bow)
		sag, err := r.Sag()
		told(err, sag)
		force, moment, err := r.LeaningForce(offset, angle)
		told(err, force, moment)
		wall, err := b.Stress(pressure)
		told(err, wall)
		collapse, err := b.Collapse()
		told(err, collapse)
		worn, err := c.Wear(w, speed, time)
		told(err, worn)
		life, clearance, err := c.TimeTo(share, w, screw.Die{benchHole}, m, speed)
		told(err, life, clearance)
		cost, err := c.WearCost(price, share, w, screw.Die{benchHole}, m, speed)
		told(err, cost)
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
	_, err = screw.Barrel{Inner: 0.02, Outer: 11, Yield: 1e8}.Stress(1)
	assert.ErrorContains(t, err, "screw.Barrel.Outer = 11 m: allowed")
	_, err = screw.Root{Diameter: 0.02, Drilled: -1e-3}.Sag()
	assert.ErrorContains(t, err, "screw.Root.Drilled = -0.001 m: allowed 0 to below")
	_, err = screw.Root{}.Torsion(0)
	assert.Error(t, err)
	_, err = screw.Root{}.Buckling(0)
	assert.Error(t, err)
	_, err = screw.Barrel{}.Collapse()
	assert.Error(t, err)
}
