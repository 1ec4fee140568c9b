package frame_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/material"
)

// spaceFrames draws a chain of members in space with a side arm, held at both ends.
func spaceFrames() *rapid.Generator[frame.SpaceFrame] {
	return rapid.Custom(func(t *rapid.T) frame.SpaceFrame {
		v := func(name string, lo, hi float64) float64 { return draw.Uniform(lo, hi).Draw(t, name) }
		var s frame.SpaceFrame
		n := rapid.IntRange(1, 3).Draw(t, "members")
		for i := range n + 1 {
			s.Nodes = append(s.Nodes, [3]float64{0.4*float64(i) + v("x", 0, 0.2), v("y", -0.3, 0.3), v("z", -0.3, 0.3)})
			if i > 0 {
				s.Members = append(s.Members, drawnMember(t, i-1, i))
			}
		}
		s.Nodes = append(s.Nodes, [3]float64{v("x", 0, 1), 0.7, v("z", 0.5, 0.9)})
		s.Members = append(s.Members, drawnMember(t, (n+1)/2, n+1))
		p := [3]float64{v("Ixy", -0.002, 0.002), v("Iyz", -0.002, 0.002), v("Izx", -0.002, 0.002)}
		s.Lumps = []frame.Lump{{Node: n + 1, Products: p, Body: frame.Body{Mass: v("mass", 0, 3),
			Offset: [3]float64{v("ox", -0.1, 0.1), v("oy", -0.1, 0.1), v("oz", -0.1, 0.1)}, Inertia: [3]float64{0.01, 0.012, 0.015}}}}
		s.Supports = []frame.Support{{Node: 0, Held: all}}
		s.Springs = []frame.Spring{
			{Node: n, To: frame.Ground, Stiffness: [6]float64{v("kx", 0, 1e7), v("ky", 0, 1e7), 1e5, 0, v("turn", 0, 1e4), 0}},
			{Node: n + 1, To: 0, Stiffness: [6]float64{1e4, 2e4, v("kz", 0, 1e5), 0, 0, 100}},
		}
		return s
	})
}

func drawnMember(t *rapid.T, from, to int) frame.Member {
	s, err := frame.RectangularTube(draw.Uniform(0.02, 0.06).Draw(t, "height"), draw.Uniform(0.02, 0.06).Draw(t, "width"), draw.Uniform(0.001, 0.004).Draw(t, "wall"))
	require.NoError(t, err)
	m := frame.Member{From: from, To: to, Section: s, Metal: []material.Metal{alu, mild}[rapid.IntRange(0, 1).Draw(t, "metal")]}
	if rapid.Bool().Draw(t, "shear") {
		m.ShearY, m.ShearZ = 0.4*s.Area, 0.5*s.Area
	}
	if rapid.Bool().Draw(t, "offset") {
		m.Offset[0] = [3]float64{draw.Uniform(-0.05, 0.05).Draw(t, "arm"), 0.01, 0.02}
		m.Offset[1] = [3]float64{0.01, draw.Uniform(-0.05, 0.05).Draw(t, "arm"), 0}
	}
	if rapid.Bool().Draw(t, "axial") {
		m.Axial = draw.Uniform(-0.1, 2).Draw(t, "tension") * m.Metal.Young * math.Min(s.Iy, s.Iz)
	}
	return m
}

// turned returns the frame turned in space, its supports as stiff springs.
func turned(s frame.SpaceFrame, r [3][3]float64) frame.SpaceFrame {
	to := func(v [3]float64) (u [3]float64) {
		for i := range u {
			for j := range v {
				u[i] += r[i][j] * v[j]
			}
		}
		return u
	}
	c := s
	c.Nodes, c.Members, c.Lumps, c.Springs = nil, nil, nil, nil
	for _, n := range s.Nodes {
		c.Nodes = append(c.Nodes, to(n))
	}
	for _, m := range s.Members {
		up := m.Up
		if up == [3]float64{} {
			up = [3]float64{0, 0, 1}
		}
		m.Up = to(up)
		m.Offset = [2][3]float64{to(m.Offset[0]), to(m.Offset[1])}
		c.Members = append(c.Members, m)
	}
	for _, l := range s.Lumps {
		i, p := l.Body.Inertia, l.Products
		t := [3][3]float64{{i[0], p[0], p[2]}, {p[0], i[1], p[1]}, {p[2], p[1], i[2]}}
		var q [3][3]float64
		for a := range 3 {
			for b := range 3 {
				for k := range 3 {
					for m := range 3 {
						q[a][b] += r[a][k] * t[k][m] * r[b][m]
					}
				}
			}
		}
		l.Body.Inertia, l.Products = [3]float64{q[0][0], q[1][1], q[2][2]}, [3]float64{q[0][1], q[1][2], q[0][2]}
		l.Body.Offset = to(l.Body.Offset)
		c.Lumps = append(c.Lumps, l)
	}
	for _, p := range s.Springs {
		axes := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
		for i := range axes {
			p.Axes[i] = to(axes[i])
		}
		c.Springs = append(c.Springs, p)
	}
	return c
}

func rotation(t *rapid.T) (r [3][3]float64) {
	a, b := draw.Uniform(-3, 3).Draw(t, "turn about z"), draw.Uniform(-1.5, 1.5).Draw(t, "turn about y")
	sa, ca := math.Sincos(a)
	sb, cb := math.Sincos(b)
	return [3][3]float64{{ca * cb, -sa, ca * sb}, {sa * cb, ca, sa * sb}, {-sb, 0, cb}}
}

func TestPropertySpaceFrame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spaceFrames().Draw(t, "frame")
		const n = 4
		modes, err := s.Modes(n)
		require.NoError(t, err)
		f := make([]float64, n)
		for i, m := range modes {
			f[i] = m.Frequency
			require.Positive(t, f[i])
			if i > 0 {
				require.GreaterOrEqual(t, f[i], f[i-1])
			}
		}
		agree := func(c frame.SpaceFrame, factor, tol float64) {
			for i, v := range frequencies(t, c, n) {
				require.InEpsilon(t, factor*f[i], v, tol)
			}
		}
		// The count is that of the modes, whatever the method that found them.
		for i := range f {
			if i+1 < n && f[i+1] > f[i]*(1+1e-8) {
				k, err := s.Count(math.Sqrt(f[i] * f[i+1]))
				require.NoError(t, err)
				require.Equal(t, i+1, k)
			}
		}
		mass, err := s.Mass()
		require.NoError(t, err)
		for d := range 3 {
			sum := 0.0
			for _, m := range modes {
				sum += m.Effective[d]
			}
			require.Less(t, sum, mass)
		}

		// One law a draw, since each costs as much as the modes.
		switch rapid.IntRange(0, 4).Draw(t, "law") {
		case 0: // turned in space
			agree(turned(s, rotation(t)), 1, 1e-9)
		case 1: // a member cut
			whole := rapid.IntRange(0, len(s.Members)-1).Draw(t, "member")
			split, err := s.Split(whole, 3)
			require.NoError(t, err)
			agree(split, 1, 1e-9)
		case 2: // all stiffness scaled
			scale := draw.Log(0.5, 2).Draw(t, "scale")
			stiffer := s
			stiffer.Members, stiffer.Springs = nil, nil
			for _, m := range s.Members {
				m.Metal.Young *= scale
				m.Axial *= scale
				stiffer.Members = append(stiffer.Members, m)
			}
			for _, p := range s.Springs {
				for i := range p.Stiffness {
					p.Stiffness[i] *= scale
				}
				stiffer.Springs = append(stiffer.Springs, p)
			}
			agree(stiffer, math.Sqrt(scale), 1e-10)
		case 3: // mass lowers, stiffness raises
			heavier, firmer := s, s
			heavier.Lumps = append([]frame.Lump{{Node: 1, Body: frame.Body{Mass: 0.5, Offset: [3]float64{0.1, 0, 0}}}}, s.Lumps...)
			firmer.Springs = append([]frame.Spring{{Node: 1, To: frame.Ground, Stiffness: [6]float64{1e5, 1e5, 1e5, 10, 10, 10}}}, s.Springs...)
			low, high := frequencies(t, heavier, n), frequencies(t, firmer, n)
			for i := range f {
				require.LessOrEqual(t, low[i], f[i]*(1+1e-10))
				require.GreaterOrEqual(t, high[i], f[i]*(1-1e-10))
			}
			sum := func(f []float64) (s float64) {
				for _, v := range f {
					s += v
				}
				return s
			}
			require.Less(t, sum(low), sum(f))
			require.Greater(t, sum(high), sum(f))
		default: // finite elements
			// Finite elements come down to the exact: by 16 for half the size in bending.
			coarse, err := s.ConsistentModes(n, 2)
			require.NoError(t, err)
			fine, err := s.ConsistentModes(n, 4)
			require.NoError(t, err)
			for i := range f {
				require.GreaterOrEqual(t, coarse[i].Frequency, fine[i].Frequency*(1-1e-10))
				require.GreaterOrEqual(t, fine[i].Frequency, f[i]*(1-1e-10))
			}
			require.Less(t, fine[0].Frequency-f[0], (coarse[0].Frequency-f[0])/3.5+1e-9*f[0])
			require.InEpsilon(t, f[0], fine[0].Frequency, 1e-2)
		}
	})
}

// Modes move each member so that D(ω)u = 0: in the exact model ∫uᵢ·uⱼ dm is nothing
// for two of them, here by Simpson's rule along the members.
func TestPropertyOrthogonalModes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spaceFrames().Draw(t, "frame")
		for i := range s.Members {
			s.Members[i].ShearY, s.Members[i].ShearZ = 0, 0
		}
		modes, err := s.Modes(2)
		require.NoError(t, err)
		const steps = 16
		for i := range modes {
			for j := range i + 1 {
				sum := 0.0
				for k, m := range s.Members {
					length := memberLength(s, m)
					along := [3]float64{}
					for d := range 3 {
						along[d] = (s.Nodes[m.To][d] + m.Offset[1][d] - s.Nodes[m.From][d] - m.Offset[0][d]) / length
					}
					for p := range steps + 1 {
						w := []float64{2, 4}[p%2]
						if p == 0 || p == steps {
							w = 1
						}
						x := length * float64(p) / steps
						u, err := modes[i].Along(k, x)
						require.NoError(t, err)
						v, err := modes[j].Along(k, x)
						require.NoError(t, err)
						turn := func(q [6]float64) float64 { return q[3]*along[0] + q[4]*along[1] + q[5]*along[2] }
						density := m.Metal.Density * (m.Section.Area*(u[0]*v[0]+u[1]*v[1]+u[2]*v[2]) + (m.Section.Iy+m.Section.Iz)*turn(u)*turn(v))
						sum += density * w * length / (3 * steps)
					}
				}
				for _, l := range s.Lumps {
					u, v := modes[i].Nodes[l.Node], modes[j].Nodes[l.Node]
					at := func(q [6]float64) (c [3]float64) {
						o := l.Body.Offset
						return [3]float64{q[0] + q[4]*o[2] - q[5]*o[1], q[1] + q[5]*o[0] - q[3]*o[2], q[2] + q[3]*o[1] - q[4]*o[0]}
					}
					a, b := at(u), at(v)
					p := l.Products
					in := [3][3]float64{{l.Body.Inertia[0], p[0], p[2]}, {p[0], l.Body.Inertia[1], p[1]}, {p[2], p[1], l.Body.Inertia[2]}}
					for r := range 3 {
						sum += l.Body.Mass * a[r] * b[r]
						for c := range 3 {
							sum += u[3+r] * in[r][c] * v[3+c]
						}
					}
				}
				want := 0.0
				if i == j {
					want = 1
				}
				require.InDelta(t, want, sum, 1e-3) // of modal masses of 1 kg
			}
		}
	})
}

func memberLength(s frame.SpaceFrame, m frame.Member) float64 {
	sum := 0.0
	for d := range 3 {
		v := s.Nodes[m.To][d] + m.Offset[1][d] - s.Nodes[m.From][d] - m.Offset[0][d]
		sum += v * v
	}
	return math.Sqrt(sum)
}
