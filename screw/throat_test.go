package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// feedZone is the feed zone of a 63.5 mm screw.
var feedZone = screw.Channel{Bore: 0.0635, Lead: 0.0635, Depth: 9.398e-3, Land: 6.35e-3, Clearance: 1e-4, Starts: 1, Length: 12.5 * 0.0635}

// rising is made up: friction that rises towards a softening at 95 °C.
var rising = screw.Friction{{293, 0.3}, {313, 0.28}, {333, 0.32}, {353, 0.45}, {363, 0.7}}

func sized(c screw.Channel, by float64) screw.Channel {
	for _, x := range []*float64{&c.Bore, &c.Lead, &c.Depth, &c.Land, &c.Clearance, &c.Length} {
		*x *= by
	}
	return c
}

func TestCheckFeed(t *testing.T) {
	const measured = "Z. Tadmor and I. Klein (1970), from memory: 63.5 mm, LDPE, 136 lb/h at 82 rpm; its own efficiency by hand, two digits, at the density of "
	const digits = "half a unit of the second digit of the efficiency"
	turn, err := feedZone.Feed(grains(1000, 3e-3), 1, 1)
	require.NoError(t, err)
	rows := []verify.Row{{Name: "volume a turn [m³]", Source: "π/4(D² − (D−2h)²)(S − e/cosθ) to 20 digits", Kind: verify.Own, Want: 9.078678550861e-5, Got: turn.Full / 1000, Tol: 1e-11, Why: tenDigits}}
	for _, v := range []struct{ density, efficiency float64 }{{550, 0.25}, {350, 0.39}} {
		f, err := feedZone.Feed(grains(v.density, 3e-3), 82.0/60, v.efficiency)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "intake [kg/s]", Source: measured + fmt.Sprintf("%g kg/m³", v.density), Kind: verify.Memory,
			Want: 136 * 0.45359237 / 3600, Got: f.MassFlow, Tol: 0.005 / v.efficiency, Why: digits})
	}
	// Screws alike take by the cube of their size.
	for _, v := range [][2]float64{{8, 0.0251}, {12, 0.0846}, {16, 0.2006}, {20, 0.3917}, {25, 0.7651}} {
		f, err := sized(feedZone, v[0]/63.5).Feed(grains(550, 3e-4), 1, 12.538/(550*0.0907867855))
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("a like screw of %g mm [g/rev]", v[0]), Source: "12.538 g/rev of that screw by the cube of the bore, by hand", Kind: verify.Own,
			Want: v[1], Got: f.MassFlow * 1e3, Tol: 0.5e-4 / v[1], Why: "its last digit"})
	}
	verify.Table(t, rows)
}

func TestCheckFriction(t *testing.T) {
	var rows []verify.Row
	for _, v := range [][2]float64{{293, 0.3}, {300, 0.28697125}, {320, 0.286398823529412}, {340, 0.348096376248613}, {353, 0.45}, {358, 0.549838836477987}, {362, 0.668748396226415}, {363, 0.7}} {
		rows = append(rows, verify.Row{Name: fmt.Sprintf("friction at %g K [-]", v[0]), Source: "scipy's PchipInterpolator, the same paper's cubics", Kind: verify.Own,
			Want: v[1], Got: must(t)(rising.At(v[0])), Tol: 1e-13, Why: "rounding"})
	}
	verify.Table(t, rows)
}

// What the trade holds a throat at is softening less 20 to 25 K.
func TestCheckSticking(t *testing.T) {
	var rows []verify.Row
	for _, v := range []struct {
		polymer material.Polymer
		margin  float64
		want    float64
	}{{material.PS(), 20, 70}, {material.ABS(), 25, 70}, {material.PET(), 25, 50}, {material.PLA(), 20, 40}} {
		u, err := screw.Throat{Barrel: 320, Root: 310, Softening: v.polymer.Softening}.Sticking(material.Celsius(25), v.margin)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%s throat, %g K margin, over air of 25 °C [K]", v.polymer.Name, v.margin), Source: "throats held at most at: PS and ABS 70, PET 50, PLA 40 °C", Kind: verify.Practice,
			Want: v.want - 25, Got: u.Capacity, Tol: 2.5 / (v.want - 25), Why: "targets are given to 5 K"})
	}
	verify.Table(t, rows)
}

func TestPropertyFeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, n := screwtest.Channels().Draw(t, "channel"), screwtest.Speeds().Draw(t, "speed")
		density, size := draw.Uniform(50, 700).Draw(t, "density"), draw.Log(1e-4, 8e-3).Draw(t, "size")
		efficiency := draw.Uniform(0.1, 0.5).Draw(t, "efficiency")
		feed := func(c screw.Channel, density, speed, efficiency float64) screw.Feed {
			f, err := c.Feed(grains(density, size), speed, efficiency)
			require.NoError(t, err)
			return f
		}
		f := feed(c, density, n, efficiency)
		same(t, 2*f.MassFlow, feed(c, 2*density, n, efficiency).MassFlow, 1e-14, "density")
		same(t, 2*f.MassFlow, feed(c, density, 2*n, efficiency).MassFlow, 1e-14, "speed")
		same(t, 2*f.MassFlow, feed(c, density, n, 2*efficiency).MassFlow, 1e-14, "efficiency")
		same(t, f.Full, feed(c, density, n, 2*efficiency).Full, 1e-14, "full")
		same(t, 8*f.MassFlow, feed(sized(c, 2), density, n, efficiency).MassFlow, 1e-12, "cube of the size")
		longer := c
		longer.Length *= 3
		same(t, f.MassFlow, feed(longer, density, n, efficiency).MassFlow, 1e-12, "however long the zone")
		// The full channel is a ring less the flights' axial width.
		d, in := c.Bore, c.Bore-2*c.Depth
		flights := c.Land * float64(c.Starts) / math.Cos(c.HelixAngle())
		same(t, density*n*math.Pi/4*(d*d-in*in)*(c.Lead-flights), f.Full, 1e-11, "ring")
		// No friction carries more than that.
		s, err := c.ConveySolids(screw.Solids{Density: density, BarrelFriction: 0.5, ScrewFriction: draw.Uniform(0, 0.3).Draw(t, "screw")}, n, 1)
		if err == nil {
			require.Less(t, s.Most, 1.0001*f.Full)
		}
		require.InEpsilon(t, f.MassFlow/1e-3, f.Intake(1e-3).Safety(), 1e-12)
	})
}

// Between two readings friction lies between them, and rises or falls as they do.
func TestPropertyFriction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, at := screw.Friction{}, draw.Uniform(250, 300).Draw(t, "first")
		for range rapid.IntRange(2, 8).Draw(t, "readings") {
			r = append(r, screw.FrictionReading{Temperature: at, Coefficient: draw.Log(0.01, 2).Draw(t, "coefficient")})
			at += draw.Log(0.1, 40).Draw(t, "further")
		}
		i := rapid.IntRange(0, len(r)-2).Draw(t, "gap")
		a, b := r[i], r[i+1]
		require.Equal(t, a.Coefficient, must(t)(r.At(a.Temperature)))
		require.Equal(t, b.Coefficient, must(t)(r.At(b.Temperature)))
		before, slack := a.Coefficient, 1e-12
		for k := 1; k <= 10; k++ {
			next := must(t)(r.At(a.Temperature + (b.Temperature-a.Temperature)*float64(k)/10))
			if b.Coefficient >= a.Coefficient {
				require.True(t, next >= before-slack && next <= b.Coefficient+slack, "%g after %g", next, before)
			} else {
				require.True(t, next <= before+slack && next >= b.Coefficient-slack, "%g after %g", next, before)
			}
			before = next
		}
	})
}

// A warming root carries less and less, until the plug turns with the screw; a warming
// barrel more and more, until it sticks.
func TestPropertyWarmRoot(t *testing.T) {
	grip := screw.Friction{{300, 0.2}, {330, 0.25}, {350, 0.5}, {360, 1.8}}
	turned := 0
	rapid.Check(t, func(t *rapid.T) {
		c := screwtest.Channels().Draw(t, "channel")
		carried := func(barrel, root float64) float64 {
			s, err := screw.Throat{Barrel: barrel, Root: root, Softening: 365}.Solids(500, grip, grip)
			require.NoError(t, err)
			f, err := c.ConveySolids(s, 1, 1)
			if err != nil {
				require.ErrorIs(t, err, screw.ErrNoFlow)
				return 0
			}
			require.Positive(t, f.MassFlow)
			return f.MassFlow
		}
		cool := draw.Uniform(300, 345).Draw(t, "cool")
		even := carried(cool, cool)
		last := even
		for _, warmer := range []float64{5, 10, 15} {
			next := carried(cool, cool+warmer)
			require.True(t, next < last || next == 0, "%g after %g", next, last)
			last = next
		}
		require.Zero(t, carried(cool, 360), "the plug turns with the screw")
		if even > 0 {
			turned++
		}
		last = even
		for _, warmer := range []float64{5, 10, 15} {
			next := carried(cool+warmer, cool)
			require.True(t, next > last || next == 0 && last == 0, "%g after %g", next, last)
			last = next
		}
	})
	require.Positive(t, turned, "of some the even throat carries")
}

// The margin is what is left when the throat is as warm as it may be.
func TestPropertySticking(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		air, margin := draw.Uniform(280, 310).Draw(t, "air"), draw.Uniform(0, 40).Draw(t, "margin")
		h := screw.Throat{Barrel: draw.Uniform(280, 400).Draw(t, "barrel"), Root: draw.Uniform(280, 400).Draw(t, "root"), Softening: draw.Uniform(320, 450).Draw(t, "softening")}
		u, err := h.Sticking(air, margin)
		require.NoError(t, err)
		hottest := math.Max(h.Barrel, h.Root)
		if limit := h.Softening - margin; math.Abs(limit-hottest) > 1e-6 && hottest > air {
			require.Equal(t, hottest < limit, u.Safety() > 1, "%v at %g K, %g K", u, air, margin)
		}
		require.Equal(t, h.Root > h.Barrel, strings.HasPrefix(u.Part, "screw root"))
		flat := screw.Friction{{200, 0.4}, {800, 0.4}}
		_, err = h.Solids(400, flat, flat)
		require.Equal(t, hottest >= h.Softening, err != nil)
	})
}

func TestThroatSticks(t *testing.T) {
	h := screw.Throat{Barrel: material.Celsius(40), Root: material.Celsius(95), Softening: material.Celsius(95)}
	_, err := h.Solids(400, rising, rising)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	require.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "sticks in the throat at 95 °C, from 95 °C on")
	h.Root = material.Celsius(60)
	s, err := h.Solids(400, rising, screw.Friction{{280, 0.1}, {360, 0.2}})
	require.NoError(t, err)
	same(t, must(t)(rising.At(h.Barrel)), s.BarrelFriction, 1e-15, "barrel")
	same(t, 0.1+0.1*(333.15-280)/80, s.ScrewFriction, 1e-12, "screw")
	require.Equal(t, 400.0, s.Density)
	// A throat cooled below the air is safe.
	u, err := screw.Throat{Barrel: 285, Root: 280, Softening: 331}.Sticking(300, 20)
	require.NoError(t, err)
	require.Equal(t, material.MostSafety, u.Safety())
	// In air as warm as the plastic may get, no throat is.
	u, err = screw.Throat{Barrel: 305, Root: 300, Softening: 320}.Sticking(300, 20)
	require.NoError(t, err)
	require.Zero(t, u.Safety())
}

func TestFeedTellsWhereCommonPracticeEnds(t *testing.T) {
	for _, v := range []struct {
		size, efficiency float64
		words            []string
	}{
		{9.398e-3 * 0.5, 0.45, nil}, {9.398e-3 * 0.501, 0.2, []string{"jams begin above 0.5"}}, {9.398e-3 * 0.701, 0.3, []string{"expect jams above 0.7", "bore of 9.64 particles"}},
		{0.0635 / 12, 0.3, []string{"jams begin above 0.5"}}, {0.0635 / 11.9, 0.3, []string{"jams begin", "bore of 11.9"}},
		{3e-3, 0.46, []string{"efficiency 0.46"}}, {3e-3, 0.19, []string{"efficiency 0.19"}},
	} {
		f, err := feedZone.Feed(grains(400, v.size), 1, v.efficiency)
		require.NoError(t, err)
		require.Len(t, f.Beyond, len(v.words), "%v: %v", v, f.Beyond)
		for i, w := range v.words {
			assert.Contains(t, f.Beyond[i], w)
		}
	}
}

func TestThroatRefuses(t *testing.T) {
	refused := func(err error, named ...string) {
		t.Helper()
		require.ErrorIs(t, err, material.ErrInvalid)
		for _, n := range named {
			require.ErrorContains(t, err, n)
		}
	}
	_, err := screw.Channel{}.Feed(material.Bulk{}, 0, 1.1)
	refused(err, "screw.Channel.Bore", "material.Bulk.ParticleSize", "speed = 0", "efficiency = 1.1: allowed 0.05 to 1")
	refused(screw.Friction{{300, 0.3}}.Validate(), "screw.Friction = 1: allowed 2 to 64")
	refused(screw.Friction{{300, 0.3}, {300.05, 3}}.Validate(), "screw.Friction[1].Temperature = 300.05 K", "screw.Friction[1].Coefficient = 3")
	_, err = rising.At(363.1)
	refused(err, "screw.Friction.At: temperature = 363.1 K: allowed 293 to 363 K")
	_, err = screw.Throat{Barrel: 290, Root: 364, Softening: 370}.Solids(400, rising, rising)
	refused(err, "screw.Throat.Barrel = 290 K: allowed 293 to 363 K", "screw.Throat.Root = 364 K")
	_, err = screw.Throat{}.Solids(1, rising, nil)
	refused(err, "screw.Throat.Softening", "screw.Solids.Density", "screw.Throat.Solids: screw = 0")
	_, err = screw.Throat{}.Sticking(100, -1)
	refused(err, "screw.Throat.Root", "Sticking: air", "Sticking: margin")
	require.NoError(t, screw.Friction{{293.15, 0.3}, {293.25, 0.3}}.Validate())
	require.Error(t, screw.Throat{}.Validate())
}

func TestPropertyThroatAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, b := screwtest.Channels().Draw(t, "channel"), grains(400, 4e-3)
		h := screw.Throat{Barrel: 330, Root: 320, Softening: 365}
		r := append(screw.Friction{}, rising...)
		if rapid.Bool().Draw(t, "corners") {
			r = screw.Friction{{100, 2}, {100.1, 0.01}, {330, 2}, {1499.9, 2}, {1500, 0.01}}
		}
		speed, efficiency, density, air, margin, at := 1.0, 0.3, 400.0, 300.0, 20.0, 325.0
		fields := []*float64{&c.Bore, &c.Lead, &c.Depth, &c.Land, &c.Length, &b.BulkDensity, &b.ParticleSize, &h.Barrel, &h.Root, &h.Softening,
			&r[0].Temperature, &r[1].Temperature, &r[4].Temperature, &r[0].Coefficient, &r[2].Coefficient, &speed, &efficiency, &density, &air, &margin, &at}
		for range rapid.IntRange(0, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = draw.Bits().Draw(t, "bits")
		}
		told := func(v any, err error) {
			if err == nil {
				finite(t, reflect.ValueOf(v))
				return
			}
			require.True(t, reflect.ValueOf(v).IsZero())
		}
		feed, err := c.Feed(b, speed, efficiency)
		told(feed, err)
		mu, err := r.At(at)
		told(mu, err)
		require.True(t, err != nil || mu >= 0.01 && mu <= 2)
		s, err := h.Solids(density, r, r)
		told(s, err)
		if err == nil {
			require.NoError(t, s.Validate())
		}
		u, err := h.Sticking(air, margin)
		told(u, err)
		require.True(t, u.Safety() >= 0)
	})
}

func TestFeedAllocatesNothing(t *testing.T) {
	b, h := grains(400, 3e-3), screw.Throat{Barrel: 330, Root: 320, Softening: 365}
	require.Zero(t, testing.AllocsPerRun(100, func() {
		_, _ = feedZone.Feed(b, 1, 0.3)
		_, _ = h.Sticking(300, 20)
		_ = rising.Validate()
	}))
}

// BenchmarkFeed compares the intake with the same formula written out.
func BenchmarkFeed(b *testing.B) {
	bulk, sum := grains(400, 3e-3), 0.0
	versus.Report(b, "x-inline", func(i int) {
		f, err := feedZone.Feed(bulk, 1+1e-4*float64(i&255), 0.3)
		if err != nil {
			b.Fatal(err)
		}
		sum += f.MassFlow
	}, func(i int) {
		c := &feedZone
		inner := c.Bore - 2*c.Depth
		flight := c.Land * float64(c.Starts) / math.Cos(math.Atan(c.Lead/(math.Pi*c.Bore)))
		sum += 0.3 * bulk.BulkDensity * (1 + 1e-4*float64(i&255)) * math.Pi / 4 * (c.Bore*c.Bore - inner*inner) * (c.Lead - flight)
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// A small screw under a hopper of ABS: does its throat let in enough, and do pellets stick
// there, heat having crept up the root?
func ExampleChannel_Feed() {
	pellets, err := material.BulkNamed("ABS pellets")
	if err != nil {
		fmt.Println(err)
		return
	}
	channel := screw.Channel{Bore: 25e-3, Lead: 25e-3, Depth: 5e-3, Land: 2.5e-3, Clearance: 0.1e-3, Starts: 1, Length: 100e-3}
	feed, err := channel.Feed(pellets, 1, 0.3)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f kg/h of %.1f; safety %.1f at 3 kg/h\n", feed.MassFlow*3600, feed.Full*3600, feed.Intake(3.0/3600).Safety())
	for _, beyond := range feed.Beyond {
		fmt.Println("note:", beyond)
	}
	throat := screw.Throat{Barrel: material.Celsius(50), Root: material.Celsius(80), Softening: material.ABS().Softening}
	sticking, err := throat.Sticking(material.Celsius(25), 20)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.0f K of %.0f K\n", sticking.Part, sticking.Demand, sticking.Capacity)
	// Output:
	// 5.1 kg/h of 17.0; safety 1.7 at 3 kg/h
	// note: particles as long as 0.8 of the channel's depth: expect jams above 0.7
	// note: bore of 6.25 particles, conveyors want 12: it feeds in jerks
	// screw root in the throat, over the air: 55 K of 50 K
}
