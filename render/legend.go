package render

import (
	"slices"
	"strings"

	"gridswing/render/ink"
)

// key explains something that the picture shows.
type key struct {
	words string
	draw  func(x, y float64) // a piece of it, keyWide wide and keyHigh high
}

// Sizes of the legend and of what is beside it, in pixels at full size.
const (
	keyWide, keyHigh = 44, 24
	keyWords         = 54 // from the left of a key to its words
	keyGap           = 26 // from the words of one to the next
	keyRow           = 36 // from row to row
	scaleLeft        = 210
	scaleLong        = 230 // at most
	leastNote        = 300 // of what is not to be seen, beside the scale bar
)

// legend lists what the picture uses: the verdicts, the worst first, and the others.
func (d *drawing) legend() []key {
	u := d.unit
	var keys []key
	used := [Contact + 1]bool{}
	for i := range d.Items {
		used[min(d.Items[i].Emphasis, Contact)] = true
	}
	for _, e := range append(slices.Clone(worstFirst), Moved, Swept, Ghost) {
		if used[e] {
			keys = append(keys, key{e.look().words, func(x, y float64) {
				d.swatch(d.page, ink.Area{X0: x, Y0: y, X1: x + keyWide*u, Y1: y + keyHigh*u}, e, e.look().pattern)
			}})
		}
	}
	if d.Close != nil || d.Plane != nil {
		keys = append(keys, key{"cut face", func(x, y float64) { d.cutSwatch(x, y) }})
		if used[Contact] {
			keys = append(keys, key{"overlap in the cut", func(x, y float64) { d.page.Fill(x, y, x+keyWide*u, y+keyHigh*u, d.overlap()) }})
		}
	}
	return keys
}

func (d *drawing) keyLength(k key) float64 { return keyWords*d.unit + d.small().Width(k.words) }

// edge is how far from the left and right edges of the page nothing is.
func (d *drawing) edge() float64 {
	if d.Bare {
		return 8 * d.unit
	}
	return margin * d.unit
}

// legendRows returns the legend in rows, and how many rows of the page are below the scale bar:
// none if all has room beside it, and one is for what is not to be seen if that has none there.
func (d *drawing) legendRows() (rows [][]key, below int) {
	u := d.unit
	left := (scaleLeft + scaleLong + keyRow) * u
	if words := d.along(); words != "" {
		left += d.small().Width(words)
	}
	keys, length := d.legend(), 0.0
	for _, k := range keys {
		length += d.keyLength(k) + keyGap*u
	}
	if d.noteBeside() && left+length-keyGap*u <= float64(d.Width)-margin*u {
		return [][]key{keys}, 0
	}
	x := 0.0
	for _, k := range keys {
		if x == 0 || x+d.keyLength(k) > float64(d.Width)-d.edge() {
			rows, x = append(rows, nil), d.edge()
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], k)
		x += d.keyLength(k) + keyGap*u
	}
	below = len(rows)
	if !d.noteBeside() {
		below++
	}
	return rows, below
}

// drawLegend draws the legend: at the lower right, or in rows below the scale bar.
func (d *drawing) drawLegend() {
	u := d.unit
	at := func(x, y float64, k key) {
		k.draw(x, y)
		d.page.Text(x+keyWords*u, y+18*u, ink.Left, d.small(), k.words)
	}
	for i, row := range d.keys {
		x, y := d.edge(), d.low+(keyRow*float64(i)-2)*u
		if d.rows > 0 {
			for _, k := range row {
				at(x, y, k)
				x += d.keyLength(k) + keyGap*u
			}
			continue
		}
		x, y = float64(d.Width)-margin*u, d.low-86*u
		for _, k := range slices.Backward(row) {
			x -= d.keyLength(k)
			at(x, y, k)
			x -= keyGap * u
		}
	}
}

// noteBeside reports whether there is room beside the scale bar for what is not to be seen.
func (d *drawing) noteBeside() bool { return float64(d.Width)-520*d.unit > leastNote*d.unit }

// drawSilent says what is neither to be seen nor labelled.
func (d *drawing) drawSilent() {
	if len(d.silent) == 0 {
		return
	}
	u := d.unit
	words := "Not to be seen or labelled in this view: " + strings.Join(d.silent, ", ")
	right, y, room := float64(d.Width)-margin*u, d.low-28*u, float64(d.Width)-520*u
	if !d.noteBeside() {
		right, y, room = float64(d.Width)-d.edge(), float64(d.Height)-20*u, float64(d.Width)-2*d.edge()
	}
	d.page.Text(right, y, ink.Right, d.small(), ink.Shorten(d.small(), words, room))
}
