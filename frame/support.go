package frame

import "meltflight/internal/input"

const mostStiffness = 1e15 // [N/m, N·m/rad]

// Belt is a toothed belt that pulls a carriage: both its ends are fixed there, one
// span runs straight to the driven pulley and the other round the idler to it.
type Belt struct {
	Specific float64 // force ÷ strain of the belt as wide as it is, EA; makers give it as specific stiffness [N], or for a width of one [N/m] to be multiplied, 100 to 1e9 [N]
	Direct   float64 // free length from carriage to driven pulley, 1e-3 to 1000 [m]
	Around   float64 // free length the other way, round the idler, 1e-3 to 1000 [m]
}

// Validate reports fields out of range.
func (b Belt) Validate() error {
	var f input.Faults
	f.Between("frame.Belt.Specific", b.Specific, 100, 1e9, "N")
	f.Between("frame.Belt.Direct", b.Direct, 1e-3, 1000, "m")
	f.Between("frame.Belt.Around", b.Around, 1e-3, 1000, "m")
	return f.Err()
}

// Stiffness returns force ÷ motion of the carriage, the driven pulley held [N/m]:
// EA/Direct + EA/Around while both spans are taut, and taut, with the slack one
// gone, EA/Direct or EA/Around of the span that pulls, the softer being told. Teeth
// in mesh, pulleys, shafts and the motor's own field come in series: [Series]. It
// errs on a belt out of range.
//
// Hooke's law, the spans as springs side by side; belt makers' manuals give the same,
// common practice, no source. Specific stiffness is taken as constant; it is not quite, under load.
func (b Belt) Stiffness() (both, slack float64, err error) {
	if err := b.Validate(); err != nil {
		return 0, 0, err
	}
	direct, around := b.Specific/b.Direct, b.Specific/b.Around
	return direct + around, min(direct, around), nil
}

// SlackForce returns the force along the belt on the carriage that lets a span go slack,
// the lesser of both ways, from a tension at rest of 0 to 1e6 [N]: T·(1 + shorter ÷
// longer span), between T and 2T [N]. It errs on arguments out of range.
//
// The force x·(k1 + k2) at the motion x = T/k1 that slackens the shorter span, by hand.
func (b Belt) SlackForce(tension float64) (float64, error) {
	var f input.Faults
	f.Add(b.Validate())
	f.Between("frame.Belt.SlackForce: tension", tension, 0, 1e6, "N")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return tension * (1 + min(b.Direct, b.Around)/max(b.Direct, b.Around)), nil
}

// Series returns the stiffness of springs one behind the other, such as belt, rail
// block and frame below, 1 / Σ(1/k), of 1 to 1000 each 1e-6 to 1e15 [N/m, or N·m/rad
// all]. It errs on others.
func Series(stiffness ...float64) (float64, error) {
	if err := springs("frame.Series", stiffness); err != nil {
		return 0, err
	}
	sum := 0.0
	for _, k := range stiffness {
		sum += 1 / k
	}
	return 1 / sum, nil
}

// Parallel returns the stiffness of springs side by side, such as the blocks of a
// rail, Σk, of 1 to 1000 each 1e-6 to 1e15 [N/m, or N·m/rad all]. It errs on others.
func Parallel(stiffness ...float64) (float64, error) {
	if err := springs("frame.Parallel", stiffness); err != nil {
		return 0, err
	}
	sum := 0.0
	for _, k := range stiffness {
		sum += k
	}
	return sum, nil
}

// PairTurn returns the stiffness against turning of two equal springs of 1e-6 to 1e15
// [N/m], such as rail blocks, a spacing of 0 to 100 [m] apart: k·spacing²/2, by hand,
// for [EndStiffness.Roll] and [Gantry.Seat] [N·m/rad]. It errs on arguments out of range.
func PairTurn(stiffness, spacing float64) (float64, error) {
	var f input.Faults
	f.Between("frame.PairTurn: stiffness", stiffness, 1e-6, mostStiffness, "N/m")
	f.Between("frame.PairTurn: spacing", spacing, 0, 100, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return stiffness * spacing * spacing / 2, nil
}

func springs(name string, stiffness []float64) error {
	var f input.Faults
	f.Count(name+": springs", len(stiffness), 1, 1000)
	for _, k := range stiffness {
		f.Between(name+": stiffness", k, 1e-6, mostStiffness, "N/m or N·m/rad")
	}
	return f.Err()
}
