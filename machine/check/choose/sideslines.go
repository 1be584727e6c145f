package choose

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/reach"
)

// lines says for each operation what to write so that it stands as planned: the axes that stand
// still for all of its features.
func (c *sideChoice) lines(p *SidePlan) []SideLine {
	list := []SideLine{}
	for i := 0; i < len(c.offers); {
		first := i
		for i < len(c.offers) && c.offers[i].Operation == c.offers[first].Operation {
			i++
		}
		list = append(list, c.line(c.offers[first:i], p.Stands[first:i]))
	}
	return list
}

func (c *sideChoice) line(offers []reach.Offer, chosen []int) SideLine {
	l := SideLine{Operation: c.setup.Operations[offers[0].Operation].Name, At: []check.Position{}}
	var words, moving []string
	missing := false
	for _, k := range offers[0].Moves {
		a := &c.setup.Axes[k]
		v, still := math.NaN(), true
		for i := range offers {
			s := &offers[i].Stands[chosen[i]]
			if !s.Possible {
				missing = true
				continue
			}
			if math.IsNaN(v) {
				v = s.Rotary[k]
			}
			still = still && nanoOf(s.Rotary[k]) == nanoOf(v)
		}
		switch {
		case math.IsNaN(v): // nothing goes there
		case !still:
			moving = append(moving, a.Letter)
		default:
			pos := check.PositionOf(a, v)
			pos.Value = microDegrees(pos.Value)
			l.At = append(l.At, pos)
			words = append(words, a.Letter+" = "+strconv.FormatFloat(pos.Value, 'f', -1, 64))
		}
	}
	var notes []string
	if len(words) > 0 {
		l.Line = "positions = { " + strings.Join(words, ", ") + " }"
	}
	if len(moving) > 0 {
		stand := " stands"
		if len(moving) > 1 {
			stand = " stand"
		}
		notes = append(notes, strings.Join(moving, " and ")+stand+" differently from feature to feature, so no line holds it: to be sure, make an operation of each position")
	}
	if missing {
		notes = append(notes, "not every feature of it can be stood at there")
	}
	l.Note = strings.Join(notes, "; ")
	return l
}

// microDegrees rounds to what a file is given: a millionth of a degree.
func microDegrees(deg float64) float64 { return math.Round(deg*1e6)/1e6 + 0 }

// stated is the setup with the lines of a plan in its file.
func (c *sideChoice) stated(p *SidePlan) *machine.Setup {
	s := *c.setup
	s.Operations = slices.Clone(c.setup.Operations)
	for i := range s.Operations {
		op := &s.Operations[i]
		op.Positions = nil
		for _, l := range p.Lines {
			if l.Operation != op.Name {
				continue
			}
			for _, at := range l.At {
				k := slices.IndexFunc(s.Axes, func(a machine.Axis) bool { return a.Letter == at.Axis })
				op.Positions = append(op.Positions, machine.AxisPosition{Axis: k, Value: at.Value * math.Pi / 180})
			}
		}
	}
	return &s
}

// confirm looks at the setup as it is with the lines of a plan in its file, at full length, and
// says which features stand elsewhere than planned.
func (c *sideChoice) confirm(ctx context.Context, p *SidePlan) (Confirmed, error) {
	var out Confirmed
	r, err := c.check(ctx, c.stated(p), c.staged("as the file would have it"))
	if err != nil {
		return out, err
	}
	out.Verdict, out.Reason = worstOf(judgedOf(r))
	for i := range c.offers {
		o := &c.offers[i]
		s := &o.Stands[p.Stands[i]]
		said := r.Reach.Operations[o.Operation].Features[o.Feature].Presented
		if s.Possible && !c.standsAt(said, c.at(o, s)) {
			out.Differs = append(out.Differs, c.name(o))
		}
	}
	return out, nil
}

// standsAt reports whether the chosen one of the positions of a report is as planned, but
// for whole turns of axes without ends and what a line's last digit leaves.
func (c *sideChoice) standsAt(list []check.Presented, plan []check.Position) bool {
	k := slices.IndexFunc(list, func(p check.Presented) bool { return p.Chosen })
	if k < 0 {
		return false
	}
	for _, want := range plan {
		for _, got := range list[k].At {
			if got.Axis != want.Axis {
				continue
			}
			off := got.Value - want.Value
			if want.Turn != (check.Turn{}) {
				off = math.Remainder(off, 360)
			}
			if math.Abs(off) > 2e-6 {
				return false
			}
		}
	}
	return true
}
