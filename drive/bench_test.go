package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/versus"
)

// rated is a whole drive: everything BenchmarkDriveRating needs.
type rated struct {
	motor   drive.Stepper
	stage   drive.PlanetaryStage
	shaft   drive.Shaft
	bearing drive.Bearing
}

var machine = rated{
	motor:   big,
	stage:   drive.PlanetaryStage{Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1.1},
	shaft:   drive.Shaft{Diameter: 12e-3, BendingNotch: 1.7, TorsionNotch: 1.4, Yield: 430e6, Ultimate: 650e6, Endurance: 210e6},
	bearing: drive.Bearing{Dynamic: 26.7e3, Static: 47e3, Exponent: drive.Ball},
}

// rate returns the safeties of pull-out, the three tooth roots, fatigue, yield,
// bearing life [s] and static load.
func (m *rated) rate(torque, speed, thrust float64) ([8]float64, error) {
	load, err := m.stage.Load(torque, speed)
	if err != nil {
		return [8]float64{}, err
	}
	roots, err := m.stage.Bending(load, 250e6)
	if err != nil {
		return [8]float64{}, err
	}
	out, err := m.motor.PullOut(load.SunSpeed, 2.8, 36)
	if err != nil {
		return [8]float64{}, err
	}
	fatigue, err := m.shaft.Fatigue(drive.ShaftLoad{BendingAlternating: 2, TorqueMean: torque, AxialMean: thrust})
	if err != nil {
		return [8]float64{}, err
	}
	life, err := m.bearing.Life(thrust, speed, 0.95)
	if err != nil {
		return [8]float64{}, err
	}
	return [8]float64{
		out.Utilisation(load.SunTorque).Safety(), roots[0].Safety(), roots[1].Safety(), roots[2].Safety(),
		fatigue.Goodman, fatigue.Yield, life.Seconds, life.StaticSafety,
	}, nil
}

// bare holds every quantity the library's results hold, as inline computes them.
type bare struct {
	sunTorque, carrierTorque, ringTorque, force, pin, pitch, sunSpeed, carrierSpeed, planetSpeed float64
	root                                                                                         [3]float64
	torque, current, voltage, mechanical, electrical, loss                                       float64
	alternating, mean, most, soderberg, goodman, gerber, elliptic, yield, turns, seconds, static float64
	safety                                                                                       [8]float64
}

// inline is the same arithmetic for the same quantities as one would write it for
// one machine, without a check of any input.
func (m *rated) inline(torque, speed, thrust float64) (o bare) {
	p := &m.stage
	sun, planet, ring := float64(p.Sun), float64(p.Planet), float64(p.Ring)
	ratio := 1 + ring/sun
	share := p.LoadShare / float64(p.Planets)
	o.sunTorque = torque / ratio * (sun + ring) / (sun + ring*p.MeshEfficiency)
	o.carrierTorque, o.ringTorque = -torque, torque-o.sunTorque
	o.force = share * o.sunTorque / (p.Module * sun / 2)
	o.pin = share * torque / (p.Module * (sun + planet) / 2)
	o.pitch = math.Pi * p.Module * sun * speed * (ratio - 1)
	o.sunSpeed, o.carrierSpeed, o.planetSpeed = speed*ratio, speed, -speed*(ratio-1)*sun/planet
	unit := (1 + o.pitch/6.096) * o.force / (p.Face * p.Module)
	y27 := 0.346 + (0.353-0.346)*(1/26.0-1/planet)/(1/26.0-1/28.0)
	o.root = [3]float64{unit / 0.309, unit / y27, unit / 0.485}

	s := &m.motor
	k := s.HoldingTorque / (math.Sqrt2 * s.Current)
	w := 2 * math.Pi * o.sunSpeed
	e, x, limit, r, v := k*w, float64(s.RotorTeeth)*w*s.Inductance, math.Sqrt2*2.8, s.Resistance, 36.0
	q, d := limit, 0.0
	if (x*limit)*(x*limit)+(r*limit+e)*(r*limit+e) > v*v {
		z2 := r*r + x*x
		z := math.Sqrt(z2)
		d, q = -e*x/z2, v/z-e*r/z2
		if d*d+q*q > limit*limit {
			along := (v*v - e*e - z2*limit*limit) / (2 * e * z)
			across := math.Sqrt(limit*limit - along*along)
			d, q = (along*x-across*r)/z, (along*r+across*x)/z
		}
	}
	i2 := d*d + q*q
	o.torque, o.current = k*q, math.Sqrt(i2/2)
	o.voltage = math.Sqrt((r*d-x*q)*(r*d-x*q) + (r*q+x*d+e)*(r*q+x*d+e))
	o.mechanical, o.loss = o.torque*w, r*i2
	o.electrical = o.mechanical + o.loss

	h := &m.shaft
	area := math.Pi / 4 * h.Diameter * h.Diameter
	sa := h.BendingNotch * 8 * 2 / (area * h.Diameter)
	sm := h.BendingNotch * thrust / area
	tm := h.TorsionNotch * 4 * torque / (area * h.Diameter)
	o.alternating = sa
	o.mean = math.Sqrt(sm*sm + 3*tm*tm)
	o.most = math.Sqrt((sa+sm)*(sa+sm) + 3*tm*tm)
	a, b, c := sa/h.Endurance, o.mean/h.Ultimate, o.mean/h.Yield
	o.soderberg, o.goodman = 1/(a+c), 1/(a+b)
	o.gerber, o.elliptic = 2/(a+math.Sqrt(a*a+4*b*b)), 1/math.Sqrt(a*a+c*c)
	o.yield = h.Yield / o.most

	g := &m.bearing
	a1 := 0.05 + 0.95*math.Pow(math.Log(0.95)/math.Log(0.9), 2.0/3)
	o.turns = 1e6 * a1 * math.Pow(g.Dynamic/thrust, g.Exponent)
	o.seconds, o.static = o.turns/speed, g.Static/thrust

	o.safety = [8]float64{
		o.torque / o.sunTorque, 250e6 / o.root[0], 0.7 * 250e6 / o.root[1], 250e6 / o.root[2],
		o.goodman, o.yield, o.seconds, o.static,
	}
	return o
}

// The reference of the benchmark is the same rating: a second writing of all
// formulas that has to agree.
func TestRatingAgreesWithInline(t *testing.T) {
	for _, speed := range []float64{0.1, 0.75, 1.4, 1.7, 3, 6} {
		got, err := machine.rate(7.5, speed, 6283)
		require.NoError(t, err)
		want := machine.inline(7.5, speed, 6283).safety
		for i := range got {
			assert.InEpsilon(t, want[i], got[i], 1e-12, "value %d at %v rev/s", i, speed)
		}
	}
}

func TestRatingAllocatesNothing(t *testing.T) {
	for _, speed := range []float64{0.75, 1.7, 6} {
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			if _, err := machine.rate(7.5, speed, 6283); err != nil {
				t.Fatal(err)
			}
		}))
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, _, err := big.Corners(2.8, 36); err != nil {
			t.Fatal(err)
		}
	}), "Corners")
}

var sink float64

// BenchmarkDriveRating compares the checked rating with the bare formulas, at
// speeds through all three regimes of the motor.
func BenchmarkDriveRating(b *testing.B) {
	speed := func(i int) float64 { return 0.5 + 0.01*float64(i%300) }
	versus.Report(b, "x-inline", func(i int) {
		r, err := machine.rate(7.5, speed(i), 6283)
		if err != nil {
			b.Fatal(err)
		}
		sink += r[0]
	}, func(i int) { sink += machine.inline(7.5, speed(i), 6283).safety[0] })
}
