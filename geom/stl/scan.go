package stl

import (
	"bytes"
	"io"
)

// scanner splits text into words through a window that slides over the file,
// so that a file never stands in memory whole.
type scanner struct {
	r    io.Reader // nil once everything is in buf
	err  error     // of r, other than io.EOF
	buf  []byte
	pos  int   // of the next byte in buf
	base int64 // offset in the file of buf[0]

	line      int   // of the byte at pos, from 1
	lineStart int64 // offset in the file of the line's first byte
	wordLine  int
	wordStart int64 // offset of the word last returned
	wordCol   int
}

// windowSize bounds the length of a word; no word of the grammar comes near.
const windowSize = 1 << 18

func newScanner(src *source) *scanner {
	s := &scanner{buf: src.data, line: 1}
	if src.at != nil {
		s.r = io.NewSectionReader(src.at, 0, src.size)
		s.buf = make([]byte, 0, min(windowSize, src.size))
	}
	return s
}

// isSpace counts NUL and Ctrl-Z as space too: some systems pad a text's end.
func isSpace(c byte) bool {
	return c == ' ' || c >= '\t' && c <= '\r' || c == 0 || c == 0x1a
}

// word returns the next word, or nil at the end of the file. It is valid until
// the next call.
func (s *scanner) word() []byte {
	for {
		for s.pos < len(s.buf) && isSpace(s.buf[s.pos]) {
			s.countLine(s.buf[s.pos])
			s.pos++
		}
		if s.pos < len(s.buf) || !s.fill() {
			break
		}
	}
	n := 0
	for {
		for s.pos+n < len(s.buf) && !isSpace(s.buf[s.pos+n]) {
			n++
		}
		if s.pos+n < len(s.buf) || !s.fill() {
			break
		}
	}
	s.wordStart, s.wordLine = s.base+int64(s.pos), s.line
	s.wordCol = int(s.wordStart-s.lineStart) + 1
	if n == 0 {
		return nil
	}
	w := s.buf[s.pos : s.pos+n]
	s.pos += n
	return w
}

// countLine takes note of the byte at pos, if it ends a line: LF, CR LF, or CR
// alone (the CR of a CR LF is left to its LF).
func (s *scanner) countLine(c byte) {
	switch {
	case c == '\n':
	case c == '\r' && !s.follows('\n'):
	default:
		return
	}
	s.line++
	s.lineStart = s.base + int64(s.pos) + 1
}

// follows reports whether the byte behind pos is c.
func (s *scanner) follows(c byte) bool {
	if s.pos+1 >= len(s.buf) {
		s.fill()
	}
	return s.pos+1 < len(s.buf) && s.buf[s.pos+1] == c
}

// skipLine goes to the end of the line, over the name of a solid.
func (s *scanner) skipLine() {
	for {
		if i := bytes.IndexAny(s.buf[s.pos:], "\r\n"); i >= 0 {
			s.pos += i
			return
		}
		s.pos = len(s.buf)
		if !s.fill() {
			return
		}
	}
}

// fill slides the window to pos and reads on. It reports whether there is more
// to look at: not at the end of the file, nor when a word fills the window.
func (s *scanner) fill() bool {
	if s.r == nil || s.pos == 0 && len(s.buf) == cap(s.buf) {
		return false
	}
	n := copy(s.buf, s.buf[s.pos:])
	s.base += int64(s.pos)
	s.pos = 0
	got, err := io.ReadFull(s.r, s.buf[n:cap(s.buf)])
	s.buf = s.buf[:n+got]
	if err != nil {
		s.r = nil
		if err != io.EOF && err != io.ErrUnexpectedEOF {
			s.err = err
		}
	}
	return got > 0
}
