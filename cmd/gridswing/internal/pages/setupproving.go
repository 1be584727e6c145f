package pages

import (
	"slices"
	"strings"

	"gridswing/machine/check"
	"gridswing/render/page/layout"
)

const notModelled = check.NotModelled

// proving sets the caution, and what is ticked and signed before the first part is run: all of it
// together, or the boxes where this page ends and the signatures on the next, with room for remarks.
func (s *sheet) proving() {
	const heading = 14.0 // mm
	boxes := func(f flow) {
		f.Framed(true, strings.Join(s.Report.Caution, " "))
		f.Ticks(s.steps())
	}
	all := func(f flow) {
		boxes(f)
		signed(f, 1)
	}
	left := s.flow.Left() - heading
	s.section("Proving run and sign-off", heading+s.high(boxes))
	if left < s.high(all) && left >= s.high(boxes) {
		s.flow.Keep(func() { boxes(s.flow) })
		s.flow.NewPage("")
		signed(s.flow, 12)
		return
	}
	rest := s.flow.Left() - s.high(all)
	s.flow.Keep(func() {
		boxes(s.flow)
		signed(s.flow, 1+max(0, min(int(rest/remark), 8)))
	})
}

// remark is how high a line for remarks is, mm.
const remark = 8.6

// high is how high what is set is, mm.
func (s *sheet) high(set func(f flow)) float64 {
	return s.flow.Height(func(trial *layout.Flow) { set(flow{trial}) })
}

// signed sets the fields to be signed, and so many lines for remarks.
func signed(f flow, remarks int) {
	blanks := []layout.Blank{
		{Label: "Set up by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Time", Width: 22},
		{Label: "Checked by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Time", Width: 22},
		{Label: "Proving run by", Width: 44}, {Label: "Date", Width: 30}, {Label: "Part accepted", Width: 22},
		{Label: "Remarks", Width: 150},
	}
	for range remarks - 1 {
		blanks = append(blanks, layout.Blank{Width: 168})
	}
	f.Blanks(blanks)
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
	if o := s.Report.Offsets; o != nil && len(o.Centres) > 0 {
		lines = append(lines, "Offsets and rotary centres measured, keyed in and read back by somebody else")
	} else if o != nil {
		lines = append(lines, "Offsets measured, keyed in and read back by somebody else")
	}
	if s.Report.Verdict != check.Clear {
		lines = append(lines, "What is not clear is cured, and the setup checked again: these pages are not for a run")
	}
	lines = append(lines, "Rapid reduced, single block on, hand on feed hold, distance-to-go watched")
	if slices.ContainsFunc(s.Report.Axes, func(a check.Axis) bool { return a.Commanded.Unit == "deg" }) {
		lines = append(lines, "Rotary axes indexed through all positions with the tool at its height, by hand or in a dry run")
	}
	return append(lines,
		"Each operation proven at reduced rapid, then at programmed feed",
		"First part measured, offsets corrected and noted")
}
