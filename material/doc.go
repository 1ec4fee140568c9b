// Package material says what things are made of: polymers and their melts, bulk
// flake and pellets, metals for screws, shafts, gears and frames.
//
// Materials are plain data with provenance. Each has a Source map that names,
// field by field, where its numbers come from; a number without a published
// source says "typical, from memory". A user's own material is the same struct,
// filled by hand.
//
// A melt's viscosity is a law behind the interface [Viscosity]:
//
//	pp := material.PP()
//	eta := pp.Viscosity.At(100, material.Celsius(190), 0) // Pa·s
//
// All quantities are in SI base units; temperatures in kelvins, for which
// [Celsius] is the way to write a literal.
//
// Every solver of this module reports how hard it loads a part as a
// [Utilisation], and refuses an impossible input with an error for which
// errors.Is(err, material.ErrInvalid) holds.
package material

import "meltflight/internal/input"

// ErrInvalid is what errors.Is finds in every error of this module that was
// caused by a refused input: the message names package, field, value, unit and
// what is allowed, one line for each refused field.
var ErrInvalid = input.ErrInvalid

// Celsius converts a temperature in degrees Celsius to kelvins [K].
func Celsius(degrees float64) float64 { return degrees + 273.15 }

// ToCelsius converts a temperature in kelvins to degrees Celsius [°C].
func ToCelsius(kelvins float64) float64 { return kelvins - 273.15 }
