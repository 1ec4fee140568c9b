package screw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// gradients returns the pressure gradients along the channel and across channel and land.
func (b *balance) gradients(pressure float64) (g, gc, gl float64) {
	g = pressure / b.z
	gc = b.gc0 + b.gc1*g
	return g, gc, (g*(b.w+b.e)*b.cos/b.sin - b.w*gc) / b.e
}

// screwAlone is the thrust from what acts on the screw itself: the melt drags its
// root and lands, presses its flanks, and bears on the front of root and flights.
func screwAlone(b balance, c Channel, pressure float64) float64 {
	g, gc, gl := b.gradients(pressure)
	drag := func(width, depth, mu, across float64) float64 {
		z := mu*b.vz/depth - g*depth/2
		x := -mu*b.vx/depth - across*depth/2
		return width * (z*b.sin + x*b.cos)
	}
	shear := drag(b.w, b.h, b.mu, gc) + drag(b.e, b.gap, b.mu, gl)
	flank := gl * b.e * (b.h - b.gap) * b.cos
	core := math.Pi/4*c.Bore*c.Bore - math.Pi*c.Bore*b.h // of the flat model
	front := core + b.starts*b.e*(b.h-b.gap)*b.sin
	return pressure*front + b.starts*b.z*(flank-shear)
}

// barrelPower is the shaft power from the shear at the barrel times its speed.
func barrelPower(b balance, pressure float64) float64 {
	g, gc, gl := b.gradients(pressure)
	power := func(width, depth, mu, across float64) float64 {
		return width * (b.vz*(mu*b.vz/depth+g*depth/2) - b.vx*(-mu*b.vx/depth+across*depth/2))
	}
	return b.starts * b.z * (power(b.w, b.h, b.mu, gc) + power(b.e, b.gap, b.mu, gl))
}

func TestPropertyPowerAndThrustFromTheWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := draw.Log(8e-3, 60e-3).Draw(t, "bore")
		depth := bore * draw.Log(0.02, 0.2).Draw(t, "depth")
		c := Channel{Bore: bore, Lead: bore * draw.Uniform(0.5, 1.5).Draw(t, "lead"), Depth: depth,
			Land: bore * draw.Uniform(0.04, 0.1).Draw(t, "land"), Clearance: depth * draw.Log(0.01, 0.5).Draw(t, "clearance"),
			Starts: rapid.IntRange(1, 3).Draw(t, "starts"), Length: 8 * bore}
		mu := draw.Log(10, 1e4).Draw(t, "viscosity")
		b := solved(c, 1, mu)
		pressure := draw.Log(1e4, 1e8).Draw(t, "pressure")
		s := filled(b, c, Melt{Viscosity: material.Newtonian{Eta: mu}, Density: 750, SpecificHeat: 2500}, 1, pressure)
		require.InEpsilon(t, barrelPower(b, pressure), s.Power, 1e-9)
		require.InEpsilon(t, screwAlone(b, c, pressure), s.Thrust, 1e-9)
		// What leaks over a land is what the channel does not carry back across.
		_, gc, gl := b.gradients(pressure)
		inChannel := -b.vx*b.h/2 - b.a*gc
		overLand := -b.vx*b.gap/2 - b.b*gl
		require.InDelta(t, 0, (inChannel-overLand)/(b.vx*b.h), 1e-9)
	})
}

// Two starts are two channels: everything that adds up doubles.
func TestTwoStartsAreTwoChannels(t *testing.T) {
	one := Channel{Bore: 0.02, Lead: 0.02, Depth: 1.5e-3, Land: 2e-3, Clearance: 1e-4, Starts: 1, Length: 0.2}
	two := one
	two.Starts, two.Lead = 2, one.Lead // each channel half as wide
	a, b := solved(two, 1, 500), solved(two, 1, 500)
	b.starts = 1 // one of its two channels
	b.solve(500)
	m := Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500}
	both, single := filled(a, two, m, 1, 1e6), filled(b, two, m, 1, 1e6)
	for name, v := range map[string][2]float64{
		"flow": {both.Flow, single.Flow}, "drag": {both.Drag, single.Drag}, "pressure flow": {both.PressureFlow, single.PressureFlow},
		"power": {both.Power, single.Power}, "channel heat": {both.ChannelDissipation, single.ChannelDissipation},
		"land heat": {both.LandDissipation, single.LandDissipation}, "volume": {two.Volume(), two.Volume() / 2},
		"shear along the barrel": {both.Thrust - 1e6*math.Pi/4*sq(0.02), single.Thrust - 1e6*math.Pi/4*sq(0.02)},
	} {
		require.InEpsilon(t, 2*v[1], v[0], 1e-12, name)
	}
	require.InEpsilon(t, both.ResidenceTime, single.ResidenceTime, 1e-12)
}
