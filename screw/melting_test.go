package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

var (
	meltScrew = screw.Profile{Bore: 0.0635, Lead: math.Pi * 0.0635 * math.Tan(17.66*math.Pi/180),
		Land: math.Pi*0.0635*math.Sin(17.66*math.Pi/180) - 0.054, Clearance: 1e-4, Starts: 1,
		Zones: []screw.Zone{{Length: 0.5, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: material.Celsius(200)}}}
	meltBed  = screw.Bed{Density: 900, Temperature: material.Celsius(25), Melting: material.Celsius(110), SpecificHeat: 2600, FusionHeat: 130e3}
	meltFilm = screw.Melt{Viscosity: material.Newtonian{Eta: 600}, Density: 780, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.18}
)

func TestCheckMelting(t *testing.T) {
	const source = "drag-removal melting with a Newtonian film after Z. Tadmor (1966), constant depth, evaluated independently"
	const why = "digits of the independent value"
	m, err := meltScrew.MeltBed(0, meltBed, meltFilm, 1, 60./3600)
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "ψ [-]", Source: source, Kind: verify.Own, Want: .005065017, Got: m.Psi, Tol: 2e-7, Why: why},
		{Name: "film [m]", Source: source, Kind: verify.Own, Want: 0.39740133e-3, Got: m.Film, Tol: 3e-8, Why: why},
		{Name: "melted [kg/(m·s)]", Source: source, Kind: verify.Own, Want: .0093796611, Got: m.Rate, Tol: 1e-8, Why: why},
		{Name: "half of μV²/k(T−T) [-]", Source: source, Kind: verify.Own, Want: .9911955 / 2, Got: m.Dissipation, Tol: 1e-7, Why: why},
		{Name: "length to melt, helical [m]", Source: source, Kind: verify.Own, Want: 3.5537887, Got: m.Helical, Tol: 3e-8, Why: why},
		{Name: "length to melt [m]", Source: source, Kind: verify.Own, Want: 1.0781054, Got: m.Length, Tol: 5e-8, Why: why},
		{Name: "what the film carries off, ρVδ/2 [kg/(m·s)]", Source: "balance of the film", Kind: verify.Own, Want: 780 * .060519207 * m.Film / 2, Got: m.Rate, Tol: 3e-8, Why: why},
	}
	for _, v := range [][2]float64{{.25, .86425385}, {.5, .73840523}, {1, .51640057}, {2, .19116162}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("solid at %g m of helix [-]", v[0]), Source: source, Kind: verify.Own,
			Want: v[1], Got: m.Solid(v[0] * m.Length / m.Helical), Tol: 3e-8, Why: why})
	}
	verify.Table(t, rows)
}

// In a taper, too, what leaves the bed is what the film takes: d(H·X)/dz = −Φ√X/ρV.
func TestPropertyMelting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := meltScrew
		film := meltFilm
		film.Viscosity = material.PowerLaw{Consistency: draw.Log(500, 2e4).Draw(t, "consistency"), Index: draw.Uniform(0.3, 1).Draw(t, "index"), Reference: 430, TemperatureSlope: 0.01}
		n, flow := draw.Log(0.2, 3).Draw(t, "speed"), draw.Log(5, 100).Draw(t, "kg/h")/3600
		z := screw.Zone{Length: 1, DepthIn: 9e-3, DepthOut: 9e-3 * draw.Uniform(0.5, 1).Draw(t, "taper"), Barrel: material.Celsius(200)}
		p.Zones = []screw.Zone{z}
		m, err := p.MeltBed(0, meltBed, film, n, flow)
		flat := p
		flat.Zones = []screw.Zone{{Length: 1, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: z.Barrel}}
		even, err1 := flat.MeltBed(0, meltBed, film, n, flow)
		require.NoError(t, err1)
		if err != nil {
			require.ErrorIs(t, err, screw.ErrPlugs)
			return
		}
		require.LessOrEqual(t, m.Length, even.Length*(1+1e-12), "a taper melts sooner")
		require.Equal(t, 1.0, m.Solid(0))
		require.Equal(t, m.Solid(z.Length), m.Left)
		require.Equal(t, m.Left > 0, len(m.Beyond) > 0, "a bed that leaves the zone is told")
		// What a channel is fed melts at ψ of it for each depth of helix, while it is full.
		same(t, m.Psi*flow/z.DepthIn, m.Rate, 1e-12, "rate")
		// The film's heat of shear is that of its law at its mean temperature and rate.
		c := p.ChannelAt(0)
		v, bed := math.Pi*p.Bore*n, flow/(meltBed.Density*c.Width()*z.DepthIn)
		across, along := v*math.Sin(c.HelixAngle()), v*math.Cos(c.HelixAngle())-bed
		sliding := math.Hypot(across, along)
		eta := film.Viscosity.At(sliding/m.Film, (z.Barrel+meltBed.Melting)/2, 0)
		same(t, eta*sliding*sliding/(2*film.Conductivity*(z.Barrel-meltBed.Melting)), m.Dissipation, 1e-9, "heat of shear")
		same(t, film.Density*across*m.Film/2, m.Rate, 1e-9, "what the film carries off")
		twin := p
		twin.Starts, twin.Land = 2, 4e-3
		if pair, err := twin.MeltBed(0, meltBed, film, n, flow); err == nil {
			same(t, pair.Psi*flow/(2*z.DepthIn), pair.Rate, 1e-12, "rate of each of two")
		}
		require.Less(t, m.Solid(m.Length), 1e-20)
		depth := func(x float64) float64 { return z.DepthIn + (z.DepthOut-z.DepthIn)*x/z.Length }
		x, dx := m.Length*draw.Uniform(0.05, 0.9).Draw(t, "at"), 1e-6*m.Length
		if x > z.Length {
			return
		}
		change := (depth(x+dx)*m.Solid(x+dx) - depth(x-dx)*m.Solid(x-dx)) / (2 * dx) * m.Length / m.Helical
		require.InEpsilon(t, -m.Psi*math.Sqrt(m.Solid(x)), change, 1e-6)
		// More heat melts sooner; more flow later.
		hot := p
		hot.Zones = []screw.Zone{z}
		hot.Zones[0].Barrel += 20
		if sooner, err := hot.MeltBed(0, meltBed, screw.Melt{Viscosity: material.Newtonian{Eta: 300}, Density: 780, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.18}, n, flow); err == nil {
			cold, err := p.MeltBed(0, meltBed, screw.Melt{Viscosity: material.Newtonian{Eta: 300}, Density: 780, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.18}, n, flow)
			require.True(t, err != nil || sooner.Length < cold.Length)
		}
		more, err := flat.MeltBed(0, meltBed, film, n, 1.2*flow)
		require.NoError(t, err)
		require.Greater(t, more.Length, even.Length)
	})
}

func TestMeltingFaults(t *testing.T) {
	_, err := screw.Profile{}.MeltBed(1, screw.Bed{}, screw.Melt{}, 0, math.NaN())
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Bed.Density = 0", "screw.Bed.Melting = 0", "mass flow = NaN", "speed = 0", "Zones = 0", "screw.Melt.Conductivity = 0"} {
		assert.ErrorContains(t, err, part)
	}
	cold := meltScrew
	cold.Zones = []screw.Zone{{Length: 0.5, DepthIn: 9e-3, DepthOut: 9.5e-3, Barrel: 300}}
	_, err = cold.MeltBed(0, meltBed, meltFilm, 1, 0.01)
	assert.ErrorContains(t, err, "Zones[0].Barrel = 300 K: allowed above the bed's Melting")
	assert.ErrorContains(t, err, "Zones[0].DepthOut = 0.0095 m: allowed at most DepthIn")
	steep := meltScrew
	steep.Zones = []screw.Zone{{Length: 0.1, DepthIn: 9e-3, DepthOut: 2e-3, Barrel: material.Celsius(200)}}
	_, err = steep.MeltBed(0, meltBed, meltFilm, 1, 0.1)
	require.ErrorIs(t, err, screw.ErrPlugs)
	b, err := screw.BedOf(material.PP(), 600, material.Celsius(40))
	require.NoError(t, err)
	assert.Equal(t, material.PP().FusionHeat(), b.FusionHeat)
	assert.NoError(t, b.Validate())
}
