package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Profile is a screw's depth along its axis, as its drawing gives it, from where melt
// fills it towards the tip. Lead, land and clearance are the same all along.
type Profile struct {
	Bore      float64 // inner diameter of the barrel, 1e-3 to 1 [m]
	Lead      float64 // axial advance of one flight in a turn, Bore/20 to 20·Bore [m]
	Land      float64 // width of a flight's land, normal to the flight, from 1e-6 [m]
	Clearance float64 // radial, land to barrel, 1e-7 up to the least depth [m]
	Starts    int     // number of parallel flights, 1 to 8
	Zones     []Zone  // in the melt's direction, 1 to 32 of them
}

// Zone is a length of screw of constant or evenly changing depth.
type Zone struct {
	Length   float64 // axial, 1e-4 to 100 [m]
	DepthIn  float64 // where the melt enters, as Channel.Depth [m]
	DepthOut float64 // where it leaves; the same for a zone of constant depth [m]
	Barrel   float64 // temperature of the barrel's bore, 100 to 1500; asked for by HeldBarrel alone [K]
}

// Profile returns the channel as a profile of one zone.
func (c Channel) Profile() Profile {
	return Profile{Bore: c.Bore, Lead: c.Lead, Land: c.Land, Clearance: c.Clearance, Starts: c.Starts,
		Zones: []Zone{{Length: c.Length, DepthIn: c.Depth, DepthOut: c.Depth}}}
}

// Validate reports every dimension out of range and every pair that does not fit.
func (p Profile) Validate() error {
	var f input.Faults
	p.check(&f, Isothermal)
	return f.Err()
}

func (p *Profile) check(f *input.Faults, heating Heating) {
	f.Count("screw.Profile.Zones", len(p.Zones), 1, 32)
	for i := range p.Zones {
		z := &p.Zones[i]
		for _, depth := range [...]float64{z.DepthIn, z.DepthOut} {
			c := p.channel(depth, z.Length)
			if err := c.Validate(); err != nil {
				f.Add(fmt.Errorf("screw.Profile.Zones[%d]: %w", i, err))
			}
			if z.DepthIn == z.DepthOut {
				break
			}
		}
		if heating == HeldBarrel && !(z.Barrel >= 100 && z.Barrel <= 1500) {
			f.Refuse(fmt.Sprintf("screw.Profile.Zones[%d].Barrel", i), z.Barrel, "K", "100 to 1500 K, as the barrel is held at it")
		}
	}
}

// channel is a length of the screw at one depth.
func (p *Profile) channel(depth, length float64) Channel {
	return Channel{Bore: p.Bore, Lead: p.Lead, Depth: depth, Land: p.Land, Clearance: p.Clearance, Starts: p.Starts, Length: length}
}

// Length returns the axial length of all zones [m].
func (p Profile) Length() float64 {
	var sum float64
	for _, z := range p.Zones {
		sum += z.Length
	}
	return sum
}

// least returns the shallowest depth [m].
func (p *Profile) least() float64 {
	depth := math.Inf(1)
	for _, z := range p.Zones {
		depth = min(depth, z.DepthIn, z.DepthOut)
	}
	return depth
}

// ChannelAt returns the screw as it is at an axial position, 0 to Length [m], as a
// channel of that depth and of the length of its zone. A position outside gives the
// channel at the nearer end. It expects a valid profile.
func (p Profile) ChannelAt(position float64) Channel {
	for i := range p.Zones {
		z := &p.Zones[i]
		if position <= z.Length || i == len(p.Zones)-1 {
			return p.channel(z.depth(min(1, max(0, position/z.Length))), z.Length)
		}
		position -= z.Length
	}
	return Channel{}
}

// depth at a share of the zone's length [m].
func (z *Zone) depth(share float64) float64 { return z.DepthIn + (z.DepthOut-z.DepthIn)*share }

// taper is the logarithm of how many times the depth grows along the zone.
func (z *Zone) taper() float64 {
	if z.DepthIn == z.DepthOut {
		return 0
	}
	return math.Log(z.DepthOut / z.DepthIn)
}

// at returns the share of length at a share of the logarithm of depth, and how many
// times the former grows as the latter does.
func (z *Zone) at(share float64) (along, stretch float64) {
	k := z.taper()
	if math.Abs(k) < 1e-9 {
		return share, 1
	}
	return math.Expm1(k*share) / math.Expm1(k), k * math.Exp(k*share) / math.Expm1(k)
}

// shareOf is the inverse of at.
func (z *Zone) shareOf(along float64) float64 {
	k := z.taper()
	if math.Abs(k) < 1e-9 {
		return along
	}
	return math.Log1p(along*math.Expm1(k)) / k
}
