package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/verify"
	"meltflight/material"
)

// unitBeam is one of length, EI and mass 1, so that ω = (βL)².
func unitBeam(ends frame.Ends) frame.Planar {
	return frame.Planar{Length: 1, Bending: 1, Line: 1}.Held(ends)
}

func hz(t require.TestingT, p frame.Planar, mode int) float64 {
	f, err := p.Frequency(mode)
	require.NoError(t, err)
	return f
}

func omega(t require.TestingT, p frame.Planar, mode int) float64 { return 2 * math.Pi * hz(t, p, mode) }

// digits is half a unit of the last of so many significant digits, as a part.
func digits(want float64, n int) float64 {
	return 0.51 * math.Pow(10, math.Floor(math.Log10(want))+1-float64(n)) / want
}

// table lays rows of βL or ω of successive modes.
type table struct {
	rows   []verify.Row
	source string
	kind   verify.Kind
}

func (x *table) add(name string, want, got, tol float64, why string) {
	x.rows = append(x.rows, verify.Row{Name: name, Source: x.source, Kind: x.kind, Want: want, Got: got, Tol: tol, Why: why})
}

func (x *table) digits(name string, want, got float64, n int) {
	x.add(name, want, got, digits(want, n), fmt.Sprintf("%d digits printed", n))
}

func TestCheckPlanarBodies(t *testing.T) {
	x := table{source: roots30, kind: verify.Own}
	for _, c := range []struct {
		mass, gyration, offset float64
		want                   []float64
	}{
		{1, 0, 0, []float64{1.2479174096, 4.0311394367, 7.1341322409}},
		{1, 0.1, 0, []float64{1.2424479077, 3.6386245423, 5.6630010427}},
		{1, 0.2, 0, []float64{1.2263468110, 2.9786219647, 5.1014360549}},
		{1, 0.1, 0.1, []float64{1.1729167651, 3.4425372445, 5.8105733944}},
		{2, 0.1, 0.2, []float64{0.9479648508, 3.1351732718, 5.5955534249}},
		{0.5, 0.1, 0.15, []float64{1.3158603778, 3.4974140779, 6.0483920945}},
	} {
		p := unitBeam(frame.ClampedFree)
		p.End = frame.Joint{Mass: c.mass, Inertia: c.mass * c.gyration * c.gyration, Offset: c.offset}
		mirror := p
		mirror.Start, mirror.End = p.End, p.Start
		mirror.Start.Offset *= -1
		for i, want := range c.want {
			name := fmt.Sprintf("βL tip body %g, %g, %g, mode %d", c.mass, c.gyration, c.offset, i+1)
			x.digits(name, want, math.Sqrt(omega(t, p, i+1)), 10)
			x.digits(name+", from the other end", want, math.Sqrt(omega(t, mirror, i+1)), 10)
		}
	}
	for i, want := range []float64{1.73205081, 1.71274879, 1.65707338, 1.48825412, 0.92695864, 1.97216653} {
		c := [][3]float64{{1, 0, 0}, {1, 0.1, 0}, {1, 0.2, 0}, {1, 0.1, 0.1}, {2, 0.1, 0.2}, {0.5, 0.1, 0.15}}[i]
		p := unitBeam(frame.ClampedFree)
		p.Line = 0
		p.End = frame.Joint{Mass: c[0], Inertia: c[0] * c[1] * c[1], Offset: c[2]}
		x.digits(fmt.Sprintf("(βL)² tip body %v on a beam without mass", c), want, omega(t, p, 1), 8)
	}
	for mu, want := range map[float64][2]float64{0: {2.3650203724, 5.593321362}, 0.1: {2.2349213258, 4.994873333}, 0.5: {1.9235356513, 3.699989402},
		1: {1.7188813445, 2.954553077}, 2: {1.4995382432, 2.248614943}, 5: {1.2225209696, 1.494557521}, 10: {1.0371253207, 1.075628931}} {
		p := unitBeam(frame.ClampedGuided)
		p.End.Mass = mu
		x.digits(fmt.Sprintf("βL clamped-guided, head mass %g", mu), want[0], math.Sqrt(omega(t, p, 1)), 11)
		x.digits(fmt.Sprintf("(βL)² clamped-guided, head mass %g", mu), want[1], omega(t, p, 1), 10)
	}
	verify.Table(t, x.rows)
}

func TestCheckPlanarAxialLoad(t *testing.T) {
	x := table{source: "characteristic determinant in 30-digit arithmetic", kind: verify.Own}
	euler := map[frame.Ends]float64{frame.PinnedPinned: 1, frame.ClampedFree: 0.25, frame.ClampedClamped: 4}
	for _, c := range []struct {
		ends frame.Ends
		part float64
		mode int
		want float64
	}{
		{frame.PinnedPinned, 0.1, 1, 9.363128854}, {frame.PinnedPinned, 0.5, 1, 6.978864200}, {frame.PinnedPinned, -1, 1, 13.957728399},
		{frame.PinnedPinned, -10, 1, 32.733774628}, {frame.PinnedPinned, 0.5, 2, 36.928678212},
		{frame.ClampedFree, -1, 1, 4.8147715702}, {frame.ClampedFree, -1, 2, 23.770134423}, {frame.ClampedFree, 0.2, 1, 3.1682307281},
		{frame.ClampedFree, 0.2, 2, 21.668062065}, {frame.ClampedFree, 0.5, 1, 2.5345602161}, {frame.ClampedFree, 0.5, 2, 21.105172355},
		{frame.ClampedFree, 0.8, 1, 1.6236557019}, {frame.ClampedFree, 0.8, 2, 20.525579721}, {frame.ClampedFree, 0.95, 1, 0.81736376969},
		{frame.ClampedFree, 0.95, 2, 20.229229677}, {frame.ClampedClamped, -1, 1, 31.248581701}, {frame.ClampedClamped, -1, 2, 74.882614695},
		{frame.ClampedClamped, 0.5, 1, 15.951287605}, {frame.ClampedClamped, 0.5, 2, 53.762642907},
	} {
		p := unitBeam(c.ends)
		p.Axial = c.part * euler[c.ends] * math.Pi * math.Pi
		x.digits(fmt.Sprintf("ω %v, P/Pcr = %g, mode %d", c.ends, c.part, c.mode), c.want, omega(t, p, c.mode), 10)
	}
	x.source = "Euler's cases; clamped-pinned from tan k = k in 30-digit arithmetic"
	for ends, want := range map[frame.Ends]float64{frame.PinnedPinned: 1, frame.ClampedFree: 0.25, frame.ClampedClamped: 4, frame.ClampedGuided: 1,
		frame.GuidedPinned: 0.25, frame.GuidedGuided: 1, frame.GuidedFree: 0.25, frame.ClampedPinned: 2.0457485159383} {
		load, err := unitBeam(ends).BucklingLoad()
		require.NoError(t, err)
		x.add(fmt.Sprintf("Pcr·L²/π²EI %v", ends), want, load/(math.Pi*math.Pi), 1e-13, "rounding")
	}
	// F. Engesser (1889): N = Nᴇ/(1 + Nᴇ/κGA) with shear, from memory.
	p := unitBeam(frame.PinnedPinned)
	p.Shear = 20
	load, err := p.BucklingLoad()
	require.NoError(t, err)
	x.source = "F. Engesser (1889), N = Nᴇ/(1 + Nᴇ/κGA), from memory, by hand"
	x.add("Pcr with shear", 1/(1/(math.Pi*math.Pi)+1.0/20), load, 1e-13, "rounding")
	verify.Table(t, x.rows)
}

func TestCheckPlanarElasticEnds(t *testing.T) {
	x := table{source: "characteristic determinant in 30-digit arithmetic", kind: verify.Own}
	for k, want := range map[float64][]float64{
		10:    {2.032341356, 2.766609106, 4.913382723, 7.894689207},
		100:   {2.876750694, 4.663784596, 6.076171140, 8.275404336},
		10000: {3.138496798, 6.258368978, 9.339894250, 12.35868478},
	} {
		p := unitBeam(frame.FreeFree)
		p.Start.Spring, p.End.Spring = k, k
		for i, want := range want {
			x.digits(fmt.Sprintf("βL on end springs %g, mode %d", k, i+1), want, math.Sqrt(omega(t, p, i+1)), 10)
		}
	}
	for r, want := range map[float64][]float64{
		0.1: {3.172659193, 6.298935197}, 1: {3.398799335, 6.427259073}, 10: {4.155664231, 7.068249354},
		100: {4.641318962, 7.710289530}, 1000: {4.720643112, 7.837651631},
	} {
		p := unitBeam(frame.PinnedPinned)
		p.Start.Hinge, p.End.Hinge = r, r
		for i, want := range want {
			x.digits(fmt.Sprintf("βL on end hinges %g, mode %d", r, i+1), want, math.Sqrt(omega(t, p, i+1)), 10)
		}
	}
	// Planar beam of 60×40×3 tube with 4.2 kg at the middle: rigid supports, then springs.
	tube := frame.Planar{Length: 1, Bending: 70e9 * 273852e-12, Line: 2700 * 564e-6, Between: []frame.Joint{{At: 0.5, Mass: 4.2}}}
	x.source = "exact dynamic stiffness by bisection in float64, to 1e-11, and finite elements"
	for i, want := range []float64{68.6799007, 704.961522, 1148.25051} {
		x.digits(fmt.Sprintf("f tube with mid mass, pinned, mode %d [Hz]", i+1), want, hz(t, tube.Held(frame.PinnedPinned), i+1), 9)
	}
	tube.Start.Spring, tube.End.Spring = 2e6, 2e6
	for i, want := range []float64{61.343174, 394.738391, 560.167325} {
		x.digits(fmt.Sprintf("f tube with mid mass on springs, mode %d [Hz]", i+1), want, hz(t, tube, i+1), 8)
	}
	verify.Table(t, x.rows)
}

// squareBar is a solid square bar with κ = 5/6 and ν = 0.3.
func squareBar(t require.TestingT, length, side, young, density, kappa float64) frame.Planar {
	bar, err := frame.Rectangle(side, side)
	require.NoError(t, err)
	p, err := frame.Beam{Length: length, Section: bar, Metal: elastic(young, 0.3, density)}.Vertical(kappa)
	require.NoError(t, err)
	return p
}

func TestCheckTimoshenko(t *testing.T) {
	const kappa = 5.0 / 6
	x := table{source: "G. Robert, Analytical solutions in structural dynamics, report 121, Liège 1996; bar inferred from the values", kind: verify.Memory}
	p := squareBar(t, 2, 0.2, 2.1e11, 7800, kappa).Held(frame.PinnedPinned)
	for i, want := range []float64{115.7, 442.2, 931.6, 1534.0} {
		x.add(fmt.Sprintf("f pinned bar, mode %d [Hz]", i+1), want, hz(t, p, i+1), 0.051/want+3e-4*float64(i/3), "one decimal printed, the last rounded to the unit")
	}
	const own = "Timoshenko's frequency equation in 30-digit arithmetic"
	x.source, x.kind = own, verify.Own
	for i, want := range []float64{115.70929, 442.17156, 931.57358, 1533.64793} {
		x.digits(fmt.Sprintf("f pinned bar, mode %d [Hz]", i+1), want, hz(t, p, i+1), 8)
	}
	deep := squareBar(t, 10, 2, 200e9, 8000, kappa).Held(frame.PinnedPinned)
	for i, want := range []float64{42.60872, 147.78601, 282.36338} {
		x.digits(fmt.Sprintf("f deep pinned bar, mode %d [Hz]", i+1), want, hz(t, deep, i+1), 7)
	}
	const lee = "J. Lee, W. Schultz, J. Sound Vib. 269 (2004) 609, tables"
	for _, c := range []struct {
		ends         frame.Ends
		first, other [4]float64
		printed      [4]float64
	}{
		{frame.PinnedPinned, [4]float64{3.14132659, 3.13498439, 3.11568247, 3.04533081}, [4]float64{6.28105854, 6.23136493, 6.09066161, 5.67155190}, [4]float64{3.14133, 3.13498, 3.11568, 3.04533}},
		{frame.ClampedClamped, [4]float64{4.72839975, 4.68991088, 4.57954700, 4.24201419}, [4]float64{7.84690499, 7.70352008, 7.33121857, 6.41793816}, [4]float64{4.72840, 4.68991, 4.57955, 4.24201}},
		{frame.ClampedFree, [4]float64{1.87502927, 1.87323967, 1.86771383, 1.84655982}, [4]float64{4.69278599, 4.66203606, 4.57240806, 4.28528915}, [4]float64{}},
		{frame.ClampedPinned, [4]float64{3.92581355, 3.90714058, 3.85176004, 3.66560929}, [4]float64{7.06468732, 6.97477389, 6.73057218, 6.07267671}, [4]float64{}},
	} {
		for i, h := range []float64{0.01, 0.05, 0.1, 0.2} {
			p := squareBar(t, 1, h, 200e9, 8000, kappa).Held(c.ends)
			lambda := func(mode int) float64 { return math.Sqrt(omega(t, p, mode) * math.Sqrt(p.Line/p.Bending)) }
			name := fmt.Sprintf("λ %v, h/L = %g", c.ends, h)
			x.source, x.kind = own, verify.Own
			x.digits(name+", mode 1", c.first[i], lambda(1), 9)
			x.digits(name+", mode 2", c.other[i], lambda(2), 9)
			if c.printed[i] > 0 {
				x.source, x.kind = lee, verify.Memory
				x.digits(name+", mode 1", c.printed[i], lambda(1), 6)
			}
		}
	}
	verify.Table(t, x.rows)
}

func TestCheckPlanarPublished(t *testing.T) {
	x := table{source: "SFM/AFNOR, Guide de validation des progiciels de calcul de structures (1990), SDLL15, no eccentricity", kind: verify.Memory}
	round, err := frame.RoundTube(0.350, 0.015)
	require.NoError(t, err)
	mast, err := frame.Beam{Length: 10, Section: round, Metal: elastic(2.1e11, 0.3, 7800)}.Vertical(0)
	require.NoError(t, err)
	mast = mast.Held(frame.ClampedFree)
	mast.End.Mass = 1000
	exact := []float64{1.65543339, 16.0711448, 50.0234541, 103.199537}
	for i, want := range []float64{1.65, 16.07, 50.02, 103.2} {
		f := hz(t, mast, i+1)
		tol := []float64{0.0055, 0.0051, 0.0051, 0.051}[i] / want
		x.add(fmt.Sprintf("f mast with tip mass, mode %d [Hz]", i+1), want, f, tol, "last digit printed, the first cut off")
		x.rows = append(x.rows, verify.Row{Name: fmt.Sprintf("f mast with tip mass, mode %d [Hz]", i+1), Source: "exact dynamic stiffness by bisection", Kind: verify.Own, Want: exact[i], Got: f, Tol: digits(exact[i], 9), Why: "nine digits printed"})
	}

	x.source, x.kind = "frequency equation of SFM/AFNOR SDLL04 with its sign set right, in 30-digit arithmetic; 40 finite elements agree", verify.Own
	for _, c := range []struct {
		at, mass float64
		want     [3]float64
	}{
		{0.5, 0.001, [3]float64{1.53605377, 1.60630087, 6.28318531}}, {0.5, 0.01, [3]float64{1.46354554, 1.68565650, 6.28318531}},
		{0.25, 0.001, [3]float64{1.54609917, 1.59576830, 6.28360419}}, {0.25, 0.01, [3]float64{1.49368788, 1.65064709, 6.28737443}},
	} {
		p := unitBeam(frame.PinnedPinned)
		p.Between = []frame.Joint{{At: c.at, HungMass: c.mass, HungOn: c.mass * math.Pow(math.Pi, 4)}}
		for i, want := range c.want {
			x.digits(fmt.Sprintf("f tuned mass %g hung at %g, mode %d [Hz]", c.mass, c.at, i+1), want, hz(t, p, i+1), 9)
		}
	}

	x.source = "P. Junglas, Schwingungslehre 2, exercise 21; answers by 30-digit arithmetic"
	rod := frame.Planar{Length: 1, Bending: 2.00e11 * 4.7e-6, Line: 7800 * 2.6e-3, End: frame.Joint{Mass: 10}, Start: frame.Joint{Hold: frame.HoldClamped}}
	for i, want := range []float64{69.4128263, 579.680984, 1772.24735} {
		x.digits(fmt.Sprintf("f cantilever with 10 kg, mode %d [Hz]", i+1), want, hz(t, rod, i+1), 9)
	}
	x.source = "textbook cantilever of 10 kip, 29000 ksi × 200 in⁴, 20 ft, g = 386.4 in/s²; answer by hand"
	x.kind = verify.Own
	const kip, inch = 4448.2216152605, 0.0254
	arm := frame.Planar{Length: 240 * inch, Bending: 29000 * 200 * kip * inch * inch, Start: frame.Joint{Hold: frame.HoldClamped}, End: frame.Joint{Mass: 10 * kip / (386.4 * inch)}}
	x.digits("f cantilever without mass [Hz]", 1.10993220, hz(t, arm, 1), 9)
	c, err := arm.Deflection(0, frame.BeamLoad{At: arm.Length, Force: 1})
	require.NoError(t, err)
	end, err := c.At(arm.Length)
	require.NoError(t, err)
	x.digits("its stiffness [N/m]", 2.204287e5, 1/end.Deflection, 7)
	x.source = "university exercise, cantilever without mass with a disc at its tip; answers by hand"
	disc := frame.Planar{Length: 4, Bending: 1.024e7, Start: frame.Joint{Hold: frame.HoldClamped}, End: frame.Joint{Mass: 1e4, Inertia: 2e4}}
	for i, want := range []float64{6.06931218, 25.82950734} {
		x.digits(fmt.Sprintf("ω tip disc, mode %d [1/s]", i+1), want, omega(t, disc, i+1), 9)
	}
	disc.End.Inertia = 0
	x.digits("ω its mass alone [1/s]", 6.92820323, omega(t, disc, 1), 9)
	verify.Table(t, x.rows)
}

func TestCheckShaftOfThreeLoads(t *testing.T) {
	shaft := frame.Planar{Length: 3, Bending: 200e9 * math.Pi / 64 * math.Pow(0.05, 4)}.Held(frame.PinnedPinned)
	var loads []frame.BeamLoad
	for _, l := range [][2]float64{{1, 1000}, {2, 1500}, {2.5, 750}} {
		shaft.Between = append(shaft.Between, frame.Joint{At: l[0], Mass: l[1] / 9.81})
		loads = append(loads, frame.BeamLoad{At: l[0], Force: l[1]})
	}
	low, high, err := shaft.Bounds()
	require.NoError(t, err)
	x := table{source: "solved examination question that cannot be named: 50 mm shaft, 3 m, 1000, 1500 and 750 N", kind: verify.Practice}
	x.add("Dunkerley [Hz]", 3.5, low, 0.005, "two digits printed")
	x.source, x.kind = "flexibility matrix by hand, g = 9.81", verify.Own
	x.digits("Dunkerley [Hz]", 3.504716, low, 7)
	x.digits("Rayleigh [Hz]", 3.635116569, high, 10)
	for i, want := range []float64{3.634296383, 13.930892, 42.668437} {
		x.digits(fmt.Sprintf("f, mode %d [Hz]", i+1), want, hz(t, shaft, i+1), 8)
	}
	c, err := shaft.Deflection(0, loads...)
	require.NoError(t, err)
	for i, want := range []float64{19.381535e-3, 20.428421e-3, 12.081629e-3} {
		b, err := c.At(loads[i].At)
		require.NoError(t, err)
		x.digits(fmt.Sprintf("sag under load %d [m]", i+1), want, b.Deflection, 8)
		c, err := shaft.Deflection(0, loads[i])
		require.NoError(t, err)
		b, err = c.At(loads[i].At)
		require.NoError(t, err)
		x.digits(fmt.Sprintf("sag under load %d alone [m]", i+1), []float64{7.243318299e-3, 10.864977448e-3, 2.122065908e-3}[i], b.Deflection, 10)
	}
	_, err = shaft.Frequency(4)
	assert.ErrorIs(t, err, frame.ErrNoModes)
	f, err := frame.SagFrequency(0.25 * 9.81 / 153.3)
	require.NoError(t, err)
	x.source, x.kind = "W. Thomson, M. Dahleh, Theory of Vibration with Applications, 5th ed., ex. 2.2-1", verify.Memory
	x.add("f by sag [Hz]", 3.94, f, 0.0051/3.94, "two decimals printed")
	f, err = frame.SagFrequency(1e-3)
	require.NoError(t, err)
	x.source, x.kind = "√(9.80665/0.001)/2π by hand", verify.Own
	x.digits("f by a sag of 1 mm [Hz]", 15.7609, f, 6)
	verify.Table(t, x.rows)
	_, err = frame.SagFrequency(0)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func ExamplePlanar() {
	// A tube of 60×40×3 mm, 1 m long, on brackets that give way, with a carriage
	// a third along it that bears 3 kg on a soft hanger.
	tube, err := frame.RectangularTube(0.060, 0.040, 0.003)
	if err != nil {
		panic(err)
	}
	p, err := frame.Beam{Length: 1, Section: tube, Metal: material.Al6060()}.Vertical(0.5)
	if err != nil {
		panic(err)
	}
	p.Start.Spring, p.End.Spring = 2e6, 2e6
	p.Between = []frame.Joint{{At: 0.35, Mass: 1.2, Inertia: 0.002, HungMass: 3, HungOn: 1e5}}
	for mode := 1; mode <= 3; mode++ {
		f, err := p.Frequency(mode)
		if err != nil {
			panic(err)
		}
		fmt.Printf("%.3g Hz\n", f)
	}
	shape, _, err := p.Shape(1)
	if err != nil {
		panic(err)
	}
	carriage, err := shape.At(0.35)
	if err != nil {
		panic(err)
	}
	end, err := shape.At(1)
	if err != nil {
		panic(err)
	}
	fmt.Printf("the end moves %.2g of the carriage\n", end.Deflection/carriage.Deflection)
	// Output:
	// 27.3 Hz
	// 105 Hz
	// 353 Hz
	// the end moves 0.15 of the carriage
}

// A body without mass on a beam without mass turns, but no weight that can move bows it: no bounds.
func TestPlanarBoundsWithoutWeight(t *testing.T) {
	p := frame.Planar{Length: 0.1, Bending: 38, Start: frame.Joint{Hold: frame.HoldClamped, Mass: 8e-4, Offset: -0.018}, End: frame.Joint{Inertia: 1e-8}}
	f, err := p.Frequency(1)
	require.NoError(t, err)
	require.Positive(t, f)
	low, high, err := p.Bounds()
	if err == nil {
		require.LessOrEqual(t, low, f*(1+1e-9))
		require.GreaterOrEqual(t, high, f*(1-1e-9))
	} else {
		require.ErrorIs(t, err, frame.ErrNoModes)
	}
}
