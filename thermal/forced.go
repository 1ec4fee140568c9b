package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// transition is the Reynolds number at which the air along a plate turns turbulent.
const transition = 5e5

// ForcedPlate returns the mean convection of a plate of one temperature along its
// length in the direction of flow, 1e-4 to 10 [m], at a speed of 1e-3 to 1000 [m/s]:
//
//	Re up to 5e5   0.664·Re^½·Pr^⅓
//	beyond         (0.037·Re^0.8 − 871)·Pr^⅓, Re up to 1e8 and Pr up to 60
//
// Usual error: up to 25 % (common practice, no source); a fan's stirred air gives
// more than the laminar law. Below Re = 1000 (from memory) the layer is no longer thin, and
// natural convection may be more than this: Ra/(Pr·Re²) above 1 tells.
//
// Source: Çengel and Ghajar, Heat and Mass Transfer, 5th ed., eqs. 7-21 and 7-24
// (numbers of the equations from memory).
func ForcedPlate(length, speed float64, fluid Fluid) (Convection, error) {
	var f input.Faults
	f.Between("thermal.ForcedPlate: length", length, 1e-4, 10, "m")
	f.Between("thermal.ForcedPlate: speed", speed, 1e-3, 1000, "m/s")
	fluid.check(&f)
	if err := f.Err(); err != nil {
		return Convection{}, err
	}
	re := speed * length / fluid.KinematicViscosity
	c := Convection{Number: re}
	if re <= transition {
		c.Nusselt = 0.664 * math.Sqrt(re) * math.Cbrt(fluid.Prandtl)
	} else {
		c.Nusselt = (0.037*math.Pow(re, 0.8) - 871) * math.Cbrt(fluid.Prandtl)
		c.Beyond = beyond(c.Beyond, "turbulent plate", "Prandtl number", fluid.Prandtl, 0.6, 60)
	}
	c.Coefficient = c.Nusselt * fluid.Conductivity / length
	c.Beyond = beyond(c.Beyond, "plate in a flow", "Reynolds number", re, 1e3, 1e8)
	return c, nil
}

// Duct is a straight passage of rectangular section with walls of one temperature,
// such as that from a small fan along a heat break or between two fins.
type Duct struct {
	Width  float64 // 1e-4 to 10 [m]
	Height float64 // 1e-4 to 10 [m]
	Length float64 // in the direction of flow, 1e-4 to 10 [m]
}

// Validate reports the fields out of range.
func (d Duct) Validate() error {
	var f input.Faults
	d.check(&f)
	return f.Err()
}

func (d *Duct) check(f *input.Faults) {
	f.Between("thermal.Duct.Width", d.Width, 1e-4, 10, "m")
	f.Between("thermal.Duct.Height", d.Height, 1e-4, 10, "m")
	f.Between("thermal.Duct.Length", d.Length, 1e-4, 10, "m")
}

// HydraulicDiameter returns four times the section over its edge [m].
func (d Duct) HydraulicDiameter() float64 { return 2 * d.Width * d.Height / (d.Width + d.Height) }

// Convection returns that of a mean speed in the duct, 1e-3 to 1000 [m/s], between
// the walls and the mean of the air as it warms along them (the logarithmic one).
//
//	Re up to 2300  [Nu∞³ + 0.7³ + (1.615·(f·Re/16)^⅓·Gz^⅓ − 0.7)³]^⅓, Gz = Re·Pr·D/L
//	from 4000      Gnielinski, (f/8)(Re−1000)Pr/[1+12.7·√(f/8)·(Pr^⅔−1)], f = (0.790·ln Re − 1.64)⁻²
//	between        on the line between the two, in Re
//
// and from 2300 on no less than the laminar form, which rules in very short ducts;
// with Nu∞ and f·Re of the rectangle. The speed is taken as developed before the heat begins;
// from a fan's outlet it is not, and a short duct of air takes up to some 30 % more (from
// memory). Usual error: the laminar form is within 3.5 % of the exact series for a
// wide slit and 1 % for a round tube (compared in the tests), other rectangles not
// compared; turbulent 10 % (from memory), for ducts longer than 10 diameters.
//
// Source: V. Gnielinski in VDI Heat Atlas, ch. G1, for the form; R. K. Shah and A. L.
// London, Laminar Flow Forced Convection in Ducts (1978), ch. 7, for the rectangle; Çengel and
// Ghajar, 5th ed., ch. 8, for the turbulent law (all from memory). That the form
// serves rectangles, by their friction, is this package's own step.
func (d Duct) Convection(speed float64, fluid Fluid) (Convection, error) {
	var f input.Faults
	d.check(&f)
	f.Between("thermal.Duct.Convection: speed", speed, 1e-3, 1000, "m/s")
	fluid.check(&f)
	if err := f.Err(); err != nil {
		return Convection{}, err
	}
	return d.convection(speed, fluid), nil
}

const (
	lastLaminar    = 2300 // Reynolds number in a duct
	firstTurbulent = 4000
)

func (d *Duct) convection(speed float64, fluid Fluid) (c Convection) {
	diameter := d.HydraulicDiameter()
	c.Number = speed * diameter / fluid.KinematicViscosity
	short := diameter / d.Length
	c.Nusselt = d.nusselt(c.Number, fluid.Prandtl, short)
	c.Coefficient = c.Nusselt * fluid.Conductivity / diameter
	c.Beyond = beyond(c.Beyond, "duct", "Reynolds number", c.Number, 0, 5e6)
	if c.Number > lastLaminar {
		c.Beyond = beyond(c.Beyond, "turbulent duct", "diameters of length", 1/short, 10, 1e5)
		c.Beyond = beyond(c.Beyond, "turbulent duct", "Prandtl number", fluid.Prandtl, 0.5, 2000)
	}
	return c
}

func (d *Duct) nusselt(re, pr, short float64) float64 {
	flat := math.Min(d.Width, d.Height) / math.Max(d.Width, d.Height)
	friction, developed := rectangle(flat)
	laminar := entrance(friction, developed, re*pr*short)
	if re <= lastLaminar {
		return laminar
	}
	last := entrance(friction, developed, lastLaminar*pr*short)
	turbulent := gnielinski(math.Max(re, firstTurbulent), pr)
	share := math.Min(1, (re-lastLaminar)/(firstTurbulent-lastLaminar))
	return math.Max(laminar, (1-share)*last+share*turbulent)
}

// rectangle returns friction factor (Fanning) times Reynolds number and the Nusselt number of
// developed laminar flow between walls of one temperature, by the ratio of the sides.
func rectangle(x float64) (friction, nusselt float64) {
	friction = 24 * (1 - x*(1.3553-x*(1.9467-x*(1.7012-x*(0.9564-x*0.2537)))))
	nusselt = 7.541 * (1 - x*(2.610-x*(4.970-x*(5.119-x*(2.702-x*0.548)))))
	return friction, nusselt
}

// entrance is the mean Nusselt number of laminar flow from where the heat begins.
func entrance(friction, developed, graetz float64) float64 {
	layer := math.Cbrt(friction/16)*1.615*math.Cbrt(graetz) - 0.7
	return math.Cbrt(developed*developed*developed + 0.343 + layer*layer*layer)
}

func gnielinski(re, pr float64) float64 {
	root := 1 / (0.790*math.Log(re) - 1.64)
	f := root * root / 8
	return f * (re - 1000) * pr / (1 + 12.7*math.Sqrt(f)*(math.Cbrt(pr*pr)-1))
}

// Draught is what a flow of air takes from the walls of a duct.
type Draught struct {
	Speed       float64  // mean over the section [m/s]
	Coefficient float64  // between walls and air beside them [W/(m²·K)]
	Conductance float64  // heat for each kelvin of walls above entering air [W/K]
	Outlet      float64  // warming of the air as a part of that difference, 0 to 1 [-]
	Beyond      []string // in words, where a law's stated range is left; nil inside it
}

// Blow returns what a volume flow, 1e-7 to 100 [m³/s], of air takes from the four
// walls of the duct, with air and walls [K] 200 to 473.15 and 200 to 1200. The air
// warms along the duct, so that little of it takes little whatever the wall:
// conductance ρ·V̇·c·(1 − exp(−h·A/(ρ·V̇·c))). The flow is that of the air as it
// enters, which is where a fan's own curve and the pressure drop of the duct meet, not its free flow.
//
// Source: Çengel and Ghajar, 5th ed., sect. 8-4 (from memory).
func (d Duct) Blow(flow, walls, air float64) (Draught, error) {
	var f input.Faults
	d.check(&f)
	checkBlow(&f, "thermal.Duct.Blow", flow, walls, air)
	if err := f.Err(); err != nil {
		return Draught{}, err
	}
	speed := flow / (d.Width * d.Height)
	f.Between("thermal.Duct.Blow: speed of the flow in the section", speed, 1e-3, 1000, "m/s")
	if err := f.Err(); err != nil {
		return Draught{}, err
	}
	c := d.convection(speed, filmOf(walls, air))
	return d.draught(c, speed, flow, 2*(d.Width+d.Height)*d.Length, air), nil
}

func checkBlow(f *input.Faults, name string, flow, walls, air float64) {
	f.Between(name+": flow", flow, 1e-7, 100, "m³/s")
	f.Between(name+": walls", walls, lowestTemperature, hottestSurface, "K")
	checkTemperature(f, name+": air", air)
}

// draught is what a flow takes by a convection from so much area [m²], each part of
// it as good as another.
func (d *Duct) draught(c Convection, speed, flow, area, air float64) Draught {
	entering, _ := material.AirAt(air)
	capacity := entering.Density * flow * entering.SpecificHeat
	outlet := -math.Expm1(-c.Coefficient * area / capacity)
	return Draught{
		Speed: speed, Coefficient: c.Coefficient,
		Conductance: capacity * outlet, Outlet: outlet, Beyond: c.Beyond,
	}
}
