package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

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
	ratio := c.Outlet / c.Inlet
	end := func() float64 { return Capillary{Diameter: c.Outlet, Length: c.Length}.PressureDrop(m, flow) }
	switch v := m.Viscosity.(type) {
	case material.Newtonian:
		return end() / 3 * (1 + ratio + ratio*ratio) * ratio
	case material.PowerLaw:
		n := v.Index
		return end() / (3 * n) * -math.Expm1(-3*n*logRatio(c.Inlet, c.Outlet)) * c.Outlet / (c.Inlet - c.Outlet)
	}
	l := tiers{m: m, d: inHole} // each slice starts from the one before
	return c.Length * tapered(c.Inlet, c.Outlet, func(d float64) float64 {
		_, stress := l.shearAt(32 * flow / (math.Pi * d * d * d))
		return 4 / d * stress
	})
}

// tapered returns the mean of f over a size that falls evenly from inlet to outlet, by
// Gauss's rule in the logarithm of the size, in which f is smooth and nearly
// exponential.
func tapered(inlet, outlet float64, f func(size float64) float64) float64 {
	const widest = 1.5 // of a piece, in that logarithm
	span := logRatio(inlet, outlet)
	pieces := math.Ceil(span / widest)
	half := span / pieces / 2
	var sum float64
	for i := int(pieces) - 1; i >= 0; i-- { // from the inlet on, as the points fall: where shear grows, errors shrink
		for _, k := range twelve {
			size := outlet * math.Exp(half*(float64(2*i+1)+k.at))
			sum += k.weight * size * f(size)
		}
	}
	return sum * half / (inlet - outlet)
}

// logRatio returns ln(a/b), a above b and maybe next to it.
func logRatio(a, b float64) float64 { return math.Log1p((a - b) / b) }

// WallShear returns the wall shear at the narrow end [1/s], [Pa].
func (c Cone) WallShear(m Melt, flow float64) (rate, stress float64) {
	return Capillary{Diameter: c.Outlet, Length: c.Length}.WallShear(m, flow)
}

// ViscousHeating returns the Nahme number at the narrow end and the Graetz number, which is
// the same at any diameter; see [Passage].
func (c Cone) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	return Capillary{Diameter: c.Outlet, Length: c.Length}.ViscousHeating(m, flow)
}

// Volume returns that of the frustum [m³].
func (c Cone) Volume() float64 {
	return math.Pi / 12 * c.Length * (c.Inlet*c.Inlet + c.Inlet*c.Outlet + c.Outlet*c.Outlet)
}
