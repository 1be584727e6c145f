package chart

import (
	"bytes"
	"image"
	"image/color"
	"slices"
	"strings"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/proof"
	"gridswing/render/page"
)

// charts returns the charts that are in testdata, by their names there, at full size.
func charts() map[string]drawn {
	all, _ := pictures()
	for name, s := range map[string]*Swing{"field": invented(70, 60), "coarse": invented(14, 9), "tilt": invented(70, 1), "rotary": invented(1, 60)} {
		if s.Rows == 1 {
			s.Cap = 12
		}
		all[name] = s
	}
	for _, name := range []string{"inch-field", "inch-run"} { // their words are longer
		all[name] = inInches()[name]
	}
	short := program()
	short.Cells, short.Marks, short.Cap = short.Cells[100:101], nil, 4
	for name, c := range map[string]drawn{"moment-over": pull(40, true), "moment-within": pull(90, true), "moment-unrated": pull(0, false),
		"run": program(), "run-cut": cut(), "run-short": short} {
		all[name] = c
	}
	for _, c := range all {
		switch c := c.(type) {
		case *Swing:
			c.Width, c.Height = 0, 0
		case *Moment:
			c.Width, c.Height = 0, 0
		case *SeatMap:
			c.Width, c.Height = 0, 0
		case *HeatMap:
			c.Width, c.Height = 0, 0
		case *HeightStrip:
			c.Width = 0
		case *Run:
			c.Width = 0
		}
	}
	return all
}

// What is drawn on a plate and printed looks as it does on pixels, has the same words, and lies
// on the plate.
func TestPrintedCharts(t *testing.T) {
	for name, c := range charts() {
		img, err := c.Draw(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		canvas := ink.NewCanvas(img.Rect.Dx(), img.Rect.Dy(), ink.Paper)
		noted := proof.Noted(canvas)
		if err := c.DrawOn(t.Context(), noted); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(canvas.Pix, img.Pix) {
			t.Errorf("%s: what DrawOn draws on a canvas is not what Draw draws", name)
		}
		d := plated(t, c, img.Rect.Size(), nil)
		proof.Same(t, name, img, proof.Print(t, d, img.Rect.Dx()), proof.ByUs)
		proof.SameWords(t, name, noted.Words, d)
		proof.Within(t, name, d)
	}
}

// plated draws on a plate, 180 mm wide; change, if it is not nil, puts something between.
func plated(t *testing.T, c drawn, size image.Point, change func(ink.Surface) ink.Surface) *page.Drawing {
	t.Helper()
	p := page.NewPlate(float64(size.X), float64(size.Y))
	to := ink.Surface(p)
	if change != nil {
		to = change(p)
	}
	if err := c.DrawOn(t.Context(), to); err != nil {
		t.Fatal(err)
	}
	return p.Drawing(180)
}

// without is a surface that leaves something out.
type without struct {
	ink.Surface
	pattern ink.Pattern // 0: none
	words   string
	shifted string // by 6 pixels
	cut     string // of its last four letters
}

func (w without) PatternIn(outlines [][]ink.Point, p ink.Pattern, col color.RGBA) {
	if p != w.pattern {
		w.Surface.PatternIn(outlines, p, col)
	}
}

func (w without) Text(x, y float64, align ink.Align, t ink.Type, s string) {
	switch s {
	case w.words:
		return
	case w.shifted:
		x += 6
	case w.cut:
		s = s[:len(s)-4]
	}
	w.Surface.Text(x, y, align, t, s)
}

// The comparison of prints with pixels sees what is wrong with one.
func TestWrongPrintsAreSeen(t *testing.T) {
	c := invented(28, 18)
	img, err := c.Draw(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for name, w := range map[string]without{
		"pattern of contact": {pattern: ink.Hatch}, "pattern of what is tight": {pattern: ink.Fine}, "pattern of what is unproven": {pattern: ink.Dots},
		"words of a label": {words: c.Marks[0].Label}, "number of a tick": {words: "30°"},
		"shifted label": {shifted: c.Marks[0].Label}, "shifted tick": {shifted: "30°"}, "label cut off": {cut: c.Marks[0].Label},
	} {
		d := plated(t, c, img.Rect.Size(), func(s ink.Surface) ink.Surface { w.Surface = s; return w })
		if _, _, off := proof.Differ(img, proof.Print(t, d, img.Rect.Dx()), proof.ByUs); off == 0 {
			t.Errorf("%s: nobody sees it", name)
		}
	}
}

// A chart of thousands of cells stays small.
func TestPlatesOfManyCellsAreSmall(t *testing.T) {
	d := plated(t, invented(70, 60), image.Pt(1600, 1200), nil)
	corners := 0
	for _, it := range d.Items {
		if p, is := it.(*page.Path); is {
			for _, line := range p.Lines {
				corners += len(line)
			}
		}
	}
	if corners > 30000 || len(d.Items) > 7000 { // 150 KB as PDF
		t.Errorf("%d items with %d corners", len(d.Items), corners)
	}
}

// asked asks a chart for bare drawing with a unit of a pixel.
func asked(c drawn) drawn {
	switch c := c.(type) {
	case *Swing:
		c.Bare, c.Lettering = true, 1
	case *Moment:
		c.Bare, c.Lettering = true, 1
	case *SeatMap:
		c.Bare, c.Lettering = true, 1
	case *HeatMap:
		c.Bare, c.Lettering = true, 1
	case *HeightStrip:
		c.Bare, c.Lettering = true, 1
	case *Run:
		c.Bare, c.Lettering = true, 1
	}
	return c
}

// Bare charts have neither title nor caption, and on plates of any shape no words that overlap.
func TestBareCharts(t *testing.T) {
	for name, c := range charts() {
		c = asked(c)
		for _, size := range []image.Point{{620, 465}, {704, 528}, {900, 520}, {1440, 810}, {1440, 1080}, {1100, 1500}} {
			d := plated(t, c, size, nil)
			proof.Within(t, name, d)
			var boxes []ink.Area
			var words []string
			scale := float64(size.X) / d.Width // pixels to a mm
			for _, it := range d.Items {
				if w, is := it.(*page.Text); is {
					b := proof.TextBounds(w)
					boxes = append(boxes, ink.Area{X0: b.X0 * scale, Y0: b.Y0 * scale, X1: b.X1 * scale, Y1: b.Y1 * scale}.Shrunk(2))
					words = append(words, w.Words)
				}
			}
			if len(words) == 0 || slices.ContainsFunc(words, func(w string) bool { return strings.Contains(w, "Demanded clearance") }) {
				t.Errorf("%s: the words are %q", name, words)
			}
			for i := range boxes {
				for k := range i {
					if boxes[i].Overlaps(boxes[k]) && words[i] != "now" { // which may cover names of holes
						t.Errorf("%s at %v: %q overlaps %q", name, size, words[i], words[k])
					}
				}
			}
		}
	}
}

func BenchmarkPlate(b *testing.B) {
	s := invented(70, 60)
	for b.Loop() {
		if err := s.DrawOn(b.Context(), page.NewPlate(1440, 1080)); err != nil {
			b.Fatal(err)
		}
	}
}
