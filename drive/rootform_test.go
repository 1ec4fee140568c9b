package drive_test

import (
	"fmt"
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

const (
	fillets = "fillet as the edge of what the rack's tip disc sweeps, by least distance in 34 digits; 30° tangent, curvature and load normal numerically"
)

func pair(z1, z2 int, x1, x2 float64) drive.GearPair {
	return drive.GearPair{Rack: drive.RackA(), Module: 1e-3, Face: 8e-3, ShortenTips: true, Pinion: drive.Wheel{Teeth: z1, Shift: x1}, Wheel: drive.Wheel{Teeth: z2, Shift: x2}}
}

func TestCheckRootOuterPoint(t *testing.T) {
	var rows []verify.Row
	for _, c := range [][9]float64{ // teeth, shift, ε, s_Fn, h_Fe, ρ_F, α_Fen in degrees, Y_F, Y_S; mate 50, opposite shift
		{17, 0.0, 1.63473687, 1.88401648, 0.985368047, 0.581100712, 17.3034593, 1.69231392, 1.76964305},
		{17, 0.3, 1.57231602, 2.06990827, 0.954353004, 0.479536231, 21.7274009, 1.32119602, 2.07963963},
		{17, -0.2, 1.66168646, 1.74656102, 1.04010178, 0.65988146, 14.5008856, 2.10772332, 1.58102726},
		{18, 0.0, 1.64221946, 1.90629069, 0.980480253, 0.578331427, 17.4532672, 1.64345215, 1.79005274},
		{18, 0.3, 1.58249, 2.0844668, 0.948474482, 0.478007696, 21.6314342, 1.29564275, 2.09871237},
		{18, -0.2, 1.66734266, 1.7741966, 1.03432941, 0.656232363, 14.8063919, 2.02840731, 1.60148708},
		{20, 0.0, 1.65575579, 1.94474855, 0.972193068, 0.57295273, 17.7079404, 1.56354518, 1.82689183},
		{20, 0.3, 1.60102932, 2.10938165, 0.938454896, 0.475025339, 21.4682908, 1.25325952, 2.13275668},
		{20, -0.2, 1.67751196, 1.82211997, 1.02456483, 0.649177673, 15.3257527, 1.90031493, 1.63868538},
		{25, 0.0, 1.68316226, 2.01615567, 0.9574847, 0.560384845, 18.1663524, 1.42903792, 1.90188074},
		{25, 0.3, 1.63911903, 2.15487829, 0.920401912, 0.468053321, 21.1746326, 1.1801542, 2.20045885},
		{25, -0.2, 1.69784886, 1.91183892, 1.0073382, 0.632758372, 16.2606022, 1.68930666, 1.71542983},
		{40, 0.0, 1.73410345, 2.1302385, 0.936755271, 0.529587438, 18.8539702, 1.24733968, 2.04847636},
		{40, 0.3, 1.71208704, 2.22537682, 0.893648449, 0.451335593, 20.7341454, 1.07756863, 2.32580936},
		{40, -0.2, 1.73472078, 2.0573861, 0.983553932, 0.592222438, 17.6628764, 1.41370997, 1.86947031},
		{100, 0.0, 1.80359179, 2.25737331, 0.920115985, 0.466834691, 19.5415881, 1.08651576, 2.29128086},
		{100, 0.3, 1.81705989, 2.30036684, 0.868294536, 0.419530087, 20.2936582, 0.982669546, 2.50915657},
		{100, -0.2, 1.78294912, 2.22353984, 0.966071557, 0.506540823, 19.0651505, 1.17919223, 2.13989483},
	} {
		roots, err := pair(int(c[0]), 50, c[1], -c[1]).RootForms()
		require.NoError(t, err)
		r := roots[0]
		if load := map[float64]float64{17: 16.9346414 / 2, 18: 17.9345867 / 2}[c[0]]; load > 0 && c[1] < 0 { // the mate's tip reaches for flank that is cut away, which the formulas do not see: the row's own load
			r, err = drive.RackA().RootForm(c[0], c[1], load)
			require.NoError(t, err)
		}
		for i, got := range []float64{r.Chord, r.Arm, r.Fillet, r.Angle / degree, r.Form, r.Notch} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g teeth, shift %g", []string{"s_Fn", "h_Fe", "ρ_F", "α_Fen, °", "Y_F", "Y_S"}[i], c[0], c[1]),
				Source: fillets, Kind: verify.Own, Want: c[3+i], Got: got, Tol: 2e-8, Why: "nine digits given, of one load's radius too"})
		}
	}
	// Half chord and height of the section above the axis, by bisection on the envelope.
	for _, c := range []struct {
		teeth, shift, fillet, half, height float64
	}{
		{17, 0, 0.38, 0.9420082378, 7.3806410134}, {20, 0, 0.38, 0.9723742734, 8.8921103753},
		{12, 0.3, 0.38, 0.9811729086, 5.1026264429}, {40, 0, 0.25, 1.0675352352, 18.8754933600},
	} {
		rack := drive.RackA()
		rack.Fillet = c.fillet
		r, err := rack.RootForm(c.teeth, c.shift, 0)
		require.NoError(t, err)
		// The force is tangent to the base circle and crosses the middle r_b/cos α_F above the axis.
		section := c.teeth/2*math.Cos(rack.PressureAngle)/math.Cos(r.Angle) - r.Arm
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("half chord, %g teeth", c.teeth), Source: "envelope of the rolling tip disc, bisection", Kind: verify.Own, Want: c.half, Got: r.Chord / 2, Tol: 1e-10, Why: "ten digits given"},
			verify.Row{Name: fmt.Sprintf("section above the axis, %g teeth", c.teeth), Source: "envelope of the rolling tip disc, bisection", Kind: verify.Own, Want: c.height, Got: section, Tol: 1e-10, Why: "ten digits given"})
	}
	for _, c := range []struct{ dedendum, fillet, form, notch, tipForm, tipNotch float64 }{
		{1.25, .38, 1.56354518, 1.82689183, 2.79999, 1.552515}, {1.25, .30, 1.61755106, 1.87446454, 2.8658356, 1.5832306},
		{1.25, .25, 1.6520486, 1.90576428, 2.9081598, 1.603254}, {1.25, .20, 1.68714645, 1.93844472, 2.9514155, 1.6240084},
		{1.40, .39, 1.76445531, 1.69965559, 2.9699807, 1.4941422},
	} {
		g := pair(20, 50, 0, 0)
		g.Rack.Dedendum, g.Rack.Fillet = c.dedendum, c.fillet
		outer, err := g.RootForms()
		require.NoError(t, err)
		tip, err := g.TipForms()
		require.NoError(t, err)
		name := fmt.Sprintf("rack %g/%g: ", c.dedendum, c.fillet)
		row := func(what string, want, got float64) verify.Row {
			return verify.Row{Name: name + what, Source: fillets, Kind: verify.Own, Want: want, Got: got, Tol: 4e-7, Why: "seven digits given"}
		}
		rows = append(rows, row("Y_F", c.form, outer[0].Form), row("Y_S", c.notch, outer[0].Notch), row("Y_Fa", c.tipForm, tip[0].Form), row("Y_Sa", c.tipNotch, tip[0].Notch))
	}
	// The load's radius given: tip circles not shortened, ε 1.607481 for 25/60 with 0.3/0.1.
	ra, rb := 12.5+1.3, 12.5*math.Cos(20*degree)
	load := math.Hypot(rb, math.Sqrt(ra*ra-rb*rb)-math.Pi*math.Cos(20*degree)*0.607481)
	r, err := drive.RackA().RootForm(25, 0.3, load)
	require.NoError(t, err)
	const built = "fillet built point by point from the rolling rack, six digits, and the formulas by hand"
	rows = append(rows,
		verify.Row{Name: "25/60, 0.3/0.1, tips not shortened: Y_F", Source: built, Kind: verify.Own, Want: 1.2267411, Got: r.Form, Tol: 2e-6, Why: "ε given to seven digits"},
		verify.Row{Name: "25/60, 0.3/0.1, tips not shortened: Y_S", Source: built, Kind: verify.Own, Want: 2.1666872, Got: r.Notch, Tol: 2e-6, Why: "ε given to seven digits"})
	for _, c := range []struct {
		z1, z2      int
		form, notch float64
	}{{18, 27, 1.7372514, 1.7597343}, {17, 40, 1.7227020, 1.7600199}, {20, 20, 1.7123248, 1.7757546}, {100, 20, 1.2151067, 2.1937473}} {
		roots, err := pair(c.z1, c.z2, 0, 0).RootForms()
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("%d/%d: Y_F", c.z1, c.z2), Source: built, Kind: verify.Own, Want: c.form, Got: roots[0].Form, Tol: 5e-8, Why: "eight digits given"},
			verify.Row{Name: fmt.Sprintf("%d/%d: Y_S", c.z1, c.z2), Source: built, Kind: verify.Own, Want: c.notch, Got: roots[0].Notch, Tol: 5e-8, Why: "eight digits given"})
	}
	verify.Table(t, rows)
}

func TestCheckRootTip(t *testing.T) {
	var rows []verify.Row
	for _, c := range [][7]float64{ // teeth, shift, s_Fn, h_Fa, α_Fan in degrees, Y_Fa, Y_Sa
		{17, 0, 1.8840165, 1.9129459, 30.744946, 2.957468, 1.521902},
		{18, 0, 1.9062907, 1.9101849, 30.297656, 2.897896, 1.532854},
		{19, 0, 1.9264344, 1.9078145, 29.888113, 2.845852, 1.543025},
		{20, 0, 1.9447485, 1.9057712, 29.511545, 2.79999, 1.552515},
		{21, 0, 1.961479, 1.9040036, 29.163976, 2.759268, 1.561404},
		{22, 0, 1.9768288, 1.9024698, 28.842063, 2.722863, 1.569762},
		{23, 0, 1.990967, 1.9011355, 28.542969, 2.690121, 1.577647},
		{24, 0, 2.0040359, 1.899972, 28.264272, 2.660514, 1.585106},
		{25, 0, 2.0161557, 1.8989558, 28.003889, 2.63361, 1.592181},
		{26, 0, 2.0274291, 1.8980669, 27.760018, 2.609053, 1.598909},
		{27, 0, 2.0379443, 1.8972885, 27.531093, 2.586547, 1.60532},
		{28, 0, 2.0477772, 1.8966064, 27.315741, 2.565845, 1.611442},
		{29, 0, 2.056994, 1.8960085, 27.112759, 2.546736, 1.617299},
		{30, 0, 2.0656524, 1.8954845, 26.921083, 2.529044, 1.622911},
		{35, 0, 2.1021431, 1.8936994, 26.102673, 2.45715, 1.647883},
		{40, 0, 2.1302385, 1.8928273, 25.460901, 2.404637, 1.668825},
		{45, 0, 2.1525796, 1.8924736, 24.943395, 2.364571, 1.686781},
		{50, 0, 2.1707942, 1.8924231, 24.516824, 2.332981, 1.702429},
		{60, 0, 2.19875, 1.8927887, 23.854144, 2.286318, 1.728552},
		{70, 0, 2.2192372, 1.8934186, 23.362525, 2.253482, 1.749633},
		{80, 0, 2.234918, 1.8941197, 22.982929, 2.229106, 1.767093},
		{90, 0, 2.2473172, 1.8948142, 22.680799, 2.210286, 1.781836},
		{100, 0, 2.2573733, 1.8954713, 22.434519, 2.195313, 1.794477},
		{150, 0, 2.2883438, 1.8980466, 21.669342, 2.150799, 1.837983},
		{200, 0, 2.3043299, 1.8997169, 21.270656, 2.128745, 1.86372},
		{17, 0.3, 2.0699083, 1.9733547, 33.847034, 2.442432, 1.675367},
		{17, -0.2, 1.746561, 1.8798135, 28.513069, 3.457462, 1.425116},
		{17, 0.5, 2.1783333, 2.0209402, 35.785281, 2.206001, 1.77345},
		{18, 0.3, 2.0844668, 1.966975, 33.281234, 2.416428, 1.684714},
		{18, -0.2, 1.7741966, 1.8787123, 28.153245, 3.359987, 1.436795},
		{18, 0.5, 2.1880445, 2.0112997, 35.14657, 2.193383, 1.781479},
		{20, 0.3, 2.1093817, 1.9565292, 32.286818, 2.373536, 1.701246},
		{20, -0.2, 1.82212, 1.8770946, 27.520968, 3.201429, 1.457895},
		{20, 0.5, 2.2045121, 1.9954725, 34.024178, 2.172885, 1.795429},
		{25, 0.3, 2.1548783, 1.9392116, 30.377947, 2.300431, 1.733601},
		{25, -0.2, 1.9118389, 1.8752585, 26.309626, 2.936511, 1.500985},
		{25, 0.5, 2.2340702, 1.9689735, 31.869237, 2.139193, 1.821718},
		{40, 0.3, 2.2253768, 1.9180274, 27.142929, 2.200596, 1.792072},
		{40, -0.2, 2.0573861, 1.8766799, 24.275363, 2.580589, 1.586396},
		{40, 0.5, 2.2784654, 1.9352202, 28.20948, 2.09748, 1.865461},
		{100, 0.3, 2.3003668, 1.9059081, 23.235074, 2.11319, 1.875571},
		{100, -0.2, 2.2235398, 1.8878193, 21.883767, 2.262334, 1.734924},
		{100, 0.5, 2.3235853, 1.9120665, 23.753161, 2.06971, 1.918976},
	} {
		r, err := drive.RackA().RootForm(c[0], c[1], 0)
		require.NoError(t, err)
		for i, got := range []float64{r.Chord, r.Arm, r.Angle / degree, r.Form, r.Notch} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g teeth, shift %g", []string{"s_Fn", "h_Fa", "α_Fan, °", "Y_Fa", "Y_Sa"}[i], c[0], c[1]),
				Source: fillets, Kind: verify.Own, Want: c[2+i], Got: got, Tol: 4e-7, Why: "seven digits given"})
		}
	}
	const printed = "Pu Lianggui, Mechanical Design, table of Y_Fa and Y_Sa, as a course page copies it: 20°, ρ 0.38 m"
	for _, c := range [][3]float64{
		{17, 2.97, 1.52}, {18, 2.91, 1.53}, {19, 2.85, 1.54}, {20, 2.80, 1.55}, {21, 2.76, 1.56}, {22, 2.72, 1.57},
		{23, 2.69, 1.575}, {24, 2.65, 1.58}, {25, 2.62, 1.59}, {26, 2.60, 1.595}, {27, 2.57, 1.60}, {28, 2.55, 1.61},
		{29, 2.53, 1.62}, {30, 2.52, 1.625}, {35, 2.45, 1.65}, {40, 2.40, 1.67}, {45, 2.35, 1.68}, {50, 2.32, 1.70},
		{60, 2.28, 1.73}, {70, 2.24, 1.75}, {80, 2.22, 1.77}, {90, 2.20, 1.78}, {100, 2.18, 1.79}, {150, 2.14, 1.83},
		{200, 2.12, 1.865}, {1e7, 2.06, 1.97},
	} {
		r, err := drive.RackA().RootForm(c[0], 0, 0)
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("Y_Fa, %g teeth", c[0]), Source: printed, Kind: verify.Print, Want: c[1], Got: r.Form, Tol: 0.008, Why: "the print is read from a chart: up to 0.7 % from the geometry"},
			verify.Row{Name: fmt.Sprintf("Y_Sa, %g teeth", c[0]), Source: printed, Kind: verify.Print, Want: c[2], Got: r.Notch, Tol: 0.005, Why: "the print is read from a chart: up to 0.5 % from the geometry"})
	}
	ring := pair(60, 300, 0, 0)
	ring.Ring = true
	roots, err := ring.TipForms()
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "Y_Sa of a ring", Source: printed + "; ring, ρ 0.15 m", Kind: verify.Print, Want: 2.65, Got: roots[1].Notch, Tol: 0.002, Why: "three digits printed"},
		verify.Row{Name: "Y_Fa of a ring", Source: "the same table in another print; the course page repeats 2.65 there", Kind: verify.Memory, Want: 2.053, Got: roots[1].Form, Tol: 3e-4, Why: "four digits printed"})
	verify.Table(t, rows)
}

// fillet rolls the rack on the wheel and returns the fillet's point where the rack's tip
// disc touches it when the wheel has turned by an angle from where the space is upright; the
// tooth beside it stands upright. The slope is that of the disc centre's path, by differences.
func fillet(r drive.Rack, teeth, shift, turn float64) (x, y, lean float64) {
	// the disc touches the rack's straight flank
	across := math.Pi/4 - (r.Dedendum-r.Fillet)*math.Tan(r.PressureAngle) - r.Fillet/math.Cos(r.PressureAngle)
	centre := func(turn float64) (float64, float64) {
		a, b := teeth/2*turn+across, teeth/2+shift-r.Dedendum+r.Fillet
		sin, cos := math.Sincos(turn + math.Pi/teeth)
		return a*cos - b*sin, a*sin + b*cos
	}
	const h = 1e-5
	x0, y0 := centre(turn)
	x1, y1 := centre(turn - h)
	x2, y2 := centre(turn + h)
	dx, dy := x2-x1, y2-y1
	long := math.Hypot(dx, dy)
	nx, ny := dy/long, -dx/long
	if ny > 0 { // towards the axis
		nx, ny = -nx, -ny
	}
	return x0 + r.Fillet*nx, y0 + r.Fillet*ny, math.Atan2(math.Abs(dx), math.Abs(dy))
}

// The root found on the fillet itself: no formula of the standard but its definitions.
func TestPropertyRootLiesOnFillet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rack := drive.Rack{PressureAngle: draw.Uniform(17, 24).Draw(t, "angle") * degree, Addendum: 1, Dedendum: draw.Uniform(1.1, 1.3).Draw(t, "dedendum"), Fillet: draw.Uniform(0.05, 0.28).Draw(t, "fillet")}
		teeth := float64(rapid.IntRange(12, 120).Draw(t, "teeth"))
		shift := draw.Uniform(-0.1, 0.5).Draw(t, "shift")
		load := teeth/2 + draw.Uniform(0, 1).Draw(t, "load")
		o, err := rack.RootForm(teeth, shift, load)
		require.NoError(t, err)

		// From the bottom of the path, where it is level, to where it leans 30° off the tooth's middle.
		across := math.Pi/4 - (rack.Dedendum-rack.Fillet)*math.Tan(rack.PressureAngle) - rack.Fillet/math.Cos(rack.PressureAngle)
		if rack.Dedendum-rack.Fillet-shift < 0.05 {
			return // the disc hardly dips below the pitch line: no loop to search
		}
		level := -across * 2 / teeth
		lean := func(turn float64) float64 { _, _, l := fillet(rack, teeth, shift, turn); return l - math.Pi/6 }
		steep := level
		for lean(steep) > 0 {
			steep += 0.02 / teeth
			require.Less(t, steep, 3.0)
		}
		for range 80 {
			if mid := (level + steep) / 2; lean(mid) > 0 {
				level = mid
			} else {
				steep = mid
			}
		}
		x, y, _ := fillet(rack, teeth, shift, level)
		require.InEpsilon(t, o.Chord/2, math.Abs(x), 1e-6)
		const h = 1e-4
		xa, ya, _ := fillet(rack, teeth, shift, level-h)
		xb, yb, _ := fillet(rack, teeth, shift, level+h)
		a, b, c := math.Hypot(x-xa, y-ya), math.Hypot(x-xb, y-yb), math.Hypot(xa-xb, ya-yb)
		area := math.Abs((xa-x)*(yb-y)-(xb-x)*(ya-y)) / 2
		require.InEpsilon(t, o.Fillet, a*b*c/(4*area), 2e-4, "circle through three points")

		// The force unwinds from the base circle.
		base := teeth / 2 * math.Cos(rack.PressureAngle)
		foot := (math.Pi/2+2*shift*math.Tan(rack.PressureAngle))/teeth + math.Tan(rack.PressureAngle) - rack.PressureAngle
		angle := math.Sqrt(load*load/(base*base)-1) - foot
		require.InEpsilon(t, angle, o.Angle, 1e-9)
		arm := base/math.Cos(angle) - y
		require.InEpsilon(t, arm, o.Arm, 1e-6)
		require.InEpsilon(t, 6*arm*math.Cos(angle)/(4*x*x*math.Cos(rack.PressureAngle)), o.Form, 1e-5)
	})
}

func TestPropertyShiftStrengthensRoot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		teeth := float64(rapid.IntRange(14, 100).Draw(t, "teeth"))
		shift, more := draw.Uniform(-0.2, 0.5).Draw(t, "shift"), draw.Uniform(0.01, 0.2).Draw(t, "more")
		a, err := drive.RackA().RootForm(teeth, shift, 0)
		require.NoError(t, err)
		b, err := drive.RackA().RootForm(teeth, shift+more, 0)
		require.NoError(t, err)
		require.Less(t, b.Form, a.Form)
		c, err := drive.RackA().RootForm(teeth, shift, teeth/2+shift+1-more)
		require.NoError(t, err)
		require.Less(t, c.Form, a.Form, "a load nearer the root bends less")
	})
}

func TestRootFormRefuses(t *testing.T) {
	_, err := drive.RackA().RootForm(4, math.NaN(), -1)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.Rack.RootForm: teeth = 4: allowed 5 to 1e+07")
	_, err = drive.RackA().RootForm(5, 2, 0)
	assert.ErrorContains(t, err, "so that the tooth has a root section below the load")
	o, err := drive.RackA().RootForm(12, 0, 0)
	require.NoError(t, err)
	assert.Equal(t, []string{"undercut root: the rack cut away involute at the foot"}, o.Beyond)
	apart := pair(10, 10, 0, 0)
	apart.Distance = 12e-3
	_, err = apart.RootForms()
	assert.ErrorContains(t, err, "contact ratio 0, of the helix 0")
	apart.Distance, apart.Helix, apart.Face = 12e-3, 0.5, 20e-3 // the helix alone keeps it turning
	_, err = apart.RootForms()
	assert.ErrorContains(t, err, "contact ratio")
	apart = pair(10, 10, 0, 0)
	apart.Distance = 9e-3
	_, err = apart.TipForms()
	assert.ErrorContains(t, err, "drive.GearPair.Distance = 0.009 m: allowed more than 0.00939693 m, where the base circles touch")
	_, err = pair(6, 6, -1.5, -1.5).RootForms()
	assert.ErrorContains(t, err, "drive.GearPair.Wheel.Shift = -1.5: allowed a sum of shifts")
}
