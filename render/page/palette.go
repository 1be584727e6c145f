package page

import (
	"cmp"
	"image"
	"image/color"
	"slices"
)

// A picture of bodies has a few colours, their shades, and between these those of edges. So
// it is stored with a palette, which takes a third of the bytes: colours that many pixels have are
// kept, the others become the nearest of these.
const (
	paletteSize = 256
	distinct    = 14  // steps of 255, by which colours differ that come first into a palette
	firstOnes   = 160 // of the palette
)

// indexed returns the picture with a palette; exactly as it was, if it has few colours.
func indexed(img *image.RGBA) *image.Paletted {
	counts := map[color.RGBA]int{}
	last, run := color.RGBA{}, 0
	for i := 0; i < len(img.Pix); i += 4 {
		c := color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}
		if c != last {
			counts[last] += run
			last, run = c, 0
		}
		run++
	}
	counts[last] += run
	delete(counts, color.RGBA{}) // that before the first
	palette := chosen(counts)
	out := image.NewPaletted(img.Rect, palette)
	index := make(map[color.RGBA]uint8, len(counts))
	last, at := color.RGBA{}, uint8(0)
	for i := 0; i < len(img.Pix); i += 4 {
		c := color.RGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}
		if c != last {
			known := false
			if at, known = index[c]; !known {
				at = uint8(palette.Index(c))
				index[c] = at
			}
			last = c
		}
		out.Pix[i/4] = at
	}
	return out
}

// chosen returns the palette for colours of so many pixels each: first those that differ, the
// most frequent ones first, then the most frequent ones of those that are left.
func chosen(counts map[color.RGBA]int) color.Palette {
	colors := make([]color.RGBA, 0, len(counts))
	for c := range counts {
		colors = append(colors, c)
	}
	value := func(c color.RGBA) int { return int(c.R)<<16 | int(c.G)<<8 | int(c.B) }
	slices.SortFunc(colors, func(a, b color.RGBA) int {
		return cmp.Or(counts[b]-counts[a], value(a)-value(b))
	})
	if len(colors) > paletteSize {
		var first, rest []color.RGBA
		for _, c := range colors {
			near := func(f color.RGBA) bool {
				return max(apart(c.R, f.R), apart(c.G, f.G), apart(c.B, f.B)) < distinct
			}
			if len(first) < firstOnes && !slices.ContainsFunc(first, near) {
				first = append(first, c)
			} else {
				rest = append(rest, c)
			}
		}
		colors = append(first, rest[:paletteSize-len(first)]...)
	}
	palette := make(color.Palette, len(colors))
	for i, c := range colors {
		palette[i] = c
	}
	return palette
}

func apart(a, b uint8) int { return max(int(a)-int(b), int(b)-int(a)) }
