package screw

import (
	"math"

	"meltflight/internal/input"
)

// Layer is the melt at one distance from the still wall of a gap.
type Layer struct {
	Height      float64 // above the still wall [m]
	Along       float64 // velocity along [m/s]
	Across      float64 // velocity across [m/s]
	ShearRate   float64 // magnitude [1/s]
	Stress      float64 // magnitude of the shear stress [Pa]
	Below       float64 // what flows along between the still wall and here, for each metre of width [m²/s]
	BelowAcross float64 // what flows across there [m²/s]
}

// Layers returns the layers of a flow at a number of heights evenly from the still
// wall to the sliding one, 2 to 100000. It errs on invalid input, and on stresses and
// gradients that do not move the sliding wall of this gap as it moves, to 1e-5: those of
// another gap, melt or flow.
//
// The stress is linear over the depth; the shear rate, integrated from height to height
// as it was to find the flow, is the velocity. At the sliding wall the wall's velocity,
// the whole Flow and no net flow across come out to some 1e-12 of ∫|γ̇| for a flow from
// [Gap.Flow]. What crosses below two heights alike, crosses one way beneath the one and
// back above the other: melt that turns over at the flights changes between them.
func (g Gap) Layers(m Melt, f GapFlow, points int) ([]Layer, error) {
	var faults input.Faults
	faults.Add(g.Validate())
	m.check(&faults)
	faults.Count("screw.Gap.Layers: points", points, 2, 100000)
	for _, stress := range [...]struct {
		name  string
		value float64
	}{{"screw.GapFlow.Stress", f.Stress}, {"screw.GapFlow.CrossStress", f.CrossStress}} {
		faults.Between(stress.name, stress.value, -1e30, 1e30, "Pa")
	}
	for _, gradient := range [...]struct {
		name  string
		value float64
	}{{"screw.GapFlow.Gradient", f.Gradient}, {"screw.GapFlow.CrossGradient", f.CrossGradient}} {
		faults.Between(gradient.name, gradient.value, -1e40, 1e40, "Pa/m")
	}
	if err := faults.Err(); err != nil {
		return nil, err
	}
	var s gapState
	s.prepareAt(g, m, f)
	layers := make([]Layer, points)
	size := s.profile(g, f, layers)
	top := &layers[points-1]
	if miss := math.Hypot(top.Along-g.Along, top.Across-g.Across); !(miss <= 1e-5*size+slowest*g.Depth) || math.IsInf(size, 0) {
		faults.Refuse("screw.GapFlow: velocity at the sliding wall, from its stresses and gradients",
			math.Hypot(top.Along, top.Across), "m/s", "that of the wall: the flow of this gap and melt")
		return nil, faults.Err()
	}
	return layers, nil
}

// prepareAt sets units and fluid for stresses that are known.
func (s *gapState) prepareAt(g Gap, m Melt, f GapFlow) {
	s.fluid.melt = m
	s.rate = math.Max(math.Hypot(g.Along, g.Across)/g.Depth, slowest)
	highest := math.Max(math.Hypot(f.CrossStress, f.Stress),
		math.Hypot(f.CrossStress+f.CrossGradient*g.Depth, f.Stress+f.Gradient*g.Depth))
	if rate, _ := s.fluid.rateAt(highest, math.Max(s.rate, 1)); rate > s.rate && rate <= math.MaxFloat64 {
		s.rate = rate
	}
	s.units(g, m, s.rate)
}

// profile fills in the layers and returns ∫|γ̇| dy [m/s].
func (s *gapState) profile(g Gap, f GapFlow, layers []Layer) (size float64) {
	// Between two heights lies a gap of its own, with the stresses there.
	last := len(layers) - 1
	thick := g.Depth / float64(last)
	at := func(i int) (across, along float64) {
		y := g.Depth * float64(i) / float64(last)
		return (f.CrossStress + f.CrossGradient*y) / s.stress, (f.Stress + f.Gradient*y) / s.stress
	}
	s.g = [2]float64{f.CrossGradient * thick / s.stress, f.Gradient * thick / s.stress}
	for i := range layers {
		s.a[0], s.a[1] = at(i)
		here := &layers[i]
		here.Height = g.Depth * float64(i) / float64(last)
		here.Stress = s.stress * math.Hypot(s.a[0], s.a[1])
		here.ShearRate, _ = s.fluid.rateAt(here.Stress, s.rate)
		if i == last {
			break
		}
		s.fluid.evaluate(s)
		size += s.size * s.rate * thick
		next := &layers[i+1]
		next.Along = here.Along + s.speed[1]*s.rate*thick
		next.Across = here.Across + s.speed[0]*s.rate*thick
		// ∫ u dy = u at the far side, less what the lever takes.
		next.Below = here.Below + (next.Along-s.lever[1]*s.rate*thick)*thick
		next.BelowAcross = here.BelowAcross + (next.Across-s.lever[0]*s.rate*thick)*thick
	}
	return size
}
