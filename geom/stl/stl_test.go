package stl

import (
	"bytes"
	"slices"
	"testing"
)

func TestRoundTrip(t *testing.T) {
	m := dome(9)
	var binary, text bytes.Buffer
	if err := Encode(&binary, m); err != nil {
		t.Fatal(err)
	}
	if err := EncodeText(&text, m, "a dome"); err != nil {
		t.Fatal(err)
	}
	for _, data := range [][]byte{binary.Bytes(), text.Bytes()} {
		got, err := Decode(data, "dome.stl")
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(got.Facets, m.Facets) {
			t.Errorf("decoding %.8q... gives another mesh than was encoded", data)
		}
	}
}
