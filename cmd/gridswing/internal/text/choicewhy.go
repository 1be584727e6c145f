package text

import (
	"fmt"
	"strings"

	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// why gives the reason by the rule.
func (d *candidates) why() string {
	best := d.recommended()
	if best == nil {
		if len(d.best) == 0 {
			return ""
		}
		least := &d.list[d.best[0]]
		return "The least bad is " + least.Name + " (" + least.Verdict.String() + "): " + least.Reason + "."
	}
	known := ""
	if d.interrupted {
		known = " of those that were looked at"
	}
	now := ""
	if best.Present {
		now = " It stands so now."
	}
	tie := ""
	if d.tied() {
		tie = "; of those with the same one, the next tightest decides"
	}
	words := map[string]string{
		choose.Lowest:   "It is the lowest" + known + " that meets every demand",
		choose.Roomiest: "None" + known + " leaves more: its tightest demand is met by the largest share" + tie,
		choose.Nearest:  "Of those that meet every demand it moves least" + known,
	}[d.rule] + "." + now + fromNow(best)
	return words + " All of it is proven for the models given, by what \"gridswing check\" does."
}

// tied reports whether by the room they leave two of the best seem equal by the tightest share alone.
func (d *candidates) tied() bool {
	if d.rule != choose.Roomiest || d.recommended() == nil {
		return false
	}
	for i := 1; i < len(d.best); i++ {
		if Share(d.list[d.best[i-1]].Share()) == Share(d.list[d.best[i]].Share()) {
			return true
		}
	}
	return false
}

// nextShare prints the smallest share but for that of the tightest concern.
func nextShare(l *choose.Looked) string {
	next := float64(check.MostShare)
	for i := range l.Judged {
		if m := l.Judged[i].Margin; m != nil && l.Tightest != nil && m.Concern != l.Tightest.Concern {
			next = min(next, m.Share)
		}
	}
	return Share(next)
}

// fromNow says how far the recommended one is from how it stands now; "" where nothing moves, or
// where that would be the sum of two ways.
func fromNow(l *choose.Looked) string {
	switch {
	case len(l.Changes) > 1:
		return ""
	case l.Raised > 0:
		return fmt.Sprintf(" What stands on it comes %s mm higher than now.", short(l.Raised, 3))
	case l.Raised < 0:
		return fmt.Sprintf(" What stands on it comes %s mm lower than now.", short(-l.Raised, 3))
	case len(l.Pins) == 0 || l.Moved == 0 && l.Turned == 0:
		return ""
	case l.Turned == 0:
		return fmt.Sprintf(" It moves by %s mm against now.", short(l.Moved, 2))
	case l.Moved == 0:
		return fmt.Sprintf(" It turns by %s deg against now.", short(l.Turned, 2))
	}
	return fmt.Sprintf(" It moves by %s mm and turns by %s deg against now.", short(l.Moved, 2), short(l.Turned, 2))
}

// allAlike says where all that were looked at so far fail for the same reason as the least bad
// one that the choice does not help against it; "" where they do not.
func (d *candidates) allAlike() string {
	if len(d.best) == 0 || d.recommended() != nil || len(d.notModelled) > 0 {
		return ""
	}
	why := decisive(&d.list[d.best[0]])
	if why == nil {
		return ""
	}
	asked, alike := 0, 0
	for i := range d.list {
		for k := range d.list[i].Judged {
			j := &d.list[i].Judged[k]
			same := j.Worst != nil && unitsKey(j.Worst) == unitsKey(why.Worst)
			// of what was given up only the first that was found bad is known
			if j.Concern == why.Concern && (same || d.list[i].GivenUp == "") {
				asked++
				if same {
					alike++
				}
			}
		}
	}
	switch {
	case alike < 2 || alike < asked:
		return d.bestAlike(why)
	case asked == len(d.list):
		return "All of them fail for this reason: no " + d.thing + " helps against it."
	}
	return fmt.Sprintf("All that were looked at so far, %d of %d, fail for this reason: look there first, another %s may not help.", asked, len(d.list), d.thing)
}

// bestAlike says so where at least the least bad ones all fail for one reason; others may have it
// too, behind a worse one.
func (d *candidates) bestAlike(why *check.Judged) string {
	for _, i := range d.best {
		if j := decisive(&d.list[i]); j == nil || unitsKey(j.Worst) != unitsKey(why.Worst) {
			return ""
		}
	}
	if len(d.best) < 2 {
		return ""
	}
	return fmt.Sprintf("The %d least bad all fail for this reason: look there first, another %s may not help.", len(d.best), d.thing)
}

// unitsKey is equal where the same units are too close, whichever of their bodies they are.
func unitsKey(f *check.Finding) string {
	var units []string
	for body := range strings.SplitSeq(findingKey(f), "\n") {
		unit, _, _ := strings.Cut(body, "/")
		units = append(units, unit)
	}
	return strings.Join(units, "\n")
}

// numbers says how many there are of what.
func (d *candidates) numbers() string {
	c := d.counted
	words := fmt.Sprintf("%s %s: %d proven to meet every demand, %d not good", plural(c.Candidates, d.thing), d.about, c.Good, c.Failing)
	if c.GivenUp > 0 {
		words += fmt.Sprintf(", %d not looked at to the end", c.GivenUp)
	}
	return words + "."
}
