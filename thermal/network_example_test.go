package thermal_test

import (
	"fmt"

	"meltflight/thermal"
)

// A driver chip and a stepper in one closed box, some minutes after the start and at rest.
// Copper whose loss grows leaves it unproven that there is no second rest.
func ExampleNetwork() {
	const air, chip, sink, box, motor = 0, 1, 2, 3, 4
	n := thermal.Network{
		Nodes: []thermal.Node{
			air:   {Name: "air", Start: 298.15, Held: true},
			chip:  {Name: "chip", Start: 298.15, Capacity: 0.5, Power: 2.5},
			sink:  {Name: "sink", Start: 298.15, Capacity: 20},
			box:   {Name: "air in the box", Start: 298.15, Capacity: 30},
			motor: {Name: "motor", Start: 298.15, Capacity: 250, Power: 8, PowerRise: 0.03, Reference: 298.15},
		},
		Links: []thermal.Link{
			{From: chip, To: sink, Exchange: thermal.Conductance(1 / 3.)},
			{From: sink, To: box, Exchange: thermal.Convecting{Coefficient: 0.03, Exponent: 1.25}},
			{From: motor, To: box, Exchange: thermal.Convecting{Coefficient: 0.08, Exponent: 1.25}},
			{From: motor, To: air, Exchange: thermal.Conductance(0.1)}, // by its bracket
			{From: box, To: air, Exchange: thermal.Conductance(0.5)},
		},
	}
	rest, err := n.Steady(0)
	if err != nil {
		fmt.Println(err)
		return
	}
	soon, err := n.Warm([]float64{600}, 1e-3)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, node := range n.Nodes[1:] {
		fmt.Printf("%-15s %.0f °C after 10 min, %.0f °C at rest\n", node.Name, soon.Temperatures[0][i+1]-273.15, rest.Temperatures[i+1]-273.15)
	}
	fmt.Printf("%.1f W, proven the only rest: %v\n", rest.Made, rest.Unique)
	// Output:
	// chip            68 °C after 10 min, 82 °C at rest
	// sink            61 °C after 10 min, 74 °C at rest
	// air in the box  31 °C after 10 min, 40 °C at rest
	// motor           41 °C after 10 min, 67 °C at rest
	// 11.8 W, proven the only rest: false
}
