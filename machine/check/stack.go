package check

// Stack is whether a setup goes together, and how precisely it stands then. Everything
// is in mm and degrees. What is not clear is in Report.Findings too.
type Stack struct {
	Seats []Seat `json:"seats"` // in the order of the setup file
	// Locations are how far points of the parts can be off, in the order of the parts.
	Locations []Location `json:"locations"`
	// Searches are touches of a probe against how far off the surface can be.
	Searches []Search `json:"searches"`
}

// Seat is how a component is located and held. Its verdict is the worst of what is
// said of it.
type Seat struct {
	Unit    string  `json:"unit"`
	On      string  `json:"on"`
	Grid    string  `json:"grid,omitempty"`
	Verdict Verdict `json:"verdict"`
	// LocatedBy is "own pins", "set pins", "dowels", "keys", "stops" or "by hand".
	LocatedBy string    `json:"located_by"`
	Locators  []Locator `json:"locators"`
	Distance  *float64  `json:"distance_mm"` // of the two locators
	// Spare is how much more the distance of the locators could be off before the
	// component no longer goes on, at worst; negative: it may not go on. Nil where that
	// is not known.
	Spare *float64 `json:"spare_mm"`
	// Play is how far the locators let it be off, either way; nil without any.
	Play *Play `json:"play"`
	// Fasteners are its screws, Wanted how many of them it wants at least.
	Fasteners []Fastener `json:"fasteners"`
	Wanted    int        `json:"fasteners_wanted"`
	// Overhang is how far it stands out beyond what is under it.
	Overhang []Beyond `json:"overhang"`
	Grip     *Grip    `json:"grip,omitempty"`
	Notes    []string `json:"notes"`
}

// Locator is one place at which a component is located.
type Locator struct {
	Hole     string   `json:"hole,omitempty"`
	Relieved bool     `json:"relieved"`
	Pin      string   `json:"pin,omitempty"` // designations
	Bores    []string `json:"bores,omitempty"`
	// Least and Most are the diametral clearance; Least is nil where play is stated.
	Least *float64 `json:"least_mm"`
	Most  *float64 `json:"most_mm"` // nil of a stop
}

// Play is how far two locators let a component be off, either way.
type Play struct {
	Along  float64    `json:"along_mm"`
	Across [2]float64 `json:"across_mm"` // at each of the two
	Angle  float64    `json:"angle_deg"`
}

// Fastener is one screw.
type Fastener struct {
	Name    string  `json:"name"`
	Verdict Verdict `json:"verdict"`
	Thread  string  `json:"thread"`
	// Hole is what it goes into: "top B2"; empty where it stands over none.
	Hole    string   `json:"hole,omitempty"`
	From    string   `json:"from"` // "above" or "below"
	Length  *float64 `json:"length_mm"`
	Engaged *float64 `json:"engaged_mm"` // thread that holds
	Needed  *float64 `json:"needed_mm"`
	Reason  string   `json:"reason,omitempty"`
}

// Holds reports whether a screw counts among those that hold a component: with too
// little thread it does, that being told of itself.
func (f *Fastener) Holds() bool { return f.Verdict == Clear || f.Verdict == Tight }

// Beyond is how far a component stands out on one side.
type Beyond struct {
	Side string  `json:"side"` // "X+": in directions of the machine with every axis at zero, or along the grid: "u+"
	By   float64 `json:"by_mm"`
}

// Grip is how jaws hold a component.
type Grip struct {
	Bite float64 `json:"bite_mm"`
	// Depth is how much of its height the jaws are said to hold, Held how much they do
	// as drawn.
	Depth     *float64 `json:"depth_mm"`
	Held      *float64 `json:"held_mm"`
	Jaws      []string `json:"jaws"`
	Parallels string   `json:"parallels,omitempty"`
}

// Location is how far a point of a part can be off, at one rotary position, at worst.
type Location struct {
	Part  string     `json:"part"`
	Point string     `json:"point"` // PartZero, FarthestCorner
	To    string     `json:"to"`    // FromSeat or FromTool: against what
	At    []Position `json:"at"`
	Off   float64    `json:"off_mm"` // in any direction, at worst
	// Along is the same along the machine's X, Y and Z.
	Along [3]float64 `json:"along_mm"`
	Angle float64    `json:"angle_deg"`
	// Likely is the root of the sum of squares of what adds up to Off: for
	// information only.
	Likely float64 `json:"root_sum_square_mm"`
	// Wanted is what the user allows unprobed work to be off; nil: not stated.
	Wanted *float64 `json:"wanted_mm"`
	// Verdict is Clear, too, where nothing is asked: of the stack alone, and without Wanted.
	Verdict Verdict `json:"verdict"`
}

// Points and frames of a Location.
const (
	PartZero       = "zero"
	FarthestCorner = "farthest corner"
	FromSeat       = "the machine's table" // the stack alone
	FromTool       = "the tool"            // the axes of the machine as well
)

// Search is a touch of a probe against how far off the surface can be.
type Search struct {
	Operation string  `json:"operation"`
	Feature   string  `json:"feature"`
	Before    float64 `json:"before_mm"` // from where the search begins to the surface as drawn
	Beyond    float64 `json:"beyond_mm"` // how far it goes on
	Off       float64 `json:"off_mm"`    // how far off the surface can be, along the search
	Verdict   Verdict `json:"verdict"`
}
