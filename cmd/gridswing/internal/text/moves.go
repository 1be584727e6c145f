package text

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/machine/check"
)

// TooLow words the index moves for which even Z home is too low, the
// worst first: "Z home is too low by 14.00 mm for the index from drill sides to bore deep (T12)".
func TooLow(r *check.Reach) (lines []string) {
	var low []check.Move
	for _, m := range r.Moves {
		if m.Kind == check.IndexMove && m.Short != nil {
			low = append(low, m)
		}
	}
	slices.SortStableFunc(low, func(a, b check.Move) int { return compareDown(*a.Short, *b.Short) })
	for i := range low {
		m := &low[i]
		words := fmt.Sprintf("Z home is too low by %s mm for the index %s (T%d)", Up(*m.Short), Way(m), m.Tool)
		if m.HeightBy != "" {
			words += ": " + m.HeightBy
		}
		lines = append(lines, words)
	}
	return lines
}

// compareDown orders numbers, greatest first.
func compareDown(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}

// Way words between what a move leads.
func Way(m *check.Move) string {
	switch {
	case m.From == "":
		return "to " + m.To
	case m.To == "":
		return "from " + m.From
	}
	return "from " + m.From + " to " + m.To
}

// indexMoves writes how high the tool must be while the rotary axes go to the next
// position.
func (p *page) indexMoves(r *check.Reach) {
	moves := OfKind(r.Moves, check.IndexMove)
	if len(moves) == 0 {
		return
	}
	p.heading("Index moves, and how high the tool must be")
	for _, words := range TooLow(r) {
		p.wrapped("   - ", 5, p.bold(words))
	}
	t := &table{head: []string{"verdict", "index", "tool", "Z at least", "whole range", "what bounds it"}, wraps: 1, indent: 3}
	for i := range moves {
		m := &moves[i]
		by := m.HeightBy
		if m.Reason != "" && m.Verdict != check.Clear {
			by = m.Reason
		}
		line := row{
			cells: []string{p.verdict(m.Verdict), Way(m), fmt.Sprintf("T%d", m.Tool), height(m.Height), height(m.FullHeight)},
			last:  by,
		}
		if p.full || m.Verdict != check.Clear {
			line.below = over(m)
		}
		t.rows = append(t.rows, line)
	}
	p.table(t)
	p.wrapped("", 3, HeightsMean+" Positions of Z, mm.")
}

// HeightsMean says what heights are.
const HeightsMean = "From \"Z at least\" up to Z home every height is proven clear for this move; \"whole range\" is the same while the rotary axes go anywhere they are commanded."

// over words what the axes of a move pass through.
func over(m *check.Move) []string {
	if len(m.Over) == 0 {
		return nil
	}
	return []string{Ranges(m.Over)}
}

// height words a lowest height, rounded up; "none" where not even home is high
// enough.
func height(z *float64) string {
	if z == nil {
		return missing
	}
	return Up(*z)
}

// OfKind returns the moves of a kind.
func OfKind(moves []check.Move, kind string) []check.Move {
	return slices.DeleteFunc(slices.Clone(moves), func(m check.Move) bool { return m.Kind != kind })
}

// otherMoves writes the tool changes or the rapid moves: those that are not clear one by
// one, and how many are.
func (p *page) otherMoves(r *check.Reach, kind, title string) {
	moves := OfKind(r.Moves, kind)
	clear := allClear(moves, func(m *check.Move) check.Verdict { return m.Verdict })
	if len(moves) == 0 || p.told(clear, title, fmt.Sprintf("%d looked at", len(moves))) {
		return
	}
	p.heading(title)
	counts := map[check.Verdict]int{}
	for i := range moves {
		m := &moves[i]
		if counts[m.Verdict]++; m.Verdict == check.Clear {
			continue
		}
		words := fmt.Sprintf("%s: %s, T%d", p.verdict(m.Verdict), Way(m), m.Tool)
		if m.Reason != "" {
			words += ": " + m.Reason
		}
		if len(m.Over) > 0 {
			words += " (" + Ranges(m.Over) + ")"
		}
		p.wrapped("   - ", 5, words)
	}
	p.wrapped("", 3, Tally(counts, len(moves))+".")
}

// Tally words how many have which verdict, worst first: "12 looked at: 1 contact, 11 clear".
func Tally(counts map[check.Verdict]int, all int) string {
	var parts []string
	for _, v := range check.Verdicts() {
		if n := counts[v]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, v))
		}
	}
	return fmt.Sprintf("%d looked at: %s", all, strings.Join(parts, ", "))
}

// magazine writes the tools against what the magazine takes.
func (p *page) magazine(r *check.Reach) {
	if len(r.Magazine) == 0 {
		return
	}
	clear := allClear(r.Magazine, func(m *check.Magazine) check.Verdict { return m.Verdict }) &&
		!slices.ContainsFunc(r.Magazine, func(m check.Magazine) bool { return m.Reason != "" })
	if p.told(clear, "Magazine", "takes "+every(len(r.Magazine), "tool")) {
		return
	}
	p.heading("Magazine")
	t := &table{head: []string{"verdict", "tool", "length, mm", "widest, mm", "mass, kg", "because"}, wraps: 1, indent: 3}
	for i := range r.Magazine {
		m := &r.Magazine[i]
		mass := "not known"
		if m.Mass != nil {
			mass = fixed(math.Ceil(*m.Mass*100-noise)/100, 2)
		}
		t.rows = append(t.rows, row{
			cells: []string{p.verdict(m.Verdict), fmt.Sprintf("T%d %s", m.Tool, m.Name), Up(m.LPR), Up(m.Widest), mass},
			last:  m.Reason,
		})
	}
	p.table(t)
}
