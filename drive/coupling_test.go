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

// steelShaft lengths are in millimetres, of steel.
func steelShaft(diameter, span, overhang float64) drive.Overhung {
	return drive.Overhung{Span: span * 1e-3, Overhang: overhang * 1e-3, Diameter: diameter * 1e-3, Young: 205e9}
}

const halfDegree = 0.5 * math.Pi / 180

func TestCheckMisaligned(t *testing.T) {
	const (
		beams   = "beams of both shafts by unit loads, a finite-element chain agreeing to nine digits"
		chain   = "finite-element chain of 40 cubic beam elements a stretch, springs in the joint, wall as a support"
		nine    = "nine digits given"
		rounded = "three decimals of a megapascal given"
	)
	var rows []verify.Row
	own := func(name, source string, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why})
	}
	for _, c := range []struct {
		name                                               string
		shaft                                              drive.Overhung
		force, near, far, stress, moment, reaction, tilted float64
	}{
		{"8 mm, 40 + 20 mm", steelShaft(8, 40, 20), 257.610598, 386.415896, 128.805299, 102.5e6, 5.39538374, 134.884593, 107.337749e6},
		{"8 mm, 80 + 20 mm", steelShaft(8, 80, 20), 154.566359, 193.207948, 38.6415896, 61.5e6, 3.85384553, 48.1730691, 76.669821e6},
		{"12 mm, 60 + 25 mm", steelShaft(12, 60, 25), 589.170590, 834.658336, 245.487746, 86.823529e6, 20.2326890, 337.211484, 119.264166e6},
	} {
		m, err := drive.Coupling{}.Misaligned(c.shaft, c.shaft, 0.1e-3, 0)
		require.NoError(t, err)
		own(c.name+", 0.1 mm: force", beams, c.force, m.Force, 3e-9, nine)
		own("moment", beams, 0, m.Moment, 1e-9, "of newton-metres")
		own("near bearing", beams, -c.near, m.A.Near, 3e-9, nine)
		own("far bearing", beams, c.far, m.A.Far, 5e-9, nine)
		own("stress", beams, c.stress, m.A.Stress, 6e-9, rounded)
		own("near bearing of the other", beams, c.near, m.B.Near, 3e-9, nine)
		m, err = drive.Coupling{}.Misaligned(c.shaft, c.shaft, 0, halfDegree)
		require.NoError(t, err)
		own("half a degree: moment", beams, c.moment, m.Moment, 3e-9, nine)
		own("force", beams, 0, m.Force, 1e-9, "of hundreds of newtons")
		own("far bearing", beams, c.reaction, m.A.Far, 4e-9, nine)
		own("near bearing", beams, -c.reaction, m.A.Near, 4e-9, nine)
		own("stress", beams, c.tilted, m.A.Stress, 6e-9, nine)
	}
	a, b := steelShaft(8, 40, 20), steelShaft(12, 60, 25)
	for _, c := range []struct {
		name                                     string
		offset, angle                            float64
		force, moment, nearA, farA, nearB, farB_ float64
	}{
		{"8 to 12 mm, 0.1 mm", 0.1e-3, 0, 444.264316, -3.22156580, -585.857329, 141.593013, 683.067211, -238.802895},
		{"8 to 12 mm, half a degree", 0, halfDegree, -281.134651, 10.5576642, 157.760372, 123.374279, -574.235160, 293.100508},
		{"8 to 12 mm, both", 0.1e-3, halfDegree, 163.129665, 7.33609839, -428.096957, 264.967292, 108.832052, 54.297613},
	} {
		m, err := drive.Coupling{}.Misaligned(a, b, c.offset, c.angle)
		require.NoError(t, err)
		assert.Nil(t, m.Beyond)
		own(c.name+": force", beams, c.force, m.Force, 5e-9, nine)
		own("moment", beams, c.moment, m.Moment, 5e-9, nine)
		own("near bearing of A", beams, c.nearA, m.A.Near, 5e-9, nine)
		own("far bearing of A", beams, c.farA, m.A.Far, 5e-9, nine)
		own("near bearing of B", beams, c.nearB, m.B.Near, 5e-9, nine)
		own("far bearing of B", beams, c.farB_, m.B.Far, 1e-8, "eight digits given")
	}
	soft := drive.Coupling{Radial: 2e6, Angular: 50}
	m, err := soft.Misaligned(a, b, 0.1e-3, halfDegree)
	require.NoError(t, err)
	const fine = "nine digits given, of a matrix of some hundred rows"
	own("both, 2 kN/mm and 50 N·m/rad: force", chain, 124.83932466, m.Force, 1e-7, fine)
	own("moment", chain, 0.37096549, m.Moment, 1e-6, fine)
	own("near bearing of A", chain, -196.53312412, m.A.Near, 1e-7, fine)
	own("far bearing of B", chain, -45.83362714, m.B.Far, 1e-7, fine)

	// The other side rigid, the joint free to tilt, a shank built in: 3EIδ/L³.
	shank := drive.Overhung{Overhang: 40e-3, Diameter: 12e-3, Young: 206e9}
	wall := drive.Overhung{Overhang: 1e-3, Diameter: 1, Young: 1e12}
	m, err = drive.Coupling{Angular: 1e-6}.Misaligned(shank, wall, 0.1e-3, 0)
	require.NoError(t, err)
	own("shank of 12 mm, 40 mm, against a wall, 0.1 mm", "3EIδ/L³", 982.887, m.Force, 1e-6, "six digits given; wall and hinge give a billionth")
	assert.Equal(t, []string{"shaft A of 3.33 diameters, beams for 5 and more: shear, not counted, lowers the forces",
		"shaft B of 0.001 diameters, beams for 5 and more: shear, not counted, lowers the forces"}, m.Beyond)

	for _, c := range []struct {
		name                               string
		coupling                           drive.Coupling
		angle, root, gap, throw, tip, fine float64
	}{
		{"stiff, both, tail 200 of 12 mm", drive.Coupling{}, halfDegree, 12, 0, 3.122577598638e-05, 1.9395641374, 1e-6},
		{"stiff, 0.1 mm, tail 200 of 10 mm, gap 50 µm", drive.Coupling{}, 0, 10, 0.05e-3, 1.373321091090e-04, 2.9286772523, 1e-6},
		{"soft, both, gap 10 µm", soft, halfDegree, 10, 0.01e-3, 2.6358259508530e-05, 0.5407078752, 1e-6},
	} {
		tip, err := c.coupling.Tip(a, b, drive.Tail{Length: 0.2, Diameter: c.root * 1e-3, Young: 205e9, Gap: c.gap}, 0.1e-3, c.angle)
		require.NoError(t, err)
		own(c.name+": throw", chain, c.throw, tip.Throw, c.fine, fine)
		own("force of the wall", chain, c.tip, tip.Force, c.fine, fine)
	}
	verify.Table(t, rows)
}

func TestCouplingRefuses(t *testing.T) {
	_, err := drive.Coupling{Radial: -1, Torsion: math.Inf(1)}.Misaligned(steelShaft(8, 0.1, 20), steelShaft(8, 40, 0), 1, math.NaN())
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Coupling.Radial = -1 N/m: allowed 1 to 1e+15 N/m\n"+
		"drive.Coupling.Torsion = +Inf N·m/rad: allowed 0.001 to 1e+12 N·m/rad\n"+
		"drive.Overhung (A).Span = 0.0001 m: allowed 0.001 to 10 m\ndrive.Overhung (B).Overhang = 0 m: allowed 0.001 to 10 m\n"+
		"drive.Coupling.Misaligned: offset = 1 m: allowed -0.1 to 0.1 m\ndrive.Coupling.Misaligned: angle = NaN rad: allowed -0.2 to 0.2 rad")
	_, err = drive.Coupling{}.Tip(steelShaft(8, 40, 20), drive.Overhung{Overhang: 0.02, Diameter: 0.008, Young: 205e9}, drive.Tail{Length: 0.1, Diameter: 0.01, Young: 205e9}, 0, 0)
	assert.EqualError(t, err, "drive.Overhung (B).Span = 0 m: allowed 0.001 to 10 m")
	u, err := drive.CouplingTorque(8, 1.5, 10)
	require.NoError(t, err)
	assert.InEpsilon(t, 10.0/12, u.Safety(), 1e-12)
	twist, err := drive.Coupling{Torsion: 400}.Twist(8)
	require.NoError(t, err)
	assert.InEpsilon(t, 0.02, twist, 1e-12)
	twist, err = drive.Coupling{}.Twist(8)
	require.NoError(t, err)
	assert.Zero(t, twist, "stiff")
}

func overhungs(t *rapid.T, name string) drive.Overhung {
	d := draw.Log(3e-3, 40e-3).Draw(t, name+"'s diameter")
	return drive.Overhung{
		Span: d * draw.Uniform(3, 10).Draw(t, name+"'s span"), Overhang: d * draw.Uniform(1, 6).Draw(t, name+"'s overhang"),
		Diameter: d, Young: draw.Log(50e9, 220e9).Draw(t, name+"'s modulus"),
	}
}

func TestPropertyCoupling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := overhungs(t, "A"), overhungs(t, "B")
		c := drive.Coupling{Radial: draw.Log(1e3, 1e9).Draw(t, "radial"), Angular: draw.Log(0.1, 1e5).Draw(t, "angular")}
		offset, angle := draw.Uniform(1e-5, 3e-4).Draw(t, "offset"), draw.Uniform(1e-4, 0.02).Draw(t, "angle")
		try := func(c drive.Coupling, offset, angle float64) drive.Misalignment {
			m, err := c.Misaligned(a, b, offset, angle)
			require.NoError(t, err)
			return m
		}
		near := func(want, got, scale float64, what string) {
			require.LessOrEqual(t, math.Abs(want-got), 1e-9*math.Abs(scale), what)
		}
		one, other, both := try(c, offset, 0), try(c, 0, angle), try(c, offset, angle)
		scale := math.Abs(one.A.Near) + math.Abs(other.A.Near) + math.Abs(one.A.Far) + math.Abs(other.A.Far) + math.Abs(both.Force)
		for _, r := range [][3]float64{
			{one.Force, other.Force, both.Force}, {one.A.Near, other.A.Near, both.A.Near}, {one.A.Far, other.A.Far, both.A.Far},
		} {
			near(r[0]+r[1], r[2], scale, "superposition")
		}
		near(-both.Force, both.A.Near+both.A.Far, scale, "A in balance")
		near(both.Force, both.B.Near+both.B.Far, math.Abs(both.B.Near)+math.Abs(both.B.Far)+scale, "B in balance")
		none := try(c, 0, 0)
		require.Zero(t, none.Force)
		require.Zero(t, none.Moment)
		require.Zero(t, none.A.Near)
		// Moment of an offset by the offset is the force of an angle by the angle (Maxwell, Betti).
		near(one.Moment/offset, other.Force/angle, math.Abs(one.Force)/offset*a.Overhang+math.Abs(one.Moment)/offset, "reciprocity")

		// Seen from the other side: B left, A right; the offset turns round and the angle does not.
		mirror, err := c.Misaligned(b, a, -offset, angle)
		require.NoError(t, err)
		near(-both.Force, mirror.Force, scale, "mirror")
		near(both.A.Near, mirror.B.Near, scale, "mirror")

		// Work of the misalignment is positive, most for a stiff coupling, which is the limit.
		work := both.Force*offset + both.Moment*angle
		stiff := try(drive.Coupling{}, offset, angle)
		require.Positive(t, work)
		require.Greater(t, stiff.Force*offset+stiff.Moment*angle, work)
		limit := try(drive.Coupling{Radial: 1e15, Angular: 1e15}, offset, angle)
		require.LessOrEqual(t, math.Abs(stiff.Force-limit.Force), 1e-4*(math.Abs(stiff.A.Near)+math.Abs(stiff.A.Far)))
		soft := try(drive.Coupling{Radial: 1, Angular: 1e-6}, offset, angle)
		require.LessOrEqual(t, math.Abs(soft.Force), 1.001*offset, "a spring alone")
		require.LessOrEqual(t, math.Abs(soft.Moment), 1.05e-6*angle, "another")

		// All lengths k times larger and stiffnesses with them: force as k², angles alike.
		k := draw.Uniform(1.1, 3).Draw(t, "scale")
		grow := func(o drive.Overhung) drive.Overhung {
			return drive.Overhung{Span: o.Span * k, Overhang: o.Overhang * k, Diameter: o.Diameter * k, Young: o.Young}
		}
		large, err := drive.Coupling{Radial: c.Radial * k, Angular: c.Angular * k * k * k}.Misaligned(grow(a), grow(b), offset*k, angle)
		require.NoError(t, err)
		near(both.Force*k*k, large.Force, scale*k*k, "scaling")
		near(both.A.Stress, large.A.Stress, both.A.Stress+one.A.Stress+other.A.Stress, "same stress")

		u, err := both.Utilisations(1000, 2000)
		require.NoError(t, err)
		require.InEpsilon(t, max(math.Abs(both.A.Near), math.Abs(both.A.Far)), u[0].Demand, 1e-12)
		require.InEpsilon(t, max(math.Abs(both.B.Near), math.Abs(both.B.Far)), u[1].Demand, 1e-12)
		require.Equal(t, []float64{1000, 2000}, []float64{u[0].Capacity, u[1].Capacity})

		tail := drive.Tail{Length: draw.Uniform(0.05, 0.4).Draw(t, "tail"), Diameter: b.Diameter, Young: b.Young}
		free, err := c.Tip(a, b, tail, offset, angle)
		require.NoError(t, err)
		tail.Gap = free.Throw * draw.Uniform(0.1, 0.9).Draw(t, "gap")
		held, err := c.Tip(a, b, tail, offset, angle)
		require.NoError(t, err)
		require.InEpsilon(t, (free.Throw-tail.Gap)*free.Force, held.Force*free.Throw, 1e-9, "as far as it is pushed back")
		tail.Gap = free.Throw * 1.001
		clear, err := c.Tip(a, b, tail, offset, angle)
		require.NoError(t, err)
		require.Zero(t, clear.Force)
	})
}
