package tooling

// Tool is a cutter in a holder, as it stands in the magazine.
type Tool struct {
	Number   int // as the program calls it
	Name     string
	Cutter   *Cutter
	Holder   *Holder
	StickOut float64 // holder face to foremost point, mm
	Mass     float64 // kg; 0 if it is not known
	// Within is how far the foremost point can be off along the tool, either
	// way, in mm: what the length measured and keyed in can be wrong by.
	Within float64
}

// LPR is the protruding length: gauge line to foremost point, mm (ISO 13399).
// It is what stands in the control's tool table.
func (t *Tool) LPR() float64 { return t.Holder.Length + t.StickOut }

// At returns the same tool with another stick-out.
func (t *Tool) At(stickOut float64) *Tool {
	other := *t
	other.StickOut = stickOut
	return &other
}
