// Package material says what things are made of: polymers and their melts, bulk
// flake and pellets, metals for screws, shafts, gears and frames.
//
// Materials are plain data with provenance. Each has a Source map that names,
// field by field, where its numbers come from; a number without a published
// source says "typical, from memory". A user's own material is the same struct,
// filled by hand, from a file ([ReadPolymer], [Polymer.Write]), or by a fit to
// strands weighed from the user's own nozzle: see [Rabinowitsch], [FitPowerLaw] and
// examples/flowcurve.
//
// A polymer has numbers for solid and melt, and two laws, which its methods ask and
// check:
//
//	pp := material.PP()
//	eta, beyond, err := pp.ViscosityAt(100, material.Celsius(195), 0) // Pa·s
//	rho, beyond, err := pp.DensityAt(material.Celsius(220), 20e6)     // kg/m³
//	h, beyond, err := pp.EnthalpyAt(material.Celsius(220))            // J/kg above 25 °C
//
// What a law was not fitted for is told in beyond. Viscosity is a law behind the
// interface [Viscosity], specific volume one behind [PVT] ([Tait] for a melt,
// [TwoDomainTait] for solid and melt). Where no law is published that the package
// could vouch for, the field is nil and asking gives [ErrNoData]: viscosity of PET,
// PETG and PLA; volume of all but PP, HDPE, LDPE and PS. One grade differs from
// another of the same name by a factor of two in viscosity, 10 % in specific heat,
// a percent in density: measure yours.
//
// Heat from solid to melt needs crystallinity, which depends on how the plastic was
// last cooled: [Polymer.FusionHeat] is that share of the crystal's heat, and
// [CrystallinityOf] has it from a density. Polyesters and nylon lose chain length to
// water in the melt: [Drying] says how dry they must be, [Hydrolysed] what water costs.
//
// All quantities are in SI base units; temperatures in kelvins, for which
// [Celsius] is the way to write a literal.
//
// Every solver of this module reports how hard it loads a part as a
// [Utilisation], and refuses an impossible input with an error for which
// errors.Is(err, material.ErrInvalid) holds.
package material

import (
	"errors"

	"meltflight/internal/input"
)

// ErrInvalid is what errors.Is finds in every error of this module that was
// caused by a refused input: the message names package, field, value, unit and
// what is allowed, one line for each refused field.
var ErrInvalid = input.ErrInvalid

// ErrNoData is what errors.Is finds when a material is asked for what nobody has
// published, or filled in: a law that is nil, a number that is 0. It is not
// ErrInvalid; the message names the material and what it lacks.
var ErrNoData = errors.New("no data")

// Celsius converts a temperature in degrees Celsius to kelvins [K].
func Celsius(degrees float64) float64 { return degrees + 273.15 }

// ToCelsius converts a temperature in kelvins to degrees Celsius [°C].
func ToCelsius(kelvins float64) float64 { return kelvins - 273.15 }
