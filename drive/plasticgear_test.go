package drive_test

import (
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

var (
	dry    = sized(1e-3, 20, 20, 0, 0, 6e-3)
	dryUse = drive.PlasticUse{
		Torque: 0.5, Speed: 1000. / 60, Cycles: 1e6, Factor: 1, Friction: 0.2, On: 1, Ambient: material.Celsius(23),
		Young: 206e9, Poisson: 0.3,
	}
)

func plasticRating(t require.TestingT, g drive.GearPair, u drive.PlasticUse) drive.PlasticRating {
	r, err := g.RatePlastic(false, material.PA66(), u)
	if err != nil {
		require.ErrorContains(t, err, "temperature") // too hot for the fit; the rating stands
	}
	return r
}

func TestCheckPlasticGear(t *testing.T) {
	var rows []verify.Row
	own := func(name string, want, got, tol float64) {
		rows = append(rows, verify.Row{Name: name, Source: "VDI 2736-2's formulas by hand, all lengths in mm", Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
	}
	hot := func(root, flank, on, housing float64) drive.PlasticRating {
		u := dryUse
		u.RootHeat, u.FlankHeat, u.On, u.Housing = root*drive.HeatUnit, flank*drive.HeatUnit, on, housing
		return plasticRating(t, dry, u)
	}
	a, b, c := hot(1000, 9000, 1, 0), hot(2100, 9000, 0.4, 0), hot(2100, 9000, 1, 15)
	own("root, k 1000, °C", 40.347621, material.ToCelsius(a.RootTemperature), 2e-8)
	own("flank, k 9000, °C", 179.128587, material.ToCelsius(a.FlankTemperature), 1e-8)
	own("root, k 2100, on 0.4, °C", 43.266447, material.ToCelsius(b.RootTemperature), 2e-8)
	own("flank, k 9000, on 0.4, °C", 109.856200, material.ToCelsius(b.FlankTemperature), 1e-8)
	own("root, k 2100, closed housing, °C", 91.754658, material.ToCelsius(c.RootTemperature), 2e-8)
	own("loss, W", 0.2*0.205785141*52.35987756, a.Loss, 4e-9)
	// Another case gives P, H_v and v outright: rises in proportion to loss, 50 W · 0.2 · 0.165.
	g := sized(1e-3, 17, 50, 0, 0, 10e-3)
	u := dryUse
	u.Speed = 1 / (math.Pi * 17e-3)
	u.Torque = 50 / (2 * math.Pi * u.Speed)
	u.RootHeat, u.FlankHeat = 2100*drive.HeatUnit, 9000*drive.HeatUnit
	r := plasticRating(t, g, u)
	own("50 W, H_v 0.165: root, K", 20.382, (r.RootTemperature-u.Ambient)*0.165/r.LossFactor, 3e-5)
	own("50 W, H_v 0.165: flank, K", 87.353, (r.FlankTemperature-u.Ambient)*0.165/r.LossFactor, 6e-6)

	for _, c := range []struct {
		g    drive.GearPair
		loss float64
	}{
		{pair(20, 60, 0, 0), .15319692991}, {pair(17, 50, 0, 0), .17548098938}, {pair(18, 36, 0, 0), .18065033364}, {pair(20, 20, 0, 0), .20578514099},
		{pair(30, 75, 0, 0), .11343388987}, {pair(20, 60, .3, .2), .13701920673}, {pair(12, 60, .4, 0), .19937091220},
	} {
		m, err := c.g.Mesh()
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "H_v", Source: "closed form, and friction power integrated along the path to six digits", Kind: verify.Own, Want: c.loss, Got: m.LossFactor, Tol: 1e-10, Why: "ten digits given"})
	}
	// Root and flank of the first pair: tip load 20 teeth Y_Fa 2.79999, Y_Sa 1.552515.
	eps := 1.5568383035
	own("root stress, Pa", 50/6e-6*2.79999*1.552515*(0.25+0.75/eps), a.RootStress, 2e-6)
	modulus := math.Sqrt(1 / (math.Pi * ((1-0.38*0.38)/1.4e9 + 0.91/206e9)))
	own("flank stress, Pa", modulus*2.4945731714*math.Sqrt((4-eps)/3)*math.Sqrt(50/(20e-3*6e-3)*2), a.FlankStress, 1e-8)
	verify.Table(t, rows)
}

func TestPropertyPlasticGear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, u := ratedPairs().Draw(t, "pair"), dryUse
		u.Torque, u.Speed = draw.Log(1e-3, 0.1).Draw(t, "torque"), draw.Log(0.1, 50).Draw(t, "speed")
		u.RootHeat, u.FlankHeat = draw.Log(1e2, 1e4).Draw(t, "root")*drive.HeatUnit, draw.Log(1e2, 1e4).Draw(t, "flank")*drive.HeatUnit
		a := plasticRating(t, g, u)
		k := draw.Uniform(1.1, 2).Draw(t, "scale")
		faster, heavier, rested := u, u, u
		faster.Speed *= k
		heavier.Torque *= k
		rested.On = 0
		rise := func(u drive.PlasticUse) float64 { return plasticRating(t, g, u).RootTemperature - u.Ambient }
		if first := rise(u); first > 1e-6 {
			require.InEpsilon(t, math.Pow(k, 0.25), rise(faster)/first, 1e-6, "power as v, transfer as v^0.75")
			require.InEpsilon(t, k, rise(heavier)/first, 1e-6)
		}
		require.Zero(t, rise(rested))
		b := plasticRating(t, g, heavier)
		require.InEpsilon(t, k*a.RootStress, b.RootStress, 1e-12)
		require.InEpsilon(t, math.Sqrt(k)*a.FlankStress, b.FlankStress, 1e-12)
		if a.Root.Part != "" && b.Root.Part != "" {
			require.LessOrEqual(t, b.Root.Safety(), a.Root.Safety(), "a hotter root is weaker")
			longer := u
			longer.Cycles *= 10
			if c := plasticRating(t, g, longer); c.Root.Part != "" {
				require.LessOrEqual(t, c.Root.Safety(), a.Root.Safety())
			}
		}
	})
}

func TestPlasticGearStrength(t *testing.T) {
	u := dryUse
	u.RootHeat, u.FlankHeat = 1000*drive.HeatUnit, 1000*drive.HeatUnit
	r, err := dry.RatePlastic(true, material.PA66(), u)
	require.NoError(t, err)
	want, err := material.PA66().RootAt(r.RootTemperature, u.Cycles)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*want, r.Root.Capacity, 1e-12, "twice the test gear's number")
	want, err = material.PA66().FlankAt(r.FlankTemperature, u.Cycles)
	require.NoError(t, err)
	assert.InEpsilon(t, want, r.Flank.Capacity, 1e-12)
	assert.Equal(t, "wheel tooth root", r.Root.Part)
	assert.Equal(t, "wheel flank", r.Flank.Part)

	r, err = dry.RatePlastic(false, material.POM(), u)
	require.NoError(t, err)
	assert.Empty(t, r.Flank.Part, "no fit of POM's flank is known")
	assert.Equal(t, "pinion tooth root", r.Root.Part)

	cold := u
	cold.Ambient, cold.Cycles, cold.Torque = 250, 10, 0.01
	r, err = dry.RatePlastic(false, material.POM(), cold)
	require.NoError(t, err)
	want, err = material.POM().RootAt(material.Celsius(20), 1e5)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*want, r.Root.Capacity, 1e-12, "cold and few are taken at the fit's ends")

	u.FlankHeat = 9000 * drive.HeatUnit
	r, err = dry.RatePlastic(false, material.PA66(), u)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.InEpsilon(t, 179.1286, material.ToCelsius(r.FlankTemperature), 1e-6, "the temperature that is too high can be read")
	_, err = dry.RatePlastic(false, material.GearPlastic{}, drive.PlasticUse{})
	assert.ErrorContains(t, err, "drive.PlasticUse.Ambient = 0 K: allowed 200 to 500 K")
	assert.ErrorContains(t, err, "material.GearPlastic.Young")
	bare := material.POM()
	bare.Root = material.CycleFit{}
	_, err = dry.RatePlastic(false, bare, dryUse)
	assert.ErrorIs(t, err, material.ErrNoData)
}

func TestPlasticGearAllocatesNothing(t *testing.T) {
	pa, pom, u := material.PA66(), material.POM(), dryUse
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := dry.RatePlastic(false, pa, u); err != nil {
			panic(err)
		}
		if _, err := dry.RatePlastic(false, pom, u); err != nil {
			panic(err)
		}
	}))
}
