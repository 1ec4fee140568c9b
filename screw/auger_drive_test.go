package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

const (
	feet = 0.3048
	lb   = 0.45359237
	hp   = 550 * feet * lb * 9.80665 // [W]
)

func TestCheckAugerDrive(t *testing.T) {
	drive := func(diameter, length, lift, massFlow, progress float64) screw.AugerDrive {
		d, err := screw.Auger{Diameter: diameter, Pitch: diameter, Length: length, Incline: math.Asin(lift / length)}.Drive(massFlow, 1./3, progress)
		require.NoError(t, err)
		return d
	}
	const why367 = "its last digit, and 367 there for 3600/g, 2.7e-4"
	const iso = "ISO 7119 and DIN 15262, form from memory, " + evaluated
	level, rising, tiny := drive(0.3, 5, 0, 25.447*tph, 4), drive(0.3, 5, 0.3, 25.447*tph, 4), drive(0.03, 0.3, 0.2, 0.02*tph, 2.5)
	mechanics := drive(0.3, 5, 0.3, 7.06861, 4)
	row := func(name, source string, want, got float64) verify.Row {
		return verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: 1e-12, Why: "rounding of a few steps"}
	}
	verify.Table(t, []verify.Row{
		{Name: "level, 5 m, λ = 4 [kW]", Source: worksheet, Kind: verify.Print, Want: 1.387, Got: (level.Convey + level.Lift) / 1e3, Tol: 6.3e-4, Why: why367},
		{Name: "the same raised by 0.3 m [kW]", Source: worksheet, Kind: verify.Print, Want: 1.408, Got: (rising.Convey + rising.Lift) / 1e3, Tol: 6.2e-4, Why: why367},
		row("conveying, 300 mm [W]", iso, 1386.3879030556, rising.Convey),
		row("empty, 300 mm [W]", iso, 75, rising.NoLoad),
		row("lifting, 300 mm [W]", iso, 20.795818545833, rising.Lift),
		row("power, 300 mm [W]", iso, 1482.1837216014, rising.Power),
		row("torque at 20 rpm, 300 mm [N·m]", iso, 1482.1837216014*60/(2*math.Pi*20), rising.Torque),
		row("conveying, 30 mm [W]", iso, 0.040861041666667, tiny.Convey),
		row("empty, 30 mm [W]", iso, 0.45, tiny.NoLoad),
		row("lifting, 30 mm [W]", iso, 0.010896277777778, tiny.Lift),
		row("power, 30 mm [W]", iso, 0.50175731944444, tiny.Power),
		row("ṁ·g·(l·f + h)/0.8, f = 4 [W]", "a handbook of machine elements, form as restated, "+evaluated, 1758.9793755086875, (mechanics.Convey+mechanics.Lift)/0.8),
	})
}

func TestCheckHandbookDrive(t *testing.T) {
	drive := func(inches, ft, lbPerHour, rpm, factor, hanger float64) screw.AugerDrive {
		a := screw.Auger{Diameter: inches * 0.0254, Pitch: inches * 0.0254, Length: ft * feet}
		d, err := a.HandbookDrive(lbPerHour*lb/3600, rpm/60, factor, hanger)
		require.NoError(t, err)
		return d
	}
	row := func(name, source string, want, got float64) verify.Row {
		return verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: 1e-12, Why: "rounding of a few steps"}
	}
	const guide = "a restatement of CEMA 350: FHP = DF·HBF·L·S/10⁶, MHP = W·MF·L/10⁶, its case worked by hand"
	ten, meal := drive(10, 35, 20000, 45, 0.8, 4.4), drive(10, 16, 25600, 45, 0.5, 1)
	marks := drive(12, 16, 25600, 50, 0.5, 171./55)
	rows := []verify.Row{
		row("10 in, 10 short tons an hour, material [hp]", guide, 0.56, ten.Convey/hp),
		row("10 in, hard-surfaced hangers, empty [hp]", guide, 37*4.4*35*45/1e6, ten.NoLoad/hp),
		row("corn meal, material [hp]", guide, 0.2048, meal.Convey/hp),
		row("12 in, (A·L·N + C·W·L·F)/10⁶, A = 171 [hp]", "Marks' Standard Handbook, 8th ed. (1978), form from memory, worked by hand", 0.3416, (marks.Convey+marks.NoLoad)/hp),
		row("1 hp [W]", "550 ft·lbf/s, exact definitions, 17 digits", 745.69987158227022, meal.Convey/0.2048),
		row("λ ÷ material factor [-]", "hp/10⁶ ÷ (lb/h·ft·g) in SI, by hand", 1.98, screw.ProgressResistance(1)),
	}
	for _, v := range [][2]float64{{4, 12}, {6, 18}, {9, 31}, {10, 37}, {11, 46}, {12, 55}, {14, 78}, {16, 106}, {18, 135}, {20, 165}, {22, 200}, {24, 235}} {
		row := row(fmt.Sprintf("diameter factor, %g in", v[0]), "CEMA 350's table, from memory", v[1], drive(v[0], 10, 100, 60, 1, 1).NoLoad/hp*1e6/(10*60))
		row.Kind = verify.Memory
		if v[0] == 11 || v[0] == 22 {
			row.Kind, row.Source = verify.Own, "middle of the sizes beside it"
		}
		rows = append(rows, row)
	}
	// The material makes up what the empty auger leaves of each power.
	for _, v := range [][2]float64{{0.1, 3}, {0.2, 3}, {math.Sqrt(0.2 * 5.2), 2}, {5.2, 1}, {20, 1}} {
		d := drive(4, 10, v[0]*1e5-12*1e-2, 1e-2, 1, 1)
		row := row(fmt.Sprintf("overload at %.3g hp [-]", v[0]), "CEMA 350's chart, its two ends from memory", v[1], d.Overload)
		row.Kind = verify.Memory
		if v[1] == 2 {
			row.Kind, row.Source = verify.Own, "middle of the chart's line in the logarithm"
		}
		rows = append(rows, row, verify.Row{Name: "power with it [hp]", Source: guide, Kind: verify.Own, Want: v[0] * v[1], Got: d.Power / hp, Tol: 1e-12, Why: "rounding of a few steps"})
	}
	verify.Table(t, rows)
}

// Both schools move the bulk with the same power, where their factors match.
func TestPropertyAugerDrive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := screw.Auger{Diameter: draw.Uniform(0.102, 0.609).Draw(t, "diameter"), Length: draw.Log(0.5, 50).Draw(t, "length"), Incline: draw.Uniform(0, 0.34).Draw(t, "incline")}
		a.Pitch = a.Diameter
		flow, speed, factor := draw.Log(1e-3, 10).Draw(t, "flow"), draw.Log(0.1, 3).Draw(t, "speed"), draw.Uniform(0.2, 4).Draw(t, "factor")
		iso, err := a.Drive(flow, speed, screw.ProgressResistance(factor))
		require.NoError(t, err)
		handbook, err := a.HandbookDrive(flow, speed, factor, 1)
		require.NoError(t, err)
		same(t, iso.Convey, handbook.Convey, 1e-13, "material")
		require.Equal(t, iso.Lift, handbook.Lift)
		same(t, flow*9.80665*a.Length*math.Sin(a.Incline), iso.Lift, 1e-14, "weight times rise")
		require.Nil(t, append(iso.Beyond, handbook.Beyond...))
		for _, d := range []screw.AugerDrive{iso, handbook} {
			same(t, d.Power, (d.Convey+d.NoLoad+d.Lift)*d.Overload, 1e-14, "sum")
			same(t, d.Power, d.Torque*2*math.Pi*speed, 1e-14, "torque")
		}
		whole := (handbook.Convey + handbook.NoLoad + handbook.Lift) / hp
		same(t, math.Max(1, math.Min(3, 3-2*math.Log(whole/0.2)/math.Log(26))), handbook.Overload, 1e-13, "overload, by lift too")
		faster, err := a.HandbookDrive(flow, 2*speed, factor, 2)
		require.NoError(t, err)
		same(t, 4*handbook.NoLoad, faster.NoLoad, 1e-14, "empty as speed and hanger")
		require.LessOrEqual(t, faster.Overload, handbook.Overload)
		require.GreaterOrEqual(t, faster.Power, handbook.Power*(1-1e-12))
	})
}

// What a turn's torque puts in is more than the thrust does along a pitch, by friction alone.
func TestPropertyAugerThrust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, torque := augers(t), draw.Log(0.01, 100).Draw(t, "torque")
		a.Incline = draw.Uniform(0, math.Pi/2).Draw(t, "incline")
		given := 2 * math.Pi * torque / a.Pitch
		smooth, rough := rubbing(400, 2), rubbing(400, 20)
		least, most := must(t)(a.Thrust(rough, torque)), must(t)(a.Thrust(smooth, torque))
		require.Less(t, least, most)
		require.Less(t, most, given)
		require.Greater(t, most, given*0.6)
		same(t, 2*least, must(t)(a.Thrust(rough, 2*torque)), 1e-14, "as torque")
	})
}

func TestDriveTellsAndRefuses(t *testing.T) {
	a := screw.Auger{Diameter: 0.16, Pitch: 0.16, Length: 1}
	beyond := func(a screw.Auger) int {
		d, err := a.Drive(0.1, 1, 2)
		require.NoError(t, err)
		return len(d.Beyond)
	}
	require.Zero(t, beyond(a))
	a.Incline = degrees(20)
	require.Zero(t, beyond(a))
	a.Incline = degrees(20.1)
	require.Equal(t, 1, beyond(a))
	a.Diameter, a.Pitch = 0.099, 0.1
	require.Equal(t, 2, beyond(a))
	_, err := a.HandbookDrive(0.1, 1, 0.5, 1)
	require.ErrorIs(t, err, material.ErrInvalid)
	require.ErrorContains(t, err, "screw.Auger.Diameter")
	_, err = a.Drive(-1, 0, 30)
	for _, named := range []string{"mass flow", "speed", "Drive: progress"} {
		require.ErrorContains(t, err, named)
	}
	_, err = a.HandbookDrive(-1, 0, 0, 0)
	for _, named := range []string{"mass flow", "speed", "HandbookDrive: factor", "HandbookDrive: hanger"} {
		require.ErrorContains(t, err, named)
	}
}
