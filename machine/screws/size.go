package screws

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Size is a metric thread and what is made for it.
type Size struct {
	Name     string  // "M12", a fine thread "M12x1.25"
	Diameter float64 // nominal, mm
	Pitch    float64 // mm
	Head     Head
	Hole     Hole
}

// Head is the head of a socket head cap screw (ISO 4762), mm.
type Head struct {
	Diameter float64 // largest, plain
	Knurled  float64 // largest, knurled
	Height   float64 // largest
	Key      float64 // width across flats of the socket
	Depth    float64 // of the socket, at least
	Bearing  float64 // diameter of the bearing face, at least
}

// Hole is what a screw is put through or into, mm.
type Hole struct {
	Fine, Medium, Coarse float64 // clearance hole, by the series of ISO 273
	Counterbore          float64 // diameter, for the head alone
	Sunk                 float64 // depth of a counterbore that the head does not stand out of
}

// sizes: pitch ISO 261, holes ISO 273, heads ISO 4762:2004, each as reprinted. M18 and M22
// are no sizes of ISO 4762: heads of DIN 912, as reprinted, knurling and bearing face
// from memory. Counterbores and their depths: DIN 974-1, row 1, from memory.
var sizes = []Size{
	{"M4", 4, 0.7, Head{7, 7.22, 4, 3, 2, 6.53}, Hole{4.3, 4.5, 4.8, 8, 4.4}},
	{"M5", 5, 0.8, Head{8.5, 8.72, 5, 4, 2.5, 8.03}, Hole{5.3, 5.5, 5.8, 10, 5.4}},
	{"M6", 6, 1, Head{10, 10.22, 6, 5, 3, 9.38}, Hole{6.4, 6.6, 7, 11, 6.4}},
	{"M8", 8, 1.25, Head{13, 13.27, 8, 6, 4, 12.33}, Hole{8.4, 9, 10, 15, 8.6}},
	{"M10", 10, 1.5, Head{16, 16.27, 10, 8, 5, 15.33}, Hole{10.5, 11, 12, 18, 10.6}},
	{"M12", 12, 1.75, Head{18, 18.27, 12, 10, 6, 17.23}, Hole{13, 13.5, 14.5, 20, 12.6}},
	{"M14", 14, 2, Head{21, 21.33, 14, 12, 7, 20.17}, Hole{15, 15.5, 16.5, 24, 14.6}},
	{"M16", 16, 2, Head{24, 24.33, 16, 14, 8, 23.17}, Hole{17, 17.5, 18.5, 26, 16.6}},
	{"M18", 18, 2.5, Head{27, 27.33, 18, 14, 9, 25.87}, Hole{19, 20, 21, 30, 18.6}},
	{"M20", 20, 2.5, Head{30, 30.33, 20, 17, 10, 28.87}, Hole{21, 22, 24, 33, 20.6}},
	{"M22", 22, 2.5, Head{33, 33.39, 22, 17, 11, 31.61}, Hole{23, 24, 26, 36, 22.8}},
	{"M24", 24, 3, Head{36, 36.39, 24, 19, 12, 34.81}, Hole{25, 26, 28, 40, 24.8}},
}

// fine are the fine pitches of ISO 262, from memory.
var fine = map[string][]float64{
	"M8": {1}, "M10": {1.25, 1}, "M12": {1.5, 1.25}, "M14": {1.5}, "M16": {1.5},
	"M18": {2, 1.5}, "M20": {2, 1.5}, "M22": {2, 1.5}, "M24": {2},
}

// Find returns the size of that name: "M12", or "M12x1.25" for a fine thread. The error
// names what there is.
func Find(name string) (Size, error) {
	thread, pitch, stated := strings.Cut(name, "x")
	i := slices.IndexFunc(sizes, func(s Size) bool { return s.Name == thread })
	if i < 0 {
		return Size{}, fmt.Errorf("thread %q, expected one of %s", name, strings.Join(Names(), ", "))
	}
	s := sizes[i]
	if !stated {
		return s, nil
	}
	known := []string{number(s.Pitch)}
	for _, p := range fine[thread] {
		if known = append(known, number(p)); number(p) == pitch {
			s.Name, s.Pitch = name, p
		}
	}
	if !slices.Contains(known, pitch) {
		return Size{}, fmt.Errorf("thread %q, expected a pitch of %s mm", name, strings.Join(known, " or "))
	}
	return s, nil
}

// Names lists the sizes, smallest first.
func Names() []string {
	var names []string
	for _, s := range sizes {
		names = append(names, s.Name)
	}
	return names
}

// number writes a number as briefly as it can be.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// PitchDiameter is d2 of ISO 724, mm.
func (s Size) PitchDiameter() float64 { return s.Diameter - 3*math.Sqrt(3)/8*s.Pitch }

// Root is d3, the diameter of the rounded root of a screw (ISO 68-1 with a radius of H/6,
// H = P sqrt(3)/2), mm.
func (s Size) Root() float64 { return s.Diameter - 17*math.Sqrt(3)/24*s.Pitch }

// StressArea is the nominal stress area, pi/4 ((d2 + d3) / 2)^2 (ISO 898-1), mm2.
func (s Size) StressArea() float64 {
	d := (s.PitchDiameter() + s.Root()) / 2
	return math.Pi / 4 * d * d
}

// Drill is the usual diameter of the hole to be tapped, the diameter less the pitch (as
// ISO 2306 has it, rounded to 0.1 mm), mm.
func (s Size) Drill() float64 { return math.Floor((s.Diameter-s.Pitch)*10+1e-9) / 10 }
