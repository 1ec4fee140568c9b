package material

import "math"

// Utilisation compares what is asked of a part with what it can bear. Every
// solver that can overload something reports one, so that the weakest part of a
// machine is the one with the least Safety, whatever its kind.
type Utilisation struct {
	Part     string  // what is loaded and how, such as "sun tooth root"
	Demand   float64 // what is asked of it, in Unit
	Capacity float64 // what it can bear, in Unit
	Unit     string  // unit of both
	Method   string  // formula or standard behind the figures
}

// MostSafety is the safety reported for a part that carries next to nothing.
const MostSafety = 1e6

// Safety returns capacity ÷ demand [-]: 1 is the limit, below 1 the part gives
// way. It lies between 0 and MostSafety; a part that can bear nothing has 0.
func (u Utilisation) Safety() float64 {
	demand, capacity := math.Abs(u.Demand), u.Capacity
	switch {
	case math.IsNaN(demand) || math.IsInf(demand, 0) || math.IsNaN(capacity) || capacity <= 0:
		return 0
	case demand*MostSafety <= capacity:
		return MostSafety
	}
	return capacity / demand
}
