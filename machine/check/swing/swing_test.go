package swing

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridswing/collide"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// The block's farthest corner from the A axis: C turns its half diagonal of 50
// across, its top is 20 above the axis, so it sweeps to hypot(50, 20) = 53.8516
// above the axis, 253.8516 above the table.
var sweptTop = 200 + math.Hypot(50, 20)

func TestEverythingClear(t *testing.T) {
	const tip = 6 // above the highest point the stock sweeps
	_, r := newShop().edit(t, "setup.toml", "Z = 400", "Z = "+format(sweptTop+100+tip)).check(t)
	if r.Verdict != check.Clear || len(r.Findings) > 0 {
		t.Fatalf("want everything clear:\n%s", summary(r))
	}
	f := find(t, r, "tool", "stock")
	if math.Abs(*f.Smallest-tip) > 0.01*tip+0.01 || *f.Proven > tip {
		t.Errorf("tool over stock: %.4f..%.4f, want %d", *f.Proven, *f.Smallest, tip)
	}
	if len(r.Pairs) < 20 {
		t.Errorf("only %d pairs were looked at", len(r.Pairs))
	}
	for _, p := range r.Pairs {
		if u := strings.Split(p.Bodies[0], "/")[0]; u == strings.Split(p.Bodies[1], "/")[0] {
			t.Errorf("%v are of one unit and were looked at", p.Bodies)
		}
	}
	if said := strings.Join(r.Assumed, "\n"); !strings.Contains(said, "against the spindle side itself, which is left to its maker: machine/head") {
		t.Errorf("what the tool was not looked at against is not said:\n%s", said)
	}
	if !slices.Contains(r.LeftToMaker, "unit") || !slices.Contains(r.LeftToMaker, "machine") {
		t.Errorf("left to the makers: %v, want unit and machine", r.LeftToMaker)
	}
}

func TestToolTooLowOverStock(t *testing.T) {
	tests := []struct {
		name string
		tip  float64 // above the highest point the stock sweeps
		want check.Verdict
	}{
		{"well clear", 5, check.Clear},
		{"just enough", 2.02, check.Clear},
		{"closer than demanded", 1.5, check.Tight},
		{"barely apart", 0.05, check.Tight},
		{"just met", -0.02, check.Contact},
		{"well in", -10, check.Contact},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			z := sweptTop + 100 + tt.tip
			s, r := newShop().edit(t, "setup.toml", "Z = 400", "Z = "+format(z)).check(t)
			f := find(t, r, "tool", "stock")
			if f.Verdict != tt.want || f.Question != check.Index {
				t.Fatalf("%v, want %v:\n%s", f.Verdict, tt.want, summary(r))
			}
			if r.Verdict != tt.want {
				t.Errorf("whole verdict %v, want %v", r.Verdict, tt.want)
			}
			d := distanceAt(s, "tool", "stock", f.Params)
			if tt.want == check.Contact {
				if d > 1e-6 {
					t.Errorf("the witness %v is %.6f apart", f.At, d)
				}
				within(t, r, f)
				return
			}
			// 0.01 or 1 %, and the tool's sides stand a little off its cylinder.
			if math.Abs(*f.Smallest-tt.tip) > 0.02+0.01*tt.tip || *f.Proven > tt.tip {
				t.Errorf("%.4f..%.4f, want %.4f", *f.Proven, *f.Smallest, tt.tip)
			}
			if math.Abs(d-*f.Nominal) > 1e-6 {
				t.Errorf("nominal %.6f, the bodies are %.6f apart at %v", *f.Nominal, d, f.At)
			}
		})
	}
}

// within asks that the ranges given for a contact hold the witness, and that
// the chart shows contact there.
func within(t *testing.T, r *check.Report, f *check.Finding) {
	t.Helper()
	for _, at := range f.At {
		if at.Unit != "deg" {
			continue
		}
		held := slices.ContainsFunc(f.Where, func(w check.Range) bool {
			return w.Axis == at.Axis && w.From-1e-9 <= at.Value && at.Value <= w.To+1e-9
		})
		if !held {
			t.Errorf("witness %v lies in none of %v", at, f.Where)
		}
	}
	c := r.Chart
	if !slices.ContainsFunc(c.Cells, func(x check.Cell) bool { return x.Verdict == check.Contact }) {
		t.Error("the chart shows no contact")
	}
}

func TestWithinPlay(t *testing.T) {
	z := sweptTop + 100 + 0.08
	_, r := newShop().
		edit(t, "setup.toml", "Z = 400", "Z = "+format(z)).
		edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "unit/faceplate", at = [0, 0, 180], within = 0.1`).
		check(t)
	f := find(t, r, "tool", "stock")
	if f.Verdict != check.WithinPlay {
		t.Fatalf("want within-play:\n%s", summary(r))
	}
	if f.Smallest == nil || *f.Smallest > 0 || *f.Nominal < 0.05 || math.Abs(*f.Nominal-f.Uncertainty-*f.Smallest) > 1e-9 {
		t.Errorf("nominal %v, uncertainty %v, left %v", f.Nominal, f.Uncertainty, f.Smallest)
	}
	// Standing deeper as drawn, the worse verdict wins.
	_, r = newShop().
		edit(t, "setup.toml", "Z = 400", "Z = "+format(sweptTop+99.9)).
		edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "unit/faceplate", at = [0, 0, 180], within = 0.1`).
		check(t)
	if f := find(t, r, "tool", "stock"); f.Verdict != check.Contact {
		t.Errorf("meets as drawn, want contact:\n%s", summary(r))
	}
}

func TestRestPosition(t *testing.T) {
	_, r := newShop().edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "unit/faceplate", at = [0, 0, 179], within = 0.01`).check(t)
	if f := find(t, r, "stock", "unit/faceplate"); f.Verdict != check.Contact || f.Question != check.Rest || !strings.Contains(f.Reason, "free only when lifted by 1.0") {
		t.Errorf("the block stands 1 mm in the faceplate:\n%s", summary(r))
	}
	// Another block beside the first, which it does not stand on.
	beside := func(gap float64) check.Verdict {
		_, r := newShop().edit(t, "setup.toml", "place = [", `place = [
  { name = "second", component = "stock.toml", on = "table", at = [0, 120, 0], within = 0.01 },
  { name = "third", component = "stock.toml", on = "table", at = [`+format(80+gap)+`, 120, 0], within = 0.01 },`).check(t)
		return r.Verdict
	}
	for _, tt := range []struct {
		gap  float64
		want check.Verdict
	}{{1, check.Clear}, {0.3, check.Tight}, {0.01, check.WithinPlay}, {-1, check.Contact}} {
		if got := beside(tt.gap); got != tt.want {
			t.Errorf("blocks %g mm apart: %v, want %v", tt.gap, got, tt.want)
		}
	}
}

func TestStandsOnNothing(t *testing.T) {
	_, r := newShop().edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`, `on = "unit/faceplate", at = [0, 0, 220], within = 0.01`).check(t)
	for _, f := range r.Findings {
		if f.Verdict == check.Unproven && f.Question == check.Rest && strings.Contains(f.Reason, "stock stands on nothing: 40.00 mm") {
			return
		}
	}
	t.Errorf("the block floats 40 mm above the faceplate:\n%s", summary(r))
}

// What is said to stand on one body has to touch that one: a block held 17 mm above its
// parallels touches the jaws of the same vise.
func TestStandsOnWhatIsNamed(t *testing.T) {
	for _, c := range []struct {
		on     string
		height float64
		says   string
	}{
		{"vise/parallels", 3, ""}, {"vise/parallels", 20, "stock stands on nothing: 17.00 mm between it and vise/parallels"},
		{"vise", 20, ""}, {"vise/parallels", 3.2, "0.20 mm between it and vise/parallels"},
	} {
		s := newShop().edit(t, "setup.toml", `on = "unit/face", pins = ["A1", "B1"]`,
			fmt.Sprintf(`on = %q, at = [0, 0, %g], within = 0, gripped = { bite = 0 }`, c.on, c.height)).
			edit(t, "setup.toml", "place = [", `place = [
  { name = "vise", component = "vise.toml", on = "unit/faceplate", at = [0, 0, 180], within = 0 },`)
		s["vise.toml"] = `
kind = "component"
name = "vise"
units = "mm"
role = "workholding"
material = "steel"
solid = [
  { name = "parallels", file = "parallels.stl", chord_error = 0 },
  { name = "left", file = "left.stl", chord_error = 0 },
  { name = "right", file = "right.stl", chord_error = 0 },
]
grip = [{ jaws = ["left", "right"], opening = [[-1, 0, 0], [1, 0, 0]] }]
`
		s["parallels.stl"] = solidBox(-20, -15, 0, 20, 15, 3)
		s["left.stl"], s["right.stl"] = solidBox(-50, -15, 0, -40, 15, 30), solidBox(40, -15, 0, 50, 15, 30)
		_, r := s.check(t)
		var got []string
		for _, f := range r.Findings {
			if f.Verdict == check.Unproven && f.Question == check.Rest {
				got = append(got, f.Reason)
			}
		}
		if all := strings.Join(got, "\n"); !strings.Contains(all, c.says) || (c.says == "") != (all == "") {
			t.Errorf("%s at %g: says %q, want %q", c.on, c.height, all, c.says)
		}
	}
}

func TestOneBodyInsideAnother(t *testing.T) {
	pea := solidBox(-2, -2, 0, 2, 2, 4)
	// At rest: in the base's foot, whose surface it does not cross.
	s := newShop().edit(t, "setup.toml", "place = [", `place = [
  { name = "pea", component = "pea.toml", on = "table", at = [0, 0, 3], within = 0.01 },`)
	s["pea.toml"], s["pea.stl"] = strings.Replace(strings.Replace(stockFile, "block.stl", "pea.stl", 1), `role = "stock"`, `role = "workholding"`, 1), pea
	_, r := s.check(t)
	if f := find(t, r, "pea", "unit/base"); f.Verdict != check.Contact || !strings.Contains(f.Reason, "is inside") {
		t.Errorf("at rest:\n%s", summary(r))
	}
	// Moving: round the A axis in the middle of a large stock, surfaces never crossing.
	s = newShop().edit(t, "setup.toml", "place = [", `place = [
  { name = "pea", component = "pea.toml", on = "table", at = [0, 0, 198], within = 0.01 },`)
	s["pea.toml"], s["pea.stl"] = strings.Replace(stockFile, "block.stl", "pea.stl", 1), pea
	_, r = s.check(t)
	if f := find(t, r, "pea", "stock"); f.Verdict != check.Contact || !strings.Contains(f.Reason, "is inside") || f.Question != check.Swing {
		t.Errorf("moving:\n%s", summary(r))
	}
}

func TestOpenSolid(t *testing.T) {
	open := func(statement string) *check.Report {
		s := newShop().edit(t, "unit.toml", `file = "base.stl", chord_error = 0`, `file = "base.stl", chord_error = 0`+statement)
		mesh := solidBox(-170, -60, 0, 170, 60, 260)
		s["base.stl"] = mesh[:strings.Index(mesh, "facet")] + mesh[strings.Index(mesh, "endfacet")+len("endfacet"):]
		// Low enough to stay within the base's box without meeting the base.
		s["cradle.stl"] = solidBox(-20, -5, 185, 20, 5, 190)
		s["faceplate.stl"] = solidBox(-20, -5, 190, 20, 5, 195)
		s["block.stl"] = solidBox(-20, -5, 0, 20, 5, 5)
		return s.edit(t, "unit.toml", "25, 0, 180", "25, 0, 195").report(t)
	}
	r := open("")
	if f := find(t, r, "stock", "unit/base"); f.Verdict != check.Unproven || !strings.Contains(f.Reason, "not closed") {
		t.Errorf("an open base:\n%s", summary(r))
	}
	r = open(", outside = true")
	if r.Verdict != check.Clear || len(r.Stated) == 0 {
		t.Errorf("with the user's statement, which is printed (%q):\n%s", r.Stated, summary(r))
	}
}

func (s shop) report(t testing.TB) *check.Report {
	_, r := s.check(t)
	return r
}

func TestNotModelledIsUnproven(t *testing.T) {
	_, r := newShop().edit(t, "machine.toml", `"changer", `, "").check(t)
	if r.Verdict != check.Unproven || len(r.Findings) > 0 {
		t.Errorf("the changer is neither modelled nor declared absent:\n%s", summary(r))
	}
}

func TestNarrowerThanTheAxisCanGo(t *testing.T) {
	for _, tt := range []struct {
		turn string
		want bool
	}{{"[0, 90]", true}, {"[0, 350]", true}, {"[0, 360]", false}, {"[-180, 180]", false}} {
		_, r := newShop().edit(t, "setup.toml", "C = [0, 90]", "C = "+tt.turn).
			edit(t, "stock.toml", `"block.stl"`, `"pea.stl"`).with("pea.stl", solidBox(-2, -2, 0, 2, 2, 4)).check(t)
		for _, a := range r.Axes {
			// A is commanded over -90..0 of -100..100; the linear axes over their travel.
			if want := a.Letter == "A" || a.Letter == "C" && tt.want; a.Narrower != want {
				t.Errorf("C %s: %s narrower %v, want %v", tt.turn, a.Letter, a.Narrower, want)
			}
		}
	}
}

// Overhang: a bar on the table reaches the column only at the end of Y.
func TestOverhangAgainstTheColumn(t *testing.T) {
	bar := func(length float64) *check.Report {
		s := newShop().edit(t, "setup.toml", "place = [", `place = [
  { name = "bar", component = "bar.toml", on = "table", at = [200, 0, 0], within = 0.01 },`)
		s["bar.toml"] = strings.Replace(strings.Replace(stockFile, "block.stl", "bar.stl", 1), `role = "stock"`, `role = "workholding"`, 1)
		s["bar.stl"] = solidBox(-10, -10, 0, 10, length, 10)
		return s.report(t)
	}
	// The column's face is at y = 400; the table carries +Y at Y = -100 by 100.
	if r := bar(295); r.Verdict != check.Clear {
		t.Errorf("5 mm left:\n%s", summary(r))
	}
	r := bar(301)
	f := find(t, r, "bar", "machine/column")
	if f.Verdict != check.Contact || f.Question != check.Overhang {
		t.Fatalf("1 mm too long:\n%s", summary(r))
	}
	if at := f.Params[0]; at > -98.9 {
		t.Errorf("contact at Y %.3f, want -99 or below", at)
	}
	// Told in fortieths of the travel of 200.
	want := check.Range{Axis: "Y", From: -100, To: -95, Unit: "mm"}
	if !slices.Contains(f.Where, want) {
		t.Errorf("contact happens in %v, want %v among them", f.Where, want)
	}
}

// Sampled anywhere in the range, nothing is nearer than what was proven.
func TestProvenHoldsWhereverSampled(t *testing.T) {
	s, r := newShop().edit(t, "setup.toml", "Z = 400", "Z = "+format(sweptTop+102.5)).check(t)
	body := map[string]int{}
	for i := range s.Bodies {
		body[s.Bodies[i].Name] = i
	}
	trees := map[*machine.Solid]*collide.Tree{}
	for i := range s.Bodies {
		if trees[s.Bodies[i].Solid] == nil {
			trees[s.Bodies[i].Solid] = collide.NewTree(s.Bodies[i].Solid.Mesh)
		}
	}
	rnd := rand.New(rand.NewPCG(1, 2))
	checked := 0
	for _, line := range r.Pairs {
		if line.Proven == nil || line.Question == check.Rest {
			continue
		}
		a, b := body[line.Bodies[0]], body[line.Bodies[1]]
		for range 300 {
			var p motion.Params
			for k := range s.Axes {
				lo, hi := s.Axes[k].Commanded[0], s.Axes[k].Commanded[1]
				if line.Question == check.Index && s.Axes[k].Kind == motion.Linear {
					lo, hi, _ = check.SpindleAt(&s.Axes[k])
				}
				p[k] = lo + (hi-lo)*rnd.Float64()
			}
			rel := s.Pose(a, p).Inverse().Mul(s.Pose(b, p))
			d := collide.DistanceWithin(trees[s.Bodies[a].Solid], trees[s.Bodies[b].Solid], rel, *line.Proven).Distance
			if d < *line.Proven-1e-9 {
				t.Fatalf("FALSE CLEAR: %v: proven %.6f, %.6f at %v", line.Bodies, *line.Proven, d, p)
			}
			checked++
		}
	}
	if checked < 3000 {
		t.Errorf("only %d samples", checked)
	}
}

func TestTheSameReportForAnyJobs(t *testing.T) {
	s := newShop().edit(t, "setup.toml", "Z = 400", "Z = "+format(sweptTop+101)).load(t)
	var want *check.Report
	for _, jobs := range []int{1, 4} {
		r := check.NewReport(s)
		if err := Check(context.Background(), s, r, Options{Jobs: jobs}); err != nil {
			t.Fatal(err)
		}
		if want == nil {
			want = r
		} else if !reflect.DeepEqual(r, want) {
			t.Errorf("%d jobs:\n%s\nwant\n%s", jobs, summary(r), summary(want))
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if err := Check(ctx, s, check.NewReport(s), Options{}); err != context.Canceled {
		t.Errorf("cancelled: %v", err)
	}
}

func format(x float64) string { return strconv.FormatFloat(x, 'f', 6, 64) }

func distanceAt(s *machine.Setup, a, b string, p motion.Params) float64 {
	i := slices.IndexFunc(s.Bodies, func(x machine.Body) bool { return x.Name == a })
	j := slices.IndexFunc(s.Bodies, func(x machine.Body) bool { return x.Name == b })
	rel := s.Pose(i, p).Inverse().Mul(s.Pose(j, p))
	return collide.Distance(collide.NewTree(s.Bodies[i].Solid.Mesh), collide.NewTree(s.Bodies[j].Solid.Mesh), rel).Distance
}
