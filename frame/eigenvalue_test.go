package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func eigenvalue(t require.TestingT, ends frame.Ends, mode int) float64 {
	b, err := frame.Eigenvalue(ends, mode)
	require.NoError(t, err)
	return b
}

const roots30 = "root of the frequency equation by 30-digit arithmetic"

func TestCheckEigenvalues(t *testing.T) {
	var rows []verify.Row
	cf := []float64{1.875104068712, 4.694091132974, 7.854757438238, 10.99554073488, 14.13716839105}
	cc := []float64{4.730040744863, 7.853204624096, 10.995607838, 14.13716549126, 17.27875965740}
	cp := []float64{3.926602312048, 7.068582745629, 10.21017612281, 13.35176877775, 16.49336143135}
	cg := []float64{2.365020372431, 5.497803919001, 8.639379828700, 11.78097245102, 14.92256510455}
	pi := math.Pi
	for _, c := range []struct {
		ends frame.Ends
		want []float64
	}{
		{frame.ClampedFree, cf}, {frame.ClampedClamped, cc}, {frame.FreeFree, cc}, {frame.ClampedPinned, cp}, {frame.FreePinned, cp},
		{frame.ClampedGuided, cg}, {frame.GuidedFree, cg}, {frame.PinnedPinned, []float64{pi, 2 * pi, 3 * pi}},
		{frame.GuidedGuided, []float64{pi, 2 * pi, 3 * pi}}, {frame.GuidedPinned, []float64{pi / 2, 3 * pi / 2, 5 * pi / 2}},
	} {
		for i, want := range c.want {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("βL %v, mode %d", c.ends, i+1), Source: roots30, Kind: verify.Own,
				Want: want, Got: eigenvalue(t, c.ends, i+1), Tol: 1e-12, Why: "13 digits printed"})
		}
	}
	const thomson = "Thomson, Dahleh, Theory of Vibration with Applications, 5th ed., App. D"
	for _, c := range []struct {
		ends   frame.Ends
		bL, sq []float64
	}{
		{frame.ClampedClamped, []float64{4.7300, 7.8532, 10.9956}, []float64{22.3733, 61.6728, 120.9034}},
		{frame.ClampedFree, []float64{1.8751, 4.6941, 7.8548}, []float64{3.5160, 22.0345, 61.6972}},
	} {
		for i := range c.bL {
			b := eigenvalue(t, c.ends, i+1)
			rows = append(rows,
				verify.Row{Name: fmt.Sprintf("βL %v, mode %d", c.ends, i+1), Source: thomson, Kind: verify.Print, Want: c.bL[i], Got: b, Tol: 0.51e-4 / c.bL[i], Why: "four decimals printed"},
				verify.Row{Name: fmt.Sprintf("(βL)² %v, mode %d", c.ends, i+1), Source: thomson, Kind: verify.Print, Want: c.sq[i], Got: b * b, Tol: 0.51e-4 / c.sq[i], Why: "four decimals printed"})
		}
	}
	const table = "Thomson, Dahleh, Theory of Vibration with Applications, 5th ed., Table 9.5-1, p. 283"
	for _, c := range []struct {
		ends frame.Ends
		sq   []float64
	}{
		{frame.PinnedPinned, []float64{9.87, 39.5, 88.9}}, {frame.ClampedFree, []float64{3.52, 22.0, 61.7}},
		{frame.FreeFree, []float64{22.4, 61.7, 121}}, {frame.ClampedPinned, []float64{15.4, 50.0, 104}},
	} {
		for i, want := range c.sq {
			b := eigenvalue(t, c.ends, i+1)
			unit, why := math.Pow(10, math.Floor(math.Log10(want))-2), "three digits printed"
			tol := 0.5 * unit / want
			if want == 88.9 {
				tol, why = unit/want, "three digits, printed one unit high"
			}
			rows = append(rows, verify.Row{Name: fmt.Sprintf("(βL)² %v, mode %d", c.ends, i+1), Source: table, Kind: verify.Print, Want: want, Got: b * b, Tol: tol, Why: why})
		}
	}
	verify.Table(t, rows)
}

func TestCheckBeamsWithPointMass(t *testing.T) {
	var rows []verify.Row
	add := func(name string, want, got, tol float64) {
		rows = append(rows, verify.Row{Name: name, Source: roots30, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "ten or eleven digits printed"})
	}
	for _, c := range []struct{ mu, b1, b2, b3 float64 }{
		{0, 1.8751040687, 4.6940911330, 7.8547574382}, {0.1, 1.7227415206, 4.3995228162, 7.4510566733},
		{0.2, 1.6163996602, 4.2670615669, 7.3183726733}, {0.25, 1.5737513027, 4.2251128567, 7.2812363734},
		{0.5, 1.4199644298, 4.1111333864, 7.1903352420}, {1, 1.2479174096, 4.0311394367, 7.1341322409},
		{5, 0.87002145889, 3.9499804911, 7.0825376028}, {10, 0.73578191939, 3.9384658333, 7.0756163670},
	} {
		for i, want := range []float64{c.b1, c.b2, c.b3} {
			b, err := frame.TipMassEigenvalue(c.mu, i+1)
			require.NoError(t, err)
			add(fmt.Sprintf("βL tip mass μ = %g, mode %d", c.mu, i+1), want, b, 6e-11)
		}
	}
	for _, c := range []struct {
		ends       frame.Ends
		mu, b1, b2 float64
	}{
		{frame.PinnedPinned, 0, 3.1415926536, 9.4247779608}, {frame.PinnedPinned, 0.1, 3.0013028220, 9.0595482683},
		{frame.PinnedPinned, 0.2, 2.8872637849, 8.8303013463}, {frame.PinnedPinned, 0.5, 2.6393143307, 8.4744038242},
		{frame.PinnedPinned, 1, 2.3831906937, 8.2394414325}, {frame.PinnedPinned, 5, 1.7198467923, 7.9490887869},
		{frame.PinnedPinned, 10, 1.4627073849, 7.9026352180},
		{frame.ClampedClamped, 0, 4.7300407449, 10.995607838}, {frame.ClampedClamped, 0.1, 4.4698426517, 10.588758498},
		{frame.ClampedClamped, 0.2, 4.2667771259, 10.348676586}, {frame.ClampedClamped, 0.5, 3.8470713025, 9.9999057855},
		{frame.ClampedClamped, 1, 3.4377626891, 9.7855400137}, {frame.ClampedClamped, 2, 2.9990764865, 9.6412651899},
		{frame.ClampedClamped, 5, 2.4450419391, 9.5378006065}, {frame.ClampedClamped, 10, 2.0742506414, 9.4998967654},
	} {
		for i, want := range []float64{c.b1, c.b2} {
			b, err := frame.MidMassEigenvalue(c.ends, c.mu, i+1)
			require.NoError(t, err)
			add(fmt.Sprintf("βL mid mass %v μ = %g, mode %d", c.ends, c.mu, i+1), want, b, 6e-11)
		}
	}
	// A column with a guided head laden by μ of its own mass is half such a beam.
	for mu, want := range map[float64]float64{0: 2.3650203724, 0.1: 2.2349213258, 0.5: 1.9235356513, 1: 1.7188813445, 2: 1.4995382432, 5: 1.2225209696, 10: 1.0371253207} {
		b, err := frame.MidMassEigenvalue(frame.ClampedClamped, mu, 1)
		require.NoError(t, err)
		add(fmt.Sprintf("βL clamped-guided, head mass μ = %g", mu), want, b/2, 6e-11)
	}
	const card = "SFM/AFNOR, Guide de validation des progiciels de calcul de structures (1990), SDLL15"
	b, err := frame.TipMassEigenvalue(1, 1)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "(βL)² of 3EI/L³(M+0.24m) at μ = 1", Source: card, Kind: verify.Print, Want: math.Sqrt(3 / 1.24), Got: b * b,
		Tol: 0.0013, Why: "the card's formula is 0.12 % low at this ratio"})
	const ratios = "Applied Sciences 9 (2019) 2996, Tables 1 and 2, cantilever without and with tip mass 0.2"
	for i, c := range []struct{ bare, laden float64 }{{19.63, 14.58}, {123.02, 101.64}, {344.45, 299.00}} {
		b, err := frame.TipMassEigenvalue(0.2, i+1)
		require.NoError(t, err)
		r := b / eigenvalue(t, frame.ClampedFree, i+1)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("frequency ratio, mode %d", i+1), Source: ratios, Kind: verify.Print, Want: c.laden / c.bare, Got: r * r, Tol: 7e-4, Why: "two decimals of 14.58 and 19.63"})
	}
	verify.Table(t, rows)
}

// Neighbouring modes of every kind of ends stand one π apart, nearer and nearer:
// a mode missed or met twice would show.
func TestPropertyNoModeMissed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ends := frametest.AllEnds().Draw(t, "ends")
		mode := rapid.IntRange(1, 999).Draw(t, "mode")
		a, b := eigenvalue(t, ends, mode), eigenvalue(t, ends, mode+1)
		require.InDelta(t, math.Pi, b-a, 0.33/math.Pow(10, math.Min(9, float64(mode-1))))
		mu := draw.Log(1e-6, 1e6).Draw(t, "mass ratio")
		for name, get := range map[string]func(float64, int) (float64, error){
			"tip":     frame.TipMassEigenvalue,
			"pinned":  func(mu float64, n int) (float64, error) { return frame.MidMassEigenvalue(frame.PinnedPinned, mu, n) },
			"clamped": func(mu float64, n int) (float64, error) { return frame.MidMassEigenvalue(frame.ClampedClamped, mu, n) },
		} {
			bare, err := get(0, mode)
			require.NoError(t, err)
			laden, err := get(mu, mode)
			require.NoError(t, err)
			heavier, err := get(math.Min(1e6, 1.1*mu), mode)
			require.NoError(t, err)
			require.LessOrEqual(t, laden, bare*(1+1e-14), name)
			require.LessOrEqual(t, heavier, laden*(1+1e-14), name)
			if mode > 1 { // each mode stays above the bare one below it
				below, err := get(0, mode-1)
				require.NoError(t, err)
				require.Greater(t, laden, below, name)
			}
			light, err := get(1e-9, mode)
			require.NoError(t, err)
			require.InEpsilon(t, bare, light, 1e-7+1e-9*float64(mode), name)
		}
	})
}

// 33/140 of a beam at the tip, 17/35 or 13/35 at mid-span (the energy of the static
// shape) bound the frequency from above, Dunkerley's shares from below.
func TestPropertyPointMassBetweenBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mu := draw.Log(1e-3, 1e3).Draw(t, "mass ratio")
		tip, err := frame.TipMassEigenvalue(mu, 1)
		require.NoError(t, err)
		pinned, err := frame.MidMassEigenvalue(frame.PinnedPinned, mu, 1)
		require.NoError(t, err)
		clamped, err := frame.MidMassEigenvalue(frame.ClampedClamped, mu, 1)
		require.NoError(t, err)
		for _, c := range []struct {
			b, k, high, bare float64
		}{
			{tip, 3, 33.0 / 140, eigenvalue(t, frame.ClampedFree, 1)},
			{pinned, 48, 17.0 / 35, math.Pi},
			{clamped, 192, 13.0 / 35, eigenvalue(t, frame.ClampedClamped, 1)},
		} {
			w2 := math.Pow(c.b, 4)
			require.Less(t, w2, c.k/(mu+c.high)*(1+1e-10))
			require.Greater(t, w2, c.k/(mu+c.k/math.Pow(c.bare, 4))*(1-1e-10))
		}
		// The shared end of massless springs: a heavy mass sees only the stiffness.
		heavy, err := frame.MidMassEigenvalue(frame.ClampedClamped, 1e6, 1)
		require.NoError(t, err)
		require.InEpsilon(t, 192/1e6, math.Pow(heavy, 4), 1e-6)
	})
}

func TestEigenvalueRefuses(t *testing.T) {
	for _, c := range []struct {
		ends frame.Ends
		mode int
	}{{-1, 1}, {10, 1}, {frame.FreeFree, 0}, {frame.FreeFree, 1001}, {math.MaxInt, math.MinInt}} {
		_, err := frame.Eigenvalue(c.ends, c.mode)
		assert.ErrorIs(t, err, material.ErrInvalid)
	}
	_, err := frame.MidMassEigenvalue(frame.ClampedFree, -1, 0)
	assert.ErrorContains(t, err, "ends clamped-free")
	assert.ErrorContains(t, err, "mass ratio")
	assert.ErrorContains(t, err, "mode")
	assert.Equal(t, "guided-free", frame.GuidedFree.String())
	assert.Equal(t, "Ends(-3)", frame.Ends(-3).String())
}

func TestBitsEigenvalue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mu := draw.Bits().Draw(t, "mass ratio")
		if rapid.Bool().Draw(t, "sane") {
			mu = draw.Log(1e-12, 1e6).Draw(t, "sane mass ratio")
		}
		mode := rapid.OneOf(rapid.IntRange(-2, 1002), rapid.Int()).Draw(t, "mode")
		ends := frame.Ends(rapid.OneOf(rapid.IntRange(-1, 11), rapid.Int()).Draw(t, "ends"))
		_ = ends.String()
		b, err := frame.Eigenvalue(ends, mode)
		finite(t, err, b)
		b, err = frame.TipMassEigenvalue(mu, mode)
		finite(t, err, b)
		b, err = frame.MidMassEigenvalue(ends, mu, mode)
		finite(t, err, b)
	})
}

// finite fails on a value that is not a number, or not finite, without an error.
func finite(t require.TestingT, err error, values ...float64) {
	if err != nil {
		return
	}
	for _, v := range values {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%v", values)
	}
}

func ExampleMidMassEigenvalue() {
	// A beam of 1.5 kg, 1 m long, that would ring at 70 Hz bare, with 3.9 kg at
	// mid-span.
	bare, _ := frame.Eigenvalue(frame.PinnedPinned, 1)
	laden, err := frame.MidMassEigenvalue(frame.PinnedPinned, 3.9/1.5, 1)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.3g Hz\n", 70*laden*laden/(bare*bare))
	// Output: 28 Hz
}

func TestAttachedMassOutOfRange(t *testing.T) {
	for _, ratio := range []float64{-1, 2e6, math.NaN(), math.Inf(1)} {
		_, err := frame.TipMassEigenvalue(ratio, 1)
		assert.ErrorIs(t, err, material.ErrInvalid, "%g", ratio)
		_, err = frame.MidMassEigenvalue(frame.PinnedPinned, ratio, 1)
		assert.ErrorIs(t, err, material.ErrInvalid, "%g", ratio)
	}
	_, err := frame.TipMassEigenvalue(1, 0)
	assert.ErrorIs(t, err, material.ErrInvalid)
}
