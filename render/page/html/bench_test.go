package html_test

import (
	"testing"

	"gridswing/render/page/html"
	"gridswing/render/page/internal/specimen"
)

// BenchmarkTables lays out 50 pages of tables and writes them. (BenchmarkTables of layout is
// without writing.)
func BenchmarkTables(b *testing.B) { specimen.Measure(b, html.Write, 50) }

// BenchmarkOnePage shows what a document costs before its pages: its fonts.
func BenchmarkOnePage(b *testing.B) { specimen.Measure(b, html.Write, 1) }
