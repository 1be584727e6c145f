package page

import (
	"gridswing/render/ink"
)

// pointsPerMM is how many points of type are a mm.
const pointsPerMM = 72 / 25.4

// Text writes the text with its base line at y, hardly wider than on a canvas.
func (p *Plate) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	wide, size := p.letters(&t, s, p.width)
	if wide == 0 {
		return
	}
	before := 0.0 // of it, left of x
	switch align {
	case ink.Center:
		before = wide / 2
	case ink.Right:
		before = wide
	}
	x = max(before, min(x, p.width-wide+before))
	y = max(t.Size, min(y, p.height-below*t.Size))
	p.write(&Text{At: Point{x, y}, Align: Align(align), Size: size, Words: s}, t)
}

// TextUp writes the text upward, centred on y, with its base line at x.
func (p *Plate) TextUp(x, y float64, t ink.Type, s string) {
	wide, size := p.letters(&t, s, p.height)
	if wide == 0 {
		return
	}
	y = max(wide/2, min(y, p.height-wide/2))
	x = max(t.Size, min(x, p.width-below*t.Size))
	p.write(&Text{At: Point{x, y}, Align: Center, Size: size, Words: s, Upward: true}, t)
}

// below is how deep letters reach below the base line, as a part of their size.
const below = 0.22

// wider is how much wider than on pixels a text may be, as a part of its size: less than there is
// at either end of it in any box.
const wider = 0.15

// letters returns how wide a text is on paper, in pixels, and its size in points. Letters that
// are not fitted to pixels are a little wider or narrower than those that are; a text that would
// be too wide for the room it was given is set smaller, so a short one hardly ever is.
func (p *Plate) letters(t *ink.Type, s string, room float64) (wide, size float64) {
	wide = t.PrintedWidth(s)
	if most := min(t.Width(s)+wider*t.Size, room); wide > most && most > 0 {
		t.Size *= most / wide
		wide = most
	}
	return wide, t.Size * pointsPerMM
}

func (p *Plate) write(words *Text, t ink.Type) {
	words.Color = printed(t.Color)
	if t.Bold {
		words.Face = Bold
	}
	p.items = append(p.items, plated{Item: words})
}
