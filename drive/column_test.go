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

func TestCheckBuckling(t *testing.T) {
	const (
		example = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 4-17, p. 187"
		hand    = "eqs. 4-43 to 4-46 by hand"
	)
	buckling := func(c drive.Column) drive.Buckling {
		b, err := c.Buckling()
		require.NoError(t, err)
		return b
	}
	link := drive.Column{Diameter: 40e-3, Length: 1.5, Ends: drive.PinnedPinned, Modulus: 207e9, Yield: 500e6}
	d, err := link.DiameterFor(4 * 22e3)
	require.NoError(t, err)
	b := buckling(link)
	rows := []verify.Row{
		{Name: "22 kN, four times safe, 1.5 m: d, mm", Source: example, Kind: verify.Print, Want: 37.48, Got: d * 1e3, Tol: 1.4e-4, Why: "four digits printed"},
		{Name: "the same", Source: hand, Kind: verify.Own, Want: 37.4848951, Got: d * 1e3, Tol: 2e-9, Why: "nine digits given"},
		{Name: "slenderness at 40 mm", Source: example, Kind: verify.Print, Want: 150, Got: b.Slenderness, Tol: 1e-12, Why: "exact"},
		{Name: "slenderness where Johnson ends", Source: example, Kind: verify.Print, Want: 90.4, Got: b.Transition, Tol: 5e-4, Why: "three digits printed"},
		{Name: "slenderness where Johnson ends", Source: hand, Kind: verify.Own, Want: 90.3992945, Got: b.Transition, Tol: 1e-9, Why: "nine digits given"},
	}
	for _, c := range []struct{ mm, length, ends, gpa, mpa, newton float64 }{
		{8, 200, 1, 205, 350, 9984.536215}, {8, 200, 0.25, 205, 350, 2542.514688}, {8, 100, 1, 205, 350, 15690.823199},
		{10, 250, 4, 205, 350, 24516.911248}, {10, 250, 1.2, 205, 350, 17582.187483},
		{40, 600, 1, 207, 500, 489922.928}, {40, 1500, 1, 207, 500, 114103.098}, {8, 200, 1, 207, 800, 10269.3},
	} {
		tol, why := 5e-9, "nine digits given"
		if c.mpa == 800 {
			tol, why = 5e-6, "six digits given"
		}
		got := buckling(drive.Column{Diameter: c.mm * 1e-3, Length: c.length * 1e-3, Ends: c.ends, Modulus: c.gpa * 1e9, Yield: c.mpa * 1e6}).Critical
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%g mm, %g mm long, C %g, S_y %g MPa, N", c.mm, c.length, c.ends, c.mpa),
			Source: hand, Kind: verify.Own, Want: c.newton, Got: got, Tol: tol, Why: why})
	}
	verify.Table(t, rows)
}

func TestPropertyBuckling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drive.Column{
			Length: draw.Log(0.02, 2).Draw(t, "length"), Ends: draw.Uniform(0.25, 4).Draw(t, "ends"),
			Diameter: draw.Log(2e-3, 60e-3).Draw(t, "diameter"),
			Modulus:  draw.Uniform(70e9, 220e9).Draw(t, "modulus"), Yield: draw.Uniform(100e6, 1000e6).Draw(t, "yield"),
		}
		at := func(c drive.Column) float64 {
			b, err := c.Buckling()
			require.NoError(t, err)
			return b.Critical
		}
		p := at(c)
		d, err := c.DiameterFor(p)
		require.NoError(t, err)
		if b, _ := c.Buckling(); b.Slenderness < 1.4*b.Transition { // at a third of the area's yield or more
			require.InEpsilon(t, c.Diameter, d, 1e-6)
		}
		again := c
		again.Diameter = d
		require.InEpsilon(t, p, at(again), 1e-9)

		area := math.Pi / 4 * c.Diameter * c.Diameter
		require.LessOrEqual(t, p, area*c.Yield*(1+1e-12), "never above yield")
		require.LessOrEqual(t, p, area*c.Ends*c.Modulus*square(math.Pi*c.Diameter/(4*c.Length))*(1+1e-12), "never above Euler")
		k := draw.Log(0.5, 2).Draw(t, "scale")
		larger := c
		larger.Diameter, larger.Length = c.Diameter*k, c.Length*k
		require.InEpsilon(t, p*k*k, at(larger), 1e-12)
		longer := c
		longer.Length *= 1.1
		require.Less(t, at(longer), p)

		// Where the two meet they have one value and one slope.
		meet := c
		meet.Length = c.Diameter / 4 * math.Pi * math.Sqrt(2*c.Ends*c.Modulus/c.Yield)
		require.InEpsilon(t, area*c.Yield/2, at(meet), 1e-9)
		h := 1e-4 * meet.Length
		before, after := meet, meet
		before.Length -= h
		after.Length += h
		require.InEpsilon(t, at(before)-at(meet), at(meet)-at(after), 1e-3)
		// A bore takes more area than it takes slenderness.
		tube := c
		tube.Bore = c.Diameter / 2
		require.Less(t, at(tube), p)
		if hollow, err := tube.Buckling(); hollow.Euler() {
			require.NoError(t, err)
			second := math.Pi / 64 * (math.Pow(tube.Diameter, 4) - math.Pow(tube.Bore, 4))
			require.InEpsilon(t, math.Pi*math.Pi*c.Ends*c.Modulus*second/(c.Length*c.Length), hollow.Critical, 1e-9)
		}
	})
}

func TestBucklingRefuses(t *testing.T) {
	c := drive.Column{Diameter: 0, Bore: -1, Length: math.NaN(), Ends: 5, Modulus: 205e9, Yield: 300e9}
	_, err := c.Buckling()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Column.Diameter = 0 m: allowed 0.0001 to 10 m\n"+
		"drive.Column.Bore = -1 m: allowed 0 to 9.9e-05 m\n"+
		"drive.Column.Length = NaN m: allowed 1e-05 to 100 m\n"+
		"drive.Column.Ends = 5: allowed 0.25 to 4\n"+
		"drive.Column.Yield = 3e+11 Pa: allowed 100000 to 1e+10 Pa")
	assert.Error(t, c.Validate())
	_, err = drive.Column{Length: 1, Ends: 1, Modulus: 205e9, Yield: 3e8}.DiameterFor(0)
	assert.EqualError(t, err, "drive.Column.DiameterFor: thrust = 0 N: allowed 1e-06 to 1e+10 N")
	thin, err := drive.Column{Diameter: 1e-3, Length: 1, Ends: 1, Modulus: 205e9, Yield: 3e8}.Buckling()
	require.NoError(t, err)
	assert.Equal(t, "Euler", thin.Utilisation(1).Method)
	assert.NotEmpty(t, thin.Beyond)
}
