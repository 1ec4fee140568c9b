package thermal_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/thermal"
	"meltflight/thermal/thermaltest"
)

// anyHeat puts any bits, and the ends of the ranges, into what heats and warms.
func anyHeat(t *rapid.T) {
	b, p, w := thermaltest.Bridges().Draw(t, "bridge"), thermaltest.Paths().Draw(t, "path"), thermaltest.Windings().Draw(t, "winding")
	capacity := edges(draw.Log(1e-3, 1e9), 1e-3, 1e9)
	m, c := thermal.Motor{Capacity: capacity.Draw(t, "motor capacity")}, thermal.Chip{Capacity: capacity.Draw(t, "sink capacity")}
	d := thermal.Duty{On: edges(draw.Log(1e-3, 1e9), 1e-3, 1e9).Draw(t, "on"), Off: edges(draw.Log(1e-9, 1e9), 0, 1e9).Draw(t, "off")}
	o := thermal.OnSink{Sink: sinks().Draw(t, "sink"), Before: 10, Board: 30}
	if rapid.Bool().Draw(t, "extreme") {
		b = rapid.SampledFrom([]thermal.Bridge{
			{OnResistance: 1e-4, Supply: 1},
			{OnResistance: 100, TemperatureCoefficient: 0.01, Supply: 1000, RiseTime: 1e-4, FallTime: 1e-4, ChopFrequency: 2500, Quiescent: 1, DiodeDrop: 5, DeadTime: 1e-4},
			{OnResistance: 1e-4, TemperatureCoefficient: math.SmallestNonzeroFloat64, Supply: 1, Quiescent: math.SmallestNonzeroFloat64},
			{OnResistance: 100, TemperatureCoefficient: 1e-300, Supply: 1000, RiseTime: 1e-300, ChopFrequency: 1, Quiescent: 1},
		}).Draw(t, "extreme bridge")
		p = rapid.SampledFrom([]thermal.Path{{SinkToAir: 1e-3}, {JunctionToCase: 1e4, CaseToSink: 1e4, SinkToAir: 1e4}, {JunctionToCase: 1e4, SinkToAir: 1e-3}}).Draw(t, "extreme path")
		w = rapid.SampledFrom([]thermal.Winding{
			{Resistance: 1e-4, Phases: 1, ThermalResistance: 1e-3},
			{Resistance: 1e5, Phases: 12, ThermalResistance: 1e4, IronLoss: 1e5},
		}).Draw(t, "extreme winding")
		o.Sink = rapid.SampledFrom([]thermal.Sink{
			{Width: 1, Length: 1, Fins: 1000, FinHeight: 1, FinThickness: 1e-5, Conductivity: 0.1}, {Width: 1e-3, Length: 1e-3, Fins: 2, FinHeight: 1e-3, FinThickness: 1e-5, Conductivity: 1e4, Emissivity: 1},
		}).Draw(t, "extreme sink")
		o.Before, o.Board = rapid.SampledFrom([]float64{1e-3, 1e4}).Draw(t, "before"), rapid.SampledFrom([]float64{0, 1e-3, 1e4}).Draw(t, "board")
	}
	for _, v := range []any{&b, &p, &w, &m, &c, &d, &o, &o.Sink} {
		spoil(t, v)
	}
	m.Winding, c.Bridge, c.Path, o.Bridge = w, b, p, b
	e := thermal.ExponentialBridge(b)
	amps := edges(draw.Log(1e-3, 1e5), 0, 1e5, math.SmallestNonzeroFloat64, 1e-200)
	current, share := amps.Draw(t, "current"), edges(draw.Uniform(0, 1), 0, 1).Draw(t, "share")
	temperature := edges(draw.Uniform(200, 473.15), 200, 473.15, math.Nextafter(200, 300))
	ambient, limit, start := temperature.Draw(t, "ambient"), temperature.Draw(t, "limit"), temperature.Draw(t, "start")
	time := edges(draw.Log(1e-3, 1e12), 0, 1e12).Draw(t, "time")
	flow := edges(draw.Log(1e-6, 1), 0, 1e-7, 100).Draw(t, "flow")
	ask := func(x any, err error) { finite(t, x, err) }
	number := func(x float64, err error) {
		finite(t, x, err)
		require.GreaterOrEqual(t, x, 0.)
	}

	phase := thermal.Phase{RMS: current, Mean: amps.Draw(t, "mean")}
	first, second := thermal.Held(current, time)
	for _, pair := range [][2]thermal.Phase{{phase, thermal.Steps(current, share)}, {first, second}, {thermal.MicroSteps(current), phase}} {
		ask(b.SteadyPhases(pair[0], pair[1], ambient, p))
		ask(b.PhaseLoss(pair[0], limit))
		number(thermal.SenseLoss(share, pair[1]))
	}
	ask(e.Loss(current, limit))
	ask(e.Steady(current, ambient, p))
	number(e.RunawayCurrent(ambient, p))
	number(e.LargestCurrent(limit, ambient, p))
	number(e.LargestResistance(current, limit, ambient))
	ways := thermal.Ways{Top: p, Board: thermal.Path{SinkToAir: o.Board}}
	ask(ways.At(current, ambient))
	ask(ways.Path())
	mount := thermal.Mount{WindingToCase: o.Before, CaseToAir: p.CaseToSink, CaseToBracket: p.SinkToAir, BracketToAir: p.JunctionToCase}
	ask(mount.At(current, ambient))
	number(mount.Resistance())
	number(thermal.Iron{Loss: current, Speed: flow, Eddy: share}.At(time))
	number(m.TimeConstant(current))
	ask(m.After(time, current, start, ambient))
	number(m.TimeUntil(limit, current, start, ambient))
	ask(m.DutyPeak(d, current, ambient))
	number(m.DutyCurrent(d, limit, ambient))
	number(c.TimeConstant(current))
	ask(c.After(time, current, start, ambient))
	number(c.TimeUntil(limit, current, start, ambient))
	number(c.DutyCurrent(d, limit, ambient))
	ask(thermal.LargestDutyCurrent(d, c, limit, ambient, m, limit, start))
	number(d.Peak(time, current))
	number(thermal.Overload(share, current))
	number(thermal.RootMeanSquare([]thermal.Load{{Current: current, Duration: time}, {Current: phase.Mean, Duration: d.On}}))
	ask(o.Steady(current, flow, ambient))
	number(o.LargestCurrent(flow, limit, ambient))
	ask(o.Fan(flow, limit, ambient))
	if rapid.IntRange(0, 3).Draw(t, "cut") == 0 {
		ask(o.ShortestSink(current, flow, limit, ambient))
	}
}

func TestAnyBitsOfHeat(t *testing.T) { rapid.Check(t, anyHeat) }

func FuzzHeat(f *testing.F) { f.Fuzz(rapid.MakeFuzz(anyHeat)) }

func TestHeatAllocatesNothing(t *testing.T) {
	bridge, path := exampleDriver()
	e := thermal.ExponentialBridge(bridge)
	m := thermal.Motor{Winding: thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}, Capacity: 150}
	c := thermal.Chip{Bridge: bridge, Path: path, Capacity: 10}
	phase, d := thermal.MicroSteps(1.6), thermal.Duty{On: 60, Off: 100}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		s, _ := e.Steady(1.2, 318.15, path)
		x, _ := e.LargestCurrent(398, 318, path)
		h, _ := bridge.SteadyPhases(phase, phase, 318, path)
		r, _ := m.After(100, 1.2, 300, 300)
		u, _ := m.TimeUntil(330, 1.2, 300, 300)
		k, _ := m.DutyPeak(d, 1.2, 300)
		l, _ := thermal.LargestDutyCurrent(d, c, 398, 318, m, 383, 298)
		sink += s.Junction + x + h.Junction + r + u + k + l.Bridge
	}))
}

// The same fixed point, iterated as one does by hand until it stands to 1e-12.
func BenchmarkExponentialSteady(b *testing.B) {
	bridges := make([]thermal.ExponentialBridge, many)
	_, path := exampleDriver()
	for i := range many {
		driver, _ := exampleDriver()
		driver.OnResistance *= 1 - float64(i)/1000
		bridges[i] = thermal.ExponentialBridge(driver)
	}
	versus.Report(b, "x-iteration", func(int) {
		for i := range many {
			s, err := bridges[i].Steady(1.2, 318.15, path)
			if err != nil {
				b.Fatal(err)
			}
			sink += s.Junction
		}
	}, func(int) {
		for i := range many {
			e := bridges[i]
			mean := 1.2 * 2 * math.Sqrt2 / math.Pi
			others := e.Supply*mean*(e.RiseTime+e.FallTime)*e.ChopFrequency + 4*e.DiodeDrop*mean*e.DeadTime*e.ChopFrequency + e.Supply*e.Quiescent
			x, last := 318.15, 0.
			for math.Abs(x-last) > 1e-12*x {
				last = x
				x = 318.15 + path.Total()*(others+4*1.44*e.OnResistance*math.Exp(e.TemperatureCoefficient*(x-298.15)))
			}
			sink += x
		}
	})
}

// A duty's current, against marching its cycles at currents that are bisected.
func BenchmarkMotorDutyCurrent(b *testing.B) {
	m := thermal.Motor{Winding: thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8, IronLoss: 0.5}, Capacity: 150}
	d := thermal.Duty{On: 300, Off: 600}
	versus.Report(b, "x-march", func(i int) {
		x, err := m.DutyCurrent(d, 380+float64(i%7), 298)
		if err != nil {
			b.Fatal(err)
		}
		sink += x
	}, func(i int) {
		limit, lo, hi := 380+float64(i%7), 0., 10.
		cool := math.Exp(-d.Off / 1200)
		for range 50 {
			current := (lo + hi) / 2
			f := 8 * 2 * current * current * 1.5 / 254.5
			rest := 298 + 8*(2*current*current*1.5*(1+(298-293.15)/254.5)+0.5)/(1-f)
			warm, x := math.Exp(-d.On*(1-f)/1200), 298.
			for range 20 {
				x = rest + (298+(x-298)*cool-rest)*warm
			}
			if x < limit {
				lo = current
			} else {
				hi = current
			}
		}
		sink += lo
	})
}

// Both ends of what these accept, and the next number outside.
func TestHeatRanges(t *testing.T) {
	b, p := exampleDriver()
	m := thermal.Motor{Winding: thermal.Winding{Resistance: 1.5, Phases: 2, ThermalResistance: 8}, Capacity: 100}
	c := thermal.Chip{Bridge: b, Path: p, Capacity: 100}
	d, o := thermal.Duty{On: 1, Off: 1}, gluedOn()
	mount := thermal.Mount{WindingToCase: 1, CaseToAir: 1, CaseToBracket: 1, BracketToAir: 1}
	iron := thermal.Iron{Loss: 1, Speed: 1, Eddy: 0.5}
	load := thermal.Load{Current: 1, Duration: 1}
	time, heating, cooling, peak, fixed, resistance, loss := 1., 1., 1., 1., 1., 1., 1.
	for _, r := range []struct {
		name   string
		value  *float64
		lo, hi float64
		ask    func() error
	}{
		{"thermal.Motor.Capacity", &m.Capacity, 1e-3, 1e9, func() error { return m.Validate() }},
		{"thermal.Chip.Capacity", &c.Capacity, 1e-3, 1e9, func() error { return c.Validate() }},
		{"thermal.Chip.Path.SinkToAir", &c.Path.SinkToAir, 1e-3, 1e4, func() error {
			if c.Path.SinkToAir > 1e4 || !(c.Path.SinkToAir >= 0) {
				return refusedElsewhere
			}
			return c.Validate()
		}},
		{"thermal.Duty.On", &d.On, 1e-3, 1e9, func() error { return d.Validate() }},
		{"thermal.Duty.Off", &d.Off, 0, 1e9, func() error { return d.Validate() }},
		{"thermal.OnSink.Before", &o.Before, 1e-3, 1e4, func() error { return o.Validate() }},
		{"thermal.OnSink.Board", &o.Board, 1e-3, 1e4, func() error { return o.Validate() }},
		{"thermal.Mount.WindingToCase", &mount.WindingToCase, 1e-3, 1e4, func() error { return mount.Validate() }},
		{"thermal.Mount.CaseToAir", &mount.CaseToAir, 1e-3, 1e4, func() error { return mount.Validate() }},
		{"thermal.Mount.CaseToBracket", &mount.CaseToBracket, 1e-3, 1e4, func() error { return mount.Validate() }},
		{"thermal.Mount.BracketToAir", &mount.BracketToAir, 1e-3, 1e4, func() error { return mount.Validate() }},
		{"thermal.Mount.At: loss", &loss, 0, 1e6, func() error { _, err := mount.At(loss, 300); return err }},
		{"thermal.Ways.At: loss", &loss, 0, 1e6, func() error { _, err := thermal.Ways{Top: p, Board: p}.At(loss, 300); return err }},
		{"thermal.Iron.Loss", &iron.Loss, 0, 1e5, func() error { _, err := iron.At(1); return err }},
		{"thermal.Iron.Speed", &iron.Speed, 1e-3, 1e4, func() error { _, err := iron.At(0); return err }},
		{"thermal.Iron.Eddy", &iron.Eddy, 0, 1, func() error { _, err := iron.At(1); return err }},
		{"thermal.Motor.After: time", &time, 0, 1e12, func() error { _, err := m.After(time, 1, 300, 300); return err }},
		{"thermal.Chip.After: time", &time, 0, 1e12, func() error { _, err := c.After(time, 1, 300, 300); return err }},
		{"thermal.Duty.Peak: heating", &heating, 1e-6, 1e12, func() error { _, err := d.Peak(heating, 1); return err }},
		{"thermal.Duty.Peak: cooling", &cooling, 1e-6, 1e12, func() error { _, err := d.Peak(1, cooling); return err }},
		{"thermal.Overload: peak", &peak, 1e-12, 1, func() error { _, err := thermal.Overload(peak, 1); return err }},
		{"thermal.Overload: fixed", &fixed, 0, 1e3, func() error { _, err := thermal.Overload(1, fixed); return err }},
		{"thermal.SenseLoss: resistance", &resistance, 0, 100, func() error { _, err := thermal.SenseLoss(resistance, thermal.Phase{}); return err }},
		{"thermal.RootMeanSquare: Duration", &load.Duration, 1e-6, 1e9, func() error { _, err := thermal.RootMeanSquare([]thermal.Load{load}); return err }},
		{"thermal.RootMeanSquare: Current", &load.Current, 0, 1e5, func() error { _, err := thermal.RootMeanSquare([]thermal.Load{load}); return err }},
	} {
		was := *r.value
		for value, inside := range map[float64]bool{
			r.lo: true, r.hi: true, math.Nextafter(r.hi, math.Inf(1)): false, math.NaN(): false, math.Inf(1): false,
			math.Nextafter(r.lo, -1): false, -1: false,
		} {
			*r.value = value
			err := r.ask()
			if err == refusedElsewhere {
				continue
			}
			refused := err != nil && strings.Contains(err.Error(), r.name+" =")
			assert.Equal(t, !inside, refused, "%s = %g: %v", r.name, value, err)
			if refused {
				assert.ErrorIs(t, err, material.ErrInvalid)
			}
		}
		*r.value = was
	}
}

var refusedElsewhere = thermal.Path{SinkToAir: -1}.Validate()
