package html

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"image/color"
	"image/png"
	"strconv"
	"strings"

	"gridswing/render/page"
	"gridswing/render/page/face"
)

// text writes a line of words.
func (w *writer) text(t *page.Text) {
	words := face.Shown(t.Words)
	if words == "" || t.Size <= 0 {
		return
	}
	w.put("<text ")
	if t.Upward {
		x, y := unit(t.At.X), unit(t.At.Y)
		w.put(`transform="translate(`, x, " ", y, `) rotate(-90)"`)
	} else {
		w.put(`x="`, unit(t.At.X), `" y="`, unit(t.At.Y), `"`)
	}
	w.put(` font-size="`, unit(t.Size*face.Point), `"`)
	class := [...]string{page.Regular: "", page.Bold: "b", page.Mono: "m"}[faceOf(t)]
	switch t.Align {
	case page.Center:
		class += " c"
	case page.Right:
		class += " r"
	}
	if class = strings.TrimSpace(class); class != "" {
		w.put(` class="`, class, `"`)
	}
	if t.Color != (color.RGBA{0, 0, 0, 255}) {
		w.paint("fill", &t.Color)
	}
	w.put(">", escaped(words), "</text>\n")
}

// paint writes a colour and, where it has one, its opacity.
func (w *writer) paint(what string, c *color.RGBA) {
	w.put(" ", what, `="`, fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B), `"`)
	if c.A != 255 {
		w.put(" ", what, `-opacity="`, strconv.FormatFloat(float64(c.A)/255, 'f', 3, 64), `"`)
	}
}

// path writes lines.
func (w *writer) path(l *page.Path) {
	fills, draws := l.Fill != nil, l.Stroke != nil && l.Width > 0
	if !fills && !draws {
		return
	}
	name := ""
	if l.Clip != nil {
		name = w.clip(*l.Clip)
	}
	w.put(`<path d="`)
	for _, line := range l.Lines {
		x, y := "", ""
		for i, q := range line {
			lastX, lastY := x, y
			x, y = unit(q.X), unit(q.Y)
			switch {
			case i == 0:
				w.put("M", x, " ", y)
			case y == lastY:
				w.put("H", x)
			case x == lastX:
				w.put("V", y)
			default:
				w.put("L", x, " ", y)
			}
		}
		if l.Closed && len(line) > 1 || len(line) == 1 {
			w.put("Z")
		}
	}
	w.put(`"`)
	if fills {
		w.paint("fill", l.Fill)
	} else {
		w.put(` fill="none"`)
	}
	if draws {
		w.paint("stroke", l.Stroke)
		w.put(` stroke-width="`, unit(l.Width), `"`)
		w.dashes(l.Dashes())
	}
	if name != "" {
		w.put(` clip-path="url(#`, name, `)"`)
	}
	w.put("/>\n")
}

// dashes writes a pattern, if there is one.
func (w *writer) dashes(pattern []float64) {
	if len(pattern) == 0 {
		return
	}
	w.put(` stroke-dasharray="`)
	for i, d := range pattern {
		if i > 0 {
			w.put(" ")
		}
		w.put(unit(d))
	}
	w.put(`"`)
}

// clip returns the name of a clipping rectangle, which it defines where it comes first.
func (w *writer) clip(a page.Area) string {
	name, there := w.clips[a]
	if !there {
		name = "c" + strconv.Itoa(len(w.clips)+1)
		w.clips[a] = name
		w.put(`<clipPath id="`, name, `">`)
		w.rect(a)
		w.put("</clipPath>\n")
	}
	return name
}

func (w *writer) rect(a page.Area) {
	w.put(`<rect x="`, unit(a.X0), `" y="`, unit(a.Y0), `" width="`, unit(max(0, a.X1-a.X0)), `" height="`, unit(max(0, a.Y1-a.Y0)), `"/>`)
}

// placed is a picture that is in the file already.
type placed struct {
	name string
	area page.Area
}

// image puts a picture on the page; one that is in the file already is taken from there.
func (w *writer) image(m *page.Image) error {
	content := sha256.Sum256(m.PNG)
	first, there := w.images[content]
	if !there {
		if _, err := png.DecodeConfig(bytes.NewReader(m.PNG)); err != nil {
			return fmt.Errorf("picture %q: %w", m.Words, err)
		}
	}
	a := m.Area
	w.put(`<g role="img" aria-label="`, escaped(m.Words), `">`)
	if there {
		b := first.area
		sx, sy := (a.X1-a.X0)/(b.X1-b.X0), (a.Y1-a.Y0)/(b.Y1-b.Y0)
		w.put(`<use href="#`, first.name, `" transform="matrix(`, number(sx), " 0 0 ", number(sy), " ", unit(a.X0-sx*b.X0), " ", unit(a.Y0-sy*b.Y0), `)"/></g>`, "\n")
		return nil
	}
	name := "i" + strconv.Itoa(len(w.images)+1)
	w.images[content] = placed{name, a}
	w.put(`<image id="`, name, `" x="`, unit(a.X0), `" y="`, unit(a.Y0), `" width="`, unit(a.X1-a.X0), `" height="`, unit(a.Y1-a.Y0),
		`" preserveAspectRatio="none" href="data:image/png;base64,`)
	to := base64.NewEncoder(base64.StdEncoding, w)
	to.Write(m.PNG)
	to.Close()
	w.put(`"/></g>`, "\n")
	return nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', 6, 64) }

// link makes an area lead to a page of this document or to a file.
func (w *writer) link(l *page.Link) error {
	number, to, err := l.Leads(len(w.document.Pages))
	if err != nil {
		return err
	}
	says := l.Target
	if number > 0 {
		to, says = fmt.Sprint("#p", number), fmt.Sprint("page ", number)
	}
	w.put(`<a href="`, escaped(to), `" aria-label="`, escaped(says), `">`)
	w.rect(l.Area)
	w.put("</a>\n")
	return nil
}
