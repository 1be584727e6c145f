package changeover

import (
	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
)

// Format is the version of the plan's JSON form.
const Format = 1

// Plan is how to get from one setup to another: mm, degrees, kg, minutes.
type Plan struct {
	Format  int    `json:"format"`
	From    *Named `json:"from"` // nil: from the empty machine
	To      Named  `json:"to"`
	Machine string `json:"machine"`
	// Verdict is the worst of the ways; unproven at best where something that can be hit
	// is not modelled.
	Verdict check.Verdict `json:"verdict"`
	Off     []string      `json:"off"` // in the order in which they come off, by their names in From
	Stays   []Stay        `json:"stays"`
	On      []string      `json:"on"` // in the order in which they go on, by their names in To
	Steps   []Step        `json:"steps"`
	// ByHand is what somebody may lift by hand; nil: neither setup states it.
	ByHand *float64 `json:"by_hand_kg"`
	// Minutes is the sum of all that is moved; nil where a time is missing, of those in NoMinutes.
	Minutes     *float64 `json:"minutes"`
	NoMinutes   []string `json:"no_minutes"`
	NotModelled []string `json:"not_modelled"`
	Assumed     []string `json:"assumed"`
	Stated      []string `json:"stated"` // what the files state and nobody checked
	Caution     []string `json:"caution"`
}

// Named is a setup and its file.
type Named struct {
	Setup string `json:"setup"`
	File  string `json:"file"`
}

// Stay is a component that stays where it is, by its name in either setup.
type Stay struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// Kinds of step.
const (
	Ready   = "ready"    // axes go where loading is done
	TakeOff = "take off" // a component comes off
	Adjust  = "adjust"   // pins and setting axes of what stays
	PutOn   = "put on"   // a component goes on
)

// Step is one step of a changeover.
type Step struct {
	Number    int    `json:"number"`
	Kind      string `json:"kind"`
	Unit      string `json:"unit,omitempty"`      // what is moved or adjusted
	Component string `json:"component,omitempty"` // its file
	Setup     string `json:"setup"`               // the one that names it so
	// Do is what is done, a plain sentence each, in this order.
	Do []string `json:"do"`
	// Caution is what to see to before.
	Caution []string `json:"caution"`
	// Mass is that of the lift, kg; nil: not known, or nothing is lifted. Heavy says that
	// it is more than may be lifted by hand, or that it is not known.
	Mass    *float64 `json:"mass_kg"`
	Heavy   bool     `json:"heavy"`
	Minutes *float64 `json:"minutes"` // nil: not stated, or nothing is moved
	// At is where the axes stand.
	At []check.Position `json:"at"`
	// Standing is what stands on the machine when the step is done.
	Standing []string        `json:"standing"`
	Pins     []PinChange     `json:"pins"`
	Screws   []Screws        `json:"screws"`
	Settings []SettingChange `json:"settings"`
	// Way is nil where nothing is lifted.
	Way *Way `json:"way"`

	scene *scene
}

// PinChange is a locating pin that is set or withdrawn, or a dowel put in or taken out.
type PinChange struct {
	Unit string `json:"unit"` // what it is in
	Grid string `json:"grid"`
	Hole string `json:"hole"`
	Set  bool   `json:"set"`
	// Loose says that it is a dowel, and of nothing.
	Loose bool `json:"loose"`
}

// Screws are screws of one size that go in, or come out, from one side.
type Screws struct {
	Count  int      `json:"count"`
	Thread string   `json:"thread"`
	Class  string   `json:"class,omitempty"`
	Side   string   `json:"side"`  // "above" or "below"
	Names  []string `json:"names"` // as the component's file names them
	Into   []string `json:"into"`  // holes that they stand over, where known
	// Length is without the head; nil: not stated.
	Length *float64 `json:"length_mm"`
	// Torque is the greatest for class and size, N m; nil: not known, and why.
	Torque   *float64 `json:"torque_nm"`
	NoTorque string   `json:"no_torque,omitempty"`
	Tighten  bool     `json:"tighten"`
}

// SettingChange is a setting axis that is set anew.
type SettingChange struct {
	Unit string  `json:"unit"`
	Axis string  `json:"axis"`
	To   float64 `json:"to"`
	Kind string  `json:"unit_of_to"` // "mm" or "deg"
	// Open says that it only makes room for what is put in or taken out.
	Open bool `json:"open"`
}

// Way is how a component is led in, or out.
type Way struct {
	// Stated says that the setup file has it; without, it is straight along the normal of
	// the seat, over FreeHeight mm.
	Stated     bool    `json:"stated"`
	FreeHeight float64 `json:"free_height_mm"`
	Words      string  `json:"words"`
	// Points are those of the way, in the order in which they are gone.
	Points  []Point       `json:"points"`
	Verdict check.Verdict `json:"verdict"`
	// Demand is the least clearance that was asked for, of Pairs pairs of bodies.
	Demand float64 `json:"demand_mm"`
	Pairs  int     `json:"pairs"`
	// Meetings are the pairs that are not clear, worst first.
	Meetings []Meeting `json:"meetings"`
}

// Point is where a component is against where it stands when it is seated: along the
// grid's letters, its numbers and away from the face, and how far it is turned.
type Point struct {
	Shift [3]float64 `json:"shift_mm"`
	Turn  float64    `json:"turned_deg"`
	About int        `json:"about"` // its locator 1 or 2; 0: its own zero
}

// Meeting is what is known of two bodies on a way.
type Meeting struct {
	Verdict      check.Verdict  `json:"verdict"`
	Bodies       [2]string      `json:"bodies"` // what is moved first
	Demand       float64        `json:"demand_mm"`
	DemandReason string         `json:"demand_reason,omitempty"`
	Proven       *float64       `json:"proven_mm"`
	Smallest     *float64       `json:"smallest_mm"`
	Leg          int            `json:"leg"` // from point Leg to the next, as gone; 0: of the way as a whole
	At           *Point         `json:"at"`  // where on the way
	Points       *[2][3]float64 `json:"points_mm"`
	Reason       string         `json:"reason,omitempty"`

	at machine.Waypoint
}

// scene is what a picture of a step needs.
type scene struct {
	setup  *machine.Setup
	params motion.Params
	seat   *machine.Seat // of what moves; nil if nothing does
	frame  geom.Pose     // of what moves, axes at zero
	// moved are bodies that setting axes have moved from where the setup has them, with
	// every axis at zero: doors that are open, and jaws. Opened are those of the jaws.
	moved  map[int]geom.Pose
	opened map[int]bool
	jaws   []opening
	way    []machine.Waypoint // as it is gone
}

// Of returns the setup that the step is drawn from, and where its axes stand.
func (s *Step) Of() (*machine.Setup, motion.Params) { return s.scene.setup, s.scene.params }

// Pose returns where a body of the step's setup stands during the step, jaws opened that
// are; of what is moved, where it is seated. Bed frame.
func (s *Step) Pose(body int) geom.Pose {
	c := s.scene.chain(body)
	return c.Pose(s.scene.params)
}

// Begin and End are the ends of the way, as it is gone.
func (s *Step) Begin() machine.Waypoint { return s.scene.way[0] }

// End is the last point of the way.
func (s *Step) End() machine.Waypoint { return s.scene.way[len(s.scene.way)-1] }

// Legs returns all points of the way, as it is gone; nil where nothing is moved.
func (s *Step) Legs() []machine.Waypoint { return s.scene.way }

// PoseAt returns where a body of what is moved is at a point of the way, bed frame.
func (s *Step) PoseAt(body int, at machine.Waypoint) geom.Pose {
	c := s.scene.mover(body, at, at)
	return c.Pose(motion.Params{})
}

// Where returns the point of the way at which two bodies were found nearest or meeting.
func (m *Meeting) Where() machine.Waypoint { return m.at }
