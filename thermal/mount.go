package thermal

import "meltflight/internal/input"

// Mount is how a motor is held: heat goes from winding to case, from there to the air and by
// the bracket, which loses it to the same air.
type Mount struct {
	WindingToCase float64 // 1e-3 to 1e4 [K/W]
	CaseToAir     float64 // 1e-3 to 1e4 [K/W]
	CaseToBracket float64 // of the joint, 1e-3 to 1e4 [K/W]
	BracketToAir  float64 // 1e-3 to 1e4; a plastic bracket is some hundred [K/W]
}

// Validate reports the fields out of range.
func (m Mount) Validate() error {
	var f input.Faults
	m.check(&f)
	return f.Err()
}

func (m *Mount) check(f *input.Faults) {
	f.Between("thermal.Mount.WindingToCase", m.WindingToCase, leastResistance, mostResistance, "K/W")
	f.Between("thermal.Mount.CaseToAir", m.CaseToAir, leastResistance, mostResistance, "K/W")
	f.Between("thermal.Mount.CaseToBracket", m.CaseToBracket, leastResistance, mostResistance, "K/W")
	f.Between("thermal.Mount.BracketToAir", m.BracketToAir, leastResistance, mostResistance, "K/W")
}

// Resistance returns that from winding to ambient [K/W], which a [Winding] asks for.
func (m Mount) Resistance() (float64, error) {
	if err := m.Validate(); err != nil {
		return 0, err
	}
	return m.WindingToCase + m.outside(), nil
}

func (m *Mount) outside() float64 {
	bracket := m.CaseToBracket + m.BracketToAir
	return m.CaseToAir * bracket / (m.CaseToAir + bracket)
}

// MountState tells how warm a motor's surroundings are made.
type MountState struct {
	Winding     float64 // [K]
	Case        float64 // [K]
	Bracket     float64 // [K]
	BracketHeat float64 // what goes into the bracket [W]
}

// At returns the state of a loss, 0 to 1e6 [W], in air at 200 to 473.15 [K].
func (m Mount) At(loss, ambient float64) (MountState, error) {
	var f input.Faults
	m.check(&f)
	f.Between("thermal.Mount.At: loss", loss, 0, 1e6, "W")
	checkTemperature(&f, "thermal.Mount.At: ambient", ambient)
	if err := f.Err(); err != nil {
		return MountState{}, err
	}
	rise := loss * m.outside()
	s := MountState{Case: ambient + rise, BracketHeat: rise / (m.CaseToBracket + m.BracketToAir)}
	s.Winding, s.Bracket = s.Case+loss*m.WindingToCase, ambient+s.BracketHeat*m.BracketToAir
	return s, nil
}

// Iron is a motor's iron loss as it was found at one speed: a part by hysteresis, that goes
// with the speed, the rest by eddy currents, that goes with its square, the flux being the
// magnets' and so the same (any text on electrical machines).
type Iron struct {
	Loss  float64 // 0 to 1e5 [W]
	Speed float64 // at which it was found, 1e-3 to 1e4 [rev/s]
	Eddy  float64 // part of it by eddy currents, 0 to 1 [-]
}

// At returns the iron loss [W] at a speed, 0 to ten times Speed [rev/s], for [Winding].IronLoss.
func (i Iron) At(speed float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Iron.Loss", i.Loss, 0, 1e5, "W")
	f.Between("thermal.Iron.Speed", i.Speed, 1e-3, 1e4, "rev/s")
	f.Between("thermal.Iron.Eddy", i.Eddy, 0, 1, "")
	if f.None() {
		f.Between("thermal.Iron.At: speed", speed, 0, 10*i.Speed, "rev/s")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	s := speed / i.Speed
	return i.Loss * s * (1 - i.Eddy + i.Eddy*s), nil
}
