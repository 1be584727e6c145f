package pages

import (
	"regexp"
	"slices"
	"strings"

	"gridswing/render/page/layout"
)

// flow is a layout.Flow whose words are set as printers have them: signs are minus signs, and a
// number is not parted from its unit, or from its axis, at the end of a line. Names keep their hyphens.
type flow struct{ *layout.Flow }

func newFlow(o layout.Options) flow { return flow{layout.New(o)} }

var (
	negative = regexp.MustCompile(`(^|[\s(\[,])-(\d)`)
	withUnit = regexp.MustCompile(`(\d\]?) (mm|inch|deg|degrees|kg|lb|lbf|N|kN|cm3|minutes|s|min|h)\b`)
	onAxis   = regexp.MustCompile(`\b([XYZUVWABC]\d?) ([\x{2212}+-]?\d)`)
	torques  = regexp.MustCompile(`\b(N|lbf) (m|ft)\b`)
)

// typeset returns words as they are set.
func typeset(words string) string {
	if strings.Contains(words, "-") {
		words = negative.ReplaceAllString(words, "$1\u2212$2")
	}
	words = onAxis.ReplaceAllString(words, "$1\u00a0$2")
	words = withUnit.ReplaceAllString(words, "$1\u00a0$2")
	return torques.ReplaceAllString(words, "$1\u00a0$2")
}

func typesetAll(lines []string) []string {
	lines = slices.Clone(lines)
	for i := range lines {
		lines[i] = typeset(lines[i])
	}
	return lines
}

func (f flow) Text(words string)               { f.Flow.Text(typeset(words)) }
func (f flow) Strong(words string)             { f.Flow.Strong(typeset(words)) }
func (f flow) Small(words string)              { f.Flow.Small(typeset(words)) }
func (f flow) Subheading(words string)         { f.Flow.Subheading(typeset(words)) }
func (f flow) Framed(heavy bool, words string) { f.Flow.Framed(heavy, typeset(words)) }
func (f flow) Bullets(lines []string)          { f.Flow.Bullets(typesetAll(lines)) }
func (f flow) Ticks(lines []string)            { f.Flow.Ticks(typesetAll(lines)) }

func (f flow) Facts(columns int, facts []layout.Fact) {
	facts = slices.Clone(facts)
	for i := range facts {
		facts[i].Value = typeset(facts[i].Value)
	}
	f.Flow.Facts(columns, facts)
}

func (f flow) Table(t layout.Table) {
	t.Columns, t.Rows, t.Note = slices.Clone(t.Columns), slices.Clone(t.Rows), typeset(t.Note)
	for i := range t.Columns {
		t.Columns[i].Head = typeset(t.Columns[i].Head)
	}
	high := 5.3
	for i := range t.Columns {
		if t.Columns[i].Fill {
			high = 7.5
		}
	}
	for i := range t.Rows {
		t.Rows[i].Cells = typesetAll(t.Rows[i].Cells)
	}
	if high*float64(len(t.Rows)) > smallTable {
		f.Flow.Table(t)
		return
	}
	f.Keep(func() { f.Flow.Table(t) })
}

// smallTable is how high the rows of a table may be, mm, that is not parted over two pages.
const smallTable = 45.0

func (f flow) Figures(figs []layout.Figure) {
	for i := range figs {
		figs[i].Caption = typeset(figs[i].Caption)
	}
	f.Flow.Figures(figs)
}

func (f flow) Figure(fig layout.Figure) { f.Figures([]layout.Figure{fig}) }
