package screw

import (
	"math"

	"meltflight/internal/input"
)

// ChannelTime returns by when a share of the output, 0 to below 1 [-], has left a
// wide screw channel, in parts of the mean time: from 3/4, exactly, for the
// quickest melt, and without end towards 1 [-]. It errs on another share.
//
// A Newtonian melt circulates: what the barrel carries across at a height y of the
// channel's depth returns at the height below at which as much flows back, yc, and
// stays at each the longer, the slower it crosses there. G. Pinto and Z. Tadmor,
// Polym. Eng. Sci. 10 (1970) 279 (from memory), in their height and in s = y + yc:
//
//	F² = s³(4−3s),  t/t̄ = (3s−2)/(6s(s−1)),  1 < s ≤ 4/3,
//
// for any helix angle and any pressure. To 1e-14; range: a channel without end, wide
// against its depth, with nothing leaking over its lands.
func ChannelTime(share float64) (float64, error) {
	if err := checkShare("screw.ChannelTime: share", share); err != nil {
		return 0, err
	}
	return channelTime(math.Sqrt((1 - share) * (1 + share))), nil
}

// channelTime returns the time for a share F given as r = √(1−F²), above 0 up to 1:
// with x = s − 1 that is r = x√(6+8x+3x²), nearly straight.
func channelTime(r float64) float64 {
	x := r / 3
	for range 5 { // of Newton's steps three are enough
		p := 6 + x*(8+3*x)
		root := math.Sqrt(p)
		x -= (x*root - r) * root / (p + x*(4+3*x))
	}
	return (1 + 3*x) / (6 * x * (1 + x))
}

// ChannelShare returns the share of the output that has left a wide screw channel
// by a time from 0, in parts of the mean time [-]: the inverse of [ChannelTime], from
// 0 up to 3/4 to 1 without end [-]. It errs on a negative time and on none.
func ChannelShare(time float64) (float64, error) {
	if err := checkTime("screw.ChannelShare: time", time, ""); err != nil {
		return 0, err
	}
	if time <= 0.75 {
		return 0, nil
	}
	rate := 1 / time
	root := math.Sqrt(4 - rate*(4./3-rate))
	s := (2 + rate + root) / 4
	rest := 4 * (4*time - 3) * rate / (10 - 3*rate + 3*root) // 4 − 3s, which next to 3/4 is a small difference
	return math.Min(1, s*math.Sqrt(s*rest)), nil
}

// PipeTime returns by when a share of the output, 0 to below 1 [-], has left a round
// pipe in parts of the mean time, 1/(2√(1−F)) for a Newtonian melt: what a nozzle adds
// to a screw, and what a screw is better than [-]. It errs on another share.
//
// Follows from Hagen and Poiseuille's parabola of velocity, in which nothing changes place.
func PipeTime(share float64) (float64, error) {
	if err := checkShare("screw.PipeTime: share", share); err != nil {
		return 0, err
	}
	return 0.5 / math.Sqrt(1-share), nil
}

// PipeShare returns the share of the output that has left a round pipe by a time
// from 0, in parts of the mean time [-]: the inverse of [PipeTime], 1 − (t̄/2t)² from
// half the mean time on [-]. It errs on a negative time and on none.
func PipeShare(time float64) (float64, error) {
	if err := checkTime("screw.PipeShare: time", time, ""); err != nil {
		return 0, err
	}
	if time <= 0.5 {
		return 0, nil
	}
	half := 0.5 / time
	return (1 - half) * (1 + half), nil
}

// checkShare refuses a share by whose time not all has left.
func checkShare(name string, share float64) error {
	var f input.Faults
	if !(share >= 0 && share < 1) {
		f.Refuse(name, share, "", "0 to below 1")
	}
	return f.Err()
}

func checkTime(name string, time float64, unit string) error {
	var f input.Faults
	f.Between(name, time, 0, math.MaxFloat64, unit)
	return f.Err()
}
