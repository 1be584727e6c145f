package layout

import (
	"slices"
	"strings"
)

// room is what the columns of a table have together, without the gaps between them.
func (f *Flow) room(t *Table, columns int) float64 {
	room := f.width() - columnGap*float64(columns-1)
	if marked(t) {
		room -= markRoom
	}
	return room
}

// extent is how wide a column wants to be and may be, mm.
type extent struct {
	whole   float64 // nothing wrapped, within Least and Most
	natural float64 // no cell wrapped, but the head in two lines or so
	word    float64 // no word broken, not below Least
	narrow  float64 // no word broken but long names, and room for some words: it is not made narrower
	letter  float64 // the widest letter
}

// extents measures all columns.
func extents(t *Table) []extent {
	all := make([]extent, len(t.Columns))
	bold := cellStyle.bold()
	for i, c := range t.Columns {
		e := &all[i]
		e.word, e.letter = bold.longestWord(c.Head)
		e.natural = max(e.word, 0.6*bold.width(c.Head))
		for k := range t.Rows {
			r := &t.Rows[k]
			if r.Group || i >= len(r.Cells) || r.Cells[i] == "" {
				continue
			}
			s := cellStyle
			if r.Strong {
				s = bold
			}
			word, letter := s.longestWord(r.Cells[i])
			e.word, e.letter = max(e.word, word), max(e.letter, letter)
			for line := range strings.SplitSeq(r.Cells[i], "\n") {
				e.natural = max(e.natural, s.width(line))
			}
		}
		e.bound(c)
	}
	return all
}

// bound applies what the column says about its width.
func (e *extent) bound(c Column) {
	const (
		least = 4.0  // mm: a column of less is not read
		text  = 20.0 // mm: words in a column of less are a ladder
		long  = 30.0 // mm: longer words are names; what is shorter, such as numbers, is not broken
	)
	e.letter = max(e.letter, least) + hair
	e.whole = max(e.natural, cellStyle.bold().width(c.Head))
	for _, w := range []*float64{&e.whole, &e.natural} {
		if c.Fill {
			*w = max(*w, 22)
		}
		if c.Most > 0 {
			*w = min(*w, c.Most)
		}
		*w = max(*w, c.Least, e.letter)
	}
	e.narrow = min(max(min(e.word, long), text, e.letter), e.natural)
	e.word = min(max(e.word, c.Least, e.letter), e.natural)
}

// widths shares the width of a page among columns: what they want, or else with wrapped heads,
// or else the widest are lowered, without breaking words if that will do.
func (f *Flow) widths(t *Table, all []extent, columns []int) []float64 {
	room := f.room(t, len(columns))
	n := len(columns)
	whole, natural, words, narrow := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	wanted, unbroken := 0.0, 0.0
	for k, i := range columns {
		e := &all[i]
		whole[k], natural[k], words[k], narrow[k] = e.whole, e.natural, e.word, e.narrow
		wanted, unbroken = wanted+e.whole, unbroken+e.word
	}
	switch {
	case wanted <= room:
		return whole
	case unbroken <= room:
		return level(natural, words, room)
	}
	return level(natural, narrow, room) // they fit so: parts has seen to it
}

// spread is what is added to each gap between columns, so that tables end where the page's
// words do: but no more than lets the eye follow a row.
func (f *Flow) spread(t *Table, wide []float64) float64 {
	const most = 7.6
	left := f.room(t, len(wide))
	for _, w := range wide {
		left -= w
	}
	return min(max(left, 0)/float64(max(len(wide)-1, 1)), most)
}

// parts parts the columns so that each part fits a page, at the narrowest; all but the first
// begin with the table's first column once more.
func (f *Flow) parts(t *Table, all []extent) [][]int {
	var parts [][]int
	var part []int
	sum := 0.0
	for i := range t.Columns {
		if len(part) > 1 && sum+all[i].narrow > f.room(t, len(part)+1) {
			parts = append(parts, part)
			part, sum = []int{0}, all[0].narrow
		}
		part = append(part, i)
		sum += all[i].narrow
	}
	return append(parts, slices.Clip(part))
}
