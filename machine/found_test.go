package machine

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom/motion"
)

// What a part is cut from stands where probing found the part, and so does what stands
// on it; nothing else moves. By hand: the stock's zero is at (25, 25, 300), the part's 40
// above. Turned by 90 degrees about the part's zero and shifted by (1, 2, 3), the corner
// (40, 30, 40) of the stock, 40 and 30 from the line, goes to (25 - 30 + 1, 25 + 40 + 2, 343).
func TestFound(t *testing.T) {
	more := block + "at = [0, 0, 40]\n[[probed]]\npart = \"block\"\nshift = [1, 2, 3]\nskew = [0, 0, 90]\n" +
		"[[place]]\nname = \"cap\"\ncomponent = \"stock.toml\"\non = \"stock\"\nat = [0, 0, 40]\nwithin = 0\n"
	s := cutting(t, more).load(t)
	drawn := s.Drawn()
	var zero motion.Params
	stock, cap, vise := s.body(t, "stock"), s.body(t, "cap"), s.body(t, "vise/fixed jaw")
	pose := s.Pose(stock, zero)
	near(t, "corner", pose.Point(vec(40, 30, 40)), vec(-4, 67, 343), 1e-12)
	pose = s.Pose(cap, zero)
	near(t, "cap", pose.Point(vec(40, 30, 0)), vec(-4, 67, 343), 1e-12)
	near(t, "part", s.Parts[0].Chain.Pose(zero).T, vec(26, 27, 343), 1e-12)
	near(t, "drawn part", drawn.Parts[0].Chain.Pose(zero).T, vec(25, 25, 340), 0)
	near(t, "drawn stock", drawn.Pose(stock, zero).T, vec(25, 25, 300), 0)
	if s.Pose(vise, zero) != drawn.Pose(vise, zero) || s.Bodies[vise].Drawn != nil {
		t.Error("the vise moved")
	}
	// The turn of A and C is the machine's, not the part's: all goes round together.
	at := s.params(t, map[string]float64{"A": 90, "C": 90})
	pose = s.Pose(stock, at)
	carried := s.Pose(vise, at)
	back := s.Pose(vise, zero)
	back = back.Inverse()
	near(t, "carried", pose.Point(vec(40, 30, 40)), carried.Point(back.Point(vec(-4, 67, 343))), 1e-9)
	if drawn.Drawn() != drawn {
		t.Error("what is drawn is drawn again")
	}
}

// A part is found where what holds it allows it, or a warning says that it is not. The
// example's stock stands within 0.1, and its seats have some hundredths of play.
func TestFoundTooFar(t *testing.T) {
	for shift, warned := range map[string]bool{"[0.1, 0, 0]": false, "[0, 0, -0.1]": false, "[9, 0, 0]": true} {
		s := cutting(t, block+"at = [0, 0, 40]\n[[probed]]\npart = \"block\"\nshift = "+shift+"\n").load(t)
		if got := s.warned("what holds it allows"); got != warned {
			t.Errorf("%s: %q", shift, s.Warnings)
		}
	}
	// Turned by a degree: the corner, 50 away, is 0.87 off.
	if s := cutting(t, block+"[[probed]]\npart = \"block\"\nskew = [0, 0, 1]\n").load(t); !s.warned("what holds it allows") {
		t.Errorf("%q", s.Warnings)
	}
}

// Of two parts of one place each is where it was found, the solid where the first was; one
// that was not probed stays where it is drawn.
func TestFoundTwice(t *testing.T) {
	two := "\n[[part]]\nname = \"left\"\nplace = \"stock\"\n[[part]]\nname = \"right\"\nplace = \"stock\"\nat = [20, 0, 0]\n"
	left := "[[probed]]\npart = \"left\"\nshift = [0, 0, 0.01]\n"
	right := "[[probed]]\npart = \"right\"\nshift = [0, 0, 0.02]\n"
	var zero motion.Params
	height := func(s *Setup) []float64 {
		list := []float64{s.Pose(s.body(t, "stock"), zero).T.Z, s.Parts[0].Chain.Pose(zero).T.Z, s.Parts[1].Chain.Pose(zero).T.Z}
		for i := range list {
			list[i] = math.Round((list[i]-300)*1e6) / 1e6
		}
		return list
	}
	if s := cutting(t, two+left+right).load(t); !s.warned("both probed") || !slices.Equal(height(s), []float64{0.01, 0.01, 0.02}) {
		t.Errorf("%v, warnings %q", height(s), s.Warnings)
	}
	if s := cutting(t, two+right).load(t); !s.warned("was not probed itself") || !slices.Equal(height(s), []float64{0.02, 0, 0.02}) {
		t.Errorf("%v, warnings %q", height(s), s.Warnings)
	}
}

func (s *Setup) warned(words string) bool {
	return strings.Contains(strings.Join(s.Warnings, "\n"), words)
}
