package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

// veiled hides from a solver what law a melt has.
type veiled struct{ material.Viscosity }

func oozing(v material.Viscosity) screw.Melt {
	return screw.Melt{Viscosity: v, Density: 750, SpecificHeat: 2500, Temperature: 473.15}
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
