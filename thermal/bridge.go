package thermal

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Bridge is the chip that drives a two-phase motor: two full bridges of four
// switches each, which chop a supply into sinusoidal currents a quarter period
// apart (micro-stepping). The current of a phase always passes two switches,
// and one of the two half bridges of a phase chops at a time.
//
// Standing still changes who is hot, not how hot the chip is: with one phase at
// its peak and the other at zero the conduction loss of that bridge is twice its
// running mean, the sum of both the same, since sin² + cos² = 1; switching and
// dead-time loss are 0.79 of their mean there, 1.11 with both phases alike. Full steps with
// both phases always at the peak have that peak as rms: ask with current = peak,
// and the conduction loss is twice that of micro-steps of the same peak (the
// two losses that go with mean current then come out 10 % low).
//
// Heat of the sense resistors, where they are outside the chip, is not in it.
type Bridge struct {
	OnResistance           float64 // of one switch at 25 °C, mean of high and low side, 1e-4 to 100 [Ω]
	TemperatureCoefficient float64 // of OnResistance per kelvin above 25 °C, 0 to 0.01; silicon 0.004 to 0.008, typical, from memory [1/K]
	Supply                 float64 // 1 to 1000 [V]
	RiseTime, FallTime     float64 // of the output voltage, each 0 to 1e-4 [s]
	ChopFrequency          float64 // 0 to 1e7, a period must have room for all edges and dead times [Hz]
	Quiescent              float64 // supply current of the chip itself, 0 to 1 [A]
	DiodeDrop              float64 // of a body diode, 0 to 5 [V]
	DeadTime               float64 // between one switch off and the other on, 0 to 1e-4 [s]
}

// Validate reports the fields out of range.
func (b Bridge) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (b *Bridge) check(f *input.Faults) {
	f.Between("thermal.Bridge.OnResistance", b.OnResistance, 1e-4, 100, "Ω")
	f.Between("thermal.Bridge.TemperatureCoefficient", b.TemperatureCoefficient, 0, 0.01, "1/K")
	f.Between("thermal.Bridge.Supply", b.Supply, 1, 1000, "V")
	f.Between("thermal.Bridge.RiseTime", b.RiseTime, 0, 1e-4, "s")
	f.Between("thermal.Bridge.FallTime", b.FallTime, 0, 1e-4, "s")
	f.Between("thermal.Bridge.ChopFrequency", b.ChopFrequency, 0, 1e7, "Hz")
	f.Between("thermal.Bridge.Quiescent", b.Quiescent, 0, 1, "A")
	f.Between("thermal.Bridge.DiodeDrop", b.DiodeDrop, 0, 5, "V")
	f.Between("thermal.Bridge.DeadTime", b.DeadTime, 0, 1e-4, "s")
	if busy := b.RiseTime + b.FallTime + 2*b.DeadTime; busy*b.ChopFrequency > 1 && f.None() {
		f.Refuse("thermal.Bridge.ChopFrequency", b.ChopFrequency, "Hz",
			"up to "+input.WithUnit(1/busy, "Hz")+", the edges and dead times fill a period there")
	}
}

// BridgeLoss is the heat of a chip by its cause, both phases together.
type BridgeLoss struct {
	Conduction float64 // current through the switches [W]
	Switching  float64 // voltage and current at once while an output moves [W]
	DeadTime   float64 // current through a body diode while both switches are off [W]
	Quiescent  float64 // what the chip itself draws [W]
	Total      float64 // [W]
}

// BridgeState is what a chip settles to.
type BridgeState struct {
	Junction       float64    // temperature [K]
	Loss           BridgeLoss // at that temperature
	RunawayCurrent float64    // rms a phase, from which on there is no steady state, at most MostCurrent [A]
	Beyond         []string   // in words, where the junction leaves the range of the resistance law; nil inside it
}

const (
	onResistanceAt = 298.15                   // 25 °C, where data sheets state it [K]
	meanOfSine     = 2 * math.Sqrt2 / math.Pi // mean of |i| over rms of a sine [-]
)

// conduction is the heat [W] of one switch that carries an rms current [A].
func conduction(resistance, rms float64) float64 { return resistance * rms * rms }

// transitions is the heat [W] of a half bridge whose output rises and falls once
// a period under an inductive load: ½·V·I in the mean, for as long as it moves.
func transitions(supply, current, rise, fall, frequency float64) float64 {
	return 0.5 * supply * current * (rise + fall) * frequency
}

// freewheel is the heat [W] of a half bridge whose body diode carries the
// current for two dead times a period.
func freewheel(drop, current, dead, frequency float64) float64 {
	return 2 * drop * current * dead * frequency
}

// growth is the hot resistance over that at 25 °C [-].
func (b *Bridge) growth(junction float64) float64 {
	return 1 + b.TemperatureCoefficient*(junction-onResistanceAt)
}

// conductionAt25 is the conduction loss of all four switches that carry current,
// had they the resistance of 25 °C [W].
func (b *Bridge) conductionAt25(current float64) float64 {
	return 4 * conduction(b.OnResistance, current)
}

// perAmpere returns the two losses that go with the mean current of both phases,
// for each ampere of rms [W/A].
func (b *Bridge) perAmpere() (switching, deadTime float64) {
	return 2 * transitions(b.Supply, meanOfSine, b.RiseTime, b.FallTime, b.ChopFrequency),
		2 * freewheel(b.DiodeDrop, meanOfSine, b.DeadTime, b.ChopFrequency)
}

func (b *Bridge) loss(current, junction float64) (l BridgeLoss) {
	switching, deadTime := b.perAmpere()
	l.Conduction = b.conductionAt25(current) * b.growth(junction)
	l.Switching, l.DeadTime, l.Quiescent = switching*current, deadTime*current, b.Supply*b.Quiescent
	l.Total = l.Conduction + (l.Switching + l.DeadTime + l.Quiescent)
	return l
}

// Loss returns the heat of the chip at a current, rms a phase, 0 to
// MostCurrent [A], and a junction temperature of 200 to 473.15 [K]:
//
//	conduction  2 switches a phase, R(T)·I²
//	switching   1 half bridge a phase, ½·V·mean|i|·(t_rise + t_fall)·f
//	dead time   1 half bridge a phase, 2·V_f·mean|i|·t_dead·f
//	quiescent   V·I_q
//
// with mean|i| = 2·I_peak/π of a sine. A decay mode that switches both half
// bridges of a phase doubles the second and third, as does twice ChopFrequency.
// Left out are the ripple of the chopped current and the reverse recovery of the
// diodes, which add, and that a switch rests while its diode conducts, which
// takes off.
//
// Source: P. Millett, Calculating Motor Driver Power Dissipation, Texas
// Instruments application report SLVA504 (2012), 1.1 and 1.2, for conduction and
// switching; dead time: common practice, no source.
func (b Bridge) Loss(current, junction float64) (BridgeLoss, error) {
	var f input.Faults
	b.check(&f)
	checkCurrent(&f, "thermal.Bridge.Loss: current", current)
	checkTemperature(&f, "thermal.Bridge.Loss: junction", junction)
	if err := f.Err(); err != nil {
		return BridgeLoss{}, err
	}
	return b.loss(current, junction), nil
}

// Steady returns the state the chip settles to at a current, rms a phase [A], in
// air at ambient [K]. Where there is none the error is a [*RunawayError].
//
// The resistance of a switch is taken as linear in temperature; a real one bends
// upwards, so draw the line through 25 °C and the temperature expected, from the
// curve of the data sheet.
func (b Bridge) Steady(current, ambient float64, path Path) (s BridgeState, err error) {
	var f input.Faults
	b.check(&f)
	path.check(&f)
	checkCurrent(&f, "thermal.Bridge.Steady: current", current)
	checkTemperature(&f, "thermal.Bridge.Steady: ambient", ambient)
	if err = f.Err(); err != nil {
		return s, err
	}
	err = b.settle(&s, current, current, ambient, path.Total())
	return s, err
}

// settle finds the state by two currents: rms, of the conduction, and the sine's rms that
// has the mean amount of the others.
func (b *Bridge) settle(s *BridgeState, rms, sine, ambient, total float64) error {
	at25 := b.conductionAt25(rms)
	feedback := total * b.TemperatureCoefficient * at25
	if feedback >= 1 {
		return &RunawayError{Part: "bridge", Current: rms, Limit: b.runaway(total)}
	}
	switching, deadTime := b.perAmpere()
	l := &s.Loss
	l.Switching, l.DeadTime, l.Quiescent = switching*sine, deadTime*sine, b.Supply*b.Quiescent
	others := l.Switching + l.DeadTime + l.Quiescent
	s.Junction = ambient + total*(at25*b.growth(ambient)+others)/(1-feedback)
	l.Conduction = at25 * b.growth(s.Junction)
	l.Total = l.Conduction + others
	s.RunawayCurrent = b.runaway(total)
	s.Beyond = beyondLine("junction", s.Junction, "on-resistance taken as linear")
	return nil
}

// RunawayCurrent returns the rms current of a phase [A] from which on the chip
// has no steady temperature: I = 1/√(4·R₂₅·a·θ), whatever the ambient. It is
// MostCurrent where that is less, as without a temperature coefficient.
func (b Bridge) RunawayCurrent(path Path) (float64, error) {
	var f input.Faults
	b.check(&f)
	path.check(&f)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return b.runaway(path.Total()), nil
}

func (b *Bridge) runaway(total float64) float64 {
	return runawayCurrent(4 * b.OnResistance * b.TemperatureCoefficient * total)
}

// LargestCurrent returns the rms current of a phase [A] at which the junction
// reaches limit [K] in air at ambient [K], the positive root of
//
//	4·R(limit)·I² + (switching + dead time per ampere)·I = (limit − ambient)/θ − V·I_q
//
// It is below RunawayCurrent. Where the chip's own supply current makes it
// hotter than limit the error is ErrTooHot.
func (b Bridge) LargestCurrent(limit, ambient float64, path Path) (float64, error) {
	var f input.Faults
	b.check(&f)
	path.check(&f)
	checkTemperature(&f, "thermal.Bridge.LargestCurrent: limit", limit)
	checkTemperature(&f, "thermal.Bridge.LargestCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return b.largest(limit, ambient, path.Total(), b.growth(limit))
}

// largest is the current at which the chip's heat takes the junction to limit, with so much
// growth of the resistance there.
func (b *Bridge) largest(limit, ambient, total, growth float64) (float64, error) {
	quiescent := b.Supply * b.Quiescent
	room := (limit-ambient)/total - quiescent
	if room < 0 {
		return 0, fmt.Errorf("%w: bridge junction at %.6g °C, limit %.6g °C", ErrTooHot,
			material.ToCelsius(ambient+quiescent*total), material.ToCelsius(limit))
	}
	return b.currentOf(room, growth), nil
}

// currentOf is the rms current that makes so much heat besides the quiescent [W].
func (b *Bridge) currentOf(heat, growth float64) float64 {
	if heat == 0 {
		return 0
	}
	switching, deadTime := b.perAmpere()
	linear, square := switching+deadTime, b.conductionAt25(1)*growth
	// This form of the root does not cancel when the linear term rules.
	return 2 * heat / (linear + math.Sqrt(linear*linear+4*square*heat))
}

// LargestResistance returns the resistance from junction to air [K/W] that
// brings the junction just to limit [K] at a current, rms a phase [A], in air at
// ambient [K]: the sink to look for, less the links before it. It is at most
// 1e4 K/W. Where ambient is not below limit the error is ErrTooHot.
func (b Bridge) LargestResistance(current, limit, ambient float64) (float64, error) {
	var f input.Faults
	b.check(&f)
	checkCurrent(&f, "thermal.Bridge.LargestResistance: current", current)
	checkTemperature(&f, "thermal.Bridge.LargestResistance: limit", limit)
	checkTemperature(&f, "thermal.Bridge.LargestResistance: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return largestResistance("bridge junction", b.loss(current, limit).Total, limit, ambient)
}

// Utilisation compares a current, rms a phase [A], with the largest that keeps
// the junction at limit [K] in air at ambient [K]. Where even no current
// is cool enough the capacity is 0. It errs on arguments out of range.
func (b Bridge) Utilisation(current, limit, ambient float64, path Path) (material.Utilisation, error) {
	largest, err := b.LargestCurrent(limit, ambient, path)
	var f input.Faults
	checkCurrent(&f, "thermal.Bridge.Utilisation: current", current)
	if !errors.Is(err, ErrTooHot) {
		f.Add(err)
	}
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{
		Part: "driver junction", Demand: current, Capacity: largest, Unit: "A",
		Method: "heat balance of the chip, on-resistance linear in temperature",
	}, nil
}
