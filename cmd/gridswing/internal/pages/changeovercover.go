package pages

import (
	"fmt"
	"strings"

	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine/check/changeover"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// cover is the first page: what is moved, and the steps in a line each.
func (c *changing) cover() {
	f, plan := c.flow, c.plan
	f.NewPage("What is moved")
	f.Title("Changeover", text.FromTo(plan)+", "+plan.Machine)
	wayVerdict(f, plan.Verdict, text.WaysMeaning(plan))
	facts(f, text.ChangeSummary(plan))
	f.Table(c.steps())
	for _, words := range plan.Assumed {
		f.Small("Assumed: " + words + ".")
	}
	for _, words := range plan.Stated {
		f.Small("Stated, not checked: " + words + ".")
	}
	f.Space(2)
	for _, words := range plan.Caution {
		f.Small(words)
	}
	f.Space(4)
	f.Blanks([]layout.Blank{{Label: "Done by", Width: 46}, {Label: "on", Width: 28}, {Label: "begun", Width: 18}, {Label: "ended", Width: 18}})
}

// steps lists all steps, with boxes to tick.
func (c *changing) steps() layout.Table {
	t := layout.Table{Columns: []layout.Column{
		{Head: "Step", Align: page.Right}, {Head: "", Least: 96}, {Head: "Mass", Align: page.Right}, {Head: "Its way"},
	}}
	for i := range c.plan.Steps {
		st := &c.plan.Steps[i]
		mass, way := "", ""
		if st.Way != nil {
			mass, way = massOf(st), st.Way.Verdict.String()
		}
		t.Rows = append(t.Rows, layout.Row{
			Mark:  layout.Box,
			Cells: []string{fmt.Sprint(st.Number), strings.TrimSpace(st.Kind + " " + st.Unit), mass, way},
		})
	}
	return t
}

// massOf is the mass of what a step moves, with a sign where it is too heavy for a hand.
func massOf(st *changeover.Step) string {
	words := "not known"
	if st.Mass != nil {
		words = text.Kilograms(*st.Mass)
	}
	if st.Heavy {
		words += " !"
	}
	return words
}
