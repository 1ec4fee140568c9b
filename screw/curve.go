package screw

import (
	"math"

	"meltflight/material"
)

// flowCurve is a melt's flow curve turned round, shear rate at a stress, tabulated
// so that a law which gives stress at a rate need not be inverted at every point of
// every gap. The rows stand evenly in ln γ̇, as close as a sharp knee needs; between
// them ln γ̇ follows the cubic in ln τ that has the law's own values and slopes at both.
type flowCurve struct {
	rows  []flowRow
	shift float64 // the law's ln a where the rows were made
}

type flowRow struct{ lnStress, lnRate, slope float64 } // slope is d ln γ̇ / d ln τ = 1/n

const (
	widestStep = 1. / 4
	finestStep = 1. / 2048
	curveError = 1e-8 // of ln γ̇ midway between rows, where it is greatest
)

// tabulate makes the curve of a melt between two rates [1/s]. A law that is beyond
// all numbers somewhere gets none and is inverted point by point.
func tabulate(m Melt, low, high float64) *flowCurve {
	c := &flowCurve{shift: logShift(m)}
	from, span := math.Log(low), math.Log(high/low)
	if !(span > 0 && span < 1e3) {
		return nil
	}
	count := int(span/widestStep) + 2
	for i := range count {
		c.rows = append(c.rows, rowAt(m, from+span*float64(i)/float64(count-1)))
	}
	if !c.rising() {
		return nil
	}
	for step := widestStep; ; step /= 2 {
		// What lies midway tells the error, and is a row of the next table, whose own
		// error is a sixteenth.
		finer := make([]flowRow, 0, 2*len(c.rows)-1)
		worst := 0.0
		for i := range len(c.rows) - 1 {
			a, b := &c.rows[i], &c.rows[i+1]
			mid := rowAt(m, (a.lnRate+b.lnRate)/2)
			lnRate, _ := between(a, b, mid.lnStress)
			worst = math.Max(worst, math.Abs(lnRate-mid.lnRate))
			finer = append(finer, *a, mid)
		}
		c.rows = append(finer, c.rows[len(c.rows)-1])
		switch {
		case !c.rising():
			return nil
		case worst <= 16*curveError || step <= finestStep:
			return c
		}
	}
}

func rowAt(m Melt, lnRate float64) flowRow {
	eta, n := m.local(math.Exp(lnRate))
	return flowRow{math.Log(eta) + lnRate, lnRate, 1 / n}
}

// rising reports whether stress rises from row to row, in numbers.
func (c *flowCurve) rising() bool {
	last := math.Inf(-1)
	for _, r := range c.rows {
		if !(r.lnStress > last && r.lnStress < math.MaxFloat64 && r.slope > 0 && r.slope < 1e6) {
			return false
		}
		last = r.lnStress
	}
	return true
}

// at returns ln γ̇ and 1/n at the logarithm of a stress, where the rows were made. It
// seeks from a row near, the last one found, and leaves there the one it found; ok is
// false outside the table.
func (c *flowCurve) at(lnStress float64, near *int) (lnRate, slope float64, ok bool) {
	rows := c.rows
	if !(lnStress >= rows[0].lnStress && lnStress < rows[len(rows)-1].lnStress) {
		return 0, 0, false
	}
	i := *near
	for rows[i].lnStress > lnStress {
		i--
	}
	for rows[i+1].lnStress <= lnStress {
		i++
	}
	*near = i
	lnRate, slope = between(&rows[i], &rows[i+1], lnStress)
	return lnRate, slope, true
}

// between returns ln γ̇ and d ln γ̇/d ln τ from the cubic between two rows.
func between(a, b *flowRow, lnStress float64) (lnRate, slope float64) {
	step := b.lnStress - a.lnStress
	x := (lnStress - a.lnStress) / step
	rise := b.lnRate - a.lnRate
	// y = y₀ + x·(m₀ + x·(3Δ − 2m₀ − m₁ + x·(m₀ + m₁ − 2Δ))), slopes by the row
	m0, m1 := a.slope*step, b.slope*step
	square, cube := 3*rise-2*m0-m1, m0+m1-2*rise
	return a.lnRate + x*(m0+x*(square+x*cube)), (m0 + x*(2*square+3*x*cube)) / step
}

// logShift returns ln a of a melt whose curves are one, shifted; 0 of others.
func logShift(m Melt) float64 {
	if v, ok := m.Viscosity.(material.Superposed); ok {
		return v.LogShift(m.Temperature, 0)
	}
	return 0
}
