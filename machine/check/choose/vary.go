package choose

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Vary looks at every pair of two lists of alternatives: the changes of the row's are made
// first. When the context ends it returns what is known until then. Every cell is looked at
// to the end if the options say so (All), otherwise until the best are known.
func Vary(ctx context.Context, d *machine.Draft, rows, columns Line, o Options) (*Table, error) {
	o = o.ready(Roomiest)
	var list []Candidate
	for i := range rows.Candidates {
		for k := range columns.Candidates {
			list = append(list, pair(&rows.Candidates[i], &columns.Candidates[k]))
		}
	}
	found, err := pick(ctx, d, list, o)
	if err != nil {
		return nil, err
	}
	s := d.Setup()
	return &Table{
		Format: Format, Setup: s.Name, File: s.File, Machine: s.Machine, Rule: o.Rule, Rows: rows, Columns: columns,
		Cells: found.looked, Best: found.best, Counted: count(found.looked), Common: found.common,
		NotModelled: notModelled(s), Interrupted: found.interrupted, Caution: check.Caution,
	}, nil
}

// pair is both of two alternatives at once. What only one of them says it says of both.
func pair(row, column *Candidate) Candidate {
	c := *row
	c.Name = spelled(row) + "; " + spelled(column)
	c.Changes = slices.Concat(row.Changes, column.Changes)
	c.Height = row.Height + column.Height
	c.Moved = row.Moved + column.Moved
	c.Turned = math.Abs(row.Turned) + math.Abs(column.Turned)
	c.Parts = slices.Concat(row.Parts, column.Parts)
	c.Present = row.Present && column.Present
	if c.Pins == nil {
		c.Pins, c.Middle = column.Pins, column.Middle
	}
	if c.StickOut == 0 {
		c.StickOut = column.StickOut
	}
	return c
}

// spelled names one of two alternatives at once, so that it is told what is meant: "vise in B2, D2",
// "T3 at 65 mm".
func spelled(c *Candidate) string {
	if len(c.Changes) != 1 {
		return c.Name
	}
	switch change := &c.Changes[0]; {
	case change.Seat != nil:
		return change.Seat.Place + " in " + c.Name
	case change.StickOut != nil:
		return fmt.Sprintf("T%d at %s", change.StickOut.Tool, c.Name)
	}
	return c.Name
}

// mostSticks bounds a list of stick-outs.
const mostSticks = 1000

// StickOutLine lists stick-outs of a tool, from one to another by steps, in mm. Both ends are
// in it if the step goes in.
func StickOutLine(d *machine.Draft, tool int, from, to, step float64) (Line, error) {
	line := Line{What: fmt.Sprintf("stick-out of T%d", tool)}
	now, known := 0.0, false
	for _, t := range d.Setup().Tools {
		if t.Number == tool {
			now, known = t.StickOut, true
		}
	}
	switch {
	case !known:
		return line, fmt.Errorf("stick-outs of T%d: found no such tool in the setup's tool files, expected one of them", tool)
	case !(from > 0) || !(to >= from) || !(step > 0) || math.IsInf(to, 0):
		return line, fmt.Errorf("stick-outs of T%d from %g to %g by %g mm: expected 0 < from <= to and a step above 0", tool, from, to, step)
	case (to-from)/step > mostSticks:
		return line, fmt.Errorf("stick-outs of T%d from %g to %g by %g mm: found more than %d, expected no more", tool, from, to, step, mostSticks)
	}
	for i := 0; ; i++ {
		mm := rounded(from + float64(i)*step)
		if mm > rounded(to) {
			return line, nil
		}
		line.Candidates = append(line.Candidates, Candidate{
			Name: fmt.Sprintf("%g mm", mm), StickOut: mm, Moved: rounded(math.Abs(mm - now)), Present: mm == rounded(now),
			Changes: []machine.Change{{StickOut: &machine.StickOutChange{Tool: tool, MM: mm}}},
		})
	}
}
