package reach

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// keyed gives the shop's control a method, and its part what probing found.
func (s shop) keyed(method, shift, skew string) shop {
	s["machine.toml"] += "offsets = { method = \"" + method + "\", lengths = \"absolute\" }\n"
	return s.more("\n[[probed]]\npart = \"part\"\nshift = " + shift + "\nskew = " + skew + "\n")
}

// A drill of 8 mm at x 36, beside a clamp from x 45 on: 5 mm between them, by hand. With
// the part found 9 mm towards it the drill goes into the clamp; found 9 mm away, 14 are left.
func TestFoundElsewhere(t *testing.T) {
	for _, c := range []struct {
		shift string
		met   bool
	}{{"[0, 0, 0]", false}, {"[9, 0, 0]", true}, {"[-9, 0, 0]", false}} {
		s := newShop().box(t, "clamp", "unit/faceplate", 45, -10, 185, 55, 10, 222, 0).
			edit(t, "tools.toml", "stick_out = 50", "stick_out = 70").
			edit(t, "tools.toml", "APMX = 40, DMM = 8, OAL = 80", "APMX = 60, DMM = 8, OAL = 110").
			hole("drill", 2, "[36, 0, 0]", "[0, 0, 1]", 10).keyed("per-position", c.shift, "[0, 0, 0]")
		_, r := s.check(t)
		if !strings.Contains(strings.Join(r.Assumed, "\n"), "part part stands where probing found it") {
			t.Errorf("assumed: %q", r.Assumed)
		}
		f := met(r, "drill", "T2 cutting part", "clamp")
		if got := f != nil && f.Verdict == check.Contact; got != c.met {
			t.Errorf("found at %s: contact is %v\n%s", c.shift, got, summary(r))
		}
		if warned := strings.Contains(strings.Join(r.Warnings, "\n"), "what holds it allows"); warned != (c.shift != "[0, 0, 0]") {
			t.Errorf("found at %s: warnings %q", c.shift, r.Warnings)
		}
	}
}

// Of a part that was found turned, the foremost point comes to where the control sends it,
// worked out here from the bodies: the part's zero as found, and from there straight on in
// the directions that the program is written in, at the rotary position with what is keyed
// in. Rotary positions that are told are those of the program.
func TestFoundTurned(t *testing.T) {
	tip := r3.Vector{X: 30, Y: 10, Z: -10}
	for _, method := range []string{"per-position", "turned-by-control"} {
		for _, skew := range []r3.Vector{{Z: 0.3}, {X: 0.2}, {Y: 0.2}, {X: 0.1, Y: -0.2, Z: 0.3}} {
			for _, axis := range []string{"[0, 0, 1]", "[0, -1, 0]"} {
				name := fmt.Sprintf("%s, skew %v, along %s", method, skew, axis)
				s := newShop().hole("drill", 2, "[30, 10, 0]", axis, 10).
					keyed(method, "[0.5, -0.4, 0.3]", fmt.Sprintf("[%g, %g, %g]", skew.X, skew.Y, skew.Z)).load(t)
				c := &checker{setup: s, options: Options{}.Ready(DefaultTests)}
				c.trees = c.options.Trees
				c.prepare()
				c.present()
				for _, cand := range c.stops[0].candidates {
					if cand.way == nil {
						if cand.fault == "" {
							t.Errorf("%s: %+v", name, cand)
						}
						continue
					}
					program := cand.programmed()
					want := tip
					if axis != "[0, 0, 1]" {
						want = r3.Vector{X: 30, Y: 10 + 10}
					}
					// Along the tool's axis, in the program's directions.
					drawn := s.Parts[0].Drawn.Pose(program)
					spindle := s.Spindle.Chain.Pose(program)
					if a := spindle.Dir(r3.Vector{Z: 1}).Angle(drawn.Dir(c.stops[0].feature.Axes[0])); a > 1e-9 {
						t.Errorf("%s: the program's position is off by %v", name, a)
					}
					gauge := s.Spindle.Chain.Pose(cand.way.deep)
					tool := gauge.Point(r3.Vector{Z: -s.Tools[1].LPR()})
					off := tool.Sub(s.Parts[0].Chain.Pose(cand.way.deep).T).Sub(drawn.Dir(want))
					for k := range s.Axes {
						if s.Axes[k].Kind == motion.Linear {
							if d := math.Abs(off.Dot(s.Axes[k].Direction)); d > cand.way.cut[0].within[k]+1e-4 {
								t.Errorf("%s: %s is %g off, %g charged", name, s.Axes[k].Letter, d, cand.way.cut[0].within[k])
							}
						}
					}
				}
			}
		}
	}
	// About Z the face turns with C, and nothing is left to be charged.
	s := newShop().hole("drill", 2, "[30, 10, 0]", "[0, 0, 1]", 10).keyed("per-position", "[0, 0, 0]", "[0, 0, 0.3]")
	_, r := s.check(t)
	f := operation(t, r, "drill").Features[0]
	for _, at := range f.Presented[0].At {
		nearly(t, "programmed "+at.Axis, at.Value, 0, 1e-9)
	}
	if f.Verdict != check.Clear {
		t.Errorf("%v %s", f.Verdict, f.Reason)
	}
}

// What is keyed in for a part that was found turned is not added again from feature to feature: where the
// program need not turn anything, it does not.
func TestFoundTurnedStaysWhereItIs(t *testing.T) {
	s := newShop().hole("first", 2, "[30, 10, 0]", "[0, 0, 1]", 10).hole("second", 2, "[-30, 10, 0]", "[0, 0, 1]", 10).hole("third", 2, "[0, 10, 0]", "[0, 0, 1]", 10).
		keyed("per-position", "[0, 0, 0]", "[0, 0, 0.3]")
	_, r := s.check(t)
	for _, name := range []string{"first", "second", "third"} {
		for _, at := range operation(t, r, name).Features[0].Presented[0].At {
			nearly(t, name+", programmed "+at.Axis, at.Value, 0, 1e-9)
		}
	}
}
