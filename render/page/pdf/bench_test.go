package pdf_test

import (
	"io"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/internal/specimen"
	"gridswing/render/page/pdf"
)

// BenchmarkWrite writes 50 pages of tables; layout is not in it.
func BenchmarkWrite(b *testing.B) {
	d := specimen.Tables(page.A4, 50)
	for b.Loop() {
		if err := pdf.Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(d.Pages)*b.N)/b.Elapsed().Seconds(), "pages/s")
}

// BenchmarkOnePage shows what a document costs before its pages: its fonts.
func BenchmarkOnePage(b *testing.B) {
	d := specimen.Tables(page.A4, 1)
	for b.Loop() {
		if err := pdf.Write(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
}
