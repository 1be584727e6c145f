package machine

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

const block = "\n[[part]]\nname = \"block\"\nplace = \"stock\"\n"

// cutting returns the example with other parts and operations.
func cutting(t testing.TB, text string) world {
	t.Helper()
	w := example(t).uncut(t)
	w["setup.toml"] += text
	return w
}

// drilling is cutting with one operation of T4, a drill of 10 mm with a point of
// 118 degrees, or another tool.
func drilling(t testing.TB, tool int, features string) world {
	t.Helper()
	return cutting(t, block+fmt.Sprintf("[[operation]]\nname = \"op\"\ntool = %d\napproach = 3\nretract = 20\n", tool)+features)
}

// only returns the setup's one feature.
func (s *Setup) only(t testing.TB) Feature {
	t.Helper()
	if len(s.Faulty) > 0 || len(s.Operations) != 1 || len(s.Operations[0].Features) != 1 {
		t.Fatalf("operations %+v, faulty %+v", s.Operations, s.Faulty)
	}
	return s.Operations[0].Features[0]
}

// What the example cuts, as its comments say.
func TestExampleJob(t *testing.T) {
	s := example(t).load(t)
	var got []string
	for _, op := range s.Operations {
		var names []string
		for _, f := range op.Features {
			names = append(names, f.Name)
		}
		got = append(got, fmt.Sprintf("%s: T%d %g %g %v %v", op.Name, s.Tools[op.Tool].Number, op.Approach, op.Retract, names, op.Positions))
	}
	want := []string{
		"face the top: T1 5 25 [face 1] []",
		"drill the corners: T4 3 25 [lower left lower right upper left upper right] []",
		"mill the seat: T2 3 25 [seat rim] []",
		"drill the end: T4 3 40 [hole 1] [{3 1.5707963267948966} {4 1.5707963267948966}]",
		"probe the top: T20 10 40 [touch 1] []",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if len(s.Faulty) > 0 {
		t.Errorf("faulty: %+v", s.Faulty)
	}
	w := example(t)
	if at := w.place(t, "setup.toml", "operation]]\nname = \"mill the seat\""); !strings.HasPrefix(at, s.Operations[2].Where+":") {
		t.Errorf("where %s, want %s", s.Operations[2].Where, at)
	}
	if f := s.Operations[1].Features[1]; f.Where != "holes.csv:3" {
		t.Errorf("where %s", f.Where)
	}
	// By hand: the stock's zero is at (25, 25, 300), the part's 40 above.
	var zero motion.Params
	near(t, "part", s.Parts[0].Chain.Pose(zero).T, vec(25, 25, 340), 0)
	// At A 90, C 90 the end turns up: see the words of the axes.
	pose := s.Parts[0].Chain.Pose(s.params(t, map[string]float64{"A": 90, "C": 90}))
	near(t, "end", pose.Dir(vec(1, 0, 0)), vec(0, 0, 1), 1e-15)
	// (40, 0, -20) of the part is at (65, 25, 320), C turns it to (25, -65, 320)
	// and A, about y 0 and z 220, to (25, 100, 285).
	near(t, "hole", pose.Point(vec(40, 0, -20)), vec(25, 100, 285), 1e-12)
	near(t, "gauge point", s.Spindle.Chain.Pose(zero).T, vec(0, 0, 120), 0)
	if s.Axes[s.Spindle.Axis].Letter != "Z" {
		t.Error("the spindle is not on Z")
	}
	if d := s.Demand; d.Rapid != 2 || d.Approach != 2 || d.Cutting != 0.5 || d.Holder != 1.5 || d.Change != 5 || d.Travel != 1 {
		t.Errorf("demand %+v", d)
	}
}

// Depths worked out by hand. The point of a drill is half of its diameter over
// the tangent of half its angle: 5 / tan 59 = 3.0043 (the trade's rule of thumb
// for 118 degrees is 0.3 of the diameter; Machinery's Handbook, from memory).
func TestHoleDepth(t *testing.T) {
	const point = 3.0043
	for _, c := range []struct {
		tool    int
		hole    string
		old     string // in tools.toml
		new     string
		at, tip r3.Vector
		within  float64
	}{
		{4, `depth = 20` + "\n" + `depth_to = "tip"`, "", "", vec(0, 0, 40), vec(0, 0, 20), 0},
		{4, `depth = 20` + "\n" + `depth_to = "full diameter"`, "", "", vec(0, 0, 40), vec(0, 0, 20-point), 5e-5},
		{4, "depth = 40\nbreakthrough = 2.5\n" + `depth_to = "full diameter"`, "", "", vec(0, 0, 40), vec(0, 0, -2.5-point), 5e-5},
		{4, "depth = 40\nbreakthrough = 2.5\n" + `depth_to = "tip"`, "", "", vec(0, 0, 40), vec(0, 0, -2.5), 1e-12},
		// 140 degrees: 5 / tan 70 = 1.8199.
		{4, `depth = 20` + "\n" + `depth_to = "full diameter"`, "SIG = 118", "SIG = 140", vec(0, 0, 40), vec(0, 0, 20-1.8199), 5e-5},
		// With a flat of 2: 4 / tan 59 = 2.4034.
		{4, `depth = 20` + "\n" + `depth_to = "full diameter"`, "# DCN = 1 ", "DCN = 2 #", vec(0, 0, 40), vec(0, 0, 20-2.4034), 5e-5},
		// Flat ends have none, a rounded corner its radius, a ball half of DC.
		{2, `depth = 20` + "\n" + `depth_to = "full diameter"`, "", "", vec(0, 0, 40), vec(0, 0, 20), 0},
		{2, `depth = 20` + "\n" + `depth_to = "full diameter"`, "DC = 10\nAPMX = 22", "DC = 10\nRE = 1.5\nAPMX = 22", vec(0, 0, 40), vec(0, 0, 18.5), 0},
		{2, `depth = 20` + "\n" + `depth_to = "full diameter"`, `kind = "end mill"`, `kind = "ball end mill"`, vec(0, 0, 40), vec(0, 0, 15), 0},
		// Along another axis, of any length: (3, 0, 4) is 5 long.
		{4, "axis = [3, 0, 4]\ndepth = 10\n" + `depth_to = "tip"`, "", "", vec(40, 0, 20), vec(34, 0, 12), 1e-12},
	} {
		text := fmt.Sprintf("[[operation.hole]]\nat = [%g, %g, %g]\n%s\n", c.at.X, c.at.Y, c.at.Z, c.hole)
		axis := vec(0, 0, 1)
		if !strings.Contains(text, "axis") {
			text += "axis = [0, 0, 1]\n"
		} else {
			axis = vec(0.6, 0, 0.8)
		}
		w := drilling(t, c.tool, text)
		if c.old != "" {
			w = w.with(t, "tools.toml", c.old, c.new)
		}
		f := w.load(t).only(t)
		near(t, c.hole+" "+c.new, f.Tips[0], c.tip, c.within)
		near(t, "axis", f.Axes[0], axis, 1e-15)
		if f.Kind != Hole || len(f.Tips) != 1 || f.Area != nil {
			t.Errorf("%+v", f)
		}
	}
}

// Where the tip goes to cut a box, by hand. T2 is 10 mm wide, T1 50 mm.
func TestAreas(t *testing.T) {
	for _, c := range []struct {
		tool         int
		text         string
		corner, u, v r3.Vector
		depth        float64
	}{
		// A pocket of 30 x 24: the tip keeps 5 mm from each wall.
		{2, "pocket]]\nfrom = [-15, -12, 40]\nto = [15, 12, 32]\naxis = [0, 0, 1]", vec(-10, -7, 40), vec(20, 0, 0), vec(0, 14, 0), 8},
		// Corners in any order.
		{2, "pocket]]\nfrom = [15, -12, 32]\nto = [-15, 12, 40]\naxis = [0, 0, 2]", vec(-10, -7, 40), vec(20, 0, 0), vec(0, 14, 0), 8},
		// The flank passes the edge by 1, or leaves 1.
		{2, "pocket]]\nfrom = [-15, -12, 40]\nto = [15, 12, 32]\naxis = [0, 0, 1]\noverrun = 1", vec(-11, -8, 40), vec(22, 0, 0), vec(0, 16, 0), 8},
		{2, "pocket]]\nfrom = [-15, -12, 40]\nto = [15, 12, 32]\naxis = [0, 0, 1]\noverrun = -1", vec(-9, -6, 40), vec(18, 0, 0), vec(0, 12, 0), 8},
		// As wide as the cutter: it goes along a line.
		{2, "pocket]]\nfrom = [-15, -5, 40]\nto = [15, 5, 32]\naxis = [0, 0, 1]", vec(-10, 0, 40), vec(20, 0, 0), vec(0, 0, 0), 8},
		// A face: the whole of 50 mm passes each edge, by 2 mm more.
		{1, "face]]\nfrom = [-40, -30, 40]\nto = [40, 30, 39]\naxis = [0, 0, 1]\noverrun = 2", vec(-67, -57, 40), vec(134, 0, 0), vec(0, 114, 0), 1},
		// Half of it past each edge is the least that leaves nothing.
		{1, "face]]\nfrom = [-40, -30, 40]\nto = [40, 30, 39]\naxis = [0, 0, 1]\noverrun = -25", vec(-40, -30, 40), vec(80, 0, 0), vec(0, 60, 0), 1},
		// A side: of Y and Z, both square to X, the first is the first side.
		{2, "pocket]]\nfrom = [40, -15, 5]\nto = [36, 15, 25]\naxis = [1, 0, 0]", vec(40, -10, 10), vec(0, 20, 0), vec(0, 0, 10), 4},
		// Turned by the long side (4, 3, 0) / 5: a box from the zero along it is 50
		// long and 25 wide, of which the tip has 40 and 15.
		{2, "pocket]]\nfrom = [0, 0, 40]\nto = [25, 50, 30]\naxis = [0, 0, 1]\nalong = [4, 3, 0]",
			vec(4-3, 3+4, 40), vec(32, 24, 0), vec(-9, 12, 0), 10},
	} {
		f := drilling(t, c.tool, "[[operation."+c.text+"\n").load(t).only(t)
		a := f.Area
		if a == nil || len(f.Tips) > 0 {
			t.Fatalf("%s: %+v", c.text, f)
		}
		near(t, c.text+": corner", a.Corner, c.corner, 1e-12)
		near(t, c.text+": u", a.U, c.u, 1e-12)
		near(t, c.text+": v", a.V, c.v, 1e-12)
		nearly(t, c.text+": depth", a.Depth, c.depth, 1e-12)
		// Whatever the corners, U x V is along the axis.
		if n := a.U.Cross(a.V); n.Dot(f.Axes[0]) < -1e-9 {
			t.Errorf("%s: U x V is %v", c.text, n)
		}
	}
	// With DCX 62 over DC 50 a pocket of 80 x 70 leaves 18 x 8 to the tip, and a face
	// is passed by all of 62.
	for text, want := range map[string]*Area{
		"pocket]]\nfrom = [-40, -35, 40]\nto = [40, 35, 39]":            {Corner: vec(-9, -4, 40), U: vec(18, 0, 0), V: vec(0, 8, 0)},
		"face]]\nfrom = [-40, -30, 40]\nto = [40, 30, 39]\noverrun = 2": {Corner: vec(-73, -63, 40), U: vec(146, 0, 0), V: vec(0, 126, 0)},
	} {
		a := drilling(t, 1, "[[operation."+text+"\naxis = [0, 0, 1]\n").with(t, "tools.toml", "# DCX = 62 ", "DCX = 62 #").load(t).only(t).Area
		near(t, text+": corner", a.Corner, want.Corner, 1e-12)
		near(t, text+": u", a.U, want.U, 1e-12)
		near(t, text+": v", a.V, want.V, 1e-12)
	}
	f := drilling(t, 2, "[[operation.face]]\nname = \"edge\"\npoints = [[0, -40, 39], [0, 40, 39]]\naxis = [0, 0, 1]\n").load(t).only(t)
	if f.Name != "edge" || f.Area != nil || !slices.Equal(f.Tips, []r3.Vector{vec(0, -40, 39), vec(0, 40, 39)}) {
		t.Errorf("%+v", f)
	}
}

func TestContour(t *testing.T) {
	f := drilling(t, 2, `[[operation.contour]]
points = [[0, 0, 40], [10, 0, 40], [20, 0, 39]]
axes = [[0, 0, 1], [0, 3, 4], [0, 1, 0]]
tip_control = false
`).load(t).only(t)
	if f.TipControl || f.Kind != Contour || len(f.Tips) != 3 || len(f.Axes) != 3 {
		t.Fatalf("%+v", f)
	}
	near(t, "axis", f.Axes[1], vec(0, 0.6, 0.8), 1e-15)
	near(t, "tip", f.Tips[2], vec(20, 0, 39), 0)
	w := drilling(t, 2, "[[operation.contour]]\nlist = \"path.csv\"\ntip_control = true\n")
	w["path.csv"] = "x;y;z;i;j;k\r\n0;0;40;0;0;1\r\n10;0;40;0;3;4\r\n"
	f = w.load(t).only(t)
	if !f.TipControl || len(f.Tips) != 2 {
		t.Fatalf("%+v", f)
	}
	near(t, "axis", f.Axes[1], vec(0, 0.6, 0.8), 1e-15)
}

// A probe's ball of 6 mm: where its foremost point is when it touches, by hand.
func TestTouch(t *testing.T) {
	for _, c := range []struct{ at, axis, toward, tip, search r3.Vector }{
		// Down onto a face: the foremost point goes to the point itself.
		{vec(30, 0, 40), vec(0, 0, 1), vec(0, 0, -1), vec(30, 0, 48), vec(0, 0, -11)},
		// Against a wall: the ball's centre stays half of 6 before it, the foremost
		// point is 3 below that. It begins 8 before that.
		{vec(40, 0, 20), vec(0, 0, 1), vec(-2, 0, 0), vec(51, 0, 17), vec(-11, 0, 0)},
	} {
		f := drilling(t, 20, fmt.Sprintf("[[operation.touch]]\nat = [%g, %g, %g]\naxis = [%g, %g, %g]\ntoward = [%g, %g, %g]\nstart = 8\nsearch = 3\n",
			c.at.X, c.at.Y, c.at.Z, c.axis.X, c.axis.Y, c.axis.Z, c.toward.X, c.toward.Y, c.toward.Z)).load(t).only(t)
		near(t, "tip", f.Tips[0], c.tip, 1e-12)
		near(t, "search", f.Search, c.search, 1e-12)
	}
}

// Features have names, given or counted; kinds come in the order of the file.
func TestFeatureNames(t *testing.T) {
	hole := "axis = [0, 0, 1]\ndepth = 5\ndepth_to = \"tip\"\n"
	w := drilling(t, 4, "[[operation.hole]]\nat = [[0, 0, 40], [1, 0, 40]]\n"+hole+
		"[[operation.face]]\npoints = [[0, 0, 40]]\naxis = [0, 0, 1]\n"+
		"[[operation.hole]]\nat = [2, 0, 40]\n"+hole+
		"[[operation.hole]]\nname = \"row\"\nat = [[3, 0, 40], [4, 0, 40]]\n"+hole+
		"[[operation.hole]]\nname = \"last\"\nat = [5, 0, 40]\n"+hole)
	var names []string
	for _, f := range w.load(t).Operations[0].Features {
		names = append(names, f.Name)
	}
	if want := []string{"hole 1", "hole 2", "face 1", "hole 3", "row 1", "row 2", "last"}; !slices.Equal(names, want) {
		t.Errorf("got %q", names)
	}
}

// An operation at several parts is done at each; parts have zeros of their own.
func TestParts(t *testing.T) {
	w := cutting(t, `
[[part]]
name = "left"
place = "stock"
at = [-20, 0, 40]
[[part]]
name = "right"
place = "stock"
at = [20, 0, 40]
turned = 180
offset = "G55"
[[operation]]
name = "drill"
parts = ["right", "left"]
tool = 4
approach = 3
retract = 20
[[operation.hole]]
at = [5, 0, 0]
axis = [0, 0, 1]
depth = 10
depth_to = "tip"
[[operation]]
name = "once"
part = "left"
tool = 2
approach = 3
retract = 20
[[operation.hole]]
at = [0, 0, 0]
axis = [0, 0, 1]
depth = 10
depth_to = "tip"
[[probed]]
part = "right"
shift = [0.1, 0, 0]
skew = [0, 0, 90]
`)
	s := w.load(t)
	var got []string
	for _, op := range s.Operations {
		got = append(got, op.Name+" at "+s.Parts[op.Part].Name)
	}
	if want := []string{"drill (right) at right", "drill (left) at left", "once at left"}; !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
	var zero motion.Params
	right := s.Parts[1].Drawn.Pose(zero)
	near(t, "right", right.Point(vec(5, 0, 0)), vec(25+20-5, 25, 340), 0)
	p := s.Parts[1].Probed
	if s.Parts[0].Probed != nil || p == nil || p.Shift != vec(0.1, 0, 0) || p.Skew != vec(0, 0, math.Pi/2) || s.Parts[1].Offset != "G55" {
		t.Errorf("parts %+v, probed %+v", s.Parts, p)
	}
}

// A feature farther from the stock than the approach, mostly a wrong zero.
func TestWarningOfPlace(t *testing.T) {
	for z, warned := range map[float64]bool{40: false, 43: false, 43.1: true, -2.9: false, -3.1: true} {
		s := drilling(t, 4, fmt.Sprintf("[[operation.hole]]\nat = [0, 0, %g]\naxis = [0, 0, 1]\ndepth = 1\ndepth_to = \"tip\"\n", z)).load(t)
		if got := len(s.Warnings) > 0; got != warned {
			t.Errorf("at %g: warnings %q", z, s.Warnings)
		}
		if warned && !strings.Contains(s.Warnings[0], `operation "op": hole 1 is 3.1 mm outside stock, more than the approach of 3 mm`) {
			t.Errorf("%q", s.Warnings)
		}
	}
}
