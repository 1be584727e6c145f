package blocks

import (
	"io"
	"strconv"
)

// stream writes a program block by block as it is read.
type stream struct {
	head, tail []string
	places     int64
	block      func(to []byte, i int64) []byte // the words of place i

	next int64 // the place whose block is written next
	left []byte
	buf  []byte
}

// Read never fails but at the end.
func (s *stream) Read(p []byte) (n int, err error) {
	for n < len(p) {
		if len(s.left) == 0 && !s.fill() {
			if n == 0 && len(p) > 0 {
				return 0, io.EOF
			}
			return n, nil
		}
		k := copy(p[n:], s.left)
		n, s.left = n+k, s.left[k:]
	}
	return n, nil
}

// fill writes some more blocks; false after the last.
func (s *stream) fill() bool {
	const most = 1 << 15
	s.buf = s.buf[:0]
	s.buf = appendLines(s.buf, s.head)
	s.head = nil
	for ; s.next < s.places && len(s.buf) < most; s.next++ {
		s.buf = append(s.block(s.buf, s.next), '\n')
	}
	if s.next == s.places {
		s.buf = appendLines(s.buf, s.tail)
		s.tail = nil
	}
	s.left = s.buf
	return len(s.left) > 0
}

func appendLines(to []byte, lines []string) []byte {
	for _, l := range lines {
		to = append(append(to, l...), '\n')
	}
	return to
}

// word appends a letter and a number in thousandths.
func word(to []byte, letter byte, v float64) []byte {
	to = append(to, ' ', letter)
	const thousand = 1000
	n := int64(v*thousand + 0.5)
	if v < 0 {
		n = -int64(-v*thousand + 0.5)
		if n < 0 {
			to, n = append(to, '-'), -n
		}
	}
	to = strconv.AppendInt(to, n/thousand, 10)
	n %= thousand
	return append(to, '.', byte('0'+n/100), byte('0'+n/10%10), byte('0'+n%10))
}
