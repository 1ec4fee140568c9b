package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/root"
	"meltflight/material"
)

// thinning is a channel's answer for a melt that is not Newtonian, point by point.
type thinning struct {
	b        balance // geometry and shape factors
	m        Melt
	p        pitch
	openFlow float64 // net flow against no pressure, all starts [m³/s]
	failed   error
}

// open sets up and solves against no pressure.
func (t *thinning) open(b *balance, m Melt) error {
	t.b, t.m = *b, m
	t.p = pitchOf(b)
	switch m.Viscosity.(type) {
	case material.PowerLaw:
	default:
		t.p.tabulated(tabulate(m, 1e-6*b.channelRate, 1e3*b.landRate))
	}
	t.solve(0)
	t.openFlow = t.flow()
	return t.failed
}

func (t *thinning) fail(found bool) {
	beyond := func(size float64) bool { return math.IsNaN(size) || math.IsInf(size, 0) }
	if !found && t.failed == nil && !beyond(t.p.channel.size) && !beyond(t.p.land.size) {
		t.failed = fmt.Errorf("%w: %+v, %+v, gradient %g Pa/m, %+v", ErrNotFound, t.p.channelGap, t.p.landGap, t.p.gradient, t.m)
	}
}

func (t *thinning) solve(pressure float64) { t.fail(t.p.solve(t.m, pressure/t.b.z)) }

// flow returns the net flow of all starts as solved [m³/s].
func (t *thinning) flow() float64 { return t.b.starts * t.p.flow() }

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
	pressure := t.pressureAt(0)
	return pressure, t.failed
}

// pressureAt returns the pressure against which a flow up to the open flow is
// delivered [Pa], sought from the state last solved.
func (t *thinning) pressureAt(flow float64) float64 {
	t.fail(t.p.melted(t.m) && t.p.meet(flow/t.b.starts))
	return t.p.gradient * t.b.z
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
	s.Drag = b.starts * b.w * t.p.drag * t.p.dragged
	s.PressureFlow = b.starts*t.p.alongChannel() - s.Drag
	s.Leakage = flow - s.Drag - s.PressureFlow

	s.ChannelDissipation = channelArea * t.p.channelHeat()
	s.LandDissipation = landArea * land.Dissipation
	s.Pumping = flow * pressure
	s.Power = s.Pumping + s.ChannelDissipation + s.LandDissipation
	s.Torque = s.Power / (2 * math.Pi * speed)
	s.Thrust = pressure*math.Pi/4*c.Bore*c.Bore - b.starts*b.z*t.p.forward(b.sin, b.cos)
	s.OpenFlow = t.openFlow
	b.finish(s, t.m, channelArea*b.h*(1-b.h/(2*b.radius)))
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
	excess := func(q float64) float64 {
		need := d.PressureDrop(t.m, q)
		have := closed
		if q > 0 {
			have = t.pressureAt(q)
		}
		return (need - have) / (need + math.Abs(have))
	}
	flow, err = root.Find(excess, 0, t.openFlow, 1e-13)
	if err != nil {
		return 0, 0, errors.Join(err, t.failed)
	}
	pressure = t.pressureAt(flow)
	if need := d.PressureDrop(t.m, flow); need < closed/2 {
		pressure = need // near open discharge the screw's is a small difference
	}
	return flow, pressure, t.failed
}
