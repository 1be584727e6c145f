package posted

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"gridswing/machine/check"
	"gridswing/machine/program"
)

// What follows each other of one kind is one finding: of the same bodies with the same tool, on steps that are
// not more than apart from each other. Of one kind there are so many findings at most, the last of which
// is about all that follows.
const (
	apart    = 64
	mostRuns = 4
	// mostFindings is how many findings there are at most, the worst of them.
	mostFindings = 200
)

// kind tells findings from others.
type kind struct {
	question string
	a, b     int
	what     string
	tool     int
}

// run is one finding while the program goes on.
type run struct {
	worst       hit
	finding     check.Finding
	first, last program.Place
	lastStep    int64
	steps       int64
	more        int  // how many runs after this one are in it
	rough       bool // of some steps it is not known
}

// notes are what was found so far.
type notes struct {
	runs  map[kind][]*run
	steps int64 // of the chunks before
	left  int   // findings that are left out
}

func newNotes() *notes { return &notes{runs: map[kind][]*run{}} }

// chunk takes down what was found on a chunk, chunk by chunk in their order.
func (n *notes) chunk(ch *chunk, hits []hit) {
	slices.SortStableFunc(hits, func(a, b hit) int { return cmp.Compare(a.step, b.step) })
	var begun []*run // those of which something here is the worst
	for i := range hits {
		if r := n.hit(ch, &hits[i]); r != nil {
			begun = append(begun, r)
		}
	}
	for _, r := range begun {
		if r.worst.tell != nil {
			r.finding = r.worst.tell()
			n.place(ch, r)
			r.worst.tell = nil
		}
	}
	n.steps += int64(len(ch.steps))
}

// hit takes down one hit; it returns the run of which it is the worst so far, if it is.
func (n *notes) hit(ch *chunk, h *hit) *run {
	s := &ch.steps[h.step]
	at := n.steps + int64(h.step)
	key := kind{h.question, h.a, h.b, h.what, ch.called}
	list := n.runs[key]
	var r *run
	if len(list) > 0 {
		r = list[len(list)-1]
	}
	switch {
	case r == nil || at > r.lastStep+apart && len(list) < mostRuns:
		r = &run{worst: *h, first: s.Place, last: s.Place, lastStep: at, steps: 1, rough: h.rough}
		n.runs[key] = append(list, r)
		return r
	case at > r.lastStep+apart:
		r.more++
	}
	if at != r.lastStep {
		r.steps++
	}
	r.rough = r.rough || h.rough
	r.last, r.lastStep = s.Place, at
	if !h.worse(&r.worst) {
		return nil
	}
	r.worst = *h
	return r
}

// place says where the worst of a run is.
func (n *notes) place(ch *chunk, r *run) {
	f, s := &r.finding, &ch.steps[r.worst.step]
	f.Question, f.Verdict, f.Index = r.worst.question, r.worst.verdict, [2]int{r.worst.a, r.worst.b}
	f.Line, f.ProgramFile, f.Block = s.Line, s.File, ch.block(s)
	began := s.began
	f.Seconds = &began
	if ch.tool != noTool {
		tool := ch.called
		f.Tool = &tool
	}
}

// findings lists what was found, the worst of it first, and of what is equally bad what comes first, on one
// line what is deepest.
func (n *notes) findings(file string) (list []check.Finding) {
	keys := slices.SortedFunc(maps.Keys(n.runs), func(a, b kind) int {
		return cmp.Or(cmp.Compare(a.question, b.question), cmp.Compare(a.tool, b.tool), cmp.Compare(a.a, b.a), cmp.Compare(a.b, b.b), cmp.Compare(a.what, b.what))
	})
	for _, key := range keys {
		for _, r := range n.runs[key] {
			f := r.finding
			f.Reason = joined(f.Reason, r.extent())
			if f.ProgramFile == file {
				f.ProgramFile = ""
			}
			list = append(list, f)
		}
	}
	slices.SortStableFunc(list, func(a, b check.Finding) int {
		if a.Verdict != b.Verdict {
			if a.Verdict.Worse(b.Verdict) {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(when(&a), when(&b)), strings.Compare(a.ProgramFile, b.ProgramFile), cmp.Compare(a.Line, b.Line), cmp.Compare(deep(&b), deep(&a)))
	})
	if len(list) > mostFindings {
		n.left = len(list) - mostFindings
		list = list[:mostFindings]
	}
	return list
}

// when a finding is, seconds from the beginning of the program.
func when(f *check.Finding) float64 {
	if f.Seconds == nil {
		return 0
	}
	return *f.Seconds
}

// deep is how deep bodies are in each other, mm; that they are deeper than is looked for counts as mostDepth.
func deep(f *check.Finding) float64 {
	switch {
	case f.Depth != nil:
		return *f.Depth
	case f.Verdict == check.Contact:
		return mostDepth
	}
	return 0
}

// worstOf is the worst that was found of two bodies with a tool.
func (n *notes) worstOf(a, b, tool int) check.Verdict {
	worst := check.Clear
	for key, runs := range n.runs {
		if key.question != check.Posted || key.a != a || key.b != b || key.tool != tool {
			continue
		}
		for _, r := range runs {
			if r.worst.verdict.Worse(worst) {
				worst = r.worst.verdict
			}
		}
	}
	return worst
}

// extent says on which lines it is so; nothing where it is one.
func (r *run) extent() string {
	if r.steps == 1 || r.first == r.last {
		return ""
	}
	first, last := lineOf(&r.first), lineOf(&r.last)
	if r.first.File != r.last.File {
		first, last = r.first.File+" "+first, r.last.File+" "+last
	}
	words := fmt.Sprintf("on %d moves, %s to %s", r.steps, first, last)
	if r.rough {
		words = fmt.Sprintf("on up to %d moves, %s to %s", r.steps, first, last)
	}
	if r.more > 0 {
		words += fmt.Sprintf(", with breaks: %d times", r.more+1)
	}
	return words
}

func lineOf(p *program.Place) string { return fmt.Sprintf("line %d", p.Line) }

// joined puts reasons one behind the other.
func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}
