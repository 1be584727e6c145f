package machine

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// axis is an axis of an assembly, in the assembly's frame, mm and radians.
type axis struct {
	path                                 string
	id                                   string // its letter, or the name of a setting axis
	kind                                 motion.Kind
	setting, onTool, reversed, unlimited bool
	free                                 bool // no axis of a machine: see Axis.Free
	direction, centre                    r3.Vector
	travel                               span
	home, accuracy                       float64
	rollOver                             string
	rates                                Rates
	carriedBy                            int // the axis that carries this one; -1: the base
}

var letters = regexp.MustCompile(`^[XYZUVWABC][1-9]?$`)

// axis reads one axis table of a machine or a component.
func (s *source) axis(t *axisTable, unit scale, ofMachine bool) *axis {
	a := &axis{path: t.Path, setting: t.Setting, unlimited: t.Unlimited, carriedBy: -1}
	s.identify(a, t)
	s.kindOf(a, t)
	a.direction = s.unitVector(t.Path+".direction", t.Direction)
	s.senseOf(a, t, ofMachine)
	s.centreOf(a, t, unit)
	s.travelOf(a, t, unit, ofMachine)
	s.rollOverOf(a, t)
	a.rates = s.rates(a, t, unit)
	return a
}

// identify reads what the axis is called.
func (s *source) identify(a *axis, t *axisTable) {
	a.id = t.Letter
	switch {
	case t.Setting:
		a.id = t.Name
		s.checkName(t.Path, t.Name)
		if t.Letter != "" {
			s.fault(t.Path+".letter", quoted(t.Letter), "a name: a setting axis is not programmed")
		}
	case t.Name != "":
		s.fault(t.Path+".name", quoted(t.Name), "a letter, or setting = true")
	case !letters.MatchString(t.Letter):
		s.fault(t.Path+".letter", quoted(t.Letter), "X, Y, Z, U, V, W, A, B or C, perhaps with a digit")
	}
}

// kindOf reads whether the axis turns. A letter says so by itself (ISO 841: A,
// B and C turn), and may not be contradicted.
func (s *source) kindOf(a *axis, t *axisTable) {
	turns := !t.Setting && a.id != "" && strings.Contains("ABC", a.id[:1])
	switch {
	case t.Kind != "" && t.Kind != "linear" && t.Kind != "rotary":
		s.fault(t.Path+".kind", quoted(t.Kind), "%q or %q", "linear", "rotary")
	case t.Setting:
		turns = t.Kind == "rotary"
	case t.Kind != "" && turns != (t.Kind == "rotary"):
		s.fault(t.Path+".kind", quoted(t.Kind)+" of axis "+a.id, "A, B and C to turn, the other axes to be linear (ISO 841)")
	}
	a.kind = motion.Linear
	if turns {
		a.kind = motion.Rotary
	}
}

// senseOf reads which branch a programmed axis stands on and how it is wired.
func (s *source) senseOf(a *axis, t *axisTable, ofMachine bool) {
	switch {
	case t.Setting || !ofMachine:
		if t.Moves != "" {
			s.fault(t.Path+".moves", quoted(t.Moves), "no such key: only a machine's programmed axes have a branch of their own")
		}
	case t.Moves == "tool":
		a.onTool = true
	case t.Moves != "workpiece":
		s.fault(t.Path+".moves", quoted(t.Moves), "%q or %q", "workpiece", "tool")
	}
	switch {
	case t.Setting && t.Sense != "":
		s.fault(t.Path+".sense", quoted(t.Sense), "no sense: a setting axis moves along its own direction")
	case t.Sense == "reversed":
		a.reversed = true
	case t.Sense != "" && t.Sense != "iso":
		s.fault(t.Path+".sense", quoted(t.Sense), "%q or %q", "iso", "reversed")
	}
}

func (s *source) centreOf(a *axis, t *axisTable, unit scale) {
	switch {
	case a.kind == motion.Rotary && t.Centre == nil:
		s.fault(t.Path, "no centre", "a point on the rotary axis, centre = [x, y, z]")
	case a.kind == motion.Linear && t.Centre != nil:
		s.fault(t.Path+".centre", "a centre", "none: the axis is linear")
	case t.Centre != nil:
		a.centre = unit.point(*t.Centre)
	}
}

// travelOf reads how far the axis goes, where it is at home, how true it is.
func (s *source) travelOf(a *axis, t *axisTable, unit scale, ofMachine bool) {
	value := unit.mm
	if a.kind == motion.Rotary {
		value = radians
	}
	a.accuracy = value(s.notNegative(t.Path+".accuracy", t.Accuracy))
	switch {
	case t.Unlimited && a.kind == motion.Linear:
		s.fault(t.Path+".unlimited", "a linear axis", "a rotary one")
	case t.Unlimited && t.Travel != nil:
		s.fault(t.Path+".travel", "a travel", "none, or unlimited = false")
	case t.Unlimited:
		a.travel = span{math.Inf(-1), math.Inf(1)}
	case t.Travel == nil:
		s.fault(t.Path, "no travel", "travel = [from, to], or unlimited = true for a rotary axis")
	default:
		a.travel = span{value(t.Travel[0]), value(t.Travel[1])}
	}
	switch {
	case a.setting && t.Home != nil:
		s.fault(t.Path+".home", fmt.Sprint(*t.Home), "no home: the setup sets this axis")
	case a.setting:
	case t.Home != nil:
		a.home = value(*t.Home)
	case ofMachine && a.kind == motion.Linear:
		s.fault(t.Path, "no home", "home = the position at which the axis rests")
	}
	if !a.setting && t.Travel != nil && !a.travel.holds(a.home) {
		s.fault(t.Path+".home", fmt.Sprintf("home at %g", a.show(a.home, unit)),
			"a home within travel, %s", a.between(a.travel, unit))
	}
}

// rollOverOf reads which way round an axis without ends goes.
func (s *source) rollOverOf(a *axis, t *axisTable) {
	a.rollOver = t.RollOver
	switch {
	case !s.states(t.Path + ".roll_over"):
	case !a.unlimited:
		s.fault(t.Path+".roll_over", quoted(t.RollOver), "no such key: only an unlimited axis has two ways round")
	case t.RollOver != ShorterWay && t.RollOver != ByValue:
		s.fault(t.Path+".roll_over", quoted(t.RollOver), "%q or %q", ShorterWay, ByValue)
	}
}

func (r span) holds(v float64) bool { return r[0] <= v && v <= r[1] }

// show gives a position in the unit of a file.
func (a *axis) show(v float64, unit scale) float64 {
	return showPosition(a.kind, v, unit)
}

func showPosition(kind motion.Kind, v float64, unit scale) float64 {
	if kind == motion.Rotary {
		v = degrees(v)
	} else {
		v /= float64(unit)
	}
	return math.Round(v*1e9) / 1e9
}

// between words a range in the unit of a file.
func (a *axis) between(r span, unit scale) string {
	return fmt.Sprintf("%g to %g", a.show(r[0], unit), a.show(r[1], unit))
}

// carriers resolves which axis carries which; base is the word for none.
func (s *source) carriers(axes []*axis, tables []axisTable, base string) {
	ids := []string{base}
	for i, a := range axes {
		for _, b := range axes[:i] {
			if a.id != "" && a.id == b.id {
				key := ".letter"
				if a.setting {
					key = ".name"
				}
				s.fault(a.path+key, quoted(a.id)+" a second time", "each axis once")
			}
		}
		ids = append(ids, a.id)
	}
	for i, a := range axes {
		a.carriedBy = s.carrier(a.path, tables[i].CarriedBy, base, ids)
	}
	for _, a := range axes {
		if circles(axes, a) {
			s.fault(a.path+".carried_by", quoted(a.id)+" carried, in the end, by itself", "an axis nearer to the base")
		}
	}
	for _, a := range axes { // no walk along a circle that was found
		if circles(axes, a) {
			a.carriedBy = -1
		}
	}
}

// circles reports whether an axis is carried by itself.
func circles(axes []*axis, a *axis) bool {
	b := a
	for range axes {
		if b.carriedBy < 0 {
			return false
		}
		if b = axes[b.carriedBy]; b == a {
			return true
		}
	}
	return false
}

// carrier returns the index of the axis that a carried_by key names, -1 for
// the base. A machine states the base by its word, a component by silence.
func (s *source) carrier(path, word, base string, ids []string) int {
	if word == "" && base != "" {
		s.fault(path, "no carried_by", "carried_by = %q or an axis", base)
		return -1
	}
	for i, id := range ids {
		if word == id {
			return i - 1
		}
	}
	s.fault(path+".carried_by", quoted(word), "%s", oneOf(word, ids))
	return -1
}
