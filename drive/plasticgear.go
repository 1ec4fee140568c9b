package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// HeatUnit turns a heat transfer coefficient k_ϑ of VDI 2736-2, in K·(m/s)^0.75·mm^1.75/W,
// into that of [PlasticUse] by multiplication.
const HeatUnit = 5.623413251903491e-6 // 1e-3^1.75

// PlasticUse is how a plastic gear runs. Its k_ϑ is data: some 1e3 to 1e4 HeatUnits, small
// for the root, large for the flank, larger on plastic than on steel (from memory; look
// it up in the guideline).
type PlasticUse struct {
	Torque    float64 // of the pinion, 0 to 1e6 [N·m]
	Speed     float64 // of the pinion, 0 to 1e4 [rev/s]
	Cycles    float64 // load cycles of a tooth of the plastic gear, 0 to 1e12 [-]
	Factor    float64 // K_F = K_A·K_v·K_Fβ·K_Fα, of root and flank, 1 to 100 [-]
	Friction  float64 // 0 to 1 [-]
	On        float64 // share of the time under load, 0 to 1 [-]
	Ambient   float64 // 200 to 500 [K]
	RootHeat  float64 // k_ϑ of the root, 0 to 1e6 HeatUnits [K·(m/s)^0.75·m^1.75/W]
	FlankHeat float64 // k_ϑ of the flank, 0 to 1e6 HeatUnits [K·(m/s)^0.75·m^1.75/W]
	Housing   float64 // R_λG/A_G from the air in the housing to that outside, 0 for open gears, to 1e3 [K/W]
	Young     float64 // of the mate, 1e7 to 1e12 [Pa]
	Poisson   float64 // of the mate, 0 to 0.5 [-]
}

// PlasticRating is a plastic gear's temperatures and stresses.
type PlasticRating struct {
	LossFactor       float64              // H_v [-]
	Loss             float64              // of the mesh while it runs [W]
	RootTemperature  float64              // [K]
	FlankTemperature float64              // [K]
	RootStress       float64              // σ_F [Pa]
	FlankStress      float64              // σ_H [Pa]
	Root             material.Utilisation // root against 2·σ_FlimN
	Flank            material.Utilisation // flank against σ_HlimN; no Part if its strength is not known
	Beyond           []string             // what lies outside the guideline's range, in words
}

// RatePlastic rates the pinion of a pair, or its wheel, made of a plastic, by VDI
// 2736-2:2014 (from memory):
//
//	ϑ = ϑ₀ + P·μ·H_v·(k_ϑ/(b·z·(v·m)^0.75) + R_λG/A_G)·ED^0.64
//	σ_F = K_F·Y_Fa·Y_Sa·Y_ε·Y_β·F_t/(b·m)                  against  2·σ_FlimN
//	σ_H = Z_E·Z_H·Z_ε·Z_β·√(F_t·K_F/(b·d₁)·(u ± 1)/u)      against  σ_HlimN
//
// with the load at the tip and z of the plastic gear. The guideline counts the notch Y_Sa where
// strengths come from test gears, as those of material.GearPlastic do. A strength below the
// fit's least temperature or number of cycles is taken at it, on the safe side; above
// its largest the error is the material's, and the rating comes with it, without
// Utilisations, so that the temperatures can be read.
func (g GearPair) RatePlastic(wheel bool, plastic material.GearPlastic, use PlasticUse) (PlasticRating, error) {
	var f input.Faults
	g.check(&f)
	use.check(&f)
	f.Add(plastic.Validate())
	if err := f.Err(); err != nil {
		return PlasticRating{}, err
	}
	e := g.engage(&f)
	if err := f.Err(); err != nil {
		return PlasticRating{}, err
	}
	roots := g.roots(&f, &e, true)
	if err := f.Err(); err != nil {
		return PlasticRating{}, err
	}
	i, teeth, part := 0, g.Pinion.Teeth, [2]string{"pinion tooth root", "pinion flank"}
	if wheel {
		i, teeth, part = 1, g.Wheel.Teeth, [2]string{"wheel tooth root", "wheel flank"}
	}
	r := PlasticRating{LossFactor: e.loss, Beyond: roots[i].Beyond}
	diameter := 2 * e.radius[0] * g.Module
	speed := math.Pi * diameter * use.Speed
	r.Loss = 2 * math.Pi * use.Torque * use.Speed * use.Friction * r.LossFactor
	if r.Loss > 0 {
		duty := r.Loss * math.Pow(use.On, 0.64)
		spread := 1 / (g.Face * float64(teeth) * math.Pow(math.Max(speed*g.Module, 1e-30), 0.75)) // at rest the loss is 0
		r.RootTemperature = duty * (use.RootHeat*spread + use.Housing)
		r.FlankTemperature = duty * (use.FlankHeat*spread + use.Housing)
	}
	r.RootTemperature += use.Ambient
	r.FlankTemperature += use.Ambient

	force := 2 * use.Torque / diameter * use.Factor
	// Y_ε with the contact ratio of the normal section
	share := 0.25 + 0.75*e.cosBaseHelix*e.cosBaseHelix/e.ratio
	r.RootStress = force / (g.Face * g.Module) * roots[i].Stress() * share * helixRoot(g.Helix, e.overlap)
	zone := math.Sqrt(2*e.cosBaseHelix*e.cosWorking/e.sinWorking) / e.cosAngle
	r.FlankStress = elastic(plastic.Young, plastic.Poisson, use.Young, use.Poisson) * zone * overlap(&e) /
		math.Sqrt(e.cosHelix) * math.Sqrt(force/(diameter*g.Face)*g.curved())

	root, err := plastic.RootAt(math.Max(r.RootTemperature, plastic.Root.Coldest), math.Max(use.Cycles, plastic.Root.Fewest))
	if err != nil {
		return r, err
	}
	if plastic.Flank.Most > 0 {
		flank, err := plastic.FlankAt(math.Max(r.FlankTemperature, plastic.Flank.Coldest), math.Max(use.Cycles, plastic.Flank.Fewest))
		if err != nil {
			return r, err
		}
		r.Flank = rootOf(part[1], r.FlankStress, flank, plasticMethod)
	}
	r.Root = rootOf(part[0], r.RootStress, testGearNotch*root, plasticMethod)
	return r, nil
}

const plasticMethod = "VDI 2736-2"

func (u *PlasticUse) check(f *input.Faults) {
	f.Between("drive.PlasticUse.Torque", u.Torque, 0, 1e6, "N·m")
	f.Between("drive.PlasticUse.Speed", u.Speed, 0, 1e4, "rev/s")
	f.Between("drive.PlasticUse.Cycles", u.Cycles, 0, 1e12, "")
	f.Between("drive.PlasticUse.Factor", u.Factor, 1, 100, "")
	f.Between("drive.PlasticUse.Friction", u.Friction, 0, 1, "")
	f.Between("drive.PlasticUse.On", u.On, 0, 1, "")
	f.Between("drive.PlasticUse.Ambient", u.Ambient, 200, 500, "K")
	f.Between("drive.PlasticUse.RootHeat", u.RootHeat, 0, 1e6*HeatUnit, "K·(m/s)^0.75·m^1.75/W")
	f.Between("drive.PlasticUse.FlankHeat", u.FlankHeat, 0, 1e6*HeatUnit, "K·(m/s)^0.75·m^1.75/W")
	f.Between("drive.PlasticUse.Housing", u.Housing, 0, 1e3, "K/W")
	f.Between("drive.PlasticUse.Young", u.Young, 1e7, 1e12, "Pa")
	f.Between("drive.PlasticUse.Poisson", u.Poisson, 0, 0.5, "")
}
