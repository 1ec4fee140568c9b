package screw_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
)

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
	_, err = screw.OutletFor(material.Bulk{}, 0)
	refused("OutletFor: flow", err)
	refused("material.Bulk.ParticleSize", err)
	_, err = screw.OutletFor(grains(20, 4e-3), 1e5)
	refused("less: it takes an outlet of", err)
	_, err = screw.OutletAgainstClogging(b, 0, 1)
	refused("OutletAgainstClogging: mass", err)
	refused("OutletAgainstClogging: probability", err)
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
		flow, probability := pick("flow", 1e-9, 0.01, 1e5), pick("probability", 1e-12, 0.01, 1-1e-6)
		effective, wall, depth := pick("effective", 0.35, 0.7, 1.4), pick("wall", 0.01, 0.35), pick("depth", 0, 1, 1000)
		fields := []*float64{&b.BulkDensity, &b.ParticleSize, &b.InternalFriction, &b.WallFriction, &b.StressRatio, &o.Width, &o.Length, &h.HalfAngle,
			&y.Strength, &y.Exponent, &u.Diameter, &u.Surcharge, &s.Diameter, &s.Depth, &s.Radius, &mass, &strength, &factor, &flow, &probability, &effective, &wall, &depth}
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
		enough, err := screw.OutletFor(b, flow)
		told(enough, err)
		clear, err := screw.OutletAgainstClogging(b, mass, probability)
		told(clear, err)
		for _, o := range []screw.Outlet{enough, clear} {
			require.True(t, o == screw.Outlet{} || o.Validate() == nil, "%v", o)
		}
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
		_, _ = screw.OutletFor(b, 0.01)
		_, _ = screw.OutletAgainstClogging(b, 1, 0.01)
		_, _ = small.Clogging(b, 1)
		_, _ = u.StressAt(b, 0.3)
		_, _ = screw.Hopper{HalfAngle: 0.4}.CriticalOutlet(b, 100)
		_, _ = screw.MassFlowHalfAngle(0.6, 0.3)
	}))
}
