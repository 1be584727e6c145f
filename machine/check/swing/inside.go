package swing

import (
	"fmt"

	"gridswing/geom"
	"gridswing/machine"
)

// inside says whether one body of the pair is within the other, the second
// standing at rel as seen from the first. As long as surfaces do not cross,
// inside and outside cannot change, so one position of a connected range settles
// it: one point of each shell of each body against the other. doubt is set where an
// open solid leaves the question open; a shell beyond the other body's box is
// outside whatever that solid's faults.
func (c *checker) inside(p *pair, rel geom.Pose) (inside, doubt string) {
	a, b := &c.setup.Bodies[p.a], &c.setup.Bodies[p.b]
	back := rel.Inverse()
	inside, doubt = c.shellsInside(p, b, a, rel)
	if inside != "" {
		return inside, ""
	}
	other, doubt2 := c.shellsInside(p, a, b, back)
	if doubt == "" {
		doubt = doubt2
	}
	return other, doubt
}

// shellsInside looks whether a shell of what lies within around, pose being
// what's frame as seen from around.
func (c *checker) shellsInside(p *pair, what, around *machine.Body, pose geom.Pose) (inside, doubt string) {
	tree := c.trees[around.Solid]
	audit := &around.Solid.Audit
	bounds := audit.Bounds
	for i := range what.Solid.Audit.Shells {
		point := pose.Point(what.Solid.Audit.Shells[i].Point)
		if !bounds.Contains(point) {
			continue
		}
		if !audit.Closed || !audit.Oriented {
			if around.Solid.Outside {
				p.stated = append(p.stated, fmt.Sprintf("nothing is inside %s, whose solid is not closed", around.Name))
				continue
			}
			doubt = fmt.Sprintf("whether %s is inside %s cannot be told: the solid of %s is not closed; outside = true in its file states that nothing is",
				what.Name, around.Name, around.Name)
			continue
		}
		if tree.Contains(point) {
			return fmt.Sprintf("%s is inside %s", what.Name, around.Name), ""
		}
	}
	return "", doubt
}
