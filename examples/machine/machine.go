package main

import (
	_ "embed"
	"fmt"
	"strings"

	"meltflight/internal/strictjson"
)

// Machine is everything a user says of a machine, in the units of drawings and
// data sheets: each key of the file carries its own.
type Machine struct {
	Name      string    `json:"name"`
	Feedstock Feedstock `json:"feedstock"`
	Screw     Screw     `json:"screw"`
	Nozzle    Nozzle    `json:"nozzle"`
	Motor     Motor     `json:"motor"`
	Driver    Driver    `json:"driver"`
	Gear      Gear      `json:"gear"`
	Shank     Shank     `json:"shank"`
	Bearing   Bearing   `json:"thrust_bearing"`
	Gantry    Gantry    `json:"gantry"`
	Hopper    Hopper    `json:"hopper"`
	Stand     Stand     `json:"stand"`
}

// Feedstock is what goes in and what is wanted of it.
type Feedstock struct {
	Polymer     string  `json:"polymer"`
	Temperature float64 `json:"melt_temperature_c"`
	BulkDensity float64 `json:"bulk_density_kg_per_m3"`
	Wanted      float64 `json:"wanted_output_kg_per_h"`
	Season      float64 `json:"season_h"`
}

// Screw is the metering zone.
type Screw struct {
	Bore        float64 `json:"bore_mm"`
	Lead        float64 `json:"lead_mm"`
	Depth       float64 `json:"depth_mm"`
	Land        float64 `json:"land_mm"`
	Clearance   float64 `json:"clearance_mm"`
	Starts      int     `json:"starts"`
	Length      float64 `json:"metering_length_mm"`
	Speed       float64 `json:"speed_rpm"`
	OtherTorque float64 `json:"other_torque_nm"` // of feed, melting zone and seals
}

// Nozzle is an entry cone and a straight land.
type Nozzle struct {
	Entry    float64 `json:"entry_mm"`
	Angle    float64 `json:"entry_angle_deg"`
	Diameter float64 `json:"diameter_mm"`
	Land     float64 `json:"land_mm"`
}

// Motor is the stepper and its winding.
type Motor struct {
	HoldingTorque     float64 `json:"holding_torque_nm"`
	RatedCurrent      float64 `json:"rated_current_a_rms"`
	Resistance        float64 `json:"resistance_ohm"`
	Inductance        float64 `json:"inductance_mh"`
	RotorTeeth        int     `json:"rotor_teeth"`
	Supply            float64 `json:"supply_v"`
	SetCurrent        float64 `json:"set_current_a_rms"`
	IronLoss          float64 `json:"iron_loss_w"`
	ThermalResistance float64 `json:"winding_to_air_k_per_w"`
	Limit             float64 `json:"winding_limit_c"`
	Ambient           float64 `json:"shed_c"`
}

// Driver is the two-phase chopper chip and its cooling.
type Driver struct {
	OnResistance   float64 `json:"switch_resistance_mohm"`
	Coefficient    float64 `json:"switch_coefficient_per_k"`
	Rise           float64 `json:"rise_ns"`
	Fall           float64 `json:"fall_ns"`
	Chop           float64 `json:"chop_khz"`
	Quiescent      float64 `json:"quiescent_ma"`
	Diode          float64 `json:"diode_v"`
	DeadTime       float64 `json:"dead_time_ns"`
	JunctionToCase float64 `json:"junction_to_case_k_per_w"`
	CaseToSink     float64 `json:"case_to_sink_k_per_w"`
	SinkToAir      float64 `json:"sink_to_air_k_per_w"`
	Limit          float64 `json:"junction_limit_c"`
	Ambient        float64 `json:"box_c"`
}

// Gear is the planetary stage between motor and screw.
type Gear struct {
	Sun        int     `json:"sun_teeth"`
	Planet     int     `json:"planet_teeth"`
	Ring       int     `json:"ring_teeth"`
	Planets    int     `json:"planets"`
	Module     float64 `json:"module_mm"`
	Face       float64 `json:"face_mm"`
	Efficiency float64 `json:"mesh_efficiency"`
	LoadShare  float64 `json:"load_share"`
	Metal      string  `json:"metal"`
}

// Shank is the shaft end that carries the screw.
type Shank struct {
	Diameter     float64 `json:"diameter_mm"`
	BendingNotch float64 `json:"bending_notch"`
	TorsionNotch float64 `json:"torsion_notch"`
	Bending      float64 `json:"bending_nm"`
	TorqueRipple float64 `json:"torque_ripple"` // amplitude ÷ mean
	Metal        string  `json:"metal"`
}

// Bearing takes the screw's thrust.
type Bearing struct {
	Dynamic float64 `json:"dynamic_rating_kn"`
	Static  float64 `json:"static_rating_kn"`
	Rollers bool    `json:"rollers"`
}

// Gantry is the beam on its end carriages with the screw head at mid-span.
type Gantry struct {
	Span         float64 `json:"span_mm"`
	Height       float64 `json:"height_mm"`
	Width        float64 `json:"width_mm"`
	Wall         float64 `json:"wall_mm"`
	Metal        string  `json:"metal"`
	EndY         float64 `json:"end_stiffness_y_n_per_mm"`
	EndZ         float64 `json:"end_stiffness_z_n_per_mm"`
	EndRoll      float64 `json:"end_stiffness_roll_nm_per_rad"`
	Head         float64 `json:"head_kg"`
	HeadDrop     float64 `json:"head_below_mm"`
	Distance     float64 `json:"move_mm"`
	Speed        float64 `json:"move_speed_m_per_s"`
	Acceleration float64 `json:"acceleration_m_per_s2"`
	Damping      float64 `json:"damping_ratio"`
	Ripple       float64 `json:"allowed_ripple_mm"`
}

// Hopper hangs on the gantry or stands on its own feet.
type Hopper struct {
	On     string  `json:"carried_by"` // axis or stand
	Empty  float64 `json:"empty_kg"`
	Full   float64 `json:"full_kg"`
	Aside  float64 `json:"beside_axis_mm"`
	Above  float64 `json:"above_axis_mm"`
	Height float64 `json:"above_floor_mm"` // on the stand
}

// Stand is the hopper's own stand, used when the hopper is carried by it.
type Stand struct {
	Height float64 `json:"height_mm"`
	Width  float64 `json:"width_mm"`
	Depth  float64 `json:"depth_mm"`
	Leg    float64 `json:"leg_mm"`
	Wall   float64 `json:"leg_wall_mm"`
	Metal  string  `json:"metal"`
	Bolted bool    `json:"feet_bolted"`
	Push   float64 `json:"push_m_per_s2"` // steady sideways acceleration it must stand
}

//go:embed default.json
var defaultFile []byte

// read turns a file's text into a machine; source names it in messages.
func read(source string, text []byte) (Machine, error) {
	var m Machine
	if err := strictjson.Decode(text, &m); err != nil {
		return Machine{}, fmt.Errorf("%s: %s", source, strings.ReplaceAll(err.Error(), "\n", "\n"+source+": "))
	}
	return m, nil
}
