package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/root"
	"meltflight/material"
)

// thinning is a channel's answer for a melt that is not Newtonian, point by point.
//
// The two-component flow of the pitch knows no side walls. They are brought in by
// the shape factors of a Newtonian melt, F_d on the channel's flow against no
// pressure and F_p on what pressure takes from it.
type thinning struct {
	b         balance // geometry and shape factors
	m         Melt
	p         pitch
	openAlong float64 // flow along the channel against no pressure, infinitely wide [m³/s]
	openFlow  float64 // net flow against no pressure, all starts [m³/s]
	failed    error
}

// open sets up and solves against no pressure.
func (t *thinning) open(b *balance, m Melt) error {
	t.b, t.m = *b, m
	t.p = pitch{
		channelGap: Gap{Depth: b.h, Along: b.vz, Across: -b.vx},
		landGap:    Gap{Depth: b.gap, Along: b.vz, Across: -b.vx},
		w:          b.w, e: b.e, around: b.around, z: b.z,
	}
	switch m.Viscosity.(type) {
	case material.PowerLaw:
	default:
		t.p.channel.fluid.melt = m
		t.p.channel.fluid.tabulate(1e-6*b.channelRate, 1e3*b.landRate)
		t.p.land.fluid.curve = t.p.channel.fluid.curve
	}
	t.solve(0)
	t.openAlong = t.along()
	t.openFlow = t.flow()
	return t.failed
}

func (t *thinning) solve(pressure float64) {
	beyond := func(size float64) bool { return math.IsNaN(size) || math.IsInf(size, 0) }
	if !t.p.solve(t.m, pressure/t.b.z) && t.failed == nil && !beyond(t.p.channel.size) && !beyond(t.p.land.size) {
		t.failed = fmt.Errorf("%w: %+v, %+v, gradient %g Pa/m, %+v", ErrNotFound, t.p.channelGap, t.p.landGap, t.p.gradient, t.m)
	}
}

// along returns the flow along one channel as solved, infinitely wide [m³/s].
func (t *thinning) along() float64 { return t.p.w * t.p.channel.along(t.p.channelGap) }

// flow returns the net flow of all starts as solved [m³/s].
func (t *thinning) flow() float64 {
	channel := t.b.fDrag*t.openAlong + t.b.fPress*(t.along()-t.openAlong)
	land := t.p.e * t.p.land.along(t.p.landGap)
	return t.b.starts * (channel + land + t.p.leak*t.p.around)
}

func (t *thinning) flowAt(pressure float64) float64 {
	t.solve(pressure)
	return t.flow()
}

// closedPressure returns the pressure at which the flow stops, 0 if there is none
// to stop [Pa].
func (t *thinning) closedPressure() (float64, error) {
	if t.openFlow <= 0 {
		return 0, t.failed
	}
	return t.pressureAt(0)
}

// pressureAt returns the pressure against which a flow up to the open flow is delivered [Pa].
func (t *thinning) pressureAt(flow float64) (float64, error) {
	// As the melt were Newtonian with its viscosity at the barrel's rate, and up from there.
	eta, _ := t.m.local(t.b.channelRate)
	high := 6 * eta * t.b.vz / (t.b.h * t.b.h) * t.b.z
	for i := 0; t.flowAt(high) > flow && i < 200; i++ {
		high *= 2
	}
	pressure, err := root.Find(func(p float64) float64 { return t.flowAt(p) - flow }, 0, high, 1e-12)
	if t.failed != nil {
		return 0, t.failed
	}
	return pressure, err
}

// conveyThinning fills in everything a designer asks of one operating state.
func (c *Channel) conveyThinning(s *Conveyance, b *balance, m Melt, speed, pressure float64) error {
	var t thinning
	if err := t.open(b, m); err != nil {
		return err
	}
	closed, err := t.closedPressure()
	if err != nil {
		return err
	}
	t.fill(s, c, speed, pressure, t.flowAt(pressure))
	s.ClosedPressure = closed
	return t.failed
}

// fill works out one operating state, as last solved.
func (t *thinning) fill(s *Conveyance, c *Channel, speed, pressure, flow float64) {
	b := &t.b
	channel, land := t.p.channel.flow(t.p.channelGap), t.p.land.flow(t.p.landGap)
	channelArea, landArea := b.starts*b.w*b.z, b.starts*b.e*b.z
	s.Pressure, s.Flow, s.MassFlow = pressure, flow, flow*t.m.Density
	s.Drag = b.starts * b.fDrag * t.openAlong
	s.PressureFlow = b.starts * b.fPress * (t.along() - t.openAlong)
	s.Leakage = flow - s.Drag - s.PressureFlow

	// The side walls take from the heat of the pressure flow as from the flow.
	held := (1 - b.fPress) * (t.openAlong/b.w - channel.Flow) * channel.Gradient
	s.ChannelDissipation = channelArea * (channel.Dissipation - held)
	s.LandDissipation = landArea * land.Dissipation
	s.Pumping = flow * pressure
	s.Power = s.Pumping + s.ChannelDissipation + s.LandDissipation
	s.Torque = s.Power / (2 * math.Pi * speed)
	// As the walls hold part of the drag, so the pressure's shear on the barrel.
	unsheared := (1 - b.fDrag) * t.openAlong / (b.w * b.vz) * channel.Gradient
	forward := channelArea*((channel.SlidingStress-unsheared)*b.sin+channel.SlidingCross*b.cos) +
		landArea*(land.SlidingStress*b.sin+land.SlidingCross*b.cos)
	s.Thrust = pressure*math.Pi/4*c.Bore*c.Bore - forward
	s.OpenFlow = t.openFlow
	b.finish(s, c, t.m, channelArea*b.h)
	d := t.m.Viscosity.Domain()
	for _, wall := range [...]struct {
		place         string
		drag, highest float64
	}{{"channel, at its wall", b.channelRate, channel.HighestShearRate}, {"clearance, at its wall", b.landRate, land.HighestShearRate}} {
		if wall.highest > d.RateHigh && wall.drag <= d.RateHigh { // else told already
			if text := inThe(wall.place, d.BeyondRate(wall.highest)); text != "" {
				s.Beyond = append(s.Beyond, text)
			}
		}
	}
}

// crossing returns flow [m³/s] and pressure [Pa] at which screw and die agree.
func (t *thinning) crossing(d Die, closed float64) (flow, pressure float64, err error) {
	excess := func(p float64) float64 {
		need := d.PressureDrop(t.m, math.Max(0, t.flowAt(p)))
		return (need - p) / (need + p)
	}
	if excess(closed) >= 0 { // so tight a die that the screw's flow is rounding
		pressure = closed
	} else if pressure, err = root.Find(excess, 0, closed, 1e-13); err != nil {
		return 0, 0, err
	}
	t.solve(pressure)
	// The screw's flow is a small difference near closed discharge, the die's is not.
	flow, err = root.Find(func(q float64) float64 {
		need := d.PressureDrop(t.m, q)
		return (need - pressure) / (need + pressure)
	}, 0, 2*t.openFlow, 1e-13)
	return flow, pressure, errors.Join(err, t.failed)
}
