package machine

import (
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// Setup is a machine with everything that stands on it, as the setup file
// describes it. It is read-only once loaded.
type Setup struct {
	Name    string // the setup's name
	File    string // the setup file, as it was passed to Load
	Machine string // the machine's name
	// Unit is the one that the setup file states its lengths in; here all of them are mm.
	Unit geom.Unit
	// MachineFile is the machine file, as it was read.
	MachineFile string
	// Inputs are all files that were read for it, sorted by name, each once; of a variant (Draft.With)
	// those of the setup as its files have it.
	Inputs   []Input
	Axes     []Axis // programmed axes; index k here is parameter k of every chain
	Bodies   []Body // the machine's first, then the tool, then the components in file order, then set pins
	Matings  []Mating
	Standing []Standing // what each component stands on, in file order; of some there is more than one
	Demand   Demand
	Presence []Presence // one for each of Roles, in that order
	Warnings []string   // what is suspicious but no error, such as an open solid
	// Unused is what is wrong with tools that no operation uses, in the order of the tool files.
	Unused []UnusedTool
	// Unstated says, a line for each kind, which tolerances the files leave
	// out and that they are taken as 0: "no accuracy stated for X, Y: taken as
	// 0". Empty if all are stated.
	Unstated []string
	Up       r3.Vector // unit vector against gravity, bed frame
	// Tool is the tool assumed in the spindle: no smaller than any that operations
	// use. nil if none is modelled.
	Tool *Tool
	// TableLoad is the mass the table may carry, in kg; 0 if it is not stated.
	TableLoad float64

	Ratings       []Ratings      // of the machine and of components, in that order; those that state any
	Counterweight *Counterweight // nil if none is asked for

	Drivers  []*Driver // those of tool files first
	Loading  Loading
	Lifting  Lifting
	Handling []Handling // one for each placed component, in file order
	Settings []Setting  // those of the machine first
	Friction float64    // of threads and heads of screws; 0 if it is not stated

	Spindle    *Spindle // nil if the machine has none
	Tools      []*tooling.Tool
	Parts      []Part
	Operations []Operation
	// Faulty lists operations that are left out since something is wrong with
	// what the files say of them or of their tools.
	Faulty     []FaultyOperation
	MayBeCut   []MayBeCut
	Seats      []Seat // one for each placed component, in file order
	Pins       []Pin  // retractable pins, the machine's first
	Magazine   *Magazine
	ToolChange *ToolChange
	Offsets    *OffsetRules // nil if the machine file does not state the method
	Rapid      string       // Independent or Interpolated
	Spacer     *Spacer      // nil unless one component stands for blocks of any height
	Control    *Control     // nil if the machine file says nothing of programs
	Keyed      *Keyed       // nil if the setup does not say what is keyed in
	Binder     *Binder      // nil if the setup says nothing for its pages

	made     *made // its computed solids
	patterns []pattern
}

// Axis is one programmed axis of the machine or of a unit seated on it.
type Axis struct {
	// Letter is the address in the program: X, Y, Z, U, V, W, A, B or C, and
	// perhaps a digit. A rotary axis that a unit brings is renamed by ISO 841
	// where the unit is seated so that it turns about another axis' line.
	Letter string
	Kind   motion.Kind
	OnTool bool // carries the tool; otherwise it carries the workpiece
	// Unlimited marks a rotary axis without ends; its Travel is infinite.
	Unlimited bool
	// Travel is where the axis can go, Commanded what the setup sweeps (rotary)
	// or may use (linear): mm or radians, in the programmed sense. Commanded
	// is Travel where the setup does not say; one full turn, from 0, for an
	// unlimited axis.
	Travel    [2]float64
	Commanded [2]float64
	Home      float64
	Index     *float64 // position while rotary axes index; nil if none is stated
	// Unit is the placed component that brings the axis, "" for the machine's own.
	Unit string
	// Direction is a unit vector, Centre a point on a rotary axis, both in the
	// bed frame with every axis at zero. Programmed + moves the tool, as seen
	// from the workpiece, along (about) Direction; with Reversed the other way.
	Direction, Centre r3.Vector
	Reversed          bool
	// RollOver says which way round an unlimited axis goes: EitherWay,
	// ShorterWay or ByValue.
	RollOver string
	// Free marks what is no axis of the machine but still to be chosen: it never moves by itself.
	Free bool
	// Measured: Centre is as the setup says it was measured, not as drawn.
	Measured bool
	// Accuracy is how far the axis can be from its programmed position, either
	// way, in mm or radians.
	Accuracy float64
	Rates    Rates
	// Words says what +90 degrees of a rotary axis does, for an operator who
	// faces the machine with +X to the right: at -Y of a vertical machine,
	// looking along +Y. In brackets the same in directions of the bed frame:
	// "C +90: the face towards the operator turns to the left (a point of the
	// part at +X goes to -Y)". Empty for a linear axis.
	Words string
}

// Body is a solid in its place.
type Body struct {
	Name   string // "trunnion/cradle", "stock", "machine/column"; unique
	Unit   string // the placed component, "machine" or "tool"; within one unit nothing is checked
	Role   string // one of Roles or of the further roles a file may state
	OnTool bool   // moves with the tool's branch
	Fixed  bool   // carried by the bed: no axis moves it
	Solid  *Solid
	// Chain gives the pose of the solid's frame in the bed frame. Play is in
	// it as joints without gain and with slack. What a probed part is cut from, and
	// what stands on that, is where probing found it.
	Chain motion.Chain
	// Drawn is Chain before anything was probed; nil where Chain is as drawn.
	Drawn   *motion.Chain
	Mass    float64 // kg; 0 if it is not known: the files state neither mass nor material, or the solid is open
	Density float64 // kg/m3; 0 if it is not known
	// UnitMass is the mass that is stated for the whole unit, in kg; 0 if none is. Of a
	// unit of several solids Mass is the body's share of it, by volume, and 0 where it
	// cannot be shared out since a solid of the unit is not closed.
	UnitMass float64
}

// Solid is a solid as its file gives it, in mm whatever the file's unit.
type Solid struct {
	File  string // "" for a solid that is computed, such as the tool
	Mesh  *geom.Mesh
	Audit geom.Audit
	// ChordError is how far the true surface can be from the facets, in mm,
	// the rounding of a conversion of units included.
	ChordError float64
	// Outside is the user's statement, for a solid that is not closed, that
	// nothing else is inside it.
	Outside bool
}

// Mating is a pair of bodies that belong together and may touch where they do.
type Mating struct {
	A, B int // indices into Setup.Bodies
	// Lift is a unit vector, bed frame with every axis at zero: moved along
	// it, A comes free of B.
	Lift   r3.Vector
	Bite   float64 // how far the two may overlap along Lift, in mm
	Reason string  // for print
}

// Standing says what a placed component is said to stand on. Whether it does,
// as drawn, is for a check to say.
type Standing struct {
	Unit string // the placed component
	On   string // the unit under it: another placed component, or "machine" for its table or bed
	// Bodies are those of On that it stands on, as indices into Setup.Bodies: the solid
	// that is named, or that has the grid or the slots of its locators. Empty where any of
	// the unit will do.
	Bodies []int
	// Grips lists the bodies of On that are said to grip it, as indices into
	// Setup.Bodies; empty if nothing does.
	Grips []int
}

// States of a Presence.
const (
	Modelled       = "modelled"
	DeclaredAbsent = "declared absent"
	NotModelled    = "not modelled"
)

// Presence says whether one of the things that can be hit is in the model.
type Presence struct {
	What   string   // one of Roles
	State  string   // Modelled, DeclaredAbsent or NotModelled
	Bodies []string // names of the bodies that model it
}

// Pose returns where the body stands in the bed frame, nominally, with the
// axes at p: Setup.Axes[k] at p[k].
func (s *Setup) Pose(body int, p motion.Params) geom.Pose {
	return s.Bodies[body].Chain.Pose(p)
}
