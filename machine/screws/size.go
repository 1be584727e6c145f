package screws

import (
	"fmt"
	"strings"
)

// Size is a metric coarse thread and what is made for it, mm.
type Size struct {
	Name     string
	Diameter float64
	Pitch    float64
	// Clearance holes by the series of ISO 273: fine, medium, coarse.
	Fine, Medium, Coarse float64
	Head                 Head
}

// Head is that of a socket head cap screw (ISO 4762).
type Head struct {
	Diameter float64 // largest, plain
	Knurled  float64 // largest, knurled
	Height   float64
	Key      float64 // width across flats
}

// sizes: the pitch of ISO 261 (coarse), ISO 273 and ISO 4762.
var sizes = []Size{
	{"M5", 5, 0.8, 5.3, 5.5, 5.8, Head{8.5, 8.72, 5, 4}},
	{"M6", 6, 1, 6.4, 6.6, 7, Head{10, 10.22, 6, 5}},
	{"M8", 8, 1.25, 8.4, 9, 10, Head{13, 13.27, 8, 6}},
	{"M10", 10, 1.5, 10.5, 11, 12, Head{16, 16.27, 10, 8}},
	{"M12", 12, 1.75, 13, 13.5, 14.5, Head{18, 18.27, 12, 10}},
	{"M16", 16, 2, 17, 17.5, 18.5, Head{24, 24.33, 16, 14}},
	{"M20", 20, 2.5, 21, 22, 24, Head{30, 30.33, 20, 17}},
}

// Find returns the size of that name ("M12"). The error names what there is.
func Find(name string) (Size, error) {
	var names []string
	for _, s := range sizes {
		if s.Name == name {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return Size{}, fmt.Errorf("thread %q: expected %s", name, strings.Join(names, ", "))
}
