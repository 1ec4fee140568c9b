package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// CopperArea returns the area of board and copper [m²] that a chip needs, one
// face counted, for a resistance from its case to the air of 1 to 1000 [K/W], θ(JA) wanted less
// θ(JC) given: 0.05 K·m²/W over it. That is h = 10 W/(m²·K) on both faces of a board
// that spreads heat without loss: the least there is. One layer of copper does not spread so well;
// see [Board].
//
// Source: rule 1 of a maker's application report on thermal design by insight, 77.5 in² over
// θ, as quoted by its readers; the report itself not seen.
func CopperArea(resistance float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.CopperArea: resistance", resistance, 1, 1000, "K/W")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 77.5 * inch * inch / resistance, nil
}

const (
	inch              = 0.0254     // [m]
	mil               = inch / 1e3 // [m]
	copperResistivity = 1.724e-8   // of annealed copper at 20 °C, IEC 60028 (from memory) [Ω·m]
)

// Board is a board around a chip as a round fin: the copper spreads the heat, both faces
// lose it. A rectangular board is taken as a round one of its area (within some percent while no side
// is twice the other, from memory).
type Board struct {
	Source      float64 // radius of the chip's pad, 1e-4 to 0.1 [m]
	Radius      float64 // of the board, at least 1 % more than Source, to 1 [m]
	Sheet       float64 // conductivity times thickness, summed over the layers; of full copper 390·t, 1e-6 to 10 [W/K]
	Coefficient float64 // of both faces together, radiation included, 0.1 to 1000 [W/(m²·K)]
}

// Validate reports the fields out of range.
func (b Board) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (b *Board) check(f *input.Faults) {
	f.Between("thermal.Board.Source", b.Source, 1e-4, 0.1, "m")
	f.Between("thermal.Board.Radius", b.Radius, 1e-4, 1, "m")
	f.Between("thermal.Board.Sheet", b.Sheet, 1e-6, 10, "W/K")
	f.Between("thermal.Board.Coefficient", b.Coefficient, 0.1, 1000, "W/(m²·K)")
	if f.None() && !(b.Radius >= 1.01*b.Source) {
		f.Refuse("thermal.Board.Radius", b.Radius, "m", "at least "+input.WithUnit(1.01*b.Source, "m")+", 1 % more than Source")
	}
}

// Resistance returns that from the chip's pad to the air [K/W]: the ring around
// it as a fin, by Bessel functions, beside the pad's own share of the faces.
//
// Source: Çengel and Ghajar, 5th ed., table 3-3 (its number from memory), for the ring.
func (b Board) Resistance() (float64, error) {
	var f input.Faults
	b.check(&f)
	if err := f.Err(); err != nil {
		return 0, err
	}
	m := math.Sqrt(b.Coefficient / b.Sheet)
	ring := (b.Radius - b.Source) * (b.Radius + b.Source)
	return 1 / (math.Pi * b.Coefficient * (ring*annular(m*b.Source, m*b.Radius) + b.Source*b.Source)), nil
}

// Vias returns the resistance [K/W] through a board of so many plated holes, 1 to
// 10000, side by side, by the copper of their walls alone: hole as drilled, 1e-4 to 5e-3 [m],
// wall less than half of that, 1e-6 to 2e-4 [m], thickness of the board 1e-5 to
// 0.01 [m] and conductivity of the copper, 10 to 400 [W/(m·K)]. Plated copper has up to that of
// solid copper, 390 (typical, from memory). Heat must still spread to the holes.
//
// Source: L/(k·A), A = π·(d − w)·w.
func Vias(holes int, hole, wall, thickness, conductivity float64) (float64, error) {
	var f input.Faults
	f.Count("thermal.Vias: holes", holes, 1, 10000)
	f.Between("thermal.Vias: hole", hole, 1e-4, 5e-3, "m")
	f.Between("thermal.Vias: wall", wall, 1e-6, 2e-4, "m")
	f.Between("thermal.Vias: thickness", thickness, 1e-5, 0.01, "m")
	f.Between("thermal.Vias: conductivity", conductivity, 10, 400, "W/(m·K)")
	if f.None() && !(wall < hole/2) {
		f.Refuse("thermal.Vias: wall", wall, "m", "less than "+input.WithUnit(hole/2, "m")+", half the hole")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return thickness / (conductivity * math.Pi * (hole - wall) * wall * float64(holes)), nil
}

// Trace is a strip of copper on or in a board.
type Trace struct {
	Width     float64 // 1e-5 to 0.1 [m]
	Thickness float64 // of the copper, 35 µm is "1 oz", 1e-6 to 1e-3 [m]
	Buried    bool    // between layers of the board
}

// Validate reports the fields out of range.
func (t Trace) Validate() error {
	var f input.Faults
	t.check(&f)
	return f.Err()
}

func (t *Trace) check(f *input.Faults) {
	f.Between("thermal.Trace.Width", t.Width, 1e-5, 0.1, "m")
	f.Between("thermal.Trace.Thickness", t.Thickness, 1e-6, 1e-3, "m")
}

// TraceCurrent is what a trace carries.
type TraceCurrent struct {
	Current float64  // [A]
	Beyond  []string // in words, where the fit's range is left; nil inside it
}

// Current returns what the trace carries at a rise above the board, 0.1 to 1000
// [K]: k·ΔT^0.44·A^0.725 with A in square mils, k 0.048 on the outside and 0.024
// inside.
//
// Take care. It is a fit to old charts, and the halved value inside is a guess of
// theirs, mostly far too low; IPC-2152 replaces them by charts without a formula (from memory).
// It knows no neighbours, planes or board, on which a real trace's heat depends most.
// Made for 10 to 100 K, up to 35 A outside and 17.5 A inside, widths up to 10 mm (from memory).
//
// Source: IPC-2221, the fit as printed by many; the standard not seen.
func (t Trace) Current(rise float64) (TraceCurrent, error) {
	var f input.Faults
	t.check(&f)
	f.Between("thermal.Trace.Current: rise", rise, 0.1, 1000, "K")
	if err := f.Err(); err != nil {
		return TraceCurrent{}, err
	}
	k, most := 0.048, 35.
	if t.Buried {
		k, most = 0.024, 17.5
	}
	r := TraceCurrent{Current: k * math.Pow(rise, 0.44) * math.Pow(t.Width*t.Thickness/(mil*mil), 0.725)}
	r.Beyond = beyond(r.Beyond, "trace", "rise [K]", rise, 10, 100)
	r.Beyond = beyond(r.Beyond, "trace", "current [A]", r.Current, 0, most)
	r.Beyond = beyond(r.Beyond, "trace", "width [mm]", t.Width*1e3, 0, 10)
	return r, nil
}

// Resistance returns the electrical resistance [Ω] of the trace over a length, 1e-4 to
// 100 [m], of copper at a temperature, 200 to 473.15 [K], by 1.724e-8 Ω·m at 20 °C and
// [material.CopperCoefficient].
func (t Trace) Resistance(length, temperature float64) (float64, error) {
	var f input.Faults
	t.check(&f)
	f.Between("thermal.Trace.Resistance: length", length, 1e-4, 100, "m")
	checkTemperature(&f, "thermal.Trace.Resistance: temperature", temperature)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return copperResistivity * length / (t.Width * t.Thickness) *
		(1 + material.CopperCoefficient*(temperature-material.Celsius(20))), nil
}
