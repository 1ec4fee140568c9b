package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Held is melt under pressure between a screw that has stopped and its nozzle, which
// gives way as one spring: what it was compressed by oozes out.
//
// Caution: a stopped machine is not a safe one. What is told here is a mean course, and no
// leave to touch a nozzle or open a die: plugged, it holds its pressure for hours, and melt
// under it burns, and spits where it holds gas.
//
// Nothing flows back along the channel here. It does, so that a nozzle oozes less than
// this and the pressure falls faster. Gas counts far more than melt: 1 cm³ of it at
// 0.1 MPa gives 30 MPa as much way as 30 cm³ of melt, so that a channel but partly full
// is not described by the melt's compressibility. (Common practice, no source.)
type Held struct {
	Pressure   float64 // when the screw stops, above that outside, 1 to 1e9 [Pa]
	Compliance float64 // volume let out for each pascal, such as [Room.Compliance], 1e-24 to 1e-3 [m³/Pa]
}

// Validate reports fields out of range.
func (h Held) Validate() error {
	var f input.Faults
	h.check(&f)
	return f.Err()
}

func (h *Held) check(f *input.Faults) {
	f.Between("screw.Held.Pressure", h.Pressure, 1, 1e9, "Pa")
	f.Between("screw.Held.Compliance", h.Compliance, 1e-24, 1e-3, "m³/Pa")
}

// Volume returns what oozes out in the end, Compliance × Pressure [m³].
func (h Held) Volume() float64 { return h.Compliance * h.Pressure }

// Room is where melt is held: ahead of the screw and in as much of the channel as is
// full.
type Room struct {
	Volume          float64 // filled with melt, 1e-12 to 1 [m³]
	Compressibility float64 // of the melt, 1e-12 to 1e-6, such as MeanCompressibility; 1e-9 ± 40 % of any melt, common practice, no source [1/Pa]
	Widening        float64 // of the walls, such as [Barrel.Widening], 0 to 1e-6 [1/Pa]
}

// Compliance returns Volume·(Compressibility + Widening) [m³/Pa]. It errs on invalid input.
func (r Room) Compliance() (float64, error) {
	var f input.Faults
	f.Between("screw.Room.Volume", r.Volume, 1e-12, 1, "m³")
	f.Between("screw.Room.Compressibility", r.Compressibility, 1e-12, 1e-6, "1/Pa")
	f.Between("screw.Room.Widening", r.Widening, 0, 1e-6, "1/Pa")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return r.Volume * (r.Compressibility + r.Widening), nil
}

// MeanCompressibility returns by how much of its volume a melt expands when it is let
// out from a pressure above atmospheric, 1e3 to 1e9 [Pa], at a temperature [K], per pascal:
// (ρ(p)/ρ(0) − 1)/p, by its law of pressure, volume and temperature [1/Pa]; and in words
// where that was not fitted. It errs as [material.Polymer.DensityAt]. To
// 30 MPa the melt's own compressibility falls by a fifth to a third and this mean by
// half as much, which [Held] takes as constant.
func MeanCompressibility(p material.Polymer, temperature, pressure float64) (mean float64, beyond []string, err error) {
	var f input.Faults
	f.Between("screw.MeanCompressibility: pressure", pressure, 1e3, 1e9, "Pa")
	free, _, err := p.DensityAt(temperature, 0)
	f.Add(err)
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	held, beyond, err := p.DensityAt(temperature, pressure)
	if err != nil {
		return 0, nil, err
	}
	return (held/free - 1) / pressure, beyond, nil
}

// TurnBack is how far a screw turns back to take the pressure off.
type TurnBack struct {
	Turns  float64  // in all: Melt, and the gear's backlash [-]
	Melt   float64  // that the screw itself turns [-]
	Beyond []string // in words, where it is more than is wise; nil if not
}

// TurnBack returns how far the screw turns back until the melt is at no pressure, from
// what it displaces in a turn, such as the OpenFlow of a [Conveyance] over its speed,
// 1e-15 to 1 [m³], and the gear's backlash at the screw, 0 to 2π [rad]. It errs on
// invalid input.
//
//	turns = C·p₀/volume a turn + backlash/2π
//
// It is the least: leakage, slack of the solid bed and what has oozed out meanwhile are
// left out, of which the last takes from it. More than one turn empties the tip and draws
// in air, so that the next start comes late. (Common practice, no source.)
func (h Held) TurnBack(perTurn, backlash float64) (TurnBack, error) {
	var f input.Faults
	h.check(&f)
	f.Between("screw.Held.TurnBack: volume a turn", perTurn, 1e-15, 1, "m³")
	f.Between("screw.Held.TurnBack: backlash", backlash, 0, 2*math.Pi, "rad")
	if err := f.Err(); err != nil {
		return TurnBack{}, err
	}
	t := TurnBack{Melt: h.Volume() / perTurn}
	t.Turns = t.Melt + backlash/(2*math.Pi)
	if t.Melt > 1 {
		t.Beyond = append(t.Beyond, fmt.Sprintf("%.3g turns back: more than one empties the tip and draws in air", t.Melt))
	}
	return t, nil
}
