package ink

import (
	"image/color"
	"math"
)

// The colour-blind-safe set of Masataka Okabe and Kei Ito, "Color Universal
// Design (CUD): How to make figures and presentations that are friendly to
// colorblind people", 2008 (the set is also given in B. Wong, "Color blindness",
// Nature Methods 8, 441, 2011). RGB values as published.
var (
	Black         = color.RGBA{0, 0, 0, 255}
	Orange        = color.RGBA{230, 159, 0, 255}
	SkyBlue       = color.RGBA{86, 180, 233, 255}
	BluishGreen   = color.RGBA{0, 158, 115, 255}
	Yellow        = color.RGBA{240, 228, 66, 255}
	Blue          = color.RGBA{0, 114, 178, 255}
	Vermillion    = color.RGBA{213, 94, 0, 255}
	ReddishPurple = color.RGBA{204, 121, 167, 255}
)

// Paper is the ground, Text the colour of type and strong lines, Faint that of
// notes and thin lines.
var (
	Paper = color.RGBA{252, 252, 250, 255}
	Text  = color.RGBA{24, 28, 33, 255}
	Faint = color.RGBA{96, 102, 110, 255}
)

// Mix returns the colour that lies the given part of the way from a to b.
func Mix(a, b color.RGBA, part float64) color.RGBA {
	m := func(x, y uint8) uint8 { return uint8(math.Round(float64(x) + (float64(y)-float64(x))*part)) }
	return color.RGBA{m(a.R, b.R), m(a.G, b.G), m(a.B, b.B), m(a.A, b.A)}
}

// Lightness returns CIE 1976 L* of an sRGB colour, 0 (black) to 100 (white):
// what is left of it in a black-and-white print. (IEC 61966-2-1 for the
// transfer curve and luminance weights, ISO/CIE 11664-4 for L*.)
func Lightness(c color.RGBA) float64 {
	y := 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

func linear(v uint8) float64 {
	s := float64(v) / 255
	if s <= 0.04045 {
		return s / 12.92
	}
	return math.Pow((s+0.055)/1.055, 2.4)
}

// Ramp returns the colour of the given lightness L* on the way from black over
// the hue to white. Even steps of lightness look even.
func Ramp(hue color.RGBA, lightness float64) color.RGBA {
	from, to := Black, hue
	if lightness > Lightness(hue) {
		from, to = hue, color.RGBA{255, 255, 255, 255}
	}
	lo, hi := 0.0, 1.0
	for range 20 { // lightness grows along the way, so halving finds it
		mid := (lo + hi) / 2
		if Lightness(Mix(from, to, mid)) < lightness {
			lo = mid
		} else {
			hi = mid
		}
	}
	return Mix(from, to, hi)
}

// What the verdicts look like, in pictures and charts alike: the set's
// vermillion for contact and its orange for tight, lightened so that dark strokes
// stand out on them in a black-and-white print too.
var (
	ContactGround    = color.RGBA{250, 140, 75, 255}
	ContactStroke    = color.RGBA{88, 22, 0, 255}
	WithinPlayGround = color.RGBA{252, 196, 160, 255}
	TightGround      = color.RGBA{255, 205, 105, 255}
	TightStroke      = color.RGBA{92, 56, 0, 255}
	UnprovenGround   = color.RGBA{236, 236, 234, 255}
	UnprovenStroke   = color.RGBA{58, 62, 68, 255}
)
