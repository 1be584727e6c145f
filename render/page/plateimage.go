package page

import (
	"bytes"
	"image"
	"image/png"

	"gridswing/render/ink"
)

// Image puts a picture in an area, all of which is on the plate; else what is on it.
func (p *Plate) Image(a ink.Area, img *image.RGBA) {
	if img.Rect.Empty() || !(a.X0 < a.X1 && a.Y0 < a.Y1) {
		return
	}
	if !a.Within(ink.Area{X1: p.width, Y1: p.height}) {
		if img, a = p.cropped(img, a); img.Rect.Empty() {
			return
		}
	}
	p.items = append(p.items, plated{Item: &Image{Area: Area(a), PNG: encoded(img), Words: p.Words}})
}

// cropped returns the pixels of a picture that are on the plate whole, and where they are.
func (p *Plate) cropped(img *image.RGBA, a ink.Area) (*image.RGBA, ink.Area) {
	wide, high := a.Width()/float64(img.Rect.Dx()), a.Height()/float64(img.Rect.Dy()) // of a pixel
	r := image.Rectangle{}
	r.Min.X, r.Max.X = kept(a.X0, wide, img.Rect.Dx(), p.width)
	r.Min.Y, r.Max.Y = kept(a.Y0, high, img.Rect.Dy(), p.height)
	at := ink.Area{X0: a.X0 + wide*float64(r.Min.X), Y0: a.Y0 + high*float64(r.Min.Y),
		X1: min(a.X0+wide*float64(r.Max.X), p.width), Y1: min(a.Y0+high*float64(r.Max.Y), p.height)}
	return img.SubImage(r.Add(img.Rect.Min)).(*image.RGBA), at
}

// kept returns which of n steps from a place on lie between 0 and most; none: from is not
// less than to.
func kept(at, step float64, n int, most float64) (from, to int) {
	for from < n && at+step*float64(from) < 0 {
		from++
	}
	for to = n; to > from && at+step*float64(to) > most+1e-9; {
		to--
	}
	return from, to
}

// encoded returns the picture as a PNG, the paper white.
func encoded(img *image.RGBA) []byte {
	out := image.NewRGBA(image.Rectangle{Max: img.Rect.Size()})
	for y := range out.Rect.Dy() {
		from := img.Pix[img.PixOffset(img.Rect.Min.X, img.Rect.Min.Y+y):][:4*out.Rect.Dx()]
		to := out.Pix[y*out.Stride:]
		for i := 0; i < len(from); i += 4 {
			if from[i] == ink.Paper.R && from[i+1] == ink.Paper.G && from[i+2] == ink.Paper.B {
				to[i], to[i+1], to[i+2], to[i+3] = 255, 255, 255, 255
				continue
			}
			to[i], to[i+1], to[i+2], to[i+3] = from[i], from[i+1], from[i+2], 255
		}
	}
	var b bytes.Buffer
	_ = (&png.Encoder{CompressionLevel: png.DefaultCompression}).Encode(&b, indexed(out)) // a buffer takes all
	return b.Bytes()
}
