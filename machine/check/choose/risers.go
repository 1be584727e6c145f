package choose

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// MostStacked is how many risers are put on each other if nobody says otherwise.
const MostStacked = 3

// Risers looks at every stack of up to so many components of a catalogue (0: MostStacked)
// that could stand where one stands now, and carry what that carries. An empty place is the
// setup's only riser. When the context ends it returns what is known until then. Errors are
// those of the place and the options.
func Risers(ctx context.Context, d *machine.Draft, place string, cat *machine.Catalogue, most int, o Options) (*Choice, error) {
	line, unfit, err := RiserLine(d, place, cat, most)
	if err != nil {
		return nil, err
	}
	c, err := chosen(ctx, d, Stacked, strings.TrimPrefix(line.What, riserOf), line.Candidates, o.ready(Lowest))
	if c != nil {
		c.Unfit = append(c.Unfit, unfit...)
	}
	return c, err
}

const riserOf = "stack at "

// RiserLine lists the stacks that Risers looks at, to be combined with something else, and
// the components that cannot be one of them.
func RiserLine(d *machine.Draft, place string, cat *machine.Catalogue, most int) (Line, []Unfit, error) {
	if most <= 0 {
		most = MostStacked
	}
	if place == "" {
		var err error
		if place, err = d.Riser(); err != nil {
			return Line{}, nil, err
		}
	}
	options, none, err := d.Stacks(place, cat, most)
	if err != nil {
		return Line{}, nil, err
	}
	unfit := []Unfit{}
	for _, u := range none {
		unfit = append(unfit, Unfit{u.Name, u.Reason})
	}
	line := Line{What: riserOf + place}
	now := heightOf(d.Setup(), place)
	for i := range options {
		c := stacking(&options[i], now)
		if len(c.Parts) == 1 {
			edits, err := d.Edits(c.Changes...)
			c.Present = err == nil && len(edits) == 0
		}
		line.Candidates = append(line.Candidates, c)
	}
	if len(line.Candidates) == 0 {
		return line, unfit, fmt.Errorf("place %q: found no component in the catalogue that could stand there, expected some%s", place, reasons(unfit))
	}
	return line, unfit, nil
}

func reasons(unfit []Unfit) string {
	var w strings.Builder
	for _, u := range unfit {
		fmt.Fprintf(&w, "\n  %s: %s", u.Name, u.Reason)
	}
	return w.String()
}

// stacking is a candidate of a stack of risers, now being the height of what stands there.
func stacking(s *machine.StackOption, now float64) Candidate {
	c := Candidate{
		Name:   fmt.Sprintf("%g mm: %s", rounded(s.Height), strings.Join(s.Names, " + ")),
		Height: rounded(s.Height), Parts: s.Names,
		Changes: []machine.Change{{Stack: &s.Change}},
	}
	if !math.IsNaN(now) {
		c.Raised = rounded(s.Height - now)
		c.Moved = math.Abs(c.Raised)
	}
	return c
}

// heightOf is how far above its own seat a component carries what stands on it, NaN if
// nothing does.
func heightOf(s *machine.Setup, place string) float64 {
	for i := range s.Seats {
		for k := range s.Seats {
			if under, on := &s.Seats[i], &s.Seats[k]; under.Unit == place && on.On == place {
				low, high := under.Chain.Pose(motion.Params{}), on.Chain.Pose(motion.Params{})
				return low.Inverse().Mul(high).T.Z
			}
		}
	}
	return math.NaN()
}
