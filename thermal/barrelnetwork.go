package thermal

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Zone is a length of a barrel with one section and one kind of outside: a band, a bare gap, the neck
// to the throat.
type Zone struct {
	Name     string
	Length   float64 // 1e-3 to 5 [m]
	Outer    float64 // radius, 1e-3 to 1, more than Inner by 1e-4 [m]
	Inner    float64 // radius, 5e-4 to 1 [m]
	Loss     float64 // conductance to the air of a metre, see [Lagged.At]; 0 to 1e3 [W/(m·K)]
	Power    float64 // of its heater, evenly, 0 to 1e5 [W]
	Exchange float64 // with the screw by the plastic between them, of a metre, see [TubeLayer]; 0 to 1e4 [W/(m·K)]
}

// BarrelMetal is what a barrel or a screw is of.
type BarrelMetal struct {
	Conductivity float64 // 0.1 to 1e3 [W/(m·K)]
	Density      float64 // 100 to 3e4 [kg/m³]
	SpecificHeat float64 // 50 to 1e4 [J/(kg·K)]
}

// Barrel is a barrel from its throat to its nozzle, with a screw that stands in it.
type Barrel struct {
	Zones        []Zone // 1 to 50, the one at the throat first
	Metal        BarrelMetal
	ScrewSection float64     // 1e-8 to 1, 0 of a barrel without [m²]
	Screw        BarrelMetal // not asked for without a screw
	Collar       float64     // conductance of the first zone's end to the coolant, 0 to 1e6 [W/K]
	Coolant      float64     // 200 to 1200; not asked for without a collar [K]
	Shank        float64     // conductance of the screw's end there to the drive, 0 to 1e6 [W/K]
	Drive        float64     // temperature of the drive, 200 to 1200; not asked for without a shank [K]
	Air          float64     // 200 to 473.15; all starts as warm as it [K]
}

// Validate reports the fields out of range.
func (b Barrel) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (m *BarrelMetal) check(f *input.Faults, name string) {
	f.Between(name+".Conductivity", m.Conductivity, 0.1, 1e3, "W/(m·K)")
	f.Between(name+".Density", m.Density, 100, 3e4, "kg/m³")
	f.Between(name+".SpecificHeat", m.SpecificHeat, 50, 1e4, "J/(kg·K)")
}

func (b *Barrel) check(f *input.Faults) {
	f.Count("thermal.Barrel.Zones", len(b.Zones), 1, 50)
	for i := range b.Zones {
		z, name := &b.Zones[i], fmt.Sprintf("thermal.Barrel.Zones[%d]", i)
		f.Between(name+".Length", z.Length, 1e-3, 5, "m")
		f.Between(name+".Outer", z.Outer, 1e-3, 1, "m")
		f.Between(name+".Inner", z.Inner, 5e-4, 1, "m")
		f.Between(name+".Loss", z.Loss, 0, 1e3, "W/(m·K)")
		f.Between(name+".Power", z.Power, 0, 1e5, "W")
		f.Between(name+".Exchange", z.Exchange, 0, 1e4, "W/(m·K)")
		if z.Outer < z.Inner+1e-4 {
			f.Refuse(name+".Outer", z.Outer, "m", "at least 0.0001 m more than Inner, "+input.WithUnit(z.Inner, "m"))
		}
	}
	b.Metal.check(f, "thermal.Barrel.Metal")
	if b.ScrewSection != 0 {
		f.Between("thermal.Barrel.ScrewSection", b.ScrewSection, 1e-8, 1, "m²")
		b.Screw.check(f, "thermal.Barrel.Screw")
	}
	f.Between("thermal.Barrel.Collar", b.Collar, 0, 1e6, "W/K")
	if b.Collar != 0 {
		f.Between("thermal.Barrel.Coolant", b.Coolant, lowestTemperature, hottestSurface, "K")
	}
	f.Between("thermal.Barrel.Shank", b.Shank, 0, 1e6, "W/K")
	if b.Shank != 0 {
		f.Between("thermal.Barrel.Drive", b.Drive, lowestTemperature, hottestSurface, "K")
	}
	checkTemperature(f, "thermal.Barrel.Air", b.Air)
}

// BarrelNetwork is a barrel cut into short lengths.
type BarrelNetwork struct {
	Network
	Cuts                int // lengths of each zone
	Barrel              int // node of the barrel's first length; the others follow
	Screw               int // of the screw's, -1 without one
	Air, Coolant, Drive int // nodes that are held; -1 where nothing leads to them
}

// In returns the node in the middle of a zone of the barrel. It checks nothing.
func (n BarrelNetwork) In(zone int) int { return n.Barrel + zone*n.Cuts + n.Cuts/2 }

// Network returns the barrel with each zone cut into so many lengths, 1 to 200, for Steady, Warm, Duty and
// FitWarming. It is linear, so that Modes solves it exactly. Nodes are named by their zone,
// "screw" put before those of the screw. As it is cut finer it nears [Sleeve] and [Throat], with
// an error that goes with the inverse square of the cuts.
// Conductances below 1e-9 W/K count as none.
//
// Losses are straight lines here; take them at the running temperature, and put [Radiating] and [Convecting]
// in place of them where a cold start is to be told exactly.
func (b Barrel) Network(cuts int) (BarrelNetwork, error) {
	var f input.Faults
	b.check(&f)
	f.Count("thermal.Barrel.Network: cuts", cuts, 1, 200)
	if err := f.Err(); err != nil {
		return BarrelNetwork{}, err
	}
	n := BarrelNetwork{Cuts: cuts, Screw: -1, Air: -1, Coolant: -1, Drive: -1}
	n.row(&b, "", b.Metal, (*Zone).section)
	for i := range b.Zones {
		for c := range cuts {
			n.Nodes[i*cuts+c].Power = b.Zones[i].Power / float64(cuts)
		}
	}
	if b.ScrewSection > 0 {
		n.Screw = len(n.Nodes)
		n.row(&b, "screw ", b.Screw, func(*Zone) float64 { return b.ScrewSection })
		n.Drive = n.end(n.Screw, "drive", b.Drive, b.Shank, b.Screw.Conductivity*b.ScrewSection, b.Zones[0].Length/float64(cuts))
	}
	n.Coolant = n.end(0, "coolant", b.Coolant, b.Collar, b.Metal.Conductivity*b.Zones[0].section(), b.Zones[0].Length/float64(cuts))
	n.Air = n.hold("air", b.Air)
	lossy := false
	for i := range b.Zones {
		z := &b.Zones[i]
		for c := range cuts {
			node, length := i*cuts+c, z.Length/float64(cuts)
			lossy = n.link(node, n.Air, z.Loss*length) || lossy
			if b.ScrewSection > 0 {
				n.link(node, n.Screw+node, z.Exchange*length)
			}
		}
	}
	if !lossy {
		n.Nodes, n.Air = n.Nodes[:n.Air], -1
	}
	if err := n.Validate(); err != nil {
		return BarrelNetwork{}, err
	}
	return n, nil
}

func (z *Zone) section() float64 { return math.Pi * (z.Outer - z.Inner) * (z.Outer + z.Inner) }

// row adds the lengths of barrel or screw, each joined to the one before.
func (n *BarrelNetwork) row(b *Barrel, prefix string, metal BarrelMetal, section func(*Zone) float64) {
	half := 0.0 // resistance of half the length before
	for i := range b.Zones {
		z := &b.Zones[i]
		area, length := section(z), z.Length/float64(n.Cuts)
		for c := range n.Cuts {
			name := prefix + z.Name
			if n.Cuts > 1 {
				name = fmt.Sprintf("%s %d/%d", name, c+1, n.Cuts)
			}
			n.Nodes = append(n.Nodes, Node{Name: name, Capacity: metal.Density * metal.SpecificHeat * area * length, Start: b.Air})
			mine := length / 2 / (metal.Conductivity * area)
			if half > 0 {
				n.link(len(n.Nodes)-2, len(n.Nodes)-1, 1/(half+mine))
			}
			half = mine
		}
	}
}

func (n *BarrelNetwork) hold(name string, temperature float64) int {
	n.Nodes = append(n.Nodes, Node{Name: name, Start: temperature, Held: true})
	return len(n.Nodes) - 1
}

// end joins an end's node, half a length from it, to what is held, if it is joined at all.
func (n *BarrelNetwork) end(node int, name string, temperature, conductance, along, length float64) int {
	if conductance < leastLink {
		return -1
	}
	held := n.hold(name, temperature)
	n.link(node, held, 1/(1/conductance+length/2/along))
	return held
}

const leastLink = 1e-9 // conductance below which there is none [W/K]

func (n *BarrelNetwork) link(from, to int, conductance float64) bool {
	if conductance < leastLink/2 {
		return false
	}
	n.Links = append(n.Links, Link{from, to, Conductance(conductance)})
	return true
}
