package layout

import (
	"strings"

	"gridswing/render/page"
	"gridswing/render/page/face"
)

// style is how words are set.
type style struct {
	face page.Face
	size float64 // points
	line float64 // from one base line to the next, mm
}

func (s style) width(words string) float64 { return face.Width(s.face, s.size, words) }

// bold returns the same style in bold.
func (s style) bold() style { s.face = page.Bold; return s }

// ascent is how far below the top of a line its base line is, mm.
func (s style) ascent() float64 {
	high, deep := face.Ascent*s.size*face.Point, face.Descent*s.size*face.Point
	return (s.line-high-deep)/2 + high
}

// Slack for sums of rounded widths, mm.
const hair = 1e-6

// wrap returns the words in lines that fit the width: broken between words, at line feeds,
// and within a word where one alone is wider. It returns one line at least; a line has one
// letter at least, however narrow the width.
func (s style) wrap(words string, width float64) []string {
	width += hair
	var lines []string
	space := s.width(" ")
	for _, paragraph := range strings.Split(words, "\n") {
		line, wide := "", 0.0
		for _, word := range wordsOf(face.Shown(paragraph)) {
			w := s.width(word)
			if line != "" && wide+space+w <= width {
				line, wide = line+" "+word, wide+space+w
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for w > width && len(word) > 1 {
				n := s.breakAt(word, width)
				if n == len(word) {
					break
				}
				lines = append(lines, word[:n])
				word = word[n:]
				w = s.width(word)
			}
			line, wide = word, w
		}
		lines = append(lines, line)
	}
	return lines
}

// wordsOf returns what lines may be broken between: not what a no-break space holds together.
func wordsOf(words string) []string {
	return strings.FieldsFunc(words, func(r rune) bool { return r == ' ' || r == '\n' })
}

// breakAt returns how many bytes of a word fit the width, one letter at least. It prefers to
// break behind a sign that parts names, unless that leaves half of the line empty.
func (s style) breakAt(word string, width float64) int {
	wide, end, good := 0.0, 0, 0
	for i, r := range word {
		w := s.width(string(r))
		if i > 0 && wide+w > width {
			if good > 0 {
				return good
			}
			return end
		}
		wide, end = wide+w, i+len(string(r))
		if strings.ContainsRune(`/\-_.,:;)`, r) && wide > width/2 {
			good = end
		}
	}
	return len(word)
}

// shorten returns the words, or as much of them as fits the width with an ellipsis in their middle:
// names of one kind differ at their ends more often than not.
func (s style) shorten(words string, width float64) string {
	words = face.Shown(words)
	if s.width(words) <= width+hair {
		return words
	}
	letters := []rune(words)
	for kept := len(letters) - 1; kept > 0; kept-- {
		head := kept - kept/2
		short := strings.TrimRight(string(letters[:head]), " ") + "…" + strings.TrimLeft(string(letters[len(letters)-kept/2:]), " ")
		if s.width(short) <= width+hair {
			return short
		}
	}
	return ""
}

// longestWord returns how wide the widest word is, and the widest letter.
func (s style) longestWord(words string) (word, letter float64) {
	for _, w := range wordsOf(words) {
		word = max(word, s.width(w))
	}
	for _, r := range words {
		letter = max(letter, s.width(string(r)))
	}
	return word, letter
}
