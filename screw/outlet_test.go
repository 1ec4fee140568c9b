package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
)

func grains(density, size float64) material.Bulk {
	return material.Bulk{Name: "grains", Shape: "pellets", BulkDensity: density, ParticleSize: size}
}

func degrees(d float64) float64 { return d * math.Pi / 180 }

const (
	evaluated = "same formula evaluated independently to 20 digits, g = 9.80665"
	tenDigits = "ten digits of the independent value"
	gRounded  = "g = 9.81 there, and its last digit"
)

func TestCheckDischarge(t *testing.T) {
	const memory = "Beverloo, Leniger and van de Velde 1961, constants from memory, "
	var rows []verify.Row
	for _, v := range []struct{ density, width, size, rim, want, small float64 }{
		{560, 0.05, 3e-3, 1.4, 0.456604359185, 0.377558940196},
		{560, 0.04, 4e-3, 1.4, 0.223240231797, 0.171086451256},
		{300, 0.05, 6e-3, 1.5, 0.185468102112, 0},
		{300, 0.0254, 6e-3, 1.5, 0.0187680523514, 0},
		{600, 0.01, 0.5e-3, 1.4, 0.00908964565143, 0.00776743692493},
	} {
		o := screw.Outlet{Width: v.width}
		// With k = 1.5, the edge takes as much as larger grains take with 1.4.
		d, err := o.Discharge(grains(v.density, v.size*v.rim/1.4))
		require.NoError(t, err)
		name := fmt.Sprintf(" of %g mm, grains of %g mm, k = %g [kg/s]", v.width*1e3, v.size*1e3, v.rim)
		rows = append(rows, verify.Row{Name: "discharge" + name, Source: memory + evaluated, Kind: verify.Own, Want: v.want, Got: d.Flow, Tol: 1e-10, Why: tenDigits})
		if v.small != 0 {
			small, err := o.SmallFlow(grains(v.density, v.size))
			require.NoError(t, err)
			rows = append(rows, verify.Row{Name: "small outlet" + name, Source: "Mankoc et al. 2007, form from memory, " + evaluated, Kind: verify.Own,
				Want: v.small, Got: small, Tol: 1e-10, Why: tenDigits})
		}
	}
	slot, err := screw.Outlet{Width: 0.03, Length: 0.06}.Discharge(grains(300, 6e-3))
	require.NoError(t, err)
	funnel, err := screw.Outlet{Width: 0.01}.Discharge(grains(600, 0.5e-3))
	require.NoError(t, err)
	for _, v := range [][2]float64{{5, 0.5922688144}, {10, 0.6840423776}, {20, 0.8102688446}, {50, 0.9589164377}, {100, 0.9967921271}} {
		small, err := screw.Outlet{Width: v[0] * 2e-3}.SmallFlow(grains(500, 2e-3))
		require.NoError(t, err)
		full := 0.58 * 500 * math.Sqrt(9.80665) * math.Pow((v[0]-1)*2e-3, 2.5)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("share left of (D − d)^(5/2), R = %g", v[0]), Source: "Mankoc et al. 2007, 1 − ½·exp(−0.051(R−1)), from memory, evaluated independently",
			Kind: verify.Own, Want: v[1], Got: small / full, Tol: 1e-9, Why: tenDigits})
	}
	for _, v := range [][4]float64{{560, 3e-3, 0.1, 0.02914878822978527}, {300, 6e-3, 5. / 3600, 0.01418819517654410}} {
		o, err := screw.OutletFor(grains(v[0], v[1]), v[2])
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("outlet for %.3g kg/h [m]", v[2]*3600), Source: memory + "D = 1.4 d + (W/(0.58 ρ √g))^(2/5) to 20 digits", Kind: verify.Own,
			Want: v[3], Got: o.Width, Tol: 1e-12, Why: "rounding"})
	}
	verify.Table(t, append(rows,
		verify.Row{Name: "discharge of a slot [kg/s]", Source: "Nedderman 1992, form from memory, " + evaluated, Kind: verify.Own, Want: 0.158507255206, Got: slot.Flow, Tol: 1e-10, Why: tenDigits},
		verify.Row{Name: "100 g of powder through 10 mm [s]", Source: memory + "worked in g, cm and s", Kind: verify.Own, Want: 11.0, Got: 0.1 / funnel.Flow, Tol: 4.6e-3, Why: "half a unit of three digits"}))
}

func TestPropertyDischarge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size, scale := draw.Log(1e-3, 0.01).Draw(t, "size"), draw.Log(0.2, 5).Draw(t, "scale")
		o := screw.Outlet{Width: draw.Log(0.5, 20).Draw(t, "ratio") * size}
		if rapid.Bool().Draw(t, "slot") {
			o.Length = o.Width * draw.Log(1, 10).Draw(t, "long")
		}
		density := draw.Log(20, 1500).Draw(t, "density")
		d, err := o.Discharge(grains(density, size))
		require.NoError(t, err)
		larger := screw.Outlet{Width: o.Width * scale, Length: o.Length * scale}
		much, err := larger.Discharge(grains(density, size*scale))
		require.NoError(t, err)
		near := 1e-13
		if d.Flow != 0 {
			near *= 1 + 2.5*o.Width/(o.Width-1.4*size) // of the difference
		}
		same(t, d.Flow*math.Pow(scale, 2.5), much.Flow, near, "all sizes")
		require.Equal(t, o.Width <= 1.4*size, d.Flow == 0)
		if o.Length == 0 && d.Flow > 1e-9 {
			back, err := screw.OutletFor(grains(density, size), d.Flow)
			require.NoError(t, err)
			same(t, o.Width, back.Width, 1e-13, "inverse of the inverse")
		}
		require.Equal(t, o.Width < 6*size*(1-1e-9), d.Beyond != nil)
		wider, err := screw.Outlet{Width: o.Width * 1.01, Length: o.Length * 1.01}.Discharge(grains(density, size))
		require.NoError(t, err)
		require.True(t, wider.Flow > d.Flow || wider.Flow == 0)
		small, err := o.SmallFlow(grains(density, size))
		if o.Length != 0 {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		require.NoError(t, err)
		require.Equal(t, o.Width <= size, small == 0)
		if o.Width > 3*size {
			require.Less(t, small, d.Flow)
		}
	})
}

// Both discharge laws are one at a wide outlet.
func TestDischargeOfAWideOutlet(t *testing.T) {
	o := screw.Outlet{Width: 1}
	d, err := o.Discharge(grains(500, 1e-3))
	require.NoError(t, err)
	small, err := o.SmallFlow(grains(500, 1e-3))
	require.NoError(t, err)
	same(t, d.Flow, small, 1.1e-3, "0.4 grains of a thousand to the power 5/2")
}

// BenchmarkOutletFor compares the outlet for a flow with the same formula written out.
func BenchmarkOutletFor(b *testing.B) {
	bulk := grains(560, 3e-3)
	var sum float64
	versus.Report(b, "x-inline", func(i int) {
		o, err := screw.OutletFor(bulk, 0.1+1e-4*float64(i&255))
		if err != nil {
			b.Fatal(err)
		}
		sum += o.Width
	}, func(i int) {
		sum += 1.4*bulk.ParticleSize + math.Pow((0.1+1e-4*float64(i&255))/(0.58*bulk.BulkDensity*math.Sqrt(9.80665)), 0.4)
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// A round outlet over a feed auger: flake or pellets, is it wide enough?
func ExampleOutlet() {
	outlet := screw.Outlet{Width: 0.036}
	for _, bulk := range []material.Bulk{material.Pellets(), material.Regrind()} {
		run, err := outlet.Discharge(bulk)
		if err != nil {
			fmt.Println(err)
			return
		}
		clogging, err := screw.Outlet{Width: 0.018}.Clogging(bulk, 5)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %.0f kg/h through 36 mm; through 18 mm a clog in 5 kg with %.2g\n", bulk.Name, run.Flow*3600, clogging.Probability)
	}
	// Output:
	// PP pellets: 564 kg/h through 36 mm; through 18 mm a clog in 5 kg with 0.1
	// PP regrind flake: 395 kg/h through 36 mm; through 18 mm a clog in 5 kg with 1
}
