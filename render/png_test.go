package render

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"testing"
)

// What is written is read back to the pixel.
func TestEncodePNG(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 31, 17))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	want := color.RGBA{200, 100, 50, 255}
	img.SetRGBA(30, 16, want)
	var b bytes.Buffer
	if err := EncodePNG(&b, img); err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range []image.Point{{30, 16}, {29, 16}} {
		if c := color.RGBAModel.Convert(got.At(at.X, at.Y)); got.Bounds() != img.Rect || c != color.Color(img.RGBAAt(at.X, at.Y)) {
			t.Errorf("read back %v with %v at %v, want %v", got.Bounds(), c, at, img.RGBAAt(at.X, at.Y))
		}
	}
}

func BenchmarkEncodePNG(b *testing.B) {
	r := newRig(b)
	p := Picture{Title: "Benchmark", Items: r.items(30, 15)}
	img, err := p.Draw(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := EncodePNG(io.Discard, img); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPicture(b *testing.B) {
	r := newRig(b)
	p := Picture{Title: "Benchmark", Items: r.items(30, 15)}
	p.Items[4].Emphasis, p.Items[2].Emphasis = Contact, Contact
	for b.Loop() {
		if _, err := p.Draw(b.Context()); err != nil {
			b.Fatal(err)
		}
	}
}
