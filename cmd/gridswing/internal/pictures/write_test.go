package pictures

import (
	"context"
	"errors"
	"image"
	"image/png"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// A picture is stored whole or not at all: one that is there is replaced, a folder in the way stays, and
// nothing is begun once the context has ended.
func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a picture.png")
	for _, width := range []int{31, 9} {
		if err := Write(t.Context(), path, image.NewRGBA(image.Rect(0, 0, width, 17))); err != nil {
			t.Fatal(err)
		}
		f, err := os.Open(path)
		if err != nil {
			t.Fatal(err)
		}
		got, err := png.Decode(f)
		f.Close()
		if err != nil || got.Bounds().Dx() != width {
			t.Fatalf("%v, %v, want one %d wide", got, err, width)
		}
	}
	taken := filepath.Join(dir, "taken.png")
	if err := os.MkdirAll(filepath.Join(taken, "in it"), 0o755); err != nil {
		t.Fatal(err)
	}
	var at *fs.PathError
	if err := Write(t.Context(), taken, image.NewRGBA(image.Rect(0, 0, 4, 4))); !errors.As(err, &at) || at.Path != taken {
		t.Errorf("over a folder: %v", err)
	}
	if err := Write(t.Context(), filepath.Join(dir, "empty.png"), image.NewRGBA(image.Rectangle{})); err == nil {
		t.Error("a picture of no pixels was written")
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if err := Write(ended, filepath.Join(dir, "late.png"), image.NewRGBA(image.Rect(0, 0, 4, 4))); !errors.Is(err, context.Canceled) {
		t.Errorf("after the end: %v", err)
	}
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 2 {
		t.Errorf("the folder holds %v, %v, want the picture and the folder in the way", left, err)
	}
}
