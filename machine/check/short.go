package check

import (
	"fmt"
	"slices"
	"strings"
)

// Short says in a few words what a finding is about: "T3 holder meets trunnion/faceplate at
// A +90, C +0", "T7: Z at retract would have to go to -12.30 mm, 12.30 mm beyond its travel".
func (f *Finding) Short() string {
	words := f.what()
	if f.Operation != "" && !strings.Contains(words, f.Operation) {
		words = f.place() + ": " + words
	}
	return words
}

// what is Short without the operation.
func (f *Finding) what() string {
	a, b := f.Bodies[0], f.Bodies[1]
	if a == "" || b == "" || told[f.Question] {
		words := f.Reason
		if f.Tool != nil && !strings.Contains(words, f.tool()) {
			words = f.tool() + ": " + words
		}
		return words
	}
	words := a
	if f.Tool != nil && !strings.HasPrefix(a, f.tool()+" ") {
		words += " with " + f.tool()
	}
	switch f.Verdict {
	case Contact:
		words += " meets " + b
	case WithinPlay:
		words += " and " + b + ": the play could close the gap"
	case Unproven:
		words += " and " + b
	default:
		words += " and " + b
		if f.Smallest != nil {
			words += fmt.Sprintf(": %.2f mm left of %.2f", *f.Smallest, f.Demand)
		}
	}
	if at := rotaryAt(f.At); at != "" && f.Verdict != Unproven {
		words += " at " + at
	}
	if f.Reason != "" {
		words += " (" + f.Reason + ")"
	}
	return words
}

// told are the questions whose findings are told by their reason alone.
var told = map[string]bool{
	Stacked: true, Located: true, Carrying: true, Presents: true, Travels: true, LeftOut: true, Keyed: true, Stored: true, Heads: true,
}

func (f *Finding) tool() string { return fmt.Sprintf("T%d", *f.Tool) }

// place says at which feature, or on the way from where, a finding is.
func (f *Finding) place() string {
	switch {
	case slices.Contains([]string{Rapids, Indexing, Changing}, f.Question):
		return "to " + f.Operation
	case f.Feature != "" && f.Feature != f.Operation:
		return f.Operation + ", " + f.Feature
	}
	return f.Operation
}

// Between says of which two bodies something is told, and where the rotary axes stand:
// "T3 holder and trunnion/faceplate at A +90".
func Between(a, b string, at []Position) string {
	words := a + " and " + b
	if where := rotaryAt(at); where != "" {
		words += " at " + where
	}
	return words
}

// rotaryAt says where the rotary axes stand: "A +90, C +0".
func rotaryAt(at []Position) string {
	var list []string
	for i := range at {
		if p := &at[i]; p.Unit == "deg" {
			list = append(list, fmt.Sprintf("%s %+.4g", p.Axis, p.Shown()))
		}
	}
	return strings.Join(list, ", ")
}
