package screw_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
)

// The mean flow is that of a run of many short steps, and the rest follows from it.
func TestPropertyWearCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := screw.Melt{Viscosity: material.Newtonian{Eta: draw.Log(50, 5000).Draw(t, "viscosity")}, Density: 740, SpecificHeat: 2700, Temperature: 488}
		w := screw.Scraping{Force: draw.Log(0.1, 100).Draw(t, "force"), Length: 0.12, LandRate: draw.Log(1e-17, 1e-13).Draw(t, "land"), BarrelRate: draw.Log(1e-17, 1e-13).Draw(t, "barrel")}
		d, speed := screw.Die{benchHole}, draw.Log(0.2, 3).Draw(t, "speed")
		price, share := draw.Log(10, 1e4).Draw(t, "price"), draw.Uniform(0.5, 0.99).Draw(t, "share")
		cost, err := benchChannel.WearCost(price, share, w, d, m, speed)
		require.NoError(t, err)
		life, clearance, err := benchChannel.TimeTo(share, w, d, m, speed)
		require.NoError(t, err)
		require.Equal(t, []float64{life, clearance}, []float64{cost.Time, cost.Clearance})
		var delivered, first float64
		const steps = 40
		for i := range steps {
			worn := benchChannel
			worn.Clearance += (clearance - worn.Clearance) * (float64(i) + 0.5) / steps
			p, err := screw.OperatingPoint(worn, d, m, speed)
			require.NoError(t, err)
			delivered += p.MassFlow * life / steps
			if i == 0 {
				first = p.MassFlow
			}
		}
		same(t, delivered, cost.Delivered, 2e-3, "delivered")
		same(t, price, cost.PerKilogram*delivered, 2e-3, "price")
		require.True(t, cost.MassFlow < first*1.01 && cost.MassFlow > first*share, "%g of %g", cost.MassFlow, first)
		w.Force *= 2
		double, err := benchChannel.WearCost(price, share, w, d, m, speed)
		require.NoError(t, err)
		same(t, 2*cost.PerKilogram, double.PerKilogram, 1e-12, "twice the force, half the life")
	})
}

func TestWearCostFaults(t *testing.T) {
	m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 740, SpecificHeat: 2700, Temperature: 488}
	_, err := benchChannel.WearCost(-1, 1, screw.Scraping{}, screw.Die{benchHole}, m, 0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"price = -1: allowed 0 to 1e+12", "share = 1: allowed 0.5 to 0.999", "screw.Scraping.Force = 0", "speed = 0"} {
		assert.ErrorContains(t, err, part)
	}
}

func ExampleChannel_WearCost() {
	// A 20 mm screw whose tip leans with 10 N on a barrel, both nitrided, until a tenth
	// of the flow is lost; screw and barrel cost 400 together.
	channel := screw.Channel{Bore: 20e-3, Lead: 20e-3, Depth: 1.6e-3, Land: 2e-3, Clearance: 0.02e-3, Starts: 1, Length: 120e-3}
	melt, err := screw.MeltOf(material.PP(), material.Celsius(215))
	if err != nil {
		fmt.Println(err)
		return
	}
	rate, err := material.PlainRate(1e-5, 7.5e9)
	if err != nil {
		fmt.Println(err)
		return
	}
	die := screw.Die{screw.Capillary{Diameter: 2e-3, Length: 10e-3}}
	cost, err := channel.WearCost(400, 0.9, screw.Scraping{Force: 10, Length: 40e-3, LandRate: rate, BarrelRate: rate}, die, melt, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f h, %.2g mm clearance, %.2g a kilogram, to a power of ten\n", cost.Time/3600, cost.Clearance*1e3, cost.PerKilogram)
	// Output:
	// 7638 h, 0.12 mm clearance, 0.031 a kilogram, to a power of ten
}
