package layout

import (
	"slices"

	"gridswing/render/page"
)

// Of a page, mm. The left margin leaves room for the holes of a binder, whose centres are
// 12 mm from the edge (ISO 838).
const (
	marginLeft  = 20.0
	marginRight = 14.0
	bodyTop     = 20.0
	bodyBottom  = 20.0 // from the lower edge
)

// piece is what is set whole.
type piece struct {
	height float64 // mm
	before float64 // room above it, mm; not at the top of a page
	sticky bool    // it stays on one page with the piece that follows
	head   []piece // set above it once more where it comes to the top of a page
	draw   func(p *pen, top float64)
}

// Flow is pages being set.
type Flow struct {
	options Options
	pages   []*page.Page
	pens    []*pen
	y       float64 // where the next piece begins
	gap     float64 // room wanted above it
	waiting []piece // sticky ones, until it is known what follows
	keeping int     // how many Keeps deep
	kept    []piece
}

// New returns a flow without pages; the first thing set on it begins the first page.
func New(o Options) *Flow { return &Flow{options: o} }

// width is how wide the body of a page is.
func (f *Flow) width() float64 { return f.options.Format.Width - marginLeft - marginRight }

// bottom is where the body ends.
func (f *Flow) bottom() float64 { return f.options.Format.Height - bodyBottom }

// height is how high the body is.
func (f *Flow) height() float64 { return f.bottom() - bodyTop }

// NewPage begins a page. The name, if any, goes to the table of contents.
func (f *Flow) NewPage(name string) {
	f.settle()
	f.gap = 0
	if len(f.pages) > 0 && f.atTop() && f.pages[len(f.pages)-1].Name == "" {
		f.pages[len(f.pages)-1].Name = name
		return
	}
	f.turn(name)
}

// turn begins a page.
func (f *Flow) turn(name string) {
	f.pages = append(f.pages, &page.Page{Name: name})
	f.pens = append(f.pens, &pen{})
	f.y = bodyTop
}

// atTop reports whether nothing is on the page yet.
func (f *Flow) atTop() bool { return f.y == bodyTop }

// settle sets what waits for what follows or is kept together.
func (f *Flow) settle() {
	kept := f.kept
	f.kept = nil
	for _, p := range kept {
		f.queue(p)
	}
	f.flush()
}

// put sets pieces.
func (f *Flow) put(pieces ...piece) {
	for _, p := range pieces {
		p.before = max(p.before, f.gap)
		f.gap = 0
		if f.keeping > 0 {
			f.kept = append(f.kept, p)
		} else {
			f.queue(p)
		}
	}
}

// queue sets a piece, or lets it wait for the one it stays with.
func (f *Flow) queue(p piece) {
	f.waiting = append(f.waiting, p)
	if !p.sticky {
		f.flush()
	}
}

// flush sets what waits, on one page if it is high enough.
func (f *Flow) flush() {
	run := f.waiting
	f.waiting = nil
	if len(run) == 0 {
		return
	}
	if len(f.pages) == 0 {
		f.turn("")
	}
	if !f.atTop() && f.y+tall(run) > f.bottom()+hair {
		f.turn("")
	}
	for _, p := range run {
		f.place(p)
	}
}

// place sets a piece where the page goes on, or on the next one.
func (f *Flow) place(p piece) {
	if !f.atTop() && f.y+p.before+p.height > f.bottom()+hair {
		f.turn("")
	}
	if f.atTop() {
		for _, h := range p.head {
			f.place(h)
		}
	}
	if !f.atTop() {
		f.y += p.before
	}
	p.draw(f.pens[len(f.pens)-1], f.y)
	f.y += p.height
}

// tall is how high pieces are together.
func tall(pieces []piece) float64 {
	sum := 0.0
	for _, p := range pieces {
		sum += p.before + p.height
	}
	return sum
}

// Keep sets all that block sets on one page, if a page is high enough for it.
func (f *Flow) Keep(block func()) {
	f.keeping++
	block()
	if f.keeping--; f.keeping > 0 {
		return
	}
	kept := f.kept
	f.kept = nil
	run := append(slices.Clone(f.waiting), kept...)
	whole := len(run) > 0 && tall(run)-run[0].before <= f.height()
	for i, p := range kept {
		if whole {
			p.sticky = i < len(kept)-1
		}
		f.queue(p)
	}
}

// Space leaves room, except at the top of a page.
func (f *Flow) Space(mm float64) { f.gap = max(f.gap, mm) }

// Left returns how much of the page is left, mm.
func (f *Flow) Left() float64 {
	if len(f.pages) == 0 {
		return max(0, f.height()-tall(f.waiting)-tall(f.kept)-f.gap)
	}
	return max(0, f.bottom()-f.y-tall(f.waiting)-tall(f.kept)-f.gap)
}

// Height returns how high is what block sets, mm: it is set once on pages that count for
// nothing. What does not go on one page is as high as a page.
func (f *Flow) Height(block func(trial *Flow)) float64 {
	trial := New(Options{Format: f.options.Format})
	block(trial)
	trial.settle()
	switch len(trial.pages) {
	case 0:
		return 0
	case 1:
		return trial.y - bodyTop
	}
	return f.height()
}

// Finish returns the pages.
func (f *Flow) Finish(title, subject string) *page.Document {
	f.settle()
	if len(f.pages) == 0 {
		f.turn("")
	}
	for i, p := range f.pages {
		p.Items = f.strips(f.pens[i].items, i+1)
	}
	return &page.Document{Title: title, Subject: subject, Format: f.options.Format, Pages: f.pages}
}
