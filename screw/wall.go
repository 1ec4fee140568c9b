package screw

import "math"

// tiers is the flow of a melt between still walls where the stress grows in
// proportion to the distance from the middle, layer by layer. All of it is told by
// the shear at the wall and by
//
//	part = ∫(τ/τw)^d dγ̇ / γ̇w, from rest to the wall,
//
// d being 3 in a round hole and 2 in a slit: integrated by parts, the flow makes the
// apparent rate, that of a Newtonian melt, γ̇a = (d+1)/d · γ̇w·(1 − part). The law is
// asked for viscosity at a rate and never turned round.
//
// B. Rabinowitsch, Z. Phys. Chem. A 145 (1929) 1, from memory.
type tiers struct {
	m    Melt
	d    float64
	wall tier
	part float64

	folded float64 // panelFolds, or less where what is visited bends more than the law
	ring   ring    // unless its side is 0, told every point, down to nothing, with its weight in ln γ̇
}

// tier is the melt's shear at one distance from the middle.
type tier struct {
	at           float64 // ln γ̇
	rate, stress float64 // [1/s], [Pa]
	index        float64 // local power-law index [-]
}

const (
	inHole = 3.
	inSlit = 2.

	shortHalf  = 0.1   // e-folds over which the law hardly varies
	partError  = 1e-12 // of a panel, in part
	mostHalved = 10    // times a panel is, at a kink
	panelFolds = 8.    // e-folds over which the integrand falls in the first panel tried
)

func (m Melt) tier(at float64) tier {
	rate := math.Exp(at)
	eta, n := m.local(rate)
	return tier{at, rate, eta * rate, n}
}

// apparent returns γ̇a [1/s].
func (l *tiers) apparent() float64 { return (l.d + 1) / l.d * l.wall.rate * (1 - l.part) }

// seek finds the wall at which the apparent rate is the one given, from the wall
// found before if there is one.
func (l *tiers) seek(apparent float64) {
	if l.wall.rate == 0 {
		_, n := l.m.local(apparent)
		l.start(math.Log(apparent * powerRise(l.d, n)))
	}
	low, high := math.Inf(-1), math.Inf(1)
	for range 60 {
		miss := math.Log(apparent / l.apparent())
		if miss > 0 {
			low = l.wall.at
		} else {
			high = l.wall.at
		}
		// d ln γ̇a / d ln γ̇w, exact; it is small just past a sharp bend.
		slope := l.wall.index * l.d * l.part / (1 - l.part)
		step := math.Max(-1, math.Min(1, miss/slope))
		if next := l.wall.at + step; next < low || next > high {
			step = (low+high)/2 - l.wall.at
		}
		if !(math.Abs(step) > 3e-7) { // what is left is its square
			l.part += (1 - l.folds(l.wall)*l.part) * step
			l.wall = l.m.tier(l.wall.at + step)
			return
		}
		l.move(step)
	}
}

// shearAt returns the wall's rate [1/s] and stress [Pa] at an apparent rate [1/s].
func (l *tiers) shearAt(apparent float64) (rate, stress float64) {
	if !layered(apparent) {
		return powerShear(l.m, l.d, apparent)
	}
	l.seek(apparent)
	return l.wall.rate, l.wall.stress
}

// layered reports whether layers tell more of a rate [1/s] than the law at it does: below,
// laws have their floor, and beyond, they are no liquid's.
func layered(rate float64) bool { return rate > 1e-10 && rate < 1e60 }

// powerRise returns the wall's rate over the apparent one for a power law.
func powerRise(d, n float64) float64 { return (d*n + 1) / ((d + 1) * n) }

// folds returns by how many e-folds the integrand in ln γ̇ falls over one of γ̇.
func (l *tiers) folds(y tier) float64 { return l.d*y.index + 1 }

// size returns the integrand in ln γ̇, (τ/τw)^d·γ̇/γ̇w, 1 at the wall.
func (l *tiers) size(y tier) float64 {
	s, size := y.stress/l.wall.stress, y.rate/l.wall.rate
	for range int(l.d) {
		size *= s
	}
	return size
}

// start sets the wall and integrates from there inwards, until what is left is too
// little to matter, or is Newtonian.
func (l *tiers) start(at float64) {
	l.wall, l.part = l.m.tier(at), 0
	l.folded = panelFolds
	l.inwards()
}

func (l *tiers) inwards() {
	y := l.wall
	for range 64 { // two or three, of a law that is any melt's
		size, folds := l.size(y), l.folds(y)
		if !(size*math.Abs(1/folds-1/(l.d+1)) > partError) && (l.ring.side == 0 || size < partError) {
			l.part += size / folds
			return
		}
		inner := l.m.tier(y.at - l.folded/folds)
		l.part += l.between(inner, y, mostHalved)
		y = inner
	}
}

// move shifts the wall in ln γ̇ and adds what lies between.
func (l *tiers) move(step float64) {
	next := l.m.tier(l.wall.at + step)
	l.part = (l.part + l.between(l.wall, next, mostHalved)) / l.size(next)
	l.wall = next
}

// between integrates by Gauss's rule. As d(τ^d·γ̇) = (d·n+1)·τ^d·γ̇ d ln γ̇, the same
// points must give the difference of the ends, which tells the error.
func (l *tiers) between(a, b tier, halvings int) float64 {
	half, mid := (b.at-a.at)/2, (b.at+a.at)/2
	rule := twelve[:]
	if math.Abs(half) < shortHalf {
		rule = five[:]
	}
	var sum, rise float64
	var at [len(twelve)]tier
	for i, k := range rule {
		y := l.m.tier(mid + half*k.at)
		at[i] = y
		size := k.weight * l.size(y)
		sum += size
		rise += size * l.folds(y)
	}
	if halvings == 0 || !(math.Abs(rise*half-(l.size(b)-l.size(a))) > partError) {
		if l.ring.side != 0 {
			for i, k := range rule {
				l.ring.add(k.weight*half, at[i])
			}
		}
		return sum * half
	}
	y := l.m.tier(mid)
	return l.between(a, y, halvings-1) + l.between(y, b, halvings-1)
}
