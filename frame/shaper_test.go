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

func shapedResidual(t require.TestingT, s frame.Shaper, frequency, damping float64) float64 {
	v, err := s.Residual(frequency, damping)
	require.NoError(t, err)
	return v
}

const singer = "N. C. Singer, W. P. Seering, ASME J. Dyn. Sys. Meas. Control 112 (1990) 76, equations from memory, in 30 digits"

func TestCheckShaperImpulses(t *testing.T) {
	var rows []verify.Row
	for _, c := range []struct {
		zeta, half float64 // half the damped period ÷ the undamped one
		shares     [3][]float64
	}{
		{0, 0.5, [3][]float64{{0.5, 0.5}, {0.25, 0.5, 0.25}, {0.125, 0.375, 0.375, 0.125}}},
		{0.01, 0.500025002, [3][]float64{{0.507853728, 0.492146272}, {0.257915409, 0.499876638, 0.242207953}, {0.130983302, 0.380796321, 0.369018635, 0.119201741}}},
		{0.02, 0.500100030, [3][]float64{{0.515705937, 0.484294063}, {0.265952613, 0.499506647, 0.234540739}, {0.137153342, 0.386397815, 0.362862155, 0.113586688}}},
		{0.05, 0.500626174, [3][]float64{{0.539238239, 0.460761761}, {0.290777878, 0.496920721, 0.212301401}, {0.156798551, 0.401937982, 0.343443100, 0.097820367}}},
		{0.1, 0.502518908, [3][]float64{{0.578286182, 0.421713818}, {0.334414908, 0.487742548, 0.177842545}, {0.193387520, 0.423082163, 0.308531658, 0.074998659}}},
		{0.2, 0.510310363, [3][]float64{{0.655041600, 0.344958400}, {0.429079498, 0.451924205, 0.118996298}, {0.281064921, 0.444043731, 0.233842576, 0.041048772}}},
	} {
		for n, shares := range c.shares {
			s := frame.Shaper{Frequency: 20, Damping: c.zeta, Impulses: n + 2}
			for i, want := range shares {
				got, _ := s.Impulse(i)
				rows = append(rows, verify.Row{Name: fmt.Sprintf("share %d of %d, ζ %g", i+1, n+2, c.zeta), Source: singer, Kind: verify.Own, Want: want, Got: got, Tol: 6e-10 / want, Why: "nine decimals printed"})
			}
			rows = append(rows, verify.Row{Name: fmt.Sprintf("delay of %d ÷ period, ζ %g", n+2, c.zeta), Source: singer, Kind: verify.Own, Want: float64(n+1) * c.half, Got: 20 * s.Delay(), Tol: 1.2e-9, Why: "nine decimals printed"})
		}
	}
	verify.Table(t, rows)
}

func TestCheckShaperResidual(t *testing.T) {
	const source = "V formula in D. Newman, S.-W. Hong, J. E. Vaughan, ASME J. Dyn. Sys. Meas. Control 140 (2018) 101005, evaluated impulse by impulse in 30 digits"
	var rows []verify.Row
	at := []float64{0.7, 0.8, 0.9, 0.95, 1, 1.05, 1.1, 1.2, 1.3}
	for _, c := range []struct {
		zeta     float64
		impulses int
		v        []float64
	}{
		{0, 2, []float64{.45399050, .30901699, .15643447, .07845910, 0, .07845910, .15643447, .30901699, .45399050}},
		{0, 3, []float64{.20610737, .09549150, .02447174, .00615583, 0, .00615583, .02447174, .09549150, .20610737}},
		{0.05, 2, []float64{.42892812, .28965500, .14547961, .07267784, 0, .07210855, .14320946, .28068563, .40916006}},
		{0.05, 3, []float64{.18397933, .08390002, .02116432, .00528207, 0, .00519964, .02050895, .07878442, .16741196}},
		{0.1, 2, []float64{.40365986, .27039503, .13472154, .06703570, 0, .06598571, .13053427, .25384797, .36717920}},
		{0.1, 3, []float64{.16294128, .07311347, .01814989, .00449379, 0, .00435411, .01703920, .06443879, .13482056}},
	} {
		s := frame.Shaper{Frequency: 20, Damping: c.zeta, Impulses: c.impulses}
		for i, want := range c.v {
			row := verify.Row{Name: fmt.Sprintf("V of %d at %g of its frequency, ζ %g", c.impulses, at[i], c.zeta), Source: source, Kind: verify.Own,
				Want: want, Got: shapedResidual(t, s, 20*at[i], c.zeta), Tol: 1e-15, Why: "rounding"}
			if want > 0 {
				row.Tol, row.Why = 6e-9/want, "eight decimals printed"
			}
			rows = append(rows, row)
		}
	}
	for n, want := range map[int]float64{2: 0.0636885, 3: 0.2871326, 4: 0.4803815} {
		low, high, err := frame.Shaper{Frequency: 20, Impulses: n}.Insensitivity(0.05)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("width of V ≤ 5 %% of %d ÷ frequency", n), Source: "|cos πq/2| to the power of one less than the impulses", Kind: verify.Own,
			Want: want, Got: (high - low) / 20, Tol: 6e-8 / want, Why: "seven decimals printed"})
		if n == 2 {
			rows = append(rows,
				verify.Row{Name: "lower end of V ≤ 5 % of 2", Source: "|cos πq/2| = 0.05", Kind: verify.Own, Want: 0.968156, Got: low / 20, Tol: 6e-7, Why: "six decimals printed"},
				verify.Row{Name: "upper end of V ≤ 5 % of 2", Source: "|cos πq/2| = 0.05", Kind: verify.Own, Want: 1.031844, Got: high / 20, Tol: 6e-7, Why: "six decimals printed"})
		}
	}
	verify.Table(t, rows)
}

func shapers() *rapid.Generator[frame.Shaper] {
	return rapid.Custom(func(t *rapid.T) frame.Shaper {
		return frame.Shaper{Frequency: draw.Log(1, 1000).Draw(t, "frequency"), Damping: draw.Uniform(0, 0.3).Draw(t, "damping"), Impulses: rapid.IntRange(2, 4).Draw(t, "impulses")}
	})
}

func TestPropertyShaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := shapers().Draw(t, "shaper")
		sum, last := 0.0, 0.0
		for i := range s.Impulses {
			share, delay := s.Impulse(i)
			require.Positive(t, share)
			sum += share
			last = delay
		}
		require.InEpsilon(t, 1, sum, 1e-14)
		require.InDelta(t, 1, s.Delay()/last, 1e-14)
		over, at := s.Impulse(s.Impulses)
		require.Zero(t, over+at)
		// V as printed, impulse by impulse.
		frequency := s.Frequency * draw.Uniform(0.3, 1.9).Draw(t, "frequency ÷ its own")
		damping := draw.Uniform(0, 0.3).Draw(t, "true damping")
		omega := 2 * math.Pi * frequency
		var sin, cos float64
		for i := range s.Impulses {
			a, d := s.Impulse(i)
			grow := a * math.Exp(damping*omega*d)
			y, x := math.Sincos(omega * math.Sqrt(1-damping*damping) * d)
			sin += grow * y
			cos += grow * x
		}
		v := shapedResidual(t, s, frequency, damping)
		require.InDelta(t, math.Exp(-damping*omega*s.Delay())*math.Hypot(sin, cos), v, 1e-12)
		require.LessOrEqual(t, v, 1.0)
		// Nothing at its own frequency; the slope too vanishes with three impulses, the curvature with four.
		require.Less(t, shapedResidual(t, s, s.Frequency, s.Damping), 1e-14)
		const off = 1e-3
		near := shapedResidual(t, s, s.Frequency*(1+off), s.Damping)
		require.Less(t, near, math.Pow(2*off, float64(s.Impulses-1)))
		// One impulse more leaves less anywhere.
		if s.Impulses < 4 {
			more := s
			more.Impulses++
			require.LessOrEqual(t, shapedResidual(t, more, frequency, damping), v)
		}
		// Insensitive is insensitive.
		level := draw.Log(1e-4, 0.5).Draw(t, "level")
		low, high, err := s.Insensitivity(level)
		require.NoError(t, err)
		require.Less(t, low, s.Frequency)
		require.Greater(t, high, s.Frequency)
		require.LessOrEqual(t, high, 2*s.Frequency)
		require.InEpsilon(t, level, shapedResidual(t, s, low, s.Damping), 1e-6)
		inside := low + (high-low)*draw.Uniform(0, 1).Draw(t, "inside")
		require.LessOrEqual(t, shapedResidual(t, s, inside, s.Damping), level*(1+1e-6)) // its edges are found to that
		if high < 2*s.Frequency {
			require.InEpsilon(t, level, shapedResidual(t, s, high, s.Damping), 1e-6)
		}
	})
}

// A shaped move leaves V times what the move leaves, and goes as far.
func TestPropertyShapedMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		p := profile(t, m)
		f := math.Max(0.01, draw.Log(0.3, 30).Draw(t, "cycles")/p.Duration())
		s := frame.Shaper{Frequency: f * draw.Uniform(0.6, 1.5).Draw(t, "made for"), Damping: draw.Uniform(0, 0.3).Draw(t, "damping"), Impulses: rapid.IntRange(2, 4).Draw(t, "impulses")}
		shaped, err := s.Shape(p)
		require.NoError(t, err)
		require.InEpsilon(t, p.Duration()+s.Delay(), shaped.Duration(), 1e-12)
		x, v, _ := shaped.At(shaped.Duration())
		require.InEpsilon(t, m.Distance, x, 1e-10)
		require.Less(t, math.Abs(v), 1e-10*m.Peak()+1e-14*m.Acceleration*shaped.Duration())
		require.LessOrEqual(t, shaped.Greatest(), p.Greatest()*(1+1e-9)) // of a piece of microseconds after seconds the duration is rounded
		// Its parts, added up.
		at := shaped.Duration() * draw.Uniform(0, 1).Draw(t, "time")
		sum := 0.0
		for i := range s.Impulses {
			share, delay := s.Impulse(i)
			y, _, _ := p.At(at - delay)
			sum += share * y
		}
		x, _, _ = shaped.At(at)
		require.InDelta(t, sum/m.Distance, x/m.Distance, 1e-10)

		tone := frame.Tone{Frequency: f, Damping: draw.Uniform(0, 0.3).Draw(t, "true damping"), Share: 1}
		unit := m.Acceleration / (f * f)
		r := respond(t, shaped, tone)
		require.InDelta(t, respond(t, p, tone).Left*shapedResidual(t, s, f, tone.Damping)/unit, r.Left/unit, 1e-9)
		own := frame.Tone{Frequency: s.Frequency, Damping: s.Damping, Share: 1}
		require.Less(t, respond(t, shaped, own).Left, 1e-9*unit)
	})
}

func TestPropertyShaperOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := draw.Log(1, 1000).Draw(t, "lowest")
		high := low * draw.Uniform(1, 2).Draw(t, "highest ÷ lowest")
		n := rapid.IntRange(2, 4).Draw(t, "impulses")
		damping := draw.Uniform(0, 0.1).Draw(t, "damping")
		s, worst, err := frame.ShaperOver(low, high, damping, n)
		require.NoError(t, err)
		between := low + (high-low)*draw.Uniform(0, 1).Draw(t, "between")
		require.LessOrEqual(t, shapedResidual(t, s, between, damping), worst*(1+1e-9)+1e-14)
		require.InDelta(t, shapedResidual(t, s, low, damping), worst, 1e-14)
		// No other centre does better without damping.
		s, worst, err = frame.ShaperOver(low, high, 0, n)
		require.NoError(t, err)
		s.Frequency *= draw.Uniform(0.8, 1.2).Draw(t, "elsewhere")
		require.GreaterOrEqual(t, math.Max(shapedResidual(t, s, low, 0), shapedResidual(t, s, high, 0)), worst*(1-1e-9))
	})
}

func TestShaperRefuses(t *testing.T) {
	_, err := frame.Shaper{Frequency: 0, Damping: 1, Impulses: 5}.Residual(-1, 0)
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"frame.Shaper.Frequency", "frame.Shaper.Damping", "frame.Shaper.Impulses = 5: allowed 2 to 4", "frame: frequency"} {
		assert.ErrorContains(t, err, field)
	}
	_, _, err = frame.ShaperOver(30, 20, 0, 2)
	assert.ErrorContains(t, err, "lowest frequency = 30 Hz: allowed 0.001 to 20 Hz")
	_, _, err = frame.ShaperOver(10, 20, 0.5, 2)
	assert.ErrorContains(t, err, "frame.Shaper.Damping")
	_, _, err = frame.Shaper{Frequency: 20, Impulses: 2}.Insensitivity(0.9)
	assert.ErrorContains(t, err, "level")
	_, err = frame.Shaper{Frequency: 20, Impulses: 1}.Shape(nil)
	assert.ErrorContains(t, err, "Impulses")
	assert.ErrorContains(t, err, "pieces")
}

func ExampleShaperOver() {
	// 18 Hz with the hopper full, 23 Hz empty.
	m := frame.Move{Distance: 0.03, Speed: 0.1, Acceleration: 2.5}
	for n := 2; n <= 3; n++ {
		s, residual, err := frame.ShaperOver(18, 23, 0.01, n)
		if err != nil {
			panic(err)
		}
		full, err := m.Ringing(18, 0.01)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%d parts: %.2g of the ringing left, %.0f µm of %.0f, %.0f ms longer\n", n, residual, residual*full.AfterMove*1e6, full.AfterMove*1e6, s.Delay()*1e3)
	}
	// Output:
	// 2 parts: 0.19 of the ringing left, 90 µm of 480, 24 ms longer
	// 3 parts: 0.035 of the ringing left, 17 µm of 480, 49 ms longer
}
