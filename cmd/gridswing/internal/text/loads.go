package text

import (
	"fmt"
	"math"
	"strings"

	"gridswing/machine/check"
)

// loads writes what stands on the table and on units with rotary axes, against what
// they are rated for.
func (p *page) loads(r *check.Report) {
	l := r.Loads
	if l == nil {
		return
	}
	p.heading("Loads, the largest over the commanded ranges")
	if len(l.Rated) > 0 {
		t := &table{head: []string{"verdict", "load", "largest", "rated", "margin", "where"}, wraps: 1, indent: 3}
		for i := range l.Rated {
			t.rows = append(t.rows, p.rated(&l.Rated[i]))
		}
		p.table(t)
	}
	quiet := allClear(l.Rated, func(q *check.Rated) check.Verdict {
		if q.Verdict == nil {
			return check.Clear
		}
		return *q.Verdict
	})
	for i := range l.Units {
		if p.full || !quiet || l.Units[i].Carried == nil {
			p.wrapped("   ", 5, UnitLoad(&l.Units[i]))
		}
	}
	for _, line := range Counterweight(l.Counterweight) {
		if line.Strong {
			name, rest, _ := strings.Cut(line.Words, ":")
			line.Words = p.bold(name+":") + rest
		}
		p.wrapped("   ", 5, line.Words)
	}
	for _, n := range l.Notes {
		p.wrapped("   - ", 5, n)
	}
}

// NotJudged stands instead of a verdict where no ratings are stated at all.
const NotJudged = "not rated"

// rated is one line of the table.
func (p *page) rated(q *check.Rated) row {
	verdict := NotJudged
	if q.Verdict != nil {
		verdict = p.verdict(*q.Verdict)
	}
	last := q.Reason
	if last == "" && len(q.At) > 0 {
		last = Positions(q.At)
	}
	return row{
		cells: []string{verdict, q.Unit + ": " + q.Words() + ", " + q.Measure, amount(q.Load, Up), amount(q.Rating, Demanded), amount(q.Margin, Down)},
		last:  last,
	}
}

func amount(v *float64, print func(float64) string) string {
	if v == nil {
		return missing
	}
	return print(*v)
}

// UnitLoad says what a unit carries and where its middle is.
func UnitLoad(u *check.UnitLoad) string {
	switch {
	case u.Carried == nil:
		return "What " + u.Unit + " carries is not known: " + strings.Join(u.Unknown, ", ") + "."
	case u.Carried.Mass > 0:
		return fmt.Sprintf("%s carries %s; what it moves of its own: %s.", u.Unit, weighed(u.Carried), weighed(u.Own))
	}
	return u.Unit + " carries nothing."
}

// weighed words a weight; the middle of nothing is nowhere.
func weighed(w *check.Weight) string {
	switch {
	case w == nil:
		return "not known"
	case w.Mass == 0:
		return "nothing"
	}
	return fmt.Sprintf("%s kg, its middle at X %s, Y %s, Z %s mm with every axis at zero", Up(w.Mass), fixed(w.Centre[0], 1), fixed(w.Centre[1], 1), fixed(w.Centre[2], 1))
}

// Counterweight says what would balance a rotary axis, and what to write for it to stand there;
// of a strong line only what comes before the colon is.
func Counterweight(c *check.Counterweight) []Line {
	if c == nil {
		return nil
	}
	from := fmt.Sprintf("counter-clockwise from the way in which the letters of %s count, %s at 0", c.On, c.Axis)
	exact := fmt.Sprintf("%s kg at a radius of %s mm and %s deg, %s", fixed(c.Mass, 3), Demanded(c.Radius), fixed(c.Angle, 2), from)
	switch {
	case c.Reason != "":
		return []Line{{Words: "Counterweight for " + c.Axis + ": cannot be told, " + c.Reason + "."}}
	case c.Stands:
		return []Line{{Words: fmt.Sprintf("The counterweight leaves %s kg mm about %s, without it they are %s. Exact would be %s. It is counted above, and swept as a body.",
			Up(c.With), c.Axis, Up(c.Without), exact)}}
	case math.Round(c.Mass*1000) == 0:
		return []Line{{Words: c.Axis + " is balanced: it needs no counterweight."}}
	}
	return []Line{
		{"Counterweight for " + c.Axis + fmt.Sprintf(": %s; a cylinder %s mm long. It takes away %s kg mm; %s kg are carried with it.", exact, Up(c.Length), Up(c.Without), Up(c.Carried)), true},
		{Words: fmt.Sprintf("To place it, add mass = %s, angle = %s and within = how far off it can stand to [counterweight] in the setup file: then it is counted here, and swept as a body.",
			fixed(c.Mass, 3), short(c.Angle, 2))},
	}
}
