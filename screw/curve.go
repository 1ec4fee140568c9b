package screw

import "math"

// flowCurve is a melt's flow curve turned round, shear rate at a stress, tabulated
// so that a law which gives stress at a rate need not be inverted at every point of
// every gap. Between the rows ln γ̇ follows the cubic that has the law's own values
// and slopes at both, which at the sharpest knee of those in material is within 1e-7.
type flowCurve struct {
	low  float64 // ln of the first row's stress
	rows []flowRow
}

type flowRow struct{ lnRate, slope float64 } // slope is d ln γ̇ / d ln τ = 1/n

const rowStep = 1.0 / 64 // of ln τ

// tabulate sets up the curve between two rates [1/s].
func (f *fluid) tabulate(low, high float64) {
	at := func(rate float64) float64 { eta, _ := f.melt.local(rate); return math.Log(eta * rate) }
	from, to := at(low), at(high)
	rows := int((to-from)/rowStep) + 2
	if !(rows >= 2 && rows < 10000) { // a law beyond all numbers somewhere; do without
		return
	}
	c := &flowCurve{low: from, rows: make([]flowRow, rows)}
	near, slope := math.Log(low), 1.0
	for i := range c.rows {
		rate, n := f.rateAt(math.Exp(from+rowStep*float64(i)), math.Exp(near+slope*rowStep))
		near, slope = math.Log(rate), 1/n
		if math.IsNaN(near) || math.IsInf(near, 0) || !(n > 0) {
			return
		}
		c.rows[i] = flowRow{near, slope}
	}
	f.curve = c
}

// at returns rate [1/s] and local index at a stress [Pa]; ok is false outside the table.
func (c *flowCurve) at(stress float64) (rate, index float64, ok bool) {
	x := (math.Log(stress) - c.low) / rowStep
	if !(x >= 0 && x < float64(len(c.rows)-1)) {
		return 0, 0, false
	}
	i := int(x)
	x -= float64(i)
	a, b := &c.rows[i], &c.rows[i+1]
	rise := b.lnRate - a.lnRate
	// y = y₀ + x·(m₀ + x·(3Δ − 2m₀ − m₁ + x·(m₀ + m₁ − 2Δ))), slopes by the row
	m0, m1 := a.slope*rowStep, b.slope*rowStep
	square, cube := 3*rise-2*m0-m1, m0+m1-2*rise
	y := a.lnRate + x*(m0+x*(square+x*cube))
	dy := (m0 + x*(2*square+3*x*cube)) / rowStep
	return math.Exp(y), 1 / dy, true
}
