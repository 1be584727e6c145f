package pages

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/binder"
	"gridswing/cmd/gridswing/internal/text"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/render/page"
	"gridswing/render/page/layout"
)

// Why is the worst of what is not clear, in a few words, in the pages' unit; "" if all is.
func (s *Setup) Why(o Options) string {
	switch r := s.Report; {
	case len(r.Findings) > 0:
		return text.NewLengths(s.unit(o.Units), s.kept()).Words(r.Findings[0].Short())
	case r.Verdict != check.Clear:
		var lacking []string
		for _, p := range r.Presence {
			if p.State == machine.NotModelled {
				lacking = append(lacking, p.What)
			}
		}
		if len(lacking) > 0 {
			return "not modelled: " + strings.Join(lacking, ", ")
		}
		return "nothing was looked at"
	}
	return ""
}

// front is a front page being set.
type front struct {
	*binder.Summary
	flow   *layout.Flow
	ending string // of the pages that it leads to
}

// Front sets the front page of a binder: what it comes to, what changed since the front page
// before, what is not clear, the worst first, and all setups by name. Its rows lead to the pages
// of this ending, such as ".pdf", if there are such.
func Front(b *binder.Summary, o Options, ending string) *page.Document {
	f := &front{Summary: b, ending: ending}
	f.flow = layout.New(layout.Options{Format: o.Format, Head: f.head, Foot: f.foot})
	f.flow.NewPage("Front page")
	f.flow.Title("Binder", f.about())
	f.verdict()
	f.totals()
	f.changes()
	f.notClear()
	f.all()
	f.flow.Space(4)
	f.flow.Keep(func() {
		for _, words := range b.Caution {
			f.flow.Small(words)
		}
	})
	return f.flow.Finish("Binder of "+counted(len(b.Setups), "setup"), "Setups, their verdicts, and what changed")
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// about says how many setups there are, and of which day their files are.
func (f *front) about() string {
	words, newest := counted(len(f.Setups), "setup"), ""
	for i := range f.Setups {
		newest = max(newest, f.Setups[i].Date)
	}
	if newest != "" {
		words += ", whose files were changed last on " + newest + " (UTC)"
	}
	return words
}

func (f *front) head(strip *layout.Strip, number, total int) {
	strip.Left("Binder")
	strip.Right(counted(len(f.Setups), "setup"))
}

func (f *front) foot(strip *layout.Strip, number, total int) {
	strip.Left(Totals(f.Summary))
	strip.Right(fmt.Sprintf("Page %d of %d", number, total))
	strip.Below(inShort)
}

// words lists what setups of a binder have for a word, the worst first.
func words(s *binder.Summary) (list []string) {
	for word := range s.Totals {
		list = append(list, word)
	}
	slices.SortFunc(list, func(a, b string) int { return cmp.Or(RankOf(a)-RankOf(b), strings.Compare(a, b)) })
	return list
}

// Totals says how many setups have which verdict, or none: "1 fault, 2 contact, 9 clear".
func Totals(s *binder.Summary) string {
	var list []string
	for _, word := range words(s) {
		list = append(list, fmt.Sprintf("%d %s", s.Totals[word], word))
	}
	return strings.Join(list, ", ")
}

// states are the words of setups whose pages are not what their files say, worst first, with what
// they mean.
var states = []struct{ word, means string }{
	{binder.FaultyState, "no pages could be made: pages that are there are of an earlier state"},
	{binder.OutdatedState, "the pages are not what the files say"},
	{binder.MissingState, "no pages were made as yet"},
}

// RankOf orders words of setups, the worst first.
func RankOf(word string) int {
	for i, s := range states {
		if s.word == word {
			return i
		}
	}
	for i, v := range check.Verdicts() {
		if v.String() == word {
			return len(states) + i
		}
	}
	return len(states) // a word that this program does not know is as bad as any
}

// markOfWord is the mark of a verdict; a state has the heaviest.
func markOfWord(word string) layout.Mark {
	for _, v := range check.Verdicts() {
		if v.String() == word {
			return markOf(v)
		}
	}
	return layout.Square
}

// verdict frames what the binder comes to.
func (f *front) verdict() {
	switch {
	case len(f.Setups) == 0:
		f.flow.Framed(true, "There is no setup in this binder.")
	case f.Clear():
		f.flow.Framed(false, "CLEAR: so are all setups.")
	case f.Whole():
		f.flow.Framed(true, fmt.Sprintf("NOT ALL CLEAR: %s. A setup that is not clear is %s.", Totals(f.Summary), notClear))
	default:
		f.flow.Framed(true, fmt.Sprintf("NOT COMPLETE: %s. Pages whose setup has no verdict here are not to be used.", Totals(f.Summary)))
	}
}

// totals counts the setups by their words.
func (f *front) totals() {
	t := layout.Table{Columns: []layout.Column{{Head: "verdict"}, {Head: "setups", Align: page.Right}, {Head: "since the front page before"}}}
	told := false
	for _, word := range words(f.Summary) {
		turned, fresh := 0, 0
		for i := range f.Setups {
			if x := &f.Setups[i]; x.Word() == word {
				if x.Was != "" {
					turned++
				}
				if x.Change == binder.NewSetup {
					fresh++
				}
			}
		}
		var since []string
		if fresh > 0 {
			since = append(since, fmt.Sprintf("%d new", fresh))
		}
		if turned > 0 {
			since = append(since, fmt.Sprintf("%d of them had another verdict", turned))
		}
		told = told || len(since) > 0
		t.Rows = append(t.Rows, layout.Row{Mark: markOfWord(word), Strong: word != check.Clear.String(),
			Cells: []string{word, fmt.Sprint(f.Totals[word]), strings.Join(since, ", ")}})
	}
	if !told {
		t.Columns = t.Columns[:2]
	}
	f.flow.Table(t)
	for _, s := range states {
		if f.Totals[s.word] > 0 {
			f.flow.Small(s.word + ": " + s.means + ".")
		}
	}
}

// mostSame is of how many setups with other files and the verdict of before it is told one by one.
const mostSame = 20

// changes says what is not as the front page before had it: other verdicts first, then what is new
// or gone, then what was made of other files.
func (f *front) changes() {
	f.flow.Heading("Changed since the front page before")
	count := map[string]int{}
	var turned, fresh, same []layout.Row
	for i := range f.Setups {
		x := &f.Setups[i]
		if x.Was == "" {
			count[x.Change]++ // what has another verdict is told one by one
		}
		row := layout.Row{Mark: markOfWord(x.Word()), Strong: x.Was != "", Link: f.link(x), Cells: []string{named(x), x.Change, cmp.Or(x.Was, x.Word()), x.Word()}}
		switch {
		case x.Was != "":
			if x.Change == binder.Unchanged {
				row.Cells[1] = ""
			}
			turned = append(turned, row)
		case x.Change == binder.NewSetup:
			row.Cells[2] = ""
			fresh = append(fresh, row)
		case x.Change == binder.ChangedInputs:
			same = append(same, row)
		}
	}
	if len(f.Setups) > 0 && len(fresh) == len(f.Setups) && len(f.Gone) == 0 {
		f.flow.Text("All setups are new: there was no front page before that told of them.")
		return
	}
	for _, g := range f.Gone {
		what := "gone"
		if len(g.Pages) > 0 {
			what = "gone: its pages are left where they are"
		}
		fresh = append(fresh, layout.Row{Cells: []string{g.Name, what, g.Was, ""}})
	}
	lines := f.rest(count)
	if n := len(same); n > mostSame {
		lines = append([]string{counted(n, "setup") + " with " + binder.ChangedInputs + " and the verdict of before."}, lines...)
		same = nil
	}
	if rows := slices.Concat(turned, fresh, same); len(rows) > 0 {
		f.flow.Table(layout.Table{Columns: []layout.Column{{Head: "setup"}, {Head: "what"}, {Head: "before"}, {Head: "now"}}, Rows: rows})
	}
	f.flow.Text(strings.Join(lines, " "))
}

// rest says what happened to the setups that are not in the table of changes.
func (f *front) rest(count map[string]int) (lines []string) {
	if n := count[binder.ChangedProgram]; n > 0 {
		lines = append(lines, counted(n, "setup")+" made anew, by another version of the program or with other options, from the same files.")
	}
	if n := count[binder.Unchanged]; n > 0 {
		lines = append(lines, counted(n, "setup")+" unchanged.")
	}
	return lines
}

// notClear lists what is not clear, the worst first.
func (f *front) notClear() {
	var list []*binder.Setup
	for i := range f.Setups {
		if x := &f.Setups[i]; x.Word() != check.Clear.String() {
			list = append(list, x)
		}
	}
	if len(list) == 0 {
		return
	}
	slices.SortStableFunc(list, func(a, b *binder.Setup) int { return RankOf(a.Word()) - RankOf(b.Word()) })
	f.flow.Heading("Not clear, worst first")
	t := layout.Table{Columns: []layout.Column{{Head: "setup", Least: 30}, {Head: "verdict"}, {Head: "the worst of it", Least: 50}}}
	for _, x := range list {
		t.Rows = append(t.Rows, layout.Row{Mark: markOfWord(x.Word()), Link: f.link(x), Cells: []string{named(x), x.Word(), because(x)}})
	}
	f.flow.Table(t)
}

// mostLines is how many lines of a fault stand on the front page.
const mostLines = 3

// because says what is wrong with a setup.
func because(x *binder.Setup) string {
	if x.State == binder.MadeState {
		return x.Why
	}
	lines := strings.Split(strings.TrimSpace(x.Fault), "\n")
	if n := len(lines) - mostLines; n > 0 {
		lines = append(lines[:mostLines], fmt.Sprintf("and %s more: summary.json has them", counted(n, "fault")))
	}
	words := strings.Join(lines, "\n")
	if len(x.Pages) > 0 {
		words += "\nThe pages there are of inputs " + short(x.Hash) + ", " + x.Date + ": not to be used."
	}
	return words
}

// short is a hash as it stands at the head of pages.
func short(hash string) string { return hash[:min(shortHash, len(hash))] }

// all lists all setups by name.
func (f *front) all() {
	f.flow.Heading("All setups")
	t := layout.Table{Columns: []layout.Column{
		{Head: "setup", Least: 34}, {Head: "part", Least: 18}, {Head: "rev."}, {Head: "machine", Least: 16}, {Head: "verdict"}, {Head: "files of"}, {Head: "inputs"},
	}}
	for i := range f.Setups {
		x := &f.Setups[i]
		row := layout.Row{Mark: markOfWord(x.Word()), Link: f.link(x), Cells: []string{named(x), x.Part, x.Revision, x.Machine, x.Word()}}
		if x.State == binder.MadeState {
			row.Cells = append(row.Cells, x.Date, short(x.Hash))
		}
		t.Rows = append(t.Rows, row)
	}
	t.Note = "Inputs: a hash of all files of the setup, which its pages have at their head. Pages with another one are of another state."
	f.flow.Table(t)
}

// named is a setup's name, and below it where it is.
func named(x *binder.Setup) string {
	if x.Title == "" || x.Title == x.Name {
		return x.Name
	}
	return x.Title + "\n" + x.Name
}

// link is the page of a setup that the front page leads to.
func (f *front) link(x *binder.Setup) string {
	if i := slices.IndexFunc(x.Pages, func(p string) bool { return p == x.Name+f.ending }); i >= 0 {
		if strings.HasPrefix(x.Pages[i], "#") { // which would lead to a page of this file
			return "./" + x.Pages[i]
		}
		return x.Pages[i]
	}
	return ""
}
