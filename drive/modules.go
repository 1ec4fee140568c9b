package drive

import (
	"math"

	"meltflight/internal/input"
)

// Standard modules [mm]: ISO 54:1996 from 1 up and DIN 780-1:1977 below, both from memory.
var (
	firstModules = [...]float64{
		0.05, 0.06, 0.08, 0.1, 0.12, 0.16, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9,
		1, 1.25, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 32, 40, 50,
	}
	secondModules = [...]float64{
		0.055, 0.07, 0.09, 0.11, 0.14, 0.18, 0.22, 0.28, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95,
		1.125, 1.375, 1.75, 2.25, 2.75, 3.5, 4.5, 5.5, 6.5, 7, 9, 11, 14, 18, 22, 28, 36, 45,
	}
)

// NextModule returns the smallest standard module not below the one given, 5e-5 to 0.05 [m].
// It is of series I, which is to be preferred, or of either series if second is set:
// ISO 54:1996 from 1 mm up, whose 6.5 mm is to be avoided, and DIN 780-1:1977 below (both
// from memory).
func NextModule(least float64, second bool) (float64, error) {
	var f input.Faults
	f.Between("drive.NextModule: least", least, 5e-5, 0.05, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	found := nextOf(firstModules[:], least)
	if second {
		found = math.Min(found, nextOf(secondModules[:], least))
	}
	return found, nil
}

// nextOf returns infinity above the last.
func nextOf(series []float64, least float64) float64 {
	for _, mm := range series {
		if m := mm / 1000; m >= least*(1-1e-12) { // a computed 1 mm is 1 mm
			return m
		}
	}
	return math.Inf(1)
}
