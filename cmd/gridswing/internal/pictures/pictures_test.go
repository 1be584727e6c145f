package pictures

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render"
	"gridswing/render/chart"

	"github.com/golang/geo/r3"
)

// cube returns a closed cube of side 2 round the origin.
func cube() *machine.Solid {
	m := &geom.Mesh{}
	at := func(i int) geom.Vertex {
		return geom.VertexOf(r3.Vector{X: float64(i&1)*2 - 1, Y: float64(i>>1&1)*2 - 1, Z: float64(i>>2)*2 - 1})
	}
	for _, q := range [][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Facets = append(m.Facets, geom.Facet{at(q[0]), at(q[1]), at(q[2])}, geom.Facet{at(q[0]), at(q[2]), at(q[3])})
	}
	return &machine.Solid{Mesh: m, Audit: geom.AuditOf(m)}
}

// small is a machine of column, guards and table with a vise and a tool; axes in
// an order that is not that of captions.
func small() *machine.Setup {
	solid := cube()
	body := func(name, unit, role string, x float64) machine.Body {
		return machine.Body{Name: name, Unit: unit, Role: role, Solid: solid,
			Chain: motion.Chain{Home: geom.Shift(r3.Vector{X: x})}, OnTool: role == "tool"}
	}
	return &machine.Setup{
		Name: "a setup", Machine: "a mill", File: "setups/one.two.toml", Up: r3.Vector{Y: 1},
		Axes: []machine.Axis{
			{Letter: "C", Kind: motion.Rotary, Unlimited: true},
			{Letter: "A", Kind: motion.Rotary, Home: math.Pi / 6},
			{Letter: "X", Kind: motion.Linear, Home: -12.5},
		},
		Bodies: []machine.Body{
			body("machine/column", "machine", "column", 0), body("machine/guards", "machine", "guards", 10),
			body("machine/table", "machine", "table", 20), body("tool", "tool", "tool", 30), body("vise", "vise", "workholding", 40),
		},
	}
}

func prepared(t *testing.T) *Scene {
	t.Helper()
	sc, err := Prepare(t.Context(), small(), 2)
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

func names(items []render.Item) (list []string) {
	for _, it := range items {
		list = append(list, it.Name)
	}
	return list
}

func emphasis(p *render.Picture, name string) render.Emphasis {
	for _, it := range p.Items {
		if it.Name == name {
			return it.Emphasis
		}
	}
	return 255
}

func TestWholeAndSetup(t *testing.T) {
	sc := prepared(t)
	whole := sc.Whole(Home(sc.setup), render.Front)
	if len(whole.Items) != 5 || emphasis(whole, "machine/guards") != render.Ghost || emphasis(whole, "machine/column") != render.Plain {
		t.Errorf("the whole is %v", names(whole.Items))
	}
	if want := "a mill, X −12.5 mm, A 30°, C 0°"; whole.Caption[0] != want {
		t.Errorf("caption %q, want %q", whole.Caption[0], want)
	}
	setup := sc.Setup(Home(sc.setup), render.Front)
	if want := []string{"machine/table", "vise"}; !slices.Equal(names(setup.Items), want) {
		t.Errorf("the setup is %v, want %v", names(setup.Items), want)
	}
}

// finding is one of two bodies at a point between them.
func finding(v check.Verdict, question string, a, b int) check.Finding {
	return check.Finding{Verdict: v, Question: question, Index: [2]int{a, b}, Bodies: [2]string{"a", "b"},
		Points: &[2][3]float64{{38, 0, 0}, {40, 0, 0}}}
}

// TestUnits: the machine's bodies are named one by one, others by their component.
func TestUnits(t *testing.T) {
	sc := prepared(t)
	sc.setup.Bodies[4].Name = "vise/jaw"
	var units []string
	for _, it := range sc.Whole(Home(sc.setup), render.Isometric).Items {
		units = append(units, it.Unit)
	}
	if want := []string{"machine/column", "machine/guards", "machine/table", "tool", "vise"}; !slices.Equal(units, want) {
		t.Errorf("units %v, want %v", units, want)
	}
}

// TestPicturesStandAsTheMachineDoes: what is up on the machine is up in every picture.
func TestPicturesStandAsTheMachineDoes(t *testing.T) {
	sc := prepared(t)
	r := &check.Report{Findings: []check.Finding{finding(check.Contact, check.Swing, 0, 4)}}
	for name, p := range map[string]*render.Picture{"whole": sc.Whole(Home(sc.setup), render.Front), "setup": sc.Setup(Home(sc.setup), render.Front),
		"worst": sc.worst(r, 0), "close-up": sc.closeUp(r, 0)} {
		if p.Up != (r3.Vector{Y: 1}) {
			t.Errorf("%s: %v is up", name, p.Up)
		}
	}
}

// TestAtRestShowsWhatMeetsThere: what meets only elsewhere is not marked.
func TestAtRestShowsWhatMeetsThere(t *testing.T) {
	sc := prepared(t)
	r := &check.Report{Findings: []check.Finding{
		finding(check.Contact, check.Swing, 0, 4), finding(check.Tight, check.Rest, 2, 3)}}
	p := sc.atRest(r, sc.Whole)
	for name, want := range map[string]render.Emphasis{"machine/column": render.Plain, "vise": render.Plain,
		"machine/table": render.Tight, "tool": render.Tight, "machine/guards": render.Ghost} {
		if got := emphasis(p, name); got != want {
			t.Errorf("%s has emphasis %d, want %d", name, got, want)
		}
	}
}

// TestWorstShowsBoth: what stands on the table, and the body of the machine that
// it meets, even if it is a veil elsewhere.
func TestWorstShowsBoth(t *testing.T) {
	sc := prepared(t)
	still, moving := finding(check.Contact, check.Rest, 3, 4), finding(check.WithinPlay, check.Overhang, 1, 4)
	r := &check.Report{Setup: "a setup", Findings: []check.Finding{still, moving}}
	if i := moved(r.Findings); i != 1 {
		t.Fatalf("finding %d is shown, want the one in motion", i)
	}
	p := sc.worst(r, 1)
	if want := []string{"machine/guards", "machine/table", "vise"}; !slices.Equal(names(p.Items), want) {
		t.Errorf("it shows %v, want %v", names(p.Items), want)
	}
	if emphasis(p, "machine/guards") != render.WithinPlay || emphasis(p, "vise") != render.WithinPlay || len(p.Marks) != 1 {
		t.Error("what meets is not marked")
	}
	if emphasis(sc.worst(r, 0), "machine/table") != render.Plain {
		t.Error("the table is a veil")
	}
	sc.setup.Bodies[4].Unit = "vise" // a body of it could hide the other
	other := sc.setup.Bodies[4]
	other.Name = "vise/body"
	sc.setup.Bodies = append(sc.setup.Bodies, other)
	if p := sc.worst(r, 1); emphasis(p, "vise/body") != render.Ghost || emphasis(p, "vise") != render.WithinPlay {
		t.Error("a body of a unit hides another of it that meets something")
	}
	sc.setup.Bodies = sc.setup.Bodies[:len(sc.setup.Bodies)-1]
	r.Findings[1] = finding(check.Contact, check.Overhang, 0, 2)
	if emphasis(sc.worst(r, 1), "vise") != render.Ghost {
		t.Error("the vise, which has no part in it, may hide what meets")
	}
	if moved(r.Findings[:1]) != 0 || moved(nil) != -1 {
		t.Error("wrong finding where none is in motion")
	}
}

func TestCloseUp(t *testing.T) {
	sc := prepared(t)
	r := &check.Report{Findings: []check.Finding{finding(check.Contact, check.Swing, 0, 4), finding(check.Contact, check.Rest, 0, 4)}}
	r.Findings[1].Points = nil
	p := sc.closeUp(r, 0)
	if p == nil || p.Close.Center != (r3.Vector{X: 39}) || p.Close.Across != (r3.Vector{X: 2}) || p.Close.Radius < 3 {
		t.Errorf("close-up %+v", p)
	}
	sc.setup.Matings = []machine.Mating{{A: 4, B: 0, Lift: r3.Vector{Z: 1}}}
	if p := sc.closeUp(r, 0); p.Close.Across != (r3.Vector{Z: 1}) {
		t.Errorf("the cut is chosen for %v, not for the way one sinks into the other", p.Close.Across)
	}
	if p := sc.closeUp(r, 1); p != nil {
		t.Error("a close-up of nowhere")
	}
	r.Findings = slices.Repeat(r.Findings[:1], 9)
	count := 0
	for _, s := range sc.set(r, "") {
		if len(s.name) > 8 && s.name[:8] == "finding-" {
			count++
		}
	}
	if count != closeUps {
		t.Errorf("%d close-ups of 9 findings, want %d", count, closeUps)
	}
}

// TestChartStates: every verdict has its state, and what is not known is not
// drawn as clearance.
func TestChartStates(t *testing.T) {
	inf, two := math.Inf(1), 2.0
	for _, c := range []struct {
		cell check.Cell
		want chart.Cell
	}{
		{check.Cell{Verdict: check.Clear}, chart.Cell{State: chart.Clear, Lower: inf, Upper: inf}},
		{check.Cell{Verdict: check.Clear, Proven: &two, Smallest: &two}, chart.Cell{State: chart.Clear, Lower: 2, Upper: 2}},
		{check.Cell{Verdict: check.Tight, Proven: &two}, chart.Cell{State: chart.Tight, Lower: 2, Upper: inf}},
		{check.Cell{Verdict: check.Unproven}, chart.Cell{State: chart.Unproven, Upper: inf}},
		{check.Cell{Verdict: check.WithinPlay}, chart.Cell{State: chart.WithinPlay, Upper: inf}},
		{check.Cell{Verdict: check.Contact}, chart.Cell{State: chart.Contact, Upper: inf}},
		{check.Cell{Verdict: check.OverTravel}, chart.Cell{State: chart.OverTravel, Upper: inf}},
		{check.Cell{Verdict: check.Overload}, chart.Cell{State: chart.Overload, Upper: inf}},
	} {
		if got := cell(&c.cell); got != c.want {
			t.Errorf("%v: %+v, want %+v", c.cell.Verdict, got, c.want)
		}
	}
}

// TestChartMarks: findings stand where their axes do; one that no axis of the
// chart moves is not on it.
func TestChartMarks(t *testing.T) {
	sc := prepared(t)
	rotary := check.Range{Axis: "C", To: 360, Unit: "deg"}
	moving, still := finding(check.Contact, check.Swing, 0, 4), finding(check.Contact, check.Rest, 0, 4)
	moving.Params = motion.Params{math.Pi, math.Pi / 2, 5}
	moving.At = []check.Position{{Axis: "A", Value: 90, Unit: "deg"}}
	r := &check.Report{Findings: []check.Finding{still, moving}, Chart: &check.Chart{
		Tilt: check.Range{Axis: "A", From: -30, To: 110, Unit: "deg"}, Rotary: &rotary,
		Columns: 1, Rows: 1, Demand: 2, Cap: 20, Cells: []check.Cell{{Verdict: check.Contact}}}}
	s := sc.chart(r)
	if len(s.Marks) != 1 || s.Marks[0].Label != "2" || math.Abs(s.Marks[0].Tilt-90) > 1e-9 || math.Abs(s.Marks[0].Rotary-180) > 1e-9 {
		t.Errorf("marks %+v", s.Marks)
	}
	if _, err := s.Draw(t.Context()); err != nil {
		t.Error(err)
	}
}

// TestEmphases: each verdict is drawn as what it is, a body by the worst of its
// findings.
func TestEmphases(t *testing.T) {
	for v, want := range map[check.Verdict]render.Emphasis{check.Contact: render.Contact, check.OverTravel: render.Contact, check.Overload: render.Contact,
		check.WithinPlay: render.WithinPlay, check.Unproven: render.Unproven, check.Tight: render.Tight, check.Clear: render.Plain} {
		if got := prepared(t).emphases([]check.Finding{finding(v, check.Swing, 0, 4)}); got[0] != want || got[4] != want {
			t.Errorf("%v: emphasis %v, want %v", v, got, want)
		}
	}
	got := prepared(t).emphases([]check.Finding{finding(check.Tight, check.Swing, 0, 4), finding(check.Unproven, check.Swing, 1, 4)})
	if got[0] != render.Tight || got[4] != render.Unproven {
		t.Errorf("emphases %v", got)
	}
}

// TestMarks: what is left of a gap is rounded down, and said to be left where
// the location uncertainty closes it.
func TestMarks(t *testing.T) {
	mm := func(v float64) *float64 { return &v }
	for _, c := range []struct {
		verdict  check.Verdict
		smallest *float64
		want     string
		inches   string // an inch is 25.4 mm (ISO 80000-3)
	}{
		{check.Contact, nil, "here", "here"}, {check.Unproven, nil, "here", "here"},
		{check.Tight, mm(1.239), "1.23 mm", "0.0487 inch"}, {check.WithinPlay, mm(-0.601), "-0.61 mm left", "-0.0237 inch left"},
	} {
		f := finding(c.verdict, check.Swing, 0, 4)
		f.Smallest = c.smallest
		for unit, want := range map[geom.Unit]string{geom.Millimetre: c.want, geom.Inch: c.inches} {
			sc := prepared(t)
			sc.In(text.NewLengths(unit, nil))
			if m := sc.marks(&f); len(m) != 1 || m[0].Label != want || m[0].Point != (r3.Vector{X: 39}) {
				t.Errorf("%v: marks %+v, want %q", c.verdict, m, want)
			}
		}
	}
}

// TestChartCaption: what the numbers are worth, where the spindle stood, and
// which findings are not to be looked for on the chart.
func TestChartCaption(t *testing.T) {
	sc := prepared(t)
	at := func(axis, unit string) []check.Position { return []check.Position{{Axis: axis, Unit: unit}} }
	still, table := finding(check.Contact, check.Rest, 0, 4), finding(check.Contact, check.Overhang, 0, 4)
	moving, other := finding(check.Tight, check.Swing, 0, 4), finding(check.Tight, check.Swing, 0, 4)
	table.At, moving.At, other.At = at("X", "mm"), at("A", "deg"), at("B", "deg")
	z, travel := check.Range{Axis: "Z", From: -5, To: -5, Unit: "mm"}, check.Range{Axis: "Z", From: -550, Unit: "mm"}
	r := &check.Report{Machine: "a mill", Findings: []check.Finding{still, table, moving, other},
		Axes: []check.Axis{{Letter: "Z", Commanded: travel, SpindleAt: &z}},
		Chart: &check.Chart{Tilt: check.Range{Axis: "A", From: -30, To: 110, Unit: "deg"},
			Columns: 1, Rows: 1, Demand: 1.001, Cap: 20, Cells: []check.Cell{{Verdict: check.Contact}}}}
	want := []string{
		"a mill. Demanded clearance 1.001 mm, location uncertainty taken off.",
		"Clearances are proven, at least so much, and coarser than those of the report. Spindle side at Z −5 mm only.",
		"Marks are numbered as the findings in the report.",
		"Not on this chart: finding 1 (stands still), finding 2 (linear axes only), finding 4 (other axes).",
	}
	if got := sc.chart(r).Caption; !slices.Equal(got, want) {
		t.Errorf("caption %q\nwant %q", got, want)
	}
	sc.In(text.NewLengths(geom.Inch, nil))
	want[0], want[1] = "a mill. Demanded clearance 0.0394 inch, location uncertainty taken off.",
		"Clearances are proven, at least so much, and coarser than those of the report. Spindle side at Z −0.1969 inch only."
	if c := sc.chart(r); !slices.Equal(c.Caption, want) || c.Lengths.Unit != geom.Inch || c.Demand != 1.001 {
		t.Errorf("in %s, demand %g: caption %q\nwant %q", c.Lengths.Name(), c.Demand, c.Caption, want)
	}
	r.Findings = slices.Repeat([]check.Finding{moving}, closeUps+2)
	if got := sc.chart(r); len(got.Marks) != closeUps || !slices.Contains(got.Caption,
		"Marks are numbered as the findings in the report. Findings without a mark: 2.") {
		t.Errorf("%d marks, caption %q", len(got.Marks), got.Caption)
	}
	r.Findings = append(slices.Repeat([]check.Finding{still}, closeUps), moving)
	if got := sc.chart(r); len(got.Marks) != 0 || !slices.Contains(got.Caption, "Findings without a mark: 1.") {
		t.Errorf("%d marks, caption %q", len(got.Marks), got.Caption)
	}
	r.Findings = slices.Repeat([]check.Finding{still}, 6)
	if got := offChart(r); !strings.HasSuffix(got, "finding 4 (stands still) and 2 more.") {
		t.Errorf("caption %q", got)
	}
	r.Findings = []check.Finding{moving}
	if got := offChart(r); got != "" {
		t.Errorf("caption %q, though all is on the chart", got)
	}
}

func TestStem(t *testing.T) {
	if got := Stem("setups/one.two.toml"); got != "one.two" {
		t.Errorf("stem %q", got)
	}
}

// The chart's title is the verdict of the swing, not that of operations, which it does not show; what no
// finding tells of counts against it.
func TestChartTitleIsOfTheSwing(t *testing.T) {
	for _, c := range []struct {
		setup, want check.Verdict
		findings    []check.Finding
	}{
		{check.Contact, check.Clear, []check.Finding{{Verdict: check.Contact, Question: check.Travels}}},
		{check.Contact, check.Tight, []check.Finding{{Verdict: check.Contact, Question: check.Travels}, {Verdict: check.Tight, Question: check.Swing}}},
		{check.Contact, check.Contact, []check.Finding{{Verdict: check.Contact, Question: check.Rest}}},
		{check.Unproven, check.Unproven, nil},
		{check.Unproven, check.Unproven, []check.Finding{{Verdict: check.Tight, Question: check.Swing}}},
	} {
		r := &check.Report{Verdict: c.setup, Findings: c.findings}
		if got := swingVerdict(r); got != c.want {
			t.Errorf("%+v: %s", c, got)
		}
	}
}
