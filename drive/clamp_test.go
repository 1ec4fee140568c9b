package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

func TestCheckClamp(t *testing.T) {
	const (
		sheet = "worked sheet of a split hub, 60 mm, 800 N·m and 1.25 kN times 1.25, four bolts of 41.4 kN, friction 0.16; its page cannot be named"
		hand  = "μ·N·d and π/2 of it in plain decimal arithmetic"
	)
	c := drive.ClampHub{Diameter: 60e-3, Length: 80e-3, Bolts: 4, BoltForce: 41400, Lever: 1, Friction: 0.16}
	g, err := c.Grip()
	require.NoError(t, err)
	u, err := c.Utilisations(1.25*800, 1.25*1250, 400e6)
	require.NoError(t, err)
	ring := drive.ClampHub{Diameter: 12e-3, Length: 15e-3, Bolts: 1, BoltForce: 5000, Lever: 1.8, Friction: 0.12}
	r, err := ring.Grip()
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "mean pressure", Source: sheet, Kind: verify.Practice, Want: 34.5e6, Got: g.Pressure, Tol: 1e-9, Why: "exact"},
		{Name: "safety against slip", Source: sheet, Kind: verify.Practice, Want: 1.588, Got: u[0].Safety(), Tol: 3e-4, Why: "slip torque printed as 1588 N·m, four digits"},
		{Name: "axial force at slip with the torque", Source: sheet, Kind: verify.Practice, Want: 2481, Got: 1.25 * 1250 * u[0].Safety(), Tol: 3e-4, Why: "four digits printed"},
		{Name: "12 mm ring, 5 kN at 1.8: two lines", Source: hand, Kind: verify.Own, Want: 12.96, Got: r.Loose, Tol: 1e-12, Why: "exact"},
		{Name: "even pressure", Source: hand, Kind: verify.Own, Want: 20.3575204, Got: r.Fitted, Tol: 2e-9, Why: "nine digits given"},
		{Name: "axial", Source: hand, Kind: verify.Own, Want: 2160, Got: r.Axial, Tol: 1e-12, Why: "exact"},
	})
	c.Lever, c.Bolts = 0.5, 0
	_, err = c.Grip()
	assert.EqualError(t, err, "drive.ClampHub.Bolts = 0: allowed 1 to 100\ndrive.ClampHub.Lever = 0.5: allowed 1 to 5")
}

func TestPropertyClamp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw.Log(3e-3, 0.2).Draw(t, "diameter")
		c := drive.ClampHub{
			Diameter: d, Length: d * draw.Uniform(0.5, 3).Draw(t, "length"), Bolts: rapid.IntRange(1, 8).Draw(t, "bolts"),
			BoltForce: draw.Log(100, 1e5).Draw(t, "force"), Lever: draw.Uniform(1, 3).Draw(t, "lever"), Friction: draw.Uniform(0.05, 0.3).Draw(t, "friction"),
		}
		g, err := c.Grip()
		require.NoError(t, err)

		// Whatever the pressure p(θ) that presses with N across the slot, the torque lies between
		// that of two lines and the even one, for pressures from even to peaked at the middle.
		pressed := float64(c.Bolts) * c.BoltForce * c.Lever
		power := draw.Uniform(0, 8).Draw(t, "peakedness")
		var across, around float64
		const n = 2000
		for i := range n {
			angle := math.Pi * ((float64(i)+0.5)/n - 0.5)
			p := math.Pow(math.Cos(angle), power)
			across += p * math.Cos(angle)
			around += 2 * p // both halves
		}
		torque := c.Friction * pressed * around / across * d / 2
		require.Greater(t, torque, g.Loose*(1-1e-6))
		require.Less(t, torque, g.Fitted*(1+1e-6))

		again := c
		again.Friction *= 2
		h, err := again.Grip()
		require.NoError(t, err)
		require.InEpsilon(t, 2*g.Loose, h.Loose, 1e-12)
		require.InEpsilon(t, g.Loose, g.Axial*d/2, 1e-12)
		u, err := c.Utilisations(g.Loose, 0, 3e8)
		require.NoError(t, err)
		require.InEpsilon(t, 1, u[0].Safety(), 1e-12)
		require.InEpsilon(t, pressed, u[1].Demand*d*c.Length, 1e-12)

		safety := draw.Uniform(1, 4).Draw(t, "safety")
		force, err := c.BoltForceFor(0.6*g.Loose/safety, 0.8*g.Axial/safety, safety)
		require.NoError(t, err)
		require.InEpsilon(t, c.BoltForce, force, 1e-9, "BoltForceFor inverts Utilisations")
	})
}

func TestCheckGrubScrew(t *testing.T) {
	const shigley = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Table 7-4"
	var rows []verify.Row
	for _, c := range []struct {
		name          string
		inches, pound float64
	}{{"no. 1", 0.073, 65}, {"no. 2", 0.086, 85}, {"no. 3", 0.099, 120}, {"no. 4", 0.112, 160},
		{"no. 5", 0.125, 200}, {"no. 6", 0.138, 250}, {"no. 8", 0.164, 385}, {"no. 10", 0.190, 540}, {"1/4 in", 0.25, 1000}, {"5/16 in", 0.3125, 1500}, {"3/8 in", 0.375, 2000}, {"7/16 in", 0.4375, 2500}, {"1/2 in", 0.5, 3000}} {
		got, err := drive.GrubScrewHolds(c.inches * 0.0254)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: c.name, Source: shigley, Kind: verify.Memory, Want: c.pound * 4.4482216, Got: got, Tol: 1e-8, Why: "a table, the pound of force with eight digits"})
	}
	verify.Table(t, rows)
	_, err := drive.GrubScrewHolds(20e-3)
	assert.EqualError(t, err, "drive.GrubScrewHolds: diameter = 0.02 m: allowed 0.0016 to 0.0127 m")
}

func TestPropertyGrubScrew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := draw.Uniform(1.6e-3, 12e-3).Draw(t, "diameter")
		a, err := drive.GrubScrewHolds(d)
		require.NoError(t, err)
		b, err := drive.GrubScrewHolds(d * 1.05)
		require.NoError(t, err)
		require.Greater(t, b, a, "a larger one holds more")
		shaft := draw.Log(3e-3, 0.1).Draw(t, "shaft")
		u, err := drive.GrubScrewUtilisation(d, shaft, 0.6*a*shaft/2, 0.8*a)
		require.NoError(t, err)
		require.InEpsilon(t, 1, u.Safety(), 1e-9)
	})
}
