package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

const (
	gravity = 9.80665 // standard acceleration of free fall (3rd CGPM, 1901) [m/s²]

	narrowest, widest = 1e-4, 10. // an outlet [m]

	beverlooRound = 0.58 // [-]
	beverlooSlot  = 1.03 // [-]
	rim           = 1.4  // particles of the width that the edge takes from the flow [-]

	hangs = "fluff hangs together, law for grains that do not"
)

// Outlet is the hole that a hopper ends in, open below: round, or a slot.
type Outlet struct {
	Width  float64 // diameter of a round hole, short side of a slot, 1e-4 to 10 [m]
	Length float64 // of a slot, Width to 100, or 0 for a round hole [m]
}

// Validate reports the fields out of range.
func (o Outlet) Validate() error {
	var f input.Faults
	o.check(&f)
	return f.Err()
}

func (o Outlet) check(f *input.Faults) {
	f.Between("screw.Outlet.Width", o.Width, narrowest, widest, "m")
	if f.None() && o.Length != 0 {
		f.Between("screw.Outlet.Length", o.Length, o.Width, 100, "m")
	}
}

func (o Outlet) round(f *input.Faults) {
	o.check(f)
	if o.Length != 0 {
		f.Refuse("screw.Outlet.Length", o.Length, "m", "0: the law is known of round holes only")
	}
}

// Discharge is what runs out of an outlet that nothing below holds back.
type Discharge struct {
	Flow   float64  // [kg/s]
	Ratio  float64  // Outlet.Width ÷ particle size [-]
	Beyond []string // in words, where the law's stated range is left; nil inside it
}

// Discharge returns what runs out of an outlet under its own weight, whatever the
// level above. It errs on an outlet or a bulk out of range. Of an outlet not wider
// than 1.4 particles nothing runs: Flow is 0.
//
// W. A. Beverloo, H. A. Leniger and J. van de Velde, Chem. Eng. Sci. 15 (1961) 260
// (from memory): W = 0.58 ρ √g (D − 1.4 d)^(5/2), as the middle of a particle
// cannot come nearer to the edge; of a slot W = 1.03 ρ √g (L − 1.4 d)(B − 1.4 d)^(3/2),
// R. M. Nedderman, Statics and Kinematics of Granular Materials (1992), from memory.
// Range: free-flowing grains above 0.4 mm, from six grains to the width (from memory), in a
// bin wider than 2.5 outlets and than an outlet and 30 grains, filled to 1.2 of
// its width (C. Mankoc et al., Granular Matter 9 (2007) 407). Usual error: 10 % for pellets, a factor of 2 for
// flake (common practice, no source). Below some 20 grains to the width [Outlet.SmallFlow]
// is the careful figure. That a steep cone lets more through is left out.
func (o Outlet) Discharge(b material.Bulk) (Discharge, error) {
	var f input.Faults
	o.check(&f)
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return Discharge{}, err
	}
	d := Discharge{Ratio: o.Width / b.ParticleSize}
	free := math.Max(0, o.Width-rim*b.ParticleSize)
	if o.Length == 0 {
		d.Flow = beverlooRound * b.BulkDensity * math.Sqrt(gravity*free) * free * free
	} else {
		along := math.Max(0, o.Length-rim*b.ParticleSize)
		d.Flow = beverlooSlot * b.BulkDensity * math.Sqrt(gravity*free) * free * along
	}
	if d.Ratio < 6*(1-1e-9) {
		d.Beyond = append(d.Beyond, fmt.Sprintf("outlet of %.3g particles' width, law for 6 and more: it may clog and flows in jerks", d.Ratio))
	}
	if b.ParticleSize < 0.4e-3 {
		d.Beyond = append(d.Beyond, fmt.Sprintf("particles of %.3g mm, law for 0.4 mm and more: air holds finer ones back", b.ParticleSize*1e3))
	}
	if b.Shape == "fluff" {
		d.Beyond = append(d.Beyond, hangs)
	}
	return d, nil
}

// OutletFor returns the narrowest round outlet that lets a flow through, 1e-9 to 1e5
// [kg/s], by [Outlet.Discharge] turned round: D = 1.4 d + (W/(0.58 ρ √g))^(2/5), and no
// narrower than an Outlet may be. It errs on a bulk or a flow out of range and where none
// up to 10 m is wide enough.
//
// What a screw draws is to be asked for five times over of pellets and ten times of flake
// (common practice, no source). Whether the outlet found is within the law, and does not
// clog, Discharge and [Outlet.Clogging] tell.
func OutletFor(b material.Bulk, flow float64) (Outlet, error) {
	var f input.Faults
	f.Add(b.Validate())
	f.Between("screw.OutletFor: flow", flow, 1e-9, 1e5, "kg/s")
	if err := f.Err(); err != nil {
		return Outlet{}, err
	}
	free := math.Pow(flow/(beverlooRound*b.BulkDensity*math.Sqrt(gravity)), 0.4)
	o := Outlet{Width: math.Max(narrowest, free+rim*b.ParticleSize)}
	if o.Width > widest {
		f.Refuse("screw.OutletFor: flow", flow, "kg/s", fmt.Sprintf("less: it takes an outlet of %.3g m, of at most %g m", o.Width, widest))
		return Outlet{}, f.Err()
	}
	return o, nil
}

// SmallFlow returns what runs out of a round outlet of few particles' width [kg/s]: less
// than [Outlet.Discharge] tells, as the bulk loosens on its way through. It errs on an
// outlet or a bulk out of range and on a slot.
//
// C. Mankoc et al., Granular Matter 9 (2007) 407 (from memory), for R = D/d:
// W = C ρ √g (1 − ½ exp(−0.051 (R − 1))) (D − d)^(5/2). Assumed: C is Beverloo's 0.58,
// as both laws must agree at a wide outlet. An outlet of less than a particle lets
// nothing through.
func (o Outlet) SmallFlow(b material.Bulk) (float64, error) {
	var f input.Faults
	o.round(&f)
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return 0, err
	}
	free := math.Max(0, o.Width-b.ParticleSize)
	loose := 1 - 0.5*math.Exp(-0.051*free/b.ParticleSize)
	return beverlooRound * loose * b.BulkDensity * math.Sqrt(gravity*free) * free * free, nil
}
