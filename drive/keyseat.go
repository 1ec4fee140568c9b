package drive

import "meltflight/internal/input"

// Keyseat is a seat for a parallel key with round ends, cut by an end mill to an eighth
// of the diameter or so.
type Keyseat struct {
	Diameter float64 // of the shaft, 1e-4 to 0.165 [m]
	Radius   float64 // of the fillet at the bottom, 0.005 to 0.04 of Diameter [m]
}

// Bending returns the stress concentration factor K_t in the fillet, on the nominal
// stress of the full section, in bending [-]: W. D. Pilkey and D. F. Pilkey, Peterson's Stress
// Concentration Factors, 3rd ed. (2008), chart 5.1, K_t = 1.426 + 0.1643x − 0.0019x², x = 0.1·d/r
// (from memory).
func (k Keyseat) Bending() (float64, error) {
	var f input.Faults
	k.check(&f)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return k.bending(), nil
}

// Torsion returns the stress concentration factor K_ts in the fillet in torsion, with no
// key in the seat and with one that carries the torque [-]: Peterson's, 3rd ed. (2008),
// chart 5.2, K_ts = 1.953 + 0.1434x − 0.0021x², x = 0.1·d/r (from memory); with a key 3.0/2.62 of it,
// the ratio at r/d 0.02 by R. G. Budynas and J. K. Nisbett, Shigley's Mechanical Engineering
// Design, 9th ed. (2011), section 7-4 (from memory), here taken for all radii.
func (k Keyseat) Torsion() (empty, keyed float64, err error) {
	var f input.Faults
	k.check(&f)
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	return k.torsion(), withKey * k.torsion(), nil
}

// Fatigue returns the fatigue notch factors K_f in bending and K_fs in torsion [-], with a
// key that carries the torque, that a Shaft of a steel's tensile strength, 345e6 to 1517e6 [Pa],
// takes, as Shoulder.Fatigue does.
func (k Keyseat) Fatigue(ultimate float64) (bending, torsion float64, err error) {
	var f input.Faults
	k.check(&f)
	f.Between("drive.Keyseat.Fatigue: ultimate", ultimate, softest, hardest, "Pa")
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	q, qs := sensitivity(ultimate, k.Radius)
	return 1 + q*(k.bending()-1), 1 + qs*(withKey*k.torsion()-1), nil
}

const withKey = 3.0 / 2.62

func (k Keyseat) check(f *input.Faults) {
	f.Between("drive.Keyseat.Diameter", k.Diameter, 1e-4, 0.165, "m")
	d := max(1e-4, min(k.Diameter, 0.165))
	// A billionth of slack, since the ends of the range in metres have rounding.
	f.Between("drive.Keyseat.Radius", k.Radius, 0.005*d*(1-1e-9), 0.04*d*(1+1e-9), "m")
}

func (k Keyseat) bending() float64 {
	x := 0.1 * k.Diameter / k.Radius
	return 1.426 + x*(0.1643-0.0019*x)
}

func (k Keyseat) torsion() float64 {
	x := 0.1 * k.Diameter / k.Radius
	return 1.953 + x*(0.1434-0.0021*x)
}
