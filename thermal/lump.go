package thermal

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

const longest = 1e12 // time [s]

// lump is one body whose heat, made and lost, is linear in its temperature, and so is
// the rate of its change.
type lump struct {
	rate float64 // of change at first [K/s]
	fall float64 // of that rate for each kelvin warmer, below 0 beyond runaway [1/s]
}

// after is by how much the body is warmer then [K]: one exponential.
func (l lump) after(time float64) float64 {
	_, gained := fade(l.fall, time)
	return l.rate * gained
}

// until is how long it takes to a rise above 0: the rise over the logarithmic mean of the
// rates at its two ends. It is +Inf where the body never comes there.
func (l lump) until(rise float64) float64 {
	x := -l.fall * rise / l.rate
	switch {
	case !(l.rate > 0) || x <= -1:
		return math.Inf(1)
	case x == 0:
		return rise / l.rate
	case math.IsInf(x, 1):
		return 0
	}
	return rise / l.rate * (math.Log1p(x) / x)
}

// untilLimit turns a lump's answer into one that is finite.
func untilLimit(part string, time, limit float64) (float64, error) {
	if !(time <= longest) {
		return 0, fmt.Errorf("%w: %s at %.6g °C", ErrNeverReached, part, material.ToCelsius(limit))
	}
	return time, nil
}

// tooFar reports a temperature that only arithmetic knows [K].
func tooFar(part string, temperature float64) error {
	if math.Abs(temperature) <= 1e6 {
		return nil
	}
	return fmt.Errorf("%w: %s runs away, beyond 1e6 K by then", ErrNoBalance, part)
}

func checkCapacity(f *input.Faults, name string, capacity float64) {
	f.Between(name, capacity, 1e-3, 1e9, "J/K")
}

func checkTime(f *input.Faults, name string, time float64) { f.Between(name, time, 0, longest, "s") }
