package check

import "fmt"

// Program is what was found of a posted program, in mm, degrees and seconds.
type Program struct {
	File   string `json:"file"`
	Format string `json:"format"` // WordAddress or CutterLocation
	Blocks int64  `json:"blocks"` // that were read
	Moves  int64  `json:"moves"`
	// Fault is why reading ended before the program did; nil if it was read to the end. What came
	// before is checked, and nothing after it.
	Fault *ProgramFault `json:"fault,omitempty"`
	// Assumed is what the answer rests on: what is taken as keyed in, which blocks were left out.
	Assumed []string        `json:"assumed"`
	Tools   []ProgramTool   `json:"tools"` // in the order of their first use
	Offsets []ProgramOffset `json:"offsets"`
	Lengths []ProgramLength `json:"lengths"`
	// Seconds is how long the program takes; Known is false where a rate it needs is not stated, and
	// then it is a lower bound.
	Seconds float64        `json:"seconds"`
	Known   bool           `json:"seconds_known"`
	Strip   []StripCell    `json:"strip"` // clearance over time
	Cap     float64        `json:"strip_cap_mm"`
	Demand  float64        `json:"strip_demand_mm"` // what is demanded where nothing else is
	Stock   []ProgramStock `json:"stock"`           // by part
}

// Formats of programs.
const (
	WordAddress    = "word address"
	CutterLocation = "cutter location"
)

// ProgramFault is where a program could not be read on.
type ProgramFault struct {
	File     string `json:"file"`
	Line     int    `json:"line"`
	Column   int    `json:"column"`
	Found    string `json:"found"`
	Expected string `json:"expected"`
	Block    string `json:"block,omitempty"` // the text of the line
}

// ProgramTool is what a program does with a tool.
type ProgramTool struct {
	Tool        int     `json:"tool"`
	Name        string  `json:"name"`
	First       int     `json:"first_line"`
	Last        int     `json:"last_line"`
	FeedSeconds float64 `json:"feed_seconds"`
	Seconds     float64 `json:"seconds"` // with rapids, dwells and its change
	Travel      []Range `json:"travel"`  // what it uses of each axis
	// Removed is how much material it cuts, mm3; nil where no stock is modelled. AirLength is how far
	// it feeds without cutting anything, of FeedLength.
	Removed    *float64 `json:"removed_mm3"`
	FeedLength float64  `json:"feed_length_mm"`
	AirLength  float64  `json:"air_length_mm"`
	// Shortest and Longest are the LPR between which all that was proven of it still holds; nil where
	// that was not looked for.
	LPR      float64  `json:"lpr_mm"`
	Shortest *float64 `json:"shortest_lpr_mm"`
	Longest  *float64 `json:"longest_lpr_mm"`
	// ShortWhy and LongWhy say what is in the way of less or more.
	ShortWhy string `json:"short_why,omitempty"`
	LongWhy  string `json:"long_why,omitempty"`
}

// What is in the way of other lengths of most tools.
const (
	GoesTogether   = "what cutter and holder allow"
	NotClearAsItIs = "not all of what the tool does is clear as it is"
)

// ProgramOffset compares a work offset that the program moves with to the one computed for the setup.
type ProgramOffset struct {
	Number   string     `json:"number"`
	Line     int        `json:"line"`
	Source   string     `json:"source"` // "program", "keyed in", "computed"
	Used     []Position `json:"used"`
	Computed []Position `json:"computed"` // empty where none is
	Verdict  Verdict    `json:"verdict"`
	Words    string     `json:"words,omitempty"`
}

// ProgramLength compares a tool's length in the program to the one of the tool file.
type ProgramLength struct {
	Tool     int      `json:"tool"`
	H        int      `json:"h"`
	Line     int      `json:"line"`
	Source   string   `json:"source"`
	Used     float64  `json:"used_mm"`
	Computed *float64 `json:"computed_mm"`
	Verdict  Verdict  `json:"verdict"`
	Words    string   `json:"words,omitempty"`
	// Unit is what the control counts lengths in, "mm" or "inch": Used and Computed are in mm all the same.
	Unit string `json:"unit"`
}

// Subject names the tool and the number of the length offset it moves with: "T1 with H2", "T1" where there is
// none, "H2" where no tool is known.
func (l *ProgramLength) Subject() string {
	switch {
	case l.Tool != 0 && l.H != 0:
		return fmt.Sprintf("T%d with H%d", l.Tool, l.H)
	case l.Tool != 0:
		return fmt.Sprintf("T%d", l.Tool)
	case l.H != 0:
		return fmt.Sprintf("H%d", l.H)
	}
	return "tool length"
}

// StripCell is the least clearance in a stretch of time: what is proven and, below the cap, what was found.
type StripCell struct {
	From     float64  `json:"from_s"`
	To       float64  `json:"to_s"`
	Line     int      `json:"line"` // the first
	Tool     int      `json:"tool"`
	Verdict  Verdict  `json:"verdict"`
	Proven   *float64 `json:"proven_mm"`
	Smallest *float64 `json:"smallest_mm"`
}

// ProgramStock is what became of a part's stock.
type ProgramStock struct {
	Part      string  `json:"part"`
	Cell      float64 `json:"cell_mm"` // the size of the model's cells
	Before    float64 `json:"before_mm3"`
	Remaining float64 `json:"remaining_mm3"` // at most
	// Left is how much is left above the finished surface, mm3, nil where no finished part is stated.
	Left *float64 `json:"left_mm3"`
}
