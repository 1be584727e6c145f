package machine

import (
	"slices"
	"strings"
)

// Riser returns the place whose component is meant if nobody says which riser: the only one
// without axes that stands in two holes and has something else standing in two of its own
// holes, as in a stack. Of several, those that carry a component with programmed axes, as the
// plate under a trunnion does, do not count. The error lists those that come into question.
func (d *Draft) Riser() (string, error) {
	var found, inner []string
	for i := range d.built.file.Places {
		name := d.built.file.Places[i].Name
		if _, err := d.stacker(name); err != nil || !d.carriesInHoles(name) {
			continue
		}
		found = append(found, name)
		if !d.carriesAxes(name) {
			inner = append(inner, name)
		}
	}
	if len(inner) > 0 {
		found = inner
	}
	switch len(found) {
	case 0:
		return "", refuse("", "", "nothing in this setup that a riser could stand in for", "a component without axes that stands in two holes and has two holes for what stands on it")
	case 1:
		return found[0], nil
	}
	return "", refuse("", "", "several components that could be meant", "one of %s", strings.Join(found, ", "))
}

// carriesInHoles reports whether something stands in holes of a place.
func (d *Draft) carriesInHoles(place string) bool {
	return slices.ContainsFunc(d.built.file.Places, func(t placeTable) bool {
		on, _, _ := strings.Cut(t.On, "/")
		return on == place && t.Pins != nil
	})
}

// carriesAxes reports whether a component with programmed axes stands on a place, whatever is
// between.
func (d *Draft) carriesAxes(place string) bool {
	return slices.ContainsFunc(d.built.setup.Axes, func(a Axis) bool {
		return a.Unit != "" && d.built.standsOn(a.Unit, place)
	})
}
