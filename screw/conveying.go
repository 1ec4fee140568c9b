package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrNoFlow reports a screw that cannot deliver: more is asked than it drags
// forward, or its clearance leaks all that it drags. The message says by how much.
var ErrNoFlow = errors.New("screw delivers no such flow")

// Conveyance is what a channel does at a given speed against a given pressure.
type Conveyance struct {
	Pressure float64 // head pressure above the pressure at the inlet [Pa]
	Flow     float64 // net volume flow [m³/s]
	MassFlow float64 // net [kg/s]

	Drag         float64 // flow that the barrel drags along the channel [m³/s]
	PressureFlow float64 // flow that the pressure drives back, as a negative number [m³/s]
	Leakage      float64 // change of flow by the clearance over the lands, usually negative [m³/s]

	Power              float64 // shaft power, = Pumping + ChannelDissipation + LandDissipation [W]
	Pumping            float64 // Flow × Pressure [W]
	ChannelDissipation float64 // turned to heat in the channel [W]
	LandDissipation    float64 // turned to heat in the clearance over the lands [W]
	Torque             float64 // on the screw, Power/2πN [N·m]
	Thrust             float64 // on the screw's bearing: Pressure × bore area and the shear along the barrel [N]

	TemperatureRise float64 // of the melt if no heat passes the walls: dissipation/(ρ·c·Flow); 0 without forward flow [K]
	ResidenceTime   float64 // mean, channel volume ÷ Flow; 0 without forward flow [s]

	ChannelShearRate float64 // down-channel barrel speed ÷ depth [1/s]
	LandShearRate    float64 // barrel speed ÷ clearance [1/s]
	OpenFlow         float64 // flow against no pressure [m³/s]
	ClosedPressure   float64 // pressure at which the flow stops [Pa]

	Beyond []string // in words, where the model's stated range is left; nil inside it
}

// Convey returns what the channel does at a speed, 1e-4 to 100 [rev/s], against a
// head pressure, -1e15 to 1e15 [Pa], below 0 where pressure falls along it. Above ClosedPressure the flow is negative: melt
// is pushed back through the screw. It errs on invalid input, and with ErrNotFound
// if a thinning melt's stresses were not found.
//
// Model and range: see the package comment. A Newtonian melt after Z. Tadmor and
// C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), §6.3 (from memory),
// with the leakage of Z. Tadmor and I. Klein, Engineering Principles of Plasticating
// Extrusion (1970), derived anew from the balance over one pitch; any other by the
// same balance with both components of its velocity as in [Gap.Flow].
func (c Channel) Convey(m Melt, speed, pressure float64) (Conveyance, error) {
	var b balance
	var f input.Faults
	f.Add(b.prepare(&c, m, speed))
	f.Between("screw.Channel.Convey: pressure", pressure, -1e15, 1e15, "Pa")
	if err := f.Err(); err != nil {
		return Conveyance{}, err
	}
	var s Conveyance
	if b.newtonian {
		b.fill(&s, &c, m, speed, pressure, b.flowAt(pressure))
		return s, nil
	}
	if err := c.conveyThinning(&s, &b, m, speed, pressure); err != nil {
		return Conveyance{}, err
	}
	if !s.finite() {
		f.Refuse("screw.Channel.Convey: pressure", pressure, "Pa", "less: so strong a push gives a flow beyond all numbers")
		return Conveyance{}, f.Err()
	}
	return s, nil
}

// finite reports whether all is in numbers: a power law of a small index takes a
// strong push to rates that are not.
func (s *Conveyance) finite() bool {
	sum := math.Abs(s.Flow) + math.Abs(s.MassFlow) + math.Abs(s.Drag) + math.Abs(s.PressureFlow) + math.Abs(s.Leakage) + math.Abs(s.Pumping) + math.Abs(s.Power) +
		math.Abs(s.ChannelDissipation) + math.Abs(s.LandDissipation) + math.Abs(s.Torque) + math.Abs(s.Thrust) +
		s.TemperatureRise + s.ResidenceTime + s.ClosedPressure
	return sum <= math.MaxFloat64
}

// PressureAgainst returns the head pressure against which the channel still
// delivers a flow, 0 up to the open flow [m³/s], at a speed [rev/s]: the inverse
// of Convey [Pa]. More than the open flow is ErrNoFlow.
func (c Channel) PressureAgainst(m Melt, speed, flow float64) (float64, error) {
	var b balance
	var f input.Faults
	f.Add(b.prepare(&c, m, speed))
	f.Between("screw.Channel.PressureAgainst: flow", flow, 0, 1e3, "m³/s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	if b.newtonian {
		if flow > b.flow0 {
			return 0, tooMuch(flow, speed, b.flow0)
		}
		return b.pressureAt(flow), nil
	}
	var t thinning
	if err := t.open(&b, m); err != nil {
		return 0, err
	}
	if flow > t.openFlow {
		return 0, tooMuch(flow, speed, t.openFlow)
	}
	pressure := t.pressureAt(flow)
	return max(0, pressure), t.failed // at the open flow rounding may leave less
}

func tooMuch(flow, speed, most float64) error {
	return fmt.Errorf("%w: asked %.4g m³/s, at %.4g rev/s the screw delivers at most %.4g m³/s, against no pressure",
		ErrNoFlow, flow, speed, most)
}

// prepare validates and sets up the balance of a channel, melt and speed.
func (b *balance) prepare(c *Channel, m Melt, speed float64) error {
	// Geometry goes before its own validation, harmless whatever its numbers: the
	// processor works on it while the checks, which it does not wait for, pass.
	b.unroll(c, speed)
	drag, press := shapeFactors(b.h / b.w)

	var f input.Faults
	c.check(&f)
	m.check(&f)
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	if err := f.Err(); err != nil {
		return err
	}
	b.channelRate, b.landRate = b.vz/b.h, math.Pi*c.Bore*speed/b.gap
	eta, _ := m.local(b.channelRate)
	etaLand := eta
	if _, b.newtonian = m.Viscosity.(material.Newtonian); !b.newtonian {
		etaLand, _ = m.local(b.landRate)
	}
	if !liquid(eta) || !liquid(etaLand) {
		return errors.Join(m.notLiquid(b.channelRate, eta), m.notLiquid(b.landRate, etaLand))
	}
	if b.newtonian {
		b.fDrag, b.fPress, b.bent = drag, press, bentBy(b.h/b.radius)
		b.solve(eta)
	}
	return nil
}

// balance is the flow balance of one channel and land over a pitch, in which
// everything is linear in the down-channel pressure gradient g.
//
// Across the flight the melt that the channel does not carry back must leak over
// the land, and once round the barrel the pressure repeats:
//
//	qx = −Vx·H·d − a·(k·g + c·gc) = −Vx·δ/2 − b·gl,   W·gc + e·gl = g·(W+e)/tanθ
//
// with a = H³/12μ and b = δ³/12μ, gc and gl the cross-flight gradients in channel
// and land, x pointing forward so that the barrel drags by −Vx. By curvature, see [bent],
// the channel lets through more or less along its axis than round it: d is ½, c 1 and k 0
// in a flat one.
type balance struct {
	starts        float64
	w, e, z       float64 // channel width, land width, helical length [m]
	around        float64 // (W+e)/tanθ [m]
	radius        float64 // of the bore [m]
	h, gap        float64 // depth and clearance [m]
	sin, cos      float64 // of the helix angle [-]
	vx, vz        float64 // barrel speed across and along the channel [m/s]
	mu            float64 // [Pa·s]
	fDrag, fPress float64 // shape factors of the flow along the channel [-]
	bent          bent
	a, b          float64 // see above [m³/(Pa·s)]
	free          float64 // flow along for each metre of width against no pressure, where nothing leaks [m²/s]
	flow0, slope  float64 // Q = flow0 − slope·pressure, all starts [m³/s], [m³/(Pa·s)]
	gc0, gc1      float64 // gc = gc0 + gc1·g [Pa/m], [-]

	newtonian             bool    // the melt's viscosity is constant, so no range can be left
	channelRate, landRate float64 // by drag alone [1/s]
}

// unroll fills in geometry and speeds.
func (b *balance) unroll(c *Channel, speed float64) {
	around := math.Pi * c.Bore
	along := math.Sqrt(around*around + c.Lead*c.Lead) // one turn of the helix
	perAlong, perLead := 1/along, 1/c.Lead
	b.starts, b.radius = float64(c.Starts), c.Bore/2
	pitch := c.Lead * around * perAlong / b.starts
	b.w, b.e, b.z, b.around = pitch-c.Land, c.Land, c.Length*along*perLead, pitch*around*perLead
	b.sin, b.cos = c.Lead*perAlong, around*perAlong
	b.h, b.gap, b.vx, b.vz = c.Depth, c.Clearance, around*speed*b.sin, around*speed*b.cos
}

// solve fills in what depends on the melt.
func (b *balance) solve(mu float64) {
	b.mu = mu
	b.a = b.h * b.h * b.h / (12 * mu)
	b.b = b.gap * b.gap * b.gap / (12 * mu)
	kg, k, c := b.turned()
	drag := b.bent.drag * b.h
	b.free = drag * (b.vz + b.vx*k/c)
	per := 1 / (b.w*b.b + b.e*b.a*c)
	b.gc1 = (b.around*b.b - b.e*b.a*k) * per
	b.gc0 = -b.e * b.vx * (drag - b.gap/2) * per
	// Flows along the channel, over the land, and forward by leaking: all linear in g.
	along0, along1 := drag*b.vz-b.a*k*b.gc0, -b.a*(kg+k*b.gc1)
	leak0, leak1 := -drag*b.vx-b.a*c*b.gc0, -b.a*(k+c*b.gc1)
	b.flow0 = b.starts * (b.w*(b.fDrag*b.free+b.fPress*(along0-b.free)) + b.vz*b.e*b.gap/2 + b.around*leak0)
	b.slope = -b.starts * (b.w*b.fPress*along1 - b.e*b.b + b.around*leak1) / b.z
}

// turned returns what a gradient along the channel drives along it, what along drives
// across and the other way round, and across across, in units of a.
func (b *balance) turned() (along, mixed, across float64) {
	r, x := b.bent.round, b.bent.axial
	return r*b.cos*b.cos + x*b.sin*b.sin, (x - r) * b.sin * b.cos, r*b.sin*b.sin + x*b.cos*b.cos
}

func (b *balance) flowAt(pressure float64) float64 { return b.flow0 - b.slope*pressure }
func (b *balance) pressureAt(flow float64) float64 { return (b.flow0 - flow) / b.slope }

// fill works out everything a designer asks of one operating state, given its
// flow and pressure both, since either may be a small difference.
func (b *balance) fill(s *Conveyance, c *Channel, m Melt, speed, pressure, flow float64) {
	g := pressure / b.z
	gc := b.gc0 + b.gc1*g
	gl := (g*b.around - b.w*gc) / b.e
	channelArea, landArea := b.starts*b.w*b.z, b.starts*b.e*b.z

	// Round the screw and along its axis.
	around, axial := b.cos*g-b.sin*gc, b.sin*g+b.cos*gc
	v := math.Sqrt(b.vx*b.vx + b.vz*b.vz)
	flowAround, flowAxial := b.bent.drag*v*b.h-b.a*b.bent.round*around, -b.a*b.bent.axial*axial
	along := b.cos*flowAround + b.sin*flowAxial

	s.Pressure, s.Flow, s.MassFlow = pressure, flow, flow*m.Density
	s.Drag = b.starts * b.w * b.fDrag * b.free
	s.PressureFlow = b.starts * b.w * b.fPress * (along - b.free)
	s.Leakage = flow - s.Drag - s.PressureFlow

	// What the barrel puts in less what the flow carries off as pressure; the walls take
	// from the heat of the pressure flow as from the flow.
	s.ChannelDissipation = channelArea * (v*(b.mu*v/b.h*b.bent.shear+b.bent.drag*b.h*around) -
		flowAround*around - flowAxial*axial + (1-b.fPress)*g*(along-b.free))
	s.LandDissipation = landArea * (b.mu*v*v/b.gap + b.b*(g*g+gl*gl))
	s.Pumping = flow * pressure
	s.Power = s.Pumping + s.ChannelDissipation + s.LandDissipation
	s.Torque = s.Power / (2 * math.Pi * speed)

	// On screw and melt together act the head pressure, the bearing, and along the
	// axis the barrel's shear: drag contributes nothing to that, as the barrel only
	// turns, and some half of the pressure gradient times the depth is left, less along
	// the channel by what the side walls bear: F_d, as by reciprocity the drag flow is.
	forward := channelArea*(b.bent.lean*b.h*axial-(1-b.fDrag)*g*b.free/b.vz*b.sin) + landArea*b.gap*(g*b.sin+gl*b.cos)/2
	s.Thrust = pressure*math.Pi/4*c.Bore*c.Bore - forward

	b.finish(s, m, channelArea*b.h*(1-b.h/(2*b.radius)))
	s.OpenFlow = b.flow0
	s.ClosedPressure = max(0, b.pressureAt(0))
}

// finish works out what follows from flow, power and pressure alike for any melt.
func (b *balance) finish(s *Conveyance, m Melt, volume float64) {
	if s.Flow > 0 {
		perFlow := 1 / s.Flow
		s.TemperatureRise = (s.ChannelDissipation + s.LandDissipation) * perFlow / (m.Density * m.SpecificHeat)
		s.ResidenceTime = volume * perFlow
	}
	s.ChannelShearRate, s.LandShearRate = b.channelRate, b.landRate
	if !b.newtonian {
		s.Beyond = b.beyond(m, s.Pressure)
	}
}

// beyond tells where the model's stated range is left.
func (b *balance) beyond(m Melt, pressure float64) []string {
	var list []string
	if text := narrow(b.h / b.w); text != "" {
		list = append(list, text)
	}
	d := m.Viscosity.Domain()
	for _, text := range [...]string{d.BeyondTemperature(m.Temperature),
		inThe("channel", d.BeyondRate(b.channelRate)), inThe("clearance", d.BeyondRate(b.landRate))} {
		if text != "" {
			list = append(list, text)
		}
	}
	if rise := m.Viscosity.Slopes(b.channelRate, m.Temperature, 0).Pressure * pressure; rise > 0.1 {
		list = append(list, fmt.Sprintf("pressure would stiffen the melt by a factor up to %.2g, which is left out", math.Exp(rise)))
	}
	return list
}

// narrow says in words where side walls matter more than they were held against.
func narrow(aspect float64) string {
	if aspect <= mostAspect {
		return ""
	}
	return fmt.Sprintf("channel %.2g times as deep as wide, side walls for a thinning melt were held up to 0.2", aspect)
}

const mostAspect = 0.25 // a usual feed zone is no deeper

// inThe says where a range is left; nothing is said of one that is kept.
func inThe(place, beyond string) string {
	if beyond == "" {
		return ""
	}
	return "in the " + place + ": " + beyond
}
