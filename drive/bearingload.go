package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// EquivalentLoad is a radial and an axial load in one, as the two ratings of a bearing
// count them.
type EquivalentLoad struct {
	Dynamic float64  // P, of the life; 1e-3 to 1e9 where a bearing is to carry it [N]
	Static  float64  // P₀, of the static safety; 1e-3 to 1e9 as well [N]
	Radial  float64  // X, by which the radial load counts in P [-]
	Axial   float64  // Y, by which the axial load counts in P [-]
	Beyond  []string // where a range is left; empty inside
}

// Utilisations compares a bearing's ratings with the load over a wanted life, 1 to 1e10
// [s], at a speed, 1e-6 to 1e4 [rev/s], with a reliability, 0.9 to 0.9995 [-], as
// [Bearing.Utilisations] does, life by Dynamic and static load by Static.
func (e EquivalentLoad) Utilisations(b Bearing, speed, reliability, wanted float64) ([2]material.Utilisation, error) {
	var f input.Faults
	b.check(&f)
	f.Between("drive.EquivalentLoad.Static", e.Static, leastLoad, mostLoad, "N")
	checkWanted(&f, "drive.EquivalentLoad.Utilisations: ", e.Dynamic, speed, reliability, wanted)
	if err := f.Err(); err != nil {
		return [2]material.Utilisation{}, err
	}
	u, err := b.Utilisations(e.Dynamic, speed, reliability, wanted)
	u[1].Demand = e.Static
	return u, err
}

// HeadThrust returns the thrust [N] of a pressure at the screw's tip, 0 to 1e9 [Pa], on
// its bore, 1e-3 to 1 [m]: pressure × bore area, the whole of it, as the trade reckons
// (common practice, no source). Drag of the melt on the barrel's side takes off little
// and only while the screw turns; the core alone would leave out the flights.
func HeadThrust(pressure, bore float64) (float64, error) {
	var f input.Faults
	f.Between("drive.HeadThrust: pressure", pressure, 0, 1e9, "Pa")
	f.Between("drive.HeadThrust: bore", bore, 1e-3, 1, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return pressure * math.Pi / 4 * bore * bore, nil
}

// DeepGrooveLoad returns the equivalent load of a single-row deep groove ball bearing
// under a radial and an axial load, each 0 to 1e9 [N], with its static rating C₀, 1 to 1e9
// [N], and the factor f₀ printed with it, 5 to 20, or 0 where none is printed [-]:
//
//	P = Fr while Fa/Fr ≤ e, else 0.56·Fr + Y·Fa;  P₀ = max(Fr, 0.6·Fr + 0.5·Fa)
//
// e and Y by f₀·Fa/C₀ from ISO 281:2007, Table 3, or, without f₀, by Fa/C₀ from R. G.
// Budynas and J. K. Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Table
// 11-1: the same table for f₀ = 12.3 (both from memory), linear between rows. P₀ by ISO 76:2006
// (from memory). P is not let below Fr, which rounded factors miss by up to 1 % just above e.
// Beyond the table's ends its end rows hold, which Beyond tells. Neither edition counts a
// turning outer ring; older books multiply Fr by 1.2 for it. Normal radial clearance.
func DeepGrooveLoad(radial, axial, static, f0 float64) (EquivalentLoad, error) {
	var f input.Faults
	checkLoads(&f, "drive.DeepGrooveLoad: ", radial, axial)
	f.Between("drive.DeepGrooveLoad: static rating", static, 1, 1e9, "N")
	if f0 != 0 {
		f.Between("drive.DeepGrooveLoad: f₀", f0, 5, 20, "")
	}
	if err := f.Err(); err != nil {
		return EquivalentLoad{}, err
	}
	table, x := deepGroove[:], f0*axial/static
	if f0 == 0 {
		table, x = deepGrooveBare[:], axial/static
	}
	row := rowAt(table, x)
	l := combined(radial, axial, row.e, 0.56, row.y)
	l.Static = max(radial, 0.6*radial+0.5*axial)
	switch {
	case l.Axial == 0:
	case x < table[0].x:
		l.Beyond = append(l.Beyond, "axial load below the table's first row: the axial factor is larger than counted")
	case x > table[len(table)-1].x:
		l.Beyond = append(l.Beyond, "axial load above the table's last row, half the static rating: the last row is counted")
	}
	return l, nil
}

// AngularContactLoad returns the equivalent load of one angular contact ball bearing, or
// of several in tandem, of a contact angle of 20 to 45° (0.349 to 0.7854) [rad], under a
// radial and an axial load, each 0 to 1e9 [N]:
//
//	P = Fr while Fa/Fr ≤ e, else X·Fr + Y·Fa;  P₀ = max(Fr, 0.5·Fr + Y₀·Fa)
//
// X, Y and e by ISO 281:2007, Table 3; Y₀ by ISO 76:2006 (both from memory), linear between
// angles. The angles of 5 to 15° depend on the load and are left out. The axial
// load is to hold what the radial load of its partner presses out of a pair.
func AngularContactLoad(radial, axial, angle float64) (EquivalentLoad, error) {
	var f input.Faults
	checkLoads(&f, "drive.AngularContactLoad: ", radial, axial)
	f.Between("drive.AngularContactLoad: angle", angle, 0.349, 0.7854, "rad")
	if err := f.Err(); err != nil {
		return EquivalentLoad{}, err
	}
	row := rowAt(angular[:], angle*180/math.Pi)
	l := combined(radial, axial, row.e, row.r, row.y)
	l.Static = max(radial, 0.5*radial+row.s*axial)
	return l, nil
}

// TaperLoad returns the equivalent load of a single-row taper roller bearing under a
// radial and an axial load, each 0 to 1e9 [N], with the axial factor Y that its catalogue
// prints, 0.3 to 3 [-]:
//
//	P = Fr while Fa/Fr ≤ e, else 0.4·Fr + Y·Fa;  P₀ = max(Fr, 0.5·Fr + Y₀·Fa)
//
// ISO 281:2007 and ISO 76:2006 (from memory): Y = 0.4·cot α, e = 1.5·tan α, Y₀ = 0.22·cot α, so that e = 0.6/Y and Y₀ = 0.55·Y. The axial load is to hold what the
// radial load of its partner presses out of a pair.
func TaperLoad(radial, axial, factor float64) (EquivalentLoad, error) {
	var f input.Faults
	checkLoads(&f, "drive.TaperLoad: ", radial, axial)
	f.Between("drive.TaperLoad: axial factor", factor, 0.3, 3, "")
	if err := f.Err(); err != nil {
		return EquivalentLoad{}, err
	}
	l := combined(radial, axial, 0.6/factor, 0.4, factor)
	l.Static = max(radial, 0.5*radial+0.55*factor*axial)
	return l, nil
}

func checkLoads(f *input.Faults, owner string, radial, axial float64) {
	between(f, owner, "radial load", radial, 0, mostLoad, "N")
	between(f, owner, "axial load", axial, 0, mostLoad, "N")
}

// combined leaves Static to the caller. Fa > e·Fr is Fa/Fr > e without a division.
func combined(radial, axial, e, x, y float64) EquivalentLoad {
	if axial <= e*radial {
		return EquivalentLoad{Dynamic: radial, Radial: 1}
	}
	return EquivalentLoad{Dynamic: max(radial, x*radial+y*axial), Radial: x, Axial: y}
}

// loadFactors is a row by x: f₀·Fa/C₀, Fa/C₀ or the contact angle [°].
type loadFactors struct{ x, e, y, r, s float64 } // r is X, s is Y₀

var deepGroove = [...]loadFactors{
	{x: 0.172, e: 0.19, y: 2.30}, {x: 0.345, e: 0.22, y: 1.99}, {x: 0.689, e: 0.26, y: 1.71},
	{x: 1.03, e: 0.28, y: 1.55}, {x: 1.38, e: 0.30, y: 1.45}, {x: 2.07, e: 0.34, y: 1.31},
	{x: 3.45, e: 0.38, y: 1.15}, {x: 5.17, e: 0.42, y: 1.04}, {x: 6.89, e: 0.44, y: 1.00},
}

var deepGrooveBare = [...]loadFactors{
	{x: 0.014, e: 0.19, y: 2.30}, {x: 0.021, e: 0.21, y: 2.15}, {x: 0.028, e: 0.22, y: 1.99},
	{x: 0.042, e: 0.24, y: 1.85}, {x: 0.056, e: 0.26, y: 1.71}, {x: 0.070, e: 0.27, y: 1.63},
	{x: 0.084, e: 0.28, y: 1.55}, {x: 0.110, e: 0.30, y: 1.45}, {x: 0.17, e: 0.34, y: 1.31},
	{x: 0.28, e: 0.38, y: 1.15}, {x: 0.42, e: 0.42, y: 1.04}, {x: 0.56, e: 0.44, y: 1.00},
}

var angular = [...]loadFactors{
	{20, 0.57, 1.00, 0.43, 0.42}, {25, 0.68, 0.87, 0.41, 0.38}, {30, 0.80, 0.76, 0.39, 0.33},
	{35, 0.95, 0.66, 0.37, 0.29}, {40, 1.14, 0.57, 0.35, 0.26}, {45, 1.34, 0.50, 0.33, 0.22},
}

// rowAt is linear between rows and holds the end rows outside.
func rowAt(table []loadFactors, x float64) loadFactors {
	a := table[0]
	if x <= a.x {
		return a
	}
	for _, b := range table[1:] {
		if x < b.x {
			t := (x - a.x) / (b.x - a.x)
			return loadFactors{x, a.e + t*(b.e-a.e), a.y + t*(b.y-a.y), a.r + t*(b.r-a.r), a.s + t*(b.s-a.s)}
		}
		a = b
	}
	return a
}
