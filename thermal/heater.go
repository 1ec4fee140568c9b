package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// HeaterKind is how a heater sits on what it heats.
type HeaterKind int

const (
	Band        HeaterKind = 1 + iota // of mica, clamped around a barrel
	CeramicBand                       // of ceramic knuckles, clamped around a barrel
	Cartridge                         // in a reamed hole, within 0.05 mm of its diameter
)

// Densities that heaters bear on steel at 200 to 250 °C, by their face on it (common practice, no
// source; the maker's curve by temperature and fit goes before them) [W/m²].
const (
	bandDensity      = 4e4
	ceramicDensity   = 6e4
	cartridgeDensity = 1e5
)

// HeaterReserve is by how much the power should be more than what warm-up and holding ask
// for: mains voltage 10 % low takes 19 % of it, and a controller needs room (common practice, no source) [-].
const HeaterReserve = 1.5

// Heater is what heats a barrel or a nozzle.
//
// Whatever its size, a heater is to have an earthed sheath, a fuse of its own and a cut-out that is
// independent of the controller, some 30 to 50 K above the highest setting (common practice, no
// source). Mains heaters are connected by licensed people.
type Heater struct {
	Kind   HeaterKind
	Power  float64 // 0.1 to 1e6 [W]
	Length float64 // of what is heated: of the barrel under the band, of the cartridge without its cold ends; 1e-3 to 5 [m]
	Radius float64 // of the barrel or of the cartridge, 5e-4 to 1 [m]
	Gap    float64 // part of a band's turn that its clamp leaves bare, 0 to 0.9 [-]
}

// HeaterState compares a heater with what is asked of it.
type HeaterState struct {
	Density  float64              // of its face [W/m²]
	Load     material.Utilisation // of that
	Supply   material.Utilisation // of its power by what warm-up and holding ask for, with [HeaterReserve]
	Needed   float64              // power for warm-up and holding, the larger, without reserve [W]
	Time     float64              // that warm-up takes with all of its power [s]
	Duty     float64              // at which it holds the temperature, 0 to 1 [-]
	Ceiling  float64              // temperature if it never switched off, by the losses given, see [HeatUp.Ceiling]; 0 without losses [K]
	Overheat float64              // by which that is above the temperature held, what a cut-out must keep away; 0 without losses [K]
}

// Validate reports the fields out of range.
func (h Heater) Validate() error {
	var f input.Faults
	h.check(&f)
	return f.Err()
}

func (h *Heater) check(f *input.Faults) {
	f.Count("thermal.Heater.Kind", int(h.Kind), int(Band), int(Cartridge))
	f.Between("thermal.Heater.Power", h.Power, 0.1, 1e6, "W")
	f.Between("thermal.Heater.Length", h.Length, 1e-3, 5, "m")
	f.Between("thermal.Heater.Radius", h.Radius, 5e-4, 1, "m")
	f.Between("thermal.Heater.Gap", h.Gap, 0, 0.9, "")
}

// Density returns the power on a square metre of the heater's face [W/m²]. It checks nothing.
func (h Heater) Density() float64 {
	return h.Power / (2 * math.Pi * h.Radius * h.Length * (1 - h.Gap))
}

func (h *Heater) bears() float64 {
	return [...]float64{bandDensity, ceramicDensity, cartridgeDensity}[h.Kind-1]
}

// For compares the heater with a body, whose own Power it stands in for, that is to warm up from one
// temperature to a higher within a time, 0.1 to 1e9 [s], and to be held there; temperatures 200 to 1200 [K],
// held at or above the air. Fifteen to thirty minutes spare barrel and plastic (common practice, no
// source). It errs as [HeatUp.Time] and [HeatUp.Holding] do.
func (h Heater) For(body HeatUp, from, to, time float64) (HeaterState, error) {
	var f input.Faults
	h.check(&f)
	body.Power = 0
	body.check(&f)
	if err := f.Err(); err != nil {
		return HeaterState{}, err
	}
	body.Power = h.Power
	needed, err := body.PowerFor(time, from, to)
	if err != nil {
		return HeaterState{}, err
	}
	holding, duty, err := body.Holding(to)
	if err != nil {
		return HeaterState{}, err
	}
	s := HeaterState{Density: h.Density(), Needed: math.Max(needed, holding), Duty: duty}
	if s.Time, err = body.Time(from, to); err != nil {
		return HeaterState{}, err
	}
	if ceiling, err := body.Ceiling(); err == nil {
		s.Ceiling, s.Overheat = ceiling, ceiling-to
	}
	s.Load = material.Utilisation{Part: "heater face", Demand: s.Density, Capacity: h.bears(), Unit: "W/m²", Method: "density by kind, common practice"}
	s.Supply = material.Utilisation{Part: "heater power", Demand: HeaterReserve * s.Needed, Capacity: h.Power, Unit: "W", Method: "warm-up and holding with reserve, common practice"}
	return s, nil
}
