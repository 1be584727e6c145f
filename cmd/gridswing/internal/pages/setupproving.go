package pages

import (
	"strings"

	"gridswing/machine/check"
	"gridswing/render/page/layout"
)

const notModelled = check.NotModelled

// proving sets the caution, and what is ticked and signed before the first part is run.
func (s *sheet) proving() {
	s.section("Proving run and sign-off", 40)
	s.flow.Keep(func() {
		s.flow.Framed(true, strings.Join(s.Report.Caution, "\n"))
		s.flow.Ticks(s.steps())
		s.flow.Blanks([]layout.Blank{
			{Label: "Set up by", Width: 52}, {Label: "Date", Width: 30}, {Label: "Time", Width: 22},
			{Label: "Checked by", Width: 50}, {Label: "Date", Width: 30}, {Label: "Time", Width: 22},
			{Label: "Proving run by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Part accepted", Width: 22},
			{Label: "Remarks", Width: 150},
		})
	})
}

// steps are those of a proving run. That they are done, and in about this order, is common
// practice, no source.
func (s *sheet) steps() []string {
	lines := []string{
		"Setup, revision and hash are those of the traveller or work order",
		"Pins, seats and screws as on these pages, all screws tight",
	}
	if len(s.needs()) > 0 {
		lines = append(lines, "Tools in their places; stick-outs within their windows; lengths and radii measured and keyed in")
	}
	if s.Report.Offsets != nil {
		lines = append(lines, "Offsets and rotary centres measured, keyed in and read back by somebody else")
	}
	if s.Report.Verdict != check.Clear {
		lines = append(lines, "What is not clear is cured, and the setup checked again: these pages are not for a run")
	}
	return append(lines,
		"Rapid reduced, single block on, hand on feed hold, distance-to-go watched",
		"Rotary axes indexed through all positions with the tool at its height, by hand or in a dry run",
		"Each operation proven at reduced rapid, then at programmed feed",
		"First part measured, offsets corrected and noted")
}
