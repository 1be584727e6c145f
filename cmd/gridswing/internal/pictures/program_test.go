package pictures

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/geom"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/models"
	"gridswing/render/chart"
)

// The chart over time has the cells of the report and marks the findings that are on moves, by their
// numbers, at their times.
func TestClearanceOverTime(t *testing.T) {
	r := specimen.Program()
	sc := prepared(t)
	c := sc.overTime(r)
	if len(c.Cells) != len(r.Program.Strip) || c.Ends != "" || c.Bound || c.Demand != 2 || c.Cap != 10 {
		t.Errorf("%d cells of %d, ends %q, bound %v, demand %g, cap %g", len(c.Cells), len(r.Program.Strip), c.Ends, c.Bound, c.Demand, c.Cap)
	}
	var marks []string
	for _, m := range c.Marks {
		marks = append(marks, m.Label)
		if i := slices.IndexFunc(c.Cells, func(c chart.RunCell) bool { return m.At < c.To }); c.Cells[i].State == chart.Clear {
			t.Errorf("mark %q is where all is clear", m.Label)
		}
	}
	if want := []string{"1  line 1190", "2  line 3311", "4  line 12"}; !slices.Equal(marks, want) {
		t.Errorf("marks %q, want %q", marks, want)
	}
	if k := c.Cells[118]; k.State != chart.Contact || k.Line != 1190 || k.Tool != 4 {
		t.Errorf("the cell of the contact is %+v", k)
	}
	if k := c.Cells[slices.IndexFunc(r.Program.Strip, func(q check.StripCell) bool { return q.Proven == nil && q.Verdict == check.Clear })]; !math.IsInf(k.Lower, 1) {
		t.Errorf("what is clear beyond the cap is %+v", k)
	}
	for i := range 10 {
		f, at := r.Findings[0], 100*float64(i+1)
		f.Seconds = &at
		r.Findings = append(r.Findings, f, f)
	}
	if c = sc.overTime(r); len(c.Marks) != mostMoments || !strings.Contains(c.Caption[len(c.Caption)-1], "without a mark: 15") {
		t.Errorf("%d marks, caption %q", len(c.Marks), c.Caption)
	}
	look(t, "program-clearance", c)
}

// Of a program that could not be read to its end the chart says from where on, and that times are bounds.
func TestClearanceOverTimeOfABrokenProgram(t *testing.T) {
	r := specimen.BrokenProgram()
	sc := prepared(t)
	c := sc.overTime(r)
	if c.Ends != "not read from line 1204 on" || !c.Bound || len(c.Marks) != 0 {
		t.Errorf("ends %q, bound %v, marks %v", c.Ends, c.Bound, c.Marks)
	}
	look(t, "program-clearance-broken", c)
	r.Program.Strip = nil
	if sc.overTime(r) != nil {
		t.Error("a chart of no time")
	}
}

// look draws a chart, and keeps it where it is asked for.
func look(t *testing.T, name string, c *chart.Run) {
	t.Helper()
	img, err := c.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if *keep != "" {
		if err := Write(t.Context(), filepath.Join(*keep, name+".png"), img); err != nil {
			t.Fatal(err)
		}
	}
}

// half is the lower half of a box as a closed mesh: what a program might leave.
func half(b geom.Box) *geom.Mesh {
	at := func(i int) geom.Vertex {
		v := b.Min
		if i&1 != 0 {
			v.X = b.Max.X
		}
		if i&2 != 0 {
			v.Y = b.Max.Y
		}
		if i&4 != 0 {
			v.Z = (b.Min.Z + b.Max.Z) / 2
		}
		return geom.VertexOf(v)
	}
	m := &geom.Mesh{}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets, geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	return m
}

// Pictures of a program show the stock as it is then: at the end, after the lines that were asked for, and at
// findings; others show it as loaded. A later check without a program removes them.
func TestPicturesOfAProgram(t *testing.T) {
	s, err := machine.LoadFS(models.Demo, models.GoodSetup)
	if err != nil {
		t.Fatal(err)
	}
	sc, err := Prepare(t.Context(), s, 1)
	if err != nil {
		t.Fatal(err)
	}
	stock := StockOf(s, 0)
	if s.Bodies[stock].Unit != s.Parts[0].Unit {
		t.Fatalf("the stock is %s", s.Bodies[stock].Name)
	}
	left := half(s.Bodies[stock].Solid.Audit.Bounds)
	r := specimen.Program()
	f := &r.Findings[0]
	f.Params = Home(s)
	f.Tool = &s.Tools[0].Number
	f.Index[1] = sc.body("vise/moving jaw")
	sc.Cut(&Stocks{Remaining: []*geom.Mesh{left}, After: []StockAfter{{Line: 40, Meshes: []*geom.Mesh{left}}, {Line: 41}}, At: map[int][]*geom.Mesh{f.Line: {left}}})
	var drawn []string
	for _, q := range sc.set(r, "") {
		drawn = append(drawn, q.name)
	}
	for _, want := range []string{"program-clearance", "program-stock", "program-after-40", "finding-1"} {
		if !slices.Contains(drawn, want) {
			t.Errorf("pictures %q, want %q among them", drawn, want)
		}
	}
	if slices.Contains(drawn, "program-after-41") {
		t.Error("a picture after a line that the program has not")
	}
	p := sc.closeUp(r, 0)
	if caption := strings.Join(p.Caption, " "); !strings.Contains(caption, "Line 1190: N1190 G0") || !strings.Contains(caption, "the stock is as it is then") {
		t.Errorf("caption %q", p.Caption)
	}
	seen := 0
	for _, it := range p.Items {
		if it.Name == s.Bodies[stock].Name {
			seen++
			if it.Shape == sc.shapes[s.Bodies[stock].Solid] {
				t.Error("the stock is shown as it is loaded")
			}
		}
	}
	if seen == 0 {
		t.Errorf("no stock in the picture")
	}
	s.Bodies = append(s.Bodies, s.Bodies[stock])
	s.Bodies[len(s.Bodies)-1].Name = "stock/second piece"
	if cut := sc.asCut([]*geom.Mesh{left}); len(cut) != 2 || cut[stock] == nil || cut[len(s.Bodies)-1] != nil {
		t.Errorf("of two bodies of a place both are shown: %v", cut)
	}
	if list := names(sc.stock(r, "", sc.asCut([]*geom.Mesh{left})).Items); slices.Contains(list, "stock/second piece") || !slices.Contains(list, s.Bodies[stock].Name) {
		t.Errorf("the stock is %q", list)
	}
	s.Bodies = s.Bodies[:len(s.Bodies)-1]
	f.Question, f.Bodies = check.Gouging, [2]string{"T7 cutting part", s.Bodies[stock].Name}
	if p = sc.closeUp(r, 0); !slices.Contains(names(p.Items), "finished "+s.Parts[0].Name) || !strings.Contains(strings.Join(p.Caption, " "), "as it is to be when it is finished") {
		t.Errorf("a gouge shows %q, caption %q", names(p.Items), p.Caption)
	}
	end := sc.stock(r, "at the end of the program", sc.asCut([]*geom.Mesh{left}))
	if *keep != "" {
		img, err := end.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if err := Write(t.Context(), filepath.Join(*keep, "program-stock.png"), img); err != nil {
			t.Fatal(err)
		}
	}
	dir := t.TempDir()
	stale := filepath.Join(dir, Stem(s.File)+"-program-after-7.png")
	if err := os.WriteFile(stale, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := removeStale(filepath.Join(dir, Stem(s.File)), nil); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(stale); !os.IsNotExist(err) {
		t.Errorf("%s is still there: %v", stale, err)
	}
}
