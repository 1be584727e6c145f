package raster

// Each pixel has sixteen samples, a grid of four by four turned by a little, so that all sixteen
// lie at different heights and at different distances from the side: an edge that is nearly
// level or nearly upright passes them one by one. Sample s = 4j + i lies at
// ((4i + j + 1/2) / 16, (4j - i + 7/2) / 16) of the pixel from its upper left corner.
const (
	samples    = 16
	all        = 1<<samples - 1 // a mask of all samples
	middle     = 4 + 1          // a sample near the middle of the pixel
	sampleStep = 0.25           // pixels from a sample to the next, nearly
	// stepBits: samples lie at odd multiples of 2^-stepBits pixels.
	stepBits = 5
)

// sampleAt returns where sample s lies in its pixel, 0 to 1.
func sampleAt(s int) (x, y float64) {
	i, j := s%4, s/4
	return (float64(4*i+j) + 0.5) / samples, (float64(4*j-i) + 3.5) / samples
}

// placeOf has where each sample lies.
var placeOf = func() (table [samples][2]float64) {
	for s := range table {
		table[s][0], table[s][1] = sampleAt(s)
	}
	return table
}()

// border is one side of a facet: a function over the image that is not below zero on the
// facet's side of it, in squares of the coordinates' steps. (Pineda, "A parallel algorithm for
// polygon rasterization", SIGGRAPH 1988.) All is in whole numbers, so that a sample on the side
// that two facets share belongs to exactly one of them.
type border struct {
	best    int64   // the greatest value at a sample of the pixel at hand
	spread  int64   // how much less the least one is
	across  int64   // what one pixel to the right adds
	down    int64   // what one pixel down adds
	first   int64   // the value at sample 0 less the greatest
	inverse float64 // -1/across, where rows are long; 0 if that is 0
	i, j    int64   // what the next sample along i and along j adds
}

// borderOf returns the side from (x, y) to (x+dx, y+dy) at the pixel whose corner lies at
// (px, py), all in steps of 2^-shift pixels. A sample on the side is inside if the side is a
// left one or a level upper one.
func borderOf(x, y, dx, dy, px, py int64, shift uint) border {
	e := dx*(py-y) - dy*(px-x)
	if !(dy < 0 || dy == 0 && dx > 0) {
		e--
	}
	unit := shift - stepBits
	b := border{across: -dy << shift, down: dx << shift, i: (-2*dx - 8*dy) << unit, j: (8*dx - 2*dy) << unit}
	most := max(0, 3*b.i) + max(0, 3*b.j)
	b.first = -most
	b.spread = most - min(0, 3*b.i) - min(0, 3*b.j)
	b.best = e + (7*dx-dy)<<unit + most
	return b
}

// maskOf returns the samples of a pixel that are inside of three sides, given the greatest values
// there.
func maskOf(b *[3]border, best0, best1, best2 int64) uint16 {
	e, f, g := uint64(best0+b[0].first), uint64(best1+b[1].first), uint64(best2+b[2].first)
	ei, fi, gi := uint64(b[0].i), uint64(b[1].i), uint64(b[2].i)
	var out uint64
	for range 4 {
		s := (e | f | g) >> 63
		s |= ((e + ei) | (f + fi) | (g + gi)) >> 63 << 1
		s |= ((e + 2*ei) | (f + 2*fi) | (g + 2*gi)) >> 63 << 2
		s |= ((e + 3*ei) | (f + 3*fi) | (g + 3*gi)) >> 63 << 3
		out = out>>4 | s<<12
		e, f, g = e+uint64(b[0].j), f+uint64(b[1].j), g+uint64(b[2].j)
	}
	return ^uint16(out)
}
