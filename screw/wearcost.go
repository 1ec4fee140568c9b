package screw

import "meltflight/internal/input"

// WearCost is what the parts that scraping wears out cost for what they deliver.
type WearCost struct {
	Time        float64 // until they are replaced [s]
	Clearance   float64 // radial, then [m]
	MassFlow    float64 // mean until then [kg/s]
	Delivered   float64 // until then [kg]
	PerKilogram float64 // Price ÷ Delivered, in the currency of the price [1/kg]
}

// WearCost returns what worn parts cost a kilogram delivered through a die, for parts of a
// price in any currency, 0 to 1e12, that are replaced when the screw delivers a share of
// what it does now, 0.5 to 0.999 [-]. The price is of all that is replaced then: of a
// barrel that lasts three screws a third. It errs as [Channel.TimeTo], on whose time it
// rests and which is good to a power of ten at best: so is the cost.
//
// The clearance grows evenly with time, so that the mean flow is that over the clearance,
// by Simpson's rule from new, half worn and worn, to 2e-3.
func (c Channel) WearCost(price, share float64, w Scraping, d Die, m Melt, speed float64) (WearCost, error) {
	var f input.Faults
	f.Between("screw.Channel.WearCost: price", price, 0, 1e12, "")
	f.Between("screw.Channel.WearCost: share", share, 0.5, 0.999, "")
	w.check(&f, &c)
	now, err := OperatingPoint(c, d, m, speed)
	if !f.None() || err != nil {
		f.Add(err)
		return WearCost{}, f.Err()
	}
	time, clearance, err := c.TimeTo(share, w, d, m, speed)
	if err != nil {
		return WearCost{}, err
	}
	half := c
	half.Clearance = (c.Clearance + clearance) / 2
	between, err := OperatingPoint(half, d, m, speed)
	if err != nil {
		return WearCost{}, err
	}
	mean := ((1+share)*now.MassFlow + 4*between.MassFlow) / 6
	return WearCost{Time: time, Clearance: clearance, MassFlow: mean, Delivered: mean * time, PerKilogram: price / (mean * time)}, nil
}
