package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// same holds two values together relatively, whatever their size.
func same(t require.TestingT, want, got, tol float64, what string) {
	require.LessOrEqual(t, math.Abs(want-got), tol*math.Max(math.Abs(want), math.Abs(got)), "%s: %g, %g", what, want, got)
}

func TestPropertyShapeFactors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := draw.Log(1e-3, 1e3).Draw(t, "aspect")
		fd, fp := screw.DragShape(r), screw.PressureShape(r)
		require.InDelta(t, 1, fd+screw.DragShape(1/r), 4e-16, "four walls drag plug flow")
		same(t, r*r*fp, screw.PressureShape(1/r), 1e-14, "a duct on its side")
		require.True(t, fd > 0 && fd < 1 && fp > 0 && fp < 1)
		require.Less(t, screw.DragShape(1.1*r), fd)
		require.Less(t, screw.PressureShape(1.1*r), fp)
		// Tangents at shallow channels: 14ζ(3)/π³ and 186ζ(5)/π⁵.
		require.InDelta(t, 1-0.5427545144*1e-3, screw.DragShape(1e-3), 1e-12)
		require.InDelta(t, 1-0.6302488763*1e-3, screw.PressureShape(1e-3), 1e-12)
	})
}

func TestPropertyEnergyAndMassBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.Melts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		s, err := c.Convey(m, n, draw.Log(1e3, 1e8).Draw(t, "pressure"))
		require.NoError(t, err)
		same(t, s.Power, s.Pumping+s.ChannelDissipation+s.LandDissipation, 1e-12, "power in = power out")
		same(t, s.Power, 2*math.Pi*n*s.Torque, 1e-12, "torque")
		require.LessOrEqual(t, math.Abs(s.Flow-s.Drag-s.PressureFlow-s.Leakage), 1e-12*(s.Drag-s.PressureFlow), "flows add up")
		require.Positive(t, s.ChannelDissipation)
		require.Positive(t, s.LandDissipation)
		if s.Flow > 0 {
			same(t, c.Volume(), s.ResidenceTime*s.Flow, 1e-12, "residence time")
			same(t, s.ChannelDissipation+s.LandDissipation, s.TemperatureRise*s.MassFlow*m.SpecificHeat, 1e-12, "adiabatic rise")
		}
	})
}

func TestPropertyNewtonianLinearity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.NewtonianMelts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		at := func(speed, pressure float64) screw.Conveyance {
			s, err := c.Convey(m, speed, pressure)
			require.NoError(t, err)
			return s
		}
		same(t, 3*at(n, 0).Flow, at(3*n, 0).Flow, 1e-12, "open flow linear in speed")
		same(t, 9*at(n, 0).Power, at(3*n, 0).Power, 1e-12, "open power quadratic in speed")
		open, p := at(n, 0), at(n, 0).ClosedPressure
		require.LessOrEqual(t, math.Abs(at(n, p).Flow), 1e-9*open.Drag, "closed pressure stops the flow")
		same(t, open.Flow+at(n, p).Flow, 2*at(n, p/2).Flow, 1e-9, "flow linear in pressure")
		require.Less(t, at(n, 1e6).Flow, open.Flow, "pressure takes flow")

		q := open.OpenFlow * draw.Uniform(0.05, 0.95).Draw(t, "share")
		back, err := c.PressureAgainst(m, n, q)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(at(n, back).Flow-q), 1e-10*open.Drag, "inverse of the inverse")
	})
}

// Stretching all lengths k times at one speed and stress: flows grow as k³, powers
// as k³, shear rates stay.
func TestPropertyGeometricSimilarity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.Melts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		pressure, k := draw.Log(1e5, 2e7).Draw(t, "pressure"), draw.Uniform(1.5, 4).Draw(t, "scale")
		big := c
		for _, d := range []*float64{&big.Bore, &big.Lead, &big.Depth, &big.Land, &big.Clearance, &big.Length} {
			*d *= k
		}
		a, err := c.Convey(m, n, pressure)
		require.NoError(t, err)
		b, err := big.Convey(m, n, pressure)
		require.NoError(t, err)
		same(t, a.ChannelShearRate, b.ChannelShearRate, 1e-12, "shear rate")
		require.LessOrEqual(t, math.Abs(k*k*k*a.Flow-b.Flow), 1e-9*(b.Drag-b.PressureFlow), "flow")
		require.LessOrEqual(t, math.Abs(k*k*k*a.Power-b.Power), 1e-9*(b.ChannelDissipation+b.LandDissipation+math.Abs(b.Pumping)), "power")
		same(t, k*k*a.Thrust, b.Thrust, 1e-12, "thrust")
		same(t, a.ClosedPressure, b.ClosedPressure, 1e-9, "closed pressure")
	})
}

func TestPropertyLeakage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.NewtonianMelts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		pressure := draw.Log(1e4, 2e7).Draw(t, "pressure")
		at := func(clearance float64) screw.Conveyance {
			c := c
			c.Clearance = clearance
			s, err := c.Convey(m, n, pressure)
			require.NoError(t, err)
			return s
		}
		tight, worn := at(c.Clearance), at(1.2*c.Clearance)
		require.Less(t, worn.Flow, tight.Flow, "wear costs output")
		none := at(1e-7)
		require.LessOrEqual(t, math.Abs(none.Leakage), 3e-7/c.Depth*(none.Drag-none.PressureFlow), "no clearance, no leakage")
	})
}

func TestPropertyOperatingPointLiesOnBothCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, d := screwtest.Channels().Draw(t, "channel"), screwtest.Dies().Draw(t, "die")
		m, n := screwtest.Melts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		p, err := screw.OperatingPoint(c, d, m, n)
		if err != nil {
			require.ErrorIs(t, err, screw.ErrNoFlow)
			open, err := c.Convey(m, n, 0)
			require.NoError(t, err)
			require.LessOrEqual(t, open.Flow, 0.0, "only a screw that leaks all it drags has none")
			return
		}
		require.Positive(t, p.Flow)
		same(t, p.Pressure, p.DieTemperatureRise*m.Density*m.SpecificHeat, 1e-12, "what the die takes, warms")
		same(t, p.Power, p.SpecificEnergy()*p.MassFlow, 1e-12, "specific energy")
		s, err := c.Convey(m, n, p.Pressure)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(s.Flow-p.Flow), 1e-12*p.OpenFlow, "on the screw's curve")
		// Flow is found to 1e-12; near closed discharge it is a small difference.
		same(t, p.Pressure, d.PressureDrop(m, p.Flow), 4e-12+1e-14*p.OpenFlow/p.Flow, "on the die's curve")

		longer := append(screw.Die{}, d...)
		longer = append(longer, d...)
		q, err := screw.OperatingPoint(c, longer, m, n)
		require.NoError(t, err)
		require.Less(t, q.Flow, p.Flow, "a longer die costs output")
		require.Greater(t, q.Pressure, p.Pressure*(1-1e-12), "and asks more pressure")
	})
}

func TestPropertyDies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := screwtest.Melts().Draw(t, "melt")
		q := draw.Log(1e-9, 1e-5).Draw(t, "flow")
		d := draw.Log(1e-3, 1e-2).Draw(t, "diameter")
		hole := screw.Capillary{Diameter: d, Length: 0.01}
		drop := hole.PressureDrop(m, q)
		same(t, 2*drop, screw.Capillary{Diameter: d, Length: 0.02}.PressureDrop(m, q), 1e-12, "in proportion to length")
		require.Greater(t, hole.PressureDrop(m, 2*q), drop, "rises with flow")
		require.LessOrEqual(t, hole.PressureDrop(m, 2*q), 2*drop*(1+1e-12), "at most in proportion, as the melt thins")
		require.Less(t, screw.Capillary{Diameter: 1.1 * d, Length: 0.01}.PressureDrop(m, q), drop)
		rate, stress := hole.WallShear(m, q)
		same(t, drop, 4*0.01/d*stress, 1e-12, "force balance")
		require.GreaterOrEqual(t, rate, 32*q/(math.Pi*d*d*d)*(1-1e-12), "true rate above apparent")

		// A cone lies between its end diameters and tends to a capillary.
		cone := screw.Cone{Inlet: 1.5 * d, Outlet: d, Length: 0.01}
		require.Less(t, cone.PressureDrop(m, q), drop)
		require.Greater(t, cone.PressureDrop(m, q), screw.Capillary{Diameter: 1.5 * d, Length: 0.01}.PressureDrop(m, q))
		same(t, drop, screw.Cone{Inlet: d * (1 + 1e-6), Outlet: d, Length: 0.01}.PressureDrop(m, q), 5e-6, "a cone without taper")
		// Cutting a cone in two changes nothing.
		mid := screw.Cone{Inlet: 1.5 * d, Outlet: 1.2 * d, Length: 0.006}.PressureDrop(m, q) +
			screw.Cone{Inlet: 1.2 * d, Outlet: d, Length: 0.004}.PressureDrop(m, q)
		same(t, mid, cone.PressureDrop(m, q), 1e-11, "two cones in a row")
	})
}

// hidden keeps the type of a law from the code, so that the integration stands
// in for the closed form.
type hidden struct{ material.Viscosity }

func TestPropertyConeIntegrationEqualsClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := screwtest.Melts().Draw(t, "melt")
		cone := screw.Cone{Inlet: 8e-3, Outlet: draw.Uniform(1e-3, 7.9e-3).Draw(t, "outlet"), Length: 0.02}
		closed := cone.PressureDrop(m, 1e-7)
		m.Viscosity = hidden{m.Viscosity}
		same(t, closed, cone.PressureDrop(m, 1e-7), 1e-12, "cone")
	})
}

func TestConeOf(t *testing.T) {
	cone, err := screw.ConeOf(8e-3, 1.5e-3, math.Pi/3)
	require.NoError(t, err)
	same(t, 6.5e-3/2*math.Sqrt(3), cone.Length, 1e-14, "60° cone")
	_, err = screw.ConeOf(1e-3, 2e-3, 1)
	assert.ErrorContains(t, err, "screw.Cone.Outlet = 0.002 m: allowed below the inlet, 0.001 m")
	_, err = screw.ConeOf(2e-3, 1e-3, 0)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestBadInputIsNamed(t *testing.T) {
	c := screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 0.012, Land: 0.002, Clearance: math.NaN(), Starts: 0, Length: -1}
	_, err := screw.OperatingPoint(c, screw.Die{}, screw.Melt{}, 0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{
		"screw.Channel.Depth = 0.012 m: allowed 1e-05 m to below half the bore, 0.01 m",
		"screw.Channel.Clearance = NaN m: allowed 1e-07 m to below the depth",
		"screw.Channel.Starts = 0: allowed 1 to 8",
		"screw.Channel.Length = -1 m: allowed 0.0001 to 100 m",
		"screw.Melt.Density = 0 kg/m³",
		`screw.Melt.Viscosity = "nil": allowed a law`,
		"screw: speed = 0 rev/s: allowed 0.0001 to 100 rev/s",
		"screw.Die: passages = 0: allowed 1 to 64",
	} {
		assert.ErrorContains(t, err, part)
	}
	c = screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 0.002, Land: 0.0195, Clearance: 1e-4, Starts: 1, Length: 0.1}
	assert.ErrorContains(t, c.Validate(), "screw.Channel.Land = 0.0195 m: allowed narrow enough to leave channel between the lands, below 0.0190")
	assert.ErrorContains(t, screw.Die{nil}.Validate(), `screw.Die[0] = "nil"`)
	assert.ErrorContains(t, screw.Die{screw.Capillary{Diameter: 1e-3, Length: 1e-2}, screw.Cone{Inlet: 1, Outlet: 2, Length: 1}}.Validate(),
		"screw.Die[1]: screw.Cone.Outlet = 2 m")
}

func TestNoFlowSaysByHowMuch(t *testing.T) {
	c := screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 0.004, Land: 0.002, Clearance: 0.0039, Starts: 1, Length: 0.1}
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	_, err := screw.OperatingPoint(c, screw.Die{screw.Capillary{Diameter: 2e-3, Length: 5e-3}}, m, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "more than is dragged forward")

	c.Clearance = 1e-4
	_, err = c.PressureAgainst(m, 1, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "asked 1 m³/s, at 1 rev/s the screw delivers at most")
}

func TestBeyondTellsWhereTheModelEnds(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	c := screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 0.0025, Land: 0.002, Clearance: 1e-4, Starts: 1, Length: 0.1}
	s, err := c.Convey(m, 0.75, 2e7)
	require.NoError(t, err)
	assert.Contains(t, s.Beyond, "melt at 215 °C, viscosity law fitted from 190 to 200 °C")
	assert.Contains(t, s.Beyond, "in the channel: shear rate 18 1/s, viscosity law fitted from 100 to 3.5e+03 1/s")
	assert.Len(t, s.Beyond, 2)
	m.Viscosity = material.Newtonian{Eta: 500}
	c.Depth = 0.002
	s, err = c.Convey(m, 0.75, 2e7)
	require.NoError(t, err)
	assert.Nil(t, s.Beyond)
}
