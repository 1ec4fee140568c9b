package drive_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

const millimetre = 1e-3

// keyOf returns a joint of one square-ended key unless changed; lengths in millimetres.
func keyOf(shaft, width, height, shaftDepth, length float64) drive.KeyJoint {
	return drive.KeyJoint{
		Diameter: shaft * millimetre, Form: drive.SquareEnds, Length: length * millimetre, Keys: 1,
		Size: drive.KeySize{Width: width * millimetre, Height: height * millimetre, ShaftDepth: shaftDepth * millimetre},
	}
}

func TestCheckKeyTable(t *testing.T) {
	const din = "DIN 6885-1 (1968), as two independent lists give it"
	var rows []verify.Row
	for _, c := range []struct{ d, b, h, t1, t2 float64 }{
		{6.5, 2, 2, 1.2, 1}, {8, 2, 2, 1.2, 1}, {9, 3, 3, 1.8, 1.4}, {11, 4, 4, 2.5, 1.8}, {12, 4, 4, 2.5, 1.8}, {13, 5, 5, 3, 2.3},
		{17, 5, 5, 3, 2.3}, {18, 6, 6, 3.5, 2.8}, {22, 6, 6, 3.5, 2.8}, {30, 8, 7, 4, 3.3}, {38, 10, 8, 5, 3.3}, {44, 12, 8, 5, 3.3},
		{50, 14, 9, 5.5, 3.8}, {58, 16, 10, 6, 4.3}, {65, 18, 11, 7, 4.4}, {75, 20, 12, 7.5, 4.9}, {85, 22, 14, 9, 5.4},
		{95, 25, 14, 9, 5.4}, {110, 28, 16, 10, 6.4}, {130, 32, 18, 11, 7.4},
	} {
		k, err := drive.StandardKey(c.d * millimetre)
		require.NoError(t, err)
		for _, v := range []struct {
			name      string
			want, got float64
		}{{"b", c.b, k.Width}, {"h", c.h, k.Height}, {"t1", c.t1, k.ShaftDepth}, {"t2", c.t2, k.HubDepth}} {
			rows = append(rows, verify.Row{
				Name: fmt.Sprintf("shaft %g mm, %s", c.d, v.name), Source: din, Kind: verify.Print, Want: v.want * millimetre, Got: v.got, Tol: 1e-12, Why: "a table",
			})
		}
	}
	verify.Table(t, rows)
}

func TestCheckKeyStress(t *testing.T) {
	const (
		hand    = "F = 2T/d over the flanks, in plain decimal arithmetic"
		digits  = "nine digits given"
		shigley = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 7-6"
		again   = "the same inputs recomputed"
	)
	stress := func(k drive.KeyJoint, torque float64) drive.KeyStress {
		s, err := k.Stress(torque)
		require.NoError(t, err)
		return s
	}
	small, large := stress(keyOf(12, 4, 4, 2.5, 16), 10), stress(keyOf(20, 6, 6, 3.5, 19), 40)
	half := stress(keyOf(12, 4, 4, 2, 16), 10)
	thin := keyOf(8, 3, 3, 1.8, 10)
	thin.Form = drive.RoundEnds
	round := stress(thin, 6)
	square := stress(keyOf(12, 4, 4, 2.5, 14), 20)
	// A hub taken to bear on all its groove's depth t₂ = 1.8 mm is that of a key 4.3 mm high.
	deep := keyOf(12, 4, 4.3, 2.5, 14)
	deep.Form = drive.RoundEnds

	// Example 7-6 in inches: a length is the stress at one inch by the allowable one.
	const kpsi = 6.894757293168e6
	inches := drive.KeyJoint{
		Diameter: 1.4375 * 0.0254, Form: drive.SquareEnds, Length: 0.0254, Keys: 1,
		Size: drive.KeySize{Width: 0.375 * 0.0254, Height: 0.375 * 0.0254, ShaftDepth: 0.1875 * 0.0254},
	}
	book := stress(inches, 4201.69*0.112984829)
	verify.Table(t, []verify.Row{
		{Name: "12 mm, 10 N·m, 4 × 4 on 16 mm: force", Source: hand, Kind: verify.Own, Want: 1666.66667, Got: small.Force, Tol: 3e-9, Why: digits},
		{Name: "hub", Source: hand, Kind: verify.Own, Want: 69.4444444e6, Got: small.Hub, Tol: 1e-9, Why: digits},
		{Name: "shaft", Source: hand, Kind: verify.Own, Want: 41.6666667e6, Got: small.Shaft, Tol: 1e-9, Why: digits},
		{Name: "shear", Source: hand, Kind: verify.Own, Want: 26.0416667e6, Got: small.Shear, Tol: 2e-9, Why: digits},
		{Name: "half the height, 2F/(h·l)", Source: hand, Kind: verify.Own, Want: 52.0833333e6, Got: half.Hub, Tol: 1e-9, Why: digits},
		{Name: "20 mm, 40 N·m, 6 × 6 on 19 mm: force", Source: hand, Kind: verify.Own, Want: 4000, Got: large.Force, Tol: 1e-12, Why: "exact"},
		{Name: "hub", Source: hand, Kind: verify.Own, Want: 84.2105263e6, Got: large.Hub, Tol: 1e-9, Why: digits},
		{Name: "shaft", Source: hand, Kind: verify.Own, Want: 60.1503759e6, Got: large.Shaft, Tol: 1e-9, Why: digits},
		{Name: "shear", Source: hand, Kind: verify.Own, Want: 35.0877193e6, Got: large.Shear, Tol: 1e-9, Why: digits},
		{Name: "8 mm, 6 N·m, 3 × 3 × 10 form A: shear", Source: hand, Kind: verify.Own, Want: 71.4286e6, Got: round.Shear, Tol: 1e-6, Why: "six digits given"},
		{Name: "hub", Source: hand, Kind: verify.Own, Want: 178.571e6, Got: round.Hub, Tol: 3e-6, Why: "six digits given"},
		{Name: "12 mm, 20 N·m, 4 × 4 × 14 form B: shear", Source: hand, Kind: verify.Own, Want: 59.5238e6, Got: square.Shear, Tol: 1e-6, Why: "six digits given"},
		{Name: "form A, hub on t2", Source: hand, Kind: verify.Own, Want: 185.185e6, Got: stress(deep, 20).Hub, Tol: 2e-6, Why: "six digits given"},
		{Name: "12.5 × 37.5 mm, 25 mm radius, 200 MPa: torque", Source: "textbook question 8.6, T = r·a·l·τ", Kind: verify.Print, Want: 2344,
			Got: 200e6 / stress(keyOf(50, 12.5, 9, 5, 37.5), 1).Shear, Tol: 3e-4, Why: "four digits printed"},
		{Name: "length in shear, yield 65 kpsi, n 2.8 [in]", Source: shigley, Kind: verify.Memory, Want: 1.16, Got: book.Shear * 2.8 / (0.577 * 65 * kpsi), Tol: 5e-3, Why: "three digits printed, radius rounded"},
		{Name: "length in bearing [in]", Source: shigley, Kind: verify.Memory, Want: 1.34, Got: book.Hub * 2.8 / (65 * kpsi), Tol: 4e-3, Why: "three digits printed, radius rounded"},
		{Name: "length in shear [in]", Source: again, Kind: verify.Own, Want: 1.1638144, Got: book.Shear * 2.8 / (0.577 * 65 * kpsi), Tol: 2e-6, Why: "torque of six digits"},
		{Name: "length in bearing [in]", Source: again, Kind: verify.Own, Want: 1.3430419, Got: book.Hub * 2.8 / (65 * kpsi), Tol: 2e-6, Why: "torque of six digits"},
		{Name: "length in shear, yield 57 kpsi [in]", Source: again, Kind: verify.Own, Want: 1.3272, Got: book.Shear * 2.8 / (0.577 * 57 * kpsi), Tol: 5e-5, Why: "five digits given"},
		{Name: "length in bearing, yield 57 kpsi [in]", Source: again, Kind: verify.Own, Want: 1.5315, Got: book.Hub * 2.8 / (57 * kpsi), Tol: 5e-5, Why: "five digits given"},
	})
}

// The softer of key and groove gives way to pressure, at 0.9 of its yield; the key shears at 0.577 of its own.
func TestKeyCapacities(t *testing.T) {
	k := keyOf(12, 4, 4, 2.5, 14)
	for _, c := range []struct {
		strength drive.KeyStrength
		want     [3]float64
	}{
		{drive.KeyStrength{Key: 500e6, Shaft: 400e6, Hub: 300e6}, [3]float64{288.5e6, 360e6, 270e6}},
		{drive.KeyStrength{Key: 200e6, Shaft: 400e6, Hub: 300e6}, [3]float64{115.4e6, 180e6, 180e6}},
	} {
		u, err := k.Utilisations(20, c.strength)
		require.NoError(t, err)
		s, err := k.Stress(20)
		require.NoError(t, err)
		for i, demand := range []float64{s.Shear, s.Shaft, s.Hub} {
			assert.InEpsilon(t, c.want[i], u[i].Capacity, 1e-12, u[i].Part)
			assert.Equal(t, demand, u[i].Demand, u[i].Part)
		}
	}
}

func TestKeyRefusesAndWarns(t *testing.T) {
	_, err := drive.StandardKey(5 * millimetre)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.StandardKey: diameter = 0.005 m: allowed 0.006 to 0.13 m")
	_, err = drive.KeyJoint{Diameter: 12e-3, Form: 7, Length: 3e-3, Size: drive.KeySize{Width: 4e-3, Height: 4e-3, ShaftDepth: 4e-3}}.Stress(1)
	assert.EqualError(t, err, "drive.KeySize.ShaftDepth = 0.004 m: allowed 0.0004 to 0.0036 m\n"+
		"drive.KeyJoint.Form = 7: allowed 0 to 1\ndrive.KeyJoint.Keys = 0: allowed 1 to 2")
	long, err := keyOf(12, 4, 4, 2.5, 20).Stress(1)
	require.NoError(t, err)
	short, err := keyOf(12, 4, 4, 2.5, 15.6).Stress(1)
	require.NoError(t, err)
	assert.Nil(t, short.Beyond)
	assert.Equal(t, []string{"key bears on 1.67 diameters, rule for 1.3 and less: its far end carries next to nothing"}, long.Beyond)
	assert.Equal(t, "form A, round ends, form B, square ends, KeyForm(5)", fmt.Sprintf("%v, %v, %v", drive.RoundEnds, drive.SquareEnds, drive.KeyForm(5)))
}

func keyJoints() *rapid.Generator[drive.KeyJoint] {
	return rapid.Custom(func(t *rapid.T) drive.KeyJoint {
		d := draw.Uniform(6.1e-3, 130e-3).Draw(t, "shaft")
		size, err := drive.StandardKey(d)
		require.NoError(t, err)
		return drive.KeyJoint{
			Diameter: d, Size: size, Form: rapid.SampledFrom([]drive.KeyForm{drive.RoundEnds, drive.SquareEnds}).Draw(t, "form"),
			Length: size.Width + d*draw.Uniform(0.1, 1.2).Draw(t, "length"), Keys: rapid.IntRange(1, 2).Draw(t, "keys"),
		}
	})
}

func yields(t *rapid.T, name string) float64 { return draw.Log(1e8, 1e9).Draw(t, "yield of "+name) }

func TestPropertyKey(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := keyJoints().Draw(t, "joint")
		torque, more := draw.Log(0.1, 1e4).Draw(t, "torque"), draw.Uniform(1.1, 5).Draw(t, "more")
		strength := drive.KeyStrength{Key: yields(t, "key"), Shaft: yields(t, "shaft"), Hub: yields(t, "hub")}
		s, err := k.Stress(torque)
		require.NoError(t, err)
		m, err := k.Stress(torque * more)
		require.NoError(t, err)
		for _, pair := range [][2]float64{{s.Force, m.Force}, {s.Shear, m.Shear}, {s.Shaft, m.Shaft}, {s.Hub, m.Hub}} {
			require.InEpsilon(t, pair[0]*more, pair[1], 1e-12, "stress goes with torque")
		}
		// One force, three areas.
		require.InEpsilon(t, s.Shear*k.Size.Width, s.Shaft*k.Size.ShaftDepth, 1e-12)
		require.InEpsilon(t, s.Shear*k.Size.Width, s.Hub*(k.Size.Height-k.Size.ShaftDepth), 1e-12)
		require.Greater(t, s.Hub, s.Shaft, "the hub's groove is the shallower in the standard")
		require.Greater(t, k.Size.ShaftDepth+k.Size.HubDepth, k.Size.Height, "air over the key")

		two := k
		two.Keys = 3 - k.Keys
		other, err := two.Stress(torque)
		require.NoError(t, err)
		ratio := other.Hub / s.Hub
		if k.Keys == 2 {
			ratio = 1 / ratio
		}
		require.InEpsilon(t, 1/1.5, ratio, 1e-12, "two keys carry one and a half")

		least := func(k drive.KeyJoint) float64 {
			u, err := k.Utilisations(torque, strength)
			require.NoError(t, err)
			return min(u[0].Safety(), u[1].Safety(), u[2].Safety())
		}
		safety := draw.Uniform(1, 4).Draw(t, "safety")
		length, err := k.LengthFor(torque, strength, safety)
		require.NoError(t, err)
		k.Length = length
		if k.Validate() != nil { // longer than any
			return
		}
		if length > 1.0101*k.Size.Width {
			require.InEpsilon(t, safety, least(k), 1e-9, "LengthFor inverts Utilisations")
		} else {
			require.GreaterOrEqual(t, least(k), safety*(1-1e-9))
		}
	})
}
