package drive

import (
	"meltflight/internal/input"
	"meltflight/material"
)

// Transmission is all that carries a screw's torque and thrust behind it: a planetary
// stage, a shank with its key, and a bearing for the thrust.
type Transmission struct {
	Stage   PlanetaryStage
	Teeth   [3]ToothMaterial // of sun, planet and ring; Cycles and Reversed are set by what it runs
	Factors GearFactors

	Shank       Shaft
	Bending     float64 // moment that turns with respect to the shank, as of a crooked coupling, 0 to 1e6 [N·m]
	Ripple      float64 // amplitude of the torque over its mean, 0 to 10 [-]
	Key         KeyJoint
	KeyStrength KeyStrength

	Bearing     Bearing
	Reliability float64 // at which the bearing is rated, 0.9 to 0.9995 [-]
}

// TransmissionRating is how far each part is from its limit, and how long they last.
type TransmissionRating struct {
	Load  StageLoad
	Teeth StageRating
	Shank ShaftFatigue
	Life  BearingLife

	Utilisations [13]material.Utilisation // six of the teeth, two of the shank, three of the key, two of the bearing
	Weakest      int                      // of Utilisations
	Lasts        float64                  // until the first of teeth and bearing has come to its end, 1e15 s standing for no end; a shank above 1 in fatigue and a key have none [s]
}

// Rate rates a transmission for a torque of the screw, 0 to 1e6 [N·m], its thrust, 1e-3 to 1e9
// [N], at a speed, 1e-6 to 1e3 [rev/s], over a running time, 1 to 1e12 [s]: by
// [PlanetaryStage.Load] and Rate, [Shaft.Fatigue] by Goodman's line, [KeyJoint.Utilisations]
// and [Bearing.Utilisations]. It errs on invalid input.
func (t Transmission) Rate(torque, thrust, speed, time float64) (TransmissionRating, error) {
	var f input.Faults
	f.Between("drive.Transmission.Bending", t.Bending, 0, 1e6, "N·m")
	f.Between("drive.Transmission.Ripple", t.Ripple, 0, 10, "")
	f.Between("drive.Transmission.Rate: time", time, 1, 1e12, "s")
	var r TransmissionRating
	var err error
	r.Load, err = t.Stage.Load(torque, speed)
	f.Add(err)
	if err == nil {
		r.Teeth, err = t.Stage.Rate(r.Load, time, t.Teeth, t.Factors)
		f.Add(err)
	}
	r.Shank, err = t.Shank.Fatigue(ShaftLoad{BendingAlternating: t.Bending, TorqueMean: torque, TorqueAlternating: t.Ripple * torque, AxialMean: thrust})
	f.Add(err)
	key, err := t.Key.Utilisations(torque*(1+t.Ripple), t.KeyStrength)
	f.Add(err)
	r.Life, err = t.Bearing.Life(thrust, speed, t.Reliability)
	f.Add(err)
	bearing, err := t.Bearing.Utilisations(thrust, speed, t.Reliability, time)
	f.Add(err)
	if err := f.Err(); err != nil {
		return TransmissionRating{}, err
	}
	copy(r.Utilisations[:6], r.Teeth.Utilisations[:])
	shank := r.Shank.Utilisations(t.Shank)
	copy(r.Utilisations[6:8], shank[:])
	copy(r.Utilisations[8:11], key[:])
	copy(r.Utilisations[11:], bearing[:])
	for i, u := range r.Utilisations {
		if w := r.Utilisations[r.Weakest]; u.Demand*w.Capacity > w.Demand*u.Capacity {
			r.Weakest = i
		}
	}
	r.Lasts = min(r.Teeth.Shortest, r.Life.Seconds)
	return r, nil
}
