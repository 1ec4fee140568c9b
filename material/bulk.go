package material

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Bulk is a plastic as it lies in a hopper: flake, pellets, powder or fluff. Fields
// that nobody has measured are 0, and what needs them is [ErrNoData].
type Bulk struct {
	Name             string
	Shape            string            // pellets, flake, powder, fluff, or empty if unknown
	BulkDensity      float64           // loosely poured, 10 to 2000 [kg/m³]
	ParticleSize     float64           // longest edge of a typical particle, 1e-5 to 0.1 [m]
	TappedDensity    float64           // after tapping, BulkDensity to SolidDensity, or 0 [kg/m³]
	SolidDensity     float64           // of the plastic itself, BulkDensity to 5000, or 0 [kg/m³]
	Repose           float64           // slope of a poured heap, 0.02 to 1.4, or 0 [rad]
	InternalFriction float64           // angle of friction of the bulk on itself, 0.02 to 1.4, or 0 [rad]
	WallFriction     float64           // angle of friction on smooth steel, at most InternalFriction, or 0 [rad]
	StressRatio      float64           // sideways stress ÷ stress along, between Rankine's two states, or 0 [-]
	Source           map[string]string // where each number comes from, by field name
}

// Mass returns what a volume [m³] of the bulk weighs [kg].
func (b Bulk) Mass(volume float64) float64 { return b.BulkDensity * volume }

// Volume returns the room [m³] that a mass [kg] of the bulk takes.
func (b Bulk) Volume(mass float64) float64 { return mass / b.BulkDensity }

// PackingFraction returns what part of the bulk is plastic, the rest being air [-]. It
// errs on a bulk out of range, and with [ErrNoData] without a SolidDensity.
func (b Bulk) PackingFraction() (float64, error) {
	if err := b.Validate(); err != nil {
		return 0, err
	}
	if b.SolidDensity == 0 {
		return 0, b.lacks("SolidDensity")
	}
	return b.BulkDensity / b.SolidDensity, nil
}

// Compression tells how much a bulk gives way under tapping.
type Compression struct {
	Hausner float64 // tapped ÷ loose density [-]
	Carr    float64 // part of the volume lost, 1 − 1/Hausner [-]
	Class   string  // flow, from excellent to very, very poor
}

// Compression returns how much the bulk gives way under tapping, and the class of
// flow by the scale of USP <1174> Powder Flow, from memory. The scale is made for
// powders: flake and fluff of a good class still bridge. It errs on a bulk out of
// range, and with [ErrNoData] without a TappedDensity.
func (b Bulk) Compression() (Compression, error) {
	if err := b.Validate(); err != nil {
		return Compression{}, err
	}
	if b.TappedDensity == 0 {
		return Compression{}, b.lacks("TappedDensity")
	}
	c := Compression{Hausner: b.TappedDensity / b.BulkDensity, Carr: 1 - b.BulkDensity/b.TappedDensity, Class: "very, very poor"}
	for _, k := range [...]struct {
		carr  float64
		class string
	}{{0.10, "excellent"}, {0.15, "good"}, {0.20, "fair"}, {0.25, "passable"}, {0.31, "poor"}, {0.37, "very poor"}} {
		if c.Carr <= k.carr+1e-12 {
			c.Class = k.class
			break
		}
	}
	return c, nil
}

func (b Bulk) lacks(field string) error {
	return fmt.Errorf("%w: material.Bulk.%s (%s)", ErrNoData, field, b.Name)
}

// Flow is how readily a bulk flows, judged by its heap.
type Flow struct {
	Class     string  // from very free flowing to sluggish
	Surcharge float64 // slope that is left of the heap on a moving belt [rad]
}

// FlowByRepose returns the flow of a bulk with an angle of repose, 0 to 1.4 [rad], by
// the classes of the Conveyor Equipment Manufacturers Association, Belt Conveyors
// for Bulk Materials, Table 3-1.
func FlowByRepose(repose float64) (Flow, error) {
	var f input.Faults
	f.Between("material.FlowByRepose: repose", repose, 0, steepest, "rad")
	if err := f.Err(); err != nil {
		return Flow{}, err
	}
	const degree, slack = math.Pi / 180, 1e-9
	for _, k := range [...]struct {
		below, surcharge float64
		class            string
	}{{20, 5, "very free flowing"}, {30, 10, "free flowing"}, {35, 20, "average flowing"}, {40, 25, "average flowing"}} {
		if repose < k.below*degree-slack {
			return Flow{k.class, k.surcharge * degree}, nil
		}
	}
	return Flow{"sluggish", 30 * degree}, nil
}

// ActiveRatio returns the least ratio of sideways stress to stress along that a
// bulk of an angle of internal friction φ, 0 to 1.4 [rad], can rest with,
// Rankine's active state (1 − sin φ)/(1 + sin φ) [-]. Its inverse is the most, the
// passive state.
func ActiveRatio(internal float64) (float64, error) {
	var f input.Faults
	f.Between("material.ActiveRatio: internal", internal, 0, steepest, "rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return activeRatio(internal), nil
}

func activeRatio(internal float64) float64 {
	s := math.Sin(internal)
	return (1 - s) / (1 + s)
}

// SiloRatio returns the lateral pressure ratio that EN 1991-4:2006, 4.5, from
// memory, takes for a bulk at rest in a bin, 1.1·(1 − sin φ) of an angle of
// internal friction φ, 0.1 to 1.4 [rad].
func SiloRatio(internal float64) (float64, error) {
	var f input.Faults
	f.Between("material.SiloRatio: internal", internal, 0.1, steepest, "rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1.1 * (1 - math.Sin(internal)), nil
}

const steepest = 1.4 // no heap is steeper [rad]

// Validate reports the fields out of range, and those that cannot both be: more bulk
// than plastic, a wall rougher than the bulk itself, a heap 20° off the friction
// inside it, a stress ratio at which the bulk would slide.
func (b Bulk) Validate() error {
	var f input.Faults
	f.Between("material.Bulk.BulkDensity", b.BulkDensity, 10, 2000, "kg/m³")
	f.Between("material.Bulk.ParticleSize", b.ParticleSize, 1e-5, 0.1, "m")
	switch b.Shape {
	case "", "pellets", "flake", "powder", "fluff":
	default:
		f.Add(&input.Word{Name: "material.Bulk.Shape", Value: b.Shape, Allowed: "pellets, flake, powder, fluff or empty"})
	}
	known := func(name string, value, lo, hi float64, unit string) {
		if value != 0 {
			f.Between(name, value, lo, hi, unit)
		}
	}
	known("material.Bulk.SolidDensity", b.SolidDensity, 100, 5000, "kg/m³")
	known("material.Bulk.TappedDensity", b.TappedDensity, 10, 5000, "kg/m³")
	known("material.Bulk.Repose", b.Repose, 0.02, steepest, "rad")
	known("material.Bulk.InternalFriction", b.InternalFriction, 0.02, steepest, "rad")
	known("material.Bulk.WallFriction", b.WallFriction, 0.02, steepest, "rad")
	known("material.Bulk.StressRatio", b.StressRatio, 1e-3, 1e3, "")
	if !f.None() {
		return f.Err()
	}
	known("material.Bulk.SolidDensity", b.SolidDensity, b.BulkDensity, 5000, "kg/m³")
	most := 5000.0
	if b.SolidDensity != 0 {
		most = b.SolidDensity
	}
	known("material.Bulk.TappedDensity", b.TappedDensity, b.BulkDensity, most, "kg/m³")
	if b.InternalFriction != 0 {
		known("material.Bulk.WallFriction", b.WallFriction, 0, b.InternalFriction, "rad")
		const apart = 0.35 // about 20°
		known("material.Bulk.Repose", b.Repose, b.InternalFriction-apart, b.InternalFriction+apart, "rad")
		k := activeRatio(b.InternalFriction)
		known("material.Bulk.StressRatio", b.StressRatio, k, 1/k, "")
	}
	return f.Err()
}
