package machine

import "strings"

// Kinds of demanded clearance that Demand.For knows.
const (
	Swing = "swing" // rotary axes move over their commanded ranges
	Rest  = "rest"  // everything stands
)

// Demand is the clearance that a setup demands, in mm, always more than 0.
type Demand struct {
	Default float64
	Swing   float64 // Default where the file does not say
	Rest    float64 // Default where the file does not say
	Pairs   []PairDemand
}

// PairDemand is the clearance demanded of one pair, of whatever kind. A and B
// each name a body or a whole unit.
type PairDemand struct {
	A, B      string
	Clearance float64 // mm
	Reason    string  // printed; never empty
}

// For returns the clearance demanded between two bodies, given by name, and
// the reason if it is one of a pair. The first pair in the file that fits
// wins; without one the kind decides, and for a kind not listed above the default.
func (d Demand) For(kind, a, b string) (mm float64, reason string) {
	for _, p := range d.Pairs {
		if belongs(a, p.A) && belongs(b, p.B) || belongs(a, p.B) && belongs(b, p.A) {
			return p.Clearance, p.Reason
		}
	}
	switch kind {
	case Swing:
		return d.Swing, ""
	case Rest:
		return d.Rest, ""
	}
	return d.Default, ""
}

// belongs reports whether a body is the named one or part of the named unit.
func belongs(body, name string) bool {
	return body == name || strings.HasPrefix(body, name+"/")
}
