package thermal

import "meltflight/internal/input"

// Path is the way of heat from a junction to the air, one resistance after the
// other. A link that is not there is 0; a data sheet's θ(JA) stands alone in
// SinkToAir. Only resistances go in series: Ψ values (JESD51-12) do not.
// Where heat leaves by two ways, join them first with [Parallel].
type Path struct {
	JunctionToCase float64 // θ(JC), to the face that is cooled, 0 to 1e4 [K/W]
	CaseToSink     float64 // glue, pad or grease, 0 to 1e4 [K/W]
	SinkToAir      float64 // 0 to 1e4 [K/W]
}

const (
	leastResistance = 1e-3 // of a whole path [K/W]
	mostResistance  = 1e4  // of one link [K/W]
)

// Validate reports the links out of range; the whole must be at least 0.001 K/W.
func (p Path) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *Path) check(f *input.Faults) {
	f.Between("thermal.Path.JunctionToCase", p.JunctionToCase, 0, mostResistance, "K/W")
	f.Between("thermal.Path.CaseToSink", p.CaseToSink, 0, mostResistance, "K/W")
	f.Between("thermal.Path.SinkToAir", p.SinkToAir, 0, mostResistance, "K/W")
	sane := p.JunctionToCase >= 0 && p.CaseToSink >= 0 && p.SinkToAir >= 0
	if total := p.Total(); sane && total < leastResistance {
		f.Refuse("thermal.Path.Total", total, "K/W", "at least "+input.WithUnit(leastResistance, "K/W"))
	}
}

// Total returns the resistance from junction to air [K/W].
func (p Path) Total() float64 { return p.JunctionToCase + p.CaseToSink + p.SinkToAir }

// Temperatures returns those of junction, case and sink [K] that a loss [W]
// drives above the ambient air [K]. It checks nothing.
func (p Path) Temperatures(loss, ambient float64) (junction, c, s float64) {
	s = ambient + loss*p.SinkToAir
	c = s + loss*p.CaseToSink
	return c + loss*p.JunctionToCase, c, s
}

// Layer returns the resistance L/(k·A) [K/W] of a layer that heat crosses square
// to its faces, such as glue, a pad or a plate: thickness [m] 1e-7 to 1,
// conductivity [W/(m·K)] 1e-3 to 1e4, area [m²] 1e-8 to 100. Heat that spreads
// sideways from a small source into a wide plate meets more than this.
//
// Source: Y. A. Çengel and A. J. Ghajar, Heat and Mass Transfer, 5th ed., ch. 3.
func Layer(thickness, conductivity, area float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Layer: thickness", thickness, 1e-7, 1, "m")
	f.Between("thermal.Layer: conductivity", conductivity, 1e-3, 1e4, "W/(m·K)")
	f.Between("thermal.Layer: area", area, 1e-8, 100, "m²")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return thickness / (conductivity * area), nil
}

// Surface returns the resistance 1/(h·A) [K/W] of a surface to the fluid beside
// it, or of a dry joint to its partner by its contact conductance: coefficient
// [W/(m²·K)] 0.01 to 1e6, area [m²] 1e-8 to 100. Still air takes about 5 to 10
// from a warm surface, radiation included (common practice, no source).
//
// Source: Y. A. Çengel and A. J. Ghajar, Heat and Mass Transfer, 5th ed., ch. 3.
func Surface(coefficient, area float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Surface: coefficient", coefficient, 0.01, 1e6, "W/(m²·K)")
	f.Between("thermal.Surface: area", area, 1e-8, 100, "m²")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 / (coefficient * area), nil
}

// Parallel returns the resistance [K/W] of two ways from the same body to the
// same air, each 1e-13 to 1e11 [K/W]; it is less than either.
func Parallel(first, second float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Parallel: first", first, 1e-13, 1e11, "K/W")
	f.Between("thermal.Parallel: second", second, 1e-13, 1e11, "K/W")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 / (1/first + 1/second), nil
}
