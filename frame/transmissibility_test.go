package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckTransmissibility(t *testing.T) {
	const closed = "√((1+(2ζr)²)/((1−r²)²+(2ζr)²)) in 30 digits"
	var rows []verify.Row
	at := []float64{0.5, 1, math.Sqrt2, 2, 3, 5}
	for zeta, values := range map[float64][]float64{
		0.01: {1.33328149, 50.009999, 1, 0.33357024, 0.12522128, 0.04187412},
		0.05: {1.33204215, 10.04987562, 1, 0.33918173, 0.13041217, 0.04657464},
		0.1:  {1.32822895, 5.09901951, 1, 0.35586171, 0.14536553, 0.05887448},
		0.2:  {1.31382688, 2.69258240, 1, 0.41246149, 0.19309600, 0.09284767},
	} {
		for i, want := range values {
			got, err := frame.Transmissibility(at[i], zeta)
			require.NoError(t, err)
			tol := 6e-9 / want
			if zeta == 0.01 && i == 1 {
				tol = 6e-7 / want // six decimals
			}
			rows = append(rows, verify.Row{Name: fmt.Sprintf("transmissibility at %.3g, ζ %g", at[i], zeta), Source: closed, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "decimals printed"})
		}
	}
	const thomson = "Thomson, Dahleh, Theory of Vibration with Applications, Ex. 3.6-1"
	shaken := func(mass, stiffness, force, omega, zeta float64) (x, tr float64) {
		r := omega / math.Sqrt(stiffness/mass)
		a, err := frame.Amplification(r, zeta)
		require.NoError(t, err)
		tr, err = frame.Transmissibility(r, zeta)
		require.NoError(t, err)
		return force / stiffness * a, tr
	}
	x, tr := shaken(100, 700e3, 350, 100*math.Pi, 0.2)
	rows = append(rows,
		verify.Row{Name: "deflection at 3000 rpm [m]", Source: thomson, Kind: verify.Memory, Want: 3.79e-5, Got: x, Tol: 0.0014, Why: "three digits printed"},
		verify.Row{Name: "transmissibility at 3000 rpm", Source: thomson, Kind: verify.Memory, Want: 0.137, Got: tr, Tol: 0.004, Why: "three digits printed"},
		verify.Row{Name: "force on the ground [N]", Source: thomson, Kind: verify.Memory, Want: 47.89, Got: 350 * tr, Tol: 2e-4, Why: "four digits printed"})
	x, tr = shaken(70, 30000, 450, 13, 0.2)
	rows = append(rows,
		verify.Row{Name: "deflection, 70 kg at 13 rad/s [m]", Source: closed, Kind: verify.Own, Want: 22.876769e-3, Got: x, Tol: 3e-8, Why: "eight digits printed"},
		verify.Row{Name: "force on the ground, 70 kg [N]", Source: closed, Kind: verify.Own, Want: 707.622505, Got: 450 * tr, Tol: 1e-9, Why: "nine digits printed"})
	verify.Table(t, rows)
}

func TestCheckDecrement(t *testing.T) {
	const exact = "2πζ/√(1−ζ²) in 30 digits"
	var rows []verify.Row
	for zeta, want := range map[float64]float64{0.005: 0.03141631924, 0.01: 0.06283499490, 0.02: 0.1256888464, 0.05: 0.3145527023, 0.1: 0.6314838834, 0.2: 1.282549830} {
		got, err := frame.Decrement(zeta)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("δ of ζ %g", zeta), Source: exact, Kind: verify.Own, Want: want, Got: got, Tol: 6e-10, Why: "ten digits printed"})
	}
	const thomson = "Thomson, Dahleh, Theory of Vibration with Applications, Ex. 2.6-2"
	got, err := frame.Decrement(0.0681)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "δ of ζ 0.0681", Source: thomson, Kind: verify.Memory, Want: 0.429, Got: got, Tol: 0.0012, Why: "three digits printed"})
	peaks, err := frame.DecrementOfPeaks(1.535137381, 1, 1)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "δ of peaks 1.535 to 1", Source: thomson + ", recomputed", Kind: verify.Own, Want: 0.428619876, Got: peaks, Tol: 2e-9, Why: "nine digits printed"})
	// The warning in numbers: a decrement taken for a ratio.
	right, err := frame.DampingRatio(frame.BoltedDecrement)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "0.05 as decrement, ζ [%]", Source: "ENV 1991-2-4:1995, Annex C, δ; ζ = δ/2π", Kind: verify.Own, Want: 0.796, Got: 100 * right, Tol: 7e-4, Why: "three digits printed"})
	verify.Table(t, rows)
}

func TestPropertyDampingMeasured(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		zeta := draw.Log(1e-4, 0.3).Draw(t, "ζ")
		delta, err := frame.Decrement(zeta)
		require.NoError(t, err)
		back, err := frame.DampingRatio(delta)
		require.NoError(t, err)
		require.InEpsilon(t, zeta, back, 1e-12)
		// Knocked: peaks a whole number of cycles apart.
		n := rapid.IntRange(1, 20).Draw(t, "cycles")
		knock := frame.Profile{{Duration: 0.01, Acceleration: 1}}
		tone := frame.Tone{Frequency: 10, Damping: zeta, Share: 1}
		period := 0.1 / math.Sqrt(1-zeta*zeta)
		first, later := math.Abs(deflection(t, knock, 0.05, tone)), math.Abs(deflection(t, knock, 0.05+float64(n)*period, tone))
		if later > first*1e-8 {
			got, err := frame.DecrementOfPeaks(first, later, n)
			require.NoError(t, err)
			require.InEpsilon(t, delta, got, 1e-6)
		}
		// Shaken: where the deflection is 1/√2 of its highest.
		f := draw.Log(1, 100).Draw(t, "frequency")
		highest := 1 / (2 * zeta * math.Sqrt(1-zeta*zeta))
		half := func(lo, hi float64) float64 {
			for range 200 {
				mid := (lo + hi) / 2
				a, err := frame.Amplification(mid, zeta)
				require.NoError(t, err)
				if a > highest/math.Sqrt2 {
					lo = mid
				} else {
					hi = mid
				}
			}
			return lo
		}
		top := math.Sqrt(1 - 2*zeta*zeta)
		lower, upper := f*half(top, 0), f*half(top, 3)
		got, err := frame.DampingOfBandwidth(lower, upper)
		require.NoError(t, err)
		require.InEpsilon(t, zeta, got, 1e-9)
		if zeta < 0.02 {
			require.InEpsilon(t, (upper-lower)/(upper+lower), got, 2e-3)
		}
	})
}

func TestPropertyTransmissibility(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, zeta := draw.Log(0.01, 100).Draw(t, "ratio"), draw.Log(1e-4, 0.25).Draw(t, "ζ")
		v, err := frame.Transmissibility(r, zeta)
		require.NoError(t, err)
		more, err := frame.Transmissibility(r, zeta*1.1)
		require.NoError(t, err)
		// Damping helps below √2 and harms above, where alone the mass moves less than its base.
		require.Equal(t, r > math.Sqrt2, v < 1)
		require.Equal(t, r > math.Sqrt2, more > v)
		a, err := frame.Amplification(r, zeta)
		require.NoError(t, err)
		require.InEpsilon(t, v, a*math.Hypot(1, 2*zeta*r), 1e-12)
	})
}

func TestTransmissibilityAndDampingRefuse(t *testing.T) {
	for words, f := range map[string]func() (float64, error){
		"frame.Transmissibility: frequency ratio = -1": func() (float64, error) { return frame.Transmissibility(-1, 0.1) },
		"frame.Amplification: damping ratio = 0":       func() (float64, error) { return frame.Amplification(1, 0) },
		"frame.Decrement: damping ratio = 1":           func() (float64, error) { return frame.Decrement(1) },
		"first peak = 1: allowed 2 to 2e+09":           func() (float64, error) { return frame.DecrementOfPeaks(1, 2, 1) },
		"cycles = 0":                                   func() (float64, error) { return frame.DecrementOfPeaks(2, 1, 0) },
		"upper frequency = 60 Hz: allowed 10 to 50 Hz": func() (float64, error) { return frame.DampingOfBandwidth(10, 60) },
		"lower frequency":                              func() (float64, error) { return frame.DampingOfBandwidth(math.NaN(), 60) },
	} {
		_, err := f()
		assert.ErrorIs(t, err, material.ErrInvalid)
		assert.ErrorContains(t, err, words)
	}
}
