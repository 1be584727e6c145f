package pictures

import (
	"cmp"
	"context"
	"fmt"
	"image"
	"math"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/choose"
	"gridswing/render/chart"

	"github.com/golang/geo/r3"
)

// Drawing is a picture that is still to be drawn.
type Drawing interface {
	Draw(ctx context.Context) (*image.RGBA, error)
}

// OfChoice returns the picture of candidates for one place: seats on the grid that they are
// in, stacks as a table over what is asked of them.
func OfChoice(d *machine.Draft, c *choose.Choice) (Drawing, error) {
	if c.Kind == choose.Stacked {
		return stacks(c), nil
	}
	plan, err := d.HolePlan(c.Place)
	if err != nil {
		return nil, err
	}
	m := &chart.SeatMap{
		Title:   fmt.Sprintf("Seats of %s in %s: %s", c.Place, plan.Name, c.Setup),
		Caption: captionOf(c.Machine, c.Interrupted, c.Common, "Each mark is in the middle between the two holes of a seat, on the face seen from above."),
		Cap:     check.MostShare,
	}
	for _, h := range plan.Places {
		m.Holes = append(m.Holes, chart.Hole{Name: h.Name, X: h.X, Y: h.Y})
	}
	for _, l := range plan.Columns {
		m.Columns = append(m.Columns, chart.Label{Name: l.Name, At: l.At})
	}
	for _, l := range plan.Rows {
		m.Rows = append(m.Rows, chart.Label{Name: l.Name, At: l.At})
	}
	for i := range c.Candidates {
		l := &c.Candidates[i]
		s := chart.Seat{Choice: drawn(l, rankOf(c.Best, i)), Turned: l.Turned}
		s.X, s.Y = plan.At(r3.Vector{X: l.Middle[0], Y: l.Middle[1], Z: l.Middle[2]})
		m.Seats = append(m.Seats, s)
	}
	return m, nil
}

// captionOf says under a title what the picture is worth, and what is not on it.
func captionOf(machine string, interrupted bool, common []check.Margin, more string) []string {
	lines := []string{machine + ". " + more}
	var same []string
	for i := range common {
		same = append(same, common[i].Concern+" "+text.Share(common[i].Share))
	}
	if len(same) > 0 {
		lines = append(lines, "Not counted, for it is the same whatever is chosen: "+strings.Join(same, ", ")+".")
	}
	if interrupted {
		lines = append(lines, "Interrupted: not all were looked at to the end.")
	}
	return lines
}

func rankOf(best []int, candidate int) int { return slices.Index(best, candidate) + 1 }

// drawn is a candidate as pictures know it.
func drawn(l *choose.Looked, rank int) chart.Choice {
	return chart.Choice{
		State: stateOf(l), Share: l.Share(), GivenUp: l.GivenUp != "", Present: l.Present, Rank: rank, Name: l.Name,
	}
}

// stateOf is the verdict of a candidate. One that was given up while nothing was wrong with it is
// clear so far: it is drawn hollow.
func stateOf(l *choose.Looked) chart.State {
	if l.GivenUp != "" && l.Verdict == check.Unproven && !slices.ContainsFunc(l.Judged, func(j check.Judged) bool { return j.Verdict != check.Clear }) {
		return chart.Clear
	}
	return states[l.Verdict]
}

// mostDrawn is how many stacks a picture has: the best, then those of which most is known.
const mostDrawn = 30

// stacks is a table of stacks over concerns.
func stacks(c *choose.Choice) *chart.HeatMap {
	m := &chart.HeatMap{
		Title:   fmt.Sprintf("Stacks at %s: %s", c.Place, c.Setup),
		Columns: chart.Scale{Name: "what is asked", Values: check.Concerns()},
		Rows:    chart.Scale{Name: "stack, the lowest first"},
		Cap:     check.MostShare,
		Empty:   "not asked",
	}
	shown := shownOf(c)
	more := "Each row is a stack, each cell the smallest share that is left of what is demanded."
	if left := len(c.Candidates) - len(shown); left > 0 {
		more += " " + undrawn(left, "stack")
	}
	m.Caption = captionOf(c.Machine, c.Interrupted, c.Common, more)
	for _, i := range shown {
		l := &c.Candidates[i]
		m.Rows.Values = append(m.Rows.Values, nameOf(&l.Candidate))
		tightest := tightestOf(l)
		for _, concern := range check.Concerns() {
			k := slices.IndexFunc(l.Judged, func(j check.Judged) bool { return j.Concern == concern })
			if k < 0 {
				m.Cells = append(m.Cells, chart.Combination{Missing: true})
				continue
			}
			cell := chart.Combination{Choice: judged(&l.Judged[k]), Bare: l.Judged[k].Margin == nil}
			if concern == tightest {
				cell.Rank, cell.Present, cell.Name = rankOf(c.Best, i), l.Present, l.Name
			}
			m.Cells = append(m.Cells, cell)
		}
	}
	return m
}

func undrawn(n int, thing string) string {
	if n == 1 {
		return "1 more " + thing + " is not drawn."
	}
	return fmt.Sprintf("%d more %ss are not drawn.", n, thing)
}

// shownOf lists the candidates that are drawn, in their order.
func shownOf(c *choose.Choice) []int {
	var shown []int
	for i := range c.Candidates {
		shown = append(shown, i)
	}
	slices.SortStableFunc(shown, func(a, b int) int {
		best := func(i int) int { return cmp.Or(rankOf(c.Best, i), math.MaxInt) }
		return cmp.Or(cmp.Compare(best(a), best(b)), cmp.Compare(len(c.Candidates[b].Judged), len(c.Candidates[a].Judged)))
	})
	shown = shown[:min(mostDrawn, len(shown))]
	slices.Sort(shown)
	return shown
}

// tightestOf is the concern that a candidate's row is ringed at.
func tightestOf(l *choose.Looked) string {
	for i := range l.Judged {
		if j := &l.Judged[i]; j.Verdict == l.Verdict && l.Verdict != check.Clear {
			return j.Concern
		}
	}
	switch {
	case l.Tightest != nil:
		return l.Tightest.Concern
	case len(l.Judged) > 0:
		return l.Judged[0].Concern
	}
	return ""
}

// judged is what is known of one concern, as pictures know it.
func judged(j *check.Judged) chart.Choice {
	c := chart.Choice{State: states[j.Verdict], Share: check.MostShare}
	if j.Margin != nil {
		c.Share = j.Margin.Share
	}
	return c
}

// OfTable returns the picture of all pairs of two lists.
func OfTable(t *choose.Table) Drawing {
	m := &chart.HeatMap{
		Title:   fmt.Sprintf("%s and %s: %s", capital(t.Rows.What), t.Columns.What, t.Setup),
		Columns: chart.Scale{Name: t.Columns.What},
		Rows:    chart.Scale{Name: t.Rows.What},
		Cap:     check.MostShare,
	}
	wide := len(t.Columns.Candidates)
	rows := drawnOf(t, len(t.Rows.Candidates), wide, func(row, column int) int { return row*wide + column })
	columns := drawnOf(t, wide, len(t.Rows.Candidates), func(column, row int) int { return row*wide + column })
	for _, column := range columns {
		m.Columns.Values = append(m.Columns.Values, nameOf(&t.Columns.Candidates[column]))
	}
	for _, row := range rows {
		m.Rows.Values = append(m.Rows.Values, nameOf(&t.Rows.Candidates[row]))
		for _, column := range columns {
			l := t.Cell(row, column)
			m.Cells = append(m.Cells, chart.Combination{Choice: drawn(l, rankOf(t.Best, row*wide+column)), Missing: l.Faulty})
		}
	}
	more := "Each cell is the smallest share that is left of what is demanded."
	if left := len(t.Rows.Candidates) - len(rows); left > 0 {
		more += " " + undrawn(left, "row")
	}
	if left := wide - len(columns); left > 0 {
		more += " " + undrawn(left, "column")
	}
	m.Caption = captionOf(t.Machine, t.Interrupted, t.Common, more)
	return m
}

// drawnOf lists those of so many rows that are drawn, each of so many cells, of which place tells
// the place in the table, in their order; or columns: those with the best, then those of which
// something is known, the nearest to the best one first. One of which nothing is known is not drawn.
func drawnOf(t *choose.Table, rows, cells int, place func(row, cell int) int) []int {
	type known struct{ row, best, looked, faulty int }
	var list []known
	for row := range rows {
		k := known{row: row, best: math.MaxInt}
		for cell := range cells {
			at := place(row, cell)
			l := &t.Cells[at]
			if r := rankOf(t.Best, at); r > 0 {
				k.best = min(k.best, r)
			}
			switch {
			case l.Faulty:
				k.faulty++
			case l.GivenUp == "" || l.Verdict != check.Unproven:
				k.looked++
			}
		}
		list = append(list, k)
	}
	best := slices.MinFunc(list, func(a, b known) int { return cmp.Compare(a.best, b.best) }).row
	slices.SortStableFunc(list, func(a, b known) int {
		return cmp.Or(cmp.Compare(a.best, b.best), cmp.Compare(min(b.looked, 1), min(a.looked, 1)), cmp.Compare(min(b.faulty, 1), min(a.faulty, 1)),
			cmp.Compare(max(a.row-best, best-a.row), max(b.row-best, best-b.row)))
	})
	most := min(mostDrawn, rows)
	for most > 1 && list[most-1].best == math.MaxInt && list[most-1].looked+list[most-1].faulty == 0 {
		most--
	}
	var shown []int
	for _, k := range list[:most] {
		shown = append(shown, k.row)
	}
	slices.Sort(shown)
	return shown
}

// nameOf is a candidate's name, marked if the setup has it now.
func nameOf(c *choose.Candidate) string {
	if c.Present {
		return c.Name + " (now)"
	}
	return c.Name
}

func capital(words string) string { return strings.ToUpper(words[:1]) + words[1:] }

// OfHeights returns the picture of a spacer's heights. Stacks that can be had are marked.
func OfHeights(h *choose.Heights, stock []choose.Candidate) Drawing {
	s := &chart.HeightStrip{
		Title:   fmt.Sprintf("Height of a spacer at %s: %s", h.Place, h.Setup),
		Caption: captionOf(h.Machine, h.Interrupted, nil, "What is clear is proven at every height of its stretch."),
		Name:    "height of the spacer", Unit: "mm", Decimals: 2,
	}
	for i := range h.Stretches {
		st := &h.Stretches[i]
		state := states[st.Verdict]
		if st.State == choose.UnprovenHeights {
			state = chart.Unproven
		}
		s.Stretches = append(s.Stretches, chart.Stretch{From: st.From, To: st.To, State: state, Reason: st.Reason})
	}
	for i := 0; i < len(stock); {
		first, n := &stock[i], 0 // lowest first: those of one height stand beside each other
		for ; i < len(stock) && stock[i].Height == first.Height; i++ {
			n++
		}
		name := strings.Join(first.Parts, " + ")
		if n > 1 {
			name += fmt.Sprintf(" (+%d)", n-1)
		}
		s.Stock = append(s.Stock, chart.Height{At: first.Height, Name: name})
	}
	if len(stock) > 0 {
		s.Caption = append(s.Caption, "Above stand the stacks of the catalogue that are so high; it is the spacer that was looked at, not they.")
	}
	if h.Now != nil {
		s.Present = &chart.Height{At: *h.Now, Name: h.Place}
	}
	if h.Lowest != nil {
		s.Best = &chart.Height{At: *h.Lowest, Name: "lowest good"}
	}
	return s
}
