// Package versus times two ways of computing the same thing in one run.
//
// An absolute time says more about the machine than about the code; the ratio of
// two times taken turn by turn holds anywhere.
package versus

import (
	"math"
	"testing"
	"time"
)

const turn = 64

// Report runs ours and other b.N times, in turns, and reports the ratio of their
// times as the metric named, in place of the time itself. Each is called with a
// running number to vary its input by. The fastest turn of each counts: the one
// that the machine's other work disturbed least.
func Report(b *testing.B, metric string, ours, other func(i int)) {
	b.Helper()
	fastest := [2]time.Duration{math.MaxInt64, math.MaxInt64}
	for i := 0; i < b.N; i += turn {
		for k, f := range [...]func(int){ours, other} {
			start := time.Now()
			for j := range turn {
				f(i + j)
			}
			fastest[k] = min(fastest[k], time.Since(start))
		}
	}
	b.ReportMetric(float64(fastest[0])/float64(fastest[1]), metric)
	b.ReportMetric(0, "ns/op")
}
