package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// Running is how a screw is run.
type Running struct {
	Speed         float64 // 1e-4 to 100 [rev/s]
	StartPressure float64 // above atmospheric, where melt first fills the screw: 0 if it is starved there, 0 to 1e9 [Pa]
	Heating       Heating
}

// Course is what happens along a screw that melt fills from Start to the tip.
type Course struct {
	Flow     float64 // [m³/s]
	MassFlow float64 // [kg/s]

	Start       float64 // axial position from which melt fills the screw [m]
	Pressure    float64 // at the tip [Pa]
	Temperature float64 // at the tip, mean over the channel [K]
	Hottest     float64 // highest mean temperature along the screw [K]

	Power              float64 // of the shaft, = Pumping + ChannelDissipation + LandDissipation [W]
	Pumping            float64 // Flow × (Pressure − StartPressure) [W]
	ChannelDissipation float64 // turned to heat in the channel [W]
	LandDissipation    float64 // turned to heat in the clearance over the lands [W]
	BarrelHeat         float64 // let in by the barrel; negative where it must cool [W]
	Torque             float64 // on the screw, Power/2πN [N·m]
	Thrust             float64 // on the screw's bearing, of the filled length alone, what pushes at its start taken off [N]

	ResidenceTime float64   // mean, filled volume ÷ Flow [s]
	Stations      []Station // along the screw, where the march computed it: from a little after Start to the tip

	// In front of a die; 0 without one.
	DieShearRate       float64 // greatest true wall shear rate in the die [1/s]
	DieShearStress     float64 // wall shear stress there [Pa]
	DieTemperatureRise float64 // of the melt in the die, if no heat passes the walls: Δp/ρc [K]
	DieNahme           float64 // largest Nahme number of a passage, see [Passage]; 0 if the melt's conductivity is not known [-]
	DieGraetz          float64 // Graetz number of that passage [-]
	DieVolume          float64 // melt held in the die [m³]
	DieResidenceTime   float64 // mean, DieVolume ÷ Flow [s]

	Beyond []string // in words, where the model's stated range is left; nil inside it
}

// Station is one place along a screw.
type Station struct {
	Position    float64 // along the axis from the first zone's start [m]
	Depth       float64 // of the channel [m]
	Pressure    float64 // above atmospheric [Pa]
	Temperature float64 // mean over the channel [K]
	Slope       float64 // rise of pressure along the axis [Pa/m]
	Heat        float64 // made by shear in channel and clearance, along the axis [W/m]

	weight, channel float64 // axial length it stands for [m]; Heat made in the channel [W/m]
}

// SpecificEnergy returns the shaft's work on each kilogram delivered [J/kg].
func (c Course) SpecificEnergy() float64 { return c.Power / c.MassFlow }

// Fracture compares the greatest wall shear stress in the die with the stress at
// which the bead roughens, such as [FractureStress] [Pa].
func (c Course) Fracture(limit float64) material.Utilisation {
	return Point{DieShearStress: c.DieShearStress}.Fracture(limit)
}

// March returns what happens to a flow, 1e-15 to 1e3 [m³/s], along a screw that is
// full from its first zone on, and what pressure is left or built at its tip. The melt
// enters at its own temperature and at the start pressure.
//
// At each place channel and land are as in [Channel.Convey]. Pressure and temperature
// are marched together: shaft work and barrel heat warm the melt, ρ·c·Q·dT/dx, whose
// temperature is one over channel and clearance, and whose viscosity follows it. The
// method is of fifth order: the pressure at the tip comes out within 2e-5 of the highest
// along the screw at one temperature, and within 5e-4 where it
// changes by up to 100 K, beyond which is told; temperature within a thousandth of
// what the barrel makes it change.
//
// It errs on invalid input, with ErrTooHot, and with ErrNotFound.
func (p Profile) March(m Melt, r Running, flow float64) (Course, error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Between("screw.Profile.March: flow", flow, 1e-15, 1e3, "m³/s")
	if err := f.Err(); err != nil {
		return Course{}, err
	}
	var w marcher
	w.prepare(&p, m, r)
	return w.course(flow, 0)
}

// OperatingPoint returns where screw and die agree: the flow at which the pressure at
// the tip is what the die needs, of melt as hot as it comes there. The screw is full from
// its first zone on. Where more than one flow would do, as it may in a screw that
// heats its melt by itself, it is the one nearest to the drag of its shallowest place.
//
// It errs on invalid input; with ErrNoFlow where the screw builds no pressure; and as
// March does.
func (p Profile) OperatingPoint(d Die, m Melt, r Running) (Course, error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Add(d.Validate())
	if err := f.Err(); err != nil {
		return Course{}, err
	}
	var w marcher
	w.prepare(&p, m, r)
	flow, err := w.meet(d)
	if err != nil {
		return Course{}, err
	}
	return w.agreed(d, flow, 0)
}

// StarvedPoint returns what happens when less is fed than the screw could deliver, a
// flow from 1e-15 [m³/s] up to that of OperatingPoint: the tip's pressure is what the
// die needs for it, and the screw fills only over the length that builds this
// pressure. The length before that turns nearly empty, and adds nothing here.
//
// It errs on invalid input; with ErrNoFlow where the whole length does not suffice
// (though a part of it might, beyond a place that takes pressure), or where the start
// pressure alone is more than the die needs; and as March does.
func (p Profile) StarvedPoint(d Die, m Melt, r Running, flow float64) (Course, error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Add(d.Validate())
	f.Between("screw.Profile.StarvedPoint: flow", flow, 1e-15, 1e3, "m³/s")
	if err := f.Err(); err != nil {
		return Course{}, err
	}
	var w marcher
	w.prepare(&p, m, r)
	start, err := w.fill(d, flow)
	if err != nil {
		return Course{}, err
	}
	return w.agreed(d, flow, start)
}

// fed returns what happens to a flow of no more than OperatingPoint's: what comes before a
// screw that is full pushes by what the screw lacks, up to the start pressure; one that
// needs no push is starved, with no pressure where it fills.
func (p Profile) fed(d Die, m Melt, r Running, flow float64) (Course, error) {
	most := r.StartPressure
	r.StartPressure = 0
	var w marcher
	w.prepare(&p, m, r)
	lacks, err := w.excess(d, flow, 0)
	if err != nil {
		return Course{}, err
	}
	if lacks <= 0 {
		start, err := w.fill(d, flow)
		if err != nil {
			return Course{}, err
		}
		return w.agreed(d, flow, start)
	}
	c, err := w.course(flow, 0)
	if err != nil {
		return Course{}, err
	}
	if highest := math.Max(lacks+c.Pressure, c.Pressure-c.lowest()); lacks > most+1e-6*highest {
		return Course{}, fmt.Errorf("%w: at %.4g rev/s the screw builds %.4g Pa less than the die needs for %.4g m³/s", ErrNoFlow, r.Speed, lacks-most, flow)
	}
	w.running.StartPressure, w.marched[0] = lacks, 0
	return w.agreed(d, flow, 0)
}

// lowest is the least pressure along the screw [Pa].
func (c *Course) lowest() (least float64) {
	for i := range c.Stations {
		least = math.Min(least, c.Stations[i].Pressure)
	}
	return least
}

func (p *Profile) checkRun(f *input.Faults, m Melt, r Running) {
	p.check(f, r.Heating)
	m.check(f)
	f.Between("screw.Running.Speed", r.Speed, 1e-4, 100, "rev/s")
	f.Between("screw.Running.StartPressure", r.StartPressure, 0, 1e9, "Pa")
	f.Count("screw.Running.Heating", int(r.Heating), int(Isothermal), int(HeldBarrel))
	if r.Heating == HeldBarrel && m.Conductivity == 0 {
		f.Refuse("screw.Melt.Conductivity", 0, "W/(m·K)", "0.01 to 100 W/(m·K), as the barrel heats through it")
	}
}

// excess is what a die needs more than the screw's tip has [Pa]. Melt too hot for
// numbers counts as enough pressure: with less flow it only gets hotter.
func (r *marcher) excess(d Die, flow, start float64) (float64, error) {
	s, err := r.march(flow, start)
	if errors.Is(err, ErrTooHot) {
		return -1, nil
	}
	if err != nil {
		return 0, err
	}
	m := r.melt
	m.Temperature = s.temperature
	return d.PressureDrop(m, flow) - s.pressure, nil
}

const meeting = 1e-10 // how near screw and die are brought together, of their flow

// meet returns the flow at which screw and die agree [m³/s]: by Newton's method from what
// the shallowest place drags, within what is known to be too little and too much.
func (r *marcher) meet(d Die) (float64, error) {
	drag := r.b.starts * r.b.w * r.least * r.b.vz / 2
	near := 1e-9 // a step so small is the last; heat leaves the slope a little wrong
	if r.running.Heating == Isothermal {
		near = 1e-7
	}
	low, high := 0.0, math.Inf(1)
	at := drag
	for at > 1e-7*drag && at < 1e3*drag {
		s, err := r.march(at, 0)
		next := 2 * at
		switch {
		case errors.Is(err, ErrTooHot): // more must pass
			low = at
		case err != nil:
			return 0, err
		default:
			m := r.melt
			m.Temperature = s.temperature
			const more = 1e-4
			need := d.PressureDrop(m, at)
			rise := (d.PressureDrop(m, at*(1+more))-need)/(more*at) - s.byFlow
			if need > s.pressure {
				high = at
			} else {
				low = at
			}
			if next = min(max(at-(need-s.pressure)/rise, at/4), 4*at); math.Abs(next-at) <= near*at {
				return next, nil
			}
		}
		if !(next > low && next < high) {
			if next = 2 * low; !math.IsInf(high, 1) {
				next = (low + high) / 2
			}
		}
		if !math.IsInf(high, 1) && high-low <= 1e-12*high {
			return at, nil
		}
		at = next
	}
	return 0, fmt.Errorf("%w: at %.4g rev/s the screw builds less pressure than the die needs, down to %.4g m³/s", ErrNoFlow, r.running.Speed, at)
}

// fill returns where a flow must begin to fill the screw to meet what the die needs [m].
func (r *marcher) fill(d Die, flow float64) (float64, error) {
	var failed error
	excess := func(start float64) float64 {
		x, err := r.excess(d, flow, start)
		failed = errors.Join(failed, err)
		return x
	}
	length := r.profile.Length()
	if whole := excess(0); whole > 0 || failed != nil {
		if failed != nil {
			return 0, failed
		}
		return 0, fmt.Errorf("%w: at %.4g rev/s the whole screw builds %.4g Pa less than the die needs for %.4g m³/s",
			ErrNoFlow, r.running.Speed, whole, flow)
	}
	if over := -excess(length); over > 0 && failed == nil {
		return 0, fmt.Errorf("%w: the start pressure alone is %.4g Pa more than the die needs for %.4g m³/s", ErrNoFlow, over, flow)
	}
	start, err := root.Find(excess, 0, length, meeting)
	return start, errors.Join(failed, err)
}

// agreed tells everything where screw and die were found to agree. Where the melt burns
// they may only seem to: on one side of a flow it does, on the other too much is asked.
func (r *marcher) agreed(d Die, flow, start float64) (Course, error) {
	c, err := r.course(flow, start)
	if err != nil {
		return Course{}, err
	}
	r.front(&c, d)
	need := c.DieTemperatureRise * r.melt.Density * r.melt.SpecificHeat
	if scale := need + math.Abs(c.Pressure); math.Abs(need-c.Pressure) > 1e-3*scale+1e-8*(c.ChannelDissipation+c.LandDissipation)/flow {
		return Course{}, fmt.Errorf("%w before the screw builds what the die needs: %.4g Pa of %.4g at %.4g m³/s and %.0f K", ErrTooHot, c.Pressure, need, flow, c.Hottest)
	}
	return c, nil
}

// course carries a flow along and tells everything.
func (r *marcher) course(flow, start float64) (Course, error) {
	s, err := r.march(flow, start)
	if err != nil {
		return Course{}, err
	}
	c := Course{
		Flow: flow, MassFlow: flow * r.melt.Density, Start: start, Pressure: s.pressure, Temperature: s.temperature, Hottest: r.melt.Temperature,
		Pumping: flow * (s.pressure - r.running.StartPressure), ChannelDissipation: s.channel, LandDissipation: s.land, BarrelHeat: s.barrel,
		ResidenceTime: s.volume / flow,
	}
	// The melt before the start pushes forward on the melt's own section there.
	depth := r.profile.ChannelAt(start).Depth
	section := depth * (1 - depth/r.profile.Bore) * r.b.w * r.b.starts / r.b.sin
	c.Thrust = s.pressure*math.Pi/4*r.profile.Bore*r.profile.Bore - s.forward - r.running.StartPressure*section
	c.Power = c.Pumping + c.ChannelDissipation + c.LandDissipation
	c.Torque = c.Power / (2 * math.Pi * r.running.Speed)
	c.Stations = make([]Station, 0, len(r.points))
	for _, p := range r.points {
		c.Stations = append(c.Stations, Station{p.position, p.depth, p.pressure, p.temperature, p.slope, p.channel + p.land, p.weight, p.channel})
		c.Hottest = math.Max(c.Hottest, p.temperature)
	}
	c.Beyond = r.beyond(&c)
	return c, nil
}

// front adds what the die in front of the tip does.
func (r *marcher) front(c *Course, d Die) {
	m := r.melt
	m.Temperature = c.Temperature
	at := ahead(d, m, c.Flow)
	c.DieShearRate, c.DieShearStress, c.DieTemperatureRise = at.DieShearRate, at.DieShearStress, at.DieTemperatureRise
	c.DieNahme, c.DieGraetz, c.DieVolume, c.DieResidenceTime = at.DieNahme, at.DieGraetz, at.DieVolume, at.DieResidenceTime
	c.Beyond = append(c.Beyond, at.Beyond...)
}

const mostWarming = 100 // that the march's steps are meant for [K]

// beyond tells where the model's stated range is left.
func (r *marcher) beyond(c *Course) (list []string) {
	add := func(text string) {
		if text != "" {
			list = append(list, text)
		}
	}
	lowest, highest, deepest := 0.0, 0.0, 0.0
	for _, p := range r.points {
		lowest, highest = math.Min(lowest, p.pressure), math.Max(highest, p.pressure)
		deepest = math.Max(deepest, p.depth)
	}
	if lowest < -1e-9*highest {
		add(fmt.Sprintf("pressure would fall to %.3g Pa below the air's: the screw runs partly empty there, which is not computed", -lowest))
	}
	coldest := r.entry
	for _, p := range r.points {
		coldest = math.Min(coldest, p.temperature)
	}
	if change := math.Max(c.Hottest-r.entry, r.entry-coldest); change > mostWarming {
		add(fmt.Sprintf("melt changes by %.0f K in the screw; above %g K it is computed to some percent only", change, float64(mostWarming)))
	}
	if _, newtonian := r.melt.Viscosity.(material.Newtonian); newtonian {
		return list
	}
	add(narrow(deepest / r.b.w))
	d := r.melt.Viscosity.Domain()
	low, high := d.BeyondTemperature(coldest), d.BeyondTemperature(c.Hottest)
	add(low)
	if high != low {
		add(high)
	}
	fastest := r.b.vz / r.least
	add(inThe("channel", d.BeyondRate(fastest)))
	if slowest := r.b.vz / deepest; slowest < d.RateLow && fastest >= d.RateLow {
		add(inThe("deepest channel", d.BeyondRate(slowest)))
	}
	add(inThe("clearance", d.BeyondRate(math.Hypot(r.b.vx, r.b.vz)/r.b.gap)))
	if rise := r.melt.Viscosity.Slopes(fastest, r.melt.Temperature, 0).Pressure * highest; rise > 0.1 {
		add(fmt.Sprintf("pressure would stiffen the melt by a factor up to %.2g, which is left out", math.Exp(rise)))
	}
	return list
}
