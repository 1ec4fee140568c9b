package main

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"meltflight/drive"
	"meltflight/frame"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/thermal"
)

// answer is what the machine will do.
type answer struct {
	whole   screw.Plasticated
	asked   screwInput // what it was solved for
	worn    wearInput  // what wear and stop were solved for
	noFlow  error      // why the screw delivers nothing, if so
	feed    feedAnswer
	wear    wearAnswer
	stop    stopAnswer
	torque  float64 // on the screw, everything included [N·m]
	load    drive.StageLoad
	stalled error // why the motor makes no torque at its speed, if so
	pullOut drive.PullOut
	bearing drive.BearingLife
	gears   drive.StageRating
	bending float64 // of the shank, given and of the leaning screw [N·m]

	chip       thermal.BridgeState
	chipErr    error // runaway
	winding    thermal.WindingState
	windingErr error // runaway

	fills  []fillState // from empty to full
	worst  fillState   // where a move rings most
	hurry  float64     // acceleration at which the bead ripple would be just allowed, at any timing, at that filling; 0 if not known [m/s²]
	swayX  float64     // of the stand [Hz]
	swayY  float64
	notes  []string // where a model's stated range is left
	limits []limit  // weakest first
}

// fillState is the gantry at one filling of the hopper.
type fillState struct {
	fill    float64 // share of full
	modes   [3]frame.Mode
	ringing frame.Ringing
}

// limit is one row of the table, with the inputs that move it most directly.
type limit struct {
	material.Utilisation
	levers []string
	stops  bool // beyond it the machine does not run, and the other rows mean little
}

const (
	fillSteps      = 20
	gravity        = 9.80665 // standard [m/s²]
	hottestWinding = 600.0   // [K]
	fastest        = 10.0    // acceleration that no small gantry exceeds, to be told of as its ripple's limit [m/s²]
)

// solve computes everything. A machine that stalls, does not pump or runs away is
// an answer; the error is for inputs that no part could have.
func (m *Machine) solve(p *parts) (answer, error) { return m.solveFor(p, "") }

// solveFor computes what the row of a part needs, or everything: wear takes as long as
// all the rest and moves no other row, and neither does the frame.
func (m *Machine) solveFor(p *parts, part string) (answer, error) {
	var a answer
	steps := []func(*parts, *answer) error{m.solveScrew, m.solveFeed, m.solveHeat, m.solveDrive}
	if part == "" || part == wornOut {
		steps = append(steps, m.solveWear)
	}
	if part == "" || part == "bead ripple" || strings.HasPrefix(part, "stand ") {
		steps = append(steps, m.solveFrame)
	}
	for _, step := range steps {
		if err := step(p, &a); err != nil {
			return answer{}, err
		}
	}
	sort.SliceStable(a.limits, func(i, j int) bool { return a.limits[i].Safety() < a.limits[j].Safety() })
	return a, nil
}

// limit adds a row; levers are the keys that move it, parted by spaces.
func (a *answer) limit(levers string, u material.Utilisation) *limit {
	a.limits = append(a.limits, limit{Utilisation: u, levers: strings.Fields(levers)})
	return &a.limits[len(a.limits)-1]
}

func (a *answer) note(where string, beyond ...string) {
	for _, b := range beyond {
		a.notes = append(a.notes, where+": "+b)
	}
}

// screwInput is all that the whole screw's answer hangs on; most remedies change none of it.
type screwInput struct {
	feedstock Feedstock
	throat    Throat
	screw     Screw
	barrel    Barrel
	nozzle    Nozzle
}

func (m *Machine) solveScrew(p *parts, a *answer) error {
	var err error
	if a.feed.throat, err = p.under.Feed(p.bulk, p.speed, m.Throat.Efficiency); err != nil {
		return err
	}
	asked := screwInput{m.Feedstock, m.Throat, m.Screw, m.Barrel, m.Nozzle}
	switch {
	case m.Throat.Temperature >= material.ToCelsius(p.polymer.Softening):
		a.noFlow = fmt.Errorf("flake sticks in the throat at %.4g °C, it softens at %.4g °C", m.Throat.Temperature, material.ToCelsius(p.polymer.Softening))
	case m.before != nil && m.before.noFlow == nil && m.before.asked == asked:
		a.whole = m.before.whole
	default:
		p.plastic.Throat = a.feed.throat.MassFlow
		if a.whole, err = p.plastic.Run(screw.Running{Speed: p.speed}); errors.Is(err, screw.ErrNoFlow) {
			a.noFlow = err
		} else if err != nil {
			return err
		}
	}
	a.asked = asked
	w := &a.whole
	levers := map[screw.Bottleneck]string{
		screw.ByThroat:   "throat.efficiency feedstock.bulk_density_kg_per_m3 screw.feed_depth_mm screw.speed_rpm",
		screw.ByFriction: "throat.root_friction screw.speed_rpm",
		screw.ByMelting:  "barrel.wall_c screw.metering_length_mm screw.speed_rpm",
		screw.ByPump:     "screw.speed_rpm screw.depth_mm nozzle.diameter_mm",
	}[w.Bottleneck]
	method := "as much as " + limitedBy[w.Bottleneck]
	if a.noFlow != nil {
		levers, method = "screw.clearance_mm throat.root_friction throat.throat_c", "nothing comes"
	}
	a.limit(levers, material.Utilisation{Part: "output", Demand: m.Feedstock.Wanted / hour, Capacity: w.Sound, Unit: "kg/s", Method: method}).stops = a.noFlow != nil
	if a.noFlow != nil {
		open, err := p.channel.Convey(p.melt, p.speed, 0)
		if err != nil {
			return err
		}
		a.torque = open.Torque + m.Screw.OtherTorque
		return nil
	}
	a.torque = w.Torque + m.Screw.OtherTorque
	a.note("screw", w.Beyond...)
	a.note("surge", w.Surge...)
	if _, beyond, err := p.polymer.DensityAt(p.melt.Temperature, 0); err == nil {
		a.note("melt density", beyond...)
	}
	for _, t := range [...]float64{p.melt.Temperature, material.Celsius(m.Motor.Ambient)} {
		if _, beyond, err := p.polymer.EnthalpyAt(t); err == nil {
			a.note("heat of melting", beyond...)
		}
	}
	a.limit("nozzle.diameter_mm screw.speed_rpm", w.Course.Fracture(m.Nozzle.Fracture*1e6))
	room := material.Celsius(m.Motor.Ambient)
	a.limit("feedstock.melt_temperature_c screw.speed_rpm", material.Utilisation{Part: "melt heat, over the air",
		Demand:   p.melt.Temperature + a.warming(p) + w.Course.DieTemperatureRise - room,
		Capacity: p.polymer.ProcessHigh - room, Unit: "K", Method: "shaft power into the melt, no loss"})
	return nil
}

// limitedBy words what an output is limited by.
var limitedBy = map[screw.Bottleneck]string{
	screw.ByThroat:   "the throat lets in",
	screw.ByFriction: "the friction of the flake carries",
	screw.ByMelting:  "melts in time",
	screw.ByPump:     "screw and nozzle pump",
}

// warming is by how much the melt would warm if all that the filled screw turns to heat
// stayed in it [K].
func (a *answer) warming(p *parts) float64 {
	c := &a.whole.Course
	return (c.ChannelDissipation + c.LandDissipation) / (c.MassFlow * p.melt.SpecificHeat)
}

func (m *Machine) solveHeat(p *parts, a *answer) error {
	var err error
	box, chipLimit := material.Celsius(m.Driver.Ambient), material.Celsius(m.Driver.Limit)
	if a.chip, err = p.bridge.Steady(m.Motor.SetCurrent, box, p.path); errors.Is(err, thermal.ErrRunaway) {
		a.chipErr = err
	} else if err != nil {
		return err
	}
	a.note("driver chip", a.chip.Beyond...)
	shed, windingLimit := material.Celsius(m.Motor.Ambient), material.Celsius(m.Motor.Limit)
	if a.winding, err = p.winding.Steady(m.Motor.SetCurrent, shed); errors.Is(err, thermal.ErrRunaway) {
		a.windingErr = err
	} else if err != nil {
		return err
	}
	a.note("motor winding", a.winding.Beyond...)

	chip, err := p.bridge.Utilisation(m.Motor.SetCurrent, chipLimit, box, p.path)
	if err != nil {
		return err
	}
	a.limit("motor.set_current_a_rms driver.sink_to_air_k_per_w", chip)
	winding, err := p.winding.Utilisation(m.Motor.SetCurrent, windingLimit, shed)
	if err != nil {
		return err
	}
	a.limit("motor.set_current_a_rms motor.winding_to_air_k_per_w", winding)
	return nil
}

func (m *Machine) solveDrive(p *parts, a *answer) error {
	var err error
	if a.load, err = p.stage.Load(a.torque, p.speed); err != nil {
		return err
	}
	// The winding as warm as it runs, or as hot as the model goes if it never settles.
	warm := hottestWinding
	if a.windingErr == nil {
		warm = math.Min(warm, a.winding.Temperature)
	}
	motor, err := p.motor.Warm(warm)
	if err != nil {
		return err
	}
	if a.chipErr == nil { // a phase's current passes two switches
		motor.Resistance += 2 * p.bridge.OnResistance * (1 + p.bridge.TemperatureCoefficient*(a.chip.Junction-material.Celsius(25)))
	}
	a.pullOut, err = motor.PullOut(a.load.SunSpeed, m.Motor.SetCurrent, m.Motor.Supply)
	if errors.Is(err, drive.ErrOutOfStep) {
		a.stalled = err
		a.pullOut.Regime = drive.VoltageLimited
	} else if err != nil {
		return err
	}
	a.note("motor", a.pullOut.Beyond...)
	a.limit("motor.set_current_a_rms motor.supply_v screw.speed_rpm", a.pullOut.Utilisation(a.load.SunTorque)).stops = true
	jammed, err := motor.PullOut(0, m.Motor.SetCurrent, m.Motor.Supply)
	if err != nil {
		return err
	}
	// A jam asks of the drive what the motor can give, without the loss of running.
	jamTorque := jammed.Torque * p.stage.Ratio()

	var leaning float64
	if a.wear.force, leaning, err = p.root.LeaningForce(m.Wear.Offset*milli, m.Wear.Angle*math.Pi/180); err != nil {
		return err
	}
	a.bending = m.Shank.Bending + leaning
	teeth := [3]drive.ToothMaterial{p.teeth, p.teeth, p.teeth}
	if a.gears, err = p.stage.Rate(a.load, m.Feedstock.Season*hour, teeth, p.factors); err != nil {
		return err
	}
	a.note("gear", a.gears.Beyond...)
	for i, u := range a.gears.Utilisations {
		levers := "gear.module_mm gear.face_mm"
		if i > 2 {
			levers += " gear.hardness_hv"
		}
		a.limit(levers, u)
	}
	// Teeth bear what the motor puts on the sun, whatever comes out behind them.
	jamLoad, err := p.stage.Load(jamTorque*p.stage.Efficiency(), 0)
	if err != nil {
		return err
	}
	once := p.factors
	once.Application, once.Dynamic = 1, 1 // the jam is the peak itself
	jammedTeeth, err := p.stage.Rate(jamLoad, 1, teeth, once)
	if err != nil {
		return err
	}
	weakest := jammedTeeth.Utilisations[0] // of the roots: flanks do not break at once
	for _, u := range jammedTeeth.Utilisations[1:3] {
		if u.Safety() < weakest.Safety() {
			weakest = u
		}
	}
	a.limit("gear.module_mm motor.set_current_a_rms", named(strings.TrimSuffix(weakest.Part, " root")+", screw jammed", weakest))
	fatigue, err := p.shank.Fatigue(drive.ShaftLoad{BendingAlternating: a.bending, TorqueMean: a.torque,
		TorqueAlternating: m.Shank.TorqueRipple * a.torque, AxialMean: a.whole.Course.Thrust})
	if err != nil {
		return err
	}
	for _, u := range fatigue.Utilisations(p.shank) {
		a.limit("shank.diameter_mm", u)
	}
	keyed, err := p.key.Utilisations(jamTorque, p.keySteel)
	if err != nil {
		return err
	}
	for _, u := range keyed {
		a.limit("key.length_mm motor.set_current_a_rms", named(strings.Replace(u.Part, "groove ", "", 1)+", jammed", u))
	}
	coupled, err := drive.CouplingTorque(a.torque*(1+m.Shank.TorqueRipple), m.Coupling.Service, m.Coupling.Rated)
	if err != nil {
		return err
	}
	a.limit("coupling.rated_nm", named("coupling", coupled))
	jam := drive.ShaftLoad{BendingMean: a.bending, TorqueMean: jamTorque}
	jam.AxialMean = a.whole.ClosedThrust // it may jam against a blocked nozzle
	if fatigue, err = p.shank.Fatigue(jam); err != nil {
		return err
	}
	a.limit("shank.diameter_mm motor.set_current_a_rms", named("shaft, screw jammed", fatigue.Utilisations(p.shank)[1]))
	if a.noFlow != nil { // no pressure, no thrust
		return nil
	}
	if err := m.solveStrength(p, a, jamTorque); err != nil {
		return err
	}
	if a.bearing, err = p.bearing.Life(a.whole.Course.Thrust, p.speed, reliability); err != nil {
		return err
	}
	rating, err := p.bearing.Utilisations(a.whole.Course.Thrust, p.speed, reliability, m.Feedstock.Season*hour)
	if err != nil {
		return err
	}
	a.limit("thrust_bearing.dynamic_rating_kn", rating[0])
	a.limit("thrust_bearing.static_rating_kn", rating[1])
	a.limit("thrust_bearing.static_rating_kn", material.Utilisation{Part: "bearing, nozzle blocked",
		Demand: a.whole.ClosedThrust, Capacity: p.bearing.Static, Unit: "N", Method: rating[1].Method + ", closed-discharge pressure"})
	return nil
}

// named is a row under a name of its own.
func named(part string, u material.Utilisation) material.Utilisation {
	u.Part = part
	return u
}

func (m *Machine) solveFrame(p *parts, a *answer) error {
	for i := range fillSteps + 1 {
		s := fillState{fill: float64(i) / fillSteps}
		axis := m.axis(p, s.fill)
		modes, err := axis.Modes()
		if errors.Is(err, frame.ErrStubby) {
			if i == 0 {
				a.note("gantry", err.Error())
			}
		} else if err != nil {
			return err
		}
		s.modes = modes
		nozzle := [3]float64{0, 0, -m.Gantry.NozzleDrop * milli}
		s.ringing, err = axis.Ringing(p.move, m.Gantry.Damping, nozzle)
		if err != nil && !errors.Is(err, frame.ErrStubby) { // told above
			return err
		}
		a.fills = append(a.fills, s)
		if s.ringing.Worst > a.worst.ringing.Worst {
			a.worst = s
		}
	}
	hurried := p.move
	hurried.Acceleration = fastest
	worst := m.axis(p, a.worst.fill)
	if tones, err := worst.Tones(m.Gantry.Damping, [3]float64{0, 0, -m.Gantry.NozzleDrop * milli}); err == nil {
		if may, err := hurried.Accelerations(m.Gantry.Ripple*milli, tones...); err == nil {
			a.hurry = may.AnyTiming
		}
	}
	a.limit("gantry.acceleration_m_per_s2 gantry.end_stiffness_y_n_per_mm", material.Utilisation{Part: "bead ripple", Demand: a.worst.ringing.Worst,
		Capacity: m.Gantry.Ripple * milli, Unit: "m", Method: "modes of the axis after a move, worst timing and fill"})
	if m.Hopper.On != "stand" {
		return nil
	}
	var err error
	if a.swayX, a.swayY, err = p.stand.Modes(); err != nil {
		return err
	}
	buckling, err := p.stand.Buckling(m.hopperMass(1) * gravity)
	if err != nil {
		return err
	}
	a.limit("stand.leg_mm", buckling)
	if m.Stand.Bolted { // then its bolts hold it, which are not computed
		return nil
	}
	tipping, err := p.stand.Tipping(m.Stand.Push)
	if err != nil {
		return err
	}
	a.limit("hopper.above_floor_mm stand.depth_mm", tipping)
	return nil
}
