package drive_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

func TestCheckCrossPin(t *testing.T) {
	s, err := drive.CrossPin{Pin: 4e-3, Shaft: 12e-3, Hub: 24e-3}.Stress(8)
	require.NoError(t, err)
	const hand = "in plain decimal arithmetic: "
	verify.Table(t, []verify.Row{
		{Name: "4 mm in 12 mm, 8 N·m: double shear", Source: hand + "4T/(π·d²·D)", Kind: verify.Own, Want: 53.0516477e6, Got: s.Shear, Tol: 1e-9, Why: "nine digits given"},
		{Name: "pressure in the shaft", Source: hand + "6T/(d·D²)", Kind: verify.Own, Want: 83.3333333e6, Got: s.Shaft, Tol: 1e-9, Why: "nine digits given"},
		{Name: "pressure in the hub", Source: hand + "8/(4e-3·6e-3·18e-3)", Kind: verify.Own, Want: 18.5185185e6, Got: s.Hub, Tol: 1e-8, Why: "nine digits given"},
		{Name: "pressure in the hub", Source: "force at the mean radius of the wall, 2·8/(9e-3·2), on 4 mm × 6 mm", Kind: verify.Own, Want: 8 / 9e-3 / 2 / (4e-3 * 6e-3), Got: s.Hub, Tol: 1e-12, Why: "exact"},
	})
	assert.Equal(t, []string{"pin of 0.333 shaft diameters, practice 0.2 to 0.3"}, s.Beyond)
	_, err = drive.CrossPin{Pin: 7e-3, Shaft: 12e-3, Hub: 12e-3}.Stress(-1)
	assert.EqualError(t, err, "drive.CrossPin.Hub = 0.012 m: allowed 0.01224 to 100 m\n"+
		"drive.CrossPin.Pin = 0.007 m: allowed 0.0001 to 0.006 m\ndrive.CrossPin.Stress: torque = -1 N·m: allowed 0 to 1e+08 N·m")
}

// The softer of pin and hole gives way to pressure; the pin shears at 0.577 of its own yield.
func TestCrossPinCapacities(t *testing.T) {
	p := drive.CrossPin{Pin: 3e-3, Shaft: 12e-3, Hub: 24e-3}
	for _, c := range []struct {
		strength drive.PinStrength
		want     [3]float64
	}{
		{drive.PinStrength{Pin: 500e6, Shaft: 400e6, Hub: 300e6}, [3]float64{288.5e6, 400e6, 300e6}},
		{drive.PinStrength{Pin: 200e6, Shaft: 400e6, Hub: 300e6}, [3]float64{115.4e6, 200e6, 200e6}},
	} {
		u, err := p.Utilisations(8, c.strength)
		require.NoError(t, err)
		s, err := p.Stress(8)
		require.NoError(t, err)
		for i, demand := range []float64{s.Shear, s.Shaft, s.Hub} {
			assert.InEpsilon(t, c.want[i], u[i].Capacity, 1e-12, u[i].Part)
			assert.Equal(t, demand, u[i].Demand, u[i].Part)
		}
	}
}

func TestPropertyCrossPin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw.Log(3e-3, 0.2).Draw(t, "shaft")
		p := drive.CrossPin{Pin: d * draw.Uniform(0.2, 0.3).Draw(t, "pin"), Shaft: d, Hub: d * draw.Uniform(1.2, 3).Draw(t, "hub")}
		torque, k := draw.Log(0.1, 1e4).Draw(t, "torque"), draw.Uniform(1.1, 3).Draw(t, "scale")
		s, err := p.Stress(torque)
		require.NoError(t, err)
		require.Nil(t, s.Beyond)

		// The pressure in the shaft, from nothing at the centre, turns back the torque.
		var moment float64
		const n = 1000
		for i := range n {
			x := (float64(i) + 0.5) / n * d / 2
			moment += 2 * s.Shaft * x / (d / 2) * p.Pin * x * d / 2 / n
		}
		require.InEpsilon(t, torque, moment, 1e-5)

		// All of it larger k times, with k³ times the torque, is stressed alike.
		similar, err := drive.CrossPin{Pin: p.Pin * k, Shaft: p.Shaft * k, Hub: p.Hub * k}.Stress(torque * k * k * k)
		require.NoError(t, err)
		require.InEpsilon(t, s.Shear, similar.Shear, 1e-9)
		require.InEpsilon(t, s.Shaft, similar.Shaft, 1e-9)
		require.InEpsilon(t, s.Hub, similar.Hub, 1e-9)

		strength := drive.PinStrength{Pin: yields(t, "pin"), Shaft: yields(t, "shaft"), Hub: yields(t, "hub")}
		safety := draw.Uniform(1, 4).Draw(t, "safety")
		p.Pin, err = p.PinFor(torque, strength, safety)
		require.NoError(t, err)
		if p.Pin <= 1e-4 || p.Validate() != nil { // thinner or thicker than any
			return
		}
		u, err := p.Utilisations(torque, strength)
		require.NoError(t, err)
		require.InEpsilon(t, safety, min(u[0].Safety(), u[1].Safety(), u[2].Safety()), 1e-9, "PinFor inverts Utilisations")
	})
}
