package driver

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/screws"
)

// write adds what was found to the report.
func (c *checker) write(r *check.Report) {
	out := c.fastening()
	r.Fastening = out
	c.margins(r)
	r.Findings = append(r.Findings, c.headFindings()...)
	if slices.ContainsFunc(c.screws, func(w *screw) bool { return w.solid != nil }) {
		r.Assumed = append(r.Assumed, headsWhere)
	}
	if of := c.headless(); len(of) > 0 {
		r.Assumed = append(r.Assumed, "heads of screws are not in the model where it is not known where they are: of "+strings.Join(of, ", "))
	}
	if len(c.setup.Drivers) == 0 {
		r.Assumed = append(r.Assumed, "no driver is stated: whether screws can be got at is not looked at")
	} else {
		c.report(r)
	}
	if !out.Stated && slices.ContainsFunc(out.Screws, func(s check.Screw) bool { return s.Torque != nil }) {
		r.Assumed = append(r.Assumed, fmt.Sprintf(
			"preloads and torques are for a friction of %g in threads and under heads, which the setup does not state", out.Friction))
	}
	r.Conclude()
}

// headsWhere says for which position heads are looked at.
const headsWhere = "heads of screws with a stated clamped are looked at where the setup is loaded, not while the axes go"

// headless lists the components of screws whose heads could not be put in their places.
func (c *checker) headless() (of []string) {
	for _, w := range c.screws {
		if w.solid == nil && len(w.headed) == 0 && !slices.Contains(of, w.of) {
			of = append(of, w.of)
		}
	}
	return of
}

// fastening lists the screws with what they are tightened with.
func (c *checker) fastening() *check.Fastening {
	s := c.setup
	f := &check.Fastening{Order: s.Loading.Order, Friction: s.Friction, Stated: s.Friction > 0, Drivers: []string{}, Screws: []check.Screw{}}
	if !f.Stated {
		f.Friction = check.AssumedFriction
	}
	f.At = c.loadedAt()
	for _, d := range s.Drivers {
		f.Drivers = append(f.Drivers, d.Name)
	}
	for _, w := range c.screws {
		f.Screws = append(f.Screws, w.line(f.Friction, len(s.Drivers) > 0))
	}
	return f
}

func (c *checker) loadedAt() (list []check.Position) {
	for k := range c.setup.Axes {
		list = append(list, check.PositionOf(&c.setup.Axes[k], c.setup.Loading.At[k]))
	}
	return list
}

// line is a screw's line in the list.
func (w *screw) line(friction float64, looked bool) check.Screw {
	l := check.Screw{Of: w.of, Name: w.Name, Thread: w.Thread, Class: w.Class, Below: w.FromBelow}
	if u := w.Under; u != nil {
		l.Into = u.Unit + "/" + u.Grid + " " + u.Hole
	}
	if w.Length > 0 {
		l.Length = &w.Length
	}
	// A head of its own bears on a face that is not known.
	if class, err := screws.ClassOf(w.Class); err == nil && w.known && w.Head == nil {
		if t, err := class.Tighten(w.size, friction); err == nil {
			l.Preload, l.Torque = &t.Preload, &t.Torque
		}
	}
	if looked {
		v := check.Unproven
		if w.best != nil {
			l.Driver, v = w.best.driver.Name, w.best.verdict
		}
		l.Verdict = &v
	}
	return l
}

// told is the worst that is known of the screws of a component, one driver and another body.
type told struct {
	name string
	*screw
	*meeting
	more int // screws with which it is not clear either
}

// doubts lists why screws could not be looked at, those of one thread of a component
// together.
func (c *checker) doubts() (list []check.Finding) {
	type key struct{ of, thread, doubt string }
	names := map[key][]string{}
	var order []key
	for _, w := range c.screws {
		if k := (key{w.of, w.Thread, w.doubt}); w.doubt != "" {
			if names[k] == nil {
				order = append(order, k)
			}
			names[k] = append(names[k], w.Name)
		}
	}
	for _, k := range order {
		words := namedTogether(names[k], k.thread, k.of)
		list = append(list, check.Finding{
			Verdict: check.Unproven, Question: check.Driving, Bodies: [2]string{k.of}, Index: [2]int{-1, -1},
			Reason: fmt.Sprintf(k.doubt, words), At: []check.Position{}, Over: []check.Range{}, Params: c.setup.Loading.At,
		})
	}
	return list
}

// namedTogether names screws of one thread of a component.
func namedTogether(names []string, thread, of string) string {
	words := "screw "
	if len(names) > 1 {
		words = "screws "
	}
	return words + fmt.Sprintf("%s (%s) of %s", strings.Join(names, ", "), thread, of)
}

// report adds findings and lines: one for each component, driver and body that it
// meets, and why screws could not be looked at.
func (c *checker) report(r *check.Report) {
	r.Findings = append(r.Findings, c.doubts()...)
	for _, t := range c.worst() {
		r.Pairs = append(r.Pairs, check.Pair{
			Question: check.Driving, Bodies: [2]string{t.name + " at the screws of " + t.of, c.setup.Bodies[t.other].Name},
			Verdict: t.Verdict, Demand: t.question.Demand, Proven: proof.Finite(t.Out.Lower),
		})
		if t.Verdict != check.Clear {
			r.Findings = append(r.Findings, c.finding(t))
		}
		for _, text := range t.Stated {
			if !slices.Contains(r.Stated, text) {
				r.Stated = append(r.Stated, text)
			}
		}
	}
}

// worst finds what to tell of each component, driver and body, in the order of loading.
func (c *checker) worst() (list []*told) {
	type key struct {
		of, driver string
		other      int
	}
	seen := map[key]*told{}
	for _, w := range c.screws {
		if w.best == nil {
			continue
		}
		for i := range w.best.met {
			m := &w.best.met[i]
			k := key{w.of, w.best.driver.Name, m.other}
			t := seen[k]
			if t == nil {
				t = &told{name: w.best.driver.Name, screw: w, meeting: m, more: -1}
				seen[k] = t
				list = append(list, t)
			}
			if m.Verdict != check.Clear {
				t.more++
			}
			if m.worse(t.meeting) {
				t.screw, t.meeting = w, m
			}
		}
	}
	return list
}

// worse orders by verdict, then by what is left of the demand.
func (m *meeting) worse(n *meeting) bool {
	if m.Verdict != n.Verdict {
		return m.Verdict.Worse(n.Verdict)
	}
	return m.Out.Lower-m.question.Demand < n.Out.Lower-n.question.Demand
}

func (c *checker) finding(t *told) check.Finding {
	free := t.best.driver.Free
	height := t.Out.At[0] * free
	f := check.Finding{
		Verdict: t.Verdict, Question: check.Driving, Demand: t.question.Demand, DemandReason: t.why,
		Bodies: [2]string{fmt.Sprintf("%s at %s", t.name, t.words()), c.setup.Bodies[t.other].Name},
		Index:  [2]int{-1, t.other}, Params: c.setup.Loading.At, Reason: t.Reason,
		At:   append(c.loadedAt(), check.Position{Axis: aboveHead, Value: tidy(height), Unit: "mm"}),
		Over: []check.Range{{Axis: aboveHead, To: tidy(free), Unit: "mm"}},
	}
	if t.more > 0 {
		f.Reason = joined(f.Reason, fmt.Sprintf("not clear at %d more of its screws", t.more))
	}
	body := t.best.body.Chain.Pose(motion.Params{t.Out.At[0]})
	t.Answer.Tell(&f, &body)
	return f
}

// aboveHead stands for an axis: how far above the head of its screw a driver is.
const aboveHead = "height above the head"

func joined(a, b string) string {
	if a == "" {
		return b
	}
	return a + "; " + b
}

// tidy takes off what float64 arithmetic leaves of a round number.
func tidy(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }
