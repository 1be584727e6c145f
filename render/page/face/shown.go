package face

import (
	"strings"
	"unicode/utf8"

	"gridswing/render/page"

	"golang.org/x/text/unicode/norm"
)

// Missing is shown in place of a character that the fonts lack.
const Missing = utf8.RuneError

// instead is what is shown for characters that the fonts lack and others stand for; -1:
// nothing, they show nothing by themselves.
var instead = map[rune]rune{
	'\u2300': 'Ø', // diameter sign
	'\t':     ' ', '\n': ' ', '\r': ' ',
	'\u2010': '-', '\u2011': '-', '\u2043': '-', // hyphens
	'\u2000': ' ', '\u2001': ' ', '\u2002': ' ', '\u2003': ' ', '\u2004': ' ', '\u2005': ' ', '\u2006': ' ',
	'\u2008': ' ', '\u2009': ' ', '\u200a': ' ', '\u205f': ' ', '\u3000': ' ',
	'\u2007': '\u00a0', '\u202f': '\u00a0', // spaces at which no line is broken
	'\u00ad': -1, '\u200b': -1, '\u200c': -1, '\u200d': -1, '\u2060': -1, '\ufeff': -1, // no width
	'\u2610': '□', '\u25ef': '○', '\u2b24': '●',
}

// Shown returns the words as the pages show them: composed (NFC), with a likeness for a few
// characters that the fonts lack and Missing for all others. It is the same for every face;
// what it returns it leaves as it is.
func Shown(words string) string {
	if plain(words) {
		return words
	}
	m := faces[page.Regular].metrics()
	var b strings.Builder
	for _, r := range norm.NFC.String(words) {
		other, replaced := instead[r]
		switch {
		case replaced && other < 0:
		case replaced:
			b.WriteRune(other)
		case r < mapped && m[r] >= 0 && r >= ' ' && (r < 0x7f || r > 0x9f):
			b.WriteRune(r)
		default:
			b.WriteRune(Missing)
		}
	}
	return b.String()
}

// plain reports whether the words are printable ASCII, which is most.
func plain(words string) bool {
	for i := range len(words) {
		if words[i] < ' ' || words[i] > '~' {
			return false
		}
	}
	return true
}
