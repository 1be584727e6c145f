package render

import (
	"fmt"
	"strings"
)

// View is the name of a direction to look from.
type View string

// The views, as the operator has them in front of the machine, Picture.Up
// upward. In front, right and top the picture's scale holds in every direction
// across the view; isometric looks from the front, right and above.
//
//	        up = Z              up = Y (horizontal spindle)
//	front   along +Y: X right   along -Z: X right
//	right   along -X: Y right   along -X: -Z right
//	top     along -Z: X right   along -Y: X right
//
// With any other up, X runs to the right as nearly as it can; with X or -X up,
// Z comes towards the operator. So -Z up looks along -Y, X right.
const (
	Isometric View = "isometric"
	Front     View = "front"
	Right     View = "right"
	Top       View = "top"
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
