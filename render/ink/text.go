package ink

import (
	"image"
	"image/color"
	"sort"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Align says which part of a text stands at the given x.
type Align uint8

// Alignments.
const (
	Left Align = iota
	Center
	Right
)

// Type is a size (pixels per em), a weight and a colour.
type Type struct {
	Size  float64
	Bold  bool
	Color color.RGBA
}

// The Go fonts are part of golang.org/x/image; that they parse is a property
// of that module, not of any input, hence the panic.
var (
	regular = sync.OnceValue(func() *opentype.Font { return mustParse(goregular.TTF) })
	bold    = sync.OnceValue(func() *opentype.Font { return mustParse(gobold.TTF) })
)

func mustParse(ttf []byte) *opentype.Font {
	f, err := opentype.Parse(ttf)
	if err != nil {
		panic(err)
	}
	return f
}

type faceKey struct {
	size float64
	bold bool
}

// A face keeps buffers of its own, so it is used by one goroutine at a time.
var faces struct {
	sync.Mutex
	free map[faceKey][]font.Face
}

func borrow(t Type) (font.Face, func()) {
	key := faceKey{t.Size, t.Bold}
	faces.Lock()
	defer faces.Unlock()
	if faces.free == nil {
		faces.free = map[faceKey][]font.Face{}
	}
	var face font.Face
	if l := faces.free[key]; len(l) > 0 {
		face, faces.free[key] = l[len(l)-1], l[:len(l)-1]
	} else {
		f := regular()
		if t.Bold {
			f = bold()
		}
		face, _ = opentype.NewFace(f, &opentype.FaceOptions{Size: t.Size, DPI: 72, Hinting: font.HintingFull}) // never fails
	}
	return face, func() {
		faces.Lock()
		defer faces.Unlock()
		faces.free[key] = append(faces.free[key], face)
	}
}

// Width returns how wide the text is, in pixels.
func (t Type) Width(s string) float64 {
	face, done := borrow(t)
	defer done()
	return float64(font.MeasureString(face, s)) / 64
}

// PrintedWidth returns how wide the text is where letters are not fitted to pixels, as on paper.
func (t Type) PrintedWidth(s string) float64 {
	f := regular()
	if t.Bold {
		f = bold()
	}
	var buffer sfnt.Buffer
	em, sum := fixed.I(int(f.UnitsPerEm())), fixed.Int26_6(0)
	for _, r := range s {
		i, err := f.GlyphIndex(&buffer, r)
		if err != nil {
			continue
		}
		if wide, err := f.GlyphAdvance(&buffer, i, em, font.HintingNone); err == nil {
			sum += wide
		}
	}
	return t.Size * float64(sum) / float64(em)
}

// Ascent returns the height of capital letters above the base line, in pixels.
func (t Type) Ascent() float64 {
	face, done := borrow(t)
	defer done()
	return float64(face.Metrics().CapHeight) / 64
}

// Text writes the text with its base line at y.
func (c *Canvas) Text(x, y float64, align Align, t Type, s string) {
	face, done := borrow(t)
	defer done()
	switch align {
	case Center:
		x -= float64(font.MeasureString(face, s)) / 128
	case Right:
		x -= float64(font.MeasureString(face, s)) / 64
	}
	d := font.Drawer{Dst: c.RGBA, Src: image.NewUniform(t.Color), Face: face, Dot: snap(x, y)}
	d.DrawString(s)
}

// TextUp writes the text turned a quarter turn, from the bottom to the top,
// centred on y, with its base line at x.
func (c *Canvas) TextUp(x, y float64, t Type, s string) {
	w, h := int(t.Width(s))+4, int(2*t.Size)
	lying := &Canvas{RGBA: image.NewRGBA(image.Rect(0, 0, w, h))}
	base := int(1.5 * t.Size)
	lying.Text(2, float64(base), Left, t, s)
	left, bottom := int(x+0.5)-base, int(y+0.5)+w/2
	for v := range h {
		for u := range w {
			if a := lying.RGBAAt(u, v).A; a != 0 {
				c.Blend(left+v, bottom-u, t.Color, float64(a)/255)
			}
		}
	}
}

// snap puts the base line on a pixel and the first letter's origin too, so that
// type is as crisp as its hinting allows.
func snap(x, y float64) fixed.Point26_6 {
	return fixed.P(whole(x+0.5), whole(y+0.5))
}

// Shorten returns the text, or as much of it as fits the width with an ellipsis.
func Shorten(t Type, s string, width float64) string {
	if t.Width(s) <= width {
		return s
	}
	runes := []rune(s)
	cut := func(n int) string { return string(runes[:n]) + "…" }
	// The more letters, the wider.
	n := sort.Search(len(runes)-1, func(n int) bool { return t.Width(cut(n+1)) > width })
	if n == 0 {
		return ""
	}
	return cut(n)
}

// Wrap returns the text in lines that fit the width, broken between words, and within a
// word only where one alone is wider. It returns at least one line; a line has at least
// one letter, however narrow the width.
func Wrap(t Type, s string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		if line != "" && t.Width(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		runes := []rune(word)
		for t.Width(string(runes)) > width && len(runes) > 1 {
			n := 1
			for n < len(runes)-1 && t.Width(string(runes[:n+1])) <= width {
				n++
			}
			lines = append(lines, string(runes[:n]))
			runes = runes[n:]
		}
		line = string(runes)
	}
	return append(lines, line)
}

// Lines returns the lines, or as many as may be, the last ending in an ellipsis.
func Lines(lines []string, most int) []string {
	if len(lines) <= most {
		return lines
	}
	kept := append([]string(nil), lines[:max(most, 0)]...)
	if len(kept) > 0 {
		kept[len(kept)-1] += " …"
	}
	return kept
}
