package text

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// seats writes how each component is located and held.
func (p *page) seats(s *check.Stack) {
	clear := allClear(s.Seats, func(s *check.Seat) check.Verdict { return s.Verdict })
	if len(s.Seats) == 0 || p.told(clear, "How it goes together", every(len(s.Seats), "component")+", as far as their files tell") {
		return
	}
	p.heading("How it goes together")
	t := &table{head: []string{"verdict", "component", "stands on", "located by", "shift, mm", "angle, deg", "screws"}, wraps: 3, indent: 3}
	for i := range s.Seats {
		seat := &s.Seats[i]
		shift, angle := missing, missing
		if seat.Play != nil {
			shift, angle = up3(max(seat.Play.Along, seat.Play.Across[0], seat.Play.Across[1])), Angle(seat.Play.Angle)
		}
		t.rows = append(t.rows, row{
			cells: []string{p.verdict(seat.Verdict), seat.Unit, seat.On, Located(seat), shift, angle, Screwed(seat)},
			below: aboutSeat(seat),
		})
	}
	p.table(t)
	p.wrapped("", 3, "Shift and angle are how far the locators, and the positions of their holes, let the component be off, either way, at worst.")
}

// Angle prints an angle in degrees, rounded up to 0.0001.
func Angle(deg float64) string { return fixed(math.Ceil(deg*1e4-noise)/1e4, 4) }

// Located words what locates a component: "own pins 16 g6 in B3, H3".
func Located(s *check.Seat) string {
	var pins, holes []string
	for _, l := range s.Locators {
		if l.Pin != "" && !slices.Contains(pins, l.Pin) {
			pins = append(pins, l.Pin)
		}
		if l.Hole != "" && !slices.Contains(holes, l.Hole) {
			holes = append(holes, l.Hole)
		}
	}
	words := s.LocatedBy
	if len(pins) > 0 {
		words += " " + strings.Join(pins, " and ")
	}
	if len(holes) > 0 {
		words += " in " + strings.TrimSpace(s.Grid+" "+strings.Join(holes, ", "))
	}
	return words
}

// Screwed words how many of its screws a component is held by.
func Screwed(s *check.Seat) string {
	if len(s.Fasteners) == 0 {
		return missing
	}
	holding, unstated := 0, 0
	for i := range s.Fasteners {
		if s.Fasteners[i].Holds() {
			holding++
		}
		if s.Fasteners[i].Length == nil {
			unstated++
		}
	}
	words := fmt.Sprintf("%d of %d", holding, len(s.Fasteners))
	switch unstated {
	case 0:
		return words
	case len(s.Fasteners):
		return words + ", length not stated"
	}
	return fmt.Sprintf("%s, length of %d not stated", words, unstated)
}

// aboutSeat is what else there is to say of a component.
func aboutSeat(s *check.Seat) []string {
	return slices.Concat(Locating(s), ScrewLines(s), Standing(s))
}

// Locating says how a component's locators fit.
func Locating(s *check.Seat) (lines []string) {
	for i, l := range s.Locators {
		if l.Least == nil || i > 0 && same(&l, &s.Locators[i-1]) {
			continue
		}
		words := fmt.Sprintf("%s in %s: clearance %s to %s mm", l.Pin, strings.Join(l.Bores, " and "), fixed(*l.Least, 3), fixed(*l.Most, 3))
		lines = append(lines, words)
	}
	if n := len(s.Locators); n == 2 && s.Locators[1].Relieved {
		lines = append(lines, "the second pin is relieved: it locates across the line of the two only")
	}
	if s.Spare != nil && *s.Spare >= 0 {
		lines = append(lines, fmt.Sprintf("the distance of the two may be off by %s mm more, at worst, before it does not go on", fixed(math.Floor(*s.Spare*1000+noise)/1000, 3)))
	}
	return lines
}

// Standing says how a component stands: beyond what is under it, in jaws.
func Standing(s *check.Seat) (lines []string) {
	if len(s.Overhang) > 0 {
		var sides []string
		for _, b := range s.Overhang {
			sides = append(sides, fmt.Sprintf("%s by %s mm", b.Side, Up(b.By)))
		}
		lines = append(lines, "stands out beyond what is under it: "+strings.Join(sides, ", "))
	}
	if s.Grip != nil {
		lines = append(lines, gripped(s.Grip))
	}
	return append(lines, s.Notes...)
}

// same reports whether two locators are alike but for their holes.
func same(a, b *check.Locator) bool {
	return a.Pin == b.Pin && slices.Equal(a.Bores, b.Bores) && b.Least != nil
}

// ScrewLines words the screws that hold by the same length together, and the others.
func ScrewLines(s *check.Seat) (lines []string) {
	byWords := map[string][]string{}
	var order []string
	for _, f := range s.Fasteners {
		words := f.Thread
		if f.Length != nil {
			words += " x " + short(*f.Length, 3)
		}
		if f.From == "below" {
			words += " from below"
		}
		if f.Engaged != nil && f.Needed != nil && f.Verdict == check.Clear {
			words += fmt.Sprintf(", %s mm of thread hold, %s needed", short(floor(*f.Engaged), 2), Demanded(*f.Needed))
		}
		if f.Verdict != check.Clear {
			words += ", " + f.Verdict.String()
		}
		if f.Reason != "" {
			words += ": " + f.Reason
		}
		if byWords[words] == nil {
			order = append(order, words)
		}
		where := f.Hole
		if where == "" {
			where = "fastener " + f.Name
		}
		byWords[words] = append(byWords[words], where)
	}
	for _, words := range order {
		lines = append(lines, words+" ("+HoleList(byWords[words])+")")
	}
	return lines
}

// HoleList lists holes, the grid said once before those that share it: "top B1, B3".
func HoleList(names []string) string {
	words, before := "", ""
	for i, name := range names {
		grid, label := "", name
		if k := strings.LastIndex(name, " "); k >= 0 {
			grid, label = name[:k], name[k+1:]
		}
		if i > 0 {
			words += ", "
		}
		if grid != "" && grid != before {
			words += grid + " "
		}
		words, before = words+label, grid
	}
	return words
}

// gripped words how jaws hold a component.
func gripped(g *check.Grip) string {
	words := "gripped by " + strings.Join(g.Jaws, " and ")
	if g.Held != nil {
		words += fmt.Sprintf(", which hold %s mm of its height as drawn", Down(*g.Held))
	}
	words += fmt.Sprintf(", and bite in by %s mm", Demanded(g.Bite))
	if g.Parallels != "" {
		words += "; it lies on " + g.Parallels
	}
	return words
}

// SearchMeans says what is told of a probe's search.
const SearchMeans = "How far before the surface as drawn the search begins, how far beyond it goes on, and how far off along it the surface can be at worst"

// touches writes the searches of a probe.
func (p *page) touches(s *check.Stack) {
	clear := allClear(s.Searches, func(q *check.Search) check.Verdict { return q.Verdict })
	if len(s.Searches) == 0 || p.told(clear, "Probe", Found(len(s.Searches))) {
		return
	}
	p.heading("Whether the probe finds the surface")
	t := &table{head: []string{"verdict", "operation", "feature", "before", "beyond", "off"}, wraps: 1, indent: 3}
	for i := range s.Searches {
		q := &s.Searches[i]
		t.rows = append(t.rows, row{cells: []string{
			p.verdict(q.Verdict), q.Operation, q.Feature, Demanded(q.Before), Demanded(q.Beyond), up3(q.Off),
		}})
	}
	p.table(t)
	p.wrapped("", 3, SearchMeans+", mm.")
}

// stackMeaning says what the verdict is worth where nothing but the stack is as bad; ""
// where something else is.
func stackMeaning(r *check.Report) string {
	found := false
	for i := range r.Findings {
		f := &r.Findings[i]
		if f.Verdict != r.Verdict {
			continue
		}
		if f.Question != check.Stacked && f.Question != check.Located {
			return ""
		}
		found = true
	}
	if !found {
		return ""
	}
	switch r.Verdict {
	case check.Contact:
		return "The setup does not go together as the files describe it."
	case check.WithinPlay:
		return "As drawn the setup goes together, but at worst a component does not go on, or a part is farther off than it may be."
	case check.Tight:
		return "The setup goes together, but less thread holds than should."
	}
	return "It could not be told whether the setup goes together and holds: as long as that is so, it counts as not clear."
}
