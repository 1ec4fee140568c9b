package main

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
	"meltflight/thermal"
)

// What is assumed of metals, wool, plastic and air.
const (
	stainless = 16.0 // [W/(m·K)]
	plastic   = 0.2  // pellets and melt between screw and wall [W/(m·K)]
	wool      = 0.06 // at its mean temperature [W/(m·K)]
	foil      = 0.3  // emissivity of what is around the wool [-]
	bare      = 10.0 // of the bare sleeve, radiation included [W/(m²·K)]
)

var steel = thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490}

const (
	mm     = 1e-3
	minute = 60.0 // [s]
)

// answer is what is found.
type answer struct {
	plan     plan
	table    [][]thermal.ThroatState // by collar and length
	shortest [][2][]float64          // by collar: for the sleeve, and for the screw as well, one a plastic [mm]; NaN where none is
	lagged   thermal.LaggedState     // of the heated length
	cases    []course
	worst    thermal.ThroatState // of the one that is advised on
	fit      fitted
}

func find(p plan) (*answer, error) {
	a := &answer{plan: p}
	if err := p.check(); err != nil {
		return nil, err
	}
	for _, c := range p.collars {
		var row []thermal.ThroatState
		for _, length := range p.lengths {
			s, err := p.throat(length, c)
			if err != nil {
				return nil, fmt.Errorf("%s: %w", c.name, err)
			}
			row = append(row, s)
		}
		a.table = append(a.table, row)
		var two [2][]float64
		for _, m := range p.plastics {
			for i, warmest := range []func(s thermal.ThroatState) float64{
				func(s thermal.ThroatState) float64 { return s.Throat },
				func(s thermal.ThroatState) float64 { return math.Max(s.Throat, s.Screw) },
			} {
				length, err := p.shortest(c, m.Softening-p.margin, warmest)
				if err != nil {
					return nil, fmt.Errorf("%s, %s: %w", m.Name, c.name, err)
				}
				two[i] = append(two[i], length)
			}
		}
		a.shortest = append(a.shortest, two)
	}
	hot, shed := material.Celsius(p.hot), material.Celsius(p.shed)
	var err error
	if a.lagged, err = p.lagged().At(hot, shed); err != nil {
		return nil, err
	}
	for _, s := range p.cases {
		c, err := a.live(s)
		if err != nil {
			return nil, fmt.Errorf("sleeve of %g mm, %s: %w", s.length, p.collars[s.collar].name, err)
		}
		a.cases = append(a.cases, c)
	}
	chosen := p.cases[p.chosen]
	if a.worst, err = p.throat(chosen.length, p.collars[chosen.collar]); err != nil {
		return nil, err
	}
	a.fit, err = p.test.fit()
	return a, err
}

// check refuses what no law sees.
func (p plan) check() error {
	var f input.Faults
	f.Between("throat: hot", p.hot, p.shed+10, 400, "°C")
	f.Between("throat: shed", p.shed, -20, 60, "°C")
	f.Between("throat: margin", p.margin, 0, 100, "K")
	f.Between("throat: barrel", p.barrel, 50, 3000, "mm")
	f.Between("throat: bore", p.bore, 2, 500, "mm")
	f.Between("throat: outer", p.outer, p.bore+2, 1000, "mm")
	f.Between("throat: sleeve", p.sleeve, p.bore+2, 1000, "mm")
	f.Between("throat: root", p.root, 1, p.bore-0.5, "mm")
	f.Between("throat: warm", p.warm, 1, 1000, "min")
	f.Count("throat: bands", p.bands, 1, 10)
	f.Between("throat: band", p.band, 5, p.barrel/float64(max(1, p.bands)), "mm")
	f.Count("throat: collars", len(p.collars), 1, 20)
	f.Count("throat: lengths", len(p.lengths), 1, 20)
	f.Count("throat: cases", len(p.cases), 1, 3)
	f.Count("throat: chosen", p.chosen, 0, len(p.cases)-1)
	for i, s := range p.cases {
		f.Count(fmt.Sprintf("throat: cases[%d].collar", i), s.collar, 0, len(p.collars)-1)
	}
	return f.Err()
}

// throat is a sleeve of a length [mm] in a collar, with the screw in it that stands, and both as
// hot as the barrel at their hot ends: the worst there is.
func (p *plan) throat(length float64, c collar) (thermal.ThroatState, error) {
	hot := material.Celsius(p.hot)
	exchange, err := p.exchange()
	if err != nil {
		return thermal.ThroatState{}, err
	}
	return thermal.Throat{
		Sleeve:       thermal.Sleeve{Outer: p.sleeve / 2 * mm, Inner: p.bore / 2 * mm, Length: length * mm, Conductivity: stainless, Coefficient: bare},
		ScrewSection: p.screwSection(), ScrewConductivity: steel.Conductivity, Exchange: exchange,
		Collar: c.conductance, Coolant: material.Celsius(c.coolant),
		Shank: p.shank, Drive: material.Celsius(p.gear), Air: material.Celsius(p.shed),
	}.At(hot, hot)
}

func (p *plan) screwSection() float64 { return math.Pi / 4 * p.root * p.root * mm * mm }

// exchange is the conductance of a metre between screw and wall [W/(m·K)].
func (p *plan) exchange() (float64, error) {
	r, err := thermal.TubeLayer(p.root/2*mm, p.bore/2*mm, plastic, 1)
	return 1 / r, err
}

const longest = 300 // sleeve that is sought [mm]

// shortest returns the sleeve [mm] that keeps what is asked for at a temperature [K], NaN if
// none does.
func (p *plan) shortest(c collar, limit float64, warmest func(thermal.ThroatState) float64) (float64, error) {
	const least = 2
	var failed error
	above := func(length float64) float64 {
		s, err := p.throat(length, c)
		if err != nil {
			failed = err
		}
		return warmest(s) - limit
	}
	short, long := above(least), above(longest)
	switch {
	case failed != nil:
		return 0, failed
	case short <= 0:
		return least, nil
	case long > 0:
		return math.NaN(), nil
	}
	length, err := root.Between(above, least, short, longest, long, 1e-6)
	if failed != nil {
		err = failed
	}
	return length, err
}

func (p *plan) lagged() thermal.Lagged {
	return thermal.Lagged{Radius: p.outer / 2 * mm, Length: p.barrel * mm, Thickness: p.wool * mm, Conductivity: wool, Emissivity: foil}
}

// fitted is what a warm-up that was read tells.
type fitted struct {
	resistance, capacity           float64 // [K/W], [J/K]
	resistanceError, capacityError float64
	scatter                        float64 // [K]
}

// fit takes the barrel as one body with one way out.
func (w *warmup) fit() (f fitted, err error) {
	var readings []thermal.Reading
	for _, pair := range w.pairs {
		readings = append(readings, thermal.Reading{Time: pair[0] * minute, Temperature: material.Celsius(pair[1])})
	}
	build := func(x []float64) thermal.Network {
		return thermal.Ladder([]float64{x[0]}, []float64{x[1]}, w.power, material.Celsius(w.air))
	}
	found, err := thermal.FitWarming(build, []float64{1000, 1}, 0, readings)
	if err != nil {
		return f, fmt.Errorf("warm-up: %w", err)
	}
	return fitted{found.Parameters[1], found.Parameters[0], found.Errors[1], found.Errors[0], found.Scatter}, nil
}
