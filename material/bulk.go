package material

import "meltflight/internal/input"

// Bulk is a plastic as it lies in a hopper: flake, pellets or powder.
type Bulk struct {
	Name         string
	BulkDensity  float64           // loosely poured, 10 to 2000 [kg/m³]
	ParticleSize float64           // longest edge of a typical particle, 1e-5 to 0.1 [m]
	Source       map[string]string // where each number comes from, by field name
}

// Mass returns what a volume [m³] of the bulk weighs [kg].
func (b Bulk) Mass(volume float64) float64 { return b.BulkDensity * volume }

// Validate reports the fields out of range.
func (b Bulk) Validate() error {
	var f input.Faults
	f.Between("material.Bulk.BulkDensity", b.BulkDensity, 10, 2000, "kg/m³")
	f.Between("material.Bulk.ParticleSize", b.ParticleSize, 1e-5, 0.1, "m")
	return f.Err()
}

// Regrind returns ground PP parts, 4 mm flake.
func Regrind() Bulk {
	return Bulk{
		Name:         "PP regrind flake",
		BulkDensity:  375,
		ParticleSize: 4e-3,
		Source: map[string]string{
			"BulkDensity":  "typical, from memory: PP regrind 300 to 450 kg/m³, the middle",
			"ParticleSize": "typical, from memory: the usual granulator screen",
		},
	}
}

// Pellets returns virgin PP pellets.
func Pellets() Bulk {
	return Bulk{
		Name:         "PP pellets",
		BulkDensity:  535,
		ParticleSize: 4e-3,
		Source: map[string]string{
			"BulkDensity":  "typical, from memory: PP pellets 500 to 570 kg/m³, the middle",
			"ParticleSize": "typical, from memory",
		},
	}
}
