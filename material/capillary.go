package material

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"meltflight/internal/input"
)

// Strand is one weighing: what a melt of known temperature and pressure lets out of a
// round hole in a known time. A capillary rheometer makes strands; so does a machine
// with its own nozzle, a pressure gauge before it, a clock and a scale.
type Strand struct {
	Diameter    float64 // of the hole, 1e-5 to 0.1 [m]
	Length      float64 // of the hole's straight land, 1e-6 to 1 [m]
	MassFlow    float64 // mass weighed over time taken, 1e-12 to 10 [kg/s]
	Pressure    float64 // before the hole, above atmospheric, 1 to 1e9 [Pa]
	EndPressure float64 // of it lost at the hole's ends, as [Bagley] finds it, 0 up to Pressure [Pa]
	Temperature float64 // of the melt, 100 to 1500 [K]
}

// WallStress returns ΔpD/4L, the pressure without that lost at the ends [Pa].
func (s Strand) WallStress() float64 {
	return (s.Pressure - s.EndPressure) * s.Diameter / (4 * s.Length)
}

// ApparentRate returns 32Q/πD³ for a melt density [kg/m³], the wall shear rate if the
// melt were Newtonian [1/s].
func (s Strand) ApparentRate(density float64) float64 {
	return apparentRate(s.MassFlow/density, s.Diameter)
}

// Validate reports fields out of range.
func (s Strand) Validate() error {
	var f input.Faults
	f.Between("material.Strand.Diameter", s.Diameter, 1e-5, 0.1, "m")
	f.Between("material.Strand.Length", s.Length, 1e-6, 1, "m")
	f.Between("material.Strand.MassFlow", s.MassFlow, 1e-12, 10, "kg/s")
	f.Between("material.Strand.Pressure", s.Pressure, 1, 1e9, "Pa")
	f.Between("material.Strand.Temperature", s.Temperature, lowestTemperature, highestTemperature, "K")
	if f.None() && !(s.EndPressure >= 0 && s.EndPressure < s.Pressure) {
		f.Refuse("material.Strand.EndPressure", s.EndPressure, "Pa", "0 up to the pressure, "+input.WithUnit(s.Pressure, "Pa"))
	}
	return f.Err()
}

func checkStrands(f *input.Faults, who string, strands []Strand) {
	for i, s := range strands {
		if err := s.Validate(); err != nil {
			f.Add(fmt.Errorf("%s: strand %d: %w", who, i, err))
		}
	}
}

// EndLoss is what a melt loses at the ends of a hole, most of it at the entrance.
type EndLoss struct {
	Pressure   float64 // lost at the ends, at any length of hole [Pa]
	WallStress float64 // true shear stress at the wall [Pa]
	Scatter    float64 // standard deviation of the pressures about the line; 0 of two lengths, which any line meets [Pa]
}

// Diameters returns the length of hole that costs as much as its ends, in diameters [-].
func (e EndLoss) Diameters() float64 { return e.Pressure / (4 * e.WallStress) }

// Bagley returns the loss at the ends from strands of one melt temperature (2 K) and one
// apparent rate (2 % of mass flow over D³) through holes of two or more length-to-diameter
// ratios: pressure falls on the line Δp = Δp_end + 4τ·L/D, found by least squares. It
// takes no account of the EndPressure given.
//
// E. B. Bagley, J. Appl. Phys. 28 (1957) 624, from memory. The line bends upwards where
// pressure thickens the melt, above some 50 MPa.
//
// It errs on invalid or unlike strands, with ErrTooFew on holes that are all alike, and
// with ErrUnphysical where the line falls or meets a pressure below nothing.
func Bagley(strands []Strand) (EndLoss, error) {
	const who = "material.Bagley"
	var f input.Faults
	checkStrands(&f, who, strands)
	if err := f.Err(); err != nil {
		return EndLoss{}, err
	}
	if len(strands) < 2 {
		return EndLoss{}, fmt.Errorf("%s: %w: %d strands, at least 2 of unlike length", who, ErrTooFew, len(strands))
	}
	rate := func(s Strand) float64 { return s.MassFlow / (s.Diameter * s.Diameter * s.Diameter) }
	var ratios, pressures []float64
	least, most := math.Inf(1), 0.0
	for i, s := range strands {
		if math.Abs(rate(s)/rate(strands[0])-1) > 0.02 {
			f.Refuse(fmt.Sprintf("%s: strand %d, apparent rate over that of the first", who, i), rate(s)/rate(strands[0]), "", "0.98 to 1.02")
		}
		if math.Abs(s.Temperature-strands[0].Temperature) > sameWithin {
			f.Refuse(fmt.Sprintf("%s: strand %d, Temperature", who, i), s.Temperature, "K", "within 2 K of the first's, "+input.WithUnit(strands[0].Temperature, "K"))
		}
		ratios, pressures = append(ratios, s.Length/s.Diameter), append(pressures, s.Pressure)
		least, most = math.Min(least, ratios[i]), math.Max(most, ratios[i])
	}
	if err := f.Err(); err != nil {
		return EndLoss{}, err
	}
	if most < 1.01*least {
		return EndLoss{}, fmt.Errorf("%s: %w: lengths of %.4g to %.4g diameters, at least 1 %% apart", who, ErrTooFew, least, most)
	}
	end, slope := stat.LinearRegression(ratios, pressures, nil, false)
	var squares, height float64
	for i, x := range ratios {
		squares += (pressures[i] - end - slope*x) * (pressures[i] - end - slope*x)
		height = math.Max(height, pressures[i])
	}
	if math.Abs(end) < 1e-12*height*most/(most-least) {
		end = 0 // rounding
	}
	if end < 0 || slope <= 0 {
		return EndLoss{}, fmt.Errorf("%s: %w: end pressure %.4g Pa, wall stress %.4g Pa; the pressure must not be below 0, the stress above it", who, ErrUnphysical, end, slope/4)
	}
	e := EndLoss{Pressure: end, WallStress: slope / 4}
	if len(ratios) > 2 {
		e.Scatter = math.Sqrt(squares / float64(len(ratios)-2))
	}
	return e, nil
}

// Rabinowitsch returns the true rate and viscosity at the wall of each strand, in the
// order given, for a melt density, 100 to 5000 [kg/m³]:
//
//	γ̇ = γ̇a·(3 + d ln γ̇a/d ln τ)/4
//
// (B. Rabinowitsch, Z. Phys. Chem. A 145 (1929) 1, after K. Weissenberg). The slope is
// taken over all strands of one temperature (2 K): that of the straight line through
// ln γ̇a over ln τ, or from four strands on of the parabola (common practice, no source)
// where its bend stands out of the scatter at a level of 95 %, but nowhere less than 1 for
// a melt that thins at all. Free of scatter it is exact for a power law; over a decade or
// two of a bent curve, in six strands and more, usually within 3 % in viscosity, at the
// ends across a sharp bend up to 12 %. Scatter of 5 % in pressure can put a parabola
// through few strands by chance, and a single rate off by up to 30 %.
//
// The density is one for all temperatures: 1 % in rate over 30 K. All points of one
// temperature share the error of its slope, while [Fit] supposes that points err
// independently: at the ends of the rates a band for 95 cases of 100 then holds the truth
// in some 85 to 90.
//
// It errs on invalid strands, with ErrTooFew where a temperature has fewer than two wall
// stresses, and with ErrUnphysical where the flow does not grow with pressure as a
// melt's does, between the powers 1/1.5 and 1/0.05.
func Rabinowitsch(strands []Strand, density float64) ([]FlowPoint, error) {
	const who = "material.Rabinowitsch"
	var f input.Faults
	f.Between(who+": density", density, 100, 5000, "kg/m³")
	checkStrands(&f, who, strands)
	if err := f.Err(); err != nil {
		return nil, err
	}
	if len(strands) == 0 {
		return nil, fmt.Errorf("%s: %w: none, at least 2 of a temperature", who, ErrTooFew)
	}
	points := make([]FlowPoint, len(strands))
	for _, group := range byTemperature(strands) {
		x, y := make([]float64, len(group)), make([]float64, len(group))
		for i, at := range group {
			x[i], y[i] = math.Log(strands[at].WallStress()), math.Log(strands[at].ApparentRate(density))
		}
		slopes, ok := slopesOf(x, y)
		if !ok {
			return nil, fmt.Errorf("%s: %w: one wall stress at %.4g °C, at least 2 that differ by 1 %%", who, ErrTooFew, ToCelsius(strands[group[0]].Temperature))
		}
		for i, at := range group {
			if s := slopes[i]; !(s >= 1/mostIndex && s <= 1/leastIndex) {
				return nil, fmt.Errorf("%s: %w: strand %d at %.4g °C: flow grows with the power %.3g of pressure, allowed 0.67 to 20", who, ErrUnphysical, at, ToCelsius(strands[at].Temperature), s)
			}
			rate := strands[at].ApparentRate(density) * (3 + slopes[i]) / 4
			points[at] = FlowPoint{ShearRate: rate, Temperature: strands[at].Temperature, Viscosity: strands[at].WallStress() / rate}
		}
	}
	return points, nil
}

// byTemperature gathers the indexes of strands no more than 2 K above the coldest of
// each group.
func byTemperature(strands []Strand) [][]int {
	order := make([]int, len(strands))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(strands[a].Temperature, strands[b].Temperature) })
	var groups [][]int
	for _, i := range order {
		last := len(groups) - 1
		if last >= 0 && strands[i].Temperature-strands[groups[last][0]].Temperature <= sameWithin {
			groups[last] = append(groups[last], i)
			continue
		}
		groups = append(groups, []int{i})
	}
	return groups
}

// slopesOf returns dy/dx at every x: that of the line nearest to the points, or of the
// parabola where its bend stands out of the scatter at a level of 95 %, then held at 1 if
// it is above 1 in the middle. ok is false if there is but one x.
func slopesOf(x, y []float64) (slopes []float64, ok bool) {
	middle := stat.Mean(x, nil)
	spread := 0.0
	for _, v := range x {
		spread = math.Max(spread, math.Abs(v-middle))
	}
	if spread < 0.005 {
		return nil, false
	}
	_, slope := stat.LinearRegression(x, y, nil, false)
	slopes = make([]float64, len(x))
	for i := range slopes {
		slopes[i] = slope
	}
	if len(x) < 4 {
		return slopes, true
	}
	a := mat.NewDense(len(x), 3, nil)
	for i, v := range x {
		at := (v - middle) / spread
		a.SetRow(i, []float64{1, at, at * at})
	}
	var qr mat.QR
	var c, off mat.VecDense
	var r mat.Dense
	qr.Factorize(a)
	if qr.Cond() > 1e6 || qr.SolveVecTo(&c, false, mat.NewVecDense(len(y), y)) != nil {
		return slopes, true // stresses in two heaps carry no parabola
	}
	off.MulVec(a, &c)
	off.SubVec(&off, mat.NewVecDense(len(y), y))
	qr.RTo(&r)
	freedom := float64(len(x) - 3)
	scatter := mat.Norm(&off, 2) / math.Sqrt(freedom) / math.Abs(r.At(2, 2)) // standard error of the bend
	if math.Abs(c.AtVec(2)) <= scatter*(distuv.StudentsT{Sigma: 1, Nu: freedom}).Quantile(0.975) {
		return slopes, true
	}
	for i, v := range x {
		slopes[i] = (c.AtVec(1) + 2*c.AtVec(2)*(v-middle)/spread) / spread
		if c.AtVec(1) > spread { // thins in the middle
			slopes[i] = math.Max(1, slopes[i])
		}
	}
	return slopes, true
}
