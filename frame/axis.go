package frame

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

const gravity = 9.80665 // standard acceleration of free fall (3rd CGPM, 1901) [m/s²]

// Axis is a gantry beam on elastic ends with what it carries at mid-span, where
// it is softest. The ends may turn about y and z (pinned) but not move along x.
type Axis struct {
	Beam Beam
	Ends EndStiffness
	// Rigidly fixed to the beam at mid-span; none is allowed. Together at most 1e6
	// times the mass of the beam, each centre within two lengths of the beam along x,
	// y and z.
	Bodies []Body
}

// EndStiffness is how firmly each end of the beam is held: the rail, its
// carriage and the frame below. 1e12 is as good as rigid.
type EndStiffness struct {
	Y    float64 // along y, each end, 1 to 1e15 [N/m]
	Z    float64 // along z, each end, 1 to 1e15 [N/m]
	Roll float64 // about x, each end, 1 to 1e15 [N·m/rad]
}

// Body is a rigid body such as a carriage, or a hopper with its fill.
type Body struct {
	Mass    float64    // 0 to 1e6 [kg]
	Offset  [3]float64 // centre of mass from the beam's axis at mid-span, x y z, -100 to 100 and within 2 lengths of the beam [m]
	Inertia [3]float64 // about its own centre of mass, axes x y z, which are taken as its principal ones; 0 for a point, to 1e8 [kg·m²]
}

// Mode is one natural vibration of an axis.
type Mode struct {
	Frequency float64 // [Hz]
	Shape     string  // the motion with most of the strain energy, named below
	Sway      float64 // "sway": share of the strain energy in motion of mid-span along y [-]
	Vertical  float64 // "vertical bending": share in motion along z [-]
	Twist     float64 // "twist": share in turning about x [-]
	Pitch     float64 // "pitch": share in turning about y, mid-span at rest [-]
	Yaw       float64 // "yaw": share in turning about z, mid-span at rest [-]
}

// ErrNoModes reports that the search for the eigenvalues of an axis did not end.
// No axis within the ranges is known that does it.
var ErrNoModes = errors.New("no eigenvalues found")

// Validate reports fields out of range, an inertia that no body can have, and
// bodies so heavy or so far out that the beam's own mass is lost in rounding.
func (a Axis) Validate() error {
	var f input.Faults
	f.Add(a.Beam.Validate())
	f.Between("frame.EndStiffness.Y", a.Ends.Y, 1, 1e15, "N/m")
	f.Between("frame.EndStiffness.Z", a.Ends.Z, 1, 1e15, "N/m")
	f.Between("frame.EndStiffness.Roll", a.Ends.Roll, 1, 1e15, "N·m/rad")
	for i, b := range a.Bodies {
		if err := b.Validate(); err != nil {
			f.Add(fmt.Errorf("frame.Axis.Bodies[%d]: %w", i, err))
		}
	}
	if f.None() {
		f.Between("frame.Axis.Bodies: mass together", a.mass(), 0, mostAttached*a.Beam.Mass(), "kg")
		reach := 2 * a.Beam.Length
		for i, b := range a.Bodies {
			for j, r := range b.Offset {
				if math.Abs(r) > reach {
					f.Refuse(fmt.Sprintf("frame.Axis.Bodies[%d].Offset %s", i, directions[j]), r, "m",
						input.Range(-reach, reach, "m")+", two lengths of the beam")
				}
			}
		}
	}
	return f.Err()
}

var directions = [3]string{"x", "y", "z"}

// Validate reports fields out of range and an inertia that no body can have.
func (b Body) Validate() error {
	var f input.Faults
	f.Between("frame.Body.Mass", b.Mass, 0, 1e6, "kg")
	f.Between("frame.Body.Offset x", b.Offset[0], -100, 100, "m")
	f.Between("frame.Body.Offset y", b.Offset[1], -100, 100, "m")
	f.Between("frame.Body.Offset z", b.Offset[2], -100, 100, "m")
	f.Between("frame.Body.Inertia x", b.Inertia[0], 0, 1e8, "kg·m²")
	f.Between("frame.Body.Inertia y", b.Inertia[1], 0, 1e8, "kg·m²")
	f.Between("frame.Body.Inertia z", b.Inertia[2], 0, 1e8, "kg·m²")
	if f.None() {
		sum := b.Inertia[0] + b.Inertia[1] + b.Inertia[2]
		for j, i := range b.Inertia {
			if i > (sum-i)*(1+1e-9) { // a flat plate lies on the limit
				f.Refuse("frame.Body.Inertia "+directions[j], i, "kg·m²", "at most the sum of the other two, "+input.WithUnit(sum-i, "kg·m²"))
			}
		}
	}
	return f.Err()
}

// mass returns the mass of the bodies [kg].
func (a *Axis) mass() float64 {
	sum := 0.0
	for _, b := range a.Bodies {
		sum += b.Mass
	}
	return sum
}

// inertia returns the bodies' inertia in the motions of mid-span: along y and z,
// about x, y and z. The velocity of a centre of mass at r is v + ω×r; the ends hold
// mid-span still along x.
func (a *Axis) inertia() (m [motions][motions]float64) {
	for _, b := range a.Bodies {
		x, y, z := b.Offset[0], b.Offset[1], b.Offset[2]
		add := func(i, j int, v float64) {
			m[i][j] += v
			if i != j {
				m[j][i] += v
			}
		}
		add(0, 0, b.Mass)
		add(1, 1, b.Mass)
		add(0, 2, -b.Mass*z)
		add(0, 4, b.Mass*x)
		add(1, 2, b.Mass*y)
		add(1, 3, -b.Mass*x)
		add(2, 2, b.Inertia[0]+b.Mass*(y*y+z*z))
		add(3, 3, b.Inertia[1]+b.Mass*(z*z+x*x))
		add(4, 4, b.Inertia[2]+b.Mass*(x*x+y*y))
		add(2, 3, -b.Mass*x*y)
		add(2, 4, -b.Mass*x*z)
		add(3, 4, -b.Mass*y*z)
	}
	return m
}

// span is the beam in one of its motions, held at both ends and loaded at
// mid-span and along its length as its inertia is when it moves as a rigid body.
// Shapes are scaled to a unit motion of mid-span, means weighted with that inertia.
type span struct {
	even        float64 // motion under the load along the length ÷ under the same load at mid-span
	mean        float64 // mean of the shape under the load at mid-span
	meanEven    float64 // mean of the shape under the load along the length
	square      float64 // mean square of the former
	product     float64 // mean product of both
	squaresEven float64 // mean square of the latter
}

var (
	// w = 3ξ−4ξ³ to mid-span and (16/5)(ξ−2ξ³+ξ⁴), ξ from an end as part of the length.
	bending = span{even: 5.0 / 8, mean: 5.0 / 8, meanEven: 16.0 / 25, square: 17.0 / 35, product: 277.0 / 560, squaresEven: 3968.0 / 7875}
	// 2ξ to mid-span and 4ξ(1−ξ).
	torsion = span{even: 1.0 / 2, mean: 1.0 / 2, meanEven: 2.0 / 3, square: 1.0 / 3, product: 5.0 / 12, squaresEven: 8.0 / 15}
	// w = η−3η²/2+η³/2 and η−10η³/7+3η⁵/7, η from mid-span as part of half the length.
	turning = span{even: 7.0 / 40, mean: 7.0 / 40, meanEven: 16.0 / 49, square: 2.0 / 35, product: 381.0 / 3920, squaresEven: 640.0 / 3773}
)

// static returns the motion of mid-span under a unit acceleration of all inertia,
// split into the part of the ends, of the load at mid-span and of that along the
// length. own is the inertia of the beam, mid that of the bodies; stiffness is
// that of the beam against a load at mid-span, ends that of both ends together.
func (s *span) static(own, mid, stiffness, ends float64) (rigid, point, even float64) {
	return (own + mid) / ends, mid / stiffness, own * s.even / stiffness
}

// ritz returns stiffness and beam inertia referred to a unit motion of mid-span in
// the shape of that static load, and the mean of the shape over the beam's inertia.
func (s *span) ritz(own, mid, stiffness, ends float64) (k, m, all float64) {
	c, p, u := s.static(own, mid, stiffness, ends)
	w := c + p + u
	c, p, u = c/w, p/w, u/w
	// In a static shape the strain energy is half the work of the load.
	mean := p*s.mean + u*s.meanEven
	k = (own*(c+mean) + mid) / w
	m = own * (c*(c+2*mean) + p*p*s.square + 2*p*u*s.product + u*u*s.squaresEven)
	return k, m, c + mean
}

// motions is the number of ways in which mid-span of an axis moves: along y and
// z, about x, y and z.
const motions = 5

var shapes = [motions]string{"sway", "vertical bending", "twist", "pitch", "yaw"}

// Modes returns the lowest three natural vibrations, rising in frequency. It errs
// on an axis out of range and with [ErrNoModes]; with [ErrStubby] the modes are returned too.
//
// Method: Rayleigh-Ritz with a shape for each of the five motions of mid-span,
// that of the beam on its end springs under the inertia of beam and bodies moving
// so. The frequencies are at or above the exact ones of the same model in their
// order: over random axes the first usually by 0.1 % and at most by about 0.7 %, the
// second usually within 0.3 % and at most 5 %, the third usually within 3 %; but
// a flat or lightly laden beam can have a higher bending mode of its own below
// the third told here.
//
// The ends hold the beam still along x. On a soft drive the motion along x is one
// mode more, and it bends the others where its own frequency √(k/m)/2π comes near
// theirs. With 1e6 N/m along x at each end and 4.2 kg off-centre by 0.1 m it lies
// at 87 Hz; modes at 40 and 59 Hz stay within 0.03 %, one at 118 Hz within 0.2 %.
func (a Axis) Modes() ([3]Mode, error) {
	if err := a.Validate(); err != nil {
		return [3]Mode{}, err
	}
	v, err := a.vibrations()
	if err != nil {
		return [3]Mode{}, err
	}
	var modes [3]Mode
	for i := range modes {
		share := v.energy(i)
		most := 0
		for j := range motions {
			if share[j] > share[most] {
				most = j
			}
		}
		modes[i] = Mode{
			Frequency: v.frequency(i),
			Shape:     shapes[most],
			Sway:      share[0], Vertical: share[1], Twist: share[2], Pitch: share[3], Yaw: share[4],
		}
	}
	return modes, a.Beam.slender(math.Pi)
}

// Ringing returns what a move of both ends along y leaves at a point, x y z from
// the beam's axis at mid-span [m], that goes with mid-span, such as a nozzle: its
// motion along y in the free vibrations of the modes, added up as if all peaked
// together. Damping ratio ζ is of all modes, 0 to 0.3 [-]. It errs on arguments out
// of range and with [ErrNoModes]; with [ErrStubby] the values are returned too.
//
// Each mode takes part by its participation factor Γ = φᵀM1/φᵀMφ and moves the
// point by Γφ: A. K. Chopra, Dynamics of Structures, ch. 13, from memory. Modes as
// for [Axis.Modes], five of them; the beam's own higher ones are left out. It is an
// estimate, no bound: over random axes and points Worst is within 2 % of the sum
// over the modes of finite elements nine times in ten, and 0.8 to 1.15 of it but
// where two modes lie within some 10 %, when 0.54 to 1.7 of it was seen.
func (a Axis) Ringing(m Move, damping float64, point [3]float64) (Ringing, error) {
	var f input.Faults
	tones, err := a.Tones(damping, point)
	if tones == nil {
		f.Add(err)
	}
	f.Add(m.Validate())
	if err := f.Err(); err != nil {
		return Ringing{}, err
	}
	return m.ringingOf(tones), err
}

// vibrations are the modes of the five motions of mid-span, lowest first.
type vibrations struct {
	values  [motions]float64 // 1/ω² [s²]
	vectors mat.Dense        // column by column, in motions times √stiffness
	k       [motions]float64 // stiffness of each motion
	load    [motions]float64 // inertia that an acceleration of the ends along y calls up
}

func (a *Axis) vibrations() (*vibrations, error) {
	var v vibrations
	m := a.inertia()
	own, l := a.Beam.Mass(), a.Beam.Length
	vertical, horizontal := a.Beam.rigidity()
	for i := range motions {
		v.load[i] = m[0][i]
	}
	var beam [motions]float64
	var mean float64
	v.k[0], beam[0], mean = bending.ritz(own, m[0][0], 48*horizontal, 2*a.Ends.Y)
	v.k[1], beam[1], _ = bending.ritz(own, m[1][1], 48*vertical, 2*a.Ends.Z)
	v.k[2], beam[2], _ = torsion.ritz(a.Beam.rollInertia(), m[2][2], a.Beam.torsional(), 2*a.Ends.Roll)
	v.k[3], beam[3], _ = turning.ritz(own*l*l/12, m[3][3], 12*vertical*l*l, 0.5*l*l*a.Ends.Z)
	v.k[4], beam[4], _ = turning.ritz(own*l*l/12, m[4][4], 12*horizontal*l*l, 0.5*l*l*a.Ends.Y)
	v.load[0] += own * mean

	// With every stiffness scaled to 1 the eigenvalues are 1/ω², so that the lowest
	// frequencies are the ones found best, and the squares of a vector's components
	// are shares of strain energy.
	scaled := mat.NewSymDense(motions, nil)
	for i := range motions {
		m[i][i] += beam[i]
		for j := range i + 1 {
			scaled.SetSym(i, j, m[i][j]/(math.Sqrt(v.k[i])*math.Sqrt(v.k[j])))
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(scaled, true) {
		return nil, fmt.Errorf("frame.Axis: %w", ErrNoModes)
	}
	rising := eigen.Values(nil)
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	v.vectors = *mat.NewDense(motions, motions, nil)
	for i := range motions {
		// Rounding can turn an eigenvalue far below the largest negative.
		v.values[i] = max(rising[motions-1-i], 1e-16*rising[motions-1])
		v.vectors.SetCol(i, mat.Col(nil, motions-1-i, &vectors))
	}
	return &v, nil
}

// energy returns the shares of the strain energy of a mode in the five motions.
func (v *vibrations) energy(mode int) (share [motions]float64) {
	for j := range motions {
		share[j] = v.vectors.At(j, mode) * v.vectors.At(j, mode)
	}
	return share
}

func (v *vibrations) frequency(mode int) float64 {
	return 1 / (2 * math.Pi * math.Sqrt(v.values[mode]))
}

// response returns how far a mode moves a point along y as a part of what it would
// if all moved as one mass on one spring there.
func (v *vibrations) response(mode int, point [3]float64) float64 {
	at := [motions]float64{1, 0, -point[2], 0, point[0]}
	var moved, called float64
	for j := range motions {
		q := v.vectors.At(j, mode) / math.Sqrt(v.k[j])
		moved += q * at[j]
		called += q * v.load[j]
	}
	return called / v.values[mode] * moved
}

// rollInertia returns the beam's moment of inertia about its axis [kg·m²].
func (b *Beam) rollInertia() float64 {
	return b.Metal.Density * (b.Section.Iy + b.Section.Iz) * b.Length
}

// torsional returns moment ÷ twist at mid-span between ends held against roll [N·m/rad].
func (b *Beam) torsional() float64 { return 4 * b.Metal.Shear() * b.Section.J / b.Length }

// Stiffness returns the static stiffness at mid-span, ends included: along y and
// z [N/m] and about x [N·m/rad]. It errs on an axis out of range.
func (a Axis) Stiffness() (y, z, roll float64, err error) {
	if err := a.Validate(); err != nil {
		return 0, 0, 0, err
	}
	v, h := a.Beam.rigidity()
	series := func(span, end float64) float64 { return 1 / (1/span + 1/(2*end)) }
	return series(48*h, a.Ends.Y), series(48*v, a.Ends.Z), series(a.Beam.torsional(), a.Ends.Roll), nil
}

// Sag returns how far mid-span sinks under the weight of beam and bodies, ends
// included [m]. It errs on an axis out of range.
func (a Axis) Sag() (float64, error) {
	if err := a.Validate(); err != nil {
		return 0, err
	}
	v, _ := a.Beam.rigidity()
	rigid, point, even := bending.static(a.Beam.Mass(), a.mass(), 48*v, 2*a.Ends.Z)
	return gravity * (rigid + point + even), nil
}

// Dunkerley returns a frequency that the first vertical bending is never below
// while the bodies sit on the beam's axis [Hz]; with [Axis.Modes] it holds the
// exact one between two bounds. Offsets are not counted. It errs on an axis out of range.
//
// Method: 1/ω² is at most the sum of 1/ω² of each mass alone and each spring alone
// (S. Dunkerley, Phil. Trans. R. Soc. A 185 (1894) 279; R. Southwell for the springs).
func (a Axis) Dunkerley() (float64, error) {
	if err := a.Validate(); err != nil {
		return 0, err
	}
	v, _ := a.Beam.rigidity()
	own, mid := a.Beam.Mass(), a.mass()
	const pi4 = math.Pi * math.Pi * math.Pi * math.Pi
	sum := own/(pi4*v) + mid/(48*v) + (own+mid)/(2*a.Ends.Z)
	return 1 / (2 * math.Pi * math.Sqrt(sum)), nil
}
