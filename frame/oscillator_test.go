package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
)

// Far into a drift the largest deflection is in the first or last cycle; hundreds of
// cycles sampled densely show no other.
func TestPropertyLargestDeflectionIsFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := make(frame.Profile, rapid.IntRange(1, 4).Draw(t, "pieces"))
		for i := range p {
			p[i] = frame.Piece{Duration: draw.Log(0.05, 30).Draw(t, "duration"), Acceleration: draw.Uniform(-1, 1).Draw(t, "acceleration"), Jerk: draw.Log(1e-3, 30).Draw(t, "jerk")}
			p[i].Jerk *= draw.Uniform(-1, 1).Draw(t, "part")
		}
		if rapid.Bool().Draw(t, "kick") { // and the largest within a cycle of it
			p = append(p[:1], frame.Piece{Duration: draw.Uniform(0.3, 1.5).Draw(t, "short"), Acceleration: draw.Uniform(-3, 3).Draw(t, "hard"), Jerk: draw.Uniform(-30, 30).Draw(t, "steep")})
			p[0].Duration = math.Min(p[0].Duration, 0.3)
		}
		tone := frame.Tone{Frequency: 1, Damping: draw.Uniform(0, 0.3).Draw(t, "damping"), Share: 1}
		most := 0.0
		const samples = 500
		for i := range samples + 1 {
			most = math.Max(most, math.Abs(deflection(t, p, p.Duration()*float64(i)/samples, tone)))
		}
		r := respond(t, p, tone)
		require.GreaterOrEqual(t, r.During, most*(1-1e-12))
		step := 2 * math.Pi * p.Duration() / samples
		require.LessOrEqual(t, r.During-most, step*step/8*2*(p.Greatest()/(4*math.Pi*math.Pi)+most)+1e-12)
	})
}

// The same where the largest lies between the ends of a short steep piece, which
// random motions seldom bring about.
func TestLargestDeflectionBetweenTheEnds(t *testing.T) {
	const samples = 150
	for _, zeta := range []float64{0, 0.3} {
		for a := -3.0; a <= 3; a += 0.5 {
			for j := -30.0; j <= 30; j += 3 {
				tone := frame.Tone{Frequency: 1, Damping: zeta, Share: 1}
				p := frame.Profile{{Duration: 0.2, Acceleration: 1}, {Duration: 0.9, Acceleration: a, Jerk: j}}
				most := 0.0
				for i := range samples + 1 {
					most = math.Max(most, math.Abs(deflection(t, p, 0.2+0.9*float64(i)/samples, tone)))
				}
				r := respond(t, p, tone)
				require.GreaterOrEqual(t, r.During, most*(1-1e-12), "ζ %g, %g m/s², %g m/s³", zeta, a, j)
				require.Less(t, r.During, most*(1+2e-3))
			}
		}
	}
}
