package tooling

import (
	"fmt"
	"strconv"
)

// Check returns what is wrong with the holder on its own.
func (h *Holder) Check() []Fault {
	f := faults{of: "holder"}
	f.numbers(named{"length", h.Length}, named{"bore", h.Bore}, named{"grip", h.Grip},
		named{"mass", h.Mass})
	if !(h.ChordError >= 0 && h.ChordError <= largest) { // however small: a rounded vertex is off by that
		f.fault("chord_error", strconv.FormatFloat(h.ChordError, 'g', 6, 64), "0 or more")
	}
	switch {
	case h.Mesh != nil && len(h.Profile) > 0:
		f.fault("profile", "a profile and a solid", "one of the two")
	case h.Mesh == nil && len(h.Profile) == 0:
		f.fault("profile", "neither profile nor solid", "one of the two")
	case h.Mesh != nil:
		f.solid(h)
	default:
		f.profile(h)
	}
	if len(f.list) == 0 {
		f.taper(h)
	}
	return f.list
}

// profile notes what keeps the profile from being an outline, each point by its
// number from 1.
func (f *faults) profile(h *Holder) {
	for i, p := range h.Profile {
		point := func(symbol string) string { return fmt.Sprintf("%s of point %d of the profile", symbol, i+1) }
		good := f.numbers(named{point("distance"), p[0]}, named{point("diameter"), p[1]})
		if good && p[1] == 0 {
			f.fault("profile", fmt.Sprintf("diameter 0 at point %d", i+1), "more than 0")
		}
		if i > 0 && p[0] < h.Profile[i-1][0] {
			f.fault("profile", fmt.Sprintf("point %d at %s, after %s: goes backwards", i+1, mm(p[0]), mm(h.Profile[i-1][0])),
				"distances from the gauge line that do not decrease")
		}
	}
	if first := h.Profile[0][0]; first > 0 {
		f.fault("profile", "begins "+mm(first)+" from the gauge line", "0, the gauge line")
	}
	last := h.Profile[len(h.Profile)-1][0]
	if last == 0 {
		f.fault("profile", "no length", "two points or more, the last one at the face")
	}
	if d := h.Length - last; d > exact || d < -exact {
		f.fault("length", mm(h.Length), "%s, where the profile ends: at the face", mm(last))
	}
}

// solidSlack is how far the ends of a given solid may be from the gauge line and
// the face, mm, beside its chord error.
const solidSlack = 0.1

// solid compares the extent of a given solid with the gauge line and the length: one in
// another unit or with its zero elsewhere is found that way. What goes on into the
// spindle is usual.
func (f *faults) solid(h *Holder) {
	if len(h.Mesh.Facets) == 0 {
		f.fault("file", "a solid without facets", "the holder")
		return
	}
	if h.Length == 0 {
		f.fault("length", "none", "the distance from the gauge line to the face")
		return
	}
	slack := solidSlack + h.ChordError
	box := h.Mesh.Bounds()
	if box.Max.Z < -slack {
		f.fault("file", "the solid ends "+mm(-box.Max.Z)+" below the gauge line", "its zero on the gauge line, Z from the tip to the spindle")
	}
	switch short := h.Length + box.Min.Z; {
	case short > slack:
		f.fault("length", mm(h.Length), "%s: the solid goes no further from the gauge line", mm(-box.Min.Z))
	case short < -slack:
		f.warn("length", mm(h.Length), "%s: the solid goes that far from the gauge line", mm(-box.Min.Z))
	}
}
