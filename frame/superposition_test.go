package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mat"

	"meltflight/frame"
	"meltflight/internal/verify"
	"meltflight/material"
)

// system is masses on springs on a base, as tones of one of them.
func system(stiff, mass *mat.SymDense, load []float64, beta float64, at int) (tones []frame.Tone, omegas []float64) {
	n := stiff.SymmetricDim()
	scaled := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			scaled.SetSym(i, j, stiff.At(i, j)/math.Sqrt(mass.At(i, i)*mass.At(j, j)))
		}
	}
	var eigen mat.EigenSym
	eigen.Factorize(scaled, true)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	for k, v := range eigen.Values(nil) {
		omega := math.Sqrt(v)
		part := 0.0
		for i := range n {
			part += vectors.At(i, k) * math.Sqrt(mass.At(i, i)) * load[i]
		}
		tones = append(tones, frame.Tone{Frequency: omega / (2 * math.Pi), Damping: beta * omega / 2, Share: part * vectors.At(at, k) / math.Sqrt(mass.At(at, at))})
		omegas = append(omegas, omega)
	}
	return tones, omegas
}

// Masses in a row and a body on two springs: their tones added up are the whole
// system integrated.
func TestCheckSuperpositionIsTheWholeSystem(t *testing.T) {
	chain := func(n int, last float64) (k, m *mat.SymDense, load []float64) {
		k, m = mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
		for i := range n {
			m.SetSym(i, i, 1)
			k.SetSym(i, i, 2)
			if i+1 < n {
				k.SetSym(i, i+1, -1)
			} else {
				k.SetSym(i, i, 1+last)
			}
			load = append(load, 1)
		}
		return k, m, load
	}
	k2, m2, l2 := chain(2, 0)
	k3, m3, l3 := chain(3, 0)
	k3f, m3f, l3f := chain(3, 1)
	bounce := mat.NewSymDense(2, []float64{5000, 3500, 3500, 127250})
	heavy := mat.NewSymDense(2, []float64{100, 0, 0, 1600})
	walk := mat.NewSymDense(2, []float64{4000, -4000, -4000, 104000})
	light := mat.NewSymDense(2, []float64{100, 0, 0, 1000})
	const rule = "2 sin((2i−1)π/(2(2n+1))), 2 sin(iπ/(2(n+1)))"
	const thomson = "Thomson, Dahleh, Theory of Vibration with Applications, 5th ed., Ex. 5.3-4, eigenvalues in 30 digits: 9.05 for the 9.06 printed"
	const edwards = "Edwards, Penney, Differential Equations, 2nd ed., 7.4-24, eigenvalues in 30 digits: 10.32 for the 10.31 printed"
	var rows []verify.Row
	for _, c := range []struct {
		name, source string
		k, m         *mat.SymDense
		load         []float64
		omegas       []float64
	}{
		{"two in a row", rule, k2, m2, l2, []float64{0.618033989, 1.618033989}},
		{"three in a row", rule, k3, m3, l3, []float64{0.445041868, 1.246979604, 1.801937736}},
		{"three between walls", rule, k3f, m3f, l3f, []float64{0.765366865, 1.414213562, 1.847759065}},
		{"bounce and pitch", thomson, bounce, heavy, []float64{1, 0}, []float64{6.899428375, 9.051471598}},
		{"two axles", edwards, walk, light, []float64{1, 0}, []float64{6.131125421, 10.315488407}},
	} {
		beta := 0.04 / c.omegas[0]
		at := 0 // bounce; of a row the last, whose tones pull either way
		if c.load[1] == 1 {
			at = len(c.load) - 1
		}
		tones, omegas := system(c.k, c.m, c.load, beta, at)
		for i, want := range c.omegas {
			rows = append(rows, verify.Row{Name: c.name + ", ω [rad/s]", Source: c.source, Kind: verify.Own, Want: want, Got: omegas[i], Tol: 2e-9, Why: "ten digits printed"})
		}
		sum := 0.0
		for _, tone := range tones {
			sum += tone.Share
		}
		rows = append(rows, verify.Row{Name: c.name + ", sum of shares", Source: "all move as the base at first", Kind: verify.Own, Want: 1, Got: sum, Tol: 1e-12, Why: "rounding"})
		period := 2 * math.Pi / c.omegas[0]
		p := profile(t, frame.Move{Distance: 1, Speed: 1.2 / period, Acceleration: 3 / (period * period), Jerk: 20 / (period * period * period)})
		n := len(c.load)
		stiff, damp := make([][]float64, n), make([][]float64, n)
		for i := range n {
			for j := range n {
				stiff[i] = append(stiff[i], c.k.At(i, j)/c.m.At(i, i))
				damp[i] = append(damp[i], beta*c.k.At(i, j)/c.m.At(i, i))
			}
		}
		var most, off, end float64
		ride(p, stiff, damp, c.load, period/2000, func(time float64, u []float64) {
			most = math.Max(most, math.Abs(u[at]))
			off = math.Max(off, math.Abs(u[at]-deflection(t, p, time, tones...)))
			end = u[at]
		})
		rows = append(rows,
			verify.Row{Name: c.name + ", superposed − integrated ÷ largest", Source: "the whole system integrated by Runge-Kutta", Kind: verify.Own, Got: off / most, Tol: 1e-8, Why: "error of the integration"},
			verify.Row{Name: c.name + ", deflection at the end [m]", Source: "the whole system integrated by Runge-Kutta", Kind: verify.Own, Want: end, Got: deflection(t, p, p.Duration(), tones...), Tol: 1e-7, Why: "error of the integration"})
		together := respond(t, p, tones...)
		assert.GreaterOrEqual(t, together.During, most, c.name)
		assert.Less(t, together.During, 1.6*most, c.name)
	}
	verify.Table(t, rows)
}

func ExampleProfile_Response() {
	tube, err := frame.RectangularTube(0.060, 0.040, 0.003)
	if err != nil {
		panic(err)
	}
	axis := frame.Axis{
		Beam: frame.Beam{Length: 1, Section: tube, Metal: material.Al6060()},
		Ends: frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4},
		Bodies: []frame.Body{
			{Mass: 1.2, Offset: [3]float64{0, 0, 0.03}, Inertia: [3]float64{0.002, 0.002, 0.002}},
			{Mass: 3, Offset: [3]float64{0, -0.12, 0.15}, Inertia: [3]float64{0.010, 0.010, 0.006}},
		},
	}
	nozzle := [3]float64{0, 0, -0.2}
	tones, err := axis.Tones(0.008, nozzle)
	if err != nil {
		panic(err)
	}
	for _, jerk := range []float64{0, 100} {
		p, err := frame.Move{Distance: 0.03, Speed: 0.1, Acceleration: 3, Jerk: jerk}.Profile()
		if err != nil {
			panic(err)
		}
		r, err := p.Response(tones...)
		if err != nil {
			panic(err)
		}
		settled, err := p.Settling(1e-6, tones...)
		if err != nil {
			panic(err)
		}
		fmt.Printf("jerk %g: %.2g s, up to %.0f µm on the way, %.1f µm left, %.2g s to 1 µm\n", jerk, p.Duration(), r.During*1e6, r.Left*1e6, settled)
	}
	// Output:
	// jerk 0: 0.33 s, up to 40 µm on the way, 9.1 µm left, 0.97 s to 1 µm
	// jerk 100: 0.36 s, up to 22 µm on the way, 1.2 µm left, 0.087 s to 1 µm
}
