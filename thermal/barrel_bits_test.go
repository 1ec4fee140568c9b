package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/thermal"
)

// anyBarrel puts any bits, and the ends of the ranges, into all that has to do with a barrel.
func anyBarrel(t *rapid.T) {
	l := thermal.Lagged{Radius: 0.02, Length: 0.3, Thickness: 0.02, Conductivity: 0.05, Emissivity: 0.5}
	h := heatUp()
	soak := thermal.Soak{Outer: 0.02, Inner: 0.008, Conductivity: 45, Density: 7850, SpecificHeat: 490}
	throat := throats().Draw(t, "throat")
	melt := heated(1, 0.01)
	sheared := thermal.Sheared{Viscosity: 800, Conductivity: 0.2, Speed: 0.05, Sensitivity: 0.02, OneSided: rapid.Bool().Draw(t, "one-sided")}
	heater := thermal.Heater{Kind: thermal.Band, Power: 500, Length: 0.12, Radius: 0.0225}
	thermistor := thermal.SteinhartHart{A: 1.129148e-3, B: 2.34125e-4, C: 8.76741e-8}
	sheath := thermal.Sheath{Radius: 1.5e-3, Bore: 1e-3, Immersion: 0.03, Conductivity: 16, Coefficient: 200}
	melting := thermal.Melting{Flow: 1e-3, Enthalpy: 5e5, Loss: 200, Shaft: 150}
	zone := thermal.Zone{Name: "zone", Length: 0.1, Outer: 0.02, Inner: 0.008, Loss: 0.5, Power: 100, Exchange: 1}
	metal := thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490}
	barrel := thermal.Barrel{ScrewSection: 1e-4, Collar: 1, Coolant: 293, Shank: 0.1, Drive: 300, Air: 295}
	if rapid.Bool().Draw(t, "extreme") {
		l = rapid.SampledFrom([]thermal.Lagged{{Radius: 1e-4, Length: 1e-3, Thickness: 1, Conductivity: 1e-3}, {Radius: 1, Length: 5, Thickness: math.SmallestNonzeroFloat64, Conductivity: 1e4, Emissivity: 1, Blown: 1e4}}).Draw(t, "extreme lagging")
		h = rapid.SampledFrom([]thermal.HeatUp{{Capacity: 1e-3, Power: 1e7, Conductance: 1e6, Air: 200}, {Capacity: 1e9, Power: math.SmallestNonzeroFloat64, Conductance: math.SmallestNonzeroFloat64, Air: 473.15}, {Capacity: 1e9, Conductance: 1e-300, Power: 1e7, Air: 300}}).Draw(t, "extreme heat-up")
		soak = rapid.SampledFrom([]thermal.Soak{{Outer: 1, Inner: 5e-4, Conductivity: 0.1, Density: 3e4, SpecificHeat: 1e4}, {Outer: 1, Inner: 0.9999, Conductivity: 1e3, Density: 100, SpecificHeat: 50}}).Draw(t, "extreme soak")
		throat.Sleeve = rapid.SampledFrom([]thermal.Sleeve{{Outer: 1e-4, Inner: 9e-5, Length: 10, Conductivity: 0.01, Coefficient: 1e4}, {Outer: 1, Length: 1e-4, Conductivity: 1e4, Coefficient: math.SmallestNonzeroFloat64}, {Outer: 1, Inner: 0.9, Length: 10, Conductivity: 1e4}}).Draw(t, "extreme sleeve")
		throat.ScrewSection = rapid.SampledFrom([]float64{1e-8, 1}).Draw(t, "extreme screw")
		throat.ScrewConductivity = rapid.SampledFrom([]float64{0.01, 1e4}).Draw(t, "extreme screw's conductivity")
		throat.Exchange = rapid.SampledFrom([]float64{0, math.SmallestNonzeroFloat64, 1e-20, 1e4}).Draw(t, "extreme exchange")
		throat.Collar = rapid.SampledFrom([]float64{0, math.SmallestNonzeroFloat64, 1e6}).Draw(t, "extreme collar")
		throat.Shank = rapid.SampledFrom([]float64{0, math.SmallestNonzeroFloat64, 1e6}).Draw(t, "extreme shank")
		melt = rapid.SampledFrom([]thermal.HeatedMelt{
			{Gap: 1e-5, Length: 100, Speed: 1e-7, Conductivity: 10, Density: 100, SpecificHeat: 100}, {Gap: 1, Length: 1e-4, Speed: 10, Conductivity: 0.01, Density: 1e4, SpecificHeat: 1e4, Viscosity: 1e7},
		}).Draw(t, "extreme melt")
		sheared.Viscosity, sheared.Conductivity, sheared.Speed = 1e7, 0.01, 10
		sheared.Sensitivity = rapid.SampledFrom([]float64{0, 1, math.SmallestNonzeroFloat64, 1e-300, 1e-26}).Draw(t, "extreme sensitivity")
		thermistor = rapid.SampledFrom([]thermal.SteinhartHart{{A: -0.1, B: 0.1, C: 1e-3}, {A: 0.1, B: 1e-6}, {A: 0.005, B: 1e-6, C: math.SmallestNonzeroFloat64}}).Draw(t, "extreme thermistor")
		sheath = rapid.SampledFrom([]thermal.Sheath{{Radius: 1e-4, Bore: 9e-5, Immersion: 10, Conductivity: 0.01, Coefficient: 1e6}, {Radius: 0.1, Immersion: 1e-4, Conductivity: 1e4, Coefficient: 0.01}}).Draw(t, "extreme sheath")
		zone = rapid.SampledFrom([]thermal.Zone{{Length: 1e-3, Outer: 1, Inner: 5e-4, Loss: 1e3, Power: 1e5, Exchange: 1e4}, {Length: 5, Outer: 1.1e-3, Inner: 1e-3, Loss: math.SmallestNonzeroFloat64}, {Length: 5, Outer: 1.1e-3, Inner: 1e-3, Exchange: 1e-9}}).Draw(t, "extreme zone")
		metal.Conductivity = rapid.SampledFrom([]float64{0.1, 1e3}).Draw(t, "extreme metal")
		barrel.ScrewSection = rapid.SampledFrom([]float64{0, 1e-8, 1}).Draw(t, "extreme screw's section")
		barrel.Collar, barrel.Shank = throat.Collar, throat.Shank
	}
	heater.Kind = thermal.HeaterKind(rapid.IntRange(0, 4).Draw(t, "kind"))
	melt.Passage = thermal.Passage(rapid.IntRange(0, 3).Draw(t, "passage"))
	couple := thermal.Thermocouple(rapid.IntRange(0, 3).Draw(t, "couple"))
	for _, v := range []any{&l, &h, &soak, &throat, &throat.Sleeve, &melt, &sheared, &heater, &thermistor, &sheath, &melting, &zone, &metal, &barrel} {
		spoil(t, v)
	}
	temperature := edges(draw.Uniform(200, 1200), 200, 1200, 473.15, h.Air, math.Nextafter(h.Air, 1e9), 273.15, 1123.2, 1645.15, 1033.15)
	a, b, c := temperature.Draw(t, "a"), temperature.Draw(t, "b"), temperature.Draw(t, "c")
	if rapid.Bool().Draw(t, "near") {
		b = math.Nextafter(a, 1e9)
	}
	x := edges(draw.Log(1e-9, 1e9), 0, 1, 1e-9, 1e12, math.SmallestNonzeroFloat64).Draw(t, "x")
	y := edges(draw.Log(1e-3, 1e3), 0, 1, 1e4, 0.5).Draw(t, "y")
	z := edges(draw.Uniform(0, 1), 0, 1, 0.5, 1e-9).Draw(t, "z")
	check := func(v float64, err error) { finite(t, v, err) }

	s1, err := l.At(a, b)
	finite(t, s1, err)
	most, s1, err := l.Ceiling(x, a)
	finite(t, s1, err)
	check(most, err)
	check(thermal.TubeLayer(x, y, z, y))
	check(thermal.CriticalRadius(x, y))
	check(h.Time(a, b))
	check(h.After(x, a))
	check(h.Ceiling())
	check(h.PowerFor(x, a, b))
	power, duty, err := h.Holding(a)
	check(power, err)
	check(duty, err)
	check(thermal.RadiationCooling(x, y, z, a, b, c))
	check(thermal.FreeCooling(x, y, z, z))
	s2, err := soak.Heated(x)
	finite(t, s2, err)
	check(thermal.RodSoak(z, x/1e3, z))
	check(thermal.SlabSoak(z, x/1e3, z))
	s3, err := throat.Sleeve.Between(a, b, c)
	finite(t, s3, err)
	s3, err = throat.Sleeve.Cooled(a, x, b, c)
	finite(t, s3, err)
	check(throat.Sleeve.Temperature(z, a, b, c))
	s4, err := throat.At(a, b)
	finite(t, s4, err)
	g, err := melt.Passage.Graetz(x)
	finite(t, g, err)
	s5, err := melt.At(a, b)
	finite(t, s5, err)
	s6, err := sheared.Warmed()
	finite(t, s6, err)
	require.True(t, s6.Stress >= 0 && s6.Stress <= 1)
	s7, err := heater.For(h, a, b, x)
	finite(t, s7, err)
	check(thermal.Platinum(y).Resistance(a))
	check(thermal.Platinum(y).Temperature(x))
	check(thermal.PlatinumTolerance(a, sheared.OneSided))
	check(couple.Voltage(a, b))
	check(couple.Temperature(z/20, a))
	check(thermistor.Temperature(x))
	check(thermistor.Resistance(a))
	s8, err := thermal.Beta(x, a, 1000*y)
	finite(t, s8, err)
	s8, err = thermal.FitSteinhartHart([3]float64{x, y, z}, [3]float64{a, b, c})
	finite(t, s8, err)
	check(thermal.RampLag(y, y, x))
	check(sheath.Error(a, b))
	s9, err := melting.Energy()
	finite(t, s9, err)
	barrel.Zones = []thermal.Zone{zone, zone}
	barrel.Metal, barrel.Screw = metal, metal
	n, err := barrel.Network(rapid.IntRange(0, 5).Draw(t, "cuts"))
	if err != nil {
		require.NotEmpty(t, err.Error())
	} else {
		require.NoError(t, n.Validate())
		rest, err := n.Steady(0)
		for _, k := range rest.Temperatures {
			finite(t, k, err)
		}
	}
	for _, v := range []interface{ Validate() error }{l, h, soak, throat, throat.Sleeve, melt, sheared, heater, thermistor, sheath, melting, barrel} {
		if err := v.Validate(); err != nil {
			require.NotEmpty(t, err.Error())
		}
	}
}

func TestAnyBarrelBitsGiveNumbersOrErrors(t *testing.T) { rapid.Check(t, anyBarrel) }

func FuzzAnyBarrel(f *testing.F) { f.Fuzz(rapid.MakeFuzz(anyBarrel)) }
