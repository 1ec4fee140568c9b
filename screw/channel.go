package screw

import (
	"math"

	"meltflight/internal/input"
)

// Channel is a screw zone of constant depth, as its drawing gives it.
type Channel struct {
	Bore      float64 // inner diameter of the barrel, 1e-3 to 1 [m]
	Lead      float64 // axial advance of one flight in a turn, Bore/20 to 20·Bore [m]
	Depth     float64 // barrel wall to screw root, 1e-5 up to half the bore [m]
	Land      float64 // width of a flight's land, normal to the flight, from 1e-6 [m]
	Clearance float64 // radial, land to barrel, 1e-7 up to Depth [m]
	Starts    int     // number of parallel flights, 1 to 8
	Length    float64 // axial, 1e-4 to 100 [m]
}

// Validate reports every dimension out of range and every pair that does not fit.
func (c Channel) Validate() error {
	var f input.Faults
	c.check(&f)
	return f.Err()
}

func (c *Channel) check(f *input.Faults) {
	f.Between("screw.Channel.Bore", c.Bore, 1e-3, 1, "m")
	f.Count("screw.Channel.Starts", c.Starts, 1, 8)
	f.Between("screw.Channel.Length", c.Length, 1e-4, 100, "m")
	if !(c.Bore >= 1e-3 && c.Bore <= 1) { // the rest is measured by the bore
		f.Between("screw.Channel.Lead", c.Lead, 5e-5, 20, "m")
		f.Between("screw.Channel.Depth", c.Depth, 1e-5, 0.5, "m")
		f.Between("screw.Channel.Land", c.Land, 1e-6, 1, "m")
		f.Between("screw.Channel.Clearance", c.Clearance, 1e-7, 0.5, "m")
		return
	}
	f.Between("screw.Channel.Lead", c.Lead, 0.05*c.Bore, 20*c.Bore, "m")
	if !(c.Depth >= 1e-5 && c.Depth < 0.5*c.Bore) {
		f.Refuse("screw.Channel.Depth", c.Depth, "m", "1e-05 m to below half the bore, "+input.WithUnit(c.Bore/2, "m"))
	}
	if !(c.Clearance >= 1e-7 && (c.Clearance < c.Depth || !(c.Depth > 0))) {
		f.Refuse("screw.Channel.Clearance", c.Clearance, "m", "1e-07 m to below the depth, "+input.WithUnit(c.Depth, "m"))
	}
	f.Between("screw.Channel.Land", c.Land, 1e-6, c.Bore, "m")
	if f.None() && !c.open() {
		f.Refuse("screw.Channel.Land", c.Land, "m", "narrow enough to leave channel between the lands, below "+
			input.WithUnit(c.pitchNormal()-0.02*c.Depth, "m"))
	}
}

// HelixAngle returns the angle of the flight against the plane of rotation,
// measured at the barrel: atan(lead/πD) [rad].
func (c Channel) HelixAngle() float64 { return math.Atan(c.Lead / (math.Pi * c.Bore)) }

// Width returns the channel width normal to the flight, at the barrel:
// lead·cosθ/starts less the land [m].
func (c Channel) Width() float64 { return c.pitchNormal() - c.Land }

// HelicalLength returns the length of the channel along the helix at the barrel,
// length/sinθ [m].
func (c Channel) HelicalLength() float64 {
	sin, _ := c.sincos()
	return c.Length / sin
}

// Volume returns the free volume of all channels between root, bore and flights of
// constant axial width: width × depth × helical length at the bore, less depth/bore [m³].
func (c Channel) Volume() float64 {
	return float64(c.Starts) * c.Width() * c.Depth * (1 - c.Depth/c.Bore) * c.HelicalLength()
}

// open reports whether the width is above a fiftieth of the depth, without a root
// or a division, since every solve asks.
func (c *Channel) open() bool {
	around, taken := math.Pi*c.Bore, float64(c.Starts)*(c.Land+0.02*c.Depth)
	return taken*taken*(around*around+c.Lead*c.Lead) < c.Lead*c.Lead*around*around
}

// pitchNormal is the distance of neighbouring lands normal to the flight [m].
func (c *Channel) pitchNormal() float64 {
	_, cos := c.sincos()
	return c.Lead * cos / float64(c.Starts)
}

// sincos returns sine and cosine of the helix angle.
func (c *Channel) sincos() (sin, cos float64) {
	around := math.Pi * c.Bore
	along := math.Sqrt(around*around + c.Lead*c.Lead)
	return c.Lead / along, around / along
}
