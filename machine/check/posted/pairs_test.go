package posted

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/program"
)

// found looks for a finding about two bodies that is about a line, or lines around it.
func found(r *check.Report, a, b string) (list []*check.Finding) {
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Bodies == [2]string{a, b} {
			list = append(list, f)
		}
	}
	return list
}

// Against brute force: what samples of the path see to be too near is never clear, and what stays
// well away is.
func TestPairsAgainstSamples(t *testing.T) {
	seeds, clear, not := 60, 0, 0
	if testing.Short() {
		seeds = 15
	}
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 71))
		s := scene(r)
		list := wander(r, 150)
		report := checked(t, s, steps(list), Options{})
		trees := proof.NewTrees()
		for _, pair := range [][2]int{{1, 2}, {1, 3}, {1, 0}, {2, 3}, {0, 2}} {
			a, b := pair[0], pair[1]
			tooNear, wellAway, met := false, true, false
			for i := range list {
				step := &list[i]
				demand := s.Demand.Swing
				if s.Bodies[a].OnTool {
					demand = []float64{program.Rapid: s.Demand.Rapid, program.Feed: s.Demand.Holder, program.Change: s.Demand.Change}[step.Kind]
				}
				d := nearestOn(r, trees, s, a, b, step)
				tooNear = tooNear || d < demand-1e-6
				met = met || d == 0
				wellAway = wellAway && (d > demand+0.5 || step.Legs[0].Box)
			}
			findings := found(report, s.Bodies[a].Name, s.Bodies[b].Name)
			switch {
			case tooNear && len(findings) == 0:
				t.Errorf("seed %d: %s and %s are too near somewhere, but clear", seed, s.Bodies[a].Name, s.Bodies[b].Name)
			case met && findings[0].Verdict != check.Contact:
				t.Errorf("seed %d: %s meets %s, told %v", seed, s.Bodies[a].Name, s.Bodies[b].Name, findings[0].Verdict)
			case len(findings) == 0:
				clear++
			default:
				not++
			}
			for _, f := range findings {
				if f.Verdict == check.Unproven {
					t.Errorf("seed %d: %s and %s: %s", seed, f.Bodies[0], f.Bodies[1], f.Reason)
				}
				// A finding is of a step: what is said of it is seen there again.
				d := nearestOn(r, trees, s, a, b, &program.Step{Legs: []program.Leg{{From: f.Params, To: f.Params}}})
				if f.Verdict == check.Contact && d > 0 || f.Verdict == check.Tight && d > f.Demand+looseness {
					t.Errorf("seed %d: %v of %s and %s at line %d, where %g is between them", seed, f.Verdict, f.Bodies[0], f.Bodies[1], f.Line, d)
				}
			}
		}
	}
	if clear < seeds/3 || not < seeds/3 {
		t.Errorf("hardly anything was tried: %d clear, %d not", clear, not)
	}
}

// A program whose moves are each in many pieces is the same program: the same pairs have the same
// verdicts, and what is found is as near.
func TestPairsOfSplitMoves(t *testing.T) {
	seeds := 25
	if testing.Short() {
		seeds = 8
	}
	for seed := range uint64(seeds) {
		r := rand.New(rand.NewPCG(seed, 73))
		s := scene(r)
		list := wander(r, 40)
		var short []program.Step
		for i := range list {
			whole := &list[i]
			n := 1
			if l := &whole.Legs[0]; whole.Kind == program.Change {
				short = append(short, *whole)
				continue
			} else if !l.Box {
				n = 1 + r.IntN(120)
			}
			for k := range n {
				piece := straight(whole.Kind, 0, whole.Place.Line, lerp(whole, float64(k)/float64(n)), lerp(whole, float64(k+1)/float64(n)))
				piece.Legs[0].Box = whole.Legs[0].Box
				short = append(short, piece)
			}
		}
		one, many := checked(t, s, steps(list), Options{}), checked(t, s, steps(short), Options{})
		if one.Verdict != many.Verdict {
			t.Errorf("seed %d: %v, in pieces %v", seed, one.Verdict, many.Verdict)
		}
		want, got := worst(one), worst(many)
		if !reflect.DeepEqual(want, got) {
			t.Errorf("seed %d: %v, in pieces %v", seed, want, got)
		}
	}
}

func lerp(s *program.Step, share float64) (p motion.Params) {
	l := leg{Leg: s.Legs[0]}
	if share == 1 {
		return l.To
	}
	return l.at(share)
}

// worst is the worst verdict of each pair.
func worst(r *check.Report) map[[2]string]check.Verdict {
	list := map[[2]string]check.Verdict{}
	for i := range r.Findings {
		f := &r.Findings[i]
		if v, known := list[f.Bodies]; !known || f.Verdict.Worse(v) {
			list[f.Bodies] = f.Verdict
		}
	}
	return list
}

// The report is the same for any number of jobs.
func TestJobs(t *testing.T) {
	for seed := range uint64(several(4)) {
		r := rand.New(rand.NewPCG(seed, 79))
		s := scene(r)
		list := wander(r, 9000) // more than a chunk
		one := checked(t, s, steps(list), Options{Options: proof.Options{Jobs: 1}})
		many := checked(t, s, steps(list), Options{Options: proof.Options{Jobs: 5}})
		if !reflect.DeepEqual(one, many) {
			t.Errorf("seed %d: with five jobs it is another report", seed)
		}
	}
}
