package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Shaft is one cross-section of a solid round shaft, such as its shoulder.
type Shaft struct {
	Diameter     float64 // 1e-4 to 10 [m]
	BendingNotch float64 // K_f, fatigue notch factor in bending, 1 to 20 [-]
	TorsionNotch float64 // K_fs, fatigue notch factor in torsion, 1 to 20 [-]
	Yield        float64 // yield strength, 1e5 to 1e10 [Pa]
	Ultimate     float64 // tensile strength, Yield to 1e10 [Pa]
	Endurance    float64 // endurance limit in bending, such as of EnduranceLimit, 1e4 to Ultimate [Pa]
}

// ShaftLoad is what a cross-section carries, as magnitudes. A moment that stands
// still in space bends a turning shaft as an alternating one.
type ShaftLoad struct {
	BendingMean        float64 // 0 to 1e8 [N·m]
	BendingAlternating float64 // amplitude, 0 to 1e8 [N·m]
	TorqueMean         float64 // 0 to 1e8 [N·m]
	TorqueAlternating  float64 // amplitude, 0 to 1e8 [N·m]
	AxialMean          float64 // tension or compression, 0 to 1e10 [N]
	AxialAlternating   float64 // amplitude, 0 to 1e10 [N]
}

// ShaftFatigue holds von Mises stresses and the safeties against infinite life
// and first yield, each from 0 to [material.MostSafety], if the whole load grows in
// proportion.
type ShaftFatigue struct {
	AlternatingStress float64 // von Mises amplitude, notches counted [Pa]
	MeanStress        float64 // von Mises mean, notches counted [Pa]
	MaximumStress     float64 // von Mises of means plus amplitudes, notches counted [Pa]
	Soderberg         float64 // straight line to the yield strength, the safest [-]
	Goodman           float64 // straight line to the tensile strength [-]
	Gerber            float64 // parabola to the tensile strength, through the middle of tests [-]
	Elliptic          float64 // ellipse to the yield strength [-]
	Yield             float64 // against first-cycle yield [-]
}

// A limit for bending holds for axial load times this: the Marin load factor.
const axialEndurance = 0.85

// Validate reports the fields out of range.
func (s Shaft) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s Shaft) check(f *input.Faults) {
	f.Between("drive.Shaft.Diameter", s.Diameter, 1e-4, 10, "m")
	f.Between("drive.Shaft.BendingNotch", s.BendingNotch, 1, 20, "")
	f.Between("drive.Shaft.TorsionNotch", s.TorsionNotch, 1, 20, "")
	f.Between("drive.Shaft.Yield", s.Yield, 1e5, 1e10, "Pa")
	f.Between("drive.Shaft.Ultimate", s.Ultimate, max(1e5, min(s.Yield, 1e10)), 1e10, "Pa")
	f.Between("drive.Shaft.Endurance", s.Endurance, 1e4, max(1e5, min(s.Ultimate, 1e10)), "Pa")
}

func (l ShaftLoad) check(f *input.Faults) {
	f.Between("drive.ShaftLoad.BendingMean", l.BendingMean, 0, 1e8, "N·m")
	f.Between("drive.ShaftLoad.BendingAlternating", l.BendingAlternating, 0, 1e8, "N·m")
	f.Between("drive.ShaftLoad.TorqueMean", l.TorqueMean, 0, 1e8, "N·m")
	f.Between("drive.ShaftLoad.TorqueAlternating", l.TorqueAlternating, 0, 1e8, "N·m")
	f.Between("drive.ShaftLoad.AxialMean", l.AxialMean, 0, 1e10, "N")
	f.Between("drive.ShaftLoad.AxialAlternating", l.AxialAlternating, 0, 1e10, "N")
}

// Fatigue rates the cross-section for infinite life and against yield by the
// distortion-energy criteria of R. G. Budynas and J. K. Nisbett, Shigley's Mechanical
// Engineering Design, 9th ed. (2011), section 7-4, eqs. 7-4 to 7-15:
//
//	σ_a' = √((K_f·σ_a)² + 3(K_fs·τ_a)²)   and so for the mean and for the maximum
//
// with σ = 32M/πd³ + 4F/πd², τ = 16T/πd³. Axial load is counted with K_f, for want of a
// third notch factor (it is up to some 10 % more for a shoulder), and its amplitude is
// divided by 0.85, the ratio of axial to bending endurance (section 6-14). Notches are
// counted at yield too, which is on the safe side for a ductile steel.
func (s Shaft) Fatigue(l ShaftLoad) (ShaftFatigue, error) {
	var f input.Faults
	s.check(&f)
	l.check(&f)
	if err := f.Err(); err != nil {
		return ShaftFatigue{}, err
	}
	var r ShaftFatigue
	r.AlternatingStress, r.MeanStress, r.MaximumStress = s.stresses(l)
	shares := s.shares(r.AlternatingStress, r.MeanStress, r.MaximumStress)
	r.Soderberg, r.Goodman, r.Gerber = safety(shares[bySoderberg]), safety(shares[byGoodman]), safety(shares[byGerber])
	r.Elliptic, r.Yield = safety(shares[byElliptic]), safety(shares[byYield])
	return r, nil
}

// stresses returns the von Mises stresses of amplitude, mean and maximum [Pa].
func (s *Shaft) stresses(l ShaftLoad) (alternating, mean, maximum float64) {
	area := math.Pi / 4 * s.Diameter * s.Diameter
	bending := 8 / (area * s.Diameter) * s.BendingNotch // stress by moment
	torsion := 4 / (area * s.Diameter) * s.TorsionNotch
	axial := s.BendingNotch / area

	bend, push := bending*l.BendingAlternating, axial*l.AxialAlternating
	twist := torsion * l.TorqueAlternating
	still, meanTwist := bending*l.BendingMean+axial*l.AxialMean, torsion*l.TorqueMean
	return vonMises(bend+push/axialEndurance, twist), vonMises(still, meanTwist), vonMises(bend+push+still, twist+meanTwist)
}

const (
	bySoderberg = iota
	byGoodman
	byGerber
	byElliptic
	byYield
)

// shares returns by each criterion the share of what the shaft bears.
func (s *Shaft) shares(alternating, mean, maximum float64) [5]float64 {
	a, toUltimate, toYield := alternating/s.Endurance, mean/s.Ultimate, mean/s.Yield
	return [5]float64{
		bySoderberg: a + toYield,
		byGoodman:   a + toUltimate,
		// n·a + (n·m)² = 1, its positive root written without cancellation.
		byGerber:   (a + math.Sqrt(a*a+4*toUltimate*toUltimate)) / 2,
		byElliptic: math.Sqrt(a*a + toYield*toYield),
		byYield:    maximum / s.Yield,
	}
}

// Utilisations compares, for the shaft that was rated, the alternating stress
// equivalent by Goodman's line with the endurance limit, and the maximum stress
// with the yield strength.
func (f ShaftFatigue) Utilisations(s Shaft) [2]material.Utilisation {
	return [2]material.Utilisation{
		{
			Part: "shaft fatigue", Demand: f.AlternatingStress + f.MeanStress*s.Endurance/s.Ultimate,
			Capacity: s.Endurance, Unit: "Pa", Method: "distortion energy with Goodman line",
		},
		{
			Part: "shaft yield", Demand: f.MaximumStress,
			Capacity: s.Yield, Unit: "Pa", Method: "distortion energy, first cycle",
		},
	}
}

func vonMises(normal, shear float64) float64 { return math.Sqrt(normal*normal + 3*shear*shear) }

// safety is 1 ÷ the share of its capacity a part uses, bounded for the idle part.
func safety(share float64) float64 { return 1 / max(share, 1/material.MostSafety) }
