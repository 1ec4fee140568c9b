package screw

import (
	"meltflight/internal/input"
	"meltflight/material"
)

// Wedge is a slit that tapers in height at constant width.
type Wedge struct {
	Width  float64 // 1e-5 to 10 [m]
	Inlet  float64 // height at the high end, 1e-5 up to Width [m]
	Outlet float64 // height at the low end, 1e-5 up to Inlet [m]
	Length float64 // axial, 1e-6 to 10 [m]
}

// Validate reports dimensions out of range.
func (w Wedge) Validate() error {
	var f input.Faults
	f.Between("screw.Wedge.Width", w.Width, 1e-5, 10, "m")
	f.Between("screw.Wedge.Length", w.Length, 1e-6, 10, "m")
	if f.None() {
		f.Between("screw.Wedge.Inlet", w.Inlet, 1e-5, w.Width, "m")
		f.Between("screw.Wedge.Outlet", w.Outlet, 1e-5, w.Width, "m")
	}
	if f.None() && w.Outlet >= w.Inlet {
		f.Refuse("screw.Wedge.Outlet", w.Outlet, "m", "below the inlet, "+input.WithUnit(w.Inlet, "m"))
	}
	return f.Err()
}

// PressureDrop returns the pressure [Pa] of shear flow through slice after slice, each
// a [Slit] (lubrication approximation; the stretching of the melt is not included).
// The slices are summed to some 1e-12 for Newtonian and power-law melts, which between
// infinitely wide walls make
//
//	Δp = L·|dp/dz|₁/2n · (1−(h₁/h₂)^2n)/(h₂/h₁−1)
//
// with index 1 for the low end, and for other laws of plastics to some 1e-8; a bend as
// sharp as no plastic's (Yasuda's a above 4) may lose 1e-5 to 1e-3 in a long taper.
func (w Wedge) PressureDrop(m Melt, flow float64) float64 {
	if flow <= 0 {
		return 0
	}
	l := tiers{m: m, d: inSlit} // each slice starts from the one before
	_, power := m.Viscosity.(material.PowerLaw)
	_, newtonian := m.Viscosity.(material.Newtonian)
	return w.Length * tapered(w.Inlet, w.Outlet, func(h float64) float64 {
		apparent := 6 * flow / (w.Width * h * h)
		var stress float64
		if power || newtonian {
			_, stress = powerShear(m, inSlit, apparent)
		} else {
			_, stress = l.shearAt(apparent)
		}
		return 2 / h * stress / PressureShape(h/w.Width)
	})
}

func (w Wedge) narrow() Slit { return Slit{Width: w.Width, Height: w.Outlet, Length: w.Length} }

// WallShear returns the wall shear at the low end [1/s], [Pa].
func (w Wedge) WallShear(m Melt, flow float64) (rate, stress float64) {
	return w.narrow().WallShear(m, flow)
}

// ViscousHeating returns the Nahme and Graetz numbers at the low end, see [Passage].
func (w Wedge) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	return w.narrow().ViscousHeating(m, flow)
}

// Volume returns W·L times the mean height [m³].
func (w Wedge) Volume() float64 { return w.Width * w.Length * (w.Inlet + w.Outlet) / 2 }
