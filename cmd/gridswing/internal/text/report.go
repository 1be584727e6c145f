package text

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/machine/check"
)

// Report writes the report. What holds nothing but what is clear is told in short, unless it is
// asked for in full.
func Report(w io.Writer, look terminal.Look, r *check.Report, full bool) error {
	p := &page{w: w, look: look, full: full}
	p.line("%s", p.headline(r))
	p.summary(r)
	p.operations(r)
	p.findings(r)
	p.list("Warnings", r.Warnings)
	p.program(r)
	if p.full {
		p.list("Wrong with tools that no operation uses", r.UnusedTools)
	}
	if r.Reach != nil {
		p.between(r.Reach)
	}
	if r.Stack != nil {
		p.seats(r.Stack)
		p.locations(r.Stack)
	}
	p.keyIn(r)
	p.loads(r)
	p.inShort()
	p.closest(r)
	p.swept(r)
	p.fastening(r)
	p.placed(r)
	p.modelled(r)
	if r.Program != nil {
		p.list("Assumed of the program", r.Program.Assumed)
	}
	p.list("Assumed", Assumed(r))
	p.list("Stated by the files, not checked", r.Stated)
	p.list("Left to the makers", LeftToMakers(r))
	p.heading("Caution")
	for _, c := range r.Caution {
		p.wrapped("", 3, c)
	}
	return p.err
}

// LeftToMakers says what is not looked at, being the makers' own.
func LeftToMakers(r *check.Report) []string {
	if len(r.LeftToMaker) == 0 {
		return nil
	}
	return []string{"bodies of one unit are not checked against each other: " + strings.Join(r.LeftToMaker, ", ")}
}

// Assumed lists what was assumed, of the stock first.
func Assumed(r *check.Report) []string {
	if r.Reach == nil {
		return r.Assumed
	}
	return slices.Concat(r.Reach.Cautious, r.Assumed)
}

// VerdictLine writes the verdict of a setup in one line, with the setup's file and the program's.
func VerdictLine(w io.Writer, look terminal.Look, r *check.Report) error {
	p := &page{w: w, look: look}
	files := r.File
	if g := r.Program; g != nil {
		files += ", " + g.File
		if g.Fault != nil {
			files += fmt.Sprintf(", not read from line %d of %s on", g.Fault.Line, g.Fault.File)
		}
	}
	p.line("%s (%s)", p.headline(r), files)
	return p.err
}

// headline returns the verdict, how many warnings go with it, and the setup.
func (p *page) headline(r *check.Report) string {
	words := p.verdict(r.Verdict)
	if n := len(r.Warnings); n > 0 {
		words += ", " + p.styled(yellow, plural(n, "warning"))
	}
	return words + ": " + p.bold(r.Setup)
}

// verdict returns the word, coloured where colour is to be had.
func (p *page) verdict(v check.Verdict) string {
	switch v {
	case check.Clear:
		return p.styled(green, v.String())
	case check.Tight, check.Unproven:
		return p.styled(yellow, v.String())
	}
	return p.styled(red, v.String())
}

// summary says what the verdict rests on, and what it is about.
func (p *page) summary(r *check.Report) {
	p.said(Summary(r))
	p.wrapped("", 3, fmt.Sprintf("Machine %s, setup file %s", r.Machine, r.File))
}

// Line is a sentence or two; a strong one must not be overlooked.
type Line struct {
	Words  string
	Strong bool
}

// Summary says what the verdict is worth: where the spindle side was looked at, whether the
// program was read, how many operations and pairs of bodies were looked at.
func Summary(r *check.Report) []Line {
	lines := []Line{{Words: meaning(r)}}
	if words := spindle(r); words != "" {
		lines = append(lines, Line{words, true})
	}
	lines = append(lines, programSummary(r)...)
	lines = append(lines, reached(r)...)
	return append(lines, Line{Words: counted(r)})
}

// said writes lines.
func (p *page) said(lines []Line) {
	for _, l := range lines {
		if l.Strong {
			l.Words = p.bold(l.Words)
		}
		p.wrapped("", 3, l.Words)
	}
}

// meaning says what the verdict is worth.
func meaning(r *check.Report) string {
	missing := notModelled(r)
	if len(r.Pairs) == 0 && len(r.Findings) == 0 {
		return missing + "No two bodies of the setup can meet: there is nothing to look at, and nothing is proven."
	}
	if words := stackMeaning(r); words != "" {
		return missing + words
	}
	switch r.Verdict {
	case check.Contact:
		return missing + meet(r)
	case check.OverTravel:
		return missing + beyond(r)
	case check.Overload:
		return missing + overloaded(r)
	case check.WithinPlay:
		return missing + "Apart as drawn, but bodies may meet as they are located: as bad as contact."
	case check.Tight:
		return missing + "Proven not to meet anywhere in the ranges looked at, but closer than demanded."
	case check.Clear:
		if r.Program != nil {
			return "Proven at least the demanded clearance apart at every position in the ranges looked at and on every move of the program, of the models given."
		}
		return "Proven at least the demanded clearance apart at every position in the ranges looked at, of the models given."
	}
	if missing != "" {
		return missing
	}
	if r.Reach != nil || slices.ContainsFunc(r.Findings, func(f check.Finding) bool { return f.Question == check.Carrying }) {
		return "Something could not be told: as long as that is so, it counts as not clear."
	}
	return "It could not be told whether bodies meet: as long as that is so, it counts as not clear."
}

// meet says what meets what.
func meet(r *check.Report) string {
	const bodies, below = "Bodies meet, or one is inside another.", "A cutter goes below the finished surface."
	others := slices.ContainsFunc(r.Findings, func(f check.Finding) bool { return f.Verdict == check.Contact && f.Question != check.Gouging })
	switch {
	case !asks(r, check.Contact, check.Gouging):
		return bodies
	case others:
		return bodies + " " + below
	}
	return below
}

// beyond says what is asked for that cannot be had.
func beyond(r *check.Report) string {
	sentences := []struct{ question, words string }{
		{check.Travels, "An axis is asked beyond its travel."},
		{check.Presents, "A feature is not presented to the tool."},
	}
	var parts []string
	for _, s := range sentences {
		if asks(r, check.OverTravel, s.question) {
			parts = append(parts, s.words)
		}
	}
	if len(parts) == 0 {
		return sentences[0].words
	}
	return strings.Join(parts, " ")
}

// overloaded says what is given more than it takes.
func overloaded(r *check.Report) string {
	const takes, carries = "The magazine does not take a tool.", "Something carries more than it is rated for."
	switch {
	case !asks(r, check.Overload, check.Stored):
		return carries
	case !asks(r, check.Overload, check.Carrying):
		return takes
	}
	return takes + " " + carries
}

// asks reports whether there is a finding of a verdict on a question.
func asks(r *check.Report, v check.Verdict, question string) bool {
	return slices.ContainsFunc(r.Findings, func(f check.Finding) bool { return f.Verdict == v && f.Question == question })
}

// counted says how many pairs have which verdict, worst first.
func counted(r *check.Report) string {
	counts := map[check.Verdict]int{}
	for i := range r.Pairs {
		counts[r.Pairs[i].Verdict]++
	}
	var parts []string
	if len(r.Pairs) == 0 {
		return "0 pairs of bodies looked at."
	}
	for _, v := range check.Verdicts() {
		if n := counts[v]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, v))
		}
	}
	return fmt.Sprintf("%s of bodies looked at: %s.", plural(len(r.Pairs), "pair"), strings.Join(parts, ", "))
}

// notModelled names what keeps the whole from being proven.
func notModelled(r *check.Report) string {
	var missing []string
	for _, q := range r.Presence {
		if q.State == check.NotModelled {
			missing = append(missing, q.What)
		}
	}
	if len(missing) == 0 {
		return ""
	}
	return fmt.Sprintf("Not modelled and not declared absent, so that nothing is proven of the whole: %s. ", strings.Join(missing, ", "))
}

func (p *page) findings(r *check.Report) {
	if len(r.Findings) == 0 {
		return
	}
	p.heading("Not clear, worst first")
	if words := PointsAre(r.Findings); words != "" {
		p.wrapped("", 3, "("+words+")")
	}
	short := map[int]bool{}
	if !p.full {
		short = AlsoThere(r.Findings)
	}
	if len(short) > 0 {
		p.wrapped("", 3, "(of what is equally bad on one line of the program, the first is told at length; --full does so of all)")
	}
	for i := range r.Findings {
		if short[i] {
			p.alsoThere(i+1, &r.Findings[i])
			continue
		}
		if i > 0 {
			p.line("")
		}
		p.finding(i+1, r, &r.Findings[i])
	}
}

// AlsoThere tells which findings follow one that is equally bad and on the same line of a program: one move
// that goes where it should not meets many bodies.
func AlsoThere(list []check.Finding) map[int]bool {
	short := map[int]bool{}
	for i := 1; i < len(list); i++ {
		f, before := &list[i], &list[i-1]
		moved := f.Question == check.Posted || f.Question == check.Gouging
		if moved && f.Line > 0 && f.Line == before.Line && f.ProgramFile == before.ProgramFile && f.Verdict == before.Verdict &&
			f.Bodies[1] != "" && before.Bodies[1] != "" {
			short[i] = true
		}
	}
	return short
}

// alsoThere writes such a finding: its bodies, and how bad it is.
func (p *page) alsoThere(number int, f *check.Finding) {
	words := p.verdict(f.Verdict) + ": " + p.subject(f) + ", there too"
	if f.Depth != nil {
		words += ": " + Depth(f)
	} else if c := clearance(f); c != "" {
		words += ": " + c
	}
	p.wrapped(fmt.Sprintf("%2d ", number), 3, words)
}

// PointsAre says in which coordinates points are given; "" where none are.
func PointsAre(list []check.Finding) string {
	if !slices.ContainsFunc(list, func(f check.Finding) bool { return f.Points != nil }) {
		return ""
	}
	if slices.ContainsFunc(list, func(f check.Finding) bool { return f.PartPoint != nil }) {
		return "points are given in the machine's coordinates, everything standing as said; \"in the part\" is the same point in the part's own"
	}
	return "points are given in the machine's coordinates"
}

func (p *page) modelled(r *check.Report) {
	states := Presence(r)
	if len(states) == 0 {
		return
	}
	p.heading("What could be hit")
	for _, s := range states {
		p.wrapped("   "+s[0], 20, s[1])
	}
}

// Presence lists what could be hit by whether it is modelled: the state, and what is in it.
func Presence(r *check.Report) (states [][2]string) {
	for _, q := range r.Presence {
		i := slices.IndexFunc(states, func(s [2]string) bool { return s[0] == q.State })
		if i < 0 {
			states = append(states, [2]string{q.State, q.What})
			continue
		}
		states[i][1] += ", " + q.What
	}
	return states
}

func (p *page) list(name string, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.heading(name)
	for _, l := range lines {
		p.wrapped("   - ", 5, l)
	}
}

// Brief writes the verdict and the findings of a report, a line each, those that
// follow each other under what they were asked.
func Brief(w io.Writer, look terminal.Look, r *check.Report) error {
	p := &page{w: w, look: look}
	p.line("%s", p.headline(r))
	p.said(Summary(r))
	asked := ""
	for i := range r.Findings {
		f := &r.Findings[i]
		if q := Question(f); q != asked {
			asked = q
			p.wrapped("", 3, strings.ToUpper(q[:1])+q[1:]+":")
		}
		p.briefly(f)
	}
	if len(r.Closest) > 0 {
		p.wrapped("", 3, "Closest of what is clear:")
		p.near(&r.Closest[0])
	}
	return p.err
}
