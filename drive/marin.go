package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Finish is how the surface of a steel part was made.
type Finish int

const (
	Ground    Finish = iota // ground
	Machined                // machined or cold drawn
	HotRolled               // hot rolled
	Forged                  // as forged
)

// String names the finish.
func (f Finish) String() string {
	if f < Ground || f > Forged {
		return fmt.Sprintf("Finish(%d)", int(f))
	}
	return [...]string{"ground", "machined", "hot rolled", "as forged"}[f]
}

// EnduranceLimit returns the endurance limit of a round steel shaft in rotating
// bending [Pa]:
//
//	S_e = k_a·k_b·k_e·S_e',  S_e' = S_ut/2, but at most 700 MPa
//
// for a tensile strength, 2e8 to 2.2e9 [Pa], a diameter, 1e-3 to 0.254 [m], and the
// share of shafts that survive, 0.5 to 0.999999 [-]. By R. G. Budynas and J. K. Nisbett,
// Shigley's Mechanical Engineering Design, 9th ed. (2011): surface k_a = a·S_ut^b (eq. 6-19,
// Table 6-2), size k_b = (d/7.62 mm)^−0.107 up to 51 mm and 1.51(d/mm)^−0.157 above (eq.
// 6-20), reliability k_e = 1 − 0.08z with z the normal quantile (eq. 6-29).
//
// Neither k_a nor k_b is let above 1: soft steel is not better for being machined, and
// a shaft below 7.62 mm counts as the test bar of that size. Room temperature, no
// corrosion: warm oil or water takes the endurance limit away.
func EnduranceLimit(ultimate, diameter float64, finish Finish, reliability float64) (float64, error) {
	var f input.Faults
	f.Between("drive.EnduranceLimit: ultimate", ultimate, 2e8, 2.2e9, "Pa")
	f.Between("drive.EnduranceLimit: diameter", diameter, 1e-3, 0.254, "m")
	f.Between("drive.EnduranceLimit: reliability", reliability, 0.5, 0.999999, "")
	f.Count("drive.EnduranceLimit: finish", int(finish), int(Ground), int(Forged))
	if err := f.Err(); err != nil {
		return 0, err
	}
	specimen := min(0.5*ultimate, 700e6)
	return surfaceFactor(ultimate, finish) * sizeFactor(diameter) * reliabilityFactor(reliability) * specimen, nil
}

func surfaceFactor(ultimate float64, finish Finish) float64 {
	fit := [...]struct{ a, b float64 }{ // S_ut in MPa
		Ground: {1.58, -0.085}, Machined: {4.51, -0.265}, HotRolled: {57.7, -0.718}, Forged: {272, -0.995},
	}[finish]
	return min(1, fit.a*math.Pow(ultimate*1e-6, fit.b))
}

func sizeFactor(diameter float64) float64 {
	mm := diameter * 1e3
	if mm > 51+1e-9 { // slack, since 51 mm written in metres has rounding
		return 1.51 * math.Pow(mm, -0.157)
	}
	return min(1, math.Pow(mm/7.62, -0.107))
}

func reliabilityFactor(reliability float64) float64 {
	return 1 - 0.08*math.Sqrt2*math.Erfinv(2*reliability-1)
}
