package choose

import (
	"context"
	"fmt"
	"math"
	"strings"

	"gridswing/machine"
	"gridswing/machine/check"
)

// Heights says which heights a spacer that is still to be made may have: a straight block in
// place of a component.
type Heights struct {
	Format  int     `json:"format"`
	Setup   string  `json:"setup"`
	File    string  `json:"file"`
	Machine string  `json:"machine"`
	Place   string  `json:"place"` // the component in whose place it stands
	From    float64 `json:"from_mm"`
	To      float64 `json:"to_mm"`
	// Resolution is the width, in mm, to which ends of stretches are found.
	Resolution float64 `json:"resolution_mm"`
	// Stretches follow each other upward without gaps, from From to To.
	Stretches []HeightStretch `json:"stretches"`
	// Now is how high what stands there now carries what stands on it, nil if it carries nothing.
	Now *float64 `json:"now_mm,omitempty"`
	// Lowest is the least good height, nil where none is good.
	Lowest *float64 `json:"lowest_mm"`
	// Concerns are those that were looked at, Unlooked those that were not: they are about screws
	// and tolerances of a component that there is.
	Concerns []string `json:"concerns"`
	Unlooked []string `json:"unlooked"`
	// NotModelled is what could be hit and is in no model: then no height is good.
	NotModelled []string `json:"not_modelled"`
	// Looked says how many heights and how many stretches were looked at.
	Looked HeightCount `json:"looked"`
	// Interrupted is set where the search was broken off: what was not looked at is unproven.
	Interrupted bool     `json:"interrupted"`
	Notes       []string `json:"notes"`
	Caution     []string `json:"caution"`
}

// HeightCount counts what was looked at.
type HeightCount struct {
	Heights   int `json:"heights"`
	Stretches int `json:"stretches"`
}

// States of a HeightStretch.
const (
	GoodHeights     = "good"     // every height of it meets every demand: a proof
	FailingHeights  = "failing"  // every height of it that was looked at does not
	UnprovenHeights = "unproven" // neither
)

// HeightStretch is a range of heights, both ends included where it is good; what is at the
// common end of two is what the good one of them says.
type HeightStretch struct {
	From  float64 `json:"from_mm"`
	To    float64 `json:"to_mm"`
	State string  `json:"state"`
	// Verdict is clear where it is good, else that of the height At, where it was looked at.
	Verdict check.Verdict `json:"verdict"`
	At      *float64      `json:"at_mm,omitempty"`
	Concern string        `json:"concern,omitempty"`
	// Reason says what the verdict is about: "T3 holder meets trunnion/faceplate at A +90".
	Reason string `json:"reason,omitempty"`
}

// Good reports whether every height of the stretch meets every demand.
func (s *HeightStretch) Good() bool { return s.State == GoodHeights }

// heightStep is the resolution, in mm.
const heightStep = 0.1

// failingStep is the largest distance, in mm, of heights that are looked at where all fail.
const failingStep = 1.0

// FindHeights finds the heights between two, in mm, that a straight block in place of a
// component may have. Good stretches are proven over all their heights at once; where one fails,
// heights are looked at one by one, no farther apart than 1 mm. The answer is the same for any
// number of jobs. It is an error if no such block can stand there; the context ended is none.
func FindHeights(ctx context.Context, d *machine.Draft, place string, from, to float64, o Options) (*Heights, error) {
	s, err := d.Spacer(place, from, to)
	if err != nil {
		return nil, err
	}
	h := newHeightSearch(d, place, from, to, o)
	out := &Heights{
		Format: Format, Setup: s.Name, File: s.File, Machine: s.Machine, Place: place, From: from, To: to, Resolution: heightStep,
		Stretches: []HeightStretch{}, Concerns: heightConcerns(), Unlooked: []string{check.StackConcern, check.DriverConcern},
		NotModelled: []string{}, Caution: check.Caution,
		Notes: []string{
			fmt.Sprintf("the spacer is a straight block, in plan the convex hull of %s, without holes", place),
			"screws, pins and drivers are not looked at: check the setup with the spacer once it is drawn",
		},
	}
	if now := rounded(heightOf(d.Setup(), place)); !math.IsNaN(now) {
		out.Now = &now
	}
	for _, p := range s.Presence {
		if p.State == machine.NotModelled {
			out.NotModelled = append(out.NotModelled, p.What)
		}
	}
	if err := h.run(ctx); err != nil && ctx.Err() == nil {
		return nil, err
	}
	out.Interrupted = ctx.Err() != nil
	out.Looked = HeightCount{Heights: len(h.single), Stretches: h.asked}
	out.Stretches = h.stretches()
	if len(out.NotModelled) > 0 {
		doubt(out.Stretches, "not modelled: "+strings.Join(out.NotModelled, ", "))
	}
	for i := range out.Stretches {
		if st := &out.Stretches[i]; st.Good() && out.Lowest == nil {
			low := st.From
			out.Lowest = &low
		}
	}
	return out, nil
}

// doubt makes good stretches unproven.
func doubt(list []HeightStretch, why string) {
	for i := range list {
		if st := &list[i]; st.Good() {
			st.State, st.Verdict, st.Reason = UnprovenHeights, check.Unproven, why
		}
	}
}

// heightConcerns are those that are looked at, in the order in which they are.
func heightConcerns() []string {
	return []string{check.LoadConcern, check.TravelConcern, check.SwingConcern, check.ReachConcern, check.IndexConcern, check.ChangeConcern}
}
