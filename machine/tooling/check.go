package tooling

// Check returns what is wrong with the tool: its cutter, its holder, and the two
// together. Without any fault that is no Warning the solids are around the
// true tool. Empty if there is nothing to say.
func (t *Tool) Check() []Fault {
	f := faults{of: "tool"}
	if t.Cutter == nil {
		f.fault("cutter", "none", "what is clamped")
	}
	if t.Holder == nil {
		f.fault("holder", "none", "what it is clamped in")
	}
	if len(f.list) > 0 {
		return f.list
	}
	cutter, holder := t.Cutter.Check(), t.Holder.Check()
	good := f.numbers(named{"stick_out", t.StickOut}, named{"mass", t.Mass}, named{"within", t.Within})
	if good && sound(cutter) && sound(holder) {
		f.fit(t)
		f.stickOut(t)
	}
	return append(append(cutter, holder...), f.list...)
}

// sound reports whether there is nothing but warnings.
func sound(list []Fault) bool {
	for _, f := range list {
		if !f.Warning {
			return false
		}
	}
	return true
}

// fitSlack is what a shank may be wider than its bore, mm: more than any fit,
// less than any two sizes differ by.
const fitSlack = 0.05

func (f *faults) fit(t *Tool) {
	c, h := t.Cutter, t.Holder
	if h.Bore > 0 && c.DMM > h.Bore+fitSlack {
		f.fault("DMM", mm(c.DMM), "no more than the holder's bore, %s", mm(h.Bore))
	}
	if c.fastened() && c.LU > 0 && c.LU < c.OAL-fastenedSlack {
		f.fault("LU", mm(c.LU)+", and no DMM", "%s, all of OAL, or a DMM: how wide it is from LU on", mm(c.OAL))
	}
}

// fastenedSlack is how far the stick-out of what is fastened to its holder may be
// from its length, mm: such lengths are told to a tenth.
const fastenedSlack = 0.1

// stickOut compares it with what the cutter allows. A neck in the holder is told and no more, as
// its solid ends at the face; so is a grip shorter than common practice. Against the holder's own
// word, or with cutting edges in the bore, the tool is not one that can be used.
func (f *faults) stickOut(t *Tool) {
	c, out := t.Cutter, t.StickOut
	shortest, longest := t.StickOuts()
	switch {
	case c.fastened():
		if out < c.OAL-fastenedSlack || out > c.OAL+fastenedSlack {
			f.fault("stick_out", mm(out), "OAL, %s: without DMM it is fastened to the holder's face", mm(c.OAL))
		}
	case out > c.OAL:
		f.fault("stick_out", mm(out), "no more than OAL, %s", mm(c.OAL))
	case out > longest && t.Holder.Grip > 0:
		f.fault("stick_out", mm(out), "no more than %s: grip is %s of OAL, %s", mm(longest), mm(t.grip()), mm(c.OAL))
	case out > longest:
		f.warn("stick_out", mm(out), "no more than %s: %s of OAL, %s, in the holder is common practice", mm(longest), mm(t.grip()), mm(c.OAL))
	case out < c.cutting():
		f.fault("stick_out", mm(out), "no less than APMX, %s: cutting edges in the holder", mm(c.cutting()))
	case out < shortest:
		f.warn("stick_out", mm(out), "no less than LU, %s: the neck is in the holder", mm(shortest))
	}
}
