package machine

// Change is one thing that a variant of a setup has otherwise. Exactly one of its fields
// is set.
type Change struct {
	Seat     *SeatChange
	Stack    *StackChange
	StickOut *StickOutChange
}

// SeatChange stands a placed component in two other holes of the grid it stands on.
type SeatChange struct {
	Place string
	Pins  [2]string
}

// StackChange puts a stack of components where one stands now: Levels from below. What
// stood on the one stands on the uppermost, in the holes that Above names by place.
type StackChange struct {
	Place  string
	Levels []Level
	Above  map[string][2]string
}

// Level is one component of a stack.
type Level struct {
	Component string    // as Catalogue.Components has it
	Pins      [2]string // in what is below it
}

// StickOutChange gives a tool another stick-out, in mm.
type StickOutChange struct {
	Tool int // its number
	MM   float64
}
