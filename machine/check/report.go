package check

import (
	"cmp"
	"math"
	"slices"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// Format is the version of the report's JSON form.
const Format = 1

// Questions that a finding can answer.
const (
	Rest     = "rest"     // bodies that never move against each other
	Swing    = "swing"    // bodies that rotary axes move against each other
	Overhang = "overhang" // what the table carries, against everything fixed
	Index    = "index"    // the spindle side, while the rotary axes index
	Reaching = "reach"    // a tool at a feature: on the way in, at depth, out
	LeftOut  = "left out" // an operation that could not be looked at
	Presents = "present"  // whether any rotary position presents a feature
	Travels  = "travel"   // whether the axes have the travel
	Rapids   = "rapid"    // a tool between features
	Indexing = "indexing" // a tool while the rotary axes go to the next position
	Changing = "change"   // a tool change, and what the changer sweeps
	Stored   = "magazine" // whether the magazine takes a tool
	Keyed    = "offsets"  // what to key in
	Driving  = "driver"   // a driver on its way to a screw
	Heads    = "head"     // the head of a screw, in its place
	Stacked  = "stack"    // whether a component goes where it is said to, and is held there
	Located  = "location" // how precisely a part stands
	Posted   = "program"  // a move of the posted program
	Gouging  = "gouge"    // a cutter below the finished surface
	Carrying = "load"     // whether a unit or the table may carry what stands on it
)

// Checks that a report can be about.
const (
	SwingCheck  = "swing"  // whether anything meets while the axes go over their ranges
	ReachCheck  = "reach"  // whether the tools get to the features, and back
	DriverCheck = "driver" // whether screws can be got at
	StackCheck  = "stack"  // whether the setup goes together, and how precisely it stands
	PostedCheck = "posted" // whether the posted program keeps to all of it
	LoadsCheck  = "loads"  // whether units and the table may carry what stands on them
)

// LinearParts is in how many parts of a linear axis' range Finding.Where is told.
const LinearParts = 40

// Report is everything a check found, in mm and degrees.
type Report struct {
	Format  int     `json:"format"`
	Setup   string  `json:"setup"`
	File    string  `json:"file"`
	Machine string  `json:"machine"`
	Verdict Verdict `json:"verdict"`
	// Checks are those that were run: SwingCheck, ReachCheck. The verdict is about
	// nothing else.
	Checks []string `json:"checks"`
	// Findings are what is not clear, worst first.
	Findings []Finding `json:"findings"`
	// Closest are the clear pairs that come nearest to each other, nearest first.
	Closest []Finding `json:"closest"`
	// Pairs are all pairs looked at, with what is proven of each.
	Pairs []Pair `json:"pairs"`
	Axes  []Axis `json:"axes"`
	// SpindleSide names the bodies that stand on the tool's branch: those that
	// were looked at only where Axis.SpindleAt says.
	SpindleSide []string   `json:"spindle_side"`
	Presence    []Presence `json:"presence"`
	Placed      []Placed   `json:"placed"`
	// Assumed says where the spindle stands and which tool it holds.
	Assumed []string `json:"assumed"`
	// LeftToMaker names the units whose own bodies are not checked against each other.
	LeftToMaker []string `json:"left_to_maker"`
	Stated      []string `json:"stated"` // what the user vouches for, such as an open solid being outside
	Warnings    []string `json:"warnings"`
	// UnusedTools is what is wrong with tools that no operation uses; one of Warnings counts them.
	UnusedTools []string `json:"unused_tools,omitempty"`
	Chart       *Chart   `json:"chart,omitempty"`
	// Reach is nil where the setup has no operations, Offsets where the machine
	// file does not state how its control treats them.
	Reach   *Reach   `json:"reach,omitempty"`
	Offsets *Offsets `json:"offsets,omitempty"`
	// Fastening is nil where no component has screws.
	Fastening *Fastening `json:"fastening,omitempty"`
	// Loads is nil where nothing turns and no table load is stated.
	Loads *Loads `json:"loads,omitempty"`
	// Stack is nil where nothing is placed.
	Stack *Stack `json:"stack,omitempty"`
	// Program is nil unless a posted program was looked at.
	Program *Program `json:"program,omitempty"`
	// Margins has what is tightest of each concern, where margins were asked for.
	Margins []Margin `json:"margins,omitempty"`
	Caution []string `json:"caution"`
}

// Finding is what is known of one pair of bodies.
type Finding struct {
	Verdict  Verdict   `json:"verdict"`
	Question string    `json:"question"`
	Bodies   [2]string `json:"bodies"`
	// Demand is the clearance asked for; DemandReason is set where the setup asks
	// something else of this pair than of others.
	Demand       float64 `json:"demand_mm"`
	DemandReason string  `json:"demand_reason,omitempty"`
	// Proven is the clearance that holds at every position in the range, location
	// uncertainty and chord error taken off; nil where nothing is proven.
	Proven *float64 `json:"proven_mm"`
	// Smallest is the least clearance found, the same taken off, at At; nil of a
	// contact, of bodies that belong together, and where no clearance was seen.
	// Nominal is the same gap as drawn, and Uncertainty what lies between the two.
	Smallest    *float64   `json:"smallest_mm"`
	Nominal     *float64   `json:"nominal_mm"`
	Uncertainty float64    `json:"uncertainty_mm"`
	At          []Position `json:"at"`
	// Points are the nearest points of the two bodies at At, bed frame.
	Points *[2][3]float64 `json:"points_mm"`
	// PartPoint is the middle between Points in the coordinates of the part that is cut,
	// nil where none is.
	PartPoint *[3]float64 `json:"part_point_mm,omitempty"`
	// Over is the range that was swept, Where the positions that a contact concerns.
	Over  []Range `json:"over"`
	Where []Range `json:"where,omitempty"`
	// Reason says in words what happened where numbers do not.
	Reason string `json:"reason,omitempty"`
	// Operation and Feature say what the tool was at; Tool is its number. Cures
	// says what would help.
	Operation string `json:"operation,omitempty"`
	Feature   string `json:"feature,omitempty"`
	Tool      *int   `json:"tool,omitempty"`
	// Line and Block are those of a program, Line 0 elsewhere; ProgramFile is set where that is not
	// Report.Program.File, Seconds is when the block begins. Depth is how deep something goes where it must
	// not, mm; nil if it is not known.
	Line        int      `json:"line,omitempty"`
	Block       string   `json:"block,omitempty"`
	ProgramFile string   `json:"program_file,omitempty"`
	Seconds     *float64 `json:"seconds,omitempty"`
	Depth       *float64 `json:"depth_mm,omitempty"`
	Cures       []string `json:"cures,omitempty"`

	// Params is At as parameters of the setup's chains, and Index the bodies'
	// places in the setup: what a picture needs. Where Tool is set, indices from
	// len(Setup.Bodies) on are those of Setup.ToolBodies for that tool.
	Params motion.Params `json:"-"`
	Index  [2]int        `json:"-"`
}

// Swung reports whether the swing was looked at.
func (r *Report) Swung() bool { return slices.Contains(r.Checks, SwingCheck) }

// Witness returns the nearest points in the bed frame; ok is false if none are known.
func (f *Finding) Witness() (a, b r3.Vector, ok bool) {
	if f.Points == nil {
		return a, b, false
	}
	p := f.Points
	return r3.Vector{X: p[0][0], Y: p[0][1], Z: p[0][2]}, r3.Vector{X: p[1][0], Y: p[1][1], Z: p[1][2]}, true
}

// Pair is what is proven of two bodies, in one line.
type Pair struct {
	Question string    `json:"question"`
	Bodies   [2]string `json:"bodies"`
	Verdict  Verdict   `json:"verdict"`
	Demand   float64   `json:"demand_mm"`
	Proven   *float64  `json:"proven_mm"`
}

// Position is where one axis stands, in its programmed sense. Of an axis without ends
// Value goes on over whole turns; Shown is what a control shows.
type Position struct {
	Axis  string  `json:"axis"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"` // "mm" or "deg"
	Turn  Turn    `json:"-"`
}

// Range is a stretch of one axis, both ends included.
type Range struct {
	Axis string  `json:"axis"`
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Unit string  `json:"unit"`
	Turn Turn    `json:"-"`
}

// Axis is what the report says of an axis.
type Axis struct {
	Letter    string `json:"letter"`
	CarriedBy string `json:"carried_by"` // "machine" or the unit that brings it
	Commanded Range  `json:"commanded"`
	// Travel is nil for an axis without ends.
	Travel *Range `json:"travel"`
	// Narrower says that less is commanded than the axis can go.
	Narrower bool `json:"narrower"`
	// CarriesTool: the axis stands on the tool's branch, so that nothing was
	// looked at but where SpindleAt says.
	CarriesTool bool `json:"carries_tool"`
	// SpindleAt is where the axis stood while the spindle side was looked at, nil
	// if there is none. SpindleWhy is AtIndex, AtHome or AtCommanded.
	SpindleAt  *Range `json:"spindle_at"`
	SpindleWhy string `json:"spindle_why,omitempty"`
	Words      string `json:"words,omitempty"`
}

// Why an axis stood where it did while the spindle side was looked at.
const (
	AtIndex     = "index position"
	AtHome      = "home"
	AtCommanded = "commanded range"
)

// SpindleOnly reports whether the spindle side was looked at over less of the
// axis than is commanded.
func (a *Axis) SpindleOnly() bool {
	return a.SpindleAt != nil && *a.SpindleAt != a.Commanded
}

// Placed is a component that stands on the machine, and how large it is as drawn:
// in its own coordinates, all its solids together, its axes at zero.
type Placed struct {
	Name string     `json:"name"`
	Size [3]float64 `json:"size_mm"` // along its own X, Y and Z
}

// Presence says whether something that could be hit is in the model.
type Presence struct {
	What   string   `json:"what"`
	State  string   `json:"state"`
	Bodies []string `json:"bodies,omitempty"`
}

// Chart is the smallest clearance over tilt and rotary. Rows and columns are
// cells of equal size; Cells[row*Columns+column], the first row at Rotary.From.
type Chart struct {
	Tilt    Range  `json:"tilt"`
	Rotary  *Range `json:"rotary"` // nil if only one rotary axis moves anything
	Columns int    `json:"columns"`
	Rows    int    `json:"rows"`
	// Cap is the clearance from which on the chart no longer tells.
	Cap    float64 `json:"cap_mm"`
	Demand float64 `json:"demand_mm"`
	Cells  []Cell  `json:"cells"`
}

// Cell is the verdict over one cell of the chart, its proven clearance and the
// least one found, nil where none below the cap was.
type Cell struct {
	Verdict  Verdict  `json:"verdict"`
	Proven   *float64 `json:"proven_mm"`
	Smallest *float64 `json:"smallest_mm"`
}

// Caution is printed with every report and page.
var Caution = []string{
	"This is a geometric check of the models given. What is not modelled cannot be found.",
	"It does not replace a proving run (reduced rapid, single block, hand on feed hold, distance-to-go watched), " +
		"the machine builder's manual, lifting rules for heavy units, local safety codes or a qualified person's judgement.",
	"A work-offset shift in Z is no safe way to raise a proving run where the control turns offsets.",
}

// Conclude orders the findings, worst first, and the clear pairs, nearest first,
// and sets the report's verdict:
// the worst of the findings, and unproven at best where something is not modelled
// or nothing was looked at.
func (r *Report) Conclude() {
	slices.SortStableFunc(r.Findings, worstFirst)
	slices.SortStableFunc(r.Closest, nearestFirst)
	verdict := Clear
	if len(r.Pairs) == 0 {
		verdict = Unproven
	}
	for _, p := range r.Presence {
		if p.State == NotModelled && Unproven.Worse(verdict) {
			verdict = Unproven
		}
	}
	for i := range r.Findings {
		if r.Findings[i].Verdict.Worse(verdict) {
			verdict = r.Findings[i].Verdict
		}
	}
	r.Verdict = verdict
}

// questions lists the questions in the order in which findings that are equally
// bad are told: what does not even go together first.
var questions = []string{Stacked, Rest, Swing, Overhang, Index, LeftOut, Presents, Travels, Reaching, Rapids, Indexing, Changing, Stored, Keyed, Located, Heads, Driving, Carrying, Posted, Gouging}

// worstFirst orders by verdict, then by what is left of the demand, then by question.
func worstFirst(a, b Finding) int {
	if d := rank[a.Verdict] - rank[b.Verdict]; d != 0 {
		return d
	}
	left := func(f *Finding) float64 {
		switch {
		case f.Smallest != nil:
			return *f.Smallest - f.Demand
		case f.Proven != nil:
			return *f.Proven - f.Demand
		}
		return 0
	}
	switch x, y := left(&a), left(&b); {
	case x < y:
		return -1
	case x > y:
		return 1
	}
	return slices.Index(questions, a.Question) - slices.Index(questions, b.Question)
}

// nearestFirst orders by what is proven, as it is printed.
func nearestFirst(a, b Finding) int {
	near := func(f *Finding) float64 {
		switch {
		case f.Proven != nil:
			return *f.Proven
		case f.Smallest != nil:
			return *f.Smallest
		}
		return math.Inf(1)
	}
	return cmp.Compare(near(&a), near(&b))
}
