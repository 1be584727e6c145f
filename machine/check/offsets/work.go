package offsets

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"

	"github.com/golang/geo/r3"
)

// number sets aside the offsets that parts have by the setup; the others are
// given out in their order.
func (b *builder) number() {
	for _, n := range b.rules.Numbers {
		stated := func(p machine.Part) bool { return p.Offset == n }
		if !slices.ContainsFunc(b.setup.Parts, stated) {
			b.free = append(b.free, n)
		}
	}
}

// next returns the number of a part's next offset, "" if none is left.
func (b *builder) next(p *part, first bool) string {
	if first && p.Offset != "" {
		return p.Offset
	}
	if len(b.free) == 0 {
		return ""
	}
	n := b.free[0]
	b.free = b.free[1:]
	return n
}

// workOffset adds the offset of a part at a rotary position, if it has one there.
func (b *builder) workOffset(p *part, at motion.Params, first bool) (added bool) {
	s := b.setup
	o := check.WorkOffset{Part: p.Name, Rotary: b.rotaryAt(p, at), Basis: b.basisOf(p, at)}
	turn, left := b.turn(p, at)
	linearAt := at
	if b.rules.Method == machine.PerPosition {
		for k := range turn {
			linearAt[k] += radians(round(degrees(turn[k]), angleDecimals)) // as keyed in
		}
	}
	linear, err := p.found.Linear(linearAt, r3.Vector{}, 0)
	if err != nil {
		b.note("part %s at %s: no offset: %v", p.Name, words(o.Rotary), err)
		return false
	}
	if z := b.upright(); z >= 0 {
		if b.rules.Lengths == machine.TouchedOff {
			linear[z] -= b.touched
		}
		linear[z] += b.rules.Shift
	}
	for _, k := range b.linearAxes(p) {
		o.Linear = append(o.Linear, b.at(k, linear[k]))
	}
	for _, t := range p.tables {
		if v := round(degrees(turn[t.axis]), angleDecimals); v != 0 {
			o.Turn = append(o.Turn, check.Position{Axis: s.Axes[t.axis].Letter, Value: v, Unit: "deg"})
		}
	}
	if o.Number = b.next(p, first); o.Number == "" {
		o.Notes = append(o.Notes, fmt.Sprintf("no offset is left for this one: the machine file lists %d (%s)",
			len(b.rules.Numbers), strings.Join(b.rules.Numbers, ", ")))
	}
	o.Notes = append(o.Notes, b.rowNotes(p, at, &o, left)...)
	b.out.Offsets = append(b.out.Offsets, o)
	return true
}

// rowNotes says what must be known about one offset.
func (b *builder) rowNotes(p *part, at motion.Params, o *check.WorkOffset, left r3.Vector) (notes []string) {
	if p.Probed != nil && o.Basis == Nominal {
		notes = append(notes, "the part was probed at rotary zero; where the rotary axes are is as drawn, and counts here")
	}
	if len(o.Turn) > 0 && b.rules.Method == machine.PerPosition {
		notes = append(notes, "the linear values hold with the turn of the rotary axes keyed in")
	}
	if len(o.Turn) > 0 && b.rules.Method == machine.TurnedByControl {
		notes = append(notes, "the linear values are at the machine's own rotary zero, the turn not added")
	}
	if a := degrees(left.Norm()); round(a, angleDecimals) != 0 {
		d := left.Normalize()
		notes = append(notes, fmt.Sprintf("turned by %.*f deg about (%.2f, %.2f, %.2f) of the machine: not correctable, no rotary axis takes it out%s",
			angleDecimals, a, d.X+0, d.Y+0, d.Z+0, b.everywhere()))
	}
	_, tool := p.nominal.Forward(at, 0)
	pose := p.Chain.Pose(at)
	if z := b.upright(); z >= 0 {
		a := &b.setup.Axes[z]
		if tool := pose.Dir(tool); tool.Cross(a.Direction).Norm() > 1e-9 {
			notes = append(notes, fmt.Sprintf("the tool stands along (%.4f, %.4f, %.4f) here: its length counts along it, not along %s",
				tool.X+0, tool.Y+0, tool.Z+0, a.Letter))
		}
	}
	return notes
}

func (b *builder) everywhere() string {
	if b.rules.Method == machine.TurnedByControl {
		return " at every position"
	}
	return " here"
}

// rotaryAt lists where the rotary axes stand, in degrees.
func (b *builder) rotaryAt(p *part, at motion.Params) []check.Position {
	list := []check.Position{}
	for _, k := range p.rotary {
		p := check.PositionOf(&b.setup.Axes[k], at[k])
		p.Value = round(p.Value, 6)
		list = append(list, p)
	}
	return list
}

// linearAxes are the axes that an offset is of, in the order of their letters.
func (b *builder) linearAxes(p *part) []int {
	list := p.nominal.LinearAxes()
	slices.SortFunc(list, func(i, j int) int { return check.ByLetter(b.setup.Axes[i].Letter, b.setup.Axes[j].Letter) })
	return list
}

// at returns a position of a linear axis as it is keyed in.
func (b *builder) at(k int, mm float64) check.Position {
	return check.Position{Axis: b.setup.Axes[k].Letter, Value: b.length(mm), Unit: b.out.Unit}
}

// length returns a length in the control's unit, with the control's decimals.
func (b *builder) length(mm float64) float64 { return round(mm/b.unit, b.rules.Decimals) }

// angleDecimals are those of what is added to a rotary axis, degrees.
const angleDecimals = 4

func round(v float64, decimals int) float64 {
	scale := math.Pow(10, float64(decimals))
	return math.Round(v*scale)/scale + 0 // no -0
}

func degrees(r float64) float64 { return r / (math.Pi / 2) * 90 }
func radians(d float64) float64 { return d / 90 * (math.Pi / 2) }

// words writes a rotary position: "A 90 C 0".
func words(at []check.Position) string {
	if len(at) == 0 {
		return "rotary zero"
	}
	text := ""
	for i, p := range at {
		if i > 0 {
			text += " "
		}
		text += fmt.Sprintf("%s %g", p.Axis, p.Shown())
	}
	return text
}
