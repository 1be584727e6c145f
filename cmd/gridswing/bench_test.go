package main

import (
	"io"
	"testing"
)

// BenchmarkDemo is the whole of "gridswing demo" in this process: the files
// written, both setups read, checked and drawn.
func BenchmarkDemo(b *testing.B) {
	for b.Loop() {
		if err := runDemo(b.Context(), b.TempDir(), io.Discard, nil); err != nil {
			b.Fatal(err)
		}
	}
}
