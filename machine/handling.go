package machine

import (
	"fmt"
	"reflect"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// liftingTable says what somebody may lift, and how high things are lifted.
type liftingTable struct {
	spot
	ByHand     *float64 `toml:"by_hand"`
	FreeHeight *float64 `toml:"free_height"`
}

// waypointTable is a point of the way in, as [[place.path]] has it.
type waypointTable struct {
	spot
	At     r3.Vector `toml:"at,required"`
	Turned float64   `toml:"turned"`
	About  *int      `toml:"about"`
}

// waypoints are a way in: a file writes tables, or points alone.
type waypoints []waypointTable

// Lifting is what somebody may lift by hand, and how high things are lifted.
type Lifting struct {
	ByHand     float64 // kg; 0: not stated
	FreeHeight float64 // above the seat, mm; 0: not stated
}

// Handling is how a placed component is put where it stands and taken off again.
type Handling struct {
	Unit      string
	Component string // its file, as it was read
	// Frame is the component's own in the bed frame, every axis at zero.
	Frame geom.Pose
	// Minutes that it takes to put it on, or to take it off; nil: not stated.
	Minutes *float64
	// Path is the way in; the last point is where it stands. Nil: not stated.
	Path []Waypoint
}

// Waypoint is where a component is on its way in.
type Waypoint struct {
	// Shift is how far it is from where it will stand, mm, along the X, Y and Z of
	// Seat.Chain: along the grid's letters, its numbers, and away from the face.
	Shift r3.Vector
	// Turn is how far it is turned, in radians, counter-clockwise as one looks at the
	// face: about the axis of its locator About (0 or 1), of one without locators about
	// its own zero. It is turned first and shifted then.
	Turn  float64
	About int
}

// Setting is where a setting axis stands: one that is set by hand, such as a jaw's.
type Setting struct {
	Unit   string // "machine" or a placed component
	Axis   string
	Kind   motion.Kind
	At     float64    // mm or radians
	Travel [2]float64 // mm or radians
	// Moves are the bodies that it carries.
	Moves []Moved
}

// Moved is a body on a setting axis: the unit vector along which, or about which, it goes as
// the position goes up, and a point on a rotary axis; bed frame with every axis at zero.
type Moved struct {
	Body         int
	Along, Point r3.Vector
}

// Move returns the motion of one of its bodies, with every axis at zero, as it is set to
// another position, mm or radians.
func (s *Setting) Move(m *Moved, to float64) geom.Pose {
	if s.Kind == motion.Linear {
		return geom.Shift(m.Along.Mul(to - s.At))
	}
	return geom.Turn(m.Point, m.Along, to-s.At)
}

// addHandling lists how each component is handled, and where setting axes stand.
func (b *builder) addHandling() {
	s := b.setup
	s.MachineFile = b.machine.src.name
	if t := b.file.Lifting; t != nil {
		if t.ByHand != nil {
			s.Lifting.ByHand = b.src.positive(t.Path+".by_hand", *t.ByHand)
		}
		if t.FreeHeight != nil {
			s.Lifting.FreeHeight = b.unit.mm(b.src.positive(t.Path+".free_height", *t.FreeHeight))
		}
	}
	b.addSettings(b.base)
	for i := range b.file.Places {
		t := &b.file.Places[i]
		p := b.done[t.Name]
		h := Handling{Unit: t.Name, Component: p.src.name, Frame: p.base.home, Path: b.path(t, p)}
		if t.Minutes != nil {
			minutes := b.src.notNegative(t.Path+".minutes", *t.Minutes)
			h.Minutes = &minutes
		}
		s.Handling = append(s.Handling, h)
		b.addSettings(p)
	}
}

// path reads the way in of a component.
func (b *builder) path(t *placeTable, p *placed) (list []Waypoint) {
	key := t.Path + ".path"
	if t.Way == nil {
		return nil
	}
	pins := 0
	if p.located != nil && p.seat != nil {
		pins = len(p.seat.pins)
	}
	for i := range t.Way {
		w := &t.Way[i]
		at := Waypoint{Shift: b.unit.point(w.At), Turn: radians(w.Turned)}
		if w.About != nil {
			at.About = *w.About - 1
			if at.About < 0 || at.About >= pins {
				b.src.fault(w.Path+".about", fmt.Sprint(*w.About), "1 or 2, the first or the second of its two locators; without any it turns about its own zero")
				at.About = 0
			}
		}
		if n := len(list); n > 0 && at.Turn != 0 && list[n-1].Turn != 0 && at.About != list[n-1].About {
			b.src.fault(w.Path, fmt.Sprintf("turned about locator %d right after it was turned about %d", at.About+1, list[n-1].About+1),
				"a point in between that is not turned")
		}
		list = append(list, at)
	}
	if len(list) < 2 {
		b.src.fault(key, count(len(list), "point", "points"), "two or more, the last one [0, 0, 0]: where it stands")
		return nil
	}
	if last := list[len(list)-1]; last.Shift != (r3.Vector{}) || last.Turn != 0 {
		at := t.Way[len(t.Way)-1]
		b.src.fault(at.Path, fmt.Sprintf("a last point [%g, %g, %g], turned %g", at.At.X, at.At.Y, at.At.Z, at.Turned),
			"[0, 0, 0], not turned: points are told from where it stands, and there the way ends")
	}
	return list
}

// addSettings lists the setting axes of an assembly.
func (b *builder) addSettings(p *placed) {
	for i, a := range p.axes {
		if !a.setting {
			continue
		}
		s := Setting{Unit: p.unit, Axis: a.id, Kind: a.kind, At: p.set[a.id], Travel: a.travel}
		for k, part := range p.parts {
			if !p.carries(i, part.carriedBy) {
				continue
			}
			f := p.axisFrame(a.carriedBy, false)
			m := Moved{Body: p.bodies[k], Along: f.home.Dir(a.direction), Point: f.home.Point(a.centre)}
			if part.opposite && part.carriedBy == i {
				m.Along = m.Along.Mul(-1)
			}
			s.Moves = append(s.Moves, m)
		}
		b.setup.Settings = append(b.setup.Settings, s)
	}
}

// carries reports whether axis i carries axis k, or is it.
func (p *placed) carries(i, k int) bool {
	for ; k >= 0; k = p.axes[k].carriedBy {
		if k == i {
			return true
		}
	}
	return false
}

// putPath reads a way in: tables, or points alone.
func (s *source) putPath(target *waypoints, value any, path string) {
	items, ok := value.([]any)
	if !ok {
		s.kindFault(path, value, "a list of points [x, y, z], or [[place.path]] tables")
		return
	}
	*target = make(waypoints, len(items))
	for i, item := range items {
		at, w := fmt.Sprintf("%s[%d]", path, i), &(*target)[i]
		w.Path = at
		if _, point := item.([]any); !point {
			s.put(reflect.ValueOf(w).Elem(), item, at)
			continue
		}
		s.put(reflect.ValueOf(&w.At).Elem(), item, at)
	}
}
