package chart

import (
	"context"
	"math"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/golden"
)

// program returns the chart of an invented program of 40 minutes with five tools, one of them
// for half a minute: a stretch that is tight, a contact of a second, and one within play.
func program() *Run {
	r := &Run{Title: "Program bracket-op10.nc: contact", Demand: 2, Cap: 10, Width: 800,
		Caption: []string{"Mill 3. Demanded clearance 2 mm, location uncertainty taken off. Clearances are proven, at least so much, where nothing is cut on purpose.",
			"Marks are numbered as the findings in the report."},
		Marks: []RunMark{{905.5, "1  line 1813"}, {1750, "2  line 3501"}}}
	const n = 480
	for i := range n {
		at := 5 * float64(i)
		mm := 6 + 3*math.Sin(at/90) + 2*math.Sin(at/17)
		c := RunCell{From: at, To: at + 5, Line: 1 + 10*i, Tool: []int{1, 1, 4, 7, 12}[i*5/n], State: Clear, Lower: 0.96 * mm, Upper: mm}
		if i >= 470 && i < 476 {
			c.Tool = 20
		}
		switch {
		case i == 181:
			c.State, c.Lower, c.Upper = Contact, 0, 0
		case mm < 2:
			c.State = Tight
		case i > 340 && i < 356:
			c.State = WithinPlay
		case mm > 10:
			c.Lower, c.Upper = math.Inf(1), math.Inf(1)
		}
		r.Cells = append(r.Cells, c)
	}
	return r
}

// cut returns the same of a program that could not be read on after 20 minutes, some of whose
// times are not known.
func cut() *Run {
	r := program()
	r.Title, r.Ends, r.Bound, r.Cells, r.Marks = "Program bracket-op10.nc: unproven", "not read from line 2401 on", true, r.Cells[:240], r.Marks[:1]
	return r
}

func TestGoldenRuns(t *testing.T) {
	short := program()
	short.Cells, short.Marks, short.Cap = short.Cells[100:101], nil, 4
	for name, r := range map[string]*Run{"run": program(), "run-cut": cut(), "run-short": short} {
		img, err := r.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		golden.Check(t, name, img)
	}
}

// However long the program, a contact of a millisecond is to be seen, at its time, over the
// whole height.
func TestShortContactIsNotLost(t *testing.T) {
	day := 86400.0
	r := &Run{Cap: 10, Demand: 2, Cells: []RunCell{
		{From: 0, To: 0.75 * day, Line: 1, State: Clear, Lower: 9, Upper: 9},
		{From: 0.75 * day, To: 0.75*day + 1e-3, Line: 2, State: Contact},
		{From: 0.75*day + 1e-3, To: day, Line: 3, State: Clear, Lower: 9, Upper: 9}}}
	d := newRunSheet(r, 0)
	bad := 0
	for k, c := range d.sheet.Cells {
		if c.State == Contact {
			bad++
			if at := float64(k) / float64(len(d.sheet.Cells)); math.Abs(at-0.75) > 0.005 {
				t.Errorf("contact in column %d of %d", k, len(d.sheet.Cells))
			}
		}
	}
	if bad < leastBad || bad > leastBad+1 {
		t.Errorf("%d columns of contact, want %d", bad, leastBad)
	}
	img, err := r.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if got := img.RGBAAt(int(d.x(0.75*day)), int(d.plot.Y0)+8); ink.Lightness(got) > 80 {
		t.Errorf("at the top of the contact's column the picture is %v", got)
	}
}

// A column of pixels that several cells touch tells the worst and the least of them; what was
// not read is unproven, and only that.
func TestColumnsTellTheWorst(t *testing.T) {
	r := &Run{Cap: 10, Demand: 2, Ends: "not read", Cells: make([]RunCell, 100000)}
	for i := range r.Cells {
		r.Cells[i] = RunCell{From: float64(i), To: float64(i + 1), State: Clear, Lower: 5 + float64(i%7), Upper: 12}
	}
	d := newRunSheet(r, 0)
	unread := 0
	for _, c := range d.sheet.Cells {
		switch {
		case c.State == Unproven:
			unread++
		case c.State != Clear || c.Lower != 5 || c.Upper != 12:
			t.Fatalf("column %+v, want clear, 5 to 12", c)
		}
	}
	if want := int(d.plot.X1 - d.right); unread != want || want < 50 {
		t.Errorf("%d columns not read, want %d", unread, want)
	}
}

// Printed times: ISO 8601's order of hours, minutes and seconds, hours only where there are any.
func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 59.96: "1:00", 61: "1:01", 3599: "59:59", 3600: "1:00:00", 86461: "24:01:01"} {
		if got := clock(seconds, false); got != want {
			t.Errorf("%g s is %q, want %q", seconds, got, want)
		}
	}
	if got := clock(0.25, true); got != "0:00.3" {
		t.Errorf("a quarter of a second is %q", got)
	}
}

func TestRunsThatCannotBeChartedAreRefused(t *testing.T) {
	for want, change := range map[string]func(r *Run){
		"no cells":            func(r *Run) { r.Cells = nil },
		"there is no time":    func(r *Run) { r.Cells = r.Cells[:1]; r.Cells[0].To = r.Cells[0].From },
		"begins at 1000 s":    func(r *Run) { r.Cells[3].From = 1000; r.Cells[3].To = 1001 },
		"must run forward":    func(r *Run) { r.Cells[3].To = 0 },
		"NaN":                 func(r *Run) { r.Cells[3].Upper = math.NaN() },
		"cap 0 mm":            func(r *Run) { r.Cap = 0 },
		"demand -1 mm":        func(r *Run) { r.Demand = -1 },
		"a width of 5 pixels": func(r *Run) { r.Width = 5 },
		"at no time":          func(r *Run) { r.Marks[0].At = math.Inf(1) },
	} {
		r := program()
		change(r)
		if _, err := r.Draw(t.Context()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one that says %q", err, want)
		}
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := program().Draw(ctx); err != context.Canceled {
		t.Errorf("with a done context: %v", err)
	}
}
