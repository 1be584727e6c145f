package render

import (
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWritePNG(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a picture.png")
	for _, c := range []color.RGBA{{1, 2, 3, 255}, {200, 100, 50, 255}} { // the second replaces the first
		img := image.NewRGBA(image.Rect(0, 0, 31, 17))
		for i := range img.Pix {
			img.Pix[i] = 255
		}
		img.SetRGBA(30, 16, c)
		if err := WritePNG(path, img); err != nil {
			t.Fatal(err)
		}
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(f)
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		if r, g, b, _ := got.At(30, 16).RGBA(); got.Bounds() != img.Rect || uint8(r) != c.R || uint8(g) != c.G || uint8(b) != c.B {
			t.Errorf("read back %v with %v at the corner, want %v", got.Bounds(), got.At(30, 16), c)
		}
	}
	onlyFile(t, dir, "a picture.png")
}

func TestWritePNGLeavesNothingBehindWhenItFails(t *testing.T) {
	dir := t.TempDir()
	taken := filepath.Join(dir, "taken.png")
	if err := os.MkdirAll(filepath.Join(taken, "sub"), 0o755); err != nil {
		t.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, 4, 4))
	if err := WritePNG(taken, img); err == nil || !strings.Contains(err.Error(), "taken.png") {
		t.Errorf("writing over a folder: %v, want an error that names it", err)
	}
	onlyFile(t, dir, "taken.png")
	missing := filepath.Join(dir, "no such folder", "p.png")
	if err := WritePNG(missing, img); err == nil || !strings.Contains(err.Error(), "no such folder") {
		t.Errorf("writing into a folder that is not there: %v, want an error that names it", err)
	}
}

func onlyFile(t *testing.T, dir, name string) {
	t.Helper()
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != 1 || files[0].Name() != name {
		t.Errorf("the folder holds %v, want %s only", files, name)
	}
}

func BenchmarkWritePNG(b *testing.B) {
	r := newRig(b)
	p := Picture{Title: "Benchmark", Items: r.items(30, 15)}
	img, err := p.Draw(b.Context())
	if err != nil {
		b.Fatal(err)
	}
	path := filepath.Join(b.TempDir(), "p.png")
	for b.Loop() {
		if err := WritePNG(path, img); err != nil {
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
