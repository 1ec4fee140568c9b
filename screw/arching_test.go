package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/screw"
)

func TestCheckCriticalOutlet(t *testing.T) {
	const tutorial = "a university's powder technology tutorial, Answer Tutorial 2: σ_y = σ_c^0.68 kPa, ff 1.4, θ 35°, 1800 kg/m³"
	const second = "the same tutorial, question 2: θ 29.5°, σ_crit 1.82 kPa, 900 kg/m³"
	const rhodes = "M. Rhodes, Introduction to Particle Technology, ch. 10, exercise: σ_y = σ_c^0.45 kPa, ff 1.5, θ 30°, 1000 kg/m³, from memory"
	strength := func(n, factor float64) float64 {
		s, err := screw.FlowFunction{Strength: 1000, Exponent: n}.CriticalStrength(factor)
		require.NoError(t, err)
		return s
	}
	outlet := func(angle float64, slot bool, density, strength float64) float64 {
		b, err := screw.Hopper{HalfAngle: degrees(angle), Slot: slot}.CriticalOutlet(grains(density, 1e-3), strength)
		require.NoError(t, err)
		return b
	}
	first := strength(0.68, 1.4)
	verify.Table(t, []verify.Row{
		{Name: "critical strength [Pa]", Source: tutorial, Kind: verify.Print, Want: 2043, Got: first, Tol: 7e-4, Why: "the source is low by 1.2 units of its last digit; the own value follows"},
		{Name: "critical strength [Pa]", Source: "1.4^(0.68/0.32) kPa", Kind: verify.Own, Want: 2044.193843, Got: first, Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet [m]", Source: tutorial, Kind: verify.Print, Want: 0.299, Got: outlet(35, false, 1800, first), Tol: 2e-3, Why: gRounded},
		{Name: "wedge's outlet [m]", Source: "H = 1 + 35/180 by hand; the tutorial prints 0.2249, which is H = 1.944, a digit dropped", Kind: verify.Own, Want: 0.1383231435, Got: outlet(35, true, 1800, first), Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet, question 2 [m]", Source: second, Kind: verify.Print, Want: 0.514, Got: outlet(29.5, false, 900, 1820), Tol: 1.4e-3, Why: gRounded},
		{Name: "wedge's outlet, question 2 [m]", Source: second + "; H by hand", Kind: verify.Own, Want: 0.2400046882, Got: outlet(29.5, true, 900, 1820), Tol: 1e-9, Why: tenDigits},
		{Name: "critical strength, Rhodes [Pa]", Source: "1.5^(0.45/0.55) kPa", Kind: verify.Own, Want: 1393.396343, Got: strength(0.45, 1.5), Tol: 1e-9, Why: tenDigits},
		{Name: "cone's outlet, Rhodes [m]", Source: rhodes, Kind: verify.Memory, Want: 0.355, Got: outlet(30, false, 1000, strength(0.45, 1.5)), Tol: 1.8e-3, Why: gRounded},
		{Name: "cone's outlet, Rhodes [m]", Source: evaluated, Kind: verify.Own, Want: 0.3552172106, Got: outlet(30, false, 1000, strength(0.45, 1.5)), Tol: 1e-9, Why: tenDigits},
	})
}

func TestCheckMassFlow(t *testing.T) {
	var rows []verify.Row
	for _, v := range [][3]float64{
		{30, 10, 44.83898149}, {30, 16, 35.27274623}, {30, 20, 28.4199111}, {40, 10, 40.22976416}, {40, 16, 32.37010983}, {40, 20, 26.99296849},
		{50, 10, 37.84092877}, {50, 16, 30.84727897}, {50, 20, 26.1329271}, {60, 10, 36.43469753}, {60, 16, 29.93871062}, {60, 20, 25.58730711},
	} {
		theta, err := screw.MassFlowHalfAngle(degrees(v[0]), degrees(v[1]))
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("widest cone, δ %g°, wall %g° [°]", v[0], v[1]), Source: "Jenike's chart in closed form, from memory, evaluated independently to 20 digits",
			Kind: verify.Own, Want: v[2], Got: theta / degrees(1), Tol: 1e-9, Why: tenDigits})
		if v[0] == 40 && v[1] == 16 {
			rows = append(rows, verify.Row{Name: "the chart as read, less 3° [°]", Source: "a university's powder technology tutorial, Answer Tutorial 2, question 2; δ taken as 40°", Kind: verify.Memory,
				Want: 29.5, Got: theta/degrees(1) - 3, Tol: 0.017, Why: "half a degree of reading a chart"})
		}
	}
	verify.Table(t, rows)
}

// The critical strength is where the flow function and the hopper's line cross.
func TestPropertyJenike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := screw.FlowFunction{Strength: draw.Log(10, 1e4).Draw(t, "strength"), Exponent: draw.Uniform(0, 0.9).Draw(t, "exponent")}
		factor := draw.Uniform(1, 3).Draw(t, "factor")
		s, err := y.CriticalStrength(factor)
		require.NoError(t, err)
		same(t, s, y.Strength*math.Pow(s*factor/1000, y.Exponent), 1e-11, "on the flow function")

		effective := draw.Uniform(0.36, 1.3).Draw(t, "effective")
		wall := draw.Uniform(0.02, effective).Draw(t, "wall")
		theta, err := screw.MassFlowHalfAngle(effective, wall)
		require.NoError(t, err)
		smoother, err := screw.MassFlowHalfAngle(effective, wall*0.95)
		require.NoError(t, err)
		require.True(t, theta >= 0 && theta < math.Pi/2 && (smoother > theta || theta == 0), "%g, smoother wall %g", theta, smoother)
	})
}

// No cone lets a bulk slide that grips the wall as it grips itself.
func TestNoConeSteepEnough(t *testing.T) {
	theta, err := screw.MassFlowHalfAngle(degrees(60), degrees(60))
	require.NoError(t, err)
	require.Zero(t, theta)
}
