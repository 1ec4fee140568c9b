package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestPropertySpaceFrameAtRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spaceFrames().Draw(t, "frame")
		s.Springs = s.Springs[1:] // the one between nodes puts nothing on the ground
		for i := range s.Members {
			s.Members[i].Axial = 0
		}
		g := [3]float64{draw.Uniform(-20, 20).Draw(t, "gx"), 3, draw.Uniform(-20, 20).Draw(t, "gz")}
		load := frame.Load{Field: g, Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{10, 20, 30}}}}
		d, err := s.Static(load)
		require.NoError(t, err)
		mass, err := s.Mass()
		require.NoError(t, err)
		for i := range 3 {
			require.InDelta(t, -mass*g[i]-load.Forces[0].Force[i], d.Reactions[0][i], 1e-6*(mass*20+30))
		}
		// The same with a member cut, and what the cut says of its inside.
		split, err := s.Split(0, 2)
		require.NoError(t, err)
		e, err := split.Static(load)
		require.NoError(t, err)
		u, err := d.Along(0, memberLength(s, s.Members[0])/2)
		require.NoError(t, err)
		most := 0.0
		for _, v := range e.Nodes[len(s.Nodes)] {
			most = math.Max(most, math.Abs(v))
		}
		for i, v := range e.Nodes[len(s.Nodes)] {
			require.InDelta(t, v, u[i], 1e-8*most)
		}
		// A frame is softest just before it buckles.
		push := frame.Load{Forces: []frame.NodeForce{{Node: len(s.Nodes) - 1, Force: [6]float64{0, -1e3, -1e3}}}}
		factor, err := s.Buckling(push)
		if err != nil {
			require.ErrorIs(t, err, frame.ErrNoBuckling)
			return
		}
		for i := range push.Forces[0].Force {
			push.Forces[0].Force[i] *= factor * (1 - 1e-6)
		}
		c, err := s.Stiffened(push)
		require.NoError(t, err)
		loaded, bare := frequencies(t, c, 1)[0], frequencies(t, s, 1)[0]
		require.Less(t, loaded, 0.1*bare)
		for i := range push.Forces[0].Force {
			push.Forces[0].Force[i] *= 1 + 2e-6
		}
		c, err = s.Stiffened(push)
		require.NoError(t, err)
		_, err = c.Modes(1)
		require.ErrorIs(t, err, frame.ErrBuckled)
	})
}

// A free frame has six rigid motions and the flexible ones of a free beam.
func TestMechanism(t *testing.T) {
	s := hopperAxis(false)
	s.Springs, s.Lumps = nil, nil
	modes, err := s.Modes(8)
	require.NoError(t, err)
	var total [3]float64
	mass, err := s.Mass()
	require.NoError(t, err)
	for i, m := range modes {
		assert.Equal(t, i < 6, m.Rigid)
		if m.Rigid {
			assert.Zero(t, m.Frequency)
			for d := range total {
				total[d] += m.Effective[d]
			}
		}
	}
	for d := range total {
		assert.InEpsilon(t, mass, total[d], 1e-9)
	}
	b := 4.730040744862704
	want := b * b * math.Sqrt(alu.Young*thinTube().Iz/(alu.Density*thinTube().Area)) / (2 * math.Pi)
	assert.InEpsilon(t, want, modes[6].Frequency, 1e-10)
	_, err = s.Static(frame.Load{})
	assert.ErrorIs(t, err, frame.ErrMechanism)
	assert.ErrorContains(t, err, "6 ways")
	// A spring from end to end minds no motion of the whole.
	s.Springs = []frame.Spring{{Node: 2, To: 0, Stiffness: [6]float64{1e5, 1e5, 1e5, 1e3, 1e3, 1e3}}}
	modes, err = s.Modes(7)
	require.NoError(t, err)
	assert.True(t, modes[5].Rigid)
	assert.False(t, modes[6].Rigid)
	assert.Greater(t, modes[6].Frequency, want)
}

func TestBitsSpaceFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spaceFrames().Draw(t, "frame")
		m, l := &s.Members[0], &s.Lumps[0]
		k, g := &s.Springs[0].Stiffness, &s.Springs[1].Stiffness
		load := frame.Load{Field: [3]float64{1, 0, -9.80665}, Forces: []frame.NodeForce{{Node: 1, Force: [6]float64{0, 0, -100}}}}
		frequency, x := 100.0, 0.1
		spoil(t, &s.Nodes[1][0], &s.Nodes[1][1], &s.Nodes[1][2], &m.Section.Area, &m.Section.Iy, &m.Section.Iz, &m.Section.J, &m.Metal.Density,
			&m.Metal.Young, &m.Metal.Poisson, &m.Up[0], &m.Up[1], &m.Up[2], &m.Offset[0][1], &m.ShearY, &m.ShearZ, &m.Axial, &l.Body.Mass,
			&l.Body.Offset[2], &l.Body.Inertia[0], &l.Products[1], &k[0], &k[1], &k[2], &k[3], &k[4], &k[5], &g[0], &g[5], &s.Springs[0].Axes[1][1],
			&load.Field[0], &load.Field[2], &load.Forces[0].Force[2], &load.Forces[0].Force[4], &frequency, &x)
		for _, node := range []*int{&m.From, &m.To, &l.Node, &s.Springs[0].Node, &s.Springs[1].To, &s.Supports[0].Node} {
			if rapid.IntRange(0, 20).Draw(t, "astray") == 0 {
				*node = rapid.IntRange(-2, 5).Draw(t, "node")
			}
		}
		vibrations := func(v []frame.Vibration, err error) {
			for i := range v {
				finite(t, err, v[i].Frequency, v[i].Effective[0], v[i].Participation[2])
				for _, n := range v[i].Nodes {
					finite(t, err, n[:]...)
				}
				u, err := v[i].Along(0, x)
				finite(t, err, u[:]...)
			}
		}
		vibrations(s.Modes(2))
		vibrations(s.ConsistentModes(2, 2))
		_, err := s.Count(frequency)
		finite(t, err)
		d, err := s.Static(load)
		for _, n := range d.Nodes {
			finite(t, err, n[:]...)
		}
		finite(t, err, d.Axial...)
		factor, err := s.Buckling(load)
		finite(t, err, factor)
		if c, err := s.Stiffened(load); err == nil {
			require.NoError(t, c.Validate())
		}
		if c, err := s.Taper(0, thinTube(), 3); err == nil {
			require.NoError(t, c.Validate())
		}
		mass, err := s.Mass()
		finite(t, err, mass)
	})
}

func TestSpaceFrameRefuses(t *testing.T) {
	s := hopperAxis(true)
	s.Members[0].To = 7
	s.Members[1].Axial = math.Inf(1)
	s.Lumps[0].Products[0] = 1
	s.Springs = []frame.Spring{{Node: 1, To: 1, Stiffness: [6]float64{-1}}}
	_, err := s.Modes(0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, words := range []string{"Members[0]: frame.Member.To = 7", "Members[1]: frame.Member.Axial", "Lumps[0]: frame.Lump: inertia tensor",
		"Springs[0]: frame.Spring.To = 1", "Stiffness[0] = -1", "Modes: number = 0"} {
		assert.ErrorContains(t, err, words)
	}
	// Two masses on a spring have seven motions: six as a whole and one against each other.
	two := frame.SpaceFrame{
		Nodes:   [][3]float64{{0, 0, 0}, {1, 0, 0}},
		Lumps:   []frame.Lump{{Node: 0, Body: frame.Body{Mass: 1, Inertia: [3]float64{1, 1, 1}}}, {Node: 1, Body: frame.Body{Mass: 2, Inertia: [3]float64{1, 1, 1}}}},
		Springs: []frame.Spring{{Node: 0, To: 1, Stiffness: [6]float64{600, 1e3, 1e3, 1e3, 1e3, 1e3}}},
	}
	modes, err := two.Modes(12)
	require.NoError(t, err)
	assert.True(t, modes[5].Rigid)
	assert.InEpsilon(t, math.Sqrt(600*1.5)/(2*math.Pi), modes[6].Frequency, 1e-12)
	_, err = two.Modes(13)
	assert.ErrorContains(t, err, "at most 12")
}

// TestCheckEffectiveMass: the modes of finite elements share out all mass.
func TestCheckEffectiveMass(t *testing.T) {
	s := hopperAxis(false)
	mass, err := s.Mass()
	require.NoError(t, err)
	whole, err := s.ConsistentModes(18, 1)
	require.NoError(t, err)
	most, err := s.Modes(60)
	require.NoError(t, err)
	var rows []verify.Row
	for d, name := range []string{"x", "y", "z"} {
		var sum, part float64
		for _, m := range whole {
			sum += m.Effective[d]
		}
		for _, m := range most {
			part += m.Effective[d]
		}
		assert.Less(t, part, mass)
		rows = append(rows,
			verify.Row{Name: "effective masses of all modes of finite elements, " + name + " [kg]", Source: "the axis's mass, 4.2 + 1.5228", Kind: verify.Own, Want: 5.7228, Got: sum, Tol: 1e-11, Why: "rounding"},
			verify.Row{Name: "effective masses of 60 exact modes, " + name + " [kg]", Source: "the axis's mass, 4.2 + 1.5228", Kind: verify.Own, Want: 5.7228, Got: part, Tol: 0.02, Why: "the modes left out"})
	}
	verify.Table(t, rows)
}

// TestCheckTaper holds a cone of half the diameter at its free end.
func TestCheckTaper(t *testing.T) {
	foot := thinTube()
	end := frame.Section{Area: foot.Area / 4, Iy: foot.Iy / 16, Iz: foot.Iz / 16, J: foot.J / 16}
	s := along(1, foot, alu, true, clamped, free)
	c := s.Members[0].Section
	scale := math.Sqrt(alu.Young*c.Iy/(alu.Density*c.Area)) / (2 * math.Pi)
	end.Iz = c.Iz / 16
	end.J = c.J / 16
	at := func(pieces int) [2]float64 {
		cone, err := s.Taper(0, end, pieces)
		require.NoError(t, err)
		for n := 2; n < len(cone.Nodes); n++ {
			cone.Supports = append(cone.Supports, frame.Support{Node: n, Held: [6]bool{false, true, false, true, false, true}})
		}
		f := frequencies(t, cone, 2)
		return [2]float64{f[0] / scale, f[1] / scale}
	}
	var rows []verify.Row
	coarse, fine := at(20), at(40)
	for i, want := range []float64{4.6251502524316, 19.547613180519} {
		const bessel = "ω√(ρAL⁴/EI) of a cone clamped at its base, from Bessel functions of second order at 40 digits, own"
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("cone in 40 pieces, mode %d", i+1), Source: bessel, Kind: verify.Own, Want: want, Got: fine[i], Tol: 6e-4, Why: "falls as the square of the pieces"},
			verify.Row{Name: fmt.Sprintf("cone, extrapolated, mode %d", i+1), Source: bessel, Kind: verify.Own, Want: want, Got: fine[i] + (fine[i]-coarse[i])/3, Tol: 2e-6, Why: "falls as the fourth power"})
	}
	verify.Table(t, rows)
}

func ExampleSpaceFrame() {
	leg, err := frame.RectangularTube(0.030, 0.030, 0.002)
	if err != nil {
		panic(err)
	}
	// A portal of steel tube with a motor hung below its beam.
	portal := frame.SpaceFrame{
		Nodes: [][3]float64{{0, 0, 0}, {0, 0, 0.5}, {0.5, 0, 0.5}, {1, 0, 0.5}, {1, 0, 0}},
		Lumps: []frame.Lump{{Node: 2, Body: frame.Body{Mass: 3, Offset: [3]float64{0, 0.05, -0.08}, Inertia: [3]float64{0.004, 0.004, 0.003}}}},
		Supports: []frame.Support{
			{Node: 0, Held: [6]bool{true, true, true, true, true, true}},
			{Node: 4, Held: [6]bool{true, true, true, true, true, true}},
		},
	}
	for i := range 4 {
		portal.Members = append(portal.Members, frame.Member{From: i, To: i + 1, Section: leg, Metal: material.S235()})
	}
	modes, err := portal.Modes(3)
	if err != nil {
		panic(err)
	}
	for _, m := range modes {
		fmt.Printf("rings at %.4g Hz\n", m.Frequency)
	}
	weight := frame.Load{Field: [3]float64{0, 0, -9.80665}}
	d, err := portal.Static(weight)
	if err != nil {
		panic(err)
	}
	factor, err := portal.Buckling(weight)
	if err != nil {
		panic(err)
	}
	fmt.Printf("sags by %.3g mm, buckles under %.2g times its weight\n", -1e3*d.Nodes[2][2], factor)
	// Output:
	// rings at 33.87 Hz
	// rings at 53.87 Hz
	// rings at 65.17 Hz
	// sags by 0.0531 mm, buckles under 2.2e+03 times its weight
}
