package screw_test

import (
	"testing"

	"meltflight/internal/versus"
	"meltflight/screw"
)

// A whole plasticating screw, as a multiple of one marched operating point of its melt
// channel alone.
func BenchmarkPlasticating(b *testing.B) {
	p := whole()
	tail := p.Profile
	tail.Zones = tail.Zones[1:]
	versus.Report(b, "x-operating-point", func(int) {
		if _, err := p.Run(screw.Running{Speed: 1.2}); err != nil {
			b.Fatal(err)
		}
	}, func(int) {
		if _, err := tail.OperatingPoint(p.Die, p.Melt, screw.Running{Speed: 1.2}); err != nil {
			b.Fatal(err)
		}
	})
}
