package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// finite fails on any number in a result that is none.
func finite(t require.TestingT, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		x := v.Float()
		require.False(t, math.IsNaN(x) || math.IsInf(x, 0), "%g", x)
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i))
		}
	}
}

// numbers asks a die everything; only what is beyond all numbers may be infinite.
func numbers(t require.TestingT, d screw.Passage, m screw.Melt, flow float64) {
	rate, stress := d.WallShear(m, flow)
	nahme, graetz := d.ViscousHeating(m, flow)
	for _, x := range []float64{d.PressureDrop(m, flow), rate, stress, nahme, graetz, d.Volume()} {
		require.True(t, x >= 0, "%g of %g m³/s in %v of %v", x, flow, d, m)
	}
}

func solveAll(t require.TestingT, c screw.Channel, d screw.Die, m screw.Melt, speed, pressure, flow float64) {
	if p, err := screw.OperatingPoint(c, d, m, speed); err == nil {
		finite(t, reflect.ValueOf(p))
		finite(t, reflect.ValueOf(p.SpecificEnergy()))
		finite(t, reflect.ValueOf(p.Fracture(screw.FractureStress).Safety()))
		require.Positive(t, p.Flow)
		require.Positive(t, p.Pressure)
		require.Positive(t, p.DieShearStress)
	}
	if s, err := c.Convey(m, speed, pressure); err == nil {
		finite(t, reflect.ValueOf(s))
	}
	if r, err := c.ResidenceTimes(m, speed, pressure); err == nil {
		finite(t, reflect.ValueOf(r))
		require.NoError(t, r.Validate())
	}
	if p, err := c.PressureAgainst(m, speed, flow); err == nil {
		finite(t, reflect.ValueOf(p))
	}
	if d.Validate() == nil && m.Validate() == nil && flow >= 0 && flow <= 1e3 {
		numbers(t, d, m, flow)
	}
	for _, f := range []float64{screw.DragShape(speed), screw.PressureShape(speed)} {
		require.True(t, math.IsNaN(f) != (speed > 0), "shape factor %g of %g", f, speed)
	}
}

// Whatever bits come in, an error or finite numbers come out.
func TestPropertyAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, d, m := screwtest.Channels().Draw(t, "channel"), screwtest.Dies().Draw(t, "die"), screwtest.Melts().Draw(t, "melt")
		bits := draw.Bits()
		slit, wedge := screw.Slit{Width: 0.02, Height: 1e-3, Length: 0.01}, screw.Wedge{Width: 0.02, Inlet: 3e-3, Outlet: 1e-3, Length: 0.01}
		tube, loss := screw.Annulus{Outer: 0.01, Inner: 0.008, Length: 0.01}, screw.Entrance{Diameter: 2e-3, Diameters: 2}
		fields := []*float64{&slit.Width, &slit.Height, &slit.Length, &wedge.Width, &wedge.Inlet, &wedge.Outlet, &wedge.Length,
			&tube.Outer, &tube.Inner, &tube.Length, &loss.Diameter, &loss.Diameters, &m.Conductivity,
			&c.Bore, &c.Lead, &c.Depth, &c.Land, &c.Clearance, &c.Length, &m.Density, &m.SpecificHeat, &m.Temperature}
		for range rapid.IntRange(0, 3).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = bits.Draw(t, "bits")
		}
		if rapid.Bool().Draw(t, "more passages") {
			d = screw.Die{loss, screw.Parallel{slit, wedge, screw.Die{tube}}}
		}
		solveAll(t, c, d, m, bits.Draw(t, "speed"), bits.Draw(t, "pressure"), bits.Draw(t, "flow"))
		solveAll(t, c, d, m, 1, 1e6, 1e-7)
	})
}

// The corners of what is allowed are valid too.
func TestPropertyCornersOfTheAllowed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, lo, hi float64) float64 { return rapid.SampledFrom([]float64{lo, hi}).Draw(t, name) }
		bore := pick("bore", 1e-3, 1)
		c := screw.Channel{Bore: bore, Lead: pick("lead", bore/20, 20*bore), Depth: pick("depth", 1e-5, 0.499*bore),
			Land: pick("land", 1e-6, 0.9*bore), Clearance: pick("clearance", 1e-7, 0.99e-5), Starts: rapid.SampledFrom([]int{1, 8}).Draw(t, "starts"),
			Length: pick("length", 1e-4, 100)}
		m := screw.Melt{Density: pick("density", 100, 5000), SpecificHeat: pick("heat", 100, 1e4), Temperature: pick("temperature", 100, 1500)}
		m.Viscosity = rapid.SampledFrom([]material.Viscosity{
			material.Newtonian{Eta: 1e-4}, material.Newtonian{Eta: 1e9}, material.ABS().Viscosity,
			material.PowerLaw{Consistency: 1e9, Index: 0.05, Reference: 1500, TemperatureSlope: 0.2},
			material.PowerLaw{Consistency: 1e-3, Index: 1.5, Reference: 100, TemperatureSlope: 0.2},
		}).Draw(t, "law")
		d := screw.Die{screw.Cone{Inlet: 1, Outlet: 1e-5, Length: pick("cone", 1e-6, 10)},
			screw.Capillary{Diameter: pick("hole", 1e-5, 1), Length: pick("land", 1e-6, 10)}}
		solveAll(t, c, d, m, pick("speed", 1e-4, 100), pick("pressure", 0, 1e10), pick("flow", 0, 1e3))
	})
}

// Screws along their zones too, however they are run.
func TestPropertyProfileAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, d, m := screwtest.Profiles().Draw(t, "profile"), screwtest.Dies().Draw(t, "die"), screwtest.Melts().Draw(t, "melt")
		if _, ok := m.Viscosity.(material.Blend); ok {
			t.Skip("takes long where it warms")
		}
		r := screw.Running{Speed: screwtest.Speeds().Draw(t, "speed"), Heating: screw.Heating(rapid.IntRange(-1, 3).Draw(t, "heating"))}
		bits := draw.Bits()
		z := &p.Zones[0]
		fields := []*float64{&p.Bore, &p.Lead, &p.Land, &p.Clearance, &z.Length, &z.DepthIn, &z.DepthOut, &z.Barrel,
			&m.Density, &m.SpecificHeat, &m.Temperature, &m.Conductivity, &r.Speed, &r.StartPressure}
		for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = bits.Draw(t, "bits")
		}
		told := func(c screw.Course, err error) {
			if err == nil {
				finite(t, reflect.ValueOf(c))
				for _, s := range c.Stations {
					finite(t, reflect.ValueOf(s))
				}
			}
		}
		flow := draw.Log(1e-12, 1e-4).Draw(t, "flow")
		if rapid.Bool().Draw(t, "any flow") {
			flow = bits.Draw(t, "flow")
		}
		told(p.March(m, r, flow))
		told(p.StarvedPoint(d, m, r, flow))
		told(p.OperatingPoint(d, m, r))
	})
}

// Gaps too: at their state for a flow, under a gradient, and layer by layer whatever
// stresses are said to be in them.
func TestPropertyGapAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, m := gaps().Draw(t, "gap"), screwtest.Melts().Draw(t, "melt")
		bits := draw.Bits()
		var f screw.GapFlow
		fields := []*float64{&g.Depth, &g.Along, &g.Across, &m.Density, &m.SpecificHeat, &m.Temperature}
		for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = bits.Draw(t, "bits")
		}
		for _, flow := range []float64{bits.Draw(t, "flow"), draw.Log(1e-300, 1e4).Draw(t, "small flow"), 0} {
			there, err := g.GradientFor(m, flow)
			require.NotErrorIs(t, err, screw.ErrNotFound)
			if err != nil {
				continue
			}
			finite(t, reflect.ValueOf(there))
			f = there
		}
		if under, err := g.Flow(m, bits.Draw(t, "gradient")); err == nil {
			finite(t, reflect.ValueOf(under))
		}
		said := []*float64{&f.Stress, &f.CrossStress, &f.Gradient, &f.CrossGradient}
		for range rapid.IntRange(0, 4).Draw(t, "misquoted") {
			*rapid.SampledFrom(said).Draw(t, "stress") = bits.Draw(t, "bits")
		}
		layers, err := g.Layers(m, f, rapid.IntRange(-1, 20).Draw(t, "points"))
		if err != nil {
			require.ErrorIs(t, err, material.ErrInvalid)
			return
		}
		for _, l := range layers {
			finite(t, reflect.ValueOf(l))
		}
	})
}

func FuzzOperatingPoint(f *testing.F) {
	f.Add(0.02, 0.02, 1.6e-3, 2e-3, 8e-5, 1, 0.12, 4350.0, 0.41, 473.0, 0.0117, 488.0, 0.75, 1.5e-3, 1e-2, 8e-3, 5e-3)
	f.Fuzz(func(t *testing.T, bore, lead, depth, land, gap float64, starts int, length, k, n, t0, b, temp, speed, hole, long, inlet, cone float64) {
		c := screw.Channel{Bore: bore, Lead: lead, Depth: depth, Land: land, Clearance: gap, Starts: starts, Length: length}
		m := screw.Melt{Viscosity: material.PowerLaw{Consistency: k, Index: n, Reference: t0, TemperatureSlope: b},
			Density: 740, SpecificHeat: 2700, Temperature: temp}
		solveAll(t, c, screw.Die{screw.Cone{Inlet: inlet, Outlet: hole, Length: cone}, screw.Capillary{Diameter: hole, Length: long}},
			m, speed, 1e6, 1e-7)
	})
}

func FuzzPassages(f *testing.F) {
	f.Add(0.02, 1e-3, 3e-3, 0.01, 0.01, 8e-3, 2.0, 1000.0, 0.1, 0.3, 2.0, 1e-6)
	f.Fuzz(func(t *testing.T, width, low, high, length, outer, inner, diameters, eta, lambda, n, yasuda, flow float64) {
		m := screw.Melt{Viscosity: material.CarreauYasuda{Eta0: eta, Lambda: lambda, N: n, Yasuda: yasuda},
			Density: 740, SpecificHeat: 2700, Temperature: 480, Conductivity: 0.2}
		if m.Validate() != nil || !(flow >= 0 && flow <= 1e3) {
			return
		}
		for _, p := range []screw.Passage{
			screw.Slit{Width: width, Height: low, Length: length}, screw.Wedge{Width: width, Inlet: high, Outlet: low, Length: length},
			screw.Cone{Inlet: high, Outlet: low, Length: length}, screw.Annulus{Outer: outer, Inner: inner, Length: length},
			screw.Parallel{screw.Entrance{Diameter: outer, Diameters: diameters}, screw.Capillary{Diameter: low, Length: length}},
		} {
			if p.Validate() == nil {
				numbers(t, p, m, flow)
			}
		}
	})
}

var (
	benchChannel = screw.Channel{Bore: 0.02, Lead: 0.02, Depth: 1.6e-3, Land: 2e-3, Clearance: 8e-5, Starts: 1, Length: 0.12}
	benchHole    = screw.Capillary{Diameter: 1.5e-3, Length: 1e-2}
)

var sink screw.Point

func TestNewtonianPointAllocatesNothing(t *testing.T) {
	d := screw.Die{benchHole}
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	require.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := screw.OperatingPoint(benchChannel, d, m, 0.75); err != nil {
			panic(err)
		}
	}))
}

// BenchmarkOperatingPoint compares the Newtonian operating point with the same
// formulas written out, which check no input.
func BenchmarkOperatingPoint(b *testing.B) {
	const eta, rho, heat = 500.0, 740.0, 2700.0
	d := screw.Die{benchHole}
	m := screw.Melt{Viscosity: material.Newtonian{Eta: eta}, Density: rho, SpecificHeat: heat, Temperature: 488}
	var sum float64
	versus.Report(b, "x-inline", func(i int) {
		p, err := screw.OperatingPoint(benchChannel, d, m, 0.75+1e-4*float64(i&255))
		if err != nil {
			b.Fatal(err)
		}
		sum += p.Flow + p.Torque + p.TemperatureRise
	}, func(i int) {
		speed := 0.75 + 1e-4*float64(i&255)
		c, hole := &benchChannel, &benchHole
		theta := math.Atan(c.Lead / (math.Pi * c.Bore))
		sin, cos := math.Sincos(theta)
		v := math.Pi * c.Bore * speed
		vx, vz := v*sin, v*cos
		pitch := c.Lead * cos
		w, e, h, gap, z := pitch-c.Land, c.Land, c.Depth, c.Clearance, c.Length/sin
		r := h / w
		s3, s5 := 1.0517997902646450, 1.0045237627951396
		for i := 1.0; i*math.Pi/r < 39; i += 2 {
			rest := 2 / (math.Exp(i*math.Pi/r) + 1) / (i * i * i)
			s3 -= rest
			s5 -= rest / (i * i)
		}
		const pi3 = math.Pi * math.Pi * math.Pi
		fd, fp := 1-16*r/pi3*s3, 1-192*r/(pi3*math.Pi*math.Pi)*s5
		// Curvature.
		bend := 2 * h / c.Bore
		kappa, x := 1-bend, -math.Log1p(-bend)
		sh, ch := math.Sinh(x)/x, math.Cosh(x)
		dd, ee := (sh*sh-1)/(x*x), (ch-sh)/(x*x)
		cube := 3 * x * x * x / (bend * bend * bend) * kappa
		drag, round, axial := x/(2*bend)*(1-x*ee/sh), cube*dd/sh, cube*kappa*sh*ee
		shear, lean := kappa*bend/(x*sh), (1-kappa*sh)/(2*bend)
		kg, k, cc := round*cos*cos+axial*sin*sin, (axial-round)*sin*cos, round*sin*sin+axial*cos*cos

		a, bb := h*h*h/(12*eta), gap*gap*gap/(12*eta)
		around := pitch * cos / sin
		free := drag * h * (vz + vx*k/cc)
		per := 1 / (w*bb + e*a*cc)
		gc1, gc0 := (around*bb-e*a*k)*per, -e*vx*(drag*h-gap/2)*per
		flow0 := w*(fd*free+fp*(drag*h*vz-a*k*gc0-free)) + vz*e*gap/2 - around*(drag*h*vx+a*cc*gc0)
		slope := w*fp*a*(kg+k*gc1) + e*bb + around*a*(k+cc*gc1)
		d3 := hole.Diameter * hole.Diameter * hole.Diameter
		resist := 128 * eta * hole.Length / (math.Pi * d3 * hole.Diameter)
		q := flow0 / (1 + resist*slope/z)
		p := (flow0 - q) * z / slope
		g := p / z
		gc := gc0 + gc1*g
		gl := (g*around - w*gc) / e
		ga, gz := cos*g-sin*gc, sin*g+cos*gc
		qa, qz := drag*v*h-a*round*ga, -a*axial*gz
		along := cos*qa + sin*qz
		chan2 := w * z * (v*(eta*v/h*shear+drag*h*ga) - qa*ga - qz*gz + (1-fp)*g*(along-free))
		land := e * z * (eta*v*v/gap + bb*(g*g+gl*gl))
		apparent := 32 * q / (math.Pi * d3)
		sink.Pressure, sink.Flow, sink.MassFlow = p, q, q*rho
		sink.Drag, sink.PressureFlow = fd*w*free, fp*w*(along-free)
		sink.Leakage = q - sink.Drag - sink.PressureFlow
		sink.Power, sink.Pumping, sink.ChannelDissipation, sink.LandDissipation = q*p+chan2+land, q*p, chan2, land
		sink.Torque = sink.Power / (2 * math.Pi * speed)
		forward := w*z*(lean*h*gz-(1-fd)*g*free/vz*sin) + e*z*gap*(g*sin+gl*cos)/2
		sink.Thrust = p*math.Pi/4*c.Bore*c.Bore - forward
		sink.TemperatureRise, sink.ResidenceTime = (chan2+land)/(q*rho*heat), w*h*(1-bend/2)*z/q
		sink.ChannelShearRate, sink.LandShearRate = vz/h, v/gap
		sink.OpenFlow, sink.ClosedPressure = flow0, flow0*z/slope
		sink.DieShearRate, sink.DieShearStress, sink.DieTemperatureRise = apparent, eta*apparent, p/(rho*heat)
		sink.DieVolume = math.Pi / 4 * hole.Diameter * hole.Diameter * hole.Length
		sink.DieResidenceTime = sink.DieVolume / q
		sum += sink.Flow + sink.Torque + sink.TemperatureRise
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func ExampleOperatingPoint() {
	// A 20 mm screw at 60 rpm presses HDPE through a 2 mm nozzle.
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 0.08e-3, Starts: 1, Length: 120e-3}
	melt, err := screw.MeltOf(material.HDPE(), material.Celsius(200))
	if err != nil {
		fmt.Println(err)
		return
	}
	entry, err := screw.ConeOf(8e-3, 2e-3, math.Pi/3)
	if err != nil {
		fmt.Println(err)
		return
	}
	die := screw.Die{entry, screw.Capillary{Diameter: 2e-3, Length: 10e-3}}
	p, err := screw.OperatingPoint(channel, die, melt, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f kg/h at %.1f bar, %.1f N·m, melt %.0f K warmer\n",
		p.MassFlow*3600, p.Pressure/1e5, p.Torque, p.TemperatureRise)
	fmt.Printf("die wall: safety %.1f against melt fracture\n", p.Fracture(screw.FractureStress).Safety())
	for _, beyond := range p.Beyond {
		fmt.Println("note:", beyond)
	}
	// Output:
	// 1.63 kg/h at 53.7 bar, 5.2 N·m, melt 25 K warmer
	// die wall: safety 0.4 against melt fracture
	// note: in the channel: shear rate 37.4 1/s, viscosity law fitted from 100 to 1e+03 1/s
}
