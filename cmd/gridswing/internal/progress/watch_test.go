package progress

import (
	"strings"
	"testing"
	"time"
)

// The time left is told where it means something, and to no more digits than it is worth.
func TestLeft(t *testing.T) {
	for _, c := range []struct {
		passed      time.Duration
		done, total int
		want        string
	}{
		{10 * time.Second, 100, 500, "about 40 s"},
		{time.Second, 100, 400, ""},     // too early
		{time.Minute, 10, 400, ""},      // too little
		{time.Minute, 400, 400, ""},     // nothing left
		{time.Minute, 0, 0, ""},         // nothing at all
		{3 * time.Second, 399, 400, ""}, // next to nothing
		{3 * time.Second, 100, 400, "about 9 s"},
		{time.Minute, 100, 400, "about 3 min"},
		{time.Hour, 100, 400, "about 3 h"},
		{20 * time.Minute, 100, 520, "about 84 min"},
	} {
		if got := Left(c.passed, c.done, c.total); got != c.want {
			t.Errorf("%v for %d of %d: %q, want %q", c.passed, c.done, c.total, got, c.want)
		}
	}
}

func TestWatch(t *testing.T) {
	var w strings.Builder
	line := New(&w, 80)
	line.next = time.Time{}
	watch := Begin(line, "Seats of vise")
	watch.begun = time.Now().Add(-10 * time.Second)
	watch.Show(100, 500, 38)
	if got := w.String(); got != "\rSeats of vise: 100 of 500, 38 good, about 40 s left" {
		t.Errorf("%q", got)
	}
	line.next = time.Time{}
	watch.Show(3, 500, -1)
	if got := w.String(); !strings.Contains(got, "\rSeats of vise: 3 of 500   ") {
		t.Errorf("%q", got)
	}
	Begin(nil, "nothing").Show(1, 2, 0) // shows nothing
}
