package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Tube is a straight upright part of a hopper, or the tube it drops into.
type Tube struct {
	Diameter  float64 // 4 times area over rim if not round, 1e-3 to 10 [m]
	Surcharge float64 // stress on the bulk's top, 0 to 1e7 [Pa]
}

// Validate reports the fields out of range.
func (u Tube) Validate() error {
	var f input.Faults
	f.Between("screw.Tube.Diameter", u.Diameter, 1e-3, 10, "m")
	f.Between("screw.Tube.Surcharge", u.Surcharge, 0, 1e7, "Pa")
	return f.Err()
}

// BulkStress is the stress in a bulk at rest in a tube.
type BulkStress struct {
	Down   float64 // on a level plane [Pa]
	Wall   float64 // square to the wall [Pa]
	Deep   float64 // Down far below the top [Pa]
	Length float64 // depth over which the difference to Deep falls to 1/e [m]
}

// StressAt returns the stress in a bulk at a depth below its top, 0 to 1000 [m]. It errs
// on a tube, a bulk or a depth out of range, and with [material.ErrNoData] without the
// bulk's WallFriction or StressRatio.
//
// H. A. Janssen, Z. VDI 39 (1895) 1045 (from memory): the wall's friction μ K σ bears the weight
// but for σ = ρgλ + (σ₀ − ρgλ) exp(−z/λ), λ = D/(4 μ K). Range: a bulk at rest that leans
// on the wall, friction fully called up, stress even over the section; filling and
// emptying change K. From three λ on, the level above hardly counts: 5 % is left of it.
func (u Tube) StressAt(b material.Bulk, depth float64) (BulkStress, error) {
	var f input.Faults
	f.Add(u.Validate())
	f.Add(b.Validate())
	f.Between("screw.Tube.StressAt: depth", depth, 0, 1000, "m")
	if err := f.Err(); err != nil {
		return BulkStress{}, err
	}
	if b.WallFriction == 0 || b.StressRatio == 0 {
		return BulkStress{}, fmt.Errorf("%w: material.Bulk.WallFriction or StressRatio (%s)", material.ErrNoData, b.Name)
	}
	length := u.Diameter / (4 * math.Tan(b.WallFriction) * b.StressRatio)
	deep := b.BulkDensity * gravity * length
	down := -deep*math.Expm1(-depth/length) + u.Surcharge*math.Exp(-depth/length)
	return BulkStress{Down: down, Wall: b.StressRatio * down, Deep: deep, Length: length}, nil
}
