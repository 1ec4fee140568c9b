package screw_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/material"
	"meltflight/screw"
)

// The die meets the melt as hot as the screw lets it out.
func TestDieMeetsTheMeltFromTheTip(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(200))
	require.NoError(t, err)
	d := nozzle(1.5e-3)
	r := screw.Running{Speed: 1.2, Heating: screw.Adiabatic}
	c, err := designScrew.OperatingPoint(d, m, r)
	require.NoError(t, err)
	_, again, err := designScrew.SpeedFor(d, m, r, c.Flow)
	require.NoError(t, err)
	part, err := designScrew.StarvedPoint(d, m, r, 0.95*c.Flow)
	require.NoError(t, err)
	_, sized, err := designScrew.NozzleFor(nozzle, m, r, c.Flow)
	require.NoError(t, err)
	for name, at := range map[string]screw.Course{"point": c, "speed": again, "starved": part, "nozzle": sized} {
		require.Greater(t, at.Temperature, m.Temperature+5, name)
		hot := m
		hot.Temperature = at.Temperature
		rate, stress := d.WallShear(hot, at.Flow)
		same(t, rate, at.DieShearRate, 1e-4, name)
		same(t, stress, at.DieShearStress, 1e-4, name)
		nahme, graetz := d.ViscousHeating(hot, at.Flow)
		same(t, nahme, at.DieNahme, 1e-4, name)
		same(t, graetz, at.DieGraetz, 1e-4, name)
		same(t, d.PressureDrop(hot, at.Flow)/(m.Density*m.SpecificHeat), at.DieTemperatureRise, 1e-4, name)
		same(t, d.Volume()/at.Flow, at.DieResidenceTime, 1e-4, name)
	}
	require.Less(t, part.Start, 0.08, "in the taper")
	for _, s := range part.Stations {
		same(t, designScrew.ChannelAt(s.Position).Depth, s.Depth, 1e-9, "depth where it is")
	}
}

// A melt that burns before screw and die agree is no operating point.
func TestNoPointWhereTheMeltBurns(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 2965.8}, Density: 650, SpecificHeat: 2124.5, Temperature: 440, Conductivity: 0.1}
	_, err := designScrew.OperatingPoint(nozzle(1.1334e-3), m, screw.Running{Speed: 1.891, Heating: screw.Adiabatic})
	require.ErrorIs(t, err, screw.ErrTooHot)
	// And one too thin over the lands is told, not taken for nothing.
	thinnest := screw.Melt{Viscosity: material.PowerLaw{Consistency: 5e-3, Index: 0.05, Reference: 470}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	_, err = designScrew.March(thinnest, screw.Running{Speed: 20}, 5e-6)
	require.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "screw.Melt.Viscosity at")
}

func TestStartPressureIsCounted(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	p := screw.Profile{Bore: 0.02, Lead: 0.02, Land: 2e-3, Clearance: 8e-5, Starts: 1, Zones: []screw.Zone{{Length: 0.1, DepthIn: 3e-3, DepthOut: 3e-3}}}
	free, err := p.March(m, screw.Running{Speed: 1}, 4e-7)
	require.NoError(t, err)
	pushed, err := p.March(m, screw.Running{Speed: 1, StartPressure: 1e7}, 4e-7)
	require.NoError(t, err)
	same(t, free.Pressure+1e7, pushed.Pressure, 1e-12, "pressure")
	same(t, free.Power, pushed.Power, 1e-12, "power")
	// 10 MPa at both ends of the melt leave on the screw what the melt's section does not bear.
	section := p.ChannelAt(0).Volume() / 0.1
	same(t, free.Thrust+1e7*(math.Pi/4*0.02*0.02-section), pushed.Thrust, 1e-12, "thrust")
	_, err = p.StarvedPoint(nozzle(3e-3), m, screw.Running{Speed: 1, StartPressure: 1e8}, 1e-8)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	assert.ErrorContains(t, err, "the start pressure alone is")
}

func TestFlightsWipeTheBarrel(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 10}, Density: 750, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.2}
	same(t, math.Sqrt2*screw.FilmCoefficient(m, 1, 1), screw.FilmCoefficient(m, 1, 2), 1e-14, "two starts")
	same(t, 2*screw.FilmCoefficient(m, 1, 1), screw.FilmCoefficient(m, 4, 1), 1e-14, "four times the speed")
	p := screw.Profile{Bore: 0.03, Lead: 0.03, Land: 2e-3, Clearance: 1e-4, Starts: 2, Zones: []screw.Zone{{Length: 0.1, DepthIn: 3e-3, DepthOut: 3e-3, Barrel: 500}}}
	c, err := p.March(m, screw.Running{Speed: 1, Heating: screw.HeldBarrel}, 3e-6)
	require.NoError(t, err)
	k := screw.FilmCoefficient(m, 1, 2) * math.Pi * 0.03 / (3e-6 * 750 * 2500)
	even := 500 + c.Stations[0].Heat/(k*3e-6*750*2500)
	require.InDelta(t, even+(450-even)*math.Exp(-0.1*k), c.Temperature, 0.003)
	s, err := p.ChannelAt(0).Convey(m, 1, 0)
	require.NoError(t, err)
	same(t, math.Pi*0.03/1e-4, s.LandShearRate, 1e-12, "barrel speed over clearance")
	same(t, math.Pi*0.03*math.Cos(p.ChannelAt(0).HelixAngle())/3e-3, s.ChannelShearRate, 1e-12, "down-channel speed over depth")
}

// What leaves the stated range is told, and what does not is not.
func TestCourseTellsWhereTheModelEnds(t *testing.T) {
	pp, err := screw.MeltOf(material.PP(), material.Celsius(195))
	require.NoError(t, err)
	stiff := pp
	stiff.Viscosity = material.CrossExponential{N: 0.3, TauStar: 3e4, B: 1e-3, Tb: 6000, Beta: 3e-8}
	deep := screw.Profile{Bore: 0.02, Lead: 0.02, Land: 2e-3, Clearance: 8e-5, Starts: 1,
		Zones: []screw.Zone{{Length: 0.04, DepthIn: 1e-3, DepthOut: 1e-3, Barrel: 380}, {Length: 0.1, DepthIn: 6e-3, DepthOut: 6e-3, Barrel: 380}}}
	quiet := designScrew
	quiet.Clearance = 2e-4
	told := func(p screw.Profile, m screw.Melt, r screw.Running, flow float64) string {
		c, err := p.March(m, r, flow)
		require.NoError(t, err)
		return strings.Join(c.Beyond, "\n")
	}
	for _, v := range []struct {
		p     screw.Profile
		m     screw.Melt
		r     screw.Running
		flow  float64
		words []string
		not   []string
	}{
		{quiet, pp, screw.Running{Speed: 7}, 3e-6, nil, []string{"melt at", "empty", "changes", "deepest", "deep as wide", "clearance", "stiffen"}},
		{deep, pp, screw.Running{Speed: 3}, 2.2e-6, []string{"below the air's: the screw runs partly empty there", "in the deepest channel: shear rate 29.9", "channel 0.35 times as deep as wide"}, []string{"melt at"}},
		{deep, pp, screw.Running{Speed: 1, Heating: screw.HeldBarrel}, 3e-8, []string{"melt at 1", "fitted from 190 to 200 °C"}, nil},
		{designScrew, pp, screw.Running{Speed: 6, Heating: screw.Adiabatic}, 2e-7, []string{"melt changes by", "melt at"}, nil},
		{designScrew, pp, screw.Running{Speed: 20}, 8e-6, []string{"in the clearance: shear rate"}, nil},
		{designScrew, stiff, screw.Running{Speed: 3}, 2e-7, []string{"pressure would stiffen the melt by a factor up to"}, nil},
	} {
		got := told(v.p, v.m, v.r, v.flow)
		for _, w := range v.words {
			assert.Contains(t, got, w)
		}
		for _, w := range v.not {
			assert.NotContains(t, got, w)
		}
		lines := strings.Split(got, "\n")
		for i, a := range lines {
			for _, b := range lines[i+1:] {
				assert.NotEqual(t, a, b, "told once")
			}
		}
	}
	// A channel tells of the same.
	s, err := deep.ChannelAt(0.1).Convey(pp, 3, 0)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Beyond, "\n"), "times as deep as wide")
}

// The hottest place may lie before the tip.
func TestFastestRunMindsTheHottestPlace(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(200))
	require.NoError(t, err)
	p := designScrew
	p.Zones = append([]screw.Zone{}, p.Zones...)
	p.Zones[0].Barrel, p.Zones[1].Barrel = material.Celsius(260), material.Celsius(200)
	speed, c, stop, err := p.FastestRun(nozzle(2e-3), m, screw.Running{Heating: screw.HeldBarrel}, screw.Limits{Temperature: material.Celsius(230), Torque: 50})
	if err == nil {
		assert.Positive(t, speed)
		assert.Greater(t, c.Hottest, c.Temperature)
		assert.InDelta(t, 1, stop.Safety(), 1e-5)
		return
	}
	assert.ErrorIs(t, err, screw.ErrNoFlow, "too hot at the lowest speed already")
	assert.ErrorContains(t, err, "melt temperature")
}
