package render

import (
	"bufio"
	"fmt"
	"image"
	"image/png"
	"io"
	"os"
	"path/filepath"

	"gridswing/render/apng"
)

// WritePNG stores the image at path. It writes to a temporary file in the same
// folder and renames it, so that path holds the old picture or the new one and
// never a part; on failure the temporary file is removed.
func WritePNG(path string, img image.Image) error {
	return stored(path, func(w io.Writer) error {
		return (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(w, img)
	})
}

// WriteAnimation stores frames, all of one size, as one animated PNG, the way WritePNG does.
func WriteAnimation(path string, frames []apng.Frame) error {
	return stored(path, func(w io.Writer) error { return apng.Encode(w, frames) })
}

// stored writes a file whole or not at all.
func stored(path string, encode func(w io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), ".picture-*.png")
	if err != nil {
		return fmt.Errorf("cannot write picture %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
			err = fmt.Errorf("cannot write picture %s: %w", path, err)
		}
	}()
	w := bufio.NewWriterSize(f, 1<<16)
	if err = encode(w); err != nil {
		return err
	}
	if err = w.Flush(); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}
