package reach

import (
	"fmt"
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"

	"github.com/golang/geo/r3"
)

// stop is a feature of an operation, in the order in which the machine gets there.
type stop struct {
	operation  int // index into Setup.Operations
	op         *machine.Operation
	feature    *machine.Feature
	candidates []*candidate // the one that seems best first
	chosen     *candidate
	unsure     string // why the first one is not the first at every height of a spacer, "" if it is
}

// candidate is a rotary position that presents a feature, or would if it could.
type candidate struct {
	rotary   motion.Params // the rotary axes' entries count
	turned   motion.Params // what of it is added to the program, for a part found turned
	askew    float64       // rad, by which the part stays turned there
	miss     float64       // rad, by which the tool's axis is off
	free     int           // an axis that may stand anywhere, -1
	side     int           // of the pivot, on which a contour is to begin; 0: either
	fault    string        // why the tool cannot be sent there at all
	doubt    string        // why nothing can be proven there
	beyond   []check.Travel
	way      *way      // nil with a fault
	screened *screened // what is known of the whole group
	tally    *tally    // in brief: the least room there, or in what was looked at before
	travel   []check.Travel
	meets    []meeting
	verdict  check.Verdict
	why      string
}

// tilts reports whether the tool's axis changes along the feature.
func (st *stop) tilts() bool {
	axes := st.feature.Axes
	return slices.ContainsFunc(axes[1:], func(a r3.Vector) bool { return a != axes[0] })
}

const skewedContour = "the part was found turned, and what becomes of a contour then is not looked at"

// missed is by how much, in rad, a tool's axis may be off without being called
// off: positions are keyed in to 0.001 degrees, of two axes.
const missed = 0.0015 * math.Pi / 180

// present lists the features in order, with the rotary positions that present
// each, those first that need the least turning.
func (c *checker) present() {
	near := home(c.setup)
	for i := range c.setup.Operations {
		op := &c.setup.Operations[i]
		for k := range op.Features {
			st := &stop{operation: i, op: op, feature: &op.Features[k]}
			c.stops = append(c.stops, st)
			c.candidates(st, near)
			if best := st.candidates[0]; best.way != nil {
				near = minus(best.way.leave, best.turned) // where the program has them: what is keyed in is added anew
			}
		}
	}
}

// candidates finds the rotary positions for a stop. There is always at least one;
// where none presents the feature it has a fault.
func (c *checker) candidates(st *stop, near motion.Params) {
	solver, drawn := c.solvers[st.op.Part], c.drawn[st.op.Part]
	if solver == nil {
		st.candidates = []*candidate{{free: -1, rotary: near, doubt: c.faults[st.op.Part]}}
		return
	}
	if st.tilts() {
		// A contour finds its own way among all positions.
		for _, p := range st.op.Positions {
			near[p.Axis] = p.Value
		}
		st.candidates = []*candidate{{free: -1, rotary: near}}
		if c.skewed(st) {
			st.candidates[0].doubt = skewedContour
		}
		c.lead(st, st.candidates[0], solver)
		return
	}
	axis := st.feature.Axes[0]
	for _, s := range drawn.Present(axis, near) {
		cand := &candidate{rotary: s.Position, miss: s.Miss, free: s.Free}
		c.settle(cand, drawn, s, near)
		st.candidates = append(st.candidates, cand)
	}
	if len(st.op.Positions) > 0 {
		st.candidates = c.stated(st, drawn, near)
	}
	for _, cand := range st.candidates {
		c.turn(st, cand)
		c.lead(st, cand, solver)
		c.widen(st, cand)
	}
	slices.SortStableFunc(st.candidates, func(a, b *candidate) int {
		if x, y := a.promise(), b.promise(); x != y {
			return x - y
		}
		return cmpFloat(c.turning(near, a.rotary), c.turning(near, b.rotary))
	})
	c.alwaysFirst(st, func(a *candidate) float64 { return c.turning(near, a.rotary) })
}

// What can be promised of a candidate, the best first.
const (
	promising = iota
	narrow    // less travel is left than is demanded
	beyondTravel
	impossible
)

// promise sorts candidates by what is known of them before anything is swept.
func (a *candidate) promise() int {
	worst := check.Clear
	for i := range a.travel {
		if v := travelVerdict(&a.travel[i]); v.Worse(worst) {
			worst = v
		}
	}
	switch {
	case a.way == nil:
		return impossible
	case worst == check.OverTravel:
		return beyondTravel
	case worst != check.Clear:
		return narrow
	}
	return promising
}

// turning is how far the rotary axes have to turn, in rad.
func (c *checker) turning(from, to motion.Params) (sum float64) {
	for k := range c.setup.Axes {
		if c.setup.Axes[k].Kind == motion.Rotary {
			sum += math.Abs(to[k] - from[k])
		}
	}
	// Far below anything that matters, so that equal turns are equal.
	return math.Round(sum*1e9) / 1e9
}

// settle puts a solution where the axes can go, nearest to where they stand, or
// says why they cannot.
func (c *checker) settle(cand *candidate, solver *kinematics.Machine, s kinematics.Solution, near motion.Params) {
	if s.Miss > missed {
		cand.fault = fmt.Sprintf("no rotary position presents it: the nearest one misses by %.3f deg", degrees(s.Miss))
		return
	}
	if turns := solver.Turns(s, near); len(turns) > 0 {
		cand.rotary = turns[0]
		return
	}
	cand.beyond = c.beyond(cand.rotary)
	for i := range cand.beyond {
		t := &cand.beyond[i]
		cand.fault = fmt.Sprintf("%s would have to stand at %s, %s beyond its travel", t.Axis, angle(t.Position), excessAngle(-t.Margin))
	}
	if cand.fault == "" {
		cand.fault = "no turn of the rotary axes is within their travel"
	}
}

// beyond lists the rotary axes that a position asks beyond their travel.
func (c *checker) beyond(p motion.Params) (list []check.Travel) {
	for k := range c.setup.Axes {
		a := &c.setup.Axes[k]
		if a.Kind != motion.Rotary || a.Unlimited {
			continue
		}
		limit := math.Min(math.Max(p[k], a.Travel[0]), a.Travel[1])
		if excess := math.Abs(p[k] - limit); excess > 1e-9 {
			list = append(list, check.Travel{
				Axis: a.Letter, Position: degrees(p[k]), Limit: degrees(limit), Margin: -degrees(excess),
			})
		}
	}
	return list
}

// stated keeps of the candidates those at the positions that the operation
// states; if there is none, it says by how much what is stated misses.
func (c *checker) stated(st *stop, solver *kinematics.Machine, near motion.Params) (kept []*candidate) {
	for _, cand := range st.candidates {
		fits := cand.miss <= missed
		at := cand.rotary
		for _, p := range st.op.Positions {
			off := math.Abs(math.Remainder(cand.rotary[p.Axis]-p.Value, 2*math.Pi))
			fits = fits && (off <= missed || cand.free == p.Axis || !solver.Moves(p.Axis))
			at[p.Axis] = p.Value
		}
		if fits {
			cand.rotary, cand.fault, cand.free = at, "", -1
			if cand.beyond = c.beyond(at); len(cand.beyond) > 0 {
				t := &cand.beyond[0]
				cand.fault = fmt.Sprintf("%s is stated to stand at %s, %s beyond its travel", t.Axis, angle(t.Position), excessAngle(-t.Margin))
			}
			kept = append(kept, cand)
		}
	}
	if len(kept) > 0 {
		return kept[:1]
	}
	at := near
	for _, p := range st.op.Positions {
		at[p.Axis] = p.Value
	}
	_, axis := solver.Forward(at, 0)
	miss := float64(axis.Angle(st.feature.Axes[0]))
	return []*candidate{{rotary: at, miss: miss, free: -1,
		doubt: fmt.Sprintf("the position that the operation states does not present it: the tool's axis is off by %.3f deg", degrees(miss))}}
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// angle prints degrees to 0.001.
func angle(deg float64) string { return fmt.Sprintf("%.3f deg", deg) }

// excessAngle prints by how many degrees a limit is passed, which never reads as none.
func excessAngle(deg float64) string {
	if deg < 0.001 {
		return "less than 0.001 deg"
	}
	return angle(deg)
}

func cmpFloat(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// stockTop is how high the uncut part reaches along an axis of its own, in mm from
// its zero.
func (c *checker) stockTop(part int, axis r3.Vector) float64 {
	key := top{part, axis}
	if h, known := c.tops[key]; known {
		return h
	}
	p := &c.setup.Parts[part]
	high := math.Inf(-1)
	back := p.Chain.Pose(motion.Params{}).Inverse()
	for i := range c.setup.Bodies {
		b := &c.setup.Bodies[i]
		if b.Unit != p.Unit {
			continue
		}
		rel := back.Mul(b.Chain.Pose(motion.Params{}))
		along := rel.R.ApplyInverse(axis)
		rest := rel.T.Dot(axis)
		for _, f := range b.Solid.Mesh.Facets {
			for _, v := range f {
				high = math.Max(high, v.Vector().Dot(along)+rest)
			}
		}
		high += b.Solid.ChordError
	}
	c.tops[key] = high
	return high
}
