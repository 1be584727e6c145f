package specimen

import (
	"bytes"
	"io"
	"testing"

	"gridswing/geom/together"
	"gridswing/render/page"
)

// Writer writes a document into a file of some kind.
type Writer func(w io.Writer, d *page.Document) error

// Measure lays out so many pages of tables and writes them, over and over.
func Measure(b *testing.B, write Writer, pages int) {
	b.Helper()
	var out bytes.Buffer
	count := 0
	for b.Loop() {
		out.Reset()
		d := Tables(page.A4, pages)
		count = len(d.Pages)
		if err := write(&out, d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(count*b.N)/b.Elapsed().Seconds(), "pages/s")
	b.ReportMetric(float64(out.Len())/float64(count), "B/page")
}

// SameInParallel writes documents on many goroutines at a time, as a batch does it: all must be the
// same to the byte.
func SameInParallel(t *testing.T, write Writer) {
	t.Helper()
	var files [9]bytes.Buffer
	var wait together.Group
	for i := range files {
		wait.Go(func() {
			if err := write(&files[i], Document(page.A4)); err != nil {
				t.Error(err)
			}
		})
	}
	wait.Wait()
	for i := range files {
		if files[i].Len() == 0 || !bytes.Equal(files[i].Bytes(), files[0].Bytes()) {
			t.Errorf("file %d has not the bytes of the first", i)
		}
	}
}
