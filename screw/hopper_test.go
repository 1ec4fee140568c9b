package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

func grains(density, size float64) material.Bulk {
	return material.Bulk{Name: "grains", Shape: "pellets", BulkDensity: density, ParticleSize: size}
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

const (
	evaluated = "same formula evaluated independently to 20 digits, g = 9.80665"
	tenDigits = "ten digits of the independent value"
	gRounded  = "g = 9.81 there, and its last digit"
)

func TestCheckDischarge(t *testing.T) {
	const memory = "Beverloo, Leniger and van de Velde 1961, constants from memory, "
	var rows []verify.Row
	for _, v := range []struct{ density, width, size, rim, want, small float64 }{
		{560, 0.05, 3e-3, 1.4, 0.456604359185, 0.377558940196},
		{560, 0.04, 4e-3, 1.4, 0.223240231797, 0.171086451256},
		{300, 0.05, 6e-3, 1.5, 0.185468102112, 0},
		{300, 0.0254, 6e-3, 1.5, 0.0187680523514, 0},
		{600, 0.01, 0.5e-3, 1.4, 0.00908964565143, 0.00776743692493},
	} {
		o := screw.Outlet{Width: v.width}
		// With k = 1.5, the edge takes as much as larger grains take with 1.4.
		d, err := o.Discharge(grains(v.density, v.size*v.rim/1.4))
		require.NoError(t, err)
		name := fmt.Sprintf(" of %g mm, grains of %g mm, k = %g [kg/s]", v.width*1e3, v.size*1e3, v.rim)
		rows = append(rows, verify.Row{Name: "discharge" + name, Source: memory + evaluated, Kind: verify.Own, Want: v.want, Got: d.Flow, Tol: 1e-10, Why: tenDigits})
		if v.small != 0 {
			small, err := o.SmallFlow(grains(v.density, v.size))
			require.NoError(t, err)
			rows = append(rows, verify.Row{Name: "small outlet" + name, Source: "Mankoc et al. 2007, form from memory, " + evaluated, Kind: verify.Own,
				Want: v.small, Got: small, Tol: 1e-10, Why: tenDigits})
		}
	}
	slot, err := screw.Outlet{Width: 0.03, Length: 0.06}.Discharge(grains(300, 6e-3))
	require.NoError(t, err)
	funnel, err := screw.Outlet{Width: 0.01}.Discharge(grains(600, 0.5e-3))
	require.NoError(t, err)
	verify.Table(t, append(rows,
		verify.Row{Name: "discharge of a slot [kg/s]", Source: "Nedderman 1992, form from memory, " + evaluated, Kind: verify.Own, Want: 0.158507255206, Got: slot.Flow, Tol: 1e-10, Why: tenDigits},
		verify.Row{Name: "100 g of powder through 10 mm [s]", Source: memory + "worked in g, cm and s", Kind: verify.Own, Want: 11.0, Got: 0.1 / funnel.Flow, Tol: 5e-3, Why: "three digits"}))
}

func TestCheckClogging(t *testing.T) {
	const zuriguel = "I. Zuriguel et al., Phys. Rev. E 71 (2005) 051303, mean between clogs 9900/(4.94 − R)^6.9 of spheres, from memory"
	var rows []verify.Row
	for _, ratio := range []float64{3, 3.5, 4, 4.5} {
		c, err := screw.Outlet{Width: ratio * 4e-3}.Clogging(grains(535, 4e-3), 1)
		require.NoError(t, err)
		mean := 9900 / math.Pow(4.94-ratio, 6.9)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("log of particles to a clog, R = %g", ratio), Source: zuriguel, Kind: verify.Memory,
			Want: math.Log1p(mean), Got: -math.Log(c.PerParticle), Tol: 0.1, Why: "the fit's stated factor of 2.2 of the mean"})
	}
	// Rice: the same one particle wider by the ratio of critical widths.
	b := grains(535, 4e-3)
	b.Shape = "flake"
	spheres, err := screw.Outlet{Width: 0.016}.Clogging(grains(535, 4e-3), 1)
	require.NoError(t, err)
	flake, err := screw.Outlet{Width: 0.016 * 6.15 / 4.94}.Clogging(b, 1)
	require.NoError(t, err)
	verify.Table(t, append(rows,
		verify.Row{Name: "flake at 6.15/4.94 of the width", Source: "critical widths of rice and spheres, Zuriguel et al. 2005, from memory", Kind: verify.Memory,
			Want: spheres.PerParticle, Got: flake.PerParticle, Tol: 1e-12, Why: "the assumption itself, to rounding"},
		verify.Row{Name: "clogs within 1 kg at R = 4", Source: "1 − (1−q)^N, q = exp(−0.155·64), N = 1 kg/(535 kg/m³·(4 mm)³), to 20 digits", Kind: verify.Own,
			Want: 0.7622179741, Got: spheres.Probability, Tol: 1e-9, Why: tenDigits}))
}

func TestCheckCriticalOutlet(t *testing.T) {
	const tutorial = "a university's powder technology tutorial, Answer Tutorial 2: σ_y = σ_c^0.68 kPa, ff 1.4, θ 35°, 1800 kg/m³"
	const second = "the same tutorial, question 2: θ 29.5°, σ_crit 1.82 kPa, 900 kg/m³"
	const rhodes = "M. Rhodes, Introduction to Particle Technology, ch. 10, exercise: σ_y = σ_c^0.45 kPa, ff 1.5, θ 30°, 1000 kg/m³, from memory"
	strength := func(n, factor float64) float64 {
		s, err := screw.FlowFunction{Strength: 1000, Exponent: n}.CriticalStrength(factor)
		require.NoError(t, err)
		return s
	}
	outlet := func(angle float64, slot bool, density, strength float64) float64 {
		b, err := screw.Hopper{HalfAngle: degrees(angle), Slot: slot}.CriticalOutlet(grains(density, 1e-3), strength)
		require.NoError(t, err)
		return b
	}
	first := strength(0.68, 1.4)
	verify.Table(t, []verify.Row{
		{Name: "critical strength [Pa]", Source: tutorial, Kind: verify.Print, Want: 2043, Got: first, Tol: 7e-4, Why: "the source is low by 1.2 units of its last digit; the own value follows"},
		{Name: "critical strength [Pa]", Source: "1.4^(0.68/0.32) kPa", Kind: verify.Own, Want: 2044.193843, Got: first, Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet [m]", Source: tutorial, Kind: verify.Print, Want: 0.299, Got: outlet(35, false, 1800, first), Tol: 2e-3, Why: gRounded},
		{Name: "wedge's outlet [m]", Source: "H = 1 + 35/180 by hand; the tutorial prints 0.2249, which is H = 1.944, a digit dropped", Kind: verify.Own, Want: 0.1383231435, Got: outlet(35, true, 1800, first), Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet, question 2 [m]", Source: second, Kind: verify.Print, Want: 0.514, Got: outlet(29.5, false, 900, 1820), Tol: 1.4e-3, Why: gRounded},
		{Name: "wedge's outlet, question 2 [m]", Source: second + "; H by hand", Kind: verify.Own, Want: 0.2400046882, Got: outlet(29.5, true, 900, 1820), Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet, Rhodes [m]", Source: rhodes, Kind: verify.Memory, Want: 0.355, Got: outlet(30, false, 1000, strength(0.45, 1.5)), Tol: 1.8e-3, Why: gRounded},
		{Name: "cone's outlet, Rhodes [m]", Source: evaluated, Kind: verify.Own, Want: 0.3552172106, Got: outlet(30, false, 1000, strength(0.45, 1.5)), Tol: 1e-9, Why: tenDigits},
	})
}

func TestCheckMassFlow(t *testing.T) {
	var rows []verify.Row
	for _, v := range [][3]float64{
		{30, 10, 44.83898149}, {30, 16, 35.27274623}, {30, 20, 28.4199111}, {40, 10, 40.22976416}, {40, 16, 32.37010983}, {40, 20, 26.99296849},
		{50, 10, 37.84092877}, {50, 16, 30.84727897}, {50, 20, 26.1329271}, {60, 10, 36.43469753}, {60, 16, 29.93871062}, {60, 20, 25.58730711},
	} {
		theta, err := screw.MassFlowHalfAngle(degrees(v[0]), degrees(v[1]))
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("widest cone, δ %g°, wall %g° [°]", v[0], v[1]), Source: "Jenike's chart in closed form, from memory, evaluated independently to 20 digits",
			Kind: verify.Own, Want: v[2], Got: theta / degrees(1), Tol: 1e-9, Why: tenDigits})
		if v[0] == 40 && v[1] == 16 {
			rows = append(rows, verify.Row{Name: "the chart as read, less 3° [°]", Source: "a university's powder technology tutorial, Answer Tutorial 2, question 2; δ taken as 40°", Kind: verify.Memory,
				Want: 29.5, Got: theta/degrees(1) - 3, Tol: 0.017, Why: "half a degree of reading a chart"})
		}
	}
	verify.Table(t, rows)
}

// leaning is a bulk of a friction coefficient and a stress ratio.
func leaning(density, mu, ratio float64) material.Bulk {
	return material.Bulk{BulkDensity: density, ParticleSize: 3e-3, WallFriction: math.Atan(mu), StressRatio: ratio}
}

func TestCheckJanssen(t *testing.T) {
	const source = "H. A. Janssen 1895, form from memory, " + evaluated
	var rows []verify.Row
	for _, v := range []struct{ density, diameter, mu, ratio, depth, down, wall, length float64 }{
		{350, 0.05, 0.30, 0.40, 0.1, 220.636845616, 88.2547382464, 0.1041666667},
		{350, 0.05, 0.30, 0.40, 0.5, 354.591699259, 141.836679704, 0.1041666667},
		{350, 0.05, 0.30, 0.40, 100, 357.534114583, 143.013645833, 0.1041666667},
		{560, 0.25, 0.35, 0.45, 0.3, 1156.00607351, 520.20273308, 0.3968253968},
		{560, 0.25, 0.35, 0.45, 1.0, 2003.91351055, 901.761079747, 0.3968253968},
	} {
		s, err := screw.Tube{Diameter: v.diameter}.StressAt(leaning(v.density, v.mu, v.ratio), v.depth)
		require.NoError(t, err)
		name := fmt.Sprintf(" %g m down %g m ", v.depth, v.diameter)
		rows = append(rows,
			verify.Row{Name: "stress down" + name + "[Pa]", Source: source, Kind: verify.Own, Want: v.down, Got: s.Down, Tol: 1e-10, Why: tenDigits},
			verify.Row{Name: "stress on the wall" + name + "[Pa]", Source: source, Kind: verify.Own, Want: v.wall, Got: s.Wall, Tol: 1e-10, Why: tenDigits},
			verify.Row{Name: "length" + name + "[m]", Source: source, Kind: verify.Own, Want: v.length, Got: s.Length, Tol: 1e-9, Why: "ten decimals of the independent value"})
	}
	verify.Table(t, rows)
}

func TestCheckStirrer(t *testing.T) {
	torque, err := screw.Stirrer{Rods: 2, Diameter: 5e-3, Depth: 0.1, Radius: 0.03}.Torque(grains(350, 4e-3))
	require.NoError(t, err)
	verify.Table(t, []verify.Row{{Name: "two rods [N·m]", Source: "R. Albert et al. 1999, η = 2.5 from memory, " + evaluated, Kind: verify.Own, Want: 0.02574245625, Got: torque, Tol: 1e-9, Why: tenDigits}})
}

func TestPropertyDischarge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size, scale := draw.Log(1e-3, 0.01).Draw(t, "size"), draw.Log(0.2, 5).Draw(t, "scale")
		o := screw.Outlet{Width: draw.Log(0.5, 20).Draw(t, "ratio") * size}
		if rapid.Bool().Draw(t, "slot") {
			o.Length = o.Width * draw.Log(1, 10).Draw(t, "long")
		}
		density := draw.Log(20, 1500).Draw(t, "density")
		d, err := o.Discharge(grains(density, size))
		require.NoError(t, err)
		larger := screw.Outlet{Width: o.Width * scale, Length: o.Length * scale}
		much, err := larger.Discharge(grains(density, size*scale))
		require.NoError(t, err)
		near := 1e-13
		if d.Flow != 0 {
			near *= 1 + 2.5*o.Width/(o.Width-1.4*size) // of the difference
		}
		same(t, d.Flow*math.Pow(scale, 2.5), much.Flow, near, "all sizes")
		require.Equal(t, o.Width <= 1.4*size, d.Flow == 0)
		require.Equal(t, o.Width < 6*size*(1-1e-9), d.Beyond != nil)
		wider, err := screw.Outlet{Width: o.Width * 1.01, Length: o.Length * 1.01}.Discharge(grains(density, size))
		require.NoError(t, err)
		require.True(t, wider.Flow > d.Flow || wider.Flow == 0)
		small, err := o.SmallFlow(grains(density, size))
		if o.Length != 0 {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.NoError(t, err)
		require.Equal(t, o.Width <= size, small == 0)
		if o.Width > 3*size {
			require.Less(t, small, d.Flow)
		}
	})
}

// Both discharge laws are one at a wide outlet.
func TestDischargeOfAWideOutlet(t *testing.T) {
	o := screw.Outlet{Width: 1}
	d, err := o.Discharge(grains(500, 1e-3))
	require.NoError(t, err)
	small, err := o.SmallFlow(grains(500, 1e-3))
	require.NoError(t, err)
	same(t, d.Flow, small, 1.1e-3, "0.4 grains of a thousand to the power 5/2")
}

func TestPropertyClogging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := rapid.SampledFrom(material.Bulks()).Draw(t, "bulk")
		o := screw.Outlet{Width: math.Max(1e-4, draw.Uniform(0.3, 8).Draw(t, "ratio")*b.ParticleSize)}
		mass := draw.Log(1e-4, 1e3).Draw(t, "mass")
		c, err := o.Clogging(b, mass)
		require.NoError(t, err)
		wider, err := screw.Outlet{Width: o.Width * 1.05}.Clogging(b, mass)
		require.NoError(t, err)
		require.True(t, c.Probability >= 0 && c.Probability <= 1 && c.PerParticle > 0 && c.PerParticle < 1, "%v", c)
		require.Less(t, wider.PerParticle, c.PerParticle)
		require.True(t, wider.Probability < c.Probability || c.Probability > 1-1e-9, "%v, wider %v", c, wider)
		// What is not clogged by the one mass and not by the other is not by both.
		twice, err := o.Clogging(b, 2*mass)
		require.NoError(t, err)
		require.InDelta(t, (1-c.Probability)*(1-c.Probability), 1-twice.Probability, 1e-12)
		// One particle's mass clogs with one particle's chance.
		one, err := o.Clogging(b, math.Max(1e-6, b.Mass(math.Pow(b.ParticleSize, 3))))
		require.NoError(t, err)
		if b.Mass(math.Pow(b.ParticleSize, 3)) > 1e-6 {
			same(t, c.PerParticle, one.Probability, 1e-9, "one particle")
		}
	})
}

func TestPropertyJanssen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := leaning(draw.Log(20, 1500).Draw(t, "density"), draw.Uniform(0.05, 1).Draw(t, "mu"), draw.Uniform(0.1, 1).Draw(t, "ratio"))
		u := screw.Tube{Diameter: draw.Log(0.01, 0.5).Draw(t, "diameter")}
		at := func(u screw.Tube, z float64) screw.BulkStress {
			s, err := u.StressAt(b, z)
			require.NoError(t, err)
			return s
		}
		length := at(u, 0).Length
		z := length * draw.Log(1e-3, 10).Draw(t, "depth")
		s, below := at(u, z), at(u, 1.01*z)
		weight := b.BulkDensity * 9.80665
		require.Zero(t, at(u, 0).Down)
		require.Greater(t, below.Down, s.Down)
		require.Less(t, s.Down, math.Min(weight*z, s.Deep))
		same(t, weight, at(u, 1e-9*length).Down/(1e-9*length), 1e-8, "slope at the top")
		// A layer's weight is what the stress grows by and the wall bears.
		dz := 1e-4 * length
		mid := at(u, z)
		grow := (at(u, z+dz).Down - at(u, z-dz).Down) / (2 * dz)
		same(t, weight, grow+4*math.Tan(b.WallFriction)*mid.Wall/u.Diameter, 1e-7, "weight of a layer")
		// Two tubes on one another are one.
		same(t, at(u, 3*z).Down, at(screw.Tube{Diameter: u.Diameter, Surcharge: s.Down}, 2*z).Down, 1e-12, "in two parts")
		deep := screw.Tube{Diameter: u.Diameter, Surcharge: s.Deep}
		same(t, s.Deep, at(deep, z).Down, 1e-12, "at the asymptote it stays")
	})
}

// The critical strength is where the flow function and the hopper's line cross.
func TestPropertyJenike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := screw.FlowFunction{Strength: draw.Log(10, 1e4).Draw(t, "strength"), Exponent: draw.Uniform(0, 0.9).Draw(t, "exponent")}
		factor := draw.Uniform(1, 3).Draw(t, "factor")
		s, err := y.CriticalStrength(factor)
		require.NoError(t, err)
		same(t, s, y.Strength*math.Pow(s*factor/1000, y.Exponent), 1e-11, "on the flow function")

		effective := draw.Uniform(0.36, 1.3).Draw(t, "effective")
		wall := draw.Uniform(0.02, effective).Draw(t, "wall")
		theta, err := screw.MassFlowHalfAngle(effective, wall)
		require.NoError(t, err)
		smoother, err := screw.MassFlowHalfAngle(effective, wall*0.95)
		require.NoError(t, err)
		require.True(t, theta >= 0 && theta < math.Pi/2 && (smoother > theta || theta == 0), "%g, smoother wall %g", theta, smoother)
	})
}

func TestPropertyStirrer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := screw.Stirrer{Rods: rapid.IntRange(1, 20).Draw(t, "rods"), Diameter: draw.Log(1e-3, 0.02).Draw(t, "diameter"),
			Depth: draw.Log(0.01, 1).Draw(t, "depth"), Radius: draw.Log(0.01, 1).Draw(t, "radius")}
		torque := func(s screw.Stirrer) float64 { return must(t)(s.Torque(grains(400, 4e-3))) }
		double := s
		double.Depth *= 2
		same(t, 4*torque(s), torque(double), 1e-14, "depth")
		double = s
		double.Rods *= 2
		same(t, 2*torque(s), torque(double), 1e-14, "rods")
	})
}

func TestBulkWithoutFriction(t *testing.T) {
	_, err := screw.Tube{Diameter: 0.05}.StressAt(grains(350, 4e-3), 0.1)
	require.ErrorIs(t, err, material.ErrNoData)
	smooth := leaning(350, 0.3, 0.4)
	smooth.WallFriction = 0
	_, err = screw.Tube{Diameter: 0.05}.StressAt(smooth, 0.1)
	require.ErrorIs(t, err, material.ErrNoData)
}

func TestOutletTellsWhereTheLawsEnd(t *testing.T) {
	fluff := material.Bulk{Shape: "fluff", BulkDensity: 90, ParticleSize: 0.01}
	for _, v := range []struct {
		bulk            material.Bulk
		width           float64
		discharge, clog int
	}{
		{grains(500, 4e-3), 0.0239, 1, 1}, {grains(500, 4e-3), 0.0241, 0, 1}, {grains(500, 4e-3), 0.0197, 1, 0}, {grains(500, 4e-3), 0.0198, 1, 1},
		{grains(500, 0.39e-3), 0.01, 1, 1}, {grains(500, 0.41e-3), 0.01, 0, 1}, {fluff, 0.061, 1, 1}, {fluff, 0.062, 1, 2},
	} {
		d, err := screw.Outlet{Width: v.width}.Discharge(v.bulk)
		require.NoError(t, err)
		require.Len(t, d.Beyond, v.discharge, "%v", v)
		c, err := screw.Outlet{Width: v.width}.Clogging(v.bulk, 1)
		require.NoError(t, err)
		require.Len(t, c.Beyond, v.clog, "%v", v)
	}
}

func TestHopperRefuses(t *testing.T) {
	b, nan := grains(500, 4e-3), math.NaN()
	slot := screw.Outlet{Width: 0.05, Length: 0.1}
	refused := func(named string, err error) {
		t.Helper()
		require.ErrorIs(t, err, material.ErrInvalid)
		require.ErrorContains(t, err, named)
	}
	_, err := screw.Outlet{Width: nan}.Discharge(b)
	refused("screw.Outlet.Width", err)
	_, err = screw.Outlet{Width: 0.05, Length: 0.04}.Discharge(material.Bulk{})
	refused("screw.Outlet.Length", err)
	refused("material.Bulk.ParticleSize", err) // with all its faults
	_, err = slot.SmallFlow(b)
	refused("round holes", err)
	_, err = slot.Clogging(b, 0)
	refused("round holes", err)
	refused("Clogging: mass", err)
	_, err = screw.Hopper{HalfAngle: 1.3}.CriticalOutlet(b, -1)
	refused("screw.Hopper.HalfAngle", err)
	refused("CriticalOutlet: strength", err)
	_, err = screw.FlowFunction{Strength: 1000, Exponent: 1}.CriticalStrength(0.9)
	refused("screw.FlowFunction.Exponent", err)
	_, err = screw.FlowFunction{Strength: 1000}.CriticalStrength(0.9)
	refused("flowFactor", err)
	_, err = screw.MassFlowHalfAngle(0.3, 0.2)
	refused("effective", err)
	_, err = screw.MassFlowHalfAngle(0.5, 0.6)
	refused("wall", err)
	_, err = screw.Tube{}.StressAt(b, -1)
	refused("screw.Tube.Diameter", err)
	refused("StressAt: depth", err)
	_, err = screw.Stirrer{}.Torque(b)
	refused("screw.Stirrer.Rods", err)
	require.NoError(t, slot.Validate())
}

// No cone lets a bulk slide that grips the wall as it grips itself.
func TestNoConeSteepEnough(t *testing.T) {
	theta, err := screw.MassFlowHalfAngle(degrees(60), degrees(60))
	require.NoError(t, err)
	require.Zero(t, theta)
}

func TestPropertyHopperAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		b := material.Bulk{Shape: rapid.SampledFrom([]string{"pellets", "flake", "fluff"}).Draw(t, "shape"), BulkDensity: pick("density", 10, 400, 2000),
			ParticleSize: pick("size", 1e-5, 4e-3, 0.1), InternalFriction: 1.4, WallFriction: pick("wall", 0.02, 0.4, 1.4), StressRatio: pick("ratio", 0.0075, 0.4, 100)}
		o := screw.Outlet{Width: pick("width", 1e-4, 0.05, 10), Length: pick("length", 0, 0, 100)}
		h := screw.Hopper{HalfAngle: pick("half", 0, 0.5, 1.2), Slot: rapid.Bool().Draw(t, "wedge")}
		y := screw.FlowFunction{Strength: pick("strength", 1, 1e3, 1e5), Exponent: pick("exponent", 0, 0.5, 0.95)}
		u := screw.Tube{Diameter: pick("tube", 1e-3, 0.05, 10), Surcharge: pick("surcharge", 0, 1e7)}
		s := screw.Stirrer{Rods: rapid.IntRange(-1, 101).Draw(t, "rods"), Diameter: 0.1, Depth: 10, Radius: 10}
		mass, strength, factor := pick("mass", 1e-6, 1, 1e9), pick("strength", 0, 1e6), pick("factor", 1, 10)
		effective, wall, depth := pick("effective", 0.35, 0.7, 1.4), pick("wall", 0.01, 0.35), pick("depth", 0, 1, 1000)
		fields := []*float64{&b.BulkDensity, &b.ParticleSize, &b.InternalFriction, &b.WallFriction, &b.StressRatio, &o.Width, &o.Length, &h.HalfAngle,
			&y.Strength, &y.Exponent, &u.Diameter, &u.Surcharge, &s.Diameter, &s.Depth, &s.Radius, &mass, &strength, &factor, &effective, &wall, &depth}
		for range rapid.IntRange(0, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = draw.Bits().Draw(t, "bits")
		}
		told := func(v any, err error) {
			if err == nil {
				finite(t, reflect.ValueOf(v))
				return
			}
			require.True(t, reflect.ValueOf(v).IsZero())
		}
		discharge, err := o.Discharge(b)
		told(discharge, err)
		require.True(t, discharge.Flow >= 0)
		clogging, err := o.Clogging(b, mass)
		told(clogging, err)
		require.True(t, clogging.Probability >= 0 && clogging.Probability <= 1)
		stress, err := u.StressAt(b, depth)
		told(stress, err)
		require.True(t, stress.Down >= 0)
		number := func(x float64, err error) {
			told(x, err)
			require.True(t, x >= 0)
		}
		number(o.SmallFlow(b))
		number(h.CriticalOutlet(b, strength))
		number(y.CriticalStrength(factor))
		number(screw.MassFlowHalfAngle(effective, wall))
		number(s.Torque(b))
	})
}

func TestHopperAllocatesNothing(t *testing.T) {
	b, o, u := material.Pellets(), screw.Outlet{Width: 0.05}, screw.Tube{Diameter: 0.05}
	small := screw.Outlet{Width: 0.018}
	require.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = o.Discharge(b)
		_, _ = o.SmallFlow(b)
		_, _ = small.Clogging(b, 1)
		_, _ = u.StressAt(b, 0.3)
		_, _ = screw.Hopper{HalfAngle: 0.4}.CriticalOutlet(b, 100)
		_, _ = screw.MassFlowHalfAngle(0.6, 0.3)
	}))
}

// A round outlet over a feed auger: flake or pellets, is it wide enough?
func ExampleOutlet() {
	outlet := screw.Outlet{Width: 0.036}
	for _, bulk := range []material.Bulk{material.Pellets(), material.Regrind()} {
		run, err := outlet.Discharge(bulk)
		if err != nil {
			fmt.Println(err)
			return
		}
		clogging, err := screw.Outlet{Width: 0.018}.Clogging(bulk, 5)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.0f kg/h through 36 mm; through 18 mm a clog in 5 kg with %.2g\n", bulk.Name, run.Flow*3600, clogging.Probability)
	}
	// Output:
	// PP pellets: 564 kg/h through 36 mm; through 18 mm a clog in 5 kg with 0.1
	// PP regrind flake: 395 kg/h through 36 mm; through 18 mm a clog in 5 kg with 1
}
