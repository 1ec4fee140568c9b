package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/material"
)

// ErrTooHot reports a melt that would get hotter than any plastic lives through,
// 1500 K: so little passes that what the screw turns to heat is not carried off.
var ErrTooHot = errors.New("melt gets too hot")

const hottest = 1500 // [K]

// The march goes from zone to zone in steps, each by collocation at Radau's three
// points: of fifth order for what comes at the end of a step, and stable however short
// the length is in which the melt takes on the barrel's temperature (E. Hairer and G.
// Wanner, Solving Ordinary Differential Equations II, 2nd ed. (1996), IV.5, table
// 5.6). What is summed along the screw is summed with the same weights, so that the
// balances of energy and force close to rounding.
var (
	radauPoints = [3]float64{(4 - sqrt6) / 10, (4 + sqrt6) / 10, 1}
	radau       = [3][3]float64{
		{(88 - 7*sqrt6) / 360, (296 - 169*sqrt6) / 1800, (-2 + 3*sqrt6) / 225},
		{(296 + 169*sqrt6) / 1800, (88 + 7*sqrt6) / 360, (-2 - 3*sqrt6) / 225},
		{(16 - sqrt6) / 36, (16 + sqrt6) / 36, 1. / 9},
	}
)

const sqrt6 = 2.449489742783178098197284074705891391966

// marcher carries a flow along a screw.
type marcher struct {
	profile *Profile
	running Running
	melt    Melt // at the temperature where it is
	b       balance
	p       pitch
	entry   float64 // temperature of the melt where it enters [K]
	film    float64 // heat transfer coefficient to the barrel [W/(m²·K)]
	least   float64 // depth [m]
	pace    float64 // see steps [1/m]
	finer   int     // steps are cut in so many, to see the order

	marched [2]float64 // flow and start of the last march
	total   sums       // of the last march

	warm   []state // of each point when it was last solved, to start from
	known  int     // so many of them
	points []point // of the last march
}

// point is one place along the screw, with all that changes there for each metre of axis.
type point struct {
	position, depth, pressure, temperature float64
	slope                                  float64 // of pressure [Pa/m]
	byFlow                                 float64 // about how that rises with the flow [Pa·s/m⁴]
	warming                                float64 // of temperature [K/m]
	channel, land, barrel                  float64 // heat made in channel and over lands, and let in by the barrel [W/m]
	forward                                float64 // shear of the barrel towards the tip [N/m]
	weight                                 float64 // axial length that the point stands for [m]
}

// sums is what has come together up to a place along the screw.
type sums struct {
	pressure, temperature, channel, land, barrel, forward, volume, byFlow float64
}

func (r *marcher) prepare(profile *Profile, m Melt, running Running) {
	r.profile, r.running, r.melt, r.entry = profile, running, m, m.Temperature
	r.least = profile.least()
	c := profile.channel(r.least, 1)
	r.b.unroll(&c, running.Speed)
	r.p = pitchOf(&r.b)
	r.p.close = 1e-10
	r.p.rough()
	switch m.Viscosity.(type) {
	case material.PowerLaw, material.Newtonian:
	default:
		if _, ok := m.Viscosity.(material.Superposed); ok || running.Heating == Isothermal {
			r.p.tabulated(tabulate(m, 1e-7*r.b.vz/r.least, 1e3*math.Hypot(r.b.vx, r.b.vz)/r.b.gap))
		}
	}
	if running.Heating == HeldBarrel {
		r.film = FilmCoefficient(m, running.Speed, profile.Starts)
	}
	r.setPace()
	r.cut(1)
}

// cut makes room for steps finer times as short as usual.
func (r *marcher) cut(finer int) {
	r.finer, r.known, r.marched[0] = finer, 0, 0
	steps := 0
	for i := range r.profile.Zones {
		steps += r.steps(&r.profile.Zones[i])
	}
	r.warm = make([]state, 3*steps)
	r.points = make([]point, 0, 3*steps)
}

// steps returns how many a zone is cut in: one where nothing changes but pressure; in a
// taper so many that depth changes by a third over each; and where temperature changes
// two to forty, by how often it would come near its last value or change viscosity by
// half. They must not hang on the flow, which is sought by them.
func (r *marcher) steps(z *Zone) int {
	n := 1
	if r.running.Heating != Isothermal {
		n = max(2, min(mostSteps, int(math.Ceil(r.pace*z.Length))))
	}
	return r.finer * max(n, int(math.Ceil(math.Abs(z.taper())/0.3)))
}

const mostSteps = 40 // of a zone where temperature changes

// setPace estimates how quickly temperature changes, at the drag of the shallowest place.
func (r *marcher) setPace() {
	b, m := &r.b, r.melt
	speed := math.Hypot(b.vx, b.vz)
	heat := 0.0 // for each metre of axis
	for _, place := range [...][2]float64{{b.w, r.least}, {b.e, b.gap}} {
		eta, _ := m.local(speed / place[1])
		heat += b.starts / b.sin * place[0] * eta * speed * speed / place[1]
	}
	carried := m.Density * m.SpecificHeat * b.starts * b.w * r.least * b.vz / 2
	slope := m.Viscosity.Slopes(b.vz/r.least, m.Temperature, 0).Temperature
	r.pace = (2*math.Abs(slope)*heat + r.film*math.Pi*r.profile.Bore) / carried
}

// march carries a flow of all starts [m³/s] along the screw.
func (r *marcher) march(flow float64, start float64) (s sums, err error) {
	if r.marched == [2]float64{flow, start} {
		return r.total, nil
	}
	r.marched[0] = 0
	temperature := r.melt.Temperature
	defer func() { r.melt.Temperature = temperature }() // each march starts with it
	s.pressure, s.temperature = r.running.StartPressure, temperature
	r.points = r.points[:0]
	at := 0.0
	for i := range r.profile.Zones {
		z := &r.profile.Zones[i]
		from, to := math.Max(start, at), at+z.Length
		at = to
		if from >= to {
			continue
		}
		// A part of a zone needs no more steps than the whole. In a taper they are even in
		// the logarithm of depth, in which all goes smoothly.
		n := r.steps(z)
		first := z.shareOf(1 - (to-from)/z.Length)
		for k := range n {
			lo, hi := float64(k)/float64(n), float64(k+1)/float64(n)
			if r.running.Heating != Isothermal && r.pace*z.Length > mostSteps { // most happens where the melt comes in
				lo, hi = lo*lo, hi*hi
			}
			if err := r.step(z, to, first+(1-first)*lo, (1-first)*(hi-lo), flow, &s); err != nil {
				return s, err
			}
		}
	}
	r.marched, r.total = [2]float64{flow, start}, s
	return s, nil
}

// step carries the sums over one step of a zone that ends at a position, from a share
// of its logarithm of depth on.
func (r *marcher) step(z *Zone, end, share, length, flow float64, s *sums) error {
	first := len(r.points)
	r.points = r.points[:first+3]
	at := r.points[first:]
	heat := r.melt.Density * r.melt.SpecificHeat * flow // carried by the melt for each kelvin [W/K]
	last := 0.0
	if first > 0 && math.Abs(length*z.Length*r.stiffness(&r.points[first-1])) < 0.3*heat { // else it turns before long
		last = r.points[first-1].warming
	}
	for i, c := range radauPoints {
		along, stretch := z.at(share + c*length)
		at[i] = point{position: end - z.Length*(1-along), depth: z.depth(along), weight: length * z.Length * stretch,
			temperature: s.temperature + c*length*z.Length*stretch*last}
	}
	var inverse [3][3]float64
	var before, worst float64
	const most = 60
	for round := range most {
		for i := range at {
			if !(at[i].temperature >= 100 && at[i].temperature <= hottest) {
				at[i].temperature = math.Min(math.Max(at[i].temperature, 100), hottest)
			}
			if last := max(0, first+i-1); i > 0 && at[i].depth == at[i-1].depth && at[i].temperature == at[i-1].temperature {
				at[i].take(&r.points[last])
				r.warm[first+i] = r.warm[last]
				r.known = max(r.known, first+i+1)
				continue
			}
			if err := r.rates(&at[i], z, flow, first+i); err != nil {
				return err
			}
		}
		if r.running.Heating == Isothermal {
			break
		}
		if round < 2 || !(worst < 0.3*before) {
			var z [3]float64
			for i := range at {
				z[i] = at[i].weight * r.stiffness(&at[i]) / heat
			}
			inverse = collocation(z)
		}
		var off [3]float64
		before, worst = worst, 0
		for i := range at {
			off[i] = s.temperature - at[i].temperature
			for j := range at {
				off[i] += radau[i][j] * at[j].weight * at[j].warming
			}
			worst = math.Max(worst, math.Abs(off[i]))
		}
		if worst <= 1e-8*s.temperature {
			break
		}
		hot := at[0].temperature >= hottest && off[0] > 0 || at[1].temperature >= hottest && off[1] > 0 || at[2].temperature >= hottest && off[2] > 0
		if hot || round == most-1 {
			if !hot {
				return fmt.Errorf("%w: temperatures at %.4g m along the screw, flow %.4g m³/s", ErrNotFound, at[0].position, flow)
			}
			return fmt.Errorf("%w: above %g K at %.4g m along the screw, with a flow of %.4g m³/s", ErrTooHot, float64(hottest), at[0].position, flow)
		}
		for i := range at {
			at[i].temperature += dot(inverse[i], off)
		}
	}
	// Pressure at the points, then the sums at the end.
	for i := range at {
		at[i].pressure = s.pressure
		for j := range at {
			at[i].pressure += radau[i][j] * at[j].weight * at[j].slope
		}
	}
	for i := range at {
		p := &at[i]
		p.weight *= radau[2][i]
		s.pressure += p.weight * p.slope
		s.temperature += p.weight * p.warming
		s.channel += p.weight * p.channel
		s.land += p.weight * p.land
		s.barrel += p.weight * p.barrel
		s.forward += p.weight * p.forward
		s.volume += r.volume(p)
		s.byFlow += p.weight * p.byFlow
	}
	return nil
}

// volume is the free volume that a point stands for [m³].
func (r *marcher) volume(p *point) float64 {
	return p.weight * p.depth * (1 - p.depth/(2*r.b.radius)) * r.b.w * r.b.starts / r.b.sin
}

// rates works out what changes at a point of known temperature.
func (r *marcher) rates(p *point, z *Zone, flow float64, index int) error {
	b, q := &r.b, &r.p
	r.melt.Temperature = p.temperature
	q.deep(b, p.depth)
	if r.known > index {
		q.opened = r.warm[index].opened
	}
	opened := q.melted(r.melt)
	if eta, land := q.channel.stress/q.channel.rate, q.land.stress/q.land.rate; !liquid(eta) || !liquid(land) {
		if p.temperature != r.entry {
			return fmt.Errorf("%w, or no liquid any more: %.4g K at %.4g m along the screw, with a flow of %.4g m³/s", ErrTooHot, p.temperature, p.position, flow)
		}
		return errors.Join(r.melt.notLiquid(q.channel.rate, eta), r.melt.notLiquid(q.land.rate, land))
	}
	if r.known > 0 {
		q.restore(&r.warm[min(index, r.known-1)])
	}
	if !q.meet(flow/b.starts) || !opened {
		return fmt.Errorf("%w: %+v, %+v, flow %g m³/s, %+v", ErrNotFound, q.channelGap, q.landGap, flow, r.melt)
	}
	r.warm[index] = q.state()
	r.known = max(r.known, index+1)
	perAxis := b.starts / b.sin // of helix and starts
	p.slope = q.gradient / b.sin
	p.byFlow = q.byFlow / (b.sin * b.starts)
	p.channel = perAxis * b.w * q.channelHeat()
	p.land = perAxis * b.e * q.land.dissipation(q.landGap)
	p.forward = perAxis * q.forward(b.sin, b.cos)
	switch r.running.Heating {
	case Isothermal:
		p.barrel = -p.channel - p.land
		return nil
	case HeldBarrel:
		p.barrel = r.film * math.Pi * r.profile.Bore * (z.Barrel - p.temperature)
	}
	p.warming = (p.channel + p.land + p.barrel) / (r.melt.Density * r.melt.SpecificHeat * flow)
	return nil
}

// take copies what another point of the same depth and temperature found.
func (p *point) take(same *point) {
	p.slope, p.byFlow, p.warming = same.slope, same.byFlow, same.warming
	p.channel, p.land, p.barrel, p.forward = same.channel, same.land, same.barrel, same.forward
}

// stiffness returns about how what warms the melt changes with its temperature: at a
// given flow the heat made goes as viscosity does [W/(m·K)].
func (r *marcher) stiffness(p *point) float64 {
	slope := r.melt.Viscosity.Slopes(r.b.vz/p.depth, p.temperature, 0).Temperature
	return (p.channel+p.land)*slope - r.film*math.Pi*r.profile.Bore
}

// collocation returns the inverse of 1 − A·z for Radau's A and a diagonal z.
func collocation(z [3]float64) (inverse [3][3]float64) {
	var m [3][3]float64
	for i := range m {
		for j := range m {
			m[i][j] = -radau[i][j] * z[j]
		}
		m[i][i]++
	}
	minor := func(i, j int) float64 {
		a, b, c, d := (i+1)%3, (i+2)%3, (j+1)%3, (j+2)%3
		return m[a][c]*m[b][d] - m[a][d]*m[b][c]
	}
	det := m[0][0]*minor(0, 0) + m[0][1]*minor(0, 1) + m[0][2]*minor(0, 2)
	for i := range m {
		for j := range m {
			inverse[j][i] = minor(i, j) / det
		}
	}
	return inverse
}
