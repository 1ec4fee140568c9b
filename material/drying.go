package material

import "meltflight/internal/input"

// WaterMolarMass is the molar mass of water [kg/mol].
const WaterMolarMass = 18.015e-3

// Drying is how a plastic is dried before it is melted, in dry air. The zero Drying
// says that there is no need.
type Drying struct {
	Moisture    float64 `json:"moisture"`      // most water by mass that may go into the melt, 1e-6 to 0.1 [-]
	Temperature float64 `json:"temperature_k"` // of the air, 250 to 500 [K]
	Time        float64 `json:"time_s"`        // at that temperature, 60 to 1e6 [s]
}

func (d Drying) check(f *input.Faults) {
	if d == (Drying{}) {
		return
	}
	f.Between("material.Drying.Moisture", d.Moisture, 1e-6, 0.1, "")
	f.Between("material.Drying.Temperature", d.Temperature, 250, 500, "K")
	f.Between("material.Drying.Time", d.Time, 60, 1e6, "s")
}

// Hydrolysed returns the number-average molar mass [kg/mol] of a polyester or other
// condensation polymer of a molar mass, 0.1 to 1e4 [kg/mol], after it was melted
// with a mass fraction of water, 0 to 0.5 [-]: every molecule of water cuts one chain,
//
//	1/Mn' = 1/Mn + w/18.015 g/mol
//
// the worst case, as no water escapes and no chain joins again; in a hot melt it is
// near the truth within minutes (common practice, no source). It errs on arguments
// out of range.
func Hydrolysed(molarMass, water float64) (float64, error) {
	var f input.Faults
	f.Between("material.Hydrolysed: molar mass", molarMass, 0.1, 1e4, "kg/mol")
	f.Between("material.Hydrolysed: water", water, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return molarMass / (1 + water*molarMass/WaterMolarMass), nil
}
