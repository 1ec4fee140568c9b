package screw

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
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
	shear := drag(b.w, b.h, b.mu, gc) + drag(b.e, b.gap, b.muLand, gl)
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
	return b.starts * b.z * (power(b.w, b.h, b.mu, gc) + power(b.e, b.gap, b.muLand, gl))
}

func TestPropertyPowerAndThrustFromTheWalls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bore := draw.Log(8e-3, 60e-3).Draw(t, "bore")
		depth := bore * draw.Log(0.02, 0.2).Draw(t, "depth")
		c := Channel{Bore: bore, Lead: bore * draw.Uniform(0.5, 1.5).Draw(t, "lead"), Depth: depth,
			Land: bore * draw.Uniform(0.04, 0.1).Draw(t, "land"), Clearance: depth * draw.Log(0.01, 0.5).Draw(t, "clearance"),
			Starts: rapid.IntRange(1, 3).Draw(t, "starts"), Length: 8 * bore}
		mu, muLand := draw.Log(10, 1e4).Draw(t, "viscosity"), draw.Log(10, 1e4).Draw(t, "viscosity in the land")
		b := solved(c, 1, mu, muLand, 1, 1)
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

// The factors of the estimate for a thinning melt, as Convey itself applies them.
func TestCheckThinningFactorsInUse(t *testing.T) {
	c := Channel{Bore: 0.02, Lead: 0.02, Depth: 1e-3, Land: 1e-4, Clearance: 1e-7, Starts: 1, Length: 0.2}
	const speed, pressure, n = 1, 2e6, 0.4
	law := material.PowerLaw{Consistency: 8000, Index: n, Reference: 470}
	s, err := c.Convey(Melt{Viscosity: law, Density: 750, SpecificHeat: 2500, Temperature: 470}, speed, pressure)
	require.NoError(t, err)
	vz := math.Pi * c.Bore * speed * math.Cos(c.HelixAngle())
	rate := vz / c.Depth
	eta := 8000 * math.Pow(rate, n-1)
	w, z := c.Width(), c.HelicalLength()
	const source = "(4+n)/5 on drag, 3/(1+2n) on pressure flow, viscosity at V_bz/H, shape factors; evaluated by hand"
	verify.Table(t, []verify.Row{
		{Name: "drag flow [m³/s]", Source: source, Kind: verify.Own, Want: (4 + n) / 5 * vz * w * c.Depth / 2 * DragShape(c.Depth/w),
			Got: s.Drag, Tol: 1e-12, Why: "rounding"},
		{Name: "pressure flow [m³/s]", Source: source, Kind: verify.Own,
			Want: -3 / (1 + 2*n) * w * math.Pow(c.Depth, 3) / (12 * eta) * pressure / z * PressureShape(c.Depth/w),
			Got:  s.PressureFlow, Tol: 1e-12, Why: "rounding"},
		{Name: "channel shear rate [1/s]", Source: source, Kind: verify.Own, Want: rate, Got: s.ChannelShearRate, Tol: 1e-12, Why: "rounding"},
		{Name: "land shear rate [1/s]", Source: "barrel speed ÷ clearance", Kind: verify.Own, Want: math.Pi * 0.02 / 1e-7, Got: s.LandShearRate, Tol: 1e-12, Why: "rounding"},
	})

	// The clearance's own viscosity is that of its own, higher rate.
	c.Clearance, c.Land = 1e-4, 2e-3
	s, err = c.Convey(Melt{Viscosity: law, Density: 750, SpecificHeat: 2500, Temperature: 470}, speed, 0)
	require.NoError(t, err)
	v := math.Pi * 0.02
	etaLand := 8000 * math.Pow(v/1e-4, n-1)
	verify.Table(t, []verify.Row{{Name: "land dissipation, no head pressure [W]", Source: "ηV²eZ/δ, by drag alone", Kind: verify.Own,
		Want: etaLand * v * v * c.Land * z / 1e-4, Got: s.LandDissipation, Tol: 0.03,
		Why: "the value leaves out the cross pressure's flow over the land"}})
}

// Two starts are two channels: everything that adds up doubles.
func TestTwoStartsAreTwoChannels(t *testing.T) {
	one := Channel{Bore: 0.02, Lead: 0.02, Depth: 1.5e-3, Land: 2e-3, Clearance: 1e-4, Starts: 1, Length: 0.2}
	two := one
	two.Starts, two.Lead = 2, one.Lead // each channel half as wide
	a, b := solved(two, 1, 500, 500, 1, 1), solved(two, 1, 500, 500, 1, 1)
	b.starts = 1 // one of its two channels
	b.solve(500, 500, 1, 1)
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

func TestThinningEstimateTellsItsRange(t *testing.T) {
	// Where the estimate leaves the range it was held against, the result says so.
	melt := func(n float64) Melt {
		return Melt{Viscosity: material.PowerLaw{Consistency: 8000, Index: n, Reference: 470}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	}
	c := Channel{Bore: 0.02, Lead: 0.02, Depth: 1e-3, Land: 2e-3, Clearance: 1e-4, Starts: 1, Length: 0.2}
	steep := c
	steep.Lead = 0.06
	for _, v := range []struct {
		c     Channel
		n, p  float64
		wants string
	}{
		{c, 0.5, 0, ""}, {c, 1, 1e9, ""}, {steep, 1, 0, ""},
		{steep, 0.5, 0, "helix angle 43.7°, estimate for a thinning melt stated from 15 to 20°"},
		{c, 0.2, 0, "power-law index 0.2, estimate for a thinning melt stated from 0.3 to 1"},
		{c, 1.3, 0, "power-law index 1.3"},
		{c, 0.5, 2e8, "of drag flow, estimate for a thinning melt (n = 0.5) stated up to 0.3"},
	} {
		s, err := v.c.Convey(melt(v.n), 1, v.p)
		require.NoError(t, err)
		if v.wants == "" {
			require.Empty(t, s.Beyond)
			continue
		}
		require.Len(t, s.Beyond, 1)
		require.Contains(t, s.Beyond[0], v.wants)
	}
	// The limit itself: pressure flow of 0.29 and 0.31 of drag flow.
	b := solved(c, 1, 8000*math.Pow(math.Pi*0.02*math.Cos(c.HelixAngle())/c.Depth, -0.5), 1, 1, 1)
	for gStar, n := range map[float64]int{0.29: 0, 0.31: 1} {
		s, err := c.Convey(melt(0.5), 1, gStar*6*b.mu*b.vz/sq(b.h)*b.z)
		require.NoError(t, err)
		require.Len(t, s.Beyond, n, fmt.Sprint(gStar))
	}
}
