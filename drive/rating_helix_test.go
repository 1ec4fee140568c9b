package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/verify"
	"meltflight/material"
)

// Helical teeth and a ring: module 1 mm, 2 N·m, profile A.
func TestCheckHelixAndRing(t *testing.T) {
	const how = "the standard's own formulas in diameters, d_en and radians, 30 digits; root and working angle by root finding"
	helical := func(face float64) drive.GearPair {
		g := sized(1e-3, 20, 50, .2, .1, face)
		g.Helix = 0.3
		return g
	}
	ring := sized(1e-3, 22, 90, .3, .5, 8e-3)
	ring.Ring, ring.ShortenTips = true, false
	var rows []verify.Row
	for _, c := range []struct {
		name string
		g    drive.GearPair
		// ε_α, ε_β, Y_F and Y_S of both, σ_F0 of both in MPa, Z_H, Z_ε, σ_H0 in MPa, Z_B, H_v
		want [13]float64
	}{
		{"helical, 12 mm", helical(12e-3), [13]float64{1.480937726, 1.12880404, 1.329649516, 2.04358879, 1.323334348, 2.093825396, 37.06766835, 37.79850521, 2.332711928, .8217346527, 384.1203089, 1, .1415743446}},
		{"helical, 5 mm", helical(5e-3), [13]float64{1.480937726, .4703350167, 1.329649516, 2.04358879, 1.323334348, 2.093825396, 96.8403129, 98.74964449, 2.332711928, .8731241203, 632.2913996, 1.033499754, .1415743446}},
		// whose tips reach for 0.04 modules that the rack leaves no involute for; without the cut ε_α would be 1.691975713
		{"ring", ring, [13]float64{1.677094572, 0, 1.132886869, 2.22769347, 1.272934664, 3.476893321, 57.35737907, 100.5876826, 2.43652479, .8799442081, 359.5377318, 1.037771252, .08019583547}},
	} {
		r := rated1(t, c.g, 2, even)
		m, err := c.g.Mesh()
		require.NoError(t, err)
		got := [13]float64{r.ContactRatio, r.OverlapRatio, r.Root[0].Form, r.Root[0].Notch, r.Root[1].Form, r.Root[1].Notch, r.NominalRoot[0] / 1e6, r.NominalRoot[1] / 1e6, r.Zone, r.Overlap, r.NominalFlank / 1e6, r.Single[0], m.LossFactor}
		for i, what := range []string{"ε_α", "ε_β", "Y_F1", "Y_S1", "Y_F2", "Y_S2", "σ_F01, MPa", "σ_F02, MPa", "Z_H", "Z_ε", "σ_H0, MPa", "Z_B", "H_v"} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s: %s", c.name, what), Source: how, Kind: verify.Own, Want: c.want[i], Got: got[i], Tol: 2e-9, Why: "ten digits given"})
		}
	}
	// A printed sheet of a helical pair: sum of shifts for a distance, seen by the zone factor.
	g := sized(3.5e-3, 31, 30, .4, .251877131252, 30e-3)
	g.Helix = 21 * degree
	base := math.Asin(math.Sin(g.Helix) * math.Cos(20*degree))
	at, working := 21.2990642859*degree, 23.8707609654*degree
	zone := math.Sqrt(2 * math.Cos(base) * math.Cos(working) / (math.Cos(at) * math.Cos(at) * math.Sin(working)))
	r := rated1(t, g, 2, even)
	const sheet = "Gear generating profile shift calculations, a public sheet after ISO 21771:2007: 31/30, 3.5 mm, 21°, 116.5 mm, α_wt 23.8707609654°"
	rows = append(rows, verify.Row{Name: "Z_H at the printed working angle, from the shifts", Source: sheet, Kind: verify.Print, Want: zone, Got: r.Zone, Tol: 1e-10, Why: "twelve digits printed"})
	g.Pinion.Shift, g.Distance = .3, 116.5e-3
	rows = append(rows, verify.Row{Name: "Z_H at the printed working angle, from the distance", Source: sheet, Kind: verify.Print, Want: zone, Got: rated1(t, g, 2, even).Zone, Tol: 1e-10, Why: "twelve digits printed"})

	// Plastic: Y_ε of the normal section, from the roots with the load at the tip.
	g = helical(5e-3)
	tip, err := g.TipForms()
	require.NoError(t, err)
	u := dryUse
	u.Torque = 2
	p, err := g.RatePlastic(true, material.PA66(), u)
	require.NoError(t, err)
	force := 2 * 2 / (20e-3 / math.Cos(0.3))
	rows = append(rows, verify.Row{Name: "plastic wheel's root, Pa", Source: how, Kind: verify.Own,
		Want: force / 5e-6 * tip[1].Form * tip[1].Notch * .7173814352 * (1 - .4703350167*.3/degree/120), Got: p.RootStress, Tol: 2e-9, Why: "ten digits given"})
	verify.Table(t, rows)
}
