package chart

import (
	"context"
	"image"
	"image/color"
	"math"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
)

// invented returns a chart of an invented trunnion: clearance falls off to both
// ends of the tilt, most where corners pass.
func invented(columns, rows int) *Swing {
	s := &Swing{Title: "Swing of the bracket, second side",
		Caption: []string{"Demanded clearance 2 mm. Index position: Z 0, X and Y anywhere.", "Contact at A +92.5°, C 41.0°: faceplate, trunnion base."},
		Tilt:    Axis{"A tilt", -30, 110}, Rotary: Axis{"C rotary", 0, 360}, Columns: columns, Rows: rows, Demand: 2, Cap: 20,
		Marks: []Mark{{92.5, 41, "1  faceplate meets base"}, {-20, 200, "2  2.3 mm: vise, column"}}}
	for r := range rows {
		for c := range columns {
			tilt := -30 + 140*(float64(c)+0.5)/float64(columns)
			turn := 2 * math.Pi * (float64(r) + 0.5) / float64(rows)
			mm := 24 - math.Abs(tilt-20)*0.24 - 8*math.Abs(math.Sin(2*turn)) - 2*math.Cos(turn)
			cell := Cell{State: Clear, Lower: mm * 0.96, Upper: mm}
			switch {
			case tilt < -25 && turn > 5:
				cell.State = Unproven
			case tilt < -25 && turn < 0.5:
				cell.State = OverTravel
			case mm < 0:
				cell.State = Contact
			case mm < 0.4:
				cell.State = WithinPlay
			case mm < 2:
				cell.State = Tight
			}
			s.Cells = append(s.Cells, cell)
		}
	}
	return s
}

func TestGoldenCharts(t *testing.T) {
	for name, s := range map[string]*Swing{"field": invented(70, 60), "coarse": invented(14, 9), "tilt": invented(70, 1), "rotary": invented(1, 60)} {
		s.Width, s.Height = 800, 600
		if s.Rows == 1 {
			s.Cap = 12
		}
		img, err := s.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

// Every cell covers its own pixels and no others: row 0 at the bottom, column 0
// at the left.
func TestCellsCoverTheirPixels(t *testing.T) {
	const columns, rows = 7, 5
	for cell := range columns * rows {
		s := &Swing{Tilt: Axis{"A", -10, 60}, Rotary: Axis{"C", 0, 50}, Columns: columns, Rows: rows, Demand: 1, Cap: 10, Cells: make([]Cell, columns*rows)}
		for i := range s.Cells {
			s.Cells[i] = Cell{State: Clear, Lower: 10, Upper: 10}
		}
		s.Cells[cell] = Cell{State: Clear, Lower: 1, Upper: 1}
		d := newSheet(defaults(s))
		page := ink.NewCanvas(1600, 1200, ink.Paper)
		d.page = page
		d.cells()
		box := image.Rectangle{}
		n := 0
		for y := range 1200 {
			for x := range 1600 {
				if page.RGBAAt(x, y) == d.shades.of(1) {
					box = box.Union(image.Rect(x, y, x+1, y+1))
					n++
				}
			}
		}
		c, r := cell%columns, cell/columns
		// In degrees, as the axes print them.
		want := image.Rect(
			int(math.Round(d.across(&d.Tilt, -10+10*float64(c)))), int(math.Round(d.up(&d.Rotary, 10*float64(r+1)))),
			int(math.Round(d.across(&d.Tilt, -10+10*float64(c+1)))), int(math.Round(d.up(&d.Rotary, 10*float64(r)))))
		off := max(abs(float64(box.Min.X-want.Min.X)), abs(float64(box.Min.Y-want.Min.Y)), abs(float64(box.Max.X-want.Max.X)), abs(float64(box.Max.Y-want.Max.Y)))
		if off > 1 || n != box.Dx()*box.Dy() {
			t.Errorf("cell of column %d, row %d covers %d pixels of %v, want %v", c, r, n, box, want)
		}
	}
}

func defaults(s *Swing) *Swing {
	s.Width, s.Height = 1600, 1200
	return s
}

// What tells the states apart in a black-and-white print: how much of a cell the
// strokes cover and how strongly they differ from the ground.
func TestStatesShowWithoutColour(t *testing.T) {
	tests := []struct {
		state    State
		part     float64 // of the strokes
		brighter bool    // than the ground
	}{
		{Contact, 4.0 / 10, false},
		{WithinPlay, 1 - math.Pow(1-2.2/9, 2), false},
		{Unproven, 2 * math.Pi * 2.3 * 2.3 / 100, false},
		{OverTravel, 2.0 / 8, false},
		{Overload, 2.0 / 8, false},
		{Tight, 2.0 / 14, true},
	}
	for _, test := range tests {
		s := &Swing{Tilt: Axis{"A", 0, 1}, Rotary: Axis{"C", 0, 1}, Columns: 2, Rows: 2, Demand: 2, Cap: 20, Cells: make([]Cell, 4)}
		for i := range s.Cells {
			s.Cells[i] = Cell{State: test.state, Lower: 1, Upper: 1}
		}
		d := newSheet(defaults(s))
		page := ink.NewCanvas(1600, 1200, ink.Paper)
		d.page = page
		d.cells()
		r := d.plot.Pixels()
		lo, hi := 100.0, 0.0
		for x := r.Min.X; x < r.Min.X+200; x++ {
			for y := r.Min.Y; y < r.Min.Y+200; y++ {
				l := ink.Lightness(page.RGBAAt(x, y))
				lo, hi = min(lo, l), max(hi, l)
			}
		}
		n := 0.0
		for x := r.Min.X; x < r.Min.X+200; x++ {
			for y := r.Min.Y; y < r.Min.Y+200; y++ {
				n += (ink.Lightness(page.RGBAAt(x, y)) - lo) / (hi - lo)
			}
		}
		part := n / 40000
		if !test.brighter {
			part = 1 - part
		}
		if math.Abs(part-test.part) > 0.04 || hi-lo < 40 {
			t.Errorf("state %d: strokes cover %.3f with %.0f of L*, want %.3f with 40 or more", test.state, part, hi-lo, test.part)
		}
	}
}

// Even steps of clearance are even steps of CIE L*, and all above the cap is one shade.
func TestShadesAreEven(t *testing.T) {
	s := newShades(20)
	for mm := 0.0; mm <= 20; mm += 0.5 {
		want := darkest + (lightest-darkest)*mm/20
		if got := ink.Lightness(s.of(mm)); math.Abs(got-want) > 0.6 {
			t.Errorf("%v mm has L* %.2f, want %.2f", mm, got, want)
		}
	}
	if s.of(20) != s.of(1e9) || s.of(20) != s.of(math.Inf(1)) || s.of(0) != s.of(-1) {
		t.Error("beyond the ends of the scale the shade changes")
	}
}

func TestTicks(t *testing.T) {
	join := func(v []float64) string {
		var s []string
		for _, x := range v {
			s = append(s, number(x))
		}
		return strings.Join(s, " ")
	}
	for _, test := range []struct {
		a      Axis
		length float64
		want   string
	}{
		{Axis{"A", -30, 110}, 1000, "−30 −20 −10 0 10 20 30 40 50 60 70 80 90 100 110"},
		{Axis{"C", 0, 360}, 900, "0 30 60 90 120 150 180 210 240 270 300 330 360"},
		{Axis{"C", 0, 360}, 300, "0 90 180 270 360"},
		{Axis{"A", -32.5, 91}, 400, "−32.5 0 30 60 91"},
		{Axis{"A", 1, 2}, 400, "1 1.2 1.4 1.6 1.8 2"},
		{Axis{"A", 3.31, 3.34}, 10, "3.31"},
	} {
		if got := join(angles(&test.a, test.length, 60)); got != test.want {
			t.Errorf("%v on %v pixels: %s, want %s", test.a, test.length, got, test.want)
		}
	}
	for hi, want := range map[float64]string{20: "0 5 10 15 20", 12: "0 2 4 6 8 10 12", 3: "0 0.5 1 1.5 2 2.5 3", 0.07: "0 0.01 0.02 0.03 0.04 0.05 0.06 0.07"} {
		if got := join(lengths(hi, 8)); got != want {
			t.Errorf("0 to %v mm: %s, want %s", hi, got, want)
		}
	}
}

// A chart of one axis draws the proven clearance where it belongs, on the axis
// that varies.
func TestCurveIsAtItsHeight(t *testing.T) {
	for _, rows := range []int{1, 4} {
		s := &Swing{Tilt: Axis{"A", 0, 40}, Rotary: Axis{"C", 0, 40}, Columns: 4 / rows, Rows: rows, Demand: 2, Cap: 10,
			Cells: []Cell{{Clear, 3, 3}, {Clear, 5, 6}, {Contact, 0, 0}, {Clear, 50, 50}}}
		img, err := s.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		d := newSheet(defaults(s))
		for i, want := range []float64{3, 5} {
			x := int(d.across(&Axis{Lo: 0, Hi: 40}, 10*float64(i)+5.3))
			y := int(d.height(want))
			if got := img.RGBAAt(x, y); ink.Lightness(got) > 35 {
				t.Errorf("%d rows: no line at %v mm, but %v", rows, want, got)
			}
			if got := img.RGBAAt(x, y+30); got != d.shades.of(want) {
				t.Errorf("%d rows: below the line %v, want %v", rows, got, d.shades.of(want))
			}
			if got := img.RGBAAt(x, y-10); got != ink.Paper && i == 0 {
				t.Errorf("%d rows: above the line %v, want paper", rows, got)
			}
		}
		x := int(d.across(&Axis{Lo: 0, Hi: 40}, 25))
		tinted := 0
		for y := int(d.plot.Y0) + 10; y < int(d.plot.Y1)-10; y++ {
			if c := img.RGBAAt(x, y); c.R > c.B+40 {
				tinted++
			}
		}
		if part := float64(tinted) / (d.plot.Height() - 20); part < 0.55 {
			t.Errorf("%d rows: only %.2f of the column in contact shows it", rows, part)
		}
	}
}

func TestWhatCannotBeChartedIsRefused(t *testing.T) {
	good := *invented(3, 3)
	with := func(change func(s *Swing)) *Swing {
		s := good
		s.Cells = append([]Cell(nil), good.Cells...)
		change(&s)
		return &s
	}
	tests := map[string]*Swing{
		"8 cells for 3 columns":  with(func(s *Swing) { s.Cells = s.Cells[:8] }),
		"0 columns":              with(func(s *Swing) { s.Columns = 0 }),
		"must run upward":        with(func(s *Swing) { s.Tilt.Hi = s.Tilt.Lo }),
		"C rotary runs from":     with(func(s *Swing) { s.Rotary.Lo = math.NaN() }),
		"demand NaN":             with(func(s *Swing) { s.Demand = math.NaN() }),
		"cap -1":                 with(func(s *Swing) { s.Cap = -1 }),
		"column 1, row 2":        with(func(s *Swing) { s.Cells[7].Lower = math.NaN() }),
		"size of 5 x 5":          with(func(s *Swing) { s.Width, s.Height = 5, 5 }),
		`mark "1`:                with(func(s *Swing) { s.Marks = []Mark{{math.NaN(), 0, "1"}} }),
		"neither axis has a ran": with(func(s *Swing) { s.Columns, s.Rows, s.Cells, s.Tilt.Hi = 1, 1, s.Cells[:1], s.Tilt.Lo }),
	}
	for want, s := range tests {
		if _, err := s.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := good.Draw(ctx); err != context.Canceled {
		t.Errorf("with a done context: %v, want %v", err, context.Canceled)
	}
}

func TestUnknownStateLooksUnproven(t *testing.T) {
	if State(200).look() != Unproven.look() {
		t.Error("a state that is not known does not look unproven")
	}
}

func TestInfiniteClearanceAndNoCap(t *testing.T) {
	s := invented(4, 4)
	s.Cap = 0
	for i := range s.Cells {
		s.Cells[i] = Cell{Clear, math.Inf(1), math.Inf(1)}
	}
	if _, err := s.Draw(t.Context()); err != nil {
		t.Error(err)
	}
	s.Cells[3].Lower = 17
	if got := s.greatest(); got != 17 {
		t.Errorf("without a cap the scale ends at %v, want the greatest finite clearance 17", got)
	}
}

func TestSpans(t *testing.T) {
	var got []color.RGBA // from, to, class
	class := []int{0, 1, 1, 2, 0, 0, 2}
	spans(len(class), func(i int) int { return class[i] }, func(from, to, c int) {
		got = append(got, color.RGBA{uint8(from), uint8(to), uint8(c), 0})
	})
	want := []color.RGBA{{1, 3, 1, 0}, {3, 4, 2, 0}, {6, 7, 2, 0}}
	if len(got) != len(want) {
		t.Fatalf("spans %v, want %v", got, want)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("span %d is %v, want %v", i, got[i], want[i])
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	s := invented(140, 120)
	for b.Loop() {
		if _, err := s.Draw(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}
