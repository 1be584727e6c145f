package program

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// mostCalls is how deep subprograms may call each other: 10, as the interpreter of NISTIR 6556
// has it (from memory).
const mostCalls = 10

// mostSubprograms bounds what is kept of a file's subprograms.
const mostSubprograms = 10000

// index tells where subprograms begin in the program's own file.
type index struct {
	r    io.ReaderAt
	from map[int]mark
}

// mark is a line of a file.
type mark struct {
	offset int64
	line   int // number of the line before it
	twice  int // a line in which the same number stands again, 0 if there is none
}

// call goes on with the subprogram of that number, times times; at is where it is called.
func (b *blocks) call(number, times int, at Place) error {
	if b.err != nil {
		return b.err
	}
	switch {
	case times < 1:
		return b.fail(&Fault{Place: at, Found: fmt.Sprintf("a call %d times", times), Expected: "once or more"})
	case number < 1:
		return b.fail(&Fault{Place: at, Found: fmt.Sprintf("subprogram %d", number), Expected: "a number from 1"})
	case len(b.stack) > mostCalls:
		return b.fail(&Fault{Place: at, Found: "a call in a call in a call", Expected: fmt.Sprintf("at most %d", mostCalls)})
	}
	for i := range b.stack {
		if b.stack[i].number == number || b.stack[i].label == number {
			return b.fail(&Fault{Place: at, Found: fmt.Sprintf("a call of subprogram O%d by itself", number), Expected: "one that comes to an end"})
		}
	}
	f, err := b.find(number, at)
	if err != nil {
		return b.fail(err)
	}
	f.number, f.again = number, times-1
	b.stack = append(b.stack, f)
	return nil
}

// back returns to behind the call, or does the subprogram once more; at is where M99 stands.
func (b *blocks) back(at Place) error {
	if b.err != nil {
		return b.err
	}
	f := &b.stack[len(b.stack)-1]
	if f.number == 0 {
		return b.fail(&Fault{Place: at, Found: "a return, and nothing was called", Expected: "M2 or M30 at the end of the program"})
	}
	f.shut()
	if f.again == 0 {
		b.stack = b.stack[:len(b.stack)-1]
		return nil
	}
	next, err := b.find(f.number, at)
	if err != nil {
		return b.fail(err)
	}
	next.number, next.again = f.number, f.again-1
	*f = next
	return nil
}

// find returns a subprogram as it begins: from the program's own file, or from one by the name that
// the machine file states. Which of both a control takes is nothing to be guessed.
func (b *blocks) find(number int, at Place) (reader, error) {
	own, err := b.own(at)
	if err != nil {
		return reader{}, err
	}
	m, here := mark{}, false
	if own != nil {
		m, here = own.from[number]
	}
	if m.twice > 0 {
		return reader{}, &Fault{Place: at, Found: fmt.Sprintf("a call of subprogram O%d, which begins in lines %d and %d", number, m.line+1, m.twice), Expected: "one of them"}
	}
	name, rc, failed := b.file(number)
	switch {
	case here && rc != nil:
		rc.Close()
		return reader{}, &Fault{Place: at, Found: fmt.Sprintf("a call of subprogram O%d, which is in line %d and in the file %s, too", number, m.line+1, name), Expected: "one of them"}
	case here:
		r := io.NewSectionReader(own.r, m.offset, math.MaxInt64-m.offset)
		return reader{lines: lines{r: r, line: m.line}, file: b.stack[0].file}, nil
	case rc != nil:
		return reader{lines: lines{r: rc}, file: name, close: rc}, nil
	}
	found := fmt.Sprintf("a call of subprogram O%d, which is not in the program", number)
	if own == nil {
		found = fmt.Sprintf("a call of subprogram O%d in what can be read only once", number)
	}
	if failed != nil {
		found += fmt.Sprintf(", and the file %s cannot be opened (%v)", name, failed)
	}
	return reader{}, &Fault{Place: at, Found: found, Expected: "a subprogram of that number"}
}

// file opens the file of a subprogram: nothing where the control has none in files.
func (b *blocks) file(number int) (name string, rc io.ReadCloser, err error) {
	if b.rules.Subprograms == "" || b.open == nil {
		return "", nil, nil
	}
	name = strings.ReplaceAll(b.rules.Subprograms, "{number}", fmt.Sprintf("%0*d", b.rules.Digits, number))
	rc, err = b.open(name)
	if err != nil {
		return name, nil, err
	}
	return name, rc, nil
}

// own returns where the subprograms are in the program's own file, which the first call makes it
// look through; nil where it can be read only once.
func (b *blocks) own(at Place) (*index, error) {
	r, ok := b.stack[0].r.(io.ReaderAt)
	if b.index != nil || !ok {
		return b.index, nil
	}
	one := make([]byte, 1)
	if _, err := r.ReadAt(one, 0); err != nil {
		return nil, nil // a pipe, say
	}
	x := &index{r: r, from: map[int]mark{}}
	l := lines{r: io.NewSectionReader(r, 0, math.MaxInt64)}
	for {
		from := mark{offset: l.start + int64(l.pos), line: l.line}
		text, _, err := l.next()
		switch {
		case err == io.EOF:
			b.index = x
			return x, nil
		case err != nil:
			f := b.stack[0]
			f.lines = l
			return nil, f.ended(err)
		}
		n, ok := program(text)
		if !ok {
			continue
		}
		if m, known := x.from[n]; known {
			m.twice = l.line
			from = m
		}
		if x.from[n] = from; len(x.from) > mostSubprograms {
			return nil, &Fault{Place: Place{at.File, l.line, 1}, Found: "one more program in the file", Expected: fmt.Sprintf("at most %d", mostSubprograms)}
		}
	}
}

// program returns the number of the program that begins in a line: O and a number, with
// nothing but blanks, comments and a block number before it.
func program(text string) (number int, ok bool) {
	x := lexer{text: text}
	for {
		c, err := x.between()
		if err != nil || c|0x20 != 'n' && c|0x20 != 'o' {
			return 0, false
		}
		x.pos++
		v, plain, err := x.number("O")
		if err != nil || !plain || v > 99999999 {
			return 0, false
		}
		if c|0x20 == 'o' {
			return int(v), true
		}
	}
}
