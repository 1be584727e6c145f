package machine

import (
	"fmt"
	"slices"
	"strings"

	"gridswing/geom"
)

// standardOffsets are the work offsets of a control where its file does not say
// (ISO 6983-1 leaves G54 to G59 to them).
func standardOffsets() []string { return []string{"G54", "G55", "G56", "G57", "G58", "G59"} }

// Most decimals that a control takes, and how many it has where its file does
// not say: common practice, no source.
const (
	mostDecimals = 6
	mmDecimals   = 3
	inchDecimals = 4
)

// offsetRules reads how a control treats offsets. What the method is and what
// the lengths are is nothing to be assumed: without them there are no rules.
func (s *source) offsetRules(t *offsetsTable) *OffsetRules {
	r := &OffsetRules{Method: t.Method, Lengths: t.Lengths, Numbers: t.Numbers, Decimals: -1}
	one := func(key, value string, known ...string) {
		if s.states(t.Path+"."+key) && !slices.Contains(known, value) {
			s.fault(t.Path+"."+key, quoted(value), "%q or %q", known[0], known[1])
		}
	}
	one("method", t.Method, PerPosition, TurnedByControl)
	one("lengths", t.Lengths, AbsoluteLengths, TouchedOff)
	if !s.states(t.Path + ".numbers") {
		r.Numbers = standardOffsets()
	} else if len(t.Numbers) == 0 {
		s.fault(t.Path+".numbers", "no number", `numbers = ["G54", "G55"]`)
	}
	for i, n := range t.Numbers {
		path := fmt.Sprintf("%s.numbers[%d]", t.Path, i)
		switch {
		case strings.TrimSpace(n) == "" || strings.TrimSpace(n) != n:
			s.fault(path, quoted(n), "an offset such as G54")
		case slices.Contains(t.Numbers[:i], n):
			s.fault(path, quoted(n)+" a second time", "each offset once")
		}
	}
	if t.Decimals != nil {
		if r.Decimals = *t.Decimals; r.Decimals < 0 || r.Decimals > mostDecimals {
			s.fault(t.Path+".decimals", fmt.Sprint(r.Decimals), "0 to %d", mostDecimals)
		}
	}
	return r
}

// addOffsets gives the setup the rules of its machine, if they are stated, and
// says what is missing if something is to be cut.
func (b *builder) addOffsets() {
	r := b.machine.offsets
	src := b.machine.src
	lacks := func(what, example string) {
		if len(b.file.Operations) > 0 || len(b.file.Parts) > 0 || b.file.Offsets != nil {
			b.setup.Warnings = append(b.setup.Warnings,
				fmt.Sprintf("%s: [offsets]: found no %s, expected %s: what to key in cannot be told", src.line("offsets"), what, example))
		}
	}
	switch {
	case r == nil || r.Method == "":
		lacks("method", fmt.Sprintf("method = %q or %q", PerPosition, TurnedByControl))
		return
	case r.Lengths == "":
		lacks("lengths", fmt.Sprintf("lengths = %q or %q", AbsoluteLengths, TouchedOff))
		return
	}
	rules := *r
	rules.Unit = geom.Unit(b.machine.unit)
	if rules.Decimals < 0 {
		rules.Decimals = mmDecimals
		if b.machine.unit != 1 {
			rules.Decimals = inchDecimals
		}
	}
	if b.file.Offsets != nil {
		rules.Shift = b.unit.mm(b.file.Offsets.Shift)
	}
	b.setup.Offsets = &rules
}
