package screw

import (
	"errors"
	"fmt"

	"meltflight/internal/input"
)

// Characteristic returns what a screw delivers against rising pressure at one speed: from
// the flow against no pressure down to that flow over the number of points, 2 to 1000,
// in even steps. Closed discharge itself is left out: where no melt leaves, none but a
// melt of one temperature has a lasting state. It errs on invalid input; with ErrNoFlow
// where the screw delivers nothing against no pressure; and as [Profile.March] does. A
// screw that burns its melt at the lower flows has a shorter list.
func (p Profile) Characteristic(m Melt, r Running, points int) ([]Course, error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Count("screw.Profile.Characteristic: points", points, 2, 1000)
	if err := f.Err(); err != nil {
		return nil, err
	}
	var w marcher
	w.prepare(&p, m, r)
	open, err := w.meet(nil) // no die needs no pressure
	if err != nil {
		return nil, err
	}
	list := make([]Course, 0, points)
	for k := range points {
		c, err := w.course(open*float64(points-k)/float64(points), 0)
		if errors.Is(err, ErrTooHot) {
			break
		}
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return list, nil
}

// ResidenceTimes returns how long the melt of a course stays in the length that it
// fills: layer by layer as in [Channel.ResidenceTimes], each keeping its share of the flow
// from the start to the tip. The course must be this screw's with this melt, run so. It
// errs on invalid input and as [Channel.ResidenceTimes] does: with ErrNoFlow where at
// some place not all layers come forward.
func (p Profile) ResidenceTimes(m Melt, r Running, c Course) (ResidenceTimes, error) {
	var f input.Faults
	p.checkRun(&f, m, r)
	f.Between("screw.Course.Flow", c.Flow, 1e-15, 1e3, "m³/s")
	f.Between("screw.Course.Start", c.Start, 0, p.Length(), "m")
	if err := f.Err(); err != nil {
		return ResidenceTimes{}, err
	}
	var w marcher
	w.prepare(&p, m, r)
	total, err := w.layers(c.Flow, c.Start)
	if err != nil {
		return ResidenceTimes{}, err
	}
	t := total.times()
	t.Beyond = c.Beyond
	return t, nil
}

// layers sums up the layers' times along a march.
func (r *marcher) layers(flow, start float64) (total layers, err error) {
	if _, err := r.march(flow, start); err != nil {
		return total, err
	}
	points := append([]point{}, r.points...)
	for i := range points {
		at := &points[i]
		zone := &Zone{Barrel: at.temperature} // heat is known already
		if err := r.rates(at, zone, flow, i); err != nil {
			return total, err
		}
		var per layers
		if err := r.p.layers(&per); err != nil {
			return total, fmt.Errorf("at %.4g m along the screw: %w", at.position, err)
		}
		// The wide flat gap has the layers' shares; the time is that of the true volume.
		total.add(r.volume(at)/(flow*per.mean), &per)
	}
	return total, nil
}
