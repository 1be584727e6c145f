package loads

import (
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check/proof"
)

// gravity is the standard acceleration of free fall, m/s2 (3rd CGPM, 1901).
const gravity = 9.80665

// weights are the bodies of a setup with their weight, in the bed frame with every
// axis at zero.
type weights struct {
	setup *machine.Setup
	rigid []geom.Rigid
	// why says why a body's weight is not known; "" if it is.
	why []string
}

func weigh(s *machine.Setup, trees *proof.Trees) *weights {
	w := &weights{setup: s, rigid: make([]geom.Rigid, len(s.Bodies)), why: make([]string, len(s.Bodies))}
	for i := range s.Bodies {
		b := &s.Bodies[i]
		u := &b.Solid.Audit
		switch {
		case b.OnTool || b.Fixed && b.Unit == machineUnit:
			continue // never asked
		case b.Mass == 0 && b.UnitMass > 0:
			w.why[i] = "the mass of " + b.Unit + " cannot be shared out: a solid of it is not closed"
		case b.Mass == 0 && (!u.Closed || !u.Oriented || u.InsideOut):
			w.why[i] = "no mass, and its solid is not closed"
		case b.Mass == 0:
			w.why[i] = "neither mass nor material"
		case !u.Closed || !u.Oriented || u.InsideOut || u.Volume <= 0:
			w.why[i] = "its solid is not closed: where its mass is cannot be told"
		default:
			w.rigid[i] = trees.MassOf(b.Solid).WithMass(b.Mass).At(s.Pose(i, motion.Params{}))
		}
	}
	return w
}

// machineUnit is the unit of the machine's own bodies.
const machineUnit = "machine"

// sum returns some bodies as one, and what keeps it from being known: each body with the
// reason.
func (w *weights) sum(bodies []int) (all geom.Rigid, unknown []string) {
	var list []geom.Rigid
	for _, i := range bodies {
		if w.why[i] != "" {
			unknown = append(unknown, w.setup.Bodies[i].Name+" ("+w.why[i]+")")
			continue
		}
		list = append(list, w.rigid[i])
	}
	return geom.Combined(list...), unknown
}

// mass returns the mass of some bodies; that of an open solid counts, too, if it is
// stated, and so does that of a whole unit, if all of it is among them.
func (w *weights) mass(bodies []int) (kg float64, unknown []string) {
	whole := map[string]bool{}
	for _, i := range bodies {
		b := &w.setup.Bodies[i]
		kg += b.Mass
		switch {
		case b.Mass > 0:
		case b.UnitMass > 0 && w.among(b.Unit, bodies):
			if !whole[b.Unit] {
				kg += b.UnitMass
			}
			whole[b.Unit] = true
		default:
			unknown = append(unknown, b.Name+" ("+w.why[i]+")")
		}
	}
	return kg, unknown
}

// among reports whether all bodies of a unit are among those listed.
func (w *weights) among(unit string, bodies []int) bool {
	for i := range w.setup.Bodies {
		if w.setup.Bodies[i].Unit == unit && !slices.Contains(bodies, i) {
			return false
		}
	}
	return true
}

// moved lists the bodies on the workpiece side that an axis moves.
func moved(s *machine.Setup, axis int) (list []int) {
	for i := range s.Bodies {
		if !s.Bodies[i].OnTool && s.Bodies[i].Chain.Uses()[axis] {
			list = append(list, i)
		}
	}
	return list
}

// onTable lists the bodies of components that the table carries: those which all that
// moves the table moves, too. Where the table stands still, that is all.
func onTable(s *machine.Setup) (list []int) {
	table := slices.IndexFunc(s.Bodies, func(b machine.Body) bool { return b.Role == "table" && b.Unit == machineUnit })
	for i := range s.Bodies {
		b := &s.Bodies[i]
		if b.Unit == machineUnit || b.OnTool {
			continue
		}
		if table >= 0 && !carried(&s.Bodies[table], b) {
			continue
		}
		list = append(list, i)
	}
	return list
}

// carried reports whether all axes that move the table move a body.
func carried(table, b *machine.Body) bool {
	uses := b.Chain.Uses()
	for k, used := range table.Chain.Uses() {
		if used && !uses[k] {
			return false
		}
	}
	return true
}
