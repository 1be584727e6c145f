package pages

import (
	"testing"

	"gridswing/render/page"
)

// The pages of a usual setup and of one with 300 tools, without what drawings cost.
func BenchmarkDocument(b *testing.B) {
	for name, s := range map[string]*Setup{"usual": demo(b, "setups/bracket-op10.toml"), "300 tools": large()} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				setOn(b, s, page.A4, Millimetre)
			}
		})
	}
}
