package drive

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrNoSize reports that nothing of the standard sizes looked through bears the load.
var ErrNoSize = errors.New("no standard size bears it")

// ModuleChoice is the smallest standard module that bears a load.
type ModuleChoice struct {
	Pair    GearPair
	Rating  GearRating
	Smaller material.Utilisation // the check that the next smaller module fails worst; zero if there is none
}

// SizeModule returns the pair with the smallest module of series I, 0.2 to 25 mm, that bears a
// torque of its pinion with the safeties asked of root and flank, 0.1 to 100 [-], its face
// being so many modules wide, 1 to 100 [-]. Module, Face and Distance of the receiver are not
// read. It errs on invalid input, and with [ErrNoSize].
func (g GearPair) SizeModule(torque, width float64, teeth [2]ToothMaterial, k GearFactors, root, flank float64) (ModuleChoice, error) {
	var f input.Faults
	f.Between("drive.GearPair.SizeModule: width", width, 1, 100, "")
	f.Between("drive.GearPair.SizeModule: root", root, 0.1, 100, "")
	f.Between("drive.GearPair.SizeModule: flank", flank, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return ModuleChoice{}, err
	}
	var c ModuleChoice
	for _, mm := range firstModules {
		if mm < 0.2 || mm > 25 {
			continue
		}
		g.Module, g.Face, g.Distance = mm/1000, width*mm/1000, 0
		r, err := g.Rate(torque, teeth, k)
		if err != nil {
			return ModuleChoice{}, err
		}
		fails, ok := worst(r.Utilisations[:], root, flank)
		if ok {
			c.Pair, c.Rating = g, r
			return c, nil
		}
		c.Smaller = fails
	}
	return ModuleChoice{}, fmt.Errorf("%w: at 25 mm of module %s still has a safety of %.3g", ErrNoSize, c.Smaller.Part, c.Smaller.Safety())
}

// worst returns the utilisation that is furthest from what is asked, the first half of
// them being roots, and whether all hold it.
func worst(list []material.Utilisation, root, flank float64) (u material.Utilisation, ok bool) {
	ok, least := true, math.Inf(1)
	for i := range list {
		asked := root
		if i >= len(list)/2 {
			asked = flank
		}
		margin := list[i].Safety() / asked
		ok = ok && margin >= 1
		if margin < least {
			least, u = margin, list[i]
		}
	}
	return u, ok
}

// shaftEnds are the diameters of cylindrical shaft ends of DIN 748-1 (from memory), and
// smaller ones as drawn rod has them [mm].
var shaftEnds = [...]float64{3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 19, 20, 22, 24, 25, 28, 30, 32, 35, 38, 40, 42, 45, 48, 50, 55, 60, 65, 70, 75, 80, 85, 90, 95, 100,
	110, 120, 125, 130, 140, 150, 160, 170, 180, 190, 200}

// ShaftChoice is the smallest preferred diameter that bears a load.
type ShaftChoice struct {
	Shaft   Shaft
	Fatigue ShaftFatigue
	Smaller material.Utilisation // the check that the next smaller one fails worst; zero if there is none
}

// SizeShaft returns the shaft with the smallest diameter of a shaft end by DIN 748-1, or of 3 to
// 5 mm, that bears a load with a safety, 0.1 to 100 [-], by Goodman's line and against yield, for
// notch factors and endurance limit as given; Diameter is not read. Find these anew at the
// answer, as they change with size. It errs on invalid input, and with [ErrNoSize].
func (s Shaft) SizeShaft(l ShaftLoad, safety float64) (ShaftChoice, error) {
	var f input.Faults
	f.Between("drive.Shaft.SizeShaft: safety", safety, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return ShaftChoice{}, err
	}
	var c ShaftChoice
	for _, mm := range shaftEnds {
		s.Diameter = mm / 1000
		fatigue, err := s.Fatigue(l)
		if err != nil {
			return ShaftChoice{}, err
		}
		both := fatigue.Utilisations(s)
		fails, ok := worst(both[:], safety, safety)
		if ok {
			c.Shaft, c.Fatigue = s, fatigue
			return c, nil
		}
		c.Smaller = fails
	}
	return ShaftChoice{}, fmt.Errorf("%w: of 200 mm %s still has a safety of %.3g", ErrNoSize, c.Smaller.Part, c.Smaller.Safety())
}

// keyLengths are those of DIN 6885-1 (from memory) [mm].
var keyLengths = [...]float64{6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 32, 36, 40, 45, 50, 56, 63, 70, 80, 90, 100, 110, 125, 140, 160, 180, 200, 220, 250, 280, 320, 360, 400}

// KeyChoice is the shortest standard key that bears a torque.
type KeyChoice struct {
	Joint        KeyJoint
	Utilisations [3]material.Utilisation
	Smaller      material.Utilisation // the check that the next shorter one fails worst; zero if there is none
}

// SizeKey returns the standard key for a shaft diameter, 6e-3 to 0.13 [m], of the shortest
// standard length that bears a torque with a safety, 0.1 to 100 [-]. It errs on invalid
// input, and with [ErrNoSize].
func SizeKey(diameter, torque float64, strength KeyStrength, form KeyForm, safety float64) (KeyChoice, error) {
	var f input.Faults
	f.Between("drive.SizeKey: safety", safety, 0.1, 100, "")
	size, err := StandardKey(diameter)
	f.Add(err)
	if err := f.Err(); err != nil {
		return KeyChoice{}, err
	}
	c := KeyChoice{Joint: KeyJoint{Diameter: diameter, Size: size, Form: form, Keys: 1}}
	for _, mm := range keyLengths {
		c.Joint.Length = mm / 1000
		if c.Joint.Length < 1.5*size.Width { // such as no list has
			continue
		}
		if c.Utilisations, err = c.Joint.Utilisations(torque, strength); err != nil {
			return KeyChoice{}, err
		}
		fails, ok := worst(c.Utilisations[:], safety, safety)
		if ok {
			return c, nil
		}
		c.Smaller = fails
	}
	return KeyChoice{}, fmt.Errorf("%w: of 400 mm %s still has a safety of %.3g", ErrNoSize, c.Smaller.Part, c.Smaller.Safety())
}

// StageWish is what is asked of a planetary stage.
type StageWish struct {
	Torque         float64 // of the screw, 1e-6 to 1e6 [N·m]
	Speed          float64 // of the screw, 1e-6 to 1e3 [rev/s]
	Time           float64 // that it must run, 1 to 1e12 [s]
	Least, Most    float64 // ratio, 2.5 to 12, at most 1.5 times as much [-]
	Planets        int     // 2 to 6
	Width          float64 // of the face, in modules, 1 to 40 [-]
	MeshEfficiency float64 // as of PlanetaryStage [-]
	LoadShare      float64 // as of PlanetaryStage [-]
	Root, Flank    float64 // safeties asked, 0.1 to 100 [-]
	Rim            float64 // of the ring, beyond its teeth, in modules, 2 to 20; 3.5 and more is stiff [-]
	Outer          float64 // the most that the ring may measure outside, 1e-3 to 10 [m]
}

// StageChoice is the smallest planetary stage that does what is wished.
type StageChoice struct {
	Stage   PlanetaryStage
	Load    StageLoad
	Rating  StageRating
	Outer   float64              // of the ring [m]
	Smaller material.Utilisation // the check that the next smaller module of these teeth fails worst; zero if there is none
}

// SizeStage returns the planetary stage of standard module, 0.2 to 5 mm, and of suns and
// planets of 12 to 60 teeth without shift, that bears the torque for the time and measures
// least outside. It errs on invalid input, and with [ErrNoSize], naming the best that fits.
func SizeStage(w StageWish, teeth [3]ToothMaterial, k GearFactors) (StageChoice, error) {
	var f input.Faults
	w.check(&f)
	if err := f.Err(); err != nil {
		return StageChoice{}, err
	}
	list := w.stages()
	if len(list) == 0 {
		f.Refuse("drive.StageWish.Most", w.Most, "", "wider apart from Least or Outer larger: no tooth numbers of 12 to 60 that can be put together fit")
		return StageChoice{}, f.Err()
	}
	var nearest material.Utilisation
	for _, s := range list {
		c, fails, ok, err := w.try(s, teeth, k)
		if err != nil {
			return StageChoice{}, err
		}
		if !ok {
			if nearest.Capacity == 0 || fails.Safety() > nearest.Safety() {
				nearest = fails
			}
			continue
		}
		for i := len(firstModules) - 1; i >= 0; i-- {
			if m := firstModules[i] / 1000; m < s.Module*(1-1e-9) && m >= 0.2e-3 {
				s.Module, s.Face = m, w.Width*m
				if _, c.Smaller, ok, err = w.try(s, teeth, k); err != nil {
					return StageChoice{}, err
				}
				if ok { // it holds, but is no smaller outside than what was found
					c.Smaller = material.Utilisation{}
				}
				break
			}
		}
		return c, nil
	}
	return StageChoice{}, fmt.Errorf("%w within %.4g m: the nearest to it has a safety of %.3g, of %s", ErrNoSize, w.Outer, nearest.Safety(), nearest.Part)
}

func (w *StageWish) check(f *input.Faults) {
	f.Between("drive.StageWish.Torque", w.Torque, 1e-6, 1e6, "N·m")
	f.Between("drive.StageWish.Speed", w.Speed, 1e-6, 1e3, "rev/s")
	f.Between("drive.StageWish.Time", w.Time, 1, 1e12, "s")
	f.Between("drive.StageWish.Least", w.Least, 2.5, 12, "")
	f.Between("drive.StageWish.Most", w.Most, math.Max(2.5, math.Min(12, w.Least)), 1.5*math.Max(2.5, math.Min(12, w.Least)), "")
	f.Count("drive.StageWish.Planets", w.Planets, 2, 6)
	f.Between("drive.StageWish.Width", w.Width, 1, 40, "")
	f.Between("drive.StageWish.MeshEfficiency", w.MeshEfficiency, 0.5, 1, "")
	f.Between("drive.StageWish.LoadShare", w.LoadShare, 1, float64(max(1, w.Planets)), "")
	f.Between("drive.StageWish.Root", w.Root, 0.1, 100, "")
	f.Between("drive.StageWish.Flank", w.Flank, 0.1, 100, "")
	f.Between("drive.StageWish.Rim", w.Rim, 2, 20, "")
	f.Between("drive.StageWish.Outer", w.Outer, 1e-3, 10, "m")
}

// outer returns what the ring of a stage measures outside.
func (w *StageWish) outer(s *PlanetaryStage) float64 {
	return s.Module * (float64(s.Ring) + 2*RackA().Dedendum + 2*w.Rim)
}

// stages lists all that could be put together, the smallest first.
func (w *StageWish) stages() (list []PlanetaryStage) {
	for sun := fewestTeeth; sun <= 60; sun++ {
		for planet := fewestTeeth; planet <= 60; planet++ {
			s := PlanetaryStage{Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: w.Planets, Module: 1e-3, Face: 1e-2,
				MeshEfficiency: w.MeshEfficiency, LoadShare: w.LoadShare}
			if r := s.Ratio(); r < w.Least*(1-1e-12) || r > w.Most*(1+1e-12) || (s.Sun+s.Ring)%s.Planets != 0 || s.neighbours() <= 0 {
				continue
			}
			for _, mm := range firstModules {
				if s.Module, s.Face = mm/1000, w.Width*mm/1000; mm >= 0.2 && mm <= 5 && w.outer(&s) <= w.Outer {
					list = append(list, s)
				}
			}
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return w.outer(&list[i]) < w.outer(&list[j]) })
	return list
}

// try rates one of them.
func (w *StageWish) try(s PlanetaryStage, teeth [3]ToothMaterial, k GearFactors) (c StageChoice, fails material.Utilisation, ok bool, err error) {
	c = StageChoice{Stage: s, Outer: w.outer(&s)}
	if c.Load, err = s.Load(w.Torque, w.Speed); err != nil {
		return c, fails, false, err
	}
	if c.Rating, err = s.Rate(c.Load, w.Time, teeth, k); err != nil {
		return c, fails, false, err
	}
	fails, ok = worst(c.Rating.Utilisations[:], w.Root, w.Flank)
	return c, fails, ok, nil
}

// RatioChoice is the ratio at which a motor has most to spare.
type RatioChoice struct {
	Ratio   float64
	PullOut PullOut
	Reserve material.Utilisation // torque asked of the motor against PullOut
}

// BestOf returns of some ratios, 1 to 1e4 each [-], the one at which a motor of a current [A]
// and a supply [V], as for [Stepper.PullOut], has most torque to spare over what a screw asks,
// 0 to 1e6 [N·m], at a speed, 1e-6 to 1e3 [rev/s], through a gear of an efficiency, 0.01 to 1
// [-]. A ratio at which the motor falls out of step is passed over. It errs on invalid
// input, and with [ErrOutOfStep] where it does at all of them.
func (s Stepper) BestOf(ratios []float64, torque, speed, current, supply, efficiency float64) (RatioChoice, error) {
	var f input.Faults
	f.Count("drive.Stepper.BestOf: ratios", len(ratios), 1, 1000)
	for i, r := range ratios {
		if !(r >= 1 && r <= 1e4) {
			f.Between(fmt.Sprintf("drive.Stepper.BestOf: ratios[%d]", i), r, 1, 1e4, "")
		}
	}
	f.Between("drive.Stepper.BestOf: torque", torque, 0, 1e6, "N·m")
	f.Between("drive.Stepper.BestOf: speed", speed, 1e-6, 1e3, "rev/s")
	f.Between("drive.Stepper.BestOf: efficiency", efficiency, 0.01, 1, "")
	if err := f.Err(); err != nil {
		return RatioChoice{}, err
	}
	var best RatioChoice
	var last error
	for _, r := range ratios {
		out, err := s.PullOut(speed*r, current, supply)
		if errors.Is(err, ErrOutOfStep) {
			last = err
			continue
		} else if err != nil {
			return RatioChoice{}, err
		}
		if best.Ratio == 0 || out.Torque*r > best.PullOut.Torque*best.Ratio {
			best = RatioChoice{r, out, out.Utilisation(torque / (r * efficiency))}
		}
	}
	if best.Ratio == 0 {
		return RatioChoice{}, last
	}
	return best, nil
}
