package thermal_test

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
	"meltflight/thermal"
)

func graetz(t require.TestingT, p thermal.Passage, x float64) thermal.Graetz {
	g, err := p.Graetz(x)
	require.NoError(t, err)
	return g
}

// A way of x* = x, of a melt of 800 Pa·s that flows by 20 mm/s.
func heated(p thermal.Passage, x float64) thermal.HeatedMelt {
	diameter := 0.01
	if p == thermal.Slit {
		diameter *= 2
	}
	peclet := 0.02 * diameter * 800 * 2000 / 0.2
	return thermal.HeatedMelt{Passage: p, Gap: 0.01, Length: x * diameter * peclet, Speed: 0.02,
		Conductivity: 0.2, Density: 800, SpecificHeat: 2000, Viscosity: 800}
}

func flowing(t require.TestingT, p thermal.Passage, x, inlet, wall float64) thermal.HeatedMeltState {
	s, err := heated(p, x).At(inlet, wall)
	require.NoError(t, err)
	return s
}

func TestCheckGraetz(t *testing.T) {
	const how = "eigenvalues by Kummer's function in 40 to 60 digits"
	const half = "half a unit of nine digits"
	const many = "200 eigenvalues in 28 digits"
	var rows []verify.Row
	for _, c := range []struct {
		p                    thermal.Passage
		x, left, local, mean float64
	}{
		{thermal.Tube, 0.001, 0.940318377, 10.1301925, 15.3841905},
		{thermal.Tube, 0.002, 0.907363553, 8.03621302, 12.1515099},
		{thermal.Tube, 0.005, 0.836218904, 6.00151533, 8.94324266},
		{thermal.Tube, 0.01, 0.751105672, 4.91606403, 7.15522322},
		{thermal.Tube, 0.05, 0.395298781, 3.70998831, 4.64056696},
		{thermal.Tube, 0.1, 0.189710052, 3.65807265, 4.15564604},
		{thermal.Tube, 0.2, 0.0439349846, 3.65679419, 3.90630545},
		{thermal.Slit, 0.002, 0.886036681, 10.5448069, 15.124616},
		{thermal.Slit, 0.005, 0.792582908, 8.51663964, 11.6229081},
		{thermal.Slit, 0.01, 0.675031897, 7.74049625, 9.82488336},
		{thermal.Slit, 0.02, 0.498043586, 7.5494683, 8.71334605},
		{thermal.Slit, 0.05, 0.201480249, 7.54070161, 8.01031961},
	} {
		g, name := graetz(t, c.p, c.x), fmt.Sprintf("%s at x* = %g: ", [...]string{"", "tube", "slit"}[c.p], c.x)
		rows = append(rows,
			row(name+"part left", how, verify.Own, c.left, g.Left, 5e-9, half),
			row(name+"local Nusselt number", how, verify.Own, c.local, g.Local, 5e-9, half),
			row(name+"mean Nusselt number", how, verify.Own, c.mean, g.Mean, 5e-9, half))
	}
	for _, c := range []struct {
		p              thermal.Passage
		x, left, local float64
	}{
		{thermal.Tube, 1e-4, 0.986566918456856, 22.27853921142},
		{thermal.Tube, 3e-4, 0.972512204578704, 15.2773027052},
		{thermal.Slit, 1e-4, 0.984231192911648, 26.56020055878},
		{thermal.Slit, 3e-4, 0.967355838805439, 18.59960579035},
	} {
		g := graetz(t, c.p, c.x)
		rows = append(rows,
			row(fmt.Sprintf("short way %g: part left", c.x), many, verify.Own, c.left, g.Left, 1e-10, "terms left out"),
			row(fmt.Sprintf("short way %g: local Nusselt number", c.x), many, verify.Own, c.local, g.Local, 1e-8, "terms left out"))
	}
	cube := math.Cbrt(1e-9)
	slit, tube := graetz(t, thermal.Slit, 1e-9), graetz(t, thermal.Tube, 1e-9)
	// Hausen's fit of the mean.
	hausen := func(x float64) float64 { return 3.66 + 0.0668/x/(1+0.04*math.Pow(x, -2./3)) }
	rows = append(rows,
		row("Lévêque's law, local in a tube", "8^(1/3)/(9^(1/3)·Γ(4/3)), recomputed", verify.Own, 1.07673211, tube.Local*cube, 1.2e-3, "next term, 1.2·x^(1/3)"),
		row("Lévêque's law, mean in a tube", "1.5 times that", verify.Own, 1.615098165, tube.Mean*cube, 1e-3, "next term"),
		row("Lévêque's law, local in a slit", "12^(1/3)/(9^(1/3)·Γ(4/3)), recomputed", verify.Own, 1.232550582, slit.Local*cube, 1e-3, "next term"),
		row("Lévêque's law, mean in a slit", "1.5 times that", verify.Own, 1.848825872, slit.Mean*cube, 1e-3, "next term"),
		row("far down a tube", "OEIS A282581", verify.Print, 3.65679345776329236, graetz(t, thermal.Tube, 100).Local, 1e-15, "double precision"),
		row("far down a slit", "8/3·λ² of 19 digits", verify.Own, 7.5407008740694378716, graetz(t, thermal.Slit, 100).Local, 1e-15, "double precision"),
		row("one wall of a slit heated", "16/3·λ² of 12 digits", verify.Own, 16./3*0.954666510385*0.954666510385, thermal.SlitOneWallNusselt, 3e-12, digits),
		row("Hausen's mean at x* = 0.01", "H. Hausen's fit, coefficients from memory", verify.Memory, hausen(0.01), graetz(t, thermal.Tube, 0.01).Mean, 0.02, "the fit is 1 to 2 % high"),
		row("Hausen's mean at x* = 0.05", "the same", verify.Memory, hausen(0.05), graetz(t, thermal.Tube, 0.05).Mean, 0.02, "the fit is 1 to 2 % high"),
		row("Hausen's mean at x* = 0.1", "the same", verify.Memory, hausen(0.1), graetz(t, thermal.Tube, 0.1).Mean, 0.02, "the fit is 1 to 2 % high"),
	)
	verify.Table(t, rows)
}

func TestCheckFriction(t *testing.T) {
	const how = "closed form, recomputed"
	const series = "72 eigenvalues in 18 digits, parts of friction by quadrature"
	tube, slit := flowing(t, thermal.Tube, 5, 450, 450), flowing(t, thermal.Slit, 1, 450, 450)
	rows := []verify.Row{
		row("middle of a tube [K]", how, verify.Own, 1.6, tube.Peak, 1e-13, "exact"),
		row("middle of a slit [K]", how, verify.Own, 1.2, slit.Peak, 1e-13, "exact"),
		// 8π·μU² a metre of tube and 12μU²/H a square metre of slit, over h = Nu·k/D.
		row("mean far down a tube [K]", "8π·μ·U² a metre over its wall, by the Nusselt number 48/5", verify.Own, 8*1.6/thermal.TubeViscousNusselt, tube.Viscous, 1e-12, "rounding"),
		row("mean far down a slit [K]", "12·μ·U²/H over both walls, by the Nusselt number 35/2", verify.Own, 12*1.6/thermal.SlitViscousNusselt, slit.Viscous, 1e-12, "rounding"),
	}
	for _, c := range []struct {
		p       thermal.Passage
		x, want float64
		tol     float64
	}{
		{thermal.Tube, 5e-5, 0.0014231515937565, 1e-7}, {thermal.Tube, 3e-4, 0.007749755165073, 1e-6}, {thermal.Tube, 0.001, 0.0231972125113, 1e-9}, {thermal.Tube, 0.01, 0.158338335357, 1e-11}, {thermal.Tube, 0.2, 0.793059249426, 1e-11},
		{thermal.Slit, 5e-5, 0.002058748560959, 1e-6}, {thermal.Slit, 3e-4, 0.010888483915903, 1e-9}, {thermal.Slit, 0.01, 0.201367192989, 1e-11}, {thermal.Slit, 0.2, 0.684145714446, 1e-11},
	} {
		rows = append(rows, row(fmt.Sprintf("mean after x* = %g [μU²/k]", c.x), series, verify.Own, c.want, flowing(t, c.p, c.x, 450, 450).Viscous/1.6, c.tol, "terms left out, digits"))
	}
	couette := func(speed, sensitivity float64, oneSided bool) thermal.ShearedState {
		s, err := thermal.Sheared{Viscosity: 800, Conductivity: 0.2, Speed: speed, Sensitivity: sensitivity, OneSided: oneSided}.Warmed()
		require.NoError(t, err)
		return s
	}
	rows = append(rows,
		row("between sliding walls [K]", how, verify.Own, 1.25, couette(0.05, 0, false).Rise, 1e-13, "exact"),
		row("one of them insulated [K]", how, verify.Own, 5, couette(0.05, 0, true).Rise, 1e-13, "exact"))
	for _, c := range [][3]float64{{0.5, 0.96031092683, 0.0606246218164}, {2, 0.860817881928, 0.223143551314}, {10, 0.573878587952, 0.810930216216}, {50, 0.244706515825, 1.98100146887}} {
		const bratu = "closed form, confirmed by shooting of the coupled equations to 10 digits"
		b := c[0] / 1000 // μU²/k is 1000 K
		s, half := couette(0.5, b, false), couette(0.5, b/4, true)
		rows = append(rows,
			row(fmt.Sprintf("stress at Na = %g", c[0]), bratu, verify.Own, c[1], s.Stress, 5e-12, digits),
			row(fmt.Sprintf("rise at Na = %g [1/b]", c[0]), bratu, verify.Own, c[2], s.Rise*b, 5e-12, digits),
			row(fmt.Sprintf("one-sided at Na = %g [1/b]", c[0]/4), bratu, verify.Own, c[2], half.Rise*b/4, 5e-12, digits))
	}
	verify.Table(t, rows)
}

func TestPropertyGraetz(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := thermal.Passage(rapid.IntRange(1, 2).Draw(t, "passage"))
		x := draw.Log(1e-8, 10).Draw(t, "x")
		g, on := graetz(t, p, x), graetz(t, p, 1.05*x)
		limit := [...]float64{0, thermal.TubeWallNusselt, thermal.SlitWallNusselt}[p]
		require.Greater(t, g.Mean, g.Local)
		require.GreaterOrEqual(t, g.Local, limit*(1-1e-14))
		require.LessOrEqual(t, on.Local, g.Local*(1+1e-14))
		require.Less(t, on.Mean, g.Mean)
		require.True(t, g.Left > 0 && g.Left < 1 && on.Left < g.Left)
		near(t, -math.Log(g.Left), 4*x*g.Mean, 1e-9+3e-16/(4*x*g.Mean))
		// What is given to the melt came through the wall: d ln Left/dx = −4·Nu.
		a, b := graetz(t, p, x*(1-1e-4)), graetz(t, p, x*(1+1e-4))
		near(t, 4*g.Local, (4*a.Mean*(1-1e-4)-4*b.Mean*(1+1e-4))/-2e-4, 1e-6)

		inlet, wall := draw.Uniform(300, 600).Draw(t, "inlet"), draw.Uniform(300, 600).Draw(t, "wall")
		m := heated(p, math.Max(x, 1e-4))
		m.Length = math.Max(1e-4, math.Min(m.Length, 100))
		s, err := m.At(inlet, wall)
		require.NoError(t, err)
		mean := s.Outlet - s.Viscous
		require.True(t, (mean-inlet)*(wall-mean) >= -1e-9)
		require.True(t, s.Viscous > 0 && s.Viscous <= s.Settled*(1+1e-14) && s.Settled < s.Peak)
	})
}

// Where one way of summing takes over from the other they must agree.
func TestGraetzHasNoSeam(t *testing.T) {
	for _, c := range []struct {
		p thermal.Passage
		x float64
	}{{thermal.Tube, 7e-4}, {thermal.Slit, 1.5e-4}} {
		a, b := graetz(t, c.p, math.Nextafter(c.x, 0)), graetz(t, c.p, c.x)
		near(t, b.Left, a.Left, 1e-9)
		near(t, b.Local, a.Local, 1e-7)
		near(t, b.Mean, a.Mean, 1e-8)
	}
	for _, c := range []struct {
		p thermal.Passage
		x float64
	}{{thermal.Tube, 5e-4}, {thermal.Slit, 1e-4}} {
		near(t, flowing(t, c.p, c.x*(1+1e-9), 400, 400).Viscous, flowing(t, c.p, c.x*(1-1e-9), 400, 400).Viscous, 1e-5)
	}
}

func TestHeatedMeltSaysWhatIsBeyond(t *testing.T) {
	assert.Empty(t, flowing(t, thermal.Tube, 0.01, 450, 480).Beyond)
	m := heated(thermal.Tube, 0.1)
	m.Speed, m.Viscosity = 1e-5, 0
	s, err := m.At(450, 480)
	require.NoError(t, err)
	require.Len(t, s.Beyond, 1)
	assert.Contains(t, s.Beyond[0], "Péclet")
	m.Speed, m.Viscosity = 1, 1e5
	s, err = m.At(450, 480)
	require.NoError(t, err)
	assert.Contains(t, s.Beyond[0], "friction")
}

func BenchmarkGraetz(b *testing.B) {
	versus.Report(b, "x-inline", func(i int) {
		g, err := thermal.Tube.Graetz(0.002 + 1e-5*float64(i%1000))
		if err != nil {
			b.Fatal(err)
		}
		sink += g.Mean
	}, func(i int) { // five terms as a book would print them
		x, sum := 0.002+1e-5*float64(i%1000), 0.0
		for _, m := range [5][2]float64{{2.7043644, 0.7487746}, {6.6790314, 0.543828}, {10.6733795, 0.4628611}, {14.6710785, 0.4154185}, {18.669872, 0.3829192}} {
			sum += 8 * m[1] / (m[0] * m[0]) * math.Exp(-2*m[0]*m[0]*x)
		}
		sink += -math.Log(sum) / (4 * x)
	})
}
