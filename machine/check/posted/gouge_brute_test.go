package posted

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/internal/shoptest"
	"gridswing/machine/program"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// TestNoGougeIsMissed runs random programs with all five axes over a block of which a smaller one is to be left, and beside
// them, by samples, points of that through the cutter. Where one is in it that is so deep that going as far as is
// allowed along the tool and square to it, which by Pythagoras is 1.41 times as far, does not bring it out, the line must
// be told of; and where a line is told of, some point must be in it.
func TestNoGougeIsMissed(t *testing.T) {
	deep, clear := 0, 0
	n := several(16)
	for seed := range uint64(n) {
		r := rand.New(rand.NewPCG(seed, 55))
		within := []float64{0.02, 0.05, 0.3, 1}[r.IntN(4)]
		lo := r3.Vector{X: -35 + 10*r.Float64(), Y: -25 + 10*r.Float64(), Z: -40}
		hi := r3.Vector{X: 35 - 10*r.Float64(), Y: 25 - 10*r.Float64(), Z: -3 - 12*r.Float64()}
		files := cutShop()
		files["finished.stl"] = shoptest.Box(lo.X, lo.Y, lo.Z, hi.X, hi.Y, hi.Z)
		shoptest.Edit(t, files, "setup.toml", "at = [0, 0, 40] }",
			fmt.Sprintf("at = [0, 0, 40], finished = \"finished.stl\", finished_chord_error = 0, gouge_within = %g }", within))
		s := shoptest.Load(t, files, "setup.toml")
		p := randomProgram(r, s)
		report, _ := p.run(t, Options{Cell: 2, NoRemaining: true})
		told, alone := map[int]bool{}, map[int]bool{}
		for _, f := range report.Findings {
			if f.Question != check.Gouging {
				continue
			}
			from, to := f.Line, f.Line
			if i := strings.Index(f.Reason, "moves, line "); i >= 0 {
				_, _ = fmt.Sscanf(f.Reason[i:], "moves, line %d to line %d", &from, &to)
			}
			for line := from; line <= to; line++ {
				told[line] = true
			}
			alone[f.Line] = f.Verdict == check.Contact
		}
		points := pointsIn(r, lo, hi, math.Sqrt2*within+0.005)
		for i := range p.steps {
			st := &p.steps[i]
			if st.Kind != program.Feed {
				continue
			}
			is := told[st.Place.Line]
			switch in := anyCut(s, st, points); {
			case in && !is:
				t.Errorf("seed %d: line %d goes more than %g deep, nothing told", seed, st.Place.Line, within)
			case in:
				deep++
			case alone[st.Place.Line] && !anyCut(s, st, pointsIn(r, lo, hi, within)):
				t.Errorf("seed %d: line %d is told to go more than %g deep", seed, st.Place.Line, within)
			case !is:
				clear++
			}
		}
	}
	if min(deep, clear) < n {
		t.Errorf("%d moves go too deep, %d do not", deep, clear)
	}
}

// pointsIn are points that are so deep in a box, half of them hardly deeper.
func pointsIn(r *rand.Rand, lo, hi r3.Vector, depth float64) (points []r3.Vector) {
	in := r3.Vector{X: depth, Y: depth, Z: depth}
	lo, hi = lo.Add(in), hi.Sub(in)
	for i := range 30000 {
		p := r3.Vector{X: lo.X + (hi.X-lo.X)*r.Float64(), Y: lo.Y + (hi.Y-lo.Y)*r.Float64(), Z: hi.Z - 25*r.Float64()*r.Float64()}
		switch i % 6 {
		case 0:
			p.X = lo.X
		case 1:
			p.Y = hi.Y
		case 2:
			p.Z = hi.Z
		}
		points = append(points, p)
	}
	return points
}

// anyCut reports whether a cutting part has any of the points in it, at samples of a step.
func anyCut(s *machine.Setup, st *program.Step, points []r3.Vector) bool {
	tool := toolNumbered(s, st.Tool)
	c, tip := tool.Cutter, -tool.LPR()
	seen := motion.Between(s.Spindle.Chain, s.Parts[0].Chain)
	for _, l := range st.Legs {
		for n := range samples {
			at := l.From
			for k := range at {
				at[k] += (l.To[k] - l.From[k]) * float64(n) / (samples - 1)
			}
			pose := seen.Pose(at)
			for _, p := range points {
				q := pose.Point(p)
				low, r2 := tip, q.X*q.X+q.Y*q.Y
				if c.Kind == tooling.BallEndMill {
					low += c.DC / 2
				}
				ball := c.Kind == tooling.BallEndMill && r2+(q.Z-low)*(q.Z-low) < c.DC*c.DC/4
				if ball || low < q.Z && q.Z < tip+c.APMX && r2 < c.DC*c.DC/4 {
					return true
				}
			}
		}
	}
	return false
}
