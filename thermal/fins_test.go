package thermal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/thermal"
)

func straightFin(t require.TestingT, p thermal.Profile, length, thickness, width, h, k float64) thermal.Fin {
	f, err := thermal.StraightFin{Profile: p, Length: length, Thickness: thickness, Width: width}.At(h, k)
	require.NoError(t, err)
	return f
}

func pinFin(t require.TestingT, p thermal.Profile, length, diameter, h, k float64) thermal.Fin {
	f, err := thermal.PinFin{Profile: p, Length: length, Diameter: diameter}.At(h, k)
	require.NoError(t, err)
	return f
}

func disc(t require.TestingT, inner, outer, thickness, h, k float64) thermal.Fin {
	f, err := thermal.AnnularFin{Inner: inner, Outer: outer, Thickness: thickness}.At(h, k)
	require.NoError(t, err)
	return f
}

func TestCheckFinEfficiency(t *testing.T) {
	const how = "the same functions in 40-digit arithmetic"
	var rows []verify.Row
	// Of thickness 2 mm and length 40 mm; the coefficient makes m·L the number wanted. A
	// rectangular fin is shorter by what stands for its edge.
	for _, v := range [][5]float64{
		{0.5, 0.92423431452, 0.892779931793, 0.828427124746, 0.96077489548},
		{1, 0.761594155956, 0.697774657964, 0.61803398875, 0.866254853445},
		{2, 0.482013790038, 0.431761305512, 0.390388203202, 0.658047267359},
	} {
		m := v[0] / 0.04
		h := m * m * 200 * 0.002 / 2
		name := fmt.Sprintf(", mL = %g", v[0])
		rows = append(rows,
			row("rectangular"+name, how, verify.Own, v[1], straightFin(t, thermal.Rectangular, 0.039, 0.002, 0.1, h, 200).Efficiency, 1e-11, digits),
			row("triangular"+name, how, verify.Own, v[2], straightFin(t, thermal.Triangular, 0.04, 0.002, 0.1, h, 200).Efficiency, 1e-11, digits),
			row("parabolic"+name, how, verify.Own, v[3], straightFin(t, thermal.Parabolic, 0.04, 0.002, 0.1, h, 200).Efficiency, 1e-11, digits),
			row("cone"+name, how, verify.Own, v[4], pinFin(t, thermal.Triangular, 0.04, 0.002, h/2, 200).Efficiency, 1e-11, digits),
		)
	}
	blunt := pinFin(t, thermal.Parabolic, 0.02, 0.005, 50, 240)
	tube := disc(t, 0.025, 0.045, 0.006, 50, 186)
	steam := disc(t, 0.015, 0.030, 0.002, 60, 180)
	bare := 0.15 - 5*0.006
	tubeHeat := 200 * (5*tube.Conductance + 50*2*math.Pi*0.025*bare)
	edged := straightFin(t, thermal.Rectangular, 0.03, 0.0015, 0.05, 25, 200)
	rod := func(k float64) float64 { return 75 * pinFin(t, thermal.Rectangular, 1, 0.005, 100, k).Conductance }
	square := pinFin(t, thermal.Rectangular, 0.0395, 0.002, 20, 237) // end insulated: shorter by D/4
	stack := straightFin(t, thermal.Rectangular, 0.0075, 0.001, 0.051, 19.1, 200)
	rows = append(rows,
		// The source prints 0.9632 from its table of I₀ and I₁, and says that a solver gives 0.9855.
		row("blunt parabolic pin", cengel+"Example 3-12, its discussion", verify.Print, 0.9855, blunt.Efficiency, 0.00005/0.9855, "4 digits"),
		row("blunt parabolic pin", how, verify.Own, 0.985471981934, blunt.Efficiency, 1e-11, digits),
		row("its area [m²]", cengel+"Example 3-12", verify.Print, 2.106e-4, blunt.Area, 0.0005/2.106, "4 digits"),
		row("its area [m²]", how, verify.Own, 2.1061676e-4, blunt.Area, 1e-8, "8 digits"),
		row("its heat [W]", how, verify.Own, 1.81612301, 175*blunt.Conductance, 3e-9, "9 digits"),
		// Both chart readings of 0.95 (heat 690 W, 5320 W/m) are some percent low.
		row("disc on a cylinder", how+", and a shooting solution of its equation", verify.Own, 0.978552200842, tube.Efficiency, 1e-11, digits),
		row("its area [m²]", how, verify.Own, 0.01054946813, tube.Area, 1e-9, tenDigits),
		row("five of them with the tube [W]", "the same of "+incropera+"Example 3.10, p. 156, which reads 690 W by a chart", verify.Own, 704.6558, tubeHeat, 1e-7, "7 digits"),
		row("disc on a steam pipe", how, verify.Own, 0.960755334458, steam.Efficiency, 1e-11, digits),
		row("thin fin with an edge", how, verify.Own, 0.950581638421, edged.Efficiency, 1e-11, digits),
		row("rod of copper [W]", incropera+"Example 3.9, p. 145", verify.Memory, 8.3, rod(398), 0.05/8.3, "remembered to 0.1 W"),
		row("rod of aluminium [W]", incropera+"Example 3.9, p. 145", verify.Memory, 5.6, rod(180), 0.05/5.6, "remembered to 0.1 W"),
		row("rod of stainless steel [W]", incropera+"Example 3.9, p. 145", verify.Memory, 1.6, rod(14), 0.05/1.6, "remembered to 0.1 W"),
		row("rod of copper [W]", "√(h·P·k·A)·ΔT of an endless one", verify.Own, 8.309553397, rod(398), 1e-9, tenDigits),
		row("rod of stainless steel [W]", "the same", verify.Own, 1.558476165, rod(14), 1e-9, tenDigits),
		row("square pin", cengel+"Example 3-13", verify.Print, 0.919, square.Efficiency, 0.0005/0.919, "printed to 0.001"),
		row("square pin, mL", cengel+"Example 3-13", verify.Print, 12.99*0.04, square.Parameter, 0.005/12.99, "printed to 0.01"),
		row("square pin, heat [W]", cengel+"Example 3-13", verify.Print, 0.3529, 60*square.Conductance*4/math.Pi, 0.0002/0.3529, "printed by the rounded efficiency"),
		row("square pin", how, verify.Own, 0.9187510422, square.Efficiency, 1e-9, tenDigits),
		row("fin of a chip's sink [K/W]", incropera+"Example 3.11, p. 158, its inputs in 25-digit arithmetic", verify.Own, 64.42823563, 1/stack.Conductance, 1e-4,
			"the source counts the fin's ends in m as well, 1e-4 of its heat"),
	)
	const mantle = "length of the curve by quadrature in 30-digit arithmetic"
	rows = append(rows,
		row("area, triangular [m²]", mantle, verify.Own, 0.008246211251235, straightFin(t, thermal.Triangular, 0.04, 0.02, 0.1, 10, 200).Area, 1e-11, digits),
		row("area, parabolic [m²]", mantle, verify.Own, 0.008321830555476, straightFin(t, thermal.Parabolic, 0.04, 0.02, 0.1, 10, 200).Area, 1e-11, digits),
		row("area, cone [m²]", mantle, verify.Own, 0.001295311834342, pinFin(t, thermal.Triangular, 0.04, 0.02, 10, 200).Area, 1e-11, digits),
		row("area, blunt parabolic pin [m²]", mantle, verify.Own, 0.001711666498664, pinFin(t, thermal.Parabolic, 0.04, 0.02, 10, 200).Area, 1e-11, digits),
		row("cone, mL = 20", how, verify.Own, 0.09627404353619, pinFin(t, thermal.Triangular, 0.04, 0.002, 25e3, 200).Efficiency, 1e-11, digits),
		row("triangular, mL = 50", how, verify.Own, 0.0198997474601, straightFin(t, thermal.Triangular, 0.1, 0.002, 0.1, 5e4, 200).Efficiency, 1e-11, digits),
	)
	// The rim as a radius greater by t/2 against a true convecting edge.
	m := math.Sqrt(25. * (2 * (0.05 + 0.0015)) / (200 * 0.05 * 0.0015))
	ratio := 25 / (m * 200)
	exact := math.Sqrt(25*2*(0.05+0.0015)*200*0.05*0.0015) * (math.Sinh(m*0.03) + ratio*math.Cosh(m*0.03)) / (math.Cosh(m*0.03) + ratio*math.Sinh(m*0.03))
	rows = append(rows,
		row("fin with convecting edge, exact [W/K]", "closed form in 25-digit arithmetic", verify.Own, 0.0751100185718, exact, 1e-11, digits),
		row("the same by the longer fin [W/K]", "the closed form of the last row", verify.Own, exact, edged.Conductance, 0.035, "it leaves out the ends of the width, 3 % of the edge"))
	for _, v := range [][3]float64{
		{1, 2, 0.6915397721356831}, {0.01, 0.02, 0.9999526632910623}, {0.001, 5, 0.01138971436982083},
		{1e-4, 2e-4, 0.9999999952660752}, {100, 100.5, 0.9240594560901211}, {50, 80, 0.02589617871760989},
		{1e-3, 2.5e-3, 0.9999988099318912}, {1e-3, 0.1, 0.9810898053546392}, {0.01, 0.0105, 0.99999991460391775},
	} {
		rows = append(rows, row(fmt.Sprintf("ring of m·r %g to %g", v[0], v[1]), "Bessel functions of mpmath, 30 digits", verify.Own, v[2], thermal.Annular(v[0], v[1]), 3e-12, "the functions' digits, less what their difference cancels"))
	}
	verify.Table(t, rows)
}

func TestPropertyFins(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SampledFrom([]thermal.Profile{thermal.Rectangular, thermal.Triangular, thermal.Parabolic}).Draw(t, "profile")
		length := draw.Log(1e-3, 0.2).Draw(t, "length")
		thickness := length * draw.Log(1e-3, 1).Draw(t, "slenderness")
		thickness = math.Min(0.1, math.Max(thickness, 1e-5))
		h, k := draw.Log(1, 1e4).Draw(t, "h"), draw.Log(0.2, 400).Draw(t, "k")
		inner := length * draw.Log(0.1, 5).Draw(t, "curvature")
		straight := func(h, k float64) thermal.Fin { return straightFin(t, p, length, thickness, 0.1, h, k) }
		pin := func(h, k float64) thermal.Fin { return pinFin(t, p, length, thickness, h, k) }
		ring := func(h, k float64) thermal.Fin { return disc(t, inner, inner+length, thickness, h, k) }
		for i, fin := range []func(h, k float64) thermal.Fin{straight, pin, ring} {
			f := fin(h, k)
			require.True(t, f.Efficiency > 0 && f.Efficiency <= 1, "%v", f)
			near(t, f.Efficiency*f.Area*h, f.Conductance, 1e-13)
			// Longer in m·L is less efficient, yet more heat by h and by k.
			worse := fin(1.1*h, k)
			require.LessOrEqual(t, worse.Efficiency, f.Efficiency)
			require.Greater(t, worse.Conductance, f.Conductance)
			require.GreaterOrEqual(t, fin(h, 1.1*k).Conductance, f.Conductance)
			// Only h/k counts.
			near(t, f.Efficiency, fin(h/2, k/2).Efficiency, 1e-11)
			// A good conductor is as warm as its base; the first fall is as the square of m·L.
			good := fin(0.01, 1e4)
			require.Greater(t, good.Efficiency, 1-10*good.Parameter*good.Parameter*(1+length/inner)*(1+length/inner))
			if i == 0 && p == thermal.Rectangular && f.Parameter < 0.05 {
				near(t, 1-f.Parameter*f.Parameter/3, f.Efficiency, math.Pow(f.Parameter, 4)+1e-13)
			}
		}
		// A ring around a wide enough cylinder is a straight fin; any ring is less efficient.
		s := straightFin(t, thermal.Rectangular, length, thickness, 0.1, h, k)
		require.LessOrEqual(t, ring(h, k).Efficiency, s.Efficiency*(1+1e-9))
		wide := disc(t, 1, 1+math.Max(1e-5, length/100), math.Max(1e-5, thickness/100), h/100, k)
		flat := straightFin(t, thermal.Rectangular, length/100, math.Max(1e-5, thickness/100), 0.1, h/100, k)
		if thickness/100 >= 1e-5 {
			near(t, flat.Efficiency, wide.Efficiency, 2*(length+thickness)/100)
		}
	})
}

func TestFinOutsideItsTheory(t *testing.T) {
	require.Nil(t, straightFin(t, thermal.Rectangular, 0.03, 0.001, 0.1, 25, 200).Beyond)
	thick := straightFin(t, thermal.Rectangular, 0.03, 0.02, 0.1, 500, 0.2)
	require.Contains(t, thick.Beyond[0], "fin: Biot number of half its thickness 25, the law's range is 0 to 0.1")
	whole, err := thermal.ArrayEfficiency(0.9, 0.8)
	require.NoError(t, err)
	near(t, 0.82, whole, 1e-14)
}
