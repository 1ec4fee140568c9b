package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// BearingBlock is a stretch of a bearing's duty at one speed, its equivalent load
// steady or changing evenly with time.
type BearingBlock struct {
	From, To float64 // equivalent load where it begins and ends, 0 to 1e9 [N]
	Speed    float64 // 0 to 1e4 [rev/s]
	Time     float64 // how long, or which share of all; 0 to 1e10 [s]
}

// BearingMean is the steady duty in which a bearing would last as long.
type BearingMean struct {
	Load  float64 // equivalent load [N]
	Speed float64 // [rev/s]
	Most  float64 // largest load of the duty, for the static safety and for half the rating [N]
}

// MeanBearingLoad returns the steady load and speed that use up as much of the life of a
// bearing of an exponent, Ball to Roller [-], as 1 to 1000 blocks do together:
//
//	P = (Σ n·t·P^p ÷ Σ n·t)^(1/p),  n = Σ n·t ÷ Σ t
//
// which is Palmgren's and Miner's sum of used-up lives: Budynas and Nisbett, Shigley's
// Mechanical Engineering Design, 9th ed. (2011), section 11-7 (from memory): loads weigh by the revolutions they
// last, not by time. Of a load that changes evenly the mean of P^p is (b^(p+1) −
// a^(p+1))/((p+1)(b − a)); the handbook's (a + 2b)/3 is up to 8 % above its root, where b is
// 3 to 4 times a. Blocks at rest count in the mean speed alone. The mean hides a peak: ask
// Most of [Bearing.Life] too. A duty without a revolution has no mean and is refused.
func MeanBearingLoad(blocks []BearingBlock, exponent float64) (BearingMean, error) {
	var f input.Faults
	f.Count("drive.MeanBearingLoad: blocks", len(blocks), 1, 1000)
	f.Between("drive.MeanBearingLoad: exponent", exponent, Ball, Roller, "")
	var turns, time, damage, most float64
	for i := range blocks {
		b := &blocks[i]
		if err := b.fault(); err != nil {
			f.Add(fmt.Errorf("block %d: %w", i+1, err))
			continue
		}
		n := b.Speed * b.Time
		turns, time = turns+n, time+b.Time
		if b.Time > 0 {
			most = max(most, b.From, b.To)
		}
	}
	if f.None() && !(turns >= leastTurns) {
		f.Refuse("drive.MeanBearingLoad: revolutions of all blocks", turns, "", fmt.Sprintf("%g or more", leastTurns))
	}
	if err := f.Err(); err != nil {
		return BearingMean{}, err
	}
	if most == 0 {
		return BearingMean{Speed: turns / time}, nil
	}
	for i := range blocks { // relative to the largest, so that nothing overflows
		b := &blocks[i]
		if n := b.Speed * b.Time; n > 0 {
			damage += n / turns * evenMean(b.From/most, b.To/most, exponent)
		}
	}
	return BearingMean{Load: most * math.Pow(damage, 1/exponent), Speed: turns / time, Most: most}, nil
}

const leastTurns = 1e-12 // time may be a share

func (b *BearingBlock) fault() error {
	var f input.Faults
	f.Between("drive.BearingBlock.From", b.From, 0, mostLoad, "N")
	f.Between("drive.BearingBlock.To", b.To, 0, mostLoad, "N")
	f.Between("drive.BearingBlock.Speed", b.Speed, 0, highestSpeed, "rev/s")
	f.Between("drive.BearingBlock.Time", b.Time, 0, 1e10, "s")
	return f.Err()
}

// evenMean is the mean of x^p for x from a to b. Near a = b its closed form cancels and a
// series in the half difference stands in.
func evenMean(a, b, p float64) float64 {
	middle, half := (a+b)/2, math.Abs(b-a)/2
	if half == 0 {
		return ratingPower(middle, p)
	}
	x := half / middle
	if x < 0.05 {
		x *= x
		c2 := p * (p - 1) / 2
		c4 := c2 * (p - 2) * (p - 3) / 12
		c6 := c4 * (p - 4) * (p - 5) / 30
		return ratingPower(middle, p) * (1 + x*(c2/3+x*(c4/5+x*c6/7)))
	}
	lo, hi := middle-half, middle+half
	return (hi*ratingPower(hi, p) - lo*ratingPower(max(0, lo), p)) / ((p + 1) * 2 * half)
}
