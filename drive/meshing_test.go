package drive_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/verify"
	"meltflight/material"
)

// gears makes a spur pair of rack A, 10 mm wide; module in mm.
func gears(mm float64, z1, z2 int, x1, x2 float64) drive.GearPair {
	return drive.GearPair{Rack: drive.RackA(), Module: mm * 1e-3, Face: 10e-3,
		Pinion: drive.Wheel{Teeth: z1, Shift: x1}, Wheel: drive.Wheel{Teeth: z2, Shift: x2}}
}

func shortened(g drive.GearPair) drive.GearPair { g.ShortenTips = true; return g }

// ring has a pinion cut so deep that the ring's tips find an involute.
func ring(mm float64, z1, z2 int, x1, x2 float64) drive.GearPair {
	g := gears(mm, z1, z2, x1, x2)
	g.Ring, g.Rack.Dedendum, g.Rack.Fillet = true, 1.5, 0.34
	return g
}

func mesh(t *testing.T, g drive.GearPair) drive.Meshing {
	t.Helper()
	m, err := g.Mesh()
	require.NoError(t, err)
	return m
}

func TestCheckShiftedPairPrinted(t *testing.T) {
	m := mesh(t, shortened(gears(3, 12, 24, 0.6, 0.36)))
	const table = "metric gear handbook's table of a profile-shifted spur pair, as a public page prints it"
	row := func(name string, want, got, tol float64) verify.Row {
		return verify.Row{Name: "12/24, 0.6/0.36: " + name, Source: table, Kind: verify.Print, Want: want, Got: got, Tol: tol, Why: "its rounding"}
	}
	g := gears(3, 12, 24, 0.6, 0.36)
	sum, err := g.ShiftFor(56.5e-3)
	require.NoError(t, err)
	h := drive.GearPair{Rack: drive.RackA(), Module: 3.5e-3, Helix: degrees(21), Face: 10e-3, Pinion: drive.Wheel{Teeth: 31}, Wheel: drive.Wheel{Teeth: 30}}
	helical, err := h.ShiftFor(116.5e-3)
	require.NoError(t, err)
	chord := mesh(t, gears(10, 12, 40, 0.3, 0))
	const chords = "metric gear handbook's table 10-1 of chordal thickness, as a public page prints it"
	verify.Table(t, []verify.Row{
		row("working angle, °", 26.0886, m.WorkingAngle*180/math.Pi, 2e-6), row("distance, mm", 56.4999, m.Distance*1e3, 1e-6),
		row("pinion tip, mm", 44.840, 2e3*m.Pinion.Tip, 1.2e-5), row("wheel tip, mm", 79.400, 2e3*m.Wheel.Tip, 7e-6),
		row("pinion root, mm", 32.100, 2e3*m.Pinion.Root, 1.6e-5), row("wheel root, mm", 66.660, 2e3*m.Wheel.Root, 8e-6),
		row("pinion base, mm", 33.8289, 2e3*m.Pinion.Base, 1.5e-6), row("wheel base, mm", 67.6579, 2e3*m.Wheel.Base, 8e-7),
		row("pinion working, mm", 37.667, 2e3*m.Pinion.Working, 1.4e-5), row("contact ratio", 1.202, m.Contact, 4e-4),
		row("sum of shifts for 56.5 mm", 0.960, sum, 6e-4),
		{Name: "31/30, 21° helix: sum of shifts for 116.5 mm", Source: "public page following ISO 21771:2007 eq. 62", Kind: verify.Print,
			Want: 0.651877131252, Got: helical, Tol: 1e-8, Why: "its helix is 21.0000° to six digits, inferred"},
		{Name: "12, 0.3, 10 mm: chord, mm", Source: chords, Kind: verify.Print, Want: 17.8256, Got: chord.Pinion.Chord * 1e3, Tol: 3e-6, Why: "its rounding"},
		{Name: "12, 0.3, 10 mm: height, mm", Source: chords, Kind: verify.Print, Want: 13.6657, Got: chord.Pinion.ChordHeight * 1e3, Tol: 4e-6, Why: "its rounding"},
	})
}

func TestCheckContactRatio(t *testing.T) {
	const how = "closed form at 30 digits"
	var rows []verify.Row
	for _, c := range []struct {
		g    drive.GearPair
		want float64
	}{
		{gears(1, 18, 18, 0, 0), 1.529765631}, {gears(1, 19, 42, 0, 0), 1.633342418}, {gears(1, 20, 40, 0, 0), 1.635185964},
		{gears(1, 18, 27, 0, 0), 1.579714782}, {gears(1, 30, 75, 0, 0), 1.735357094}, {gears(1, 100, 100, 0, 0), 1.852510296},
		{gears(1, 20, 80, 0, 0), 1.6912923264}, {gears(1, 17, 50, 0, 0), 1.634736865},
		{shortened(gears(1, 17, 40, 0.3, 0.2)), 1.465749289}, {shortened(gears(1, 20, 20, 0.5, 0.5)), 1.264312269},
		{shortened(gears(2, 15, 45, 0.3, -0.1)), 1.510450194}, {shortened(gears(4, 20, 60, 0.1817, 0)), 1.608272783},
		{shortened(gears(0.5, 12, 60, 0.4, 0)), 1.433476301}, {gears(3, 12, 24, 0.6, 0.36), 1.347796243},
		{ring(1, 24, 72, 0, 0), 1.930574811}, {ring(1, 17, 60, 0.3, 0.3), 1.709271329}, {ring(1, 30, 80, 0.2, 0.4), 1.787281450},
		{ring(1, 27, 72, 0, 0), 1.944455324}, {ring(1, 24, 60, 0, 0), 1.9721946021}, {ring(1, 30, 80, 0, 0), 1.9380191191},
	} {
		m := mesh(t, c.g)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("contact ratio %d/%d, %g/%g", c.g.Pinion.Teeth, c.g.Wheel.Teeth, c.g.Pinion.Shift, c.g.Wheel.Shift),
			Source: how, Kind: verify.Own, Want: c.want, Got: m.Contact, Tol: 6e-10, Why: "ten digits given"})
	}
	// Where the mate's tip reaches past the involute, contact is counted from where it begins.
	short := gears(1, 27, 72, 0, 0)
	short.Ring = true
	rows = append(rows,
		verify.Row{Name: "12/24, undercut", Source: "swept disc of the rack's tip, found numerically; then closed form", Kind: verify.Own,
			Want: 1.27456184352, Got: mesh(t, gears(1, 12, 24, 0, 0)).Contact, Tol: 1e-9, Why: "grid of the sweep"},
		verify.Row{Name: "27/72 ring, rack A", Source: how + " from the end of the straight flank", Kind: verify.Own, Want: 1.80520448017, Got: mesh(t, short).Contact, Tol: 1e-10, Why: "eleven digits given"})
	verify.Table(t, rows)
}

func TestCheckMeshDistances(t *testing.T) {
	const how = "closed form at 30 digits"
	var rows []verify.Row
	for _, c := range []struct {
		g                                       drive.GearPair
		angle, distance, tip1, tip2, shortening float64
	}{
		{shortened(gears(1, 17, 40, 0.3, 0.2)), 22.4246985806, 28.9720580766, 19.54411615, 42.34411615, 0.0279419},
		{shortened(gears(1, 18, 60, -0.2, -0.3)), 17.7116180276, 38.4715719530, 19.54314391, 61.34314391, 0.0284280},
		{shortened(gears(0.5, 12, 60, 0.4, 0)), 21.6042415468, 18.1925046042, 7.385009208, 30.98500921, 0.00749540},
		{ring(3, 16, 24, 0, 0.5), 31.093620663, 13.1682677067, 54, 69, 0}, {ring(1, 30, 80, 0.2, 0.4), 21.181515307, 25.1944414107, 32.4, 78.8, 0},
	} {
		m := mesh(t, c.g)
		row := func(what string, want, got, tol float64) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%d/%d, %g/%g: %s", c.g.Pinion.Teeth, c.g.Wheel.Teeth, c.g.Pinion.Shift, c.g.Wheel.Shift, what),
				Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
		}
		row("working angle, °", c.angle, m.WorkingAngle*180/math.Pi, 1e-10)
		row("distance, mm", c.distance, m.Distance*1e3, 1e-11)
		row("pinion tip, mm", c.tip1, 2e3*m.Pinion.Tip, 1e-9)
		row("wheel tip, mm", c.tip2, 2e3*m.Wheel.Tip, 1e-9)
		row("shortening, mm", c.shortening, 1e3*m.Shortening, 3e-6)
	}
	h := drive.GearPair{Rack: drive.RackA(), Module: 2e-3, Helix: degrees(15), Face: 20e-3, Pinion: drive.Wheel{Teeth: 20, Shift: 0.2}, Wheel: drive.Wheel{Teeth: 40, Shift: 0.1}}
	m := mesh(t, h)
	for _, c := range []struct {
		what      string
		want, got float64
	}{
		{"distance, mm", 62.69797827929, m.Distance * 1e3}, {"working angle, °", 22.01378528057, m.WorkingAngle * 180 / math.Pi},
		{"contact ratio", 1.49386361538, m.Contact}, {"overlap", 0.823846607888, m.Overlap}, {"tip, normal, mm", 1.2727485599, m.Pinion.TipThickness * 1e3},
		{"loss factor", 0.151644109637, m.LossFactor}, {"span over 3, mm", 15.65271844804, m.Pinion.Span * 1e3},
	} {
		rows = append(rows, verify.Row{Name: "20/40, 15° helix: " + c.what, Source: how + ", loss by quadrature", Kind: verify.Own, Want: c.want, Got: c.got, Tol: 5e-11, Why: "eleven digits given"})
	}
	shigley := gears(12.7, 16, 40, 0, 0)
	shigley.Distance = 14.25 * 25.4e-3
	m = mesh(t, shigley)
	const book = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 13-1"
	rows = append(rows, verify.Row{Name: "16/40 moved apart: pitch circle, in", Source: book, Kind: verify.Memory, Want: 8.143, Got: 2 * m.Pinion.Working / 25.4e-3, Tol: 6e-5, Why: "its rounding"},
		verify.Row{Name: "16/40 moved apart: angle, °", Source: book, Kind: verify.Memory, Want: 22.60, Got: m.WorkingAngle * 180 / math.Pi, Tol: 2.3e-4, Why: "its rounding"})
	verify.Table(t, rows)
}

func TestCheckTeeth(t *testing.T) {
	const how = "closed form at 30 digits"
	var rows []verify.Row
	row := func(name string, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why})
	}
	for _, c := range []struct {
		z       int
		x, want float64
	}{{17, 0, 0.6740786874}, {12, 0.3, 0.4357380517}, {12, 0.6, 0.2018170246}, {10, 0.5, 0.1989219725}, {40, 0, 0.7606644815}, {25, 1, 0.2778756402}, {18, 0, 0.681663784}} {
		row(fmt.Sprintf("tip thickness, %d, %g", c.z, c.x), c.want, mesh(t, gears(1, c.z, 60, c.x, 0)).Pinion.TipThickness*1e3, 1e-8, "ten digits, of which tip thickness loses two")
	}
	for _, c := range []struct {
		mm   float64
		z    int
		x    float64
		k    int
		want float64
	}{{1, 17, 0, 2, 4.66629132328}, {1, 20, 0, 3, 7.66043937598}, {1, 25, 0, 3, 7.73046707367}, {1, 40, 0, 5, 13.8448130349}, {1, 100, 0, 12, 35.3500654458},
		{3, 24, 0.4, 4, 32.8266272487}, {2, 18, 0.3, 3, 15.6752807658}, {1, 20, 0.5, 3, 8.00245951931}, {10, 12, 0.3, 2, 48.0147571159}} {
		p := mesh(t, gears(c.mm, c.z, 60, c.x, 0)).Pinion
		row(fmt.Sprintf("span, %g mm, %d, %g", c.mm, c.z, c.x), c.want, p.Span*1e3, 1e-11, "twelve digits given")
		assert.Equal(t, c.k, p.SpanTeeth)
	}
	// A rack whose flank is straight to one module.
	rack := gears(1, 17, 60, 0.7, 0)
	rack.Rack.Fillet = 0.25 / (1 - math.Sin(degrees(20)))
	for _, c := range []struct {
		z    int
		want float64
	}{{10, 0.4151111078}, {12, 0.2981333294}, {14, 0.1811555509}, {17, 0.00568888326}} {
		rack.Pinion.Teeth, rack.Pinion.Shift = c.z, 0.3
		m := mesh(t, rack)
		row(fmt.Sprintf("least shift, %d", c.z), c.want, m.Pinion.LeastShift, 5e-9, "ten digits given")
		assert.Equal(t, c.want > 0.3, m.Pinion.Undercut)
	}
	// Where the rack's tip lets the involute begin.
	for _, c := range []struct {
		z       int
		x, want float64
	}{{12, 0, 5.651351022453888}, {10, 0, 4.725602200141501}, {17, -0.3, 7.997742366200269}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("begin of the undercut involute, %d, %g, mm", c.z, c.x), Source: "swept disc of the rack's tip on a grid of rolling", Kind: verify.Own,
			Want: c.want, Got: mesh(t, gears(1, c.z, 60, c.x, 0)).Pinion.Begin * 1e3, Tol: 1e-9, Why: "grid of the sweep"})
	}
	slanted := gears(1, 10, 60, 0, 0)
	slanted.Helix = degrees(25)
	rows = append(rows, verify.Row{Name: "begin of the undercut involute, 10, 25° helix, mm", Source: "swept ellipse of the rack's tip in the transverse plane, point by point", Kind: verify.Own,
		Want: 5.127476278808151, Got: mesh(t, slanted).Pinion.Begin * 1e3, Tol: 1e-11, Why: "twelve digits of the sweep"})
	row("least shift, 10, 25° helix", 0.233775522803, mesh(t, slanted).Pinion.LeastShift, 1e-11, "twelve digits given")
	inside := mesh(t, ring(1, 24, 72, 0, 0))
	row("24/72 ring: tip thickness, mm", 0.902458111072, inside.Wheel.TipThickness*1e3, 1e-10, "twelve digits, of which it loses two")
	// Approach is longer than a base pitch, so that Ohlendorf's formula, 0.08613, is not exact here.
	rows = append(rows, verify.Row{Name: "24/72 ring: loss factor", Source: "quadrature with the load shared evenly, at 30 digits", Kind: verify.Own,
		Want: 0.0846654974033, Got: inside.LossFactor, Tol: 1e-11, Why: "twelve digits given"})
	row("24/72 ring: sliding at the start", 0.185266478906, inside.StartSliding, 1e-11, "twelve digits given")
	row("24/72 ring: sliding at the pinion's root", -2.88935201227, inside.Pinion.RootSliding, 1e-11, "twelve digits given")
	row("24/72 ring: sliding at the ring's root", -0.322201463626, inside.Wheel.RootSliding, 1e-11, "twelve digits given")
	far := shortened(gears(1, 24, 72, 0, 0))
	far.Ring, far.Distance = true, 24.1e-3
	row("24/72 ring 0.1 mm off: clearance kept, mm", 0.25, mesh(t, far).Clearance*1e3, 1e-11, "exact")
	row("24/72 ring 0.1 mm off: ring's tip, mm", 35.1, mesh(t, far).Wheel.Tip*1e3, 1e-11, "exact")
	verify.Table(t, rows)
}

func TestCheckPathAndSliding(t *testing.T) {
	var rows []verify.Row
	for _, c := range []struct {
		mm               float64
		z1, z2           int
		approach, recess float64
		start, end       float64
	}{{6.5, 19, 47, 16.7302683, 14.8113510, 0.38046264, 0.33682459}, {4, 30, 50, 10.3600523, 9.7627806, 0.27626806, 0.26034082},
		{6, 17, 49, 15.5088491, 13.4156700, 0.40959745, 0.35431542}, {6, 19, 42, 15.2590326, 13.6720163, 0.38880576, 0.34836800}} {
		m := mesh(t, gears(c.mm, c.z1, c.z2, 0, 0))
		row := func(what string, want, got float64) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%d/%d: %s", c.z1, c.z2, what), Source: "closed form at 30 digits", Kind: verify.Own, Want: want, Got: got, Tol: 3e-8, Why: "eight digits given"})
		}
		row("approach, mm", c.approach, m.Approach*1e3)
		row("recess, mm", c.recess, m.Recess*1e3)
		row("sliding at the start", c.start, m.StartSliding)
		row("sliding at the end", c.end, m.EndSliding)
	}
	khurmi := gears(12, 30, 80, 0, 0)
	khurmi.Rack.Addendum = 10. / 12
	m := mesh(t, khurmi)
	const book = "Khurmi & Gupta, Theory of Machines, Example 12.4"
	rows = append(rows, verify.Row{Name: "30/80: approach, mm", Source: book, Kind: verify.Memory, Want: 27.3, Got: m.Approach * 1e3, Tol: 1.9e-3, Why: "its rounding"},
		verify.Row{Name: "30/80: path, mm", Source: book, Kind: verify.Memory, Want: 52.3, Got: m.Path * 1e3, Tol: 1e-3, Why: "its rounding"})
	for _, c := range []struct {
		g               drive.GearPair
		root, tip, loss float64
	}{
		{gears(1, 20, 60, 0, 0), -4.46967610, 0.53583221, 0.15319692991}, {gears(1, 17, 50, 0, 0), -10.9428613, 0.58255855, 0.17548098938},
		{gears(1, 18, 36, 0, 0), -6.46055250, 0.63472917, 0.18065033364}, {gears(1, 20, 20, 0, 0), -4.09549780, 0.80374832, 0.20578514099},
		{gears(1, 30, 75, 0, 0), -1.53400223, 0.45132406, 0.11343388987}, {shortened(gears(1, 20, 60, 0.3, 0.2)), -1.60515875, 0.53055044, 0.13701920673},
		{shortened(gears(0.5, 12, 60, 0.4, 0)), -3.78167893, 0.63825146, 0.19937091220},
	} {
		m := mesh(t, c.g)
		name := fmt.Sprintf("%d/%d, %g/%g: ", c.g.Pinion.Teeth, c.g.Wheel.Teeth, c.g.Pinion.Shift, c.g.Wheel.Shift)
		rows = append(rows,
			verify.Row{Name: name + "sliding at the pinion's root", Source: "closed form at 30 digits", Kind: verify.Own, Want: c.root, Got: m.Pinion.RootSliding, Tol: 1e-7, Why: "digits given"},
			verify.Row{Name: name + "sliding at the pinion's tip", Source: "closed form at 30 digits", Kind: verify.Own, Want: c.tip, Got: m.Pinion.TipSliding, Tol: 2e-8, Why: "eight digits given"},
			verify.Row{Name: name + "loss factor", Source: "Ohlendorf's closed form and quadrature", Kind: verify.Own, Want: c.loss, Got: m.LossFactor, Tol: 1e-10, Why: "eleven digits given"})
	}
	tall := gears(1, 60, 60, 0, 0)
	tall.Rack = drive.Rack{PressureAngle: degrees(17), Addendum: 1.4, Dedendum: 1.65, Fillet: 0.2}
	plastic, err := mesh(t, gears(1, 20, 20, 0, 0)).Efficiency(0.2)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "60/60, contact ratio 2.66: loss factor", Source: "quadrature", Kind: verify.Own, Want: 0.135208934166, Got: mesh(t, tall).LossFactor, Tol: 1e-11, Why: "twelve digits given"},
		verify.Row{Name: "24/40, pitch point among two pairs: loss factor", Source: "quadrature", Kind: verify.Own, Want: 0.219864198806, Got: mesh(t, gears(1, 24, 40, 0.9, -0.5)).LossFactor, Tol: 1e-11, Why: "twelve digits given"},
		verify.Row{Name: "20/20, friction 0.2: efficiency", Source: "1 − μ·H_v by hand", Kind: verify.Own, Want: 0.9588430, Got: plastic, Tol: 1e-7, Why: "seven digits given"})
	verify.Table(t, rows)
}

func TestCheckBacklash(t *testing.T) {
	const how = "tooth thicknesses at the working circles, at 30 digits"
	g := gears(1, 20, 60, 0.3, 0.2)
	g.Distance = 40.6e-3
	in := gears(1, 24, 72, 0, 0)
	in.Ring, in.Distance = true, 23.9e-3
	flat := gears(1, 40, 40, 0, 0)
	thin := drive.Allowance{Least: 20e-6, Most: 40e-6}
	least, most, err := flat.Backlash(thin, thin, drive.Allowance{})
	require.NoError(t, err)
	row := func(name string, want, got float64) verify.Row {
		return verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: 1e-10, Why: "eleven digits given"}
	}
	inner := mesh(t, in)
	verify.Table(t, []verify.Row{
		row("20/60 at 40.6 mm, mm", 0.0977659106998, mesh(t, g).Backlash*1e3),
		row("24/72 ring at 23.9 mm, mm", 0.0713335954831, inner.Backlash*1e3),
		row("0.04 mm thinned, circumferential, mm", 0.04, least.Circumferential*1e3),
		row("0.08 mm at 20 mm, wheel's lost motion, °", 0.22918311805, most.WheelAngle*180/math.Pi),
		row("0.08 mm along the circle, normal, mm", 0.08*math.Cos(degrees(20)), most.Normal*1e3),
	})
}

func TestMeshRefusesAndTells(t *testing.T) {
	refused := func(g drive.GearPair, words string) {
		t.Helper()
		_, err := g.Mesh()
		assert.ErrorIs(t, err, material.ErrInvalid)
		assert.ErrorContains(t, err, words)
	}
	told := func(g drive.GearPair, words string) {
		t.Helper()
		assert.Contains(t, strings.Join(mesh(t, g).Beyond, "; "), words)
	}
	at := func(g drive.GearPair, mm float64) drive.GearPair { g.Distance = mm * 1e-3; return g }
	rackRing := func(z1, z2 int) drive.GearPair { g := gears(1, z1, z2, 0, 0); g.Ring = true; return g }
	refused(gears(1, 8, 20, 0.6, 0), "tips are pointed")
	refused(gears(1, 8, 40, 0, 0), "contact ratio 0.912")
	refused(at(gears(1, 20, 40, 0, 0), 28), "base circles touch")
	refused(at(gears(1, 20, 40, 0, 0), 29.7), "tips clear the roots: they meet by")
	refused(at(gears(1, 20, 40, 0, 0), 32), "takes over before")
	refused(gears(1, 5, 5, -1.5, -1.5), "without backlash")
	refused(rackRing(20, 33), "involutes are")
	_, err := rackRing(20, 34).Mesh()
	assert.NoError(t, err, "handbooks: an unshifted ring has 34 teeth or more")
	// By the formula itself, at whose thresholds this stands: eight teeth of difference foul up to 60 teeth, not at 100.
	refused(rackRing(52, 60), "foul")
	assert.NotEmpty(t, mesh(t, rackRing(51, 60)).Beyond)
	assert.NotEmpty(t, mesh(t, rackRing(92, 100)).Beyond)
	refused(rackRing(93, 100), "foul")
	told(rackRing(50, 60), "only along its axis")
	told(rackRing(27, 72), "counted as if the tip ended at a radius of 35.108 mm")
	told(gears(1, 12, 24, 0, 0), "pinion undercut: a shift of 0.298 modules")
	told(gears(1, 8, 40, 0.53, 0), "tip 0.042 modules thick")
	told(at(gears(1, 20, 40, 0, 0), 29.99), "jam unless")
	told(at(gears(1, 20, 40, 0, 0), 29.8), "clearance of tip and root of 0.05 modules")
	told(at(gears(1, 20, 40, 0, 0), 30.6), "contact ratio of 1.")
	assert.Nil(t, mesh(t, gears(1, 20, 40, 0, 0)).Beyond)
}
