package choose

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/reach"
)

// BothSides lays the two solutions of the rotary axes beside each other. Two rotary axes present
// nearly every direction twice (subproblem 2 of Paden and Kahan), with the tilt on either side
// of its pivot, where the tool stands along the rotary axis. Angles are in degrees.
type BothSides struct {
	Format  int    `json:"format"`
	Setup   string `json:"setup"`
	File    string `json:"file"`
	Machine string `json:"machine"`
	// Tilts are the axes that have sides. Without any there is one way to stand only, and one Plan.
	Tilts []Tilt `json:"tilts"`
	// Features are all of them, in order, with every position at which each could be cut.
	Features []TwoSided `json:"features"`
	// Plans are Above, Below and Mixed, or Mixed alone.
	Plans []SidePlan `json:"plans"`
	// Recommended is a place in Plans: of those with the best verdict the one on one side that
	// turns least; Mixed only if its verdict is better than that of either side.
	Recommended int       `json:"recommended"`
	Confirmed   Confirmed `json:"confirmed"`
	// NotModelled is what could be hit and is in no model: whatever is chosen is unproven.
	NotModelled []string `json:"not_modelled"`
	Notes       []string `json:"notes"`
	Caution     []string `json:"caution"`
}

// Names of sides, and of what is on neither.
const (
	Above  = "above"  // the tilt stands above its pivot
	Below  = "below"  // it stands below
	Either = "either" // at the pivot: as good as either
	Over   = "over"   // a contour that goes over from one side to the other
	Mixed  = "mixed"  // a plan that is not held to a side
)

// Tilt is a rotary axis that has sides, and where they meet.
type Tilt struct {
	Axis  string         `json:"axis"`
	Pivot check.Position `json:"pivot"`
}

// TwoSided is a feature and all positions at which it could be cut.
type TwoSided struct {
	Operation string  `json:"operation"`
	Feature   string  `json:"feature"`
	Tool      int     `json:"tool"` // its number
	Stands    []Stood `json:"stands"`
}

// Stood is a rotary position for a feature, and what was found of it there alone.
type Stood struct {
	At      []check.Position `json:"at"` // of the rotary axes that have a part in it
	Side    string           `json:"side"`
	Verdict check.Verdict    `json:"verdict"`
	Why     string           `json:"why,omitempty"` // what the verdict is about
	Free    string           `json:"free,omitempty"`
	Miss    float64          `json:"miss_deg,omitempty"` // by which the tool's axis is off
}

// SidePlan is a position for every feature, and what was found of the whole.
type SidePlan struct {
	Side string `json:"side"` // Above, Below or Mixed
	// Stands has for each of BothSides.Features a place in its Stands.
	Stands []int `json:"stands"`
	// Whole says whether every feature can be stood at, on the side that it is about.
	Whole bool `json:"whole"`
	// Verdict is the worst of Judged: of the features at their positions, and of the ways
	// between them. Reason says what it is about.
	Verdict check.Verdict  `json:"verdict"`
	Judged  []check.Judged `json:"judged"`
	Reason  string         `json:"reason,omitempty"`
	// Motion is how far each rotary axis turns while it indexes, from home to the last feature; Indexes
	// says how often any does. What turns along a contour is not counted.
	Motion  []Turned `json:"motion"`
	Indexes int      `json:"indexes"`
	// Lines are what to write into the setup file, operation by operation.
	Lines []SideLine `json:"lines"`
}

// Turned is how far an axis turns in all.
type Turned struct {
	Axis    string  `json:"axis"`
	Degrees float64 `json:"deg"`
}

// SideLine holds an operation to its position.
type SideLine struct {
	Operation string           `json:"operation"`
	At        []check.Position `json:"at"`
	// Line is "positions = { A = 90, C = 0 }", "" where no axis stands still for all its features.
	Line string `json:"line"`
	Note string `json:"note,omitempty"` // what the line does not hold
}

// Confirmed is what the full check says of the setup with the recommended lines in its file.
type Confirmed struct {
	Verdict check.Verdict `json:"verdict"`
	Reason  string        `json:"reason,omitempty"`
	// Differs lists features that then stand elsewhere, since no line holds them.
	Differs []string `json:"differs,omitempty"`
}

// Turn is how far all rotary axes turn, in degrees.
func (p *SidePlan) Turn() (sum float64) {
	for _, m := range p.Motion {
		sum += m.Degrees
	}
	return sum
}

// Sides looks at every feature on both sides, at each side as a whole, and at the way of
// going through all features that turns least, and recommends one; that is looked at again as
// the file would have it. It is an error if there is nothing to cut, and if the context ends.
func Sides(ctx context.Context, s *machine.Setup, o proof.Options) (*BothSides, error) {
	if len(s.Operations) == 0 || s.Spindle == nil {
		return nil, fmt.Errorf("%s: found no operation that could be looked at, expected at least one: sides are chosen for what is cut", s.File)
	}
	c := &sideChoice{setup: s, options: o.Ready(reach.DefaultTests)}
	c.options.Brief = false // but for plans
	var err error
	if c.offers, err = reach.Offers(ctx, s, c.staged("every position")); err != nil {
		return nil, err
	}
	for i := range c.offers {
		c.arrange(&c.offers[i])
	}
	out := &BothSides{
		Format: Format, Setup: s.Name, File: s.File, Machine: s.Machine,
		Tilts: c.tilts(), Features: c.features(), NotModelled: []string{}, Notes: c.notes(), Caution: check.Caution,
	}
	for _, p := range s.Presence {
		if p.State == machine.NotModelled {
			out.NotModelled = append(out.NotModelled, p.What)
		}
	}
	sides := []string{Above, Below, Mixed}
	if len(out.Tilts) == 0 {
		sides = []string{Mixed}
	}
	for _, side := range sides {
		p, err := c.plan(ctx, side, out.Plans)
		if err != nil {
			return nil, err
		}
		out.Plans = append(out.Plans, *p)
	}
	out.Recommended = recommendedSide(out.Plans)
	out.Confirmed, err = c.confirm(ctx, &out.Plans[out.Recommended])
	return out, err
}

// Verdict is that of the recommended plan, or a worse one of the setup as its file would have it;
// unproven at best where something is not modelled.
func (b *BothSides) Verdict() check.Verdict {
	v := b.Plans[b.Recommended].Verdict
	if b.Confirmed.Verdict.Worse(v) {
		v = b.Confirmed.Verdict
	}
	if len(b.NotModelled) > 0 && check.Unproven.Worse(v) {
		v = check.Unproven
	}
	return v
}

// sideChoice is one call of Sides.
type sideChoice struct {
	setup   *machine.Setup
	options proof.Options
	offers  []reach.Offer
}

// staged are the options with what is being done told before each stage.
func (c *sideChoice) staged(what string) proof.Options {
	o := c.options
	if tell := o.Progress; tell != nil {
		o.Progress = func(stage string, done, total int) { tell(what+": "+stage, done, total) }
	}
	return o
}

// arrange puts the positions of a feature in an order that does not depend on how they were found:
// above first, then either, then below, then by the axes.
func (c *sideChoice) arrange(o *reach.Offer) {
	rank := map[string]int{Above: 0, Either: 1, Below: 2, Over: 3}
	slices.SortStableFunc(o.Stands, func(a, b reach.Stand) int {
		if d := rank[sideOf(&a)] - rank[sideOf(&b)]; d != 0 {
			return d
		}
		for k := range c.setup.Axes {
			if d := cmp.Compare(nanoOf(a.Rotary[k]), nanoOf(b.Rotary[k])); d != 0 {
				return d
			}
		}
		return 0
	})
}

func sideOf(s *reach.Stand) string {
	switch {
	case s.Above && s.Below:
		return Either
	case s.Above:
		return Above
	case s.Below:
		return Below
	}
	return Over
}

// tilts lists the axes that have sides for any feature.
func (c *sideChoice) tilts() []Tilt {
	list := []Tilt{}
	for i := range c.offers {
		o := &c.offers[i]
		sided := slices.ContainsFunc(o.Stands, func(s reach.Stand) bool { return s.Above != s.Below })
		if o.Tilt < 0 || !sided {
			continue
		}
		a := &c.setup.Axes[o.Tilt]
		if !slices.ContainsFunc(list, func(t Tilt) bool { return t.Axis == a.Letter }) {
			list = append(list, Tilt{a.Letter, check.PositionOf(a, o.Pivot)})
		}
	}
	return list
}

// features tells of every feature where it could stand.
func (c *sideChoice) features() []TwoSided {
	list := []TwoSided{}
	for i := range c.offers {
		o := &c.offers[i]
		op := &c.setup.Operations[o.Operation]
		f := TwoSided{Operation: op.Name, Feature: op.Features[o.Feature].Name, Tool: c.setup.Tools[op.Tool].Number, Stands: []Stood{}}
		for k := range o.Stands {
			s := &o.Stands[k]
			stood := Stood{At: c.at(o, s), Side: sideOf(s), Verdict: s.Verdict, Why: s.Why, Miss: s.Miss * 180 / math.Pi}
			if s.Free >= 0 {
				stood.Free = c.setup.Axes[s.Free].Letter
			}
			f.Stands = append(f.Stands, stood)
		}
		list = append(list, f)
	}
	return list
}

// at is where the axes stand that have a part in a feature.
func (c *sideChoice) at(o *reach.Offer, s *reach.Stand) []check.Position {
	list := []check.Position{}
	for _, k := range o.Moves {
		list = append(list, check.PositionOf(&c.setup.Axes[k], s.Rotary[k]))
	}
	return list
}

// notes tells what is left out, and what the file already states.
func (c *sideChoice) notes() []string {
	list := []string{
		"Each feature was looked at by itself at every position; each plan as a whole, with the ways from feature to feature. " +
			"What does not depend on where the program stands (what meets while axes swing over their commanded ranges, loads, whether the setup goes together) was not looked at.",
		"Turning is counted from home to the last feature, between features and not along contours; axes without ends the shorter way, unless the machine file says by value.",
	}
	var stating []string
	for i := range c.setup.Operations {
		if op := &c.setup.Operations[i]; len(op.Positions) > 0 {
			stating = append(stating, op.Name)
		}
	}
	if len(stating) > 0 {
		list = append(list, "Both sides were looked at also where the file states a position already: "+strings.Join(stating, ", ")+".")
	}
	for _, f := range c.setup.Faulty {
		list = append(list, fmt.Sprintf("%s was left out (%s): %s", f.Name, f.Where, f.Reason))
	}
	return list
}

// recommendedSide returns the plan with the best verdict; of equals one on a side, then
// the one that turns least, then the one that indexes least often, then the first.
func recommendedSide(plans []SidePlan) (best int) {
	better := func(a, b *SidePlan) bool {
		switch {
		case a.Verdict != b.Verdict:
			return b.Verdict.Worse(a.Verdict)
		case a.Whole != b.Whole:
			return a.Whole
		case (a.Side == Mixed) != (b.Side == Mixed):
			return b.Side == Mixed
		case nano(a.Turn()) != nano(b.Turn()):
			return a.Turn() < b.Turn()
		}
		return a.Indexes < b.Indexes
	}
	for i := range plans {
		if better(&plans[i], &plans[best]) {
			best = i
		}
	}
	return best
}

// rotary reports whether an axis turns.
func (c *sideChoice) rotary(axis int) bool { return c.setup.Axes[axis].Kind == motion.Rotary }
