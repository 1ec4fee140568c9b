package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// The constants of the channel between two vertical plates of one temperature.
const (
	narrowChannel = 576
	wideChannel   = 2.873
)

// OptimumElenbaas is the Elenbaas number at which thin fins of a given width of
// base give off the most, (2·576/2.873)^⅔ = 54.376 [-]. The Nusselt number there is
// 1.3081; handbooks print the spacing as 2.714·L/Ra^¼ where it is 2.7155.
const OptimumElenbaas = 54.3764981296588904

// ChannelNusselt returns the mean Nusselt number [-], by the gap and the difference of
// fins to entering air, of a vertical channel between fins of one temperature:
// (576/E² + 2.873/E^½)^−½, with the Elenbaas number E = Ra(S)·S/L, of the gap S and
// the height L [-]. It tends to E/24 in a narrow channel, full of warm air, and to 0.590·E^¼ in a wide one,
// a plate by itself. It checks nothing.
//
// Source: A. Bar-Cohen and W. M. Rohsenow, Thermally Optimum Spacing of Vertical,
// Natural Convection Cooled, Parallel Plates, J. Heat Transfer 106 (1984) 116, in Çengel and
// Ghajar, 5th ed., eq. 9-31. Made for E from 0.1 to 1e5, usual error 10 % (these and the equation's number from memory).
// The fins' outer edges are open, which adds, and the base closes one side, which takes away.
func ChannelNusselt(elenbaas float64) float64 {
	// The same without dividing by E, so that 0 gives 0.
	return elenbaas / math.Sqrt(narrowChannel+wideChannel*elenbaas*math.Sqrt(elenbaas))
}

// Spacing is what upright fins are best spaced by.
type Spacing struct {
	Gap         float64  // clear, from fin to fin [m]
	Elenbaas    float64  // E at that gap [-]
	Nusselt     float64  // by the gap [-]
	Coefficient float64  // by the difference of fins to air [W/(m²·K)]
	Fins        float64  // on the width, W/(S+t), not rounded [-]
	Beyond      []string // in words, where the law's stated range is left; nil inside it
}

// OptimumSpacing returns the gap by which upright fins of a height, 1e-3 to 10 [m],
// and a thickness, 0 to 0.1 [m], give off the most from a width of base, 1e-3 to 10
// [m]: thin ones at [OptimumElenbaas], thick ones a little farther apart, where
// h(S)/(S+t) is largest. Difference of fins and air 0.1 to 1000 [K]. The optimum
// is flat; a smaller gap clogs with dust before it cools worse.
func OptimumSpacing(height, thickness, width, difference float64, fluid Fluid) (Spacing, error) {
	var f input.Faults
	f.Between("thermal.OptimumSpacing: height", height, 1e-3, 10, "m")
	f.Between("thermal.OptimumSpacing: thickness", thickness, 0, 0.1, "m")
	f.Between("thermal.OptimumSpacing: width", width, 1e-3, 10, "m")
	f.Between("thermal.OptimumSpacing: difference", difference, 0.1, 1000, "K")
	fluid.check(&f)
	if err := f.Err(); err != nil {
		return Spacing{}, err
	}
	ra := fluid.Rayleigh(height, difference)
	// unit is the gap of E = 1.
	unit := height / math.Sqrt(math.Sqrt(ra))
	// What the heat gains by the gap, less what the number of fins loses, both
	// by the logarithm of the gap: falls from 2 to below −½.
	gain := func(logGap float64) float64 {
		z := math.Exp(6 * logGap) // E^1.5
		slope := (2*narrowChannel + 0.5*wideChannel*z) / (narrowChannel + wideChannel*z)
		return 2*slope - 1 - 1/(1+thickness/unit*math.Exp(-logGap))
	}
	logGap, err := root.Find(gain, -5, 5, 1e-15)
	if err != nil {
		return Spacing{}, err
	}
	s := Spacing{Gap: unit * math.Exp(logGap), Elenbaas: math.Exp(4 * logGap)}
	s.Nusselt = ChannelNusselt(s.Elenbaas)
	s.Coefficient = s.Nusselt * fluid.Conductivity / s.Gap
	s.Fins = width / (s.Gap + thickness)
	s.Beyond = beyond(s.Beyond, "upright fins", "Elenbaas number", s.Elenbaas, 0.1, 1e5)
	return s, nil
}
