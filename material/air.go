package material

import (
	"math"

	"meltflight/internal/input"
)

// Air is dry air at 101325 Pa.
type Air struct {
	Temperature  float64 // [K]
	Density      float64 // [kg/m³]
	Viscosity    float64 // dynamic [Pa·s]
	Conductivity float64 // of heat [W/(m·K)]
	SpecificHeat float64 // at constant pressure [J/(kg·K)]
}

// AirAt returns dry air at 101325 Pa and a temperature, 200 to 1000 [K].
//
// Viscosity and conductivity are by E. W. Lemmon and R. T. Jacobsen, Viscosity and
// Thermal Conductivity Equations for Nitrogen, Oxygen, Argon, and Air, Int. J.
// Thermophys. 25 (2004) 21, eqs. 1 to 6 (numbers from memory), with the terms that
// count at this pressure; density and specific heat by E. W. Lemmon, R. T.
// Jacobsen, S. G. Penoncello and D. G. Friend, Thermodynamic Properties of Air, J.
// Phys. Chem. Ref. Data 29 (2000) 331, cut after the second virial coefficient.
// Uncertainties (from memory of both papers): 1 % of viscosity, 2 % of
// conductivity, 0.1 % of density and 1 % of specific heat. Older textbook tables
// differ by up to 3 % in conductivity and 1.3 % in density.
func AirAt(temperature float64) (Air, error) {
	if !(temperature >= 200 && temperature <= 1000) {
		var f input.Faults
		f.Between("material.AirAt: temperature", temperature, 200, 1000, "K")
		return Air{}, f.Err()
	}
	const (
		pressure  = 101325
		gas       = 8.314510   // gas constant of the source [J/(mol·K)]
		molar     = 28.9586e-3 // [kg/mol]
		reference = 132.6312   // temperature by which the source reduces [K]
		packed    = 10447.7    // density by which the source reduces [mol/m³]
	)
	tau := reference / temperature
	l := math.Log(tau)
	power := func(x float64) float64 { return math.Exp(x * l) } // τ^x

	// Second virial coefficient B and T²·B″, times the reducing density.
	var second, bend float64
	for _, v := range virial {
		term := v.n * power(v.j)
		second += term
		bend += v.j * (v.j + 1) * term
	}
	// p = ρRT(1 + Bρ), solved for the gas's root.
	ideal := pressure / (gas * temperature)
	moles := 2 * ideal / (1 + math.Sqrt(1+4*second/packed*ideal))
	delta := moles / packed
	heat := gas*idealHeat(tau, l) - bend/packed*pressure/temperature

	dilute := diluteViscosity(temperature)
	viscosity := dilute + delta*(10.72*power(0.2)-8.876*power(0.6)*math.Exp(-delta))
	conductivity := diluteConductivity(dilute, l) + delta*(8.743*power(0.1)+14.76*delta)
	return Air{
		Temperature:  temperature,
		Density:      moles * molar,
		Viscosity:    viscosity * 1e-6,
		Conductivity: conductivity * 1e-3,
		SpecificHeat: heat / molar,
	}, nil
}

// virial holds the terms N·τ^j of the equation of state that are linear in density.
var virial = [...]struct{ n, j float64 }{
	{0.118160747229, 0}, {0.713116392079, 0.33}, {-1.61824192067, 1.01},
	{-0.101365037912, 1.6}, {-0.146629609713, 3.6}, {0.0148287891978, 3.5},
}

// diluteViscosity is that of the gas of no density [µPa·s].
func diluteViscosity(temperature float64) float64 {
	const (
		well = 103.3   // depth of the potential between molecules, by Boltzmann's constant [K]
		size = 0.360   // their diameter [nm]
		mass = 28.9586 // [g/mol]
	)
	x := math.Log(temperature / well)
	collision := math.Exp(0.431 + x*(-0.4623+x*(0.08406+x*(0.005341-0.00331*x))))
	return 0.0266958 * math.Sqrt(mass*temperature) / (size * size * collision)
}

// diluteConductivity is that of the gas of no density [mW/(m·K)], from
// its viscosity [µPa·s] and ln τ.
func diluteConductivity(viscosity, l float64) float64 {
	return 1.308*viscosity + 1.405*math.Exp(-1.1*l) - 1.036*math.Exp(-0.3*l)
}

// idealHeat is the specific heat of the ideal gas at constant pressure in units of R,
// from τ and ln τ.
func idealHeat(tau, l float64) float64 {
	t := 1 / tau
	c := 1 + 2.490888032 + t*(2*0.158860716e-3+t*(6*0.210274769e-4-t*12*0.605719400e-7)) +
		0.75*0.195363420e-3*math.Exp(1.5*l)
	u, v, w := 25.36365*tau, 16.90741*tau, 87.31279*tau
	eu, ev, ew := math.Exp(-u), math.Exp(-v), math.Exp(-w)
	c += 0.791309509 * u * u * eu / ((1 - eu) * (1 - eu))
	c += 0.212236768 * v * v * ev / ((1 - ev) * (1 - ev))
	c += 0.197938904 * w * w * (2. / 3) * ew / ((1 + (2./3)*ew) * (1 + (2./3)*ew))
	return c
}

// KinematicViscosity returns viscosity ÷ density [m²/s].
func (a Air) KinematicViscosity() float64 { return a.Viscosity / a.Density }

// Diffusivity returns the diffusivity of heat, conductivity ÷ (density × specific
// heat) [m²/s].
func (a Air) Diffusivity() float64 { return a.Conductivity / (a.Density * a.SpecificHeat) }

// Prandtl returns kinematic viscosity ÷ diffusivity of heat [-].
func (a Air) Prandtl() float64 { return a.Viscosity * a.SpecificHeat / a.Conductivity }
