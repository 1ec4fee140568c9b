package screw

import (
	"fmt"

	"meltflight/internal/input"
	"meltflight/material"
)

// Passage is one part of the way from screw to nozzle tip: a [Capillary], [Cone],
// [Slit], [Wedge], [Annulus] or [Entrance], a [Die] of passages one after another, or a
// [Parallel] of passages side by side. Its methods other than Validate are kernels for
// a valid passage and melt and a flow of 0 to 1e3 [m³/s].
type Passage interface {
	// Validate reports every dimension out of range.
	Validate() error
	// PressureDrop returns the pressure a flow [m³/s] of the melt costs [Pa].
	PressureDrop(m Melt, flow float64) float64
	// WallShear returns the true shear rate [1/s] and the shear stress [Pa] at the
	// wall where they are greatest.
	WallShear(m Melt, flow float64) (rate, stress float64)
	// ViscousHeating returns what viscous heating does: the Nahme number, by how much the heat
	// that conduction leaves in the melt thins it, and the Graetz number, how much faster
	// the melt is carried out than heat is conducted across it [-]:
	//
	//	Na = β·η·v²/k,  Gz = ρ·c·v·H²/(k·L)
	//
	// with β = −∂ln η/∂T at the wall's rate, v the mean speed, H the diameter or the
	// distance of the walls, and η the viscosity of a Newtonian melt that would cost the
	// same pressure. Well below Na = 1 the melt is as good as isothermal; well above
	// Gz = 100 its heat leaves with it. Both are 0 where the conductivity is not known.
	// H. H. Winter, Adv. Heat Transfer 13 (1977) 205, from memory.
	ViscousHeating(m Melt, flow float64) (nahme, graetz float64)
	// Volume returns the melt held [m³].
	Volume() float64
}

// Die is a chain of passages from the screw tip outwards.
type Die []Passage

// Validate reports an empty chain and the faults of every passage.
func (d Die) Validate() error { return checkPassages("screw.Die", "screw.Die: passages", d) }

// mostPassages is the number allowed in a die with all that it is made of, so that
// one that holds itself is found out.
const mostPassages = 256

// mostPartings is how deep parallels may lie within parallels: each level takes eight
// times as long.
const mostPartings = 3

func checkPassages(who, number string, list []Passage) error {
	var f input.Faults
	f.Count(number, len(list), 1, 64)
	if n := held(list, mostPassages); n > mostPassages {
		f.Count(who+": passages with all that they are made of", n, 1, mostPassages)
		return f.Err()
	}
	if n := partings(list); n > mostPartings {
		f.Count(who+": flows that part within flows that part", n, 0, mostPartings)
	}
	for i, p := range list {
		if missing(p) {
			f.Add(&input.Word{Name: fmt.Sprintf("%s[%d]", who, i), Value: "nil", Allowed: "a passage such as a Capillary"})
		} else if err := p.Validate(); err != nil {
			f.Add(fmt.Errorf("%s[%d]: %w", who, i, err))
		}
	}
	return f.Err()
}

// held counts passages with all that they are made of, until there are more than most.
func held(list []Passage, most int) int {
	n := len(list)
	for i := 0; i < len(list) && n <= most; i++ {
		parts, _ := madeOf(list[i])
		n += held(parts, most-n)
	}
	return n
}

// madeOf returns the passages that one is made of, and whether they lie side by side.
func madeOf(p Passage) (parts []Passage, parallel bool) {
	switch p := p.(type) {
	case Die:
		return p, false
	case *Die:
		if p != nil {
			return *p, false
		}
	case Parallel:
		return p, true
	case *Parallel:
		if p != nil {
			return *p, true
		}
	}
	return nil, false
}

// partings returns how many times, one within the other, flows part in a list.
func partings(list []Passage) int {
	deepest := 0
	for _, p := range list {
		parts, parallel := madeOf(p)
		n := partings(parts)
		if parallel {
			n++
		}
		deepest = max(deepest, n)
	}
	return deepest
}

// missing reports a passage that is none: nil, or a pointer to none.
func missing(p Passage) bool {
	switch p := p.(type) {
	case nil:
		return true
	case *Capillary:
		return p == nil
	case *Cone:
		return p == nil
	case *Slit:
		return p == nil
	case *Wedge:
		return p == nil
	case *Annulus:
		return p == nil
	case *Entrance:
		return p == nil
	case *Die:
		return p == nil
	case *Parallel:
		return p == nil
	}
	return false
}

// PressureDrop returns the sum over the chain [Pa] at a flow [m³/s].
func (d Die) PressureDrop(m Melt, flow float64) float64 {
	var sum float64
	for _, p := range d {
		sum += p.PressureDrop(m, flow)
	}
	return sum
}

// WallShear returns the greatest wall shear rate [1/s] and, there, stress [Pa] of the chain.
func (d Die) WallShear(m Melt, flow float64) (rate, stress float64) {
	for _, p := range d {
		if r, s := p.WallShear(m, flow); s > stress {
			rate, stress = r, s
		}
	}
	return rate, stress
}

// ViscousHeating returns the numbers of the passage of the chain with the largest Nahme number.
func (d Die) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	if m.Conductivity == 0 {
		return 0, 0 // spares the search for it
	}
	for _, p := range d {
		if na, gz := p.ViscousHeating(m, flow); na > nahme || na == nahme && gz > graetz {
			nahme, graetz = na, gz
		}
	}
	return nahme, graetz
}

// Volume returns the sum over the chain [m³].
func (d Die) Volume() float64 {
	var sum float64
	for _, p := range d {
		sum += p.Volume()
	}
	return sum
}

// unit is a melt that tells what a Newtonian one of a viscosity costs.
var unit = Melt{Viscosity: material.Newtonian{Eta: 1}}

// heated is what the heating of a passage follows from.
type heated struct {
	rate, gradient, speed, across, length float64

	newtonian float64 // gradient·across²/(η·speed) of a Newtonian melt: 32 in a round hole, 12 in a slit
}

func heating(m Melt, h heated) (nahme, graetz float64) {
	if m.Conductivity == 0 || !(h.speed > 0) {
		return 0, 0
	}
	square := h.across * h.across / m.Conductivity
	if beta := -m.Viscosity.Slopes(h.rate, m.Temperature, 0).Temperature; beta > 0 {
		nahme = beta * h.speed * h.gradient / h.newtonian * square
	}
	return nahme, m.Density * m.SpecificHeat * h.speed * square / h.length
}
