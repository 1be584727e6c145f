package choose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Seats looks at every pair of holes in which a placed component could stand, on what it
// stands on now, turned against now by one of the given angles, in rad; nil: by any. When the
// context ends it returns what is known until then. Errors are those of the place and the
// options.
func Seats(ctx context.Context, d *machine.Draft, place string, turned []float64, o Options) (*Choice, error) {
	line, err := SeatLine(d, place, turned)
	if err != nil {
		return nil, err
	}
	return chosen(ctx, d, Seated, place, line.Candidates, o.ready(Roomiest))
}

// sameTurn is how far, in rad, an orientation may be off one that is asked for: names have degrees
// to two decimals.
const sameTurn = 1e-4

// SeatLine lists the seats that Seats looks at, to be combined with something else.
func SeatLine(d *machine.Draft, place string, turned []float64) (Line, error) {
	options, err := d.Seats(place)
	if err != nil {
		return Line{}, err
	}
	line := Line{What: "seat of " + place}
	for _, s := range options {
		asked := func(a float64) bool { return math.Abs(math.Remainder(s.Turned-a, 2*math.Pi)) <= sameTurn }
		if turned == nil || slices.ContainsFunc(turned, asked) {
			line.Candidates = append(line.Candidates, seat(place, s))
		}
	}
	if len(line.Candidates) == 0 {
		return line, fmt.Errorf("place %q: found no two holes in which it could stand so turned, expected one of %s deg", place, turnsOf(options))
	}
	return line, nil
}

// turnsOf lists in which orientations something could stand, in degrees against now.
func turnsOf(options []machine.SeatOption) string {
	var list []float64
	for _, s := range options {
		list = append(list, math.Round(seat("", s).Turned*100)/100)
	}
	slices.Sort(list)
	var words []string
	for _, deg := range slices.Compact(list) {
		words = append(words, strconv.FormatFloat(deg, 'f', -1, 64))
	}
	return strings.Join(words, ", ")
}

func seat(place string, s machine.SeatOption) Candidate {
	turned := rounded(math.Remainder(s.Turned, 2*math.Pi)*180/math.Pi) + 0
	if turned == -180 {
		turned = 180
	}
	c := Candidate{
		Name: fmt.Sprintf("%s, %s", s.Pins[0], s.Pins[1]), Pins: s.Pins[:], Moved: rounded(s.Moved), Turned: turned,
		Middle:  &[3]float64{s.Middle.X, s.Middle.Y, s.Middle.Z},
		Changes: []machine.Change{{Seat: &machine.SeatChange{Place: place, Pins: s.Pins}}},
		Present: s.Now,
	}
	if turned != 0 {
		c.Name += fmt.Sprintf(" turned %g", math.Round(turned*100)/100)
	}
	return c
}

// chosen looks for the best of candidates for one place.
func chosen(ctx context.Context, d *machine.Draft, kind, place string, list []Candidate, o Options) (*Choice, error) {
	found, err := pick(ctx, d, list, o)
	if err != nil {
		return nil, err
	}
	s := d.Setup()
	return &Choice{
		Format: Format, Setup: s.Name, File: s.File, Machine: s.Machine, Kind: kind, Place: place, Rule: o.Rule,
		Candidates: found.looked, Best: found.best, Counted: count(found.looked), Common: found.common, Unfit: []Unfit{},
		NotModelled: notModelled(s), Interrupted: found.interrupted, Caution: check.Caution,
	}, nil
}
