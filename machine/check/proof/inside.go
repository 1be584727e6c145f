package proof

import (
	"fmt"

	"gridswing/geom"
	"gridswing/machine"
)

// Inside says whether one of two bodies is within the other, b standing at rel as
// seen from a. As long as surfaces do not cross, inside and outside cannot
// change, so one position of a connected range settles it: one point of each
// shell of each body against the other. Doubt is set where an open solid leaves the
// question open; a shell beyond the other body's box is outside whatever that
// solid's faults. Stated is what the answer rests on because the user says so.
func (t *Trees) Inside(a, b *machine.Body, rel geom.Pose) (inside, doubt string, stated []string) {
	inside, doubt, stated = t.shellsInside(b, a, rel)
	if inside != "" {
		return inside, "", stated
	}
	other, doubt2, stated2 := t.shellsInside(a, b, rel.Inverse())
	if doubt == "" {
		doubt = doubt2
	}
	return other, doubt, append(stated, stated2...)
}

// shellsInside looks whether a shell of what lies within around, pose being
// what's frame as seen from around.
func (t *Trees) shellsInside(what, around *machine.Body, pose geom.Pose) (inside, doubt string, stated []string) {
	tree := t.Of(around.Solid)
	audit := &around.Solid.Audit
	bounds := audit.Bounds
	for i := range what.Solid.Audit.Shells {
		point := pose.Point(what.Solid.Audit.Shells[i].Point)
		if !bounds.Contains(point) {
			continue
		}
		if !audit.Closed || !audit.Oriented {
			if around.Solid.Outside {
				stated = append(stated, fmt.Sprintf("nothing is inside %s, whose solid is not closed", around.Name))
				continue
			}
			doubt = fmt.Sprintf("whether %s is inside %s cannot be told: the solid of %s is not closed; outside = true in its file states that nothing is",
				what.Name, around.Name, around.Name)
			continue
		}
		if tree.Contains(point) {
			return fmt.Sprintf("%s is inside %s", what.Name, around.Name), "", stated
		}
	}
	return "", doubt, stated
}
