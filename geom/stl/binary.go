package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"runtime"
	"sync"
	"sync/atomic"

	"gridswing/geom"
)

// chunkFacets is how many records are read at a time: 200 kB, which stays in a
// core's own cache between being read and being decoded.
const chunkFacets = 4096

func decodeBinary(src *source, head []byte) (*geom.Mesh, error) {
	n, err := checkCount(src, head)
	if err != nil {
		return nil, err
	}
	facets := make([]geom.Facet, n)
	chunks := (n + chunkFacets - 1) / chunkFacets
	errs := make([]error, min(chunks, runtime.GOMAXPROCS(0)))
	at := make([]int, len(errs)) // the chunk in which each worker failed
	var next atomic.Int64
	var wg sync.WaitGroup
	for w := range errs {
		wg.Go(func() {
			// Chunks are handed out in order and a worker stops at its first
			// error, so every chunk before the first bad one gets decoded and the
			// earliest error of all workers is the earliest in the file.
			buf := src.buffer()
			for errs[w] == nil {
				c := int(next.Add(1) - 1)
				if c >= chunks {
					return
				}
				at[w] = c
				errs[w] = decodeChunk(src, facets, c*chunkFacets, buf)
			}
		})
	}
	wg.Wait()
	first := -1
	for w := range errs {
		if errs[w] != nil && (first < 0 || at[w] < at[first]) {
			first = w
		}
	}
	if first >= 0 {
		return nil, errs[first]
	}
	return &geom.Mesh{Facets: facets}, nil
}

func (s *source) buffer() []byte {
	if s.at == nil {
		return nil
	}
	return make([]byte, min(s.size, chunkFacets*recordSize))
}

// checkCount returns the number of facets, once the size of the file bears it
// out: nothing is allocated on the header's word.
func checkCount(src *source, head []byte) (int, error) {
	if src.size < prefixSize {
		return 0, src.malformed(src.size, "end of file", "a header and facet count of 84 bytes, or ASCII beginning with \"solid\"")
	}
	n := facetCount(head)
	end := prefixSize + recordSize*n
	switch {
	case end > src.size:
		return 0, src.malformed(headerSize, fmt.Sprintf("a count of %d facets", n),
			fmt.Sprintf("at most %d, all that a file of %d bytes has room for (it is truncated, or the count is wrong)", (src.size-prefixSize)/recordSize, src.size))
	case n == 0:
		return 0, src.malformed(headerSize, "a count of 0 facets", "at least one")
	case end < src.size:
		if err := checkTrailing(src, n, end); err != nil {
			return 0, err
		}
	}
	return int(n), nil
}

// checkTrailing looks at what stands behind the facets. Padding and notes are
// nobody's concern, but solids left out of a clearance check are: so records
// beyond the count, and a second solid, are refused.
func checkTrailing(src *source, n, end int64) error {
	rest := src.size - end
	tail, err := src.window(make([]byte, prefixSize), end, int(min(rest, prefixSize)))
	if err != nil {
		return err
	}
	if exactSize(tail, rest) && facetCount(tail) > 0 {
		return src.unsupported(end, "a second binary solid", "one solid in a binary file")
	}
	if rest%recordSize != 0 {
		return nil
	}
	padding, err := allEqual(src, end)
	if err != nil || padding {
		return err
	}
	return src.malformed(headerSize, fmt.Sprintf("a count of %d facets", n),
		fmt.Sprintf("%d, which is what a file of %d bytes holds", n+rest/recordSize, src.size))
}

// allEqual reports whether all bytes from offset on are the same.
func allEqual(src *source, offset int64) (bool, error) {
	first, buf := byte(0), make([]byte, 1<<14)
	for at := offset; at < src.size; {
		b, err := src.window(buf, at, int(min(src.size-at, int64(len(buf)))))
		if err != nil {
			return false, err
		}
		if at == offset {
			first = b[0]
		}
		if bytes.Count(b, []byte{first}) != len(b) {
			return false, nil
		}
		at += int64(len(b))
	}
	return true, nil
}

// decodeChunk decodes the chunk that begins with facet from.
func decodeChunk(src *source, facets []geom.Facet, from int, buf []byte) error {
	dst := facets[from:min(from+chunkFacets, len(facets))]
	b, err := src.window(buf, prefixSize+recordSize*int64(from), recordSize*len(dst))
	if err != nil {
		return err
	}
	if bad := decodeRecords(dst, b); bad >= 0 {
		return notFinite(src, &dst[bad], from+bad)
	}
	return nil
}

// decodeRecords fills dst and returns the index of the first facet with a
// coordinate that is not finite, or -1.
func decodeRecords(dst []geom.Facet, b []byte) int {
	for i := range dst {
		r := b[:recordSize]
		b = b[recordSize:]
		f := &dst[i]
		bits := corner(&f[0], r[12:24]) | corner(&f[1], r[24:36]) | corner(&f[2], r[36:48])
		if bits&0x80000000 != 0 {
			return i
		}
	}
	return -1
}

// corner decodes one corner. The highest bit of its result is set if a
// coordinate is NaN or infinite: then, and only then, the exponent is all ones,
// and adding one to it carries into that bit.
func corner(v *geom.Vertex, r []byte) uint32 {
	const exponent, one = 0x7f800000, 0x00800000
	x := binary.LittleEndian.Uint32(r[0:4])
	y := binary.LittleEndian.Uint32(r[4:8])
	z := binary.LittleEndian.Uint32(r[8:12])
	*v = geom.Vertex{math.Float32frombits(x), math.Float32frombits(y), math.Float32frombits(z)}
	return (x&exponent + one) | (y&exponent + one) | (z&exponent + one)
}

// notFinite is the error for the first coordinate of the facet that is not finite.
func notFinite(src *source, f *geom.Facet, facet int) *Error {
	k := 0
	for k < 8 && finite(f[k/3][k%3]) {
		k++
	}
	e := src.malformed(prefixSize+recordSize*int64(facet)+12+4*int64(k), fmt.Sprint(f[k/3][k%3]), "a finite coordinate")
	e.Facet = facet
	return e
}

func finite(x float32) bool { return math.Abs(float64(x)) <= math.MaxFloat32 }
