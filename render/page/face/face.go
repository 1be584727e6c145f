// Package face knows the type of printed pages: the fonts that are embedded, how wide words
// are in them, and what is shown for characters that they lack. Layout and both writers ask
// here, so that they agree.
package face

import (
	"slices"
	"sync"

	"gridswing/render/page"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Heights of all faces as parts of the size of type, from their hhea and OS/2 tables: nothing
// reaches higher above the base line than Ascent, nothing deeper below it than Descent; Cap
// is the height of capital letters.
const (
	Ascent  = 0.944
	Descent = 0.211
	Cap     = 0.723
)

// Point is a point of type in mm: 1/72 inch.
const Point = 25.4 / 72

// mapped is how many characters have their widths in a table: all that the fonts have are
// below.
const mapped = 1 << 16

// metrics are the widths of a face's characters, parts of the size; < 0: it has none.
type metrics [mapped]float32

var faces = [...]struct {
	name    string
	ttf     []byte
	metrics func() *metrics
}{
	page.Regular: {"Go", goregular.TTF, sync.OnceValue(func() *metrics { return measured(goregular.TTF) })},
	page.Bold:    {"Go Bold", gobold.TTF, sync.OnceValue(func() *metrics { return measured(gobold.TTF) })},
	page.Mono:    {"Go Mono", gomono.TTF, sync.OnceValue(func() *metrics { return measured(gomono.TTF) })},
}

// measured reads the widths of a font, without hinting. That the fonts parse is a property
// of their module, not of any input, hence the panic.
func measured(ttf []byte) *metrics {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic(err)
	}
	var m metrics
	var buffer sfnt.Buffer
	unit := fixed.I(int(f.UnitsPerEm()))
	for r := range m {
		m[r] = -1
		if i, err := f.GlyphIndex(&buffer, rune(r)); err == nil && i != 0 {
			if wide, err := f.GlyphAdvance(&buffer, i, unit, font.HintingNone); err == nil {
				m[r] = float32(wide) / float32(unit)
			}
		}
	}
	return &m
}

// known returns the face, Regular if there is none such.
func known(f page.Face) page.Face {
	if int(f) >= len(faces) {
		return page.Regular
	}
	return f
}

// Name is the font's name.
func Name(f page.Face) string { return faces[known(f)].name }

// TTF is the font: bytes of the caller's own, since fpdf v0.12.0 writes into those it cuts a font
// from (getMetrics, for characters that share the last width), and documents are written at once.
func TTF(f page.Face) []byte { return slices.Clone(faces[known(f)].ttf) }

// Width returns how wide the words are as Shown, mm, at a size in points. Letters are set
// one after the other, without kerning.
func Width(f page.Face, size float64, words string) float64 {
	m := faces[known(f)].metrics()
	sum := 0.0
	for _, r := range Shown(words) {
		sum += float64(m[r])
	}
	return sum * size * Point
}
