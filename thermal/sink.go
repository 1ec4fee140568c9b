package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Sink is an extruded heat sink: a base with straight fins of one thickness on one
// face, the channels between them upright. The other face and the rims are not counted,
// nor does heat have to spread in the base: add [Plate.Spreading] for a small source.
type Sink struct {
	Width        float64 // across the fins, 1e-3 to 1 [m]
	Length       float64 // of a channel, its height in still air, 1e-3 to 1 [m]
	Fins         int     // 2 to 1000, with room for a gap of 0.1 mm between them
	FinHeight    float64 // from the base, 1e-3 to 1 [m]
	FinThickness float64 // 1e-5 to 0.1 [m]
	Conductivity float64 // of the fins, 0.1 to 1e4 [W/(m·K)]
	Emissivity   float64 // of the bare surface, 0 to 1 [-]
}

// hottestSink is the hottest the base of a sink may be [K]. Aluminium is soft there; and
// not far beyond, narrow channels choke: their air thickens faster than it
// is driven, and a hotter sink would lose less.
const hottestSink = 600

// SinkState is what a sink is at and what leaves it.
type SinkState struct {
	Temperature float64  // of the base [K]
	Loss        float64  // [W]
	Resistance  float64  // base to air, of that loss; 0 where there is none [K/W]
	Efficiency  float64  // of a fin [-]
	Beyond      []string // in words, where a law's stated range is left; nil inside it
}

// Validate reports the fields out of range.
func (s Sink) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Sink) check(f *input.Faults) {
	f.Between("thermal.Sink.Width", s.Width, 1e-3, 1, "m")
	f.Between("thermal.Sink.Length", s.Length, 1e-3, 1, "m")
	f.Count("thermal.Sink.Fins", s.Fins, 2, 1000)
	f.Between("thermal.Sink.FinHeight", s.FinHeight, 1e-3, 1, "m")
	f.Between("thermal.Sink.FinThickness", s.FinThickness, 1e-5, 0.1, "m")
	f.Between("thermal.Sink.Conductivity", s.Conductivity, 0.1, 1e4, "W/(m·K)")
	f.Between("thermal.Sink.Emissivity", s.Emissivity, 0, 1, "")
	if f.None() && !(s.Gap() >= 1e-4) {
		f.Refuse("thermal.Sink.Fins", float64(s.Fins), "", "so many that the gap between them, "+input.WithUnit(s.Gap(), "m")+", is at least 0.0001 m")
	}
}

// Gap returns the clear distance between two fins [m].
func (s Sink) Gap() float64 {
	n := float64(s.Fins)
	return (s.Width - n*s.FinThickness) / (n - 1)
}

// finArea counts both sides of the fins and their edges [m²].
func (s *Sink) finArea() float64 {
	return float64(s.Fins) * s.Length * (2*s.FinHeight + s.FinThickness)
}

// baseArea is what lies between the fins [m²].
func (s *Sink) baseArea() float64 { return float64(s.Fins-1) * s.Gap() * s.Length }

// radiatedHeat is that of the channels through their openings in front and at
// both ends, and of the outer sides of the outer fins with all edges [W].
func (s *Sink) radiatedHeat(base, air float64) float64 {
	gap, h, l := s.Gap(), s.FinHeight, s.Length
	opening := gap * (l + 2*h)
	ratio := math.Min(1, opening/((gap+2*h)*l))
	channels := float64(s.Fins-1) * opening * cavityEmissivity(s.Emissivity, ratio)
	outside := s.Emissivity * l * (2*h + float64(s.Fins)*s.FinThickness)
	return (channels + outside) * radiated(1, base, air)
}

// spread returns the heat [W] of the sink for each kelvin, and the efficiency of a fin, at a
// mean coefficient on all its area [W/(m²·K)].
func (s *Sink) spread(coefficient float64) (conductance, efficiency float64) {
	m := math.Sqrt(2 * coefficient / (s.Conductivity * s.FinThickness))
	efficiency = straight(m * (s.FinHeight + s.FinThickness/2))
	return coefficient * (s.baseArea() + efficiency*s.finArea()), efficiency
}

// Loss returns the heat [W] of the sink in still air by the temperatures of base and
// air [K]: channels by [ChannelNusselt], radiation out of them as of cavities, the fins by
// their efficiency under both. It is negative where the sink is the colder, never falls
// as the base gets warmer (beyond 600 K the air is taken as at 600 K), allocates nothing and
// checks nothing: ask it of a valid sink.
func (s Sink) Loss(base, air float64) float64 {
	if base == air {
		return 0
	}
	conductance, _ := s.spread(s.coefficient(base, air))
	return conductance * (base - air)
}

func sinkFilm(base, air float64) Fluid { return filmOf(math.Min(base, hottestSink), air) }

// elenbaas is E of the channels.
func (s *Sink) elenbaas(fluid Fluid, difference float64) float64 {
	gap := s.Gap()
	return fluid.Rayleigh(gap, difference) * gap / s.Length
}

// coefficient is that of convection and radiation on all the area [W/(m²·K)].
func (s *Sink) coefficient(base, air float64) float64 {
	fluid := sinkFilm(base, air)
	h := ChannelNusselt(s.elenbaas(fluid, base-air)) * fluid.Conductivity / s.Gap()
	return h + s.radiatedHeat(base, air)/((s.finArea()+s.baseArea())*(base-air))
}

// At returns what leaves the sink in still air, base at 200 to 600 [K], air at
// 200 to 473.15 [K]. Usual error: 15 % (common practice, no source); fins far shorter
// than the gap are wide is not what the law was made for.
func (s Sink) At(base, air float64) (SinkState, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Sink.At: base", base, lowestTemperature, hottestSink, "K")
	checkTemperature(&f, "thermal.Sink.At: air", air)
	if err := f.Err(); err != nil {
		return SinkState{}, err
	}
	return s.at(base, air), nil
}

func (s *Sink) at(base, air float64) SinkState {
	r := SinkState{Temperature: base, Efficiency: 1}
	if base == air {
		return r
	}
	conductance, efficiency := s.spread(s.coefficient(base, air))
	r.Loss, r.Resistance, r.Efficiency = conductance*(base-air), 1/conductance, efficiency
	e := s.elenbaas(sinkFilm(base, air), base-air)
	r.Beyond = beyond(r.Beyond, "upright fins", "Elenbaas number", e, 0.1, 1e5)
	r.Beyond = beyond(r.Beyond, "upright fins", "gap over height of the fins", s.Gap()/s.FinHeight, 0, 1)
	return r
}

// Steady returns the one state in which the sink gives off a power, 0 to 1e5 [W],
// in still air at 200 to 473.15 [K]. A power that needs more than 600 K is refused,
// with the most that may be asked.
func (s Sink) Steady(power, air float64) (SinkState, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Sink.Steady: power", power, 0, 1e5, "W")
	checkTemperature(&f, "thermal.Sink.Steady: air", air)
	if err := f.Err(); err != nil {
		return SinkState{}, err
	}
	most := s.Loss(hottestSink, air)
	if power > most {
		f.Refuse("thermal.Sink.Steady: power", power, "W", "up to "+input.WithUnit(most, "W")+", lost at 600 K")
		return SinkState{}, f.Err()
	}
	difference, err := root.Between(func(d float64) float64 { return s.Loss(air+d, air) - power },
		0, -power, hottestSink-air, most-power, 1e-13)
	if err != nil {
		return SinkState{}, err
	}
	return s.at(air+difference, air), nil
}

// Blow returns what a fan's volume flow, 1e-7 to 100 [m³/s], takes along the channels
// of the sink, base at 200 to 1200 and air at 200 to 473.15 [K]. All of the flow must pass
// between the fins: air that goes around them, as it does without a shroud, is not in
// it. Radiation is left out. Ranges and errors are those of [Duct.Blow]; the base
// and a cover over the fins' edges make each channel a rectangle, the cover taking no heat. A law made
// for sinks, Teertstra, Yovanovich and Culham (2000, from memory), differs by up to 8 % in the
// cases compared.
func (s Sink) Blow(flow, base, air float64) (Draught, error) {
	var f input.Faults
	s.check(&f)
	checkBlow(&f, "thermal.Sink.Blow", flow, base, air)
	if err := f.Err(); err != nil {
		return Draught{}, err
	}
	channel := Duct{Width: s.Gap(), Height: s.FinHeight, Length: s.Length}
	channels := float64(s.Fins - 1)
	speed := flow / (channels * channel.Width * channel.Height)
	f.Between("thermal.Sink.Blow: speed of the flow between the fins", speed, 1e-3, 1000, "m/s")
	if err := f.Err(); err != nil {
		return Draught{}, err
	}
	c := channel.convection(speed, filmOf(base, air))
	// The outer sides of the outer fins and the edges are not in the flow.
	m := math.Sqrt(2 * c.Coefficient / (s.Conductivity * s.FinThickness))
	wetted := s.baseArea() + straight(m*s.FinHeight)*2*channels*s.FinHeight*s.Length
	return channel.draught(c, speed, flow, wetted, air), nil
}
