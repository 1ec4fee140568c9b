package material

import "meltflight/internal/input"

// kilogram is the weight of one, in which hardness numbers are given: kgf/mm² [Pa].
const kilogram = 9.80665e6

// HardnessPressure returns a Brinell or Vickers number as a pressure [Pa], the H
// of the wear laws: 9.80665e6 Pa a unit, since both are kgf/mm² of the dent's
// surface. The number may be 1 to 10000 [-].
func HardnessPressure(number float64) (float64, error) {
	var f input.Faults
	f.Between("material.HardnessPressure: number", number, 1, 10000, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return kilogram * number, nil
}

// VickersFromBrinell returns the Vickers number of an unalloyed or low-alloy steel
// of Brinell number 76 to 437 [-]: HV = HB/0.95, by ISO 18265, Table A.1, from
// memory, which it meets to 0.4 %. Hardness conversion as such is uncertain by
// some 5 %.
func VickersFromBrinell(number float64) (float64, error) {
	var f input.Faults
	f.Between("material.VickersFromBrinell: number", number, leastBrinell, mostBrinell, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return number / 0.95, nil
}

// TensileFromBrinell returns the tensile strength [Pa] of an unalloyed or
// low-alloy steel of Brinell number 76 to 437 [-]: 3.38 MPa a unit, which meets
// ISO 18265, Table A.1, from memory, to 1.4 %. It is no use for cold-drawn,
// case-hardened or stainless steel.
func TensileFromBrinell(number float64) (float64, error) {
	var f input.Faults
	f.Between("material.TensileFromBrinell: number", number, leastBrinell, mostBrinell, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 3.38e6 * number, nil
}

const leastBrinell, mostBrinell = 76, 437 // of ISO 18265, Table A.1, as used here [-]
