package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// The rim of a thin gear bends with its teeth.
const (
	thinnestRim     = 0.5  // of an outer gear, of the teeth's depth
	thinnestRingRim = 1.75 // of a ring, in modules
)

// RimFactor returns by how much a thin rim raises the stress at an outer tooth's root
// [-], from its thickness over the teeth's whole depth, 0.5 to 1e6 [-]: the rim thickness
// factor Y_B of ISO 6336-3:2006 and the same K_B of AGMA (from memory),
// 1.6·ln(2.242/ratio) below 1.2 and 1 from there on.
func RimFactor(ratio float64) (float64, error) {
	var f input.Faults
	f.Between("drive.RimFactor: ratio", ratio, thinnestRim, 1e6, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return outerRim(ratio), nil
}

// RingRimFactor is [RimFactor] for teeth inside a ring, from its rim's thickness in
// modules, 1.75 to 1e6 [-]: 1.15·ln(8.324/ratio) below 3.5 and 1 from there on (ISO
// 6336-3:2006, from memory).
func RingRimFactor(modules float64) (float64, error) {
	var f input.Faults
	f.Between("drive.RingRimFactor: modules", modules, thinnestRingRim, 1e6, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return ringRim(modules), nil
}

// The printed limits 1.2 and 3.5 are rounded from where the logarithms reach 1.
func outerRim(ratio float64) float64  { return math.Max(1, 1.6*math.Log(2.242/ratio)) }
func ringRim(modules float64) float64 { return math.Max(1, 1.15*math.Log(8.324/modules)) }

// rimFactorOf takes thickness and the teeth's depth in modules; 0 is solid.
func rimFactorOf(f *input.Faults, rim, depth float64, ring bool) float64 {
	switch {
	case rim == 0:
		return 1
	case ring:
		f.Between("drive.ToothMaterial.Rim of the ring, in modules", rim, thinnestRingRim, math.MaxFloat64, "")
		return ringRim(math.Max(rim, thinnestRingRim))
	}
	f.Between("drive.ToothMaterial.Rim, in depths of the teeth", rim/depth, thinnestRim, math.MaxFloat64, "")
	return outerRim(math.Max(rim/depth, thinnestRim))
}

// BoredRim returns the metal between the root circle of the pair's pinion and its bore, 0 to
// 10 [m], at the deepest point of a keyway of a depth, 0 to 1 [m], in it, 0 for none:
// what ToothMaterial.Rim asks for [m]. It errs where the bore eats the root. A bore for a
// motor's 5 mm shaft leaves nothing under 12 teeth of 0.5 mm.
func (g GearPair) BoredRim(bore, keyway float64) (float64, error) {
	var f input.Faults
	g.check(&f)
	f.Between("drive.GearPair.BoredRim: bore", bore, 0, 10, "m")
	f.Between("drive.GearPair.BoredRim: keyway", keyway, 0, 1, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	root := g.Module * (float64(g.Pinion.Teeth)/math.Cos(g.Helix) + 2*(g.Pinion.Shift-g.Rack.Dedendum))
	rim := (root-bore)/2 - keyway
	if !(rim > 0) {
		f.Refuse("drive.GearPair.BoredRim: bore", bore, "m",
			fmt.Sprintf("less than %.6g m, the root circle less twice the keyway", math.Max(0, root-2*keyway)))
		return 0, f.Err()
	}
	return rim, nil
}
