package thermal

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrNeverReached is what errors.Is finds when a temperature is never reached: warming stops at its
// ceiling, cooling at what is around.
var ErrNeverReached = errors.New("never reached")

// HeatUp is a barrel, a nozzle or a plate of one temperature throughout, with a heater and
// with losses in proportion to its difference from the air.
//
// A heater whose switch sticks drives it to its [HeatUp.Ceiling]. What stands between that and a
// fire is a cut-out of its own sensor and switch, independent of the controller; mains
// wiring is the work of licensed people.
type HeatUp struct {
	Capacity    float64 // mass times specific heat of all that gets warm, 1e-3 to 1e9 [J/K]
	Power       float64 // of the heater, 0 to 1e7 [W]
	Conductance float64 // of all losses, see [Lagged.At]: that of the running temperature errs to the slow side; 0 to 1e6 [W/K]
	Air         float64 // 200 to 473.15 [K]
}

// Validate reports the fields out of range.
func (h HeatUp) Validate() error {
	var f input.Faults
	h.check(&f)
	return f.Err()
}

func (h *HeatUp) check(f *input.Faults) {
	f.Between("thermal.HeatUp.Capacity", h.Capacity, 1e-3, 1e9, "J/K")
	f.Between("thermal.HeatUp.Power", h.Power, 0, 1e7, "W")
	f.Between("thermal.HeatUp.Conductance", h.Conductance, 0, 1e6, "W/K")
	checkTemperature(f, "thermal.HeatUp.Air", h.Air)
}

func checkBody(f *input.Faults, name string, temperature float64) {
	f.Between(name, temperature, lowestTemperature, hottestSurface, "K")
}

// Time returns how long it takes from one temperature to another, each 200 to 1200 [K],
// up or down [s]: −(C/G)·ln(1 − G·(to − from)/q) with the heat q left over at first, and
// C·(to − from)/P without losses. It errs with [ErrNeverReached] at the ceiling and
// beyond, and for ways that lead away from it. Exact for a body of one temperature, which a thick
// barrel under a heater is not quite, see [Soak].
//
// Source: closed form of C·dT/dt = P − G·(T − Ta), Çengel and Ghajar, 5th ed., ch. 4.
func (h HeatUp) Time(from, to float64) (float64, error) {
	var f input.Faults
	h.check(&f)
	checkBody(&f, "thermal.HeatUp.Time: from", from)
	checkBody(&f, "thermal.HeatUp.Time: to", to)
	if err := f.Err(); err != nil {
		return 0, err
	}
	way, left := to-from, h.Power-h.Conductance*(from-h.Air)
	if way == 0 {
		return 0, nil
	}
	part := h.Conductance * way / left
	time := h.Capacity * (way / left) * logRatio(part)
	if left == 0 || way > 0 != (left > 0) || !(part < 1) || !(time <= 1e15) {
		return 0, h.never(to)
	}
	return time, nil
}

// logRatio is −ln(1−x)/x.
func logRatio(x float64) float64 {
	if math.Abs(x) < 1e-12 {
		return 1
	}
	return -math.Log1p(-x) / x
}

func (h *HeatUp) never(to float64) error {
	if h.Conductance == 0 {
		return fmt.Errorf("%w: %.6g °C by %.6g W and no losses", ErrNeverReached, material.ToCelsius(to), h.Power)
	}
	return fmt.Errorf("%w: %.6g °C, the heater's %.6g W lead to %.6g °C", ErrNeverReached,
		material.ToCelsius(to), h.Power, material.ToCelsius(h.Air+h.Power/h.Conductance))
}

// After returns the temperature [K] after a time, 0 to 1e12 [s], from one of 200 to 1200 [K] on.
// It is the formula's, however hot.
func (h HeatUp) After(time, from float64) (float64, error) {
	var f input.Faults
	h.check(&f)
	f.Between("thermal.HeatUp.After: time", time, 0, 1e12, "s")
	checkBody(&f, "thermal.HeatUp.After: from", from)
	if err := f.Err(); err != nil {
		return 0, err
	}
	_, gained := fade(h.Conductance/h.Capacity, time)
	return from + (h.Power-h.Conductance*(from-h.Air))/h.Capacity*gained, nil
}

// Ceiling returns the temperature that the heater leads to if it is never switched off [K]:
// Ta + P/G, an upper bound where G is that of a lower temperature, since losses grow faster than the
// difference: [Lagged.Ceiling] follows them. It errs with [ErrNeverReached] without losses.
func (h HeatUp) Ceiling() (float64, error) {
	if err := h.Validate(); err != nil {
		return 0, err
	}
	if ceiling := h.Air + h.Power/h.Conductance; h.Conductance > 0 && ceiling <= 1e15 {
		return ceiling, nil
	}
	return 0, fmt.Errorf("thermal.HeatUp.Ceiling: %w: %.6g W and losses of %.6g W/K have none", ErrNeverReached, h.Power, h.Conductance)
}

// Holding returns what keeps a temperature, Air to 1200 [K]: the power [W], and the part of the
// time that the heater is on [-]. It errs with [ErrNeverReached] where the heater is too weak.
func (h HeatUp) Holding(temperature float64) (power, duty float64, err error) {
	var f input.Faults
	h.check(&f)
	if f.None() {
		f.Between("thermal.HeatUp.Holding: temperature", temperature, h.Air, hottestSurface, "K")
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	switch power = h.Conductance * (temperature - h.Air); {
	case power > h.Power:
		return 0, 0, h.never(temperature)
	case power > 0:
		duty = power / h.Power
	}
	return power, duty, nil
}

// PowerFor returns the power [W] that goes from one temperature to a higher, each 200 to 1200
// [K], in a time, 0.1 to 1e9 [s], whatever Power says: G·(from − Ta) + G·(to − from)/(1 − e^(−Gt/C)).
// It is 0 where the air alone would warm it as quickly.
func (h HeatUp) PowerFor(time, from, to float64) (float64, error) {
	var f input.Faults
	h.Power = 0
	h.check(&f)
	f.Between("thermal.HeatUp.PowerFor: time", time, 0.1, 1e9, "s")
	checkBody(&f, "thermal.HeatUp.PowerFor: from", from)
	checkBody(&f, "thermal.HeatUp.PowerFor: to", to)
	if f.None() && !(to >= from) {
		f.Refuse("thermal.HeatUp.PowerFor: to", to, "K", "from, "+input.WithUnit(from, "K")+", or more")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	_, gained := fade(h.Conductance/h.Capacity, time)
	return math.Max(0, h.Conductance*(from-h.Air)+h.Capacity*(to-from)/gained), nil
}

// RadiationCooling returns how long [s] a body of one temperature takes from one temperature to
// another, each 200 to 1200 [K], by radiation alone to surroundings, 200 to 1200 [K]: capacity [J/K]
// 1e-3 to 1e9, area [m²] 1e-8 to 100, emissivity 1e-3 to 1 [-]. It errs with
// [ErrNeverReached] where the way does not lead towards the surroundings, and at them.
//
// Source: A. Bejan and A. D. Kraus (eds.), Heat Transfer Handbook, eq. 3.283, there of a black body.
func RadiationCooling(capacity, area, emissivity, from, to, surroundings float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.RadiationCooling: capacity", capacity, 1e-3, 1e9, "J/K")
	f.Between("thermal.RadiationCooling: area", area, 1e-8, 100, "m²")
	f.Between("thermal.RadiationCooling: emissivity", emissivity, 1e-3, 1, "")
	checkBody(&f, "thermal.RadiationCooling: from", from)
	checkBody(&f, "thermal.RadiationCooling: to", to)
	checkBody(&f, "thermal.RadiationCooling: surroundings", surroundings)
	if err := f.Err(); err != nil {
		return 0, err
	}
	way, left := to-from, surroundings-to
	if way == 0 {
		return 0, nil
	}
	if left == 0 || way > 0 != (left > 0) {
		return 0, fmt.Errorf("%w: %.6g °C from %.6g °C in surroundings of %.6g °C", ErrNeverReached,
			material.ToCelsius(to), material.ToCelsius(from), material.ToCelsius(surroundings))
	}
	// The source's logarithms and arcs, taken together to keep digits where the way is short.
	s := surroundings
	sum := math.Log1p(way/(s+from)) + math.Log1p(way/left) + 2*math.Atan(s*way/(s*s+from*to))
	return capacity / (4 * emissivity * StefanBoltzmann * area * s * s * s) * sum, nil
}

// FreeCooling returns how long [s] a body takes until a part is left of its difference from the
// air, 1e-9 to 1 [-], if its conductance goes with the difference to a power n, 0 to 1:
// (C/G)·(part^(−n) − 1)/n. Of free convection n is ¼ while laminar, ⅓ when turbulent. Capacity
// [J/K] 1e-3 to 1e9, conductance at first [W/K] 1e-9 to 1e6.
//
// Source: Bejan and Kraus, Heat Transfer Handbook, eqs. 3.285 and 3.286.
func FreeCooling(capacity, conductance, power, part float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.FreeCooling: capacity", capacity, 1e-3, 1e9, "J/K")
	f.Between("thermal.FreeCooling: conductance", conductance, 1e-9, 1e6, "W/K")
	f.Between("thermal.FreeCooling: power", power, 0, 1, "")
	f.Between("thermal.FreeCooling: part", part, 1e-9, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	l := -math.Log(part)
	if power*l > 1e-9 {
		l = math.Expm1(power*l) / power
	}
	return capacity / conductance * l, nil
}
