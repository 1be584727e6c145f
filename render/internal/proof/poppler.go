//go:build reference

package proof

import (
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/pdf"
)

// Poppler writes a drawing as a PDF of its size and has it printed by pdftoppm, on so many pixels,
// and its words read by pdftotext, both of poppler-utils (Debian).
func Poppler(t *testing.T, d *page.Drawing, size image.Point) (*image.RGBA, string) {
	t.Helper()
	dir := t.TempDir()
	path := filepath.Join(dir, "drawing.pdf")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	doc := &page.Document{Title: "drawing", Format: page.Format{Name: "drawing", Width: d.Width, Height: d.Height}, Pages: []*page.Page{{Items: d.Items}}}
	if err := pdf.Write(f, doc); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	run := func(name string, args ...string) string {
		out, err := exec.Command(name, args...).Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return string(out)
	}
	run("pdftoppm", "-png", "-singlefile", "-scale-to-x", fmt.Sprint(size.X), "-scale-to-y", fmt.Sprint(size.Y), path, filepath.Join(dir, "print"))
	in, err := os.Open(filepath.Join(dir, "print.png"))
	if err != nil {
		t.Fatal(err)
	}
	defer in.Close()
	img, err := png.Decode(in)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(img.Bounds())
	draw.Draw(out, out.Rect, img, image.Point{}, draw.Src)
	return out, run("pdftotext", "-raw", path, "-")
}
