package pdf_test

import (
	"testing"

	"gridswing/render/page/internal/specimen"
	"gridswing/render/page/pdf"
)

// BenchmarkTables lays out 50 pages of tables and writes them. (BenchmarkTables of layout is
// without writing.)
func BenchmarkTables(b *testing.B) { specimen.Measure(b, pdf.Write, 50) }

// BenchmarkOnePage shows what a document costs before its pages: its fonts.
func BenchmarkOnePage(b *testing.B) { specimen.Measure(b, pdf.Write, 1) }
