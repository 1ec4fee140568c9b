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
)

// ibeam is an I as a profile, its centroid where Polygon puts it.
func ibeam(height, width, web, flange float64) (frame.Rolled, error) {
	s, err := frame.IBeam(height, width, web, flange)
	return frame.Rolled{Section: s, Moments: frame.Moments{Area: s.Area, Iy: s.Iy, Iz: s.Iz}}, err
}

func angle(height, width, wall, _ float64) (frame.Rolled, error) {
	return frame.Angle(height, width, wall)
}

var profiles = map[string]func(height, width, web, flange float64) (frame.Rolled, error){
	"angle": angle, "channel": frame.Channel, "tee": frame.Tee, "I": ibeam,
}

// drawn is the same profile corner by corner.
func drawn(kind string, h, w, tw, tf float64) frame.Polygon {
	switch kind {
	case "angle":
		return frame.Polygon{Outline: []frame.Point{{0, 0}, {w, 0}, {w, tw}, {tw, tw}, {tw, h}, {0, h}}}
	case "channel":
		return frame.Polygon{Outline: []frame.Point{{0, -h / 2}, {w, -h / 2}, {w, tf - h/2}, {tw, tf - h/2}, {tw, h/2 - tf}, {w, h/2 - tf}, {w, h / 2}, {0, h / 2}}}
	case "tee":
		return frame.Polygon{Outline: []frame.Point{{-w / 2, 0}, {w / 2, 0}, {w / 2, tf}, {tw / 2, tf}, {tw / 2, h}, {-tw / 2, h}, {-tw / 2, tf}, {-w / 2, tf}}}
	}
	return frame.Polygon{Outline: []frame.Point{{-w / 2, -h / 2}, {w / 2, -h / 2}, {w / 2, tf - h/2}, {tw / 2, tf - h/2}, {tw / 2, h/2 - tf}, {w / 2, h/2 - tf},
		{w / 2, h / 2}, {-w / 2, h / 2}, {-w / 2, h/2 - tf}, {-tw / 2, h/2 - tf}, {-tw / 2, tf - h/2}, {-w / 2, tf - h/2}}}
}

func TestCheckOpenProfiles(t *testing.T) {
	const membrane = "finite differences of Prandtl's membrane, up to 4 cells a millimetre, extrapolated"
	const shear = "finite volumes of ∇²χ = -z, ∂χ/∂n = 0, up to 4 cells a millimetre, extrapolated: area I²/∫zχ"
	var rows []verify.Row
	for _, c := range []struct {
		kind           string
		h, w, web, tf  float64
		j              float64
		sheary, shearz float64
	}{
		{"angle", 40, 40, 4, 4, 0, 131.743854, 133.133408},
		{"angle", 60, 40, 5, 5, 3872.49, 165.557317, 233.962239},
		{"angle", 30, 30, 3, 3, 501.977, 0, 0},
		{"channel", 50, 38, 5, 7, 9510.82, 0, 0},
		{"channel", 40, 20, 2, 2, 201.6405, 0, 0},
		{"channel", 100, 50, 4, 6, 0, 353.630128, 333.983251},
		{"tee", 40, 40, 5, 5, 3110.54, 0, 0},
		{"tee", 40, 40, 4, 8, 6869.59, 0, 0},
		{"tee", 100, 50, 4, 6, 0, 257.998320, 337.413283},
		{"I", 80, 46, 4, 5, 5285.37, 0, 0},
		{"I", 100, 50, 4, 6, 8835.56, 511.651935, 370.810417},
		{"I", 40, 40, 10, 10, 34933.55, 0, 0},
	} {
		p, err := profiles[c.kind](c.h*1e-3, c.w*1e-3, c.web*1e-3, c.tf*1e-3)
		require.NoError(t, err)
		name := fmt.Sprintf("%s %gx%gx%gx%g ", c.kind, c.h, c.w, c.web, c.tf)
		if c.j != 0 {
			rows = append(rows, verify.Row{Name: name + "J [mm⁴]", Source: membrane, Kind: verify.Own, Want: c.j, Got: p.Section.J * 1e12, Tol: 2e-3, Why: "the stated error of the joints"})
		}
		if c.sheary != 0 {
			const why = "thin walls: the stated error, always low"
			rows = append(rows,
				verify.Row{Name: name + "shear area along y [mm²]", Source: shear, Kind: verify.Own, Want: c.sheary, Got: p.Section.ShearY * 1e6, Tol: 0.075, Why: why},
				verify.Row{Name: name + "shear area along z [mm²]", Source: shear, Kind: verify.Own, Want: c.shearz, Got: p.Section.ShearZ * 1e6, Tol: 0.05, Why: why})
			assert.Less(t, p.Section.ShearY*1e6, c.sheary)
			assert.Less(t, p.Section.ShearZ*1e6, c.shearz)
		}
	}
	// A table's channel has fillets and sloping flanges, the plate that bends to a
	// thin channel none: e = 3b²t/(h + 6b) from the mid-line of the web.
	c, err := frame.Channel(0.101, 0.0505, 0.001, 0.001)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "channel 100x50x1 shear centre [mm]", Source: "S. Timoshenko, Strength of Materials, 3·50²/(100 + 6·50) from the mid-line", Kind: verify.Memory, Want: 18.75 - 0.5, Got: -c.ShearCentre.Y * 1e3, Tol: 1e-9, Why: "closed form"})
	verify.Table(t, rows)
}

func TestPropertyOpenProfiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, w := draw.Log(0.01, 0.1).Draw(t, "height"), draw.Log(0.01, 0.1).Draw(t, "width")
		flange := math.Min(h, w) * draw.Uniform(0.02, 1.0/6).Draw(t, "flange")
		web := flange * draw.Uniform(0.25, 1.5).Draw(t, "web")
		scale := draw.Log(0.3, 10).Draw(t, "scale")
		for kind, make := range profiles {
			tf := flange
			if kind == "angle" {
				tf = web
			}
			p, err := make(h, w, web, tf)
			require.NoError(t, err, kind)
			require.NoError(t, p.Section.Validate(), kind)
			require.NoError(t, p.Moments.Validate(), kind)
			m, err := drawn(kind, h, w, web, tf).Moments()
			require.NoError(t, err, kind)
			same(t, m, p.Moments)
			y, z, _ := p.Moments.Principal()
			s := p.Section
			require.InEpsilon(t, y, math.Max(s.Iy, s.Iz), 1e-12, kind)
			require.InEpsilon(t, z, math.Min(s.Iy, s.Iz), 1e-12, kind)
			// No open wall is as stiff in shear as all its metal, nor twists less than half its Σbt³/3.
			require.Less(t, math.Max(s.ShearY, s.ShearZ), s.Area)
			require.InEpsilon(t, math.Max(web, tf), s.Thickness, 1e-12)
			require.InEpsilon(t, s.J/s.Thickness, s.TorsionModulus, 1e-12)
			switch kind { // where the mid-lines meet
			case "angle":
				require.Equal(t, frame.Point{Y: web / 2, Z: web / 2}, p.ShearCentre)
			case "tee":
				require.Equal(t, frame.Point{Z: tf / 2}, p.ShearCentre)
			case "channel":
				require.Less(t, p.ShearCentre.Y, web/2) // behind the web
				require.Zero(t, p.ShearCentre.Z)
			}
			long, short := h-tf, math.Min(web, tf)
			require.Greater(t, s.J, 0.5*long*math.Pow(web, 3)/3+0.5*w*math.Pow(short, 3)/3, kind)

			big, err := make(scale*h, scale*w, scale*web, scale*tf)
			require.NoError(t, err)
			similar(t, s, big.Section, scale)
			require.InDelta(t, 0, math.Hypot(p.ShearCentre.Y*scale-big.ShearCentre.Y, p.ShearCentre.Z*scale-big.ShearCentre.Z)/(scale*h), 1e-12)
		}
		// Two tees foot to foot are an I.
		tee, err := frame.Tee(h/2, w, web/2, flange/2)
		require.NoError(t, err)
		i, err := frame.IBeam(h, w, web/2, flange/2)
		require.NoError(t, err)
		upside := tee.Moments
		upside.Centroid.Z = h - upside.Centroid.Z
		two := tee.Moments.Plus(upside)
		require.InEpsilon(t, i.Iy, two.Iy, 1e-12)
		require.InEpsilon(t, i.Iz, two.Iz, 1e-12)
		// Laid on its side, an angle is itself.
		a, err := frame.Angle(h, w, web/1.5)
		require.NoError(t, err)
		b, err := frame.Angle(w, h, web/1.5)
		require.NoError(t, err)
		require.InEpsilon(t, a.Section.Iy, b.Section.Iy, 1e-12)
		require.InEpsilon(t, a.Section.ShearY, b.Section.ShearY, 1e-9)
		require.InEpsilon(t, a.Section.ShearZ, b.Section.ShearZ, 1e-9)
		require.InEpsilon(t, a.Section.J, b.Section.J, 1e-12)
	})
}

func TestProfilesRefuse(t *testing.T) {
	_, err := frame.Angle(0.03, 0.04, 0.01)
	assert.EqualError(t, err, "frame.Angle: thickness of the web = 0.01 m: allowed 1e-05 to 0.0075 m\nframe.Angle: thickness of the flange = 0.01 m: allowed 1e-05 to 0.0075 m")
	_, err = frame.Channel(0.05, 0.04, 0.009, 0.005)
	assert.EqualError(t, err, "frame.Channel: web ÷ flange = 1.8: allowed 0.1 to 1.5")
	_, err = frame.Tee(0.05, math.Inf(1), 0.009, 0.005)
	assert.EqualError(t, err, "frame.Tee: width = +Inf m: allowed 0.0001 to 10 m")
	_, err = frame.IBeam(0.05, 0.05, 0.005, math.NaN())
	assert.EqualError(t, err, "frame.IBeam: thickness of the flange = NaN m: allowed 1e-05 to 0.0125 m")
}
