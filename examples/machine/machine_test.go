package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/frame"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/thermal"
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
		assert.True(t, find(reflect.ValueOf(&m).Elem(), l.lever).IsValid(), l.lever)
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
		{"lower current cools the chip", func(m *Machine) { m.Motor.SetCurrent = 2 }, "driver junction", true},
		{"lower current cools the winding", func(m *Machine) { m.Motor.SetCurrent = 2 }, "motor winding", true},
		{"lower current weakens the motor", func(m *Machine) { m.Motor.SetCurrent = 2 }, "motor pull-out", false},
		{"hopper off the axis", func(m *Machine) { m.Hopper.On = "stand" }, "bead ripple", true},
		{"deeper channel", func(m *Machine) { m.Screw.Depth = 2 }, "output", true},
		{"deeper channel loads the die", func(m *Machine) { m.Screw.Depth = 2 }, "bead surface", false},
		{"longer nozzle", func(m *Machine) { m.Nozzle.Land = 20 }, "output", false},
		{"longer nozzle loads the bearing", func(m *Machine) { m.Nozzle.Land = 20 }, "bearing life", false},
		{"wider nozzle", func(m *Machine) { m.Nozzle.Diameter = 2 }, "bead surface", true},
		{"worn screw", func(m *Machine) { m.Screw.Clearance = 0.3 }, "output", false},
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
		value, ok := m.bringToLimit(l)
		if !ok {
			continue
		}
		found++
		changed := m
		find(reflect.ValueOf(&changed).Elem(), l.lever).SetFloat(value)
		assert.InEpsilon(t, 1, safety(t, changed, l.Part), 1e-6, "%s by %s", l.Part, l.lever)
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
			[]string{"the motor stalls: it is short of", "The machine does not run: motor pull-out", "alone, now 2.8, does not"}},
		"motor stalls a little": {func(m *Machine) { m.Screw.OtherTorque = 8 }, "motor pull-out",
			[]string{"It would take motor.set_current_a_rms at", "but then driver junction is at"}},
		"motor too slow for its winding": {func(m *Machine) {
			m.Motor = Motor{1.3, 0.4, 30, 45, 50, 12, 0.4, 1, 2.6, 130, 30}
		}, "motor pull-out", []string{"the motor stalls: motor falls out of step", "motor.supply_v"}},
		"motor stalls for want of voltage": {func(m *Machine) { m.Motor.Supply = 8 }, "motor pull-out",
			[]string{"It would take motor.supply_v at"}},
		"driver runs away":     {func(m *Machine) { m.Driver.SinkToAir = 200 }, "driver junction", []string{"driver chip: ", "First to give way: driver junction"}},
		"winding runs away":    {func(m *Machine) { m.Motor.ThermalResistance = 40 }, "motor winding", []string{"motor winding: "}},
		"screw leaks all":      {func(m *Machine) { m.Screw.Clearance, m.Screw.Depth = 1.59, 1.6 }, "output", []string{"the screw pumps nothing", "The machine does not run: output"}},
		"stand tips":           {func(m *Machine) { m.Hopper.On, m.Stand.Push = "stand", 9 }, "stand tipping", []string{"First to give way: stand tipping"}},
		"no speed does":        {func(m *Machine) { m.Feedstock.Wanted = 500 }, "output", []string{"screw.speed_rpm alone, now 72, does not"}},
		"melt burns":           {func(m *Machine) { m.Feedstock.Temperature = 290 }, "melt heat", []string{"It would take feedstock.melt_temperature_c at"}},
		"slow, soft and heavy": {func(m *Machine) { m.Gantry.EndY = 1 }, "bead ripple", []string{"First to give way: bead ripple"}},
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
	assert.Len(t, a.limits, 16)
	m.Stand.Bolted = true
	_, a = solved(t, m)
	assert.Len(t, a.limits, 15, "bolted down it does not tip")
}

func runWith(args ...string) (code int, out, faults string) {
	var o, f bytes.Buffer
	code = run(args, &o, &f)
	return code, o.String(), f.String()
}

func TestCommand(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new", "pictures")
	code, out, faults := runWith("-out", folder)
	require.Zero(t, code, faults)
	assert.Empty(t, faults)
	assert.Contains(t, out, "Limits, weakest first")
	for _, name := range []string{"characteristic.svg", "limits.svg", "frequency.svg"} {
		svg, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.Contains(t, string(svg), "</svg>")
		assert.NotContains(t, string(svg), "NaN")
		assert.Contains(t, out, name)
	}

	code, out, _ = runWith("-print-default")
	require.Zero(t, code)
	mine := filepath.Join(t.TempDir(), "mine.json")
	require.NoError(t, os.WriteFile(mine, []byte(out), 0o600))
	code, again, faults := runWith("-machine", mine, "-out", "-")
	require.Zero(t, code, faults)
	_, first, _ := runWith("-out", "-")
	assert.Equal(t, first, again, "the printed file is the embedded machine")
}

func TestWrongUsage(t *testing.T) {
	for _, args := range [][]string{{"-speed", "3"}, {"mine.json"}, {"-machine"}, {"-machine", ""}, {"-out", ""},
		{"-print-default", "-machine", "x"}, {"-explain", "-print-default"}} {
		code, out, faults := runWith(args...)
		assert.Equal(t, 2, code, args)
		assert.Empty(t, out)
		assert.NotEmpty(t, faults)
	}
	code, _, _ := runWith("-h")
	assert.Zero(t, code)
}

// spoil changes one thing in the default file's text and runs it.
func spoil(t *testing.T, change func(map[string]any)) (code int, out, faults string) {
	t.Helper()
	var tree map[string]any
	require.NoError(t, json.Unmarshal(defaultFile, &tree))
	change(tree)
	text, err := json.Marshal(tree)
	require.NoError(t, err)
	return runFile(t, string(text))
}

func runFile(t *testing.T, text string) (code int, out, faults string) {
	t.Helper()
	name := filepath.Join(t.TempDir(), "bad.json")
	require.NoError(t, os.WriteFile(name, []byte(text), 0o600))
	folder := filepath.Join(t.TempDir(), "pictures")
	code, out, faults = runWith("-machine", name, "-out", folder)
	if code != 0 {
		assert.NoDirExists(t, folder, "nothing half-written")
		assert.Empty(t, out)
	}
	return code, out, faults
}

func TestBadFiles(t *testing.T) {
	set := func(section, key string, v any) func(map[string]any) {
		return func(tree map[string]any) { tree[section].(map[string]any)[key] = v }
	}
	for want, change := range map[string]func(map[string]any){
		"screw.depth_mm = 12: screw.Channel.Depth = 0.012 m: allowed 1e-05 m to below half the bore, 0.01 m": set("screw", "depth_mm", 12),
		"screw.bore_mm = -20: screw.Channel.Bore = -0.02 m: allowed 0.001 to 1 m":                            set("screw", "bore_mm", -20),
		"screw.bore_mm is the text \"20\": a number is needed":                                               set("screw", "bore_mm", "20"),
		"screw.bor_mm is not a known key: allowed bore_mm, lead_mm":                                          set("screw", "bor_mm", 20),
		"gear.ring_teeth = 70: drive.PlanetaryStage.Ring = 70: allowed 72":                                   set("gear", "ring_teeth", 70),
		"gear.planets = 4: drive.PlanetaryStage.Planets = 4: allowed a divisor":                              set("gear", "planets", 4),
		"gear.sun_teeth = 18.5: a whole number is needed":                                                    set("gear", "sun_teeth", 18.5),
		`gear.metal = cheese: material.MetalNamed: name = "cheese": allowed S235`:                            set("gear", "metal", "cheese"),
		`feedstock.polymer = soap: material.PolymerNamed: name = "soap": allowed PP, HDPE, ABS`:              set("feedstock", "polymer", "soap"),
		"feedstock.melt_temperature_c = 150 °C: allowed above 165 °C, below which PP is solid":               set("feedstock", "melt_temperature_c", 150),
		`hopper.carried_by = "hand": allowed axis or stand`:                                                  set("hopper", "carried_by", "hand"),
		"hopper.volume_l = 0 l: allowed 0.01 to 10000 l":                                                     set("hopper", "volume_l", 0),
		"nozzle.diameter_mm = 9: screw.Cone.Outlet = 0.009 m: allowed below the inlet, 0.008 m":              set("nozzle", "diameter_mm", 9),
		"gantry.wall_mm = 25: frame.RectangularTube: wall":                                                   set("gantry", "wall_mm", 25),
		"shank.diameter_mm = 200: material.Metal.StrengthAt (C45E): section = 0.2 m":                         set("shank", "diameter_mm", 200),
		"motor.set_current_a_rms = 0 A: allowed 0.001 to 1000 A":                                             set("motor", "set_current_a_rms", 0),
		"motor.winding_limit_c = 20 °C: allowed above shed_c (30 °C), up to 200 °C":                          set("motor", "winding_limit_c", 20),
		"motor.supply_v = -5: thermal.Bridge.Supply = -5 V":                                                  set("motor", "supply_v", -5),
		"screw is missing: an object in braces is needed":                                                    func(tree map[string]any) { delete(tree, "screw") },
		`name = "": allowed a word or more`:                                                                  func(tree map[string]any) { tree["name"] = "" },
	} {
		code, _, faults := spoil(t, change)
		assert.Equal(t, 1, code, want)
		assert.Contains(t, faults, want)
	}
}

func TestAllFaultsAtOnce(t *testing.T) {
	_, _, faults := spoil(t, func(tree map[string]any) {
		tree["screw"].(map[string]any)["land_mm"] = -1
		tree["motor"].(map[string]any)["resistance_ohm"] = 0
		tree["stand"].(map[string]any)["leg_wall_mm"] = 40
	})
	for _, key := range []string{"screw.land_mm", "motor.resistance_ohm", "stand.leg_wall_mm = 40: frame.RectangularTube: wall"} {
		assert.Contains(t, faults, key)
		assert.Equal(t, 1, strings.Count(faults, key), "each key once")
	}

	// Every number of the file out of all bounds: every key is named.
	var tree map[string]any
	require.NoError(t, json.Unmarshal(defaultFile, &tree))
	var keys []string
	for name, section := range tree {
		fields, ok := section.(map[string]any)
		if !ok {
			continue
		}
		for key, v := range fields {
			if x, ok := v.(float64); ok {
				fields[key] = 1e300
				if x == float64(int(x)) && (strings.HasSuffix(key, "teeth") || key == "planets" || key == "starts") {
					fields[key] = 1 << 40
				}
				keys = append(keys, name+"."+key)
			}
		}
	}
	text, err := json.Marshal(tree)
	require.NoError(t, err)
	code, _, faults := runFile(t, string(text))
	assert.Equal(t, 1, code)
	for _, key := range keys {
		switch key {
		case "nozzle.entry_mm", "nozzle.entry_angle_deg": // of equal diameters there is no cone
		case "gear.load_share", "gear.face_mm", "gear.module_mm", "gear.mesh_efficiency":
			assert.Contains(t, faults, key+" =")
		default:
			assert.Contains(t, faults, key+" =")
		}
	}
}

func TestEveryKeyIsExplained(t *testing.T) {
	code, out, _ := runWith("-explain")
	require.Zero(t, code)
	lines := strings.Split(strings.TrimSpace(out), "\n")
	assert.Greater(t, len(lines), 70)
	for _, line := range lines {
		assert.GreaterOrEqual(t, len(strings.Fields(line)), 4, line)
	}
}

func TestPicturesAllOrNone(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(folder, "limits.svg"), 0o755))
	code, out, faults := runWith("-out", folder)
	assert.Equal(t, 1, code)
	assert.Contains(t, faults, "-out: ")
	assert.Contains(t, out, "Limits", "the page is told all the same")
	left, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, left, 1)
}

func TestUnreadable(t *testing.T) {
	code, _, faults := runWith("-machine", filepath.Join(t.TempDir(), "none.json"), "-out", "-")
	assert.Equal(t, 1, code)
	assert.Contains(t, faults, "none.json")
	code, _, faults = runFile(t, "{\"name\": NaN}")
	assert.Equal(t, 1, code)
	assert.Contains(t, faults, "not JSON near line 1")
}

// The whole page, pictures aside, as a multiple of one operating point would say
// little; what matters is that a designer does not wait.
func BenchmarkPage(b *testing.B) {
	m := defaultMachine(b)
	for b.Loop() {
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
	}
}

// The whole page, as last read by a person: any change of it must be meant. Write
// it anew by go test ./examples/machine -run Page -update.
func TestPageIsAsLastRead(t *testing.T) {
	onStand := defaultMachine(t)
	onStand.Hopper.On = "stand"
	for name, m := range map[string]Machine{"axis": defaultMachine(t), "stand": onStand} {
		p, a := solved(t, m)
		page := m.report(&p, &a)
		file := filepath.Join("testdata", name+".txt")
		if *update {
			require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err)
		assert.Equal(t, string(want), page)
	}
}

var update = flag.Bool("update", false, "write the pages of testdata anew")

// Each key reaches the library's field that keyOf says, and no other key's.
func TestKeysReachTheirFields(t *testing.T) {
	for name, key := range keyOf {
		section, field, found := strings.Cut(name, " ")
		if !found || !strings.Contains("stand driver", section) {
			section, field = "", name
		}
		m := defaultMachine(t)
		reached := 0
		top := reflect.ValueOf(&m).Elem()
		for i := range top.NumField() {
			at := top.Type().Field(i).Tag.Get("json")
			path := at + "." + key
			if section != "" {
				path = key
			}
			v := find(top, path)
			if !v.IsValid() {
				continue
			}
			for _, bad := range []float64{-1e18, 1e18, 0.5, 9, 0.05} {
				spoilt := m
				if v := find(reflect.ValueOf(&spoilt).Elem(), path); v.Kind() == reflect.Int {
					v.SetInt(int64(bad))
				} else {
					v.SetFloat(bad)
				}
				_, err := spoilt.build()
				joined, ok := err.(interface{ Unwrap() []error })
				if !ok {
					continue // this value is a good one here
				}
				for _, e := range joined.Unwrap() {
					var refused *fileError
					if errors.As(e, &refused) && refused.key == path && strings.Contains(e.Error(), field) {
						reached++
					}
				}
			}
		}
		assert.Positive(t, reached, "%s never refused as %s", key, name)
	}
}

// A key that changes nothing is a key too many.
func TestEveryNumberMatters(t *testing.T) {
	page := func(m Machine) string {
		p, err := m.build()
		if err != nil {
			return ""
		}
		a, err := m.solve(&p)
		require.NoError(t, err)
		return m.report(&p, &a)
	}
	for _, on := range []string{"axis", "stand"} {
		m := defaultMachine(t)
		m.Hopper.On = on
		before := page(m)
		top := reflect.ValueOf(&m).Elem()
		for i := range top.NumField() {
			section := top.Type().Field(i).Tag.Get("json")
			if top.Field(i).Kind() != reflect.Struct || (section == "stand") != (on == "stand") {
				continue
			}
			for j := range top.Field(i).NumField() {
				key := section + "." + top.Field(i).Type().Field(j).Tag.Get("json")
				changed := m
				v := find(reflect.ValueOf(&changed).Elem(), key)
				switch v.Kind() {
				case reflect.Float64:
					v.SetFloat(v.Float() * 1.2)
				case reflect.Int:
					v.SetInt(v.Int() + 1)
				case reflect.Bool:
					v.SetBool(!v.Bool())
				default:
					continue
				}
				if key != "hopper.above_floor_mm" { // of the stand only
					assert.NotEqual(t, before, page(changed), key)
				}
			}
		}
	}
}

// The wiring from keys to library, held against the library called by hand.
func TestLimitsFromTheLibraryByHand(t *testing.T) {
	m := defaultMachine(t)
	m.Hopper.On = "stand"
	_, a := solved(t, m)
	got := map[string]material.Utilisation{}
	for _, l := range a.limits {
		got[l.Part] = l.Utilisation
	}
	ok := func(err error) { t.Helper(); require.NoError(t, err) }
	check := func(part string, demand, capacity float64) {
		t.Helper()
		assert.InEpsilon(t, demand, got[part].Demand, 1e-9, part+", demand")
		assert.InEpsilon(t, capacity, got[part].Capacity, 1e-9, part+", capacity")
	}

	melt, err := screw.MeltOf(material.PP(), 488.15)
	ok(err)
	cone, err := screw.ConeOf(8e-3, 1.5e-3, math.Pi/3)
	ok(err)
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 80e-6, Starts: 1, Length: 120e-3}
	point, err := screw.OperatingPoint(channel, screw.Die{cone, screw.Capillary{Diameter: 1.5e-3, Length: 10e-3}}, melt, 1.2)
	ok(err)
	check("output", 1.5/3600, point.MassFlow)
	check("bead surface", point.DieShearStress, 1e5)
	check("melt heat, over the air", 185+point.TemperatureRise+point.DieTemperatureRise, 230)

	torque := point.Torque + 3
	stage := drive.PlanetaryStage{Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1.2}
	load, err := stage.Load(torque, 1.2)
	ok(err)
	winding := thermal.Winding{Resistance: 1.1, Phases: 2, ThermalResistance: 2.6, IronLoss: 3}
	warm, err := winding.Steady(2.8, 303.15)
	ok(err)
	motor, err := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50}.Warm(warm.Temperature)
	ok(err)
	pull, err := motor.PullOut(load.SunSpeed, 2.8, 36)
	ok(err)
	check("motor pull-out", load.SunTorque, pull.Torque)
	teeth, err := stage.Bending(load, 650e6/3)
	ok(err)
	for _, u := range teeth {
		check(u.Part, u.Demand, u.Capacity)
	}
	endurance, err := drive.EnduranceLimit(700e6, 12e-3, drive.Machined, 0.9)
	ok(err)
	shank := drive.Shaft{Diameter: 12e-3, BendingNotch: 2.1, TorsionNotch: 3, Yield: 490e6, Ultimate: 700e6, Endurance: endurance}
	fatigue, err := shank.Fatigue(drive.ShaftLoad{BendingAlternating: 1.5, TorqueMean: torque, TorqueAlternating: 0.3 * torque, AxialMean: point.Thrust})
	ok(err)
	for _, u := range fatigue.Utilisations(shank) {
		check(u.Part, u.Demand, u.Capacity)
	}
	bearing := drive.Bearing{Dynamic: 14e3, Static: 24e3, Exponent: drive.Ball}
	rating, err := bearing.Utilisations(point.Thrust, 1.2, 0.9, 600*3600)
	ok(err)
	for _, u := range rating {
		check(u.Part, u.Demand, u.Capacity)
	}

	bridge := thermal.Bridge{OnResistance: 65e-3, TemperatureCoefficient: 0.005, Supply: 36, RiseTime: 100e-9, FallTime: 80e-9,
		ChopFrequency: 40e3, Quiescent: 10e-3, DiodeDrop: 0.8, DeadTime: 200e-9}
	chip, err := bridge.LargestCurrent(398.15, 318.15, thermal.Path{JunctionToCase: 2, CaseToSink: 1.5, SinkToAir: 15})
	ok(err)
	check("driver junction", 2.8, chip)
	copper, err := winding.LargestCurrent(403.15, 303.15)
	ok(err)
	check("motor winding", 2.8, copper)

	tube, err := frame.RectangularTube(60e-3, 40e-3, 3e-3)
	ok(err)
	axis := frame.Axis{Beam: frame.Beam{Length: 0.9, Section: tube, Metal: material.Al6060()},
		Ends: frame.EndStiffness{Y: 1e6, Z: 5e6, Roll: 2e4}, Bodies: []frame.Body{{Mass: 4.5, Offset: [3]float64{0, 0, -0.08}}}}
	move := frame.Move{Distance: 0.3, Speed: 0.15, Acceleration: 1.5}
	ringing, err := axis.Ringing(move, 0.01, [3]float64{0, 0, -0.2})
	ok(err)
	check("bead ripple", ringing.Worst, 0.15e-3)
	leg, err := frame.RectangularTube(30e-3, 30e-3, 2e-3)
	ok(err)
	stand := frame.Stand{Height: 0.9, Width: 0.5, Depth: 0.4, Leg: leg, Metal: material.S235(), Mass: 1 + 1.92, MassHeight: 1.05}
	buckling, err := stand.Buckling((1 + 1.92) * 9.80665)
	ok(err)
	check(buckling.Part, buckling.Demand, buckling.Capacity)
	tipping, err := stand.Tipping(1)
	ok(err)
	check(tipping.Part, tipping.Demand, tipping.Capacity)

	// On the axis the hopper's fill counts.
	m.Hopper.On = "axis"
	_, a = solved(t, m)
	worst := 0.0
	for i := range 21 {
		axis.Bodies = []frame.Body{{Mass: 4.5, Offset: [3]float64{0, 0, -0.08}},
			{Mass: 1 + 1.92*float64(i)/20, Offset: [3]float64{0, 0.12, 0.15}}}
		r, err := axis.Ringing(move, 0.01, [3]float64{0, 0, -0.2})
		ok(err)
		worst = math.Max(worst, r.Worst)
	}
	assert.InEpsilon(t, worst, a.worst.ringing.Worst, 1e-9)
}

// The README shows part of the page; it must be the page of today.
func TestReadmeShowsThePage(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	_, shown, found := strings.Cut(string(readme), "```\nLimits, weakest first")
	require.True(t, found)
	shown, _, _ = strings.Cut("Limits, weakest first"+shown, "```")
	_, page, _ := runWith("-out", "-")
	for _, line := range strings.Split(shown, "\n") {
		if strings.TrimSpace(line) != "..." {
			assert.Contains(t, page, line)
		}
	}
}
