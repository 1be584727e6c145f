package pictures

import (
	"context"

	"gridswing/machine/check"
	"gridswing/render/ink"
)

// Figure is a drawing for a page, made when it is asked for.
type Figure struct {
	Kind    string   // one of the kinds below
	Title   string   // a few words
	Words   []string // what else is to be said of it, a line each; the drawing itself holds neither
	Numbers []Numbered
	Aspect  float64 // width by height
	// Draw draws it on a surface, all of which it fills. Figures of one scene may be drawn one
	// after the other only.
	Draw func(ctx context.Context, s ink.Surface) error
	// Finding is the number in the report of the finding that it shows, from 1; 0: none.
	Finding int
}

// Kinds of figures, in the order in which Figures lists them.
const (
	NumberedFigure  = "numbered"  // all that is placed, numbered
	PlanFigure      = "plan"      // a grid of holes with what is set in it
	ElevationFigure = "elevation" // the stack from the side, with heights
	SwingFigure     = "swing"     // clearance over tilt and rotary
	MomentFigure    = "moment"    // the moment about a tilt axis
	ProgramFigure   = "program"   // clearance over the time of a program
	CloseUpFigure   = "close-up"  // where something meets or is tight
	ToolFigure      = "tool"      // a tool where it is worst
)

// Numbered says what a number in a figure stands for.
type Numbered struct {
	Number int
	Name   string
}

// Figures lists the drawings that go with a report, for pages.
func (sc *Scene) Figures(r *check.Report) []Figure {
	return nil
}
