package progress

import (
	"fmt"
	"strings"
	"sync"
	"time"
)

// Bar shows how many of many things are done, as a bar and in numbers, and how long the rest will
// take.
type Bar struct {
	line  *Line
	total int
	begun time.Time

	mu          sync.Mutex
	done        int
	words       string
	due         time.Time // when all will be done, by what was done last
	stop, ended chan struct{}
}

// barWidth is how long a bar is, in columns, where there is room for as many and wordsWidth; and
// leastBar where there is not.
const (
	barWidth   = 24
	wordsWidth = 46 // "[] 31 of 62, 3 not clear, about 4 min left"
	leastBar   = 6
)

func (b *Bar) width() int {
	if b.line == nil {
		return barWidth
	}
	return max(leastBar, min(barWidth, b.line.width-wordsWidth))
}

// beat is how often a bar is shown again while nothing gets done: one sees that the program is at work.
const beat = time.Second

// NewBar starts a bar for so many things, on a line that may be nil. Somebody has to call End.
func NewBar(line *Line, total int) *Bar {
	b := &Bar{line: line, total: total, begun: time.Now(), stop: make(chan struct{}), ended: make(chan struct{})}
	go func() {
		defer close(b.ended)
		again := time.NewTicker(beat)
		defer again.Stop()
		for {
			select {
			case <-again.C:
				b.say()
			case <-b.stop:
				return
			}
		}
	}()
	return b
}

// End takes the bar off the screen, for good. A bar that is nil has none.
func (b *Bar) End() {
	if b != nil {
		close(b.stop)
		<-b.ended
		b.line.Clear()
	}
}

// Show says how many are done, and in words what became of them: "[######......] 31 of 62, 3 not
// clear, about 4 min left".
func (b *Bar) Show(done int, words string) {
	b.mu.Lock()
	now := time.Now()
	b.done, b.words = done, words
	b.due = now.Add(time.Duration(remaining(now.Sub(b.begun), done, b.total) * float64(time.Second)))
	b.mu.Unlock()
	b.say()
}

func (b *Bar) say() {
	b.mu.Lock()
	defer b.mu.Unlock()
	width := b.width()
	full := width
	if b.total > 0 {
		full = width * b.done / b.total
	}
	said := fmt.Sprintf("[%s%s] %d of %d", strings.Repeat("#", full), strings.Repeat(".", width-full), b.done, b.total)
	if b.words != "" {
		said += ", " + b.words
	}
	if left := inWords(time.Until(b.due).Seconds()); left != "" {
		said += ", " + left + " left"
	}
	b.line.Say(said)
}
