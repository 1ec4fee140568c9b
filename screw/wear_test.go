package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

func TestCheckWear(t *testing.T) {
	const archard = "V = k·F·s/H, evaluated independently"
	const why = "digits of the independent value"
	var rows []verify.Row
	// One turn of a 16 mm screw at 60 rpm for 1000 h.
	c := screw.Channel{Bore: 0.016, Lead: 0.016, Depth: 1.5e-3, Land: 1.6e-3, Clearance: 1.6e-5, Starts: 1, Length: 0.016}
	for _, v := range [][4]float64{{1e-6, 5, 10, 0.001072}, {1e-5, 5, 10, 0.010720}, {1e-4, 5, 3, 0.357334}} {
		rate, err := material.PlainRate(v[0], v[2]*1e9)
		require.NoError(t, err)
		worn, err := c.Wear(screw.Scraping{Force: v[1], Length: 0.016, LandRate: rate, BarrelRate: 1e-25}, 1, 3.6e6)
		require.NoError(t, err)
		// The source takes a land's turn as πD·w/cosφ; here it is along the helix at the barrel, the same.
		rows = append(rows, verify.Row{Name: fmt.Sprintf("land worn off at k = %g [mm]", v[0]), Source: archard, Kind: verify.Own, Want: v[3], Got: worn.Land * 1e3, Tol: 5.1e-7 / v[3], Why: "six decimals"},
			verify.Row{Name: "distance slid [m]", Source: archard, Kind: verify.Own, Want: 180955.74, Got: worn.Distance, Tol: 3e-8, Why: why})
	}
	// 20 mm at 1 rev/s for 1000 h, over 400 mm of helix at 17.66°.
	long := screw.Channel{Bore: 0.02, Lead: math.Pi * 0.02 * math.Tan(17.66*math.Pi/180), Depth: 1.5e-3, Land: 2e-3, Clearance: 2e-5, Starts: 1, Length: 0.4}
	worn, err := long.Wear(screw.Scraping{Force: 50, Length: 0.4, LandRate: 1e-5 / 7.5e9, BarrelRate: 1e-25}, 1, 3.6e6)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "land worn off, 20 mm [m]", Source: archard, Kind: verify.Own, Want: 5.7183503e-6, Got: worn.Land, Tol: 2e-8, Why: why},
		verify.Row{Name: "volume worn off it [m³]", Source: archard, Kind: verify.Own, Want: 1.5079645e-8, Got: worn.Land * 2e-3 * 0.4 / math.Sin(17.66*math.Pi/180), Tol: 3e-8, Why: why},
		verify.Row{Name: "distance slid, 20 mm [m]", Source: archard, Kind: verify.Own, Want: 226194.67, Got: worn.Distance, Tol: 3e-8, Why: why})
	for _, v := range [][4]float64{{10, 240, 24.926, 2.1838}, {12, 320, 54.708, 0}, {16, 400, 75.130, 0}, {10, 400, 0, 0.4717}} {
		r := screw.Root{Diameter: v[0] * 1e-3, Length: v[1] * 1e-3, Modulus: 205e9, Density: 7850, Yield: 5e8}
		sag, err := r.Sag()
		require.NoError(t, err)
		force, _, err := r.LeaningForce(1e-4, 0)
		require.NoError(t, err)
		const beam = "cantilever, evaluated independently"
		if v[2] > 0 {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("sag of %g × %g mm [µm]", v[0], v[1]), Source: beam + " at 9.81 m/s², put to standard gravity", Kind: verify.Own, Want: v[2] * 9.80665 / 9.81, Got: sag * 1e6, Tol: 2.1e-5, Why: "five digits"})
		}
		if v[3] > 0 {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("leaning of %g × %g mm by 0.1 mm [N]", v[0], v[1]), Source: beam, Kind: verify.Own, Want: v[3], Got: force, Tol: 1.1e-4, Why: "four digits"})
		}
	}
	crooked := screw.Root{Diameter: 0.01, Length: 0.24, Modulus: 205e9, Density: 7850, Yield: 5e8}
	force, moment, err := crooked.LeaningForce(1e-4, 2e-3)
	require.NoError(t, err)
	const mohr = "flexibility as ∫(L−x)²/EI dx, summed independently; 0.1 mm off and 2 mrad over 240 mm"
	verify.Table(t, append(rows,
		verify.Row{Name: "leaning behind a crooked coupling [N]", Source: mohr, Kind: verify.Own, Want: 12.66599414441686, Got: force, Tol: 1e-13, Why: "rounding"},
		verify.Row{Name: "moment at the coupling [N·m]", Source: mohr, Kind: verify.Own, Want: 3.039838594660046, Got: moment, Tol: 1e-13, Why: "rounding"}))
}

// What the bearing's moment and the tip's force do, as deflections, is to bring the tip
// back to the axis; and a tilt alone is an offset of the tip alone.
func TestPropertyLeaning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := screw.Root{Diameter: draw.Log(5e-3, 0.1).Draw(t, "diameter"), Length: draw.Log(0.05, 3).Draw(t, "length"), Modulus: 2e11, Density: 7800, Yield: 5e8}
		r.Drilled = r.Diameter * draw.Uniform(0, 0.9).Draw(t, "hole")
		offset, angle := draw.Uniform(0, 0.05).Draw(t, "offset"), draw.Uniform(0, 0.1).Draw(t, "angle")
		force, moment, err := r.LeaningForce(offset, angle)
		require.NoError(t, err)
		// Euler's load of the same root has the same EI.
		bow, err := r.Buckling(0)
		require.NoError(t, err)
		stiff := bow.Capacity * 4 * r.Length * r.Length / (math.Pi * math.Pi)
		// Numerically: the curvature M(x)/EI, from the bearing on, twice summed.
		var slope, back float64
		const steps = 1000
		dx := r.Length / steps
		for i := range steps {
			bend := (moment - force*(float64(i)+0.5)*dx) / stiff
			back += slope*dx + bend*dx*dx/2
			slope += bend * dx
		}
		same(t, offset+angle*r.Length, back, 1e-5, "the tip is back")
	})
}

func TestPropertyWear(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(215))
	require.NoError(t, err)
	rapid.Check(t, func(t *rapid.T) {
		w := screw.Scraping{Force: draw.Log(0.1, 100).Draw(t, "force"), Length: 0.12, LandRate: draw.Log(1e-17, 1e-13).Draw(t, "land"), BarrelRate: draw.Log(1e-17, 1e-13).Draw(t, "barrel")}
		time, speed := draw.Log(1e3, 1e7).Draw(t, "time"), draw.Log(0.2, 3).Draw(t, "speed")
		a, err := benchChannel.Wear(w, speed, time)
		require.NoError(t, err)
		same(t, a.Clearance-benchChannel.Clearance, a.Land+a.Barrel, 1e-6, "grows by both")
		// The volumes are Archard's, of two lands as of one.
		for _, c := range []screw.Channel{benchChannel, {Bore: 0.02, Lead: 0.02, Depth: 1.6e-3, Land: 2e-3, Clearance: 8e-5, Starts: 2, Length: 0.12}} {
			worn, err := c.Wear(w, speed, time)
			require.NoError(t, err)
			helix := w.Length / math.Sin(c.HelixAngle())
			land, err := material.WornVolume(w.LandRate, w.Force, worn.Distance)
			require.NoError(t, err)
			bore, err := material.WornVolume(w.BarrelRate, w.Force, worn.Distance)
			require.NoError(t, err)
			same(t, land, worn.Land*float64(c.Starts)*c.Land*helix, 1e-12, "land")
			same(t, bore, worn.Barrel*math.Pi*c.Bore*w.Length, 1e-12, "bore")
		}
		double := w
		double.Force *= 2
		b, err := benchChannel.Wear(double, speed, time)
		require.NoError(t, err)
		same(t, 2*a.Land, b.Land, 1e-12, "in proportion to load")
		harder, err := benchChannel.Wear(screw.Scraping{Force: w.Force, Length: w.Length, LandRate: w.LandRate / 3, BarrelRate: w.BarrelRate}, speed, time)
		require.NoError(t, err)
		require.Less(t, harder.Land, a.Land)
		same(t, harder.Barrel, a.Barrel, 1e-12, "barrel")
		// When a tenth is lost, wear has come to that clearance.
		d := screw.Die{benchHole}
		life, clearance, err := benchChannel.TimeTo(0.9, w, d, m, speed)
		require.NoError(t, err)
		at, err := benchChannel.Wear(w, speed, math.Min(life, 1e10))
		require.NoError(t, err)
		if life <= 1e10 {
			same(t, clearance, at.Clearance, 1e-9, "clearance")
		}
		worn := benchChannel
		worn.Clearance = clearance
		now, err := screw.OperatingPoint(benchChannel, d, m, speed)
		require.NoError(t, err)
		then, err := screw.OperatingPoint(worn, d, m, speed)
		require.NoError(t, err)
		same(t, 0.9*now.Flow, then.Flow, 1e-7, "a tenth is lost")
	})
}

// More than the flights' height cannot be worn off, and is told.
func TestWearTellsWhereNoLandIsLeft(t *testing.T) {
	w := screw.Scraping{Force: 100, Length: 0.12, LandRate: 1e-15, BarrelRate: 1e-15}
	high := benchChannel.Depth - benchChannel.Clearance
	hour, err := benchChannel.Wear(w, 1, 3600)
	require.NoError(t, err)
	require.Empty(t, hour.Beyond)
	for _, v := range []struct {
		share float64
		told  int
	}{{0.999, 0}, {1.001, 1}} {
		worn, err := benchChannel.Wear(w, 1, 3600*v.share*high/hour.Land)
		require.NoError(t, err)
		require.Len(t, worn.Beyond, v.told)
	}
}

func TestWearFaults(t *testing.T) {
	_, err := benchChannel.Wear(screw.Scraping{}, 0, -1)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Scraping.Force = 0", "screw.Scraping.Length = 0", "LandRate = 0", "BarrelRate = 0", "speed = 0", "time = -1 s"} {
		assert.ErrorContains(t, err, part)
	}
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	_, _, err = benchChannel.TimeTo(1, screw.Scraping{Force: 1, Length: 0.1, LandRate: 1e-15, BarrelRate: 1e-15}, screw.Die{benchHole}, m, 1)
	assert.ErrorContains(t, err, "share = 1: allowed above 0 and below 1")
	open := benchChannel
	open.Clearance = 0.9e-3
	_, _, err = open.TimeTo(0.9, screw.Scraping{Force: 1, Length: 0.1, LandRate: 1e-15, BarrelRate: 1e-15}, screw.Die{benchHole}, m, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	open.Clearance = 0.5e-3 // less than half the depth may still widen
	_, wider, err := open.TimeTo(0.95, screw.Scraping{Force: 1, Length: 0.1, LandRate: 1e-15, BarrelRate: 1e-15}, screw.Die{benchHole}, m, 1)
	require.NoError(t, err)
	require.Greater(t, wider, open.Clearance)
	_, _, err = screw.Root{}.LeaningForce(-1, 0.2)
	assert.ErrorContains(t, err, "offset = -1 m")
	assert.ErrorContains(t, err, "angle = 0.2 rad: allowed 0 to 0.1 rad")
}
