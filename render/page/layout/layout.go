// Package layout sets words, tables and figures on pages, one below the other, and begins a
// new page where one is full. Start with New; Finish returns the pages.
//
// Type is measured with the very fonts that the writers embed (package face), so what fits
// here fits there. Nothing is clipped and nothing overlaps, however long a name is: words
// wrap, and one that is wider than its column is broken.
//
// Lengths are mm.
package layout

import "gridswing/render/page"

// Options say what all pages have in common.
type Options struct {
	Format page.Format
	// Head and Foot fill the line at the top and at the bottom of a page; number counts from
	// 1. nil: no such line.
	Head, Foot func(s *Strip, number, total int)
}

// Strip is the line at the top or the bottom of a page. What is too long for its share is
// shortened with an ellipsis.
type Strip struct {
	left, right, below string
}

// Left sets what stands at the left.
func (s *Strip) Left(words string) { s.left = words }

// Right sets what stands at the right.
func (s *Strip) Right(words string) { s.right = words }

// Below sets a second line, over the whole width.
func (s *Strip) Below(words string) { s.below = words }

// Fact is a name and what belongs to it.
type Fact struct {
	Name, Value string
	Strong      bool // the value in bold
}

// Column is a column of a table.
type Column struct {
	Head  string
	Align page.Align
	// Least and Most bound its width, mm, 0: free. Where a table is wider than the page, the
	// widest columns give way first: to Least or their longest word, and if that is not enough
	// by breaking long names; numbers and words of usual length are never broken.
	Least, Most float64
	Fill        bool // blank, to be filled in by hand: ruled
}

// Row is a row of a table. Cells that are missing at its end are empty.
type Row struct {
	Cells  []string
	Strong bool // in bold
	Mark   Mark // drawn in front of it
	Group  bool // a heading across the table: its first cell
	// Link is where the row leads, as page.Link.Target has it; "": nowhere. A reader of the
	// file can follow it, on paper it is not to be seen.
	Link string
}

// Table is what Flow.Table sets.
type Table struct {
	Columns []Column
	Rows    []Row
	Note    string // small, below the table
}

// Blank is a field to fill in by hand.
type Blank struct {
	Label string
	Width float64 // of the field without its label, mm
}

// Figure is a drawing with its caption.
type Figure struct {
	Drawing       *page.Drawing
	Width, Height float64 // at most, mm; 0: as the page allows
	Caption       string
}

// Mark is a small shape in front of a row. They are told apart by shape and by how much of
// them is filled, so also in black and white.
type Mark uint8

// The marks, the heaviest first.
const (
	NoMark   Mark = iota
	Square        // filled
	Triangle      // filled, its point up
	Half          // a ring, its lower half filled
	Dots          // a ring of dots
	Eye           // a ring with a dot in it
	Ring          // open
	Box           // open and square, to be ticked
)
