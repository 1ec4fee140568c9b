package thermal

import (
	"errors"
	"fmt"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// ErrNoSink is what errors.Is finds when a sink is not enough however long.
var ErrNoSink = errors.New("no length of this sink is enough")

// OnSink is a bridge whose heat leaves by a [Sink] whose resistance is not a number but
// follows from its temperature, its fan and the air; and, if there is one, by a board.
type OnSink struct {
	Bridge Bridge
	Before float64 // from junction to base of the sink, spreading in the base included, 1e-3 to 1e4 [K/W]
	Sink   Sink
	Board  float64 // the other way from junction to air, 1e-3 to 1e4; 0 if there is none [K/W]
}

// Validate reports the fields out of range.
func (o OnSink) Validate() error {
	var f input.Faults
	o.check(&f)
	return f.Err()
}

func (o *OnSink) check(f *input.Faults) {
	o.Bridge.check(f)
	o.Sink.check(f)
	f.Between("thermal.OnSink.Before", o.Before, leastResistance, mostResistance, "K/W")
	if o.Board != 0 {
		f.Between("thermal.OnSink.Board", o.Board, leastResistance, mostResistance, "K/W")
	}
}

// checkFlow asks Blow itself what flow it takes; 0 is still air.
func (o *OnSink) checkFlow(f *input.Faults, flow, air float64) {
	if flow != 0 && f.None() {
		_, err := o.Sink.Blow(flow, air, air)
		f.Add(err)
	}
}

// lost is the heat of the sink [W]. Blown air and still air do not add up: the greater counts
// (common practice, no source), so that a breath of a fan is not worse than none.
func (o *OnSink) lost(base, air, flow float64) float64 {
	still := o.Sink.Loss(base, air)
	if flow == 0 || base <= air {
		return still
	}
	d, _ := o.Sink.Blow(flow, base, air)
	return max(still, d.Conductance*(base-air))
}

// overBoard is the heat of the other way [W].
func (o *OnSink) overBoard(junction, air float64) float64 {
	if o.Board == 0 {
		return 0
	}
	return (junction - air) / o.Board
}

// heat is what leaves by both ways at a junction temperature not below the air's [W].
func (o *OnSink) heat(junction, air, flow float64) (float64, error) {
	if junction == air {
		return 0, nil
	}
	base, err := root.Find(func(base float64) float64 {
		return (junction-base)/o.Before - o.lost(base, air, flow)
	}, air, junction, 1e-14)
	if err != nil {
		return 0, err
	}
	return o.lost(base, air, flow) + o.overBoard(junction, air), nil
}

// OnSinkState is what a chip and its sink settle to.
type OnSinkState struct {
	Junction  float64    // [K]
	Base      float64    // of the sink [K]
	Loss      BridgeLoss // of the chip
	BoardHeat float64    // the part of it that leaves by the board [W]
	Beyond    []string   // in words, where a law's stated range is left; nil inside it
}

// Steady returns the state at a current, rms a phase [A], with a fan's flow through the sink, 0 for
// still air or as [Sink.Blow] takes it [m³/s], in air at 200 to 473.15 [K]. Where there is none with
// the base up to 600 K the error is [ErrNoBalance].
func (o OnSink) Steady(current, flow, ambient float64) (OnSinkState, error) {
	var f input.Faults
	o.check(&f)
	checkCurrent(&f, "thermal.OnSink.Steady: current", current)
	checkTemperature(&f, "thermal.OnSink.Steady: ambient", ambient)
	o.checkFlow(&f, flow, ambient)
	if err := f.Err(); err != nil {
		return OnSinkState{}, err
	}
	// Every base tells its junction, so that one unknown is left. A chip that warms up stops
	// at the first base at which as much leaves as is made; beyond, the loss may overtake
	// again, as a hot flow is slower to turn over.
	surplus := func(base float64) float64 {
		top := o.lost(base, ambient, flow)
		junction := base + o.Before*top
		return top + o.overBoard(junction, ambient) - o.Bridge.loss(current, junction).Total
	}
	const parts = 40
	cold, low := ambient, surplus(ambient)
	hot, high := cold, low
	for i := 1; high < 0 && i <= parts; i++ {
		cold, low = hot, high
		hot = ambient + (hottestSink-ambient)*float64(i)/parts
		high = surplus(hot)
	}
	if high < 0 {
		return OnSinkState{}, fmt.Errorf("%w: bridge at %.6g A rms makes more than leaves a sink of 600 K", ErrNoBalance, current)
	}
	base, err := root.Between(surplus, cold, low, hot, high, 1e-14)
	if err != nil {
		return OnSinkState{}, err
	}
	s := OnSinkState{Base: base, Junction: base + o.Before*o.lost(base, ambient, flow)}
	s.Loss, s.BoardHeat = o.Bridge.loss(current, s.Junction), o.overBoard(s.Junction, ambient)
	s.Beyond = o.Sink.at(base, ambient).Beyond
	if flow != 0 && base > ambient {
		if d, _ := o.Sink.Blow(flow, base, ambient); d.Conductance*(base-ambient) >= o.Sink.Loss(base, ambient) {
			s.Beyond = d.Beyond // the law that counts, see lost
		}
	}
	s.Beyond = beyond(s.Beyond, "on-resistance", "junction [K]", s.Junction, lowestTemperature, highestTemperature)
	return s, nil
}

// LargestCurrent returns the rms current of a phase [A] at which the junction comes to limit [K],
// with a fan's flow through the sink, 0 for still air [m³/s], in air at ambient [K]. Where the
// chip is too hot without any current the error is ErrTooHot.
func (o OnSink) LargestCurrent(flow, limit, ambient float64) (float64, error) {
	var f input.Faults
	o.check(&f)
	checkTemperature(&f, "thermal.OnSink.LargestCurrent: limit", limit)
	checkTemperature(&f, "thermal.OnSink.LargestCurrent: ambient", ambient)
	o.checkFlow(&f, flow, ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return o.largest(flow, limit, ambient)
}

func (o *OnSink) largest(flow, limit, ambient float64) (float64, error) {
	quiescent := o.Bridge.Supply * o.Bridge.Quiescent
	if limit < ambient {
		return 0, fmt.Errorf("%w: bridge junction in surroundings of %.6g °C, limit %.6g °C", ErrTooHot,
			material.ToCelsius(ambient), material.ToCelsius(limit))
	}
	heat, err := o.heat(limit, ambient, flow)
	if err != nil {
		return 0, err
	}
	if heat < quiescent {
		return 0, fmt.Errorf("%w: bridge draws %.6g W, %.6g W leave it at %.6g °C", ErrTooHot,
			quiescent, heat, material.ToCelsius(limit))
	}
	return o.Bridge.currentOf(heat-quiescent, o.Bridge.growth(limit)), nil
}

// FanGain is what a fan buys.
type FanGain struct {
	Still float64 // largest current without, rms a phase [A]
	Blown float64 // and with it [A]
}

// Fan returns the largest currents of the chip in still air and with a fan's flow [m³/s] all of
// which passes between the fins, at a limit of the junction in air at ambient [K]. Errors are those of
// LargestCurrent. Heat goes with the square of the current, and some of the way is inside the
// chip: a fan that halves the sink's resistance never buys √2 in current.
func (o OnSink) Fan(flow, limit, ambient float64) (g FanGain, err error) {
	blown, err := o.LargestCurrent(flow, limit, ambient)
	if err != nil {
		return g, err
	}
	still, err := o.LargestCurrent(0, limit, ambient)
	if err != nil {
		return g, err
	}
	return FanGain{Still: still, Blown: blown}, nil
}

// ShortestSink returns the sink cut to the length, 1 mm to 1 m, that a current, rms a phase [A],
// needs for a limit of the junction in air at ambient [K], with a fan's flow, 0 for still air [m³/s]; its own Length
// does not matter. Where 1 m is not enough the error is [ErrNoSink], where no sink is ErrTooHot.
func (o OnSink) ShortestSink(current, flow, limit, ambient float64) (Sink, error) {
	const least, most = 1e-3, 1.
	o.Sink.Length = most
	var f input.Faults
	o.check(&f)
	checkCurrent(&f, "thermal.OnSink.ShortestSink: current", current)
	checkTemperature(&f, "thermal.OnSink.ShortestSink: limit", limit)
	checkTemperature(&f, "thermal.OnSink.ShortestSink: ambient", ambient)
	o.checkFlow(&f, flow, ambient)
	if err := f.Err(); err != nil {
		return Sink{}, err
	}
	if limit <= ambient {
		_, err := largestResistance("bridge junction", 0, limit, ambient)
		return Sink{}, err
	}
	loss := o.Bridge.loss(current, limit).Total
	var failed error
	spare := func(length float64) float64 {
		o.Sink.Length = length
		heat, err := o.heat(limit, ambient, flow)
		if err != nil {
			failed = err
		}
		return heat - loss
	}
	long := spare(most)
	if long < 0 && failed == nil {
		return Sink{}, fmt.Errorf("%w: at %.6g °C %.6g W leave 1 m of it, the bridge makes %.6g W", ErrNoSink,
			material.ToCelsius(limit), long+loss, loss)
	}
	length := least
	if short := spare(least); short < 0 && failed == nil {
		length, failed = root.Between(spare, least, short, most, long, 1e-12)
	}
	if failed != nil {
		return Sink{}, failed
	}
	o.Sink.Length = length
	return o.Sink, nil
}
