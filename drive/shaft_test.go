package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckShaftFatigue(t *testing.T) {
	const (
		example  = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 7-1, p. 371"
		rounding = "the source goes on with rounded values, 0.4 % off its own formulas"
		hand     = "the criteria by hand with the inputs of Example 7-1"
		kpsi     = 1e3 * psi
	)
	s := drive.Shaft{Diameter: 1.1 * inch, BendingNotch: 1.58, TorsionNotch: 1.37, Yield: 82 * kpsi, Ultimate: 105 * kpsi, Endurance: 29.3 * kpsi}
	f, err := s.Fatigue(drive.ShaftLoad{BendingAlternating: 1260 * lbin, TorqueMean: 1100 * lbin})
	require.NoError(t, err)
	u := f.Utilisations(s)
	verify.Table(t, []verify.Row{
		{Name: "alternating stress, psi", Source: example, Kind: verify.Print, Want: 15235, Got: f.AlternatingStress / psi, Tol: 4e-5, Why: "five digits printed"},
		{Name: "mean stress, psi", Source: example, Kind: verify.Print, Want: 9988, Got: f.MeanStress / psi, Tol: 6e-5, Why: "four digits printed"},
		{Name: "maximum stress, psi", Source: example, Kind: verify.Print, Want: 18220, Got: f.MaximumStress / psi, Tol: 3e-4, Why: "four digits printed"},
		{Name: "Goodman", Source: example, Kind: verify.Print, Want: 1.63, Got: f.Goodman, Tol: 6e-3, Why: rounding},
		{Name: "Gerber", Source: example, Kind: verify.Print, Want: 1.87, Got: f.Gerber, Tol: 6e-3, Why: rounding},
		{Name: "elliptic", Source: example, Kind: verify.Print, Want: 1.88, Got: f.Elliptic, Tol: 6e-3, Why: rounding},
		{Name: "Soderberg", Source: example, Kind: verify.Print, Want: 1.56, Got: f.Soderberg, Tol: 3e-3, Why: "three digits printed"},
		{Name: "yield", Source: example, Kind: verify.Print, Want: 4.50, Got: f.Yield, Tol: 1.2e-3, Why: "three digits printed"},
		{Name: "Goodman", Source: hand, Kind: verify.Own, Want: 1.6257636, Got: f.Goodman, Tol: 4e-8, Why: "eight digits given"},
		{Name: "Gerber", Source: hand, Kind: verify.Own, Want: 1.8627903, Got: f.Gerber, Tol: 4e-8, Why: "eight digits given"},
		{Name: "elliptic", Source: hand, Kind: verify.Own, Want: 1.8724849, Got: f.Elliptic, Tol: 4e-8, Why: "eight digits given"},
		{Name: "Soderberg", Source: hand, Kind: verify.Own, Want: 1.5581764, Got: f.Soderberg, Tol: 4e-8, Why: "eight digits given"},
		{Name: "yield", Source: hand, Kind: verify.Own, Want: 4.5012343, Got: f.Yield, Tol: 2e-8, Why: "eight digits given"},
		{Name: "fatigue utilisation", Source: "Goodman's safety again", Kind: verify.Own, Want: f.Goodman, Got: u[0].Safety(), Tol: 1e-12, Why: "rounding"},
		{Name: "yield utilisation", Source: "yield safety again", Kind: verify.Own, Want: f.Yield, Got: u[1].Safety(), Tol: 1e-12, Why: "rounding"},
	})
}

// Diameters for a safety of 2: with fixed notch factors safety goes as d³.
func TestCheckShaftDiameter(t *testing.T) {
	type answer struct{ gerber, elliptic, soderberg, goodman float64 }
	diameters := func(s drive.Shaft, l drive.ShaftLoad, unit float64) answer {
		f, err := s.Fatigue(l)
		require.NoError(t, err)
		to := func(n float64) float64 { return s.Diameter * math.Cbrt(2/n) / unit }
		return answer{to(f.Gerber), to(f.Elliptic), to(f.Soderberg), to(f.Goodman)}
	}
	table := func(source string, kind verify.Kind, want, got answer, tol float64, why string) []verify.Row {
		row := func(name string, want, got float64) verify.Row {
			return verify.Row{Name: "diameter by " + name, Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why}
		}
		return []verify.Row{
			row("Gerber", want.gerber, got.gerber), row("elliptic", want.elliptic, got.elliptic),
			row("Soderberg", want.soderberg, got.soderberg), row("Goodman", want.goodman, got.goodman),
		}
	}
	const kpsi = 1e3 * psi
	inches := diameters(
		drive.Shaft{Diameter: inch, BendingNotch: 2.2, TorsionNotch: 1.8, Yield: 80 * kpsi, Ultimate: 100 * kpsi, Endurance: 30 * kpsi},
		drive.ShaftLoad{BendingAlternating: 600 * lbin, TorqueAlternating: 400 * lbin, BendingMean: 500 * lbin, TorqueMean: 300 * lbin}, inch)
	metric := diameters(
		drive.Shaft{Diameter: 20e-3, BendingNotch: 2.2, TorsionNotch: 1.8, Yield: 560e6, Ultimate: 700e6, Endurance: 210e6},
		drive.ShaftLoad{BendingAlternating: 70, TorqueAlternating: 45, BendingMean: 55, TorqueMean: 35}, 1e-3)
	rows := table("solutions manual to Mechanical Engineering Design, 8th ed., problem 7-1, p. 178 [in]", verify.Print,
		answer{1.016, 1.012, 1.090, 1.073}, inches, 5e-4, "four digits printed")
	rows = append(rows, table("problem 7-1 of the 10th ed. in SI, closed forms by hand [mm]", verify.Own,
		answer{25.853082, 25.768956, 27.696013, 27.269835}, metric, 2e-8, "eight digits given")...)
	verify.Table(t, rows)
}

// d 12 mm, M 8 N·m, T 12 N·m, 1.5 kN, all steady and without notches.
func TestCheckShaftAxial(t *testing.T) {
	s := drive.Shaft{Diameter: 12e-3, BendingNotch: 1, TorsionNotch: 1, Yield: 580e6, Ultimate: 690e6, Endurance: 200e6}
	f, err := s.Fatigue(drive.ShaftLoad{BendingMean: 8, TorqueMean: 12, AxialMean: 1500})
	require.NoError(t, err)
	g, err := s.Fatigue(drive.ShaftLoad{AxialAlternating: 1500})
	require.NoError(t, err)
	axial := 1500 / (math.Pi / 4 * 144e-6)
	s.BendingNotch = 1.7
	h, err := s.Fatigue(drive.ShaftLoad{AxialAlternating: 1500, AxialMean: 500})
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "von Mises of bending, torsion and tension, Pa", Source: "σ = 60.4199321, τ = 35.3677651 MPa by hand", Kind: verify.Own,
			Want: 86.0418772e6, Got: f.MeanStress, Tol: 1e-9, Why: "nine digits given"},
		{Name: "maximum, Pa", Source: "the same, nothing alternates", Kind: verify.Own, Want: 86.0418772e6, Got: f.MaximumStress, Tol: 1e-9, Why: "nine digits given"},
		{Name: "alternating tension, Pa", Source: "Budynas & Nisbett, Shigley's, 9th ed. (2011), section 6-14: σ/0.85 (from memory)", Kind: verify.Memory,
			Want: axial / 0.85, Got: g.AlternatingStress, Tol: 1e-12, Why: "exact"},
		{Name: "its maximum, Pa", Source: "F/A", Kind: verify.Own, Want: axial, Got: g.MaximumStress, Tol: 1e-12, Why: "exact"},
		{Name: "notched alternating tension, Pa", Source: "1.7·F/A/0.85", Kind: verify.Own, Want: 2 * axial, Got: h.AlternatingStress, Tol: 1e-12, Why: "exact"},
		{Name: "notched mean tension, Pa", Source: "1.7·F/A", Kind: verify.Own, Want: 1.7 * axial / 3, Got: h.MeanStress, Tol: 1e-12, Why: "exact"},
		{Name: "notched maximum, Pa", Source: "1.7·F/A", Kind: verify.Own, Want: 1.7 * axial * 4 / 3, Got: h.MaximumStress, Tol: 1e-12, Why: "exact"},
	})
}

func TestShaftRefuses(t *testing.T) {
	s := drive.Shaft{Diameter: -1, BendingNotch: 0.9, TorsionNotch: 1, Yield: 800e6, Ultimate: 700e6, Endurance: 900e6}
	_, err := s.Fatigue(drive.ShaftLoad{TorqueMean: math.NaN(), AxialMean: -3})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Shaft.Diameter = -1 m: allowed 0.0001 to 10 m\n"+
		"drive.Shaft.BendingNotch = 0.9: allowed 1 to 20\n"+
		"drive.Shaft.Ultimate = 7e+08 Pa: allowed 8e+08 to 1e+10 Pa\n"+
		"drive.Shaft.Endurance = 9e+08 Pa: allowed 10000 to 7e+08 Pa\n"+
		"drive.ShaftLoad.TorqueMean = NaN N·m: allowed 0 to 1e+08 N·m\n"+
		"drive.ShaftLoad.AxialMean = -3 N: allowed 0 to 1e+10 N")
	assert.ErrorIs(t, s.Validate(), material.ErrInvalid)
}

func TestPropertyShaftCriteria(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, l := drivetest.Shafts().Draw(t, "shaft"), drivetest.ShaftLoads().Draw(t, "load")
		f, err := s.Fatigue(l)
		require.NoError(t, err)
		require.Less(t, f.Soderberg, f.Goodman)
		require.Less(t, f.Goodman, f.Gerber)
		require.LessOrEqual(t, f.Soderberg, f.Elliptic)
		// On its own line a criterion is met: the load grown by its safety just fails.
		require.InEpsilon(t, 1, f.Gerber*f.AlternatingStress/s.Endurance+square(f.Gerber*f.MeanStress/s.Ultimate), 1e-12)
		require.InEpsilon(t, 1, square(f.Elliptic*f.AlternatingStress/s.Endurance)+square(f.Elliptic*f.MeanStress/s.Yield), 1e-12)
		// The maximum cannot exceed the sum of amplitude and mean (nor fall below the mean).
		require.LessOrEqual(t, f.MaximumStress, (f.AlternatingStress+f.MeanStress)*(1+1e-12))
		require.GreaterOrEqual(t, f.MaximumStress, f.MeanStress*(1-1e-12))
	})
}

func square(x float64) float64 { return x * x }

func TestPropertyShaftScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, l := drivetest.Shafts().Draw(t, "shaft"), drivetest.ShaftLoads().Draw(t, "load")
		k := draw.Log(0.5, 2).Draw(t, "scale")
		rate := func(s drive.Shaft, l drive.ShaftLoad) drive.ShaftFatigue {
			f, err := s.Fatigue(l)
			require.NoError(t, err)
			return f
		}
		similar, larger := s, drive.ShaftLoad{
			BendingMean: l.BendingMean * k * k * k, BendingAlternating: l.BendingAlternating * k * k * k,
			TorqueMean: l.TorqueMean * k * k * k, TorqueAlternating: l.TorqueAlternating * k * k * k,
			AxialMean: l.AxialMean * k * k, AxialAlternating: l.AxialAlternating * k * k,
		}
		similar.Diameter *= k
		a, b := rate(s, l), rate(similar, larger)
		for _, pair := range [][2]float64{
			{a.Soderberg, b.Soderberg}, {a.Goodman, b.Goodman}, {a.Gerber, b.Gerber}, {a.Elliptic, b.Elliptic}, {a.Yield, b.Yield},
		} {
			require.InEpsilon(t, pair[0], pair[1], 1e-9)
		}
		thicker := s
		thicker.Diameter *= 1.1
		require.Greater(t, rate(thicker, l).Goodman, a.Goodman)
		// Every component makes it worse.
		for _, more := range []func(*drive.ShaftLoad){
			func(l *drive.ShaftLoad) { l.BendingMean *= 2 }, func(l *drive.ShaftLoad) { l.BendingAlternating *= 2 },
			func(l *drive.ShaftLoad) { l.TorqueMean *= 2 }, func(l *drive.ShaftLoad) { l.TorqueAlternating *= 2 },
			func(l *drive.ShaftLoad) { l.AxialMean *= 2 }, func(l *drive.ShaftLoad) { l.AxialAlternating *= 2 },
		} {
			heavier := l
			more(&heavier)
			h := rate(s, heavier)
			require.LessOrEqual(t, h.Goodman, a.Goodman)
			require.Less(t, h.Yield, a.Yield)
		}
	})
}

func TestIdleShaftIsSafe(t *testing.T) {
	s := drive.Shaft{Diameter: 12e-3, BendingNotch: 1, TorsionNotch: 1, Yield: 580e6, Ultimate: 690e6, Endurance: 200e6}
	f, err := s.Fatigue(drive.ShaftLoad{})
	require.NoError(t, err)
	for _, n := range []float64{f.Soderberg, f.Goodman, f.Gerber, f.Elliptic, f.Yield} {
		assert.Equal(t, material.MostSafety, n)
	}
}
