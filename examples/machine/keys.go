package main

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"meltflight/internal/input"
)

// fileError is an input the library refused, told by the key of the machine's file.
type fileError struct {
	key string
	err error
}

func (e *fileError) Error() string { return e.key + ": " + e.err.Error() }
func (e *fileError) Unwrap() error { return e.err }

// blame records each fault in err under the key of the section it belongs to, or
// under the section itself.
func blame(f *input.Faults, section string, err error) {
	if err == nil {
		return
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			blame(f, section, e)
		}
		return
	}
	key := section
	var field *input.Field
	if errors.As(err, &field) {
		if name, ok := keyOf[section+" "+field.Name]; ok {
			key = name
		} else if name, ok := keyOf[field.Name]; ok {
			key += "." + name
		}
	}
	f.Add(&fileError{key, err})
}

// tidy puts the value as written before what the library said of each key, and
// tells a key once.
func (m *Machine) tidy(err error) []string {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return []string{err.Error()}
	}
	var lines []string
	told := map[string]bool{}
	for _, e := range joined.Unwrap() {
		line := e.Error()
		var refused *fileError
		if errors.As(e, &refused) {
			if told[refused.key] {
				continue
			}
			told[refused.key] = true
			if v := find(reflect.ValueOf(m).Elem(), refused.key); v.IsValid() && v.Kind() != reflect.Struct {
				line = fmt.Sprintf("%s = %v: %s", refused.key, v, inKeyUnit(refused.key, refused.err))
			}
		}
		lines = append(lines, line)
	}
	return lines
}

// unitOf maps the endings of keys to their unit and how many of it are one of the
// library's.
var unitOf = []struct {
	ending, library, unit string
	scale                 float64
}{
	{"_mm", "m", "mm", 1e3}, {"_mh", "H", "mH", 1e3}, {"_ma", "A", "mA", 1e3}, {"_mohm", "Ω", "mΩ", 1e3}, {"_ns", "s", "ns", 1e9},
	{"_khz", "Hz", "kHz", 1e-3}, {"_kn", "N", "kN", 1e-3}, {"_n_per_mm", "N/m", "N/mm", 1e-3}, {"_deg", "rad", "°", 180 / math.Pi},
}

// inKeyUnit words what the library allows in the unit of the key.
func inKeyUnit(key string, err error) string {
	var field *input.Field
	if !errors.As(err, &field) {
		return err.Error()
	}
	allowed := field.Allowed
	for _, u := range unitOf {
		if !strings.HasSuffix(key, u.ending) || field.Unit != u.library {
			continue
		}
		number := `[0-9.]+(?:e[-+]?[0-9]+)?`
		quantity := regexp.MustCompile(`(` + number + `)( to ` + number + `)? ` + regexp.QuoteMeta(u.library) + `\b`)
		allowed = quantity.ReplaceAllStringFunc(allowed, func(s string) string {
			s = strings.TrimSuffix(s, " "+u.library)
			parts := strings.Split(s, " to ")
			for i := range parts {
				x, _ := strconv.ParseFloat(parts[i], 64)
				parts[i] = fmt.Sprintf("%.6g", x*u.scale)
			}
			return strings.Join(parts, " to ") + " " + u.unit
		})
	}
	return "allowed " + allowed + " (" + field.Name + ")"
}

// find returns the field that a key of the file, such as gear.module_mm, stands for.
func find(v reflect.Value, key string) reflect.Value {
	name, rest, deeper := strings.Cut(key, ".")
	if v.Kind() != reflect.Struct {
		return reflect.Value{}
	}
	for i := range v.NumField() {
		if v.Type().Field(i).Tag.Get("json") == name {
			if deeper {
				return find(v.Field(i), rest)
			}
			return v.Field(i)
		}
	}
	return reflect.Value{}
}

// explain lists every key with its value and what it means.
func (m *Machine) explain() string {
	var w strings.Builder
	row := func(key string, v reflect.Value, about string) { fmt.Fprintf(&w, "%-40s %-10v %s\n", key, v, about) }
	top := reflect.ValueOf(m).Elem()
	for i := range top.NumField() {
		section, tag := top.Field(i), top.Type().Field(i).Tag
		if tag.Get("json") == "-" {
			continue
		}
		if section.Kind() != reflect.Struct {
			row(tag.Get("json"), section, tag.Get("about"))
			continue
		}
		for j := range section.NumField() {
			inner := section.Type().Field(j).Tag
			row(tag.Get("json")+"."+inner.Get("json"), section.Field(j), inner.Get("about"))
		}
	}
	return w.String()
}

// keyOf maps the library's names of inputs to the keys of the file. A name that
// stands for different keys by section carries the section before it, and maps
// to the whole key.
var keyOf = map[string]string{
	"screw.Channel.Bore":      "bore_mm",
	"screw.Channel.Lead":      "lead_mm",
	"screw.Channel.Depth":     "depth_mm",
	"screw.Channel.Land":      "land_mm",
	"screw.Channel.Clearance": "clearance_mm",
	"screw.Channel.Starts":    "starts",
	"screw.Channel.Length":    "metering_length_mm",

	"material.Bulk.BulkDensity":  "bulk_density_kg_per_m3",
	"material.Bulk.ParticleSize": "flake_mm",

	"screw.Outlet.Width": "outlet_mm",

	"screw.Auger.Diameter":           "auger_mm",
	"screw.Auger.Shaft":              "shaft_mm",
	"screw.Auger.Pitch":              "pitch_mm",
	"screw.Auger.Thickness":          "flight_mm",
	"screw.Auger.Clearance":          "gap_mm",
	"screw.Auger.Length":             "length_mm",
	"screw.LevelControl.Area":        "drop_tube_mm",
	"screw.LevelControl.Below":       "below_mm",
	"screw.LevelControl.Band":        "band_mm",
	"screw.LevelControl.Above":       "above_mm",
	"screw.LevelControl.SensorDelay": "sensor_delay_s",
	"screw.LevelControl.StartDelay":  "start_delay_s",
	"screw.LevelControl.AfterRun":    "after_run_s",

	"screw.Solids.BarrelFriction": "barrel_friction",
	"screw.Solids.ScrewFriction":  "root_friction",
	"screw.Barrel.Outer":          "outer_mm",
	"screw.Barrel.Yield":          "yield_mpa",

	"screw.ConeOf: angle":      "entry_angle_deg",
	"screw.Cone.Inlet":         "entry_mm",
	"screw.Cone.Outlet":        "diameter_mm",
	"screw.Capillary.Diameter": "diameter_mm",
	"screw.Capillary.Length":   "land_mm",

	"drive.Stepper.HoldingTorque":       "holding_torque_nm",
	"drive.Stepper.Current":             "rated_current_a_rms",
	"drive.Stepper.Resistance":          "resistance_ohm",
	"drive.Stepper.Inductance":          "inductance_mh",
	"drive.Stepper.RotorTeeth":          "rotor_teeth",
	"thermal.Winding.Resistance":        "resistance_ohm",
	"thermal.Winding.ThermalResistance": "winding_to_air_k_per_w",
	"thermal.Winding.IronLoss":          "iron_loss_w",

	"drive.PlanetaryStage.Sun":            "sun_teeth",
	"drive.PlanetaryStage.Planet":         "planet_teeth",
	"drive.PlanetaryStage.Ring":           "ring_teeth",
	"drive.PlanetaryStage.Planets":        "planets",
	"drive.PlanetaryStage.Module":         "module_mm",
	"drive.PlanetaryStage.Face":           "face_mm",
	"drive.PlanetaryStage.MeshEfficiency": "mesh_efficiency",
	"drive.PlanetaryStage.LoadShare":      "load_share",

	"drive.KeyJoint.Length":          "length_mm",
	"drive.StandardKey: diameter":    "diameter_mm",
	"drive.Shaft.Diameter":           "diameter_mm",
	"drive.EnduranceLimit: diameter": "diameter_mm",
	"drive.Shaft.BendingNotch":       "bending_notch",
	"drive.Shaft.TorsionNotch":       "torsion_notch",

	"drive.Bearing.Dynamic": "dynamic_rating_kn",
	"drive.Bearing.Static":  "static_rating_kn",

	"driver thermal.Bridge.Supply":          "motor.supply_v",
	"thermal.Bridge.OnResistance":           "switch_resistance_mohm",
	"thermal.Bridge.TemperatureCoefficient": "switch_coefficient_per_k",
	"thermal.Bridge.RiseTime":               "rise_ns",
	"thermal.Bridge.FallTime":               "fall_ns",
	"thermal.Bridge.ChopFrequency":          "chop_khz",
	"thermal.Bridge.Quiescent":              "quiescent_ma",
	"thermal.Bridge.DiodeDrop":              "diode_v",
	"thermal.Bridge.DeadTime":               "dead_time_ns",
	"thermal.Path.JunctionToCase":           "junction_to_case_k_per_w",
	"thermal.Path.CaseToSink":               "case_to_sink_k_per_w",
	"thermal.Path.SinkToAir":                "sink_to_air_k_per_w",

	"frame.RectangularTube: height": "height_mm",
	"frame.RectangularTube: width":  "width_mm",
	"frame.RectangularTube: wall":   "wall_mm",
	"frame.Beam.Length":             "span_mm",
	"frame.EndStiffness.Y":          "end_stiffness_y_n_per_mm",
	"frame.EndStiffness.Z":          "end_stiffness_z_n_per_mm",
	"frame.EndStiffness.Roll":       "end_stiffness_roll_nm_per_rad",
	"frame.Move.Distance":           "move_mm",
	"frame.Move.Speed":              "move_speed_m_per_s",
	"frame.Move.Acceleration":       "acceleration_m_per_s2",

	"frame.Stand.Height": "height_mm",
	"frame.Stand.Width":  "width_mm",
	"frame.Stand.Depth":  "depth_mm",

	"stand frame.Stand.MassHeight":        "hopper.above_floor_mm",
	"stand frame.RectangularTube: height": "stand.leg_mm",
	"stand frame.RectangularTube: width":  "stand.leg_mm",
	"stand frame.RectangularTube: wall":   "stand.leg_wall_mm",
}
