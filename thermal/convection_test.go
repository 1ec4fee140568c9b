package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
)

const (
	incropera = "Incropera, DeWitt, Bergman and Lavine, Fundamentals of Heat and Mass Transfer, 6th ed., "
	// Textbooks take 9.81; scaling the expansion instead of the gravity gives their Rayleigh numbers.
	bookGravity = 9.81 / 9.80665
	bookSigma   = 5.67e-8 / thermal.StefanBoltzmann
	tenDigits   = "the ten digits given"
)

func book(k, nu, pr, beta float64) thermal.Fluid {
	return thermal.Fluid{Conductivity: k, KinematicViscosity: nu, Prandtl: pr, Expansion: beta * bookGravity}
}

func natural(t require.TestingT, s thermal.Shape, length, difference float64, p thermal.Fluid) thermal.Convection {
	c, err := thermal.Natural(s, length, difference, p)
	require.NoError(t, err)
	return c
}

func TestCheckNaturalConvection(t *testing.T) {
	const how = "the same law in 25-digit arithmetic"
	pipe := natural(t, thermal.HorizontalCylinder, 0.08, 50, book(0.02699, 1.750e-5, 0.7241, 1/318.))
	area := math.Pi * 0.08 * 6
	plate := book(0.02808, 1.896e-5, 0.7202, 1/333.)
	upright := natural(t, thermal.VerticalPlate, 0.6, 60, plate)
	up := natural(t, thermal.PlateUp, 0.15, 60, plate)
	down := natural(t, thermal.PlateDown, 0.15, 60, plate)
	screen := natural(t, thermal.VerticalPlate, 0.71, 209, book(33.8e-3, 26.4e-6, 26.4/38.3, 0.0025))
	air := book(0.0265, 16.2e-6, 16.2/22.9, 0.0033)
	ra := air.Rayleigh(0.3, 30)
	side := thermal.LaminarPlateNusselt(ra, 0.71) * 0.0265 / 0.3
	top := natural(t, thermal.PlateUp, 0.375, 30, air)
	bottom := natural(t, thermal.PlateDown, 0.375, 30, air)
	hot := book(0.0313, 22.8e-6, 0.697, 2.725e-3)
	hot.Prandtl = 22.8 / 32.8
	hotRa := hot.Rayleigh(0.1, 142)
	hotH := thermal.HorizontalCylinder.Nusselt(hotRa, 0.697) * 0.0313 / 0.1
	radiated, err := thermal.RadiationCoefficient(0.85, material.Celsius(165)-0.15, material.Celsius(23)-0.15)
	require.NoError(t, err)
	sum := math.Pi * 0.1 * (hotH*142 + radiated*142*bookSigma)
	// Air by other laws of its properties, at the film of a bare barrel.
	const film = (220+22)/2. + 273.15
	mu := 1.716e-5 * math.Pow(film/273.15, 1.5) * (273.15 + 110.4) / (film + 110.4)
	k := 0.0241 * math.Pow(film/273.15, 1.5) * (273.15 + 194) / (film + 194)
	barrelAir := thermal.Fluid{Conductivity: k, KinematicViscosity: mu / (101325 / (287.05 * film)), Prandtl: mu * 1006 / k, Expansion: 1 / film}
	barrel := natural(t, thermal.HorizontalCylinder, 0.045, 198, barrelAir)
	verify.Table(t, []verify.Row{
		row("pipe, Rayleigh number", cengel+"Example 9-1", verify.Print, 1.867e6, pipe.Number, 0.0005/1.867, "printed to 4 digits"),
		row("pipe, Nusselt number", cengel+"Example 9-1", verify.Print, 17.39, pipe.Nusselt, 0.005/17.39, "printed to 4 digits"),
		row("pipe, coefficient", cengel+"Example 9-1", verify.Print, 5.867, pipe.Coefficient, 0.0018/5.867, "printed by the rounded Nusselt number, 0.0013 low"),
		row("pipe, heat [W]", cengel+"Example 9-1", verify.Print, 442, pipe.Coefficient*area*50, 0.5/442, "printed to 1 W"),
		row("pipe, Nusselt number", how, verify.Own, 17.39400374, pipe.Nusselt, 1e-9, tenDigits),
		row("upright plate, Rayleigh number", cengel+"Example 9-2", verify.Print, 7.649e8, upright.Number, 0.0015/7.649, "4 digits, from inputs as rounded"),
		row("upright plate, Nusselt number", cengel+"Example 9-2", verify.Print, 113.3, upright.Nusselt, 0.05/113.3, "printed to 4 digits"),
		row("upright plate, coefficient", cengel+"Example 9-2", verify.Print, 5.302, upright.Coefficient, 0.0035/5.302, "printed by the rounded Nusselt number, 0.0025 low"),
		row("upright plate, heat [W]", cengel+"Example 9-2", verify.Print, 115, upright.Coefficient*0.36*60, 0.5/115, "printed to 1 W"),
		row("upright plate, Nusselt number", how, verify.Own, 113.3446934, upright.Nusselt, 1e-9, tenDigits),
		row("plate facing down, coefficient", cengel+"Example 9-2", verify.Print, 2.971, down.Coefficient, 0.001/2.971, "printed by the rounded Nusselt number"),
		row("plate facing down, heat [W]", cengel+"Example 9-2", verify.Print, 64.2, down.Coefficient*0.36*60, 0.05/64.2, "printed to 0.1 W"),
		// The source has Ra = 1.195e7 and takes the law it ends at 1e7: printed Nu 31.75, h 5.944, 128 W.
		// The law of its own table there gives 34.29, and so do we; its number is had without the table.
		row("plate facing up, by its table", cengel+"table 9-1 at Ra of Example 9-2, whose print is by the other row", verify.Own, 0.15*math.Cbrt(up.Number), up.Nusselt, 1e-14, "exact"),
		row("plate facing up, as printed", cengel+"Example 9-2: 0.54·Ra^¼ of our Ra", verify.Print, 31.75, 0.54*math.Pow(up.Number, 0.25), 0.005/31.75, "printed to 4 digits"),
		row("plate facing up, Ra = 1e6", "0.54·1e6^¼", verify.Own, 17.0762993649, thermal.PlateUp.Nusselt(1e6, 0.7), 1e-11, digits),
		row("fire screen, Nusselt number", incropera+"Example 9.2, p. 572", verify.Memory, 147, screen.Nusselt, 0.5/147, "remembered to 1"),
		row("fire screen, heat [W]", incropera+"Example 9.2, p. 572", verify.Memory, 1060, screen.Coefficient*0.71*1.02*209, 5./1060, "remembered to 10 W"),
		row("fire screen, Rayleigh number", how, verify.Own, 1.814377483e9, screen.Number, 1e-9, tenDigits),
		row("duct, side", how+", inputs of "+incropera+"Example 9.3, p. 577", verify.Own, 4.225154101, side, 1e-9, tenDigits),
		row("duct, top", how+", the same", verify.Own, 5.478416349, top.Coefficient, 1e-9, tenDigits),
		row("duct, bottom", how+", the same", verify.Own, 2.068189112, bottom.Coefficient, 1e-9, tenDigits),
		row("duct, heat a metre [W/m]", incropera+"Example 9.3, p. 577", verify.Memory, 246, (2*side*0.3+(top.Coefficient+bottom.Coefficient)*0.75)*30, 0.5/246, "remembered to 1 W/m"),
		// Remembered of the source: Nu 23.3, h 7.29, 766 W/m; the law gives 23.09 from its inputs.
		row("hot pipe, coefficient", how+", inputs of "+incropera+"Example 9.4, p. 580", verify.Own, 7.228714345, hotH, 1e-9, tenDigits),
		row("hot pipe, both heats a metre [W/m]", how+", the same", verify.Own, 763.494992, sum, 1e-9, tenDigits),
		row("bare barrel, Rayleigh number", how, verify.Own, 482784.796293, barrel.Number, 1e-11, digits),
		row("bare barrel, coefficient", how, verify.Own, 8.71419950709, barrel.Coefficient, 1e-11, digits),
	})
}

func TestNaturalSaysWhatIsBeyond(t *testing.T) {
	p, err := thermal.AirFilm(330, 300)
	require.NoError(t, err)
	require.Nil(t, natural(t, thermal.PlateUp, 0.03, 30, p).Beyond)
	small := natural(t, thermal.PlateUp, 0.005, 30, p)
	require.Len(t, small.Beyond, 1)
	require.Contains(t, small.Beyond[0], "plate facing up: Rayleigh number 278.985, ")
	require.Contains(t, small.Beyond[0], "the law's range is 10000 to 1e+11")
	require.Contains(t, natural(t, thermal.PlateUp, 0.005, -30, p).Beyond[0], "plate facing down")
	require.Equal(t, "no shape", thermal.Shape(9).String())
	require.True(t, math.IsNaN(thermal.Shape(0).Nusselt(1e6, 0.7)))
}

func shapes() *rapid.Generator[thermal.Shape] {
	return rapid.SampledFrom([]thermal.Shape{thermal.VerticalPlate, thermal.PlateUp, thermal.PlateDown, thermal.HorizontalCylinder})
}

func TestPropertyNatural(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := shapes().Draw(t, "shape")
		length := draw.Log(0.003, 1).Draw(t, "length")
		d := draw.Log(0.1, 300).Draw(t, "difference")
		air := draw.Uniform(250, 400).Draw(t, "air")
		p, err := thermal.AirFilm(air+d, air)
		require.NoError(t, err)
		c := natural(t, s, length, d, p)
		// Similar: what keeps the Rayleigh number keeps the Nusselt number.
		n := draw.Log(0.5, 2).Draw(t, "scale")
		scaled := p
		scaled.KinematicViscosity *= math.Pow(n, 1.5)
		other := natural(t, s, n*length, d, scaled)
		near(t, c.Nusselt, other.Nusselt, 1e-12)
		near(t, c.Coefficient, n*other.Coefficient, 1e-12)
		// Warmer is better, and up better than down; a cold face turns them.
		require.Greater(t, natural(t, s, length, 1.1*d, p).Coefficient, c.Coefficient)
		up, down := natural(t, thermal.PlateUp, length, d, p), natural(t, thermal.PlateDown, length, d, p)
		require.Greater(t, up.Coefficient, down.Coefficient)
		require.Equal(t, up.Nusselt, natural(t, thermal.PlateDown, length, -d, p).Nusselt)
		// The two laws of an upright plate are of the same readings; they part by 20 % towards Ra = 1e9.
		if ra := p.Rayleigh(length, d); ra > 1e3 && ra < 1e9 {
			near(t, thermal.VerticalPlate.Nusselt(ra, p.Prandtl), thermal.LaminarPlateNusselt(ra, p.Prandtl), 0.25)
		}
	})
}
