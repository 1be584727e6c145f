package layout_test

import (
	"testing"

	"gridswing/render/page"
	"gridswing/render/page/internal/specimen"
)

// BenchmarkTables lays out 50 pages of tables.
func BenchmarkTables(b *testing.B) {
	pages := 0
	for b.Loop() {
		pages = len(specimen.Tables(page.A4, 50).Pages)
	}
	b.ReportMetric(float64(pages*b.N)/b.Elapsed().Seconds(), "pages/s")
}
