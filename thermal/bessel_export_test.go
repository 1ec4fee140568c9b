package thermal

// What the tests of package thermal_test compare with other arithmetic.
var (
	BesselI   = besselI
	BesselK   = besselK
	Annular   = annular
	Entrance  = entrance
	Rectangle = rectangle
)
