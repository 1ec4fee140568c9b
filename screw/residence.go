package screw

import (
	"fmt"
	"math"
	"slices"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// ResidenceTimes tells how long the melt stays: by when which share of the output has
// left that came in at once. Between the shares it is interpolated; in the tables of
// this package to 1e-6 of a Newtonian melt's time and to 3e-3 of another's at helix angles
// from 10°, near closed discharge where a layer passes the place of least stress, to
// 1.5 % at 3°. Of the 7e-6 that leave last, beyond the last share, to 1 %, but of laws
// that bend sharply it is a guess.
type ResidenceTimes struct {
	Shares []float64 // of the output, rising, above 0 and below 1 [-]
	Times  []float64 // by which they have left, not falling [s]
	Mean   float64   // volume ÷ flow, from Least [s]
	Least  float64   // of the quickest melt, above 0 up to the first of Times [s]
	Beyond []string  // in words, where the model's stated range is left; nil inside it
}

// ResidenceTimes returns how long the melt stays in the channel at a speed, 1e-4 to
// 100 [rev/s], against a head pressure, 0 to 1e15 [Pa]. It errs on invalid input, with
// ErrNoFlow where no melt, or not all of it, comes forward, and with ErrNotFound if a
// thinning melt's stresses were not found.
//
// As [ChannelTime] for a Newtonian melt. Any other circulates in the same way with the
// velocities of [Gap.Flow]: G. Pinto and Z. Tadmor, Polym. Eng. Sci. 10 (1970) 279
// (from memory), derived anew for any profile. Both leave out that side walls turn the
// melt, and leakage over the lands; Mean, by which all times are scaled, has both and
// is the ResidenceTime of [Channel.Convey]. The times tabulated for a melt that does not
// thicken have their mean there to 1e-4 down to a tenth of the drag flow; others and
// those closer to closed discharge to 1e-3, or there is ErrNoFlow.
//
// The quickest Newtonian melt takes 3/4 of the mean, whatever the screw. Thinning melt
// takes 0.49 to 0.86 of it at indices from 0.15 to 1, helix angles from 10 to 60° and
// pressures from 0 to closed discharge: least where a strongly thinning melt in a flat
// helix goes against about half the closed pressure, most towards closed discharge,
// where the angle no longer matters. (As computed over that range; pressure that falls
// along a channel would even it out, to 0.93.)
func (c Channel) ResidenceTimes(m Melt, speed, pressure float64) (ResidenceTimes, error) {
	var b balance
	var f input.Faults
	f.Add(b.prepare(&c, m, speed))
	f.Between("screw.Channel.ResidenceTimes: pressure", pressure, 0, 1e15, "Pa")
	if err := f.Err(); err != nil {
		return ResidenceTimes{}, err
	}
	var s Conveyance
	var l layers
	if b.newtonian {
		b.fill(&s, &c, m, speed, pressure, b.flowAt(pressure))
		l.newtonian(1)
	} else {
		var t thinning
		if err := t.open(&b, m); err != nil {
			return ResidenceTimes{}, err
		}
		t.fill(&s, &c, speed, pressure, t.flowAt(pressure))
		if t.failed != nil {
			return ResidenceTimes{}, t.failed
		}
		if !s.finite() {
			f.Refuse("screw.Channel.ResidenceTimes: pressure", pressure, "Pa", "less: so strong a push gives a flow beyond all numbers")
			return ResidenceTimes{}, f.Err()
		}
		if s.Flow > 0 {
			if err := t.p.layers(&l); err != nil {
				return ResidenceTimes{}, err
			}
		}
	}
	if !(s.Flow > 0) {
		return ResidenceTimes{}, fmt.Errorf("%w: against %.4g Pa %.4g m³/s flow back", ErrNoFlow, pressure, -s.Flow)
	}
	var scaled layers
	scaled.add(s.ResidenceTime/l.mean, &l)
	r := scaled.times()
	r.Mean, r.Beyond = s.ResidenceTime, s.Beyond
	return r, nil
}

// Validate reports what of the table is out of range or order.
func (r ResidenceTimes) Validate() error {
	var f input.Faults
	r.check(&f)
	return f.Err()
}

func (r *ResidenceTimes) check(f *input.Faults) {
	if f.Count("screw.ResidenceTimes.Shares: their number", len(r.Shares), 1, 1<<20); len(r.Times) != len(r.Shares) {
		f.Refuse("screw.ResidenceTimes.Times: their number", float64(len(r.Times)), "", fmt.Sprintf("that of Shares, %d", len(r.Shares)))
	}
	f.Between("screw.ResidenceTimes.Least", r.Least, math.SmallestNonzeroFloat64, math.MaxFloat64, "s")
	if !(r.Mean >= r.Least && r.Mean <= math.MaxFloat64) {
		f.Refuse("screw.ResidenceTimes.Mean", r.Mean, "s", "from Least, "+input.WithUnit(r.Least, "s"))
	}
	share, time := 0.0, r.Least
	for i := range min(len(r.Shares), len(r.Times)) {
		if !(r.Shares[i] > share && r.Shares[i] < 1) {
			f.Refuse(fmt.Sprintf("screw.ResidenceTimes.Shares[%d]", i), r.Shares[i], "", "above "+input.WithUnit(share, "")+" and below 1")
			return
		}
		if !(r.Times[i] >= time && r.Times[i] <= math.MaxFloat64) {
			f.Refuse(fmt.Sprintf("screw.ResidenceTimes.Times[%d]", i), r.Times[i], "s", "from "+input.WithUnit(time, "s"))
			return
		}
		share, time = r.Shares[i], r.Times[i]
	}
}

// At returns by when a share of the output, 0 to below 1 [-], has left [s]: Least for 0,
// and beyond the last of Shares what grows as 1/√(1−share), as at a wall. It errs on
// another share and on an invalid table.
func (r ResidenceTimes) At(share float64) (float64, error) {
	var f input.Faults
	r.check(&f)
	f.Add(checkShare("screw.ResidenceTimes.At: share", share))
	if err := f.Err(); err != nil {
		return 0, err
	}
	after, entry := slices.BinarySearch(r.Shares, share)
	switch {
	case share == 0:
		return r.Least, nil
	case entry:
		return r.Times[after], nil
	}
	return r.between(after, share), nil
}

// Share returns the share of the output that has left by a time, from 0 [s]: the
// inverse of [ResidenceTimes.At], 0 up to Least [-]. It errs on a negative time and on
// none, and on an invalid table.
func (r ResidenceTimes) Share(time float64) (float64, error) {
	var f input.Faults
	r.check(&f)
	f.Add(checkTime("screw.ResidenceTimes.Share: time", time, "s"))
	if err := f.Err(); err != nil {
		return 0, err
	}
	if time <= r.Least {
		return 0, nil
	}
	after, _ := slices.BinarySearch(r.Times, time)
	if last := len(r.Times) - 1; after > last {
		sin := across(r.Shares[last]) * (r.Times[last] / time)
		return math.Sqrt((1 - sin) * (1 + sin)), nil
	}
	before := 0.0
	if after > 0 {
		before = r.Shares[after-1]
	}
	share, err := root.Find(func(x float64) float64 { return r.between(after, x) - time }, before, r.Shares[after], 1e-14)
	if err != nil { // by rounding, at the end of the interval
		share = r.Shares[after]
	}
	return share, nil
}

// across is sin φ for a share cos φ; see layerCount.
func across(share float64) float64 { return math.Sqrt((1 - share) * (1 + share)) }

// between returns the time at a share in the interval that ends with an entry of the
// table. Time × sin φ is smooth over φ: a cubic through the four entries next to it.
func (r *ResidenceTimes) between(after int, share float64) float64 {
	last := len(r.Shares) - 1
	if after > last {
		return math.Min(math.MaxFloat64, r.Times[last]*math.Max(1, across(r.Shares[last])/across(share)))
	}
	// Entry −1 is the quickest melt.
	first := max(-1, min(after-2, last-3))
	count := min(4, last-first+1)
	var phi, value [4]float64
	for i := range count {
		if k := first + i; k < 0 {
			phi[i], value[i] = math.Pi/2, r.Least
		} else {
			phi[i], value[i] = math.Acos(r.Shares[k]), r.Times[k]*across(r.Shares[k])
		}
	}
	at := math.Acos(share)
	for step := 1; step < count; step++ { // Neville
		for i := range count - step {
			value[i] = ((phi[i+step]-at)*value[i] + (at-phi[i])*value[i+1]) / (phi[i+step] - phi[i])
		}
	}
	low, high := r.Least, r.Times[after]
	if after > 0 {
		low = r.Times[after-1]
	}
	time := value[0] / across(share)
	switch { // a table made by others may be anything but smooth
	case !(time >= low):
		return low
	case time > high:
		return high
	}
	return time
}
