package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/versus"
)

// inlineRating is ISO 6336 method B for one outer spur pair of 20/60 teeth as one would
// write it down, without a check of any input.
func inlineRating(g *drive.GearPair, torque float64, m *[2]drive.ToothMaterial, k *drive.GearFactors) (o [8]float64) {
	r := &g.Rack
	sin, cos := math.Sincos(r.PressureAngle)
	tan := sin / cos
	z := [2]float64{float64(g.Pinion.Teeth), float64(g.Wheel.Teeth)}
	x := [2]float64{g.Pinion.Shift, g.Wheel.Shift}
	inv := tan - r.PressureAngle
	v := inv + 2*tan*(x[0]+x[1])/(z[0]+z[1])
	t := math.Tan(math.Cbrt(3 * v))
	for range 4 {
		t -= (t - math.Atan(t) - v) * (1 + t*t) / (t * t)
	}
	cosW := 1 / math.Sqrt(1+t*t)
	a0 := (z[0] + z[1]) / 2
	a := a0 * cos / cosW
	line := a * t * cosW
	short := a - a0 - x[0] - x[1]
	var rb, len [2]float64
	for i := range z {
		rb[i] = z[i] / 2 * cos
		ra := z[i]/2 + r.Addendum + x[i] + short
		len[i] = math.Sqrt(ra*ra - rb[i]*rb[i])
	}
	p := math.Pi * cos
	eps := (len[0] + len[1] - line) / p
	force := 2 * torque / (z[0] * g.Module)
	corner := math.Pi/4 - r.Dedendum*tan - (1-sin)*r.Fillet/cos
	load := k.Application * k.Dynamic * k.Sharing
	for i := range z {
		depth := r.Fillet - r.Dedendum + x[i]
		h := 2/z[i]*(math.Pi/2-corner) - math.Pi/3
		roll := -h
		for range 4 {
			u := math.Tan(roll)
			roll -= (roll - 2*depth/z[i]*u + h) / (1 - 2*depth/z[i]*(1+u*u))
		}
		cr := math.Cos(roll)
		ss, cs := math.Sincos(math.Pi/3 - roll)
		chord := z[i]*ss + math.Sqrt(3)*(depth/cr-r.Fillet)
		fillet := r.Fillet + 2*depth*depth/(cr*(z[i]*cr*cr-2*depth))
		at := len[i] - p*(eps-1)
		tl := at / rb[i]
		half := (math.Pi/2+2*x[i]*tan)/z[i] + inv - (tl - math.Atan(tl))
		sh, ch := math.Sincos(half)
		sa, ca := math.Sincos(math.Atan(tl) - half)
		arm := 0.5 * ((ch-sh*sa/ca)*2*math.Sqrt(rb[i]*rb[i]+at*at) - z[i]*cs - depth/cr + r.Fillet)
		slim := chord / arm
		o[i] = 6 * arm * ca / (cos * chord * chord) * (1.2 + 0.13*slim) * math.Pow(chord/(2*fillet), 1/(1.21+2.3/slim)) *
			force / (g.Face * g.Module) * load * k.RootFace
		o[4+i] = 2 * m[i].RootLimit * math.Pow(m[i].Life.Root.Most, math.Log(m[i].Life.Root.Many/m[i].Cycles)/math.Log(m[i].Life.Root.Many/m[i].Life.Root.Few))
		o[6+i] = m[i].FlankLimit * k.Surface * math.Pow(m[i].Life.Flank.Most, math.Log(m[i].Life.Flank.Many/m[i].Cycles)/math.Log(m[i].Life.Flank.Many/m[i].Life.Flank.Few))
	}
	ze := 1 / math.Sqrt(math.Pi*((1-m[0].Poisson*m[0].Poisson)/m[0].Young+(1-m[1].Poisson*m[1].Poisson)/m[1].Young))
	flank := math.Sqrt(2/t) / cos * ze * math.Sqrt((4-eps)/3*force/(z[0]*g.Module*g.Face)*(1+z[0]/z[1])*load*k.FlankFace)
	r1, r2 := rb[0]*t, rb[1]*t
	b, d := len[0]-p, len[1]-p
	o[2] = flank * math.Max(1, math.Sqrt(r1*r2/(b*(line-b))))
	o[3] = flank * math.Max(1, math.Sqrt(r1*r2/(d*(line-d))))
	return o
}

// BenchmarkGearRating reports how many times the time of the bare formulas a rating of both
// gears takes, with its checks, factors and Utilisations.
func BenchmarkGearRating(b *testing.B) {
	g := sized(1e-3, 20, 60, .3, .2, 8e-3)
	m := [2]drive.ToothMaterial{steel, steel}
	for i := range m {
		m[i].Life, m[i].Cycles = drive.QuenchedLife(), 1e6
	}
	k := drive.CommonGearFactors()
	r, err := g.Rate(0.5, m, k)
	require.NoError(b, err)
	o := inlineRating(&g, 0.5, &m, &k)
	for i, u := range r.Utilisations {
		require.InEpsilon(b, o[i], u.Demand, 1e-9)
		require.InEpsilon(b, o[4+i], u.Capacity, 1e-9)
	}
	var sink float64
	versus.Report(b, "times-inline", func(i int) {
		r, err := g.Rate(0.5+1e-6*float64(i), m, k)
		if err != nil {
			panic(err)
		}
		sink += r.RootStress[0]
	}, func(i int) {
		o := inlineRating(&g, 0.5+1e-6*float64(i), &m, &k)
		sink += o[0]
	})
	_ = sink
}
