package progress

import (
	"fmt"
	"time"
)

// Watch shows how many of many candidates are settled, and how long the rest will take.
type Watch struct {
	line  *Line
	what  string
	begun time.Time
}

// Begin starts the watch, of a line that may be nil. It says what is looked at, such as
// "Seats of vise".
func Begin(line *Line, what string) *Watch {
	return &Watch{line: line, what: what, begun: time.Now()}
}

// Show says how many are settled of how many, and how many of those are good; -1 where that
// is not known yet.
func (w *Watch) Show(done, total, good int) {
	words := fmt.Sprintf("%s: %d of %d", w.what, done, total)
	if good >= 0 {
		words += fmt.Sprintf(", %d good", good)
	}
	if left := Left(time.Since(w.begun), done, total); left != "" {
		words += ", " + left + " left"
	}
	w.line.Say(words)
}

// Left says how long the rest will take at the pace until now: "about 40 s", "about 3 min". It
// is "" where too little is done to tell, and where next to nothing is left.
func Left(passed time.Duration, done, total int) string {
	return inWords(remaining(passed, done, total))
}

// remaining is how many seconds the rest will take, 0 where too little is done to tell, or nothing is left.
func remaining(passed time.Duration, done, total int) float64 {
	const (
		leastPassed = 2 * time.Second
		leastShare  = 20 // one of so many is done
	)
	if passed < leastPassed || done < 1 || done*leastShare < total || done >= total {
		return 0
	}
	return passed.Seconds() * float64(total-done) / float64(done)
}

// inWords says a length of time, to no more digits than a forecast is worth.
func inWords(s float64) string {
	switch {
	case s < 1:
		return ""
	case s < 10:
		return fmt.Sprintf("about %.0f s", s)
	case s < 90:
		return fmt.Sprintf("about %.0f s", 5*roundTo(s, 5))
	case s < 5400:
		return fmt.Sprintf("about %.0f min", roundTo(s, 60))
	}
	return fmt.Sprintf("about %.0f h", max(2, roundTo(s, 3600)))
}

// roundTo counts how many steps a length of time is.
func roundTo(seconds, step float64) float64 { return float64(int(seconds/step + 0.5)) }
