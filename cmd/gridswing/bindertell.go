package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/cmd/gridswing/internal/pages"
	"gridswing/cmd/gridswing/internal/progress"
	"gridswing/machine/check"
)

// binderTeller says how far a binder is: on a terminal by a bar, elsewhere by a line for each setup.
type binderTeller struct {
	out   io.Writer
	line  *progress.Line // nil where there is no terminal, and where nobody wants to know
	quiet bool

	bar                        *progress.Bar
	count, unchanged           int
	notClear, faulty, finished int
}

func (t *binderTeller) found(setups, unchanged int) {
	t.count, t.unchanged = setups, unchanged
	t.bar = progress.NewBar(t.line, setups-unchanged)
	if t.quiet || t.line != nil || setups == 0 {
		return
	}
	fmt.Fprintf(t.out, "%s, %d unchanged\n", setupsWords(setups), unchanged)
}

func setupsWords(n int) string {
	if n == 1 {
		return "1 setup"
	}
	return fmt.Sprintf("%d setups", n)
}

func (t *binderTeller) done(s *binder.Setup) {
	t.finished++
	switch {
	case s.State != binder.MadeState:
		t.faulty++
	case !s.Clear:
		t.notClear++
	}
	var words []string
	if t.notClear > 0 {
		words = append(words, fmt.Sprintf("%d not clear", t.notClear))
	}
	if t.faulty > 0 {
		words = append(words, fmt.Sprintf("%d not made", t.faulty))
	}
	t.bar.Show(t.finished, strings.Join(words, ", "))
	if !t.quiet && t.line == nil {
		how := fmt.Sprintf("%.1f s", s.Seconds)
		if !s.MadeNow {
			how = "by another run"
		}
		fmt.Fprintf(t.out, "   %-11s  %s  %s\n", s.Word(), s.Name, how)
	}
}

// ended says what the binder comes to, what is not clear, and where the front page is.
func (t *binderTeller) ended(out string, s *binder.Summary) {
	fmt.Fprintln(t.out, t.totals(s))
	list := make([]*binder.Setup, len(s.Setups))
	for i := range s.Setups {
		list[i] = &s.Setups[i]
	}
	slices.SortStableFunc(list, func(a, b *binder.Setup) int { return pages.RankOf(a.Word()) - pages.RankOf(b.Word()) })
	for _, x := range list {
		if x.Word() == check.Clear.String() {
			continue
		}
		why := x.Why
		if x.State != binder.MadeState {
			why, _, _ = strings.Cut(x.Fault, "\n")
		}
		fmt.Fprintf(t.out, "   %-11s  %s: %s\n", x.Word(), x.Name, why)
	}
	var front []string
	for _, name := range s.Front {
		front = append(front, filepath.Join(out, filepath.FromSlash(name)))
	}
	if len(front) > 0 {
		fmt.Fprintf(t.out, "Front page: %s\n", strings.Join(front, ", "))
	}
}

// totals is one line: "12 setups: 1 fault, 1 contact, 10 clear".
func (t *binderTeller) totals(s *binder.Summary) string {
	if len(s.Setups) == 0 {
		return "no setup is in this part"
	}
	return setupsWords(len(s.Setups)) + ": " + pages.Totals(s)
}
