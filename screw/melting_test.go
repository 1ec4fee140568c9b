package screw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/screw"
)

var (
	meltScrew = screw.Profile{Bore: 0.0635, Lead: math.Pi * 0.0635 * math.Tan(17.66*math.Pi/180),
		Land: math.Pi*0.0635*math.Sin(17.66*math.Pi/180) - 0.054, Clearance: 1e-4, Starts: 1,
		Zones: []screw.Zone{{Length: 1.2, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: material.Celsius(200)}}}
	meltBed  = screw.Bed{Density: 900, Temperature: material.Celsius(25), Melting: material.Celsius(110), SpecificHeat: 2600, FusionHeat: 130e3}
	meltFilm = screw.Melt{Viscosity: material.Newtonian{Eta: 600}, Density: 780, SpecificHeat: 2500, Temperature: 450, Conductivity: 0.18}
)

func TestCheckMelting(t *testing.T) {
	const source = "drag-removal melting with a Newtonian film after Z. Tadmor (1966), constant depth, evaluated independently"
	const why = "digits of the independent value"
	// The value leaves out the heat that the film takes with it: as much less is taken in melting.
	bed, film := meltBed, meltFilm
	film.SpecificHeat = 100
	bed.FusionHeat -= film.SpecificHeat * 90 * (2./3 + .9911955/12)
	m, err := meltScrew.MeltBed(bed, film, 1, 60./3600)
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "ψ [-]", Source: source, Kind: verify.Own, Want: .005065017, Got: m.Psi, Tol: 2e-7, Why: why},
		{Name: "film [m]", Source: source, Kind: verify.Own, Want: 0.39740133e-3, Got: m.Film, Tol: 3e-8, Why: why},
		{Name: "melted [kg/(m·s)]", Source: source, Kind: verify.Own, Want: .0093796611, Got: m.Rate, Tol: 1e-8, Why: why},
		{Name: "half of μV²/k(T−T) [-]", Source: source, Kind: verify.Own, Want: .9911955 / 2, Got: m.Dissipation, Tol: 1e-7, Why: why},
		{Name: "length to melt [m]", Source: source, Kind: verify.Own, Want: 1.0781054, Got: m.Length, Tol: 5e-8, Why: why},
		{Name: "what the film carries off, ρVδ/2 [kg/(m·s)]", Source: "balance of the film", Kind: verify.Own, Want: 780 * .060519207 * m.Film / 2, Got: m.Rate, Tol: 3e-8, Why: why},
	}
	for _, v := range [][2]float64{{.25, .86425385}, {.5, .73840523}, {1, .51640057}, {2, .19116162}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("solid at %g m of helix [-]", v[0]), Source: source, Kind: verify.Own,
			Want: v[1], Got: m.Solid(m.From + v[0]*math.Sin(17.66*math.Pi/180)), Tol: 3e-8, Why: why})
	}
	verify.Table(t, rows)
}

// In zones and tapers of all kinds what leaves the bed is what the film takes, and all
// that was fed is somewhere: molten or in the bed.
func TestPropertyMelting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, film, bed := meltScrew, meltFilm, meltBed
		p.Starts = rapid.IntRange(1, 2).Draw(t, "starts")
		p.Land /= float64(p.Starts)
		film.Viscosity = material.PowerLaw{Consistency: draw.Log(500, 2e4).Draw(t, "consistency"), Index: draw.Uniform(0.3, 1).Draw(t, "index"), Reference: 430, TemperatureSlope: 0.01}
		n := draw.Log(0.2, 3).Draw(t, "speed")
		flow := draw.Log(0.02, 0.7).Draw(t, "share of what the barrel drags") * 0.083 * n
		shallow := 9e-3 * draw.Uniform(0.5, 1).Draw(t, "taper")
		cold, hot := material.Celsius(60), material.Celsius(draw.Uniform(150, 230).Draw(t, "barrel"))
		p.Zones = []screw.Zone{{Length: 0.1, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: cold}, {Length: 0.2, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: hot},
			{Length: draw.Uniform(0.3, 1).Draw(t, "length"), DepthIn: 9e-3, DepthOut: shallow, Barrel: hot + 10}, {Length: 0.4, DepthIn: shallow, DepthOut: shallow, Barrel: hot}}
		m, err := p.MeltBed(bed, film, n, flow)
		flat := p
		flat.Zones = []screw.Zone{{Length: 2, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: hot}}
		even, err1 := flat.MeltBed(bed, film, n, flow)
		require.NoError(t, err1)
		if err != nil {
			require.ErrorIs(t, err, screw.ErrPlugs)
			return
		}
		same(t, even.From, m.From-0.1, 1e-9, "the film begins where the barrel melts")
		alike := p
		alike.Zones = append([]screw.Zone(nil), p.Zones...)
		alike.Zones[2].Barrel = hot
		if level, err := alike.MeltBed(bed, film, n, flow); err == nil {
			require.LessOrEqual(t, level.Length, even.Length*(1+1e-12), "a taper melts sooner")
		}
		require.Equal(t, 1.0, m.Solid(m.From))
		require.Equal(t, m.Solid(p.Length()), m.Left)
		require.Equal(t, m.Left > 0, len(m.Beyond) > 0, "a bed that leaves the screw is told")
		// What a channel is fed melts at ψ of it for each depth of helix, while it is full.
		share := flow / float64(p.Starts)
		same(t, m.Psi*share/9e-3, m.Rate, 1e-12, "rate")
		// The film's heat of shear is that of its law at its mean temperature and rate.
		c := p.ChannelAt(0)
		v, slow := math.Pi*p.Bore*n, share/(bed.Density*c.Width()*9e-3)
		across, along := v*math.Sin(c.HelixAngle()), v*math.Cos(c.HelixAngle())-slow
		sliding := math.Hypot(across, along)
		eta := film.Viscosity.At(sliding/m.Film, (hot+bed.Melting)/2, 0)
		same(t, eta*sliding*sliding/(2*film.Conductivity*(hot-bed.Melting)), m.Dissipation, 1e-9, "heat of shear")
		same(t, film.Density*across*m.Film/2, m.Rate, 1e-9, "what the film carries off")
		same(t, 2*film.Conductivity*(hot-bed.Melting)*(1+m.Dissipation), film.Density*across*m.Film*m.Film/c.Width()*(bed.FusionHeat+bed.SpecificHeat*(bed.Melting-bed.Temperature)+film.SpecificHeat*(hot-bed.Melting)*(2./3+m.Dissipation/6)), 1e-9, "heat into bed and film")
		// Melted on the way, summed, and what is left make what was fed.
		sin := math.Sin(c.HelixAngle())
		sum, last := 0.0, m.From
		for _, end := range []float64{0.3, 0.3 + p.Zones[2].Length, p.Length()} {
			end = math.Max(last, math.Min(end, m.From+m.Length))
			sum += quad.Fixed(func(x float64) float64 { return math.Sqrt(m.Solid(x)) }, last, end, 60, quad.Legendre{}, 0) * rateIn(t, p, bed, film, n, flow, end) / sin
			last = end
		}
		same(t, share, sum+share*(1-m.Molten), 5e-12, "mass")
		// The largest flow that melts by a place has just melted there.
		at := m.From + draw.Uniform(0.1, 1).Draw(t, "place")*(p.Length()-m.From)
		most, err := p.MeltCapacity(bed, film, n, at)
		require.NoError(t, err)
		if just, err := p.MeltBed(bed, film, n, most); err == nil && just.From+just.Length > at*(1-1e-6) {
			require.InDelta(t, at, just.From+just.Length, 1e-6*at)
		} else { // or would plug on the way there or beyond
			if err == nil {
				_, err = p.MeltBed(bed, film, n, most*(1+1e-9))
			}
			require.ErrorIs(t, err, screw.ErrPlugs)
		}
	})
}

// rateIn is what melts on a metre of helix under a full bed in the zone that ends last
// before a place, of a bed as fast as in the whole screw.
func rateIn(t require.TestingT, p screw.Profile, bed screw.Bed, film screw.Melt, n, flow, place float64) float64 {
	for _, z := range p.Zones {
		if place -= z.Length; place <= 1e-9 {
			p.Zones = []screw.Zone{{Length: 1, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: z.Barrel}}
			break
		}
	}
	m, err := p.MeltBed(bed, film, n, flow)
	require.NoError(t, err)
	return m.Rate
}

// Signs that experiments on small and large screws agree on.
func TestPropertyMeltingSigns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, film := meltScrew, meltFilm
		n := draw.Log(0.2, 3).Draw(t, "speed")
		flow := draw.Log(0.02, 0.7).Draw(t, "share of what the barrel drags") * 0.083 * n
		film.Viscosity = material.Newtonian{Eta: draw.Log(50, 5000).Draw(t, "viscosity")}
		length := func(p screw.Profile, b screw.Bed, film screw.Melt, n, flow float64) screw.Melted {
			m, err := p.MeltBed(b, film, n, flow)
			require.NoError(t, err)
			return m
		}
		m := length(p, meltBed, film, n, flow)
		require.Greater(t, length(p, meltBed, film, n, 1.1*flow).Length, m.Length, "more flow")
		require.Greater(t, length(p, meltBed, film, n, 1.1*flow).From, m.From, "more flow waits longer")
		stiff := film
		stiff.Viscosity = material.Newtonian{Eta: 1.5 * film.Viscosity.(material.Newtonian).Eta}
		require.Less(t, length(p, meltBed, stiff, n, flow).Length, m.Length, "a stiffer melt makes more heat")
		require.Greater(t, length(p, meltBed, stiff, n, flow).Dissipation, m.Dissipation)
		hot := p
		hot.Zones = []screw.Zone{p.Zones[0]}
		hot.Zones[0].Barrel += 10
		if m.Dissipation < 1 { // where shear melts, a hotter barrel but warms the film
			require.Less(t, length(hot, meltBed, film, n, flow).Length, m.Length, "a hotter barrel")
		}
		// Of what shear makes in the film, half goes to the bed and half to the barrel; a
		// slow bed takes no work.
		slow := length(p, meltBed, film, n, 1e-6)
		heat := meltBed.FusionHeat + meltBed.SpecificHeat*(meltBed.Melting-meltBed.Temperature) + film.SpecificHeat*90*(2./3+slow.Dissipation/6)
		same(t, 2*1e-6*heat*slow.Dissipation/(1+slow.Dissipation), slow.Work, 1e-3, "work")
		require.Less(t, length(hot, meltBed, film, n, flow).Dissipation, m.Dissipation, "which conducts more")
		warm := meltBed
		warm.Temperature += 20
		require.Less(t, length(p, warm, film, n, flow).Length, m.Length, "warmer flake")
		wide := p
		wide.Clearance *= 2
		same(t, 4, length(wide, meltBed, film, n, flow).From/m.From, 0.1, "a film twice as thick takes four times as long")
		at := draw.Uniform(0.2, 0.9).Draw(t, "place") * p.Length()
		most := func(p screw.Profile, n, at float64) float64 {
			g, err := p.MeltCapacity(meltBed, film, n, at)
			require.NoError(t, err)
			return g
		}
		require.Greater(t, most(p, 1.1*n, at), most(p, n, at), "faster melts more")
		require.Less(t, most(p, n, 0.9*at), most(p, n, at), "longer melts more")
	})
}

func TestMeltingFaults(t *testing.T) {
	_, err := screw.Profile{}.MeltBed(screw.Bed{}, screw.Melt{}, 0, math.NaN())
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"screw.Bed.Density = 0", "screw.Bed.Melting = 0", "mass flow = NaN", "speed = 0", "Zones = 0", "screw.Melt.Conductivity = 0"} {
		assert.ErrorContains(t, err, part)
	}
	cold := meltScrew
	cold.Zones = []screw.Zone{{Length: 0.5, DepthIn: 9e-3, DepthOut: 9.5e-3, Barrel: 300}}
	_, err = cold.MeltBed(meltBed, meltFilm, 1, 0.01)
	assert.ErrorContains(t, err, "Zones[0].Barrel = 300 K: allowed above the bed's Melting")
	cold.Zones = append([]screw.Zone{meltScrew.Zones[0]}, cold.Zones...)
	_, err = cold.MeltBed(meltBed, meltFilm, 1, 0.01)
	assert.ErrorContains(t, err, "Zones[1].Barrel = 300 K: allowed above the bed's Melting")
	_, err = meltScrew.MeltCapacity(meltBed, meltFilm, 1, 1.3)
	assert.ErrorContains(t, err, "position = 1.3 m: allowed 1e-06 to 1.2 m")
	steep := meltScrew
	steep.Zones = []screw.Zone{{Length: 0.1, DepthIn: 9e-3, DepthOut: 2e-3, Barrel: material.Celsius(200)}}
	_, err = steep.MeltBed(meltBed, meltFilm, 1, 0.04)
	require.ErrorIs(t, err, screw.ErrPlugs)
	_, err = meltScrew.MeltBed(meltBed, meltFilm, 1, 0.1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	short := meltScrew
	short.Zones = []screw.Zone{{Length: 1e-3, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: material.Celsius(200)}}
	m, err := short.MeltBed(meltBed, meltFilm, 1, 0.05)
	require.NoError(t, err)
	assert.Equal(t, []float64{1, 0, 1}, []float64{m.Left, m.Molten, m.Solid(1)})
	assert.Contains(t, m.Beyond[0], "nothing melts")
}

func TestBedOf(t *testing.T) {
	p := material.PP()
	b, err := screw.BedOf(p, 600, material.Celsius(40))
	require.NoError(t, err)
	assert.Equal(t, p.FusionHeat(), b.FusionHeat)
	assert.NoError(t, b.Validate())
	high, _, err := p.EnthalpyAt(p.MeltingHigh)
	require.NoError(t, err)
	low, _, err := p.EnthalpyAt(b.Temperature)
	require.NoError(t, err)
	heat := b.FusionHeat + b.SpecificHeat*(b.Melting-b.Temperature)
	assert.InEpsilon(t, high-low-p.MeltSpecificHeat*(p.MeltingHigh-p.Transition), heat, 1e-12, "the enthalpy's own")
	s := material.PS()
	b, err = screw.BedOf(s, 600, material.Celsius(40))
	require.NoError(t, err)
	assert.InDelta(t, s.Transition+50, b.Melting, 1e-9)
	high, _, err = s.EnthalpyAt(b.Melting)
	require.NoError(t, err)
	low, _, err = s.EnthalpyAt(b.Temperature)
	require.NoError(t, err)
	assert.InEpsilon(t, high-low, b.SpecificHeat*(b.Melting-b.Temperature), 1e-12)
	_, err = screw.BedOf(p, 600, p.Transition)
	assert.ErrorContains(t, err, "screw.Bed.Temperature")
}

// A step in depth is a taper of no length: the same is left of the bed, as much wider.
func TestMeltingAtAStep(t *testing.T) {
	stepped, tapered := meltScrew, meltScrew
	hot := meltScrew.Zones[0].Barrel
	for _, shallow := range []float64{7e-3, 11e-3} {
		first, last := screw.Zone{Length: 0.6, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: hot}, screw.Zone{Length: 0.2, DepthIn: shallow, DepthOut: shallow, Barrel: hot}
		stepped.Zones = []screw.Zone{first, last}
		tapered.Zones = []screw.Zone{first, {Length: 1e-4, DepthIn: 9e-3, DepthOut: shallow, Barrel: hot}, last}
		a, err := stepped.MeltBed(meltBed, meltFilm, 1, 60./3600)
		require.NoError(t, err)
		b, err := tapered.MeltBed(meltBed, meltFilm, 1, 60./3600)
		require.NoError(t, err)
		assert.InEpsilon(t, b.Left, a.Left, 1e-3)
		assert.InEpsilon(t, b.Work, a.Work, 1e-3)
		assert.InEpsilon(t, a.Solid(0.6-1e-9)*9e-3/shallow, a.Solid(0.6+1e-9), 1e-6)
		assert.InEpsilon(t, 1-a.Left*shallow/9e-3, a.Molten, 1e-12)
	}
	// What melts at most by a place behind a step that would plug does not plug.
	stepped.Zones[1].DepthIn, stepped.Zones[1].DepthOut = 2e-3, 2e-3
	stepped.Zones[1].Length = 0.6
	most, err := stepped.MeltCapacity(meltBed, meltFilm, 1, 1.2)
	require.NoError(t, err)
	_, err = stepped.MeltBed(meltBed, meltFilm, 1, most)
	require.NoError(t, err)
	_, err = stepped.MeltBed(meltBed, meltFilm, 1, most*(1+1e-9))
	require.ErrorIs(t, err, screw.ErrPlugs)
	_, err = stepped.MeltBed(meltBed, meltFilm, 1, 60./3600)
	require.ErrorIs(t, err, screw.ErrPlugs)
}

// Across three zones, one of them deepening, by another's integrator.
func TestCheckMeltingZones(t *testing.T) {
	bed, film := meltBed, meltFilm
	bed.Conductivity = 0.2
	film.Viscosity = material.PowerLaw{Consistency: 5000, Index: 0.5, Reference: 430, TemperatureSlope: 0.01}
	p := meltScrew
	p.Zones = []screw.Zone{{Length: 0.3, DepthIn: 9e-3, DepthOut: 9e-3, Barrel: 470}, {Length: 0.4, DepthIn: 9e-3, DepthOut: 7e-3, Barrel: 490},
		{Length: 0.5, DepthIn: 7e-3, DepthOut: 8e-3, Barrel: 450}}
	m, err := p.MeltBed(bed, film, 1, 70./3600)
	require.NoError(t, err)
	const source = "film by fixed point, d(H·X)/dz = −ψ√X by scipy's DOP853 to 1e-12, work by quadrature"
	row := func(name string, want, got float64) verify.Row {
		return verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: 1e-9, Why: "the integrator's"}
	}
	verify.Table(t, []verify.Row{
		row("film [m]", 0.0002894658220880633, m.Film), row("half its Brinkman number [-]", 0.17634226607183387, m.Dissipation),
		row("melted [kg/(m·s)]", 0.0068321143801355995, m.Rate), row("ψ [-]", 0.0031622929416627627, m.Psi),
		row("melting begins [m]", 0.01289323538952236, m.From), row("solid after the first zone [-]", 0.6951124214063292, m.Solid(0.3)),
		row("solid after the taper [-]", 0.42375818588227343, m.Solid(0.7)), row("solid at the tip, deepening [-]", 0.08683319948112851, m.Left),
		row("work [W]", 3392.300820048841, m.Work), row("Péclet number by hand [-]", 14.802914490293796, m.Peclet),
	})
	longer := p
	longer.Zones = append(append([]screw.Zone(nil), p.Zones...), screw.Zone{Length: 1, DepthIn: 8e-3, DepthOut: 8e-3, Barrel: 450})
	whole, err := longer.MeltBed(bed, film, 1, 70./3600)
	require.NoError(t, err)
	assert.InEpsilon(t, whole.Length, m.Length, 1e-9, "of a screw that goes on")
	most := 0.08314528527217865 // πDN·cosθ·ρ·W·H, by hand
	_, err = p.MeltBed(bed, film, 1, most*(1-1e-9))
	require.NotErrorIs(t, err, screw.ErrNoFlow)
	_, err = p.MeltBed(bed, film, 1, most*(1+1e-9))
	require.ErrorIs(t, err, screw.ErrNoFlow)
}
