// Package specimen makes documents to test the writers with: all that a page can hold, and
// words of all kinds.
package specimen

import (
	"fmt"
	"strings"

	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// Document is some pages with everything on them.
func Document(format page.Format) *page.Document {
	f := layout.New(layout.Options{
		Format: format,
		Head: func(s *layout.Strip, number, total int) {
			s.Left("Bracket, first side, in the tilting trunnion   rev C")
			s.Right("inputs 4f9a01c7")
		},
		Foot: func(s *layout.Strip, number, total int) {
			s.Left("not clear: contact")
			s.Right(fmt.Sprintf("Page %d of %d", number, total))
			s.Below("Proves nothing about what is not modelled. Run it in the air first, with the hand on the feed override.")
		},
	})
	f.NewPage("Setup")
	f.Title("Bracket, first side", "Mill 700 with tilting trunnion, as of 14 March")
	f.Framed(true, "CONTACT  The stock meets the column's guard at tilt 96 to 104, rotary 180 to 212.")
	facts(f)
	f.Heading("Before it is started")
	f.Ticks([]string{
		"Both pins of the riser are in B2 and H2 of the table, wiped and without burrs; the riser lies flat on all four pads and no light is seen under it.",
		"Jaws are torqued to 60 N m.",
		"The rotary turns by hand through a full turn.",
	})
	f.Heading("Measured at the machine")
	f.Blanks([]layout.Blank{
		{Label: "G54 X", Width: 28}, {Label: "Y", Width: 28}, {Label: "Z", Width: 28}, {Label: "A", Width: 18}, {Label: "C", Width: 18},
		{Label: "Height of the stock over the faceplate, at its four corners", Width: 60},
	})
	f.Blanks([]layout.Blank{{Label: "Set by", Width: 55}, {Label: "on", Width: 30}, {Label: "Checked by", Width: 40}})
	figures(f)
	tools(f)
	strange(f)
	return f.Finish("Bracket, first side (Ø 125 <réglage>)", "pages to test with")
}

func facts(f *layout.Flow) {
	f.Facts(2, []layout.Fact{
		{Name: "Part", Value: "Bracket 11-4070"}, {Name: "Stock", Value: "Block 80 × 60 × 40, aluminium"},
		{Name: "Machine", Value: "Mill 700"}, {Name: "Least clearance", Value: "−0.42 mm", Strong: true},
		{Name: "Swept", Value: "A −30 to 110, C 0 to 360"}, {Name: "File", Value: "shop/brackets/second-batch/op10-first-side-with-riser-and-long-jaws.toml"},
	})
}

// figures sets a line of drawings and a large one.
func figures(f *layout.Flow) {
	f.NewPage("Plan and elevation")
	f.Heading("Where things stand")
	f.Figures([]layout.Figure{
		{Drawing: Plan(), Width: 84, Caption: "The table from above: pins in B2 and H2, clamps in A4 and J4. Columns are letters, rows are numbers."},
		{Drawing: Turned(), Width: 84, Caption: "Heights over the table, mm."},
	})
	f.Figures([]layout.Figure{{Drawing: Plan(), Width: 50, Caption: "Left"}, {Drawing: Turned(), Width: 50, Caption: "Middle"}, {Drawing: Plan(), Width: 50, Caption: "Right"}})
	f.Figure(layout.Figure{Drawing: Photograph(), Width: 120, Caption: "A picture of pixels, and below it the same one again."})
	f.Figure(layout.Figure{Drawing: Photograph(), Width: 40, Caption: "The same"})
	f.Figures([]layout.Figure{{Drawing: Chips(), Width: 90, Caption: "Pictures of one size"}})
	f.Link("All setups of the binder", "../binder (all).pdf")
	f.Link("Back to the first page", "#1")
}

// tools sets a table that takes more than a page.
func tools(f *layout.Flow) {
	f.NewPage("Tools")
	f.Heading("Tools")
	t := layout.Table{
		Columns: []layout.Column{
			{Head: "T", Align: page.Right}, {Head: "Tool"}, {Head: "Ø mm", Align: page.Right}, {Head: "Stick-out, from mm", Align: page.Right},
			{Head: "to mm", Align: page.Right}, {Head: "Verdict"}, {Head: "Measured mm", Fill: true, Least: 22},
		},
		Note: "A stick-out is measured from the gauge line. What is blank is filled in by hand.",
	}
	marks := []layout.Mark{layout.Square, layout.Triangle, layout.Half, layout.Dots, layout.Eye, layout.Ring, layout.Ring}
	words := []string{"contact", "over-travel", "within-play", "unproven", "tight", "clear", "clear"}
	for i := range 60 {
		if i%20 == 0 {
			t.Rows = append(t.Rows, layout.Row{Group: true, Cells: []string{[]string{"End mills", "Drills and taps", "Everything else"}[i/20]}})
		}
		name := fmt.Sprintf("End mill %d, four flutes", 3+i%17)
		if i%7 == 3 {
			name = "Long-reach ball-nose mill with reduced neck in the slim shrink chuck, for the ribs of pocket 3 only"
		}
		if i%13 == 5 {
			name = "T" + strings.Repeat("ENDMILL_", 7) + ".toml"
		}
		t.Rows = append(t.Rows, layout.Row{
			Mark: marks[i%7], Strong: i%7 == 0,
			Cells: []string{fmt.Sprint(i + 1), name, fmt.Sprintf("%.2f", 3+float64(i%17)), fmt.Sprintf("%.1f", 40+float64(i)), fmt.Sprintf("%.1f", 140+float64(i)), words[i%7]},
		})
	}
	f.Table(t)
	f.Subheading("Offsets to key in")
	f.Table(layout.Table{
		Columns: []layout.Column{{Head: "Offset"}, {Head: "X", Align: page.Right}, {Head: "Y", Align: page.Right}, {Head: "Z", Align: page.Right}},
		Rows:    []layout.Row{{Cells: []string{"G54", "−1.250", "200.000", "0.375"}}, {Cells: []string{"G55", "1.250", "−20.000", "−1200.375"}}},
	})
}

// Strange are words with characters that need care.
var Strange = []string{
	`<script>alert("no")</script> & 'quotes' &amp; ]]> --`,
	"brackets (and) \\ backslash \\(",
	"control \x00 \x07 \x1b \u0085 characters",
	"\u2300 125, 30\u00b0, \u00b10.01, \u2264 2, \u2212 3, \u00b5m, \u03a9, \u0416\u0434, \u00df, \u0142",
	"re\u0301glage, \u6f22\u5b57, \U0001f600, \xff\xfe",
	"\u202eturned round",
}

// strange sets a page of them.
func strange(f *layout.Flow) {
	f.NewPage("Signs & <characters>")
	f.Heading("Signs")
	f.Bullets(Strange)
	for _, s := range Strange {
		f.Framed(false, s)
		f.Small(s)
	}
}

// Tables is a document of so many pages of tables, or some less, to measure with.
func Tables(format page.Format, pages int) *page.Document {
	f := layout.New(layout.Options{
		Format: format,
		Head:   func(s *layout.Strip, number, total int) { s.Left("Tools of all kinds") },
		Foot:   func(s *layout.Strip, number, total int) { s.Right(fmt.Sprintf("Page %d of %d", number, total)) },
	})
	f.Heading("Tools")
	rows := pages * 46 // as many as go on a page
	t := layout.Table{Columns: []layout.Column{{Head: "T", Align: page.Right}, {Head: "Tool"}, {Head: "Ø mm", Align: page.Right}, {Head: "Where"}, {Head: "Clearance mm", Align: page.Right}}}
	for i := range rows {
		t.Rows = append(t.Rows, layout.Row{Mark: layout.Mark(1 + i%6), Cells: []string{
			fmt.Sprint(i), fmt.Sprintf("End mill %d, four flutes", i%40), fmt.Sprintf("%.2f", float64(i%40)/2), "Tilt 90 to 94.5, rotary 12 to 13", fmt.Sprintf("%.3f", float64(i)/7),
		}})
	}
	f.Table(t)
	return f.Finish("Tools", "")
}
