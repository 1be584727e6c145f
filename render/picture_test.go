package render

import (
	"context"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
	"gridswing/render/ink"
	"gridswing/render/measure"
	"gridswing/render/raster"

	"github.com/golang/geo/r3"
)

// compass is a block with a peg on each of its six sides: what is where shows
// whether a view is turned or mirrored.
func compass(t testing.TB) []Item {
	t.Helper()
	items := []Item{{Name: "block", Shape: Prepare(block(t, -30, -30, -30, 30, 30, 30).Mesh(), true), Pose: geom.Identity()}}
	peg := Prepare(block(t, -8, -8, -8, 8, 8, 8).Mesh(), true)
	for _, p := range []struct {
		name string
		at   r3.Vector
	}{{"+X", r3.Vector{X: 38}}, {"-X", r3.Vector{X: -38}}, {"+Y", r3.Vector{Y: 38}}, {"-Y", r3.Vector{Y: -38}},
		{"+Z", r3.Vector{Z: 38}}, {"-Z", r3.Vector{Z: -38}}} {
		items = append(items, Item{Name: p.name, Shape: peg, Pose: geom.Shift(p.at)})
	}
	return items
}

// scene draws a picture's scene without the rest of the page.
func scene(t testing.TB, p Picture) *drawing {
	t.Helper()
	if err := p.complete(); err != nil {
		t.Fatal(err)
	}
	d, err := p.drawScene(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	d.page = ink.On(d.scene)
	return d
}

// middle returns the centroid of a body's pixels and their number.
func middle(s *raster.Seen, body int) (x, y float64, n int) {
	for py := range s.Height {
		for px := range s.Width {
			if s.Body(px, py) == body {
				x, y, n = x+float64(px)+0.5, y+float64(py)+0.5, n+1
			}
		}
	}
	return x / float64(n), y / float64(n), n
}

func TestViewsShowSidesWhereTheyBelong(t *testing.T) {
	// Where the pegs are seen from the block's middle: right and up are +.
	tests := map[View]struct {
		right, left, up, down string
		facing, hidden        string
	}{
		Front: {right: "+X", left: "-X", up: "+Z", down: "-Z", facing: "-Y", hidden: "+Y"},
		Right: {right: "+Y", left: "-Y", up: "+Z", down: "-Z", facing: "+X", hidden: "-X"},
		Top:   {right: "+X", left: "-X", up: "+Y", down: "-Y", facing: "+Z", hidden: "-Z"},
	}
	for view, want := range tests {
		d := scene(t, Picture{Items: compass(t), View: view, Width: 400, Height: 300})
		cx, cy, _ := d.camera.Project(r3.Vector{})
		for i := range d.Items {
			x, y, n := middle(d.seen, i)
			dx, dy := math.Round(x-cx), math.Round(cy-y)
			name := d.Items[i].Name
			switch name {
			case want.right:
				check(t, view, name, n > 0 && dx > 30 && dy == 0)
			case want.left:
				check(t, view, name, n > 0 && dx < -30 && dy == 0)
			case want.up:
				check(t, view, name, n > 0 && dx == 0 && dy > 30)
			case want.down:
				check(t, view, name, n > 0 && dx == 0 && dy < -30)
			case want.facing:
				check(t, view, name, n > 0 && dx == 0 && dy == 0)
			case want.hidden:
				check(t, view, name, n == 0)
			}
		}
	}
}

func check(t *testing.T, view View, name string, ok bool) {
	t.Helper()
	if !ok {
		t.Errorf("%s: the peg on side %s is not where it belongs", view, name)
	}
}

func TestIsometricLooksFromFrontRightAbove(t *testing.T) {
	d := scene(t, Picture{Items: compass(t), Width: 600, Height: 500})
	cx, cy, _ := d.camera.Project(r3.Vector{})
	whole := map[string]int{}
	for i := range d.Items {
		x, y, n := middle(d.seen, i)
		name := d.Items[i].Name
		whole[name] = n
		switch name {
		case "+X":
			check(t, Isometric, name, x > cx+20 && y > cy+10)
		case "-Y":
			check(t, Isometric, name, x < cx-20 && y > cy+10)
		case "+Z":
			check(t, Isometric, name, math.Abs(x-cx) < 2 && y < cy-20)
		}
	}
	for _, pair := range [][2]string{{"+X", "-X"}, {"-Y", "+Y"}, {"+Z", "-Z"}} {
		if whole[pair[0]] <= whole[pair[1]] {
			t.Errorf("%s covers %d pixels and %s, which looks away, %d", pair[0], whole[pair[0]], pair[1], whole[pair[1]])
		}
	}
}

// Angles between the axes of an isometric view are 120 degrees, and all three
// are shortened by sqrt(2/3): ISO 5456-3, from memory.
func TestIsometricAxes(t *testing.T) {
	right, up, _ := Isometric.axes(operator(r3.Vector{Z: 1}))
	for i, a := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} {
		x, y := right.Dot(a), up.Dot(a)
		if math.Abs(math.Hypot(x, y)-math.Sqrt(2.0/3)) > 1e-12 {
			t.Errorf("axis %d is %v long", i, math.Hypot(x, y))
		}
		angle := math.Atan2(y, x) * 180 / math.Pi
		if want := []float64{-30, 30, 90}[i]; math.Abs(angle-want) > 1e-9 {
			t.Errorf("axis %d points to %v degrees, want %v", i, angle, want)
		}
	}
}

func TestEverythingFitsTheView(t *testing.T) {
	r := newRig(t)
	for _, v := range Views() {
		d := scene(t, Picture{Items: r.items(35, 20), View: v, Width: 800, Height: 600, Title: "t", Caption: []string{"a", "b"}})
		box := ink.Area{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1)}
		for y := range 600 {
			for x := range 800 {
				if d.seen.Body(x, y) >= 0 {
					box = ink.Area{X0: min(box.X0, float64(x)), Y0: min(box.Y0, float64(y)), X1: max(box.X1, float64(x+1)), Y1: max(box.Y1, float64(y+1))}
				}
			}
		}
		room := d.view.Shrunk(50 * d.unit)
		if !box.Within(room.Shrunk(-1)) {
			t.Errorf("%s: bodies cover %v, beyond %v", v, box, room)
		}
		if slack := min(room.Width()-box.Width(), room.Height()-box.Height()); slack > 2 {
			t.Errorf("%s: %v pixels of the view are left unused both ways", v, slack)
		}
	}
}

// In the front view the scale bar's length and a block of known width agree.
// However long the caption, there is room for the scene.
func TestLongCaptionIsCutShort(t *testing.T) {
	p := Picture{Items: compass(t), Caption: make([]string, 200), Width: 400, Height: 300}
	d := scene(t, p)
	if d.view.Height() < 100 || !strings.HasSuffix(d.Caption[len(d.Caption)-1], "…") {
		t.Errorf("the scene has %v pixels below %d lines", d.view.Height(), len(d.Caption))
	}
}

// Ghosts do not widen the view; a picture of ghosts only shows them.
func TestViewIsFramedOnWhatIsNoGhost(t *testing.T) {
	items := compass(t)
	alone := scene(t, Picture{Items: items}).camera
	big := Item{Shape: Prepare(block(t, -500, -500, -500, 500, 500, 500).Mesh(), true), Pose: geom.Identity(), Emphasis: Ghost}
	if with := scene(t, Picture{Items: append(items, big)}).camera; with != alone {
		t.Errorf("a ghost changes the view from %v to %v", alone, with)
	}
	if only := scene(t, Picture{Items: []Item{big}}).camera; only.Scale >= alone.Scale/5 {
		t.Errorf("a picture of one large ghost is drawn at %v pixels per mm", only.Scale)
	}
}

func TestScaleBarIsTrue(t *testing.T) {
	for _, c := range []struct {
		view  View
		unit  geom.Unit
		words string
	}{{Front, 0, "10 mm"}, {Isometric, geom.Millimetre, "20 mm"}, {Front, geom.Inch, "0.5 inch"}, {Isometric, geom.Inch, "1 inch"}} {
		p := Picture{Items: []Item{{Shape: Prepare(block(t, 0, 0, 0, 90, 60, 40).Mesh(), true), Pose: geom.Identity()}}, View: c.view, Lengths: measure.Lengths{Unit: c.unit}}
		canvas := ink.NewCanvas(1600, 1200, ink.Paper)
		seen := &notes{Surface: canvas}
		if err := p.DrawOn(t.Context(), seen); err != nil {
			t.Fatal(err)
		}
		if !slices.ContainsFunc(seen.words, func(w note) bool { return w.words == c.words }) {
			t.Errorf("%s: %v, want %s", c.view, seen.words, c.words)
		}
		d := scene(t, p)
		x0, _, _ := d.camera.Project(r3.Vector{})
		x1, y1, _ := d.camera.Project(r3.Vector{X: 10})
		_, y0, _ := d.camera.Project(r3.Vector{})
		perMM := math.Hypot(x1-x0, y1-y0) / 10
		y := 1200 - 62 - 1 // the bar's lower border
		from, to := -1, 0
		for x := 150; x < 700 && to == 0; x++ {
			dark := ink.Lightness(canvas.RGBAAt(x, y)) < 40
			if dark && from < 0 {
				from = x
			}
			if !dark && from >= 0 {
				to = x
			}
		}
		length := p.Lengths.Round(230 / perMM)
		if want := length * perMM; math.Abs(float64(to-from)-want) > 3 {
			t.Errorf("%s: the bar for %g mm is %d pixels long, want %.1f", c.view, length, to-from, want)
		}
	}
}

// In black and white: a body in contact carries strokes far darker than its
// ground, over a known part of it; a tight one fewer; a plain one none.
func TestEmphasisShowsWithoutColour(t *testing.T) {
	sheet := Prepare(block(t, -50, -50, 0, 50, 50, 10).Mesh(), true)
	dark := func(e Emphasis) (part, contrast float64) {
		p := Picture{Items: []Item{{Shape: sheet, Pose: geom.Identity(), Emphasis: e}}, View: Top, Width: 800, Height: 600}
		d := scene(t, p)
		cx, cy, _ := d.camera.Project(r3.Vector{})
		var l []float64
		for y := int(cy) - 100; y < int(cy)+100; y++ {
			for x := int(cx) - 100; x < int(cx)+100; x++ {
				l = append(l, ink.Lightness(d.scene.RGBAAt(x, y)))
			}
		}
		lo, hi := slices.Min(l), slices.Max(l)
		n := 0
		for _, v := range l {
			if v < (lo+hi)/2 {
				n++
			}
		}
		return float64(n) / float64(len(l)), hi - lo
	}
	if part, contrast := dark(Contact); math.Abs(part-0.4) > 0.05 || contrast < 45 {
		t.Errorf("contact: %.2f of it dark by %.0f of L*, want 0.40 by 45 or more", part, contrast)
	}
	if part, contrast := dark(Tight); math.Abs(part-1.0/7) > 0.05 || contrast < 45 {
		t.Errorf("tight: %.2f of it dark by %.0f of L*, want 0.14 by 45 or more", part, contrast)
	}
	if part, contrast := dark(WithinPlay); math.Abs(part-(1-math.Pow(1-2.2/9, 2))) > 0.05 || contrast < 45 {
		t.Errorf("within play: %.2f of it dark by %.0f of L*, want 0.43 by 45 or more", part, contrast)
	}
	if part, contrast := dark(Unproven); math.Abs(part-2*math.Pi*2.3*2.3/100) > 0.05 || contrast < 45 {
		t.Errorf("unproven: %.2f of it dark by %.0f of L*, want 0.33 by 45 or more", part, contrast)
	}
	if _, contrast := dark(Plain); contrast > 1 {
		t.Errorf("plain: L* varies by %.1f over one face", contrast)
	}
}

// A point before, on and just below a surface is seen; one behind it is not.
func TestHiddenMarksAreToldFromSeenOnes(t *testing.T) {
	d := scene(t, Picture{Items: compass(t)[:1], View: Front})
	allowance := hiddenBy / d.camera.Scale
	for y, want := range map[float64]bool{-60: false, -30: false, -30 + 0.9*allowance: false, -30 + 1.1*allowance: true, 0: true, 50: true} {
		px, py, depth := d.camera.Project(r3.Vector{X: 3, Y: y, Z: 4})
		if got := d.seen.Hides(int(px), int(py), depth, allowance); got != want {
			t.Errorf("a point at Y %.2f: hidden %v, want %v", y, got, want)
		}
	}
	if px, py, depth := d.camera.Project(r3.Vector{X: 33, Y: 50, Z: 33}); d.seen.Hides(int(px), int(py), depth, allowance) {
		t.Error("a point beside the block counts as hidden")
	}
}

func TestBodiesNotSeenAreNamed(t *testing.T) {
	items := compass(t)
	items[4].Emphasis = Contact // -Y
	items[3].Emphasis = Contact // +Y, hidden in the front view
	d := scene(t, Picture{Items: items, View: Front})
	d.labels()
	if !slices.Equal(d.silent, []string{"+Y"}) {
		t.Errorf("reported as not seen: %q, want +Y", d.silent)
	}
}

func TestCloseUpChoosesItsCut(t *testing.T) {
	tests := []struct {
		view   View
		across r3.Vector
		want   View   // looked from
		cut    string // in the caption
	}{
		{"", r3.Vector{Z: 1}, Front, "cut at Y = 2 mm"},
		{"", r3.Vector{Y: 1}, Right, "cut at X = 1 mm"},
		{"", r3.Vector{X: 0.6, Y: 0.8}, Top, "cut at Z = 3 mm"},
		{"", r3.Vector{}, Front, "cut at Y = 2 mm"},
		{Front, r3.Vector{Y: 1}, Front, "cut at Y = 2 mm"},
		{Isometric, r3.Vector{Y: 1}, Isometric, "cut at X = 1 mm"},
	}
	for _, test := range tests {
		p := Picture{Items: compass(t), View: test.view, Close: &CloseUp{Center: r3.Vector{X: 1, Y: 2, Z: 3}, Radius: 20, Across: test.across}, Width: 400, Height: 300}
		d := scene(t, p)
		if d.View != test.want || len(d.Caption) != 1 || !strings.Contains(d.Caption[0], test.cut) {
			t.Errorf("view %q across %v: seen from %s, caption %q; want %s, %q", test.view, test.across, d.View, d.Caption, test.want, test.cut)
		}
		if len(p.Caption) != 0 {
			t.Error("the caller's caption was changed")
		}
		x, y, _ := d.camera.Project(r3.Vector{X: 1, Y: 2, Z: 3})
		mid := d.view.Shrunk(0)
		if math.Abs(x-(mid.X0+mid.X1)/2) > 1e-9 || math.Abs(y-(mid.Y0+mid.Y1)/2) > 1e-9 {
			t.Errorf("the point is at (%v, %v), not in the middle of %v", x, y, mid)
		}
	}
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	good := compass(t)
	nan := math.NaN()
	tests := map[string]Picture{
		"shows nothing":        {},
		"no view is named":     {Items: good, View: "left"},
		"size":                 {Items: good, Width: 10, Height: 10},
		"has no shape":         {Items: []Item{{Name: "x"}}},
		"radius":               {Items: good, Close: &CloseUp{Radius: 0.1}},
		"finite place":         {Items: []Item{{Shape: good[0].Shape, Pose: geom.Shift(r3.Vector{X: nan})}}},
		"not at a finite":      {Items: good, Marks: []Mark{{Point: r3.Vector{Z: math.Inf(1)}, Label: "1"}}},
		"facets":               {Items: []Item{{Shape: Prepare(&geom.Mesh{}, false), Pose: geom.Identity()}}},
		"pixels from the midd": {Items: []Item{{Shape: good[0].Shape, Pose: geom.Shift(r3.Vector{X: 1e9})}}, Close: &CloseUp{Radius: 1}},
	}
	for want, p := range tests {
		if _, err := p.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	p := Picture{Items: good}
	if _, err := p.Draw(ctx); err != context.Canceled {
		t.Errorf("with a done context: %v, want %v", err, context.Canceled)
	}
}

func TestParseView(t *testing.T) {
	for _, v := range Views() {
		if got, err := ParseView(string(v)); got != v || err != nil {
			t.Errorf("ParseView(%q) = %q, %v", v, got, err)
		}
	}
	if v, err := ParseView(""); v != Isometric || err != nil {
		t.Errorf(`ParseView("") = %q, %v`, v, err)
	}
}

func TestPictureIsTheSameOnAnyNumberOfWorkers(t *testing.T) {
	r := newRig(t)
	var first *image.RGBA
	for _, n := range []int{1, 2, 5} {
		p := Picture{Items: r.items(20, 45), Width: 500, Height: 400, Workers: n}
		p.Items[4].Emphasis = Contact
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = img
		} else if !slices.Equal(first.Pix, img.Pix) {
			t.Errorf("%d workers draw another picture than one", n)
		}
	}
}

// A title that is long is whole, in smaller letters; one that is very long is shortened.
func TestLongTitles(t *testing.T) {
	d := &drawing{Picture: &Picture{}, unit: 1}
	full := d.title()
	for n := 1; n < 300; n += 7 {
		d.Title = strings.Repeat("vise/jaw ", n)
		letters, title := d.titleIn(1500)
		if w := letters.Width(title); w > 1500 {
			t.Fatalf("%d letters are %.1f wide", len(d.Title), w)
		}
		switch at := full.Width(d.Title); {
		case at <= 1500 && (title != d.Title || letters.Size != full.Size):
			t.Errorf("a title that fits, %q, is changed to %q of size %g", d.Title, title, letters.Size)
		case at > 1500 && at < 1500/leastTitle*0.95 && title != d.Title:
			t.Errorf("a title of %.0f is shortened to %q", at, title)
		case letters.Size < leastTitle*full.Size*0.999:
			t.Errorf("a title is set %g high", letters.Size)
		}
	}
}
