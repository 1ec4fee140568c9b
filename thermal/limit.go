package thermal

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// MostCurrent is the largest current the package takes, rms a phase [A], and
// what a runaway current is given as where it is higher or does not exist.
const MostCurrent = 1e5

const (
	lowestTemperature  = 200    // of surroundings and limits [K]
	highestTemperature = 473.15 // and up to which resistances are taken as linear [K]
)

func checkCurrent(f *input.Faults, name string, current float64) {
	f.Between(name, current, 0, MostCurrent, "A")
}

func checkTemperature(f *input.Faults, name string, temperature float64) {
	f.Between(name, temperature, lowestTemperature, highestTemperature, "K")
}

// beyondLine tells of a part that is hotter than its law of resistance goes, if it is.
func beyondLine(part string, temperature float64, law string) []string {
	if temperature <= highestTemperature {
		return nil
	}
	return []string{fmt.Sprintf("%s at %.4g °C, %s up to %.4g °C", part, material.ToCelsius(temperature), law, material.ToCelsius(highestTemperature))}
}

// runawayCurrent is where the feedback, so much per square ampere, reaches 1 [A].
func runawayCurrent(feedback float64) float64 {
	if feedback*MostCurrent*MostCurrent <= 1 { // and where it is 0 or −0
		return MostCurrent
	}
	return 1 / math.Sqrt(feedback)
}

// largestResistance is what lets a loss [W] through at just the limit [K].
func largestResistance(part string, loss, limit, ambient float64) (float64, error) {
	if limit <= ambient {
		return 0, fmt.Errorf("%w: %s in surroundings of %.6g °C, limit %.6g °C",
			ErrTooHot, part, material.ToCelsius(ambient), material.ToCelsius(limit))
	}
	if limit-ambient >= mostResistance*loss {
		return mostResistance, nil
	}
	return (limit - ambient) / loss, nil
}

// CurrentLimit is the largest current that each hot part of a drive allows.
type CurrentLimit struct {
	Bridge  float64 // rms a phase [A]
	Winding float64 // rms a phase [A]
}

// Lowest returns the smaller current, rms a phase [A], and whose it is, "bridge"
// or "winding".
func (c CurrentLimit) Lowest() (current float64, which string) {
	if c.Winding < c.Bridge {
		return c.Winding, "winding"
	}
	return c.Bridge, "bridge"
}

// LargestCurrent returns the largest currents of a chip and of the motor it
// drives, each with its own limit and surroundings [K]: the chip may sit in a
// warm box, the motor near a hot barrel. Errors are those of
// [Bridge.LargestCurrent] and [Winding.LargestCurrent], of both at once.
func LargestCurrent(b Bridge, path Path, junctionLimit, bridgeAmbient float64,
	w Winding, windingLimit, windingAmbient float64) (CurrentLimit, error) {
	bridge, bridgeErr := b.LargestCurrent(junctionLimit, bridgeAmbient, path)
	winding, windingErr := w.LargestCurrent(windingLimit, windingAmbient)
	if err := errors.Join(bridgeErr, windingErr); err != nil {
		return CurrentLimit{}, err
	}
	return CurrentLimit{Bridge: bridge, Winding: winding}, nil
}
