package text

import (
	"regexp"
	"strconv"
	"strings"

	"gridswing/geom"
)

// A length in a sentence, and what else in it counts in the same unit: "12.34 mm", "3 to 5 mm",
// "10 x 20 mm", "[0, 0, 50] mm", "X -400 to 400, Y at 12 mm", "400 mm/min". What stands before is
// no part of a number or of a designation, such as M12 or "kg mm".
const (
	oneNumber = `[+-]?\d+(?:\.\d+)?`
	onAnAxis  = `[XYZUVW]\d?,? (?:at )?` + oneNumber + `(?: to ` + oneNumber + `)?(?: and ` + oneNumber + `(?: to ` + oneNumber + `)?)*`
	several   = onAnAxis + `(?:, ` + onAnAxis + `)*|\[` + oneNumber + `(?:, ` + oneNumber + `)*\]|` + oneNumber + `(?: (?:to|x|or|and) ` + oneNumber + `)*`
)

var (
	lengthIn  = regexp.MustCompile(`(?:` + several + `) mm\b`)
	numberIn  = regexp.MustCompile(oneNumber)
	axisNamed = regexp.MustCompile(`[XYZUVW]\d `)
	// Behind a length a sentence may go on with others, without saying the unit again.
	goesOn = regexp.MustCompile(`^(?:/min|/rev)?(?: of thread hold, (?:expected )?| left (?:of|to) |, the (?:thread|magazine|hole)[^;:.]*? (?:ends at|takes) | or more, now |` +
		` beyond its limit at |, expected (?:at most |more than )?|: the places beside it must be empty \(|, more than the |, (?:usual is) )(` + oneNumber + `)( mm)?`)
	// What a length that is converted is rounded to: down where less is worse, up where more is.
	lessIsWorse = regexp.MustCompile(`(?:proven to be at least|smallest found|nearer than|come within|comes within|worst location:|[^ ]+ and at least|^at least|, at least|is proven|as drawn:?) $`)
	worseBehind = regexp.MustCompile(`^(?: left\b| apart\b| between\b|, from which location uncertainty)`)
	moreIsWorse = regexp.MustCompile(`(?:up to|stick-out of at least|lacks|too low by|takes up to|(?:longer|shorter|higher|lower) by|off by|within) $`)
	moreBehind  = regexp.MustCompile(`^(?: or more\b| beyond\b| off\b| into it\b| below the finished| more for)`)
)

// Words returns a sentence with its lengths in the unit. The sentences of the checks have mm;
// in inches they are rounded so that none says more than it did: a clearance is rounded down, what
// a tolerance takes or a cure wants is rounded up, everything else to the nearest 0.0001.
// Designations, masses, moments and angles stay as they are, and so does what is to be kept.
func (l Lengths) Words(words string) string {
	if l.Unit != geom.Inch || !strings.Contains(words, "mm") {
		return words
	}
	var b strings.Builder
	for words != "" {
		at, kept := len(words), ""
		for _, k := range l.kept {
			if i := strings.Index(words, k); i >= 0 && (i < at || i == at && len(k) > len(kept)) {
				at, kept = i, k
			}
		}
		b.WriteString(l.convert(words[:at]))
		b.WriteString(kept)
		words = words[at+len(kept):]
	}
	return b.String()
}

// convert is Words of words nothing of which is to be kept.
func (l Lengths) convert(words string) string {
	var b strings.Builder
	for {
		found := lengthIn.FindStringIndex(words)
		if found == nil {
			break
		}
		from, to := found[0], found[1]
		if from > 0 && joined(words[from-1]) {
			from += len(numberIn.FindString(words[from:])) // a piece of a word, or of a number
			b.WriteString(words[:from])
			words = words[from:]
			continue
		}
		b.WriteString(words[:from])
		way := roundedTo(words[:from], words[to:])
		b.WriteString(l.numbers(strings.TrimSuffix(words[from:to], " mm"), way) + " " + l.Name())
		words = words[to:]
		for {
			m := goesOn.FindStringSubmatchIndex(words)
			if m == nil {
				break
			}
			if m[4] >= 0 {
				b.WriteString(words[:m[2]]) // it says the unit itself
				words = words[m[2]:]
				break
			}
			b.WriteString(words[:m[2]] + l.numbers(words[m[2]:m[3]], 0))
			words = words[m[3]:]
		}
	}
	return b.String() + words
}

// joined reports whether what follows a byte goes on with a word or a number.
func joined(c byte) bool {
	return c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c == '.' || c == '_' || c >= 0x80
}

// roundedTo is the way in which a length is rounded between what stands before and behind it:
// -1 down, 1 up, 0 to the nearest.
func roundedTo(before, behind string) int {
	switch {
	case moreIsWorse.MatchString(before) || moreBehind.MatchString(behind):
		return 1
	case lessIsWorse.MatchString(before) || worseBehind.MatchString(behind):
		return -1
	}
	return 0
}

// numbers converts all numbers in words but those that are part of an axis' name.
func (l Lengths) numbers(words string, way int) string {
	var b strings.Builder
	for words != "" {
		if m := axisNamed.FindStringIndex(words); m != nil && m[0] == 0 {
			b.WriteString(words[:m[1]])
			words = words[m[1]:]
			continue
		}
		m := numberIn.FindStringIndex(words)
		if m == nil || m[0] > 0 {
			b.WriteString(words[:1])
			words = words[1:]
			continue
		}
		b.WriteString(l.number(words[:m[1]], way))
		words = words[m[1]:]
	}
	return b.String()
}

// number converts a number of mm, with as many decimals as say as much.
func (l Lengths) number(digits string, way int) string {
	mm, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return digits // too many digits to be a length
	}
	_, decimals, _ := strings.Cut(digits, ".")
	n := l.decimals(max(len(decimals), 1))
	if decimals == "" {
		n = 4
	}
	out := fixed(l.in(mm), n)
	switch way {
	case -1:
		out = l.downTo(mm, n)
	case 1:
		out = l.upTo(mm, n)
	}
	if decimals == "" {
		if v, err := strconv.ParseFloat(out, 64); err == nil {
			out = short(v, n)
		}
	}
	if digits[0] == '+' {
		out = "+" + out
	}
	return out
}
