package progress

import (
	"strings"
	"testing"
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
		if got := strings.TrimRight(w.String(), " "); got != "\r"+c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	NewBar(nil, 2).Show(1, "nothing") // shows nothing
}
