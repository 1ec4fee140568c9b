package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
)

// The ends of every documented range around a bearing are allowed together, in any
// combination, and one step beyond any of them is refused.
func TestPropertyBearingEdgesOfRanges(t *testing.T) {
	type span struct{ lo, hi float64 }
	var (
		load        = span{0, 1e9}
		carried     = span{1e-3, 1e9}
		rating      = span{1, 1e9}
		speed       = span{1e-6, 1e4}
		reliability = span{0.9, 0.9995}
		exponent    = span{drive.Ball, drive.Roller}
		turns       = span{1, 1e14}
		wanted      = span{1, 1e10}
	)
	block := func(v []float64) []drive.BearingBlock {
		return []drive.BearingBlock{{From: 1, To: 1, Speed: 1, Time: 1}, {From: v[0], To: v[1], Speed: v[2], Time: v[3]}}
	}
	spread := func(v []float64) drive.LifeSpread {
		return drive.LifeSpread{Least: v[0], Scale: v[1], Slope: v[2]}
	}
	film := func(v []float64) drive.BearingFilm {
		return drive.BearingFilm{Kind: drive.ThrustRoller, ViscosityRatio: v[0], Cleanliness: v[1], FatigueLimit: v[2]}
	}
	bearing := func(v []float64) drive.Bearing { return drive.Bearing{Dynamic: v[0], Static: v[1], Exponent: v[2]} }
	cases := map[string]struct {
		spans []span
		solve func(v []float64) error
	}{
		"EquivalentLoad.Utilisations": {[]span{rating, rating, exponent, carried, carried, speed, reliability, wanted}, func(v []float64) error {
			_, err := drive.EquivalentLoad{Dynamic: v[3], Static: v[4]}.Utilisations(bearing(v), v[5], v[6], v[7])
			return err
		}},
		"HeadThrust":         {[]span{{0, 1e9}, {1e-3, 1}}, func(v []float64) error { _, err := drive.HeadThrust(v[0], v[1]); return err }},
		"DeepGrooveLoad":     {[]span{load, load, rating, {5, 20}}, func(v []float64) error { _, err := drive.DeepGrooveLoad(v[0], v[1], v[2], v[3]); return err }},
		"AngularContactLoad": {[]span{load, load, {0.349, 0.7854}}, func(v []float64) error { _, err := drive.AngularContactLoad(v[0], v[1], v[2]); return err }},
		"TaperLoad":          {[]span{load, load, {0.3, 3}}, func(v []float64) error { _, err := drive.TaperLoad(v[0], v[1], v[2]); return err }},
		"ThrustLoad":         {[]span{load, load}, func(v []float64) error { _, err := drive.ThrustLoad(v[0], v[1]); return err }},
		"LeastThrust":        {[]span{{0, 1e6}, {0, 1e4}}, func(v []float64) error { _, err := drive.LeastThrust(v[0], v[1]); return err }},
		"AngularThrustLoad":  {[]span{load, load, {0.785, 1.484}, exponent}, func(v []float64) error { _, err := drive.AngularThrustLoad(v[0], v[1], v[2], v[3]); return err }},
		"MeanBearingLoad":    {[]span{load, load, {0, 1e4}, {0, 1e10}, exponent}, func(v []float64) error { _, err := drive.MeanBearingLoad(block(v), v[4]); return err }},
		"ReliabilityFactor":  {[]span{reliability}, func(v []float64) error { _, err := drive.ReliabilityFactor(v[0], drive.ISO281of2007); return err }},
		"the older table":    {[]span{{0.9, 0.99}}, func(v []float64) error { _, err := drive.ReliabilityFactor(v[0], drive.ISO281of1990); return err }},
		"LifeSpread.Rating": {[]span{{0, 1}, {0.1, 100}, {0.5, 10}, carried, turns, {0.5, 0.9999}, exponent}, func(v []float64) error {
			_, err := spread(v).Rating(v[3], v[4], v[5], v[6])
			return err
		}},
		"LifeSpread.Reliability": {[]span{{0, 1}, {0.1, 100}, {0.5, 10}, carried, rating, turns, exponent}, func(v []float64) error {
			_, err := spread(v).Reliability(v[3], v[4], v[5], v[6])
			return err
		}},
		"SystemLife":         {[]span{{1e-6, 1e30}, {1e-6, 1e30}, {1, 10}}, func(v []float64) error { _, err := drive.SystemLife(v[:2], v[2]); return err }},
		"BearingFilm.Factor": {[]span{{0.1, 1e4}, {0, 1}, carried, carried}, func(v []float64) error { _, err := film(v).Factor(v[3]); return err }},
		"ModifiedLife": {[]span{rating, rating, exponent, {0.1, 1e4}, {0, 1}, carried, carried, speed, reliability}, func(v []float64) error {
			_, err := bearing(v).ModifiedLife(v[6], v[7], v[8], film(v[3:]))
			return err
		}},
		"ReferenceViscosity": {[]span{{1e-3, 10}, {1e-3, 1e4}}, func(v []float64) error { _, err := drive.ReferenceViscosity(v[0], v[1]); return err }},
	}
	rapid.Check(t, func(t *rapid.T) {
		upper := rapid.Uint16().Draw(t, "upper edges")
		for name, c := range cases {
			v := make([]float64, len(c.spans))
			for i, s := range c.spans {
				if v[i] = s.lo; upper>>i&1 == 1 {
					v[i] = s.hi
				}
			}
			require.NoError(t, c.solve(v), "%s at %v", name, v)
			for i, s := range c.spans {
				kept := v[i]
				if v[i] = math.Nextafter(s.lo, math.Inf(-1)); kept == s.hi {
					v[i] = math.Nextafter(s.hi, math.Inf(1))
				}
				require.ErrorContains(t, c.solve(v), "allowed", "%s, value %d = %v", name, i, v[i])
				v[i] = kept
			}
		}
	})
}
