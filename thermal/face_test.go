package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/thermal"
)

func TestCheckRadiation(t *testing.T) {
	cold, warm := 303., 363. // as the source rounds them
	h, err := thermal.RadiationCoefficient(1, warm, cold)
	require.NoError(t, err)
	barrel := func(e float64) float64 {
		h, err := thermal.RadiationCoefficient(e, material.Celsius(220), material.Celsius(22))
		require.NoError(t, err)
		return h * 198 * math.Pi * 0.045
	}
	pipe, err := thermal.RadiationCoefficient(1, 343, 293)
	require.NoError(t, err)
	gap, err := thermal.BetweenPlates(0.8, 0.5, 1)
	require.NoError(t, err)
	lagged, err := thermal.BetweenPlates(0.8, 0.5, 0)
	require.NoError(t, err)
	cavity, err := thermal.CavityEmissivity(0.5, 0.25)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("cavity of walls of 0.5, four times its opening", "1/(1 + ¼·(1/0.5 − 1)) = 0.8", verify.Own, 0.8, cavity, 1e-14, "exact"),
		row("plate of 0.36 m² at 90 in 30 °C [W]", cengel+"Example 9-2", verify.Print, 182, h*60*0.36, 0.5/182, "printed to 1 W"),
		row("coefficient, black", "182.3644 W/(0.36 m²·60 K)", verify.Own, 8.4428, h*bookSigma, 1e-5, "five digits"),
		row("pipe [W]", cengel+"Example 9-1", verify.Print, 553, pipe*50*math.Pi*0.08*6, 0.5/553, "printed to 1 W"),
		row("bare barrel, emissivity 0.2 [W/m]", "ε·σ·(T⁴−Ta⁴) in 25-digit arithmetic", verify.Own, 82.6576668908, barrel(0.2), 1e-11, digits),
		row("bare barrel, emissivity 0.8 [W/m]", "the same", verify.Own, 330.630667563, barrel(0.8), 1e-11, digits),
		row("two plates of 0.8 and 0.5", "1/(1/0.8 + 1/0.5 − 1) = 4/9", verify.Own, 4./9, gap, 1e-14, "exact"),
		row("0.8 in wide surroundings", "its own emissivity", verify.Own, 0.8, lagged, 1e-14, "exact"),
	})
}

// Plate of 0.1 m, both faces, in air of constant properties: at the temperature of
// the balance the two heats must add up to the power.
func TestCheckBalance(t *testing.T) {
	const how = "bisection of the balance in 40-digit arithmetic, properties constant"
	var rows []verify.Row
	for _, v := range []struct{ power, temperature, h, ra, convection, radiation float64 }{
		{2, 308.6216833081, 4.164312516, 665722.1583, 0.8721472372, 1.127852763},
		{5, 321.2101919242, 5.107530516, 1436221.577, 2.355612679, 2.644387321},
	} {
		d := v.temperature - 298.15
		p := thermal.Fluid{Conductivity: 0.028, KinematicViscosity: 1.9e-5, Prandtl: 0.71, Expansion: 1 / (298.15 + d/2)}
		c := natural(t, thermal.VerticalPlate, 0.1, d, p)
		r, err := thermal.RadiationCoefficient(0.85, v.temperature, 298.15)
		require.NoError(t, err)
		// The same from a face whose convection is that coefficient.
		face := thermal.Face{Shape: thermal.VerticalPlate, Length: 0.1, Area: 0.02, Emissivity: 0.85, Blown: c.Coefficient}
		s, err := face.Steady(v.power, 298.15)
		require.NoError(t, err)
		rows = append(rows,
			row("Rayleigh number", how, verify.Own, v.ra, c.Number, 1e-9, tenDigits),
			row("coefficient", how, verify.Own, v.h, c.Coefficient, 1e-9, tenDigits),
			row("convection [W]", how, verify.Own, v.convection, c.Coefficient*0.02*d, 1e-9, tenDigits),
			row("radiation [W]", how, verify.Own, v.radiation, r*0.02*d, 1e-9, tenDigits),
			row("temperature [K]", how, verify.Own, v.temperature, s.Temperature, 1e-12, "13 digits given"))
	}
	// A bare barrel in the air of this module, by the other property laws of the check above.
	barrel, err := thermal.Face{Shape: thermal.HorizontalCylinder, Length: 0.045, Area: math.Pi * 0.045, Emissivity: 0.8}.At(material.Celsius(220), material.Celsius(22))
	require.NoError(t, err)
	rows = append(rows, row("bare barrel, natural convection [W/m]", "air by Sutherland's laws in 25-digit arithmetic", verify.Own,
		243.924304517, barrel.Convection, 0.03, "conductivities of air differ by up to 3 %"))
	verify.Table(t, rows)
}

func faces() *rapid.Generator[thermal.Face] {
	return rapid.Custom(func(t *rapid.T) thermal.Face {
		return thermal.Face{
			Shape:      shapes().Draw(t, "shape"),
			Length:     draw.Log(0.002, 1).Draw(t, "length"),
			Area:       draw.Log(1e-5, 2).Draw(t, "area"),
			Emissivity: draw.Uniform(0, 1).Draw(t, "emissivity"),
			Blown:      rapid.SampledFrom([]float64{0, 0, 25}).Draw(t, "blown"),
		}
	})
}

func TestPropertyFace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := faces().Draw(t, "face")
		air := draw.Uniform(200, 473).Draw(t, "air")
		a := draw.Uniform(200, 1200).Draw(t, "surface")
		b := rapid.OneOf(draw.Uniform(200, 1200), rapid.Just(math.Nextafter(a, 1e4)),
			rapid.Just(a+1e-3), rapid.Just(math.Nextafter(air, 1e4))).Draw(t, "other")
		a, b = math.Min(a, b), math.Max(a, b)
		// Hotter never loses less: rounding apart, which is 1e-13 of the heat.
		low, high := f.Loss(a, air), f.Loss(b, air)
		require.GreaterOrEqual(t, high, low-1e-13*math.Abs(low))
		if b-a > 0.01 {
			require.Greater(t, high, low)
		}
		require.Zero(t, f.Loss(air, air))
		if a > air {
			require.Positive(t, low)
		}
		// Twice the area, twice the heat; a blacker face loses more.
		double := f
		double.Area *= 2
		near(t, 2*low, double.Loss(a, air), 1e-14)
		// The power that leaves at a temperature brings the face to it, and only to it.
		s, err := f.At(b, air)
		require.NoError(t, err)
		near(t, s.Convection+s.Radiation, s.Loss, 1e-12)
		near(t, high, s.Loss, 1e-14)
		if high > 0 && high < 1e5 && b < 1200 {
			back, err := f.Steady(high, air)
			require.NoError(t, err)
			require.InDelta(t, b, back.Temperature, 1e-8)
			near(t, high, back.Loss, 1e-10)
		}
		if a != air {
			black := f
			black.Emissivity = 1
			require.GreaterOrEqual(t, black.Loss(a, air)/low, 1-1e-14)
		}
	})
}

// A face is what the laws beneath it are, warm or cold, and says so where they end.
func TestFaceIsItsLaws(t *testing.T) {
	for _, surface := range []float64{280, 330} {
		f := thermal.Face{Shape: thermal.PlateUp, Length: 0.005, Area: 0.01, Emissivity: 0.9}
		p, err := thermal.AirFilm(surface, 300)
		require.NoError(t, err)
		c := natural(t, f.Shape, f.Length, surface-300, p)
		s, err := f.At(surface, 300)
		require.NoError(t, err)
		near(t, c.Coefficient*f.Area*(surface-300), s.Convection, 1e-13)
		near(t, s.Coefficient*f.Area*(surface-300), s.Loss, 1e-13)
		require.Equal(t, c.Beyond, s.Beyond)
		require.Len(t, s.Beyond, 1)
		f.Blown = 25
		s, err = f.At(surface, 300)
		require.NoError(t, err)
		near(t, 25*f.Area*(surface-300), s.Convection, 1e-14)
		require.Nil(t, s.Beyond)
	}
}

func TestFaceRefusesTooMuch(t *testing.T) {
	f := thermal.Face{Shape: thermal.VerticalPlate, Length: 0.01, Area: 1e-4, Emissivity: 0}
	_, err := f.Steady(1000, 300)
	require.ErrorIs(t, err, material.ErrInvalid)
	require.ErrorContains(t, err, "lost at 1200 K")
	s, err := f.Steady(0, 300)
	require.NoError(t, err)
	assert.Equal(t, thermal.FaceState{Temperature: 300}, s)
}

func TestFacesAllocateNothing(t *testing.T) {
	f := thermal.Face{Shape: thermal.PlateUp, Length: 0.05, Area: 0.01, Emissivity: 0.9}
	k := profile()
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		s, _ := f.Steady(1, 300)
		w, _ := k.Steady(5, 300)
		sink += f.Loss(320, 300) + s.Temperature + k.Loss(330, 300) + w.Loss
	}))
}

// What a face costs beside the properties of air it asks for.
func BenchmarkFaceLoss(b *testing.B) {
	f := thermal.Face{Shape: thermal.VerticalPlate, Length: 0.1, Area: 0.02, Emissivity: 0.85}
	versus.Report(b, "x-air", func(i int) {
		for j := range many {
			sink += f.Loss(320+float64(i+j)/1e3, 300)
		}
	}, func(i int) {
		for j := range many {
			a, _ := material.AirAt(310 + float64(i+j)/2e3)
			sink += a.Conductivity + a.KinematicViscosity() + a.Prandtl()
		}
	})
}

// What the fixed point costs in losses.
func BenchmarkFaceSteady(b *testing.B) {
	f := thermal.Face{Shape: thermal.VerticalPlate, Length: 0.1, Area: 0.02, Emissivity: 0.85}
	versus.Report(b, "losses", func(i int) {
		s, _ := f.Steady(5+float64(i)/1e3, 300)
		sink += s.Temperature
	}, func(i int) { sink += f.Loss(320+float64(i)/1e3, 300) })
}
