package stl

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"

	"gridswing/geom"
)

const (
	headerSize = 80
	prefixSize = headerSize + 4 // header and facet count
	recordSize = 50             // normal, three corners, attribute word
	headSize   = 512            // how much of a file is looked at to tell text from binary

	// maxSize is that of a binary file of as many facets as a mesh may hold.
	// ASCII takes more bytes for a facet.
	maxSize = prefixSize + recordSize*geom.MaxFacets
)

// Decode reads the solid in data; name is what errors call the file. The mesh
// shares no memory with data. All errors are *Error; the mesh is then nil.
func Decode(data []byte, name string) (*geom.Mesh, error) {
	return decode(source{name: name, size: int64(len(data)), data: data})
}

// source is the bytes of one file, in memory (data) or not (at).
type source struct {
	name string
	size int64
	data []byte
	at   io.ReaderAt
}

// window returns the n bytes at offset off, in buf if they have to be read. The
// caller keeps off + n within size; a file that shrinks meanwhile is an error.
func (s *source) window(buf []byte, off int64, n int) ([]byte, error) {
	if s.at == nil {
		return s.data[off : off+int64(n)], nil
	}
	got, err := s.at.ReadAt(buf[:n], off)
	if got == n {
		return buf[:n], nil
	}
	if err == nil || err == io.EOF {
		return nil, s.malformed(off+int64(got), "end of file", fmt.Sprintf("%d bytes, the size of the file when it was opened", s.size))
	}
	return nil, fmt.Errorf("%s: byte %d: %w", s.name, off+int64(got), err)
}

func (s *source) malformed(offset int64, found, expected string) *Error {
	return &Error{File: s.name, Offset: offset, Facet: -1, Found: found, Expected: expected}
}

func (s *source) unsupported(offset int64, found, expected string) *Error {
	e := s.malformed(offset, found, expected)
	e.Kind = Unsupported
	return e
}

func decode(src source) (*geom.Mesh, error) {
	if src.size == 0 {
		return nil, src.malformed(0, "an empty file", "an STL solid")
	}
	if src.size > maxSize {
		return nil, src.unsupported(maxSize, fmt.Sprintf("a file of %d bytes", src.size), fmt.Sprintf("at most %d", int64(maxSize)))
	}
	head, err := src.window(make([]byte, headSize), 0, int(min(src.size, headSize)))
	if err != nil {
		return nil, err
	}
	// The size decides first. No text can pass for binary this way: its bytes
	// 80 to 83, tab (9) or more, would count 150 million facets or more, in a
	// file of exactly so many times 50 bytes.
	if exactSize(head, src.size) {
		return decodeBinary(&src)
	}
	text := bytes.IndexByte(head, 0) < 0
	if text && beginsSolid(head) {
		return decodeASCII(&src)
	}
	if f := foreignFormat(head); f != "" {
		return nil, src.unsupported(0, f, "STL")
	}
	if text && printable(head) {
		return nil, src.malformed(0, quote(firstWord(head)), `"solid", or a binary STL`)
	}
	return decodeBinary(&src)
}

// exactSize reports whether the file is as long as its facet count says.
func exactSize(head []byte, size int64) bool {
	return len(head) >= prefixSize && size == prefixSize+recordSize*facetCount(head)
}

func facetCount(head []byte) int64 {
	return int64(binary.LittleEndian.Uint32(head[headerSize:]))
}

// byteOrderMark is what some editors put in front of UTF-8 text.
const byteOrderMark = "\xef\xbb\xbf"

func firstWord(head []byte) []byte {
	words := bytes.Fields(bytes.TrimPrefix(head, []byte(byteOrderMark)))
	if len(words) == 0 {
		return nil
	}
	return words[0]
}

func beginsSolid(head []byte) bool {
	return strings.EqualFold(string(firstWord(head)), "solid")
}

func printable(head []byte) bool {
	for _, c := range head {
		if c < ' ' && !isSpace(c) {
			return false
		}
	}
	return true
}

// foreignFormat names the format of a file that is certainly not STL, by the
// bytes with which such files begin.
func foreignFormat(head []byte) string {
	for _, f := range []struct{ magic, name string }{
		{"PK\x03\x04", "a ZIP archive (3MF, or compressed)"},
		{"\x1f\x8b", "a gzip-compressed file"},
		{"ISO-10303-21", "a STEP file (ISO 10303-21)"},
		{"glTF", "a binary glTF file"},
		{"ply", "a PLY file"},
		{"OFF", "an OFF file"},
		{"<?xml", "an XML file"},
		{"\xff\xfe", "UTF-16 text"},
		{"\xfe\xff", "UTF-16 text"},
	} {
		if bytes.HasPrefix(head, []byte(f.magic)) {
			return f.name
		}
	}
	return ""
}

// quote shows a word of the input, cut short, whatever bytes it holds.
func quote(word []byte) string {
	const most = 32
	if len(word) > most {
		return fmt.Sprintf("%q...", word[:most])
	}
	return fmt.Sprintf("%q", word)
}
