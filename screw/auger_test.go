package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
)

// rubbing is a bulk of an angle of friction on the flight [°], fine enough for any auger.
func rubbing(density, angle float64) material.Bulk {
	return material.Bulk{Name: "rubbing", BulkDensity: density, ParticleSize: 1e-4, WallFriction: degrees(angle)}
}

// The feed auger of a small machine.
func smallAuger() screw.Auger {
	return screw.Auger{Diameter: 0.03, Shaft: 0.01, Pitch: 0.03, Thickness: 2e-3, Clearance: 0.5e-3, Length: 0.3}
}

const (
	worksheet = "an engineering worksheet on screw conveyors after M. P. Alexandrov, Materials Handling Equipment: D = S = 0.3 m, 20 rpm, 1.25 t/m³, fill 0.8"
	tph       = 1 / 3.6 // [kg/s]
)

func TestCheckAugerCapacity(t *testing.T) {
	capacity := func(a screw.Auger, density, speed, fill float64) screw.AugerFlow {
		c, err := a.Capacity(grains(density, 1e-3), speed, fill)
		require.NoError(t, err)
		return c
	}
	printed := screw.Auger{Diameter: 0.3, Pitch: 0.3, Length: 5}
	c := capacity(printed, 1250, 20./60, 0.8)
	rows := []verify.Row{
		{Name: "filled section [m²]", Source: worksheet, Kind: verify.Print, Want: 0.057, Got: c.MassFlow / (1250 * 0.1), Tol: 9e-3, Why: "its last digit"},
		{Name: "capacity [t/h]", Source: worksheet, Kind: verify.Print, Want: 25.447, Got: c.MassFlow / tph, Tol: 2e-5, Why: "its last digit"},
		{Name: "fastest [rpm]", Source: "60/√D, Alexandrov, the root from memory", Kind: verify.Memory, Want: 109.5, Got: c.Fastest * 60, Tol: 5e-4, Why: "its last digit"},
	}
	for _, v := range [][2]float64{{0, 1}, {5, 0.9}, {10, 0.8}, {15, 0.7}, {20, 0.65}, {12.5, 0.75}, {17.5, 0.675}} {
		rising := printed
		rising.Incline = degrees(v[0])
		row := verify.Row{Name: fmt.Sprintf("share of level capacity at %g° [-]", v[0]), Source: "table of inclines in the worksheet after Alexandrov", Kind: verify.Print,
			Want: v[1], Got: capacity(rising, 1250, 20./60, 0.8).MassFlow / c.MassFlow, Tol: 1e-13, Why: "the table's own figure, to rounding"}
		if math.Mod(v[0], 5) != 0 {
			row.Source, row.Kind, row.Why = "middle of the rows beside it", verify.Own, "rounding"
		}
		rows = append(rows, row)
	}
	const inch, cubicFoot = 0.0254, 0.028316846592
	for _, v := range []struct{ size, pipe, fill, want, table, tol float64 }{
		{6, 2.375, 0.15, 0.745131167715, 0.75, 6.7e-3}, {6, 2.375, 0.30, 1.49026233543, 1.49, 3.4e-3}, {6, 2.375, 0.45, 2.23539350315, 2.23, 3e-3},
		{9, 2.875, 0.15, 2.67775521285, 2.7, 1.9e-2}, {9, 2.875, 0.30, 5.35551042571, 5.5, 2.7e-2}, {9, 2.875, 0.45, 8.03326563856, 8.0, 6.3e-3},
		{12, 2.875, 0.45, 19.9885366565, 0, 0}, {12, 3.5, 0.15, 6.46726300173, 6.55, 2.3e-2}, {12, 3.5, 0.30, 12.9345260035, 13.1, 1.6e-2}, {12, 3.5, 0.45, 19.4017890052, 19.65, 1.8e-2},
		{14, 3.5, 0.15, 10.5231082049, 10.5, 4.8e-3}, {14, 3.5, 0.30, 21.0462164098, 21.1, 2.6e-3}, {14, 3.5, 0.45, 31.5693246147, 31.6, 1.6e-3},
	} {
		a := screw.Auger{Diameter: v.size * inch, Shaft: v.pipe * inch, Pitch: v.size * inch, Length: 1}
		got := capacity(a, 1000, 1./60, v.fill).MassFlow / 1000 * 3600 / cubicFoot
		name := fmt.Sprintf("%g in on %g in, fill %g [ft³/h at 1 rpm]", v.size, v.pipe, v.fill)
		rows = append(rows, verify.Row{Name: name, Source: "0.7854(D² − d²)·P·K·60/1728 to 12 digits", Kind: verify.Own, Want: v.want, Got: got, Tol: 1e-11, Why: "digits of the independent value"})
		if v.table != 0 {
			rows = append(rows, verify.Row{Name: name, Source: "CEMA 350's table of capacities, from memory", Kind: verify.Memory, Want: v.table, Got: got, Tol: v.tol, Why: "its last digit, or the spread of its editions"})
		}
	}
	for _, v := range []struct{ size, pipe, fill, c3, c2, c1, c0 float64 }{
		{9, 2.875, 0.45, 0.0155, -0.1221, 1.0839, -3.1548}, {12, 3.5, 0.45, 0.0155, -0.1221, 1.0839, -3.1548}, {12, 3.5, 0.30, 0.0094, -0.0598, 0.6767, -2.4536},
	} {
		a := screw.Auger{Diameter: v.size * inch, Shaft: v.pipe * inch, Pitch: v.size * inch, Length: 1}
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%g in, fill %g by a cubic [ft³/h at 1 rpm]", v.size, v.fill), Source: "a public design sheet's fit of the CEMA table; signs lost in the copy, restored", Kind: verify.Practice,
			Want: ((v.c3*v.size+v.c2)*v.size+v.c1)*v.size + v.c0, Got: capacity(a, 1000, 1./60, v.fill).MassFlow / 1000 * 3600 / cubicFoot, Tol: 0.03, Why: "the fit's own error against the geometry"})
	}
	verify.Table(t, rows)
}

func TestCheckAugerFeed(t *testing.T) {
	const source = "Roberts, form from memory; cosα·cos(α+φ)/cosφ to 14 digits"
	var rows []verify.Row
	for i, ratio := range []float64{0.5, 0.75, 1, 1.25} {
		for j, want := range [4][4]float64{
			{0.9479254570905, 0.91879889030449, 0.88567738063036, 0.84504783425136}, {0.90625470923054, 0.86387361495119, 0.81567961273711, 0.75656091713987},
			{0.85703734102157, 0.8028036591763, 0.74113139168596, 0.66547915611611}, {0.80275421261773, 0.73829772169199, 0.66500050463781, 0.57508815737305},
		}[i] {
			// Without a shaft, the effective radius is two thirds of the rim's: so is the pitch.
			angle := 10 * float64(j+1)
			f, err := screw.Auger{Diameter: 0.03, Pitch: 0.02 * ratio, Length: 0.3}.Feed(rubbing(400, angle), 1)
			require.NoError(t, err)
			rows = append(rows, verify.Row{Name: fmt.Sprintf("efficiency, p/2R = %g, φ = %g° [-]", ratio, angle), Source: source, Kind: verify.Own,
				Want: want, Got: f.Efficiency, Tol: 1e-12, Why: "rounding of a few steps"})
		}
	}
	f, err := smallAuger().Feed(rubbing(375, 23), 0.5)
	require.NoError(t, err)
	speed, _, err := smallAuger().FeedSpeed(rubbing(375, 23), 5*kgPerHour)
	require.NoError(t, err)
	thrust, err := screw.Auger{Diameter: 0.02, Shaft: 8e-3, Pitch: 0.02, Length: 0.3}.Thrust(rubbing(400, 20), 2)
	require.NoError(t, err)
	verify.Table(t, append(rows,
		verify.Row{Name: "30 mm auger, efficiency [-]", Source: source, Kind: verify.Own, Want: 0.68069423793484, Got: f.Efficiency, Tol: 1e-12, Why: "rounding of a few steps"},
		verify.Row{Name: "30 mm auger, swept by a turn [m³]", Source: evaluated, Kind: verify.Own, Want: 1.8934378923186e-5, Got: smallAuger().Swept(), Tol: 1e-12, Why: "rounding of a few steps"},
		verify.Row{Name: "30 mm auger at 30 rpm [kg/s]", Source: evaluated, Kind: verify.Own, Want: 0.0024165979934789, Got: f.MassFlow, Tol: 1e-12, Why: "rounding of a few steps"},
		verify.Row{Name: "30 mm auger for 5 kg/h [rev/s]", Source: "of the same by proportion", Kind: verify.Own, Want: 0.5 * 5 * kgPerHour / 0.0024165979934789, Got: speed, Tol: 1e-12, Why: "rounding of a few steps"},
		verify.Row{Name: "thrust of 2 N·m, 20 on 8 mm, R = 7.42857 mm [N]", Source: "T/(R·tan(α+φ)) to 14 digits", Kind: verify.Own, Want: 286.75333403465, Got: thrust, Tol: 1e-12, Why: "rounding of a few steps"}))
}

// augers draws level augers that fine bulk flows through.
func augers(t *rapid.T) screw.Auger {
	d := draw.Log(0.01, 0.5).Draw(t, "diameter")
	return screw.Auger{Diameter: d, Shaft: d * draw.Uniform(0, 0.8).Draw(t, "shaft/diameter"), Pitch: d * draw.Uniform(0.3, 1.5).Draw(t, "pitch/diameter"),
		Thickness: d * draw.Uniform(0, 0.1).Draw(t, "thickness/diameter"), Clearance: d * draw.Uniform(0, 0.1).Draw(t, "clearance/diameter"),
		Length: draw.Log(0.05, 10).Draw(t, "length")}
}

func TestPropertyAugerFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := augers(t), rubbing(draw.Log(50, 1000).Draw(t, "density"), draw.Uniform(5, 30).Draw(t, "friction"))
		speed, fill, scale := draw.Log(0.01, 10).Draw(t, "speed"), draw.Uniform(0.05, 0.45).Draw(t, "fill"), draw.Uniform(0.5, 2).Draw(t, "scale")
		capacity := func(a screw.Auger, b material.Bulk, speed float64) screw.AugerFlow {
			r, err := a.Capacity(b, speed, fill)
			require.NoError(t, err)
			return r
		}
		feed := func(a screw.Auger, b material.Bulk, speed float64) screw.AugerFlow {
			r, err := a.Feed(b, speed)
			require.NoError(t, err)
			return r
		}
		larger, heavier := a, b
		for _, x := range []*float64{&larger.Diameter, &larger.Shaft, &larger.Pitch, &larger.Thickness, &larger.Clearance} {
			*x *= scale
		}
		heavier.BulkDensity *= scale
		for _, flow := range []func(screw.Auger, material.Bulk, float64) screw.AugerFlow{capacity, feed} {
			once := flow(a, b, speed)
			same(t, scale*once.MassFlow, flow(a, b, scale*speed).MassFlow, 1e-14, "as speed")
			same(t, scale*once.MassFlow, flow(a, heavier, speed).MassFlow, 1e-14, "as density")
			same(t, scale*scale*scale*once.MassFlow, flow(larger, b, speed).MassFlow, 1e-12, "as the cube of size")
			same(t, once.MassFlow, once.Efficiency*a.Swept()*speed*b.BulkDensity, 1e-14, "share of what is swept")
		}
		full := feed(a, b, speed)
		require.True(t, full.Efficiency > 0 && full.Efficiency < 1)
		steeper, rougher := a, b
		steeper.Pitch *= 1.05
		rougher.WallFriction *= 1.05
		require.Less(t, feed(steeper, b, speed).Efficiency, full.Efficiency)
		require.Less(t, feed(a, rougher, speed).Efficiency, full.Efficiency)
		rising := a
		rising.Incline = draw.Uniform(0.001, degrees(19.9)).Draw(t, "incline")
		higher := rising
		higher.Incline += 1e-3
		require.Less(t, capacity(rising, b, speed).MassFlow, capacity(a, b, speed).MassFlow)
		require.Less(t, capacity(higher, b, speed).MassFlow, capacity(rising, b, speed).MassFlow)
		require.Equal(t, full.MassFlow, feed(rising, b, speed).MassFlow)
		require.NotNil(t, feed(rising, b, speed).Beyond)

		back, there, err := a.FeedSpeed(b, full.MassFlow)
		require.NoError(t, err)
		same(t, speed, back, 1e-14, "inverse")
		same(t, full.MassFlow, there.MassFlow, 1e-14, "what it then feeds")
		require.Len(t, there.Beyond, len(full.Beyond))
	})
}

func TestAugerTellsWhereTheRulesEnd(t *testing.T) {
	large := screw.Auger{Diameter: 0.16, Pitch: 0.16, Length: 1}
	for _, v := range []struct {
		diameter, size, speed, fill, incline float64
		shape                                string
		capacity, feed                       int
	}{
		{0.16, 4e-3, 1, 0.45, 0, "flake", 0, 0}, {0.16, 4e-3, 1, 0.46, 0, "flake", 1, 0}, {0.16, 0.0134, 1, 0.3, 0, "flake", 1, 1}, {0.16, 0.0133, 1, 0.3, 0, "flake", 0, 0},
		{0.16, 4e-3, 2.49, 0.3, 0, "flake", 0, 0}, {0.16, 4e-3, 2.51, 0.3, 0, "flake", 1, 1}, {0.099, 4e-3, 1, 0.3, 0, "flake", 1, 0}, {0.1, 4e-3, 1, 0.3, 0, "flake", 0, 0},
		{0.16, 4e-3, 1, 0.3, 20, "flake", 0, 1}, {0.16, 4e-3, 1, 0.3, 0, "fluff", 1, 1}, {0.03, 4e-3, 6, 0.5, 5, "fluff", 5, 4},
	} {
		a := large
		a.Diameter, a.Pitch, a.Incline = v.diameter, v.diameter, degrees(v.incline)
		b := material.Bulk{Shape: v.shape, BulkDensity: 300, ParticleSize: v.size, WallFriction: 0.35}
		c, err := a.Capacity(b, v.speed, v.fill)
		require.NoError(t, err)
		require.Len(t, c.Beyond, v.capacity, "%v %v", v, c.Beyond)
		f, err := a.Feed(b, v.speed)
		require.NoError(t, err)
		require.Len(t, f.Beyond, v.feed, "%v %v", v, f.Beyond)
	}
}

func TestAugerRefuses(t *testing.T) {
	refused := func(named string, err error) {
		t.Helper()
		require.ErrorIs(t, err, material.ErrInvalid)
		require.ErrorContains(t, err, named)
	}
	a, b := smallAuger(), rubbing(400, 20)
	require.NoError(t, a.Validate())
	_, err := screw.Auger{Diameter: 3}.Capacity(material.Bulk{}, 0, 2)
	for _, named := range []string{"screw.Auger.Diameter", "screw.Auger.Length", "material.Bulk.BulkDensity", "screw: speed", "Capacity: fill"} {
		refused(named, err) // with all its faults
	}
	bad := a
	bad.Shaft, bad.Pitch, bad.Clearance = 0.028, 0.1, 0.01
	for _, named := range []string{"screw.Auger.Shaft", "screw.Auger.Pitch", "screw.Auger.Clearance"} {
		refused(named, bad.Validate())
	}
	bad = a
	bad.Thickness = 0.03
	refused("screw.Auger.Thickness", bad.Validate())
	steep := a
	steep.Incline = degrees(20.1)
	_, err = steep.Capacity(b, 1, 0.3)
	refused("screw.Auger.Incline", err)
	_, err = steep.Feed(b, 0)
	refused("screw.Auger.Incline", err)
	refused("screw: speed", err)
	_, _, err = steep.FeedSpeed(b, 1)
	refused("screw.Auger.Incline", err)
	_, _, err = a.FeedSpeed(b, 1)
	refused("FeedSpeed: mass flow", err)
	_, err = a.Thrust(b, -1)
	refused("Thrust: torque", err)

	b.WallFriction = 0
	_, err = a.Feed(b, 1)
	require.ErrorIs(t, err, material.ErrNoData)
	_, err = a.Thrust(b, 1)
	require.ErrorIs(t, err, material.ErrNoData)
	b.WallFriction = 1.3
	_, err = a.Feed(b, 1)
	require.ErrorIs(t, err, screw.ErrNoFlow)
	require.NotErrorIs(t, err, material.ErrInvalid)
}

// A measured auger of 78 mm in a tube of 90, far above its Fastest: 3.581 t/h of paddy,
// of some 560 kg/m³, at 900 rpm. A full one is the most there could be, and Beyond tells.
func TestFeedIsTheMost(t *testing.T) {
	a := screw.Auger{Diameter: 0.078, Pitch: 0.05, Clearance: 6e-3, Length: 2}
	f, err := a.Feed(grainsRubbing(560, 4e-3, 20), 15)
	require.NoError(t, err)
	require.Greater(t, f.MassFlow, 3.581*tph)
	require.NotNil(t, f.Beyond)
	tight := a
	tight.Clearance = 0
	same(t, 90.*90/(78*78), a.Swept()/tight.Swept(), 1e-14, "the tube's section, not the flight's")
}

func grainsRubbing(density, size, angle float64) material.Bulk {
	b := grains(density, size)
	b.WallFriction = degrees(angle)
	return b
}

func TestPropertyAugerAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, values ...float64) float64 { return rapid.SampledFrom(values).Draw(t, name) }
		d := pick("diameter", 5e-3, 0.03, 4*0.0254, 0.3, 24*0.0254, 2)
		a := screw.Auger{Diameter: d, Shaft: d * pick("shaft", 0, 0.3, 0.9), Pitch: d * pick("pitch", 0.1, 1, 3), Clearance: d * pick("clearance", 0, 0.25),
			Length: pick("length", 1e-3, 0.3, 100), Incline: pick("incline", 0, 0.1, degrees(20), 1, math.Pi/2, math.Pi/2)}
		a.Thickness = a.Pitch * pick("thickness", 0, 0.9)
		b := material.Bulk{Shape: rapid.SampledFrom([]string{"pellets", "fluff"}).Draw(t, "shape"), BulkDensity: pick("density", 10, 400, 2000),
			ParticleSize: pick("size", 1e-5, 4e-3, 0.1), WallFriction: pick("wall", 0, 0.02, 0.4, 1.4)}
		speed, fill, tube, flow := pick("speed", 1e-4, 1, 10, 100), pick("fill", 0.01, 0.3, 1), pick("tube", 0.01, 0.3, 2), pick("flow", 1e-9, 1e-3, 1e4)
		progress, factor, hanger, torque := pick("progress", 0.1, 20), pick("factor", 0.05, 10), pick("hanger", 1, 5), pick("torque", 0, 1, 1e6)
		fields := []*float64{&a.Diameter, &a.Shaft, &a.Pitch, &a.Thickness, &a.Clearance, &a.Length, &a.Incline, &b.BulkDensity, &b.ParticleSize, &b.WallFriction,
			&speed, &fill, &tube, &flow, &progress, &factor, &hanger, &torque}
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
		c, err := a.Capacity(b, speed, fill)
		told(c, err)
		require.True(t, err != nil || c.MassFlow > 0)
		f, err := a.Feed(b, speed)
		told(f, err)
		require.True(t, err != nil || f.MassFlow > 0 && f.Efficiency > 0 && f.Efficiency < 1)
		if err == nil {
			back, again, err := a.FeedSpeed(b, math.Min(f.MassFlow, f.MassFlow/speed*100*(1-1e-15)))
			if err == nil {
				told(again, nil)
				same(t, speed, back, 1e-13, "inverse")
			}
		}
		n, _, err := a.FeedSpeed(b, flow)
		told(n, err)
		l, err := a.Lift(b, tube, speed, fill)
		told(l, err)
		require.True(t, err != nil || l.MassFlow > 0 && l.Efficiency > 0 && l.Efficiency < 1 && l.Progress > 0 && speed > l.Critical*(1-1e-12), "%+v", l)
		p, err := a.Drive(flow, speed, progress)
		told(p, err)
		require.True(t, err != nil || p.Power > 0 && p.Torque > 0)
		h, err := a.HandbookDrive(flow, speed, factor, hanger)
		told(h, err)
		require.True(t, err != nil || h.Power > 0 && h.Overload >= 1 && h.Overload <= 3)
		thrust, err := a.Thrust(b, torque)
		told(thrust, err)
		require.True(t, thrust >= 0)
	})
}

func TestAugerAllocatesNothing(t *testing.T) {
	level, b := screw.Auger{Diameter: 0.16, Shaft: 0.05, Pitch: 0.16, Length: 1}, rubbing(400, 20)
	upright := level
	upright.Incline = math.Pi / 2
	require.Zero(t, testing.AllocsPerRun(100, func() {
		_, err1 := level.Capacity(b, 1, 0.3)
		_, err2 := level.Feed(b, 1)
		_, _, err3 := level.FeedSpeed(b, 0.1)
		_, err4 := level.Drive(0.1, 1, 2)
		_, err5 := level.HandbookDrive(0.1, 1, 0.5, 2)
		_, err6 := level.Thrust(b, 10)
		_, err7 := upright.Lift(b, 0.35, 5, 0.3)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil || err5 != nil || err6 != nil || err7 != nil {
			panic("refused")
		}
	}))
}

// BenchmarkFeed compares a full auger with the same formulas written out, which check no input.
func BenchmarkAugerFeed(b *testing.B) {
	a, bulk := smallAuger(), rubbing(375, 23)
	bulk.ParticleSize = 2e-3
	var sum float64
	versus.Report(b, "x-inline", func(i int) {
		f, err := a.Feed(bulk, 0.5+1e-4*float64(i&255))
		if err != nil {
			b.Fatal(err)
		}
		sum += f.MassFlow + f.Fastest
	}, func(i int) {
		out, in := a.Diameter/2, a.Shaft/2
		alpha := math.Atan(a.Pitch / (2 * math.Pi) * 1.5 * (out + in) / (out*out + out*in + in*in))
		efficiency := math.Cos(alpha) * math.Cos(alpha+bulk.WallFriction) / math.Cos(bulk.WallFriction)
		tube := a.Diameter + 2*a.Clearance
		swept := math.Pi / 4 * (tube*tube - a.Shaft*a.Shaft) * (a.Pitch - a.Thickness)
		sum += swept*(0.5+1e-4*float64(i&255))*bulk.BulkDensity*efficiency + 1/math.Sqrt(a.Diameter)
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

// How fast must a 30 mm auger under a full hopper turn for 2 kg/h, what turns it, and how
// long does it fill a drop tube of 50 g?
func ExampleAuger() {
	auger := screw.Auger{Diameter: 0.03, Shaft: 0.01, Pitch: 0.03, Thickness: 2e-3, Clearance: 0.5e-3, Length: 0.3}
	bulk := material.Regrind()
	speed, flow, err := auger.FeedSpeed(bulk, 2./3600)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2g rpm, %.2f of what it sweeps, %.0f s for 50 g\n", speed*60, flow.Efficiency, 0.05/flow.MassFlow)
	drive, err := auger.Drive(flow.MassFlow, speed, screw.ProgressResistance(1))
	if err != nil {
		fmt.Println(err)
		return
	}
	thrust, err := auger.Thrust(bulk, 2)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2g W, %.2g N·m; a motor stalled at 2 N·m pushes %.0f N\n", drive.Power, drive.Torque, thrust)
	for _, beyond := range append(flow.Beyond, drive.Beyond...) {
		fmt.Println("note:", beyond)
	}
	// Output:
	// 6.9 rpm, 0.68 of what it sweeps, 90 s for 50 g
	// 0.45 W, 0.63 N·m; a motor stalled at 2 N·m pushes 173 N
	// note: auger of 7.5 particles' diameter, rule for 12 and more: they wedge
	// note: auger of 30 mm, method for 100 mm and more: a jam sizes the motor
}
