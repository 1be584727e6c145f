// Package progress shows how far long work is, in one line that is rewritten
// and leaves no trace.
package progress

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
	"unicode/utf8"
)

// Line is a line of progress. The zero value, and nil, show nothing.
type Line struct {
	w     io.Writer
	width int

	mu    sync.Mutex
	shown int       // columns on the screen now
	next  time.Time // when to write again
}

// pace is how often the line is rewritten at most; the first time after a pause, so
// that short work does not flicker.
const (
	pace  = 100 * time.Millisecond
	pause = 300 * time.Millisecond
)

// New returns a line on a terminal of the given width.
func New(w io.Writer, width int) *Line {
	return &Line{w: w, width: width, next: time.Now().Add(pause)}
}

// most is up to which number things are counted on the line; more, such as bytes, are told in per cent.
const most = 9999

// Show says what is being done and how much of it is. Any number of goroutines
// may call it.
func (l *Line) Show(what string, done, total int) {
	if total > most {
		l.Say(fmt.Sprintf("%s: %d %%", what, int(100*float64(done)/float64(total))))
		return
	}
	l.Say(fmt.Sprintf("%s: %d of %d", what, done, total))
}

// Say shows words. Any number of goroutines may call it.
func (l *Line) Say(text string) {
	if l == nil || l.w == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	now := time.Now()
	if now.Before(l.next) {
		return
	}
	l.next = now.Add(pace)
	if runes := []rune(text); len(runes) >= l.width {
		text = string(runes[:max(0, l.width-1)]) // a full line would move on to the next one
	}
	l.replace(text)
}

// Clear takes the line off the screen; the next Show puts it back.
func (l *Line) Clear() {
	if l == nil || l.w == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.shown > 0 {
		l.replace("")
		fmt.Fprint(l.w, "\r")
	}
}

// replace writes over what is shown, with blanks instead of an escape
// sequence, which not every console obeys.
func (l *Line) replace(text string) {
	n := utf8.RuneCountInString(text)
	fmt.Fprint(l.w, "\r"+text+strings.Repeat(" ", max(0, l.shown-n)))
	l.shown = n
}
