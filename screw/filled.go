package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/root"
)

// pumped returns what screw and die agree on if melt fills the screw from a position on [kg/s].
func (w *whole) pumped(from float64) (float64, error) {
	c, err := w.Profile.tail(from).OperatingPoint(w.Die, w.Melt, w.running)
	return c.MassFlow, err
}

// pump returns what the screw pumps if melt fills it as far back as its pool allows, which
// again hangs on the flow [kg/s]; and from where [m]. More flow, a later pool, less pumped:
// where the two meet, or just below a flow at which the solids would plug.
func (w *whole) pump(shallow, metering float64) (flow, from float64, err error) {
	var failed error
	more := func(flow float64) float64 {
		from = shallow
		bed, err := w.Profile.MeltBed(w.Bed, w.Melt, w.running.Speed, flow)
		if err == nil {
			from = w.full(&bed, shallow)
		} else if !errors.Is(err, ErrPlugs) && !errors.Is(err, ErrNoFlow) {
			failed = errors.Join(failed, err)
		}
		pumped, err := w.pumped(from)
		if err != nil && !errors.Is(err, ErrNoFlow) {
			failed = errors.Join(failed, err)
		}
		return pumped
	}
	low, high := 1e-12, math.Max(metering, 1e-12)
	short := more(high) - high
	if short > 1e-9*high { // the pool reaches further back than the shallowest part
		low, high = high, high+short
		short = more(high) - high
	}
	over := 0.0
	if failed == nil && math.Abs(short) > 1e-9*high {
		over = more(low) - low
	}
	switch {
	case failed != nil:
		return 0, 0, failed
	case over <= 0 && short < -1e-9*high:
		return 0, 0, fmt.Errorf("%w: what melts in the screw builds less pressure than the die needs", ErrNoFlow)
	case over > 0 && short < 0:
		high, err = root.Between(func(flow float64) float64 { return more(flow) - flow }, low, over, high, short, 1e-9)
	}
	if more(high) < high*(1-1e-6) {
		high *= 1 - 4e-9
		more(high)
	}
	return high, from, errors.Join(failed, err)
}

// full returns from where melt fills the channel [m]: from its pool on, and from where the
// screw is shallowest if it melts before.
func (w *whole) full(bed *Melted, shallow float64) float64 {
	if pool := w.pool(bed); shallow <= bed.From || pool < shallow {
		return pool
	}
	return shallow
}

// pool returns where the pool of melt is as wide as the channel is deep [m].
func (w *whole) pool(bed *Melted) float64 {
	c := w.Profile.channel(w.Profile.Zones[0].DepthIn, 1)
	width := c.Width()
	narrow := func(at float64) float64 { return bed.Solid(at) + w.Profile.ChannelAt(at).Depth/width - 1 }
	end := math.Min(bed.From+bed.Length, w.Profile.Length())
	if bed.Left == 1 || narrow(end) >= 0 {
		return end
	}
	if narrow(bed.From) <= 0 {
		return bed.From
	}
	at, err := root.Find(narrow, bed.From, end, 1e-12)
	if err != nil {
		return end
	}
	return at
}

// shallow returns where the screw first gets as shallow as it ever is, ahead of the tip [m].
func (w *whole) shallow() float64 {
	least, at, last := w.Profile.least(), 0.0, len(w.Profile.Zones)-1
	for i, z := range w.Profile.Zones {
		if z.DepthIn == least || i == last { // of a screw that tapers to its tip, the last taper
			break
		}
		if at += z.Length; z.DepthOut == least {
			break
		}
	}
	return at
}

// tail returns the screw from a position on.
func (p Profile) tail(from float64) Profile {
	zones := make([]Zone, 0, len(p.Zones))
	for _, z := range p.Zones {
		if cut := math.Min(from, z.Length); cut > 0 {
			from -= cut
			if z.Length-cut < 1e-4 && len(zones) == 0 { // no zone is shorter
				continue
			}
			z.DepthIn = z.depth(cut / z.Length)
			z.Length -= cut
		}
		zones = append(zones, z)
	}
	if len(zones) == 0 { // the last turn of a screw is always there
		z := p.Zones[len(p.Zones)-1]
		z.DepthIn, z.Length = z.DepthOut, 1e-4
		zones = append(zones, z)
	}
	p.Zones = zones
	return p
}
