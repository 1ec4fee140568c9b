package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The page names what lets the least through, and what of it is molten, apart.
func TestPageOfScrewsThatMeltTooLittle(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Machine)
		says   []string
		not    []string
	}{
		"too fast": {func(m *Machine) { m.Screw.Speed, m.Throat.Efficiency = 150, 0.8 },
			[]string{"as much as screw and nozzle pump, at", "but no more than", "and delivers no more than that"}, []string{"as much as melts in time, at"}},
		"nothing molten in time": {func(m *Machine) { m.Barrel.MoltenBy = 0.1 },
			[]string{"as much as the throat lets in, at", "but no more than 0 kg/h would be molten"}, []string{"on each kilogram", "Inf"}},
		"plugged": {func(m *Machine) { m.Screw.TaperLength, m.Throat.Efficiency, m.Nozzle.Diameter = 5, 1, 4 },
			[]string{"nothing tells where it melts", "solids plug the taper"}, []string{"melting begins", "torque 0.0"}},
	} {
		m := defaultMachine(t)
		c.change(&m)
		p, a := solved(t, m)
		page := m.report(&p, &a)
		for _, s := range c.says {
			assert.Contains(t, page, s, name)
		}
		for _, s := range c.not {
			assert.NotContains(t, page, s, name)
		}
	}
}
