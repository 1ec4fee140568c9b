package screw

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
)

// spiral is the slow plain twin: a power law of consistency 1 in the helical annulus
// between κ and 1, barrel at speed 1, under a pressure rise for each length of axis.
type spiral struct {
	kappa, tan, index, rise float64
	x                       [3]float64 // c, d and p_φ
	r, weight               []float64
	flow, stress            float64 // for each axial width; round the bore
}

// gradient returns what the three stresses' energy misses, and its second derivatives.
func (s *spiral) gradient() ([]float64, *mat.SymDense) {
	miss := []float64{1, 0, 0.5}
	h := mat.NewSymDense(3, nil)
	s.flow = 0
	for i, r := range s.r {
		// Of the stresses (round, along) to the three unknowns, times r.
		by := [3][2]float64{{1 / r, 0}, {0, 1}, {r / 2, -r * r / 2 / s.tan}}
		round, along := s.x[2]/2+s.x[0]/(r*r), (s.rise-s.x[2]/s.tan)*r/2+s.x[1]/r
		size := math.Hypot(round, along)
		fluidity := math.Pow(size, 1/s.index-1)
		more := fluidity * (1/s.index - 1) / (size * size)
		w := s.weight[i]
		rate := [2]float64{fluidity * round, fluidity * along}
		soft := [2][2]float64{{fluidity + more*round*round, more * round * along}, {more * round * along, fluidity + more*along*along}}
		for j := range 3 {
			miss[j] -= w * (by[j][0]*rate[0] + by[j][1]*rate[1])
			for k := j; k < 3; k++ {
				sum := 0.0
				for a := range 2 {
					for b := range 2 {
						sum += by[j][a] * soft[a][b] * by[k][b]
					}
				}
				h.SetSym(j, k, h.At(j, k)+w*sum/r)
			}
		}
		s.flow += w * rate[0] * (1/r - r) / 2
	}
	return miss, h
}

func (s *spiral) solve(t require.TestingT) {
	const points = 200
	s.r, s.weight = make([]float64, points), make([]float64, points)
	quad.Legendre{}.FixedLocations(s.r, s.weight, s.kappa, 1)
	h := 1 - s.kappa
	thin := math.Pow(1/h, s.index-1)
	s.x = [3]float64{1 / h * thin, 0, 3 / h * thin * s.tan * s.tan / (1 + s.tan*s.tan)}
	for range 1000 {
		miss, stiff := s.gradient()
		var c mat.Cholesky
		require.True(t, c.Factorize(stiff))
		var step mat.VecDense
		require.NoError(t, c.SolveVecTo(&step, mat.NewVecDense(3, miss)))
		slope := mat.Dot(&step, mat.NewVecDense(3, miss))
		if slope < 1e-26*math.Abs(s.x[0]) {
			s.stress = s.x[2]/2 + s.x[0]
			return
		}
		old := s.x
		for factor := 1.0; ; factor /= 2 {
			for i := range s.x {
				s.x[i] = old[i] + factor*step.AtVec(i)
			}
			miss, _ := s.gradient()
			if -mat.Dot(&step, mat.NewVecDense(3, miss)) <= 0.5*slope || factor < 1e-6 {
				break
			}
		}
	}
	t.Errorf("not found: %+v", s.x)
	t.FailNow()
}

// flatTo returns drag flow, pressure flow and power against no pressure of a channel
// that leaks nothing, over those of the same channel unrolled flat at the bore.
func flatTo(depthToBore, angle float64) (drag, pressure, power float64) {
	sin, cos := math.Sincos(angle)
	b := balance{sin: sin, cos: cos, bent: bentBy(2 * depthToBore)}
	along, mixed, across := b.turned()
	cross := 12 * sin * b.bent.drag / across // gradient across, against that of drag, of μV/H²
	return 2 * b.bent.drag * (1 + sin/cos*mixed/across), along - mixed*mixed/across,
		(b.bent.shear + b.bent.drag*sin*cross) / (cos*cos + 4*sin*sin)
}

func TestCheckCurvature(t *testing.T) {
	const collocated = "the two linear equations of the helical flow solved by Chebyshev collocation on 45 points at 40 digits"
	const closed = "closed form in logarithms at 60 digits"
	const why = "rounding"
	var rows []verify.Row
	for _, v := range []struct {
		depth, angle, drag, pressure, power float64
		source                              string
	}{
		{1e-5, 20, 1.0000009937426852, 1.0000076604804219, 0.99998151500028034, closed},
		{1e-3, 45, 0.99933259980029511, 0.99999946619990056, 0.99920018635954302, closed},
		{0.01, 60, 0.98829864509952, 0.99495164375896, 0.99190937363966, collocated},
		{0.05, 17.65678715, 1.0066811982999, 1.0419453927822, 0.90118139117903, collocated},
		{0.1, 17.65678715, 1.011460912014, 1.0861408175583, 0.80820060278178, collocated},
		{0.18, 17.65678715, 1.0135975968765, 1.1610540743345, 0.67332552887156, collocated},
		{0.25, 30, 0.9084906413181, 1.1085875967624, 0.74460400531446, collocated},
		{0.3, 45, 0.73288819532883, 0.93971800764586, 0.76381413590411, collocated},
		{0.316, 70, 0.56686675706033788, 0.73904387588424684, 0.69774465521637584, closed}, // either side of x = 1
		{0.32, 70, 0.56189122431359124, 0.73565552130557753, 0.69360175935930878, closed},
		{0.45, 10, 1.0077112373161551, 1.5183397717099384, 0.16658156081066902, closed},
		{0.49, 17.66, 0.88528922374072571, 1.3524992784683049, 0.32899614491811586, closed},
	} {
		name := fmt.Sprintf(" factor at depth/bore %g, %g°", v.depth, v.angle)
		drag, pressure, power := flatTo(v.depth, deg(v.angle))
		rows = append(rows,
			verify.Row{Name: "drag" + name, Source: v.source, Kind: verify.Own, Want: v.drag, Got: drag, Tol: 1e-13, Why: why},
			verify.Row{Name: "pressure" + name, Source: v.source, Kind: verify.Own, Want: v.pressure, Got: pressure, Tol: 1e-13, Why: why},
			verify.Row{Name: "power" + name, Source: v.source, Kind: verify.Own, Want: v.power, Got: power, Tol: 1e-13, Why: why})
	}
	const lead = "tan θ = lead/(π·diameter)"
	for _, v := range [][2]float64{{0.0635, 17.656787}, {0.054, 20.521319}, {0.0445, 24.428379}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("helix angle at %g mm of a lead of 63.5 mm [rad]", 1e3*v[0]), Source: lead, Kind: verify.Own,
			Want: deg(v[1]), Got: Channel{Bore: v[0], Lead: 0.0635}.HelixAngle(), Tol: 3e-8, Why: "eight digits"})
	}
	verify.Table(t, rows)
}

// The bent gap is solved as the flat one is; the twin knows neither its unknowns nor
// its quadrature.
func TestPropertyBentGapIsTheHelicalAnnulus(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		depth, angle := draw.Log(1e-3, 0.4).Draw(t, "depth/bore"), draw.Uniform(0.05, 1.2).Draw(t, "angle")
		index := draw.Uniform(0.4, 1).Draw(t, "index")
		sin, cos := math.Sincos(angle)
		h := 2 * depth
		m := Melt{Viscosity: material.PowerLaw{Consistency: 1, Index: index, Reference: 470}, Density: 750, SpecificHeat: 2500, Temperature: 470}
		s := spiral{kappa: 1 - h, tan: sin / cos, index: index}
		gap := Gap{Depth: h, Along: cos, Across: -sin} // in units of the bore's radius and speed
		g := draw.Uniform(-0.5, 0.5).Draw(t, "gradient") * 6 * math.Pow(cos, index) / math.Pow(h, index+1)
		s.rise = g / sin
		s.solve(t)
		for _, law := range []material.Viscosity{m.Viscosity, asLaw{m.Viscosity}} {
			m.Viscosity = law
			state := gapState{bend: bend{h: h, sin: sin, cos: cos}}
			require.True(t, state.solve(gap, m, g))
			f := state.flow(gap)
			// The twin's plain rule of 200 points loses digits where the stress passes zero.
			require.InDelta(t, s.flow/cos, f.Flow, 1e-6*h)
			require.InEpsilon(t, s.stress, f.Power, 1e-6, "power of the bore, at speed 1")
			require.InDelta(t, f.Power, f.Dissipation+f.Flow*f.Gradient, 1e-10*(f.Dissipation+math.Abs(f.Flow*f.Gradient)))
		}
		// Shallow it is flat.
		m.Viscosity = material.PowerLaw{Consistency: 1, Index: index, Reference: 470}
		bent := gapState{bend: bend{h: 1e-7, sin: sin, cos: cos}}
		require.True(t, bent.solve(gap, m, g))
		flat, err := gap.Flow(m, g)
		require.NoError(t, err)
		require.InDelta(t, flat.Flow, bent.flow(gap).Flow, 1e-5*h+1e-5*math.Abs(flat.Flow))
	})
}

// asLaw keeps the type of a law from the code.
type asLaw struct{ material.Viscosity }

func TestCurvatureTangents(t *testing.T) {
	for _, angle := range []float64{0.1, 0.3, 0.8, 1.3} {
		s := math.Sin(angle)
		s2 := s * s
		const shallow = 1e-7
		drag, pressure, power := flatTo(shallow, angle)
		require.InDelta(t, 1./3-2*s2, (drag-1)/shallow, 1e-5)
		require.InDelta(t, 1-2*s2, (pressure-1)/shallow, 1e-5)
		require.InDelta(t, -(3-5*s2+6*s2*s2)/(1+3*s2), (power-1)/shallow, 1e-5)
	}
	require.Zero(t, testing.AllocsPerRun(100, func() { bentBy(0.1) }))
}

func BenchmarkCurvature(b *testing.B) {
	var sum float64
	versus.Report(b, "x-4-exp", func(i int) {
		f := bentBy(0.1 + 1e-4*float64(i&1023))
		sum += f.drag + f.round + f.axial
	}, func(i int) {
		for k := range 4 {
			sum += math.Exp(-0.1 * float64(k+i&7))
		}
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
