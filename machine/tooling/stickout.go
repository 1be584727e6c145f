package tooling

// StickOuts returns the shortest and the longest stick-out in mm that cutter and
// holder allow. The longest leaves grip of the shank in the holder. The shortest
// leaves everything outside that is not shank; where the shank is too short for
// that, both are the longest. What is fastened to the holder's face stands out
// by its length and no other way. Without OAL both are the StickOut.
func (t *Tool) StickOuts() (shortest, longest float64) {
	c := t.Cutter
	switch {
	case !(c.OAL > 0):
		return t.StickOut, t.StickOut
	case c.fastened():
		return c.OAL, c.OAL
	}
	longest = max(c.OAL-t.grip(), 0)
	return min(c.usable(), longest), longest
}

// grip returns how much of the shank must be in the holder, mm. Where the holder
// does not say: twice its diameter, and two thirds of the bore's, which counts for a
// thin shank in a wide collet. Common practice, no source.
func (t *Tool) grip() float64 {
	if t.Holder.Grip > 0 {
		return t.Holder.Grip
	}
	return max(2*t.Cutter.DMM, 2*t.Holder.Bore/3)
}
