package program

import (
	"errors"
	"io"
	"strings"
)

// How much of a file is read at once, bytes: the first time and then. Subprograms are
// mostly short and are read again at every call.
const (
	firstChunk = 4 << 10
	nextChunk  = 32 << 10
)

// mostLine is the longest line that is taken for a line, bytes.
const mostLine = 16 << 10

var errLongLine = errors.New("a line without an end")

// lines cuts what it reads into lines. Lines are parts of one string per chunk, so
// that none needs memory of its own, and all stay good for as long as somebody holds them.
type lines struct {
	r     io.Reader
	text  string // a chunk; what was not given out begins at pos
	pos   int
	start int64 // where text begins in the source
	line  int   // number of the line that was given last
	ended error // why there is no more to read
}

// next returns the next line without its end, which is LF or CR LF, and whether it
// had one. After the last line it returns io.EOF.
func (l *lines) next() (line string, whole bool, err error) {
	for {
		if n := strings.IndexByte(l.text[l.pos:], '\n'); n >= 0 {
			line = l.text[l.pos : l.pos+n]
			l.pos += n + 1
			l.line++
			return strings.TrimSuffix(line, "\r"), true, nil
		}
		if l.ended != nil {
			break
		}
		if len(l.text)-l.pos > mostLine {
			l.line++
			return "", false, errLongLine
		}
		l.fill()
	}
	if l.ended == io.EOF && l.pos < len(l.text) {
		line, l.pos = l.text[l.pos:], len(l.text)
		l.line++
		return line, false, nil
	}
	return "", false, l.ended
}

// fill reads one chunk more behind what was not given out yet.
func (l *lines) fill() {
	rest := l.text[l.pos:]
	size := nextChunk
	if l.start == 0 && l.text == "" {
		size = firstChunk
	}
	buf := make([]byte, len(rest)+size)
	copy(buf, rest)
	n, err := io.ReadFull(l.r, buf[len(rest):]) // some readers give little at a time
	if err == io.ErrUnexpectedEOF {
		err = io.EOF
	}
	l.start += int64(l.pos)
	l.pos = 0
	l.text = string(buf[:len(rest)+n])
	l.ended = err
}
