package specimen

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"sync"

	"gridswing/render/page"
)

var (
	dark  = color.RGBA{20, 24, 28, 255}
	pale  = color.RGBA{225, 228, 230, 255}
	veil  = color.RGBA{0, 114, 178, 90}
	clear = color.RGBA{255, 255, 255, 255}
)

// Plan is a grid of holes with letters and numbers, some of it hatched within a clip.
func Plan() *page.Drawing {
	d := &page.Drawing{Width: 100, Height: 76}
	rect := func(x0, y0, x1, y1 float64) [][]page.Point {
		return [][]page.Point{{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}}
	}
	d.Items = append(d.Items, &page.Path{Lines: rect(8, 8, 98, 74), Closed: true, Fill: &pale, Stroke: &dark, Width: 0.4})
	hatched := &page.Path{Stroke: &dark, Width: 0.2, Clip: &page.Area{X0: 40, Y0: 30, X1: 66, Y1: 50}}
	for x := 0.0; x < 120; x += 2.5 {
		hatched.Lines = append(hatched.Lines, []page.Point{{X: x, Y: 76}, {X: x + 76, Y: 0}})
	}
	d.Items = append(d.Items, hatched, &page.Path{Lines: rect(40, 30, 66, 50), Closed: true, Stroke: &dark, Width: 0.5},
		&page.Path{Lines: rect(50, 40, 80, 60), Closed: true, Fill: &veil, Stroke: &dark, Width: 0.3, Dash: []float64{2, 1}})
	for c := range 9 {
		x := 13 + 10*float64(c)
		d.Items = append(d.Items, &page.Text{At: page.Point{X: x, Y: 6}, Align: page.Center, Size: 9, Color: dark, Words: string(rune('A' + c))})
		for r := range 6 {
			y := 14 + 11*float64(r)
			if c == 0 {
				d.Items = append(d.Items, &page.Text{At: page.Point{X: 6, Y: y + 1}, Align: page.Right, Size: 9, Color: dark, Words: fmt.Sprint(r + 1)})
			}
			d.Items = append(d.Items, circle(x, y, 1.6))
		}
	}
	return d
}

func circle(x, y, r float64) *page.Path {
	var line []page.Point
	for k := range 32 {
		s, c := math.Sincos(2 * math.Pi * float64(k) / 32)
		line = append(line, page.Point{X: x + r*c, Y: y + r*s})
	}
	return &page.Path{Lines: [][]page.Point{line}, Closed: true, Fill: &clear, Stroke: &dark, Width: 0.25}
}

// Turned is a drawing with dimensions, some of their figures turned.
func Turned() *page.Drawing {
	d := &page.Drawing{Width: 100, Height: 76}
	for i, h := range []float64{20, 35, 60} {
		x := 20 + 25*float64(i)
		d.Items = append(d.Items,
			&page.Path{Lines: [][]page.Point{{{X: x, Y: 70 - h}, {X: x + 18, Y: 70 - h}, {X: x + 18, Y: 70}, {X: x, Y: 70}}}, Closed: true, Stroke: &dark, Width: 0.4, Fill: &pale},
			&page.Path{Lines: [][]page.Point{{{X: x - 3, Y: 70}, {X: x - 3, Y: 70 - h}}}, Stroke: &dark, Width: 0.15},
			&page.Text{At: page.Point{X: x - 4, Y: 70 - h/2}, Align: page.Center, Size: 9, Color: dark, Words: fmt.Sprintf("%.3f", h), Upward: true, Face: page.Mono})
	}
	d.Items = append(d.Items,
		&page.Path{Lines: [][]page.Point{{{X: 4, Y: 70}, {X: 98, Y: 70}}}, Stroke: &dark, Width: 0.6},
		&page.Text{At: page.Point{X: 5, Y: 8}, Size: 9, Color: dark, Words: "left up", Upward: true, Align: page.Right},
		&page.Text{At: page.Point{X: 98, Y: 6}, Size: 9, Color: dark, Words: "right", Align: page.Right, Face: page.Bold})
	return d
}

var pixels = sync.OnceValue(func() []byte {
	img := image.NewRGBA(image.Rect(0, 0, 320, 200))
	for y := range 200 {
		for x := range 320 {
			img.SetRGBA(x, y, color.RGBA{uint8(x * 255 / 320), uint8(y), uint8((x / 20 % 2) * 120), 255})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // into memory it never fails
	}
	return b.Bytes()
})

// Photograph is a picture of pixels in a frame.
func Photograph() *page.Drawing {
	return &page.Drawing{Width: 160, Height: 100, Items: []page.Item{
		&page.Image{Area: page.Area{X0: 0, Y0: 0, X1: 160, Y1: 100}, PNG: pixels(), Words: `A ramp of colours with "stripes" <20 pixels>`},
		&page.Path{Lines: [][]page.Point{{{X: 0, Y: 0}, {X: 160, Y: 0}, {X: 160, Y: 100}, {X: 0, Y: 100}}}, Closed: true, Stroke: &dark, Width: 0.3},
	}}
}

// Chip is a picture of one colour.
func Chip(a page.Area, col color.RGBA) *page.Image {
	img := image.NewRGBA(image.Rect(0, 0, 16, 16))
	for i := range 256 {
		img.SetRGBA(i%16, i/16, col)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(err) // into memory it never fails
	}
	return &page.Image{Area: a, PNG: b.Bytes(), Words: fmt.Sprint("a chip of ", col)}
}

// Chips is some pictures of one size, in the colours of the places where they stand: dark,
// lighter to the right.
func Chips() *page.Drawing {
	d := &page.Drawing{Width: 90, Height: 8}
	for i := range ChipShades {
		x := 10 * float64(i)
		d.Items = append(d.Items, Chip(page.Area{X0: x + 1, X1: x + 9, Y1: 8}, color.RGBA{ChipShades[i], ChipShades[i], ChipShades[i], 255}))
	}
	return d
}

// ChipShades are how light the chips are.
var ChipShades = [...]uint8{0, 25, 50, 75, 100, 125, 150, 175, 200}
