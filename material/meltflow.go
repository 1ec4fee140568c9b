package material

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// MeltFlow is one melt-flow rate, as data sheets print it: what a weight pushes
// through a short standard die. Its methods other than Validate, Point and PowerLaw
// expect a valid one.
//
// Die and barrel are those of ISO 1133-1 (ASTM D1238): bore 2.095 mm, length 8.000 mm,
// barrel 9.550 mm, piston 9.474 mm, from memory. No entrance loss is taken off. The
// die is 3.8 diameters long and its entrance costs a polyolefin as much pressure as
// half to one and a half diameters more: true stress and viscosity are some 10 to 30 %
// lower (common practice, no source).
type MeltFlow struct {
	Rate        float64 // MFR, 1e-10 to 0.1; see GramsPerTenMinutes [kg/s]
	Load        float64 // piston and weight, 0.01 to 100 [kg]
	Density     float64 // of the melt, some fifth below the solid's; 100 to 5000 [kg/m³]
	Temperature float64 // 100 to 1500 [K]
	ByPiston    bool    // pressure by the piston's area, as in Shenoy's papers: 1.6 % above that by the barrel's bore
}

const (
	flowDie     = 2.095e-3 // diameter [m]
	flowLength  = 8.000e-3 // [m]
	flowBarrel  = 9.550e-3 // diameter [m]
	flowPiston  = 9.474e-3 // diameter [m]
	gravity     = 9.80665  // standard [m/s²]
	tenMinutes  = 600.0    // [s]
	sameWithin  = 2.0      // temperatures no further apart are one, about what a thermocouple in a melt resolves [K]
	leastIndex  = 0.05     // of a power law [-]
	mostIndex   = 1.5      // of a power law [-]
	kiloPerGram = 1e-3
)

// GramsPerTenMinutes converts a melt-flow rate (MFR) in g/10 min to [kg/s]. A
// melt volume-flow rate (MVR) in cm³/10 min times the melt's density in g/cm³ is an MFR.
func GramsPerTenMinutes(rate float64) float64 { return rate * kiloPerGram / tenMinutes }

// ToGramsPerTenMinutes converts a mass flow in kg/s to [g/10 min].
func ToGramsPerTenMinutes(massFlow float64) float64 { return massFlow * tenMinutes / kiloPerGram }

// VolumeRate returns the volume flow, 1 cm³/10 min of MVR being 1.667e-9 m³/s [m³/s].
func (m MeltFlow) VolumeRate() float64 { return m.Rate / m.Density }

// Pressure returns load over area of barrel or piston [Pa].
func (m MeltFlow) Pressure() float64 {
	d := flowBarrel
	if m.ByPiston {
		d = flowPiston
	}
	return m.Load * gravity / (math.Pi / 4 * d * d)
}

// WallStress returns pD/4L, the shear stress at the wall of the die [Pa].
func (m MeltFlow) WallStress() float64 { return m.Pressure() * flowDie / (4 * flowLength) }

// ApparentRate returns 32Q/πD³, the wall shear rate if the melt were Newtonian [1/s].
func (m MeltFlow) ApparentRate() float64 { return apparentRate(m.VolumeRate(), flowDie) }

// ApparentViscosity returns wall stress over apparent rate [Pa·s].
func (m MeltFlow) ApparentViscosity() float64 { return m.WallStress() / m.ApparentRate() }

// Point returns the true rate and viscosity at the wall of the die for a melt of
// power-law index 0.05 to 1.5 [-]: the rate is the apparent one times (3n+1)/4n
// (B. Rabinowitsch, Z. Phys. Chem. A 145 (1929) 1). One rate alone gives no index; 0.3
// to 0.6 is usual, and each tenth of doubt in it is some 10 % in the viscosity.
func (m MeltFlow) Point(index float64) (FlowPoint, error) {
	var f input.Faults
	f.Add(m.Validate())
	f.Between("material.MeltFlow.Point: index", index, leastIndex, mostIndex, "")
	if err := f.Err(); err != nil {
		return FlowPoint{}, err
	}
	rate := m.ApparentRate() * (3*index + 1) / (4 * index)
	return FlowPoint{ShearRate: rate, Temperature: m.Temperature, Viscosity: m.WallStress() / rate}, nil
}

// PowerLaw returns the power law of one melt from its melt-flow rates under two loads,
// the second given, at one temperature (2 K apart at most), by one convention; it is
// that of this temperature alone. It errs on input out of range and, with
// ErrUnphysical, where the index would not be 0.05 to 1.5.
func (m MeltFlow) PowerLaw(other MeltFlow) (PowerLaw, error) {
	var f input.Faults
	f.Add(m.Validate())
	f.Add(other.Validate())
	if f.None() && math.Abs(other.Temperature-m.Temperature) > sameWithin {
		f.Refuse("material.MeltFlow.PowerLaw: other.Temperature", other.Temperature, "K", "the first's, "+input.WithUnit(m.Temperature, "K"))
	}
	if f.None() && other.ByPiston != m.ByPiston {
		f.Add(&input.Word{Name: "material.MeltFlow.PowerLaw: other.ByPiston", Value: fmt.Sprint(other.ByPiston), Allowed: "the first's"})
	}
	if f.None() && math.Max(m.Load, other.Load) < 1.1*math.Min(m.Load, other.Load) {
		f.Refuse("material.MeltFlow.PowerLaw: other.Load", other.Load, "kg", "a tenth and more from the first's, "+input.WithUnit(m.Load, "kg"))
	}
	if err := f.Err(); err != nil {
		return PowerLaw{}, err
	}
	// Both rates at the wall carry the same factor (3n+1)/4n, so the apparent ones give n.
	n := math.Log(other.WallStress()/m.WallStress()) / math.Log(other.ApparentRate()/m.ApparentRate())
	if !(n >= leastIndex && n <= mostIndex) {
		return PowerLaw{}, fmt.Errorf("material.MeltFlow.PowerLaw: %w: %.4g times the load makes %.4g times the rate, power-law index %.3g, allowed 0.05 to 1.5",
			ErrUnphysical, other.Load/m.Load, other.Rate/m.Rate, n)
	}
	steep := (3*n + 1) / (4 * n)
	slow, fast := m.ApparentRate()*steep, other.ApparentRate()*steep
	temperature := (m.Temperature + other.Temperature) / 2
	law := PowerLaw{
		Consistency: m.WallStress() * math.Pow(slow, -n), Index: n, Reference: temperature,
		Range: Domain{
			RateLow: math.Min(slow, fast), RateHigh: math.Max(slow, fast),
			TemperatureLow: temperature, TemperatureHigh: temperature,
		},
	}
	if err := unphysical("material.MeltFlow.PowerLaw", law); err != nil {
		return PowerLaw{}, err
	}
	return law, nil
}

// Validate reports fields out of range.
func (m MeltFlow) Validate() error {
	var f input.Faults
	f.Between("material.MeltFlow.Rate", m.Rate, 1e-10, 0.1, "kg/s")
	f.Between("material.MeltFlow.Load", m.Load, 0.01, 100, "kg")
	f.Between("material.MeltFlow.Density", m.Density, 100, 5000, "kg/m³")
	f.Between("material.MeltFlow.Temperature", m.Temperature, lowestTemperature, highestTemperature, "K")
	return f.Err()
}

func apparentRate(flow, diameter float64) float64 {
	return 32 * flow / (math.Pi * diameter * diameter * diameter)
}

// unphysical words what keeps a law found from measurements from being one; the
// measurements were valid, so the error is not ErrInvalid.
func unphysical(who string, law Viscosity) error {
	if err := law.Validate(); err != nil {
		return fmt.Errorf("%s: %w: %s", who, ErrUnphysical, err.Error())
	}
	return nil
}
