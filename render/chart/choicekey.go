package chart

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/render/ink"
)

// heading is the title and the caption of a picture, broken into lines.
type heading struct {
	title, caption []string
	unit           float64
	bare           bool
}

func headingOf(bare bool, title string, caption []string, width, unit float64) heading {
	if bare {
		return heading{unit: unit, bare: true}
	}
	d := &sheet{unit: unit}
	h := heading{title: ink.Wrap(d.title(), title, width-2*margin*unit), unit: unit}
	for _, c := range caption {
		h.caption = append(h.caption, ink.Wrap(d.text(), c, width-2*margin*unit)...)
	}
	return h
}

// height returns where the heading ends.
func (h *heading) height() float64 {
	if h.bare {
		return 0
	}
	return h.unit * (82 + 44*float64(len(h.title)-1) + 30*float64(len(h.caption)))
}

// within cuts the heading to two fifths of a page whose height is given.
func (h *heading) within(height float64) {
	if h.bare {
		return
	}
	h.title = ink.Lines(h.title, 2)
	room := 0.4*height - h.unit*(82+44*float64(len(h.title)-1))
	h.caption = ink.Lines(h.caption, int(room/(30*h.unit)))
}

// newChoiceSheet returns a sheet whose clearances are shares.
func newChoiceSheet(h heading, limit float64, width, height int) *sheet {
	s := &Swing{Demand: 1, Cap: limit, Width: width, Height: height}
	d := &sheet{Swing: s, unit: h.unit, shades: newShades(limit)}
	if h.bare {
		d.edge = bareEdge * d.unit
	}
	return d
}

// draw draws the heading.
func (h *heading) draw(d *sheet) {
	u, y := h.unit, 66*h.unit
	for _, line := range h.title {
		d.page.Text(margin*u, y, ink.Left, d.title(), line)
		y += 44 * u
	}
	y -= 8 * u
	for _, line := range h.caption {
		d.page.Text(margin*u, y, ink.Left, d.text(), line)
		y += 30 * u
	}
}

// hollow is the look of what was not looked at to the end and has nothing against it.
var hollow = look{words: "given up: no better than the best", ground: ink.Paper, pattern: ink.SectionUp, stroke: ink.Faint}

func (c *Choice) hollow() bool { return c.GivenUp && c.State == Clear }

// ground returns the look of a candidate, and the colour of its ground.
func (d *sheet) ground(c *Choice) look {
	if c.hollow() {
		return hollow
	}
	l := *c.State.look()
	if l.shaded {
		l.ground = d.shades.of(c.Share)
	}
	return l
}

// choiceKey explains what is on a picture of candidates, to the right of the plot.
type choiceKey struct {
	*sheet
	choices []*Choice
	width   float64                       // pixels
	missing bool                          // there are cells without a candidate
	empty   string                        // what they mean
	more    float64                       // pixels; of what else is beside the plot
	columns int                           // of the list if it is below the plot; 0: it is beside it
	ring    func(at ink.Point, c *Choice) // draws how one with a rank, or the present one, is marked
}

const (
	barHeight  = 200 // of the scale of shares
	keyStep    = 46  // from one state to the next
	lineStep   = 25  // from line to line of the list
	entryStep  = 16  // more from one candidate of the list to the next
	listIndent = 58
	listGap    = 36 // between columns of the list
)

// states lists those that occur, worst first, and whether any is hollow.
func (k *choiceKey) states() (used []State, hollows bool) {
	for _, s := range byWeight {
		if slices.ContainsFunc(k.choices, func(c *Choice) bool { return c.State.look() == s.look() && !c.hollow() }) {
			used = append(used, s)
		}
	}
	return used, slices.ContainsFunc(k.choices, (*Choice).hollow)
}

// listed returns the candidates of the list: by rank, the present one last.
func (k *choiceKey) listed() []*Choice {
	var list []*Choice
	for _, c := range k.choices {
		if c.Rank > 0 || c.Present {
			list = append(list, c)
		}
	}
	order := func(c *Choice) int {
		if c.Rank == 0 {
			return math.MaxInt
		}
		return c.Rank
	}
	slices.SortStableFunc(list, func(a, b *Choice) int { return cmp.Compare(order(a), order(b)) })
	return list
}

// words returns what the list says of a candidate.
func (k *choiceKey) words(c *Choice) []string {
	name := c.Name
	if c.Present {
		name = "now: " + name
	}
	letters := k.small()
	letters.Bold = c.Rank == 1
	lines := ink.Wrap(letters, name, k.width-listIndent*k.unit)
	if len(lines) > 1 { // both of a pair have lines of their own
		lines = nil
		for one := range strings.SplitSeq(name, "; ") {
			lines = append(lines, ink.Wrap(letters, one, k.width-listIndent*k.unit)...)
		}
	}
	words := "share " + share(c.Share, k.Cap)
	if !c.State.look().shaded || c.hollow() {
		words = k.ground(c).words
	} else if c.State != Clear {
		words += ", " + k.ground(c).words
	}
	return append(lines, ink.Wrap(letters, words, k.width-listIndent*k.unit)...)
}

// height returns how much of the picture the scale and the states take.
func (k *choiceKey) height() float64 {
	used, hollows := k.states()
	h := 44.0 + barHeight + keyStep*float64(1+len(used))
	if hollows {
		h += keyStep
	}
	if k.missing {
		h += keyStep
	}
	return k.unit * (h + 14)
}

// draw draws the scale and the states from y downward; it returns where they end.
func (k *choiceKey) draw(y float64) float64 {
	u := k.unit
	y = k.shadeBar(y, scale{"Smallest share of a demand", barHeight, 5, "1 just meets it"}) + keyStep*u
	used, hollows := k.states()
	x := k.keyLeft()
	entry := func(words string, swatch func(ink.Area)) {
		a := ink.Area{X0: x, Y0: y, X1: x + 44*u, Y1: y + 30*u}
		swatch(a)
		k.page.Frame(a.X0, a.Y0, a.X1, a.Y1, 1.6*u, ink.Text)
		k.page.Text(x+listIndent*u, y+15*u+k.small().Ascent()/2, ink.Left, k.small(), words)
		y += keyStep * u
	}
	for _, s := range used {
		entry(s.look().words, func(a ink.Area) { k.swatch(a, s) })
	}
	if hollows {
		entry(hollow.words, func(a ink.Area) { k.page.Pattern(a.Pixels(), hollow.pattern, hollow.stroke) })
	}
	if k.missing {
		entry(cmp.Or(k.empty, "no such combination"), k.cross)
	}
	return y + 14*u
}

// cross draws a cell without a candidate.
func (d *sheet) cross(a ink.Area) {
	d.page.Line(1.2*d.unit, ink.Faint, ink.Point{X: a.X0, Y: a.Y1}, ink.Point{X: a.X1, Y: a.Y0})
	d.page.Line(1.2*d.unit, ink.Faint, ink.Point{X: a.X0, Y: a.Y0}, ink.Point{X: a.X1, Y: a.Y1})
}

// rows returns how high each row of the list is, so many candidates to a row.
func (k *choiceKey) rows(columns int) (heights []float64, sum float64) {
	for i, c := range k.listed() {
		h := (entryStep + lineStep*float64(len(k.words(c)))) * k.unit
		if i%columns == 0 {
			heights = append(heights, 0)
		}
		last := &heights[len(heights)-1]
		*last = max(*last, h)
	}
	for _, h := range heights {
		sum += h
	}
	return heights, sum
}

// settle puts the list beside the plot or, in columns, below it, whichever makes a picture
// less high, and returns how high all is: of a plot so wide and, with what is written
// below it, so high.
func (k *choiceKey) settle(wide, high float64) float64 {
	columns := max(1, int((wide+listGap*k.unit)/(k.width+listGap*k.unit)))
	key := k.more + k.height()
	_, beside := k.rows(1)
	_, below := k.rows(columns)
	a, b := max(high, key+beside), max(high+below, key)
	if b < a {
		k.columns = columns
	}
	return min(a, b) + 24*k.unit
}

// settleWithin does so on a page where so much is left: below the plot only if the list has
// room there and none beside it.
func (k *choiceKey) settleWithin(wide, high, left float64) {
	columns := max(1, int((wide+listGap*k.unit)/(k.width+listGap*k.unit)))
	_, beside := k.rows(1)
	_, below := k.rows(columns)
	if k.more+k.height()+beside > left && high+below <= left {
		k.columns = columns
	}
}

// explain draws scale, states and list; y is where they begin beside the plot, under is
// where a list begins that is below it.
func (k *choiceKey) explain(y, under float64) {
	y = k.draw(y)
	bottom := float64(k.Height) - 12*k.unit
	if k.columns > 0 {
		k.list(k.plot.X0, under, k.columns, bottom)
		return
	}
	k.list(k.keyLeft(), y, 1, bottom)
}

// list draws the list from (x, y) downward, as far as it fits above bottom.
func (k *choiceKey) list(x, y float64, columns int, bottom float64) {
	u := k.unit
	list := k.listed()
	heights, _ := k.rows(columns)
	for r, h := range heights {
		last := r == len(heights)-1
		if y+h > bottom || !last && y+h+lineStep*u > bottom {
			k.page.Text(x, y+k.small().Ascent(), ink.Left, k.small(), "and "+strconv.Itoa(len(list)-r*columns)+" more")
			return
		}
		for c := range min(columns, len(list)-r*columns) {
			k.entry(x+float64(c)*(k.width+listGap*u), y, list[r*columns+c])
		}
		y += h
	}
}

// entry draws a candidate of the list.
func (k *choiceKey) entry(x, y float64, c *Choice) {
	u := k.unit
	k.ring(ink.Point{X: x + 22*u, Y: y + 6*u}, c)
	letters := k.small()
	letters.Bold = c.Rank == 1
	for _, line := range k.words(c) {
		k.page.Text(x+listIndent*u, y+k.small().Ascent(), ink.Left, letters, line)
		y += lineStep * u
	}
}

// share prints a share, rounded down: what is proven is not said to be more.
func share(v, limit float64) string {
	if v >= limit {
		return number(limit) + " or more"
	}
	return decimal(math.Floor(v*100+1e-9)/100, 2)
}

// number draws a rank, or what an entry of a list is called, on a disc.
func (d *sheet) number(at ink.Point, rank int) {
	u := d.unit
	words := strconv.Itoa(rank)
	letters := ink.Type{Size: 17 * u, Bold: true, Color: ink.Text}
	if rank > 9 {
		letters.Size = 14 * u
	}
	d.page.Disc(at, 11.5*u, ink.Text)
	d.page.Disc(at, 10.2*u, ink.Paper)
	d.page.Text(at.X, at.Y+letters.Ascent()/2, ink.Center, letters, words)
}
