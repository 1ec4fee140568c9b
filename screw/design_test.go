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
	"meltflight/screw/screwtest"
)

var designScrew = screw.Profile{Bore: 0.02, Lead: 0.02, Land: 2e-3, Clearance: 8e-5, Starts: 1, Zones: []screw.Zone{
	{Length: 0.08, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: material.Celsius(215)},
	{Length: 0.12, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: material.Celsius(215)},
}}

func nozzle(diameter float64) screw.Die {
	return screw.Die{screw.Capillary{Diameter: diameter, Length: 1e-2}}
}

// Every answer put back gives what was asked for.
func TestPropertyDesignIsTheInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := screwtest.Melts().Draw(t, "melt")
		if _, ok := m.Viscosity.(material.Blend); ok {
			t.Skip("takes long")
		}
		r := screw.Running{Speed: draw.Log(0.2, 3).Draw(t, "speed"), Heating: screw.Heating(rapid.IntRange(0, 1).Draw(t, "heating"))}
		d := nozzle(draw.Log(1e-3, 4e-3).Draw(t, "diameter"))
		c, err := designScrew.OperatingPoint(d, m, r)
		if err != nil || c.Pressure > 1e9 || c.Pressure < 1e-3*c.ChannelDissipation/c.Flow {
			t.Skip("burst, no flow or next to no pressure")
		}
		if c.Hottest-m.Temperature > 60 {
			t.Skip("a hotter, faster run may do as well")
		}
		switch rapid.IntRange(0, 2).Draw(t, "asked for") {
		case 0:
			speed, again, err := designScrew.SpeedFor(d, m, r, c.Flow)
			require.NoError(t, err)
			same(t, r.Speed, speed, 1e-6, "speed")
			same(t, c.Pressure, again.Pressure, 1e-4, "pressure")
			same(t, c.Flow, again.Flow, 1e-12, "flow")
		case 1:
			diameter, at, err := designScrew.NozzleFor(nozzle, m, r, c.Flow)
			require.NoError(t, err)
			hole := d[0].(screw.Capillary)
			same(t, hole.Diameter, diameter, 1e-6, "diameter")
			same(t, c.DieShearStress, at.DieShearStress, 1e-4, "stress")
		case 2:
			depth, at, err := designScrew.DepthFor(m, r, c.Flow, c.Pressure)
			require.NoError(t, err)
			require.LessOrEqual(t, depth, 1.6e-3*(1+1e-5), "the shallowest")
			same(t, c.Pressure, at.Pressure, 1e-4, "pressure")
		}
	})
}

// A third of the drag flows back at the best depth: maximise H/2·(1 + k·H³)⁻¹ over H.
func TestCheckBestDepth(t *testing.T) {
	// So shallow, so wide and so tight that the plain formula holds to a percent.
	p := screw.Profile{Bore: 0.2, Lead: 0.2, Land: 1e-3, Clearance: 1e-7, Starts: 1, Zones: []screw.Zone{{Length: 2, DepthIn: 1e-3, DepthOut: 1e-3}}}
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 1000}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	c := p.ChannelAt(0)
	w, z := c.Width(), c.HelicalLength()
	const want = 1e-3
	// k·H³ = 1/2 with k = W·η·R/(12·η·Z), R the die's resistance over viscosity.
	resistance := 0.5 * 12 * z / (w * want * want * want)
	d := screw.Die{screw.Capillary{Diameter: 5e-3, Length: resistance * math.Pi * math.Pow(5e-3, 4) / 128}}
	r := screw.Running{Speed: 0.5}
	depth, at, err := p.BestDepth(d, m, r)
	require.NoError(t, err)
	s, err := p.Metered(depth).ChannelAt(0).Convey(m, 0.5, at.Pressure)
	require.NoError(t, err)
	const source = "Newtonian drag and pressure flow of a shallow channel and a round hole, maximised by hand: k·H³ = 1/2, a third flows back"
	verify.Table(t, []verify.Row{
		{Name: "depth of greatest output [m]", Source: source, Kind: verify.Own, Want: want, Got: depth, Tol: 0.01, Why: "walls and curvature of depth/bore 0.005"},
		{Name: "share that flows back [-]", Source: source, Kind: verify.Own, Want: 1. / 3, Got: -s.PressureFlow / s.Drag, Tol: 0.01, Why: "walls and curvature of depth/bore 0.005"},
	})
	for _, other := range []float64{0.8, 1.2} {
		less, err := p.Metered(other*depth).OperatingPoint(d, m, r)
		require.NoError(t, err)
		require.Less(t, less.Flow, at.Flow)
	}
}

func TestFastestRunStopsAtItsLimit(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	d := nozzle(2e-3)
	for _, v := range []struct {
		l       screw.Limits
		part    string
		heating screw.Heating
	}{
		{screw.Limits{Temperature: m.Temperature + 10}, "melt temperature", screw.Adiabatic},
		{screw.Limits{Torque: 3}, "screw torque", screw.HeldBarrel},
		{screw.Limits{DieStress: screw.FractureStress}, "bead surface", screw.Isothermal},
		{screw.Limits{Temperature: m.Temperature + 300, Torque: 2, DieStress: 1e9}, "screw torque", screw.Adiabatic},
	} {
		r := screw.Running{Heating: v.heating}
		speed, c, stop, err := designScrew.FastestRun(d, m, r, v.l)
		require.NoError(t, err, v.part)
		assert.Equal(t, v.part, stop.Part)
		assert.InDelta(t, 1, stop.Safety(), 1e-6)
		r.Speed = 1.01 * speed
		faster, err := designScrew.OperatingPoint(d, m, r)
		require.NoError(t, err)
		passed := faster.Hottest > v.l.Temperature && v.l.Temperature > 0 || faster.Torque > v.l.Torque && v.l.Torque > 0 ||
			faster.DieShearStress > v.l.DieStress && v.l.DieStress > 0
		assert.True(t, passed, "%s: at a percent more it is passed", v.part)
		assert.Greater(t, faster.Flow, c.Flow)
	}
	_, _, stop, err := designScrew.FastestRun(d, m, screw.Running{}, screw.Limits{Torque: 1e-6})
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "screw torque passes its limit at 0.0001 rev/s already")
	assert.Less(t, stop.Safety(), 1.0)
	_, c, stop, err := designScrew.FastestRun(d, screw.Melt{Viscosity: material.Newtonian{Eta: 1}, Density: 750, SpecificHeat: 2500, Temperature: 470},
		screw.Running{}, screw.Limits{Torque: 1e9})
	require.NoError(t, err)
	assert.Greater(t, stop.Safety(), 1.0)
	assert.Positive(t, c.Flow)
	_, _, _, err = designScrew.FastestRun(d, m, screw.Running{}, screw.Limits{})
	assert.ErrorContains(t, err, `screw.Limits = "none": allowed at least one limit`)
	_, _, _, err = designScrew.FastestRun(d, m, screw.Running{}, screw.Limits{Temperature: 300, Torque: -1, DieStress: math.NaN()})
	for _, part := range []string{"screw.Limits.Temperature = 300 K: allowed above the melt's own", "screw.Limits.Torque = -1", "screw.Limits.DieStress = NaN"} {
		assert.ErrorContains(t, err, part)
	}
}

func TestDesignSaysWhatCannotBe(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	r := screw.Running{Speed: 1}
	_, _, err = designScrew.SpeedFor(nozzle(2e-3), m, r, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "takes a speed outside")
	_, _, err = designScrew.DepthFor(m, r, 5e-7, 9e8)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "the best depth")
	_, _, err = designScrew.NozzleFor(nozzle, m, r, 1e-5)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "builds no pressure")
	_, _, err = designScrew.NozzleFor(nil, m, r, 1e-7)
	assert.ErrorContains(t, err, `nozzle = "nil"`)
	_, _, err = designScrew.NozzleFor(func(float64) screw.Die { return nil }, m, r, 1e-7)
	assert.ErrorContains(t, err, "screw.Die: passages = 0")
	_, _, err = designScrew.DepthFor(m, screw.Running{}, math.NaN(), 0)
	for _, part := range []string{"flow = NaN", "pressure = 0 Pa", "Speed = 0"} {
		assert.ErrorContains(t, err, part)
	}
	assert.Equal(t, screw.Profile{}, screw.Profile{}.Metered(1))
	shallow := designScrew.Metered(1e-3)
	assert.Equal(t, []float64{1e-3, 1e-3, 1e-3}, []float64{shallow.Zones[0].DepthOut, shallow.Zones[1].DepthIn, shallow.Zones[1].DepthOut})
	assert.Equal(t, 1.6e-3, designScrew.Zones[1].DepthIn, "the screw asked is left as it is")
}

func TestCharacteristic(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	for heating := screw.Isothermal; heating <= screw.HeldBarrel; heating++ {
		r := screw.Running{Speed: 1, Heating: heating}
		list, err := designScrew.Characteristic(m, r, 8)
		require.NoError(t, err)
		require.Len(t, list, 8)
		highest := list[7].Pressure
		require.LessOrEqual(t, math.Abs(list[0].Pressure), 1e-7*highest, "against nothing")
		for k := range list[1:] {
			require.InEpsilon(t, list[0].Flow/8, list[k].Flow-list[k+1].Flow, 1e-9)
			if heating != screw.Adiabatic { // which near closure burns its melt, and then pumps less
				require.Greater(t, list[k+1].Pressure, list[k].Pressure)
			}
		}
		// A die's point lies on it.
		c, err := designScrew.OperatingPoint(nozzle(2e-3), m, r)
		require.NoError(t, err)
		at, err := designScrew.March(m, r, c.Flow)
		require.NoError(t, err)
		same(t, at.Pressure, c.Pressure, 1e-9, "on the characteristic")
	}
	_, err = designScrew.Characteristic(m, screw.Running{Speed: 1}, 1)
	assert.ErrorContains(t, err, "points = 1: allowed 2 to 1000")
}

// Along a screw the layers' times have the screw's mean, and one zone has the channel's.
func TestResidenceTimesAlongAScrew(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	for heating := screw.Isothermal; heating <= screw.HeldBarrel; heating++ {
		r := screw.Running{Speed: 1, Heating: heating}
		c, err := designScrew.OperatingPoint(nozzle(2e-3), m, r)
		require.NoError(t, err)
		times, err := designScrew.ResidenceTimes(m, r, c)
		require.NoError(t, err)
		same(t, c.ResidenceTime, times.Mean, 1e-9, "mean")
		require.Greater(t, times.Least, 0.45*times.Mean)
		require.Less(t, times.Least, 0.95*times.Mean)
		half, err := times.At(0.5)
		require.NoError(t, err)
		require.True(t, half > times.Least && half < times.Mean)
	}
	channel := designScrew.ChannelAt(0.1)
	point, err := screw.OperatingPoint(channel, nozzle(2e-3), m, 1)
	require.NoError(t, err)
	want, err := channel.ResidenceTimes(m, 1, point.Pressure)
	require.NoError(t, err)
	c, err := channel.Profile().OperatingPoint(nozzle(2e-3), m, screw.Running{Speed: 1})
	require.NoError(t, err)
	got, err := channel.Profile().ResidenceTimes(m, screw.Running{Speed: 1}, c)
	require.NoError(t, err)
	for i := range want.Times {
		same(t, want.Times[i], got.Times[i], 1e-5, fmt.Sprintf("layer %d", i))
	}
	_, err = designScrew.ResidenceTimes(m, screw.Running{Speed: 1}, screw.Course{})
	assert.ErrorContains(t, err, "screw.Course.Flow = 0 m³/s")
}
