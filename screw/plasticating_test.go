package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

// whole is a small screw under a full hopper, its throat cooled.
func whole() screw.Plasticating {
	const bore = 20e-3
	hot := material.Celsius(205)
	return screw.Plasticating{
		Profile: screw.Profile{Bore: bore, Lead: bore, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Zones: []screw.Zone{
			{Length: 3 * bore, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: material.Celsius(60)},
			{Length: 3 * bore, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: hot},
			{Length: 4 * bore, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: hot},
			{Length: 6 * bore, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: hot}}},
		Die:    screw.Die{screw.Capillary{Diameter: 1.5e-3, Length: 10e-3}},
		Solids: screw.Solids{Density: 400, BarrelFriction: 0.35, ScrewFriction: 0.25},
		Bed: screw.Bed{Density: 700, Temperature: material.Celsius(60), Melting: material.Celsius(165), SpecificHeat: 1900, FusionHeat: 90e3,
			Conductivity: 0.15},
		Melt: screw.Melt{Viscosity: material.PowerLaw{Consistency: 4350, Index: 0.41, Reference: 473, TemperatureSlope: 0.0117},
			Density: 740, SpecificHeat: 2700, Temperature: 488, Conductivity: 0.18},
		Throat: 1.4 / 3600, MoltenBy: 0.75,
	}
}

func run(t require.TestingT, p screw.Plasticating, speed float64) screw.Plasticated {
	s, err := p.Run(screw.Running{Speed: speed})
	require.NoError(t, err)
	return s
}

// Who is weakest, limits; and what goes in comes out.
func TestPropertyPlasticating(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := whole()
		p.Throat = draw.Log(0.2, 4).Draw(t, "throat") / 3600
		p.Bed.Temperature = draw.Uniform(290, 370).Draw(t, "bed")
		p.Die = screw.Die{screw.Capillary{Diameter: draw.Log(0.8e-3, 4e-3).Draw(t, "hole"), Length: 10e-3}}
		for i := 1; i < 4; i++ {
			p.Profile.Zones[i].Barrel = material.Celsius(draw.Uniform(185, 240).Draw(t, "barrel"))
		}
		speed := draw.Log(0.2, 2.5).Draw(t, "speed")
		s := run(t, p, speed)
		least := math.Min(s.Throat, math.Min(s.Friction, s.Pump))
		require.Equal(t, least, s.Output)
		require.Equal(t, math.Min(least, s.Melting), s.Sound)
		require.Equal(t, map[screw.Bottleneck]float64{screw.ByThroat: s.Throat, screw.ByFriction: s.Friction, screw.ByMelting: s.Melting, screw.ByPump: s.Pump}[s.Bottleneck], s.Sound)
		require.LessOrEqual(t, s.Metering, s.Pump*(1+1e-9), "less of the screw full pumps less")
		same(t, s.Output, s.Course.MassFlow, 1e-8, "mass in and out")
		require.InDelta(t, p.Die.PressureDrop(p.Melt, s.Course.Flow), s.Course.Pressure, 1e-6*s.Course.Pressure)
		require.LessOrEqual(t, s.Power, (s.Course.Power+s.Bed.Work)*(1+1e-12))
		require.GreaterOrEqual(t, s.Power, math.Max(s.Bed.Work, 0)*(1-1e-12))
		same(t, s.Power, s.Torque*2*math.Pi*speed, 1e-12, "torque")
		require.Greater(t, s.ClosedPressure, s.Course.Pressure)
		require.GreaterOrEqual(t, s.Filled, s.Bed.From)
		require.Equal(t, s.Bottleneck == screw.ByMelting, s.Bed.Left > 0 || s.Bed.From+s.Bed.Length > p.MoltenBy*p.Profile.Length()*(1+1e-9), "late melting is told")
		if s.Bed.Left > 0 {
			require.NotEmpty(t, s.Surge)
		}
		for _, u := range s.Limits(s.Sound) {
			require.GreaterOrEqual(t, u.Safety(), 1-1e-12)
		}
		// A feeder that brings less is obeyed: less of the screw is full, less work is done.
		p.Feeder = draw.Uniform(0.2, 0.95).Draw(t, "fed") * s.Output
		fed := run(t, p, speed)
		require.Equal(t, p.Feeder, fed.Output)
		require.Greater(t, fed.Filled, s.Filled)
		require.Less(t, fed.Power, s.Power)
		require.LessOrEqual(t, fed.Bed.Length, s.Bed.Length)
		require.Equal(t, []float64{s.Throat, s.Friction, s.Melting, s.Pump, s.Metering}, []float64{fed.Throat, fed.Friction, fed.Melting, fed.Pump, fed.Metering})
	})
}

// Where the pump is weakest, melt fills the channel from where its pool is as wide as
// the channel is deep.
func TestPlasticatingPoolFills(t *testing.T) {
	p := whole()
	p.Throat = 5. / 3600
	s := run(t, p, 0.5)
	require.Equal(t, screw.ByPump, s.Bottleneck)
	c := p.Profile.ChannelAt(s.Filled)
	assert.InEpsilon(t, c.Depth/c.Width(), 1-s.Bed.Solid(s.Filled), 1e-6)
	assert.InEpsilon(t, s.Pump, s.Course.MassFlow, 1e-8)
	tail := p.Profile
	tail.Zones = append([]screw.Zone(nil), tail.Zones[1:]...)
	tail.Zones[0].Length -= s.Filled - 0.06
	again, err := tail.OperatingPoint(p.Die, p.Melt, screw.Running{Speed: 0.5})
	require.NoError(t, err)
	assert.InEpsilon(t, again.MassFlow, s.Pump, 1e-8)
	hot := p.Profile // against a blocked die all melts from where the barrel does
	hot.Zones = hot.Zones[1:]
	closed, err := hot.March(p.Melt, screw.Running{Speed: 0.5}, 1e-13)
	require.NoError(t, err)
	assert.InEpsilon(t, closed.Pressure, s.ClosedPressure, 1e-4)
	assert.InEpsilon(t, closed.Thrust, s.ClosedThrust, 1e-4)
	assert.InDelta(t, s.Filled+again.Stations[0].Position, s.Course.Stations[0].Position, 1e-9)
}

// Each part, made weakest, is named.
func TestBottleneck(t *testing.T) {
	for _, v := range []struct {
		make  func(*screw.Plasticating)
		speed float64
		by    screw.Bottleneck
		says  string
	}{
		{func(p *screw.Plasticating) { p.Feeder = 0.5 / 3600 }, 1.2, screw.ByFeeder, ""},
		{func(p *screw.Plasticating) {}, 1.2, screw.ByThroat, "the throat limits the output"},
		{func(p *screw.Plasticating) { p.Solids.ScrewFriction = 0.345; p.Throat = 3. / 3600 }, 0.5, screw.ByFriction, "the friction of the solids limits"},
		{func(p *screw.Plasticating) { p.Throat = 6. / 3600 }, 2.5, screw.ByMelting, "still solid"},
		{func(p *screw.Plasticating) { p.Throat = 6. / 3600 }, 0.5, screw.ByPump, ""},
	} {
		p := whole()
		v.make(&p)
		s := run(t, p, v.speed)
		assert.Equal(t, v.by, s.Bottleneck, "%+v", s)
		assert.NotContains(t, s.Bottleneck.String(), "(")
		if v.says != "" {
			assert.Contains(t, fmt.Sprint(s.Surge), v.says)
		}
	}
	assert.Equal(t, "Bottleneck(9)", screw.Bottleneck(9).String())
}

// Signs on which measurements of plasticating screws agree.
func TestCheckPlasticatingSigns(t *testing.T) {
	p := whole()
	p.Throat = 5. / 3600
	base := run(t, p, 0.5)
	// Abeykoon, Kelly, Brown and Coates, Applied Energy 180 (2016) 880: all energy on a
	// kilogram falls with speed, as what heaters lose spreads over more of it.
	const heaters = 150 // W
	fast := run(t, p, 1)
	assert.Less(t, fast.SpecificEnergy()+heaters/fast.Output, base.SpecificEnergy()+heaters/base.Output)
	// Vera-Sorroche et al., Chem. Eng. Res. Des. 92 (2014) 2404: the stiffest of three
	// grades took most energy.
	stiff := p
	law := p.Melt.Viscosity.(material.PowerLaw)
	law.Consistency *= 2
	stiff.Melt.Viscosity = law
	assert.Greater(t, run(t, stiff, 0.5).SpecificEnergy(), base.SpecificEnergy())
	// A Lublin group, on screws of 20, 25 and 30 bores: length changes output, pressure and
	// energy; which way is physics.
	long := p
	long.Profile.Zones = append([]screw.Zone(nil), p.Profile.Zones...)
	long.Profile.Zones[3].Length *= 1.5
	s := run(t, long, 0.5)
	for name, pair := range map[string][2]float64{"output": {s.Output, base.Output}, "pressure": {s.Course.Pressure, base.Course.Pressure}, "energy": {s.SpecificEnergy(), base.SpecificEnergy()}} {
		assert.Greater(t, pair[0], pair[1]*1.001, name)
	}
	// A Ghent group, Materials 14(19) (2021) 5566, on a pellet micro-extruder: shear melts much
	// of ABS, conduction most of PLA, of whose melt no law is held here; PP stands for it.
	ratio := func(polymer material.Polymer, celsius float64) float64 {
		bed, err := screw.BedOf(polymer, 0.6*polymer.SolidDensity, material.Celsius(50))
		require.NoError(t, err)
		melt, err := screw.MeltOf(polymer, material.Celsius(celsius))
		require.NoError(t, err)
		q := p.Profile
		q.Zones = append([]screw.Zone(nil), q.Zones...)
		for i := range q.Zones[1:] {
			q.Zones[i+1].Barrel = melt.Temperature
		}
		m, err := q.MeltBed(bed, melt, 1, 1./3600)
		require.NoError(t, err)
		return m.Dissipation
	}
	assert.Greater(t, ratio(material.ABS(), 220), 3*ratio(material.PP(), 220))
}

// A 63.5 mm screw of 26.5 turns on LDPE at 82 rpm, measured at 61.7 kg/h by low pressure.
func TestCheckLargeScrew(t *testing.T) {
	const bore = 63.5e-3
	hot := material.Celsius(149)
	p := screw.Plasticating{
		Profile: screw.Profile{Bore: bore, Lead: bore, Land: 6.35e-3, Clearance: bore / 1000, Starts: 1, Zones: []screw.Zone{
			{Length: 3 * bore, DepthIn: 9.398e-3, DepthOut: 9.398e-3, Barrel: 300},
			{Length: 9.5 * bore, DepthIn: 9.398e-3, DepthOut: 9.398e-3, Barrel: hot},
			{Length: 9.5 * bore, DepthIn: 9.398e-3, DepthOut: 3.226e-3, Barrel: hot},
			{Length: 4.5 * bore, DepthIn: 3.226e-3, DepthOut: 3.226e-3, Barrel: hot}}},
		Die:    screw.Die{screw.Capillary{Diameter: 12e-3, Length: 20e-3}},
		Solids: screw.Solids{Density: 550, BarrelFriction: 0.4, ScrewFriction: 0.2},
		Bed: screw.Bed{Density: 915, Temperature: material.Celsius(25), Melting: material.Celsius(110), SpecificHeat: 2770,
			FusionHeat: 129.8e3},
		Melt:   screw.Melt{Viscosity: material.Newtonian{Eta: 1000}, Density: 760, SpecificHeat: 2600, Temperature: material.Celsius(160), Conductivity: 0.182},
		Throat: 100. / 3600, MoltenBy: 1,
	}
	newtonian := run(t, p, 82./60)
	p.Melt.Viscosity = material.PowerLaw{Consistency: 5.6e4, Index: 0.345, Reference: material.Celsius(110), TemperatureSlope: 0.01}
	thinning := run(t, p, 82./60)
	const source = "Z. Tadmor and I. Klein (1970), LDPE on a 63.5 mm screw, 136 lb/h at 82 rpm; from memory"
	const measured = 61.7 / 3600
	verify.Table(t, []verify.Row{
		{Name: "its metering zone by itself, Newtonian [kg/s]", Source: source, Kind: verify.Memory, Want: measured, Got: newtonian.Metering,
			Tol: 0.05, Why: "clearance and head pressure are not told, density and pressure of the melt are good to some percent"},
	})
	// A thinning melt's metering zone alone gives too little, one pushed by all that
	// melt could fill before it too much: the measured lies between.
	assert.Less(t, thinning.Metering, measured)
	assert.Greater(t, thinning.Pump, measured)
	assert.InEpsilon(t, measured, thinning.Metering, 0.15)
	assert.InEpsilon(t, measured, thinning.Pump, 0.25)
	t.Logf("thinning: metering %.1f, pump %.1f kg/h, from %.1f turns; molten after %.1f turns of 26.5", thinning.Metering*3600, thinning.Pump*3600, thinning.Filled/bore, (thinning.Bed.From+thinning.Bed.Length)/bore)
	feed := p
	feed.Feeder = measured
	fed := run(t, feed, 82./60)
	t.Logf("fed the measured flow: molten after %.1f turns, full from %.1f turns", (fed.Bed.From+fed.Bed.Length)/bore, fed.Filled/bore)
}

// A 20 mm screw of eight bores, two starts, compressing 3.75 times, delivered 0.58 kg/h of
// HIPS at 40 rpm, in proportion to speed from 10 to 40 rpm. Its depths are not told: 0.15
// bores in the feed are the least that the trade takes (common practice, no source); at 0.2
// bores it would deliver half as much again.
func TestCheckSmallScrew(t *testing.T) {
	const bore, deep = 20e-3, 3e-3
	melt, err := screw.MeltOf(material.HIPS(), material.Celsius(230))
	require.NoError(t, err)
	bed, err := screw.BedOf(material.HIPS(), 650, material.Celsius(60))
	require.NoError(t, err)
	barrel := material.Celsius(230)
	p := screw.Plasticating{
		Profile: screw.Profile{Bore: bore, Lead: bore, Land: 2e-3, Clearance: bore / 1000, Starts: 2, Zones: []screw.Zone{
			{Length: 2 * bore, DepthIn: deep, DepthOut: deep, Barrel: barrel},
			{Length: 3 * bore, DepthIn: deep, DepthOut: deep / 3.75, Barrel: barrel},
			{Length: 3 * bore, DepthIn: deep / 3.75, DepthOut: deep / 3.75, Barrel: barrel}}},
		Die:    screw.Die{screw.Capillary{Diameter: 3e-3, Length: 10e-3}},
		Solids: screw.Solids{Density: 600, BarrelFriction: 0.45, ScrewFriction: 0.3},
		Bed:    bed, Melt: melt, Throat: 10. / 3600, MoltenBy: 1,
	}
	var speeds, outputs []float64
	for _, rpm := range []float64{10, 20, 30, 40} {
		speeds, outputs = append(speeds, rpm), append(outputs, run(t, p, rpm/60).Metering*3600)
	}
	verify.Table(t, []verify.Row{
		{Name: "output at 40 rpm [kg/h]", Source: "a Kazmer group, Polymers 17(2) (2025) 215, text of the paper", Kind: verify.Print, Want: 0.58, Got: outputs[3],
			Tol: 0.25, Why: "the screw's depths, land and nozzle are not told"},
	})
	a, b := stat.LinearRegression(speeds, outputs, nil, true)
	assert.Greater(t, stat.RSquared(speeds, outputs, nil, a, b), 0.98, "in proportion to speed")
}

func TestPlasticatingFaults(t *testing.T) {
	_, err := screw.Plasticating{Feeder: -1}.Run(screw.Running{})
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Profile.Zones = 0", "screw.Bed.Density", "screw.Solids.Density", "screw.Plasticating.Throat = 0", "Feeder = -1", "MoltenBy = 0", "Running.Speed = 0"} {
		assert.ErrorContains(t, err, part)
	}
	require.NoError(t, whole().Validate())
	p := whole()
	p.Solids.ScrewFriction = 0.5
	_, err = p.Run(screw.Running{Speed: 1})
	assert.ErrorIs(t, err, screw.ErrNoFlow, "solids turn with the screw")
	p.Solids.ScrewFriction = 0.37432597847197951
	_, err = p.Run(screw.Running{Speed: 0.5})
	assert.ErrorIs(t, err, screw.ErrNoFlow, "and nearly so")
	p = whole()
	p.Profile.Zones[2].Length, p.Profile.Zones[2].DepthOut = 5e-3, 1.6e-3
	p.Throat = 6. / 3600
	s := run(t, p, 2)
	assert.Equal(t, screw.ByMelting, s.Bottleneck)
	assert.Contains(t, fmt.Sprint(s.Surge), "solids plug the taper")
	assert.Equal(t, 1.0, s.Bed.Left)
}

// Where the bed plugs at more flow than passes, screw and die meet just below: what goes in
// still comes out, and the bed does not plug.
func TestPlasticatingJustPlugs(t *testing.T) {
	p := whole()
	p.Profile.Zones[2].Length = 15e-3
	p.Throat, p.Solids.ScrewFriction = 16./3600, 0.1
	p.Die = screw.Die{screw.Capillary{Diameter: 4e-3, Length: 5e-3}}
	s := run(t, p, 1.2)
	require.Equal(t, s.Output, s.Pump)
	assert.Greater(t, s.Pump, 1.01*s.Metering)
	same(t, s.Output, s.Course.MassFlow, 1e-9, "mass in and out")
	assert.Less(t, s.Bed.Left, 1.)
	_, err := p.Profile.MeltBed(p.Bed, p.Melt, 1.2, s.Output*(1+1e-7))
	require.ErrorIs(t, err, screw.ErrPlugs)
	// One that plugs whatever the flow still takes the work that pumping melt takes.
	p.Profile.Zones[2].Length = 5e-3
	s = run(t, p, 1.2)
	assert.Equal(t, 1., s.Bed.Left)
	assert.Equal(t, s.Course.Power, s.Power)
}

// A screw of one depth has no shallowest part that fills before anything melts.
func TestPlasticatingOneDepth(t *testing.T) {
	p := whole()
	hot := p.Profile.Zones[1].Barrel
	p.Profile.Zones = []screw.Zone{{Length: 0.1, DepthIn: 2e-3, DepthOut: 2e-3, Barrel: 330}, {Length: 0.3, DepthIn: 2e-3, DepthOut: 2e-3, Barrel: hot}}
	p.Throat, p.Solids.ScrewFriction = 5./3600, 0.1
	s := run(t, p, 0.5)
	require.Equal(t, screw.ByPump, s.Bottleneck)
	assert.Greater(t, s.Filled, s.Bed.From)
	assert.InEpsilon(t, 2e-3/p.Profile.ChannelAt(0).Width(), 1-s.Bed.Solid(s.Filled), 1e-6)
	assert.Equal(t, s.Pump, s.Metering)
	assert.Empty(t, s.Surge)
}

// What comes before a full screw pushes as much as its flow asks for, and a starved one by
// nothing, so that any flow up to the pump's is found, whatever pressure is at hand.
func TestPlasticatingStart(t *testing.T) {
	p := whole()
	p.Throat, p.Solids.ScrewFriction = 20./3600, 0.01
	for i, start := range []float64{1e5, 5e6, 1.5e7} {
		r := screw.Running{Speed: 1.2, StartPressure: start, Heating: screw.Heating(i)}
		p.Feeder = 0
		s, err := p.Run(r)
		require.NoError(t, err)
		for _, less := range []float64{0, 1e-13, 1e-10, 1e-7, 0.012, 0.3, 0.8} {
			p.Feeder = s.Pump * (1 - less)
			fed, err := p.Run(r)
			require.NoError(t, err)
			same(t, fed.Output, fed.Course.MassFlow, 1e-9, "mass in and out")
			pushed := fed.Course.Pressure - fed.Course.Pumping/fed.Course.Flow
			require.True(t, pushed > -1e-9*fed.Course.Pressure && pushed < start+1e-5*fed.Course.Pressure, "%g Pa", pushed)
			require.True(t, less < 0.5 || pushed < 1, "starved, yet pushed by %g Pa", pushed)
		}
	}
}

// The shaft's power from its parts: the film's work, and along the melt what it takes, but for
// the share of the channel that the bed fills.
func TestPlasticatingPower(t *testing.T) {
	for _, speed := range []float64{0.3, 0.5, 1, 1.5} {
		p := whole()
		p.Throat = 8. / 3600
		s := run(t, p, speed)
		require.Equal(t, s.Pump, s.Output)
		sheared := func(x float64) float64 {
			c := p.Profile.ChannelAt(x)
			c.Length = 1
			at, err := c.Profile().March(p.Melt, screw.Running{Speed: speed}, s.Course.Flow)
			require.NoError(t, err)
			return at.ChannelDissipation * s.Bed.Solid(x)
		}
		spared, last := 0.0, s.Filled
		for _, end := range []float64{0.12, 0.2, s.Bed.From + s.Bed.Length} {
			end = math.Max(last, math.Min(end, s.Bed.From+s.Bed.Length))
			spared += quad.Fixed(sheared, last, end, 12, quad.Legendre{}, 0)
			last = end
		}
		require.Greater(t, spared, 0.02*s.Power)
		assert.InEpsilon(t, s.Bed.Work+s.Course.Power-spared, s.Power, 1e-3, "by steps that do not end where the bed does")
	}
}
