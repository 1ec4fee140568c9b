package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrCannotKeepUp reports a feed auger that brings no more than the screw draws, so
// that no level is reached at which it could stop.
var ErrCannotKeepUp = errors.New("feed auger cannot keep up")

// LevelControl keeps the drop tube above a screw filled: below a lower switch a feed
// auger is started, above an upper one it is stopped, each some time late. Switches
// may be two sensors, or one with a band of its own.
//
// Heights are those of flake lying level in a straight tube. A switching once told is
// carried out, whatever the level does meanwhile.
//
// Caution: such an auger starts by itself at any time. A guard keeps hands out, not its
// standing still.
type LevelControl struct {
	Area        float64 // clear cross-section of the tube, 1e-6 to 1 [m²]
	Below       float64 // from the screw's throat up to the lower switch, 0 to 10 [m]
	Band        float64 // from the lower switch up to the upper one, 1e-4 to 10 [m]
	Above       float64 // from the upper switch up to the auger's mouth, 0 to 10 [m]
	SensorDelay float64 // from a level passed to its signal, at both switches, 0 to 3600 [s]
	StartDelay  float64 // from the lower signal to flake arriving in the tube, 0 to 3600 [s]
	AfterRun    float64 // from the upper signal to the last flake arriving, 0 to 3600 [s]
	AugerRate   float64 // mean mass flow while the auger runs, 1e-8 to 10 [kg/s]
	BulkDensity float64 // mean, of flake as it lies in the tube, 10 to 3000 [kg/m³]
}

// Validate reports fields out of range.
func (c LevelControl) Validate() error {
	var f input.Faults
	f.Between("screw.LevelControl.Area", c.Area, 1e-6, 1, "m²")
	f.Between("screw.LevelControl.Below", c.Below, 0, 10, "m")
	f.Between("screw.LevelControl.Band", c.Band, 1e-4, 10, "m")
	f.Between("screw.LevelControl.Above", c.Above, 0, 10, "m")
	f.Between("screw.LevelControl.SensorDelay", c.SensorDelay, 0, 3600, "s")
	f.Between("screw.LevelControl.StartDelay", c.StartDelay, 0, 3600, "s")
	f.Between("screw.LevelControl.AfterRun", c.AfterRun, 0, 3600, "s")
	f.Between("screw.LevelControl.AugerRate", c.AugerRate, 1e-8, 10, "kg/s")
	f.Between("screw.LevelControl.BulkDensity", c.BulkDensity, 10, 3000, "kg/m³")
	return f.Err()
}

// FeedCycle is one turn of a level control, from a stop of the auger to the next.
type FeedCycle struct {
	Run        float64              // the auger feeds [s]
	Pause      float64              // it does not [s]
	Period     float64              // of both together; 30 s and more is common practice, no source [s]
	Starts     float64              // in each second; times 3600 those of an hour [1/s]
	Duty       float64              // Run ÷ Period [-]
	Overshoot  float64              // how far the level rises above the upper switch [m]
	Undershoot float64              // how far below the lower switch the screw would draw it; more than Below starves [m]
	Highest    float64              // level above the throat [m]
	Lowest     float64              // level above the throat, 0 where it starves [m]
	Starved    float64              // of each Period, with the tube empty [s]
	Missing    float64              // what the screw does not get in each Period [kg]
	Reserve    material.Utilisation // Undershoot against what the tube holds below its lower switch
	Beyond     []string             // where the model is left
}

// Cycle returns what a steady demand of the screw [kg/s], 1e-8 to 10, makes of the
// control, from the balance of mass alone: exact for steady flows and one density.
// Unless the tube runs empty, Duty is demand ÷ AugerRate whatever band and delays are.
//
// It errs on invalid input, and with ErrCannotKeepUp where the demand is not below
// AugerRate. An auger that runs on into a full tube is taken to heap flake above its
// mouth, which Beyond tells.
func (c LevelControl) Cycle(demand float64) (FeedCycle, error) {
	if err := c.check(demand); err != nil {
		return FeedCycle{}, err
	}
	metre := c.Area * c.BulkDensity // [kg/m]
	sink, rise := demand/metre, (c.AugerRate-demand)/metre
	late := c.SensorDelay + c.StartDelay
	s := FeedCycle{
		Overshoot:  rise * (c.SensorDelay + c.AfterRun),
		Undershoot: sink * late,
		Duty:       demand / c.AugerRate,
	}
	s.Highest = c.Below + c.Band + s.Overshoot
	s.Lowest = max(0, c.Below-s.Undershoot)
	s.Run = (c.Below+c.Band-s.Lowest)/rise + c.SensorDelay + c.AfterRun
	s.Pause = (c.Band+s.Overshoot)/sink + late
	s.Period = s.Run + s.Pause
	s.Starts = 1 / s.Period
	if s.Undershoot > c.Below {
		s.Starved = max(0, late-c.Below/sink)
		s.Missing = demand * s.Starved
		s.Duty *= 1 - s.Starved/s.Period
	}
	s.Reserve = material.Utilisation{Part: "drop tube below its lower switch", Demand: s.Undershoot, Capacity: c.Below, Unit: "m",
		Method: "balance of mass"}
	if s.Overshoot > c.Above {
		s.Beyond = append(s.Beyond, fmt.Sprintf("the auger runs on into a full tube: %.3g m above the upper switch, its mouth is at %.3g m",
			s.Overshoot, c.Above))
	}
	return s, nil
}

// Busiest returns the demand at which the auger starts most often [kg/s]: half of
// AugerRate where both delays are equal. That the tube does not run empty is taken for
// granted. It errs on invalid input.
func (c LevelControl) Busiest() (demand float64, err error) {
	if err := c.Validate(); err != nil {
		return 0, err
	}
	// Starts are q·(Q−q)/(Q·(a+b·q)): the level's whole swing is linear in the demand q.
	on, off := c.SensorDelay+c.StartDelay, c.SensorDelay+c.AfterRun
	band := c.Band * c.Area * c.BulkDensity
	a := band + c.AugerRate*off
	return c.AugerRate * a / (a + math.Sqrt(a*(band+c.AugerRate*on))), nil
}

func (c LevelControl) check(demand float64) error {
	var f input.Faults
	f.Add(c.Validate())
	f.Between("screw.LevelControl demand", demand, 1e-8, 10, "kg/s")
	if err := f.Err(); err != nil {
		return err
	}
	if demand >= c.AugerRate {
		return fmt.Errorf("%w: demand %.4g kg/s, auger %.4g kg/s", ErrCannotKeepUp, demand, c.AugerRate)
	}
	return nil
}
