package thermal

import "meltflight/internal/input"

// Ways are the two by which heat leaves a chip: its top, through glue, to a sink, and its
// belly, through pad and vias, to the board. Both start at the junction and end in the same air.
type Ways struct {
	Top   Path // junction to the case's top, glue, sink to air
	Board Path // junction to the pad, solder and vias, board to air as of [Board.Resistance]
}

// WaysState tells which way the heat takes and how warm that makes what it passes.
type WaysState struct {
	Junction   float64 // [K]
	Case, Sink float64 // on the way by the top [K]
	Pad, Board float64 // on the way by the board [K]
	TopHeat    float64 // [W]
	BoardHeat  float64 // [W]
	PsiTop     float64 // Ψ(JT): junction above the case's top over all of the heat, not a resistance; at most θ(JC) [K/W]
}

// Validate reports the links out of range.
func (w Ways) Validate() error {
	var f input.Faults
	w.check(&f)
	return f.Err()
}

func (w *Ways) check(f *input.Faults) {
	w.Top.check(f)
	w.Board.check(f)
}

// Total returns the resistance of both ways together [K/W], less than either. It checks nothing.
func (w Ways) Total() float64 {
	top, board := w.Top.Total(), w.Board.Total()
	return top * board / (top + board)
}

// Path returns both ways as one, all in SinkToAir: what a [Bridge] asks for.
func (w Ways) Path() (Path, error) {
	if err := w.Validate(); err != nil {
		return Path{}, err
	}
	p := Path{SinkToAir: w.Total()}
	if err := p.Validate(); err != nil {
		return Path{}, err
	}
	return p, nil
}

// At returns how a loss, 0 to 1e6 [W], leaves into air at 200 to 473.15 [K].
func (w Ways) At(loss, ambient float64) (WaysState, error) {
	var f input.Faults
	w.check(&f)
	f.Between("thermal.Ways.At: loss", loss, 0, 1e6, "W")
	checkTemperature(&f, "thermal.Ways.At: ambient", ambient)
	if err := f.Err(); err != nil {
		return WaysState{}, err
	}
	top, board := w.Top.Total(), w.Board.Total()
	share := board / (top + board)
	s := WaysState{TopHeat: loss * share, BoardHeat: loss * (top / (top + board)), PsiTop: w.Top.JunctionToCase * share}
	s.Junction, s.Case, s.Sink = w.Top.Temperatures(s.TopHeat, ambient)
	_, s.Pad, s.Board = w.Board.Temperatures(s.BoardHeat, ambient)
	return s, nil
}
