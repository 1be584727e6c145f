package machine

import (
	"testing"

	"gridswing/geom/motion"
)

// Whoever leads a tool leaves U, V, W and what is still to be chosen where they are.
func TestKinematicAxesHold(t *testing.T) {
	s := &Setup{Axes: []Axis{
		{Letter: "X", Kind: motion.Linear, Travel: [2]float64{-1, 2}, Home: 1}, {Letter: "W", Kind: motion.Linear}, {Letter: "U2", Kind: motion.Linear},
		{Letter: "C", Kind: motion.Rotary}, {Letter: "riser", Kind: motion.Linear, Free: true},
	}}
	list := s.KinematicAxes()
	for k, want := range []bool{false, true, true, false, true} {
		if list[k].Hold != want || list[k].Kind != s.Axes[k].Kind {
			t.Errorf("%s: %+v", s.Axes[k].Letter, list[k])
		}
	}
	if x := list[0]; x.Lo != -1 || x.Hi != 2 || x.Home != 1 {
		t.Errorf("%+v", x)
	}
}
