package machine

import (
	"gridswing/machine/fits"

	"github.com/golang/geo/r3"
)

// What locates a component, as a file writes it.
const (
	OwnPins = "own pins" // pins of the component, in bores of what is under it
	SetPins = "set pins" // retractable pins of what is under it, in bores of the component
	Dowels  = "dowels"   // from above, through bores of the component into those under it
	Keys    = "keys"     // tenon keys of the component, in a T-slot
	Stops   = "stops"    // edges of the component against stops
)

// Locator is one of the places at which a component is located. Two fix it in the
// plane of its seat; of stops there are three, the third along the line of the
// first two.
type Locator struct {
	Kind     string // OwnPins, SetPins, Dowels, Keys or Stops
	Relieved bool   // locates across the line of the two only
	// Hole is the label of the hole it stands in; of a key the number of its slot, of
	// a stop "".
	Hole string
	// At is where its axis meets the seating plane as the component has it, bed frame
	// with every axis at zero.
	At r3.Vector
	// Diameter is the nominal one, of a key its width, mm; 0 if it is not stated.
	Diameter float64
	// Pin and Bores are designations, such as "16 g6" and "16 H7"; empty where the
	// file states the play instead. A dowel has two bores: the component's first.
	Pin   string
	Bores []string
	// Clearance is diametral, mm, of all its bores together, interference counted as 0.
	// Where the file states the play, Least is not known.
	Clearance  fits.Clearance
	LeastKnown bool
	// Tightest is the least that any one of its bores leaves, at least and at most, mm;
	// negative: interference. Of no meaning where LeastKnown is false.
	Tightest fits.Clearance
	// Length is how far a pin of the component stands out of its seat, Depth how
	// deep the bore is; 0: not stated.
	Length, Depth float64
}

// Pin is a retractable pin built into a component or the machine.
type Pin struct {
	Unit string // what it is built into
	Grid string // the grid of its hole, by its own name
	Hole string
	// At is where its axis meets the face, Normal points away from it: bed frame with
	// every axis at zero.
	At, Normal       r3.Vector
	Diameter, Height float64 // mm; how far it stands out of the face when it is set
	Withdrawn        bool
	Locates          string // the component located by it; "" if none is
	Body             int    // the body that it is part of; -1 if it is none, being withdrawn or in a bore
}

// Fastener is a screw that holds a component to what is under it.
type Fastener struct {
	Name string // "1", "2" and so on where the file names none
	// At is where its axis meets the seating plane, Toward its way from head to tip:
	// bed frame with every axis at zero, Toward of unit length.
	At, Toward r3.Vector
	Thread     string // "M12"
	FromBelow  bool   // its head is under what is under the component
	Optional   bool   // may be left out where nothing is under it
	// Length is without the head, Clamped what lies between head and seating plane,
	// mm; 0: not stated.
	Length, Clamped float64
	Own             float64     // depth of the component's own thread, of a screw from below, mm; 0: not stated
	Head            *[2]float64 // diameter and height, mm; nil: those of ISO 4762
	Counterbore     *[2]float64 // diameter and depth, mm; nil: none is stated
	Class           string      // "8.8"; empty: not stated
	Material        string      // of the component's own solid at its seat; empty: not stated
	// Under is the hole or slot that it stands over; nil if there is none.
	Under *ScrewHole
}

// ScrewHole is where a screw goes under a component.
type ScrewHole struct {
	Unit string
	Grid string // the grid or the slots, by their own name
	Hole string // its label; the number of a slot
	Slot bool
	// Off is how far the screw's axis is from that of the hole, mm.
	Off    float64
	Thread string // "": it has none
	// From is how deep below the face the thread begins, Depth where it ends, mm;
	// Depth 0: not stated.
	From, Depth float64
	Through     float64 // diameter of a clearance hole, mm; 0: none
	Material    string  // "": not stated
}
