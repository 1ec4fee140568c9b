package main

import (
	_ "embed"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"meltflight/internal/strictjson"
	"meltflight/material"
)

// Machine is everything a user says of a machine, in the units of drawings and
// data sheets: each key of the file carries its own.
type Machine struct {
	Name      string    `json:"name" about:"what report and pictures call it"`
	Feedstock Feedstock `json:"feedstock"`
	Feeder    Feeder    `json:"feeder"`
	Throat    Throat    `json:"throat"`
	Screw     Screw     `json:"screw"`
	Barrel    Barrel    `json:"barrel"`
	Nozzle    Nozzle    `json:"nozzle"`
	Wear      Wear      `json:"wear"`
	Motor     Motor     `json:"motor"`
	Driver    Driver    `json:"driver"`
	Gear      Gear      `json:"gear"`
	Shank     Shank     `json:"shank"`
	Key       Key       `json:"key"`
	Coupling  Coupling  `json:"coupling"`
	Bearing   Bearing   `json:"thrust_bearing"`
	Gantry    Gantry    `json:"gantry"`
	Hopper    Hopper    `json:"hopper"`
	Stand     Stand     `json:"stand"`

	feed   *material.Polymer `json:"-"` // read from the file that feedstock.polymer names, if it names one
	before *answer           `json:"-"` // to a machine like this one, so that what did not change is not solved anew
}

// Feedstock is what goes in and what is wanted of it.
type Feedstock struct {
	Polymer     string  `json:"polymer" about:"PP, HDPE, LDPE, PS, HIPS, ABS or PA6; or a file of your own, my-flake.json, as material.Polymer.Write writes it"`
	Temperature float64 `json:"melt_temperature_c" about:"of the melt in metering zone and nozzle"`
	BulkDensity float64 `json:"bulk_density_kg_per_m3" about:"of the flake or pellets as they lie in the hopper"`
	Flake       float64 `json:"flake_mm" about:"longest edge of a typical flake"`
	Friction    float64 `json:"flake_friction_deg" about:"angle of friction of the flake on smooth steel, 15 to 25 usually: tilt a plate until it slides"`
	Wanted      float64 `json:"wanted_output_kg_per_h" about:"bead you need; the output row is held against it"`
	Season      float64 `json:"season_h" about:"running hours the parts must live"`
}

// Feeder is the auger that keeps the drop tube over the screw filled.
type Feeder struct {
	Diameter    float64 `json:"auger_mm" about:"over its flight"`
	Shaft       float64 `json:"shaft_mm" about:"inside the flight"`
	Pitch       float64 `json:"pitch_mm" about:"advance of its flight in a turn"`
	Flight      float64 `json:"flight_mm" about:"thickness of the flight"`
	Gap         float64 `json:"gap_mm" about:"flight to tube, on the radius"`
	Length      float64 `json:"length_mm" about:"that it carries the flake"`
	Speed       float64 `json:"auger_rpm" about:"while it runs"`
	Share       float64 `json:"share" about:"of what friction lets a flooded auger bring: 0.5 to 1; weigh a minute's flake"`
	Tube        float64 `json:"drop_tube_mm" about:"inner diameter of the tube that it fills"`
	Below       float64 `json:"below_mm" about:"screw up to the lower level switch"`
	Band        float64 `json:"band_mm" about:"lower to upper level switch"`
	Above       float64 `json:"above_mm" about:"upper level switch to the auger's mouth"`
	SensorDelay float64 `json:"sensor_delay_s" about:"level to signal"`
	StartDelay  float64 `json:"start_delay_s" about:"signal to flake arriving"`
	AfterRun    float64 `json:"after_run_s" about:"stop to the last flake arriving"`
}

// Throat is where the flake enters the screw.
type Throat struct {
	Efficiency     float64 `json:"efficiency" about:"share of the feed channel that the flake fills: 0.2 to 0.45 in smooth throats; weigh an open screw's output"`
	Temperature    float64 `json:"throat_c" about:"of throat and screw root there, as the screw is computed with; the row of the collar tells if it stays as cold"`
	Margin         float64 `json:"margin_k" about:"that the throat stays below where the flake begins to stick: 20 to 30 by common practice"`
	Cooled         float64 `json:"cooled_length_mm" about:"of the feed zone from its start on; there nothing melts"`
	BarrelFriction float64 `json:"barrel_friction" about:"coefficient of friction of the flake on the bore: 0.25 to 0.5"`
	RootFriction   float64 `json:"root_friction" about:"on the screw, polished: less than on the bore, or the flake turns with it"`
	Sleeve         float64 `json:"sleeve_mm" about:"length of the tube between the first heater and the throat"`
	SleeveOuter    float64 `json:"sleeve_outer_mm" about:"its outer diameter; its bore is the barrel's"`
	SleeveConducts float64 `json:"sleeve_w_per_m_k" about:"conductivity of its steel: stainless 16, plain 45"`
	Collar         float64 `json:"collar_w_per_k" about:"heat that the throat's collar gives to its coolant for each kelvin"`
	Coolant        float64 `json:"collar_c" about:"temperature of that coolant, water or air"`
	Packed         float64 `json:"packed_density_kg_per_m3" about:"of the flake as the screw packs it before it melts: 0.6 to 0.9 of the solid plastic"`
}

// Screw is the whole screw, from throat to tip.
type Screw struct {
	Bore        float64 `json:"bore_mm" about:"inner diameter of the barrel"`
	Lead        float64 `json:"lead_mm" about:"axial advance of a flight in one turn; the bore for a square pitch"`
	FeedDepth   float64 `json:"feed_depth_mm" about:"barrel wall to screw root in the feed zone"`
	FeedLength  float64 `json:"feed_length_mm" about:"axial length of the feed zone"`
	TaperLength float64 `json:"taper_length_mm" about:"axial length over which the channel gets shallower"`
	Depth       float64 `json:"depth_mm" about:"barrel wall to screw root in the metering zone"`
	Land        float64 `json:"land_mm" about:"width of the flight's land, square to the flight"`
	Clearance   float64 `json:"clearance_mm" about:"between land and barrel, on the radius; grows with wear"`
	Starts      int     `json:"starts" about:"number of parallel flights"`
	Length      float64 `json:"metering_length_mm" about:"axial length of the metering zone"`
	Speed       float64 `json:"speed_rpm" about:"of the screw"`
	OtherTorque float64 `json:"other_torque_nm" about:"of packed flake and seals, which is not computed: measured, or allowed for"`
	Yield       float64 `json:"root_yield_mpa" about:"of the screw's steel as hot as it runs: a tenth to a third below that at room temperature"`
}

// Barrel is heated from the end of the cooled throat on.
type Barrel struct {
	Wall     float64 `json:"wall_c" about:"bore of feed zone and taper, beyond the cooled length; that of the metering zone is the melt temperature"`
	MoltenBy float64 `json:"molten_by" about:"share of the screw's length by which nothing solid should be left: 0.7 to 0.8 by common practice"`
	Outer    float64 `json:"outer_mm" about:"outer diameter"`
	Yield    float64 `json:"yield_mpa" about:"of its steel as hot as it runs"`
}

// Nozzle is an entry cone and a straight land.
type Nozzle struct {
	Entry    float64 `json:"entry_mm" about:"diameter where the cone begins; the nozzle's own for none"`
	Angle    float64 `json:"entry_angle_deg" about:"full angle of the cone"`
	Diameter float64 `json:"diameter_mm" about:"of the straight hole"`
	Land     float64 `json:"land_mm" about:"length of the straight hole"`
	Fracture float64 `json:"fracture_stress_mpa" about:"wall shear stress at which the bead roughens: 0.1 to 0.14 for polyolefins by common practice; raise it if your bead stays smooth"`
}

// Wear is a screw that scrapes its barrel.
type Wear struct {
	Offset      float64 `json:"offset_mm" about:"of the screw from the barrel's axis at its bearing, as a crooked coupling holds it"`
	Angle       float64 `json:"angle_deg" about:"of the screw to the barrel at its bearing, as a crooked coupling holds it, to the same side"`
	Coefficient float64 `json:"wear_coefficient" about:"K of worn volume = K × force × distance ÷ hardness: 1e-6 where melt keeps them apart, to 1e-4 metal on metal; good to a power of ten"`
	Land        float64 `json:"land_hardness_hv" about:"Vickers hardness of the flight's land"`
	Barrel      float64 `json:"barrel_hardness_hv" about:"Vickers hardness of the bore"`
	Lost        float64 `json:"lost_share" about:"of the pump's output at which screw and barrel count as worn out"`
	Price       float64 `json:"screw_and_barrel_price" about:"of new ones, in your money"`
}

// Motor is the stepper and its winding.
type Motor struct {
	HoldingTorque     float64 `json:"holding_torque_nm" about:"from the data sheet, both phases on, at the rated current"`
	RatedCurrent      float64 `json:"rated_current_a_rms" about:"from the data sheet, rms in each phase; a peak value divided by 1.414"`
	Resistance        float64 `json:"resistance_ohm" about:"of one phase at 20 °C"`
	Inductance        float64 `json:"inductance_mh" about:"of one phase"`
	RotorTeeth        int     `json:"rotor_teeth" about:"50 for a step of 1.8°, 100 for 0.9°"`
	Supply            float64 `json:"supply_v" about:"of motor and driver"`
	SetCurrent        float64 `json:"set_current_a_rms" about:"what the driver is set to, rms in each phase; a peak setting divided by 1.414"`
	IronLoss          float64 `json:"iron_loss_w" about:"loss in the iron at this speed; a few watts"`
	ThermalResistance float64 `json:"winding_to_air_k_per_w" about:"winding above shed air for each watt, mounted as it will be; measure it by the resistance of the warm winding"`
	Limit             float64 `json:"winding_limit_c" about:"of the copper on average, as its resistance tells: 120 for insulation class B, 145 for F; its hottest spot is some 10 K above"`
	Ambient           float64 `json:"shed_c" about:"air around motor and machine"`
}

// Driver is the two-phase chopper chip and its cooling.
type Driver struct {
	OnResistance   float64 `json:"switch_resistance_mohm" about:"one switch of the chip at 25 °C, mean of high and low side"`
	Coefficient    float64 `json:"switch_coefficient_per_k" about:"rise of that resistance for each kelvin, 0.004 to 0.008 for silicon"`
	Rise           float64 `json:"rise_ns" about:"of the chip's output voltage"`
	Fall           float64 `json:"fall_ns" about:"of the chip's output voltage"`
	Chop           float64 `json:"chop_khz" about:"chopping frequency"`
	Quiescent      float64 `json:"quiescent_ma" about:"supply current of the chip itself"`
	Diode          float64 `json:"diode_v" about:"drop of a body diode"`
	DeadTime       float64 `json:"dead_time_ns" about:"between one switch off and the other on"`
	JunctionToCase float64 `json:"junction_to_case_k_per_w" about:"from the chip's data sheet"`
	CaseToSink     float64 `json:"case_to_sink_k_per_w" about:"glue, pad or grease"`
	SinkToAir      float64 `json:"sink_to_air_k_per_w" about:"of sink and board together"`
	Limit          float64 `json:"junction_limit_c" about:"highest junction you allow, some 25 K below its shutdown"`
	Ambient        float64 `json:"box_c" about:"air in the control box"`
}

// Gear is the planetary stage between motor and screw.
type Gear struct {
	Sun        int     `json:"sun_teeth" about:"on the motor shaft; 12 or more"`
	Planet     int     `json:"planet_teeth" about:"12 or more"`
	Ring       int     `json:"ring_teeth" about:"held; sun + 2 planets"`
	Planets    int     `json:"planets" about:"how many; sun + ring must divide by it"`
	Module     float64 `json:"module_mm" about:"pitch diameter ÷ teeth"`
	Face       float64 `json:"face_mm" about:"width of the teeth"`
	Efficiency float64 `json:"mesh_efficiency" about:"from sun to ring with the carrier locked, 0.95 to 0.99"`
	Backlash   float64 `json:"backlash_deg" about:"at the screw, with the motor held"`
	LoadShare  float64 `json:"load_share" about:"heaviest planet's load ÷ even share: 1 for floating suns, 1.2 to 1.5 otherwise"`
	Steel      string  `json:"steel" about:"of all its teeth: alloy QT MQ, carbon QT MQ, case-hardened MQ, nitrided nitriding steel MQ, or these in quality ML (ISO 6336-5)"`
	Hardness   float64 `json:"hardness_hv" about:"Vickers hardness of the teeth"`
	Shock      float64 `json:"application_factor" about:"peak torque of a running screw ÷ its mean, K_A: 1.25 for steady melt, 1.75 for flake that jams"`
}

// Shank is the shaft end that carries the screw.
type Shank struct {
	Diameter     float64 `json:"diameter_mm" about:"at the weakest section"`
	BendingNotch float64 `json:"bending_notch" about:"fatigue notch factor in bending: 1 smooth, about 2 at a keyway"`
	TorsionNotch float64 `json:"torsion_notch" about:"fatigue notch factor in torsion: 1 smooth, about 3 at a keyway"`
	Bending      float64 `json:"bending_nm" about:"from the screw's weight or a belt; what the crooked screw of section wear adds is computed"`
	TorqueRipple float64 `json:"torque_ripple" about:"amplitude of the torque's swing ÷ its mean"`
	Metal        string  `json:"metal" about:"of the shank"`
}

// Key joins shank and carrier: its section is that of DIN 6885 for the shank.
type Key struct {
	Length   float64 `json:"length_mm" about:"of a key with round ends"`
	Yield    float64 `json:"yield_mpa" about:"of the key's steel"`
	HubYield float64 `json:"hub_yield_mpa" about:"of the hub around it"`
}

// Coupling lies between shank and screw.
type Coupling struct {
	Rated   float64 `json:"rated_nm" about:"torque from the catalogue"`
	Service float64 `json:"service_factor" about:"for shock and heat, from the same catalogue: 1.5 to 2"`
}

// Bearing takes the screw's thrust.
type Bearing struct {
	Dynamic float64 `json:"dynamic_rating_kn" about:"C of the catalogue"`
	Static  float64 `json:"static_rating_kn" about:"C0 of the catalogue"`
	Rollers bool    `json:"rollers" about:"true for rollers, false for balls"`
}

// Gantry is the beam on its end carriages with the screw head at mid-span.
type Gantry struct {
	Span         float64 `json:"span_mm" about:"between the carriages"`
	Height       float64 `json:"height_mm" about:"of the beam, a square-cornered tube"`
	Width        float64 `json:"width_mm" about:"of the beam, along the travel"`
	Wall         float64 `json:"wall_mm" about:"of the tube"`
	Metal        string  `json:"metal" about:"of the beam"`
	EndY         float64 `json:"end_stiffness_y_n_per_mm" about:"one end along the travel: belt and carriage"`
	EndZ         float64 `json:"end_stiffness_z_n_per_mm" about:"one end up and down: rail and carriage"`
	EndRoll      float64 `json:"end_stiffness_roll_nm_per_rad" about:"one end about the beam's axis"`
	Head         float64 `json:"head_kg" about:"screw, barrel, drive: what hangs at mid-span"`
	HeadDrop     float64 `json:"head_below_mm" about:"its centre of mass below the beam's axis"`
	NozzleDrop   float64 `json:"nozzle_below_mm" about:"nozzle tip below the beam's axis"`
	Distance     float64 `json:"move_mm" about:"length of a usual move"`
	Speed        float64 `json:"move_speed_m_per_s" about:"of that move"`
	Acceleration float64 `json:"acceleration_m_per_s2" about:"of that move"`
	Damping      float64 `json:"damping_ratio" about:"0.003 welded to 0.008 bolted, as ratio, not as logarithmic decrement; slides and belts add to it"`
	Ripple       float64 `json:"allowed_ripple_mm" about:"ringing you accept in the bead"`
}

// Hopper hangs on the gantry or stands on its own feet.
type Hopper struct {
	On     string  `json:"carried_by" about:"axis or stand"`
	Empty  float64 `json:"empty_kg" about:"hopper, stirrer, auger without flake"`
	Volume float64 `json:"volume_l" about:"of flake when full"`
	Aside  float64 `json:"beside_axis_mm" about:"centre of mass beside the beam, along the travel"`
	Above  float64 `json:"above_axis_mm" about:"centre of mass above the beam's axis"`
	Outlet float64 `json:"outlet_mm" about:"diameter of the hole over the auger"`
	Height float64 `json:"above_floor_mm" about:"centre of mass above the floor, when on the stand"`
}

// Stand is the hopper's own stand, used when the hopper is carried by it.
type Stand struct {
	Height float64 `json:"height_mm" about:"floor to the ring that carries the hopper"`
	Width  float64 `json:"width_mm" about:"between legs"`
	Depth  float64 `json:"depth_mm" about:"between legs, the other way"`
	Leg    float64 `json:"leg_mm" about:"outer side of the square tube"`
	Wall   float64 `json:"leg_wall_mm" about:"of that tube"`
	Metal  string  `json:"metal" about:"of the stand"`
	Bolted bool    `json:"feet_bolted" about:"true if bolted to the floor"`
	Push   float64 `json:"push_m_per_s2" about:"steady sideways acceleration an unbolted stand must bear without tipping; a tenth of g is 1"`
}

//go:embed default.json
var defaultFile []byte

// read turns a file's text into a machine; source names it in messages, and a
// polymer's file lies beside it.
func read(source string, text []byte) (Machine, error) {
	var m Machine
	if err := strictjson.Decode(text, &m); err != nil {
		return Machine{}, within(source, err)
	}
	if !strings.HasSuffix(m.Feedstock.Polymer, ".json") {
		return m, nil
	}
	path := m.Feedstock.Polymer
	if !filepath.IsAbs(path) {
		path = filepath.Join(filepath.Dir(source), path)
	}
	file, err := os.Open(path)
	if err != nil {
		return Machine{}, fmt.Errorf("%s: feedstock.polymer: %w", source, err)
	}
	defer file.Close()
	polymer, err := material.ReadPolymer(file)
	if err != nil {
		return Machine{}, within(path, err)
	}
	m.feed = &polymer
	return m, nil
}

// within puts the name of a file before each line of what is wrong in it.
func within(file string, err error) error {
	return fmt.Errorf("%s: %s", file, strings.ReplaceAll(err.Error(), "\n", "\n"+file+": "))
}
