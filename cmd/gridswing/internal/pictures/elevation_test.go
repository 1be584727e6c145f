package pictures

import (
	"context"
	"image"
	"math"
	"strings"
	"testing"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/ink"
	"gridswing/render/page"
)

// topOf is the highest point of a unit's bodies at zero, lowest its lowest one, by their facets.
func topOf(s *machine.Setup, unit string) (lowest, highest float64) {
	lowest, highest = math.Inf(1), math.Inf(-1)
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.Unit == unit {
			pose := s.Pose(i, motion.Params{})
			for _, f := range b.Solid.Mesh.Facets {
				for _, v := range f {
					z := pose.Point(v.Vector()).Z
					lowest, highest = min(lowest, z), max(highest, z)
				}
			}
		}
	}
	return lowest, highest
}

// Heights are those of the posed solids: seats are where the solids above begin and those below end.
func TestElevationHeights(t *testing.T) {
	s := demo(t)
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range []render.View{render.Front, render.Right} {
		e := sc.elevationOf(v, millimetres(), nil)
		heights := map[string]float64{}
		for _, l := range e.Levels {
			heights[l.Words] = l.Height - e.Datum
		}
		plateLow, plateTop := topOf(s, "plate")
		riserLow, riserTop := topOf(s, "riser")
		viseLow, _ := topOf(s, "vise")
		_, stockTop := topOf(s, "stock")
		trunnionLow, _ := topOf(s, "trunnion")
		axis := 0.0
		for i := range s.Axes {
			if s.Axes[i].Letter == "A" {
				axis = s.Axes[i].Centre.Z
			}
		}
		for words, want := range map[string]float64{
			"plate on table": plateLow, "trunnion on plate": plateTop, "riser on trunnion/faceplate": riserLow,
			"vise on riser": riserTop, "top of stock": stockTop, "axis A": axis,
		} {
			if got, is := heights[words]; !is || math.Abs(got-want) > 1e-3 {
				t.Errorf("%s: %s at %g, the solids say %g", v, words, got, want)
			}
		}
		if math.Abs(plateTop-trunnionLow)+math.Abs(riserTop-viseLow) > 1e-3 {
			t.Error("the solids do not stand on each other") // else the above would prove less
		}
		steps := map[string]float64{}
		for _, p := range e.Steps {
			steps[p.Words] = p.To - p.From
		}
		if math.Abs(steps["riser"]-(riserTop-riserLow)) > 1e-3 || math.Abs(steps["plate"]-(plateTop-plateLow)) > 1e-3 || len(steps) != 5 {
			t.Errorf("%s: steps %v", v, steps)
		}
	}
}

// What is swept comes no lower than the load does at any position that is looked at here.
func TestHighestOverTheSwing(t *testing.T) {
	s := demo(t)
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	swept, _, err := sc.hulls(Home(s))
	if err != nil {
		t.Fatal(err)
	}
	top := sc.highest(swept)
	if top == nil {
		t.Fatal("nothing is swept")
	}
	most := math.Inf(-1)
	for tilt := -30.0; tilt <= 110; tilt += 5 {
		for turn := 0.0; turn < 360; turn += 30 {
			p := Home(s)
			for k := range s.Axes {
				switch s.Axes[k].Letter {
				case "A":
					p[k] = tilt * math.Pi / 180
				case "C":
					p[k] = turn * math.Pi / 180
				}
			}
			for i := range s.Bodies {
				if b := &s.Bodies[i]; b.Unit == "riser" || b.Unit == "vise" || b.Unit == "stock" {
					pose := s.Pose(i, p)
					for _, f := range b.Solid.Mesh.Facets {
						most = max(most, pose.Point(f[0].Vector()).Z)
					}
				}
			}
		}
	}
	if *top < most || *top > most+40 {
		t.Errorf("at most %g, seen %g", *top, most)
	}
	e := sc.elevationOf(render.Front, millimetres(), top)
	if l := e.Levels[len(e.Levels)-1]; !strings.HasPrefix(l.Words, "highest") || l.Height < most {
		t.Errorf("%+v", l)
	}
}

// Every figure of a setup is drawn on a surface of its shape, and there is one of each kind that it has.
func TestFigures(t *testing.T) {
	s := demo(t)
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	r := check.NewReport(s)
	kinds := map[string]int{}
	for _, f := range sc.Figures(r) {
		kinds[f.Kind]++
		if f.Title == "" || !(f.Aspect > 0.2 && f.Aspect < 6) {
			t.Errorf("%+v", f)
		}
		for _, w := range f.Words {
			if strings.HasSuffix(w, ".") {
				t.Errorf("%s: %q ends with a full stop", f.Title, w)
			}
		}
		c := ink.NewCanvas(500, int(500/f.Aspect), ink.Paper)
		if err := f.Draw(t.Context(), c); err != nil {
			t.Errorf("%s: %v", f.Title, err)
		}
		if blank(c.RGBA) {
			t.Errorf("%s is blank", f.Title)
		}
		readable(t, &f)
		done, cancel := context.WithCancel(t.Context())
		cancel()
		if err := f.Draw(done, c); err == nil {
			t.Errorf("%s is drawn though nobody waits for it", f.Title)
		}
	}
	for kind, want := range map[string]int{NumberedFigure: 1, PlanFigure: 4, ElevationFigure: 2, SweptFigure: 1} {
		if kinds[kind] != want {
			t.Errorf("%d of kind %s, want %d", kinds[kind], kind, want)
		}
	}
	numbers := sc.Figures(r)[0].Numbers
	if len(numbers) != 5 || numbers[0] != (Numbered{1, "plate"}) || numbers[4] != (Numbered{5, "stock"}) {
		t.Errorf("%v", numbers)
	}
}

// readable checks that no letters are below 6.5 pt on paper: at the figure's own width, or else at that of a
// page and at half of it.
func readable(t *testing.T, f *Figure) {
	t.Helper()
	const perMM = 8 // pixels of a page
	widths := []float64{f.Width}
	if f.Width == 0 {
		widths = []float64{176, 84}
	}
	for _, wide := range widths {
		plate := page.NewPlate(wide*perMM, wide/f.Aspect*perMM)
		if err := f.Draw(t.Context(), plate); err != nil {
			t.Errorf("%s: %v", f.Title, err)
		}
		for _, item := range plate.Drawing(wide).Items {
			if words, ok := item.(*page.Text); ok && words.Size < 6.5 {
				t.Errorf("%s at %g mm: %q in letters of %.2f pt", f.Title, wide, words.Words, words.Size)
			}
		}
	}
}

func blank(img *image.RGBA) bool {
	for i := 4; i < len(img.Pix); i++ {
		if img.Pix[i] != img.Pix[i-4] {
			return false
		}
	}
	return true
}
