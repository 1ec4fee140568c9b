package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/material"
)

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

// TestOwnPolymer runs the embedded machine on a polymer's file that lies beside it.
func TestOwnPolymer(t *testing.T) {
	folder := t.TempDir()
	regrind := material.PP()
	var file bytes.Buffer
	require.NoError(t, regrind.Write(&file))
	own := filepath.Join(folder, "regrind.json")
	require.NoError(t, os.WriteFile(own, file.Bytes(), 0o600))
	text := strings.Replace(string(defaultFile), `"PP"`, `"regrind.json"`, 1)
	mine := filepath.Join(folder, "mine.json")
	require.NoError(t, os.WriteFile(mine, []byte(text), 0o600))

	code, out, faults := runWith("-machine", mine, "-out", "-")
	require.Zero(t, code, faults)
	_, known, _ := runWith("-out", "-")
	from := func(page string) string { return page[strings.Index(page, "\nOperating point"):] }
	assert.Equal(t, from(known), from(out), "the same plastic, the same answer")
	assert.Contains(t, out, "by regrind.json.")

	elsewhere := strings.Replace(string(defaultFile), `"PP"`, strconv.Quote(own), 1)
	other := filepath.Join(t.TempDir(), "other.json")
	require.NoError(t, os.WriteFile(other, []byte(elsewhere), 0o600))
	code, out, faults = runWith("-machine", other, "-out", "-")
	require.Zero(t, code, faults)
	assert.Equal(t, from(known), from(out), "by its whole path")

	thin := regrind.Viscosity.(material.PowerLaw)
	thin.Consistency /= 2
	regrind.Viscosity = thin
	file.Reset()
	require.NoError(t, regrind.Write(&file))
	require.NoError(t, os.WriteFile(own, file.Bytes(), 0o600))
	_, out, _ = runWith("-machine", mine, "-out", "-")
	assert.NotEqual(t, from(known), from(out), "half the viscosity, another answer")

	require.NoError(t, os.WriteFile(own, []byte(strings.Replace(file.String(), `"name"`, `"label"`, 1)), 0o600))
	code, _, faults = runWith("-machine", mine, "-out", "-")
	assert.Equal(t, 1, code)
	assert.Contains(t, faults, own+": polymer.label")
	require.NoError(t, os.Remove(own))
	code, _, faults = runWith("-machine", mine, "-out", "-")
	assert.Equal(t, 1, code)
	assert.Contains(t, faults, "feedstock.polymer")
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
		"screw.depth_mm = 12: allowed 0.01 mm to below half the bore, 10 mm (screw.Channel.Depth)":           set("screw", "depth_mm", 12),
		"screw.bore_mm = -20: allowed 1 to 1000 mm (screw.Channel.Bore)":                                     set("screw", "bore_mm", -20),
		"screw.bore_mm is the text \"20\": a number is needed":                                               set("screw", "bore_mm", "20"),
		"screw.bor_mm is not a known key: allowed bore_mm, lead_mm":                                          set("screw", "bor_mm", 20),
		"gear.ring_teeth = 70: allowed 72":                                                                   set("gear", "ring_teeth", 70),
		"gear.planets = 4: allowed a divisor":                                                                set("gear", "planets", 4),
		"gear.sun_teeth = 18.5: a whole number is needed":                                                    set("gear", "sun_teeth", 18.5),
		`gear.steel = cheese: material.GearSteelNamed: name = "cheese": allowed carbon QT ML`:                set("gear", "steel", "cheese"),
		"throat.sleeve_outer_mm = 19 mm: allowed 0.1 mm above the bore, 20 mm, to 2000 mm":                   set("throat", "sleeve_outer_mm", 19),
		"gear.hardness_hv = 300: allowed 660 to 800 HV":                                                      set("gear", "hardness_hv", 300),
		`feedstock.polymer = soap: material.PolymerNamed: name = "soap": allowed PP, HDPE, ABS`:              set("feedstock", "polymer", "soap"),
		"feedstock.melt_temperature_c = 150 °C: allowed above 165 °C, below which PP is solid":               set("feedstock", "melt_temperature_c", 150),
		`hopper.carried_by = "hand": allowed axis or stand`:                                                  set("hopper", "carried_by", "hand"),
		"nozzle.entry_angle_deg = 180: allowed 0.0572958 to 177.617 ° (screw.ConeOf: angle)":                 set("nozzle", "entry_angle_deg", 180),
		"nozzle.entry_mm = 100 mm: allowed at most the bore, 20 mm":                                          set("nozzle", "entry_mm", 100),
		"thrust_bearing.static_rating_kn = -3: allowed 0.001 to 1e+06 kN (drive.Bearing.Static)":             set("thrust_bearing", "static_rating_kn", -3),
		"motor.inductance_mh = 0: allowed 0.0001 to 10000 mH (drive.Stepper.Inductance)":                     set("motor", "inductance_mh", 0),
		"hopper.volume_l = 0 l: allowed 0.01 to 10000 l":                                                     set("hopper", "volume_l", 0),
		"nozzle.diameter_mm = 9: allowed below the inlet, 8 mm (screw.Cone.Outlet)":                          set("nozzle", "diameter_mm", 9),
		"gantry.wall_mm = 25: allowed 0.001 to 10 mm (frame.RectangularTube: wall)":                          set("gantry", "wall_mm", 25),
		"shank.diameter_mm = 200: allowed above 0, up to 100 mm (material.Metal.StrengthAt (C45E): section)": set("shank", "diameter_mm", 200),
		"motor.set_current_a_rms = 0 A: allowed 0.001 to 1000 A":                                             set("motor", "set_current_a_rms", 0),
		"motor.winding_limit_c = 20 °C: allowed above shed_c (30 °C), up to 200 °C":                          set("motor", "winding_limit_c", 20),
		"motor.supply_v = -5: allowed 1 to 1000 V (thermal.Bridge.Supply)":                                   set("motor", "supply_v", -5),
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
	for _, key := range []string{"screw.land_mm", "motor.resistance_ohm", "stand.leg_wall_mm = 40: allowed 0.001 to 7.5 mm (frame.RectangularTube: wall)"} {
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
		case "throat.sleeve_outer_mm": // held against a bore, which is none here
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
