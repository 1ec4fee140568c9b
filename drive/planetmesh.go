package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

func (p *PlanetaryStage) shifted() bool {
	return p.SunShift != 0 || p.PlanetShift != 0 || p.RingShift != 0
}

// pair returns the mesh of a planet with the sun, or with the ring at the axes' distance.
func (p *PlanetaryStage) pair(ring bool) GearPair {
	g := GearPair{
		Rack: RackA(), Module: p.Module, Face: p.Face,
		Pinion: Wheel{p.Sun, p.SunShift}, Wheel: Wheel{p.Planet, p.PlanetShift},
	}
	if ring {
		g.Pinion, g.Wheel, g.Ring = g.Wheel, Wheel{p.Ring, p.RingShift}, true
		g.Distance = p.Module * p.axes()
	}
	return g
}

// axes returns the distance of sun and planet without backlash, in modules; it is not a number
// if their shifts do not allow any.
func (p *PlanetaryStage) axes() float64 {
	apart := float64(p.Sun+p.Planet) / 2
	if p.SunShift+p.PlanetShift == 0 {
		return apart
	}
	sin, cos := math.Sincos(RackA().PressureAngle)
	inv := involute(RackA().PressureAngle) + (p.SunShift+p.PlanetShift)*sin/cos/apart
	if inv < 0 {
		return math.NaN()
	}
	return apart * cos / math.Cos(involuteAngle(inv))
}

// checkAxes refuses shifts and ring teeth with which planets do not run between sun and ring.
func (p *PlanetaryStage) checkAxes(f *input.Faults) {
	a := p.axes()
	if math.IsNaN(a) {
		f.Refuse("drive.PlanetaryStage.SunShift", p.SunShift, "", "with the planet's shift more, for which there is a distance of their axes")
		return
	}
	if off := p.Ring - p.Sun - 2*p.Planet; off < -4 || off > 4 {
		f.Refuse("drive.PlanetaryStage.Ring", float64(p.Ring), "", fmt.Sprintf("%d to %d, for which shifts can make up", p.Sun+2*p.Planet-4, p.Sun+2*p.Planet+4))
		return
	}
	ring := p.pair(true)
	fit, err := ring.ShiftFor(p.Module * a)
	if err != nil {
		f.Add(err)
		return
	}
	// Less shift of a ring leaves its teeth thicker and the planet no room.
	if p.RingShift < fit+p.PlanetShift-1e-9 {
		f.Refuse("drive.PlanetaryStage.RingShift", p.RingShift, "", fmt.Sprintf("%.6g or more, at which the planets run in it without backlash", fit+p.PlanetShift))
	}
}

// neighbours returns the gap of the tips of neighbouring planets, in modules.
func (p *PlanetaryStage) neighbours() float64 {
	return 2*p.axes()*spacing[p.Planets] - (float64(p.Planet) + 2 + 2*p.PlanetShift)
}

// StageMeshing is the geometry of a planetary stage.
type StageMeshing struct {
	Sun, Ring Meshing // the planet is Sun's wheel and Ring's pinion
	Neighbour float64 // gap between the tips of neighbouring planets [m]
}

// Meshes returns how the planets mesh with sun and ring and what air there is between
// them. A stage whose teeth cannot run together is refused, as GearPair.Mesh says.
func (p PlanetaryStage) Meshes() (StageMeshing, error) {
	var f input.Faults
	p.check(&f)
	if err := f.Err(); err != nil {
		return StageMeshing{}, err
	}
	sun, err := p.pair(false).Mesh()
	f.Add(err)
	ring, err := p.pair(true).Mesh()
	f.Add(err)
	if err := f.Err(); err != nil {
		return StageMeshing{}, err
	}
	return StageMeshing{Sun: sun, Ring: ring, Neighbour: p.Module * p.neighbours()}, nil
}

// BasicEfficiency returns what MeshEfficiency comes to for a coefficient of friction, 0 to 1,
// in both meshes [-]: the product of both efficiencies.
func (s StageMeshing) BasicEfficiency(friction float64) (float64, error) {
	a, err := s.Sun.Efficiency(friction)
	if err != nil {
		return 0, err
	}
	b, err := s.Ring.Efficiency(friction)
	return a * b, err
}

// StageFrequencies is what a turning stage shakes with and how often its teeth are loaded.
type StageFrequencies struct {
	Mesh float64 // teeth through each mesh, all at one frequency [1/s]

	// How often a tooth is loaded: one of the sun by all planets, one of a planet by the sun on one
	// flank and as often by the ring on the other, one of the ring by all planets [1/s].
	Sun, Planet, Ring float64

	// The same by turn of the sun [-].
	SunLoads, PlanetLoads, RingLoads float64
}

// Frequencies returns the frequencies at a carrier speed, 0 to 1e3 [rev/s].
func (p PlanetaryStage) Frequencies(carrierSpeed float64) (StageFrequencies, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.PlanetaryStage.Frequencies: carrier speed", carrierSpeed, 0, 1e3, "rev/s")
	if err := f.Err(); err != nil {
		return StageFrequencies{}, err
	}
	n, ratio := float64(p.Planets), p.Ratio()
	mesh := float64(p.Ring) * carrierSpeed
	rolling := 1 - 1/ratio // turns of the sun against the carrier, by turn of the sun
	return StageFrequencies{
		Mesh: mesh,
		Sun:  n * mesh / float64(p.Sun), Planet: mesh / float64(p.Planet), Ring: n * carrierSpeed,
		SunLoads: n * rolling, PlanetLoads: rolling * float64(p.Sun) / float64(p.Planet), RingLoads: n / ratio,
	}, nil
}

// UsualLoadShare returns a load share to begin a design with, for 2 to 7 planets on fixed
// axes [-]: 1.10, 1.25, 1.35, 1.44, 1.47 for 3 to 7 (IEC 61400-4 and AGMA 6006, from
// memory), and for 2 that of 3 (no source). With a floating sun three planets come
// near 1, and a classification rule counts 1.0, 1.2, 1.3, 1.4 for up to 3, 4, 5, 6 and more
// (quoted at second hand). It is a guess: the true share falls as torque rises.
func UsualLoadShare(planets int) (float64, error) {
	var f input.Faults
	f.Count("drive.UsualLoadShare: planets", planets, 2, 7)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return [...]float64{1.10, 1.10, 1.25, 1.35, 1.44, 1.47}[planets-2], nil
}
