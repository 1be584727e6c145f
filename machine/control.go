package machine

import "gridswing/geom/motion"

// Control is what the machine file states of how its control reads programs. What it does
// not state is not assumed: where a program needs it, reading ends there.
type Control struct {
	// PlainNumbers says what a number without a decimal point means: AsWritten or
	// SmallestSteps; "" if it is not stated.
	PlainNumbers string
	// Step is the smallest step of lengths, mm, and TurnStep that of angles, rad, which
	// numbers without a point count by SmallestSteps.
	Step, TurnStep float64
	// Starts lists the codes that hold when a program begins, such as "G17"; a group that no
	// code of is listed is not known until the program states it.
	Starts []string
	// Codes says in neutral words what codes do that no standard settles: one of CodeMeanings.
	Codes map[string]string
	// ArcTolerance is by how much the radii at the ends of an arc may differ, mm; 0 if it is
	// not stated.
	ArcTolerance float64
	// Centres says from where I, J and K count: FromStart or FromZero; "" if it is not stated.
	Centres string
	// HomeReturn says how G28 and G30 go: ThroughPoint or Direct; "" if it is not stated.
	HomeReturn string
	// HomeAxes says which axes G28 and G30 lead home: AllAxes or NamedAxes; "" if it is not stated.
	HomeAxes string
	// HomeRapid says how axes go home by G28 and G30, whatever Setup.Rapid is: Interpolated or
	// EachByItself, as which it is taken where it is not stated.
	HomeRapid string
	// SecondHome is where G30 goes, the axes of units going home; nil if it is not stated.
	SecondHome *motion.Params
	// LengthMoves says when a change of the length offset moves the axis: WithNextMove or
	// AtOnce; "" if it is not stated.
	LengthMoves string
	// Corners says how radius compensation goes round outer corners: RoundCorners or
	// SharpCorners; "" if it is not stated.
	Corners string
	// Entry says where the move that begins radius compensation ends: SquareToNext or
	// Touching; "" if it is not stated.
	Entry string
	// Return says which level G98 returns to: BeforeFirst or BeforeBlock; "" if it is not stated.
	Return string
	// PeckClear is how far above the last depth a pecking cycle goes on in feed (G83), ChipBreak
	// how far it comes back to break the chip (G73), mm; nil if they are not stated.
	PeckClear, ChipBreak *float64
	// Dwell is what P counts in G4 and cycles: Seconds or Milliseconds; "" if it is not stated.
	Dwell string
	// Repeats is the letter that says how often a cycle or subprogram is done: "L" or "K"; "" if
	// it is not stated.
	Repeats string
	// Subprograms is the file name of a subprogram, {number} standing for its number, in the
	// folder of the program; "" if there are none in files. Digits is how many digits {number}
	// is filled up to with zeros, 0 for as it is.
	Subprograms string
	Digits      int
	// BlockDelete says whether blocks that begin with / are left out; nil if it is not stated:
	// then such a block ends the reading.
	BlockDelete *bool
	// Expressions says that the control works out variables and expressions as NISTIR 6556, sec.
	// 3.3.2, has them. Others round negative numbers, order operations and take bits another way:
	// where it is not set the first expression ends the reading.
	Expressions bool
	// ChangeMoves says whether the control drives to the position of the tool change by itself
	// at M6; nil if it is not stated.
	ChangeMoves *bool
	// ChangeSeconds is what a tool change takes, 0 if it is not stated.
	ChangeSeconds float64
}

// What Control's fields may say.
const (
	AsWritten     = "as written"         // X100 is 100 mm
	SmallestSteps = "smallest steps"     // X100 is 0.1 mm where the step is 0.001 mm
	FromStart     = "from start"         // of the arc
	FromZero      = "from zero"          // of the coordinates
	ThroughPoint  = "through point"      // by way of the programmed point, then home
	Direct        = "direct"             // straight home, whatever is programmed
	AllAxes       = "all"                // every axis, whatever is named (NISTIR 6556)
	NamedAxes     = "named"              // those whose letters are in the block
	EachByItself  = "each by itself"     // home, in its own time
	WithNextMove  = "with next move"     // the code by itself does not move
	AtOnce        = "at once"            // the code moves the axis
	RoundCorners  = "round"              // on an arc about the corner
	SharpCorners  = "sharp"              // on until the offset lines meet
	SquareToNext  = "square to the next" // beside its end, square to the move that follows
	Touching      = "touching"           // its line touches the circle of the radius about its end (NISTIR 6556)
	BeforeFirst   = "before the first"   // where the tool stood before the first of the cycles in a row
	BeforeBlock   = "before the block"   // where it stood before the block (NISTIR 6556)
	Seconds       = "seconds"
	Milliseconds  = "milliseconds"
)

// What a code may be said to do. None of them moves an axis by itself: coordinates are counted anew.
//
// The control knows of a part what the work offset says: that the gauge point is at its zero with
// X, Y and Z at the offset and the rotary axes at their own zero, and that its directions are the
// machine's with the rotary axes at the zero of the program.
const (
	NoMotion = "no motion" // nothing that moves an axis
	// X, Y and Z lead the tip in the part and H is its length, until EndsControl. The first move
	// names X, Y and Z.
	TipControl = "tip control"
	// The zero goes with the rotary axes, directions stay the machine's, until EndsControl. Linear
	// axes that a block does not name stay where they stand.
	CarriedZero = "carried zero"
	// Coordinates of the part are turned by I, J and K about Z, X and Z (Euler) about the place X,
	// Y, Z, until EndsControl. Rotary axes must lay the tool along their Z before X, Y or Z are
	// led.
	TurnedPlane = "turned plane"
	EndsControl = "ends control" // of tip, carried zero and turned plane
	MoreOffsets = "more offsets" // work offset number P, named "CODE Pn"
	ExactPath   = "exact path"   // the control keeps to the path: no motion by itself
	RotaryClamp = "rotary clamp" // clamps or frees a rotary axis
	LocalZero   = "local zero"   // shifts the zero of every work offset by the axis words
)

// CodeMeanings lists what Control.Codes may say.
func CodeMeanings() []string {
	return []string{NoMotion, TipControl, CarriedZero, TurnedPlane, EndsControl, MoreOffsets, ExactPath, RotaryClamp, LocalZero}
}

// Keyed is what the setup says is keyed in at the control.
type Keyed struct {
	Offsets map[string]KeyedOffset // by name, such as "G54"
	Lengths map[int]float64        // length offsets by H number, mm
	Radii   map[int]float64        // radius offsets by D number, mm
}

// KeyedOffset is a work offset: what is added to programmed positions, mm and rad; Stated tells
// which axes it names.
type KeyedOffset struct {
	Values motion.Params
	Stated [motion.MaxParams]bool
}

// Rates are how fast an axis goes, mm or rad and seconds; 0 where it is not stated.
type Rates struct {
	Rapid        float64 // per second
	Acceleration float64 // per second squared
}
