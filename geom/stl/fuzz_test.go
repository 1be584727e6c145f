package stl

import (
	"bytes"
	"errors"
	"runtime"
	"testing"

	"gridswing/geom"
)

// FuzzDecode: no input makes Decode panic or take memory beyond a small multiple
// of it; every error says where; reading through a file's small windows gives the
// same; and what was read survives being written and read, both ways.
func FuzzDecode(f *testing.F) {
	binary := encoded(f, &geom.Mesh{Facets: tetrahedronFacets()})
	f.Add(binary)
	f.Add([]byte(tetrahedron))
	f.Add(append(bytes.Clone(binary), binary...))
	f.Add(append([]byte("solid"), binary[5:]...))
	f.Fuzz(func(t *testing.T, data []byte) {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		m, err := Decode(data, "x.stl")
		runtime.ReadMemStats(&after)
		// Other goroutines of the fuzzer allocate too: hence the constant.
		if got, most := after.TotalAlloc-before.TotalAlloc, uint64(4*len(data)+1<<20); got > most {
			t.Errorf("%d bytes allocated for %d", got, len(data))
		}
		byWindow, windowErr := decode(source{name: "x.stl", size: int64(len(data)), at: bytes.NewReader(data)})
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || m != nil || e.Offset < 0 || e.Offset > int64(len(data)) || e.Found == "" || e.Expected == "" {
				t.Fatalf("mesh %v, error %#v", m, err)
			}
			if windowErr == nil || windowErr.Error() != err.Error() {
				t.Fatalf("in memory %v, from a file %v", err, windowErr)
			}
			return
		}
		if windowErr != nil || !sameBits(m, byWindow) {
			t.Fatalf("from a file: %v", windowErr)
		}
		var text bytes.Buffer
		if err := EncodeText(&text, m, "fuzz"); err != nil {
			t.Fatal(err)
		}
		for _, data := range [][]byte{encoded(t, m), text.Bytes()} {
			again, err := Decode(data, "again.stl")
			if err != nil || !sameBits(m, again) {
				t.Fatalf("decoding what was encoded: %v", err)
			}
		}
	})
}
