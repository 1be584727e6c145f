package progress

import (
	"strings"
	"testing"
	"testing/synctest"
	"time"
)

func TestBar(t *testing.T) {
	for _, c := range []struct {
		done, total int
		words, want string
	}{
		{0, 62, "", "[........................] 0 of 62"},
		{31, 62, "3 not clear", "[############............] 31 of 62, 3 not clear, about 10 s left"},
		{62, 62, "", "[########################] 62 of 62"},
		{0, 0, "", "[########################] 0 of 0"},
	} {
		var w strings.Builder
		line := New(&w, 80)
		line.next = time.Time{}
		b := NewBar(line, c.total)
		b.begun = time.Now().Add(-10 * time.Second)
		b.Show(c.done, c.words)
		close(b.stop) // not End, which clears it
		<-b.ended
		if got := strings.TrimRight(w.String(), " "); got != "\r"+c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	for columns, want := range map[int]string{60: "\r[#######.......] 31 of 62, 3 not clear, about 10 s left", 40: "\r[###...] 31 of 62, 3 not clear, about 1"} {
		var w strings.Builder
		line := New(&w, columns)
		line.next = time.Time{}
		b := NewBar(line, 62)
		b.begun = time.Now().Add(-10 * time.Second)
		b.Show(31, "3 not clear")
		close(b.stop)
		<-b.ended
		if got := w.String(); got != want {
			t.Errorf("%d columns: %q, want %q", columns, got, want)
		}
	}
	b := NewBar(nil, 2)
	b.Show(1, "nothing") // shows nothing
	b.End()
	(*Bar)(nil).End()
}

// Between two that are done the time left runs down.
func TestBarRunsDown(t *testing.T) {
	var w strings.Builder
	line := New(&w, 80)
	b := NewBar(line, 3)
	b.begun = time.Now().Add(-20 * time.Second)
	b.Show(1, "")
	close(b.stop)
	<-b.ended
	for _, want := range []string{"about 40 s left", "about 20 s left", "1 of 3"} {
		line.next = time.Time{}
		b.say()
		if got := strings.TrimRight(w.String(), " "); !strings.HasSuffix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
		b.due = b.due.Add(-20 * time.Second)
	}
}

// While nothing gets done one sees that there is work, after a beat, and in the end nothing of it.
func TestBarBeats(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := &screen{}
		b := NewBar(New(s, 80), 3)
		for _, c := range []struct {
			after time.Duration
			want  string
		}{{beat - time.Millisecond, ""}, {time.Millisecond, "[........................] 0 of 3"}} {
			time.Sleep(c.after)
			synctest.Wait()
			if got := s.shows(); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		}
		b.End()
		if got := s.shows(); got != "" {
			t.Errorf("left behind: %q", got)
		}
	})
}
