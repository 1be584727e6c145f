package text

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"
	"strings"

	"gridswing/machine/check"
	"gridswing/machine/check/choose"
)

// candidateHead are the columns of every list of candidates; after them come, for each
// concern, its verdict and its share.
var candidateHead = []string{
	"rank", "name", "present", "verdict", "reason", "given_up", "share", "has", "demand", "unit", "tightest",
	"height_mm", "moved_mm", "turned_deg", "stick_out_mm", "pins", "parts",
}

func concernHead() (list []string) {
	for _, c := range check.Concerns() {
		list = append(list, c, c+"_share")
	}
	return list
}

// ChoiceValues writes a line for each candidate, in their order.
func ChoiceValues(w io.Writer, c *choose.Choice) error {
	lines := [][]string{append(append([]string{}, candidateHead...), concernHead()...)}
	for i := range c.Candidates {
		lines = append(lines, candidateValues(&c.Candidates[i], rankOf(c.Best, i)))
	}
	return values(w, lines)
}

// TableValues writes a line for each pair, row by row.
func TableValues(w io.Writer, t *choose.Table) error {
	lines := [][]string{append(append([]string{t.Rows.What, t.Columns.What}, candidateHead...), concernHead()...)}
	for r := range t.Rows.Candidates {
		for k := range t.Columns.Candidates {
			i := r*len(t.Columns.Candidates) + k
			lines = append(lines, append([]string{t.Rows.Candidates[r].Name, t.Columns.Candidates[k].Name},
				candidateValues(&t.Cells[i], rankOf(t.Best, i))...))
		}
	}
	return values(w, lines)
}

// HeightValues writes a line for each stretch of heights, upward.
func HeightValues(w io.Writer, h *choose.Heights) error {
	lines := [][]string{{"from_mm", "to_mm", "state", "verdict", "at_mm", "concern", "reason"}}
	for i := range h.Stretches {
		s := &h.Stretches[i]
		at := ""
		if s.At != nil {
			at = value(*s.At)
		}
		lines = append(lines, []string{value(s.From), value(s.To), s.State, s.Verdict.String(), at, s.Concern, s.Reason})
	}
	return values(w, lines)
}

func values(w io.Writer, lines [][]string) error { return csv.NewWriter(w).WriteAll(lines) }

// rankOf is 1 for the best, "" for what has no rank.
func rankOf(best []int, candidate int) string {
	for rank, i := range best {
		if i == candidate {
			return strconv.Itoa(rank + 1)
		}
	}
	return ""
}

func candidateValues(l *choose.Looked, rank string) []string {
	present := "no"
	if l.Present {
		present = "yes"
	}
	line := []string{rank, l.Name, present, l.Verdict.String(), l.Reason, l.GivenUp}
	line = append(line, marginValues(l.Tightest)...)
	line = append(line, positive(l.Height), value(l.Moved), value(l.Turned), positive(l.StickOut), strings.Join(l.Pins, " "), strings.Join(l.Parts, " + "))
	for _, c := range check.Concerns() {
		verdict, share := "", ""
		for i := range l.Judged {
			if j := &l.Judged[i]; j.Concern == c {
				verdict = j.Verdict.String()
				if j.Margin != nil {
					share = value(j.Margin.Share)
				}
			}
		}
		line = append(line, verdict, share)
	}
	return line
}

func marginValues(m *check.Margin) []string {
	if m == nil {
		return make([]string, 5)
	}
	return []string{value(m.Share), value(m.Has), value(m.Demand), m.Unit, m.What}
}

// positive prints a length that is more than 0 where there is one.
func positive(v float64) string {
	if v == 0 {
		return ""
	}
	return value(v)
}

// value prints a number in full, without what float64 arithmetic leaves of a round one.
func value(v float64) string { return strconv.FormatFloat(math.Round(v*1e9)/1e9, 'f', -1, 64) }
