package pictures

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/kinematics"
	"gridswing/machine/tooling"
	"gridswing/models"
	"gridswing/render"

	"github.com/golang/geo/r3"
)

var keep = flag.String("keep", "", "write the pictures of tools into a `folder`, to be looked at")

// toolShop is the demo's good setup with a drill in its library and an
// operation that drills the stock from above and from a side.
func toolShop(t *testing.T) *machine.Setup {
	t.Helper()
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	drill := &tooling.Tool{Number: 4, Name: "drill 8.5", StickOut: 62,
		Cutter: &tooling.Cutter{Name: "drill 8.5", Kind: tooling.Drill, DC: 8.5, SIG: 140 * math.Pi / 180, APMX: 50, DMM: 9, OAL: 103},
		Holder: &tooling.Holder{Name: "collet chuck", Length: 80, Profile: [][2]float64{{0, 63}, {26, 63}, {26, 50}, {58, 50}, {80, 34}}}}
	stub := drill.At(22)
	stub.Number = 5
	s.Tools = []*tooling.Tool{drill, stub}
	stock := s.Bodies[bodyOf(t, s, "stock")]
	s.Parts = []machine.Part{{Name: "bracket", Unit: "stock", Chain: stock.Chain}}
	b := stock.Solid.Audit.Bounds
	s.Operations = []machine.Operation{{Name: "drill", Features: []machine.Feature{
		{Name: "hole 1", Kind: machine.Hole, Axes: []r3.Vector{{Z: 1}}, Tips: []r3.Vector{{X: b.Min.X + 12, Y: 0, Z: b.Max.Z - 45}}},
		{Name: "hole 2", Kind: machine.Hole, Axes: []r3.Vector{{Y: -1}}, Tips: []r3.Vector{{X: 0, Y: b.Min.Y + 20, Z: b.Max.Z - 12}}},
	}}}
	return s
}

func bodyOf(t *testing.T, s *machine.Setup, name string) int {
	t.Helper()
	for i := range s.Bodies {
		if s.Bodies[i].Name == name {
			return i
		}
	}
	t.Fatalf("no body %q", name)
	return -1
}

// at returns where the axes stand for the tip of the drill at a feature.
func at(t *testing.T, s *machine.Setup, tool, feature int) motion.Params {
	t.Helper()
	var axes []kinematics.Axis
	for _, a := range s.Axes {
		axes = append(axes, kinematics.Axis{Kind: a.Kind, Lo: a.Travel[0], Hi: a.Travel[1], Home: a.Home})
	}
	m, err := kinematics.New(axes, s.Parts[0].Chain, s.Spindle.Chain)
	if err != nil {
		t.Fatal(err)
	}
	f := &s.Operations[0].Features[feature]
	solutions := m.Present(f.Axes[0], Home(s))
	p, err := m.Linear(solutions[0].Position, f.Tips[0], s.Tools[tool].LPR())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// toolFinding is what is really between a zone of the drill and a body there.
func toolFinding(t *testing.T, s *machine.Setup, tool, feature int, zone, body string) *check.Finding {
	t.Helper()
	p := at(t, s, tool, feature)
	number, i := s.Tools[tool].Number, bodyOf(t, s, body)
	f := &check.Finding{Question: check.Reaching, Bodies: [2]string{fmt.Sprintf("T%d %s", number, zone), body}, Demand: 2, Tool: &number,
		Operation: "drill", Feature: s.Operations[0].Features[feature].Name, Params: p}
	for k := range s.Axes {
		f.At = append(f.At, check.PositionOf(&s.Axes[k], p[k]))
	}
	for _, z := range s.ToolBodies(tool) {
		if z.Name != f.Bodies[0] {
			continue
		}
		a, b := z.Chain.Pose(p), s.Pose(i, p)
		near := collide.Distance(collide.NewTree(z.Solid.Mesh), collide.NewTree(s.Bodies[i].Solid.Mesh), a.Inverse().Mul(b))
		q, r := a.Point(near.A), a.Point(near.B)
		f.Points = &[2][3]float64{{q.X, q.Y, q.Z}, {r.X, r.Y, r.Z}}
		f.Verdict, f.Smallest = check.Tight, &near.Distance
		if near.Distance == 0 {
			f.Verdict, f.Smallest = check.Contact, nil
		}
		t.Logf("%s and %s: %.2f mm", f.Bodies[0], body, near.Distance)
		return f
	}
	t.Fatalf("the tool has no %s", zone)
	return nil
}

// TestToolStandsUpright: the tool is upright on the page, the gap lies in the page, the
// cut goes through the tightest place and, of a round tool, through its axis.
func TestToolStandsUpright(t *testing.T) {
	s := toolShop(t)
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	r := &check.Report{Setup: s.Name}
	for i, c := range []struct {
		tool, feature int
		zone, body    string
		verdict       check.Verdict
	}{
		{0, 0, "holder", "vise/moving jaw", check.Tight}, {0, 1, "holder", "vise/fixed jaw", check.Tight},
		{0, 0, "cutting part", "vise/parallels", check.Tight}, {1, 0, "holder", "stock", check.Contact},
	} {
		f := toolFinding(t, s, c.tool, c.feature, c.zone, c.body)
		if f.Verdict != c.verdict {
			t.Fatalf("%v: %v, want %v", f.Bodies, f.Verdict, c.verdict)
		}
		p := sc.atTool(r, f)
		up, facing := p.Close.Upright, p.Close.Facing
		a, b, _ := f.Witness()
		place := a.Add(b).Mul(0.5)
		if math.Abs(up.Z-1) > 1e-12 || math.Abs(facing.Dot(up)) > 1e-9 || math.Abs(facing.Dot(b.Sub(a))) > 1e-6 {
			t.Errorf("%v: up is %v, seen from %v, the gap %v", f.Bodies, up, facing, b.Sub(a))
		}
		if d := place.Sub(p.Close.Center).Dot(facing); math.Abs(d) > 1e-6 {
			t.Errorf("%v: the cut is %.3f mm from the tightest place", f.Bodies, d)
		}
		tip := p.Marks[1]
		if tip.Label != "tip" || tip.Point.Sub(p.Close.Center).Norm() > p.Close.Radius || place.Sub(p.Close.Center).Norm() > p.Close.Radius {
			t.Errorf("%v: tip %v or place %v is not in the picture", f.Bodies, tip, place)
		}
		for _, it := range p.Items {
			isTool := it.Unit == "tool"
			if whole := isTool && (it.Name != f.Bodies[0] || c.verdict != check.Contact); it.Whole != whole {
				t.Errorf("%v: %s is whole: %v, want %v", f.Bodies, it.Name, it.Whole, whole)
			}
			if met := it.Name == f.Bodies[0] || it.Name == f.Bodies[1]; it.Emphasis != render.Ghost && (it.Emphasis != render.Plain) != met {
				t.Errorf("%v: %s has emphasis %d", f.Bodies, it.Name, it.Emphasis)
			}
		}
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if *keep != "" {
			if err := Write(t.Context(), filepath.Join(*keep, fmt.Sprintf("tool-%d.png", i+1)), img); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// TestMissIsSeen: of a feature that is not presented, the angle between its axis and the
// tool's lies in the page.
func TestMissIsSeen(t *testing.T) {
	s := toolShop(t)
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	f := toolFinding(t, s, 0, 1, "holder", "stock")
	f.Question, f.Verdict, f.Bodies, f.Points = check.Presents, check.OverTravel, [2]string{}, nil
	for k := range s.Axes {
		if s.Axes[k].Letter == "A" {
			f.Params[k] -= 20 * math.Pi / 180
		}
	}
	p := sc.atTool(&check.Report{Setup: s.Name}, f)
	axis, ok := sc.featureAxis(f)
	if off := axis.Angle(p.Close.Upright).Degrees(); !ok || math.Abs(off-20) > 1e-6 {
		t.Errorf("the feature's axis is off by %v degrees, want 20", off)
	}
	if m := p.Marks[len(p.Marks)-1]; m.Label != "axis of hole 2" || m.Gap.Angle(axis) > 1e-9 {
		t.Errorf("the feature's axis is drawn as %+v", m)
	}
	if d := axis.Dot(p.Close.Facing); math.Abs(d) > 1e-9 {
		t.Errorf("the feature's axis %v leaves the page by %v", axis, d)
	}
	if _, err := p.Draw(t.Context()); err != nil {
		t.Error(err)
	}
}

// TestNotPresentedIsDrawn: of a feature that no position presents, the tool has its tip at the
// feature, with the rotary axes where they come nearest.
func TestNotPresentedIsDrawn(t *testing.T) {
	s := toolShop(t)
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	o := check.Operation{Name: "drill", Tool: 4, Verdict: check.OverTravel, Features: []check.Feature{{Name: "hole 2", Verdict: check.OverTravel,
		Reason: "A ends", Presented: []check.Presented{{At: []check.Position{{Axis: "A", Value: 60, Unit: "deg"}, {Axis: "C", Value: -90, Unit: "deg"}}}}}}}
	f := sc.worstOf(&check.Report{}, &o)
	if f == nil {
		t.Fatal("there is nothing to draw")
	}
	feature := &s.Operations[0].Features[1]
	pose, part := s.Spindle.Chain.Pose(f.Params), s.Parts[0].Chain.Pose(f.Params)
	tip := pose.Point(r3.Vector{Z: -s.Tools[0].LPR()})
	if off := tip.Sub(part.Point(feature.Tips[0])).Norm(); off > 1e-9 {
		t.Errorf("the tip is %.3f mm from the feature", off)
	}
	for k := range s.Axes {
		if want := map[string]float64{"A": 60, "C": -90}[s.Axes[k].Letter]; s.Axes[k].Kind == motion.Rotary && math.Abs(f.Params[k]*180/math.Pi-want) > 1e-9 {
			t.Errorf("%s at %v, want %v", s.Axes[k].Letter, f.Params[k]*180/math.Pi, want)
		}
	}
	if o.Name = "mill"; sc.worstOf(&check.Report{}, &o) != nil {
		t.Error("an operation that the setup does not have is drawn")
	}
}

// TestOperationPictures: one of each of the worst operations that are not clear, at most
// three, and of the one that is asked for even if it is clear; two bodies before what
// only says what is missing.
func TestOperationPictures(t *testing.T) {
	s := toolShop(t)
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	r := &check.Report{Setup: s.Name, Reach: &check.Reach{}}
	for i, v := range []check.Verdict{check.Clear, check.Tight, check.Contact, check.Clear, check.OverTravel, check.Tight} {
		o := check.Operation{Name: fmt.Sprintf("Op/%d", i), Tool: 4, Verdict: v, Features: []check.Feature{{Name: "hole 1", Verdict: v}}}
		f := toolFinding(t, s, 0, 0, "holder", "stock")
		f.Operation, f.Verdict = o.Name, v
		if v == check.Clear {
			o.Features[0].Tightest = f
		} else {
			missing := *f
			missing.Bodies, missing.Points, missing.Question = [2]string{}, nil, check.Travels
			r.Findings = append(r.Findings, missing, *f)
		}
		r.Reach.Operations = append(r.Reach.Operations, o)
	}
	for wanted, want := range map[string][]string{
		"":     {"operation-op-2", "operation-op-4", "operation-op-1"},
		"Op/3": {"operation-op-2", "operation-op-4", "operation-op-1", "operation-op-3"},
		"Op/5": {"operation-op-2", "operation-op-4", "operation-op-1", "operation-op-5"},
	} {
		var got []string
		for _, sheet := range sc.set(r, wanted) {
			if strings.HasPrefix(sheet.name, "operation-") || strings.HasPrefix(sheet.name, "finding-") {
				got = append(got, sheet.name)
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", wanted, got, want)
		}
	}
	if f := sc.worstOf(r, &r.Reach.Operations[2]); f.Points == nil {
		t.Error("the picture shows no two bodies, though some meet")
	}
}

// TestOtherTool: what a changer sweeps, and the other tool of a change, are drawn too.
func TestOtherTool(t *testing.T) {
	s := toolShop(t)
	door := s.Bodies[bodyOf(t, s, "stock")]
	door.Name = "changer arm"
	s.ToolChange = &machine.ToolChange{Zones: []machine.Body{door}}
	sc, err := Prepare(t.Context(), s, 2)
	if err != nil {
		t.Fatal(err)
	}
	f := toolFinding(t, s, 0, 0, "holder", "stock")
	f.Question, f.Feature = check.Changing, "from home"
	f.Bodies = [2]string{"T5 holder", "changer arm"}
	r := &check.Report{Setup: s.Name, Findings: []check.Finding{*f}}
	p := sc.closeUp(r, 0)
	if p == nil || emphasis(p, "T5 holder") == render.Plain || emphasis(p, "changer arm") == render.Plain || emphasis(p, "T4 holder") != render.Plain {
		t.Errorf("the close-up shows %v", names(p.Items))
	}
}

func TestSlug(t *testing.T) {
	taken := map[string]bool{}
	for _, c := range [][2]string{{"Drill sides", "operation-drill-sides"}, {"drill/sides!", "operation-drill-sides-2"},
		{"Größe 8,5 (a)", "operation-größe-8-5-a"}, {"..", "operation-unnamed"}} {
		if got := operationName(c[0], taken); got != c[1] {
			t.Errorf("%q: %q, want %q", c[0], got, c[1])
		}
	}
}
