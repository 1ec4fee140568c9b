package screw

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckTaper(t *testing.T) {
	const source = "taper from 15 to 2 mm, effective depths 2H₁H₂/(H₁+H₂) for drag and its like for pressure, equal to the integrals of 1/H² and 1/H³; evaluated independently"
	p := Profile{Bore: 0.08, Lead: math.Pi * 0.08 * math.Tan(deg(20)), Land: 0.008, Clearance: 1e-12, Starts: 1,
		Zones: []Zone{{Length: 1.92, DepthIn: 0.015, DepthOut: 0.002}}}
	m := Melt{Viscosity: material.Newtonian{Eta: 1.2e5}, Density: 750, SpecificHeat: 2500, Temperature: 450}
	die := Die{Capillary{Diameter: 0.1, Length: math.Pi * 1e-4 / 128 / 5e-7}}
	var r marcher
	r.prepare(&p, m, Running{Speed: 1})
	r.p.wide = true
	r.b.radius = math.Inf(1) // flat
	flow, err := r.meet(die)
	require.NoError(t, err)
	s, err := r.march(flow, 0)
	require.NoError(t, err)
	const why = "the march's stated error"
	verify.Table(t, []verify.Row{
		{Name: "flow through a taper and its die [m³/s]", Source: source, Kind: verify.Own, Want: 3.24831441e-5, Got: flow, Tol: 1e-5, Why: why},
		{Name: "pressure between them [Pa]", Source: source, Kind: verify.Own, Want: 7.79595459e6, Got: s.pressure, Tol: 1e-5, Why: why},
	})
	r.cut(16)
	flow, err = r.meet(die)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "flow, in shorter steps [m³/s]", Source: source, Kind: verify.Own, Want: 3.24831441e-5, Got: flow, Tol: 2e-9, Why: digits},
	})
}

// Output of a 63.5 mm screw on LDPE at 82 rpm, discharging freely.
func TestCheckMeasuredOutput(t *testing.T) {
	const source = "63.5 mm screw, LDPE, 82 rpm, barrel 149 °C, 136 lb/h: Z. Tadmor and I. Klein, Engineering Principles of Plasticating Extrusion (1970), from memory"
	const measured = 136 * 0.45359237 / 3600 // [kg/s]
	c := Channel{Bore: 0.0635, Lead: 0.0635, Depth: 3.226e-3, Land: 6.35e-3, Clearance: 0.07e-3, Starts: 1, Length: 4.5 * 0.0635}
	var b balance
	b.unroll(&c, 82./60)
	drag, _ := shapeFactors(b.h / b.w)
	wide := b.vz * b.w * b.h / 2 * 760
	verify.Table(t, []verify.Row{
		{Name: "drag of the metering zone [kg/s]", Source: source, Kind: verify.Memory, Want: measured, Got: wide, Tol: 0.05, Why: "±5 %: head pressure unknown, density 760 kg/m³ as remembered"},
		{Name: "the same, with side walls [kg/s]", Source: source, Kind: verify.Memory, Want: measured, Got: wide * drag, Tol: 0.05, Why: "±5 %: head pressure unknown, density 760 kg/m³ as remembered"},
		{Name: "drag alone, by hand [kg/h]", Source: "½·π·D·N·cosφ·W·h, evaluated independently", Kind: verify.Own, Want: 62.09, Got: wide * 3600, Tol: 1e-4, Why: "four digits"},
	})
	// A thinning melt drags less; what the deeper taper before pushes makes up for it. The
	// measured output lies between the metering zone alone and both together.
	m, err := MeltOf(material.LDPE(), material.Celsius(160))
	require.NoError(t, err)
	alone, err := c.Convey(m, 82./60, 0)
	require.NoError(t, err)
	p := c.Profile()
	p.Zones = append([]Zone{{Length: 9.5 * 0.0635, DepthIn: 9.398e-3, DepthOut: 3.226e-3}}, p.Zones...)
	both, err := p.March(m, Running{Speed: 82. / 60}, measured/m.Density)
	require.NoError(t, err)
	require.Less(t, alone.MassFlow, measured)
	require.Positive(t, both.Pressure)
	require.Less(t, measured, 1.15*alone.MassFlow, "by no more than the taper's push")
}

var (
	marchScrew = Profile{Bore: 0.02, Lead: 0.02, Land: 2e-3, Clearance: 8e-5, Starts: 1, Zones: []Zone{
		{Length: 0.06, DepthIn: 3.6e-3, DepthOut: 3.6e-3, Barrel: 478},
		{Length: 0.08, DepthIn: 3.6e-3, DepthOut: 1.6e-3, Barrel: 488},
		{Length: 0.12, DepthIn: 1.6e-3, DepthOut: 1.6e-3, Barrel: 493},
	}}
	marchDie = Die{Cone{Inlet: 8e-3, Outlet: 1.5e-3, Length: 5.6e-3}, Capillary{Diameter: 1.5e-3, Length: 1e-2}}
)

// Halving the steps must take the error down thirtyfold, as a method of fifth order
// does, until quadrature and rounding are left; and the usual steps are as good as said.
func TestMarchConvergesAtItsOrder(t *testing.T) {
	for _, polymer := range []material.Polymer{material.PP(), material.HDPE(), material.ABS()} {
		m, err := MeltOf(polymer, 488)
		require.NoError(t, err)
		for heating := Isothermal; heating <= HeldBarrel; heating++ {
			name := fmt.Sprintf("%s, heating %d", polymer.Name, heating)
			var r marcher
			r.prepare(&marchScrew, m, Running{Speed: 1.2, Heating: heating})
			flow, err := r.meet(marchDie)
			require.NoError(t, err, name)
			usual := r
			rough, err := usual.march(flow, 0)
			require.NoError(t, err, name)
			r.p.close, r.p.free.loose = 0, 0 // so that only the steps' error is seen
			for _, s := range []*gapState{&r.p.channel, &r.p.land, &r.p.free} {
				s.fluid.rough = false
			}
			var p, temp [5]float64
			for k := range p {
				r.cut(1 << k)
				s, err := r.march(flow, 0)
				require.NoError(t, err, name)
				p[k], temp[k] = s.pressure, s.temperature
			}
			highest := 0.0
			for _, at := range r.points {
				highest = math.Max(highest, at.pressure)
			}
			order := math.Log2((p[0] - p[1]) / (p[1] - p[2]))
			t.Logf("%s: off by %.1e of %.3g MPa, %.1e K, order %.2f", name, (p[0]-p[4])/highest, highest*1e-6, temp[0]-temp[4], order)
			if math.Abs(p[1]-p[2]) > 1e-8*highest { // else rounding and quadrature are all that is left
				require.InDelta(t, 5, order, 0.5, name)
			}
			require.LessOrEqual(t, math.Abs(p[0]-p[4]), 5e-6*highest, name)
			require.LessOrEqual(t, math.Abs(rough.pressure-p[4]), 5e-6*highest, name)
			require.LessOrEqual(t, math.Abs(temp[0]-temp[4]), 0.003, name)
		}
	}
}
