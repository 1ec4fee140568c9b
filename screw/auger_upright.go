package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// AugerLift is what an upright auger does at a speed.
type AugerLift struct {
	MassFlow   float64  // [kg/s]
	Efficiency float64  // rise ÷ what the flight would screw up without slip [-]
	Rise       float64  // speed of a particle up the tube [m/s]
	Angle      float64  // of its path above level [rad]
	Critical   float64  // speed below which nothing rises [rev/s]
	Progress   float64  // work against friction ÷ work to raise the bulk: the progress resistance of [Auger.Drive] [-]
	Beyond     []string // in words, where the model's stated range is left; nil inside it
}

// Lift returns what an upright auger brings at a speed of 1e-4 to 100 [rev/s], with a share of its
// section filled, 0.01 to 1 [-], against the tube's coefficient of friction with the bulk, 0.01 to 2
// [-]. It errs on input out of range, an auger that is not upright included; with [material.ErrNoData]
// without the bulk's WallFriction, taken for that on the flight; and with ErrNoFlow up to Critical.
//
// One particle, flung against the tube and held back by its friction μ, slides up the flight at the
// rim, R = D/2, steadily (after A. W. Roberts, Design considerations and performance evaluation of
// screw conveyors, from memory, derived anew):
//
//	tan(α+φ)·(g + f·sinλ) = f·cosλ,  f = μ·v²/R,  v = ω·R·tanα/(tanα + tanλ)
//
// λ being Angle; Critical is where λ = 0: ω² = g·tan(α+φ)/(μ·R). Efficiency, tanλ/(tanα + tanλ),
// depends on speed ÷ Critical, α and φ alone and tends to that of [Auger.Feed] at the rim. Progress is
// least at two to three times Critical, some 6, inside the handbooks' 4 to 8 (from memory).
//
// Left out: bulk inside the rim, which slips more; the inlet, which takes in less the faster it turns,
// so that real augers are best at some speed and fall off above it. The fill is the caller's: what the
// inlet lets in. With more than some 0.6 of the section filled the bulk packs and climbs as a plug,
// slowly too, as in Feed, if there is a head of bulk to push it: which Beyond tells.
func (a Auger) Lift(b material.Bulk, tube, speed, fill float64) (AugerLift, error) {
	var f input.Faults
	a.check(&f)
	if f.None() && a.Incline < math.Pi/2-1e-6 {
		f.Refuse("screw.Auger.Incline", a.Incline, "rad", "π/2: the law is known of upright augers only")
	}
	f.Add(b.Validate())
	f.Between("screw.Auger.Lift: tube", tube, 0.01, 2, "")
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Auger.Lift: fill", fill, 0.01, 1, "")
	if err := f.Err(); err != nil {
		return AugerLift{}, err
	}
	radius := a.Diameter / 2
	alpha, err := a.pushes(&b, radius)
	if err != nil {
		return AugerLift{}, err
	}
	grip, rise := math.Tan(alpha+b.WallFriction), math.Tan(alpha)
	r := AugerLift{Critical: math.Sqrt(gravity*grip/(tube*radius)) / (2 * math.Pi)}
	ratio := speed / r.Critical
	// With f = g·tan(α+φ)·square at λ = 0 the balance is share²·square·(cosλ − tan(α+φ)·sinλ) = 1.
	square := ratio * ratio
	friction := func(angle float64) float64 { // on the tube ÷ g·tan(α+φ)
		share := rise / (rise + math.Tan(angle))
		return square * share * share
	}
	balance := func(angle float64) float64 {
		sin, cos := math.Sincos(angle)
		return friction(angle)*(cos-grip*sin) - 1
	}
	if square > 1 {
		if r.Angle, err = root.Find(balance, 0, math.Pi/2-alpha-b.WallFriction, 1e-15); err != nil {
			return AugerLift{}, err
		}
	}
	if !(r.Angle > 0) {
		return AugerLift{}, fmt.Errorf("%w: at %.4g rev/s nothing rises, it does above %.4g", ErrNoFlow, speed, r.Critical)
	}
	tan := math.Tan(r.Angle)
	r.Efficiency = tan / (rise + tan)
	r.Rise = a.Pitch * speed * r.Efficiency
	r.Progress = friction(r.Angle)*grip*math.Cos(r.Angle)/(rise*r.Efficiency) - 1
	r.MassFlow = a.Swept() * speed * b.BulkDensity * r.Efficiency * fill
	if fill > 0.6*(1+1e-9) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("fill of %.3g, law for 0.6 and less: above, the bulk packs and climbs as a plug", fill))
	}
	r.Beyond = a.wedges(&b, r.Beyond)
	return r, nil
}
