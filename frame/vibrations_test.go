package frame

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
)

// All modes together give way to a steady acceleration as statics says: a mass
// off the axis pushes the beam sideways, twists it and turns it about z.
func TestPropertyModesAddUpToStatics(t *testing.T) {
	section, err := RectangularTube(0.06, 0.04, 0.003)
	require.NoError(t, err)
	light := material.Al6060()
	light.Density = 500 // so that the beam's own inertia hardly counts
	rapid.Check(t, func(t *rapid.T) {
		mass := draw.Log(30, 300).Draw(t, "mass")
		up := draw.Uniform(-0.3, 0.3).Draw(t, "height of the mass")
		ahead := draw.Uniform(-0.3, 0.3).Draw(t, "mass along the beam")
		aside := draw.Uniform(-0.3, 0.3).Draw(t, "mass beside the beam")
		point := [3]float64{draw.Uniform(-0.3, 0.3).Draw(t, "point along the beam"), 0, draw.Uniform(-0.3, 0.3).Draw(t, "height of the point")}
		a := Axis{Beam: Beam{Length: 0.9, Section: section, Metal: light}, Ends: EndStiffness{Y: 1e6, Z: 5e6, Roll: 2e4},
			Bodies: []Body{{Mass: mass, Offset: [3]float64{ahead, aside, up}}}}
		ky, _, kroll, err := a.Stiffness()
		require.NoError(t, err)
		// A moment at mid-span: L/12EI of the beam and two ends half a length away.
		yaw := 0.9/(12*light.Young*section.Iz) + 2/(0.9*0.9*a.Ends.Y)
		v, err := a.vibrations()
		require.NoError(t, err)
		var sum float64
		for i := range motions {
			sum += v.response(i, point) * v.values[i]
		}
		static := mass * (1/ky + up*point[2]/kroll + ahead*point[0]*yaw)
		scale := mass * (1/ky + math.Abs(up*point[2])/kroll + math.Abs(ahead*point[0])*yaw)
		require.LessOrEqual(t, math.Abs(sum-static), 0.01*scale) // the beam weighs 1 % of the mass
	})
}
