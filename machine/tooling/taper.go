package tooling

import "fmt"

// Taper is the interface of holder and spindle. The gauge line is where a 7/24
// taper has its gauge diameter; of a hollow taper with face contact it is the face.
type Taper struct {
	Name  string  // "7/24 40", "HSK-A 63"
	Gauge float64 // diameter of the holder at the gauge line, mm
	// Flange is the diameter of the flange below it, mm: of the standard forms of one size the
	// smallest.
	Flange float64
}

// tapers: gauge diameters of ISO 7388-1 (1 1/4, 1 3/4, 2 1/4 and 2 3/4 inch, ASME
// B5.50). The flanges differ by form: size 40 has 63 (MAS 403), 63.5 (ASME B5.50)
// and 63.55 (ISO 7388-1 A); the others are from memory, ISO 7388-2 J and ISO 7388-1 A. A
// hollow taper shank A is named by the diameter of its flange, which is its face
// (ISO 12164-1; that it is so at every size is from memory).
var tapers = []Taper{
	{"7/24 30", 31.75, 46},
	{"7/24 40", 44.45, 63},
	{"7/24 45", 57.15, 82.55},
	{"7/24 50", 69.85, 97.5},
	{"HSK-A 40", 40, 40},
	{"HSK-A 50", 50, 50},
	{"HSK-A 63", 63, 63},
	{"HSK-A 80", 80, 80},
	{"HSK-A 100", 100, 100},
}

// Tapers lists the names of those that are known.
func Tapers() []string {
	var names []string
	for _, t := range tapers {
		names = append(names, t.Name)
	}
	return names
}

// TaperOf returns the taper of that name, and whether there is one.
func TaperOf(name string) (Taper, bool) {
	for _, t := range tapers {
		if t.Name == name {
			return t, true
		}
	}
	return Taper{}, false
}

// taperSlack is how far a profile may be from the diameters of its taper, mm: they
// are drawn to a tenth.
const taperSlack = 0.1

// taper holds a profile against the taper that it should have. That one is wrong is not
// certain, so these are warnings: a profile may begin with the flange, which makes it
// too large for the gap above.
func (f *faults) taper(h *Holder) {
	t, known := TaperOf(h.Taper)
	if !known {
		if h.Taper != "" {
			f.warn("taper", fmt.Sprintf("%q", h.Taper), "one of %q: it is not checked", Tapers())
		}
		return
	}
	if len(h.Profile) == 0 {
		return
	}
	if d := h.Profile[0][1]; d < t.Gauge-taperSlack || d > t.Gauge+taperSlack {
		f.warn("profile", mm(d)+" at the gauge line", "%s, the gauge diameter of %s", mm(t.Gauge), t.Name)
	}
	widest := 0.0
	for _, p := range h.Profile {
		widest = max(widest, p[1])
	}
	if widest < t.Flange-taperSlack {
		f.warn("profile", mm(widest)+" at its widest", "a flange of %s or more, as %s has", mm(t.Flange), t.Name)
	}
}
