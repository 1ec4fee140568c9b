package main

import (
	"fmt"
	"math"

	"meltflight/frame"
	"meltflight/material"
)

// parts of the shapers that are compared.
var parts = [2]int{2, 3}

// answer is what is found.
type answer struct {
	plan    plan
	laden   []laden // rising in fill
	bare    laden   // without the hopper
	shapers [2]frame.Shaper
	drift   [2]float64 // the most that shapers made for the drift's middle let through [-]
	heights []laden    // full hopper higher and lower on the axis
	stands  [2]stand   // feet that turn, and bolted ones
	ballast float64    // that keeps the turning feet down when someone leans on [kg]
}

// laden is the axis with a fill and what a move does to it.
type laden struct {
	fill   float64
	above  float64 // of the hopper [mm]
	axis   frame.Axis
	modes  [3]frame.Mode
	tones  []frame.Tone // along the travel at the nozzle
	rings  frame.Ringing
	bobs   frame.Ringing // up and down at the nozzle
	may    frame.Allowance
	wave   float64    // of the loudest tone in the bead [m]
	passes [2]float64 // of the loudest tone, through each shaper [-]
	shaped [2]shaped
}

// shaped is a move through a shaper.
type shaped struct {
	worst float64 // at its end, however timed [m]
	may   float64 // acceleration, however timed [m/s²]
}

// stand is the hopper on its feet; pairs are of an empty and a full hopper.
type stand struct {
	sway    [2][2]float64 // along x and y [Hz]
	push    [2]float64    // that lifts two feet where someone leans [N]
	buckles material.Utilisation
	leans   float64 // under the pull of the hose, the softer way, full [m]
	rings   float64 // at worst, after a move over which that pull grows evenly [m]
	mass    float64 // of the stand alone [kg]
}

func find(p plan) (*answer, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	a := &answer{plan: p}
	half, err := p.at(0.5)
	if err != nil {
		return nil, err
	}
	full, err := p.at(1)
	if err != nil {
		return nil, err
	}
	empty, err := p.at(0)
	if err != nil {
		return nil, err
	}
	low, high := full.loudest().Frequency, empty.loudest().Frequency
	for i, n := range parts {
		a.shapers[i] = frame.Shaper{Frequency: half.loudest().Frequency, Damping: p.damping, Impulses: n}
		if _, a.drift[i], err = frame.ShaperOver(min(low, high), max(low, high), p.damping, n); err != nil {
			return nil, err
		}
	}
	for k := range 5 {
		l, err := p.at(float64(k) / 4)
		if err != nil {
			return nil, err
		}
		if err := l.shape(&p, a.shapers); err != nil {
			return nil, err
		}
		a.laden = append(a.laden, l)
	}
	if a.bare, err = p.at(none); err != nil {
		return nil, err
	}
	own := a.shapers
	for i := range own {
		own[i].Frequency = a.bare.loudest().Frequency
	}
	if err := a.bare.shape(&p, own); err != nil {
		return nil, err
	}
	for _, above := range []float64{-p.headBelow, 0, p.above, 2 * p.above} {
		other := p
		other.above = above
		l, err := other.at(1)
		if err != nil {
			return nil, err
		}
		a.heights = append(a.heights, l)
	}
	return a, a.stood()
}

// at tells what the move does to the axis at a fill.
func (p *plan) at(fill float64) (l laden, err error) {
	l.fill, l.above = fill, p.above
	if l.axis, err = p.axis(fill); err != nil {
		return l, fmt.Errorf("gantry: %w", err)
	}
	if l.modes, err = l.axis.Modes(); err != nil {
		return l, fmt.Errorf("gantry: %w", err)
	}
	if l.tones, err = l.axis.Tones(p.damping, p.nozzle()); err != nil {
		return l, err
	}
	if l.rings, err = l.axis.Ringing(p.move, p.damping, p.nozzle()); err != nil {
		return l, err
	}
	vertical, err := p.bobbing(l.axis)
	if err != nil {
		return l, err
	}
	if l.bobs, err = p.move.RingingOf(vertical...); err != nil {
		return l, err
	}
	if l.may, err = p.hurried().Accelerations(p.ripple*mm, l.tones...); err != nil {
		return l, err
	}
	l.wave, err = frame.RippleWavelength(p.move.Speed, l.loudest().Frequency, p.damping)
	return l, err
}

// hurried is the move as fast as the drive gives.
func (p *plan) hurried() frame.Move {
	m := p.move
	m.Acceleration = p.fastest
	return m
}

// bobbing is what [frame.Axis.Tones] tells, but up and down: the ends still move along y.
func (p *plan) bobbing(a frame.Axis) ([]frame.Tone, error) {
	modes, err := space(a).Modes(5)
	if err != nil {
		return nil, err
	}
	var tones []frame.Tone
	for _, m := range modes {
		tones = append(tones, frame.Tone{Frequency: m.Frequency, Damping: p.damping, Share: m.Participation[1] * m.Nodes[1][2]})
	}
	return tones, nil
}

// loudest is the tone that rings most after a step of acceleration.
func (l *laden) loudest() (loud frame.Tone) {
	most := -1.0
	for _, t := range l.tones {
		if rings := math.Abs(t.Share) / (t.Frequency * t.Frequency); rings > most {
			most, loud = rings, t
		}
	}
	return loud
}

// shape tells what shapers let through: of each tone its residual.
func (l *laden) shape(p *plan, shapers [2]frame.Shaper) (err error) {
	for i, s := range shapers {
		loud := l.loudest()
		if l.passes[i], err = s.Residual(loud.Frequency, loud.Damping); err != nil {
			return err
		}
		var through []frame.Tone
		for _, t := range l.tones {
			v, err := s.Residual(t.Frequency, t.Damping)
			if err != nil {
				return err
			}
			t.Share *= v
			through = append(through, t)
		}
		r, err := p.move.RingingOf(through...)
		if err != nil {
			return err
		}
		may, err := p.hurried().Accelerations(p.ripple*mm, through...)
		if err != nil {
			return err
		}
		l.shaped[i] = shaped{worst: r.Worst, may: may.AnyTiming}
	}
	return nil
}

const gravity = 9.80665 // [m/s²]

// stood tells whether the stand stands.
func (a *answer) stood() error {
	p := &a.plan
	for i := range a.stands {
		s := &a.stands[i]
		for k := range 2 {
			st, err := p.stand(float64(k), i == 1)
			if err != nil {
				return fmt.Errorf("stand: %w", err)
			}
			if s.sway[k][0], s.sway[k][1], err = st.Modes(); err != nil {
				return fmt.Errorf("stand: %w", err)
			}
			if s.push[k], err = st.Push(p.leanAt * mm); err != nil {
				return fmt.Errorf("stand: %w", err)
			}
			if s.buckles, err = st.Buckling(p.hopper(float64(k)) * gravity); err != nil {
				return fmt.Errorf("stand: %w", err)
			}
			x, y, err := st.SwayStiffness()
			if err != nil {
				return err
			}
			s.leans = p.hose / min(x, y)
			// Pulled in proportion to the way, it rings as on a base that moves so.
			r, err := p.move.Ringing(min(s.sway[k][0], s.sway[k][1]), p.damping)
			if err != nil {
				return err
			}
			s.rings = r.Worst * s.leans / p.move.Distance
			legs := 4*p.standHeight + 2*(p.standWidth+p.standDepth)
			s.mass = legs * mm * st.Leg.Area * st.Metal.Density
		}
	}
	// Weight low on the stand times half the base holds what the push turns over.
	arm := min(p.standWidth, p.standDepth) / 2
	a.ballast = max(0, (p.lean-a.stands[0].push[0])*p.leanAt/arm/gravity)
	return nil
}

// least returns the smallest over the fills of what a laden axis tells, and its fill.
func (a *answer) least(of func(*laden) float64) (v, fill float64) {
	v = math.Inf(1)
	for i := range a.laden {
		if at := of(&a.laden[i]); at < v {
			v, fill = at, a.laden[i].fill
		}
	}
	return v, fill
}
