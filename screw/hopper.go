package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

const (
	gravity = 9.80665 // standard acceleration of free fall (3rd CGPM, 1901) [m/s²]

	beverlooRound = 0.58 // [-]
	beverlooSlot  = 1.03 // [-]
	rim           = 1.4  // particles of the width that the edge takes from the flow [-]

	hangs = "fluff hangs together, law for grains that do not"
)

// Outlet is the hole that a hopper ends in, open below: round, or a slot.
type Outlet struct {
	Width  float64 // diameter of a round hole, short side of a slot, 1e-4 to 10 [m]
	Length float64 // of a slot, Width to 100, or 0 for a round hole [m]
}

// Validate reports the fields out of range.
func (o Outlet) Validate() error {
	var f input.Faults
	o.check(&f)
	return f.Err()
}

func (o Outlet) check(f *input.Faults) {
	f.Between("screw.Outlet.Width", o.Width, 1e-4, 10, "m")
	if f.None() && o.Length != 0 {
		f.Between("screw.Outlet.Length", o.Length, o.Width, 100, "m")
	}
}

func (o Outlet) round(f *input.Faults) {
	o.check(f)
	if o.Length != 0 {
		f.Refuse("screw.Outlet.Length", o.Length, "m", "0: the law is known of round holes only")
	}
}

// Discharge is what runs out of an outlet that nothing below holds back.
type Discharge struct {
	Flow   float64  // [kg/s]
	Ratio  float64  // Outlet.Width ÷ particle size [-]
	Beyond []string // in words, where the law's stated range is left; nil inside it
}

// Discharge returns what runs out of an outlet under its own weight, whatever the
// level above. It errs on an outlet or a bulk out of range. Of an outlet not wider
// than 1.4 particles nothing runs: Flow is 0.
//
// W. A. Beverloo, H. A. Leniger and J. van de Velde, Chem. Eng. Sci. 15 (1961) 260
// (from memory): W = 0.58 ρ √g (D − 1.4 d)^(5/2), as the middle of a particle
// cannot come nearer to the edge; of a slot W = 1.03 ρ √g (L − 1.4 d)(B − 1.4 d)^(3/2),
// R. M. Nedderman, Statics and Kinematics of Granular Materials (1992), from memory.
// Range: free-flowing grains above 0.4 mm, from six grains to the width (from memory), in a
// bin wider than 2.5 outlets and than an outlet and 30 grains, filled to 1.2 of
// its width (C. Mankoc et al., Granular Matter 9 (2007) 407). Usual error: 10 % for pellets, a factor of 2 for
// flake (common practice, no source). Below some 20 grains to the width [Outlet.SmallFlow]
// is the careful figure. That a steep cone lets more through is left out.
func (o Outlet) Discharge(b material.Bulk) (Discharge, error) {
	var f input.Faults
	o.check(&f)
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return Discharge{}, err
	}
	d := Discharge{Ratio: o.Width / b.ParticleSize}
	free := math.Max(0, o.Width-rim*b.ParticleSize)
	if o.Length == 0 {
		d.Flow = beverlooRound * b.BulkDensity * math.Sqrt(gravity*free) * free * free
	} else {
		along := math.Max(0, o.Length-rim*b.ParticleSize)
		d.Flow = beverlooSlot * b.BulkDensity * math.Sqrt(gravity*free) * free * along
	}
	if d.Ratio < 6*(1-1e-9) {
		d.Beyond = append(d.Beyond, fmt.Sprintf("outlet of %.3g particles' width, law for 6 and more: it may clog and flows in jerks", d.Ratio))
	}
	if b.ParticleSize < 0.4e-3 {
		d.Beyond = append(d.Beyond, fmt.Sprintf("particles of %.3g mm, law for 0.4 mm and more: air holds finer ones back", b.ParticleSize*1e3))
	}
	if b.Shape == "fluff" {
		d.Beyond = append(d.Beyond, hangs)
	}
	return d, nil
}

// SmallFlow returns what runs out of a round outlet of few particles' width [kg/s]: less
// than [Outlet.Discharge] tells, as the bulk loosens on its way through. It errs on an
// outlet or a bulk out of range and on a slot.
//
// C. Mankoc et al., Granular Matter 9 (2007) 407 (from memory), for R = D/d:
// W = C ρ √g (1 − ½ exp(−0.051 (R − 1))) (D − d)^(5/2). Assumed: C is Beverloo's 0.58,
// as both laws must agree at a wide outlet. An outlet of less than a particle lets
// nothing through.
func (o Outlet) SmallFlow(b material.Bulk) (float64, error) {
	var f input.Faults
	o.round(&f)
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return 0, err
	}
	free := math.Max(0, o.Width-b.ParticleSize)
	loose := 1 - 0.5*math.Exp(-0.051*free/b.ParticleSize)
	return beverlooRound * loose * b.BulkDensity * math.Sqrt(gravity*free) * free * free, nil
}

// Clogging is how likely grains lock to an arch over an outlet.
type Clogging struct {
	PerParticle float64  // probability that the next particle is the last, 0 to 1 [-]
	Probability float64  // that it clogs before the mass asked for is through, 0 to 1 [-]
	Ratio       float64  // Outlet.Width ÷ particle size [-]
	Beyond      []string // in words, where the law's stated range is left; nil inside it
}

const (
	perCube   = 0.155       // own fit, see Clogging [-]
	elongated = 6.15 / 4.94 // rice against spheres [-]
)

// Clogging returns how likely a round outlet clogs while a mass, 1e-6 to 1e9 [kg],
// runs through. It errs on an outlet, a bulk or a mass out of range and on a slot.
//
// Each particle is taken to be as likely the last as the one before, which makes the
// mass between clogs an exponential distribution (I. Zuriguel et al., Phys. Rev. E
// 71 (2005) 051303). There is no width from which on nothing clogs: the chance falls as
// exp(−β (D/d)³) (form: C. C. Thomas and D. J. Durian, Phys. Rev. Lett. 114 (2015) 178001).
// β = 0.155 is our own fit to Zuriguel's mean between clogs of spheres,
// 9900/(4.94 − D/d)^6.9 particles (from memory), met within a factor of 2.2
// from two to four and a half particles' width; wider ones are extrapolated and tell
// so in Beyond from 4.94 on.
//
// Assumed: pellets clog as spheres do, any other shape as rice, at 6.15/4.94 of the width
// (from memory); one particle for each cube of its size in the bulk; a flat floor, no
// shaking. Flake is safer judged by its diagonal, √2 of a square's edge. That grains
// stick or hook, as film does, is not in it: see [Hopper.CriticalOutlet]. The rule of
// the trade, six to eight particles (common practice, no source), is a probability
// small enough.
func (o Outlet) Clogging(b material.Bulk, mass float64) (Clogging, error) {
	var f input.Faults
	o.round(&f)
	f.Add(b.Validate())
	f.Between("screw.Outlet.Clogging: mass", mass, 1e-6, 1e9, "kg")
	if err := f.Err(); err != nil {
		return Clogging{}, err
	}
	c := Clogging{Ratio: o.Width / b.ParticleSize}
	spheres := c.Ratio
	if b.Shape != "pellets" {
		spheres /= elongated
	}
	c.PerParticle = math.Exp(-perCube * spheres * spheres * spheres)
	particles := mass / (b.BulkDensity * b.ParticleSize * b.ParticleSize * b.ParticleSize)
	c.Probability = -math.Expm1(particles * math.Log1p(-c.PerParticle))
	if spheres > 4.94 {
		c.Beyond = append(c.Beyond, fmt.Sprintf("outlet as of %.3g spheres' width, measured up to 4.94: extrapolated", spheres))
	}
	if b.Shape == "fluff" {
		c.Beyond = append(c.Beyond, hangs)
	}
	return c, nil
}

// Hopper is the part of a bin that narrows to its outlet.
type Hopper struct {
	HalfAngle float64 // of the wall from the vertical, 0 to 1.2 [rad]
	Slot      bool    // a wedge over a long slot; else a cone over a round hole
}

// Validate reports the fields out of range.
func (h Hopper) Validate() error {
	var f input.Faults
	f.Between("screw.Hopper.HalfAngle", h.HalfAngle, 0, 1.2, "rad")
	return f.Err()
}

// CriticalOutlet returns the width of outlet below which a bulk that sticks holds
// an arch [m], for a strength of its free face of 0 to 1e6 [Pa], as from
// [FlowFunction.CriticalStrength]. It errs on a hopper, a bulk or a strength out of
// range.
//
// A. W. Jenike, Bulletin 123, Univ. of Utah (1964), from memory: B = H σ/(ρ g), with
// H = 2 + θ/60° of a cone and 1 + θ/180° of a wedge, a fit to his chart. Range: mass
// flow, in which all of the bulk moves, see [MassFlowHalfAngle]; the grains' own size
// does not count here but in [Outlet.Clogging], and the wider outlet of both is needed.
func (h Hopper) CriticalOutlet(b material.Bulk, strength float64) (float64, error) {
	var f input.Faults
	f.Add(h.Validate())
	f.Add(b.Validate())
	f.Between("screw.Hopper.CriticalOutlet: strength", strength, 0, 1e6, "Pa")
	if err := f.Err(); err != nil {
		return 0, err
	}
	shape := 2 + h.HalfAngle*3/math.Pi
	if h.Slot {
		shape = 1 + h.HalfAngle/math.Pi
	}
	return shape * strength / (b.BulkDensity * gravity), nil
}

// FlowFunction is how strong a bulk is at a free face by what compacted it: a power
// law, Strength·(σ/1 kPa)^Exponent, fitted to a shear cell's readings.
type FlowFunction struct {
	Strength float64 // after 1 kPa, 1 to 1e5 [Pa]
	Exponent float64 // 0 to 0.95 [-]
}

// Validate reports the fields out of range.
func (y FlowFunction) Validate() error {
	var f input.Faults
	f.Between("screw.FlowFunction.Strength", y.Strength, 1, 1e5, "Pa")
	f.Between("screw.FlowFunction.Exponent", y.Exponent, 0, 0.95, "")
	return f.Err()
}

// CriticalStrength returns the strength at which an arch just holds [Pa]: where the
// bulk's is what the hopper compacts it with divided by the hopper's flow factor, 1 to 10 [-],
// which Jenike's charts give. It errs on fields or a flow factor out of range.
//
// A. W. Jenike, Bulletin 123 (1964), from memory; for a strength of 1 kPa after 1 kPa this is
// ff^(n/(1−n)) kPa.
func (y FlowFunction) CriticalStrength(flowFactor float64) (float64, error) {
	var f input.Faults
	f.Add(y.Validate())
	f.Between("screw.FlowFunction.CriticalStrength: flowFactor", flowFactor, 1, 10, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	const kPa = 1e3
	return kPa / flowFactor * math.Pow(y.Strength/kPa*flowFactor, 1/(1-y.Exponent)), nil
}

// MassFlowHalfAngle returns the widest half angle from the vertical at which a cone
// still empties as a whole, nothing standing at its wall [rad], for a bulk of an effective
// angle of friction, 0.35 to 1.4 [rad], on a wall of an angle of friction of 0.01 up to that
// [rad]; 0 where no cone is steep enough. It errs outside.
//
// Closed form of A. W. Jenike's chart, Bulletin 123 (1964), from memory:
// θ = 90° − ½ arccos((1 − sin δ)/(2 sin δ)) − ½ (φ + arcsin(sin φ/sin δ)). It is the very
// limit: 3 to 4° less is usual (common practice, no source). The angle of internal friction
// of a bulk that does not stick is its effective one.
func MassFlowHalfAngle(effective, wall float64) (float64, error) {
	var f input.Faults
	f.Between("screw.MassFlowHalfAngle: effective", effective, 0.35, 1.4, "rad")
	if f.None() {
		f.Between("screw.MassFlowHalfAngle: wall", wall, 0.01, effective, "rad")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	sin := math.Sin(effective)
	ratio := math.Min(1, math.Sin(wall)/sin)
	return math.Max(0, (math.Pi-math.Acos((1-sin)/(2*sin))-wall-math.Asin(ratio))/2), nil
}

// Tube is a straight upright part of a hopper, or the tube it drops into.
type Tube struct {
	Diameter  float64 // 4 times area over rim if not round, 1e-3 to 10 [m]
	Surcharge float64 // stress on the bulk's top, 0 to 1e7 [Pa]
}

// Validate reports the fields out of range.
func (u Tube) Validate() error {
	var f input.Faults
	f.Between("screw.Tube.Diameter", u.Diameter, 1e-3, 10, "m")
	f.Between("screw.Tube.Surcharge", u.Surcharge, 0, 1e7, "Pa")
	return f.Err()
}

// BulkStress is the stress in a bulk at rest in a tube.
type BulkStress struct {
	Down   float64 // on a level plane [Pa]
	Wall   float64 // square to the wall [Pa]
	Deep   float64 // Down far below the top [Pa]
	Length float64 // depth over which the difference to Deep falls to 1/e [m]
}

// StressAt returns the stress in a bulk at a depth below its top, 0 to 1000 [m]. It errs
// on a tube, a bulk or a depth out of range, and with [material.ErrNoData] without the
// bulk's WallFriction or StressRatio.
//
// H. A. Janssen, Z. VDI 39 (1895) 1045 (from memory): the wall's friction μ K σ bears the weight
// but for σ = ρgλ + (σ₀ − ρgλ) exp(−z/λ), λ = D/(4 μ K). Range: a bulk at rest that leans
// on the wall, friction fully called up, stress even over the section; filling and
// emptying change K. From three λ on, the level above no longer counts.
func (u Tube) StressAt(b material.Bulk, depth float64) (BulkStress, error) {
	var f input.Faults
	f.Add(u.Validate())
	f.Add(b.Validate())
	f.Between("screw.Tube.StressAt: depth", depth, 0, 1000, "m")
	if err := f.Err(); err != nil {
		return BulkStress{}, err
	}
	if b.WallFriction == 0 || b.StressRatio == 0 {
		return BulkStress{}, fmt.Errorf("%w: material.Bulk.WallFriction or StressRatio (%s)", material.ErrNoData, b.Name)
	}
	length := u.Diameter / (4 * math.Tan(b.WallFriction) * b.StressRatio)
	deep := b.BulkDensity * gravity * length
	down := -deep*math.Expm1(-depth/length) + u.Surcharge*math.Exp(-depth/length)
	return BulkStress{Down: down, Wall: b.StressRatio * down, Deep: deep, Length: length}, nil
}

// Stirrer is a ring of upright rods turning slowly in a bulk.
type Stirrer struct {
	Rods     int     // 1 to 100
	Diameter float64 // of a rod, 1e-4 to 0.1 [m]
	Depth    float64 // that a rod reaches below the bulk's top, 1e-3 to 10 [m]
	Radius   float64 // from shaft to rod, 1e-3 to 10 [m]
}

// Validate reports the fields out of range.
func (s Stirrer) Validate() error {
	var f input.Faults
	f.Count("screw.Stirrer.Rods", s.Rods, 1, 100)
	f.Between("screw.Stirrer.Diameter", s.Diameter, 1e-4, 0.1, "m")
	f.Between("screw.Stirrer.Depth", s.Depth, 1e-3, 10, "m")
	f.Between("screw.Stirrer.Radius", s.Radius, 1e-3, 10, "m")
	return f.Err()
}

// Torque returns what turns the stirrer in a bulk that flows freely [N·m], at any slow
// speed. It errs on a stirrer or a bulk out of range.
//
// R. Albert et al., Phys. Rev. Lett. 82 (1999) 205: a rod is held back by η ρ g d H²,
// η between 2 and 3 (from memory), here 2.5. Range: rods so far apart that each meets
// bulk at rest. Flake hooks and jams: a drive of ten times this torque that turns back
// when it stalls is usual (common practice, no source).
func (s Stirrer) Torque(b material.Bulk) (float64, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return 0, err
	}
	const eta = 2.5
	return float64(s.Rods) * s.Radius * eta * b.BulkDensity * gravity * s.Diameter * s.Depth * s.Depth, nil
}
