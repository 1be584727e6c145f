package layout

import "gridswing/render/page"

// Flow is pages being set.
type Flow struct {
	options Options
}

// New returns a flow without pages; the first thing set on it begins the first page.
func New(o Options) *Flow { return &Flow{options: o} }

// NewPage begins a page. The name, if any, goes to the table of contents.
func (f *Flow) NewPage(name string) {}

// Title sets a title, large, and what stands below it.
func (f *Flow) Title(words, below string) {}

// Heading begins a section; it stays with what follows.
func (f *Flow) Heading(words string) {}

// Subheading begins a part of a section; it stays with what follows.
func (f *Flow) Subheading(words string) {}

// Text sets a paragraph.
func (f *Flow) Text(words string) {}

// Strong sets a paragraph in bold.
func (f *Flow) Strong(words string) {}

// Small sets a paragraph in small type.
func (f *Flow) Small(words string) {}

// Bullets sets a list.
func (f *Flow) Bullets(lines []string) {}

// Ticks sets a list with boxes to tick in front of its lines.
func (f *Flow) Ticks(lines []string) {}

// Facts sets names and what belongs to them, in so many columns, across.
func (f *Flow) Facts(columns int, facts []Fact) {}

// Table sets a table. Its head is repeated on each page; a row stays whole unless it is
// higher than a page.
func (f *Flow) Table(t Table) {}

// Framed sets words in a frame; a heavy one for what must not be overlooked.
func (f *Flow) Framed(heavy bool, words string) {}

// Blanks sets fields to fill in by hand, as many per line as fit.
func (f *Flow) Blanks(blanks []Blank) {}

// Figure sets a figure, centred.
func (f *Flow) Figure(fig Figure) {}

// Figures sets figures side by side, as many per line as fit at their widths.
func (f *Flow) Figures(figs []Figure) {}

// Keep sets all that block sets on one page, if a page is high enough for it.
func (f *Flow) Keep(block func()) { block() }

// Space leaves room, except at the top of a page.
func (f *Flow) Space(mm float64) {}

// Left returns how much of the page is left, mm.
func (f *Flow) Left() float64 { return 0 }

// Link sets a line of words that leads to a file or, with "#3", to a page.
func (f *Flow) Link(words, target string) {}

// Finish returns the pages.
func (f *Flow) Finish(title, subject string) *page.Document {
	return &page.Document{Title: title, Subject: subject, Format: f.options.Format}
}
