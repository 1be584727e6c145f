package swing

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
)

// write adds what was found to the report.
func (c *checker) write(r *check.Report) {
	for _, p := range c.pairs {
		r.Pairs = append(r.Pairs, c.line(p))
		switch {
		case p.Verdict != check.Clear:
			r.Findings = append(r.Findings, c.finding(p))
		case p.Sharp && !c.options.Brief:
			r.Closest = append(r.Closest, c.finding(p))
		}
		for _, text := range p.Stated {
			if !slices.Contains(r.Stated, text) {
				r.Stated = append(r.Stated, text)
			}
		}
	}
	r.Findings = append(r.Findings, c.standing()...)
	r.Chart = c.charted
	r.Assumed = append(append(r.Assumed, assumptions(c.setup)...), c.setup.Unstated...)
	r.LeftToMaker = append(r.LeftToMaker, units(c.setup)...)
	r.Conclude()
}

// units names the units of several bodies, whose own bodies are not checked
// against each other.
func units(s *machine.Setup) (names []string) {
	count := map[string]int{}
	for i := range s.Bodies {
		u := s.Bodies[i].Unit
		if count[u]++; count[u] == 2 {
			names = append(names, u)
		}
	}
	return names
}

func (c *checker) line(p *pair) check.Pair {
	line := check.Pair{
		Question: p.question, Verdict: p.Verdict, Demand: p.Demand,
		Bodies: [2]string{c.setup.Bodies[p.a].Name, c.setup.Bodies[p.b].Name},
	}
	if p.mating == nil {
		line.Proven = proof.Finite(p.Out.Lower)
	}
	return line
}

func (c *checker) finding(p *pair) check.Finding {
	s := c.setup
	f := check.Finding{
		Verdict: p.Verdict, Question: p.question, Demand: p.Demand, DemandReason: p.why,
		Bodies: [2]string{s.Bodies[p.a].Name, s.Bodies[p.b].Name},
		Where:  p.where, Reason: p.Reason,
		Params: p.Out.At, Index: [2]int{p.a, p.b},
	}
	uses := p.Moving.Motion.Uses()
	for k := range s.Axes {
		if uses[k] {
			f.At = append(f.At, check.PositionOf(&s.Axes[k], p.Out.At[k]))
			f.Over = append(f.Over, check.RangeOf(&s.Axes[k], p.Over.Lo[k], p.Over.Hi[k]))
		}
	}
	if p.mating == nil {
		if p.Verdict != check.Contact {
			f.Proven = proof.Finite(p.Out.Lower)
			f.Smallest = proof.Finite(p.Out.Upper)
		}
		if f.Smallest != nil {
			f.Nominal = proof.Finite(p.Out.Nominal)
			f.Uncertainty = p.Out.Nominal - p.Out.Upper
		}
	}
	if near := p.Out.Near; near.FacetA >= 0 && !math.IsInf(near.Distance, 1) {
		toBed := s.Pose(p.a, p.Out.At)
		a, b := toBed.Point(near.A), toBed.Point(near.B)
		f.Points = &[2][3]float64{{a.X, a.Y, a.Z}, {b.X, b.Y, b.Z}}
	}
	return f
}

// assumptions says where the spindle stands and what it holds.
func assumptions(s *machine.Setup) (lines []string) {
	axes := slices.Clone(s.Axes)
	slices.SortStableFunc(axes, func(a, b machine.Axis) int { return check.ByLetter(a.Letter, b.Letter) })
	for k := range axes {
		a := &axes[k]
		if a.Unit != "" || a.Kind != motion.Linear {
			continue
		}
		lo, hi, why := check.SpindleAt(a)
		switch why {
		case check.AtCommanded:
			lines = append(lines, fmt.Sprintf("for the spindle side, %s may stand anywhere from %s to %s mm", a.Letter, millimetres(lo), millimetres(hi)))
		default:
			lines = append(lines, fmt.Sprintf("for the spindle side, %s stands at %s mm, %s", a.Letter, millimetres(lo), why))
		}
	}
	if t := s.Tool; t != nil {
		lines = append(lines, fmt.Sprintf(
			"the tool is a plain cylinder around the longest and fattest one: diameter %s mm, gauge line to foremost point %s mm",
			millimetres(t.Diameter), millimetres(t.Length)))
		if carried := spindleSide(s); len(carried) > 0 {
			lines = append(lines, "the tool is not looked at against the spindle side itself, which is left to its maker: "+strings.Join(carried, ", "))
		}
	}
	return lines
}

// spindleSide names what else moves with the branch that carries the tool.
func spindleSide(s *machine.Setup) (names []string) {
	for i := range s.Bodies {
		if b := &s.Bodies[i]; b.OnTool && b.Role != "tool" {
			names = append(names, b.Name)
		}
	}
	return names
}

// millimetres prints an axis position to 0.001 mm, without needless zeros.
func millimetres(mm float64) string {
	return strconv.FormatFloat(math.Round(mm*1000)/1000+0, 'f', -1, 64) // + 0: no -0
}
