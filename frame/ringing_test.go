package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

// superposed is the slow twin of Axis.Ringing: twelve modes of finite elements,
// the inertia of every node called up by the ends.
func superposed(t require.TestingT, a frame.Axis, m frame.Move, damping float64, point [3]float64) frame.Ringing {
	model, mid := finiteAxis(a, 8, rigid)
	n := model.k.SymmetricDim()
	all := mat.NewVecDense(n, nil) // all nodes one unit along y
	for i := 1; i < n; i += 6 {
		all.SetVec(i, 1)
	}
	var load mat.VecDense
	load.MulVec(model.m, all)
	values, shapes := model.vibrations(t)
	var sum frame.Ringing
	for i, v := range shapes {
		r := ringing(t, m, hertz(values[i]), damping)
		at := v[6*mid+1] + v[6*mid+5]*point[0] - v[6*mid+3]*point[2]
		part := math.Abs(mat.Dot(&load, mat.NewVecDense(n, v)) * at / values[i])
		sum.AfterRamp += part * r.AfterRamp
		sum.AfterMove += part * r.AfterMove
		sum.Worst += part * r.Worst
	}
	return sum
}

func TestPropertyAxisRingingAgreesWithFiniteElements(t *testing.T) {
	var tries, worst, ramp, move float64
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		period := 1 / modes(t, a)[0].Frequency
		m := timed(draw.Uniform(0.2, 1.5).Draw(t, "ramp")*period, draw.Uniform(0.1, 1.5).Draw(t, "cruise")*period, 0.1)
		damping := draw.Uniform(0, 0.05).Draw(t, "damping")
		var point [3]float64
		for i := range point {
			point[i] = a.Beam.Length * draw.Uniform(-0.2, 0.2).Draw(t, "point")
		}
		got, err := a.Ringing(m, damping, point)
		require.NoError(t, err)
		want := superposed(t, a, m, damping, point)
		// Where two modes nearly coincide, how they share the motion is not sharp.
		require.Greater(t, got.Worst, 0.45*want.Worst) // least seen 0.54
		require.Less(t, got.Worst, 2*want.Worst)
		near := func(got, want, of float64) float64 {
			if math.Abs(got-want) < 0.02*of {
				return 1
			}
			return 0
		}
		tries++
		worst += near(got.Worst, want.Worst, want.Worst)
		ramp += near(got.AfterRamp, want.AfterRamp, want.Worst)
		move += near(got.AfterMove, want.AfterMove, want.Worst)
	})
	assert.Greater(t, worst, 0.6*tries) // 91 in a hundred of thousands
	assert.Greater(t, ramp, 0.8*tries)  // 99
	assert.Greater(t, move, 0.75*tries) // 98
}

// The least share of the finite elements' sum that was seen: sway and twist 9 % apart.
func TestRingingOfCloseModesIsAsStated(t *testing.T) {
	a := frame.Axis{
		Beam: frame.Beam{Length: 0.4172952695272581, Metal: material.S235(), Section: frame.Section{Area: 9.060192131872372e-4,
			Iy: 1.5689838716672345e-8, Iz: 2.982419007931816e-7, J: 5.368711576846381e-8, Thickness: 0.01441554807941632}},
		Ends: frame.EndStiffness{Y: 2.956700247452946e9, Z: 4.0565212348581147e6, Roll: 1.0841140228184345e6},
		Bodies: []frame.Body{{Mass: 1.8309848539001659, Offset: [3]float64{0.014776779846317714, -0.03304264099174981, 0.006258951479084742},
			Inertia: [3]float64{1.658333544753536e-3, 8.716786622001652e-4, 8.716786622001652e-4}}},
	}
	period := 1 / modes(t, a)[0].Frequency
	point := [3]float64{0, 0, -0.092 * a.Beam.Length}
	m := timed(0.2*period, 0.1*period, 0.1)
	got, err := a.Ringing(m, 0, point)
	if err != nil {
		require.ErrorIs(t, err, frame.ErrStubby)
	}
	share := got.Worst / superposed(t, a, m, 0, point).Worst
	require.Greater(t, share, 0.67)
	require.Less(t, share, 0.8)
}

// A nozzle below the beam and a hopper above it: the mode that twists moves the
// nozzle one way by its sway and the other by its turn.
func TestCheckAxisRingingOfOpposedModes(t *testing.T) {
	a := gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, offset()...)
	m := timed(0.02, 0.3, 0.1)
	const how = "modal superposition over twelve modes of finite elements, own"
	var rows []verify.Row
	for name, point := range map[string][3]float64{"below": {0, 0, -0.2}, "above": {0, 0, 0.2}, "aside along the beam": {0.3, 0, -0.1}} {
		got, err := a.Ringing(m, 0.01, point)
		require.NoError(t, err)
		want := superposed(t, a, m, 0.01, point)
		const why = "the higher modes left out, 0.6 %, "
		rows = append(rows,
			verify.Row{Name: "worst, point " + name + " [m]", Source: how, Kind: verify.Own, Want: want.Worst, Got: got.Worst, Tol: 0.008, Why: why + "at the point where the modes oppose"},
			verify.Row{Name: "after ramp, point " + name + " [m]", Source: how, Kind: verify.Own, Want: want.AfterRamp, Got: got.AfterRamp, Tol: 0.008, Why: why + "at the point where the modes oppose"},
			verify.Row{Name: "after move, point " + name + " [m]", Source: how, Kind: verify.Own, Want: want.AfterMove, Got: got.AfterMove, Tol: 0.02, Why: why + "and phases after six periods, which follow the frequencies"})
	}
	verify.Table(t, rows)
}

// A stubby axis and one as soft as rubber ring all the same.
func TestAxisRingingEdges(t *testing.T) {
	a := gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, offset()...)
	m := timed(0.02, 0.3, 0.1)
	short := a
	short.Beam.Length = 0.4
	r, err := short.Ringing(m, 0.01, [3]float64{0, 0, -0.1})
	assert.ErrorIs(t, err, frame.ErrStubby)
	assert.Positive(t, r.Worst)

	// 2 N/m hold 1e6 kg: 2e-4 Hz, so slow that the mass stays where it was.
	afloat := gantry(t, frame.EndStiffness{Y: 1, Z: 5e6, Roll: 2e4}, frame.Body{Mass: 1e6})
	r, err = afloat.Ringing(frame.Move{Distance: 0.1, Speed: 0.1, Acceleration: 1}, 0, [3]float64{})
	require.NoError(t, err)
	assert.InEpsilon(t, 0.1, r.AfterMove, 1e-5)

	// All faults at once.
	a.Ends.Y = 0
	_, err = a.Ringing(frame.Move{}, 0.4, [3]float64{math.NaN(), 0, 0})
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"frame.EndStiffness.Y", "frame.Move.Distance", "frame.Axis: damping ratio = 0.4: allowed 0 to 0.3", "point x"} {
		assert.ErrorContains(t, err, field)
	}
}
