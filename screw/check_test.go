package screw

import (
	"fmt"
	"math"
	"testing"

	"meltflight/internal/verify"
	"meltflight/material"
)

const (
	groover = "M. P. Groover, Fundamentals of Modern Manufacturing, ch. 13, Examples 13.1 and 13.2, from memory"
	derived = "flow balance over one pitch solved independently as a linear system, F = 1"
	digits  = "digits of the independent value"
)

// flat is a channel as the one-line textbook formulas see it: no side walls, and
// flights that seal but take no width.
func flat(bore, angle, depth, length float64) Channel {
	return Channel{Bore: bore, Lead: math.Pi * bore * math.Tan(angle), Depth: depth,
		Land: 1e-12, Clearance: 1e-12, Starts: 1, Length: length}
}

// solved is the balance of an infinitely wide channel.
func solved(c Channel, speed, mu float64) balance {
	var b balance
	b.unroll(&c, speed)
	b.newtonian, b.fDrag, b.fPress, b.bent = true, 1, 1, flatBend
	b.solve(mu)
	return b
}

func filled(b balance, c Channel, m Melt, speed, pressure float64) (s Conveyance) {
	b.fill(&s, &c, m, speed, pressure, b.flowAt(pressure))
	return s
}

func deg(d float64) float64 { return d * math.Pi / 180 }

func TestCheckTextbookExtruder(t *testing.T) {
	const rounded = "the source rounds sine and cosine"
	c := flat(0.075, deg(20), 0.006, 1.9)
	b := solved(c, 1, 100)
	m := Melt{Viscosity: material.Newtonian{Eta: 100}}
	die := Die{Capillary{Diameter: 0.0065, Length: 0.02}}
	crossing, pressure := b.crossing(die, m)
	p := filled(b, c, m, 1, 7e6)
	verify.Table(t, []verify.Row{
		{Name: "drag flow [m³/s]", Source: groover, Kind: verify.Memory, Want: 53525e-9, Got: p.Drag, Tol: 1e-4, Why: rounded},
		{Name: "back flow at 7 MPa [m³/s]", Source: groover, Kind: verify.Memory, Want: 18.276e-6, Got: -p.PressureFlow, Tol: 1.5e-4, Why: rounded},
		{Name: "net flow at 7 MPa [m³/s]", Source: groover, Kind: verify.Memory, Want: 35.249e-6, Got: p.Flow, Tol: 1e-4, Why: rounded},
		{Name: "closed-discharge pressure [Pa]", Source: groover, Kind: verify.Memory, Want: 20499874, Got: p.ClosedPressure, Tol: 1e-5, Why: rounded},
		{Name: "die conductance [m⁵/(N·s)]", Source: groover, Kind: verify.Memory, Want: 21.9e-12, Got: 1e-6 / die.PressureDrop(m, 1e-6), Tol: 5e-4, Why: "printed to three digits"},
		{Name: "operating pressure [Pa]", Source: groover, Kind: verify.Memory, Want: 2.184e6, Got: pressure, Tol: 5e-4, Why: "conductance rounded in the source"},
		{Name: "operating flow [m³/s]", Source: groover, Kind: verify.Memory, Want: 47.8e-6, Got: crossing, Tol: 1e-3, Why: "printed to three digits"},
		{Name: "operating pressure, exact [Pa]", Source: "same formulas evaluated independently", Kind: verify.Own, Want: 2.18328610e6, Got: pressure, Tol: 1e-8, Why: digits},
	})

	c = flat(0.12, deg(17), 0.0065, 2.8)
	b = solved(c, 1, 200)
	m = Melt{Viscosity: material.Newtonian{Eta: 200}}
	crossing, pressure = b.crossing(Die{Capillary{Diameter: 0.0035, Length: 0.0125}}, m)
	const groover2 = "M. P. Groover, ch. 13, problem with 120 mm bore; results by the same formulas evaluated independently"
	c2 := flat(0.04, deg(17.7), 0.003, 24*0.04)
	b2 := solved(c2, 100./60, 500)
	verify.Table(t, []verify.Row{
		{Name: "open flow, 120 mm [m³/s]", Source: groover2, Kind: verify.Own, Want: 1.29144898e-4, Got: b.flow0, Tol: 1e-8, Why: digits},
		{Name: "operating pressure, 120 mm [Pa]", Source: groover2, Kind: verify.Own, Want: 4.62852559e7, Got: pressure, Tol: 1e-8, Why: digits},
		{Name: "operating flow, 120 mm [m³/s]", Source: groover2, Kind: verify.Own, Want: 6.81890659e-5, Got: crossing, Tol: 1e-8, Why: digits},
		{Name: "closed-discharge pressure, 40 mm [Pa]", Source: "R. J. Crawford, Plastics Engineering, 3rd ed. (1998), Example 4.1, eq. 4.11",
			Kind: verify.Print, Want: 210e6, Got: b2.pressureAt(0), Tol: 2.4e-3, Why: "printed to a whole MN/m²"},
	})
}

func TestCheckShapeFactors(t *testing.T) {
	const source = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed., §6.3, series summed with ζ(3) and ζ(5) in extended precision"
	var rows []verify.Row
	for _, v := range [][3]float64{
		{0.01, 0.9945724549, 0.9936975112}, {0.02, 0.9891449097, 0.9873950225}, {0.05, 0.9728622743, 0.9684875562},
		{0.10, 0.9457245486, 0.9369751124}, {0.20, 0.8914491282, 0.8739502626}, {0.25, 0.8643122712, 0.8424388748},
		{0.40, 0.7830583899, 0.7480952241}, {0.50, 0.7295845930, 0.6860450314}, {0.80, 0.5817497655, 0.5151976267},
		{1.00, 0.5, 0.4217310449}, {2.00, 0.2704154070, 0.1715112578},
	} {
		name := fmt.Sprintf(" at H/W = %g", v[0])
		rows = append(rows,
			verify.Row{Name: "F_d" + name, Source: source, Kind: verify.Own, Want: v[1], Got: DragShape(v[0]), Tol: 2e-10, Why: digits},
			verify.Row{Name: "F_p" + name, Source: source, Kind: verify.Own, Want: v[2], Got: PressureShape(v[0]), Tol: 4e-10, Why: digits})
	}
	const fit = "handbook line 1 − 0.571 H/W and 1 − 0.625 H/W, from memory"
	rows = append(rows,
		verify.Row{Name: "F_d at H/W = 0.1", Source: fit, Kind: verify.Memory, Want: 1 - 0.0571, Got: DragShape(0.1), Tol: 0.01, Why: "the line is a fit, up to 1 % off below H/W = 0.3"},
		verify.Row{Name: "F_p at H/W = 0.1", Source: fit, Kind: verify.Memory, Want: 1 - 0.0625, Got: PressureShape(0.1), Tol: 0.01, Why: "the line is a fit, up to 1 % off below H/W = 0.3"})
	verify.Table(t, rows)
}

// small is a small machine's metering zone.
func small() Channel {
	return Channel{Bore: 0.02, Lead: math.Pi * 0.02 * math.Tan(deg(17.66)), Depth: 1.5e-3, Land: 2e-3,
		Clearance: 1e-4, Starts: 1, Length: 0.2}
}

func TestCheckLeakagePowerAndThrust(t *testing.T) {
	c := small()
	b := solved(c, 1, 500)
	tight := c
	tight.Clearance = 1e-9
	bt := solved(tight, 1, 500)
	m := Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500}
	s := filled(bt, tight, m, 1, 5e6)
	// Over-flight drag of a 0.1 mm gap, on the flow of a tight one.
	land := filled(b, c, m, 1, 5e6).LandDissipation
	const identity = "plane Couette and pressure flow integrated independently, infinitely wide"
	const tightWhy = "eight digits; a clearance of 1 nm still leaks 3e-6"
	verify.Table(t, []verify.Row{
		{Name: "channel width [m]", Source: derived, Kind: verify.Own, Want: 17.06116755e-3, Got: c.Width(), Tol: 1e-9, Why: digits},
		{Name: "helical length [m]", Source: derived, Kind: verify.Own, Want: 0.6592655240, Got: c.HelicalLength(), Tol: 1e-9, Why: digits},
		{Name: "helix angle, square pitch [rad]", Source: "atan(1/π)", Kind: verify.Own, Want: deg(17.65678715), Got: Channel{Bore: 0.0635, Lead: 0.0635}.HelixAngle(), Tol: 1e-9, Why: digits},
		{Name: "flow with leakage [m³/s]", Source: derived, Kind: verify.Own, Want: 6.3796494e-7, Got: b.flowAt(5e6), Tol: 2e-8, Why: digits},
		{Name: "flow without clearance [m³/s]", Source: derived, Kind: verify.Own, Want: 6.9331458e-7, Got: bt.flowAt(5e6), Tol: 4e-6, Why: tightWhy},
		{Name: "drag flow, no clearance [m³/s]", Source: derived, Kind: verify.Own, Want: 7.6609942e-7, Got: s.Drag, Tol: 1e-8, Why: digits},
		{Name: "pressure flow, no clearance [m³/s]", Source: derived, Kind: verify.Own, Want: -7.2784837e-8, Got: s.PressureFlow, Tol: 1e-8, Why: digits},
		{Name: "pumping power [W]", Source: identity, Kind: verify.Own, Want: 3.4665729, Got: s.Pumping, Tol: 4e-6, Why: tightWhy},
		{Name: "channel dissipation [W]", Source: identity, Kind: verify.Own, Want: 19.252144, Got: s.ChannelDissipation, Tol: 4e-6, Why: tightWhy},
		{Name: "land power [W]", Source: "μV²eZ/δ, by drag alone", Kind: verify.Own, Want: 26.02676, Got: land, Tol: 1.6e-3,
			Why: "the value leaves out the pressure flow over the land, 0.15 %"},
		{Name: "temperature rise, channel alone [K]", Source: identity, Kind: verify.Own, Want: 14.809742, Got: s.ChannelDissipation / (s.MassFlow * 2500), Tol: 4e-6, Why: tightWhy},
		{Name: "temperature rise in the screw [K]", Source: identity, Kind: verify.Own, Want: 14.809742, Got: s.TemperatureRise - s.LandDissipation/(s.MassFlow*2500), Tol: 4e-6, Why: tightWhy},
		{Name: "thrust of the head pressure [N]", Source: "pressure × bore area", Kind: verify.Own, Want: 1570.7963,
			Got: s.Thrust - (screwAlone(bt, tight, 5e6) - 5e6*math.Pi/4*sq(tight.Bore)), Tol: 3e-8, Why: digits},
	})

	// Channel dissipation and shaft power of the wide channel in units μV²WZ/H.
	var rows []verify.Row
	unit := 500 * sq(math.Pi*0.02) * bt.w * bt.z / bt.h
	for _, v := range [][2]float64{{0, 1.27609626}, {0.2, 1.38505240}, {0.5, 1.95707219}, {1, 4}} {
		g := v[0] * 6 * 500 * bt.vz / sq(bt.h)
		got := filled(bt, tight, m, 1, g*bt.z).ChannelDissipation / unit
		rows = append(rows, verify.Row{Name: fmt.Sprintf("dissipation at G* = %g [-]", v[0]),
			Source: "cos²θ(1+3G*²)+4 sin²θ, confirmed by a two-component solver", Kind: verify.Own,
			Want: v[1], Got: got, Tol: 4e-6, Why: tightWhy})
	}
	verify.Table(t, rows)
}

func sq(x float64) float64 { return x * x }

func TestCheckDies(t *testing.T) {
	const imperial = "Imperial College London, ME4 Polymer Processing Technology, solutions sheet 5 (April 2008), problem 3.1"
	melt := func(v material.Viscosity) Melt { return Melt{Viscosity: v, Temperature: 450} }
	thin := melt(material.PowerLaw{Consistency: 16e3, Index: 0.3, Reference: 450})
	taper := Cone{Inlet: 6e-3, Outlet: 3e-3, Length: 0.06}
	capillary := Capillary{Diameter: 2e-3, Length: 10e-3}
	rows := []verify.Row{
		{Name: "gradient at the narrow end [Pa/m]", Source: imperial, Kind: verify.Print, Want: 290e6,
			Got: Capillary{Diameter: 3e-3, Length: 1}.PressureDrop(thin, 1e-5), Tol: 2e-3, Why: "printed to 290 MPa/m"},
		{Name: "taper pressure drop [Pa]", Source: imperial, Kind: verify.Print, Want: 8.96e6,
			Got: taper.PressureDrop(thin, 1e-5), Tol: 6e-4, Why: "printed to three digits"},
		{Name: "taper pressure drop, exact [Pa]", Source: "midpoint quadrature over the taper", Kind: verify.Own, Want: 8.9630136e6,
			Got: taper.PressureDrop(thin, 1e-5), Tol: 1e-8, Why: digits},
		{Name: "capillary, Newtonian [Pa]", Source: "Hagen-Poiseuille", Kind: verify.Own, Want: 1273239.5,
			Got: capillary.PressureDrop(melt(material.Newtonian{Eta: 500}), 1e-7), Tol: 4e-8, Why: digits},
		{Name: "capillary, Newtonian, a tenth of that [Pa]", Source: "Hagen-Poiseuille", Kind: verify.Own, Want: 127323.95,
			Got: capillary.PressureDrop(melt(material.Newtonian{Eta: 500}), 1e-8), Tol: 4e-8, Why: digits},
		{Name: "capillary, Newtonian, wall rate [1/s]", Source: "4Q/πR³", Kind: verify.Own, Want: 127.32395, Got: wallRate(capillary, 1e-7), Tol: 4e-8, Why: digits},
		{Name: "round hole as a slit, flow factor F [-]", Source: "R. J. Crawford, Plastics Engineering, 3rd ed. (1998), p. 259, chart as the text reads it", Kind: verify.Print, Want: 0.295,
			Got: 12 * 500 * 10e-3 / (2e-3 * 8e-9) * 1e-7 / capillary.PressureDrop(melt(material.Newtonian{Eta: 500}), 1e-7), Tol: 1.7e-3, Why: "printed to three digits"},
	}
	for _, v := range []struct{ n, m, rate, stress, drop float64 }{
		{0.3, 2e4, 201.59626, 98259.543, 1965190.9},
		{0.5, 1e4, 159.15494, 126156.63, 2523132.5},
		{0.8, 2e3, 135.28170, 101396.10, 2027922.0},
	} {
		p := melt(material.PowerLaw{Consistency: v.m, Index: v.n, Reference: 450})
		rate, stress := capillary.WallShear(p, 1e-7)
		name := fmt.Sprintf("capillary, n = %g, ", v.n)
		const source = "Q = πR³·n/(3n+1)·(RΔp/2mL)^{1/n}, inverted independently"
		rows = append(rows,
			verify.Row{Name: name + "wall rate [1/s]", Source: source, Kind: verify.Own, Want: v.rate, Got: rate, Tol: 1e-7, Why: digits},
			verify.Row{Name: name + "wall stress [Pa]", Source: source, Kind: verify.Own, Want: v.stress, Got: stress, Tol: 1e-7, Why: digits},
			verify.Row{Name: name + "pressure drop [Pa]", Source: source, Kind: verify.Own, Want: v.drop, Got: capillary.PressureDrop(p, 1e-7), Tol: 1e-7, Why: digits})
	}
	verify.Table(t, rows)
}

func wallRate(c Capillary, flow float64) float64 {
	rate, _ := c.WallShear(Melt{Viscosity: material.Newtonian{Eta: 500}, Temperature: 450}, flow)
	return rate
}

func TestCheckPlainFormulas(t *testing.T) {
	// Pitch in place of the angle, inches and pounds: 5.0 in, L/D 22, pitch 4.5 in, 0.25 in deep, 50 rpm, 0.0020 lb·s/in².
	const inch, psi = 0.0254, 6894.757293168
	const sheet = "M. P. Groover, ch. 13, problem with a 5 in bore and 4.5 in pitch; results by the same formulas evaluated independently"
	c := Channel{Bore: 5 * inch, Lead: 4.5 * inch, Depth: 0.25 * inch, Land: 1e-12, Clearance: 1e-12, Starts: 1, Length: 110 * inch}
	b := solved(c, 50./60, 0.0020*psi)
	perMinute := 60 / (inch * inch * inch)
	// A taper's mean depth, and its true effective one.
	const script = "taper from 15 to 2 mm: a channel of its mean depth, evaluated independently"
	mean := Channel{Bore: 0.08, Lead: math.Pi * 0.08 * math.Tan(deg(20)), Depth: 8.5e-3, Land: 0.008, Clearance: 1e-12, Starts: 1, Length: 1.92}
	bm := solved(mean, 1, 1.2e5)
	flow, pressure := bm.crossing(Die{Capillary{Diameter: 0.1, Length: math.Pi * 1e-4 / 128 / 5e-7}}, Melt{Viscosity: material.Newtonian{Eta: 1.2e5}, Temperature: 450})
	s := filled(b, c, Melt{Viscosity: material.Newtonian{Eta: 0.0020 * psi}, Density: 750, SpecificHeat: 2500}, 50./60, 500*psi)
	verify.Table(t, []verify.Row{
		{Name: "helix angle [rad]", Source: sheet, Kind: verify.Own, Want: deg(15.985890), Got: c.HelixAngle(), Tol: 4e-8, Why: digits},
		{Name: "drag flow [in³/min]", Source: sheet, Kind: verify.Own, Want: 408.27895, Got: b.flow0 * perMinute, Tol: 2e-8, Why: digits},
		{Name: "flow at 500 psi [in³/min]", Source: sheet, Kind: verify.Own, Want: 196.74159, Got: b.flowAt(500*psi) * perMinute, Tol: 3e-8, Why: digits},
		{Name: "torque [lb·in] of the shaft's power [hp]", Source: "33000·12/2π lb·in·rpm/hp", Kind: verify.Own, Want: 63025.357,
			Got: s.Torque / (inch * 4.4482216152605) * 50 / (s.Power / 745.69987158227), Tol: 1e-8, Why: digits},
		{Name: "pressure of a taper's mean depth [Pa]", Source: script, Kind: verify.Own, Want: 1.87532024e7, Got: pressure, Tol: 1e-8, Why: digits},
		{Name: "flow of a taper's mean depth [m³/s]", Source: script, Kind: verify.Own, Want: 7.81383432e-5, Got: flow, Tol: 1e-8, Why: digits},
	})
}

// What wider clearances leave of the flow, against shares of the closed pressure of a
// screw that does not leak.
func TestCheckClearances(t *testing.T) {
	const source = "lubrication solution of the unrolled screw, periodic over one turn, evaluated independently; no side walls, no curvature"
	var rows []verify.Row
	for _, v := range []struct {
		bore, depth, land, length, clearance float64
		left                                 [3]float64
	}{
		{16, 1.5, 1.6, 96, 1, [3]float64{.98932, .98572, .97852}}, {16, 1.5, 1.6, 96, 2, [3]float64{.97858, .97109, .95613}},
		{16, 1.5, 1.6, 96, 5, [3]float64{.94530, .92175, .87466}},
		{63.5, 3.2, 6.35, 400, 1, [3]float64{.98008, .97317, .95934}}, {63.5, 3.2, 6.35, 400, 2, [3]float64{.95974, .94413, .91291}},
		{63.5, 3.2, 6.35, 400, 5, [3]float64{.89247, .82266, .68304}},
	} {
		c := Channel{Bore: v.bore * 1e-3, Lead: v.bore * 1e-3, Depth: v.depth * 1e-3, Land: v.land * 1e-3, Clearance: 1e-12, Starts: 1, Length: v.length * 1e-3}
		tight := solved(c, 1, 500)
		c.Clearance = v.clearance * 1e-3 * c.Bore
		worn := solved(c, 1, 500)
		for i, share := range [...]float64{0, 0.25, 0.5} {
			p := share * tight.pressureAt(0)
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%g mm, clearance %g/1000 of it, %g of closed pressure: flow left", v.bore, v.clearance, share),
				Source: source, Kind: verify.Own, Want: v.left[i], Got: worn.flowAt(p) / tight.flowAt(p), Tol: 6e-6 / v.left[i], Why: "five decimals"})
		}
		if v.bore == 16 && v.clearance == 1 {
			rows = append(rows,
				verify.Row{Name: "16 mm, tight: open flow [m³/s]", Source: source, Kind: verify.Own, Want: 490.21590e-9, Got: tight.flow0, Tol: 2e-8, Why: digits},
				verify.Row{Name: "16 mm, tight: closed pressure [Pa]", Source: source, Kind: verify.Own, Want: 20.212950e6, Got: tight.pressureAt(0), Tol: 3e-8, Why: digits})
		}
	}
	verify.Table(t, rows)
}
