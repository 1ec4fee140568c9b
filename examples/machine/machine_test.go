package main

import (
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/internal/versus"
	"meltflight/screw"
)

func defaultMachine(t testing.TB) Machine {
	t.Helper()
	m, err := read("default", defaultFile)
	require.NoError(t, err)
	return m
}

func solved(t testing.TB, m Machine) (parts, answer) {
	t.Helper()
	p, err := m.build()
	require.NoError(t, err)
	a, err := m.solve(&p)
	require.NoError(t, err)
	return p, a
}

func safety(t testing.TB, m Machine, part string) float64 {
	t.Helper()
	_, a := solved(t, m)
	for _, l := range a.limits {
		if l.Part == part {
			return l.Safety()
		}
	}
	t.Fatalf("no limit %q", part)
	return 0
}

func TestDefaultMachineHoldsAndNamesItsWeakest(t *testing.T) {
	m := defaultMachine(t)
	_, a := solved(t, m)
	require.NotEmpty(t, a.limits)
	assert.Equal(t, "driver junction", a.limits[0].Part)
	for i, l := range a.limits {
		assert.GreaterOrEqual(t, l.Safety(), 1.0, l.Part)
		assert.NotEmpty(t, l.Method, l.Part)
		for _, key := range l.levers {
			assert.True(t, find(reflect.ValueOf(&m).Elem(), key).IsValid(), key)
		}
		if i > 0 {
			assert.GreaterOrEqual(t, l.Safety(), a.limits[i-1].Safety(), "weakest first")
		}
	}
}

// What each change buys, as the trade expects it.

func TestChangesActAsTheTradeExpects(t *testing.T) {
	m := defaultMachine(t)
	for _, c := range []struct {
		name   string
		change func(*Machine)
		part   string
		better bool
	}{
		{"bigger gear module", func(m *Machine) { m.Gear.Module = 0.8 }, "sun tooth root", true},
		{"bigger gear module spares its flanks", func(m *Machine) { m.Gear.Module = 0.8 }, "sun flank", true},
		{"softer teeth", func(m *Machine) { m.Gear.Steel, m.Gear.Hardness = "alloy QT MQ", 300 }, "sun flank", false},
		{"crooked coupling bends the shank", func(m *Machine) { m.Wear.Angle = 0.1 }, "shaft fatigue", false},
		{"longer key", func(m *Machine) { m.Key.Length = 25 }, "key in hub, jammed", true},
		{"lower current cools the chip", func(m *Machine) { m.Motor.SetCurrent = 2 }, "driver junction", true},
		{"lower current cools the winding", func(m *Machine) { m.Motor.SetCurrent = 2 }, "motor winding", true},
		{"lower current weakens the motor", func(m *Machine) { m.Motor.SetCurrent = 2 }, "motor pull-out", false},
		{"hopper off the axis", func(m *Machine) { m.Hopper.On = "stand" }, "bead ripple", true},
		{"longer nozzle", func(m *Machine) { m.Nozzle.Land, m.Throat.Efficiency = 30, 0.45 }, "melt heat, over the air", false},
		{"denser flake", func(m *Machine) { m.Feedstock.BulkDensity = 360 }, "output", true},
		{"deeper feed", func(m *Machine) { m.Screw.FeedDepth = 4 }, "output", true},
		{"deeper feed weakens the root", func(m *Machine) { m.Screw.FeedDepth = 4 }, "screw root, screw jammed", false},
		{"colder throat", func(m *Machine) { m.Throat.Temperature = 40 }, "throat, over the air", true},
		{"longer sleeve", func(m *Machine) { m.Throat.Sleeve = 60 }, "throat collar, over the air", true},
		{"collar of air", func(m *Machine) { m.Throat.Collar = 0.2 }, "throat collar, over the air", false},
		{"faster auger", func(m *Machine) { m.Feeder.Speed = 20 }, "feed auger", true},
		{"slower sensor", func(m *Machine) { m.Feeder.SensorDelay = 3 }, "drop tube reserve", false},
		{"crooked coupling", func(m *Machine) { m.Wear.Angle = 0.1 }, "screw and barrel wear", false},
		{"harder land", func(m *Machine) { m.Wear.Land = 900 }, "screw and barrel wear", true},
		{"thicker barrel", func(m *Machine) { m.Barrel.Outer = 50 }, "barrel, nozzle blocked", true},
		{"longer nozzle loads the bearing", func(m *Machine) { m.Nozzle.Land = 20 }, "bearing life", false},
		{"wider nozzle", func(m *Machine) { m.Nozzle.Diameter = 2 }, "bead surface", true},
		{"worn screw", func(m *Machine) { m.Screw.Clearance = 0.9 }, "output", false},
		{"faster screw", func(m *Machine) { m.Screw.Speed = 90 }, "output", true},
		{"faster screw asks more torque", func(m *Machine) { m.Screw.Speed = 90 }, "motor pull-out", false},
		{"slower ramps", func(m *Machine) { m.Gantry.Acceleration = 1 }, "bead ripple", true},
		{"fuller hopper", func(m *Machine) { m.Hopper.Volume = 15 }, "bead ripple", false},
		{"hotter box", func(m *Machine) { m.Driver.Ambient = 55 }, "driver junction", false},
		{"thicker shank", func(m *Machine) { m.Shank.Diameter = 15 }, "shaft fatigue", true},
	} {
		changed := m
		c.change(&changed)
		before, after := safety(t, m, c.part), safety(t, changed, c.part)
		if c.better {
			assert.Greater(t, after, before, c.name)
		} else {
			assert.Less(t, after, before, c.name)
		}
	}
}

// The value the advice names does bring the part to its limit.

func TestAdviceIsTrue(t *testing.T) {
	m := defaultMachine(t)
	_, a := solved(t, m)
	found := 0
	for _, l := range a.limits {
		for _, key := range l.levers {
			value, ok := m.bringToLimit(l.Part, key)
			if !ok {
				continue
			}
			found++
			changed := m
			find(reflect.ValueOf(&changed).Elem(), key).SetFloat(value)
			assert.InEpsilon(t, 1, safety(t, changed, l.Part), 1e-6, "%s by %s", l.Part, key)
		}
	}
	assert.Greater(t, found, len(a.limits)/2)
}

func TestAMachineThatFailsIsAnAnswer(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Machine)
		weak   string
		words  []string
	}{
		"motor stalls": {func(m *Machine) { m.Screw.OtherTorque = 30 }, "motor pull-out",
			[]string{"the motor stalls: it is short of", "The machine does not run: motor pull-out", "Operating point, if the motor held",
				"None of these alone brings it to its limit: motor.set_current_a_rms, motor.supply_v, screw.speed_rpm."}},
		"motor stalls a little": {func(m *Machine) { m.Screw.OtherTorque = 5.6 }, "motor pull-out",
			[]string{"would take motor.set_current_a_rms at", "which driver junction would not bear"}},
		"motor stalls a little, all else cool": {func(m *Machine) {
			m.Screw.OtherTorque, m.Driver.SinkToAir, m.Motor.ThermalResistance = 5.2, 6, 1.5
		}, "motor pull-out", []string{"would take motor.set_current_a_rms at", ", but current above rated"}},
		"motor too slow for its winding": {func(m *Machine) {
			m.Motor = Motor{1.3, 0.4, 30, 45, 50, 12, 0.4, 1, 2.6, 130, 30}
		}, "motor pull-out", []string{"the motor stalls: motor falls out of step", "motor.supply_v"}},
		"motor stalls for want of voltage": {func(m *Machine) { m.Motor.Supply = 8 }, "motor pull-out",
			[]string{"would take motor.supply_v at", "screw.speed_rpm at"}},
		"driver runs away":     {func(m *Machine) { m.Driver.SinkToAir = 200 }, "driver junction", []string{"driver chip: ", "First to give way: driver junction"}},
		"winding runs away":    {func(m *Machine) { m.Motor.ThermalResistance = 40 }, "motor winding", []string{"motor winding: "}},
		"screw leaks all":      {func(m *Machine) { m.Screw.Clearance, m.Screw.Depth = 1.59, 1.6 }, "output", []string{"the screw delivers nothing", "The machine does not run: output"}},
		"stand tips":           {func(m *Machine) { m.Hopper.On, m.Stand.Push = "stand", 9 }, "stand tipping", []string{"First to give way: stand tipping"}},
		"no speed does":        {func(m *Machine) { m.Feedstock.Wanted = 500 }, "output", []string{"None of these alone brings it to its limit: throat.efficiency"}},
		"nozzle too small":     {func(m *Machine) { m.Nozzle.Diameter, m.Nozzle.Fracture = 0.8, 5 }, "output", []string{"nozzle.diameter_mm at"}},
		"melt burns":           {func(m *Machine) { m.Feedstock.Temperature = 290 }, "melt heat", []string{"would take feedstock.melt_temperature_c at"}},
		"slow, soft and heavy": {func(m *Machine) { m.Gantry.EndY = 1 }, "bead ripple", []string{"First to give way: bead ripple"}},
		"weak shank jams":      {func(m *Machine) { m.Shank.Diameter = 7 }, "shaft, screw jammed", []string{"shank.diameter_mm at"}},
		"weak bearing blocks":  {func(m *Machine) { m.Bearing.Static = 2 }, "bearing, nozzle blocked", []string{"thrust_bearing.static_rating_kn at"}},
	} {
		m := defaultMachine(t)
		c.change(&m)
		p, a := solved(t, m)
		assert.Contains(t, a.first().Part, c.weak, name)
		assert.Less(t, a.first().Safety(), 1.0, name)
		page := m.report(&p, &a)
		for _, words := range c.words {
			assert.Contains(t, page, words, name)
		}
		assert.NotContains(t, page, "NaN", name)
		assert.NotContains(t, page, "Inf", name)
		_, err := m.draw(&p, &a)
		assert.NoError(t, err, name)
	}
}

func TestStandRows(t *testing.T) {
	m := defaultMachine(t)
	m.Hopper.On = "stand"
	p, a := solved(t, m)
	page := m.report(&p, &a)
	assert.Contains(t, page, "hopper on its own stand")
	assert.Contains(t, page, "stand sways at")
	assert.Len(t, a.limits, 34)
	m.Stand.Bolted = true
	_, a = solved(t, m)
	assert.Len(t, a.limits, 33, "bolted down it does not tip")
}

// spoil changes one thing in the default file's text and runs it.

// The whole page, pictures aside, as a multiple of the one operating point in it:
// most of it is the search for what each remedy would take.
func BenchmarkPage(b *testing.B) {
	m := defaultMachine(b)
	p, _ := solved(b, m)
	versus.Report(b, "x-operating-point", func(int) {
		p, err := m.build()
		if err != nil {
			b.Fatal(err)
		}
		a, err := m.solve(&p)
		if err != nil {
			b.Fatal(err)
		}
		if m.report(&p, &a) == "" {
			b.Fatal("empty")
		}
	}, func(int) {
		if _, err := screw.OperatingPoint(p.channel, p.die, p.melt, p.speed); err != nil {
			b.Fatal(err)
		}
	})
}

// The shaft's share of the heat of melting is told for what it is, and so is a melt
// beyond what its heat and volume are known for.
func TestMeltingHeatIsTold(t *testing.T) {
	page := func(from, to string) string {
		_, out, faults := runFile(t, strings.Replace(string(defaultFile), from, to, 1))
		require.NotEmpty(t, out, faults)
		return out
	}
	assert.Contains(t, page(`"other_torque_nm": 2`, `"other_torque_nm": 60`), "the shaft gives 2 times that")
	assert.NotContains(t, page("", ""), "heat of melting")
	assert.Contains(t, page(`"melt_temperature_c": 215`, `"melt_temperature_c": 350`), "heat of melting")
	assert.Contains(t, page(`"melt_temperature_c": 215`, `"melt_temperature_c": 350`), "melt density")
}

// A jam finds the weakest tooth, whichever wheel it is on.
func TestLargeSun(t *testing.T) {
	m := defaultMachine(t)
	m.Gear.Sun, m.Gear.Planet, m.Gear.Ring, m.Gear.Module = 72, 14, 100, 1
	m.Gear.Planets = 2
	_, a := solved(t, m)
	jams := 0
	for _, l := range a.limits {
		if strings.HasSuffix(l.Part, "tooth, screw jammed") {
			jams++
			assert.NotEqual(t, "sun tooth, screw jammed", l.Part)
		}
	}
	assert.Equal(t, 1, jams)
}
