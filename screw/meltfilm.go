package screw

import "math"

// filmState is the melt film over a bed that fills the channel.
type filmState struct {
	thick       float64 // [m]
	dissipation float64 // as Melted.Dissipation [-]
	rate        float64 // melted on each metre of helix [kg/(m·s)]
	work        float64 // of the shaft, on each metre of helix [W/m]
	shear       float64 // rate [1/s]
}

// heated returns what warms and shears a film at a zone: heat conducted times thickness
// [W/m], and the speed of the barrel over the bed.
func (w *melting) heated(z *Zone, bed float64) (conducted, sliding float64) {
	v := math.Pi * w.p.Bore * w.speed
	w.film.Temperature = (z.Barrel + w.b.Melting) / 2
	return w.film.Conductivity * (z.Barrel - w.b.Melting), math.Sqrt(v*v + bed*bed - 2*v*bed*w.cos)
}

// heat returns what a kilogram takes until it leaves with the film, the film's mean
// temperature by its flow being (2/3 + Br/12) of the way from bed to barrel [J/kg].
func (w *melting) heat(z *Zone, dissipation float64) float64 {
	b := w.b
	return b.FusionHeat + b.SpecificHeat*(b.Melting-b.Temperature) + w.film.SpecificHeat*(z.Barrel-b.Melting)*(2./3+dissipation/6)
}

// filmOver solves the film over a bed that fills the channel: its thickness follows from
// the heat made in it, and that from its thickness.
func (w *melting) filmOver(z *Zone, bed float64) (s filmState, err error) {
	conducted, sliding := w.heated(z, bed)
	across := math.Pi * w.p.Bore * w.speed * w.sin
	square := 2 * conducted * w.width / (across * w.film.Density) // of the thickness, times the heat of melting
	x := math.Log(square/w.heat(z, 0)) / 2                        // ln of the thickness
	for range 60 {
		s.thick = math.Exp(x)
		s.shear = sliding / s.thick
		eta, index := w.film.local(s.shear)
		if !liquid(eta) {
			return s, w.film.notLiquid(s.shear, eta)
		}
		// Newton's step, the heat of shear growing as the thickness to the power 1−n.
		s.dissipation = eta * sliding * sliding / (2 * conducted)
		grows := (1 - index) * s.dissipation
		heat := w.heat(z, s.dissipation)
		step := (math.Log(square*(1+s.dissipation)/heat) - 2*x) /
			(2 - grows/(1+s.dissipation) + grows*(heat-w.heat(z, 0))/(s.dissipation*heat))
		x += math.Max(-1, math.Min(1, step))
		if math.Abs(step) <= 1e-14 {
			break
		}
	}
	s.thick = math.Exp(x)
	s.rate = w.film.Density * across * s.thick / 2 // what the barrel drags off
	v := math.Pi * w.p.Bore * w.speed
	s.work = s.dissipation * 2 * conducted / (sliding * sliding * s.thick) * v * (v - bed*w.cos) * w.width // η/δ times the barrel's speed along the sliding
	return s, nil
}
