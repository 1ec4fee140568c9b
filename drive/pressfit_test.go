package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

// fitOf returns a fit of one metal on a solid shaft; millimetres and gigapascals.
func fitOf(diameter, outer, length, young, poisson float64) drive.PressFit {
	metal := drive.Elastic{Young: young * 1e9, Poisson: poisson, Expansion: 11.5e-6}
	return drive.PressFit{Diameter: diameter * 1e-3, Outer: outer * 1e-3, Length: length * 1e-3, Shaft: metal, Hub: metal}
}

func TestCheckPressFit(t *testing.T) {
	const (
		hand  = "Lamé's closed form in plain decimal arithmetic"
		rings = "displacements and tractions of two plane rings set equal and solved at 30 digits, no closed form of a fit"
		exact = "exact"
		nine  = "nine digits given"
	)
	var rows []verify.Row
	own := func(name, source string, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name, Source: source, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why})
	}
	press := func(p drive.PressFit, interference, friction float64) (drive.Press, float64, float64) {
		s, err := p.Press(interference)
		require.NoError(t, err)
		torque, axial, err := p.Grip(interference, friction)
		require.NoError(t, err)
		return s, torque, axial
	}
	s, torque, axial := press(fitOf(50, 80, 40, 210, 0.3), 0.04e-3, 0.12)
	own("50 in 80 mm, 40 µm, 210 GPa: pressure", hand, 51.1875e6, s.Pressure, 1e-12, exact)
	own("hoop at the bore", hand, 116.8125e6, s.HubHoop, 1e-12, exact)
	own("torque, friction 0.12, 40 mm", hand, 964.861644, torque, 1e-9, nine)
	own("axial", hand, 38594.4657, axial, 2e-9, nine)
	s, torque, axial = press(fitOf(50, 80, 40, 200, 0.3), 0.04e-3, 0.15)
	own("the same, 200 GPa: pressure", hand, 48.75e6, s.Pressure, 1e-12, exact)
	own("hoop at the bore", hand, 111.25e6, s.HubHoop, 1e-12, exact)
	own("torque, friction 0.15", hand, 1148.64481, torque, 5e-9, nine)
	own("axial", hand, 45945.7925, axial, 2e-9, nine)
	s, torque, axial = press(fitOf(12, 24, 15, 205, 0.29), 0.01e-3, 0.12)
	own("12 in 24 mm, 10 µm, 205 GPa: pressure", hand, 64.0625e6, s.Pressure, 1e-12, exact)
	own("hoop at the bore", hand, 106.770833e6, s.HubHoop, 5e-9, nine)
	own("hoop in the shaft", hand, -64.0625e6, s.ShaftHoop, 1e-12, exact)
	own("von Mises at the bore", hand, 149.479167e6, s.HubMises, 3e-9, nine)
	own("torque", hand, 26.0830730, torque, 2e-9, nine)
	own("axial", hand, 4347.17883, axial, 2e-9, nine)
	s, torque, _ = press(fitOf(30, 60, 25, 207, 0.29), 0.04e-3, 0.12)
	own("30 in 60 mm, 40 µm, 207 GPa: pressure", hand, 103.5e6, s.Pressure, 1e-12, exact)
	own("hoop at the bore", hand, 172.5e6, s.HubHoop, 1e-12, exact)
	own("torque", hand, 438.9590, torque, 2e-7, "seven digits given")
	s, torque, axial = press(fitOf(20, 40, 25, 207, 0.292), 0.02e-3, 0.12)
	own("20 in 40 mm, 20 µm, 207 GPa: pressure", hand, 77.625e6, s.Pressure, 1e-12, exact)
	own("hoop at the bore", hand, 129.375e6, s.HubHoop, 1e-12, exact)
	own("torque", hand, 146.320, torque, 3e-6, "six digits given")
	own("axial", hand, 14631.97, axial, 4e-7, "seven digits given")

	light := fitOf(20, 40, 25, 207, 0.292)
	light.Hub = drive.Elastic{Young: 71e9, Poisson: 0.334, Expansion: 23e-6}
	s, _, _ = press(light, 0.02e-3, 0.12)
	own("the same, hub of aluminium: pressure", hand, 31.64688e6, s.Pressure, 2e-7, "seven digits given")
	own("pressure", rings, 31646877.9473, s.Pressure, 1e-11, "twelve digits given")
	own("hoop at the bore", rings, 52744796.5789, s.HubHoop, 1e-11, "twelve digits given")

	hollow := drive.PressFit{Diameter: 12e-3, Bore: 4e-3, Outer: 24e-3, Length: 15e-3,
		Shaft: drive.Elastic{Young: 205e9, Poisson: 0.29}, Hub: drive.Elastic{Young: 71e9, Poisson: 0.334}}
	s, _, _ = press(hollow, 0.01e-3, 0.12)
	own("12 mm, bored 4 mm, in 24 mm of aluminium: pressure", rings, 25359086.7593, s.Pressure, 1e-11, "twelve digits given")
	own("hoop at the hub's bore", rings, 42265144.5988, s.HubHoop, 1e-11, "twelve digits given")
	own("hoop in the shaft at the seat", rings, -31698858.4491, s.ShaftHoop, 1e-11, "twelve digits given")
	own("von Mises at the shaft's bore, hoop alone", rings, 57057945.2083, s.ShaftMises, 1e-11, "twelve digits given")
	radial, hoop, err := hollow.HubStress(s.Pressure, 9e-3)
	require.NoError(t, err)
	own("radial half way through the hub", rings, -6574578.0487, radial, 1e-10, "eleven digits given")
	own("hoop half way through the hub", rings, 23480635.8882, hoop, 1e-11, "twelve digits given")
	rise, err := light.AssemblyRise(0.02e-3, 0.02e-3)
	require.NoError(t, err)
	own("aluminium hub over 20 + 20 µm: rise", "4e-5/(23e-6·20e-3) by hand", 86.9565217, rise, 1e-9, nine)
	verify.Table(t, rows)
}

func TestFitLimits(t *testing.T) {
	// 12 H7/s6 as tables give it: hole 0 to +18, shaft +28 to +39 µm.
	l := drive.FitLimits{HoleUpper: 18e-6, ShaftLower: 28e-6, ShaftUpper: 39e-6}
	loosest, tightest, err := l.Interference()
	require.NoError(t, err)
	assert.InEpsilon(t, 10e-6, loosest, 1e-9)
	assert.InEpsilon(t, 39e-6, tightest, 1e-9)
	l.HoleRoughness, l.ShaftRoughness = 6e-6, 4e-6
	loosest, tightest, err = l.Interference()
	require.NoError(t, err)
	assert.InEpsilon(t, 2e-6, loosest, 1e-9)
	assert.InEpsilon(t, 35e-6, tightest, 1e-9)
	l.HoleRoughness = 16e-6
	_, _, err = l.Interference()
	assert.ErrorIs(t, err, drive.ErrLoose)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.FitLimits.Interference: no interference: 6e-06 m too little in the loosest pair")
	_, _, err = drive.FitLimits{HoleLower: 2e-6, HoleUpper: 1e-6}.Interference()
	assert.EqualError(t, err, "drive.FitLimits.HoleUpper = 1e-06 m: allowed 2e-06 to 0.01 m")
}

func TestPressFitRefuses(t *testing.T) {
	p := fitOf(20, 20, 25, 207, 0.3)
	p.Bore = math.NaN()
	_, err := p.Press(1e-3)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.PressFit.Bore = NaN m: allowed 0 to 0.0196 m\ndrive.PressFit.Outer = 0.02 m: allowed 0.0204 to 100 m\n"+
		"drive.PressFit.Press: interference = 0.001 m: allowed 0 to 0.0004 m")
	p = fitOf(20, 40, 25, 207, 0.3)
	p.Hub.Expansion = 23e-6
	_, err = p.Warmed(20e-6, 80, 200)
	assert.ErrorIs(t, err, drive.ErrLoose)
	assert.EqualError(t, err, "drive.PressFit.Warmed: no interference: clearance of 5.36e-05 m")
	p.Hub.Expansion = 0
	_, err = p.AssemblyRise(1e-5, 1e-5)
	assert.EqualError(t, err, "drive.PressFit.Hub.Expansion = 0 1/K: allowed 1e-07 to 0.0003 1/K to assemble by heat")
}

func pressFits() *rapid.Generator[drive.PressFit] {
	metal := func(t *rapid.T, name string) drive.Elastic {
		return drive.Elastic{
			Young: draw.Log(2e9, 1.9e11).Draw(t, name+"'s modulus"), Poisson: draw.Uniform(0.2, 0.4).Draw(t, name+"'s ratio"),
			Expansion: draw.Log(5e-6, 1e-4).Draw(t, name+"'s expansion"),
		}
	}
	return rapid.Custom(func(t *rapid.T) drive.PressFit {
		d := draw.Log(2e-3, 0.3).Draw(t, "diameter")
		p := drive.PressFit{
			Diameter: d, Outer: d * draw.Uniform(1.1, 4).Draw(t, "outer"), Length: d * draw.Uniform(0.2, 3).Draw(t, "length"),
			Shaft: metal(t, "shaft"), Hub: metal(t, "hub"),
		}
		if rapid.Bool().Draw(t, "hollow") {
			p.Bore = d * draw.Uniform(0.01, 0.9).Draw(t, "bore")
		}
		return p
	})
}

func TestPropertyPressFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := pressFits().Draw(t, "fit")
		delta := p.Diameter * draw.Log(1e-5, 2e-3).Draw(t, "interference")
		k, friction := draw.Uniform(1.1, 5).Draw(t, "factor"), draw.Uniform(0.05, 0.3).Draw(t, "friction")
		s, err := p.Press(delta)
		require.NoError(t, err)
		pressure := func(p drive.PressFit, interference float64) float64 {
			s, err := p.Press(interference)
			require.NoError(t, err)
			return s.Pressure
		}
		require.InEpsilon(t, k*s.Pressure, pressure(p, k*delta), 1e-9, "linear in interference")
		stiff := p
		stiff.Shaft.Young *= k
		stiff.Hub.Young *= k
		require.InEpsilon(t, k*s.Pressure, pressure(stiff, delta), 1e-9, "linear in both moduli")
		similar := p
		similar.Diameter, similar.Bore, similar.Outer = 3*p.Diameter, 3*p.Bore, 3*p.Outer
		require.InEpsilon(t, s.Pressure, pressure(similar, 3*delta), 1e-9, "of shape alone")

		// A thicker hub presses more, towards that of a hole in an endless plate.
		thick := p
		thick.Outer = min(100, 1e4*p.Diameter)
		most := delta / p.Diameter / ((1+p.Hub.Poisson)/p.Hub.Young + ((1+square(p.Bore/p.Diameter))/(1-square(p.Bore/p.Diameter))-p.Shaft.Poisson)/p.Shaft.Young)
		require.InEpsilon(t, most, pressure(thick, delta), 1e-4)
		require.Less(t, s.Pressure, most)

		// Lamé: hoop and radial stress have one sum all through the hub, their difference falls
		// with r²; radial goes from the pressure to nothing; the pressure is carried by the hoop.
		var force float64
		const n = 40
		for i := range n {
			r := p.Diameter/2 + (p.Outer-p.Diameter)/2*(float64(i)+0.5)/n
			radial, hoop, err := p.HubStress(s.Pressure, r)
			require.NoError(t, err)
			require.InEpsilon(t, s.HubHoop-s.Pressure, hoop+radial, 1e-6)
			require.InEpsilon(t, (s.HubHoop+s.Pressure)*square(p.Diameter/2/r), hoop-radial, 1e-9)
			force += hoop * (p.Outer - p.Diameter) / n // both sides of a cut
		}
		require.InEpsilon(t, s.Pressure*p.Diameter, force, 5e-3, "cut in half, hub against pressure")
		edge, _, err := p.HubStress(s.Pressure, p.Outer/2)
		require.NoError(t, err)
		require.Less(t, math.Abs(edge), 1e-9*s.Pressure)
		bore, hoop, err := p.HubStress(s.Pressure, p.Diameter/2)
		require.NoError(t, err)
		require.InEpsilon(t, -s.Pressure, bore, 1e-9)
		require.InEpsilon(t, s.HubHoop, hoop, 1e-9)
		require.InEpsilon(t, math.Sqrt(hoop*hoop-hoop*bore+bore*bore), s.HubMises, 1e-9)
		require.GreaterOrEqual(t, s.ShaftMises, -s.ShaftHoop)

		// What the two surfaces give way adds up to the interference: hoop strain of hub and shaft.
		hub := (s.HubHoop + p.Hub.Poisson*s.Pressure) / p.Hub.Young
		shaft := (s.ShaftHoop + p.Shaft.Poisson*s.Pressure) / p.Shaft.Young
		require.InEpsilon(t, delta/p.Diameter, hub-shaft, 1e-9)

		torque, axial, err := p.Grip(delta, friction)
		require.NoError(t, err)
		double, _, err := p.Grip(delta, 2*friction)
		require.NoError(t, err)
		require.InEpsilon(t, 2*torque, double, 1e-12, "torque goes with friction")
		require.InEpsilon(t, axial*p.Diameter/2, torque, 1e-12)
		require.InEpsilon(t, friction*s.Pressure*math.Pi*p.Diameter*p.Length, axial, 1e-9)

		safety := draw.Uniform(1, 3).Draw(t, "safety")
		need, err := p.InterferenceFor(torque*0.6/safety, axial*0.8/safety, friction, safety)
		require.NoError(t, err)
		require.InEpsilon(t, delta, need, 1e-9, "0.6 and 0.8 together are the whole grip")
		u, err := p.Utilisations(torque*0.6, axial*0.8, friction, delta, 2*delta, 1e9, 1e9)
		require.NoError(t, err)
		require.InEpsilon(t, 1, u[0].Safety(), 1e-9)
		require.InEpsilon(t, 2*s.HubMises, u[1].Demand, 1e-9)
		require.InEpsilon(t, 2*s.ShaftMises, u[2].Demand, 1e-9)

		// Heated by AssemblyRise, nothing is left but the clearance.
		clearance := p.Diameter * 1e-3
		rise, err := p.AssemblyRise(delta, clearance)
		require.NoError(t, err)
		if rise < 1500 {
			_, err = p.Warmed(delta, 0, rise)
			require.ErrorIs(t, err, drive.ErrLoose)
			back, err := p.Warmed(delta, 0, rise*delta/(delta+clearance)*(1-1e-9))
			require.NoError(t, err)
			require.Less(t, back, 1e-6*delta)
		}
	})
}
