package machine

import (
	"fmt"
	"slices"
	"strings"
)

// Kinds of demanded clearance that Demand.For knows.
const (
	Swing          = "swing"       // rotary axes move over their commanded ranges
	Rest           = "rest"        // everything stands
	DemandRapid    = "rapid"       // rapids between features
	DemandApproach = "approach"    // from the approach height on, and back
	DemandCutting  = "cutting"     // what cuts, in feed, to what it must not cut
	DemandHolder   = "holder"      // neck, shank, holder and spindle while something is cut
	DemandChange   = "tool change" // tools are changed
	DemandLoading  = "loading"     // the setup is loaded
)

// Demand is the clearance that a setup demands, in mm, always more than 0.
type Demand struct {
	Default float64
	// Those of each kind are Default where the file does not say.
	Swing, Rest, Rapid, Approach, Cutting, Holder, Change, Loading float64
	// Travel is the margin left to an axis' limit, which may be 0; Default where
	// the file does not say.
	Travel float64
	Pairs  []PairDemand
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
	case DemandRapid:
		return d.Rapid, ""
	case DemandApproach:
		return d.Approach, ""
	case DemandCutting:
		return d.Cutting, ""
	case DemandHolder:
		return d.Holder, ""
	case DemandChange:
		return d.Change, ""
	case DemandLoading:
		return d.Loading, ""
	}
	return d.Default, ""
}

// belongs reports whether a body is the named one or part of the named unit.
func belongs(body, name string) bool {
	return body == name || strings.HasPrefix(body, name+"/")
}

// demand reads the clearances that a setup demands. All are more than 0: at 0
// nothing could be told apart from contact.
func (b *builder) demand() Demand {
	t := &b.file.Demand
	d := Demand{Default: b.unit.mm(b.src.positive(t.Path+".default", t.Default))}
	kind := func(key string, v *float64) float64 {
		if v == nil {
			return d.Default
		}
		return b.unit.mm(b.src.positive(t.Path+"."+key, *v))
	}
	d.Swing, d.Rest = kind("swing", t.Swing), kind("rest", t.Rest)
	d.Rapid, d.Approach = kind("rapid", t.Rapid), kind("approach", t.Approach)
	d.Cutting, d.Holder = kind("cutting", t.Cutting), kind("holder", t.Holder)
	d.Change, d.Loading, d.Travel = kind("tool_change", t.ToolChange), kind("loading", t.Loading), d.Default
	if t.Travel != nil {
		d.Travel = b.unit.mm(b.src.notNegative(t.Path+".travel", *t.Travel))
	}
	for i := range t.Pairs {
		p := &t.Pairs[i]
		if len(p.Bodies) != 2 {
			b.src.fault(p.Path+".bodies", count(len(p.Bodies), "body", "bodies"), "two")
			continue
		}
		for k, name := range p.Bodies {
			b.bodyName(fmt.Sprintf("%s.bodies[%d]", p.Path, k), name)
		}
		if strings.TrimSpace(p.Reason) == "" {
			b.src.fault(p.Path+".reason", quoted(p.Reason), "a reason, which the report prints")
		}
		d.Pairs = append(d.Pairs, PairDemand{
			A: p.Bodies[0], B: p.Bodies[1], Reason: p.Reason,
			Clearance: b.unit.mm(b.src.positive(p.Path+".clearance", p.Clearance)),
		})
	}
	return d
}

// bodyName checks a name that means a body or a whole unit.
func (b *builder) bodyName(path, name string) {
	var known []string
	for _, body := range b.setup.Bodies {
		if belongs(body.Name, name) {
			return
		}
		known = append(known, body.Name)
		if !slices.Contains(known, body.Unit) {
			known = append(known, body.Unit)
		}
	}
	b.src.fault(path, quoted(name), "a body or a unit: %s", oneOf(name, known))
}
