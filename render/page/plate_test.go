package page_test

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"testing"

	"gridswing/render/ink"
	"gridswing/render/internal/proof"
	"gridswing/render/page"

	"pgregory.net/rapid"
)

// blob draws an outline round a point that does not cross itself.
func blob(t *rapid.T, name string) []ink.Point {
	x, y := rapid.Float64Range(0, 300).Draw(t, name+" x"), rapid.Float64Range(0, 200).Draw(t, name+" y")
	n := rapid.IntRange(3, 12).Draw(t, name+" corners")
	var outline []ink.Point
	for i := range n {
		r := rapid.Float64Range(1, 120).Draw(t, fmt.Sprint(name, i))
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		outline = append(outline, ink.Point{X: x + r*cos, Y: y + r*sin})
	}
	return outline
}

// A pattern covers of any outline on a plate what it covers on pixels.
func TestPatternsAreThoseOfPixels(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		pattern := ink.Pattern(rapid.IntRange(int(ink.Hatch), int(ink.SectionDown)).Draw(rt, "pattern"))
		if rapid.Bool().Draw(rt, "halved") {
			pattern = pattern.Halved()
		}
		outline := blob(rt, "outline")
		onPixels, onPlate := ink.NewCanvas(300, 200, color.RGBA{255, 255, 255, 255}), page.NewPlate(300, 200)
		for _, s := range []ink.Surface{onPixels, onPlate} {
			s.PatternIn([][]ink.Point{outline}, pattern, ink.Text)
		}
		d := onPlate.Drawing(300)
		proof.Within(rt, "pattern", d)
		if worst, at, off := proof.Differ(onPixels.RGBA, proof.Print(t, d, 300), proof.ByUs); off > 0 {
			rt.Errorf("pattern %d in %v differs by %.1f at %v", pattern, outline, worst, at)
		}
	})
}

// Areas that adjoin have one pattern without a seam: all of it is as in their union.
func TestPatternsOfNeighboursAreOne(t *testing.T) {
	whole := ink.Area{X0: 13.3, Y0: 20.7, X1: 250.1, Y1: 160.2}
	for p := ink.Hatch; p <= ink.SectionDown; p++ {
		one, many := page.NewPlate(300, 200), page.NewPlate(300, 200)
		one.PatternIn([][]ink.Point{whole.Outline()}, p, ink.Text)
		var cells [][]ink.Point
		for y := range 5 {
			for x := range 7 {
				at := func(x, y int) (float64, float64) {
					return whole.X0 + whole.Width()*float64(x)/7, whole.Y0 + whole.Height()*float64(y)/5
				}
				c := ink.Area{}
				c.X0, c.Y0 = at(x, y)
				c.X1, c.Y1 = at(x+1, y+1)
				cells = append(cells, c.Outline())
			}
		}
		many.PatternIn(cells, p, ink.Text)
		a, b := one.Drawing(300), many.Drawing(300)
		if len(a.Items) != len(b.Items) {
			t.Errorf("pattern %d: %d items of the whole, %d of cells", p, len(a.Items), len(b.Items))
			continue
		}
		for i := range a.Items {
			if n, m := len(a.Items[i].(*page.Path).Lines), len(b.Items[i].(*page.Path).Lines); m > n+n/10+2 {
				t.Errorf("pattern %d: %d lines of the whole, %d of cells", p, n, m)
			}
		}
		if worst, at, off := proof.Differ(proof.Print(t, a, 1200), proof.Print(t, b, 1200), proof.ByUs); off > 0 {
			t.Errorf("pattern %d differs by %.1f at %v", p, worst, at)
		}
	}
}

// Whatever is drawn wherever, no item lies outside of the plate, and no word is lost.
func TestNothingLiesOutsideOfAPlate(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := page.NewPlate(400, 300)
		at := func(name string) ink.Point {
			wide := rapid.OneOf(rapid.Float64Range(-100, 500), rapid.Float64())
			return ink.Point{X: wide.Draw(rt, name+" x"), Y: wide.Draw(rt, name+" y")}
		}
		length := func(name string) float64 { return rapid.Float64Range(0, 60).Draw(rt, name) }
		words := 0
		for i := range rapid.IntRange(1, 8).Draw(rt, "how many") {
			a, b, c := at(fmt.Sprint("a", i)), at(fmt.Sprint("b", i)), at(fmt.Sprint("c", i))
			col := color.RGBA{rapid.Uint8().Draw(rt, "red"), 90, 20, rapid.Uint8().Draw(rt, "alpha")}
			s := rapid.StringMatching(`[a-zA-Z0-9 ]{1,60}`).Draw(rt, "words")
			letters := ink.Type{Size: 4 + length("size"), Bold: rapid.Bool().Draw(rt, "bold"), Color: ink.Text}
			switch rapid.IntRange(0, 10).Draw(rt, "what") {
			case 0:
				p.Fill(a.X, a.Y, b.X, b.Y, col)
			case 1:
				p.Polygon([]ink.Point{a, b, c}, col)
			case 2:
				p.Disc(a, length("radius"), col)
			case 3:
				p.Line(length("width"), col, a, b, c)
			case 4:
				p.Line(length("width"), col, a, b)
			case 5:
				p.Dashed(length("width"), 1+length("dash"), length("gap"), col, a, b)
			case 6:
				p.Frame(a.X, a.Y, b.X, b.Y, length("width"), ink.Text)
			case 7:
				p.PatternIn([][]ink.Point{{a, b, c}}, ink.Pattern(rapid.IntRange(0, 9).Draw(rt, "pattern")), ink.Text)
			case 8:
				p.Mosaic([]ink.Tile{{Area: ink.Area{X0: a.X, Y0: a.Y, X1: b.X, Y1: b.Y}, Color: ink.Blue}})
			case 9:
				p.Text(a.X, a.Y, ink.Align(rapid.IntRange(0, 2).Draw(rt, "align")), letters, s)
				words++
			case 10:
				p.TextUp(a.X, a.Y, letters, s)
				words++
			}
		}
		d := p.Drawing(100)
		proof.Within(rt, "plate", d)
		for _, it := range d.Items {
			if _, is := it.(*page.Text); is {
				words--
			}
		}
		if words != 0 {
			rt.Errorf("%d words are not there", words)
		}
	})
}

// Words are hardly wider on paper than on pixels, where boxes are made for them: by less than the
// room that boxes leave at their ends.
func TestWordsFitTheirBoxes(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := rapid.StringMatching(`[a-zA-Z0-9 .,:°+−]{3,30}`).Draw(rt, "words")
		letters := ink.Type{Size: rapid.Float64Range(14, 40).Draw(rt, "size"), Bold: rapid.Bool().Draw(rt, "bold"), Color: ink.Text}
		p := page.NewPlate(2000, 200)
		p.Text(10, 100, ink.Left, letters, s)
		got := p.Drawing(2000).Items[0].(*page.Text)
		if wide := proof.TextBounds(got); wide.X1-wide.X0 > letters.Width(s)+0.15*letters.Size+0.01 {
			rt.Errorf("%q is %.2f wide on paper, %.2f on pixels", s, wide.X1-wide.X0, letters.Width(s))
		}
		if points := letters.Size * 72 / 25.4; got.Size > points+1e-9 || got.Size < 0.9*points {
			rt.Errorf("%q is set in %.2f points instead of %.2f", s, got.Size, points)
		}
	})
}

// What the ground shines through is printed in the colour that it has on pixels.
func TestVeilsAreMixedWithTheGround(t *testing.T) {
	onPixels, onPlate := ink.NewCanvas(100, 100, ink.Paper), page.NewPlate(100, 100)
	for _, s := range []ink.Surface{onPixels, onPlate} {
		s.Mosaic([]ink.Tile{{Area: ink.Area{X1: 50, Y1: 100}, Color: ink.Blue}, {Area: ink.Area{X0: 50, X1: 80, Y1: 100}, Color: ink.Orange}})
		s.Line(8, color.RGBA{255, 255, 255, 100}, ink.Point{Y: 50}, ink.Point{X: 100, Y: 50})
		s.Line(6, color.RGBA{0, 0, 0, 100}, ink.Point{X: 20, Y: 0}, ink.Point{X: 60, Y: 40})
		s.Fill(60, 60, 70, 70, color.RGBA{0, 0, 0, 128})
	}
	print := proof.Print(t, onPlate.Drawing(100), 100)
	for _, at := range []image.Point{{10, 50}, {60, 50}, {90, 50}, {30, 10}, {55, 35}, {65, 65}, {10, 10}} {
		want, got := onPixels.RGBAAt(at.X, at.Y), print.RGBAAt(at.X, at.Y)
		for _, d := range []int{int(want.R) - int(got.R), int(want.G) - int(got.G), int(want.B) - int(got.B)} {
			if d < -4 || d > 4 { // Paper is white there
				t.Errorf("%v is %v, want %v", at, got, want)
				break
			}
		}
	}
}

// The patterns lie over a veil that is drawn after them.
func TestPatternsLieOverVeils(t *testing.T) {
	p := page.NewPlate(100, 100)
	p.Fill(0, 0, 100, 100, ink.Orange)
	p.PatternIn([][]ink.Point{ink.Area{X1: 100, Y1: 100}.Outline()}, ink.Hatch, ink.Text)
	p.Line(2, color.RGBA{255, 255, 255, 100}, ink.Point{Y: 50}, ink.Point{X: 100, Y: 50})
	items := p.Drawing(100).Items
	if last := items[len(items)-1].(*page.Path); last.Fill == nil || *last.Fill != ink.Text {
		t.Errorf("the last of %d items is %+v, want the pattern", len(items), last)
	}
}
