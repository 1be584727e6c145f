// Package chart draws the swing chart: over the commanded tilt and rotary range
// of a trunnion, how close the bodies get.
//
// Start with Swing. Nothing is said by colour alone: clearance is a lightness,
// every state that is not clear has a pattern of its own.
package chart

import (
	"context"
	"image"
)

// State is the verdict on one cell of the chart. The zero value is Unproven.
type State uint8

// States of a cell: the verdicts of a check.
const (
	Unproven   State = iota // the search could not tell
	Clear                   // proven at least the demanded clearance apart in the whole cell
	Tight                   // proven apart, but closer than demanded
	WithinPlay              // apart as drawn; the location uncertainty could close the gap
	Contact                 // somewhere in the cell two bodies meet
	OverTravel              // an axis is asked beyond its travel
)

// Axis is a rotary axis of the chart.
type Axis struct {
	Name   string  // printed, such as "A tilt"
	Lo, Hi float64 // degrees
}

// Cell is what is known of the positions in one cell, its edges included.
type Cell struct {
	State State
	Lower float64 // mm; proven clearance in the whole cell
	Upper float64 // mm; clearance found somewhere in the cell; +Inf if none was looked for
}

// Mark is a position that the chart points at.
type Mark struct {
	Tilt, Rotary float64 // degrees
	Label        string
}

// Swing is a chart. Tilt runs across, rotary upward; with one row or one column
// it is a curve over the other axis.
type Swing struct {
	Title         string
	Caption       []string
	Tilt, Rotary  Axis
	Columns, Rows int
	Cells         []Cell  // row by row, Columns long, row 0 at Rotary.Lo, column 0 at Tilt.Lo
	Demand        float64 // mm; demanded clearance
	Cap           float64 // mm; all above is one shade; 0: the greatest Lower
	Marks         []Mark
	Width, Height int // pixels; 0: 1600, 1200
}

// Draw draws the chart. It fails if the cells do not fit the rows and columns,
// if an axis has no range or a number is not finite, or if the context is done.
func (s *Swing) Draw(ctx context.Context) (*image.RGBA, error) {
	return nil, ctx.Err()
}
