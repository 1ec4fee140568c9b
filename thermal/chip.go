package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Chip is a bridge on a sink that takes time to warm. Sink and case are one body; the junction
// follows it at once, as it does within some tenths of a second.
type Chip struct {
	Bridge   Bridge
	Path     Path    // with a sink, SinkToAir at least 1e-3 K/W
	Capacity float64 // mass times specific heat of the sink with all on it; aluminium 900 J/(kg·K); 1e-3 to 1e9 [J/K]
}

// Validate reports the fields out of range.
func (c Chip) Validate() error {
	var f input.Faults
	c.check(&f)
	return f.Err()
}

func (c *Chip) check(f *input.Faults) {
	c.Bridge.check(f)
	c.Path.check(f)
	if f.None() && c.Path.SinkToAir < leastResistance {
		f.Refuse("thermal.Chip.Path.SinkToAir", c.Path.SinkToAir, "K/W", "at least "+input.WithUnit(leastResistance, "K/W"))
	}
	checkCapacity(f, "thermal.Chip.Capacity", c.Capacity)
}

// inside is the resistance between junction and sink.
func (c *Chip) inside() float64 { return c.Path.JunctionToCase + c.Path.CaseToSink }

func (c *Chip) cooling() float64 { return 1 / (c.Path.SinkToAir * c.Capacity) }

// soon reports a chip that would run away on a sink kept cold.
func (c *Chip) soon(current float64) bool {
	return c.inside()*c.Bridge.TemperatureCoefficient*c.Bridge.conductionAt25(current) >= 1
}

// loss is that at a temperature of the sink, once the junction has followed.
func (c *Chip) loss(current, sink float64) (loss, slope float64) {
	b := &c.Bridge
	slope = b.TemperatureCoefficient * b.conductionAt25(current)
	follow := 1 - c.inside()*slope
	return b.loss(current, sink).Total / follow, slope / follow
}

// lump is the sink at a temperature of its own.
func (c *Chip) lump(current, sink, ambient float64) lump {
	loss, slope := c.loss(current, sink)
	return lump{
		rate: (loss - (sink-ambient)/c.Path.SinkToAir) / c.Capacity,
		fall: (1 - c.Path.SinkToAir*slope) * c.cooling(),
	}
}

func (c *Chip) runaway(current float64) error {
	return &RunawayError{Part: "bridge", Current: current, Limit: math.Min(current, c.Bridge.runaway(c.Path.Total()))}
}

// TimeConstant returns that of the warming at a current, rms a phase [A], in [s]: longer than
// SinkToAir·Capacity, as the loss grows with it. From the runaway current on there is none
// and the error is a [*RunawayError].
func (c Chip) TimeConstant(current float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	checkCurrent(&f, "thermal.Chip.TimeConstant: current", current)
	if err := f.Err(); err != nil {
		return 0, err
	}
	fall := c.lump(current, onResistanceAt, onResistanceAt).fall
	if c.soon(current) || fall <= 0 {
		return 0, c.runaway(current)
	}
	return 1 / fall, nil
}

// After returns the temperature [K] of the junction, on a sink at first at start, at a time, 0 to
// 1e12 [s], of a current, rms a phase [A], in air at ambient [K]; beyond the runaway current too,
// until it is past 1e6 K, where the error is [ErrNoBalance], but not where the junction runs away
// on a sink kept cold, a [*RunawayError].
func (c Chip) After(time, current, start, ambient float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	checkTime(&f, "thermal.Chip.After: time", time)
	checkCurrent(&f, "thermal.Chip.After: current", current)
	checkTemperature(&f, "thermal.Chip.After: start", start)
	checkTemperature(&f, "thermal.Chip.After: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	if c.soon(current) {
		return 0, c.runaway(current)
	}
	loss, slope := c.loss(current, start)
	rise := c.lump(current, start, ambient).after(time)
	t := start + rise + c.inside()*(loss+slope*rise)
	if err := tooFar("bridge junction", t); err != nil {
		return 0, err
	}
	return t, nil
}

// TimeUntil returns how long [s] the junction takes to limit at a current, rms a phase [A], on
// a sink at first at start, in air at ambient [K]; 0 where it jumps there at once. Where it
// never comes there, or not in 1e12 s, the error is [ErrNeverReached].
func (c Chip) TimeUntil(limit, current, start, ambient float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	checkTemperature(&f, "thermal.Chip.TimeUntil: limit", limit)
	checkCurrent(&f, "thermal.Chip.TimeUntil: current", current)
	checkTemperature(&f, "thermal.Chip.TimeUntil: start", start)
	checkTemperature(&f, "thermal.Chip.TimeUntil: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	rise := limit - c.inside()*c.Bridge.loss(current, limit).Total - start
	if c.soon(current) || rise <= 0 {
		return 0, nil
	}
	return untilLimit("bridge junction", c.lump(current, start, ambient).until(rise), limit)
}

// DutyCurrent returns the largest rms current of a phase while it runs [A], at most MostCurrent, at
// which a duty keeps the junction within limit [K] in air at ambient [K]. At rest the chip
// draws its supply current still. Where that alone is too much the error is ErrTooHot.
func (c Chip) DutyCurrent(d Duty, limit, ambient float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	d.check(&f)
	checkTemperature(&f, "thermal.Chip.DutyCurrent: limit", limit)
	checkTemperature(&f, "thermal.Chip.DutyCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	steady, err := c.Bridge.LargestCurrent(limit, ambient, c.Path)
	if err != nil || steady == 0 || d.Off == 0 {
		return steady, err
	}
	quiet := ambient + c.Path.SinkToAir*c.Bridge.Supply*c.Bridge.Quiescent // sink after a long rest
	short := func(current float64) float64 {
		// The sink may be this much warmer than after a long rest when the junction is at limit.
		room := limit - c.inside()*c.Bridge.loss(current, limit).Total - quiet
		if room <= 0 {
			return 1 // more than any current that can be borne
		}
		start, rise := quiet+room*math.Exp(-c.cooling()*d.Off), room*-math.Expm1(-c.cooling()*d.Off)
		return math.Min(1, d.On/c.lump(current, start, ambient).until(rise)-1)
	}
	return crossing(short, steady)
}
