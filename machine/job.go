package machine

import (
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/fits"

	"github.com/golang/geo/r3"
)

// Spindle is where tools stand.
type Spindle struct {
	// Chain gives the pose of the gauge frame in the bed frame: origin on the
	// gauge line, Z from a tool's tip to the spindle.
	Chain motion.Chain
	// Axis is the axis that carries it, an index into Setup.Axes; -1 for the bed.
	Axis int
}

// Part is a workpiece to be cut, with coordinates of its own: those in which
// features are given, and whose zero the work offset is set to.
type Part struct {
	Name string
	Unit string // the placed component it is cut from
	// Chain gives the pose of the part's frame in the bed frame, play included: where
	// probing found it, if it was probed.
	Chain motion.Chain
	// Drawn is Chain before anything was probed; nil where Chain is as drawn.
	Drawn *motion.Chain
	// Offset is the name of the work offset that the user gives it, such as
	// "G54"; "" if it is for the program to assign.
	Offset string
	Probed *Probed // nil if nothing is
	// Unprobed is how far off its points may be before anything is probed, mm; 0: not stated.
	Unprobed float64
	// Finished is what is to be left of the stock, in the part's frame; nil if it is not
	// stated. GougeWithin is how deep below its surface a cutter may go, mm.
	Finished    *Solid
	GougeWithin float64
}

// Probed is what probing found: how the part stands against where it should,
// seen along the machine's X, Y and Z with every axis at zero.
type Probed struct {
	Shift r3.Vector // of the part's zero, mm
	Skew  r3.Vector // turned about X, Y and Z, rad, counter-clockwise seen from the positive end
}

// Operation is what one tool does at one part, in the order of the file.
type Operation struct {
	Name string
	Part int // index into Setup.Parts
	Tool int // index into Setup.Tools
	// Approach and Retract are heights above the stock along the tool's axis,
	// in mm: from the first on the tool is fed, to the second it is drawn back
	// before it goes on to the next feature.
	Approach, Retract float64
	// Positions are rotary positions that the setup states; axes left out are
	// for the program to find.
	Positions []AxisPosition
	Features  []Feature
	Where     string // "op10.toml:48": the place in the file
}

// FaultyOperation is an operation that cannot be looked at.
type FaultyOperation struct {
	Name   string
	Where  string // "op10.toml:51": the place of what is wrong
	Reason string // what was found and what was expected
}

// AxisPosition is where one axis stands, in mm or rad.
type AxisPosition struct {
	Axis  int // index into Setup.Axes
	Value float64
}

// Kinds of Feature.
const (
	Hole    = "hole"
	Face    = "face"
	Pocket  = "pocket"
	Contour = "contour"
	Touch   = "touch" // a probe is sent to the surface
)

// Feature is what an operation cuts at one go, in the part's coordinates, mm.
// Tips are places of the tool's foremost point on its axis: what the file
// says of depth "to full diameter", of breakthrough and of pockets that the cutter
// stays inside of is worked in already.
type Feature struct {
	Name string // "hole 3", or what the file calls it; unique within the operation
	Kind string
	// Tips are where the foremost point goes at depth: one of a hole, the path
	// of a face, pocket or contour in its order, one of a touch: where it
	// begins to search. Empty if Area is set.
	Tips []r3.Vector
	// Axes are unit vectors out of the part towards the spindle: one, or one
	// for each of the tips of a contour.
	Axes []r3.Vector
	// TipControl: between the points of a contour the control leads the
	// tip along a straight line; without it every axis goes evenly.
	TipControl bool
	// InLayers is the user's statement that what is above a path of tips has been cut
	// away in layers no deeper than the cutting part is long, so that its neck follows.
	InLayers bool
	// Area is the room that the foremost point stays in, of a face or a pocket
	// given as a box.
	Area *Area
	// Search is the stretch over which a touch may go on, from its one
	// tip: length and direction.
	Search r3.Vector
	// Find is how far along Search the surface is as drawn, in mm.
	Find  float64
	Where string // the place in the file
}

// Area is where a foremost point may be: Corner + a U + b V - c axis, with a and
// b from 0 to 1 and c from 0 to Depth.
type Area struct {
	Corner, U, V r3.Vector
	Depth        float64
}

// MayBeCut is a body of the workholding that the user allows to be cut into.
type MayBeCut struct {
	Body   int // index into Setup.Bodies
	Depth  float64
	Reason string
}

// Magazine is what the machine's magazine takes, in mm and kg; 0 where the file
// does not say.
type Magazine struct {
	Longest  float64 // LPR
	Heaviest float64
	Diameter float64 // with tools in the places beside it
	Alone    float64 // with the places beside it empty
}

// ToolChange is where tools are changed and what must be free then.
type ToolChange struct {
	// At are positions of linear axes; those left out stay where they are,
	// but for Z, which goes home.
	At    []AxisPosition
	Zones []Body // what the changer sweeps; they are nowhere else in the setup
}

// How a control treats work offsets when rotary axes turn.
const (
	PerPosition     = "per-position"      // one offset for each rotary position
	TurnedByControl = "turned-by-control" // one offset at rotary zero, and the rotary centre
)

// What stands in a control's tool table.
const (
	AbsoluteLengths = "absolute"    // gauge line to foremost point
	TouchedOff      = "touched-off" // found by touching the work
)

// OffsetRules are how the machine's control treats offsets.
type OffsetRules struct {
	Method   string // PerPosition or TurnedByControl
	Lengths  string // AbsoluteLengths or TouchedOff
	Numbers  []string
	Decimals int // of lengths, in the control's unit
	// Shift is the common shift along Z that the setup states, mm.
	Shift float64
	// Unit is the control's unit of length, that of the machine file, whatever the
	// setup's is: what is keyed in is in it. mm if it is 0.
	Unit geom.Unit
}

// How the axes of a rapid move.
const (
	Independent  = ""             // each in its own time: they need not arrive together
	Interpolated = "interpolated" // together, on a straight line
)

// Which way round an unlimited rotary axis goes.
const (
	EitherWay  = ""        // not stated: both ways must be clear
	ShorterWay = "shorter" // never more than half a turn
	ByValue    = "by value"
)

// Seat is where a placed component stands, for saying what moving it would do.
type Seat struct {
	Unit string // the placed component
	On   string // the unit under it
	// Chain gives the pose of the frame it stands in, bed frame; its Z is the
	// seat's normal, away from what is under it, X and Y run along the grid.
	Chain motion.Chain
	// Pitch is the distance of holes along X and Y, mm; 0 without a rectangular grid.
	Pitch [2]float64
	// Holes is how many there are along X and Y; 0 without a rectangular grid.
	Holes [2]int
	// Grid is the one that its pins stand in, or the T-slots, by its own name; "" if
	// it is placed by coordinates.
	Grid string
	// Under is the body that its locators stand in, or that it is said to stand on;
	// -1 where a whole component or the bed is named.
	Under int
	// Locators are two; three stops; none of what is placed by coordinates alone.
	Locators []Locator
	// Fit is what says whether the two locators go in, and Off what they allow.
	// Both are zero without locators; Fit is of pins only.
	Fit fits.Seat
	Off Off
	// Height is how far the seating plane can be off, either way, Parallelism the zone
	// of the upper face, mm: as the component's file states them.
	Height, Parallelism float64
	Fasteners           []Fastener
	LeastFasteners      int // that it wants; 0: not stated
	// Threads says whether what it stands on states holes with threads, clearance holes or
	// T-slots at all.
	Threads bool
	Gripped *Gripped // nil if no jaws grip it
	Stated  *Stated  // nil of what stands on pins: their holes say where
}

// Stated is where the setup file says that a component without pins stands.
type Stated struct {
	// Frame is what the coordinates are those of: a component, as its drawing has them;
	// "machine"; of a grid, such as "plate/top", they count from hole A1 along its letters, its
	// numbers and away from the face; of T-slots from their origin along the slots.
	Frame string
	Grid  bool // Frame is a grid
	Keyed bool // Frame is T-slots: At.X is how far along its slot the middle of its keys is
	// At is where its zero stands, mm, Turned by how much it is turned about Z, rad.
	At     r3.Vector
	Turned float64
	Within float64 // mm; how far off it can be, either way
}

// Off is how far two locators let a component be off, either way, with the positions of
// the holes included.
type Off struct {
	Along  float64    // the line of the two, mm
	Across [2]float64 // the line, at each of them, mm
	Angle  float64    // rad
}

// Gripped is how a component is said to be gripped.
type Gripped struct {
	Bite      float64 // how far jaws may overlap it, mm
	Depth     float64 // how much of its height jaws are said to hold, mm; 0: not stated
	Parallels int     // the body under it; -1: none is stated
}
