package drive_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
)

// The ends of every documented range are allowed together, in any combination, and
// compute; one step beyond any of them is refused.
func TestPropertyEdgesOfRanges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var values []*float64 // every value drawn, to push one of them over its edge
		var outside []float64
		edge := func(to *float64, lo, hi float64) {
			*to = lo
			beyond := math.Nextafter(lo, math.Inf(-1))
			if rapid.Bool().Draw(t, "at upper edge") {
				*to, beyond = hi, math.Nextafter(hi, math.Inf(1))
			}
			values, outside = append(values, to), append(outside, beyond)
		}
		try := func(name string, solve func() error) {
			if err := solve(); err != nil && !errors.Is(err, drive.ErrOutOfStep) {
				t.Fatalf("%s within its ranges: %v", name, err)
			}
			i := rapid.IntRange(0, len(values)-1).Draw(t, "which")
			kept := *values[i]
			*values[i] = outside[i]
			require.ErrorContains(t, solve(), "allowed", "%s, value %d = %v", name, i, outside[i])
			*values[i] = kept
			values, outside = nil, nil
		}

		s := drive.Stepper{RotorTeeth: rapid.SampledFrom([]int{2, 1000}).Draw(t, "rotor teeth")}
		motor := func() {
			edge(&s.HoldingTorque, 1e-4, 1e3)
			edge(&s.Current, 1e-3, 1e3)
			edge(&s.Resistance, 1e-4, 1e4)
			edge(&s.Inductance, 1e-7, 10)
		}
		var a, b, c, d float64
		motor()
		edge(&a, 0, 1e4)
		edge(&b, 1e-6, 1e3)
		edge(&c, 0.1, 1e4)
		try("PullOut", func() error { _, err := s.PullOut(a, b, c); return err })
		motor()
		edge(&b, 1e-6, 1e3)
		edge(&c, 0.1, 1e4)
		try("Corners", func() error { _, _, err := s.Corners(b, c); return err })
		motor()
		edge(&a, 0, 1e3)
		edge(&b, 0, 1e4)
		edge(&c, 0.1, 1e4)
		try("CurrentFor", func() error { _, err := s.CurrentFor(a, b, c); return err })
		edge(&a, 200, 600)
		try("Warm", func() error { _, err := s.Warm(a); return err })

		p := drive.PlanetaryStage{Sun: 12, Planet: 12, Ring: 36, Planets: 2}
		if rapid.Bool().Draw(t, "large gears") {
			p = drive.PlanetaryStage{Sun: 1000, Planet: 1000, Ring: 3000, Planets: 5}
		}
		gears := func() {
			edge(&p.Module, 5e-5, 0.1)
			edge(&p.Face, 1e-4, 1)
			edge(&p.MeshEfficiency, 0.5, 1)
			edge(&p.LoadShare, 1, float64(p.Planets))
		}
		gears()
		edge(&a, 0, 1e6)
		edge(&b, 0, 1e3)
		try("Load", func() error { _, err := p.Load(a, b); return err })
		var l drive.StageLoad
		gears()
		edge(&l.ToothForce, 0, 1e12)
		edge(&l.PitchSpeed, 0, 20)
		edge(&a, 1e5, 1e10)
		try("Bending", func() error { _, err := p.Bending(l, a); return err })
		var tooth drive.ToothBending
		edge(&tooth.Force, 0, 1e12)
		edge(&tooth.PitchSpeed, 0, 20)
		edge(&tooth.Module, 5e-5, 0.1)
		edge(&tooth.Face, 1e-4, 1)
		edge(&tooth.FormFactor, 0.1, 1)
		try("Stress", func() error { _, err := tooth.Stress(); return err })
		edge(&a, 1e5, 1e10)
		try("ToothBending.Utilisation", func() error { _, err := tooth.Utilisation("", a); return err })
		edge(&a, 0, 20)
		try("BarthFactor", func() error { _, err := drive.BarthFactor(a); return err })

		h := drive.Shaft{Yield: 1e5, Ultimate: 1e10, Endurance: 1e4}
		if rapid.Bool().Draw(t, "strong") {
			h.Yield, h.Endurance = 1e10, 1e10
		}
		var m drive.ShaftLoad
		edge(&h.Diameter, 1e-4, 10)
		edge(&h.BendingNotch, 1, 20)
		edge(&h.TorsionNotch, 1, 20)
		edge(&m.BendingMean, 0, 1e8)
		edge(&m.BendingAlternating, 0, 1e8)
		edge(&m.TorqueMean, 0, 1e8)
		edge(&m.TorqueAlternating, 0, 1e8)
		edge(&m.AxialMean, 0, 1e10)
		edge(&m.AxialAlternating, 0, 1e10)
		try("Fatigue", func() error { _, err := h.Fatigue(m); return err })
		edge(&a, 2e8, 2.2e9)
		edge(&b, 1e-3, 0.254)
		edge(&c, 0.5, 0.999999)
		try("EnduranceLimit", func() error { _, err := drive.EnduranceLimit(a, b, drive.Forged, c); return err })
		edge(&a, 345e6, 1517e6)
		edge(&b, 1e-6, 1)
		try("NotchSensitivity", func() error { _, _, err := drive.NotchSensitivity(a, b); return err })

		var g drive.Bearing
		catalogue := func() {
			edge(&g.Dynamic, 1, 1e9)
			edge(&g.Static, 1, 1e9)
			edge(&g.Exponent, drive.Ball, drive.Roller)
		}
		service := func() {
			edge(&a, 1e-3, 1e9)
			edge(&b, 1e-6, 1e4)
			edge(&c, 0.9, 0.9995)
		}
		catalogue()
		service()
		try("Life", func() error { _, err := g.Life(a, b, c); return err })
		catalogue()
		service()
		edge(&d, 1, 1e10)
		try("Bearing.Utilisations", func() error { _, err := g.Utilisations(a, b, c, d); return err })
		service()
		edge(&d, 1, 1e10)
		try("RequiredRating", func() error { _, err := drive.RequiredRating(a, b, c, d, g.Exponent); return err })
	})
}
