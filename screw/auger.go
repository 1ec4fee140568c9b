package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Auger is a screw of one flight that conveys a bulk through a tube, as from a hopper to the drop
// tube.
type Auger struct {
	Diameter  float64 // over the flight, 5e-3 to 2 [m]
	Shaft     float64 // diameter inside the flight, 0 to 0.9 Diameter [m]
	Pitch     float64 // 0.1 to 3 Diameter [m]
	Thickness float64 // of the flight along the axis, 0 to 0.9 Pitch [m]
	Clearance float64 // from flight to tube, on each side, 0 to 0.25 Diameter [m]
	Length    float64 // that the bulk is carried, 1e-3 to 100 [m]
	Incline   float64 // of the axis, rising from level, 0 to π/2 [rad]
}

// Validate reports the fields out of range.
func (a Auger) Validate() error {
	var f input.Faults
	a.check(&f)
	return f.Err()
}

func (a *Auger) check(f *input.Faults) {
	f.Between("screw.Auger.Diameter", a.Diameter, 5e-3, 2, "m")
	f.Between("screw.Auger.Length", a.Length, 1e-3, 100, "m")
	f.Between("screw.Auger.Incline", a.Incline, 0, math.Pi/2, "rad")
	d, pitch := a.Diameter, a.Pitch // those that are none are told above
	if !(d >= 5e-3 && d <= 2) {
		d = 2
	}
	f.Between("screw.Auger.Shaft", a.Shaft, 0, 0.9*d, "m")
	f.Between("screw.Auger.Pitch", a.Pitch, 0.1*d, 3*d, "m")
	f.Between("screw.Auger.Clearance", a.Clearance, 0, 0.25*d, "m")
	if !(pitch >= 0.1*d && pitch <= 3*d) {
		pitch = 3 * d
	}
	f.Between("screw.Auger.Thickness", a.Thickness, 0, 0.9*pitch, "m")
}

const steepestOpen = 20 * math.Pi / 180 // the table of inclines ends there [rad]

// gentle is check for what is known up to 20° only.
func (a *Auger) gentle(f *input.Faults) {
	a.check(f)
	if a.Incline > steepestOpen*(1+1e-12) {
		f.Refuse("screw.Auger.Incline", a.Incline, "rad", "0 to 0.349066 (20°): no law is known from there up to an upright one")
	}
}

// Swept returns the volume that one turn sweeps [m³]: the tube's section less the shaft's, times the
// pitch less the flight.
//
// A. W. Roberts, from memory, writes it (1/8)((D+2C)² − d²)(p − t)·ω, 1/8 being π/4 over 2π. ISO 7119
// and handbooks leave out clearance and thickness, some the shaft too, so that figures of one auger
// differ: 6 mm round a flight of 78 mm add a third to its section. With those fields 0 it is theirs.
func (a Auger) Swept() float64 {
	tube := a.Diameter + 2*a.Clearance
	return math.Pi / 4 * (tube*tube - a.Shaft*a.Shaft) * (a.Pitch - a.Thickness)
}

// AugerFlow is what an auger brings at a speed.
type AugerFlow struct {
	MassFlow   float64  // [kg/s]
	Efficiency float64  // volume brought ÷ volume swept [-]
	Fastest    float64  // advisory limit of the speed, see [Auger.Capacity] [rev/s]
	Beyond     []string // in words, where the rule's stated range is left; nil inside it
}

// Capacity returns what a slow auger that is fed less than it could take brings, lying or rising up to
// 20°, at a speed of 1e-4 to 100 [rev/s] and a fill of 0.01 to 1, the share of its section that the
// bulk takes [-]. It errs on input out of range.
//
// ISO 7119 and DIN 15262, from memory: volume swept × speed × fill × C, with C = 1, 0.9, 0.8, 0.7 and
// 0.65 at an incline of 0, 5, 10, 15 and 20° (M. P. Alexandrov, Materials Handling Equipment, as a
// worksheet restates it), linear between. Usual fills: 0.45 of what is light, free-flowing and not
// abrasive, 0.30 of what is average, 0.15 of what is abrasive or sluggish (ISO 7119, from memory);
// more than 0.45, which Beyond tells, is pushed over hangers and shaft, unless hopper and tube are
// full: see [Auger.Feed].
//
// Speed goes to 60/√D rpm, D in m, for light goods that are not abrasive, Fastest, 45 for heavy ones
// and 30 for abrasive ones (Alexandrov, the root from memory): at any size the flight's tip then has
// an acceleration of 2, 1.1 or 0.5 g. Particles are to be less than a twelfth of the diameter where
// all are of one size (common practice, no source). The rule is made for augers of 100 mm and more. Of
// inclines between 20° and upright no law is here: a measured auger of 78 mm kept 0.94 at 20° and 0.26
// at 80° of its level capacity, which neither this nor [Auger.Lift] gives.
func (a Auger) Capacity(b material.Bulk, speed, fill float64) (AugerFlow, error) {
	var f input.Faults
	a.gentle(&f)
	f.Add(b.Validate())
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Auger.Capacity: fill", fill, 0.01, 1, "")
	if err := f.Err(); err != nil {
		return AugerFlow{}, err
	}
	r := a.flow(&b, speed, fill*inclined(a.Incline))
	if fill > 0.45*(1+1e-9) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("fill of %.3g, rule for 0.45 and less", fill))
	}
	if a.Diameter < 0.1*(1-1e-9) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("auger of %.3g mm, rule for 100 mm and more", a.Diameter*1e3))
	}
	return r, nil
}

// flow is what a share of the swept volume comes to, and what any auger tells of it.
func (a *Auger) flow(b *material.Bulk, speed, efficiency float64) AugerFlow {
	r := AugerFlow{MassFlow: a.Swept() * speed * b.BulkDensity * efficiency, Efficiency: efficiency, Fastest: 1 / math.Sqrt(a.Diameter)}
	if speed > r.Fastest*(1+1e-9) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("%.3g rev/s, advised up to %.3g: the bulk is flung about and fills less", speed, r.Fastest))
	}
	r.Beyond = a.wedges(b, r.Beyond)
	return r
}

func (a *Auger) wedges(b *material.Bulk, beyond []string) []string {
	if ratio := a.Diameter / b.ParticleSize; ratio < 12*(1-1e-9) {
		beyond = append(beyond, fmt.Sprintf("auger of %.3g particles' diameter, rule for 12 and more: they wedge", ratio))
	}
	if b.Shape == "fluff" {
		beyond = append(beyond, hangs)
	}
	return beyond
}

// inclined is the share of its level capacity that an open auger keeps [-].
func inclined(incline float64) float64 {
	table := [...]float64{1, 0.9, 0.8, 0.7, 0.65}
	x := incline / steepestOpen * 4
	i := min(int(x), 3)
	return table[i] + (table[i+1]-table[i])*math.Min(1, x-float64(i))
}

// Feed returns what an auger brings whose inlet stands under a full hopper, lying or rising up to 20°,
// at a speed of 1e-4 to 100 [rev/s]. It errs on input out of range, with [material.ErrNoData] without
// the bulk's WallFriction, which is taken for that on the flight, and with ErrNoFlow where that
// friction turns the bulk with the flight.
//
// A. W. Roberts, Predicting the volumetric and torque characteristics of screw feeders, from memory
// and derived anew: the tube is full, and the bulk moves square to the flight but for its friction φ,
// so that the share of the swept volume that comes is
//
//	η = cosα·cos(α+φ)/cosφ,  tanα = p/(2π·R),  R = ⅔(Rₒ³ − Rᵢ³)/(Rₒ² − Rᵢ²)
//
// with Rₒ and Rᵢ of flight and shaft; bulk in the clearance is taken to come along. Range: slow, see
// Fastest of [Auger.Capacity]; particles less than a twelfth of the diameter. Assumed: every turn is
// filled as loosely as BulkDensity. The size itself does not come in. Augers in use bring 0.3 to 0.7
// of what they sweep (common practice, no source) where this gives some 0.65 to 0.9: it is the most
// that comes, half of it is not unusual, and one weighing at the machine is worth more. That a rising
// tube loses nothing is assumed, and told.
func (a Auger) Feed(b material.Bulk, speed float64) (AugerFlow, error) {
	var f input.Faults
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	efficiency, err := a.feeds(&b, &f)
	if err != nil {
		return AugerFlow{}, err
	}
	return a.flooded(&b, speed, efficiency), nil
}

func (a *Auger) flooded(b *material.Bulk, speed, efficiency float64) AugerFlow {
	r := a.flow(b, speed, efficiency)
	if a.Incline > 0 {
		r.Beyond = append(r.Beyond, fmt.Sprintf("rising at %.3g°: a full tube is taken to lose nothing, one partly full keeps %.3g",
			a.Incline*180/math.Pi, inclined(a.Incline)))
	}
	return r
}

// FeedSpeed returns the speed at which [Auger.Feed] brings a mass flow [rev/s], and what Feed tells
// there. It errs as Feed does, and on a mass flow that asks for a speed outside 1e-4 to 100 rev/s.
func (a Auger) FeedSpeed(b material.Bulk, massFlow float64) (float64, AugerFlow, error) {
	var f input.Faults
	efficiency, err := a.feeds(&b, &f)
	if err != nil {
		return 0, AugerFlow{}, err
	}
	turn := a.Swept() * b.BulkDensity * efficiency // [kg]
	f.Between("screw.Auger.FeedSpeed: mass flow", massFlow, 1e-4*turn, 100*turn, "kg/s")
	if err := f.Err(); err != nil {
		return 0, AugerFlow{}, err
	}
	speed := massFlow / turn
	return speed, a.flooded(&b, speed, efficiency), nil
}

// feeds checks all that Feed and its inverse need, and returns the efficiency [-].
func (a *Auger) feeds(b *material.Bulk, f *input.Faults) (float64, error) {
	a.gentle(f)
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return 0, err
	}
	alpha, err := a.pushes(b, a.effectiveRadius())
	if err != nil {
		return 0, err
	}
	return math.Cos(alpha) * math.Cos(alpha+b.WallFriction) / math.Cos(b.WallFriction), nil
}

// effectiveRadius is where a pressure even over the section acts in the mean [m].
func (a *Auger) effectiveRadius() float64 {
	out, in := a.Diameter/2, a.Shaft/2
	return 2. / 3 * (out*out + out*in + in*in) / (out + in)
}

// pushes returns the flight's angle of helix at a radius [rad], if it is flat enough to push along the
// axis.
func (a *Auger) pushes(b *material.Bulk, radius float64) (float64, error) {
	if b.WallFriction == 0 {
		return 0, fmt.Errorf("%w: material.Bulk.WallFriction (%s)", material.ErrNoData, b.Name)
	}
	alpha := math.Atan(a.Pitch / (2 * math.Pi * radius))
	if alpha+b.WallFriction >= math.Pi/2 {
		return 0, fmt.Errorf("%w: a flight at %.3g rad with an angle of friction of %.3g turns the bulk with it, together less than %.4g push it",
			ErrNoFlow, alpha, b.WallFriction, math.Pi/2)
	}
	return alpha, nil
}
