package changeover

import (
	"math"
	"slices"

	"gridswing/geom/motion"
	"gridswing/machine"
)

// hole is where a locating pin is built in.
type hole struct{ unit, grid, hole string }

// axis is a setting axis.
type axis struct{ unit, axis string }

// state is how things stand between two steps.
type state struct {
	standing []string // in the order of loading
	pins     map[hole]bool
	settings map[axis]float64 // mm or radians
}

// begin takes over how things stand in the first setup; from nil of an empty machine
// nothing is known but that it is empty.
func (p *planner) begin(from *machine.Setup) {
	p.state = state{pins: map[hole]bool{}, settings: map[axis]float64{}}
	if from == nil {
		return
	}
	p.state.standing = loaded(from)
	for _, pin := range from.Pins {
		p.state.pins[hole{pin.Unit, pin.Grid, pin.Hole}] = !pin.Withdrawn
	}
	for _, s := range from.Settings {
		p.state.settings[axis{s.Unit, s.Axis}] = s.At
	}
}

// rename gives what stands the names that the second setup has for it.
func (t *state) rename(stays map[string]string) {
	now := map[string]string{}
	for to, from := range stays {
		now[from] = to
	}
	for i, unit := range t.standing {
		t.standing[i] = now[unit]
	}
	pins, settings := map[hole]bool{}, map[axis]float64{}
	for h, set := range t.pins {
		h.unit = now[h.unit]
		pins[h] = set
	}
	for a, at := range t.settings {
		a.unit = now[a.unit]
		settings[a] = at
	}
	t.pins, t.settings = pins, settings
}

// apply makes changes.
func (t *state) apply(pins []PinChange, settings []SettingChange) {
	for _, c := range pins {
		if !c.Loose {
			t.pins[hole{c.Unit, c.Grid, c.Hole}] = c.Set
		}
	}
	for i := range settings {
		c := &settings[i]
		at := c.To
		if c.Kind == "deg" {
			at *= math.Pi / 180
		}
		t.settings[axis{c.Unit, c.Axis}] = at
	}
}

// drop forgets pins and axes of what has come off.
func (t *state) drop(unit string) {
	for h := range t.pins {
		if h.unit == unit {
			delete(t.pins, h)
		}
	}
	for a := range t.settings {
		if a.unit == unit {
			delete(t.settings, a)
		}
	}
}

// pinsTo lists what to change of the pins of something that stays, so that they are as the
// second setup has them; those that locate what is still to go on are withdrawn
// till then.
func (t *state) pinsTo(to *machine.Setup, unit string, stays map[string]string) (list []PinChange) {
	for _, pin := range to.Pins {
		if pin.Unit != unit {
			continue
		}
		_, there := stays[pin.Locates]
		want := !pin.Withdrawn && (pin.Locates == "" || there)
		if set, known := t.pins[hole{unit, pin.Grid, pin.Hole}]; !known || set != want {
			list = append(list, PinChange{Unit: unit, Grid: pin.Grid, Hole: pin.Hole, Set: want})
		}
	}
	return list
}

// ownPins lists how the pins built into something that has gone on are to stand till
// something else stands on it.
func (t *state) ownPins(to *machine.Setup, unit string) []PinChange {
	return t.pinsTo(to, unit, nil)
}

// settingsTo lists what to change of the setting axes of something that stays. Jaws that
// will grip something are left to that step, and those of the machine that stand
// elsewhere while it is loaded (later) to the last one.
func (t *state) settingsTo(to *machine.Setup, unit string, stays map[string]string, later map[string]float64) (list []SettingChange) {
	for i := range to.Settings {
		s := &to.Settings[i]
		at, known := t.settings[axis{unit, s.Axis}]
		if _, last := later[s.Axis]; last && unit == machineUnit {
			continue
		}
		if s.Unit != unit || known && math.Abs(at-s.At) <= samePlace || grips(to, s, stays) {
			continue
		}
		list = append(list, settingChange(s, s.At))
	}
	return list
}

// ownSettings lists how the setting axes of something that has gone on are set.
func (t *state) ownSettings(to *machine.Setup, unit string) (list []SettingChange) {
	return t.settingsTo(to, unit, map[string]string{}, nil)
}

// forLoading lists which setting axes of the machine stand elsewhere while a setup is loaded.
func (t *state) forLoading(s *machine.Setup) (list []SettingChange) {
	for i := range s.Settings {
		one := &s.Settings[i]
		at, stated := s.Loading.Set[one.Axis]
		now, known := t.settings[axis{machineUnit, one.Axis}]
		if one.Unit == machineUnit && stated && !(known && math.Abs(now-at) <= samePlace) {
			list = append(list, settingChange(one, at))
		}
	}
	return list
}

// grips reports whether a setting axis moves a jaw that is to grip what goes on.
func grips(to *machine.Setup, s *machine.Setting, stays map[string]string) bool {
	for _, st := range to.Standing {
		if _, there := stays[st.Unit]; there {
			continue
		}
		for _, m := range s.Moves {
			if slices.Contains(st.Grips, m.Body) {
				return true
			}
		}
	}
	return false
}

func settingChange(s *machine.Setting, at float64) SettingChange {
	c := SettingChange{Unit: s.Unit, Axis: s.Axis, To: round(at), Kind: "mm"}
	if s.Kind == motion.Rotary {
		c.To, c.Kind = round(at*180/math.Pi), "deg"
	}
	return c
}

// round takes off what float64 arithmetic leaves of a round number.
func round(x float64) float64 { return math.Round(x*1e9)/1e9 + 0 }
