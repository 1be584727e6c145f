package chart

import (
	"bytes"
	"context"
	"image"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
)

type drawn interface {
	Draw(context.Context) (*image.RGBA, error)
	DrawOn(context.Context, ink.Surface) error
}

const long = "the name of a thing that somebody in the shop has described at length, with its place in the rack, its makers and aworrdthatdoesnotendwheneverithastobebrokenintolines"

// pictures returns pictures of candidates by name, and such with far too much on them.
func pictures() (plain, crowded map[string]drawn) {
	seats := plate(9, 5, 2, 0, 90, 180, 270)
	rank(seats.choices(), 20, 25, 26, 45)
	polar := wheel(4, 12)
	rank(polar.choices(), 17, 5, 6)
	heat := table(9, 5)
	rank(heat.choices(), 3, 5, 14)
	strip := spacer()
	seats.Width, seats.Height, polar.Width, polar.Height, heat.Width, heat.Height, strip.Width = 800, 600, 800, 600, 800, 600, 800
	plain = map[string]drawn{"seats": seats, "wheel": polar, "combinations": heat, "heights": strip}

	many := plate(15, 9, 2, 0, 90, 180, 270)
	for i := range 30 {
		many.Seats[7*i].Rank, many.Seats[7*i].Name = i+1, long
	}
	two := plate(4, 1, 2, 0)
	two.Title, two.Caption = long, []string{long, long}
	two.Seats[0].Name, two.Seats[0].Present, two.Seats[0].Rank = long, true, 1
	wide := table(30, 12)
	for i := range wide.Columns.Values {
		wide.Columns.Values[i] += long
	}
	wide.Rows.Values[3], wide.Rows.Name, wide.Columns.Name = long, long, long
	small := *wide
	small.Width, small.Height = 600, 400
	one := table(1, 1)
	one.Rows.Name, one.Columns.Values[0] = long, long
	high := spacer()
	for i := range 90 {
		high.Stock = append(high.Stock, Height{At: 40 + 0.2*float64(i), Name: long})
	}
	high.Stretches[1].Reason = long + long + long
	crowded = map[string]drawn{"seats": many, "two seats": two, "combinations": wide, "small": &small, "one": one, "heights": high}
	return plain, crowded
}

func TestGoldenChoices(t *testing.T) {
	plain, _ := pictures()
	for name, p := range plain {
		img, err := p.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

// Nothing runs off the page, however long names are: its border stays blank. The same data
// give the same picture, and the data stay as they were.
func TestChoicesStayOnThePage(t *testing.T) {
	plain, crowded := pictures()
	for _, set := range []map[string]drawn{plain, crowded} {
		for name, p := range set {
			img, err := p.Draw(t.Context())
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			w, h := img.Rect.Dx(), img.Rect.Dy()
			for x := range w {
				for y := range h {
					if (x < 3 || y < 3 || x >= w-3 || y >= h-3) && img.RGBAAt(x, y) != ink.Paper {
						t.Fatalf("%s: something is at the border, at (%d, %d) of %d x %d", name, x, y, w, h)
					}
				}
			}
			again, err := p.Draw(t.Context())
			if err != nil || !bytes.Equal(img.Pix, again.Pix) {
				t.Errorf("%s: drawn twice it is not the same", name)
			}
		}
	}
}

// Each seat has the part of its place's mark that points where it is turned to.
func TestSeatsAreWhereTheyPoint(t *testing.T) {
	m := &SeatMap{Holes: []Hole{{"A1", 0, 0}, {"B1", 100, 0}, {"A2", 0, 100}}, Columns: []Label{{"A", 0}, {"B", 100}}}
	for i, turned := range []float64{0, 90, 180, -90, 45} {
		s := Seat{Choice: Choice{State: Clear, Share: 1 + 0.7*float64(i)}, X: 50, Y: 50, Turned: turned}
		if turned == 45 {
			s.X = 100
		}
		m.Seats = append(m.Seats, s)
	}
	img, err := m.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d := newSeatSheet(m)
	for _, s := range m.Seats {
		for _, off := range []float64{-30, 0, 30} {
			p := ahead(d.at(s.X, s.Y), s.Turned+off, 0.7*d.radius)
			if got, want := img.RGBAAt(int(p.X), int(p.Y)), d.shades.of(s.Share); got != want {
				t.Errorf("turned %v, %v beside: %v, want %v", s.Turned, off, got, want)
			}
		}
	}
	// The one that stands alone has all of its mark.
	p := ahead(d.at(100, 50), 225, 0.7*d.radius)
	if got := img.RGBAAt(int(p.X), int(p.Y)); got != d.shades.of(m.Seats[4].Share) {
		t.Errorf("behind the one that stands alone: %v", got)
	}
	// Up on the page is up on the grid, and lengths are true both ways.
	if a, b := d.at(0, 0), d.at(100, 100); b.Y >= a.Y || math.Abs((b.X-a.X)-(a.Y-b.Y)) > 1e-9 {
		t.Errorf("(0, 0) is at %v, (100, 100) at %v", a, b)
	}
}

func TestOrientationsWithinATurn(t *testing.T) {
	for turned, want := range map[float64]float64{0: 0, -90: 270, 360: 0, 359.99999999: 0, -1e-12: 0, 450: 90, -720: 0} {
		if got := (&Seat{Turned: turned}).turn(); math.Abs(got-want) > 1e-9 {
			t.Errorf("turned %v is %v, want %v", turned, got, want)
		}
	}
}

// Row 0 is on top, column 0 at the left, and a cell looks as its state does.
func TestCombinationsAreInTheirCells(t *testing.T) {
	m := &HeatMap{Columns: Scale{"riser", []string{"a", "b", "c"}}, Rows: Scale{"tool", []string{"1", "2"}}}
	for i := range 6 {
		m.Cells = append(m.Cells, Combination{Choice: Choice{State: Clear, Share: 0.9 * float64(i)}})
	}
	m.Cells[4].Missing = true
	m.Cells[5].State = Contact
	img, err := m.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d := newHeatSheet(m)
	for i, c := range m.Cells {
		x := int(d.plot.X0 + d.plot.Width()*(float64(i%3)+0.25)/3)
		y := int(d.plot.Y0 + d.plot.Height()*(float64(i/3)+0.4)/2)
		want := d.shades.of(c.Share)
		switch {
		case c.Missing:
			want = ink.Paper
		case c.State == Contact:
			for ink.Hatch.Coverage(x, y) > 0 {
				x++
			}
			want = ink.ContactGround
		}
		if got := img.RGBAAt(x, y); got != want {
			t.Errorf("cell %d is %v, want %v", i, got, want)
		}
	}
}

func TestSharesAreRoundedDown(t *testing.T) {
	for v, want := range map[float64]string{0.9999: "0.99", 1: "1.00", 2.345: "2.34", 4.999: "4.99", 5: "5 or more", 71: "5 or more", -0.004: "−0.01", 0.29: "0.29"} {
		if got := share(v, 5); got != want {
			t.Errorf("a share of %v is printed %q, want %q", v, got, want)
		}
	}
}

// What is printed of a clear stretch is within it; nothing that is not clear is left out.
func TestSpansAreRoundedInward(t *testing.T) {
	d := &stripSheet{HeightStrip: spacer()}
	for i, want := range []string{"40.0 to 52.3 mm", "52.3 to 52.6 mm", "52.6 to 78.0 mm", "78.0 to 84.0 mm", "84.0 to 110.0 mm"} {
		if got := d.span(i); got != want {
			t.Errorf("stretch %d is %q, want %q", i, got, want)
		}
	}
	d.Stretches = []Stretch{{-1.26, 3.33, Tight, ""}, {3.33, 3.37, Clear, ""}, {3.37, 9, Clear, ""}}
	for i, want := range []string{"−1.3 to 3.4 mm", "3.33 to 3.37 mm", "3.4 to 9.0 mm"} {
		if got := d.span(i); got != want {
			t.Errorf("stretch %d is %q, want %q", i, got, want)
		}
	}
}

// A height is where the axis says, and the stretch around it looks as its state does.
func TestHeightsAreWhereTheyAre(t *testing.T) {
	s := spacer()
	s.Stock, s.Best, s.Present = nil, nil, nil
	img, err := s.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	d := newStripSheet(s)
	clear := d.shades.of(clearShade)
	for at, want := range map[float64]bool{45: false, 52.45: false, 53: true, 77.8: true, 78.4: false, 100: false} {
		if got := img.RGBAAt(int(d.x(at)), int(d.plot.Y0)+12) == clear; got != want {
			t.Errorf("at %v mm: clear is %v, want %v", at, got, want)
		}
	}
}

// If more heights have a name than there is room for, those that are clear keep theirs, and
// how many are without one is said.
func TestHeightsWithoutRoomForAName(t *testing.T) {
	s := spacer()
	for i := range 70 {
		s.Stock = append(s.Stock, Height{At: 41 + float64(i)*0.9, Name: "more"})
	}
	d := newStripSheet(s)
	named := len(d.labels)
	if all := named + len(d.unnamed); all != 76 || len(d.unnamed) < 5 {
		t.Errorf("%d with a name, %d without: want 76 in all", named, len(d.unnamed))
	}
	for _, at := range d.unnamed {
		if at >= 52.52 && at <= 78.08 {
			t.Errorf("%v is clear and has no name", at)
		}
	}
	if note := d.note(); !strings.Contains(note, number(float64(len(d.unnamed)))+" more") {
		t.Errorf("the picture says %q", note)
	}
	if !slices.ContainsFunc(d.labels, func(l stripLabel) bool { return l.present && l.At == 50 }) || !slices.ContainsFunc(d.labels, func(l stripLabel) bool { return l.best }) {
		t.Error("the present or the recommended height has no name")
	}
	d = newStripSheet(spacer())
	if len(d.labels) != 6 || d.labels[2].words != "recommended: 62 mm  riser 50 + plate 12" || d.labels[1].words != "now: 50 mm  riser 50" {
		t.Errorf("labels %+v", d.labels)
	}
}

// Places that are spread are apart, in order and inside; those that were apart stay.
func TestSpread(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for range 500 {
		n := 1 + rng.IntN(20)
		wanted := make([]float64, n)
		for i := range wanted {
			wanted[i] = rng.Float64() * 100
		}
		slices.Sort(wanted)
		got := spread(wanted, 6, -10, 110)
		apart := true
		for i := range got {
			if got[i] < -10-1e-9 || got[i] > 110+1e-9 || i > 0 && got[i]-got[i-1] < min(6, 120/float64(n-1))-1e-9 {
				t.Fatalf("%v became %v", wanted, got)
			}
			apart = apart && (i == 0 || wanted[i]-wanted[i-1] >= 6)
		}
		if apart && !slices.Equal(got, wanted) {
			t.Errorf("%v were apart and became %v", wanted, got)
		}
	}
	if got := spread([]float64{50, 50, 50}, 10, 0, 100); !slices.Equal(got, []float64{40, 50, 60}) {
		t.Errorf("three at one place became %v", got)
	}
	if got := spread(nil, 10, 0, 100); len(got) != 0 {
		t.Errorf("nothing became %v", got)
	}
}

func TestChoicesThatCannotBeDrawnAreRefused(t *testing.T) {
	seats := func(change func(*SeatMap)) drawn { m := plate(4, 2, 2, 0); change(m); return m }
	cells := func(change func(*HeatMap)) drawn { m := table(3, 2); change(m); return m }
	strip := func(change func(*HeightStrip)) drawn { s := spacer(); change(s); return s }
	for want, p := range map[string]drawn{
		"neither hole nor seat": &SeatMap{},
		`hole "C1" is nowhere`:  seats(func(m *SeatMap) { m.Holes[2].X = math.NaN() }),
		`label "C" is nowhere`:  seats(func(m *SeatMap) { m.Columns[2].At = math.Inf(1) }),
		"turned NaN":            seats(func(m *SeatMap) { m.Seats[1].Turned = math.NaN() }),
		"has no share":          seats(func(m *SeatMap) { m.Seats[1].Share = math.NaN() }),
		"the rank -1":           seats(func(m *SeatMap) { m.Seats[1].Rank = -1 }),
		"cap -1":                seats(func(m *SeatMap) { m.Cap = -1 }),
		"of 5 x 5 pixels":       seats(func(m *SeatMap) { m.Width, m.Height = 5, 5 }),
		"5 cells for 3 columns": cells(func(m *HeatMap) { m.Cells = m.Cells[:5] }),
		"0 cells for 0 columns": &HeatMap{},
		"cap NaN":               cells(func(m *HeatMap) { m.Cap = math.NaN() }),
		"no stretch":            &HeightStrip{},
		"9 decimals":            strip(func(s *HeightStrip) { s.Decimals = 9 }),
		"stretch 2 begins at":   strip(func(s *HeightStrip) { s.Stretches[2].From++ }),
		"stretch 0 runs from":   strip(func(s *HeightStrip) { s.Stretches[0].From = math.NaN() }),
		"there is no range":     strip(func(s *HeightStrip) { s.Stretches = []Stretch{{From: 5, To: 5}} }),
		"a width of 20":         strip(func(s *HeightStrip) { s.Width = 20 }),
		`height "x" is nowhere`: strip(func(s *HeightStrip) { s.Best = &Height{math.NaN(), "x"} }),
	} {
		if _, err := p.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	plain, _ := pictures()
	for name, p := range plain {
		if _, err := p.Draw(ctx); err != context.Canceled {
			t.Errorf("%s with a done context: %v", name, err)
		}
	}
}

func BenchmarkSeatMap(b *testing.B) {
	m := plate(15, 9, 2, 0, 90, 180, 270)
	for b.Loop() {
		if _, err := m.Draw(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}
