package screw

import (
	"fmt"
	"math"
	"testing"

	"meltflight/internal/verify"
	"meltflight/material"
)

func meltOf(v material.Viscosity) Melt { return Melt{Viscosity: v, Temperature: 450} }

func lawOf(consistency, n float64) Melt {
	return meltOf(material.PowerLaw{Consistency: consistency, Index: n, Reference: 450})
}

func TestCheckSlits(t *testing.T) {
	const source = "wide slit in closed form, γ̇w = (2n+1)/3n·γ̇a, inverted independently"
	wide := Slit{Width: 0.02, Height: 1e-3, Length: 0.01}
	var rows []verify.Row
	for _, v := range []struct{ n, m, rate, stress, drop float64 }{
		{1, 500, 300, 1.5e5, 3.0e6}, {0.3, 2e4, 533.33333, 131561.74, 2631234.8}, {0.5, 1e4, 400, 2.0e5, 4.0e6}, {0.8, 2e3, 325, 204426.26, 4088525.2},
	} {
		m := lawOf(v.m, v.n)
		name := fmt.Sprintf("slit, n = %g, ", v.n)
		rate, stress := wide.wide(m, 1e-6)
		rows = append(rows,
			verify.Row{Name: name + "wall rate, wide [1/s]", Source: source, Kind: verify.Own, Want: v.rate, Got: rate, Tol: 1e-8, Why: digits},
			verify.Row{Name: name + "wall stress, wide [Pa]", Source: source, Kind: verify.Own, Want: v.stress, Got: stress, Tol: 3e-8, Why: digits},
			verify.Row{Name: name + "pressure drop, wide [Pa]", Source: source, Kind: verify.Own, Want: v.drop, Got: wide.PressureDrop(m, 1e-6) * 0.9684875562, Tol: 3e-8, Why: digits})
	}
	// The source's own form takes 2(1+1/n) for 2(2+1/n), and is no slit's: at n = 1 it
	// makes 8ηLv/H² for 12ηLv/H².
	const kazmer = "D. Kazmer, Injection Mold Design Engineering (2007), §5.5.2, inputs; exact slit in place of its form, evaluated independently"
	thin := lawOf(17070, 0.348)
	runner := Slit{Width: 1, Height: 1.5e-3, Length: 0.2}
	flow := 0.82 * runner.Width * runner.Height
	_, stress := runner.wide(thin, flow)
	rows = append(rows,
		verify.Row{Name: "slit 1.5 mm, 0.82 m/s, wide [Pa]", Source: kazmer, Kind: verify.Own, Want: 90.1693e6, Got: 2 * 0.2 / 1.5e-3 * stress, Tol: 6e-7, Why: "six digits"},
		verify.Row{Name: "slit, Newtonian, with side walls [Pa]", Source: "12ηLQ/WH³ over F_p(0.05) = 0.96848756", Kind: verify.Own, Want: 3.0976134e6,
			Got: wide.PressureDrop(meltOf(material.Newtonian{Eta: 500}), 1e-6), Tol: 2e-8, Why: digits})
	const series = "Boussinesq's series for a rectangular duct in extended precision"
	for _, v := range [][2]float64{{1, 0.675314483314}, {0.5, 0.930060269797}, {0.2, 0.999370668754}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("stress midway at H/W = %g over that of wide walls", v[0]), Source: series, Kind: verify.Own,
			Want: v[1], Got: wallShape(v[0]), Tol: 1e-10, Why: digits})
	}
	verify.Table(t, rows)
}

// Side walls and a thinning melt against the whole section: what the doc comments
// state is what is lost.
func TestCheckSlitSideWalls(t *testing.T) {
	const source = "power-law flow in the whole section, 10⁴ graded bilinear finite elements a quarter, flow extrapolated; at n = 1 six digits of F_p"
	var rows []verify.Row
	for _, v := range []struct{ aspect, n, pressure, stress, off float64 }{ // gradient of a wide slit over the section's; stress midway over gH/2
		{0.1, 0.5, 0.948902, 0.999070, 0.0127}, {0.1, 0.3, 0.950794, 0.990547, 0.0148},
		{0.2, 0.5, 0.894997, 0.985112, 0.0241}, {0.2, 0.3, 0.896851, 0.958474, 0.0263},
		{0.5, 0.7, 0.712353, 0.895901, 0.0384}, {0.5, 0.5, 0.725935, 0.863482, 0.0582}, {0.5, 0.3, 0.732701, 0.819209, 0.0681},
		{1, 0.5, 0.494359, 0.631736, 0.1723}, {1, 0.3, 0.520233, 0.606287, 0.2336},
	} {
		s := Slit{Width: 0.01, Height: 0.01 * v.aspect, Length: 1}
		m := lawOf(1e4, v.n)
		_, wide := s.wide(m, 1e-6)
		_, stress := s.WallShear(m, 1e-6)
		gradient := 2 * wide / s.Height / v.pressure
		name := fmt.Sprintf(", H/W = %g, n = %g", v.aspect, v.n)
		rows = append(rows,
			verify.Row{Name: "too high by" + name, Source: source, Kind: verify.Own, Want: v.off, Got: s.PressureDrop(m, 1e-6)/gradient - 1, Tol: 0.01, Why: "three digits of what is off"},
			verify.Row{Name: "wall stress midway" + name, Source: source, Kind: verify.Own, Want: v.stress * gradient * s.Height / 2, Got: stress, Tol: 0.03, Why: "as WallShear states"})
	}
	verify.Table(t, rows)
}

func TestCheckAnnuli(t *testing.T) {
	var rows []verify.Row
	hole := func(kappa float64) Annulus { return Annulus{Outer: 0.02, Inner: 0.02 * kappa, Length: 1} }
	const bird = "R. B. Bird, W. E. Stewart and E. N. Lightfoot, Transport Phenomena, §2.4, closed form in extended precision"
	newton := meltOf(material.Newtonian{Eta: 1000})
	for _, v := range [][2]float64{{0.1, 0.57424798}, {0.25, 0.36209691}, {0.5, 0.12598404}, {0.75, 0.018254237}, {0.9, 0.0012669009}, {0.95, 0.00016250712}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("annulus, Newtonian, f at κ = %g", v[0]), Source: bird, Kind: verify.Own, Want: v[1],
			Got: 8 * 1000 * 1e-6 / (math.Pi * 1e-8 * hole(v[0]).PressureDrop(newton, 1e-6)), Tol: 4.1e-8, Why: digits})
	}
	for _, v := range [][2]float64{{0.001, 1e-9}, {0.03, 1e-10}, {0.5, 1e-11}, {0.999, 1e-10}, {1 - 1e-6, 1e-8}} {
		one := lawOf(1000, 1) // goes by quadrature
		_, closed := hole(v[0]).WallShear(newton, 1e-6)
		_, summed := hole(v[0]).WallShear(one, 1e-6)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("annulus, stress at the core, κ = %g [Pa]", v[0]), Source: "the Newtonian closed form", Kind: verify.Own,
			Want: closed, Got: summed, Tol: v[1], Why: "stated 1e-9; rounding in a gap of 1e-6"})
	}
	const fredrickson = "Ω = ∫|λ²−ξ²|^(1/n+1)·ξ^(−1/n) dξ after A. G. Fredrickson and R. B. Bird (1958), own quadrature"
	for _, v := range [][4]float64{
		{0.25, 1, 0.58149089, 0.0905242265}, {0.25, 0.8, 0.57470884, 0.0783017808}, {0.25, 0.5, 0.55956359, 0.0522250595}, {0.25, 0.3, 0.54352748, 0.0273627596},
		{0.5, 1, 0.73553426, 0.0314960099}, {0.5, 0.8, 0.73330218, 0.0244928072}, {0.5, 0.5, 0.72828949, 0.0118918767},
		{0.9, 0.5, 0.94934146, 2.37582358e-5}, {0.9, 0.3, 0.94917684, 8.27206546e-7},
	} {
		s := hole(v[0]).solve(lawOf(1e4, v[1]), 1e-6)
		omega := 1e-6 / (math.Pi * 1e-6) / math.Pow(s.g/1e4, 1/v[1])
		name := fmt.Sprintf("annulus, κ = %g, n = %g, ", v[0], v[1])
		rows = append(rows,
			verify.Row{Name: name + "λ", Source: fredrickson, Kind: verify.Own, Want: v[2], Got: s.lambda, Tol: 1e-8, Why: digits},
			verify.Row{Name: name + "Ω", Source: fredrickson, Kind: verify.Own, Want: v[3], Got: omega, Tol: 3e-9, Why: digits})
	}
	verify.Table(t, rows)
}

func TestCheckGeneralLaws(t *testing.T) {
	const parts = "Q = πR³/3·[γ̇w − ∫(τ/τw)³dγ̇] and WH²/4·[γ̇w − ∫(τ/τw)²dγ̇] by mpmath at 25 digits"
	const turned = "velocity in the annulus with the law turned round at each r, graded 16-point Gauss, bracketed to 1e-11"
	hole, slit := Capillary{Diameter: 2e-3, Length: 0.01}, Slit{Width: 0.02, Height: 1e-3, Length: 0.01}
	var rows []verify.Row
	for _, v := range []struct {
		name                              string
		law                               material.Viscosity
		rate, stress, flatRate, flatDrops float64
	}{
		{"Carreau", material.CarreauYasuda{Eta0: 5000, Lambda: 0.2, N: 0.35, Yasuda: 2}, 185.7182407307, 88572.180246409, 484.87681256731, 123952.84373214},
		{"Carreau-Yasuda, a = 10, n = 0.05", material.CarreauYasuda{Eta0: 1000, Lambda: 0.01, N: 0.05, Yasuda: 10}, 303.48659233795, 105707.63416087, 1699.311841528, 115216.2283159},
		{"Cross", material.CrossExponential{N: 0.3, TauStar: 3e4, B: 5000}, 178.88632047316, 76011.318826048, 487.06736431581, 107248.92001648},
	} {
		m := meltOf(v.law)
		rate, stress := hole.WallShear(m, 1e-7)
		flatRate, flatStress := slit.wide(m, 1e-6)
		const why = "1e-10 stated, n times less in stress"
		rows = append(rows,
			verify.Row{Name: v.name + ", capillary, wall rate [1/s]", Source: parts, Kind: verify.Own, Want: v.rate, Got: rate, Tol: 1e-10, Why: why},
			verify.Row{Name: v.name + ", capillary, wall stress [Pa]", Source: parts, Kind: verify.Own, Want: v.stress, Got: stress, Tol: 1e-10, Why: why},
			verify.Row{Name: v.name + ", capillary, pressure [Pa]", Source: parts, Kind: verify.Own, Want: 20 * v.stress, Got: hole.PressureDrop(m, 1e-7), Tol: 1e-10, Why: why},
			verify.Row{Name: v.name + ", slit, wall rate [1/s]", Source: parts, Kind: verify.Own, Want: v.flatRate, Got: flatRate, Tol: 1e-10, Why: why},
			verify.Row{Name: v.name + ", slit, wall stress [Pa]", Source: parts, Kind: verify.Own, Want: v.flatDrops, Got: flatStress, Tol: 1e-10, Why: why})
	}
	tube := Annulus{Outer: 0.01, Inner: 0.005, Length: 0.02}
	for _, v := range []struct {
		name                 string
		law                  material.Viscosity
		drop, lambda, stress float64
	}{
		{"Cross", material.CrossExponential{N: 0.3, TauStar: 3e4, B: 5000}, 772470.6831760, 0.72738928835, 53898.210474145},
		{"Carreau", material.CarreauYasuda{Eta0: 5000, Lambda: 0.2, N: 0.35, Yasuda: 2}, 965335.4655330, 0.72511714545, 66558.643421482},
	} {
		m := meltOf(v.law)
		_, stress := tube.WallShear(m, 1e-6)
		const why = "1e-9 stated"
		rows = append(rows,
			verify.Row{Name: v.name + ", annulus, pressure [Pa]", Source: turned, Kind: verify.Own, Want: v.drop, Got: tube.PressureDrop(m, 1e-6), Tol: 1e-9, Why: why},
			verify.Row{Name: v.name + ", annulus, λ", Source: turned, Kind: verify.Own, Want: v.lambda, Got: tube.solve(m, 1e-6).lambda, Tol: 1e-9, Why: why},
			verify.Row{Name: v.name + ", annulus, stress at the core [Pa]", Source: turned, Kind: verify.Own, Want: v.stress, Got: stress, Tol: 1e-9, Why: why})
	}
	verify.Table(t, rows)
}

// The viscosity at e times the apparent rate makes a Newtonian melt cost what the
// power law does.
func TestCheckRepresentativeRates(t *testing.T) {
	const source = "e = ((3n+1)/4n)^(n/(n−1)), ((2n+1)/3n)^(n/(n−1)), evaluated independently"
	var rows []verify.Row
	for _, v := range [][3]float64{{0.8, 0.78466493, 0.72602500}, {0.5, 0.80, 0.75}, {0.3, 0.82123791, 0.78146522}} {
		n := v[0]
		representative := func(d, apparent float64) float64 {
			_, stress := wallShear(lawOf(1e4, n), d, apparent)
			return math.Pow(stress/apparent/1e4, 1/(n-1)) / apparent
		}
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("round, n = %g", n), Source: source, Kind: verify.Own, Want: v[1], Got: representative(inHole, 200), Tol: 1e-8, Why: digits},
			verify.Row{Name: fmt.Sprintf("flat, n = %g", n), Source: source, Kind: verify.Own, Want: v[2], Got: representative(inSlit, 200), Tol: 1e-8, Why: digits})
	}
	verify.Table(t, rows)
}

func TestCheckTapersAndEnds(t *testing.T) {
	const identity = "closed form evaluated independently"
	flatTaper := Wedge{Width: 10, Inlet: 4e-3, Outlet: 1e-3, Length: 0.05}
	thin := lawOf(2e4, 0.3)
	_, stress := Slit{Width: 10, Height: 1e-3}.wide(thin, 5e-4)
	closed := 0.05 * 2 * stress / 1e-3 / 0.6 * (1 - math.Pow(0.25, 0.6)) / 3
	verify.Table(t, []verify.Row{
		{Name: "wedge, n = 0.3, 10 m wide [Pa]", Source: "wide slit, Δp = L·|dp/dz|₁/2n·(1−(h₁/h₂)^2n)/(h₂/h₁−1)", Kind: verify.Own, Want: closed,
			Got: flatTaper.PressureDrop(thin, 5e-4), Tol: 2e-4, Why: "side walls left out of the value, 0.63·H/W"},
		{Name: "entrance of two diameters [Pa]", Source: "2 diameters of the hole, 4·2·98259.543 Pa", Kind: verify.Own, Want: 786076.344,
			Got: Entrance{Diameter: 2e-3, Diameters: 2}.PressureDrop(thin, 1e-7), Tol: 1e-8, Why: digits},
		{Name: "square hole's share of a round hole's flow", Source: "3π/32, of b = d = 2R between wide walls to R⁴ (R. J. Crawford, Plastics Engineering, 3rd ed. (1998), eq. 4.13 to 4.15)", Kind: verify.Own,
			Want: 3 * math.Pi / 32, Tol: 1e-12, Why: "rounding", Got: func() float64 {
				m := meltOf(material.Newtonian{Eta: 500})
				_, stress := Slit{Width: 2e-3, Height: 2e-3}.wide(m, 1e-7)
				return 2 * stress / 2e-3 / Capillary{Diameter: 2e-3, Length: 1}.PressureDrop(m, 1e-7)
			}()},
		{Name: "wedge [m³]", Source: identity, Kind: verify.Own, Want: 1.25e-3, Got: flatTaper.Volume(), Tol: 1e-12, Why: digits},
		{Name: "slit [m³]", Source: identity, Kind: verify.Own, Want: 6e-8, Got: Slit{Width: 0.02, Height: 1e-3, Length: 3e-3}.Volume(), Tol: 1e-12, Why: digits},
		{Name: "annulus [m³]", Source: identity, Kind: verify.Own, Want: math.Pi / 4 * (1 - 0.25) * 1e-6, Got: Annulus{Outer: 0.01, Inner: 0.005, Length: 0.01}.Volume(), Tol: 1e-12, Why: digits},
		{Name: "capillary [m³]", Source: identity, Kind: verify.Own, Want: math.Pi * 1e-8, Got: Capillary{Diameter: 2e-3, Length: 0.01}.Volume(), Tol: 1e-12, Why: digits},
		{Name: "frustum [m³]", Source: identity, Kind: verify.Own, Want: 2.8786413484843e-7, Got: Cone{Inlet: 4e-3, Outlet: 1e-3, Length: 0.05236}.Volume(), Tol: 1e-12, Why: digits},
	})
}

func TestCheckHeating(t *testing.T) {
	m := Melt{Viscosity: material.PowerLaw{Consistency: 500, Index: 1, Reference: 450, TemperatureSlope: 0.02},
		Density: 750, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.2}
	const identity = "β·η·v²/k and ρ·c·v·H²/(k·L) evaluated independently"
	var rows []verify.Row
	for _, v := range []struct {
		name   string
		p      Passage
		na, gz float64
		tol    float64
	}{
		{"capillary", Capillary{Diameter: 2e-3, Length: 0.02}, 0.02 * 500 * sq(1e-6/(math.Pi*1e-6)) / 0.2, 750 * 2500 * 4 * 1e-6 / (math.Pi * 0.2 * 0.02), 1e-12},
		{"cone", Cone{Inlet: 5e-3, Outlet: 2e-3, Length: 0.02}, 5.0660591821, 596.83103659, 1e-10},
		{"slit", Slit{Width: 1, Height: 2e-3, Length: 0.02}, 0.02 * 500 * sq(1e-6/2e-3) / 0.2, 750 * 2500 * 1e-6 * 2e-3 / (0.2 * 0.02), 1e-12},
		{"square slit", Slit{Width: 2e-3, Height: 2e-3, Length: 0.02}, 0.02 * 500 * sq(1e-6/4e-6) / 0.2, 750 * 2500 * 0.25 * 4e-6 / (0.2 * 0.02), 1e-12},
		{"wedge", Wedge{Width: 0.01, Inlet: 5e-3, Outlet: 2e-3, Length: 0.02}, 0.02 * 500 * sq(1e-6/2e-5) / 0.2, 750 * 2500 * 0.05 * 4e-6 / (0.2 * 0.02), 1e-12},
		{"annulus", Annulus{Outer: 0.02, Inner: 0.002, Length: 0.02}, 0.02 * 500 * sq(1e-6/(math.Pi*0.99e-4)) / 0.2, 750 * 2500 * 1e-6 / (math.Pi * 0.99e-4) * 8.1e-5 / (0.2 * 0.02), 1e-10},
	} {
		na, gz := v.p.ViscousHeating(m, 1e-6)
		rows = append(rows,
			verify.Row{Name: v.name + ", Nahme", Source: identity, Kind: verify.Own, Want: v.na, Got: na, Tol: v.tol, Why: "rounding"},
			verify.Row{Name: v.name + ", Graetz", Source: identity, Kind: verify.Own, Want: v.gz, Got: gz, Tol: v.tol, Why: "rounding"})
	}
	verify.Table(t, rows)
}
