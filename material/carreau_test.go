package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/material/materialtest"
)

func TestCheckCarreauYasuda(t *testing.T) {
	const (
		direct = "formula evaluated independently, constants made up"
		bird   = "R. B. Bird, R. C. Armstrong and O. Hassager, Dynamics of Polymeric Liquids, vol. 1, 2nd ed. (1987), ch. 4, constants from memory, formula evaluated independently"
		rao    = "N. S. Rao and G. Schumacher, Design Formulas for Plastics Engineers, 2nd ed. (2004), eqs. 1.39-1.42, inputs of the LDPE example; formula evaluated independently"
		digits = "digits of the independent value"
	)
	var rows []verify.Row
	at := func(name, source string, kind verify.Kind, law material.Viscosity, temperature float64, rates, wants []float64, tol float64) {
		require.NoError(t, law.Validate())
		for i, rate := range rates {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g 1/s [Pa·s]", name, rate), Source: source, Kind: kind,
				Want: wants[i], Got: law.At(rate, temperature, 0), Tol: tol, Why: digits})
		}
	}
	rates := []float64{0.1, 1, 10, 100, 1000}
	made := material.CarreauYasuda{Eta0: 8000, Lambda: 0.5, N: 0.3, Yasuda: 0.7}
	at("Carreau-Yasuda, a = 0.7", direct, verify.Own, made, 450, rates, []float64{7124.8998, 4951.8059, 1958.3032, 485.95367, 101.91609}, 5e-8)
	made.Yasuda = 2
	at("Bird-Carreau", direct, verify.Own, made, 450, rates, []float64{7993.0118, 7398.9737, 2557.6983, 517.30919, 103.23106}, 5e-8)
	for _, m := range []struct {
		name            string
		eta0, lambda, n float64
		want            []float64
	}{
		{"PS at 453 K", 1.48e4, 1.04, 0.398, []float64{14752.15, 11869.27, 3604.164, 903.6402, 225.9475}},
		{"HDPE at 443 K", 8920, 1.58, 0.496, []float64{8864.746, 6506.873, 2217.196, 695.4042, 217.8922}},
		{"phenoxy at 485 K", 1.24e4, 7.44, 0.728, []float64{11678.90, 7166.322, 3840.106, 2052.834, 1097.372}},
	} {
		at("Bird-Carreau, "+m.name, bird, verify.Memory, material.CarreauYasuda{Eta0: m.eta0, Lambda: m.lambda, N: m.n, Yasuda: 2}, 450, rates, m.want, 4e-7)
	}
	standard := material.WLF{C1: 8.86, C2: 101.6, Reference: material.Celsius(-133)}
	ldpe := material.CarreauYasuda{Eta0: 32400, Lambda: 3.1, N: 1 - 0.62, Yasuda: 1, Shift: standard.Referred(material.Celsius(190))}
	at("LDPE at 200 °C", rao, verify.Own, ldpe, material.Celsius(200), []float64{500}, []float64{326.44347}, 2e-8)
	at("LDPE at 190 °C", rao, verify.Own, ldpe, material.Celsius(190), []float64{500}, []float64{340.695}, 2e-6)
	rows = append(rows, verify.Row{Name: "LDPE at 200 °C, local index at 500 1/s [-]", Source: rao + ", n = 1−C·z/(1+z)", Kind: verify.Own,
		Want: 0.38044723, Got: ldpe.Slopes(500, material.Celsius(200), 0).Index(), Tol: 1e-7, Why: digits})
	verify.Table(t, rows)
}

func TestCheckShift(t *testing.T) {
	const digits = "digits of the independent value"
	const own = "formula evaluated independently"
	const wlf = "M. L. Williams, R. F. Landel and J. D. Ferry, J. Am. Chem. Soc. 77 (1955) 3701, constants from memory; formula evaluated independently"
	var rows []verify.Row
	arrhenius := material.Arrhenius{ActivationEnergy: 27200, Reference: 463.15}
	for temperature, want := range map[float64]float64{433.15: 1.6310284, 493.15: 0.65071077, 503.15: 0.57033386} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("Arrhenius, 27.2 kJ/mol, %g K from 463.15 [-]", temperature), Source: own, Kind: verify.Own,
			Want: want, Got: math.Exp(arrhenius.Log(temperature)), Tol: 1e-7, Why: digits})
	}
	decadic := func(w material.WLF, above, want float64) {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("WLF %g/%g, %+g K, log₁₀ [-]", w.C1, w.C2, above), Source: wlf, Kind: verify.Memory,
			Want: want, Got: w.Log(w.Reference+above) / math.Ln10, Tol: 1e-7, Why: digits})
	}
	glass := material.WLF{C1: 17.44, C2: 51.6, Reference: 373}
	decadic(glass, 10, -2.8311688)
	decadic(glass, 25, -5.691906)
	decadic(glass, 50, -8.5826772)
	decadic(glass, 100, -11.503958)
	standard := material.WLF{C1: 8.86, C2: 101.6, Reference: 423}
	decadic(standard, -50, 8.5852713)
	decadic(standard, 50, -2.9221636)
	decadic(standard, 100, -4.3948413)
	rao := material.WLF{C1: 8.86, C2: 101.6, Reference: material.Celsius(-133)}.Referred(material.Celsius(190))
	rows = append(rows, verify.Row{Name: "LDPE from 190 to 200 °C by WLF, log₁₀ [-]", Kind: verify.Own,
		Source: "N. S. Rao and G. Schumacher, Design Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.42, inputs of the example; formula evaluated independently",
		Want:   -0.048781788, Got: rao.Log(material.Celsius(200)) / math.Ln10, Tol: 2e-8, Why: digits})
	verify.Table(t, rows)
}

func TestPropertyShift(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := materialtest.Shifts().Draw(t, "shift")
		require.NoError(t, s.Validate())
		temperature := draw.Uniform(430, 560).Draw(t, "temperature")
		require.Less(t, s.Slope(temperature), 0.0, "hotter is thinner")
		const dT = 1e-3
		require.InEpsilon(t, (s.Log(temperature+dT)-s.Log(temperature-dT))/(2*dT), s.Slope(temperature), 1e-6)
		if w, ok := s.(material.WLF); ok {
			require.Zero(t, w.Log(w.Reference))
			other := w.Referred(temperature)
			at := draw.Uniform(430, 560).Draw(t, "another temperature")
			require.InDelta(t, w.Log(at)-w.Log(temperature), other.Log(at), 1e-11*(1+math.Abs(w.Log(at))+math.Abs(w.Log(temperature))), "the same shift from another reference")
			back := other.Referred(w.Reference)
			require.InEpsilon(t, w.C1, back.C1, 1e-11)
			require.InEpsilon(t, w.C2, back.C2, 1e-11)
			require.InEpsilon(t, w.Slope(at), other.Slope(at), 1e-10)
		}
		if a, ok := s.(material.Arrhenius); ok {
			require.Zero(t, a.Log(a.Reference))
		}
	})
}

func TestShiftIsHeld(t *testing.T) {
	w := material.WLF{C1: 17.44, C2: 51.6, Reference: 373}
	assert.Equal(t, 100.0, w.Log(373-51.6), "at the pole")
	assert.Equal(t, 100.0, w.Log(200), "below the pole")
	assert.Zero(t, w.Slope(200))
	a := material.Arrhenius{ActivationEnergy: 1e6, Reference: 400}
	assert.Equal(t, 100.0, a.Log(100))
	assert.Equal(t, -100.0, a.Log(1500))
	assert.Zero(t, a.Slope(100))
}

// The whole curve is one, seen at another rate and lifted: η(γ̇, T) = aT·η(aT·γ̇, reference).
func TestPropertyCarreauSuperposition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := materialtest.CarreauYasudas().Draw(t, "law")
		c.EtaInf = draw.Uniform(0, 0.2).Draw(t, "eta infinity share") * c.Eta0
		temperature := draw.Uniform(430, 560).Draw(t, "temperature")
		rate := draw.Log(1e-2, 1e5).Draw(t, "rate")
		shift := math.Exp(c.Shift.Log(temperature))
		still := c
		still.Shift = nil
		require.InEpsilon(t, shift*still.At(shift*rate, 300, 0), c.At(rate, temperature, 0), 1e-11)
	})
}

func TestPropertyCarreauLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := materialtest.CarreauYasudas().Draw(t, "law")
		c.Shift = nil
		// By the thinning term alone, (λγ̇)^a, of which 1e-6 or 1e6 is left.
		off := math.Pow(1e6, 1/c.Yasuda)
		if low := 1 / (c.Lambda * off); low > 1e-9 {
			require.InEpsilon(t, c.Eta0, c.At(low, 450, 0), 1.1e-6/c.Yasuda, "Newtonian at low rates")
		}
		high := off / c.Lambda
		require.InEpsilon(t, c.Eta0*math.Pow(c.Lambda*high, c.N-1), c.At(high, 450, 0), 1.1e-6/c.Yasuda, "power law at high rates")
		c.EtaInf = c.Eta0 / 100
		far := math.Pow(1e9, 1/(1-c.N)) / c.Lambda
		require.InEpsilon(t, c.EtaInf, c.At(far, 450, 0), 1e-6, "Newtonian again beyond")

		c.EtaInf, c.Yasuda = 0, 2
		rate := draw.Log(1e-2, 1e5).Draw(t, "rate")
		require.InEpsilon(t, c.Eta0*math.Pow(1+c.Lambda*c.Lambda*rate*rate, (c.N-1)/2), c.At(rate, 450, 0), 1e-12, "a = 2 is Bird-Carreau")
		c.N = 1
		require.InEpsilon(t, c.Eta0, c.At(rate, 450, 0), 1e-15, "n = 1 is Newtonian")
		c.EtaInf = c.Eta0
		require.InEpsilon(t, c.Eta0, c.At(rate, 450, 0), 1e-15, "so are two plateaus that are one")
	})
}

// The slopes must hold with a second plateau too, which the common battery's melts lack.
func TestPropertyCarreauSlopesWithSecondPlateau(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := materialtest.CarreauYasudas().Draw(t, "law")
		c.EtaInf = draw.Uniform(1e-3, 0.5).Draw(t, "eta infinity share") * c.Eta0
		rate, temperature := draw.Log(1e-2, 1e5).Draw(t, "rate"), draw.Uniform(430, 560).Draw(t, "temperature")
		s := c.Slopes(rate, temperature, 0)
		const d = 1e-4
		byRate := math.Log(c.At(rate*math.Exp(d), temperature, 0)/c.At(rate*math.Exp(-d), temperature, 0)) / (2 * d)
		require.InDelta(t, byRate, s.Rate, 1e-6)
		byTemperature := math.Log(c.At(rate, temperature+d, 0)/c.At(rate, temperature-d, 0)) / (2 * d)
		require.InDelta(t, byTemperature, s.Temperature, 1e-8+1e-6*math.Abs(s.Temperature))
	})
}

func TestPowerLawWithShift(t *testing.T) {
	a := material.Arrhenius{ActivationEnergy: 17e3, Reference: 473.15}
	p := material.PowerLaw{Consistency: 4350, Index: 0.41, Shift: a}
	require.NoError(t, p.Validate(), "no Reference of its own is needed")
	assert.InEpsilon(t, math.Exp(a.Log(450))*p.At(70, 473.15, 0), p.At(70, 450, 0), 1e-14)
	assert.InEpsilon(t, a.Slope(450), p.Slopes(70, 450, 0).Temperature, 1e-14)
	p.TemperatureSlope = 0.01
	p.Shift = material.WLF{C1: -1, C2: 51.6, Reference: 373}
	err := p.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "material.PowerLaw.TemperatureSlope = 0.01 1/K: allowed 0 with a Shift")
	assert.ErrorContains(t, err, "material.WLF.C1 = -1: allowed 0 to 100")
}

func TestBadCarreauIsNamed(t *testing.T) {
	err := material.CarreauYasuda{Eta0: 100, EtaInf: 101, Lambda: 0, N: 1.01, Yasuda: math.NaN(), Shift: material.Arrhenius{Reference: 0}}.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"material.CarreauYasuda.EtaInf = 101 Pa·s: allowed 0 to 100 Pa·s", "Lambda = 0 s", "N = 1.01", "Yasuda = NaN", "material.Arrhenius.Reference = 0 K"} {
		assert.ErrorContains(t, err, part)
	}
}

// Whatever bits come in, a law that validates is positive and finite everywhere it may be asked.
func TestPropertyLawsOfAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		extreme := func(name string, lo, hi float64) float64 {
			return rapid.OneOf(draw.Bits(), rapid.SampledFrom([]float64{lo, hi})).Draw(t, name)
		}
		shift := rapid.SampledFrom([]material.Shift{nil,
			material.Arrhenius{ActivationEnergy: extreme("E", 0, 1e6), Reference: extreme("T0", 100, 1500)},
			material.WLF{C1: extreme("C1", 0, 100), C2: extreme("C2", 1, 500), Reference: extreme("Tr", 100, 1500)}}).Draw(t, "shift")
		laws := []material.Viscosity{
			material.CarreauYasuda{Eta0: extreme("eta0", 1e-3, 1e12), EtaInf: extreme("etaInf", 0, 1e-3), Lambda: extreme("lambda", 1e-9, 1e6),
				N: extreme("n", 0.05, 1), Yasuda: extreme("a", 0.1, 10), Shift: shift},
			material.CrossExponential{N: extreme("nc", 0.05, 0.95), TauStar: extreme("tau", 1, 1e8), B: extreme("B", 1e-40, 1e9),
				Tb: extreme("Tb", 0, 1e5), Beta: extreme("beta", 0, 1e-6)},
			material.PowerLaw{Consistency: extreme("m", 1e-3, 1e9), Index: extreme("np", 0.05, 1.5), Reference: extreme("Tp", 100, 1500), Shift: shift},
			material.CrossWLF{N: extreme("nw", 0.05, 0.95), TauStar: extreme("tauw", 1, 1e8), D1: extreme("D1", 1, 1e30), D2: extreme("D2", 100, 1500),
				D3: extreme("D3", 0, 1e-5), A1: extreme("A1", 0, 100), A2: extreme("A2", 1, 500)},
		}
		laws = append(laws, material.Blend{First: rapid.SampledFrom(laws).Draw(t, "first"), Second: rapid.SampledFrom(laws).Draw(t, "second"),
			Share: extreme("share", 0, 1), Power: extreme("power", -1, 1)})
		for _, law := range laws {
			p := material.PP()
			p.Viscosity = law
			rate, temperature, pressure := extreme("rate", 1e-9, 1e9), extreme("temperature", 100, 1500), extreme("pressure", 0, 1e9)
			eta, _, err := p.ViscosityAt(rate, temperature, pressure)
			if err != nil {
				continue
			}
			require.True(t, eta > 0 && eta <= math.MaxFloat64, "%T: %g", law, eta)
			s := law.Slopes(rate, temperature, pressure)
			require.True(t, s.Rate > -1 && s.Rate <= 0.5, "%T: slope by rate %g", law, s.Rate)
			require.False(t, math.IsNaN(s.Temperature+s.Pressure) || math.IsInf(s.Temperature+s.Pressure, 0), "%T: %+v", law, s)
		}
	})
}

func BenchmarkCarreauYasuda(b *testing.B) {
	c := material.CarreauYasuda{Eta0: 8000, Lambda: 0.5, N: 0.3, Yasuda: 0.7, Shift: material.Arrhenius{ActivationEnergy: 40e3, Reference: 473}}
	a := c.Shift.(material.Arrhenius)
	var v material.Viscosity = c
	var sum float64
	b.ReportAllocs()
	versus.Report(b, "x-inline",
		func(i int) { sum += v.At(100+float64(i&1023), 470, 0) },
		func(i int) {
			shift := math.Exp(a.ActivationEnergy / material.GasConstant * (1.0/470 - 1/a.Reference))
			sum += c.Eta0 * shift * math.Pow(1+math.Pow(c.Lambda*shift*(100+float64(i&1023)), c.Yasuda), (c.N-1)/c.Yasuda)
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func TestLawsAllocateNothing(t *testing.T) {
	c := material.CarreauYasuda{Eta0: 8000, Lambda: 0.5, N: 0.3, Yasuda: 2, Shift: material.Arrhenius{ActivationEnergy: 40e3, Reference: 473}}
	x := material.CrossExponential{N: 0.3, TauStar: 2e4, B: 1e-3, Tb: 7000}
	for _, v := range []material.Viscosity{c, x, material.Blend{First: c, Second: x, Share: 0.3, Power: material.KendallMonroe}} {
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			if v.Validate() != nil || v.At(50, 480, 0)+v.Slopes(50, 480, 0).Rate == 0 {
				panic("refused")
			}
		}), "%T", v)
	}
}

func ExampleCarreauYasuda() {
	// LDPE as a German handbook has it: A·aT/(1+B·aT·γ̇)^C at 190 °C, standard temperature −133 °C.
	standard := material.WLF{C1: 8.86, C2: 101.6, Reference: material.Celsius(-133)}
	ldpe := material.CarreauYasuda{Eta0: 32400, Lambda: 3.1, N: 1 - 0.62, Yasuda: 1,
		Shift: standard.Referred(material.Celsius(190))}
	for _, celsius := range []float64{190, 200} {
		fmt.Printf("%.4g Pa·s at %g °C\n", ldpe.At(500, material.Celsius(celsius), 0), celsius)
	}
	// Output:
	// 340.7 Pa·s at 190 °C
	// 326.4 Pa·s at 200 °C
}
