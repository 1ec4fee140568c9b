package thermal

import (
	"fmt"
	"math"
	"slices"

	"meltflight/internal/input"
)

// Warming is the course of a network's temperatures.
type Warming struct {
	Times        []float64   // as asked for [s]
	Temperatures [][]float64 // then, of every node [K]
	Steps        int         // taken, those refused not counted
}

// Warm follows a network from Start, at time 0, to each of the times asked for, rising, above
// 0 to 1e12 [s], with the error of each step held to a tolerance, 1e-10 to 10 [K].
//
// Method: RODAS of order 4(3), stable however stiff (E. Hairer and G. Wanner, Solving
// Ordinary Differential Equations II, 2nd ed. (1996), IV.7 and the authors' program, coefficients
// from memory; their order is held by a test). Laws that bend sharply and sources that
// jump shorten its steps, but a pulse that begins and ends within one step is passed over, and nothing
// tells of it: each time asked for ends a step, so ask for those at which sources jump. For a duty of
// blocks see [Network.Duty]. A linear network is exact by [Network.Modes].
//
// It errs on invalid input, and with [ErrNoBalance] where a part runs away, beyond 1e5 K, is
// drained to 0 K, or is asked for more steps than 2 million.
func (n Network) Warm(times []float64, tolerance float64) (Warming, error) {
	var f input.Faults
	n.check(&f)
	f.Between("thermal.Network.Warm: tolerance", tolerance, 1e-10, 10, "K")
	f.Count("thermal.Network.Warm: times", len(times), 1, 1e6)
	last := 0.0
	for i, t := range times {
		if !(t > last && t <= 1e12) {
			f.Refuse(fmt.Sprintf("thermal.Network.Warm: times[%d]", i), t, "s", "above the one before, "+input.WithUnit(last, "s")+", to 1e+12 s")
			break
		}
		last = t
	}
	if err := f.Err(); err != nil {
		return Warming{}, err
	}
	s := n.stepper(tolerance)
	w := Warming{Times: slices.Clone(times)}
	for _, t := range times {
		if err := s.to(t); err != nil {
			return Warming{}, err
		}
		w.Temperatures = append(w.Temperatures, s.all())
	}
	w.Steps = s.steps
	return w, nil
}

// stepper carries a network through time.
type stepper struct {
	*balance
	tolerance float64
	time      float64
	x         []float64 // temperatures of the free nodes
	step      float64   // that will be tried next [s]
	steps     int

	timed         bool // a source hangs on time
	u             [6][]float64
	next, at, now []float64
	drift         []float64 // of the surplus with time [W/s]
}

func (n *Network) stepper(tolerance float64) *stepper {
	s := &stepper{balance: n.balance(), tolerance: tolerance}
	size := len(s.free)
	vectors := make([]float64, 11*size)
	cut := func() []float64 {
		v := vectors[:size:size]
		vectors = vectors[size:]
		return v
	}
	s.x, s.next, s.at, s.now, s.drift = cut(), cut(), cut(), cut(), cut()
	for i := range s.u {
		s.u[i] = cut()
	}
	for p, i := range s.free {
		s.x[p] = n.Nodes[i].Start
		s.timed = s.timed || n.Nodes[i].Heat != nil
	}
	return s
}

const mostSteps = 2_000_000

// Coefficients of RODAS.
const rodasGamma = 0.25

var (
	rodasStage = [6][5]float64{
		{},
		{1.544},
		{0.9466785280815826, 0.2557011698983284},
		{3.314825187068521, 2.896124015972201, 0.9986419139977817},
		{1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950},
		{1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1},
	}
	rodasBefore = [6][5]float64{
		{},
		{-5.6688},
		{-2.430093356833875, -0.2063599157091915},
		{-0.1073529058151375, -9.594562251023355, -20.47028614809616},
		{7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160},
		{8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054},
	}
	rodasTime  = [6]float64{0, 0.386, 0.21, 0.63, 1, 1}
	rodasDrift = [6]float64{0.25, -0.1043, 0.1035, -0.0362, 0, 0}
)

// to goes on to a time.
func (s *stepper) to(end float64) error {
	if s.step == 0 {
		s.surplus(s.time, s.x, s.now)
		s.step = end
		for p, i := range s.free { // so long that nothing changes by more than a little
			s.step = math.Min(s.step, math.Max(1e-12, 1e-2*s.Nodes[i].Capacity*math.Max(s.tolerance, 1e-3)/math.Max(1e-30, math.Abs(s.now[p]))))
		}
	}
	for s.time < end {
		h := math.Min(s.step, end-s.time)
		if end-s.time < 1.5*h { // rather two even steps than a long and a tiny one
			h = math.Min(h, math.Max(end-s.time, h/2))
		}
		wrong, ok := s.attempt(h)
		switch {
		case !ok:
			s.step = h / 4
		case wrong <= 1:
			if h >= end-s.time {
				s.time = end
			} else {
				s.time += h
			}
			s.x, s.next = s.next, s.x
			s.steps++
			if hottest := slices.Max(s.x); hottest > 1e5 {
				return s.runsAway(s.x)
			}
			grow := math.Min(5, 0.9*math.Pow(math.Max(wrong, 1e-8), -0.25))
			if h < s.step && grow < 1 || h >= s.step {
				s.step = h * grow
			}
		default:
			s.step = h * math.Max(0.2, 0.9*math.Pow(wrong, -0.25))
		}
		if !(s.step > 1e-14*math.Max(1e-9, s.time)) { // NaN too
			return s.runsAway(s.x)
		}
		if s.steps > mostSteps {
			return fmt.Errorf("%w: %d steps do not reach %.4g s, of %.4g s; a source or law changes too quickly for the tolerance", ErrNoBalance, mostSteps, end, s.time)
		}
	}
	return nil
}

// attempt computes a step; wrong is its error over the tolerance.
func (s *stepper) attempt(h float64) (wrong float64, ok bool) {
	s.jacobian(s.time, s.x, 1/(rodasGamma*h))
	if !s.lu.factor() {
		return 0, false
	}
	if s.timed {
		d := math.Max(1e-6*h, 1e-10*s.time)
		s.surplus(s.time, s.x, s.now)
		s.surplus(s.time+d, s.x, s.drift)
		for p := range s.drift {
			s.drift[p] = (s.drift[p] - s.now[p]) / d
		}
	}
	for k := range s.u {
		copy(s.at, s.x)
		for j := range k {
			if a := rodasStage[k][j]; a != 0 {
				for p := range s.at {
					s.at[p] += a * s.u[j][p]
				}
			}
		}
		u := s.u[k]
		s.surplus(s.time+rodasTime[k]*h, s.at, u)
		for p, i := range s.free {
			before := 0.0
			for j := range k {
				before += rodasBefore[k][j] * s.u[j][p]
			}
			u[p] += s.Nodes[i].Capacity * before / h
			if s.timed {
				u[p] += rodasDrift[k] * h * s.drift[p]
			}
		}
		s.lu.solve(u)
	}
	for p := range s.next {
		s.next[p] = s.at[p] + s.u[5][p]
		e := math.Abs(s.u[5][p])
		if !(e <= wrong*s.tolerance) { // NaN too
			wrong = e / s.tolerance
		}
		if !(s.next[p] > 0) {
			return 0, false
		}
	}
	return wrong, !math.IsNaN(wrong)
}

// all returns the temperatures of every node.
func (s *stepper) all() []float64 {
	for p, i := range s.free {
		s.temp[i] = s.x[p]
	}
	return slices.Clone(s.temp)
}
