package machine

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
)

// encoding notes a file that is not in UTF-8, in which TOML is written. It
// reports whether the file is.
func (s *source) encoding(kind string) bool {
	const save = "UTF-8: save the file as UTF-8"
	d := s.data
	switch {
	case bytes.HasPrefix(d, []byte("\xff\xfe")), bytes.HasPrefix(d, []byte("\xfe\xff")),
		len(d) > 1 && (d[0] == 0) != (d[1] == 0):
		s.add(&Error{File: s.name, Line: 1, Column: 1, Found: "text in UTF-16", Expected: save})
	case bytes.IndexByte(d, 0) >= 0:
		line, column := s.position(bytes.IndexByte(d, 0))
		s.add(&Error{File: s.name, Line: line, Column: column, Found: "a byte 0, which is in no text", Expected: kind + " in " + save})
	case !utf8.Valid(d):
		at := 0
		for {
			r, n := utf8.DecodeRune(d[at:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			at += n
		}
		line, column := s.position(at)
		s.add(&Error{File: s.name, Line: line, Column: column, Found: fmt.Sprintf("byte 0x%02X, which is not in UTF-8", d[at]), Expected: save})
	default:
		return true
	}
	return false
}

// syntax notes what is wrong with a file that is no TOML, in the words of
// somebody who writes numbers, texts and paths.
func (s *source) syntax(err error) {
	var at *toml.DecodeError
	if !errors.As(err, &at) {
		s.add(&Error{File: s.name, Found: err.Error(), Expected: "a TOML file"})
		return
	}
	m := &mistake{message: strings.TrimPrefix(at.Error(), "toml: "), key: strings.Join(at.Key(), ".")}
	e := &Error{File: s.name}
	e.Line, e.Column = at.Position()
	m.tools = ofTools.Match(s.data)
	m.split(s.data, e.Line, e.Column)
	for _, explain := range []func(*mistake) bool{
		(*mistake).decimalComma, (*mistake).backslash, (*mistake).openText, (*mistake).doubled,
		(*mistake).bareValue, (*mistake).trailing, (*mistake).other,
	} {
		if explain(m) {
			break
		}
	}
	e.Found, e.Expected = m.found, m.expected
	e.Column -= m.back
	s.add(e)
}

// mistake is a fault of syntax: what the reader of TOML says, and the text of
// the line before and after the place.
type mistake struct {
	message, key    string
	before, after   string
	found, expected string
	back            int  // how many bytes before the place the fault begins
	tools           bool // the file is a tool file, as far as one can tell
}

func (m *mistake) split(data []byte, line, column int) {
	lines := bytes.SplitAfterN(data, []byte{'\n'}, line+1)
	if line < 1 || line > len(lines) {
		return
	}
	text := strings.TrimRight(string(lines[line-1]), "\r\n")
	cut := min(max(0, column-1), len(text))
	m.before, m.after = text[:cut], text[cut:]
}

func (m *mistake) is(words ...string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(m.message, w) })
}

var (
	ofTools     = regexp.MustCompile(`(?m)^\s*kind\s*=\s*["']tools["']`)
	commaBefore = regexp.MustCompile(`=\s*([-+]?[0-9]+,[0-9]+)\s*$`)
	wholeBefore = regexp.MustCompile(`=\s*([-+]?[0-9]+)$`)
	commaAfter  = regexp.MustCompile(`^,[0-9]+`)
)

// decimalComma explains jaw = 25,5, at the comma or in braces after it.
func (m *mistake) decimalComma() bool {
	number := ""
	if part := commaBefore.FindStringSubmatchIndex(m.before); part != nil {
		number, m.back = m.before[part[2]:part[3]], len(m.before)-part[2]
	} else if whole := wholeBefore.FindStringSubmatch(m.before); whole != nil && commaAfter.MatchString(m.after) {
		number, m.back = whole[1]+commaAfter.FindString(m.after), len(whole[1])
	}
	if number == "" {
		return false
	}
	m.found, m.expected = quoted(number), "a decimal point: "+strings.Replace(number, ",", ".", 1)
	return true
}

func (m *mistake) backslash() bool {
	if !m.is("escape") {
		return false
	}
	if at := strings.LastIndexByte(m.before, '\\'); at >= 0 && !strings.HasPrefix(m.after, `\`) {
		m.back = len(m.before) - at
	}
	m.found = `a backslash in a text in double quotes`
	m.expected = `forward slashes in paths, such as "../components/vise.toml"`
	return true
}

func (m *mistake) openText() bool {
	if !m.is("cannot have new lines", "unterminated") {
		return false
	}
	m.found, m.expected = "a text without its closing quote", "a quote at each end of a text"
	return true
}

// doubled explains tables and keys that are there twice.
func (m *mistake) doubled() bool {
	list := slices.Contains(lists, m.key) && (m.key != "tool" || m.tools) // of other files it is a table
	switch {
	case m.is("already exists", "already defined") && list:
		m.found = fmt.Sprintf("[%s] beside another [%s]", m.key, m.key)
		m.expected = fmt.Sprintf("double brackets for each: [[%s]]", m.key)
	case m.is("already exists"):
		m.found, m.expected = fmt.Sprintf("[%s] a second time", m.key), "each table once"
	case m.is("already defined"):
		m.found, m.expected = fmt.Sprintf("%q a second time", m.key), "each key once"
	default:
		return false
	}
	return true
}

// bareValue explains a value that is none: a text without quotes or with other
// ones, nothing, a number without its 0.
func (m *mistake) bareValue() bool {
	if !m.is("start of value", "expected keyword") {
		return false
	}
	from := strings.LastIndexAny(m.before, "=[,{") + 1
	line := m.before + m.after
	text := strings.TrimSpace(line[from:])
	if end := strings.IndexAny(text, " \t,]}#"); end >= 0 {
		text = text[:end]
	}
	m.back = len(strings.TrimLeft(line[from:len(m.before)], " \t"))
	m.found = quoted(text)
	first, _ := utf8.DecodeRuneInString(text)
	inside := strings.TrimFunc(text, func(r rune) bool { return strings.ContainsRune(`"'“”„‘’«»`, r) })
	switch lower := strings.ToLower(text); {
	case text == "":
		m.found, m.expected = "no value", "a value after ="
	case lower == "true" || lower == "false":
		m.expected = lower
	case first == '.':
		m.expected = "a digit before the decimal point: 0" + text
	case unicode.IsLetter(first) || inside != text:
		m.expected = fmt.Sprintf("a text in straight quotes: %q", inside)
	default:
		m.expected = "a number, a text in quotes, true or false"
	}
	return true
}

func (m *mistake) trailing() bool {
	if !m.is("expected newline") {
		return false
	}
	m.found, m.expected = shorten(m.after)+" after the value", "the end of the line, or # before a comment"
	return true
}

// other gives the words of the reader of TOML, told apart.
func (m *mistake) other() bool {
	m.found, m.expected = m.message, "valid TOML"
	if wanted, is := strings.CutPrefix(m.message, "expected "); is {
		wanted, _, _ = strings.Cut(wanted, " but got ")
		m.found, m.expected = shorten(m.before+m.after), wanted
	}
	return true
}

// shorten quotes a text, or its beginning.
func shorten(text string) string {
	text = strings.TrimSpace(text)
	if r := []rune(text); len(r) > 40 {
		text = string(r[:40]) + "..."
	}
	return quoted(text)
}
