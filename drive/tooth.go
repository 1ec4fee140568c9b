package drive

import (
	"meltflight/internal/input"
	"meltflight/material"
)

// LewisRack is the Lewis form factor of a rack, 20° full depth [-].
const LewisRack = 0.485

// lewis lists Lewis form factors of 20° full-depth teeth: R. G. Budynas and J. K.
// Nisbett, Shigley's Mechanical Engineering Design, 10th ed. (2015), Table 14-2.
var lewis = [...]struct {
	teeth  int
	factor float64
}{
	{12, 0.245}, {13, 0.261}, {14, 0.277}, {15, 0.290}, {16, 0.296}, {17, 0.303}, {18, 0.309},
	{19, 0.314}, {20, 0.322}, {21, 0.328}, {22, 0.331}, {24, 0.337}, {26, 0.346}, {28, 0.353},
	{30, 0.359}, {34, 0.371}, {38, 0.384}, {43, 0.397}, {50, 0.409}, {60, 0.422}, {75, 0.435},
	{100, 0.447}, {150, 0.460}, {300, 0.472}, {400, 0.480},
}

const fewestTeeth, mostTeeth = 12, 10000

// LewisFormFactor returns Lewis' form factor Y (large is strong) of a tooth of 20°
// pressure angle, full depth, no profile shift, loaded at the tip [-]. Teeth 12, the
// least in the table, to 10000. A rack undercuts all below 17.1 teeth: the table
// allows for the strength they lose, not for the involute that is cut away with it,
// which shortens contact, and a contact ratio below 1 runs rough or not at all.
//
// Table: R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design,
// 10th ed. (2015), Table 14-2. Between its entries it is linear in 1/teeth, which
// reaches the rack's 0.485. Against the geometry of a modern rack (ISO 53 profile A)
// the table is up to 5 % high.
func LewisFormFactor(teeth int) (float64, error) {
	var f input.Faults
	f.Count("drive.LewisFormFactor: teeth", teeth, fewestTeeth, mostTeeth)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return lewisFactor(teeth), nil
}

func lewisFactor(teeth int) float64 {
	if last := lewis[len(lewis)-1]; teeth >= last.teeth { // on to the rack, 1/teeth = 0
		return LewisRack - (LewisRack-last.factor)*float64(last.teeth)/float64(teeth)
	}
	i := min(teeth, 22) - fewestTeeth // the table has every number up to 22
	for lewis[i+1].teeth <= teeth {
		i++
	}
	a, b := lewis[i], lewis[i+1]
	return a.factor + (b.factor-a.factor)*float64((teeth-a.teeth)*b.teeth)/float64(teeth*(b.teeth-a.teeth))
}

const (
	barthSpeed       = 1200 * 0.3048 / 60 // 1200 ft/min [m/s]
	fastestCutTeeth  = 20                 // [m/s]
	reversedBending  = 0.7
	lewisMethod      = "Lewis with Barth factor"
	lewisPlanet      = "Lewis with Barth factor, reversed bending 0.7"
	lewisRing        = "Lewis with Barth factor, rack as lower bound"
	strongestAllowed = 1e10 // [Pa]
)

// BarthFactor returns the factor by which the dynamics of cut or milled teeth raise
// their stress at a pitch-line speed, 0 to 20 [m/s]: (6.1 + V)/6.1, exactly (1200 +
// V)/1200 with V in ft/min [-]. Shigley's Mechanical Engineering Design, 10th ed.
// (2015), eqs. 14-4b and 14-6b, attributed to C. G. Barth; older books print the
// reciprocal. The upper end of the range is common practice, no source.
func BarthFactor(pitchSpeed float64) (float64, error) {
	var f input.Faults
	f.Between("drive.BarthFactor: pitch speed", pitchSpeed, 0, fastestCutTeeth, "m/s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return barth(pitchSpeed), nil
}

func barth(pitchSpeed float64) float64 { return 1 + pitchSpeed/barthSpeed }

// ToothBending is a spur tooth that carries the whole tangential force at its tip.
type ToothBending struct {
	Force      float64 // tangential, at the pitch circle, 0 to 1e12 [N]
	PitchSpeed float64 // of the pitch line, 0 to 20 [m/s]
	Module     float64 // 5e-5 to 0.1 [m]
	Face       float64 // face width, 1e-4 to 1 [m]
	FormFactor float64 // of LewisFormFactor, or LewisRack; 0.1 to 1 [-]
}

// Stress returns the bending stress at the tooth root [Pa], σ = K_v·F/(b·m·Y):
// W. Lewis (1892) with Barth's factor, Shigley's Mechanical Engineering Design, 10th
// ed. (2015), eq. 14-8. The stress concentration of the fillet is not in it.
func (t ToothBending) Stress() (float64, error) {
	var f input.Faults
	t.check(&f)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return t.stress(), nil
}

// Utilisation compares the root stress with an allowable stress, 1e5 to 1e10 [Pa];
// part names the tooth.
func (t ToothBending) Utilisation(part string, allowable float64) (material.Utilisation, error) {
	var f input.Faults
	t.check(&f)
	f.Between("drive.ToothBending.Utilisation: allowable", allowable, 1e5, strongestAllowed, "Pa")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return rootOf(part, t.stress(), allowable, lewisMethod), nil
}

func (t ToothBending) check(f *input.Faults) {
	f.Between("drive.ToothBending.Force", t.Force, 0, 1e12, "N")
	f.Between("drive.ToothBending.PitchSpeed", t.PitchSpeed, 0, fastestCutTeeth, "m/s")
	f.Between("drive.ToothBending.Module", t.Module, 5e-5, 0.1, "m")
	f.Between("drive.ToothBending.Face", t.Face, 1e-4, 1, "m")
	f.Between("drive.ToothBending.FormFactor", t.FormFactor, 0.1, 1, "")
}

func (t ToothBending) stress() float64 {
	return barth(t.PitchSpeed) * t.Force / (t.Face * t.Module * t.FormFactor)
}

func rootOf(part string, stress, allowable float64, method string) material.Utilisation {
	return material.Utilisation{Part: part, Demand: stress, Capacity: allowable, Unit: "Pa", Method: method}
}
