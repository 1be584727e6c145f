package pictures

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check"
)

// operations returns what to show of operations: of the worst that are not clear, at most as
// many as there are close-ups, and of the named one.
func (sc *Scene) operations(r *check.Report, wanted string) (list []*check.Finding) {
	if r.Reach == nil {
		return nil
	}
	bad := 0
	for _, o := range text.WorstFirst(r.Reach.Operations) {
		if o.Verdict == check.Clear || bad == closeUps {
			if o.Name != wanted {
				continue
			}
		}
		if f := sc.worstOf(r, &o); f != nil {
			list = append(list, f)
			bad++
		}
	}
	return list
}

// worstOf returns the finding that shows an operation at its worst: one of two bodies before one
// that only says what is missing; of one that is clear, its tightest place; of one that is not
// presented, where it comes nearest. Nil if there is none that can be drawn.
func (sc *Scene) worstOf(r *check.Report, o *check.Operation) *check.Finding {
	var best *check.Finding
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Operation != o.Name || !atFeature(f) || !sc.withTool(f) {
			continue
		}
		if best == nil || best.Points == nil && f.Points != nil {
			best = f
		}
	}
	if best != nil {
		return best
	}
	features := slices.Clone(o.Features)
	for i := range features {
		t := features[i].Tightest
		if t == nil {
			continue
		}
		f := *t
		f.Operation, f.Feature, f.Tool = o.Name, features[i].Name, &o.Tool
		if sc.withTool(&f) && (best == nil || left(&f) < left(best)) {
			best = &f
		}
	}
	if best == nil && sc.setup.Spindle != nil && sc.toolIndex(o.Tool) >= 0 {
		best = sc.notPresented(o)
	}
	return best
}

// left is the least clearance that is known, less what is demanded.
func left(f *check.Finding) float64 {
	switch {
	case f.Smallest != nil:
		return *f.Smallest - f.Demand
	case f.Proven != nil:
		return *f.Proven - f.Demand
	}
	return 0
}

// operationName returns the file name of an operation's picture, unlike those taken.
func operationName(operation string, taken map[string]bool) string {
	base := "operation-" + slug(operation)
	name := base
	for n := 2; taken[name]; n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	taken[name] = true
	return name
}

// slug makes a name fit for a file: small letters and digits, all else a hyphen.
func slug(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) })
	if len(words) == 0 {
		return "unnamed"
	}
	return strings.Join(words, "-")
}
