package thermal

import "meltflight/internal/input"

// Melting is what it takes to melt plastic at a steady rate.
type Melting struct {
	Flow     float64 // 1e-9 to 10 [kg/s]
	Enthalpy float64 // of the melt above the pellets, heat of melting included, 1e3 to 5e6 [J/kg]
	Loss     float64 // of the hot barrel to the air, see [Lagged.At], 0 to 1e6 [W]
	Cooling  float64 // carried off at the throat, see [Sleeve.Cooled], 0 to 1e6 [W]
	Shaft    float64 // turned into heat by the screw: torque times speed, 0 to 1e6 [W]
}

// MeltingState is where the power of melting comes from.
type MeltingState struct {
	Melt     float64 // power that the melt carries off [W]
	Heater   float64 // power that the heaters must give on average [W]
	Surplus  float64 // of shaft power that must be cooled away, with the heaters off [W]
	Specific float64 // energy of a kilogram, heaters and shaft [J/kg]
	Useful   float64 // part of it that is in the melt, 0 to 1 [-]
}

// Validate reports the fields out of range.
func (m Melting) Validate() error {
	var f input.Faults
	m.check(&f)
	return f.Err()
}

func (m *Melting) check(f *input.Faults) {
	f.Between("thermal.Melting.Flow", m.Flow, 1e-9, 10, "kg/s")
	f.Between("thermal.Melting.Enthalpy", m.Enthalpy, 1e3, 5e6, "J/kg")
	f.Between("thermal.Melting.Loss", m.Loss, 0, 1e6, "W")
	f.Between("thermal.Melting.Cooling", m.Cooling, 0, 1e6, "W")
	f.Between("thermal.Melting.Shaft", m.Shaft, 0, 1e6, "W")
}

// Energy returns the balance of heaters and shaft against melt and losses. Losses of a small machine outweigh
// its melt: energy of a kilogram falls as more is made. What is lost in motor, gears and supplies
// comes on top.
func (m Melting) Energy() (MeltingState, error) {
	if err := m.Validate(); err != nil {
		return MeltingState{}, err
	}
	s := MeltingState{Melt: m.Flow * m.Enthalpy}
	if s.Heater = s.Melt + m.Loss + m.Cooling - m.Shaft; s.Heater < 0 {
		s.Surplus, s.Heater = -s.Heater, 0
	}
	total := s.Heater + m.Shaft
	s.Specific, s.Useful = total/m.Flow, s.Melt/total
	return s, nil
}
