package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Play is one place of a drive where motion is lost: a mesh, a key, a coupling, or a
// piece of shaft that only twists.
type Play struct {
	Angle     float64 // by which the shaft there turns freely, the other side held, 0 to 1 [rad]
	Stiffness float64 // in torsion there, 1e-3 to 1e12; 0 for stiff [N·m/rad]
	Ratio     float64 // turns of the shaft there for one of the output, 1e-3 to 1e6 [-]
}

// LostMotion is what a chain of plays comes to at its output.
type LostMotion struct {
	Play   float64 // of all that is free [rad]
	WindUp float64 // of all that twists under the torque [rad]
	Total  float64 // both [rad]
}

// Lost returns the motion lost at the output under a torque there, 0 to 1e8 [N·m]: each play
// counts as 1/ratio, each twist as 1/ratio², for its torque is smaller by the ratio too
// (own). It is what the motor has to turn back before a torque that has
// fallen to nothing falls the other way; between full torque either way wind-up counts
// twice. Mesh losses are left out. Elastic twist is often as much as all backlash.
func Lost(torque float64, plays []Play) (LostMotion, error) {
	var f input.Faults
	f.Between("drive.Lost: torque", torque, 0, mostTorque, "N·m")
	f.Count("drive.Lost: plays", len(plays), 0, 1000)
	if !f.None() {
		return LostMotion{}, f.Err()
	}
	var l LostMotion
	for i := range plays {
		p := &plays[i]
		if !p.valid() {
			p.refuse(&f, i)
			continue
		}
		l.Play += p.Angle / p.Ratio
		l.WindUp += torque * compliance(p.Stiffness) / square(p.Ratio)
	}
	if err := f.Err(); err != nil {
		return LostMotion{}, err
	}
	l.Total = l.Play + l.WindUp
	return l, nil
}

// valid is apart from refuse so that no names are put together while all is well.
func (p *Play) valid() bool {
	var f input.Faults
	p.check(&f, "", "", "")
	return f.None()
}

func (p *Play) refuse(f *input.Faults, i int) {
	at := fmt.Sprintf("drive.Play[%d].", i)
	p.check(f, at+"Angle", at+"Stiffness", at+"Ratio")
}

func (p *Play) check(f *input.Faults, angle, stiffness, ratio string) {
	f.Between(angle, p.Angle, 0, 1, "rad")
	stiffOr(f, stiffness, p.Stiffness, 1e-3, 1e12, "N·m/rad")
	f.Between(ratio, p.Ratio, 1e-3, 1e6, "")
}

// PlayAngle returns the angle [rad] that a clearance measured along a circle, 0 to 0.1
// [m], lets a shaft turn, by the circle's radius, 1e-4 to 10 and at least the clearance
// [m]: the backlash of a mesh at its reference circle, all the air between a key and its
// grooves at the shaft's surface. It is the whole lost motion, not half of it.
func PlayAngle(clearance, radius float64) (float64, error) {
	var f input.Faults
	f.Between("drive.PlayAngle: clearance", clearance, 0, 0.1, "m")
	f.Between("drive.PlayAngle: radius", radius, max(1e-4, min(0.1, clearance)), 10, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return clearance / radius, nil
}

// AlongCircle returns the circumferential backlash [m] of spur teeth from the normal one
// that a feeler measures between flanks, 0 to 0.1 [m], at a pressure angle, 0 to 0.8
// [rad]: j_t = j_n/cos α.
func AlongCircle(normal, pressureAngle float64) (float64, error) {
	var f input.Faults
	f.Between("drive.AlongCircle: normal", normal, 0, 0.1, "m")
	f.Between("drive.AlongCircle: pressureAngle", pressureAngle, 0, 0.8, "rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return normal / math.Cos(pressureAngle), nil
}

// SeriesStiffness returns the torsional stiffness [N·m/rad] of shafts and couplings one
// behind the other at the same speed, each 1e-3 to 1e12 [N·m/rad], 1 to 1000 of them:
// compliances add, so that the softest, mostly a jaw coupling's spider, rules.
func SeriesStiffness(each ...float64) (float64, error) {
	var f input.Faults
	f.Count("drive.SeriesStiffness: each", len(each), 1, 1000)
	sum := 0.0
	for _, k := range each {
		f.Between("drive.SeriesStiffness: each", k, 1e-3, 1e12, "N·m/rad")
		sum += compliance(k)
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 / sum, nil
}
