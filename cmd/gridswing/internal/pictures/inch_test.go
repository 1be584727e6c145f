package pictures

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/collide"
	"gridswing/geom"
	"gridswing/machine/check"
	"gridswing/render/page"
)

// allKinds is a scene and a report with which there are figures of all kinds: two components that are
// tight at home, and a tool that is at a feature.
func allKinds(t *testing.T) (*Scene, *check.Report) {
	t.Helper()
	s := toolShop(t)
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	r := check.NewReport(s)
	i, k := bodyOf(t, s, "trunnion/base"), bodyOf(t, s, "vise/screw")
	home := Home(s)
	a, b := s.Pose(i, home), s.Pose(k, home)
	near := collide.Distance(collide.NewTree(s.Bodies[i].Solid.Mesh), collide.NewTree(s.Bodies[k].Solid.Mesh), a.Inverse().Mul(b))
	p, q := a.Point(near.A), a.Point(near.B)
	r.Findings = []check.Finding{
		{Verdict: check.Tight, Question: check.Swing, Index: [2]int{i, k}, Bodies: [2]string{s.Bodies[i].Name, s.Bodies[k].Name}, Smallest: &near.Distance,
			Params: home, Points: &[2][3]float64{{p.X, p.Y, p.Z}, {q.X, q.Y, q.Z}}},
		*toolFinding(t, s, 1, 0, "holder", "stock"),
	}
	tilt, rotary := check.Range{Axis: "A", From: -30, To: 110, Unit: "deg"}, check.Range{Axis: "C", To: 360, Unit: "deg"}
	five := 5.0
	r.Chart = &check.Chart{Tilt: tilt, Rotary: &rotary, Columns: 2, Rows: 2, Demand: 2, Cap: 10, Cells: slices.Repeat([]check.Cell{{Verdict: check.Clear, Proven: &five}}, 4)}
	r.Loads = specimen.Loads()
	r.Program = specimen.Program().Program
	r.Reach = &check.Reach{Operations: []check.Operation{{Name: "drill", Tool: s.Tools[1].Number, Verdict: check.Tight}}}
	return sc, r
}

// written is what a figure says on itself, and of itself.
func written(t *testing.T, f Figure) (words []string) {
	t.Helper()
	plate := page.NewPlate(720, math.Round(720/f.Aspect))
	if err := f.Draw(t.Context(), plate); err != nil {
		t.Fatalf("%s: %v", f.Title, err)
	}
	for _, it := range plate.Drawing(180).Items {
		if w, is := it.(*page.Text); is {
			words = append(words, w.Words)
		}
	}
	return append(append(words, f.Title), f.Words...)
}

// In inches no figure says anything in mm, each that has a length has it in inches, and where the
// figures in mm have a bar or a gap, those have one of their own.
func TestFiguresInInches(t *testing.T) {
	sc, r := allKinds(t)
	inMM := map[string]int{}
	unit := regexp.MustCompile(`\b(mm|inch)\b`)
	count := func(words []string, of string) (n int) {
		for _, w := range words {
			for _, m := range unit.FindAllString(w, -1) {
				if m == of {
					n++
				}
			}
		}
		return n
	}
	name := func(f Figure, i int) string { return f.Kind + " " + strconv.Itoa(i) }
	kinds := map[string]bool{}
	for i, f := range sc.Figures(r) {
		words := written(t, f)
		kinds[f.Kind] = true
		if inMM[name(f, i)] = count(words, "mm"); count(words, "inch") > 0 {
			t.Errorf("%s in mm: %q", f.Title, words)
		}
	}
	sc.In(text.NewLengths(geom.Inch, nil))
	for i, f := range sc.Figures(r) {
		words := written(t, f)
		if got, want := count(words, "inch"), inMM[name(f, i)]; count(words, "mm") > 0 || got != want {
			t.Errorf("%s has %d lengths in inches, and %d in mm where it is in mm: %q", f.Title, got, want, words)
		}
	}
	for _, kind := range []string{NumberedFigure, PlanFigure, ElevationFigure, SwingFigure, SweptFigure, MomentFigure, ProgramFigure, CloseUpFigure, ToolFigure} {
		if !kinds[kind] {
			t.Errorf("no figure %s", kind)
		}
	}
}

// The gap of a close-up in inches is never said to be more than it is.
func TestGapsInInches(t *testing.T) {
	sc, r := allKinds(t)
	sc.In(text.NewLengths(geom.Inch, nil))
	for _, f := range sc.Figures(r) {
		if f.Kind != CloseUpFigure || r.Findings[f.Finding-1].Smallest == nil {
			continue
		}
		gap, labels := *r.Findings[f.Finding-1].Smallest/25.4, 0 // an inch is 25.4 mm exactly (ISO 80000-3)
		for _, w := range written(t, f) {
			v, err := strconv.ParseFloat(strings.TrimSuffix(w, " inch"), 64)
			if err != nil || !strings.Contains(w, ".") || len(w)-strings.Index(w, ".") != len(".0000 inch") {
				continue
			}
			if labels++; v > gap || v < gap-1e-4 {
				t.Errorf("%s: %q is written of %v inch", f.Title, w, gap)
			}
		}
		if labels != 1 {
			t.Errorf("%s: %d labels say how near it is", f.Title, labels)
		}
	}
}
