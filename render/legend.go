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
	noteRow          = 26 // of what is not to be seen
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

// keyRows is where the legend stands: at the lower right, in rows to the right of the scale bar,
// or in rows below that.
type keyRows struct {
	rows   [][]key
	left   float64 // pixels; where rows begin. 0: there is one, which ends at the right margin
	beside bool    // the rows are to the right of the scale bar
	below  float64 // pixels; how much of the page is needed below it
}

// mostBeside is how many rows have room beside the scale bar.
const mostBeside = 3

// placeKeys finds the place of the legend, and room for what is not to be seen.
func (d *drawing) placeKeys() keyRows {
	u := d.unit
	left := (scaleLeft + scaleLong + keyRow) * u
	if words := d.along(); words != "" {
		left += d.small().Width(words)
	}
	keys := d.legend()
	if d.noteBeside() && left+d.rowLength(keys) <= float64(d.Width)-margin*u {
		return keyRows{rows: [][]key{keys}, beside: true}
	}
	k := keyRows{left: left, beside: true}
	if !d.noteBeside() {
		k.below = noteRow * u
	}
	k.rows = d.inRows(keys, float64(d.Width)-left-d.edge())
	wide := slices.ContainsFunc(k.rows, func(row []key) bool { return left+d.rowLength(row) > float64(d.Width)-d.edge() })
	if wide || len(k.rows) > mostBeside {
		k.left, k.beside = d.edge(), false
		k.rows = d.inRows(keys, float64(d.Width)-2*d.edge())
		k.below += keyRow * u * float64(len(k.rows))
	}
	return k
}

// rowLength is how long keys beside each other are.
func (d *drawing) rowLength(row []key) float64 {
	length := -keyGap * d.unit
	for _, k := range row {
		length += d.keyLength(k) + keyGap*d.unit
	}
	return length
}

// inRows divides keys into rows that are no longer than there is room, if one alone is not.
func (d *drawing) inRows(keys []key, room float64) (rows [][]key) {
	for _, k := range keys {
		n := len(rows)
		if n == 0 || d.rowLength(append(slices.Clone(rows[n-1]), k)) > room {
			rows = append(rows, nil)
			n++
		}
		rows[n-1] = append(rows[n-1], k)
	}
	return rows
}

// drawLegend draws the legend.
func (d *drawing) drawLegend() {
	u := d.unit
	for i, row := range d.keys.rows {
		x, y := d.keys.left, d.low-86*u
		switch {
		case x == 0:
			x = float64(d.Width) - margin*u - d.rowLength(row)
		case d.keys.beside:
			y = d.low - (keyRow*float64(len(d.keys.rows)-i)+14)*u
		default:
			y = d.low + (keyRow*float64(i)-2)*u
		}
		for _, k := range row {
			k.draw(x, y)
			d.page.Text(x+keyWords*u, y+18*u, ink.Left, d.small(), k.words)
			x += d.keyLength(k) + keyGap*u
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
	right, y, room := float64(d.Width)-margin*u, d.low-28*u, float64(d.Width)-520*u
	if !d.noteBeside() {
		right, y, room = float64(d.Width)-d.edge(), float64(d.Height)-8*u, float64(d.Width)-2*d.edge()
	}
	list := strings.Join(d.silent, ", ")
	words := "Not to be seen or labelled in this view: " + list
	if d.small().Width(words) > room {
		words = "Not seen here: " + list
	}
	d.page.Text(right, y, ink.Right, d.small(), ink.Shorten(d.small(), words, room))
}
