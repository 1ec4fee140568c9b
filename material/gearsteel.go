package material

import (
	"strings"

	"meltflight/internal/input"
)

// GearSteel is a line of ISO 6336-5:2003, Table 1, from memory: the stresses that gear
// teeth of a kind of steel and a quality of making (ML modest, MQ what a good
// maker attains, ME with much care) bear for ever in 99 of 100 gears. Both
// grow in a straight line with the hardness of the flank.
type GearSteel struct {
	Name                    string
	ContactSlope            float64 // 0 to 1e8 [Pa a Vickers unit]
	ContactBase             float64 // 0 to 1e10 [Pa]
	ContactLow, ContactHigh float64 // Vickers hardness of the flank, 50 to 1500 [-]
	RootSlope               float64 // 0 to 1e8 [Pa a Vickers unit]
	RootBase                float64 // 0 to 1e10 [Pa]
	RootLow, RootHigh       float64 // Vickers hardness, 50 to 1500 [-]
	Source                  string
}

// Contact returns the allowable contact stress σ_Hlim [Pa] at a flank hardness
// [HV]. It errs outside ContactLow to ContactHigh: the standard's line ends there.
func (g GearSteel) Contact(vickers float64) (float64, error) {
	return line("Contact", g.Name, vickers, g.ContactSlope, g.ContactBase, g.ContactLow, g.ContactHigh)
}

// Root returns the nominal bending stress number σ_Flim [Pa] at a hardness [HV]:
// what the reference test gear bore, notch of the fillet included. Where a formula
// asks for σ_FE, the strength of an unnotched bar, that is Y_ST·σ_Flim = 2·σ_Flim.
// It errs outside RootLow to RootHigh.
func (g GearSteel) Root(vickers float64) (float64, error) {
	return line("Root", g.Name, vickers, g.RootSlope, g.RootBase, g.RootLow, g.RootHigh)
}

func line(what, name string, x, slope, base, low, high float64) (float64, error) {
	if !(x >= low && x <= high && low >= 50 && high <= 1500 && slope >= 0 && slope <= 1e8 && base >= 0 && base <= 1e10) {
		owner := "material.GearSteel." + what
		var f input.Faults
		f.Between(owner+"Slope", slope, 0, 1e8, "Pa")
		f.Between(owner+"Base", base, 0, 1e10, "Pa")
		f.Between(owner+"Low", low, 50, 1500, "HV")
		f.Between(owner+"High", high, low, 1500, "HV")
		f.Between(owner+" ("+name+"): hardness", x, low, high, "HV")
		if err := f.Err(); err != nil {
			return 0, err
		}
	}
	return slope*x + base, nil
}

// GearSteels returns the lines the package knows: carbon and alloy steel, quenched
// and tempered; case-hardened steel such as 16MnCr5; nitriding steel such as
// 31CrMoV9.
//
// For case-hardened steel of quality MQ the root's stress is the one without a
// proof of the core (at least 25 HRC, hardenability unknown), 425 MPa; 461 asks
// for 28 HRC at 12 mm in the Jominy test, which 16MnCr5 (21 to 37 at 11 mm) does not
// ensure, and 500 for a core of 30 HRC.
func GearSteels() []GearSteel {
	const iso = "ISO 6336-5:2003, Table 1, from memory"
	mpa := func(name string, a, b, lo, hi, c, d, low, high float64) GearSteel {
		return GearSteel{name, a * 1e6, b * 1e6, lo, hi, c * 1e6, d * 1e6, low, high, iso}
	}
	return []GearSteel{
		mpa("carbon QT ML", 0.963, 283, 135, 210, 0.250, 108, 115, 215),
		mpa("carbon QT MQ", 0.925, 360, 135, 210, 0.240, 163, 115, 215),
		mpa("alloy QT ML", 1.313, 188, 200, 360, 0.423, 104, 200, 360),
		mpa("alloy QT MQ", 1.313, 373, 200, 360, 0.425, 187, 200, 360),
		mpa("case-hardened ML", 0, 1300, 600, 800, 0, 312, 600, 800),
		mpa("case-hardened MQ", 0, 1500, 660, 800, 0, 425, 660, 800),
		mpa("case-hardened ME", 0, 1650, 660, 800, 0, 525, 660, 800),
		mpa("nitrided nitriding steel ML", 0, 1125, 650, 900, 0, 270, 650, 900),
		mpa("nitrided nitriding steel MQ", 0, 1250, 650, 900, 0, 420, 650, 900),
	}
}

// GearSteelNamed returns the line of a name, upper or lower case. Another name
// is an error that lists those known.
func GearSteelNamed(name string) (GearSteel, error) {
	var known []string
	for _, g := range GearSteels() {
		if strings.EqualFold(g.Name, name) {
			return g, nil
		}
		known = append(known, g.Name)
	}
	return GearSteel{}, &input.Word{Name: "material.GearSteelNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
