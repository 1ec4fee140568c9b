package thermal

import (
	"math"
	"testing"

	"meltflight/internal/verify"
)

// The three losses of one switch that a step-down regulator's data sheet adds up
// are those of which a bridge has several.
func TestCheckOneSwitch(t *testing.T) {
	const source = "STMicroelectronics, data sheet DocID14117 Rev 4 (step-down switching regulator), p. 28, eqs. 25 and 27"
	const edges = 70e-9                          // T_SW there is half of rise and fall time together
	total := conduction(0.4, 2*math.Sqrt(0.3)) + // 2 A for 0.3 of the time
		transitions(12, 2, edges, edges, 250e3) + 12*2.5e-3
	junction, _, _ := Path{SinkToAir: 42}.Temperatures(total, 343.15)
	verify.Table(t, []verify.Row{
		{Name: "loss of a step-down regulator", Source: source, Kind: verify.Print,
			Want: 0.93, Got: total, Tol: 0.005 / 0.93, Why: "printed to 0.01 W"},
		{Name: "the same, its three terms exactly", Source: "0.48 + 0.42 + 0.03 W", Kind: verify.Own,
			Want: 0.93, Got: total, Tol: 1e-12, Why: "rounding of double precision"},
		{Name: "junction above 70 °C of air", Source: source, Kind: verify.Print,
			Want: 40, Got: junction - 343.15, Tol: 0.025, Why: "printed as about 110 °C, rounded up there from 109.06 °C"},
	})
}
