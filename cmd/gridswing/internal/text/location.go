package text

import (
	"fmt"

	"gridswing/machine/check"
)

// against is what a location is told against.
var against = map[string]string{check.FromSeat: "table", check.FromTool: "tool"}

// locations writes how far off the parts can be before anything is probed.
func (p *page) locations(s *check.Stack) {
	if len(s.Locations) > 0 {
		p.heading("How far off it can be before it is probed")
		t := &table{head: []string{"verdict", "part", "against", "zero", "corner", "angle", "likely"}, wraps: 1, indent: 3}
		for i := 0; i+1 < len(s.Locations); i += 2 { // zero and corner of one position
			if p.full || Worth(s.Locations, i) {
				t.rows = append(t.rows, p.location(&s.Locations[i], &s.Locations[i+1]))
			}
		}
		p.table(t)
		p.wrapped("", 3, p.aboutLocations())
	}
	p.touches(s)
}

// JudgedMeans says when a location is judged.
const JudgedMeans = "Without unprobed_within of the part nothing is judged here."

// aboutLocations says what the table of locations is.
func (p *page) aboutLocations() string {
	if p.full {
		return "How far its zero and its farthest corner can be off, in mm and degrees, in any direction, at worst: play, tolerances, within and the accuracy of the axes all at their worst and all to one side. \"likely\" is the root of the sum of squares of the same at that corner, for information only: no verdict rests on it. " + JudgedMeans
	}
	return "How far its zero and its farthest corner can be off, mm and degrees, at worst: of several positions that one (--full tells all). No verdict rests on \"likely\", the root of the sum of squares. " + JudgedMeans
}

// Worth reports whether the zero and corner at i are told in short: they are not clear, or no
// others of the same part against the same are farther off.
func Worth(list []check.Location, i int) bool {
	zero, corner := &list[i], &list[i+1]
	if Judged(corner) && (zero.Verdict != check.Clear || corner.Verdict != check.Clear) {
		return true
	}
	for k := 0; k+1 < len(list); k += 2 {
		other := &list[k+1]
		if other.Part == corner.Part && other.To == corner.To && (other.Off > corner.Off || other.Off == corner.Off && k < i) {
			return false
		}
	}
	return true
}

// Judged reports whether anything is asked of a location.
func Judged(corner *check.Location) bool { return corner.Wanted != nil && corner.To == check.FromTool }

func (p *page) location(zero, corner *check.Location) row {
	verdict := "told"
	switch worse := corner.Verdict.Worse(zero.Verdict); {
	case !Judged(corner):
	case worse:
		verdict = p.verdict(corner.Verdict)
	default:
		verdict = p.verdict(zero.Verdict)
	}
	return row{cells: []string{
		verdict, corner.Part, Against(corner), up3(zero.Off), up3(corner.Off), Angle(corner.Angle), up3(corner.Likely),
	}}
}

// Against words against what a location is told: "tool, A 90 C 180".
func Against(corner *check.Location) string {
	words := against[corner.To]
	if len(corner.At) > 0 {
		words += ", " + Rotary(corner.At)
	}
	return words
}

// Found words that a probe finds the surface wherever it can be.
func Found(touches int) string {
	if touches == 1 {
		return "finds the surface"
	}
	return fmt.Sprintf("finds the surface in all %d touches", touches)
}
