package progress

import (
	"fmt"
	"strings"
	"time"
)

// Bar shows how many of many things are done, as a bar and in numbers, and how long the rest will
// take.
type Bar struct {
	line  *Line
	total int
	begun time.Time
}

// barWidth is how long a bar is, in columns.
const barWidth = 24

// NewBar starts a bar for so many things, on a line that may be nil.
func NewBar(line *Line, total int) *Bar { return &Bar{line: line, total: total, begun: time.Now()} }

// Show says how many are done, and in words what became of them: "[######......] 31 of 62, 3 not
// clear, about 4 min left".
func (b *Bar) Show(done int, words string) {
	full := barWidth
	if b.total > 0 {
		full = barWidth * done / b.total
	}
	said := fmt.Sprintf("[%s%s] %d of %d", strings.Repeat("#", full), strings.Repeat(".", barWidth-full), done, b.total)
	if words != "" {
		said += ", " + words
	}
	if left := Left(time.Since(b.begun), done, b.total); left != "" {
		said += ", " + left + " left"
	}
	b.line.Say(said)
}
