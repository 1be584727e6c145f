package pages

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"testing"

	"gridswing/cmd/gridswing/internal/pictures"
	"gridswing/cmd/gridswing/internal/specimen"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/changeover"
	"gridswing/machine/check/driver"
	"gridswing/machine/check/loads"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
	"gridswing/machine/check/stack"
	"gridswing/machine/check/swing"
	"gridswing/machine/tooling"
	"gridswing/models"
	"gridswing/models/many"
	"gridswing/render/ink"
	"gridswing/render/page"
)

// looked loads a setup and looks at all of it.
func looked(t testing.TB, files fs.FS, name string) *Setup {
	t.Helper()
	m, err := machine.LoadFS(files, name)
	if err != nil {
		t.Fatal(err)
	}
	ctx, trees, r := context.Background(), proof.NewTrees(), check.NewReport(m)
	for _, err := range []error{
		swing.Check(ctx, m, r, swing.Options{Trees: trees}), reach.Check(ctx, m, r, reach.Options{Trees: trees}),
		stack.Check(ctx, m, r, stack.Options{Trees: trees}), loads.Check(ctx, m, r, loads.Options{Trees: trees}),
		driver.Check(ctx, m, r, driver.Options{Trees: trees}),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	r.Checks = []string{check.SwingCheck, check.ReachCheck, check.StackCheck, check.LoadsCheck}
	plan, err := changeover.Make(ctx, nil, m, changeover.Options{Trees: trees})
	if err != nil {
		t.Fatal(err)
	}
	return &Setup{Setup: m, Report: r, Loading: plan, Figures: sketches(r), Revision: "C", Date: "2026-03-02", Hash: "9f2c41d07be35a18c6d2e4f0", Notes: []string{"Wipe the faceplate, and leave 5 mm."}}
}

var (
	once sync.Mutex
	made = map[string]*Setup{}
)

// demo is a setup of the demo, looked at once for all tests; they leave it as it is.
func demo(t testing.TB, name string) *Setup {
	t.Helper()
	once.Lock()
	defer once.Unlock()
	if made[name] == nil {
		made[name] = looked(t, models.Demo, name)
	}
	s := *made[name]
	return &s
}

// manyFeatures is a job of 200 features, looked at once.
func manyFeatures(t testing.TB) *Setup {
	t.Helper()
	once.Lock()
	defer once.Unlock()
	if made["many"] == nil {
		files, err := many.FS()
		if err != nil {
			t.Fatal(err)
		}
		made["many"] = looked(t, files, many.Setup)
	}
	s := *made["many"]
	return &s
}

// sketches stand for the drawings: a frame with a name in it, one or more of each kind.
func sketches(r *check.Report) (list []pictures.Figure) {
	add := func(kind string, aspect float64, finding int, numbers ...pictures.Numbered) {
		words := fmt.Sprintf("%s drawing %d", kind, len(list)+1)
		list = append(list, pictures.Figure{Kind: kind, Title: sentence(kind), Words: []string{"2.54 mm to 5.08 mm"}, Aspect: aspect, Finding: finding, Numbers: numbers,
			Draw: func(ctx context.Context, s ink.Surface) error {
				w, h := s.Size()
				s.Frame(1, 1, w-1, h-1, 2, ink.Black)
				s.Text(10, 40, ink.Left, ink.Type{Size: 24}, words)
				return ctx.Err()
			}})
	}
	var numbers []pictures.Numbered
	for i := range r.Placed {
		numbers = append(numbers, pictures.Numbered{Number: i + 1, Name: r.Placed[i].Name})
	}
	add(pictures.NumberedFigure, 4.0/3, 0, numbers...)
	for range 3 {
		add(pictures.PlanFigure, 1.6, 0)
	}
	add(pictures.ElevationFigure, 1.5, 0)
	add(pictures.SwingFigure, 1.4, 0)
	add(pictures.MomentFigure, 2, 0)
	if r.Program != nil {
		add(pictures.ProgramFigure, 2.2, 0)
	}
	for i := range r.Findings {
		if i%3 != 2 {
			add(pictures.CloseUpFigure, 4.0/3, i+1)
		}
	}
	add(pictures.CloseUpFigure, 4.0/3, 0)
	return list
}

// specimens are reports of all kinds, on a setup of which nothing but they is known.
func specimens() map[string]*Setup {
	stacked := specimen.Reach()
	stacked.Stack, stacked.Loads = specimen.Stack(), specimen.Loads()
	turned := specimen.Reach()
	turned.Offsets = specimen.TurnedOffsets()
	empty := &check.Report{Setup: "nothing", Machine: "Mill 3", File: "setups/nothing.toml", Caution: check.Caution}
	empty.Conclude()
	list := map[string]*Setup{}
	for name, r := range map[string]*check.Report{"reach": specimen.Reach(), "program": specimen.Program(), "broken program": specimen.BrokenProgram(),
		"stack and loads": stacked, "turned offsets": turned, "nothing": empty} {
		list[name] = &Setup{Setup: &machine.Setup{}, Report: r, Figures: sketches(r)}
	}
	return list
}

// A name of 60 letters without a blank, and a number to tell it from others.
func longName(what string, i int) string {
	words := fmt.Sprintf("%s_%d_", what, i)
	return words + strings.Repeat("x", 60-len(words))
}

// large is a setup of 300 tools and 200 operations, of 30 features each tenth, whose names are all long.
func large() *Setup {
	m := &machine.Setup{Parts: []machine.Part{{Name: longName("part", 1)}}}
	r := specimen.Reach()
	r.Setup, r.Machine, r.File = longName("setup", 1), longName("machine", 1), "setups/"+longName("file", 1)+".toml"
	r.Stack, r.Loads, r.Fastening = specimen.Stack(), specimen.Loads(), &check.Fastening{Friction: 0.12, Drivers: []string{"hex key"}}
	one := r.Reach.Operations[0]
	r.Reach.Operations, r.Reach.Magazine = nil, nil
	for i := range 300 {
		n := i + 1
		cutter := &tooling.Cutter{Kind: tooling.BallEndMill, DC: 6 + float64(i)/7}
		m.Tools = append(m.Tools, &tooling.Tool{Number: n, Name: longName("tool", n), Cutter: cutter, Holder: &tooling.Holder{Length: 80}, StickOut: 48})
		o := one
		o.Tool, o.ToolName, o.LPR, o.Name = n, longName("tool", n), 90+float64(i)/3, longName("operation", n)
		if i >= 200 {
			o.Name = longName("operation", i-199)
		}
		o.Features = slices.Clone(one.Features)
		for k := range o.Features {
			o.Features[k].Name = longName("feature", n)
		}
		r.Reach.Operations = append(r.Reach.Operations, o)
	}
	for i := range 40 {
		name := longName("component", i+1)
		r.Placed = append(r.Placed, check.Placed{Name: name, Size: [3]float64{1200.25, 800.5, 30}})
		seat := r.Stack.Seats[0]
		seat.Unit, seat.On = name, longName("component", i)
		r.Stack.Seats = append(r.Stack.Seats, seat)
		torque := 80.0 + float64(i)
		r.Fastening.Screws = append(r.Fastening.Screws, check.Screw{Of: name, Name: "1", Thread: "M12", Class: "8.8", Into: longName("grid", i+1) + " B2", Torque: &torque})
	}
	for i := range 60 {
		f := r.Findings[i%5]
		f.Bodies = [2]string{longName("body", i), longName("body", i+1)}
		r.Findings = append(r.Findings, f)
	}
	return &Setup{Setup: m, Report: r, Figures: sketches(r), Revision: strings.Repeat("R", 24), Date: "2026-03-02", Hash: strings.Repeat("0123456789abcdef", 4), Notes: []string{longName("note", 1)}}
}

// setOn returns the pages of a setup.
func setOn(t testing.TB, s *Setup, f page.Format, u Units) *page.Document {
	t.Helper()
	doc, err := s.Document(t.Context(), Options{Format: f, Units: u})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}
