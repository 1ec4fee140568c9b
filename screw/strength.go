package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Root is the body of a screw under its flights, which the flights do not strengthen.
type Root struct {
	Diameter float64 // of the root where it is thinnest, 1e-4 to 1 [m]
	Drilled  float64 // of a hole along it, 0 up to below Diameter [m]
	Length   float64 // from its bearing to the tip, 1e-3 to 100 [m]
	Modulus  float64 // Young's, 1e8 to 1e12 [Pa]
	Density  float64 // 500 to 25000 [kg/m³]
	Yield    float64 // 1e5 to 1e10, at the temperature it works at [Pa]
}

// Validate reports dimensions and properties out of range.
func (r Root) Validate() error {
	var f input.Faults
	r.check(&f)
	return f.Err()
}

func (r *Root) check(f *input.Faults) {
	f.Between("screw.Root.Diameter", r.Diameter, 1e-4, 1, "m")
	if !(r.Drilled >= 0 && r.Drilled < r.Diameter) {
		f.Refuse("screw.Root.Drilled", r.Drilled, "m", "0 to below the diameter, "+input.WithUnit(r.Diameter, "m"))
	}
	f.Between("screw.Root.Length", r.Length, 1e-3, 100, "m")
	f.Between("screw.Root.Modulus", r.Modulus, 1e8, 1e12, "Pa")
	f.Between("screw.Root.Density", r.Density, 500, 25000, "kg/m³")
	f.Between("screw.Root.Yield", r.Yield, 1e5, 1e10, "Pa")
}

// square returns D² − d² [m²], of a thin wall too.
func (r *Root) square() float64 { return (r.Diameter - r.Drilled) * (r.Diameter + r.Drilled) }

// quartic returns D⁴ − d⁴ [m⁴].
func (r *Root) quartic() float64 {
	return r.square() * (r.Diameter*r.Diameter + r.Drilled*r.Drilled)
}

// Torsion returns the greatest shear stress of a torque, -1e9 to 1e9 [N·m], alone:
// 16TD/π(D⁴−d⁴) [Pa]; a corner, a keyway or a thread adds its notch. It errs on invalid
// input. (S. Timoshenko, Strength of Materials, part I, from memory, as what follows for a
// Root.)
func (r Root) Torsion(torque float64) (float64, error) {
	var f input.Faults
	r.check(&f)
	f.Between("screw.Root.Torsion: torque", torque, -1e9, 1e9, "N·m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 16 * math.Abs(torque) * r.Diameter / (math.Pi * r.quartic()), nil
}

// Strength compares torque [N·m] and thrust [N] together, each -1e9 to 1e9, with yield,
// by distortion energy: √(σ² + 3τ²). It errs on invalid input. Bending, such as
// [Root.LeaningForce]'s moment brings once a turn, is not in it. A cold start may ask for all that the drive can
// give: a screw is to bear that, and bending breaks more of them than torque (common
// practice, no source).
func (r Root) Strength(torque, thrust float64) (material.Utilisation, error) {
	var f input.Faults
	r.check(&f)
	f.Between("screw.Root.Strength: torque", torque, -1e9, 1e9, "N·m")
	f.Between("screw.Root.Strength: thrust", thrust, -1e9, 1e9, "N")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	shear := 16 * torque * r.Diameter / (math.Pi * r.quartic())
	pressed := 4 * thrust / (math.Pi * r.square())
	return material.Utilisation{Part: "screw root", Demand: math.Hypot(pressed, math.Sqrt(3)*shear), Capacity: r.Yield, Unit: "Pa",
		Method: "torsion and thrust by distortion energy"}, nil
}

// Buckling compares a thrust towards the bearing, -1e9 to 1e9, below 0 a pull [N], with the load at which a screw held at its
// bearing and free at its tip bows until the barrel stops it: Euler's π²EI/4L². Beyond it
// the screw still turns, but rubs. It errs on invalid input.
func (r Root) Buckling(thrust float64) (material.Utilisation, error) {
	var f input.Faults
	r.check(&f)
	f.Between("screw.Root.Buckling: thrust", thrust, -1e9, 1e9, "N")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{Part: "screw bowing", Demand: math.Max(0, thrust), Capacity: math.Pow(math.Pi, 3) * r.Modulus * r.quartic() / (256 * r.Length * r.Length), Unit: "N",
		Method: "Euler, fixed and free"}, nil
}

// Sag returns how far a level screw's tip hangs below its axis by its own root's weight
// if no barrel carries it, ρgAL⁴/8EI [m]. It is often as much as the clearance: then the
// barrel does carry it. It errs on invalid input.
func (r Root) Sag() (float64, error) {
	if err := r.Validate(); err != nil {
		return 0, err
	}
	return 2 * r.Density * gravity * math.Pow(r.Length, 4) / (r.Modulus * (r.Diameter*r.Diameter + r.Drilled*r.Drilled)), nil
}

// Barrel is the wall of a barrel, closed at its end by the nozzle.
type Barrel struct {
	Inner float64 // bore, 1e-4 to 1 [m]
	Outer float64 // above Inner, up to 10 [m]
	Yield float64 // 1e5 to 1e10, at the temperature it works at: steels lose a tenth to a third by 300 °C, common practice, no source [Pa]
}

// BarrelStress is what pressure does to a barrel at its bore, where it is worst.
type BarrelStress struct {
	Hoop       float64 // [Pa]
	Axial      float64 // [Pa]
	Radial     float64 // compression, below 0 [Pa]
	Equivalent float64 // by distortion energy, √3·p·k²/(k²−1), k = Outer/Inner [Pa]
}

// Validate reports dimensions out of range.
func (b Barrel) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (b *Barrel) check(f *input.Faults) {
	f.Between("screw.Barrel.Inner", b.Inner, 1e-4, 1, "m")
	if !(b.Outer > b.Inner*(1+1e-6) && b.Outer <= 10) {
		f.Refuse("screw.Barrel.Outer", b.Outer, "m", "above Inner, "+input.WithUnit(b.Inner, "m")+", to 10 m")
	}
	f.Between("screw.Barrel.Yield", b.Yield, 1e5, 1e10, "Pa")
}

// Stress returns the stresses at the bore under a pressure, 0 to 1e10 [Pa]: G. Lamé's
// thick cylinder with closed ends (1852), as in S. Timoshenko, Strength of Materials, part
// II, from memory. A thin wall's formula, pressure times bore over twice the wall, is two
// fifths too low at Outer = 2·Inner. It errs on invalid input. Threads, holes for sensors and the joint of the nozzle are weaker than the wall and are not
// computed; neither is what gas does when plastic decomposes.
func (b Barrel) Stress(pressure float64) (BarrelStress, error) {
	var f input.Faults
	b.check(&f)
	f.Between("screw.Barrel.Stress: pressure", pressure, 0, 1e10, "Pa")
	if err := f.Err(); err != nil {
		return BarrelStress{}, err
	}
	k := b.Outer / b.Inner
	k2 := k * k
	per := pressure / ((k - 1) * (k + 1))
	return BarrelStress{Hoop: per * (k2 + 1), Axial: per, Radial: -pressure, Equivalent: math.Sqrt(3) * per * k2}, nil
}

// Strength compares a pressure, such as that of a plugged nozzle, the ClosedPressure of a
// [Conveyance] at the coldest it starts, 0 to 1e10 [Pa], with that at which the bore first yields.
// It errs on invalid input.
//
// Caution: no wall stands in for a cut-out on pressure and a rupture disc that points away
// from people.
func (b Barrel) Strength(pressure float64) (material.Utilisation, error) {
	s, err := b.Stress(pressure)
	if err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{Part: "barrel wall", Demand: s.Equivalent, Capacity: b.Yield, Unit: "Pa", Method: "thick cylinder, closed ends, distortion energy"}, nil
}

// Collapse returns the pressure at which the whole wall yields, 2/√3·σ·ln(Outer/Inner)
// [Pa], for a steel that does not harden (Timoshenko, as above, from memory). It is no
// allowance: a bore that has yielded no longer fits its screw. It errs on invalid input.
func (b Barrel) Collapse() (float64, error) {
	if err := b.Validate(); err != nil {
		return 0, err
	}
	return 2 / math.Sqrt(3) * b.Yield * math.Log(b.Outer/b.Inner), nil
}

// Widening returns by how much of itself the bore's area widens for each pascal,
//
//	2/E·((b²+a²)/(b²−a²) + ν)
//
// for a wall whose ends carry no load, of Young's modulus 1e9 to 1e12 [Pa] and Poisson's
// ratio 0 to 0.5 [-] (Lamé's thick cylinder, from memory). Steel gives way some 2 % as much
// as the melt in it [1/Pa]. It errs on invalid input.
func (b Barrel) Widening(modulus, poisson float64) (float64, error) {
	var f input.Faults
	b.check(&f)
	f.Between("screw.Barrel.Widening: modulus", modulus, 1e9, 1e12, "Pa")
	f.Between("screw.Barrel.Widening: Poisson's ratio", poisson, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	in, out := b.Inner, b.Outer
	return 2 / modulus * ((out*out+in*in)/((out-in)*(out+in)) + poisson), nil
}
