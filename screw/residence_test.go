package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

func TestPropertyResidenceOfChannel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		get := must(t)
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.Melts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		open, err := c.Convey(m, n, 0)
		require.NoError(t, err)
		pressure := draw.Uniform(0, 0.9).Draw(t, "of the closed pressure") * open.ClosedPressure
		s, err := c.Convey(m, n, pressure)
		require.NoError(t, err)
		r, err := c.ResidenceTimes(m, n, pressure)
		if s.Flow <= 0 {
			require.ErrorIs(t, err, screw.ErrNoFlow)
			return
		}
		require.NoError(t, err)
		require.NoError(t, r.Validate())
		same(t, s.ResidenceTime, r.Mean, 1e-14, "volume ÷ flow")
		require.Equal(t, s.Beyond, r.Beyond)
		// ∫ t dF by the table, F = 1 − x² so that the tail is smooth.
		sum, last := 0.0, r.Least
		const parts = 200
		for i := range parts {
			x := 1 - (float64(i)+0.5)/parts
			time := get(r.At(1 - x*x))
			require.GreaterOrEqual(t, time, last)
			sum += 2 * x * time / parts
			last = time
		}
		same(t, r.Mean, sum, 3e-4, "mean, the midpoint rule to 1e-4")
		share := draw.Uniform(0, 0.9999).Draw(t, "share")
		require.InDelta(t, share, get(r.Share(get(r.At(share)))), 1e-9/math.Max(share, 1e-3))
		require.Equal(t, r.Least, get(r.At(0)))
		require.Zero(t, get(r.Share(r.Least)))

		if _, newtonian := m.Viscosity.(material.Newtonian); newtonian {
			same(t, 0.75*r.Mean, r.Least, 1e-14, "quickest")
			same(t, r.Mean*get(screw.ChannelTime(share)), get(r.At(share)), 1e-6, "closed form")
			k := draw.Log(0.1, 10).Draw(t, "similar")
			fast, err := c.ResidenceTimes(m, n*k, pressure*k)
			if n*k > 100 || err != nil {
				t.Skip("too fast")
			}
			same(t, get(r.At(share)), k*get(fast.At(share)), 1e-12, "as much faster as the screw")
		}
	})
}

// A law of index 1 that nothing knows to be Newtonian has the closed form's times.
func TestPropertyResidenceIndexOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, m, n := screwtest.Channels().Draw(t, "channel"), screwtest.NewtonianMelts().Draw(t, "melt"), screwtest.Speeds().Draw(t, "speed")
		open, err := c.Convey(m, n, 0)
		require.NoError(t, err)
		if open.OpenFlow <= 0 {
			t.Skip("leaks all")
		}
		pressure := draw.Uniform(0, 0.9).Draw(t, "of the closed pressure") * open.ClosedPressure
		want, err := c.ResidenceTimes(m, n, pressure)
		require.NoError(t, err)
		law := m.Viscosity
		for _, m.Viscosity = range []material.Viscosity{hidden{law},
			material.PowerLaw{Consistency: law.At(1, m.Temperature, 0), Index: 1, Reference: m.Temperature}} {
			got, err := c.ResidenceTimes(m, n, pressure)
			require.NoError(t, err)
			same(t, want.Mean, got.Mean, 1e-9, "mean")
			same(t, want.Least, got.Least, 1e-7, "quickest")
			for i := range want.Times {
				same(t, want.Times[i], got.Times[i], 1e-7, "time")
			}
		}
	})
}

func TestResidenceRefuses(t *testing.T) {
	_, err := screw.ResidenceTimes{}.At(1.5)
	for _, part := range []string{"screw.ResidenceTimes.Shares: their number = 0: allowed 1 to", "screw.ResidenceTimes.Least = 0 s",
		"screw.ResidenceTimes.At: share = 1.5: allowed 0 to below 1"} {
		require.ErrorContains(t, err, part)
	}
	_, err = screw.ResidenceTimes{Shares: []float64{0.5, 0.4}, Times: []float64{1, 2}, Least: 0.75, Mean: 1}.Share(-1)
	require.ErrorContains(t, err, "screw.ResidenceTimes.Shares[1] = 0.4: allowed above 0.5 and below 1")
	require.ErrorContains(t, err, "screw.ResidenceTimes.Share: time = -1 s")
	err = screw.ResidenceTimes{Shares: []float64{0.5}, Times: []float64{0.7}, Least: 0.75, Mean: 0.7}.Validate()
	require.ErrorContains(t, err, "screw.ResidenceTimes.Mean = 0.7 s: allowed from Least, 0.75 s")
	require.ErrorContains(t, err, "screw.ResidenceTimes.Times[0] = 0.7 s: allowed from 0.75 s")
	err = screw.ResidenceTimes{Shares: []float64{0.5}, Least: 0.75, Mean: 0.8}.Validate()
	require.ErrorContains(t, err, "screw.ResidenceTimes.Times: their number = 0: allowed that of Shares, 1")

	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	s, err := benchChannel.Convey(m, 1, 0)
	require.NoError(t, err)
	_, err = benchChannel.ResidenceTimes(m, 1, 1.1*s.ClosedPressure)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	require.ErrorContains(t, err, "m³/s flow back")
	short := benchChannel
	short.Length = 1e-4
	thinnest := thin(0.05)
	thinnest.Viscosity = material.PowerLaw{Consistency: 1, Index: 0.05, Reference: 470}
	_, err = short.ResidenceTimes(thinnest, 1, 1e15)
	require.ErrorContains(t, err, "so strong a push")
	s, err = benchChannel.Convey(thin(0.15), 1, 0)
	require.NoError(t, err)
	_, err = benchChannel.ResidenceTimes(thin(0.15), 1, 1.1*s.ClosedPressure)
	require.ErrorContains(t, err, "m³/s flow back")
	_, err = benchChannel.ResidenceTimes(m, 0, -1)
	require.ErrorContains(t, err, "screw.Channel.ResidenceTimes: pressure = -1 Pa")
	require.ErrorContains(t, err, "screw: speed = 0 rev/s")
}

// The table between its shares and beyond them is as good as stated.
func TestResidenceTableIsAsGoodAsStated(t *testing.T) {
	get := must(t)
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	r, err := benchChannel.ResidenceTimes(m, 1, 1e6)
	require.NoError(t, err)
	last := r.Shares[len(r.Shares)-1]
	require.InDelta(t, 7e-6, 1-last, 0.2e-6)
	for i := range 4000 {
		share := 1 - math.Pow(10, -float64(i)/500)
		tol := 6e-7
		if share > last {
			tol = 5e-3
		}
		same(t, r.Mean*get(screw.ChannelTime(share)), get(r.At(share)), tol, "time")
		same(t, 1-share, 1-get(r.Share(get(r.At(share)))), 1e-9+1e-15/(1-share)+1e-14/math.Max(share, 1e-3), "there and back")
	}
}

// Where a cubic would swing, a table of steps is kept to.
func TestResidenceTableOfSteps(t *testing.T) {
	get := must(t)
	r := screw.ResidenceTimes{Shares: []float64{0.1, 0.2, 0.3, 0.4}, Times: []float64{1, 1, 1000, 1000}, Least: 1, Mean: 900}
	for _, share := range []float64{0, 0.05, 0.12, 0.15, 0.18, 0.2} {
		require.Equal(t, 1.0, get(r.At(share)))
	}
	for _, share := range []float64{0.3, 0.32, 0.35, 0.38, 0.4} {
		require.InDelta(t, 1000, get(r.At(share)), 100)
		require.LessOrEqual(t, get(r.At(share)), 1000.0)
	}
	require.InDelta(t, 0.25, get(r.Share(500)), 0.03)
}

// Side walls close a deep narrow channel at another pressure than a wide one; up to
// there all layers come forward.
func TestResidenceInDeepChannel(t *testing.T) {
	c := screw.Channel{Bore: 0.02, Lead: 0.01, Depth: 7e-3, Land: 2e-3, Clearance: 1e-6, Starts: 1, Length: 0.1}
	m := screw.Melt{Viscosity: hidden{material.Newtonian{Eta: 500}}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	s, err := c.Convey(m, 1, 0)
	require.NoError(t, err)
	require.Less(t, screw.PressureShape(c.Depth/c.Width()), 0.9*screw.DragShape(c.Depth/c.Width()))
	for _, part := range []float64{0.5, 0.98} {
		r, err := c.ResidenceTimes(m, 1, part*s.ClosedPressure)
		require.NoError(t, err)
		same(t, 0.75*r.Mean, r.Least, 1e-6, "quickest")
	}
	for _, n := range []float64{0.2, 0.5, 0.8} {
		s, err := c.Convey(thin(n), 1, 0)
		require.NoError(t, err)
		_, err = c.ResidenceTimes(thin(n), 1, 0.98*s.ClosedPressure)
		require.NoError(t, err, "index %g", n)
	}
}

// A table of one's own, however coarse or jagged, is read between its entries.
func TestPropertyResidenceTableAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := draw.Bits()
		r := screw.ResidenceTimes{Mean: bits.Draw(t, "mean"), Least: bits.Draw(t, "least")}
		if rapid.Bool().Draw(t, "sound") {
			r.Mean, r.Least = math.MaxFloat64, draw.Log(1e-300, 1e3).Draw(t, "least")
		}
		share, time := 0.0, r.Least
		for range rapid.IntRange(0, 6).Draw(t, "entries") {
			share += (1 - share) * draw.Log(1e-17, 0.9).Draw(t, "share")
			time *= draw.Log(1, 1e60).Draw(t, "time")
			r.Shares, r.Times = append(r.Shares, share), append(r.Times, time)
		}
		if len(r.Shares) > 0 && rapid.Bool().Draw(t, "spoilt") {
			r.Shares[0], r.Times[len(r.Times)-1] = bits.Draw(t, "first"), bits.Draw(t, "last")
		}
		ask, when := bits.Draw(t, "ask"), bits.Draw(t, "when")
		for _, x := range []float64{ask, draw.Uniform(0, 0.999).Draw(t, "ask")} {
			if at, err := r.At(x); err == nil {
				finite(t, reflect.ValueOf(at))
				require.GreaterOrEqual(t, at, r.Least)
				for i, share := range r.Shares {
					require.False(t, share >= x && at > r.Times[i] || share <= x && at < r.Times[i], "between its neighbours")
				}
				back, err := r.Share(at)
				require.NoError(t, err)
				require.True(t, back >= 0 && back <= 1)
			}
		}
		if s, err := r.Share(when); err == nil {
			require.True(t, s >= 0 && s <= 1)
		}
		for _, f := range []func(float64) (float64, error){screw.ChannelTime, screw.ChannelShare, screw.PipeTime, screw.PipeShare} {
			if x, err := f(ask); err == nil {
				finite(t, reflect.ValueOf(x))
			}
		}
	})
}

func TestResidenceKernelsAllocateNothing(t *testing.T) {
	r, err := benchChannel.ResidenceTimes(thin(0.4), 1, 1e6)
	require.NoError(t, err)
	require.Zero(t, testing.AllocsPerRun(100, func() {
		a, _ := screw.ChannelTime(0.5)
		b, _ := screw.ChannelShare(a)
		c, _ := r.At(b)
		if d, err := r.Share(c); err != nil || d == 0 {
			panic("refused")
		}
	}))
}

func ExampleChannel_ResidenceTimes() {
	// How long after a change of colour still comes some of the last?
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Length: 120e-3}
	melt, err := screw.MeltOf(material.PP(), material.Celsius(200))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := channel.ResidenceTimes(melt, 0.75, 3e6)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("first after %.2g s, in the mean %.3g s\n", r.Least, r.Mean)
	for _, share := range []float64{0.5, 0.9, 0.99} {
		time, err := r.At(share)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%.0f %% have left after %.3g s\n", 100*share, time)
	}
	// Output:
	// first after 19 s, in the mean 26.1 s
	// 50 % have left after 21 s
	// 90 % have left after 35.9 s
	// 99 % have left after 92.1 s
}
