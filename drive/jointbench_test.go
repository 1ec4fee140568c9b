package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/internal/versus"
)

// inline is the least safety of rate, written for these joints without a check of input.
func (d *drivetrain) inline(torque float64) float64 {
	k, p, f, c := &d.key, &d.pin, &d.fit, &d.clamp
	force := 2 * torque / k.Diameter
	share := max(force/(k.Size.Width*k.Length)/(0.577*500e6), force/(k.Size.ShaftDepth*k.Length)/(0.9*400e6),
		force/((k.Size.Height-k.Size.ShaftDepth)*k.Length)/(0.9*300e6))

	wall := (p.Hub - p.Shaft) / 2
	share = max(share, 4*torque/(math.Pi*p.Pin*p.Pin*p.Shaft)/(0.577*600e6), 6*torque/(p.Pin*p.Shaft*p.Shaft)/400e6,
		torque/(p.Pin*wall*(p.Shaft+wall))/300e6)

	x, y := f.Diameter*f.Diameter, f.Outer*f.Outer
	ratio := (y + x) / (y - x)
	yielding := f.Diameter * ((ratio+f.Hub.Poisson)/f.Hub.Young + (1-f.Shaft.Poisson)/f.Shaft.Young)
	grip := 0.12 * math.Pi * f.Diameter * f.Length * 5e-6 / yielding
	tight := 15e-6 / yielding
	share = max(share, 2*torque/f.Diameter/grip, tight*math.Sqrt(ratio*ratio+ratio+1)/300e6, tight/400e6)

	pressed := float64(c.Bolts) * c.BoltForce * c.Lever
	share = max(share, torque/(c.Friction*pressed*c.Diameter), pressed/(c.Diameter*c.Length)/300e6)

	a, b := d.a, d.b
	ia, ib := a.Young*math.Pi/64*math.Pow(a.Diameter, 4), b.Young*math.Pi/64*math.Pow(b.Diameter, 4)
	f11 := a.Overhang*a.Overhang*(a.Span+a.Overhang)/(3*ia) + b.Overhang*b.Overhang*(b.Span+b.Overhang)/(3*ib) + 1/d.coupling.Radial
	f12 := a.Overhang*(2*a.Span+3*a.Overhang)/(6*ia) - b.Overhang*(2*b.Span+3*b.Overhang)/(6*ib)
	f22 := (a.Span+3*a.Overhang)/(3*ia) + (b.Span+3*b.Overhang)/(3*ib) + 1/d.coupling.Angular
	det := f11*f22 - f12*f12
	v, m := (f22*1e-4-f12*5e-3)/det, (f11*5e-3-f12*1e-4)/det
	farA, farB := (v*a.Overhang+m)/a.Span, (m-v*b.Overhang)/b.Span
	share = max(share, max(math.Abs(farA), math.Abs(v+farA))/200, max(math.Abs(farB), math.Abs(v-farB))/800)
	return 1 / share
}

// The reference of the benchmark is the same rating: a second writing of all formulas.
func TestJointsAgreeWithInline(t *testing.T) {
	for _, torque := range []float64{0.5, 2, 8, 30} {
		got, err := joined.rate(torque)
		require.NoError(t, err)
		assert.InEpsilon(t, joined.inline(torque), got, 1e-12, "%v N·m", torque)
	}
}

// BenchmarkJoints compares the checked rating of five joints with the bare formulas.
func BenchmarkJoints(b *testing.B) {
	torque := func(i int) float64 { return 1 + 0.1*float64(i%200) }
	versus.Report(b, "x-inline", func(i int) {
		s, err := joined.rate(torque(i))
		if err != nil {
			b.Fatal(err)
		}
		sink += s
	}, func(i int) { sink += joined.inline(torque(i)) })
}
