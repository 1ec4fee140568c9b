package drive_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func stage(sun, planet, planets int, module, share float64) drive.PlanetaryStage {
	return drive.PlanetaryStage{
		Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: planets,
		Module: module, Face: 10e-3, MeshEfficiency: 1, LoadShare: share,
	}
}

func TestCheckPlanetaryLoad(t *testing.T) {
	var rows []verify.Row
	const how = "Willis' equation and balance of torques by hand"
	for _, c := range []struct {
		p                        drive.PlanetaryStage
		sunRPM, sunTorque        float64
		ratio, carrier, planet   float64 // -, rpm, rpm relative to the carrier
		ringTorque, force, onPin float64
	}{
		{stage(18, 27, 3, 1e-3, 1.1), 1000, 1.2, 5, 200, -533.3333333, 4.8, 48.888889, 97.777778},
		{stage(12, 30, 3, 1e-3, 1), 1000, 0.5, 7, 142.857143, -342.857143, 3, 27.777778, 55.555556},
		{stage(24, 24, 3, 1e-3, 1), 600, 1, 4, 150, -450, 3, 27.777778, 55.555556},
		{stage(12, 24, 3, 0.5e-3, 1.1), 3000, 0.1, 6, 500, -1250, 0.5, 12.222222, 24.444444},
	} {
		name := fmt.Sprintf("%d/%d/%d: ", c.p.Sun, c.p.Planet, c.p.Ring)
		l, err := c.p.Load(c.sunTorque*c.ratio, c.carrier/60)
		require.NoError(t, err)
		row := func(what string, want, got float64) verify.Row {
			return verify.Row{Name: name + what, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: 2e-8, Why: "eight digits given"}
		}
		rows = append(rows,
			row("ratio", c.ratio, c.p.Ratio()), row("sun, rpm", c.sunRPM, l.SunSpeed*60), row("planet, rpm", c.planet, l.PlanetSpeed*60),
			row("sun, N·m", c.sunTorque, l.SunTorque), row("carrier, N·m", -c.sunTorque*c.ratio, l.CarrierTorque),
			row("ring, N·m", c.ringTorque, l.RingTorque), row("tooth, N", c.force, l.ToothForce), row("pin, N", c.onPin, l.PinForce),
			row("pitch line, m/s", math.Pi*c.p.Module*float64(c.p.Planet)*-c.planet/60, l.PitchSpeed))
	}
	book := stage(20, 30, 4, 1e-3, 1)
	l, err := book.Load(5, 20.0/60)
	require.NoError(t, err)
	const example = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 13-6"
	rows = append(rows,
		verify.Row{Name: "20/30/80: sun for 20 rpm of the arm, rpm", Source: example, Kind: verify.Memory, Want: 100, Got: l.SunSpeed * 60, Tol: 1e-12, Why: "exact"},
		verify.Row{Name: "20/30/80: planet in the fixed frame, rpm", Source: example, Kind: verify.Memory,
			Want: -100.0 / 3, Got: (l.CarrierSpeed + l.PlanetSpeed) * 60, Tol: 1e-12, Why: "exact"})

	for _, c := range []struct {
		sun, planet int
		eta, want   float64
	}{{18, 27, 0.98, 0.984}, {12, 30, 0.98, 0.982857143}, {24, 24, 0.97, 0.9775}} {
		p := stage(c.sun, c.planet, 3, 1e-3, 1)
		p.MeshEfficiency = c.eta
		rows = append(rows, verify.Row{Name: fmt.Sprintf("efficiency, %d/%d, %g with the carrier locked", c.sun, c.planet, c.eta),
			Source: "(1 − i₀η₀)/(1 − i₀), i₀ = −ring/sun", Kind: verify.Own, Want: c.want, Got: p.Efficiency(), Tol: 1e-9, Why: "nine digits given"})
	}
	verify.Table(t, rows)
}

// 0.6 mm, 18/27/72, 10 mm wide, sun 1.6 N·m; stress by hand from the table's factors.
func TestCheckPlanetaryBending(t *testing.T) {
	p := stage(18, 27, 3, 0.6e-3, 1)
	l, err := p.Load(8, 0.75)
	require.NoError(t, err)
	u, err := p.Bending(l, 300e6)
	require.NoError(t, err)
	force := 1.6 / 3 / (0.6e-3 * 9)               // 98.77 N
	speed := math.Pi * 0.6e-3 * 18 * (3.75 - .75) // 0.1018 m/s
	base := force / (10e-3 * 0.6e-3) * (6.096 + speed) / 6.096
	planet := 0.346 + (0.353-0.346)*(1/26.-1/27.)/(1/26.-1/28.)
	const how = "σ = K_v·F/(b·m·Y) by hand, 27 teeth between 26 and 28 in 1/teeth"
	verify.Table(t, []verify.Row{
		{Name: "sun root, Pa", Source: how, Kind: verify.Own, Want: base / 0.309, Got: u[0].Demand, Tol: 1e-12, Why: "rounding"},
		{Name: "planet root, Pa", Source: how, Kind: verify.Own, Want: base / planet, Got: u[1].Demand, Tol: 1e-12, Why: "rounding"},
		{Name: "ring root, Pa", Source: how + "; rack 0.485", Kind: verify.Own, Want: base / 0.485, Got: u[2].Demand, Tol: 1e-12, Why: "rounding"},
		{Name: "sun allowable, Pa", Source: "as given", Kind: verify.Own, Want: 300e6, Got: u[0].Capacity, Tol: 1e-12, Why: "exact"},
		{Name: "planet allowable, Pa", Source: "common practice, no source: reversed bending 0.7", Kind: verify.Practice, Want: 210e6, Got: u[1].Capacity, Tol: 1e-12, Why: "exact"},
		{Name: "ring allowable, Pa", Source: "as given", Kind: verify.Own, Want: 300e6, Got: u[2].Capacity, Tol: 1e-12, Why: "exact"},
	})
	assert.Equal(t, "sun tooth root", u[0].Part)
	assert.Equal(t, "planet tooth root", u[1].Part)
	assert.Equal(t, "ring tooth root", u[2].Part)
}

func TestPlanetaryRefuses(t *testing.T) {
	axes := stage(18, 27, 3, 1e-3, 1)
	axes.Ring = 69
	assert.EqualError(t, axes.Validate(), "drive.PlanetaryStage.Ring = 69: allowed 72, the sun's 18 + 2 × the planet's 27, for sun, planets and ring to lie on common axes")

	uneven := stage(20, 30, 3, 1e-3, 1)
	assert.EqualError(t, uneven.Validate(), "drive.PlanetaryStage.Planets = 3: allowed a divisor of the sun's 20 + the ring's 80 = 100, for planets to mesh at even spacing")

	clash := stage(12, 30, 4, 1e-3, 1)
	assert.EqualError(t, clash.Validate(), "drive.PlanetaryStage.Planets = 4: allowed so few that neighbours clear: "+
		"(sun 12 + planet 30)·sin(π/planets) above planet + 2 = 32, here 2.302 modules too little")

	assert.NoError(t, stage(12, 22, 4, 1e-3, 1).Validate(), "0.04 modules of air")
	assert.Error(t, stage(12, 24, 4, 1e-3, 1).Validate(), "0.54 modules too little")

	assert.Error(t, stage(17, 13, 6, 1e-3, 1).Validate(), "tips that just touch: 30·sin 30° = 15")

	fields := stage(11, 27, 0, 0, 0.9)
	fields.MeshEfficiency = 1.01
	assert.EqualError(t, fields.Validate(), "drive.PlanetaryStage.Sun = 11: allowed 12 to 1000\n"+
		"drive.PlanetaryStage.Planets = 0: allowed 2 to 20\n"+
		"drive.PlanetaryStage.Module = 0 m: allowed 5e-05 to 0.1 m\n"+
		"drive.PlanetaryStage.MeshEfficiency = 1.01: allowed 0.5 to 1\n"+
		"drive.PlanetaryStage.LoadShare = 0.9: allowed 1 to 1")

	good := stage(18, 27, 3, 1e-3, 1)
	_, err := good.Load(-1, math.Inf(1))
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "carrier torque = -1 N·m: allowed 0 to 1e+06 N·m")
	assert.ErrorContains(t, err, "carrier speed = +Inf rev/s: allowed 0 to 1000 rev/s")
	_, err = good.Bending(drive.StageLoad{ToothForce: 1, PitchSpeed: 30}, 300e6)
	assert.EqualError(t, err, "drive.StageLoad.PitchSpeed = 30 m/s: allowed 0 to 20 m/s")
}

// The numbers of planets that fit: three can be put in, four clash.
func TestCheckNeighbours(t *testing.T) {
	most := func(sun, planet int) (n int) {
		for n = 2; stageClears(sun, planet, n+1); n++ {
		}
		return n
	}
	const how = "⌊π/asin((planet + 2)/(sun + planet))⌋ by hand"
	var rows []verify.Row
	for _, c := range [][3]int{{18, 27, 4}, {12, 30, 3}, {24, 24, 5}, {20, 30, 4}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("most planets between %d and %d teeth", c[0], c[1]), Source: how, Kind: verify.Own,
			Want: float64(c[2]), Got: float64(most(c[0], c[1])), Tol: 1e-12, Why: "a whole number"})
	}
	verify.Table(t, rows)
}

// stageClears tells whether Validate has nothing against the spacing of neighbours.
func stageClears(sun, planet, planets int) bool {
	err := stage(sun, planet, planets, 1e-3, 1).Validate()
	return err == nil || !strings.Contains(err.Error(), "neighbours clear")
}

func TestPropertyPlanetaryConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drivetest.Stages().Draw(t, "stage")
		torque := draw.Log(0.01, 500).Draw(t, "torque")
		speed := draw.Log(0.01, 50).Draw(t, "speed")
		l, err := p.Load(torque, speed)
		require.NoError(t, err)
		in, out := l.SunTorque*l.SunSpeed, -l.CarrierTorque*l.CarrierSpeed
		require.InEpsilon(t, out, in*p.Efficiency(), 1e-12)
		require.InDelta(t, 0, (l.SunTorque+l.CarrierTorque+l.RingTorque)/torque, 1e-12)
		// Only rolling power is lost: what the sun puts in as seen from the carrier.
		rolling := l.SunTorque * (l.SunSpeed - l.CarrierSpeed)
		require.InDelta(t, rolling*(1-p.MeshEfficiency), in-out, 1e-12*in)
		// The ring, seen from the carrier, gets the rest of it.
		require.InEpsilon(t, rolling*p.MeshEfficiency, l.RingTorque*l.CarrierSpeed, 1e-10)
		require.GreaterOrEqual(t, p.Efficiency(), p.MeshEfficiency-1e-15)
		require.LessOrEqual(t, p.Efficiency(), 1+1e-15)

		// Willis: with the carrier stopped, sun and ring turn as their teeth.
		require.InEpsilon(t, -l.CarrierSpeed*float64(p.Ring), -(l.SunSpeed-l.CarrierSpeed)*float64(p.Sun), 1e-12)
		// Pitch lines of sun and planet run together.
		require.InEpsilon(t, l.PitchSpeed, -math.Pi*p.Module*float64(p.Planet)*l.PlanetSpeed, 1e-12)
		// All sun teeth together make the sun's torque, all pins the carrier's.
		n := float64(p.Planets) / p.LoadShare
		require.InEpsilon(t, l.SunTorque, n*l.ToothForce*p.Module*float64(p.Sun)/2, 1e-12)
		require.InEpsilon(t, torque, n*l.PinForce*p.Module*float64(p.Sun+p.Planet)/2, 1e-12)
	})
}

func TestPropertyPlanetaryScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drivetest.Stages().Draw(t, "stage")
		torque, k := draw.Log(0.1, 100).Draw(t, "torque"), draw.Log(0.5, 2).Draw(t, "scale")
		load := func(p drive.PlanetaryStage, torque, speed float64) (drive.StageLoad, [3]material.Utilisation) {
			l, err := p.Load(torque, speed)
			require.NoError(t, err)
			u, err := p.Bending(l, 200e6)
			require.NoError(t, err)
			return l, u
		}
		a, ua := load(p, torque, 0)
		larger := p
		larger.Module *= k
		larger.Face *= k
		_, ub := load(larger, torque*k*k*k, 0)
		for i := range ua {
			require.InEpsilon(t, ua[i].Safety(), ub[i].Safety(), 1e-9, "similar stages, torque as their volume")
		}
		b, _ := load(p, torque*k, 0)
		require.InEpsilon(t, k*a.ToothForce, b.ToothForce, 1e-12)
		require.Less(t, ua[2].Demand, ua[0].Demand, "the ring is stronger than the sun")
	})
}
