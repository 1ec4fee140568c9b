package screw

import "math"

// flowCurve is a melt's flow curve turned round, shear rate at a stress, tabulated
// so that a law which gives stress at a rate need not be inverted at every point of
// every gap. Between the rows ln γ̇ follows the cubic that has the law's own values
// and slopes at both; the rows stand as close as a sharp knee needs.
type flowCurve struct {
	low, step float64 // ln of the first row's stress, and of the ratio of two rows'
	rows      []flowRow
}

type flowRow struct{ lnRate, slope float64 } // slope is d ln γ̇ / d ln τ = 1/n

const (
	widestStep = 1. / 32
	finestStep = 1. / 1024
	curveError = 1e-8 // of ln γ̇ midway between rows, where it is greatest
)

// tabulate sets up the curve between two rates [1/s]. A law that is beyond all
// numbers somewhere gets none and is inverted point by point.
func (f *fluid) tabulate(low, high float64) {
	for step := widestStep; ; step /= 2 {
		c, ok := f.curveOf(low, high, step)
		if !ok {
			return
		}
		if step <= finestStep || f.error(c) <= curveError {
			f.curve = c
			return
		}
	}
}

func (f *fluid) curveOf(low, high, step float64) (*flowCurve, bool) {
	at := func(rate float64) float64 { eta, _ := f.melt.local(rate); return math.Log(eta * rate) }
	from, to := at(low), at(high)
	span := (to - from) / step
	if !(span > 0 && span < 1e5) {
		return nil, false
	}
	c := &flowCurve{low: from, step: step, rows: make([]flowRow, int(span)+2)}
	near, slope := math.Log(low), 1.0
	for i := range c.rows {
		rate, n := f.rateAt(math.Exp(from+step*float64(i)), math.Exp(near+slope*step))
		near, slope = math.Log(rate), 1/n
		if math.IsNaN(near) || math.IsInf(near, 0) || !(n > 0) {
			return nil, false
		}
		c.rows[i] = flowRow{near, slope}
	}
	return c, true
}

// error returns the greatest error of ln γ̇ midway between rows.
func (f *fluid) error(c *flowCurve) float64 {
	worst := 0.0
	for i := range len(c.rows) - 1 {
		lnStress := c.low + c.step*(float64(i)+0.5)
		rate, _, _ := c.at(math.Exp(lnStress))
		eta, n := f.melt.local(rate)
		worst = math.Max(worst, math.Abs(math.Log(eta*rate)-lnStress)/n)
	}
	return worst
}

// at returns rate [1/s] and local index at a stress [Pa]; ok is false outside the table.
func (c *flowCurve) at(stress float64) (rate, index float64, ok bool) {
	x := (math.Log(stress) - c.low) / c.step
	if !(x >= 0 && x < float64(len(c.rows)-1)) {
		return 0, 0, false
	}
	i := int(x)
	x -= float64(i)
	a, b := &c.rows[i], &c.rows[i+1]
	rise := b.lnRate - a.lnRate
	// y = y₀ + x·(m₀ + x·(3Δ − 2m₀ − m₁ + x·(m₀ + m₁ − 2Δ))), slopes by the row
	m0, m1 := a.slope*c.step, b.slope*c.step
	square, cube := 3*rise-2*m0-m1, m0+m1-2*rise
	y := a.lnRate + x*(m0+x*(square+x*cube))
	dy := (m0 + x*(2*square+3*x*cube)) / c.step
	return math.Exp(y), 1 / dy, true
}
