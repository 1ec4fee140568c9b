package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckDuty(t *testing.T) {
	var rows []verify.Row
	own := func(name, how string, want, got, tol float64) {
		rows = append(rows, verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
	}
	long := []drive.DutyBlock{{Torque: 2, Cycles: 1e4}, {Torque: 1.5, Cycles: 1e5}, {Torque: 1, Cycles: 2e6}, {Torque: .6, Cycles: 1e7}}
	const sum = "Σn/N and (Σn·T^p/Σn)^(1/p) by hand, ten digits"
	for _, c := range []struct{ slope, torque, cycles, damage, equivalent, blocks, knee float64 }{
		{6.225, 2.5, 3e6, 4.9013606769e-3, .8502633633, 204.024977, 0}, {8.738, 2.5, 3e6, 1.0933383250e-3, .9765451299, 914.629971, 0},
		{6.610, 1.8, 5e7, 1.9626695706e-3, .8687286846, 509.510116, 4.0131649e-4}, {5, 2, 1e6, .12053046875, .7954640117, 8.29665735, .01},
	} {
		l := drive.TorqueLine{Torque: c.torque, Cycles: c.cycles, Slope: c.slope}
		name := fmt.Sprintf("slope %g: ", c.slope)
		own(name+"damage", sum, c.damage, must(l.Damage(long)), 1e-10)
		own(name+"equivalent torque, N·m", sum, c.equivalent, must(drive.EquivalentTorque(long, c.slope)), 1e-9)
		own(name+"runs of an hour until 1", sum, c.blocks, must(l.Life(long, 3600))/3600, 2e-9)
		l.Knee = true
		own(name+"damage with a knee", sum, c.knee, must(l.Damage(long)), 2e-8)
	}
	short := []drive.DutyBlock{{Torque: 1.2, Cycles: 2e5}, {Torque: .8, Cycles: 2e6}, {Torque: .4, Cycles: 1e7}}
	own("three blocks, slope 5, N·m", sum, .634579618, must(drive.EquivalentTorque(short, 5)), 1e-9)
	own("three blocks, slope 8.738, N·m", sum, .772008526, must(drive.EquivalentTorque(short, 8.738)), 1e-9)
	shares := []drive.DutyBlock{{Torque: 10, Cycles: .1}, {Torque: 6, Cycles: .3}, {Torque: 3, Cycles: .6}}
	own("10/6/3 N·m at 10/30/60 %, slope 6.6, N·m", sum, 7.16248, must(drive.EquivalentTorque(shares, 6.6)), 7e-7)
	for _, c := range [][2]float64{{3, 3.291982}, {6.225, 4.964959}, {6.61, 5.128598}, {8.738, 5.906781}} {
		d := []drive.DutyBlock{{Torque: 10, Cycles: 1e5}, {Torque: 6, Cycles: 1e6}, {Torque: 2, Cycles: 1e7}}
		own(fmt.Sprintf("10/6/2 N·m, slope %g, N·m", c[0]), sum, c[1], must(drive.EquivalentTorque(d, c[0])), 2e-7)
	}
	// Lives of 5000, 20000 and 200000: one block each, on a line through them.
	total := 0.0
	for _, c := range [][2]float64{{2000, 5000}, {5000, 20000}, {20000, 200000}} {
		total += must(drive.TorqueLine{Torque: 1, Cycles: c[1], Slope: 5}.Damage([]drive.DutyBlock{{Torque: 1, Cycles: c[0]}}))
	}
	own("2000/5000 + 5000/20000 + 20000/200000", "exact", .75, total, 1e-12)
	total = 0
	for _, c := range [][2]float64{{1e5, 1e6}, {2e4, 1e5}, {1e3, 1e4}} {
		total += must(drive.TorqueLine{Torque: 1, Cycles: c[1], Slope: 5}.Damage([]drive.DutyBlock{{Torque: 1, Cycles: c[0]}}))
	}
	own("1e5/1e6 + 2e4/1e5 + 1e3/1e4", "exact", .4, total, 1e-12)

	// Slopes on torque: a root's as it is, a flank's halved.
	const iso = "ISO 6336-6:2006, Table A.1"
	q, h, n := drive.QuenchedLife(), drive.CaseLife(), drive.NitridedLife()
	for _, c := range []struct {
		name      string
		want, got float64
	}{
		{"root, case-hardened", 8.738, h.Root.Slope()}, {"root, through-hardened", 6.225, q.Root.Slope()}, {"root, nitrided", 17.035, n.Root.Slope()},
		{"flank, through- and case-hardened", 6.610, q.Flank.Slope() / 2}, {"flank, case-hardened", 6.610, h.Flank.Slope() / 2}, {"flank, nitrided", 5.709, n.Flank.Slope() / 2},
	} {
		rows = append(rows, verify.Row{Name: "slope of the " + c.name, Source: iso, Kind: verify.Memory, Want: c.want, Got: c.got, Tol: 2e-4, Why: "four digits printed"})
	}
	verify.Table(t, rows)
}

func duties() *rapid.Generator[[]drive.DutyBlock] {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) drive.DutyBlock {
		return drive.DutyBlock{Torque: draw.Log(0.1, 10).Draw(t, "torque"), Cycles: draw.Log(1, 1e8).Draw(t, "cycles")}
	}), 1, 6)
}

func TestPropertyMiner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drive.TorqueLine{Torque: draw.Log(0.5, 5).Draw(t, "torque"), Cycles: draw.Log(1e3, 1e8).Draw(t, "cycles"), Slope: draw.Uniform(2, 6).Draw(t, "slope")}
		duty := duties().Draw(t, "duty")
		d := must(l.Damage(duty))
		var n, most float64
		least := math.Inf(1)
		for _, b := range duty {
			n, most, least = n+b.Cycles, max(most, b.Torque), min(least, b.Torque)
		}
		equal := must(drive.EquivalentTorque(duty, l.Slope))
		require.InEpsilon(t, d, must(l.Damage([]drive.DutyBlock{{Torque: equal, Cycles: n}})), 1e-9, "one block of the equivalent torque")
		require.LessOrEqual(t, equal, most*(1+1e-12))
		require.GreaterOrEqual(t, equal, least*(1-1e-12))
		require.GreaterOrEqual(t, must(drive.EquivalentTorque(duty, l.Slope+1)), equal*(1-1e-12))
		require.InEpsilon(t, 2*d, must(l.Damage(append(duty[:len(duty):len(duty)], duty...))), 1e-12, "twice the duty")
		same := []drive.DutyBlock{{Torque: most, Cycles: 3e3}, {Torque: most, Cycles: 5e3}}
		require.InEpsilon(t, must(l.Damage([]drive.DutyBlock{{Torque: most, Cycles: 8e3}})), must(l.Damage(same)), 1e-12, "equal blocks are one")
		require.InEpsilon(t, 60/max(d, 1e-6), must(l.Life(duty, 60)), 1e-12)
		knee := l
		knee.Knee = true
		require.LessOrEqual(t, must(knee.Damage(duty)), d)
	})
}

func TestPropertyLifeCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom([]drive.GearLife{drive.QuenchedLife(), drive.CaseLife(), drive.NitridedLife()}).Draw(t, "steel")
		c := rapid.SampledFrom([]drive.LifeCurve{g.Root, g.Flank}).Draw(t, "curve")
		n := c.Few * math.Pow(c.Many/c.Few, draw.Uniform(0.001, 0.999).Draw(t, "where"))
		y := must(c.Factor(n))
		require.InEpsilon(t, n, must(c.Cycles(y)), 1e-9, "one is the other's inverse")
		require.Less(t, must(c.Factor(n*1.01)), y)
		require.Equal(t, c.Most, must(c.Factor(c.Few)))
		require.Equal(t, 1.0, must(c.Factor(c.Many)))
		require.Equal(t, 1e15, must(c.Cycles(1)))
		require.Zero(t, must(c.Cycles(c.Most*1.001)))
	})
}

func TestDutyRefuses(t *testing.T) {
	_, err := drive.TorqueLine{}.Damage([]drive.DutyBlock{{}, {Torque: -1, Cycles: math.NaN()}})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.DutyBlock[1].Torque = -1 N·m: allowed 0 to 1e+08 N·m")
	assert.ErrorContains(t, err, "drive.TorqueLine.Slope = 0: allowed 1 to 100")
	_, err = drive.EquivalentTorque(nil, 5)
	assert.EqualError(t, err, "drive.EquivalentTorque: cycles = 0: allowed above 0")
	idle, err := drive.EquivalentTorque([]drive.DutyBlock{{Cycles: 5}}, 5)
	assert.NoError(t, err)
	assert.Zero(t, idle)
	_, err = drive.LifeCurve{Most: 2}.Factor(1)
	assert.ErrorContains(t, err, "drive.LifeCurve.Few = 0: allowed 1 to 1e+09")
	assert.Equal(t, 1.0, must(drive.LifeCurve{}.Factor(1)))
	assert.Zero(t, must(drive.LifeCurve{}.Cycles(1.1)))
	line, duty := drive.TorqueLine{Torque: 1, Cycles: 1e6, Slope: 6}, []drive.DutyBlock{{Torque: 1, Cycles: 5}, {Torque: 2, Cycles: 7}}
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = line.Damage(duty); _, _ = drive.EquivalentTorque(duty, 6) }))
}
