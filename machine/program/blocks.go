package program

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"gridswing/machine"
)

// blocks is where the interpreter gets blocks from: it reads lines, cuts them into words and
// follows calls and returns of subprograms, which the interpreter asks for by call and back when
// it meets M98 and M99.
type blocks struct {
	open  func(file string) (io.ReadCloser, error)
	rules *machine.Control
	stack []reader // the program, and the subprograms that were called, the running one last
	index *index   // of the subprograms in the program's own file; nil until it is needed
	block Block
	vars  variables
	count int64  // of blocks
	bytes int64  // of lines
	err   error  // why nothing more comes
	name  string // of the program's own file
	marks marks
}

// reader is a text that is being read.
type reader struct {
	lines
	file    string
	close   io.Closer // nil for what somebody else opened
	number  int       // by which it was called, 0 for the program itself
	label   int       // the number of its O word, 0 if it has none
	again   int       // how often it is done once more
	begun   bool      // a block or an O word was read
	percent bool      // % has begun the text
}

// newBlocks reads the program in r, which is called name in places. open opens the files of
// subprograms; it may be nil where the control has none in files. Subprograms in the program's own
// file need an r that is an io.ReaderAt, too, and begins at its offset 0.
func newBlocks(name string, r io.Reader, open func(file string) (io.ReadCloser, error), rules *machine.Control) *blocks {
	b := &blocks{open: open, rules: rules, vars: variables{allowed: rules.Expressions}, name: name}
	b.stack = append(b.stack, reader{lines: lines{r: r}, file: name})
	return b
}

// next returns the next block with a word in it; it is good until next is called again. After
// the last one, which is followed by %, it returns io.EOF; every other error is a *Fault. Where
// a program ends by M2 or M30, next is not to be called any more.
func (b *blocks) next() (*Block, error) {
	for b.err == nil {
		if ok, err := b.line(); err != nil {
			b.fail(err)
		} else if ok {
			b.count++
			return &b.block, nil
		} else if b.block.File == b.name {
			b.marks.read(b.block.Line)
		}
	}
	return nil, b.err
}

// fail ends the reading.
func (b *blocks) fail(err error) error {
	if b.err == nil {
		b.err = err
		for i := range b.stack {
			b.stack[i].shut()
		}
	}
	return b.err
}

// close gives back what is open where reading ends before the end.
func (b *blocks) close() { b.fail(io.EOF) }

func (f *reader) shut() {
	if f.close != nil {
		f.close.Close()
		f.close = nil
	}
}

// byteOrder begins some files of UTF-8 text.
const byteOrder = "\uFEFF"

// line reads a line into the block and tells whether there is a word in it.
func (b *blocks) line() (bool, error) {
	f := &b.stack[len(b.stack)-1]
	text, whole, err := f.lines.next()
	if err != nil {
		return false, f.ended(err)
	}
	b.bytes += int64(len(text)) + 1
	if f.line == 1 {
		text = strings.TrimPrefix(text, byteOrder)
	}
	x := lexer{file: f.file, line: f.line, text: text, vars: &b.vars}
	b.block = Block{Text: text, Words: b.block.Words[:0], Place: x.place(0)}
	switch c := x.peek(); {
	case c == '%':
		return false, f.mark(&x)
	case c == '/' && b.rules.BlockDelete == nil:
		return false, x.fault(x.pos, "/, a block that may be left out",
			"the machine file to say whether they are: block_delete under [program]")
	case c == '/' && *b.rules.BlockDelete:
		return false, nil
	case c == '/':
		b.block.Deleted = true
		x.pos++
		if c := x.peek(); digit(c) {
			return false, x.fault(x.pos, "/ with a number", "/ alone")
		}
	}
	number, err := x.words(&b.block)
	if err != nil {
		return false, err
	}
	b.vars.settle()
	return b.begin(f, &x, number, whole)
}

// begin checks what a line begins, and that it is all there.
func (b *blocks) begin(f *reader, x *lexer, number int, whole bool) (bool, error) {
	words := b.block.Words
	if !whole && !ends(words) && x.start() < len(x.text) {
		return false, x.fault(len(x.text), "the end of the file in a line", "the end of the line; the file may be cut off")
	}
	switch {
	case number < 0:
	case f.begun:
		return false, x.fault(x.start(), fmt.Sprintf("O%d, where another program begins", number), "the end of this one before it")
	case f.number > 0 && f.number != number:
		return false, x.fault(x.start(), fmt.Sprintf("O%d", number), fmt.Sprintf("O%d, which was called", f.number))
	default:
		f.label = number
	}
	if number >= 0 || len(words) > 0 {
		f.begun = true
	}
	return len(words) > 0, nil
}

// start is where the first character of the line stands that is no blank.
func (x *lexer) start() int {
	x.pos = 0
	return x.skip()
}

// ends tells whether the words are those by which a program ends: there is nothing that a
// file could have lost behind them.
func ends(words []Word) bool {
	if len(words) == 0 {
		return false
	}
	w := words[len(words)-1]
	return w.Letter == 'M' && len(w.Text) >= 3 && (w.Value == 2 || w.Value == 30 || w.Value == 99)
}

// mark reads a line with %, which begins and ends what a control reads of a file.
func (f *reader) mark(x *lexer) error {
	at := x.pos
	x.pos++
	switch c, err := x.between(); {
	case err != nil:
		return err
	case c != 0:
		return x.fault(x.pos, x.here(x.pos)+" after %", "the end of the line")
	case !f.begun && !f.percent:
		f.percent = true
		return nil
	case f.number > 0:
		return x.fault(at, fmt.Sprintf("%% in subprogram O%d", f.number), "M99")
	case !f.begun:
		return x.fault(at, "a second % and no block before it", "a program")
	case !f.percent:
		return x.fault(at, "% in a program that did not begin with it", "M2 or M30 before it")
	}
	return io.EOF
}

// ended says what it means that a text has no further line.
func (f *reader) ended(err error) error {
	at := Place{f.file, f.line + 1, 1}
	switch {
	case errors.Is(err, errLongLine):
		at.Line = f.line
		return &Fault{Place: at, Found: fmt.Sprintf("a line of more than %d bytes", mostLine), Expected: "the text of a program"}
	case err != io.EOF:
		return &Fault{Place: at, Found: "that it cannot be read: " + strings.ReplaceAll(err.Error(), "\n", " "), Expected: "the next line"}
	case f.number > 0:
		return &Fault{Place: at, Found: fmt.Sprintf("the end of the file in subprogram O%d", f.number), Expected: "M99; the file may be cut off"}
	case !f.begun:
		return &Fault{Place: at, Found: "the end of the file and no block before it", Expected: "a program"}
	case f.percent:
		return &Fault{Place: at, Found: "the end of the file", Expected: "% as at its beginning, or M2 or M30; the file may be cut off"}
	}
	return &Fault{Place: at, Found: "the end of the file", Expected: "M2 or M30; the file may be cut off"}
}
