package stl

import (
	"encoding/binary"
	"fmt"
	"math"
	"runtime"
	"sync/atomic"

	"gridswing/geom"
	"gridswing/geom/together"
)

// chunkFacets is how many records are read at a time: 200 kB, which stays in a
// core's own cache between being read and being decoded.
const chunkFacets = 4096

// chunk is a run of records.
type chunk struct {
	from, n int   // facets of the mesh
	offset  int64 // of the first record in the file
}

func decodeBinary(src *source) (*geom.Mesh, error) {
	solids, err := findSolids(src)
	if err != nil {
		return nil, err
	}
	var chunks []chunk
	total := 0
	for _, s := range solids {
		for done := 0; done < s.facets; done += chunkFacets {
			n := min(chunkFacets, s.facets-done)
			chunks = append(chunks, chunk{total, n, s.offset + prefixSize + recordSize*int64(done)})
			total += n
		}
	}
	facets := make([]geom.Facet, total)
	if err := decodeChunks(src, facets, chunks); err != nil {
		return nil, err
	}
	return &geom.Mesh{Facets: facets}, nil
}

// decodeChunks decodes in parallel. The error is that of the first bad facet.
func decodeChunks(src *source, facets []geom.Facet, chunks []chunk) error {
	errs := make([]error, min(len(chunks), runtime.GOMAXPROCS(0)))
	at := make([]int, len(errs)) // the chunk in which each worker failed
	var next atomic.Int64
	var wg together.Group
	for w := range errs {
		wg.Go(func() {
			// Chunks are handed out in order and a worker stops at its first
			// error, so every chunk before the first bad one gets decoded and the
			// earliest error of all workers is the earliest in the file.
			buf := src.buffer()
			for errs[w] == nil {
				c := int(next.Add(1) - 1)
				if c >= len(chunks) {
					return
				}
				at[w] = c
				errs[w] = decodeChunk(src, facets, chunks[c], buf)
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
	if first < 0 {
		return nil
	}
	return errs[first]
}

// buffer returns room for the window of a chunk, if there is none in memory.
func (s *source) buffer() []byte {
	if s.at == nil {
		return nil
	}
	return make([]byte, min(s.size, chunkFacets*recordSize))
}

// decodeChunk decodes c into its place.
func decodeChunk(src *source, facets []geom.Facet, c chunk, buf []byte) error {
	b, err := src.window(buf, c.offset, recordSize*c.n)
	if err != nil {
		return err
	}
	dst := facets[c.from : c.from+c.n]
	if bad := decodeRecords(dst, b); bad >= 0 {
		return notFinite(src, &dst[bad], c.from+bad, c.offset+recordSize*int64(bad))
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

// notFinite is the error for the first coordinate of the facet that is not
// finite; its record is at offset.
func notFinite(src *source, f *geom.Facet, facet int, offset int64) *Error {
	k := 0
	for k < 8 && finite(f[k/3][k%3]) {
		k++
	}
	e := src.malformed(offset+12+4*int64(k), fmt.Sprint(f[k/3][k%3]), "a finite coordinate")
	e.Facet = facet
	return e
}

func finite(x float32) bool { return math.Abs(float64(x)) <= math.MaxFloat32 }
