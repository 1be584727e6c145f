package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/golang/geo/r3"
)

// writer writes blocks. A word is left out where the axis stands there already.
type writer struct {
	bytes.Buffer
	axes map[string]string // what each axis was last sent to; missing: not known
	feed string
}

// line writes a block as it is.
func (w *writer) line(format string, args ...any) {
	fmt.Fprintf(w, format, args...)
	w.WriteByte('\n')
}

// remark writes a comment of its own.
func (w *writer) remark(format string, args ...any) {
	w.line("(%s)", strings.ToUpper(fmt.Sprintf(format, args...)))
}

// forget makes every axis be named again.
func (w *writer) forget() { w.axes, w.feed = map[string]string{}, "" }

// word is an axis and where it is sent to.
type word struct {
	axis string
	at   float64
}

func xyz(p r3.Vector) []word { return []word{{"X", p.X}, {"Y", p.Y}, {"Z", p.Z}} }

// move writes a move of code with the words that change something, and with f, if it is not
// 0, the feed; nothing if none does.
func (w *writer) move(code string, f float64, words ...word) {
	var b strings.Builder
	for _, a := range words {
		text := number(a.at)
		if w.axes[a.axis] == text {
			continue
		}
		w.axes[a.axis] = text
		b.WriteString(" " + a.axis + text)
	}
	if b.Len() == 0 {
		return
	}
	if text := number(f); f > 0 && w.feed != text {
		w.feed = text
		b.WriteString(" F" + text)
	}
	w.line("%s%s", code, b.String())
}

func (w *writer) rapid(words ...word)             { w.move("G0", 0, words...) }
func (w *writer) cut(feed float64, words ...word) { w.move("G1", feed, words...) }
func (w *writer) cutTo(feed float64, points ...r3.Vector) {
	for _, p := range points {
		w.cut(feed, xyz(p)...)
	}
}

// number writes a number with a point and up to three decimals.
func number(v float64) string {
	const thousand = 1000
	v = math.Round(v*thousand)/thousand + 0 // no -0
	text := strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0")
	return text
}
