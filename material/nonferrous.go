package material

const (
	en755   = "EN 755-2, T66, from memory"
	en7556  = "EN 755-2, T6 extruded, guaranteed minimum, from memory"
	en1999  = "EN 1999-1-2, 6000 series alloys, from memory"
	fatigue = fkm + ": 0.3 for wrought aluminium, of tension and compression"
)

// Al6060 returns extruded aluminium EN AW-6060 T66, for profiles and tubes.
func Al6060() Metal {
	return aluminium("6060-T66", en755, Metal{Density: 2700, Young: 69.5e9, Conductivity: 200, SpecificHeat: 900, Expansion: 23.4e-6,
		Strength: []Strength{
			{Section: 0.003, Yield: 160e6, Ultimate: 215e6},
			{Section: 0.025, Yield: 150e6, Ultimate: 195e6},
		}})
}

// Al6061 returns extruded aluminium EN AW-6061 T6, guaranteed minimum. Tables of
// typical values print 276 and 310 MPa for it, 15 and 19 % more.
func Al6061() Metal {
	return aluminium("6061-T6", en7556, Metal{Density: 2700, Young: 68.3e9, Conductivity: 167, SpecificHeat: 896, Expansion: 23.6e-6,
		Strength: []Strength{{Section: 0.025, Yield: 240e6, Ultimate: 260e6}}})
}

// Al6082 returns extruded aluminium EN AW-6082 T6, guaranteed minimum, for
// machined parts and strong profiles: of profile and round bar the lesser.
func Al6082() Metal {
	return aluminium("6082-T6", en7556, Metal{Density: 2700, Young: 70e9, Conductivity: 170, SpecificHeat: 894, Expansion: 23.1e-6,
		Strength: []Strength{
			{Section: 0.020, Yield: 250e6, Ultimate: 290e6},
			{Section: 0.025, Yield: 260e6, Ultimate: 310e6},
		}})
}

// aluminium adds to m what its alloys share. Heat laws are those of the whole
// series, which at room temperature are up to 15 % off the alloy's own figure.
func aluminium(name, strength string, m Metal) Metal {
	m.Name, m.Poisson, m.Fatigue = name, 0.33, 0.3
	m.ConductivityLaw = Trend{[4]float64{190, 0.07}, Celsius(0), Celsius(500), en1999}
	m.HeatLaw = Trend{[4]float64{903, 0.41}, Celsius(0), Celsius(500), en1999}
	m.Source = map[string]string{
		"Density": typical, "Young": typical, "Poisson": typical, "Expansion": typical,
		"Conductivity": typical, "SpecificHeat": typical, "Strength": strength, "Fatigue": fatigue,
	}
	return m
}

// Brass returns free-cutting leaded brass CW614N (CuZn39Pb3) R430 rod, for
// nozzles, bushes and heat breaks' threads.
func Brass() Metal {
	return Metal{
		Name: "CW614N", Density: 8470, Young: 97e9, Poisson: 0.34,
		Conductivity: 123, SpecificHeat: 377, Expansion: 21e-6,
		Strength: []Strength{{Section: 0.040, Yield: 220e6, Ultimate: 430e6}},
		Source: map[string]string{
			"Density": typical, "Young": typical + ": 97 to 105 GPa", "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 109 to 123 W/(m·K)", "SpecificHeat": typical,
			"Strength": "EN 12164, R430, from memory; the proof stress is informative there, not guaranteed, and given as 250 MPa elsewhere",
		},
	}
}
