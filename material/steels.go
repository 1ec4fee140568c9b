package material

const (
	en10025  = "EN 10025-2:2004, Table 7 (edition from memory)"
	en10083c = "EN 10083-2:2006, +QT"
	en10083a = "EN 10083-3:2006, +QT"
	en10085  = "EN 10085:2001, +QT, from memory"
	en10088  = "EN 10088-1, physical properties of 1.4301"
	en1993   = "EN 1993-1-1, 3.2.6, from memory"
	en1993t  = "EN 1993-1-2, carbon steel at 20 °C, from memory"
	en1993k  = "EN 1993-1-2, 3.4.1, carbon steel, from memory"
	en1993e  = "EN 1993-1-2, Annex E, 0.2 % proof stress, from memory"
	en1993s  = "EN 1993-1-2, Annex C, stainless steel, from memory"
	din743   = "DIN 743-3: rotating bending 0.5 of the tensile strength, from memory"
	fkm      = "FKM guideline, Analytical Strength Assessment, from memory"
)

// S235 returns structural steel S235JR, for stands and frames.
func S235() Metal {
	return structural("S235", [...]float64{235, 225, 215, 215, 215, 195, 185, 175}, [...]float64{360, 350, 340, 340})
}

// S275 returns structural steel S275JR, for stands and frames.
func S275() Metal {
	return structural("S275", [...]float64{275, 265, 255, 245, 235, 225, 215, 205}, [...]float64{410, 400, 380, 380})
}

// S355 returns structural steel S355JR, for stands and frames.
func S355() Metal {
	return structural("S355", [...]float64{355, 345, 335, 325, 315, 295, 285, 275}, [...]float64{470, 450, 450, 450})
}

// structural builds a steel from the yield [MPa] of the eight thickness bands of
// EN 10025-2 and its tensile strength [MPa] up to 100, 150, 200 and 250 mm.
//
// EN 1993-1-2 keeps the whole yield up to 400 °C by letting the steel stretch 2 %;
// a barrel may not, so Hot has the 0.2 % proof stress instead.
func structural(name string, yield [8]float64, ultimate [4]float64) Metal {
	limits := [...]float64{16, 40, 63, 80, 100, 150, 200, 250}
	m := Metal{
		Name: name, Density: 7850, Young: 210e9, Poisson: 0.3,
		Conductivity: 53.3, SpecificHeat: 440, Expansion: 12e-6, Fatigue: 0.5,
		Hot: []Derating{
			{Celsius(20), 1}, {Celsius(100), 1}, {Celsius(200), 0.89}, {Celsius(300), 0.78},
			{Celsius(400), 0.65}, {Celsius(500), 0.53}, {Celsius(600), 0.30},
		},
		ConductivityLaw: Trend{[4]float64{54, -3.33e-2}, Celsius(20), Celsius(800), en1993k},
		HeatLaw:         Trend{[4]float64{425, 0.773, -1.69e-3, 2.22e-6}, Celsius(20), Celsius(600), en1993k},
		Source: map[string]string{
			"Density": en1993, "Young": en1993, "Poisson": en1993, "Expansion": en1993,
			"Conductivity": en1993t, "SpecificHeat": en1993t, "Strength": en10025,
			"Fatigue": din743, "Hot": en1993e,
		},
	}
	for i, mm := range limits {
		m.Strength = append(m.Strength, Strength{Section: mm * 1e-3, Yield: yield[i] * 1e6, Ultimate: ultimate[max(0, i-4)] * 1e6})
	}
	return m
}

// C45E returns quenched and tempered carbon steel C45E (1.1191), for shafts and keys.
func C45E() Metal {
	return Metal{
		Name: "C45E", Density: 7850, Young: 210e9, Poisson: 0.3,
		Conductivity: 50, SpecificHeat: 460, Expansion: 12e-6, Fatigue: 0.5,
		Strength: []Strength{
			{Section: 0.016, Yield: 490e6, Ultimate: 700e6, Brinell: 213},
			{Section: 0.040, Yield: 430e6, Ultimate: 650e6, Brinell: 200},
			{Section: 0.100, Yield: 370e6, Ultimate: 630e6, Brinell: 192},
		},
		Source: map[string]string{
			"Density": typical, "Young": typical, "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 45 to 54 W/(m·K)", "SpecificHeat": typical, "Strength": en10083c,
			"Fatigue": din743,
		},
	}
}

// CrMo42 returns quenched and tempered alloy steel 42CrMo4 (1.7225), for gears,
// screws and shafts.
func CrMo42() Metal {
	return Metal{
		Name: "42CrMo4", Density: 7840, Young: 210e9, Poisson: 0.3,
		Conductivity: 44, SpecificHeat: 460, Expansion: 12e-6, Fatigue: 0.5,
		Strength: []Strength{
			{Section: 0.016, Yield: 900e6, Ultimate: 1100e6, Brinell: 331},
			{Section: 0.040, Yield: 750e6, Ultimate: 1000e6, Brinell: 298},
			{Section: 0.100, Yield: 650e6, Ultimate: 900e6, Brinell: 271},
			{Section: 0.160, Yield: 550e6, Ultimate: 800e6, Brinell: 240},
			{Section: 0.250, Yield: 500e6, Ultimate: 750e6, Brinell: 225},
		},
		Source: map[string]string{
			"Density": "steel sheets for 1.7225", "Young": typical + ": 190 to 210 GPa", "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 42 to 46 W/(m·K)", "SpecificHeat": typical, "Strength": en10083a,
			"Fatigue": din743,
		},
	}
}

// MnCr16 returns case-hardening steel 16MnCr5 (1.7131), for gears: the core of a
// hardened and tempered piece. Sheets disagree by 6 to 22 % and the lowest of
// them is taken here. It hardens little in depth: see [GearSteels].
func MnCr16() Metal {
	const sheets = "the lowest of three: two steel sheets for 1.7131, hardened and tempered at 200 °C, tensile 970/820/620 and " +
		"1000/900/700 MPa up to 16/40/100 mm; UNI 7846, test blanks of 11/30/63 mm, tensile 1030/740/640 and proof 735/490/440 MPa"
	return Metal{
		Name: "16MnCr5", Density: 7850, Young: 210e9, Poisson: 0.3,
		Conductivity: 44, SpecificHeat: 460, Expansion: 12e-6, Fatigue: 0.5,
		Strength: []Strength{
			{Section: 0.011, Yield: 735e6, Ultimate: 970e6},
			{Section: 0.030, Yield: 490e6, Ultimate: 740e6},
			{Section: 0.063, Yield: 440e6, Ultimate: 620e6},
		},
		Source: map[string]string{
			"Density": "steel sheets for 1.7131", "Young": typical, "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 42 to 46 W/(m·K)", "SpecificHeat": typical, "Strength": sheets, "Fatigue": din743,
		},
	}
}

// CrMoV31 returns nitriding steel 31CrMoV9 (1.8519), quenched and tempered, for
// screws and barrels. Strength is that of the core; nitriding gives a skin of
// about 800 HV, some tenths of a millimetre deep.
func CrMoV31() Metal {
	return Metal{
		Name: "31CrMoV9", Density: 7800, Young: 210e9, Poisson: 0.3,
		Conductivity: 38, SpecificHeat: 460, Expansion: 12e-6, Fatigue: 0.5,
		Strength: []Strength{
			{Section: 0.040, Yield: 900e6, Ultimate: 1100e6},
			{Section: 0.100, Yield: 800e6, Ultimate: 1000e6},
			{Section: 0.160, Yield: 700e6, Ultimate: 900e6},
			{Section: 0.250, Yield: 650e6, Ultimate: 850e6},
		},
		Source: map[string]string{
			"Density": typical, "Young": typical, "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 35 to 42 W/(m·K)", "SpecificHeat": typical, "Strength": en10085, "Fatigue": din743,
		},
	}
}

// Stainless returns austenitic stainless steel 1.4301 (X5CrNi18-10) as solution
// annealed bar, for hoppers, throats and barrels. Bright bar of up to 16 mm is
// cold drawn to a proof stress of 400 MPa, which welding and heat take back.
func Stainless() Metal {
	return Metal{
		Name: "1.4301", Density: 7900, Young: 200e9, Poisson: 0.3,
		Conductivity: 15, SpecificHeat: 500, Expansion: 16e-6, Fatigue: 0.4,
		Strength: []Strength{{Section: 0.160, Yield: 190e6, Ultimate: 500e6}},
		Hot: []Derating{
			{Celsius(20), 1}, {Celsius(100), 157. / 190}, {Celsius(150), 142. / 190}, {Celsius(200), 127. / 190},
			{Celsius(250), 118. / 190}, {Celsius(300), 110. / 190}, {Celsius(350), 104. / 190}, {Celsius(400), 98. / 190},
		},
		ConductivityLaw: Trend{[4]float64{14.6, 1.27e-2}, Celsius(20), Celsius(1200), en1993s},
		HeatLaw:         Trend{[4]float64{450, 0.280, -2.91e-4, 1.34e-7}, Celsius(20), Celsius(1200), en1993s},
		Source: map[string]string{
			"Density": en10088, "Young": en10088, "Poisson": typical, "Expansion": en10088, "Conductivity": en10088,
			"SpecificHeat": en10088, "Strength": "EN 10088-3, bars, solution annealed",
			"Fatigue": fkm + ": 0.4 for stainless steel, of tension and compression",
			"Hot":     "EN 10088-3, smallest proof stress at temperature; above 200 °C from memory",
		},
	}
}
