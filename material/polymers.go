package material

import (
	"strings"

	"meltflight/internal/input"
)

const (
	tadmorGogos = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, from memory"
	crawford    = "R. J. Crawford, Plastics Engineering, 3rd ed. (1998), Table 1.8"
	rauwendaal  = "C. Rauwendaal, Polymer Extrusion, Table 6.1, from memory"
	kazmer      = "D. Kazmer, Injection Mold Design Engineering (2007), Appendix A"
	dannerHigh  = "R. P. Danner and M. S. High, Handbook of Polymer Solution Thermodynamics (1993), Tait equation evaluated"
	dannerTable = "R. P. Danner and M. S. High, Handbook of Polymer Solution Thermodynamics (1993), table of Tait constants"
	wunderlich  = "B. Wunderlich, Thermal Analysis (1990), pp. 417-431"
	webbook     = "NIST Chemistry WebBook, condensed phase heat capacities, 298 K"
	plastics    = "T. A. Osswald, E. Baur et al., Plastics Handbook, from memory"
	typical     = "typical, from memory"
)

// tait returns the constants of a melt that is in the table.
func tait(name string) PVT {
	c, err := TaitNamed(name)
	if err != nil {
		return nil // no law rather than a wrong one; a test asks for each
	}
	return c
}

// Polymers returns every polymer the package knows.
func Polymers() []Polymer {
	return []Polymer{PP(), HDPE(), ABS(), LDPE(), PS(), HIPS(), PET(), PETG(), PA6(), PLA()}
}

// PolymerNamed returns the polymer of a name, upper or lower case. Another name
// is an error that lists those known.
func PolymerNamed(name string) (Polymer, error) {
	all := Polymers()
	known := make([]string, 0, len(all))
	for _, p := range all {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		known = append(known, p.Name)
	}
	return Polymer{}, &input.Word{Name: "material.PolymerNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
