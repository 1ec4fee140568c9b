package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// TubeLayer returns the resistance ln(ro/ri)/(2π·k·L) [K/W] of a layer around a tube that
// heat crosses from its inner radius, 1e-5 to 10 [m], to its outer, larger, to 10 [m]:
// conductivity [W/(m·K)] 1e-3 to 1e4, length [m] 1e-4 to 100. Its inverse for a length of
// 1 m is the conductance of a metre [W/(m·K)], of plastic between barrel and screw for instance.
//
// Source: Çengel and Ghajar, Heat and Mass Transfer, 5th ed., ch. 3.
func TubeLayer(inner, outer, conductivity, length float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.TubeLayer: inner", inner, 1e-5, 10, "m")
	f.Between("thermal.TubeLayer: outer", outer, 1e-5, 10, "m")
	f.Between("thermal.TubeLayer: conductivity", conductivity, 1e-3, 1e4, "W/(m·K)")
	f.Between("thermal.TubeLayer: length", length, 1e-4, 100, "m")
	if f.None() && !(outer > inner) {
		f.Refuse("thermal.TubeLayer: outer", outer, "m", "more than inner, "+input.WithUnit(inner, "m"))
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return tubeLayer(inner, outer-inner, conductivity, length), nil
}

func tubeLayer(inner, thickness, conductivity, length float64) float64 {
	return math.Log1p(thickness/inner) / (2 * math.Pi * conductivity * length)
}

// CriticalRadius returns k/h [m], the outer radius at which an insulated tube loses most, by the
// conductivity of the insulation [W/(m·K)] 1e-3 to 1e4 and the coefficient at its
// surface, radiation included [W/(m²·K)] 0.01 to 1e6. Below it insulation adds to the loss, as
// on a thin wire; that of a sphere is twice as much. A barrel is beyond it: wool of
// 0.05 W/(m·K) in still air has about 6 mm.
//
// Source: Çengel and Ghajar, 5th ed., ch. 3.
func CriticalRadius(conductivity, coefficient float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.CriticalRadius: conductivity", conductivity, 1e-3, 1e4, "W/(m·K)")
	f.Between("thermal.CriticalRadius: coefficient", coefficient, 0.01, 1e6, "W/(m²·K)")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return conductivity / coefficient, nil
}

// Lagged is a barrel that lies level in air, bare or in insulation. Its ends are left out.
//
// What may be touched is another matter: by ISO 13732-1 smooth bare metal burns from about 65 °C on
// when touched for 1 s, any material from 51 °C when held for 1 min and from 43 °C
// for 8 h (from memory; see the standard itself).
type Lagged struct {
	Radius       float64 // of the barrel, 1e-4 to 1 [m]
	Length       float64 // 1e-3 to 5 [m]
	Thickness    float64 // of the insulation, 0 to 1, 0 of a bare barrel [m]
	Conductivity float64 // of the insulation at its mean temperature, 1e-3 to 1e4; not asked for without [W/(m·K)]
	Emissivity   float64 // of what is outside, 0 to 1: bright foil 0.1, oxidised steel 0.8 (typical, from memory) [-]
	Blown        float64 // coefficient that stands in place of natural convection, 0 to 1e4, 0 in still air [W/(m²·K)]
}

// LaggedState is what leaves a barrel.
type LaggedState struct {
	Surface     float64  // temperature of what can be touched [K]
	Convection  float64  // [W]
	Radiation   float64  // [W]
	Loss        float64  // both [W]
	Conductance float64  // Loss by the difference of barrel and air, 0 where there is none [W/K]
	Beyond      []string // in words, where the convection's stated range is left; nil inside it
}

// Validate reports the fields out of range.
func (l Lagged) Validate() error {
	var f input.Faults
	l.check(&f)
	return f.Err()
}

func (l *Lagged) check(f *input.Faults) {
	f.Between("thermal.Lagged.Radius", l.Radius, 1e-4, 1, "m")
	f.Between("thermal.Lagged.Length", l.Length, 1e-3, 5, "m")
	f.Between("thermal.Lagged.Thickness", l.Thickness, 0, 1, "m")
	if l.Thickness > 0 {
		f.Between("thermal.Lagged.Conductivity", l.Conductivity, 1e-3, 1e4, "W/(m·K)")
	}
	f.Between("thermal.Lagged.Emissivity", l.Emissivity, 0, 1, "")
	f.Between("thermal.Lagged.Blown", l.Blown, 0, 1e4, "W/(m²·K)")
}

// Face returns what is outside. It checks nothing.
func (l Lagged) Face() Face {
	outer := l.Radius + l.Thickness
	return Face{Shape: HorizontalCylinder, Length: 2 * outer, Area: 2 * math.Pi * outer * l.Length, Emissivity: l.Emissivity, Blown: l.Blown}
}

// At returns what leaves the barrel at a temperature, 200 to 1200 [K], in air at 200 to
// 473.15 [K]: the one surface temperature at which the insulation lets through what
// the surface gives off by [Face.Loss]. Errors are those of natural convection, see
// [Shape.Nusselt], shared out by the resistance of the insulation.
func (l Lagged) At(barrel, air float64) (LaggedState, error) {
	var f input.Faults
	l.check(&f)
	f.Between("thermal.Lagged.At: barrel", barrel, lowestTemperature, hottestSurface, "K")
	checkTemperature(&f, "thermal.Lagged.At: air", air)
	if err := f.Err(); err != nil {
		return LaggedState{}, err
	}
	face, difference := l.Face(), barrel-air
	above := difference // of the surface
	if l.Thickness > 0 && difference != 0 {
		through := 1 / tubeLayer(l.Radius, l.Thickness, l.Conductivity, l.Length)
		var err error
		above, err = root.Find(func(d float64) float64 { return face.Loss(air+d, air) - through*(difference-d) }, 0, difference, 1e-14)
		if err != nil {
			return LaggedState{}, err
		}
	}
	s := face.at(air+above, air)
	r := LaggedState{Surface: s.Temperature, Convection: s.Convection, Radiation: s.Radiation, Loss: s.Loss, Beyond: s.Beyond}
	if difference != 0 {
		r.Conductance = r.Loss / difference
	}
	return r, nil
}

// Ceiling returns the barrel with a power, 0 to 1e5 [W], that never switches off, in air at 200 to
// 473.15 [K]: its temperature [K] and what leaves it. A power that needs more than 1200 K is
// refused, with the most that may be asked; insulation, plastic and heater have failed long before.
func (l Lagged) Ceiling(power, air float64) (barrel float64, s LaggedState, err error) {
	var f input.Faults
	l.check(&f)
	f.Between("thermal.Lagged.Ceiling: power", power, 0, 1e5, "W")
	checkTemperature(&f, "thermal.Lagged.Ceiling: air", air)
	if err := f.Err(); err != nil {
		return 0, LaggedState{}, err
	}
	most, err := l.At(hottestSurface, air)
	if err != nil {
		return 0, LaggedState{}, err
	}
	if power > most.Loss {
		f.Refuse("thermal.Lagged.Ceiling: power", power, "W", "up to "+input.WithUnit(most.Loss, "W")+", lost at 1200 K")
		return 0, LaggedState{}, f.Err()
	}
	face := l.Face()
	// The surface is sought: what it gives off tells how much warmer the barrel is within.
	above, err := root.Between(func(d float64) float64 { return face.Loss(air+d, air) - power }, 0, -power, most.Surface-air, most.Loss-power, 1e-13)
	if err != nil {
		return 0, LaggedState{}, err
	}
	within := 0.0
	if l.Thickness > 0 {
		within = power * tubeLayer(l.Radius, l.Thickness, l.Conductivity, l.Length)
	}
	barrel = math.Min(hottestSurface, air+above+within)
	s, err = l.At(barrel, air)
	return barrel, s, err
}
