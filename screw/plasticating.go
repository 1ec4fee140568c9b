package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Plasticating is a whole screw from its throat to its tip, which takes in solids, melts
// them and pumps the melt.
type Plasticating struct {
	Profile  Profile // from the throat on; the Barrel of each zone is asked for
	Die      Die
	Solids   Solids  // as the screw's first zone conveys them
	Bed      Bed     // as it melts; its Temperature is that which the throat leaves it
	Melt     Melt    // as it is pumped; the film's temperature follows from barrel and bed
	Throat   float64 // mass flow that the throat lets in under a full hopper at the speed run, such as that of [Channel.Feed], 1e-12 to 1e4 [kg/s]
	Feeder   float64 // what a feeder brings, 1e-12 to 1e4, or 0 under a full hopper [kg/s]
	MoltenBy float64 // share of the length by which nothing solid should be left; 0.7 to 0.8 is common practice, no source; 0.1 to 1 [-]
}

// Bottleneck says what keeps a plasticating screw from delivering more.
type Bottleneck int

const (
	ByFeeder   Bottleneck = iota // it is starved on purpose, or for want of feed
	ByThroat                     // the throat lets no more in
	ByFriction                   // the solids slip
	ByMelting                    // more would come, but not molten by where it should be
	ByPump                       // die and screw agree on no more
)

// String names what it is: feeder, throat, friction of the solids, melting or pump.
func (b Bottleneck) String() string {
	names := [...]string{"feeder", "throat", "friction of the solids", "melting", "pump"}
	if b < 0 || int(b) >= len(names) {
		return fmt.Sprintf("Bottleneck(%d)", int(b))
	}
	return names[b]
}

// Plasticated is what a plasticating screw does.
type Plasticated struct {
	Output     float64    // what leaves the die, molten or not: the least of all below but Melting [kg/s]
	Sound      float64    // the least of all below: what the screw can deliver molten in time [kg/s]
	Bottleneck Bottleneck // which of them is the least

	Throat   float64 // as given [kg/s]
	Friction float64 // what the friction of the solids carries against no pressure [kg/s]
	Melting  float64 // the largest flow of which nothing solid is left by MoltenBy; 0 if none [kg/s]
	Pump     float64 // what screw and die agree on if enough comes, melt filling the channel as far back as it can [kg/s]
	Metering float64 // what they agree on if only the shallowest part is full, from there to the tip: where a feed that barely keeps up would leave it; 0 where it pumps nothing, and no more than Pump [kg/s]

	Bed            Melted  // at Output; its Left is 1 where the solids plug
	Filled         float64 // position from which melt fills the channel at Output [m]
	Course         Course  // of the melt from there at Output; its positions are along the whole screw
	ClosedPressure float64 // at the tip if the die is blocked and all has melted from where the barrel melts on, at one temperature; solids that pack behind push on top [Pa]
	ClosedThrust   float64 // on the screw's bearing then [N]

	Power  float64 // of the shaft on film and melt; friction of the solids, and what shears over the lands before Filled, are left out: all but the melt where the solids plug or nothing melts [W]
	Torque float64 // of the same [N·m]

	Surge  []string // in words, what would make the output surge; nil if nothing is known to
	Beyond []string // in words, where a model's stated range is left; nil inside it
}

// SpecificEnergy returns the shaft's work on each kilogram delivered [J/kg].
func (p Plasticated) SpecificEnergy() float64 { return p.Power / p.Output }

// Validate reports fields out of range.
func (p Plasticating) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *Plasticating) check(f *input.Faults) {
	var w melting
	w.check(f, &p.Profile, &p.Bed, &p.Melt, 1)
	p.Solids.check(f)
	f.Add(p.Die.Validate())
	f.Between("screw.Plasticating.Throat", p.Throat, 1e-12, 1e4, "kg/s")
	if p.Feeder != 0 {
		f.Between("screw.Plasticating.Feeder", p.Feeder, 1e-12, 1e4, "kg/s")
	}
	f.Between("screw.Plasticating.MoltenBy", p.MoltenBy, 0.1, 1, "")
}

// Run returns what the screw does, run as told. Its output is what the weakest lets
// through of feeder, throat, friction of the solids and pump; what of it is molten, the
// bed tells.
//
// The bed melts by [Profile.MeltBed]. From where the pool of melt beside it is as wide as
// the channel is deep, melt counts as filling the channel, marched as in
// [Profile.OperatingPoint]; under less feed it fills as much of it as the die asks for, as
// in [Profile.StarvedPoint]. A pool of melt beside a bed, of which both move with the flow,
// is driven by the same pressure gradient as a full channel of the same depth: of
// constant depth exactly, where side walls count for little; in a taper it builds less,
// so that Pump is an upper estimate there, and Metering a lower one. The pressure that solids
// build before is the StartPressure given, as it hangs on friction by an exponential that
// nobody knows; where less is fed than Pump, they push by what the die still lacks, if
// anything.
//
// Where the pump takes less than is fed, solids back up to the hopper: this is the usual
// state under a full hopper. Of a starved screw the bed melts in a channel not packed,
// sooner or later than told.
//
// It errs on invalid input; with ErrNoFlow where the solids slip or the die takes all the
// pressure; and as [Profile.OperatingPoint] does.
func (p Plasticating) Run(r Running) (Plasticated, error) {
	var f input.Faults
	p.check(&f)
	p.Profile.checkRun(&f, p.Melt, r)
	if err := f.Err(); err != nil {
		return Plasticated{}, err
	}
	w := whole{Plasticating: &p, running: r}
	return w.solve()
}

// whole is a plasticating screw at a speed.
type whole struct {
	*Plasticating
	running Running
}

func (w *whole) solve() (s Plasticated, err error) {
	s.Throat = w.Throat
	z := w.Profile.Zones[0]
	solids, err := w.Profile.channel(z.DepthIn, z.Length).ConveySolids(w.Solids, w.running.Speed, 1)
	if err != nil {
		return Plasticated{}, err
	}
	if s.Friction = solids.Most; s.Friction < 1e-12 {
		return Plasticated{}, fmt.Errorf("%w: friction %.3g on the barrel hardly moves solids with %.3g on the screw", ErrNoFlow, w.Solids.BarrelFriction, w.Solids.ScrewFriction)
	}
	by := w.MoltenBy * w.Profile.Length()
	if s.Melting, err = w.Profile.MeltCapacity(w.Bed, w.Melt, w.running.Speed, by); err != nil && !errors.Is(err, ErrNoFlow) {
		return Plasticated{}, err
	}
	shallow := w.shallow()
	switch s.Metering, err = w.pumped(shallow); {
	case errors.Is(err, ErrNoFlow):
		s.Metering = 0
	case err != nil:
		return Plasticated{}, err
	}
	var from float64
	if s.Pump, from, err = w.pump(shallow, s.Metering); err != nil {
		return Plasticated{}, err
	}
	s.Metering = math.Min(s.Metering, s.Pump)
	blocked := w.running
	blocked.Heating = Isothermal // melt that stands still takes the barrel's temperature
	hot := 0.0
	for i := 0; w.Profile.Zones[i].Barrel <= w.Bed.Melting; i++ { // the last is hotter
		hot += w.Profile.Zones[i].Length
	}
	closed, err := w.Profile.tail(math.Min(from, hot)).March(w.Melt, blocked, math.Max(1e-15, 1e-6*s.Pump/w.Melt.Density))
	if err != nil {
		return Plasticated{}, err
	}
	s.ClosedPressure, s.ClosedThrust = closed.Pressure, closed.Thrust
	s.Output, s.Bottleneck = s.Pump, ByPump
	for _, c := range [...]struct {
		flow float64
		by   Bottleneck
	}{{s.Friction, ByFriction}, {s.Throat, ByThroat}, {w.Feeder, ByFeeder}} {
		if c.flow < s.Output && (c.by != ByFeeder || w.Feeder != 0) {
			s.Output, s.Bottleneck = c.flow, c.by
		}
	}
	if s.Sound = s.Output; s.Melting < s.Output {
		s.Sound, s.Bottleneck = s.Melting, ByMelting
	}
	if err := w.tell(&s, shallow); err != nil {
		return Plasticated{}, err
	}
	return s, nil
}

// tell fills in what happens along the screw at the output.
func (w *whole) tell(s *Plasticated, shallow float64) error {
	var err error
	s.Bed, err = w.Profile.MeltBed(w.Bed, w.Melt, w.running.Speed, s.Output)
	switch {
	case errors.Is(err, ErrPlugs), errors.Is(err, ErrNoFlow):
		s.Surge = append(s.Surge, err.Error())
		s.Bed = Melted{Left: 1}
		s.Filled = shallow
	case err != nil:
		return err
	default:
		s.Filled = w.full(&s.Bed, shallow)
	}
	carry := func() (Course, error) {
		return w.Profile.tail(s.Filled).fed(w.Die, w.Melt, w.running, s.Output/w.Melt.Density)
	}
	if s.Course, err = carry(); errors.Is(err, ErrNoFlow) && s.Filled != shallow { // pushed by so much that length costs pressure
		s.Filled = shallow
		s.Course, err = carry()
	}
	if err != nil {
		return err
	}
	s.Course.Start += s.Filled
	s.Power = s.Bed.Work + s.Course.Power
	for i := range s.Course.Stations {
		at := &s.Course.Stations[i]
		at.Position += s.Filled
		if s.Bed.Left < 1 {
			s.Power -= at.weight * at.channel * s.Bed.Solid(at.Position) // where the bed is, no melt is sheared in the channel but the film
		}
	}
	s.Filled = s.Course.Start
	s.Torque = s.Power / (2 * math.Pi * w.running.Speed)
	s.Surge = append(s.Surge, w.surge(s, shallow)...)
	s.Beyond = append(append(s.Beyond, s.Bed.Beyond...), s.Course.Beyond...)
	return nil
}

// surge tells what is known to make an output surge (common practice, no source).
func (w *whole) surge(s *Plasticated, shallow float64) (told []string) {
	if s.Bottleneck == ByThroat || s.Bottleneck == ByFriction {
		told = append(told, fmt.Sprintf("the %v limits the output: what comes in unsteadily goes out unsteadily", s.Bottleneck))
	}
	narrowest := w.Profile.ChannelAt(shallow).Depth <= w.Profile.least()*(1+1e-9) && shallow > s.Bed.From
	if left := s.Bed.Solid(shallow); narrowest && left > 0 && s.Bed.Left < 1 {
		told = append(told, fmt.Sprintf("where the screw gets shallowest, %.2g of the width is still solid: the bed may break up there", left))
	}
	if s.Bed.Left > 0 {
		told = append(told, "solids reach the tip and pass the die in lumps or block it")
	}
	return told
}

// Limits returns each of the capacities against the mass flow wanted, 1e-12 to 1e4
// [kg/s], feeder and throat and friction under one name, the feed.
func (p Plasticated) Limits(wanted float64) [3]material.Utilisation {
	feed := math.Min(p.Throat, p.Friction)
	method := "what the throat lets in"
	if p.Friction < p.Throat {
		method = "friction of the solids on barrel and screw"
	}
	return [3]material.Utilisation{
		{Part: "feed", Demand: wanted, Capacity: feed, Unit: "kg/s", Method: method},
		{Part: "melting", Demand: wanted, Capacity: p.Melting, Unit: "kg/s", Method: "film dragged off a solid bed"},
		{Part: "pump", Demand: wanted, Capacity: p.Pump, Unit: "kg/s", Method: "drag, pressure and leakage flow"},
	}
}
