package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// Sides writes which side of the tilt to keep to, why, and what to write into the setup file.
func Sides(w io.Writer, look terminal.Look, b *choose.BothSides) error {
	p := &page{w: w, look: look}
	best := &b.Plans[b.Recommended]
	p.wrapped("", 0, p.verdict(b.Verdict())+": "+p.bold(b.Setup)+", "+SideName(b, best.Side))
	p.wrapped("", 3, sidesMeaning(b))
	p.wrapped("", 3, sidesWhy(b))
	p.wrapped("", 3, "Machine "+b.Machine+", setup file "+b.File)
	p.sidePlans(b)
	p.sideOperations(b)
	p.sideLines(b)
	p.list("What this rests on", b.Notes)
	p.heading("Caution")
	for _, c := range b.Caution {
		p.wrapped("", 3, c)
	}
	return p.err
}

// SideName words a side: "A above 0", "A above 0 and A2 above 5".
func SideName(b *choose.BothSides, side string) string {
	if side == choose.Mixed {
		if len(b.Tilts) == 0 {
			return "as it stands"
		}
		return "both sides in turn"
	}
	var parts []string
	for _, t := range b.Tilts {
		parts = append(parts, fmt.Sprintf("%s %s %s", t.Axis, side, short(shown(t.Pivot, 2), 2)))
	}
	return strings.Join(parts, " and ")
}

// swingToo says what the verdict of a side is not about.
const swingToo = " Whether the setup swings clear and goes together, \"gridswing check\" tells."

// sidesMeaning says what the verdict is worth.
func sidesMeaning(b *choose.BothSides) string {
	missing := ""
	if len(b.NotModelled) > 0 {
		missing = fmt.Sprintf("Not modelled and not declared absent, so that nothing is proven of the whole: %s. ", strings.Join(b.NotModelled, ", "))
	}
	best := &b.Plans[b.Recommended]
	if b.Confirmed.Verdict.Worse(best.Verdict) {
		return missing + fmt.Sprintf("What is planned here is %s by itself, but the operations of the setup file cannot hold it: with the lines below they are as the verdict says. "+
			"Operations for each position would hold it.", best.Verdict)
	}
	reason := ""
	if best.Reason != "" {
		reason = " What is worst: " + best.Reason + "."
	}
	switch b.Verdict() {
	case check.Clear:
		return "Every feature, and every way from one to the next, is proven to keep at least the demanded clearance and travel there, of the models given." + swingToo
	case check.Tight:
		return missing + "At no feature and on no way from one to the next does anything meet, but something comes closer than demanded. Nothing else is better." + reason + swingToo
	case check.Unproven:
		if missing != "" {
			return missing + strings.TrimSpace(reason)
		}
		return "It could not be told of any whether it is clear: as long as that is so, it counts as not clear." + reason
	}
	return missing + "No side is good, and changing between them does not help: this is the least bad." + reason
}

// sidesWhy says why the one is recommended.
func sidesWhy(b *choose.BothSides) string {
	best := &b.Plans[b.Recommended]
	switch {
	case len(b.Tilts) == 0:
		return "No feature can be presented on two sides: there is nothing to choose between, but where free axes stand."
	case best.Side == choose.Mixed:
		return "Neither side is as good for all operations: some are cut on the one, some on the other, so that the axes turn least."
	}
	other := &b.Plans[1-b.Recommended] // Above and Below come first
	name := SideName(b, other.Side)
	switch {
	case best.Verdict != other.Verdict:
		return fmt.Sprintf("The other side, %s, is worse: %s.", name, otherwise(other))
	case best.Turn() < other.Turn():
		return fmt.Sprintf("The other side, %s, is as good, but the axes turn by %s deg there, here by %s.", name, degreesOf(other.Turn()), degreesOf(best.Turn()))
	case best.Whole != other.Whole:
		return fmt.Sprintf("Not everything can be stood at on the other side, %s.", name)
	}
	return fmt.Sprintf("The other side, %s, is as good and the axes turn as far.", name)
}

// otherwise words why a plan is not good.
func otherwise(p *choose.SidePlan) string {
	if p.Reason == "" {
		return p.Verdict.String()
	}
	return p.Verdict.String() + ", " + p.Reason
}

func degreesOf(deg float64) string { return short(deg, 2) }

// sidePlans writes a line for each plan, the recommended one marked.
func (p *page) sidePlans(b *choose.BothSides) {
	p.heading("The sides, each for the whole setup")
	t := &table{head: []string{"verdict", "side", "deg turned", "of these", "indexes", "what is worst"}, wraps: 1, first: []int{3}, indent: 3}
	for i := range b.Plans {
		plan := &b.Plans[i]
		name, reason := SideName(b, plan.Side), plan.Reason
		if i == b.Recommended {
			name += " (recommended)"
		}
		if same := sameAs(b, i); same >= 0 && reason == "" {
			reason = "the same as " + SideName(b, b.Plans[same].Side)
		} else if !plan.Whole && reason == "" {
			reason = "not every feature is on this side"
		}
		var axes []string
		for _, m := range plan.Motion {
			axes = append(axes, whole(m.Axis+" "+degreesOf(m.Degrees)))
		}
		r := row{cells: []string{p.verdict(plan.Verdict), p.bold(name), degreesOf(plan.Turn()), strings.Join(axes, " "), fmt.Sprint(plan.Indexes)}, last: reason}
		if !plan.Whole { // nothing is counted of what cannot be stood at
			r.cells[2], r.cells[3], r.cells[4] = missing, "", missing
		}
		t.rows = append(t.rows, r)
	}
	p.table(t)
	p.wrapped("", 3, "Deg turned: by how many degrees the rotary axes turn in all while they index, from home to the last feature; none where not everything can be stood at.")
}

// sameAs returns the first plan that stands where a later one does, -1 if none does.
func sameAs(b *choose.BothSides, plan int) int {
	return slices.IndexFunc(b.Plans[:plan], func(p choose.SidePlan) bool { return slices.Equal(p.Stands, b.Plans[plan].Stands) })
}

// sideOperations writes a line for each operation: where it stands on either side, and what is
// found of it there alone.
func (p *page) sideOperations(b *choose.BothSides) {
	p.heading("Operations, in their order")
	t := &table{head: []string{"operation", "tool"}, wraps: 0, indent: 3}
	plans := b.Plans
	if len(plans) > 1 {
		plans = plans[:2]
	}
	mixed := len(plans) > 1 && b.Recommended == 2
	for i := range plans {
		t.first = append(t.first, len(t.head))
		t.head = append(t.head, SideName(b, plans[i].Side), "verdict")
	}
	if mixed {
		t.head = append(t.head, "taken")
	}
	for from := 0; from < len(b.Features); {
		to := from
		for to < len(b.Features) && b.Features[to].Operation == b.Features[from].Operation {
			to++
		}
		f := &b.Features[from]
		r := row{cells: []string{p.bold(f.Operation), fmt.Sprintf("T%d", f.Tool)}}
		for i := range plans {
			where, worst := stoodAt(b.Features[from:to], plans[i].Stands[from:to])
			r.cells = append(r.cells, where, p.verdict(worst.Verdict))
			if worst.Verdict != check.Clear && worst.Why != "" {
				r.below = append(r.below, SideName(b, plans[i].Side)+": "+worst.Why)
			}
		}
		if mixed {
			r.cells = append(r.cells, whole(sideTaken(b, from, to)))
		}
		t.rows = append(t.rows, r)
		from = to
	}
	p.table(t)
	p.wrapped("", 3, "Rotary positions in degrees, in brackets at how many more the operation stands; verdicts of the features alone, not of the ways between them.")
}

// sideTaken words the side on which an operation is cut where both are used.
func sideTaken(b *choose.BothSides, from, to int) string {
	side := choose.Either
	for i := from; i < to; i++ {
		switch at := b.Features[i].Stands[b.Plans[b.Recommended].Stands[i]].Side; {
		case at == choose.Either || at == side:
		case at == choose.Over || side != choose.Either:
			return "both"
		default:
			side = at
		}
	}
	if side == choose.Either {
		return side
	}
	return SideName(b, side)
}

// stoodAt words where an operation stands on a plan, and returns the worst of it.
func stoodAt(features []choose.TwoSided, stands []int) (where string, worst *choose.Stood) {
	var places []string
	seen := map[string]bool{}
	for i := range features {
		s := &features[i].Stands[stands[i]]
		if worst == nil || s.Verdict.Worse(worst.Verdict) {
			worst = s
		}
		words := rotaryTo(s.At, digits(s.Verdict))
		if s.Miss > 0 {
			words = "none"
		}
		if !seen[words] {
			seen[words] = true
			places = append(places, words)
		}
	}
	if len(places) > 1 {
		return brackets(fmt.Sprintf("%s (+%d)", places[0], len(places)-1)), worst
	}
	if places[0] == "" {
		return "-", worst
	}
	return brackets(places[0]), worst
}

// sideLines writes what to add to the setup file, and what comes of it.
func (p *page) sideLines(b *choose.BothSides) {
	p.heading("To keep to it, add to the operations in the setup file")
	best := &b.Plans[b.Recommended]
	width := 0
	for _, l := range best.Lines {
		width = max(width, columns(l.Operation))
	}
	width = min(width, longName)
	for _, l := range best.Lines {
		line := l.Line
		if line == "" {
			line = "no line"
		}
		p.wrapped("   "+p.bold(l.Operation), 3+width+gap, whole(line))
		if l.Note != "" {
			p.wrapped("", 3+width+gap, "("+l.Note+")")
		}
	}
	words := "With these lines the full check of the operations says: " + b.Confirmed.Verdict.String() + "."
	if b.Confirmed.Reason != "" {
		words = "With these lines the full check of the operations says: " + b.Confirmed.Verdict.String() + ", " + b.Confirmed.Reason + "."
	}
	p.wrapped("", 3, words)
	if len(b.Confirmed.Differs) > 0 {
		p.wrapped("", 3, "What no line holds then stands elsewhere than planned here: "+strings.Join(b.Confirmed.Differs, "; ")+".")
	}
}

// longName is how wide the names of operations beside their lines may be.
const longName = 24
