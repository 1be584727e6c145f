package proof

import (
	"slices"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/page"
	"gridswing/render/page/face"
)

// Notes is a surface that notes the words written on another one.
type Notes struct {
	ink.Surface
	Words []string
}

// Noted returns a surface that draws on s.
func Noted(s ink.Surface) *Notes { return &Notes{Surface: s} }

// Text writes and notes.
func (n *Notes) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	n.note(s)
	n.Surface.Text(x, y, align, t, s)
}

// TextUp writes and notes.
func (n *Notes) TextUp(x, y float64, t ink.Type, s string) {
	n.note(s)
	n.Surface.TextUp(x, y, t, s)
}

func (n *Notes) note(s string) {
	if s != "" {
		n.Words = append(n.Words, s)
	}
}

// SameWords holds a drawing's words to those that were written, in their order.
func SameWords(t *testing.T, name string, want []string, d *page.Drawing) {
	t.Helper()
	var got []string
	for _, it := range d.Items {
		if words, is := it.(*page.Text); is {
			got = append(got, words.Words)
		}
	}
	if len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("%s: the words are\n%q, want\n%q", name, got, want)
	}
}

// Within holds all items of a drawing to its ground.
func Within(t interface {
	Helper()
	Errorf(format string, args ...any)
}, name string, d *page.Drawing) {
	t.Helper()
	const slack = 1e-6 // mm
	for _, it := range d.Items {
		a := boundsOf(it)
		if !(a.X0 >= -slack && a.Y0 >= -slack && a.X1 <= d.Width+slack && a.Y1 <= d.Height+slack && a.X0 <= a.X1 && a.Y0 <= a.Y1) {
			t.Errorf("%s: %T %+v covers %v of %g x %g mm", name, it, it, a, d.Width, d.Height)
		}
	}
}

// boundsOf returns the box of what is seen of an item.
func boundsOf(it page.Item) page.Area {
	switch it := it.(type) {
	case *page.Image:
		return it.Area
	case *page.Text:
		return TextBounds(it)
	case *page.Path:
		if it.Clip != nil {
			return *it.Clip
		}
		half := 0.0
		if it.Stroke != nil {
			half = it.Width / 2
		}
		first := true
		var a page.Area
		for _, line := range it.Lines {
			for _, q := range line {
				b := page.Area{X0: q.X - half, Y0: q.Y - half, X1: q.X + half, Y1: q.Y + half}
				if first {
					a, first = b, false
				}
				a = page.Area{X0: min(a.X0, b.X0), Y0: min(a.Y0, b.Y0), X1: max(a.X1, b.X1), Y1: max(a.Y1, b.Y1)}
			}
		}
		return a
	}
	return page.Area{X0: 1}
}

// TextBounds returns the box of a line of words, as wide and high as its font says.
func TextBounds(t *page.Text) page.Area {
	mm := t.Size * face.Point
	wide := face.Width(t.Face, t.Size, t.Words)
	from := map[page.Align]float64{page.Left: 0, page.Center: -wide / 2, page.Right: -wide}[t.Align]
	if t.Upward {
		return page.Area{X0: t.At.X - face.Ascent*mm, Y0: t.At.Y - from - wide, X1: t.At.X + face.Descent*mm, Y1: t.At.Y - from}
	}
	return page.Area{X0: t.At.X + from, Y0: t.At.Y - face.Ascent*mm, X1: t.At.X + from + wide, Y1: t.At.Y + face.Descent*mm}
}
