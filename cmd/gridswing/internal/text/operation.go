package text

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// Operation writes all that was found of one operation of a report: every feature with
// the rotary positions that present it, the travel, what is tightest, and
// the stick-out.
func Operation(w io.Writer, look terminal.Look, r *check.Report, o *check.Operation) error {
	p := &page{w: w, look: look}
	p.wrapped("", 0, p.verdict(o.Verdict)+": "+p.bold(o.Name)+", an operation of "+p.bold(r.Setup))
	p.wrapped("", 3, fmt.Sprintf("T%d %s, %s mm from the gauge line to the foremost point; part %s; %s",
		o.Tool, o.ToolName, short(o.LPR, 3), o.Part, plural(len(o.Features), "feature")))
	p.wrapped("", 3, fmt.Sprintf("Machine %s, setup file %s", r.Machine, r.File))
	features := slices.Clone(o.Features)
	slices.SortStableFunc(features, func(a, b check.Feature) int { return worseFirst(a.Verdict, b.Verdict) })
	for i := range features {
		p.feature(r, &features[i])
	}
	p.stickOut(o)
	if r.Reach != nil {
		p.list("Assumed", r.Reach.Cautious)
	}
	p.heading("Caution")
	for _, c := range r.Caution {
		p.wrapped("", 3, c)
	}
	return p.err
}

// feature writes all that was found of one feature.
func (p *page) feature(r *check.Report, f *check.Feature) {
	p.line("")
	words := fmt.Sprintf("%s, %s: %s", p.bold(f.Name), f.Kind, p.verdict(f.Verdict))
	if f.Reason != "" {
		words += ": " + f.Reason
	}
	p.wrapped("", 0, words)
	for i := range f.Presented {
		name := ""
		if i == 0 {
			name = "presented"
		}
		p.field(name, p.presented(f, &f.Presented[i]))
	}
	if len(f.Presented) == 0 {
		p.field("presented", "by no rotary position")
	}
	if len(f.Along) > 0 {
		p.field("along it", Ranges(f.Along))
	}
	p.travel(f)
	p.tightest(r, f)
}

// presented words one rotary position of a feature.
func (p *page) presented(f *check.Feature, q *check.Presented) string {
	words := positionsTo(q.At, digits(q.Verdict))
	if words == "" {
		words = "as it stands"
	}
	if q.Miss != 0 {
		words = fmt.Sprintf("not: %s misses by %s deg", words, Up(q.Miss))
	}
	switch {
	case q.Chosen && q.Verdict == check.Clear:
		words += ": chosen"
	case q.Chosen:
		words += ": chosen, " + p.verdict(q.Verdict)
	case q.Verdict == check.Unproven && q.Why != "":
		return words + ": " + q.Why
	default:
		words += ": " + p.verdict(q.Verdict)
	}
	if q.Free != "" {
		words += "; " + wherever(q)
	}
	if q.Why != "" && q.Why != f.Reason {
		words += "; " + q.Why
	}
	return words
}

// wherever says that a position is one of many, and that the others were not looked at.
func wherever(q *check.Presented) string {
	words := "presented wherever " + q.Free + " stands"
	for _, at := range q.At {
		if at.Axis == q.Free && q.Chosen {
			words += ", looked at only with " + Positions([]check.Position{at})
		}
	}
	return words
}

// travel writes, a line for each axis, where it goes and what it keeps to its limits,
// and what would help where that is too little.
func (p *page) travel(f *check.Feature) {
	travel := slices.Clone(f.Travel)
	slices.SortStableFunc(travel, func(a, b check.Travel) int { return check.ByLetter(a.Axis, b.Axis) })
	var axes [][]check.Travel
	var least []check.Travel
	for len(travel) > 0 {
		n := 1
		for n < len(travel) && travel[n].Axis == travel[0].Axis {
			n++
		}
		axes, least = append(axes, travel[:n]), append(least, leastOf(travel[:n]))
		travel = travel[n:]
	}
	if len(axes) == 0 {
		return
	}
	taken, said := takenOff(least)
	p.field("travel", "where each axis comes nearest to a limit; "+taken)
	for k, list := range axes {
		p.field("", travelWords(list, &least[k], said))
		for i := range list {
			for _, cure := range list[i].Cures {
				p.field("", "would help at "+list[i].Where+": "+cure)
			}
		}
	}
}

// leastOf returns where an axis has least left.
func leastOf(list []check.Travel) check.Travel {
	return slices.MinFunc(list, func(a, b check.Travel) int { return cmp.Compare(a.Margin, b.Margin) })
}

// takenOff words what location uncertainty takes off what is left; all is true if it is the same
// of all axes, and said.
func takenOff(travel []check.Travel) (words string, all bool) {
	for i := range travel {
		if Up(travel[i].Loose) != Up(travel[0].Loose) {
			return "location uncertainty is taken off what is left", false
		}
	}
	if len(travel) == 0 || travel[0].Loose == 0 {
		return "nothing is taken off for location uncertainty", true
	}
	return "what is left has " + Up(travel[0].Loose) + " mm taken off for location uncertainty", true
}

// travelWords words where an axis goes, and where it comes nearest to a limit. What is taken off
// for location uncertainty may be said already.
func travelWords(travel []check.Travel, least *check.Travel, said bool) string {
	var at []string
	for i := range travel {
		at = append(at, travel[i].Where+" "+fixed(travel[i].Position, 2))
	}
	words := fmt.Sprintf("%s at %s mm; %s", least.Axis, strings.Join(at, ", "), leftOf(least, said))
	if least.Margin < least.Demand {
		words += ", demanded " + Demanded(least.Demand) + " mm"
	}
	return words
}

// leftOf words what is left of an axis' travel, and what of it the location uncertainty takes.
func leftOf(t *check.Travel, said bool) string {
	limit, loose := short(t.Limit, 3), Up(t.Loose)
	switch nominal := t.Margin + t.Loose; {
	case t.Margin < 0 && t.Loose == 0:
		return fmt.Sprintf("%s mm beyond its limit at %s", Up(-t.Margin), limit)
	case nominal < 0:
		return fmt.Sprintf("%s mm beyond its limit at %s, and %s mm more for location uncertainty", Up(-nominal), limit, loose)
	case t.Margin < 0:
		return fmt.Sprintf("%s mm left to %s, of which location uncertainty takes %s mm", Down(nominal), limit, loose)
	case t.Loose == 0 || said:
		return fmt.Sprintf("%s mm left to %s", Down(t.Margin), limit)
	}
	return fmt.Sprintf("%s mm left to %s (%s taken off)", Down(t.Margin), limit, loose)
}

// tightest writes where a feature is tightest.
func (p *page) tightest(r *check.Report, f *check.Feature) {
	t := f.Tightest
	switch {
	case t != nil && t.Bodies[1] != "":
		words := nearness(t)
		if words == "" {
			words = t.Bodies[0] + " and " + t.Bodies[1] + ": nothing is proven"
		}
		if len(t.At) > 0 {
			words += ", at " + Positions(t.At)
		}
		if t.Points != nil {
			words += "; point " + point(r, t) + ", in the machine's coordinates"
		}
		p.field("tightest", words)
		if t.PartPoint != nil {
			p.field("in the part", coordinates(t.PartPoint))
		}
		if c := clearance(t); c != "" {
			p.field("clearance", c)
		}
		for _, cure := range t.Cures {
			p.field("", "would help: "+cure)
		}
	case f.Verdict == check.Clear:
		p.field("tightest", "nothing comes nearer than is demanded, proven")
	}
}

// stickOut writes the window of an operation's stick-out.
func (p *page) stickOut(o *check.Operation) {
	s := o.StickOut
	if s == nil {
		return
	}
	p.heading("Stick-out, from the holder's face to the foremost point")
	p.field("now", short(s.Now, 3)+" mm")
	p.field("possible", window(s.Possible[0], s.Possible[1])+" mm, by cutter and holder")
	if s.Shortest == nil || s.Longest == nil {
		p.field("good", p.bold("none"))
	} else {
		p.field("good", p.bold(window(*s.Shortest, *s.Longest)+" mm"))
	}
	p.field("lower end", bound(s.ShortestBy))
	p.field("upper end", bound(s.LongestBy))
	tool := fmt.Sprintf("for T%d", o.Tool)
	switch {
	case s.Tool != nil:
		p.field(tool, window(s.Tool[0], s.Tool[1])+" mm serves all operations of the tool")
	default:
		p.field(tool, "no stick-out serves all operations of the tool")
	}
	if len(s.Others) > 0 {
		p.field("others", "tools of the library that would do: "+strings.Join(s.Others, ", "))
	}
}

// bound words what bounds a window.
func bound(words string) string {
	if words == "" {
		return "not known"
	}
	return words
}
