package chart

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"gridswing/render/ink"
)

// stripSheet is a strip of heights being drawn.
type stripSheet struct {
	*sheet
	*HeightStrip
	labels  []stripLabel
	indent  float64   // from the list's left edge to its words
	middles []float64 // pixels; of the labels
	leader  float64   // pixels; from the strip to the labels
	unnamed []float64 // heights that have no room for a name
	entries []stripEntry
	heading heading
}

// stripLabel is a height that has a name: written upward above the strip, with a line.
type stripLabel struct {
	Height
	words         string
	good          bool // it is in a stretch that is clear
	best, present bool
}

// stripEntry is a stretch in the list below the strip.
type stripEntry struct {
	*Stretch
	span  string
	lines []string
}

const (
	stripSide  = 76  // from the edges to the strip, at full size
	stripTall  = 130 // of the strip
	stripBelow = 112 // from the strip to the list
	leaderTall = 46  // from the strip to the names of heights, where they are not spread
	labelStep  = 25  // from one name of a height to the next
	listLine   = 26  // from line to line of the list
	listRow    = 20  // more from one stretch to the next
	spanIndent = 112 // from the list's left edge
)

func newStripSheet(s *HeightStrip) *stripSheet {
	width := cmp.Or(s.Width, 1600)
	unit := unitOf(s.Lettering, float64(width), math.Inf(1))
	d := &stripSheet{HeightStrip: s, sheet: &sheet{unit: unit}}
	h := headingOf(s.Bare, s.Title, s.Caption, float64(width), unit)
	d.heading = h
	d.collect()
	top := h.height() + 22*unit
	d.settle(float64(width))
	for _, l := range d.labels {
		top = max(top, h.height()+22*unit+d.leader+d.letters(&l).Width(l.words))
	}
	below := d.layList(float64(width) - (stripSide+margin)*unit)
	height := top + (stripTall+stripBelow)*unit + below + 30*unit
	d.sheet = newChoiceSheet(h, mostShare, width, int(math.Ceil(height)))
	d.plot = ink.Area{X0: math.Round(stripSide * unit), Y0: math.Round(top), X1: math.Round(float64(width) - stripSide*unit), Y1: math.Round(top + stripTall*unit)}
	return d
}

func (s *HeightStrip) ends() (lo, hi float64) {
	return s.Stretches[0].From, s.Stretches[len(s.Stretches)-1].To
}

// collect lists the heights that have a name, from the least, each once.
func (d *stripSheet) collect() {
	for _, h := range d.Stock {
		d.add(h)
	}
	if d.Present != nil {
		d.add(*d.Present).present = true
	}
	if d.Best != nil {
		d.add(*d.Best).best = true
	}
	lo, hi := d.ends()
	d.labels = slices.DeleteFunc(d.labels, func(l stripLabel) bool { return l.At < lo || l.At > hi })
	for i := range d.labels {
		l := &d.labels[i]
		l.good = slices.ContainsFunc(d.Stretches, func(s Stretch) bool { return s.State == Clear && s.From <= l.At && l.At <= s.To })
		l.words = ink.Shorten(d.letters(l), d.words(l), 760*d.unit)
	}
	d.thin()
	slices.SortStableFunc(d.labels, func(a, b stripLabel) int { return cmp.Compare(a.At, b.At) })
}

// thin leaves heights without a name if there are more than have room above the strip:
// first those that are not clear, last the present and the recommended one.
func (d *stripSheet) thin() {
	worth := func(l stripLabel) int {
		switch {
		case l.best || l.present:
			return 2
		case l.good:
			return 1
		}
		return 0
	}
	slices.SortStableFunc(d.labels, func(a, b stripLabel) int { return cmp.Compare(worth(b), worth(a)) })
	const most = (1600 - 2*margin) / labelStep
	for i := most; i < len(d.labels); i++ {
		d.unnamed = append(d.unnamed, d.labels[i].At)
	}
	d.labels = d.labels[:min(most, len(d.labels))]
}

// settle chooses where the names of heights are on a page so wide, and how far above the
// strip: farther where they are spread more, so that their lines can be followed.
func (d *stripSheet) settle(width float64) {
	u := d.unit
	lo, hi := d.ends()
	var wanted []float64
	for _, l := range d.labels {
		wanted = append(wanted, stripSide*u+(width-2*stripSide*u)*(l.At-lo)/(hi-lo))
	}
	d.middles = spread(wanted, labelStep*u, margin*u, width-margin*u)
	d.leader = leaderTall * u
	for i := range wanted {
		d.leader = max(d.leader, min(0.2*abs(d.middles[i]-wanted[i]), 160*u)+20*u)
	}
}

// add returns the label of a height, a new one if there is none yet.
func (d *stripSheet) add(h Height) *stripLabel {
	for i := range d.labels {
		if l := &d.labels[i]; abs(l.At-h.At) < 1e-6 && (l.Name == h.Name || h.Name == "") {
			return l
		}
	}
	d.labels = append(d.labels, stripLabel{Height: h})
	return &d.labels[len(d.labels)-1]
}

func (d *stripSheet) words(l *stripLabel) string {
	words := number(l.At) + " " + d.Unit
	if l.Name != "" {
		words += "  " + l.Name
	}
	switch {
	case l.best && l.present:
		return "recommended, as now: " + words
	case l.best:
		return "recommended: " + words
	case l.present:
		return "now: " + words
	}
	return words
}

func (d *stripSheet) letters(l *stripLabel) ink.Type {
	t := d.small()
	t.Bold = l.good
	return t
}

// layList writes the list's words into so much room across, and returns how high it is.
func (d *stripSheet) layList(room float64) float64 {
	sum := 0.0
	for i := range d.Stretches {
		e := stripEntry{Stretch: &d.Stretches[i], span: d.span(i)}
		d.indent = max(d.indent, d.strong().Width(e.span)+(spanIndent+32)*d.unit)
		d.entries = append(d.entries, e)
	}
	for i := range d.entries {
		e := &d.entries[i]
		s := e.Stretch
		words := s.State.look().words
		if s.Reason != "" {
			words += ". " + s.Reason
		}
		letters := d.text()
		letters.Bold = s.State == Clear
		e.lines = ink.Wrap(letters, words, room-d.indent)
		sum += (listLine*float64(len(e.lines)) + listRow) * d.unit
	}
	return sum
}

// span prints the ends of a stretch: what is clear is printed no wider than it is, and what
// lies beside it no narrower. What would seem to have no width gets more decimals.
func (d *stripSheet) span(i int) string {
	s := &d.Stretches[i]
	clear := func(k int) bool {
		return k >= 0 && k < len(d.Stretches) && d.Stretches[k].State == Clear
	}
	for decimals := d.Decimals; ; decimals++ {
		from := round(s.From, decimals, inward(clear(i), clear(i-1)))
		to := round(s.To, decimals, -inward(clear(i), clear(i+1)))
		if from < to || decimals >= 6 {
			return decimal(from, decimals) + " to " + decimal(to, decimals) + " " + d.Unit
		}
	}
}

// inward says whether the end of a stretch is rounded into it, 1, because it is clear, or out
// of it, -1, because its neighbour is; 0 is to the nearest.
func inward(clear, neighbour bool) int {
	switch {
	case clear && !neighbour:
		return 1
	case neighbour && !clear:
		return -1
	}
	return 0
}

// round rounds to so many decimals: up, down or, for 0, to the nearest. What is on a step
// to a millionth of it stays there.
func round(v float64, decimals, way int) float64 {
	step := math.Pow(10, float64(decimals))
	n := v * step
	switch {
	case math.Abs(n-math.Round(n)) < 1e-6 || way == 0:
		n = math.Round(n)
	case way > 0:
		n = math.Ceil(n)
	default:
		n = math.Floor(n)
	}
	return n / step
}

// decimal prints a height.
func decimal(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if v < 0 {
		return "−" + s[1:]
	}
	return s
}
