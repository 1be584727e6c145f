package check

// Reach is what was found of a setup's operations: how each feature can be
// presented, whether the axes have the travel, and what is met on the way.
// Everything is in mm and degrees. What is not clear is in Report.Findings too.
type Reach struct {
	Operations []Operation `json:"operations"` // in the order of the file
	Moves      []Move      `json:"moves"`      // between operations, in their order
	Magazine   []Magazine  `json:"magazine"`
	// Cautious says on which side of the truth the model of the stock is.
	Cautious []string `json:"cautious"`
}

// Operation is what was found of one operation. Its verdict is the worst of its
// features'.
type Operation struct {
	Name     string    `json:"name"`
	Part     string    `json:"part"`
	Tool     int       `json:"tool"` // its number
	ToolName string    `json:"tool_name"`
	LPR      float64   `json:"lpr_mm"`
	Verdict  Verdict   `json:"verdict"`
	Features []Feature `json:"features"`
	StickOut *StickOut `json:"stick_out,omitempty"`
}

// Feature is what was found of one feature, at the rotary position chosen for it.
type Feature struct {
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Verdict Verdict `json:"verdict"`
	// Reason says in a few words what the verdict is about: the tightest place,
	// the axis that has not the travel, why no position presents it.
	Reason string `json:"reason"`
	// Presented lists the rotary positions that present the feature, the chosen
	// one first.
	Presented []Presented `json:"presented"`
	// Along is between what the rotary axes go while a contour is cut whose axis changes; at the
	// chosen position it begins. Nil of all other features.
	Along []Range `json:"along,omitempty"`
	// Travel is where each linear axis comes nearest to its limits, at approach, at
	// depth and at retract, in the order of the axes.
	Travel []Travel `json:"travel"`
	// Tightest is the worst pair of the operation, or the nearest if all are clear, if
	// it is at this feature.
	Tightest *Finding `json:"tightest,omitempty"`
}

// Presented is a rotary position that presents a feature, or comes nearest to it.
type Presented struct {
	At      []Position `json:"at"`
	Verdict Verdict    `json:"verdict"`
	Chosen  bool       `json:"chosen"`
	// Why is said of a position that is not chosen, or is not good.
	Why string `json:"why,omitempty"`
	// Free is an axis wherever which stands the feature is presented: the tool's axis lies along
	// it. Only At was looked at.
	Free string `json:"free,omitempty"`
	// Miss is by how many degrees the tool's axis is off; 0 if it is presented.
	Miss float64 `json:"miss_deg,omitempty"`
}

// Travel is where an axis comes nearest to one of its limits.
type Travel struct {
	Axis     string  `json:"axis"`
	Where    string  `json:"where"` // AtApproach, AtDepth or AtRetract
	Position float64 `json:"position_mm"`
	Limit    float64 `json:"limit_mm"`
	// Margin is how far the limit is away, negative if it is passed, the axis'
	// uncertainty taken off. Demand is the margin asked for.
	Margin float64 `json:"margin_mm"`
	// Loose is what the uncertainty took off Margin.
	Loose  float64 `json:"loose_mm"`
	Demand float64 `json:"demand_mm"`
	// Cures says what would bring the axis back into its travel.
	Cures []string `json:"cures,omitempty"`
}

// Where on its way a tool is.
const (
	AtApproach = "approach"
	AtDepth    = "depth"
	AtRetract  = "retract"
)

// StickOut is the window of an operation's tool, in mm from the holder's face to
// the foremost point.
type StickOut struct {
	Now      float64 `json:"now_mm"`
	Possible Span    `json:"possible_mm"` // what cutter and holder allow
	// Shortest and Longest bound the stick-outs that are good, nil if none is.
	Shortest *float64 `json:"shortest_mm"`
	Longest  *float64 `json:"longest_mm"`
	// ShortestBy and LongestBy say what bounds them.
	ShortestBy string `json:"shortest_by"`
	LongestBy  string `json:"longest_by"`
	// Tool is the window that serves all operations of the same tool.
	Tool *Span `json:"tool_mm"`
	// Others are tools of the library, with the same cutting geometry, whose
	// own stick-out falls inside.
	Others []string `json:"others,omitempty"`
}

// Span is from the first number to the second.
type Span [2]float64

// Kinds of Move.
const (
	RapidMove  = "rapid"
	IndexMove  = "index"
	ChangeMove = "tool change"
)

// Move is a way between two operations, or two features of one.
type Move struct {
	Kind    string  `json:"kind"`
	From    string  `json:"from"`
	To      string  `json:"to"`
	Tool    int     `json:"tool"`
	Verdict Verdict `json:"verdict"`
	Over    []Range `json:"over"` // what the axes pass through
	Reason  string  `json:"reason,omitempty"`
	// Height is for an index: the lowest Z from which on everything up to home
	// is clear, over this move and over the full commanded range; nil if not even
	// home is. HeightBy says what bounds it.
	Height     *float64 `json:"height_mm,omitempty"`
	FullHeight *float64 `json:"full_height_mm,omitempty"`
	HeightBy   string   `json:"height_by,omitempty"`
	// Short is how much higher than home Z would have to go; nil where home will
	// do or it is not known.
	Short *float64 `json:"short_mm,omitempty"`
}

// Magazine is one tool against what the magazine takes.
type Magazine struct {
	Tool    int     `json:"tool"`
	Name    string  `json:"name"`
	Verdict Verdict `json:"verdict"`
	LPR     float64 `json:"lpr_mm"`
	Widest  float64 `json:"widest_mm"`
	// Mass is nil where it is not known.
	Mass   *float64 `json:"mass_kg"`
	Reason string   `json:"reason,omitempty"`
}

// Offsets is what to key in for a setup: the table for the one method that the
// machine's control has.
type Offsets struct {
	Method  string `json:"method"`
	Lengths string `json:"lengths"`
	// Basis is "NOMINAL" or "MEASURED": where the rotary centre comes from.
	Basis    string       `json:"basis"`
	Unit     string       `json:"unit"` // "mm" or "inch"
	Decimals int          `json:"decimals"`
	Shift    float64      `json:"shift"`   // common shift along Z, in Unit
	Offsets  []WorkOffset `json:"offsets"` // part by part, position by position
	// Centres are the rotary centres, for a control that turns offsets itself.
	Centres []RotaryCentre `json:"centres,omitempty"`
	Probing []Probing      `json:"probing"`
	Notes   []string       `json:"notes"`
}

// WorkOffset is where the part's zero is, in machine positions.
type WorkOffset struct {
	Part   string     `json:"part"`
	Number string     `json:"number"`
	Rotary []Position `json:"rotary"` // where the rotary axes stand
	Linear []Position `json:"linear"` // in the unit of Offsets
	// Turn is what to add to a rotary axis for a part that probing found turned.
	Turn []Position `json:"turn,omitempty"`
	// Basis is "NOMINAL" or "MEASURED".
	Basis string   `json:"basis"`
	Notes []string `json:"notes,omitempty"`
}

// RotaryCentre is where the spindle stands on a rotary axis' line. The coordinate
// along the line is left out.
type RotaryCentre struct {
	Axis   string     `json:"axis"`
	Linear []Position `json:"linear"`
	Basis  string     `json:"basis"`
}

// Probing is where to begin to probe a part's zero, and the distance in which it
// must be found.
type Probing struct {
	Part   string     `json:"part"`
	Rotary []Position `json:"rotary"`
	Along  string     `json:"along"` // "X-": the way the probe goes
	// Probe is the number of the touch probe whose ball is counted; 0: none is.
	Probe int        `json:"probe,omitempty"`
	Start []Position `json:"start"`
	// Find is how far from the start the surface is as drawn, Within how far off
	// it can be either way.
	Find   float64 `json:"find"`
	Within float64 `json:"within"`
}
