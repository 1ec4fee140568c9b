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

func TestCheckLostMotion(t *testing.T) {
	const degree = math.Pi / 180
	const hand = "in plain decimal arithmetic: "
	mesh, err := drive.PlayAngle(0.08e-3, 20e-3)
	require.NoError(t, err)
	along, err := drive.AlongCircle(0.08e-3, 20*degree)
	require.NoError(t, err)
	normal, err := drive.PlayAngle(along, 20e-3)
	require.NoError(t, err)
	key, err := drive.PlayAngle(0.02e-3, 6e-3)
	require.NoError(t, err)
	chain, err := drive.Lost(0, []drive.Play{{Angle: 0.10 * degree, Ratio: 1}, {Angle: 0.30 * degree, Ratio: 4}})
	require.NoError(t, err)
	shaft, err := drive.Lost(8, []drive.Play{{Stiffness: 2181.16897941, Ratio: 1}})
	require.NoError(t, err)
	geared, err := drive.Lost(8, []drive.Play{{Stiffness: 400, Ratio: 5}})
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "80 µm at 20 mm [°]", Source: hand + "j/r", Kind: verify.Own, Want: 0.22918312, Got: mesh / degree, Tol: 1e-8, Why: "eight digits given"},
		{Name: "80 µm normal, along the circle [mm]", Source: hand + "j/cos 20°", Kind: verify.Own, Want: 0.08513422, Got: along * 1e3, Tol: 1e-7, Why: "seven digits given"},
		{Name: "80 µm normal at 20 mm [°]", Source: hand + "j/(r·cos 20°)", Kind: verify.Own, Want: 0.24389158, Got: normal / degree, Tol: 3e-8, Why: "eight digits given"},
		{Name: "key, 20 µm on 12 mm [°]", Source: hand + "0.02/6", Kind: verify.Own, Want: 0.19098593, Got: key / degree, Tol: 1e-8, Why: "eight digits given"},
		{Name: "0.10 at the output, 0.30 before 4 : 1 [°]", Source: hand + "sum", Kind: verify.Own, Want: 0.175, Got: chain.Play / degree, Tol: 1e-12, Why: "exact"},
		{Name: "at a motor of 20 : 1, in full steps of 1.8°", Source: hand + "3.5/1.8", Kind: verify.Own, Want: 1.94444, Got: chain.Total / degree * 20 / 1.8, Tol: 3e-6, Why: "six digits given"},
		{Name: "wind-up of a stepped shaft, 8 N·m [°]", Source: hand + "8/2181.16897941", Kind: verify.Own, Want: 0.21014705, Got: shaft.WindUp / degree, Tol: 3e-8, Why: "eight digits given"},
		{Name: "coupling of 400 N·m/rad before 5 : 1, 8 N·m", Source: hand + "(8/5)/400/5", Kind: verify.Own, Want: 8e-4, Got: geared.Total, Tol: 1e-12, Why: "exact"},
	})
	_, err = drive.Lost(math.NaN(), nil)
	assert.EqualError(t, err, "drive.Lost: torque = NaN N·m: allowed 0 to 1e+08 N·m")
	_, err = drive.Lost(1, []drive.Play{{Ratio: 1}, {Angle: 2, Stiffness: -1}})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Play[1].Angle = 2 rad: allowed 0 to 1 rad\ndrive.Play[1].Stiffness = -1 N·m/rad: allowed 0.001 to 1e+12 N·m/rad\n"+
		"drive.Play[1].Ratio = 0: allowed 0.001 to 1e+06")
	_, err = drive.SeriesStiffness()
	assert.EqualError(t, err, "drive.SeriesStiffness: each = 0: allowed 1 to 1000")
}

func TestPropertyLostMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "plays")
		plays, ratio, each := make([]drive.Play, n), 1.0, make([]float64, n)
		for i := range plays {
			each[i] = draw.Log(10, 1e5).Draw(t, "stiffness")
			plays[i] = drive.Play{Angle: draw.Log(1e-4, 0.05).Draw(t, "play"), Stiffness: each[i], Ratio: ratio}
			ratio *= draw.Uniform(1, 5).Draw(t, "ratio")
		}
		torque := draw.Log(0.01, 100).Draw(t, "torque")
		lost := func(torque float64, plays ...drive.Play) drive.LostMotion {
			l, err := drive.Lost(torque, plays)
			require.NoError(t, err)
			return l
		}
		all := lost(torque, plays...)
		cut := rapid.IntRange(0, n).Draw(t, "cut")
		front, back := lost(torque, plays[:cut]...), lost(torque, plays[cut:]...)
		require.InEpsilon(t, all.Total, front.Total+back.Total, 1e-12, "a chain is the sum of its parts")
		require.InEpsilon(t, all.Total, all.Play+all.WindUp, 1e-12)
		require.Equal(t, all.Play, lost(0, plays...).Total, "no torque, no twist")
		require.InEpsilon(t, 2*all.WindUp, lost(2*torque, plays...).WindUp, 1e-12)

		// One more ratio behind all of it: play falls with it, twist by the same output torque with its square.
		for i := range plays {
			plays[i].Ratio *= 3
		}
		geared := lost(torque, plays...)
		require.InEpsilon(t, all.Play/3, geared.Play, 1e-12)
		require.InEpsilon(t, all.WindUp/9, geared.WindUp, 1e-12)

		k, err := drive.SeriesStiffness(each...)
		require.NoError(t, err)
		softest := math.Inf(1)
		for i := range plays {
			plays[i].Ratio = 1
			softest = min(softest, each[i])
		}
		require.InEpsilon(t, torque/k, lost(torque, plays...).WindUp, 1e-12, "one behind the other")
		require.LessOrEqual(t, k, softest*(1+1e-12))
		require.GreaterOrEqual(t, k, softest/float64(n)*(1-1e-12))
	})
}
