package program

// cycle does a block of a cycle: the code is in.modal[motionG], called by this very block if first is set.
// Axis words are read by in.target.
func (in *interpreter) cycle(first bool) error {
	return in.faultAt(motionG, "a program without cycles")
}
