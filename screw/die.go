package screw

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"meltflight/internal/input"
	"meltflight/material"
)

// Passage is one part of the way from screw to nozzle tip. Its methods other than
// Validate are kernels for a valid passage and melt and a finite flow, not negative.
type Passage interface {
	// Validate reports every dimension out of range.
	Validate() error
	// PressureDrop returns the pressure a flow [m³/s] of the melt costs [Pa].
	PressureDrop(m Melt, flow float64) float64
	// WallShear returns the true shear rate [1/s] and the shear stress [Pa] at the
	// wall where they are greatest.
	WallShear(m Melt, flow float64) (rate, stress float64)
}

// Die is a chain of passages from the screw tip outwards.
type Die []Passage

// Validate reports an empty chain and the faults of every passage.
func (d Die) Validate() error {
	var f input.Faults
	f.Count("screw.Die: passages", len(d), 1, 64)
	for i, p := range d {
		if p == nil {
			f.Add(&input.Word{Name: fmt.Sprintf("screw.Die[%d]", i), Value: "nil", Allowed: "a Capillary or Cone"})
		} else if err := p.Validate(); err != nil {
			f.Add(fmt.Errorf("screw.Die[%d]: %w", i, err))
		}
	}
	return f.Err()
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

// Capillary is a straight round hole.
type Capillary struct {
	Diameter float64 // 1e-5 to 1 [m]
	Length   float64 // 1e-6 to 10 [m]
}

// Validate reports dimensions out of range.
func (c Capillary) Validate() error {
	var f input.Faults
	f.Between("screw.Capillary.Diameter", c.Diameter, 1e-5, 1, "m")
	f.Between("screw.Capillary.Length", c.Length, 1e-6, 10, "m")
	return f.Err()
}

// PressureDrop returns 2Lτ/R [Pa] with the wall stress of [Capillary.WallShear];
// entrance loss is not included.
func (c Capillary) PressureDrop(m Melt, flow float64) float64 {
	if flow <= 0 {
		return 0
	}
	_, stress := c.WallShear(m, flow)
	return 4 * c.Length / c.Diameter * stress
}

// WallShear returns the true wall shear rate γ̇a(3n+1)/4n [1/s] and the wall
// stress [Pa], γ̇a = 4Q/πR³ being the apparent rate. Exact for Newtonian and
// power-law melts; for another law n is its local index at γ̇a, and the stress that
// of the power law touching there, within 2.5 % on Carreau's bend (a = 2) down to
// an index of 0.3 and within 4 % down to 0.05, and up to 9.5 % on the sharpest bend.
//
// B. Rabinowitsch, Z. Phys. Chem. A 145 (1929), as in N. S. Rao and G. Schumacher,
// Design Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.23.
func (c Capillary) WallShear(m Melt, flow float64) (rate, stress float64) {
	if flow <= 0 {
		return 0, 0
	}
	apparent := 32 * flow / (math.Pi * c.Diameter * c.Diameter * c.Diameter)
	eta, n := m.local(apparent)
	if n == 1 {
		return apparent, eta * apparent
	}
	// τ = η(γ̇a)·((3n+1)/4n)ⁿ·γ̇a: the wall is sheared faster than γ̇a but thinner there.
	steep := (3*n + 1) / (4 * n)
	return apparent * steep, eta * apparent * math.Pow(steep, n)
}

// Cone is a round taper.
type Cone struct {
	Inlet  float64 // diameter at the wide end, 1e-5 to 1 [m]
	Outlet float64 // diameter at the narrow end, 1e-5 up to Inlet [m]
	Length float64 // axial, 1e-6 to 10 [m]
}

// ConeOf returns the cone of a full angle, 0.001 to 3.1 [rad], between two
// diameters [m]. It errs on values out of range.
func ConeOf(inlet, outlet, angle float64) (Cone, error) {
	var f input.Faults
	f.Between("screw.ConeOf: angle", angle, 1e-3, 3.1, "rad")
	c := Cone{Inlet: inlet, Outlet: outlet, Length: (inlet - outlet) / (2 * math.Tan(angle/2))}
	c.diameters(&f)
	if f.None() {
		f.Add(c.Validate())
	}
	return c, f.Err()
}

func (c Cone) diameters(f *input.Faults) {
	f.Between("screw.Cone.Inlet", c.Inlet, 1e-5, 1, "m")
	f.Between("screw.Cone.Outlet", c.Outlet, 1e-5, 1, "m")
	if f.None() && c.Outlet >= c.Inlet {
		f.Refuse("screw.Cone.Outlet", c.Outlet, "m", "below the inlet, "+input.WithUnit(c.Inlet, "m"))
	}
}

// Validate reports dimensions out of range.
func (c Cone) Validate() error {
	var f input.Faults
	c.diameters(&f)
	f.Between("screw.Cone.Length", c.Length, 1e-6, 10, "m")
	return f.Err()
}

// PressureDrop returns the pressure [Pa] of shear flow through slice after slice
// of the cone (lubrication approximation; the stretching of the melt is not
// included, which full angles above some 30° make felt). Exact in that sense for
// Newtonian and power-law melts:
//
//	Δp = L·|dp/dz|₁/3n · (1−(d₁/d₂)^3n)/(d₂/d₁−1)
//
// with index 1 for the narrow end; another law is integrated over the slices.
func (c Cone) PressureDrop(m Melt, flow float64) float64 {
	if flow <= 0 {
		return 0
	}
	perLength := func(diameter float64) float64 {
		return Capillary{Diameter: diameter, Length: 1}.PressureDrop(m, flow)
	}
	ratio := c.Outlet / c.Inlet
	switch v := m.Viscosity.(type) {
	case material.Newtonian:
		return c.Length * perLength(c.Outlet) / 3 * (1 + ratio + ratio*ratio) * ratio
	case material.PowerLaw:
		n := v.Index
		return c.Length * perLength(c.Outlet) / (3 * n) * -math.Expm1(3*n*math.Log(ratio)) / (1/ratio - 1)
	}
	// In the logarithm of the diameter the integrand is smooth and nearly exponential.
	logIn, logOut := math.Log(c.Inlet), math.Log(c.Outlet)
	var sum float64
	for i, x := range gaussNodes {
		d := math.Exp((logIn + logOut + x*(logIn-logOut)) / 2)
		sum += gaussWeights[i] * d * perLength(d)
	}
	return sum * (logIn - logOut) / 2 * c.Length / (c.Inlet - c.Outlet)
}

var gaussNodes, gaussWeights = func() (x, w [12]float64) {
	quad.Legendre{}.FixedLocations(x[:], w[:], -1, 1)
	return x, w
}()

// WallShear returns the wall shear at the narrow end [1/s], [Pa].
func (c Cone) WallShear(m Melt, flow float64) (rate, stress float64) {
	return Capillary{Diameter: c.Outlet, Length: c.Length}.WallShear(m, flow)
}
