package html_test

import (
	"bytes"
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/html"
	"gridswing/render/page/internal/specimen"
)

// BenchmarkTables lays out 50 pages of tables and writes them. (BenchmarkTables of layout is
// without writing.)
func BenchmarkTables(b *testing.B) { measure(b, 50) }

// BenchmarkOnePage shows what a document costs before its pages: its fonts.
func BenchmarkOnePage(b *testing.B) { measure(b, 1) }

func measure(b *testing.B, pages int) {
	var out bytes.Buffer
	count := 0
	for b.Loop() {
		out.Reset()
		d := specimen.Tables(page.A4, pages)
		count = len(d.Pages)
		if err := html.Write(&out, d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(count*b.N)/b.Elapsed().Seconds(), "pages/s")
	b.ReportMetric(float64(out.Len())/float64(count), "B/page")
}
