package progress

import (
	"strings"
	"sync"
	"testing"
	"time"
)

// screen follows what a terminal shows in one line.
type screen struct {
	mu     sync.Mutex
	line   []rune
	column int
	widest int
}

func (s *screen) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, r := range string(p) {
		if r == '\r' {
			s.column = 0
			continue
		}
		for len(s.line) <= s.column {
			s.line = append(s.line, ' ')
		}
		s.line[s.column] = r
		s.column++
		s.widest = max(s.widest, s.column)
	}
	return len(p), nil
}

func (s *screen) shows() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strings.TrimRight(string(s.line), " ")
}

// now makes a line write at once.
func now(l *Line) *Line {
	l.next = time.Time{}
	return l
}

func TestLine(t *testing.T) {
	s := &screen{}
	l := New(s, 20)
	l.Show("begun", 0, 10)
	if s.shows() != "" {
		t.Errorf("short work flickers: %q", s.shows())
	}
	now(l).Show("pairs", 3, 10)
	if s.shows() != "pairs: 3 of 10" {
		t.Errorf("shows %q", s.shows())
	}
	l.Show("pairs", 4, 10)
	if s.shows() != "pairs: 3 of 10" {
		t.Errorf("rewritten at once: %q", s.shows())
	}
	now(l).Show("bytes", 9_474_838, 35_382_437)
	if got := s.shows(); got != "bytes: 26 %" {
		t.Errorf("shows %q", got)
	}
	now(l).Show("é", 4, 5)
	if s.shows() != "é: 4 of 5" {
		t.Errorf("leaves something of the line before: %q", s.shows())
	}
	now(l).Show("a name that is too long for it", 1, 2)
	if s.widest >= 20 {
		t.Errorf("%d columns of 20", s.widest)
	}
	l.Clear()
	if s.shows() != "" || s.column != 0 {
		t.Errorf("leaves %q, the cursor at %d", s.shows(), s.column)
	}
	before := s.widest
	l.Clear()
	if s.widest != before {
		t.Error("clears what is clear")
	}
}

// TestNoLine: nil and the zero value show nothing, and do no harm.
func TestNoLine(t *testing.T) {
	for _, l := range []*Line{nil, {}} {
		l.Show("work", 1, 2)
		l.Clear()
	}
}

// TestTogether is for the race detector.
func TestTogether(t *testing.T) {
	s := &screen{}
	l := now(New(s, 60))
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() { l.Show("work", i, 8) })
	}
	wg.Wait()
	l.Clear()
	if s.shows() != "" {
		t.Errorf("leaves %q", s.shows())
	}
}
