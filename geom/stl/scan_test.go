package stl

import (
	"bytes"
	"io"
	"slices"
	"testing"
	"testing/iotest"
)

// Wherever the window of the scanner ends, words and places come out the same.
func TestScannerWindows(t *testing.T) {
	text := []byte("solid a\r\n\tfacet\r normal 1.25e+01\n\n 7 \x1a end\r\n\r\nx")
	type place struct {
		word                string
		line, column, start int
	}
	scan := func(s *scanner) (places []place) {
		for w := s.word(); w != nil; w = s.word() {
			places = append(places, place{string(w), s.wordLine, s.wordCol, int(s.wordStart)})
		}
		return places
	}
	want := []place{
		{"solid", 1, 1, 0}, {"a", 1, 7, 6}, {"facet", 2, 2, 10}, {"normal", 3, 2, 17}, {"1.25e+01", 3, 9, 24},
		{"7", 5, 2, 35}, {"end", 5, 6, 39}, {"x", 7, 1, 46},
	}
	if got := scan(&scanner{buf: text, line: 1}); !slices.Equal(got, want) {
		t.Errorf("in memory\ngot  %v\nwant %v", got, want)
	}
	for size := 9; size <= len(text)+1; size++ {
		for name, r := range map[string]io.Reader{
			"whole": bytes.NewReader(text), "bytes": iotest.OneByteReader(bytes.NewReader(text)),
			"EOF with data": iotest.DataErrReader(bytes.NewReader(text)),
		} {
			s := &scanner{r: r, buf: make([]byte, 0, size), line: 1}
			if got := scan(s); !slices.Equal(got, want) {
				t.Errorf("window of %d, %s\ngot  %v\nwant %v", size, name, got, want)
			}
		}
	}
}
