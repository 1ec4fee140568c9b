package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// KeySize is the section of a parallel key and of the two grooves it lies in.
type KeySize struct {
	Width      float64 // b, 1e-4 to 1 [m]
	Height     float64 // h, 1e-4 to 1 [m]
	ShaftDepth float64 // t₁, of the groove in the shaft, 0.1 to 0.9 of Height [m]
	HubDepth   float64 // t₂, of the groove in the hub; leaves air over the key, so that Height − ShaftDepth bears [m]
}

// KeyForm is the shape of a parallel key's ends.
type KeyForm int

const (
	RoundEnds  KeyForm = iota // form A: bears on its length less its width
	SquareEnds                // form B: bears on its whole length
)

// String names the form.
func (k KeyForm) String() string {
	switch k {
	case RoundEnds:
		return "form A, round ends"
	case SquareEnds:
		return "form B, square ends"
	}
	return fmt.Sprintf("KeyForm(%d)", int(k))
}

// keySizes in millimetres; upTo includes its own diameter.
var keySizes = [...]struct{ upTo, width, height, shaft, hub float64 }{
	{8, 2, 2, 1.2, 1}, {10, 3, 3, 1.8, 1.4}, {12, 4, 4, 2.5, 1.8}, {17, 5, 5, 3, 2.3},
	{22, 6, 6, 3.5, 2.8}, {30, 8, 7, 4, 3.3}, {38, 10, 8, 5, 3.3}, {44, 12, 8, 5, 3.3},
	{50, 14, 9, 5.5, 3.8}, {58, 16, 10, 6, 4.3}, {65, 18, 11, 7, 4.4}, {75, 20, 12, 7.5, 4.9},
	{85, 22, 14, 9, 5.4}, {95, 25, 14, 9, 5.4}, {110, 28, 16, 10, 6.4}, {130, 32, 18, 11, 7.4},
}

// StandardKey returns the parallel key for a shaft diameter, 6e-3 to 0.13 [m]: DIN 6885-1
// (1968), whose sections are those of ISO 773. A range is over its first and up to and
// with its second diameter: 12 mm takes 4 × 4. The shaft of 6 mm itself is given the
// least key; below it there is none, and a flat, a clamp or a press fit has to do.
func StandardKey(diameter float64) (KeySize, error) {
	var f input.Faults
	// A nanometre of slack, since 12 mm written in metres has rounding.
	f.Between("drive.StandardKey: diameter", diameter, 6e-3-1e-9, 0.13+1e-9, "m")
	if err := f.Err(); err != nil {
		return KeySize{}, err
	}
	i := 0
	for diameter > keySizes[i].upTo*1e-3+1e-9 && i < len(keySizes)-1 {
		i++
	}
	k := keySizes[i]
	return KeySize{Width: k.width * 1e-3, Height: k.height * 1e-3, ShaftDepth: k.shaft * 1e-3, HubDepth: k.hub * 1e-3}, nil
}

// KeyJoint is a shaft that drives a hub by parallel keys.
type KeyJoint struct {
	Diameter float64 // of the shaft, 1e-3 to 10 [m]
	Size     KeySize
	Form     KeyForm
	Length   float64 // of the key, ends counted, 1e-4 to 10 [m]
	Keys     int     // 1, or 2 opposite each other [-]
}

// KeyStrength holds the yield strengths of the three parts of a key joint.
type KeyStrength struct {
	Key   float64 // 1e5 to 1e10 [Pa]
	Shaft float64 // 1e5 to 1e10 [Pa]
	Hub   float64 // 1e5 to 1e10 [Pa]
}

// KeyStress is what the more loaded key bears.
type KeyStress struct {
	Force  float64  // at the shaft's surface [N]
	Shear  float64  // in the key [Pa]
	Shaft  float64  // pressure of the key on the groove in the shaft [Pa]
	Hub    float64  // pressure of the key on the groove in the hub [Pa]
	Beyond []string // in words, where the rule's range is left; nil inside it
}

const (
	secondKey   = 0.75 // share of their number that two keys carry
	keyCarries  = 1.3  // diameters of bearing length beyond which a key carries no more
	keyBears    = 0.9  // of the yield strength is allowed as pressure
	shearYield  = 0.577
	mostTorque  = 1e8 // [N·m]
	leastJoint  = 1e-3
	leastLength = 1e-4
)

// Validate reports the fields out of range.
func (k KeyJoint) Validate() error {
	var f input.Faults
	k.check(&f)
	return f.Err()
}

func (k *KeyJoint) check(f *input.Faults) {
	k.checkSection(f)
	f.Between("drive.KeyJoint.Length", k.Length, k.leastLength(), 10, "m")
}

// leastLength leaves round ends a hundredth of the width between them.
func (k *KeyJoint) leastLength() float64 {
	if k.Form == RoundEnds {
		return 1.01 * max(leastLength, min(k.Size.Width, 1))
	}
	return leastLength
}

func (k *KeyJoint) checkSection(f *input.Faults) {
	f.Between("drive.KeyJoint.Diameter", k.Diameter, leastJoint, 10, "m")
	f.Between("drive.KeySize.Width", k.Size.Width, leastLength, 1, "m")
	f.Between("drive.KeySize.Height", k.Size.Height, leastLength, 1, "m")
	h := max(leastLength, min(k.Size.Height, 1))
	f.Between("drive.KeySize.ShaftDepth", k.Size.ShaftDepth, 0.1*h, 0.9*h, "m")
	f.Count("drive.KeyJoint.Form", int(k.Form), int(RoundEnds), int(SquareEnds))
	f.Count("drive.KeyJoint.Keys", k.Keys, 1, 2)
}

func (s *KeyStrength) check(f *input.Faults) {
	f.Between("drive.KeyStrength.Key", s.Key, 1e5, 1e10, "Pa")
	f.Between("drive.KeyStrength.Shaft", s.Shaft, 1e5, 1e10, "Pa")
	f.Between("drive.KeyStrength.Hub", s.Hub, 1e5, 1e10, "Pa")
}

// Stress returns what a torque, 0 to 1e8 [N·m], does to the key and its grooves, with
// F = 2T/d on bearing length l, all pressures even along it:
//
//	τ = F/(b·l),  p_shaft = F/(t₁·l),  p_hub = F/((h − t₁)·l)
//
// as DIN 6892, method C (from memory); the half-height rule of textbooks, 2F/(h·l), is
// less by up to a third at the hub. Two keys carry 1.5 times one, not twice, since
// they never bear alike. A bearing length above 1.3 diameters says so in Beyond: the far
// end carries next to nothing. The grip of the fit under the key is not counted.
//
// A key bears steady torque; torque that changes sign batters its groove, and the groove
// weakens the shaft by more than its section (a fatigue notch factor of 2 is not rare).
func (k KeyJoint) Stress(torque float64) (KeyStress, error) {
	var f input.Faults
	k.check(&f)
	f.Between("drive.KeyJoint.Stress: torque", torque, 0, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return KeyStress{}, err
	}
	return k.stress(torque), nil
}

func (k *KeyJoint) stress(torque float64) KeyStress {
	l, force := k.bearingLength(), k.force(torque)
	s := KeyStress{
		Force: force,
		Shear: force / (k.Size.Width * l),
		Shaft: force / (k.Size.ShaftDepth * l),
		Hub:   force / ((k.Size.Height - k.Size.ShaftDepth) * l),
	}
	if l > keyCarries*k.Diameter*(1+1e-9) {
		s.Beyond = []string{fmt.Sprintf("key bears on %.3g diameters, rule for %g and less: its far end carries next to nothing", l/k.Diameter, keyCarries)}
	}
	return s
}

func (k *KeyJoint) force(torque float64) float64 {
	force := 2 * torque / k.Diameter
	if k.Keys == 2 {
		force /= 2 * secondKey
	}
	return force
}

func (k *KeyJoint) bearingLength() float64 {
	if k.Form == RoundEnds {
		return k.Length - k.Size.Width
	}
	return k.Length
}

// Utilisations compares, for a torque as in Stress, the key's shear with 0.577 of its yield
// strength, and the pressures on shaft and hub with 0.9 of the yield strength of the
// softer of key and groove (DIN 6892, method C, for a ductile metal; from memory). An
// overloaded key lets go at once: what hangs on it, and what it holds up, is then free.
func (k KeyJoint) Utilisations(torque float64, strength KeyStrength) ([3]material.Utilisation, error) {
	var f input.Faults
	k.check(&f)
	strength.check(&f)
	f.Between("drive.KeyJoint.Utilisations: torque", torque, 0, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return [3]material.Utilisation{}, err
	}
	s, c := k.stress(torque), strength.capacities()
	const method = "DIN 6892 method C, 0.9 of yield of the softer"
	return [3]material.Utilisation{
		{Part: "key shear", Demand: s.Shear, Capacity: c[0], Unit: "Pa", Method: "mean shear, 0.577 of yield"},
		{Part: "key groove in shaft", Demand: s.Shaft, Capacity: c[1], Unit: "Pa", Method: method},
		{Part: "key groove in hub", Demand: s.Hub, Capacity: c[2], Unit: "Pa", Method: method},
	}, nil
}

// capacities in shear of the key, pressure on the shaft and on the hub.
func (s *KeyStrength) capacities() [3]float64 {
	return [3]float64{shearYield * s.Key, keyBears * min(s.Key, s.Shaft), keyBears * min(s.Key, s.Hub)}
}

// LengthFor returns the least length of key [m] with which the least safety of
// Utilisations is the one wanted, 0.1 to 100 [-]; Length itself is not read. Choose the
// next standard length; one that bears on more than 1.3 diameters asks for a second key
// or a thicker shaft.
func (k KeyJoint) LengthFor(torque float64, strength KeyStrength, safety float64) (float64, error) {
	var f input.Faults
	k.checkSection(&f)
	strength.check(&f)
	f.Between("drive.KeyJoint.LengthFor: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.KeyJoint.LengthFor: safety", safety, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	c, bears := strength.capacities(), k.Size.Height-k.Size.ShaftDepth
	l := safety * k.force(torque) / min(c[0]*k.Size.Width, c[1]*k.Size.ShaftDepth, c[2]*bears)
	if k.Form == RoundEnds {
		l += k.Size.Width
	}
	return math.Max(k.leastLength(), l), nil
}
