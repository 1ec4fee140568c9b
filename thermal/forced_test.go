package thermal_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/thermal"
)

func TestCheckForcedPlate(t *testing.T) {
	// At 6 kPa only the viscosity changes.
	thin := thermal.Fluid{Conductivity: 0.0364, KinematicViscosity: 30.84e-6 * (101325. / 6000), Prandtl: 0.687, Expansion: 1 / 437.}
	c, err := thermal.ForcedPlate(0.5, 10, thin)
	require.NoError(t, err)
	const how = "the same law in 25-digit arithmetic"
	turning, err := thermal.ForcedPlate(1, 5e5*1.5e-5*(1-1e-12), thermal.Fluid{Conductivity: 0.026, KinematicViscosity: 1.5e-5, Prandtl: 1, Expansion: 1 / 300.})
	require.NoError(t, err)
	turned, err := thermal.ForcedPlate(1, 5e5*1.5e-5*(1+1e-12), thermal.Fluid{Conductivity: 0.026, KinematicViscosity: 1.5e-5, Prandtl: 1, Expansion: 1 / 300.})
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("heat a metre [W/m]", incropera+"Example 7.1, p. 415", verify.Memory, 570, c.Coefficient*0.5*273, 5./570, "remembered to 10 W/m"),
		row("Reynolds number", how, verify.Own, 9600.42088, c.Number, 1e-9, "nine digits"),
		row("Nusselt number", how, verify.Own, 57.40708058, c.Nusselt, 1e-9, tenDigits),
		row("heat a metre [W/m]", how, verify.Own, 570.4656411, c.Coefficient*0.5*273, 1e-9, tenDigits),
		row("turbulent at Re = 5e5, by the laminar law", "the two laws meet: the 871 of the source is made for that", verify.Own, turning.Nusselt, turned.Nusselt, 0.001, "871 is rounded to 1 of 1341"),
	})
}

// The mean Nusselt numbers of developed flow into which heat begins, by the series.
func TestCheckDevelopingDuct(t *testing.T) {
	const how = "eigenfunctions of the Graetz problem, 12 and more terms in 40-digit arithmetic"
	var rows []verify.Row
	for _, v := range [][2]float64{{0.001, 15.3841905}, {0.002, 12.1515099}, {0.005, 8.94324266}, {0.01, 7.15522322}, {0.05, 4.64056696}, {0.1, 4.15564604}, {0.2, 3.90630545}} {
		rows = append(rows, row(fmt.Sprintf("round tube, x* = %g", v[0]), how, verify.Own, v[1], thermal.Entrance(16, 3.656793457763292, 1/v[0]), 0.01, "stated error of the form, 1 %"))
	}
	friction, developed := thermal.Rectangle(0)
	for _, v := range [][2]float64{{0.002, 15.124616}, {0.005, 11.6229081}, {0.01, 9.82488336}, {0.02, 8.71334605}, {0.05, 8.01031961}} {
		rows = append(rows, row(fmt.Sprintf("slit, x* = %g", v[0]), how, verify.Own, v[1], thermal.Entrance(friction, developed, 1/v[0]), 0.035, "stated error of the form, 3.5 %"))
	}
	// Long enough that only the turbulent law counts.
	turbulent, err := thermal.Duct{Width: 0.02, Height: 0.02, Length: 10}.Convection(8, thermal.Fluid{Conductivity: 0.026, KinematicViscosity: 1.6e-5, Prandtl: 0.71, Expansion: 1 / 300.})
	require.NoError(t, err)
	rows = append(rows, row("turbulent duct, Re = 10000, Pr = 0.71", "Gnielinski's law in 30-digit arithmetic", verify.Own, 30.02784855346, turbulent.Nusselt, 1e-11, digits))
	squareFriction, square := thermal.Rectangle(1)
	rows = append(rows,
		row("slit, developed", "8/3 of the first eigenvalue squared", verify.Own, 7.5407008740694378716, developed, 1e-4, "the fit has four digits"),
		row("square, developed", "Shah and London, Laminar Flow Forced Convection in Ducts (1978)", verify.Memory, 2.976, square, 0.002, "fit of 0.1 %"),
		row("square, f·Re", "Shah and London", verify.Memory, 14.227, squareFriction, 0.002, "fit of 0.05 %"),
		row("very short tube, Nu over Gz^⅓", "Lévêque's layer, 1.615098165", verify.Own, 1.615098165, thermal.Entrance(16, 3.6568, 1e15)/1e5, 1e-4, "1.615 rounded"))
	verify.Table(t, rows)
}

func TestPropertyDuct(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := thermal.Duct{Width: draw.Log(1e-3, 0.2).Draw(t, "width"), Height: draw.Log(1e-3, 0.2).Draw(t, "height"), Length: draw.Log(5e-3, 1).Draw(t, "length")}
		speed := draw.Log(0.1, 50).Draw(t, "speed")
		p, err := thermal.AirFilm(330, 300)
		require.NoError(t, err)
		c, err := d.Convection(speed, p)
		require.NoError(t, err)
		near(t, speed*d.HydraulicDiameter()/p.KinematicViscosity, c.Number, 1e-13)
		require.Greater(t, c.Nusselt, 2.97)
		faster, err := d.Convection(1.01*speed, p)
		require.NoError(t, err)
		require.Greater(t, faster.Nusselt, c.Nusselt)
		// No step where one law hands over to the next.
		require.Less(t, faster.Nusselt, 1.05*c.Nusselt)
		turned, err := thermal.Duct{Width: d.Height, Height: d.Width, Length: d.Length}.Convection(speed, p)
		require.NoError(t, err)
		near(t, c.Nusselt, turned.Nusselt, 1e-13)
		longer := d
		longer.Length *= 1.5
		l, err := longer.Convection(speed, p)
		require.NoError(t, err)
		require.LessOrEqual(t, l.Nusselt, c.Nusselt)
		// The air cannot take more than would bring it to the walls' temperature, nor more than h·A.
		flow := speed * d.Width * d.Height
		b, err := d.Blow(flow, 330, 300)
		require.NoError(t, err)
		near(t, speed, b.Speed, 1e-13)
		entering, err := material.AirAt(300)
		require.NoError(t, err)
		capacity := entering.Density * flow * entering.SpecificHeat
		near(t, 1-math.Exp(-b.Coefficient*2*(d.Width+d.Height)*d.Length/capacity), b.Outlet, 1e-10)
		near(t, capacity*b.Outlet, b.Conductance, 1e-13)
		require.True(t, b.Outlet > 0 && b.Outlet <= 1)
		require.LessOrEqual(t, b.Conductance, b.Coefficient*2*(d.Width+d.Height)*d.Length*(1+1e-12))
		more, err := longer.Blow(flow, 330, 300)
		require.NoError(t, err)
		require.GreaterOrEqual(t, more.Conductance, b.Conductance*(1-1e-12))
	})
}

func TestForcedSaysWhatIsBeyond(t *testing.T) {
	p, err := thermal.AirFilm(330, 300)
	require.NoError(t, err)
	slow, err := thermal.ForcedPlate(0.01, 0.5, p)
	require.NoError(t, err)
	require.Contains(t, slow.Beyond[0], "plate in a flow: Reynolds number")
	short, err := thermal.Duct{Width: 0.03, Height: 0.03, Length: 0.05}.Blow(0.003, 330, 300)
	require.NoError(t, err)
	require.Contains(t, short.Beyond[0], "turbulent duct: diameters of length 1.66667")
	_, err = thermal.Duct{Width: 1e-4, Height: 1e-4, Length: 1}.Blow(1, 330, 300)
	require.ErrorContains(t, err, "speed of the flow in the section")
	require.Less(t, math.Abs(short.Speed-0.003/0.0009), 1e-12)
}
