package stl

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"gridswing/geom"
)

// encoded returns m as binary STL.
func encoded(t testing.TB, m *geom.Mesh) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Encode(&out, m); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// withFloat replaces a coordinate (0 to 8) of a facet.
func withFloat(data []byte, facet, coordinate int, x float64) []byte {
	data = bytes.Clone(data)
	at := prefixSize + recordSize*facet + 12 + 4*coordinate
	binary.LittleEndian.PutUint32(data[at:], math.Float32bits(float32(x)))
	return data
}

func withCount(data []byte, n uint32) []byte {
	data = bytes.Clone(data)
	binary.LittleEndian.PutUint32(data[headerSize:], n)
	return data
}

const tetrahedron = `solid  some name, with facet in it
  facet normal 0 0 -1
    outer loop
      vertex 0 0 0
      vertex 0 1 0
      vertex 1 0 0
    endloop
  endfacet
  facet normal 0 -1 0
    outer loop
      vertex 0 0 0
      vertex 1 0 0
      vertex 0 0 1
    endloop
  endfacet
  facet normal -1 0 0
    outer loop
      vertex 0 0 0
      vertex 0 0 1
      vertex 0 1 0
    endloop
  endfacet
  facet normal 0.577 0.577 0.577
    outer loop
      vertex 1 0 0
      vertex 0 1 0
      vertex 0 0 1
    endloop
  endfacet
endsolid
`

// tetrahedronFacets is the mesh as it should come out of every accepted variant below.
func tetrahedronFacets() []geom.Facet {
	o, x, y, z := geom.Vertex{}, geom.Vertex{1, 0, 0}, geom.Vertex{0, 1, 0}, geom.Vertex{0, 0, 1}
	return []geom.Facet{{o, y, x}, {o, x, z}, {o, z, y}, {x, y, z}}
}

func TestDecodeAccepts(t *testing.T) {
	want := tetrahedronFacets()
	plain := encoded(t, &geom.Mesh{Facets: want})
	solidHeader := bytes.Clone(plain)
	copy(solidHeader, "solid of a program that does not know better\n")
	coloured := bytes.Clone(plain)
	for i := range want {
		coloured[prefixSize+recordSize*i+48] = 0xff
		coloured[prefixSize+recordSize*i+49] = 0x81
	}
	nanNormal := bytes.Clone(plain)
	binary.LittleEndian.PutUint32(nanNormal[prefixSize:], math.Float32bits(float32(math.NaN())))
	one := func(i int) []byte { return encoded(t, &geom.Mesh{Facets: want[i : i+1]}) }
	half := len("solid") + strings.Index(tetrahedron, "  facet normal -1 0 0") - len("solid")

	for name, data := range map[string][]byte{
		"binary":                           plain,
		"binary, header begins with solid": solidHeader,
		"binary, attribute words":          coloured,
		"binary, NaN normal":               nanNormal,
		"binary, trailing bytes":           append(bytes.Clone(plain), "made by hand"...),
		"binary, solid header, trailing":   append(bytes.Clone(solidHeader), "made by hand"...),
		"binary, a record of padding":      append(bytes.Clone(plain), make([]byte, recordSize)...),
		"binary, 84 bytes of padding":      append(bytes.Clone(plain), make([]byte, prefixSize)...),
		"binary, four solids":              slices.Concat(one(0), one(1), one(2), one(3)),
		"ascii":                            []byte(tetrahedron),
		"ascii, CR LF":                     []byte(strings.ReplaceAll(tetrahedron, "\n", "\r\n")),
		"ascii, CR":                        []byte(strings.ReplaceAll(tetrahedron, "\n", "\r")),
		"ascii, upper case":                []byte(strings.ToUpper(tetrahedron)),
		"ascii, tabs":                      []byte(strings.ReplaceAll(tetrahedron, "  ", "\t")),
		"ascii, byte order mark":           []byte(byteOrderMark + tetrahedron),
		"ascii, blank lines in front":      []byte("\n\n " + tetrahedron),
		"ascii, no last line end":          []byte(strings.TrimSpace(tetrahedron)),
		"ascii, Ctrl-Z and NULs behind":    []byte(tetrahedron + "\x1a" + strings.Repeat("\x00", 1000)),
		"ascii, exponents":                 []byte(strings.ReplaceAll(tetrahedron, "vertex 1 0 0", "vertex +1.0000e+00 -0.0E-05 .0")),
		"ascii, NaN normal":                []byte(strings.ReplaceAll(tetrahedron, "normal 0 0 -1", "normal nan nan -nan(ind)")),
		"ascii, no normal":                 []byte(strings.ReplaceAll(tetrahedron, "normal 0 0 -1", "normal")),
		"ascii, other name at the end":     []byte(strings.TrimSpace(tetrahedron) + " some other name\n"),
		"ascii, two solids":                []byte(tetrahedron[:half] + "endsolid one\nsolid two\n" + tetrahedron[half:]),
		"ascii, an empty solid first":      []byte("solid\nendsolid\n" + tetrahedron),
	} {
		t.Run(name, func(t *testing.T) {
			m, err := Decode(data, "tetrahedron.stl")
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(m.Facets, want) {
				t.Errorf("got  %v\nwant %v", m.Facets, want)
			}
		})
	}
}

func TestDecodeRefuses(t *testing.T) {
	plain := encoded(t, &geom.Mesh{Facets: tetrahedronFacets()})
	edit := func(old, new string) []byte { return []byte(strings.Replace(tetrahedron, old, new, 1)) }
	more := append(bytes.Clone(plain), plain[prefixSize:]...)
	for name, test := range map[string]struct {
		data []byte
		want string
	}{
		"nothing":         {nil, "x.stl: byte 0: found an empty file, expected an STL solid"},
		"short of prefix": {plain[:83], `x.stl: byte 83: found end of file, expected a header and facet count of 84 bytes, or ASCII beginning with "solid"`},
		"truncated":       {plain[:len(plain)-1], "x.stl: byte 80: found a count of 4 facets, expected at most 3, all that a file of 283 bytes has room for (it is truncated, or the count is wrong)"},
		"only a prefix":   {plain[:84], "x.stl: byte 80: found a count of 4 facets, expected at most 0, all that a file of 84 bytes has room for (it is truncated, or the count is wrong)"},
		"huge count":      {withCount(plain, math.MaxUint32), "x.stl: byte 80: found a count of 4294967295 facets, expected at most 4, all that a file of 284 bytes has room for (it is truncated, or the count is wrong)"},
		"count too small": {more, "x.stl: byte 80: found a count of 4 facets, expected 8, which is what a file of 484 bytes holds"},
		"no facets":       {withCount(plain[:84], 0), "x.stl: byte 80: found a count of 0 facets, expected at least one"},
		"NaN":             {withFloat(plain, 2, 4, math.NaN()), "x.stl: byte 212: facet 3: found NaN, expected a finite coordinate"},
		"infinite":        {withFloat(plain, 3, 8, math.Inf(-1)), "x.stl: byte 278: facet 4: found -Inf, expected a finite coordinate"},
		"NaN in a second solid": {append(bytes.Clone(plain), withFloat(plain, 1, 0, math.NaN())...),
			"x.stl: byte 430: facet 6: found NaN, expected a finite coordinate"},

		"ascii, nothing behind solid": {[]byte("solid"), `x.stl:1:6: found end of file, expected "facet" or "endsolid"`},
		"ascii, no facets":            {[]byte("solid\nendsolid\n"), "x.stl:3:1: found end of file, expected at least one facet"},
		"ascii, cut in a facet":       {[]byte(tetrahedron[:150]), `x.stl:8:3: facet 1: found "endface", expected "endfacet"`},
		"ascii, no endsolid":          {edit("endsolid\n", ""), `x.stl:30:1: found end of file, expected "facet" or "endsolid"`},
		"ascii, solid in a solid":     {edit("  facet normal 0 -1 0", "solid"), `x.stl:9:1: found "solid", expected "facet" or "endsolid"`},
		"ascii, something behind":     {[]byte(tetrahedron + "  sold"), `x.stl:31:3: found "sold", expected "solid" or the end of the file`},
		"ascii, NaN":                  {edit("vertex 0 1 0", "vertex 0 nan 0"), `x.stl:5:16: facet 1: found "nan", expected a finite coordinate`},
		"ascii, infinite":             {edit("vertex 0 1 0", "vertex 0 -Inf 0"), `x.stl:5:16: facet 1: found "-Inf", expected a finite coordinate`},
		"ascii, beyond float32":       {edit("vertex 0 1 0", "vertex 0 1e39 0"), `x.stl:5:16: facet 1: found "1e39", expected a coordinate within the range of float32`},
		"ascii, hexadecimal":          {edit("vertex 0 1 0", "vertex 0 0x1p4 0"), `x.stl:5:16: facet 1: found "0x1p4", expected a finite coordinate`},
		"ascii, decimal comma":        {edit("vertex 0 1 0", "vertex 0 1,5 0"), `x.stl:5:16: facet 1: found "1,5", expected a finite coordinate, such as 12.5 or -1.25e+01`},
		"ascii, only a sign":          {edit("vertex 0 1 0", "vertex 0 - 0"), `x.stl:5:16: facet 1: found "-", expected a finite coordinate`},
		"ascii, two coordinates":      {edit("vertex 0 1 0", "vertex 0 1"), `x.stl:6:7: facet 1: found "vertex", expected a finite coordinate`},
		"ascii, four coordinates":     {edit("vertex 0 1 0", "vertex 0 1 0 0"), `x.stl:5:20: facet 1: found "0", expected "vertex"`},
		"ascii, four corners":         {edit("vertex 0 1 0", "vertex 0 1 0 vertex 0 1 0"), `x.stl:6:7: facet 1: found "vertex", expected "endloop"`},
		"ascii, misspelt":             {edit("outer loop", "outer lop"), `x.stl:3:11: facet 1: found "lop", expected "loop"`},
		"ascii, long normal":          {edit("normal 0 0 -1", "normal 0 0 -1 0"), `x.stl:2:23: facet 1: found "0", expected "outer loop"`},
		"ascii, a long word":          {edit("outer loop", "outer "+strings.Repeat("x", 40)), `x.stl:3:11: facet 1: found "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"..., expected "loop"`},
		"ascii, CR LF":                {[]byte(strings.ReplaceAll(string(edit("vertex 0 1 0", "vertex 0 x 0")), "\n", "\r\n")), `x.stl:5:16: facet 1: found "x", expected a finite coordinate`},
		"ascii, CR":                   {[]byte(strings.ReplaceAll(string(edit("vertex 0 1 0", "vertex 0 x 0")), "\n", "\r")), `x.stl:5:16: facet 1: found "x", expected a finite coordinate`},
		"noise":                       {[]byte(strings.Repeat("\x01\x02 ", 40)), "x.stl: byte 80: found a count of 537002272 facets, expected at most 0, all that a file of 120 bytes has room for (it is truncated, or the count is wrong)"},
		"blank":                       {[]byte(" \n\n"), `x.stl: byte 0: found "", expected "solid", or a binary STL`},
		"other text":                  {[]byte("v 0 0 0\nv 1 0 0\n"), `x.stl: byte 0: found "v", expected "solid", or a binary STL`},
	} {
		t.Run(name, func(t *testing.T) {
			m, err := Decode(test.data, "x.stl")
			var e *Error
			if !errors.As(err, &e) || e.Kind != Malformed || err.Error() != test.want {
				t.Errorf("\ngot  %v\nwant %s", err, test.want)
			}
			if m != nil {
				t.Error("a mesh comes with the error")
			}
		})
	}
}

func TestDecodeUnsupported(t *testing.T) {
	for _, start := range []string{"PK\x03\x04", "\x1f\x8b\x08", "ISO-10303-21;\n", "glTF\x02", "ply\n", "OFF\n", "<?xml version=\"1.0\"?>", "\xff\xfes\x00o\x00"} {
		_, err := Decode([]byte(start+strings.Repeat("abc\x00", 100)), "x.stl")
		var e *Error
		if !errors.As(err, &e) || e.Kind != Unsupported {
			t.Errorf("%q: %v, want an Error of kind Unsupported", start, err)
		}
	}
}

func TestDecodeTooLarge(t *testing.T) {
	_, err := decode(source{name: "x.stl", size: maxSize + 1, at: bytes.NewReader(nil)})
	var e *Error
	if !errors.As(err, &e) || e.Kind != Unsupported {
		t.Errorf("%v, want an Error of kind Unsupported", err)
	}
}

// A file whose header promises 200 GB must not cost more than its own size.
func TestDecodeAllocatesOnlyForWhatIsThere(t *testing.T) {
	data := withCount(encoded(t, dome(20)), math.MaxUint32)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err := Decode(data, "x.stl")
	runtime.ReadMemStats(&after)
	if err == nil {
		t.Fatal("a count beyond the file's size is accepted")
	}
	if got := after.TotalAlloc - before.TotalAlloc; got > 1<<20 {
		t.Errorf("%d bytes allocated for a file of %d", got, len(data))
	}
}

// Whatever worker meets which fault first, the error is the first in the file.
func TestFirstErrorOfMany(t *testing.T) {
	good := encoded(t, dome(150)) // 45,000 facets, 11 chunks
	for _, first := range []int{0, 1, chunkFacets - 1, chunkFacets, 3*chunkFacets + 17, 44999} {
		data := bytes.Clone(good)
		for f := first; f < 45000; f += 1 + f/7 {
			data = withFloat(data, f, 5, math.NaN())
		}
		for range 20 {
			_, err := Decode(data, "x.stl")
			var e *Error
			if !errors.As(err, &e) || e.Facet != first || e.Offset != int64(prefixSize+recordSize*first+12+20) {
				t.Fatalf("got %v, want the fault of facet %d", err, first+1)
			}
		}
	}
}

func TestRoundTrip(t *testing.T) {
	for _, n := range []int{1, 9, 45, 46, 100} { // around chunkFacets: 4050, 4232
		m := dome(n)
		m.Facets[0][0] = geom.Vertex{float32(math.Copysign(0, -1)), math.MaxFloat32, math.SmallestNonzeroFloat32}
		var text bytes.Buffer
		if err := EncodeText(&text, m, "a dome"); err != nil {
			t.Fatal(err)
		}
		for _, data := range [][]byte{encoded(t, m), text.Bytes()} {
			got, err := Decode(data, "dome.stl")
			if err != nil {
				t.Fatal(err)
			}
			if !sameBits(got, m) {
				t.Errorf("%d facets: decoding %.8q... gives another mesh than was encoded", len(m.Facets), data)
			}
		}
	}
}

// sameBits tells -0 from +0.
func sameBits(m, n *geom.Mesh) bool {
	return slices.EqualFunc(m.Facets, n.Facets, func(f, g geom.Facet) bool {
		for k := range 9 {
			if math.Float32bits(f[k/3][k%3]) != math.Float32bits(g[k/3][k%3]) {
				return false
			}
		}
		return true
	})
}

// The facet normal written is the one that the corners give, and the count and
// layout are those of the format: 84 + 50 n bytes.
func TestEncodeLayout(t *testing.T) {
	data := encoded(t, &geom.Mesh{Facets: tetrahedronFacets()})
	if len(data) != 284 || bytes.HasPrefix(data, []byte("solid")) || data[80] != 4 {
		t.Fatalf("%d bytes beginning %q, count %d", len(data), data[:8], data[80])
	}
	var normal [3]float32
	if _, err := binary.Decode(data[84+50:], binary.LittleEndian, &normal); err != nil {
		t.Fatal(err)
	}
	if want := [3]float32{0, -1, 0}; normal != want {
		t.Errorf("normal %v, want %v", normal, want)
	}
}

func TestEncodeRefuses(t *testing.T) {
	infinite := dome(2)
	infinite.Facets[3][1][2] = float32(math.Inf(1))
	var out bytes.Buffer
	for _, m := range []*geom.Mesh{{}, infinite} {
		if err := Encode(&out, m); err == nil || out.Len() > 0 {
			t.Errorf("Encode: error %v, %d bytes written", err, out.Len())
		}
		if err := EncodeText(&out, m, "x"); err == nil || out.Len() > 0 {
			t.Errorf("EncodeText: error %v, %d bytes written", err, out.Len())
		}
	}
	if err := EncodeText(&out, dome(1), "two\nlines"); err == nil || out.Len() > 0 {
		t.Errorf("a name of two lines: error %v, %d bytes written", err, out.Len())
	}
	if err := Encode(failingWriter{}, dome(40)); !errors.Is(err, fs.ErrPermission) {
		t.Errorf("the error of the writer is lost: %v", err)
	}
}

type failingWriter struct{}

func (failingWriter) Write([]byte) (int, error) { return 0, fs.ErrPermission }

func ExampleError() {
	_, err := Decode([]byte("solid plate\n facet normal 0 0 1\n  outer loop\n   vertex 0 0 nan\n"), "plate.stl")
	fmt.Println(err)
	// Output: plate.stl:4:15: facet 1: found "nan", expected a finite coordinate
}
