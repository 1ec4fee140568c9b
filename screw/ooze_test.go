package screw_test

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// veiled hides from a solver what law a melt has.
type veiled struct{ material.Viscosity }

func oozing(v material.Viscosity) screw.Melt {
	return screw.Melt{Viscosity: v, Density: 750, SpecificHeat: 2500, Temperature: 473.15}
}

func TestCheckMeltGivesWay(t *testing.T) {
	const source = "Tait equation with C = 0.0894, CRC Handbook, PVT relationship for polymer melts; constants of P. A. Rodgers, J. Appl. Polym. Sci. 48 (1993) 1061"
	const digits = "five digits"
	const atmosphere = "rounding of the last digit; and taken from one atmosphere on, not from none: 0.1 MPa/B, 2e-3 at most"
	var rows []verify.Row
	for _, v := range []struct {
		name            string
		celsius, b0, b1 float64
		at0, at10, at30 float64 // [1/GPa]
		percent         float64 // of the volume at no pressure, to 30 MPa
	}{
		{"PS", 200, 216.9, 3.319, 0.80050, 0.74039, 0.64471, 2.127},
		{"LDPE", 200, 177.1, 4.699, 1.29202, 1.14266, 0.93125, 3.220},
		{"PP", 220, 149.1, 4.177, 1.50297, 1.30479, 1.03694, 3.651},
		{"PET", 280, 369.7, 4.150, 0.77293, 0.71673, 0.62666, 2.062},
		{"PC", 280, 310.0, 4.078, 0.90338, 0.82759, 0.71004, 2.367},
	} {
		law := material.Tait{A0: 1e-3, B0: v.b0 * 1e6, B1: v.b1 * 1e-3}
		at := material.Celsius(v.celsius)
		for _, k := range []struct{ p, want float64 }{{0, v.at0}, {10e6, v.at10}, {30e6, v.at30}} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, compressibility at %g MPa [1/GPa]", v.name, k.p*1e-6), Source: source,
				Kind: verify.Memory, Want: k.want, Got: 1e9 * law.Compressibility(at, k.p), Tol: 1.2e-5, Why: digits})
		}
		p := material.PP()
		p.PVT = law
		mean, _, err := screw.MeanCompressibility(p, at, 30e6)
		require.NoError(t, err)
		// What melt expands by when let out is told of its volume under pressure.
		rows = append(rows, verify.Row{Name: v.name + ", 1 − v(30 MPa)/v(0) [%]", Source: source,
			Kind: verify.Memory, Want: v.percent, Got: 100 * (1 - 1/(1+mean*30e6)), Tol: 2e-3, Why: atmosphere})
	}
	yield, err := screw.Barrel{Inner: 20e-3, Outer: 40e-3, Yield: 5e8}.Widening(200e9, 0.3)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "steel tube, 20/40 mm, widening [1/Pa]", Source: "G. Lamé's thick cylinder, ends free",
		Kind: verify.Memory, Want: 1.9667e-11, Got: yield, Tol: 3e-5, Why: digits})
	verify.Table(t, rows)
	require.Less(t, yield, 0.05*1e-9, "little beside the melt")
	c, err := screw.Room{Volume: 1e-5, Compressibility: 1e-9, Widening: 5e-10}.Compliance()
	require.NoError(t, err)
	require.InEpsilon(t, 1.5e-14, c, 1e-12)
}

func TestCheckOozeNewtonian(t *testing.T) {
	const source = "R = 128ηL/πd⁴, C = κV, τ = RC, written out"
	var rows []verify.Row
	for _, v := range []struct{ eta, length, diameter, volume, kappa, resistance, tau, out, flow float64 }{
		{500, 8e-3, 3e-3, 10e-6, 1e-9, 2.012033e12, 0.020120, 100e-9, 4970.10e-9},
		{500, 8e-3, 1e-3, 10e-6, 1e-9, 1.629747e14, 1.629747, 100e-9, 61.359e-9},
		{1000, 10e-3, 2e-3, 20e-6, 1.3e-9, 2.546479e13, 0.662085, 260e-9, 392.70e-9},
	} {
		c, err := screw.Room{Volume: v.volume, Compressibility: v.kappa}.Compliance()
		require.NoError(t, err)
		h := screw.Held{Pressure: 10e6, Compliance: c}
		die := screw.Die{screw.Capillary{Diameter: v.diameter, Length: v.length}}
		o, err := h.After(die, oozing(material.Newtonian{Eta: v.eta}), v.tau)
		require.NoError(t, err)
		name := fmt.Sprintf("%g Pa·s, hole of %g mm, ", v.eta, v.diameter*1e3)
		row := func(what string, want, got, tol float64) {
			rows = append(rows, verify.Row{Name: name + what, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: tol,
				Why: "half a digit of the last"})
		}
		row("resistance [Pa·s/m³]", v.resistance, h.Pressure/o.FirstFlow, 3e-7)
		row("time constant [s]", v.tau, o.FirstTimeConstant, 3e-5)
		row("let out [m³]", v.out, h.Volume(), 1e-12)
		row("first flow [m³/s]", v.flow, o.FirstFlow, 1e-5)
		row("pressure after one time constant [Pa]", 10e6*math.Exp(-1), o.Pressure, 3e-5)
		row("flow then [m³/s]", v.flow*math.Exp(-1), o.Flow, 4e-5)
		until, err := h.Until(die, oozing(material.Newtonian{Eta: v.eta}), 0.05)
		require.NoError(t, err)
		row("time to a twentieth [s]", v.tau*math.Log(20), until.Time, 3e-5)
		again, err := h.Restart(die, oozing(material.Newtonian{Eta: v.eta}), 2*v.flow, 1)
		require.NoError(t, err)
		row("restart by twice the flow [s]", v.tau*math.Ln2, again, 5e-5)
	}
	verify.Table(t, rows)
}

// thinOut is a nozzle and a power-law melt of which 10 MPa drive 100 mm³/s.
func thinOut(n float64) (screw.Die, screw.Melt) {
	die := screw.Die{screw.Capillary{Diameter: 2e-3, Length: 10e-3}}
	one := die.PressureDrop(oozing(material.PowerLaw{Consistency: 1, Index: n, Reference: 473.15}), 100e-9)
	return die, oozing(material.PowerLaw{Consistency: 10e6 / one, Index: n, Reference: 473.15})
}

func TestCheckOozeThinning(t *testing.T) {
	const source = "p = [p₀^(1−m) + (m−1)(a/C)t]^(1/(1−m)), m = 1/n = 2.5, held against Runge and Kutta's method to 1e-12"
	h := screw.Held{Pressure: 10e6, Compliance: 1e-14}
	die, m := thinOut(0.4)
	var rows []verify.Row
	for _, v := range []struct{ time, pressure, exponential, oozed float64 }{
		{0.1, 9.110344, 9.048374, 8.896561}, {0.5, 6.886121, 6.065307, 31.138793}, {1, 5.428835, 3.678794, 45.711648},
		{2, 3.968503, 1.353353, 60.314971}, {5, 2.400974, 0.067379, 75.990264}, {10, 1.574901, 0.000454, 84.250987},
	} {
		for _, way := range []struct {
			name string
			law  material.Viscosity
		}{{"closed form", m.Viscosity}, {"summed", veiled{m.Viscosity}}} {
			row := func(what string, want, got, tol float64) {
				rows = append(rows, verify.Row{Name: fmt.Sprintf("n = 0.4, %s, %s", way.name, what), Source: source, Kind: verify.Own,
					Want: want, Got: got, Tol: tol, Why: "half a digit of the last"})
			}
			o, err := h.After(die, oozing(way.law), v.time)
			require.NoError(t, err)
			row(fmt.Sprintf("after %g s [MPa]", v.time), v.pressure, o.Pressure*1e-6, 4e-7)
			row(fmt.Sprintf("oozed by %g s [mm³]", v.time), v.oozed, o.Oozed*1e9, 1e-7)
			row(fmt.Sprintf("exponential at %g s [MPa]", v.time), v.exponential, o.Exponential*1e-6, 1e-6+0.5e-6/v.exponential)
			until, err := h.Until(die, oozing(way.law), v.pressure/10)
			require.NoError(t, err)
			row(fmt.Sprintf("time to %g MPa [s]", v.pressure), v.time, until.Time, 2e-6)
		}
	}
	verify.Table(t, rows)
}

func TestCheckOozeBent(t *testing.T) {
	const source = "Carreau melt, Rabinowitsch's integral through a hole of 1.5 by 8 mm, then ∫C·dp/q, by tanh-sinh at 18 digits and more (mpmath)"
	h := screw.Held{Pressure: 12e6, Compliance: 2e-14}
	m := oozing(material.CarreauYasuda{Eta0: 5000, Lambda: 0.5, N: 0.35, Yasuda: 2})
	die := screw.Die{screw.Capillary{Diameter: 1.5e-3, Length: 8e-3}}
	var rows []verify.Row
	row := func(what string, want, got float64) {
		rows = append(rows, verify.Row{Name: what, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: 1e-8,
			Why: "layers of a hole 1e-10, summed to 1e-8"})
	}
	for _, v := range []struct{ share, time, flow float64 }{
		{0.5, 0.0074837427101318, 6.2508956537316e-6}, {0.1, 0.20246715460237, 6.2960991951023e-8}, {0.01, 7.2507485767067, 4.0029312275141e-10},
	} {
		u, err := h.Until(die, m, v.share)
		require.NoError(t, err)
		row(fmt.Sprintf("first flow [m³/s], to %g", v.share), 4.529266958327e-5, u.FirstFlow)
		row(fmt.Sprintf("time to %g [s]", v.share), v.time, u.Time)
		row(fmt.Sprintf("flow at %g [m³/s]", v.share), v.flow, u.Flow)
		a, err := h.After(die, m, v.time)
		require.NoError(t, err)
		row(fmt.Sprintf("pressure after %g s [Pa]", v.time), v.share*h.Pressure, a.Pressure)
	}
	full, err := h.Restart(die, m, 1.5e-6, 0.3)
	require.NoError(t, err)
	verify.Table(t, append(rows, verify.Row{Name: "restart by 1500 mm³/s, to 0.3 [s]", Source: source + "; here ∫C·dp/(flow − q)", Kind: verify.Own,
		Want: 0.098947908641132, Got: full, Tol: 1e-6, Why: "the method's"}))
}

func TestCheckTurnBack(t *testing.T) {
	// ½π²D²h·sinφ·cosφ of a square pitch, flight and shape left out.
	const perTurn = 547.693e-9
	back, err := screw.Held{Pressure: 10e6, Compliance: 1e-14}.TurnBack(perTurn, math.Pi/180)
	require.NoError(t, err)
	const source = "100 mm³ over the drag flow of a turn between plates, D = 16 mm, h = 1.5 mm, square pitch, 547.693 mm³"
	verify.Table(t, []verify.Row{
		{Name: "turns back", Source: source, Kind: verify.Own, Want: 0.18258, Got: back.Melt, Tol: 3e-5, Why: "five digits"},
		{Name: "turns back with 1° backlash [°]", Source: source, Kind: verify.Own, Want: 65.7 + 1, Got: back.Turns * 360, Tol: 8e-4, Why: "a tenth of a degree"},
	})
	require.Empty(t, back.Beyond)
	back, err = screw.Held{Pressure: 30e6, Compliance: 2e-14}.TurnBack(perTurn, 0)
	require.NoError(t, err)
	require.Len(t, back.Beyond, 1)
}

func helds() *rapid.Generator[screw.Held] {
	return rapid.Custom(func(t *rapid.T) screw.Held {
		return screw.Held{Pressure: draw.Log(1e5, 6e7).Draw(t, "pressure"), Compliance: draw.Log(1e-15, 1e-12).Draw(t, "compliance")}
	})
}

// nozzles draws dies that are quickly asked.
func nozzles() *rapid.Generator[screw.Die] {
	return rapid.Custom(func(t *rapid.T) screw.Die {
		hole := screw.Capillary{Diameter: draw.Log(0.5e-3, 5e-3).Draw(t, "diameter"), Length: draw.Log(1e-3, 50e-3).Draw(t, "length")}
		if rapid.Bool().Draw(t, "entrance") {
			return screw.Die{screw.Entrance{Diameter: hole.Diameter, Diameters: 2}, hole}
		}
		return screw.Die{hole}
	})
}

func near(t require.TestingT, want, got, tol float64, what string) {
	require.LessOrEqual(t, math.Abs(got-want), tol*math.Abs(want), "%s: %g for %g", what, got, want)
}

// The law summed is the law in closed form, from index 1 too, where it is the exponential.
func TestPropertyOozeSummedAsClosed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d := helds().Draw(t, "held"), nozzles().Draw(t, "die")
		n := rapid.SampledFrom([]float64{0.2, 0.5, 0.8, 1, 1.3}).Draw(t, "index")
		m := oozing(material.PowerLaw{Consistency: draw.Log(100, 1e5).Draw(t, "consistency"), Index: n, Reference: 473.15})
		hidden := oozing(veiled{m.Viscosity})
		share := draw.Log(1e-2, 1).Draw(t, "share")
		want, err := h.Until(d, m, share)
		if errors.Is(err, material.ErrInvalid) {
			t.Skip("thinner than any liquid")
		}
		require.NoError(t, err)
		if rate, _ := d.WallShear(m, want.Flow); rate < 1e-3 {
			t.Skip("where the law has its floor")
		}
		got, err := h.Until(d, hidden, share)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(got.Time-want.Time), 1e-8*(want.Time+want.FirstTimeConstant))
		near(t, want.Flow, got.Flow, 1e-7, "flow")
		back, err := h.After(d, hidden, want.Time)
		require.NoError(t, err)
		near(t, want.Pressure, back.Pressure, 1e-6, "pressure")
		if n == 1 {
			near(t, h.Pressure*math.Exp(-want.Time/want.FirstTimeConstant), want.Pressure, 1e-12, "exponential")
		}
	})
}

// Of any law: what oozes out is what the spring gave, no more than there is; pressure,
// flow fall with time; time goes as the compliance; Until is After turned round; and in
// the end everything is out.
func TestPropertyOozeLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d, m := helds().Draw(t, "held"), nozzles().Draw(t, "die"), screwtest.Melts().Draw(t, "melt")
		if _, ok := m.Viscosity.(material.Blend); ok {
			t.Skip("takes long")
		}
		share := draw.Log(1e-2, 1).Draw(t, "share")
		u, err := h.Until(d, m, share)
		if errors.Is(err, material.ErrInvalid) {
			t.Skip("thinner than any liquid")
		}
		require.NoError(t, err)
		if rate, _ := d.WallShear(m, u.Flow); rate < 1e-3 {
			t.Skip("near where laws have their floor, which the closed form has not")
		}
		near(t, u.Pressure, d.PressureDrop(m, u.Flow), 1e-9, "flow through the die")
		near(t, h.Pressure, d.PressureDrop(m, u.FirstFlow), 1e-9, "first flow")
		near(t, h.Volume()*(1-share), u.Oozed, 1e-12+1e-15/(1-share), "oozed")
		a, err := h.After(d, m, u.Time)
		require.NoError(t, err)
		near(t, u.Pressure, a.Pressure, 1e-6, "there and back")
		near(t, h.Compliance*u.Pressure/u.Flow, u.TimeConstant, 1e-9, "time constant")
		near(t, h.Compliance*a.Pressure/a.Flow, a.TimeConstant, 1e-9, "time constant")

		later, err := h.After(d, m, 1.1*u.Time+0.01*u.FirstTimeConstant)
		require.NoError(t, err)
		require.Less(t, later.Pressure, a.Pressure)
		require.Less(t, later.Flow, a.Flow)
		require.Greater(t, later.Oozed, a.Oozed)
		require.LessOrEqual(t, later.Oozed, h.Volume())
		// The volume is the flow summed: Simpson's rule over a short while.
		mid, err := h.After(d, m, (a.Time+later.Time)/2)
		require.NoError(t, err)
		near(t, later.Oozed-a.Oozed, (a.Flow+4*mid.Flow+later.Flow)/6*(later.Time-a.Time), 1e-3, "flow summed")

		soft := screw.Held{Pressure: h.Pressure, Compliance: 3 * h.Compliance}
		s, err := soft.Until(d, m, share)
		require.NoError(t, err)
		near(t, 3*u.Time, s.Time, 1e-9, "time goes as the compliance")
	})
}

// In the end all is out, by the closed form, by the sum and by the tail beyond it.
func TestOozeEnds(t *testing.T) {
	h := screw.Held{Pressure: 10e6, Compliance: 1e-14}
	die, m := thinOut(0.4)
	thick, thickens := thinOut(1.3)
	bent := material.CarreauYasuda{Eta0: 5000, Lambda: 0.5, N: 0.35, Yasuda: 2}
	for _, v := range []struct {
		d    screw.Die
		m    screw.Melt
		left float64
	}{{die, m, 1e-7}, {die, oozing(material.Newtonian{Eta: 1000}), 1e-15}, {die, oozing(veiled{material.Newtonian{Eta: 1000}}), 1e-15},
		{thick, thickens, 1e-15}, {die, oozing(bent), 1e-15}, {die, oozing(veiled{thickens.Viscosity}), 1e-7}} {
		o, err := h.After(v.d, v.m, 1e12)
		require.NoError(t, err)
		require.LessOrEqual(t, o.Oozed, h.Volume())
		near(t, h.Volume(), o.Oozed, v.left, "all of it")
		o, err = h.After(v.d, v.m, 0)
		require.NoError(t, err)
		near(t, 10e6, o.Pressure, 1e-14, "pressure at once")
		near(t, o.FirstFlow, o.Flow, 1e-12, "flow at once")
		require.LessOrEqual(t, o.Oozed, 1e-14*h.Volume())
	}
	// Deep in the tail, beyond what is summed, the plateau's exponential goes on.
	late, err := h.After(die, oozing(bent), 100)
	require.NoError(t, err)
	later, err := h.After(die, oozing(bent), 101)
	require.NoError(t, err)
	require.Less(t, late.Pressure, 1e-6*h.Pressure)
	near(t, math.Exp(-1/late.TimeConstant), later.Pressure/late.Pressure, 1e-4, "plateau")
}

// A passage of another's making need not be a power of the flow, even for a power law.
type valve struct{ screw.Capillary }

func (v valve) PressureDrop(m screw.Melt, flow float64) float64 {
	return v.Capillary.PressureDrop(m, flow) + 1e9*flow/1e-6
}

func TestOozeThroughAnothersPassage(t *testing.T) {
	h := screw.Held{Pressure: 10e6, Compliance: 1e-14}
	hole := screw.Capillary{Diameter: 2e-3, Length: 10e-3}
	_, m := thinOut(0.4)
	seen, err := h.Until(screw.Die{valve{hole}}, m, 0.1)
	require.NoError(t, err)
	hidden, err := h.Until(screw.Die{valve{hole}}, oozing(veiled{m.Viscosity}), 0.1)
	require.NoError(t, err)
	near(t, hidden.Time, seen.Time, 1e-8, "time")
	_, err = h.After(screw.Die{hole}, oozing(material.Newtonian{Eta: 1e-4}), 1)
	require.NoError(t, err)
}

func TestOozeRefuses(t *testing.T) {
	h := screw.Held{Pressure: 10e6, Compliance: 1e-14}
	die, m := thinOut(0.4)
	_, err := screw.Held{Pressure: math.NaN(), Compliance: -1}.After(nil, screw.Melt{}, -1)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, name := range []string{"Held.Pressure", "Held.Compliance", "screw.Die", "Melt.Viscosity", "After: time"} {
		require.ErrorContains(t, err, name)
	}
	_, err = h.Until(die, m, 0)
	require.ErrorContains(t, err, "share = 0: allowed 1e-06 to 1")
	_, err = h.Restart(die, m, 100e-9, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	_, err = h.TurnBack(0, 7)
	require.ErrorContains(t, err, "volume a turn")
	require.ErrorContains(t, err, "backlash")
	_, err = screw.Barrel{Inner: 0.02, Outer: 0.02, Yield: 5e8}.Widening(2e11, 0.3)
	require.ErrorContains(t, err, "above Inner")
	wide := screw.Die{screw.Capillary{Diameter: 1, Length: 1e-6}}
	_, err = screw.Held{Pressure: 1e9, Compliance: 1e-14}.After(wide, oozing(material.Newtonian{Eta: 1}), 1)
	require.ErrorContains(t, err, "a closer die")
	require.ErrorIs(t, h.Validate(), nil)
}

// An hour after, HDPE told in its powers of the rate is far below what it was fitted to.
func TestOozeTellsBeyond(t *testing.T) {
	m, err := screw.MeltOf(material.HDPE(), material.Celsius(200))
	require.NoError(t, err)
	o, err := screw.Held{Pressure: 10e6, Compliance: 1e-14}.After(screw.Die{screw.Capillary{Diameter: 2e-3, Length: 10e-3}}, m, 3600)
	require.NoError(t, err)
	require.Contains(t, fmt.Sprint(o.Beyond), "at last")
}

func TestPropertyOozeBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d, m := helds().Draw(t, "held"), screwtest.Dies().Draw(t, "die"), screwtest.Melts().Draw(t, "melt")
		if _, ok := m.Viscosity.(material.Blend); ok {
			t.Skip("takes long")
		}
		hole := screw.Capillary{Diameter: 2e-3, Length: 1e-2}
		room := screw.Room{Volume: 1e-5, Compressibility: 1e-9}
		tube, modulus, poisson := screw.Barrel{Inner: 0.02, Outer: 0.04, Yield: 5e8}, 2e11, 0.3
		time, share, flow, turn, backlash := 1., 0.1, 1e-6, 1e-6, 0.01
		bits := draw.Bits()
		fields := []*float64{&h.Pressure, &h.Compliance, &m.Temperature, &m.Density, &hole.Diameter, &hole.Length, &time, &share, &flow, &turn,
			&backlash, &room.Volume, &room.Compressibility, &room.Widening, &tube.Inner, &tube.Outer, &modulus, &poisson}
		for range rapid.IntRange(1, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = bits.Draw(t, "bits")
		}
		d = append(d, hole)
		told := func(result any, err error) {
			if err == nil {
				finite(t, reflect.ValueOf(result))
			}
		}
		o, err := h.After(d, m, time)
		told(o, err)
		o, err = h.Until(d, m, share)
		told(o, err)
		s, err := h.Restart(d, m, flow, share)
		told(s, err)
		b, err := h.TurnBack(turn, backlash)
		told(b, err)
		c, err := room.Compliance()
		told(c, err)
		y, err := tube.Widening(modulus, poisson)
		told(y, err)
		k, _, err := screw.MeanCompressibility(material.PP(), m.Temperature, h.Pressure)
		told(k, err)
	})
}

func ExampleHeld_After() {
	// A nozzle is left hot after a stop at 100 bar. Melt that oozes sticks and burns, and may
	// spit where gas is held with it: no hand or face ahead of it until the pressure is told to be off.
	melt, err := screw.MeltOf(material.LDPE(), material.Celsius(200))
	if err != nil {
		fmt.Println(err)
		return
	}
	kappa, _, err := screw.MeanCompressibility(material.LDPE(), material.Celsius(200), 10e6)
	if err != nil {
		fmt.Println(err)
		return
	}
	compliance, err := screw.Room{Volume: 10e-6, Compressibility: kappa}.Compliance()
	if err != nil {
		fmt.Println(err)
		return
	}
	held := screw.Held{Pressure: 10e6, Compliance: compliance}
	die := screw.Die{screw.Capillary{Diameter: 2e-3, Length: 10e-3}}
	for _, time := range []float64{0.1, 1, 10} {
		o, err := held.After(die, melt, time)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.1f s: %.3g bar, %.3g of %.3g mm³ out\n", time, o.Pressure/1e5, o.Oozed*1e9, held.Volume()*1e9)
	}
	back, err := held.TurnBack(500e-9, math.Pi/180)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("or %.0f° back at once\n", back.Turns*360)
	// Output:
	// 0.1 s: 8.84 bar, 111 of 122 mm³ out
	// 1.0 s: 1.3 bar, 120 of 122 mm³ out
	// 10.0 s: 0.184 bar, 122 of 122 mm³ out
	// or 89° back at once
}
