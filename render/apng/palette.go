package apng

import (
	"cmp"
	"image"
	"image/color"
	"slices"
)

// transparent is the colour that stands for what has not changed.
const transparent = 255

// palette is the colours of an animation, and which of them stands for a colour.
type palette struct {
	colors  color.Palette // 256, the last one transparent
	nearest map[[3]uint8]uint8
}

// tint is a colour and how many pixels have it.
type tint struct {
	rgb    [3]uint8
	pixels int
}

// paletteOf chooses the colours: all of them if there are few enough, otherwise by halving the
// box with the widest colours where half of its pixels are (Heckbert, "Color image
// quantization for frame buffer display", SIGGRAPH 1982).
func paletteOf(frames []Frame) *palette {
	count := map[[3]uint8]int{}
	for i := range frames {
		pix := frames[i].Image.Pix
		last, run := [3]uint8{}, 0 // most pixels are like the one before them
		for k := 0; k < len(pix); k += 4 {
			if rgb := [3]uint8(pix[k : k+3]); rgb != last {
				if run > 0 {
					count[last] += run
				}
				last, run = rgb, 0
			}
			run++
		}
		count[last] += run
	}
	var tints []tint
	for rgb, n := range count {
		tints = append(tints, tint{rgb, n})
	}
	slices.SortFunc(tints, func(a, b tint) int { return slices.Compare(a.rgb[:], b.rgb[:]) })
	p := &palette{nearest: map[[3]uint8]uint8{}}
	for i, box := range divided(tints, transparent) {
		mean := meanOf(box)
		p.colors = append(p.colors, color.NRGBA{mean[0], mean[1], mean[2], 255})
		for _, t := range box {
			p.nearest[t.rgb] = uint8(i)
		}
	}
	for len(p.colors) < transparent {
		p.colors = append(p.colors, color.NRGBA{A: 255})
	}
	p.colors = append(p.colors, color.NRGBA{})
	return p
}

// divided returns the colours in at most so many boxes.
func divided(tints []tint, most int) [][]tint {
	boxes := [][]tint{tints}
	for len(boxes) < most {
		worst, by, channel := -1, 0, 0
		for i, box := range boxes {
			if c, cost := widest(box); cost > by {
				worst, by, channel = i, cost, c
			}
		}
		if worst < 0 {
			break // each box has one colour
		}
		lower, upper := halved(boxes[worst], channel)
		boxes[worst] = lower
		boxes = append(boxes, upper)
	}
	return boxes
}

// widest returns the channel in which a box is widest, and how much is to be gained by
// halving it: its width, squared, times the logarithm (in bits) of its pixels, so that large areas
// are matched better and thin lines not forgotten.
func widest(box []tint) (channel, cost int) {
	lo, hi, pixels := [3]uint8{255, 255, 255}, [3]uint8{}, 0
	for _, t := range box {
		pixels += t.pixels
		for k, v := range t.rgb {
			lo[k], hi[k] = min(lo[k], v), max(hi[k], v)
		}
	}
	wide := 0
	for k := range lo {
		if w := int(hi[k]) - int(lo[k]); w > wide {
			channel, wide = k, w
		}
	}
	bits := 0
	for ; pixels > 0; pixels /= 2 {
		bits++
	}
	return channel, wide * wide * bits
}

// halved parts a box of two colours or more along a channel, half of the pixels in each part
// as nearly as can be.
func halved(box []tint, channel int) (lower, upper []tint) {
	slices.SortStableFunc(box, func(a, b tint) int { return cmp.Compare(a.rgb[channel], b.rgb[channel]) })
	all, sum := 0, 0
	for _, t := range box {
		all += t.pixels
	}
	at := 1
	for i := range box[:len(box)-1] {
		sum += box[i].pixels
		if at = i + 1; 2*sum >= all {
			break
		}
	}
	return box[:at:at], box[at:]
}

// meanOf returns the mean colour of a box's pixels.
func meanOf(box []tint) (mean [3]uint8) {
	var sum [3]int
	pixels := 0
	for _, t := range box {
		pixels += t.pixels
		for k, v := range t.rgb {
			sum[k] += int(v) * t.pixels
		}
	}
	for k := range mean {
		if pixels > 0 {
			mean[k] = uint8((sum[k] + pixels/2) / pixels)
		}
	}
	return mean
}

// reduced returns a picture in the palette's colours.
func (p *palette) reduced(img *image.RGBA) *image.Paletted {
	out := image.NewPaletted(img.Rect, p.colors)
	last, index := [3]uint8{}, p.nearest[[3]uint8{}]
	for i := range out.Pix {
		if rgb := [3]uint8(img.Pix[4*i : 4*i+3]); rgb != last {
			last, index = rgb, p.nearest[rgb]
		}
		out.Pix[i] = index
	}
	return out
}

// bytes returns the content of a PLTE chunk.
func (p *palette) bytes() (b []byte) {
	for _, c := range p.colors {
		n := c.(color.NRGBA)
		b = append(b, n.R, n.G, n.B)
	}
	return b
}

// alphas returns the content of a tRNS chunk.
func (p *palette) alphas() []byte {
	b := make([]byte, len(p.colors))
	for i := range b {
		b[i] = 255
	}
	b[transparent] = 0
	return b
}
