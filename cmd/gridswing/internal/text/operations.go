package text

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// operations writes a line for each operation, worst first, those that were left out among them.
func (p *page) operations(r *check.Report) {
	var list []check.Operation
	if r.Reach != nil {
		list = WorstFirst(r.Reach.Operations)
	}
	out := LeftOut(r)
	if len(list)+len(out) == 0 {
		return
	}
	p.heading("Operations, worst first")
	t := &table{head: []string{"verdict", "operation", "tool", "rotary", "travel", "gap", "stick-out", "tightest place, or why not"}, wraps: 1, first: []int{3, 6}, indent: 3}
	for _, o := range list {
		for len(out) > 0 && out[0].Verdict.Worse(o.Verdict) {
			t.rows, out = append(t.rows, p.leftOutRow(out[0])), out[1:]
		}
		f := WorstFeature(&o)
		t.rows = append(t.rows, row{
			cells: []string{p.verdict(o.Verdict), p.bold(o.Name), fmt.Sprintf("T%d", o.Tool), brackets(rotaryOf(&o, f)), travelOf(&o), gapOf(&o), brackets(stickOutOf(o.StickOut))},
			last:  Because(&o, f),
		})
	}
	for _, f := range out {
		t.rows = append(t.rows, p.leftOutRow(f))
	}
	p.table(t)
	p.wrapped("", 3, "Travel: what the axis that has least keeps to its limit. Gap: the least clearance, of what is named, that is proven. "+
		"Stick-out: what it is now, and in brackets the window of what is good. All in mm; rotary positions in degrees. "+
		"\"gridswing reach SETUP --operation NAME\" tells all of one operation.")
}

// LeftOut returns what is said of operations that could not be looked at.
func LeftOut(r *check.Report) (list []*check.Finding) {
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Question == check.LeftOut {
			list = append(list, f)
		}
	}
	return list
}

// leftOutRow is the line of an operation of which nothing is known but why.
func (p *page) leftOutRow(f *check.Finding) row {
	return row{
		cells: []string{p.verdict(f.Verdict), p.bold(f.Operation), "-", "-", "-", "-", "-"},
		last:  Question(f) + ": " + f.Reason,
	}
}

// WorstFirst orders operations by verdict, then by what is left of the demand; of
// equals the order of the file is kept.
func WorstFirst(list []check.Operation) []check.Operation {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b check.Operation) int {
		return cmp.Or(worseFirst(a.Verdict, b.Verdict), cmp.Compare(spare(&a), spare(&b)))
	})
	return list
}

func worseFirst(a, b check.Verdict) int {
	switch {
	case a.Worse(b):
		return -1
	case b.Worse(a):
		return 1
	}
	return 0
}

// spare is the least that an operation is known to keep over what is demanded; -Inf where
// something meets, +Inf where no pair is known that comes near.
func spare(o *check.Operation) float64 {
	least := math.Inf(1)
	for i := range o.Features {
		least = min(least, left(&o.Features[i]))
	}
	return least
}

// left is the same of a feature.
func left(f *check.Feature) float64 {
	if t := f.Tightest; t != nil {
		switch {
		case t.Verdict == check.Contact:
			return math.Inf(-1)
		case Known(t) != nil:
			return *Known(t) - t.Demand
		}
	}
	return math.Inf(1)
}

// Known is the clearance of a finding: what is proven, else the least that was found; nil
// if neither is known.
func Known(f *check.Finding) *float64 {
	if f.Proven != nil {
		return f.Proven
	}
	return f.Smallest
}

// WorstFeature returns the feature that an operation's verdict is about: the worst,
// of equals the one that keeps least; nil if there is none.
func WorstFeature(o *check.Operation) *check.Feature {
	var worst *check.Feature
	for i := range o.Features {
		f := &o.Features[i]
		if worst == nil || f.Verdict.Worse(worst.Verdict) || f.Verdict == worst.Verdict && left(f) < left(worst) {
			worst = f
		}
	}
	return worst
}

// chosen returns the rotary position at which a feature is cut, nil if there is none.
func chosen(f *check.Feature) *check.Presented {
	for i := range f.Presented {
		if f.Presented[i].Chosen {
			return &f.Presented[i]
		}
	}
	return nil
}

// rotaryOf words where the rotary axes stand for the worst feature, and at how many
// other positions features are cut: "A 90 C 180 (+1)".
func rotaryOf(o *check.Operation, worst *check.Feature) string {
	if worst == nil || chosen(worst) == nil {
		return "none"
	}
	here, others := StandsAt(worst), map[string]bool{}
	for i := range o.Features {
		if f := &o.Features[i]; chosen(f) != nil {
			others[StandsAt(f)] = true
		}
	}
	delete(others, here)
	switch {
	case here == "":
		return "-" // a machine without rotary axes
	case len(others) > 0:
		return fmt.Sprintf("%s (+%d)", here, len(others))
	}
	return here
}

// StandsAt words where the rotary axes stand at a feature that has a position, or between what
// they go along it: "A 0 to 11.5 C 90".
func StandsAt(f *check.Feature) string {
	if len(f.Along) == 0 {
		at := chosen(f)
		return rotaryTo(at.At, digits(at.Verdict))
	}
	var parts []string
	for i := range f.Along {
		parts = append(parts, f.Along[i].Axis+" "+stretch(&f.Along[i]))
	}
	return strings.Join(parts, " ")
}

// Rotary words a position shortly: "A 90 C 180".
func Rotary(at []check.Position) string { return rotaryTo(at, 2) }

func rotaryTo(at []check.Position, decimals int) string {
	at = slices.Clone(at)
	slices.SortStableFunc(at, func(a, b check.Position) int { return check.ByLetter(a.Axis, b.Axis) })
	var parts []string
	for _, p := range at {
		parts = append(parts, p.Axis+" "+short(shown(p, decimals), decimals))
	}
	return strings.Join(parts, " ")
}

// travelOf words the least that an axis keeps to its limit over all features: "Z -12.40".
func travelOf(o *check.Operation) string {
	if t := LeastTravel(o); t != nil {
		return t.Axis + " " + Down(t.Margin)
	}
	return "-"
}

// LeastTravel is where an axis keeps least to its limit, over all features; nil if nothing is known.
func LeastTravel(o *check.Operation) (least *check.Travel) {
	for i := range o.Features {
		for k := range o.Features[i].Travel {
			if t := &o.Features[i].Travel[k]; least == nil || t.Margin < least.Margin {
				least = t
			}
		}
	}
	return least
}

// brackets makes of what stands before brackets, and of them, what is broken only between the
// two; or between axes where that is long.
func brackets(words string) string {
	before, in, found := strings.Cut(words, " (")
	if columns(before) <= longRotary {
		before = whole(before)
	} else {
		list := strings.Split(before, " ")
		before = list[0]
		for _, word := range list[1:] {
			if word[0] >= 'A' && word[0] <= 'Z' {
				before += " " + word
			} else {
				before += noBreak + word
			}
		}
	}
	if !found {
		return before
	}
	return before + " " + whole("("+in)
}

// longRotary is from how many columns on a rotary position is broken between axes.
const longRotary = 16

// stickOutOf words a stick-out and its window: "62 (66.5-80)". The window is printed
// so that it is never wider than it is.
func stickOutOf(s *check.StickOut) string {
	switch {
	case s == nil:
		return "-"
	case s.Shortest == nil || s.Longest == nil:
		return short(s.Now, 2) + " (none)"
	}
	good := window(*s.Shortest, *s.Longest)
	if from, to, found := strings.Cut(good, " to "); found && from == to {
		good = from
	} else if good != tooNarrow {
		good = from + "-" + to
	}
	return fmt.Sprintf("%s (%s)", short(s.Now, 2), good)
}

// window words a stretch of lengths, rounded inwards to 0.1 mm: nobody sets a
// stick-out finer.
func window(lo, hi float64) string {
	lo, hi = math.Ceil(lo*10-noise)/10, math.Floor(hi*10+noise)/10
	if lo > hi {
		return tooNarrow
	}
	return short(lo, 1) + " to " + short(hi, 1)
}

const tooNarrow = "none to 0.1"

// tightest returns the feature of an operation with the tightest place that is known, and
// that place; nil if there is none.
func tightest(o *check.Operation) (*check.Feature, *check.Finding) {
	var at *check.Feature
	for i := range o.Features {
		f := &o.Features[i]
		if f.Tightest != nil && f.Tightest.Bodies[1] != "" && (at == nil || left(f) < left(at)) {
			at = f
		}
	}
	if at == nil {
		return nil, nil
	}
	return at, at.Tightest
}

// LeastGap is the least clearance of an operation that is known; nil if none is, or something meets.
func LeastGap(o *check.Operation) *float64 {
	if _, t := tightest(o); t != nil && t.Verdict != check.Contact {
		return Known(t)
	}
	return nil
}

// StandsThrough lists where the rotary axes stand while an operation is cut, in the order of its
// features, each position once: "A 90 C 90", "A 90 C 270".
func StandsThrough(o *check.Operation) (list []string) {
	for i := range o.Features {
		f := &o.Features[i]
		if chosen(f) == nil {
			continue
		}
		if words := StandsAt(f); words != "" && !slices.Contains(list, words) {
			list = append(list, words)
		}
	}
	return list
}

// gapOf words the least clearance of an operation.
func gapOf(o *check.Operation) string {
	_, t := tightest(o)
	switch {
	case t == nil:
		return "-"
	case t.Verdict == check.Contact || Known(t) == nil:
		return missing
	}
	return Down(*Known(t))
}

// Because words between what an operation is tightest, and why it cannot be as it is.
func Because(o *check.Operation, worst *check.Feature) string {
	if worst == nil {
		return "nothing to cut"
	}
	at, t := tightest(o)
	where := func(f *check.Feature) string {
		if len(o.Features) > 1 {
			return " at " + f.Name
		}
		return ""
	}
	words := ""
	if t != nil {
		words = t.Bodies[0] + " and " + t.Bodies[1] + where(at)
	}
	if worst.Reason == "" || o.Verdict == check.Clear || t != nil && t.Verdict == o.Verdict {
		return words
	}
	if words != "" {
		words = "; " + words
	}
	return worst.Reason + where(worst) + words
}

// nearness words how near two bodies come: "1.20 mm between T6 holder and stock"; ""
// where a finding is of no two bodies.
func nearness(t *check.Finding) string {
	bodies := t.Bodies[0] + " and " + t.Bodies[1]
	switch {
	case t.Bodies[1] == "":
		return ""
	case t.Verdict == check.Contact:
		return bodies + " meet"
	case t.Smallest != nil:
		return Down(*t.Smallest) + " mm between " + bodies
	case t.Proven != nil:
		return "at least " + Down(*t.Proven) + " mm between " + bodies
	}
	return ""
}
