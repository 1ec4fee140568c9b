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

func TestCheckToothWear(t *testing.T) {
	const turns, k = 1e6, 1e-15 // 1e-6 mm³/(N·m)
	w, err := dry.ToothWear(false, k, 0.5)
	require.NoError(t, err)
	other, err := dry.ToothWear(true, k, 0.5)
	require.NoError(t, err)
	var rows []verify.Row
	own := func(name, how string, want, got, tol float64) {
		rows = append(rows, verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "digits given"})
	}
	const mean, local = "W = 2πTNH_v·k/(b·z·l_Fl) by hand, in mm", "k·F/b·|1 − v₂/v₁| by hand from ρ 1.122206/5.718197 and 2.766066/4.074337 mm"
	own("l_Fl, mm", "(d_a² − d_Nf²)/(4·d_b) by hand", 1.672804028, w.FlankLength*1e3, 1e-9)
	own("mean after 1e6 turns, mm", mean, 3.220605823e-3, w.Mean*turns*1e3, 1e-9)
	own("foot, mm", local, 0.018159740, w.Foot*turns*1e3, 1e-7)
	own("single contact low, mm", local, 0.004194386, w.SingleLow*turns*1e3, 2e-7)
	own("single contact high, mm", local, 0.002847566, w.SingleHigh*turns*1e3, 3e-7)
	own("tip, mm", local, 0.003563880, w.Tip*turns*1e3, 2e-7)
	own("equal wheel, foot, mm", "of equal gears the wheel wears as the pinion", 0.018159740, other.Foot*turns*1e3, 1e-7)
	own("turns to 0.1 mm", "0.1/0.018159740 million", 0.1/0.018159740*1e6, must(w.Turns(0.1e-3)), 1e-7)
	verify.Table(t, rows)
}

func must(x float64, err error) float64 {
	if err != nil {
		panic(err)
	}
	return x
}

// The mean of the local law along the flank is the mean of VDI 2736, since both are the
// energy of friction; and what rubs on one flank is what rubs on the other.
func TestPropertyWearIsFriction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := ratedPairs().Draw(t, "pair")
		g.Helix, g.Pinion.Shift, g.Wheel.Shift = 0, 0, 0
		g.Pinion.Teeth += 4 // no interference
		g.Wheel.Teeth = max(g.Wheel.Teeth, g.Pinion.Teeth)
		side := 1.0
		if g.Ring = rapid.Bool().Draw(t, "ring"); g.Ring {
			g.Wheel.Teeth += 80
			side = -1
		}
		k, torque := draw.Log(1e-17, 1e-13).Draw(t, "rate"), draw.Log(0.01, 10).Draw(t, "torque")
		ratio := float64(g.Wheel.Teeth) / float64(g.Pinion.Teeth)
		var volume [2]float64
		for i, wheel := range []bool{false, true} {
			w, err := g.ToothWear(wheel, k, torque)
			require.NoError(t, err)
			if !g.Ring {
				require.Greater(t, w.Foot, w.SingleLow)
				require.Greater(t, w.Tip*2, w.SingleHigh, "sliding grows towards the tip")
				require.Equal(t, w.Foot, w.Deepest())
			}
			require.LessOrEqual(t, w.Mean, w.Deepest())
			volume[i] = w.Mean * w.FlankLength
			u, err := w.Utilisation("flank", 1e5, g.Module/10)
			require.NoError(t, err)
			require.InEpsilon(t, 1e5*w.Mean, u.Demand, 1e-12)
			twice, err := g.ToothWear(wheel, 2*k, torque/4)
			require.NoError(t, err)
			require.InEpsilon(t, w.Deepest()/2, twice.Deepest(), 1e-12)
		}
		// One mesh of a tooth each: volumes an area of face are alike.
		require.InEpsilon(t, volume[0], volume[1], 1e-12)
		// The local law by the midpoint rule along the pinion's flank: ρ dρ/r_b of arc.
		z1, z2, alpha := float64(g.Pinion.Teeth), float64(g.Wheel.Teeth), g.Rack.PressureAngle
		b1, b2 := z1/2*g.Module*math.Cos(alpha), z2/2*g.Module*math.Cos(alpha)
		line := (b2 + side*b1) * math.Tan(alpha)
		a1, a2 := (z1/2+1)*g.Module, (z2/2+side)*g.Module
		start, end := side*(line-math.Sqrt(a2*a2-b2*b2)), math.Sqrt(a1*a1-b1*b1)
		p := math.Pi * g.Module * math.Cos(alpha)
		// H_v holds with the pitch point in single contact; near the base circle the sum is coarse.
		if touch := b1 * math.Tan(alpha); touch < end-p || touch > start+p || start < 0.3*g.Module {
			return
		}
		sum := 0.0
		const n = 4000
		for j := range n {
			x := start + (end-start)*(float64(j)+0.5)/n
			share := 1.0
			if x < end-p || x > start+p {
				share = 0.5
			}
			sum += share * k * torque / b1 / g.Face * math.Abs(1-(line-side*x)/ratio/x) * x / b1 * (end - start) / n
		}
		require.InEpsilon(t, sum, volume[0], 2e-3)
	})
}

func TestToothWearRefuses(t *testing.T) {
	_, err := dry.ToothWear(false, 1, math.NaN())
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.GearPair.ToothWear: torque = NaN N·m: allowed 0 to 1e+08 N·m")
	idle, err := dry.ToothWear(false, 1e-15, 0)
	require.NoError(t, err)
	turns, err := idle.Turns(1e-4)
	require.NoError(t, err)
	assert.Equal(t, 1e15, turns)
	_, err = drive.ToothWear{Foot: math.NaN()}.Turns(1e-4)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = idle.Utilisation("flank", -1, 0)
	assert.ErrorContains(t, err, "drive.ToothWear.Utilisation: most = 0 m: allowed 1e-09 to 1 m")
}
