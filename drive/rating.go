package drive

import (
	"math"
	"slices"

	"meltflight/internal/input"
	"meltflight/material"
)

// ToothMaterial is what rating asks of one gear of a pair.
type ToothMaterial struct {
	Young      float64  // modulus of elasticity, 1e7 to 1e12 [Pa]
	Poisson    float64  // 0 to 0.5 [-]
	RootLimit  float64  // nominal bending stress number σ_Flim, such as of material.GearSteel.Root, 1e5 to 1e10 [Pa]
	FlankLimit float64  // allowable contact stress σ_Hlim, such as of material.GearSteel.Contact, 1e5 to 1e10 [Pa]
	Life       GearLife // zero to bear for any number of cycles what it bears for ever
	Cycles     float64  // load cycles of one tooth, 0 to 1e15 [-]
	Reversed   bool     // bent both ways, as a planet's or idler's teeth: the root bears 0.7
	Rim        float64  // metal under the root, or 0 for a solid gear; see RimFactor [m]
}

// GearFactors is what makes the stress larger than that of an even load, and the flank's
// bearing less than a test gear's.
type GearFactors struct {
	Application float64 // K_A, unevenness of motor and machine, 1 to 10 [-]
	Dynamic     float64 // K_v, the teeth's own dynamics, such as of BarthFactor, 1 to 10 [-]
	RootFace    float64 // K_Fβ, uneven along the face, for the root, 1 to 10 [-]
	FlankFace   float64 // K_Hβ, the same for the flank, 1 to 10 [-]
	Sharing     float64 // K_α, uneven among the teeth in contact; of planets too unless a LoadShare counts it, 1 to 10 [-]
	Surface     float64 // Z_L·Z_v·Z_R of the flank's lubricant, speed and roughness, 0.3 to 1.5 [-]
}

// CommonGearFactors returns factors for a slow small gear without better knowledge:
// application 1.25, dynamic 1.1, face 1.2 for the root and 1.3 for the flank, sharing
// 1.1 (common practice, no source), surface 0.85 as ISO 6336-2 has it for teeth that
// were hobbed, not ground (from memory).
func CommonGearFactors() GearFactors {
	return GearFactors{Application: 1.25, Dynamic: 1.1, RootFace: 1.2, FlankFace: 1.3, Sharing: 1.1, Surface: 0.85}
}

// GearRating is the stresses of a pair; of two numbers the first is the pinion's.
type GearRating struct {
	Force        float64                 // F_t, tangential at the reference circle [N]
	Root         [2]RootForm             // with the load at the outer point of single contact
	NominalRoot  [2]float64              // σ_F0, under an even load [Pa]
	RootStress   [2]float64              // σ_F [Pa]
	Elastic      float64                 // Z_E [√Pa]
	Zone         float64                 // Z_H [-]
	Overlap      float64                 // Z_ε [-]
	Single       [2]float64              // Z_B and Z_D [-]
	NominalFlank float64                 // σ_H0, at the pitch point under an even load [Pa]
	FlankStress  [2]float64              // σ_H, at the inner point of single contact [Pa]
	Utilisations [4]material.Utilisation // roots of pinion and wheel, flanks of pinion and wheel
	Interferes   bool                    // a tip reaches past its mate's involute: contact is counted as of a shorter one
	ContactRatio float64                 // ε_α [-]
	OverlapRatio float64                 // ε_β [-]
	Beyond       []string                // what lies outside the standard's range, in words
}

const (
	rootMethod       = "ISO 6336-3 method B"
	rootMethodRing   = "ISO 6336-3 method B, ring as a rack of its height"
	flankMethod      = "ISO 6336-2 method B"
	testGearNotch    = 2 // Y_ST, of the reference test gear
	tooSteep         = "helix above 30°, where ISO 6336 gives no helix factor"
	tooManyInContact = "contact ratio above 2 (2.5 of virtual wheels): no point of single contact, rated as at 2"
)

// Rate rates a pair for a torque of the pinion, 0 to 1e8 [N·m], in the contact that Mesh
// finds; it refuses what Mesh does, but for ring and pinion tips that foul each other, and a transverse contact
// ratio below 1, which the formulas do not know.
//
// ISO 6336-2 and -3:2006, method B (from memory):
//
//	σ_F = F_t/(b·m)·Y_F·Y_S·Y_β·Y_B·K_A·K_v·K_Fβ·K_α            against  2·σ_Flim·Y_NT
//	σ_H = Z_B,D·Z_H·Z_E·Z_ε·Z_β·√(F_t/(d₁·b)·(u ± 1)/u·K_A·K_v·K_Hβ·K_α)   against  σ_Hlim·Z_NT·Z_L·Z_v·Z_R
//
// Y_F has the load at the outer point of single contact, and so there is no Y_ε. The
// root's factors of size (1 up to 5 mm of module), roughness and notch sensitivity (0.95
// where Y_S is of a sharpness below 1.5) are taken as 1, and so are Z_W and Z_X. Z_β is 1/√cos β as in the
// corrigendum of 2008. A flank bears the square of the safety in load.
func (g GearPair) Rate(torque float64, teeth [2]ToothMaterial, k GearFactors) (GearRating, error) {
	var f input.Faults
	g.check(&f)
	f.Between("drive.GearPair.Rate: torque", torque, 0, 1e8, "N·m")
	teeth[0].check(&f, "drive.GearPair.Rate: pinion")
	teeth[1].check(&f, "drive.GearPair.Rate: wheel")
	k.check(&f)
	if err := f.Err(); err != nil {
		return GearRating{}, err
	}
	var r GearRating
	if e := g.engage(&f); f.None() {
		g.rate(&f, &e, &r, torque, &teeth, &k)
	}
	if err := f.Err(); err != nil {
		return GearRating{}, err
	}
	return r, nil
}

func (g *GearPair) rate(f *input.Faults, e *engagement, r *GearRating, torque float64, teeth *[2]ToothMaterial, k *GearFactors) {
	r.Root = g.roots(f, e, false)
	diameter := 2 * e.radius[0] * g.Module
	r.Force = 2 * torque / diameter
	r.ContactRatio, r.OverlapRatio, r.Interferes = e.ratio, e.overlap, e.cut
	load := k.Application * k.Dynamic * k.Sharing
	depth := g.Rack.Addendum + g.Rack.Dedendum
	even := r.Force / (g.Face * g.Module) * helixRoot(g.Helix, e.overlap)
	for i := range teeth {
		rim := rimFactorOf(f, teeth[i].Rim/g.Module, depth, g.Ring && i == 1)
		r.NominalRoot[i] = even * r.Root[i].Stress()
		r.RootStress[i] = r.NominalRoot[i] * rim * load * k.RootFace
		r.Beyond = once(r.Beyond, r.Root[i].Beyond)
	}

	r.Elastic = elastic(teeth[0].Young, teeth[0].Poisson, teeth[1].Young, teeth[1].Poisson)
	r.Zone = math.Sqrt(2*e.cosBaseHelix*e.cosWorking/e.sinWorking) / e.cosAngle
	r.Overlap = overlap(e)
	r.NominalFlank = r.Zone * r.Elastic * r.Overlap / math.Sqrt(e.cosHelix) * math.Sqrt(r.Force/(diameter*g.Face)*g.curved())
	r.Single = g.single(e)
	flank := r.NominalFlank * math.Sqrt(load*k.FlankFace)
	r.FlankStress = [2]float64{flank * r.Single[0], flank * r.Single[1]}

	ringMethod := rootMethod
	if g.Ring {
		ringMethod = rootMethodRing
	}
	r.Utilisations = [4]material.Utilisation{
		rootOf("pinion tooth root", r.RootStress[0], teeth[0].root(), rootMethod),
		rootOf("wheel tooth root", r.RootStress[1], teeth[1].root(), ringMethod),
		rootOf("pinion flank", r.FlankStress[0], teeth[0].flank(k.Surface), flankMethod),
		rootOf("wheel flank", r.FlankStress[1], teeth[1].flank(k.Surface), flankMethod),
	}
	if g.Helix > math.Pi/6 {
		r.Beyond = append(r.Beyond, tooSteep)
	}
	if e.ratio/(e.cosBaseHelix*e.cosBaseHelix) > 2 {
		r.Beyond = append(r.Beyond, tooManyInContact)
	}
}

// once appends what was not said yet.
func once(said, more []string) []string {
	for _, s := range more {
		if !slices.Contains(said, s) {
			said = append(said, s)
		}
	}
	return said
}

func (m *ToothMaterial) root() float64 {
	limit := testGearNotch * m.RootLimit * m.Life.Root.factor(m.Cycles)
	if m.Reversed {
		limit *= reversedBending
	}
	return limit
}

func (m *ToothMaterial) flank(surface float64) float64 {
	return m.FlankLimit * m.Life.Flank.factor(m.Cycles) * surface
}

// helixRoot is Y_β.
func helixRoot(helix, overlap float64) float64 {
	return 1 - math.Min(1, overlap)*math.Min(helix, math.Pi/6)/(2*math.Pi/3)
}

// elastic is Z_E.
func elastic(young1, poisson1, young2, poisson2 float64) float64 {
	return 1 / math.Sqrt(math.Pi*((1-poisson1*poisson1)/young1+(1-poisson2*poisson2)/young2))
}

// overlap is Z_ε.
func overlap(e *engagement) float64 {
	if e.overlap >= 1 {
		return math.Sqrt(1 / e.ratio)
	}
	return math.Sqrt((4-math.Min(4, e.ratio))/3*(1-e.overlap) + e.overlap/e.ratio)
}

// curved is (u ± 1)/u.
func (g *GearPair) curved() float64 {
	return 1 + g.side()*float64(g.Pinion.Teeth)/float64(g.Wheel.Teeth)
}

// single is Z_B and Z_D: stress at the inner points of single contact over that at the
// pitch point, by the radii of curvature, at least 1. An overlap ratio takes it away.
func (g *GearPair) single(e *engagement) (z [2]float64) {
	a, b := e.radii(e.touch, g.Ring)
	for i, x := range [2]float64{e.end - e.pitch, e.start + e.pitch} {
		c, d := e.radii(x, g.Ring)
		m := math.Sqrt(a * b / (math.Max(c, leastCurve) * math.Max(d, leastCurve)))
		z[i] = math.Max(1, m-math.Min(1, e.overlap)*(m-1))
	}
	if g.Ring {
		z[1] = 1
	}
	return z
}

const leastCurve = 0.01 // of a flank at its base circle, worn in; in modules

func (m *ToothMaterial) check(f *input.Faults, owner string) {
	between(f, owner, " Young", m.Young, 1e7, 1e12, "Pa")
	between(f, owner, " Poisson", m.Poisson, 0, 0.5, "")
	between(f, owner, " RootLimit", m.RootLimit, 1e5, strongestAllowed, "Pa")
	between(f, owner, " FlankLimit", m.FlankLimit, 1e5, strongestAllowed, "Pa")
	between(f, owner, " Cycles", m.Cycles, 0, mostCycles, "")
	between(f, owner, " Rim", m.Rim, 0, 100, "m")
	m.Life.Root.check(f, "drive.ToothMaterial.Life.Root")
	m.Life.Flank.check(f, "drive.ToothMaterial.Life.Flank")
}

func (k *GearFactors) check(f *input.Faults) {
	f.Between("drive.GearFactors.Application", k.Application, 1, 10, "")
	f.Between("drive.GearFactors.Dynamic", k.Dynamic, 1, 10, "")
	f.Between("drive.GearFactors.RootFace", k.RootFace, 1, 10, "")
	f.Between("drive.GearFactors.FlankFace", k.FlankFace, 1, 10, "")
	f.Between("drive.GearFactors.Sharing", k.Sharing, 1, 10, "")
	f.Between("drive.GearFactors.Surface", k.Surface, 0.3, 1.5, "")
}
