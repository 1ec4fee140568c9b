package main

import (
	"errors"
	"fmt"
	"math"

	"meltflight/drive"
	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// What is assumed of every stage.
const (
	planets    = 3
	efficiency = 0.97 // of the meshes
	share      = 1.2  // of the heaviest planet, over an even one
	rim        = 3.5  // of the ring beyond its teeth, in modules
	thinLeast  = 0.01 // that each tooth is cut thinner for play [mm]
	thinMost   = 0.03
	axes       = 0.01 // that distances are off, either way [mm]
)

const (
	mm   = 1e-3
	rpm  = 1 / 60.0 // [rev/s]
	hour = 3600.0   // [s]
)

// steel is what teeth are made of: a line of [material.GearSteels] and its hardness.
type steel struct {
	word    string
	line    string
	vickers float64
	life    func() drive.GearLife
}

var (
	plain = steel{"case-hardened, modest", "case-hardened ML", 700, drive.CaseLife}
	cased = steel{"case-hardened, good", "case-hardened MQ", 700, drive.CaseLife}
	alloy = steel{"quenched alloy, good", "alloy QT MQ", 300, drive.QuenchedLife}
)

func (s steel) teeth() (drive.ToothMaterial, error) {
	line, err := material.GearSteelNamed(s.line)
	if err != nil {
		return drive.ToothMaterial{}, err
	}
	m := drive.ToothMaterial{Young: 206e9, Poisson: 0.3, Life: s.life()}
	if m.RootLimit, err = line.Root(s.vickers); err != nil {
		return m, err
	}
	m.FlankLimit, err = line.Contact(s.vickers)
	return m, err
}

// teeth of sun, planet and ring.
func (s steel) stage() (three [3]drive.ToothMaterial, err error) {
	if three[0], err = s.teeth(); err != nil {
		return three, err
	}
	three[1] = three[0]
	three[2], err = alloy.teeth()
	return three, err
}

func (s stage) planetary() drive.PlanetaryStage {
	return drive.PlanetaryStage{Sun: s.sun, Planet: s.planet, Ring: s.sun + 2*s.planet, Planets: planets,
		Module: s.module * mm, Face: s.face * mm, MeshEfficiency: efficiency, LoadShare: share}
}

// answer is what is found.
type answer struct {
	plan   plan
	motor  drive.Stepper // warm
	best   drive.RatioChoice
	spare  []float64 // what the motor holds over what is asked, one a ratio [-]
	stages []rated   // one a stage of the plan
	choice drive.StageChoice
	chosen rated
	bare   drive.ModuleChoice // a plain pair of gears instead
	shank  drive.ShaftChoice
	key    drive.KeyChoice
	whole  drive.TransmissionRating
}

// rated is what a stage does.
type rated struct {
	drive.PlanetaryStage
	steel   steel
	load    drive.StageLoad
	rating  drive.StageRating // over the time wanted
	mesh    drive.StageMeshing
	hum     drive.StageFrequencies
	outer   float64              // [m]
	bears   float64              // torque of the screw for the season, of its teeth [N·m]
	reserve material.Utilisation // of the motor
	stalls  float64              // speed of the screw at which the motor falls out of step [rev/s]
	play    [2]float64           // least and most, of the screw with the motor held [rad]
}

func find(p plan) (*answer, error) {
	a := &answer{plan: p}
	err := p.check()
	if err != nil {
		return nil, err
	}
	if a.motor, err = p.motor.Warm(material.Celsius(p.warm)); err != nil {
		return nil, err
	}
	for _, s := range p.stages {
		r, err := a.rate(s.planetary(), s.steel)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.name, err)
		}
		a.stages = append(a.stages, r)
	}
	if a.best, err = a.motor.BestOf(p.ratios, p.torque, p.speed*rpm, p.current, p.supply, efficiency); err != nil {
		return nil, err
	}
	for _, ratio := range p.ratios {
		torque, err := a.atScrew(p.speed*rpm, ratio, efficiency)
		if err != nil {
			return nil, err
		}
		a.spare = append(a.spare, torque/p.torque)
	}
	if err := a.size(); err != nil {
		return nil, err
	}
	return a, a.support()
}

// check refuses what no solver sees.
func (p plan) check() error {
	var f input.Faults
	f.Between("gearing: torque", p.torque, 1e-3, 1e4, "N·m")
	f.Between("gearing: speed", p.speed, 0.1, 1000, "rpm")
	f.Between("gearing: index", p.index, 0.05, 1, "")
	f.Between("gearing: season", p.season, 1, 1e6, "h")
	f.Between("gearing: reserve", p.reserve, 0.1, 100, "")
	f.Count("gearing: stages", len(p.stages), 1, 20)
	f.Count("gearing: ratios", len(p.ratios), 1, 3)
	f.Count("gearing: steps", len(p.steps), 2, 50)
	return f.Err()
}

// demand is what the screw asks at a speed [N·m]: of a melt of one temperature, whose
// stress grows with the rate of shear to the power of its index.
func (p plan) demand(speed float64) float64 {
	return p.torque * math.Pow(speed/(p.speed*rpm), p.index)
}

// rate tells what a stage does at the screw's torque and speed.
func (a *answer) rate(s drive.PlanetaryStage, of steel) (r rated, err error) {
	p := &a.plan
	r.PlanetaryStage, r.steel = s, of
	if r.load, err = s.Load(p.torque, p.speed*rpm); err != nil {
		return r, err
	}
	teeth, err := of.stage()
	if err != nil {
		return r, err
	}
	if r.rating, err = s.Rate(r.load, p.wanted*hour, teeth, drive.CommonGearFactors()); err != nil {
		return r, err
	}
	season, err := s.Rate(r.load, p.season*hour, teeth, drive.CommonGearFactors())
	if err != nil {
		return r, err
	}
	r.bears = math.Inf(1)
	for i, u := range season.Utilisations {
		times := u.Safety()
		if i >= flanks { // stress there grows as the root of torque
			times *= times
		}
		r.bears = math.Min(r.bears, times*p.torque)
	}
	if r.mesh, err = s.Meshes(); err != nil {
		return r, err
	}
	if r.hum, err = s.Frequencies(p.speed * rpm); err != nil {
		return r, err
	}
	r.outer = s.Module * (float64(s.Ring) + 2*drive.RackA().Dedendum + 2*rim)
	out, err := a.motor.PullOut(r.load.SunSpeed, p.current, p.supply)
	if err != nil {
		return r, err
	}
	r.reserve = out.Utilisation(r.load.SunTorque)
	if r.stalls, err = a.stall(s.Ratio(), s.Efficiency()); err != nil {
		return r, err
	}
	r.play, err = playOf(s)
	return r, err
}

// flanks is where flanks begin among the six checks of a stage.
const flanks = 3

// atScrew is the torque the motor holds at the screw through a gear [N·m], 0 where it makes none.
func (a *answer) atScrew(speed, ratio, efficiency float64) (float64, error) {
	out, err := a.motor.PullOut(speed*ratio, a.plan.current, a.plan.supply)
	if errors.Is(err, drive.ErrOutOfStep) {
		return 0, nil
	}
	return out.Torque * ratio * efficiency, err
}

// stall returns the speed at which the motor no longer holds what the screw asks [rev/s], 0 if
// it does not even at a hundredth of the screw's own.
func (a *answer) stall(ratio, efficiency float64) (float64, error) {
	low, high := a.plan.speed*rpm/100, 10*a.plan.speed*rpm
	spare := func(speed float64) float64 {
		torque, _ := a.atScrew(speed, ratio, efficiency) // inputs are those of PullOut before
		return torque - a.plan.demand(speed)
	}
	if spare(low) <= 0 {
		return 0, nil
	}
	if spare(high) >= 0 {
		return high, nil
	}
	return root.Find(spare, low, high, 1e-9)
}

// playOf returns the least and the most backlash of a stage, as the angle that the screw turns
// with the sun held [rad]. Turned by it, the carrier rolls the planets over both plays
// together: (j_sun + j_ring)/(r_sun + r_ring), and the radii come to twice the axes' distance.
func playOf(s drive.PlanetaryStage) (play [2]float64, err error) {
	thin, off := drive.Allowance{Least: thinLeast * mm, Most: thinMost * mm}, drive.Allowance{Least: -axes * mm, Most: axes * mm}
	sun := drive.GearPair{Rack: drive.RackA(), Module: s.Module, Face: s.Face, Pinion: drive.Wheel{Teeth: s.Sun}, Wheel: drive.Wheel{Teeth: s.Planet}}
	ring := sun
	ring.Pinion, ring.Wheel, ring.Ring = sun.Wheel, drive.Wheel{Teeth: s.Ring}, true
	for _, g := range []drive.GearPair{sun, ring} {
		least, most, err := g.Backlash(thin, thin, off)
		if err != nil {
			return play, err
		}
		for i, b := range []drive.Backlash{least, most} {
			play[i] += b.Circumferential / (s.Module * float64(s.Sun+s.Planet))
		}
	}
	return play, nil
}

// lacks tells which wishes a stage does not fulfil, in words.
func (a *answer) lacks(r *rated) (list []string) {
	p := &a.plan
	for i, u := range r.rating.Utilisations {
		if asked := p.asked(i); u.Safety() < asked {
			list = append(list, fmt.Sprintf("%s %.2f", u.Part, u.Safety()))
		}
	}
	if r.outer > p.outer*mm*(1+1e-9) {
		list = append(list, fmt.Sprintf("%.1f mm outside", r.outer/mm))
	}
	if safety := r.reserve.Safety(); safety < p.reserve {
		list = append(list, fmt.Sprintf("motor %.2f", safety))
	}
	return list
}

func (p *plan) asked(check int) float64 {
	if check >= flanks {
		return p.flank
	}
	return p.root
}
