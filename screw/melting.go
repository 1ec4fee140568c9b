package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// ErrPlugs reports a taper steeper than its solids melt: the bed would have to widen
// beyond the channel, and jams there.
var ErrPlugs = errors.New("solids plug the taper")

// Melted is how a bed melts along a screw.
type Melted struct {
	From        float64 // position where the bed begins to melt, see [Profile.MeltBed] [m]
	Length      float64 // axial, from there until nothing solid is left [m]
	Left        float64 // of the bed's width at the screw's tip [-]
	Molten      float64 // share of the mass flow that is molten at the tip [-]
	Rate        float64 // melted on each metre of helix where melting begins, in each start's channel [kg/(m·s)]
	Film        float64 // thickness of the melt film there [m]
	Dissipation float64 // heat of shear in the film over heat conducted from the barrel, η·V²/2k(T_b−T_m), half its Brinkman number; below 1 conduction melts more than shear [-]
	Peclet      float64 // how fast the bed is eaten up over how fast it warms through, Rate·c_s·H/(k·W); below some 3 its core is warm before it melts; 0 without the bed's Conductivity [-]
	Work        float64 // of the shaft on the film, from From on [W]
	Psi         float64 // twice the depth over the helical length in which the bed would melt at that depth, ψ [-]

	Beyond []string // in words, where the model's stated range is left; nil inside it

	parts    []meltingPart
	sin, tip float64
}

// meltingPart is a length of one zone in which the bed melts alike.
type meltingPart struct {
	begin float64 // axial position [m]
	depth float64 // there [m]
	taper float64 // how much shallower the channel gets along the helix [-]
	psi   float64 // [-]
	root  float64 // √X at its begin [-]
	work  float64 // of the shaft on the film over a full bed, on each metre of helix [W/m]
}

// MeltBed returns how a bed melts along a screw that carries a mass flow, 1e-12 to 1e4
// [kg/s], at a speed, 1e-4 to 100 [rev/s], the barrel being held at each zone's Barrel
// temperature. Left and Beyond tell if the screw is too short.
//
// Between barrel and bed lies a film of melt, which the barrel drags off into a pool
// that grows behind the bed. The film conducts heat to the bed and makes its own by
// shear, at a viscosity taken at its mean temperature and shear rate; the bed yields
//
//	ω = Φ·√X,  Φ² = V_x·ρ·[k(T_b−T_m) + η·V_j²/2]/2λ*
//	λ* = λ + c_s(T_m−T_s) + c_m(T_b−T_m)(2/3 + Br/12),  Br = η·V_j²/k(T_b−T_m)
//
// on each metre of its width X, so that d(H·X)/dz = −ψ·√X along the helix, from zone to
// zone in closed form; at a step in depth H·X stays. Z. Tadmor, Polym. Eng. Sci. 6 (1966) 185, and with I.
// Klein, Engineering Principles of Plasticating Extrusion (1970); the film's own heat, the
// last term, as Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, add it (both
// from memory). Melting at root and flights is left out.
//
// Melting begins in the first zone whose barrel is above the bed's Melting, once the film
// is three times as thick as the clearance: a thinner one slips under the flight and is
// not wiped off (Tadmor and Klein say several times, from memory; three is assumed).
// Until then it grows as δ² = 2[k(T_b−T_m) + η·V_j²/2]·t/ρλ*.
//
// In small screws the bed warms through before it melts (Peclet): melting then begins
// slower and ends faster than told, of the same heat in all. A hot root melts sooner.
//
// It errs on invalid input; with ErrPlugs; and with ErrNoFlow on more than the barrel can
// drag of solids, at its own speed along the channel.
func (p Profile) MeltBed(b Bed, film Melt, speed, massFlow float64) (Melted, error) {
	var f input.Faults
	var w melting
	w.check(&f, &p, &b, &film, speed)
	f.Between("screw.Profile.MeltBed: mass flow", massFlow, 1e-12, 1e4, "kg/s")
	if err := f.Err(); err != nil {
		return Melted{}, err
	}
	if err := w.along(massFlow, math.Inf(1)); err != nil {
		return Melted{}, err
	}
	return w.melted(massFlow), nil
}

// MeltCapacity returns the largest mass flow of which nothing solid is left at an axial
// position, above 0 to Length [m], at a speed, 1e-4 to 100 [rev/s]: by [Profile.MeltBed]
// [kg/s]. Molten by 0.7 to 0.8 of the length is common practice, no source. It errs on
// invalid input, and with ErrNoFlow where nothing melts by there. It is never more than the
// barrel can drag of solids.
func (p Profile) MeltCapacity(b Bed, film Melt, speed, position float64) (float64, error) {
	var f input.Faults
	var w melting
	w.check(&f, &p, &b, &film, speed)
	if f.None() {
		f.Between("screw.Profile.MeltCapacity: position", position, 1e-6, p.Length(), "m")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	var failed error
	left := func(x float64) float64 {
		err := w.along(math.Exp(x), position)
		switch {
		case errors.Is(err, ErrPlugs), errors.Is(err, ErrNoFlow), err == nil && len(w.parts) == 0:
			return 1
		case err != nil:
			failed = errors.Join(failed, err)
			return 1
		}
		return w.parts[len(w.parts)-1].rootAt(position, w.sin)
	}
	low, high := math.Log(1e-12), math.Log(math.Min(1e4, w.most(p.Zones[w.first].DepthIn)*(1-1e-12)))
	fl, fh := left(low), left(high)
	switch {
	case failed != nil:
		return 0, failed
	case fl >= 0:
		return 0, fmt.Errorf("%w: not even 1e-12 kg/s melts by %.4g m", ErrNoFlow, position)
	case fh < 0:
		return math.Exp(high), nil
	}
	x, err := root.Between(left, low, fl, high, fh, 1e-12)
	if err == nil && left(x) >= 1 { // just above a flow that plugs, not at one that has just melted
		x -= 2e-12 * math.Abs(x)
	}
	if failed != nil {
		err = failed
	}
	return math.Exp(x), err
}

// melting follows a bed along a screw.
type melting struct {
	p     *Profile
	b     *Bed
	film  Melt
	speed float64
	first int // zone whose barrel melts

	sin, cos, width float64 // of helix and channel

	from, depth float64 // where melting begins [m]
	zone        int     // in which it begins
	start       filmState
	parts       []meltingPart
}

func (w *melting) check(f *input.Faults, p *Profile, b *Bed, film *Melt, speed float64) {
	p.check(f, Isothermal)
	b.check(f)
	film.check(f)
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	if film.Conductivity == 0 {
		f.Refuse("screw.Melt.Conductivity", 0, "W/(m·K)", "0.01 to 100 W/(m·K), as the bed is heated through it")
	}
	if !f.None() {
		return
	}
	w.p, w.b, w.film, w.speed = p, b, *film, speed
	for w.first < len(p.Zones)-1 && p.Zones[w.first].Barrel >= 100 && p.Zones[w.first].Barrel <= b.Melting {
		w.first++
	}
	for i := w.first; i < len(p.Zones); i++ {
		if barrel := p.Zones[i].Barrel; !(barrel > b.Melting && barrel <= hottest) {
			f.Refuse(fmt.Sprintf("screw.Profile.Zones[%d].Barrel", i), barrel, "K",
				"above the bed's Melting, "+input.WithUnit(b.Melting, "K")+", from where melting begins to the tip")
		}
	}
	c := p.channel(p.Zones[0].DepthIn, 1)
	w.sin, w.cos = c.sincos()
	w.width = c.Width()
}

// melted tells what along found, gone to the tip.
func (w *melting) melted(massFlow float64) Melted {
	tip := w.p.Length()
	m := Melted{From: math.Min(w.from, tip), Left: 1, parts: w.parts, sin: w.sin, tip: tip}
	if len(w.parts) == 0 {
		m.Beyond = append(m.Beyond, "nothing melts: the screw ends before the film is thick enough to be wiped off")
		return m
	}
	first, last := &w.parts[0], &w.parts[len(w.parts)-1]
	m.Rate, m.Film, m.Dissipation, m.Psi = w.start.rate, w.start.thick, w.start.dissipation, first.psi
	if w.b.Conductivity > 0 {
		m.Peclet = m.Rate * w.b.SpecificHeat * w.depth / (w.b.Conductivity * w.width)
	}
	depth := w.p.ChannelAt(tip).Depth
	atTip := last.rootAt(tip, w.sin)
	m.Left = m.Solid(tip)
	m.Molten = 1 - m.Left*depth/w.depth
	if atTip > 0 {
		m.Length = tip - m.From + 2*depth*atTip/last.psi*w.sin
		m.Beyond = append(m.Beyond, fmt.Sprintf("a share of %.2g of the bed leaves the screw solid; Length is that of a screw that went on at its last depth", m.Left))
	}
	for i := range w.parts {
		end := tip
		if i < len(w.parts)-1 {
			end = w.parts[i+1].begin
		}
		q := &w.parts[i]
		// From d(H·X)/dz = −ψ·√X: √X summed along the helix is what H·X falls by, over ψ.
		begun, ended := math.Max(0, q.root), math.Max(0, q.rootAt(end, w.sin))
		fell := q.depth*begun*begun - (q.depth-q.taper*(end-q.begin)/w.sin)*ended*ended
		m.Work += float64(w.p.Starts) * q.work * fell / q.psi
		if q.root > 0 && q.rootAt(end, w.sin) <= 0 {
			m.Length = q.emptied(w.sin) - m.From
		}
	}
	d := w.film.Viscosity.Domain()
	for _, text := range [...]string{d.BeyondTemperature((w.p.Zones[w.zone].Barrel + w.b.Melting) / 2), d.BeyondRate(w.start.shear)} {
		if text = inThe("film", text); text != "" {
			m.Beyond = append(m.Beyond, text)
		}
	}
	return m
}

// bed returns the speed along the channel of a bed that fills it [m/s].
func (w *melting) bed(massFlow, depth float64) float64 {
	return massFlow / (float64(w.p.Starts) * w.b.Density * w.width * depth)
}

// most returns the flow of a bed that moves as fast as the barrel drags it [kg/s].
func (w *melting) most(depth float64) float64 {
	return math.Pi * w.p.Bore * w.speed * w.cos / w.bed(1, depth)
}

// wiped is how many clearances thick a film is when the flight begins to wipe it off.
const wiped = 3

// begin finds where melting begins.
func (w *melting) begin(massFlow float64) error {
	thick := wiped * w.p.Clearance
	need := thick * thick
	w.from = 0
	for i := range w.p.Zones {
		z := &w.p.Zones[i]
		if i >= w.first {
			bed := w.bed(massFlow, z.DepthIn)
			conducted, sliding := w.heated(z, bed)
			eta, _ := w.film.local(sliding / thick)
			if !liquid(eta) {
				return w.film.notLiquid(sliding/thick, eta)
			}
			dissipation := eta * sliding * sliding / (2 * conducted)
			growth := 2 * conducted * (1 + dissipation) / (w.film.Density * w.heat(z, dissipation)) // of its square [m²/s]
			if length := need / growth * bed * w.sin; length < z.Length {
				w.from += length
				w.depth = z.depth(length / z.Length)
				return nil
			}
			need -= growth * z.Length / (bed * w.sin)
		}
		w.from += z.Length
	}
	return nil
}

// along carries a mass flow from where melting begins to an axial position.
func (w *melting) along(massFlow, position float64) error {
	w.parts = w.parts[:0]
	if err := w.begin(massFlow); err != nil {
		return err
	}
	bed := w.bed(massFlow, w.depth)
	carried := massFlow / (float64(w.p.Starts) * w.depth) // ρ_s·V·W
	if most := w.most(w.depth); w.from < w.p.Length() && massFlow > most {
		return fmt.Errorf("%w: the barrel drags at most %.4g kg/s of solids, asked %.4g kg/s", ErrNoFlow, most, massFlow)
	}
	end, state := 0.0, 1.0
	for i := range w.p.Zones {
		z := &w.p.Zones[i]
		begin := end
		end += z.Length
		if end <= w.from || begin >= position {
			continue
		}
		film, err := w.filmOver(z, bed)
		if err != nil {
			return err
		}
		part := meltingPart{begin: begin, depth: z.DepthIn, taper: (z.DepthIn - z.DepthOut) * w.sin / z.Length, psi: film.rate / carried, root: state, work: film.work}
		if len(w.parts) == 0 {
			w.start, w.zone = film, i
			part.begin, part.depth = w.from, w.depth
		} else if before := w.p.Zones[i-1].DepthOut; before != z.DepthIn { // at a step what is left of the bed gets as much wider
			if part.root *= math.Sqrt(before / z.DepthIn); part.root >= 1 {
				return fmt.Errorf("%w: at a step from %.4g to %.4g m deep, %.3g of its width is still solid", ErrPlugs, before, z.DepthIn, state*state)
			}
		}
		if part.taper >= part.psi*(1-1e-12) && part.rootAt(math.Min(end, position), w.sin) >= 1 {
			return fmt.Errorf("%w: it gets shallower by %.3g m for each metre of helix, its solids melt by %.3g", ErrPlugs, part.taper, part.psi)
		}
		w.parts = append(w.parts, part)
		state = part.rootAt(math.Min(end, position), w.sin)
	}
	return nil
}

// rootAt returns √X at a position of the part; below 0 where nothing solid is left.
func (q *meltingPart) rootAt(position, sin float64) float64 {
	z := (position - q.begin) / sin
	if math.Abs(q.taper)*z < 1e-9*q.depth {
		return q.root - (q.psi-q.taper*q.root)*z/(2*q.depth)
	}
	steep := q.psi / q.taper
	return steep + (q.root-steep)*math.Sqrt(q.depth/(q.depth-q.taper*z))
}

// emptied returns where √X of the part falls to 0, which it does [m].
func (q *meltingPart) emptied(sin float64) float64 {
	return q.begin + q.root/q.psi*(2*q.depth-q.taper*q.depth*q.root/q.psi)*sin
}

// Solid returns the bed's width over the channel's at an axial position of the screw [m]:
// 1 up to From, 0 from From + Length on; beyond the tip, what it is there [-].
func (m Melted) Solid(position float64) float64 {
	last := len(m.parts) - 1
	if last < 0 || position <= m.From {
		return 1
	}
	i := last
	for i > 0 && position < m.parts[i].begin {
		i--
	}
	root := math.Max(0, m.parts[i].rootAt(math.Min(position, m.tip), m.sin))
	return math.Min(1, root*root)
}
