package layout

import (
	"image/color"

	"gridswing/render/page"
)

// black is the only colour of what is laid out: grey type is rastered by a printer and loses
// its edges.
var black = color.RGBA{0, 0, 0, 255}

// grey is for hairlines between rows.
var grey = color.RGBA{150, 150, 150, 255}

// pen puts items on a page.
type pen struct{ items []page.Item }

// words sets one line; at is where its upper left corner is (or its upper middle or right one).
func (p *pen) words(s style, at page.Point, align page.Align, words string) {
	if words == "" {
		return
	}
	at.Y += s.ascent()
	p.items = append(p.items, &page.Text{At: at, Align: align, Face: s.face, Size: s.size, Color: black, Words: words})
}

// lines sets lines of words, one below the other.
func (p *pen) lines(s style, at page.Point, align page.Align, lines []string) {
	for _, l := range lines {
		p.words(s, at, align, l)
		at.Y += s.line
	}
}

// rule draws a level line.
func (p *pen) rule(x0, x1, y, width float64, col color.RGBA) {
	p.items = append(p.items, &page.Path{Lines: [][]page.Point{{{X: x0, Y: y}, {X: x1, Y: y}}}, Stroke: &col, Width: width})
}

// frame draws a rectangle.
func (p *pen) frame(a page.Area, width float64) {
	p.items = append(p.items, &page.Path{
		Lines:  [][]page.Point{{{X: a.X0, Y: a.Y0}, {X: a.X1, Y: a.Y0}, {X: a.X1, Y: a.Y1}, {X: a.X0, Y: a.Y1}}},
		Closed: true, Stroke: &black, Width: width,
	})
}
