package material

// The paper prints check values for the gas of no density, which AirAt never gives.
var (
	DiluteViscosity    = diluteViscosity
	DiluteConductivity = diluteConductivity
)
