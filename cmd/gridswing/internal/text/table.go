package text

import (
	"slices"
	"strings"
)

// table lays cells out in columns. It has at least one row.
type table struct {
	head   []string // of the cells, and of the last one if rows have it
	wraps  int      // the column that is broken where the page is too narrow
	first  []int    // columns that may be broken to leave it room, down to their longest words
	indent int
	rows   []row
	right  []bool // columns of numbers, which stand at the right
}

// row is a line of a table, and what is to be said of it below.
type row struct {
	cells []string
	// last is a cell behind the others. Where too little room is left for it, it goes
	// below them.
	last string
	// below is written under the row, under its second column.
	below []string
}

// leastLast is the least room, in columns, that a last cell is put into.
const leastLast = 30

// gap is how far columns are apart.
const gap = 2

// table writes a table.
func (p *page) table(t *table) {
	t.findNumbers()
	widths := t.widths(p.look.Width)
	used := t.indent
	for _, w := range widths {
		used += w + gap
	}
	beside := p.look.Width-used >= leastLast && len(t.head) > len(widths)
	if beside {
		p.cells(t, widths, used, t.head)
	} else {
		p.cells(t, widths, used, t.head[:len(widths)])
	}
	for i := range t.rows {
		r := &t.rows[i]
		cells := r.cells
		if beside && r.last != "" {
			cells = append(append([]string{}, cells...), r.last)
		}
		p.cells(t, widths, used, cells)
		under := strings.Repeat(" ", t.indent+widths[0]+gap)
		if !beside && r.last != "" {
			p.wrapped(under, len(under), r.last)
		}
		for _, words := range r.below {
			p.wrapped(under, len(under), words)
		}
	}
}

// findNumbers finds the columns in which nothing but numbers stands, and words
// for the want of one.
func (t *table) findNumbers() {
	t.right = make([]bool, len(t.rows[0].cells))
	for i := range t.right {
		for k := range t.rows {
			if c := t.rows[k].cells[i]; strings.Trim(c, "0123456789.-_") == "" && c != "" {
				t.right[i] = true
			} else if c != "" && c != missing {
				t.right[i] = false
				break
			}
		}
	}
}

// missing stands where there is no number.
const missing = "none"

// widths returns how wide the columns are: as wide as what is in them, but for those that may be
// broken, which leave the others room. Of those that may be broken first, as many are as make
// the table shortest.
func (t *table) widths(page int) (best []int) {
	over, fewest := 0, 0
	for broken := range 1 << len(t.first) {
		widths := t.widthsWith(page, broken)
		o, n := max(0, t.across(widths)-page), t.lines(widths)
		if best == nil || o < over || o == over && n < fewest {
			best, over, fewest = widths, o, n
		}
	}
	return best
}

// widthsWith returns widths with some of the columns that may be broken first, by their bits, as
// narrow as their longest words; what is too wide then is taken off the other one.
func (t *table) widthsWith(page, broken int) []int {
	n := len(t.rows[0].cells)
	widths := make([]int, n)
	for i := range n {
		widths[i] = columns(t.head[i])
		for k := range t.rows {
			widths[i] = max(widths[i], columns(t.rows[k].cells[i]))
		}
		if at := slices.Index(t.first, i); at >= 0 && broken>>at&1 == 1 {
			widths[i] = t.longest(i)
		}
	}
	if over := t.across(widths) - page; over > 0 {
		widths[t.wraps] = max(widths[t.wraps]-over, columns(t.head[t.wraps]), 8)
	}
	return widths
}

// across is how wide the table is.
func (t *table) across(widths []int) int {
	n := t.indent - gap
	for _, w := range widths {
		n += w + gap
	}
	return n
}

// lines counts the lines of the rows.
func (t *table) lines(widths []int) (n int) {
	for k := range t.rows {
		most := 0
		for i, c := range t.rows[k].cells {
			most = max(most, len(breakWords(c, widths[i])))
		}
		n += most
	}
	return n
}

// longest returns how wide the longest word of a column is.
func (t *table) longest(column int) int {
	n := columns(t.head[column])
	for k := range t.rows {
		for word := range strings.SplitSeq(t.rows[k].cells[column], " ") {
			n = max(n, columns(word))
		}
	}
	return n
}

// whole makes one word of several, which is not broken; it is written with blanks.
func whole(words string) string { return strings.ReplaceAll(words, " ", noBreak) }

const noBreak = "\u00a0"

// cells writes one row, broken into as many lines as its cells need.
func (p *page) cells(t *table, widths []int, used int, cells []string) {
	broken := make([][]string, len(cells))
	lines := 0
	for i, c := range cells {
		switch {
		case i == t.wraps || slices.Contains(t.first, i):
			broken[i] = breakWords(c, widths[i])
		case i == len(widths):
			broken[i] = breakWords(c, p.look.Width-used)
		default:
			broken[i] = []string{c}
		}
		lines = max(lines, len(broken[i]))
	}
	starts := []int{t.indent}
	for _, w := range widths {
		starts = append(starts, starts[len(starts)-1]+w+gap)
	}
	for l := range lines {
		line, at := strings.Repeat(" ", t.indent), t.indent
		for i := range cells {
			if l >= len(broken[i]) || broken[i][l] == "" {
				continue
			}
			from, n := starts[i], columns(broken[i][l])
			if i < len(widths) && t.right[i] {
				from += widths[i] - n
			}
			line += strings.Repeat(" ", from-at) + broken[i][l]
			at = from + n
		}
		p.line("%s", strings.ReplaceAll(line, noBreak, " "))
	}
}

// breakWords breaks words into lines of so many columns; a word that is longer stays
// whole.
func breakWords(words string, width int) []string {
	lines := []string{""}
	for word := range strings.SplitSeq(words, " ") {
		if word == "" {
			continue
		}
		last := &lines[len(lines)-1]
		switch {
		case *last == "":
			*last = word
		case columns(*last)+1+columns(word) > width:
			lines = append(lines, word)
		default:
			*last += " " + word
		}
	}
	return lines
}
