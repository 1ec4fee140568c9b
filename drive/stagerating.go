package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// StageRating is how far the teeth of a planetary stage are from their limits, and how
// long they last.
type StageRating struct {
	// Roots of sun, planet and ring, then their flanks; of the planet the worse of its two meshes.
	Utilisations [6]material.Utilisation

	Life     [6]float64 // until each fails at this load, 1e15 standing for no end [s]
	Cycles   [3]float64 // load cycles of a tooth of sun, planet and ring in the time asked for [-]
	Weakest  int        // of Utilisations
	Shortest float64    // of Life [s]
	Beyond   []string   // in words, what lies outside the standard's range; nil inside it
}

// Rate rates the teeth of a stage under a load, such as that of Load, for a running time of 1 to
// 1e12 [s], by [GearPair.Rate]: sun with planet, and planet with ring. Cycles and Reversed
// of the materials, for sun, planet and ring, are set here: a sun's tooth meets every planet
// in each turn against the carrier, a planet's is bent both ways, a ring's meets every planet in
// each turn of the carrier. ToothForce holds the load share of the planets; Sharing in the factors
// is that among teeth.
//
// A life is that at which the stress's own cycles on the life curve are used up; flanks
// and roots that bear their load for ever have no end. It errs on invalid input.
func (p PlanetaryStage) Rate(load StageLoad, time float64, teeth [3]ToothMaterial, k GearFactors) (StageRating, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.StageLoad.ToothForce", load.ToothForce, 0, 1e12, "N")
	f.Between("drive.PlanetaryStage.Rate: time", time, 1, 1e12, "s")
	f.Between("drive.StageLoad.SunSpeed", load.SunSpeed, -1e6, 1e6, "rev/s")
	f.Between("drive.StageLoad.CarrierSpeed", load.CarrierSpeed, -1e6, 1e6, "rev/s")
	f.Between("drive.StageLoad.PlanetSpeed", load.PlanetSpeed, -1e6, 1e6, "rev/s")
	if err := f.Err(); err != nil {
		return StageRating{}, err
	}
	planets := float64(p.Planets)
	rates := [3]float64{planets * math.Abs(load.SunSpeed-load.CarrierSpeed), math.Abs(load.PlanetSpeed), planets * math.Abs(load.CarrierSpeed)} // cycles a second
	var r StageRating
	for i := range teeth {
		r.Cycles[i] = math.Min(mostCycles, rates[i]*time)
		teeth[i].Cycles, teeth[i].Reversed = r.Cycles[i], i == 1
	}
	inner, err := p.pair(false).Rate(load.ToothForce*p.Module*float64(p.Sun)/2, [2]ToothMaterial{teeth[0], teeth[1]}, k)
	if err != nil {
		return StageRating{}, err
	}
	outer, err := p.pair(true).Rate(load.ToothForce*p.Module*float64(p.Planet)/2, [2]ToothMaterial{teeth[1], teeth[2]}, k)
	if err != nil {
		return StageRating{}, err
	}
	a, b := &inner.Utilisations, &outer.Utilisations
	r.Utilisations = [6]material.Utilisation{a[0], heavier(a[1], b[0]), b[1], a[2], heavier(a[3], b[2]), b[3]}
	names := [6]string{"sun tooth root", "planet tooth root", "ring tooth root", "sun flank", "planet flank", "ring flank"}
	r.Shortest = mostCycles
	for i := range r.Utilisations {
		u := &r.Utilisations[i]
		u.Part = names[i]
		m, curve := &teeth[i%3], teeth[i%3].Life.Root
		forever := u.Capacity / curve.factor(m.Cycles)
		if i > 2 {
			curve = m.Life.Flank
			forever = u.Capacity / curve.factor(m.Cycles)
		}
		r.Life[i] = mostCycles
		if rates[i%3] > 0 && u.Demand > forever {
			r.Life[i] = curve.cycles(u.Demand/forever) / rates[i%3]
		}
		r.Shortest = math.Min(r.Shortest, r.Life[i])
		if u.Demand*r.Utilisations[r.Weakest].Capacity > r.Utilisations[r.Weakest].Demand*u.Capacity {
			r.Weakest = i
		}
	}
	r.Beyond = append(append(r.Beyond, inner.Beyond...), outer.Beyond...)
	return r, nil
}

// First returns which of the Utilisations comes to its end first, or is the weakest where
// none does.
func (r StageRating) First() int {
	first := r.Weakest
	for i, life := range r.Life {
		if life < r.Life[first] {
			first = i
		}
	}
	return first
}

// heavier returns the worse used of two.
func heavier(a, b material.Utilisation) material.Utilisation {
	if b.Demand*a.Capacity > a.Demand*b.Capacity {
		return b
	}
	return a
}
