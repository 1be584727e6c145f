package face_test

import (
	"math"
	"testing"
	"unicode/utf8"

	"gridswing/render/page"
	"gridswing/render/page/face"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"
)

// The widths are those of golang.org/x/image/font/opentype's faces without hinting, which
// set letters with no kerning as there is none in these fonts.
func TestWidthsAreTheFonts(t *testing.T) {
	words := "Tilting trunnion Ø 125 ±0.01 mm − µ ß Ж Ω …"
	for _, f := range []page.Face{page.Regular, page.Bold, page.Mono} {
		parsed, err := opentype.Parse(face.TTF(f))
		if err != nil {
			t.Fatal(err)
		}
		set, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: 1000, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			t.Fatal(err)
		}
		want := float64(font.MeasureString(set, words)) / 64 / 1000 * 10 * 25.4 / 72
		if got := face.Width(f, 10, words); math.Abs(got-want) > 1e-3 {
			t.Errorf("%s: %v mm, want %v", face.Name(f), got, want)
		}
	}
}

// No glyph of any face reaches out of Ascent and Descent by more than a hair.
func TestHeights(t *testing.T) {
	for _, f := range []page.Face{page.Regular, page.Bold, page.Mono} {
		parsed, err := sfnt.Parse(face.TTF(f))
		if err != nil {
			t.Fatal(err)
		}
		var b sfnt.Buffer
		m, err := parsed.Metrics(&b, fixed.I(1000), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct{ got, want float64 }{
			{face.Ascent, float64(m.Ascent) / 64e3}, {face.Descent, float64(m.Descent) / 64e3}, {face.Cap, float64(m.CapHeight) / 64e3},
		} {
			if math.Abs(c.got-c.want) > 1e-3 {
				t.Errorf("%s: %v, want %v", face.Name(f), c.got, c.want)
			}
		}
	}
}

func TestShown(t *testing.T) {
	for words, want := range map[string]string{
		"plain":             "plain",
		"":                  "",
		"\u2300 12":         "Ø 12",
		"Spannstock groß":   "Spannstock groß",
		"re\u0301glage":     "réglage", // decomposed, as some file systems have names
		"漢字":                "\ufffd\ufffd",
		"a\x00b\x1b\x7f":    "a\ufffdb\ufffd\ufffd",
		"tab\there":         "tab here",
		"\xff":              "\ufffd",
		"12\u202fmm":        "12\u00a0mm",
		"zero\u200bwidth":   "zerowidth",
		"\U0001F600":        "\ufffd",
		"\u202eturned":      "\ufffdturned", // what would turn the direction is seen
		"1\u22642 \u2212 3": "1≤2 − 3",
	} {
		if got := face.Shown(words); got != want {
			t.Errorf("%q: %q, want %q", words, got, want)
		}
	}
}

// Whatever the words, what is shown has a width in every face, and is shown again as it is.
func TestShownOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "words")
		shown := face.Shown(words)
		if !utf8.ValidString(shown) || face.Shown(shown) != shown {
			t.Fatalf("%q is shown as %q", words, shown)
		}
		for _, f := range []page.Face{page.Regular, page.Bold, page.Mono} {
			if w := face.Width(f, 10, words); w < 0 || shown != "" && w == 0 {
				t.Fatalf("%q is %v wide", words, w)
			}
		}
	})
}
