package thermal

import (
	"math"

	"meltflight/internal/input"
)

// RampLag returns by how much a sensor lags what it measures [K], a time, 0 to 1e9 [s], after that
// began to warm at a rate, -1e3 to 1e3 [K/s]: rate·τ·(1 − e^(−t/τ)), by its time constant, 1e-3 to
// 1e6 [s], and rate·τ once it has settled. Time constants that makers print are of stirred water; in a
// dry bore they are several times as long (common practice, no source).
//
// Source: response of a first-order element (any text).
func RampLag(rate, constant, time float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.RampLag: rate", rate, -1e3, 1e3, "K/s")
	f.Between("thermal.RampLag: constant", constant, 1e-3, 1e6, "s")
	f.Between("thermal.RampLag: time", time, 0, 1e9, "s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return -rate * constant * math.Expm1(-time/constant), nil
}

// Sheath is a sensor that sticks into what it measures, and into something colder by its other end.
type Sheath struct {
	Radius       float64 // outer, 1e-4 to 0.1 [m]
	Bore         float64 // inner radius, 0 to less than Radius by 1e-5; 0 of a solid one [m]
	Immersion    float64 // length inside, 1e-4 to 10 [m]
	Conductivity float64 // 0.01 to 1e4: stainless 16 (typical, from memory) [W/(m·K)]
	Coefficient  float64 // to what is measured, 0.01 to 1e6 [W/(m²·K)]
}

// Validate reports the fields out of range.
func (s Sheath) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Sheath) check(f *input.Faults) {
	f.Between("thermal.Sheath.Radius", s.Radius, 1e-4, 0.1, "m")
	f.Between("thermal.Sheath.Bore", s.Bore, 0, 0.1, "m")
	f.Between("thermal.Sheath.Immersion", s.Immersion, 1e-4, 10, "m")
	f.Between("thermal.Sheath.Conductivity", s.Conductivity, 0.01, 1e4, "W/(m·K)")
	f.Between("thermal.Sheath.Coefficient", s.Coefficient, 0.01, 1e6, "W/(m²·K)")
	if f.None() && !(s.Bore <= s.Radius-1e-5) {
		f.Refuse("thermal.Sheath.Bore", s.Bore, "m", "at least 1e-05 m less than Radius, "+input.WithUnit(s.Radius, "m"))
	}
}

// Error returns by how much the tip is off what it measures [K]: (root − medium)/cosh mL with
// m = √(h·P/(k·A)), at the temperatures of its root and of the medium, each 200 to 1200 [K]. It is below
// 0 where the root is the colder: the sensor reads low and the controller heats on. An
// immersion of ten diameters is asked for (common practice, no source).
//
// Source: fin with an insulated tip, Çengel and Ghajar, 5th ed., ch. 3.
func (s Sheath) Error(root, medium float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	checkBody(&f, "thermal.Sheath.Error: root", root)
	checkBody(&f, "thermal.Sheath.Error: medium", medium)
	if err := f.Err(); err != nil {
		return 0, err
	}
	section := (s.Radius - s.Bore) * (s.Radius + s.Bore)
	x := s.Immersion * math.Sqrt(2*s.Radius*s.Coefficient/(s.Conductivity*section))
	if x > 700 {
		return 0, nil
	}
	return (root - medium) / math.Cosh(x), nil
}
