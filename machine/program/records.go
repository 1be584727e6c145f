package program

import (
	"fmt"
	"strconv"
	"strings"
)

// record is one record of a cutter-location file: a major word and what follows its slash.
type record struct {
	place Place
	text  string // the line that it begins on
	word  string // in capitals
	items []item
}

// item is a number or a word.
type item struct {
	place  Place
	word   string // in capitals; "" for a number
	number float64
}

func (i *item) String() string {
	if i.word != "" {
		return i.word
	}
	return strconv.FormatFloat(i.number, 'g', -1, 64)
}

// Most items of a record, and most lines that one goes on over.
const mostItems, mostGoOn = 4096, 1024

// texts are the major words whose rest is text and not to be cut up.
var texts = map[string]bool{"PARTNO": true, "PPRINT": true, "REMARK": true}

// records reads records: a record ends with its line unless that ends with $; from $$ on a line is
// a comment (ISO 4342, from memory; letters in either case).
type records struct {
	lines
	file  string
	rec   record
	count int64
	bytes int64
}

// next returns the next record, which is good until it is called again; io.EOF after the last.
// Other errors are Faults.
func (r *records) next() (*record, error) {
	for {
		text, err := r.read()
		if err != nil {
			return nil, err
		}
		if text = strings.TrimSpace(text); text == "" {
			continue
		}
		r.count++
		return &r.rec, r.cut(text)
	}
}

// read returns a line without its comment; the record's place is put on its first letter.
func (r *records) read() (string, error) {
	text, _, err := r.lines.next()
	switch {
	case err == errLongLine:
		return "", &Fault{Place: Place{r.file, r.line, 1}, Found: "a line without an end", Expected: fmt.Sprintf("lines of at most %d bytes", mostLine)}
	case err != nil:
		return "", err
	}
	r.bytes += int64(len(text)) + 1
	if strings.IndexByte(text, 0) >= 0 {
		return "", &Fault{Place: Place{r.file, r.line, 1 + strings.IndexByte(text, 0)}, Found: "a byte 0", Expected: "text"}
	}
	if r.line == 1 {
		text = strings.TrimPrefix(text, byteOrder)
	}
	r.rec.text = text
	if i := strings.Index(text, "$$"); i >= 0 {
		text = text[:i]
	}
	r.rec.place = Place{r.file, r.line, 1 + len(text) - len(strings.TrimLeft(text, " \t"))}
	return text, nil
}

// cut takes a record apart, and reads on where it goes on in the next line.
func (r *records) cut(text string) error {
	rec := &r.rec
	rec.items = rec.items[:0]
	n := 0
	for n < len(text) && letter(text[n]) {
		n++
	}
	rec.word = strings.ToUpper(text[:n])
	if n == 0 {
		return &Fault{Place: rec.place, Found: quoted(text), Expected: "a record that begins with a word, such as GOTO/"}
	}
	if texts[rec.word] {
		if strings.HasSuffix(text, "$") {
			return &Fault{Place: Place{r.file, r.line, rec.place.Column + len(text) - 1}, Found: "$ at the end of a text",
				Expected: "a text that ends with its line: whether the next line is more of it is not clear"}
		}
		return nil
	}
	rest := strings.TrimLeft(text[n:], " \t")
	column := rec.place.Column + len(text) - len(rest)
	switch {
	case rest == "":
		return nil
	case rest[0] != '/':
		return &Fault{Place: Place{r.file, r.line, column}, Found: quoted(rest), Expected: "a slash after " + rec.word}
	}
	return r.items(rest[1:], column+1)
}

// items reads what follows the slash, with commas between.
func (r *records) items(text string, column int) error {
	first, began := r.rec.text, r.rec.place
	defer func() { r.rec.text, r.rec.place = first, began }()
	for lines := 1; ; lines++ {
		text = strings.TrimRight(text, " \t")
		on := strings.HasSuffix(text, "$")
		if err := r.list(strings.TrimSuffix(text, "$"), column, on); err != nil || !on {
			return err
		}
		if lines > mostGoOn {
			return &Fault{Place: r.rec.place, Found: "a record of too many lines", Expected: fmt.Sprintf("at most %d", mostGoOn)}
		}
		next, err := r.read()
		if err != nil {
			if _, ok := err.(*Fault); ok {
				return err
			}
			return &Fault{Place: Place{r.file, r.line, 1 + len(text)}, Found: "the end of the file after $", Expected: "the rest of the record"}
		}
		text, column = next, 1
	}
}

// list reads items of one line. Where the record goes on a comma may end it.
func (r *records) list(text string, column int, on bool) error {
	for {
		i := strings.IndexByte(text, ',')
		field := text
		if i >= 0 {
			field = text[:i]
		}
		trimmed := strings.TrimLeft(field, " \t")
		at := Place{r.file, r.line, column + len(field) - len(trimmed)}
		trimmed = strings.TrimRight(trimmed, " \t")
		if trimmed != "" || !(on && i < 0) {
			it, err := read(trimmed, at)
			if err != nil {
				return err
			}
			if len(r.rec.items) == mostItems {
				return &Fault{Place: at, Found: "a record with too much in it", Expected: fmt.Sprintf("at most %d numbers and words", mostItems)}
			}
			r.rec.items = append(r.rec.items, it)
		}
		if i < 0 {
			return nil
		}
		text, column = text[i+1:], column+i+1
	}
}

// read reads one number or word.
func read(text string, at Place) (item, error) {
	it := item{place: at}
	switch {
	case text == "":
		return it, &Fault{Place: at, Found: "nothing", Expected: "a number or a word"}
	case letter(text[0]):
		for i := range len(text) {
			if !letter(text[i]) && !digit(text[i]) {
				return it, &Fault{Place: at, Found: quoted(text), Expected: "a word of letters and digits, and commas between words"}
			}
		}
		it.word = strings.ToUpper(text)
		return it, nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= -largestNumber && v <= largestNumber) || strings.ContainsAny(text, "xXpP_") {
		return it, &Fault{Place: at, Found: quoted(text), Expected: fmt.Sprintf("a number, at most %g", float64(largestNumber))}
	}
	it.number = v
	return it, nil
}

// largestNumber is the largest number of a record.
const largestNumber = 1e9

// quoted shows text in messages, cut off where it is long.
func quoted(text string) string {
	const most = 40
	if len(text) > most {
		text = text[:most]
	}
	return strconv.Quote(text)
}
