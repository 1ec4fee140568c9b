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
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

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
	// A law that bends below a thousandth of the pressure is followed there.
	bends := oozing(material.CarreauYasuda{Eta0: 5e5, Lambda: 100, N: 0.35, Yasuda: 2})
	deep, err := h.Until(die, bends, 1e-5)
	require.NoError(t, err)
	back, err := h.After(die, bends, deep.Time)
	require.NoError(t, err)
	near(t, deep.Pressure, back.Pressure, 1e-6, "there and back")
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
	_, err = screw.Room{Widening: -1}.Compliance()
	for _, name := range []string{"Room.Volume", "Room.Compressibility", "Room.Widening"} {
		require.ErrorContains(t, err, name)
	}
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
