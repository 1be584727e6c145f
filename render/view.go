package render

import (
	"fmt"
	"strings"
)

// View is the name of a direction to look from.
type View string

// The views. In front, right and top the picture's scale holds in every
// direction across the view; isometric looks from the front, right and above.
const (
	Isometric View = "isometric"
	Front     View = "front" // along +Y: X to the right, Z up
	Right     View = "right" // along -X: Y to the right, Z up
	Top       View = "top"   // along -Z: X to the right, Y up
)

// Views returns the names of all views.
func Views() []View { return []View{Isometric, Front, Right, Top} }

// ParseView returns the view of that name; the empty name is isometric.
func ParseView(name string) (View, error) {
	if name == "" {
		return Isometric, nil
	}
	for _, v := range Views() {
		if string(v) == name {
			return v, nil
		}
	}
	var names []string
	for _, v := range Views() {
		names = append(names, string(v))
	}
	return "", fmt.Errorf("no view is named %q: it must be one of %s", name, strings.Join(names, ", "))
}
