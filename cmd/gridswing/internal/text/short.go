package text

import "gridswing/machine/check"

// told keeps a line for what is all clear, and reports that nothing more is to be said of it.
func (p *page) told(clear bool, name, words string) bool {
	if p.full || !clear {
		return false
	}
	p.good = append(p.good, [2]string{name, words})
	return true
}

// inShort writes what is all clear, a line each.
func (p *page) inShort() {
	if len(p.good) == 0 {
		return
	}
	p.heading("Also looked at, all clear (--full tells more)")
	width := 0
	for _, line := range p.good {
		width = max(width, len(line[0]))
	}
	for _, line := range p.good {
		p.wrapped("   "+line[0], 3+width+2, line[1])
	}
}

// allClear reports whether the verdicts of a list are clear.
func allClear[T any](list []T, verdict func(*T) check.Verdict) bool {
	for i := range list {
		if verdict(&list[i]) != check.Clear {
			return false
		}
	}
	return true
}

// every words all of so many: "all 9 tools", "the one tool".
func every(n int, what string) string {
	if n == 1 {
		return "the one " + what
	}
	return "all " + plural(n, what)
}
