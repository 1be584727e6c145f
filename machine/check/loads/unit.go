package loads

import (
	"fmt"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// unit is something with rotary axes that carries the workpiece.
type unit struct {
	name         string
	ratings      *machine.Ratings // nil: it states none
	tilt, rotary *pivot           // nil for one that it has not
	// Bodies by what moves them: by tilt only, or by the rotary axis (and tilt); those of
	// the unit itself and those that stand on it.
	ownTilt, ownTurn, tilts, turns []int
	// why says why its loads cannot be told; "" if they can.
	why string
}

// unitsOf lists the units of a setup: those with ratings first come as the setup lists
// them, then those without. Aside says what is left out.
func unitsOf(s *machine.Setup) (list []*unit, aside []string) {
	rated := map[string]bool{}
	for i := range s.Ratings {
		r := &s.Ratings[i]
		rated[r.Unit] = true
		list = append(list, newUnit(s, r.Unit, r, r.Tilt, r.Rotary))
	}
	for _, name := range brings(s) {
		if rated[name] {
			continue
		}
		switch chain := rotaries(s, name); len(chain) {
		case 1:
			list = append(list, newUnit(s, name, nil, -1, chain[0]))
		case 2:
			list = append(list, newUnit(s, name, nil, chain[0], chain[1]))
		default:
			aside = append(aside, fmt.Sprintf("%s has %d rotary axes one on another and states no [ratings] that say which one tilts: what it carries is not told", name, len(chain)))
		}
	}
	return list, aside
}

// brings lists what brings a rotary axis that carries the workpiece.
func brings(s *machine.Setup) (names []string) {
	for k := range s.Axes {
		a := &s.Axes[k]
		if a.Kind == motion.Rotary && !a.OnTool && !slices.Contains(names, unitOf(a)) {
			names = append(names, unitOf(a))
		}
	}
	return names
}

func unitOf(a *machine.Axis) string {
	if a.Unit == "" {
		return machineUnit
	}
	return a.Unit
}

// rotaries returns the rotary axes of a unit that carry each other, the lowest first: those
// of the body that most of them move.
func rotaries(s *machine.Setup, name string) (most []int) {
	for i := range s.Bodies {
		var list []int
		for _, j := range s.Bodies[i].Chain.Joints {
			for k, gain := range j.Gain {
				if a := &s.Axes; gain != 0 && j.Kind == motion.Rotary && !(*a)[k].OnTool && unitOf(&(*a)[k]) == name {
					list = append(list, k)
				}
			}
		}
		if len(list) > len(most) {
			most = list
		}
	}
	return most
}

// newUnit sorts what the axes of a unit move; -1 stands for no axis.
func newUnit(s *machine.Setup, name string, r *machine.Ratings, tilt, rotary int) *unit {
	u := &unit{name: name, ratings: r}
	lowest := tilt
	if lowest < 0 {
		lowest = rotary
	}
	for _, i := range moved(s, lowest) {
		own := s.Bodies[i].Unit == name
		turns := rotary >= 0 && s.Bodies[i].Chain.Uses()[rotary]
		switch {
		case own && turns:
			u.ownTurn = append(u.ownTurn, i)
		case own:
			u.ownTilt = append(u.ownTilt, i)
		case turns:
			u.turns = append(u.turns, i)
		default:
			u.tilts = append(u.tilts, i)
		}
		if tilt >= 0 && u.tilt == nil {
			u.tilt = pivotOf(s, i, tilt)
		}
		if turns && u.rotary == nil {
			u.rotary = pivotOf(s, i, rotary)
		}
		if u.why == "" {
			u.why = beyond(s, i, lowest, tilt, rotary)
		}
	}
	return u
}

// beyond says which axis, other than the two, changes what weight does to a unit; "" if
// there is none. Under the unit that is a rotary axis that is not upright; on it any
// axis. One that stands at 0 changes nothing.
func beyond(s *machine.Setup, body, lowest, tilt, rotary int) string {
	on := false
	for _, j := range s.Bodies[body].Chain.Joints {
		on = on || j.Gain[lowest] != 0
		for k, gain := range j.Gain {
			a := &s.Axes[k%len(s.Axes)]
			if gain == 0 || k == tilt || k == rotary || a.Commanded == [2]float64{} {
				continue
			}
			upright := j.Kind == motion.Linear || j.Axis.Cross(s.Up).Norm() < 1e-6
			if on {
				return fmt.Sprintf("axis %s moves %s on it", a.Letter, s.Bodies[body].Name)
			}
			if !upright {
				return fmt.Sprintf("axis %s tilts it", a.Letter)
			}
		}
	}
	return ""
}

// stands returns the bodies as the two rigid ones that the unit's axes move; own says
// whether those of the unit itself count.
func (u *unit) stands(w *weights, own bool) (st *stand, unknown []string) {
	tilts, turns := u.tilts, u.turns
	if own {
		tilts, turns = slices.Concat(tilts, u.ownTilt), slices.Concat(turns, u.ownTurn)
	}
	st = &stand{tilt: u.tilt, rotary: u.rotary, up: w.setup.Up}
	var more []string
	st.tilts, unknown = w.sum(tilts)
	st.turns, more = w.sum(turns)
	return st, append(unknown, more...)
}

// carried lists all that stands on the unit and moves with it, on its faceplate or beside it.
func (u *unit) carried() []int { return slices.Concat(u.tilts, u.turns) }

// onFaceplate lists what stands on the faceplate: what the rotary axis turns, or, without
// one, what tilts.
func (u *unit) onFaceplate() []int {
	if u.rotary == nil {
		return u.tilts
	}
	return u.turns
}
