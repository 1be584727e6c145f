package machine

import (
	"slices"
	"strings"
)

// addMayBeCut reads which bodies of the workholding may be cut into.
func (b *builder) addMayBeCut() {
	for i := range b.file.MayBeCut {
		t := &b.file.MayBeCut[i]
		var known []string
		body := -1
		for k, other := range b.setup.Bodies {
			if other.Unit == machineUnit || other.Unit == ToolUnit {
				continue
			}
			known = append(known, other.Name)
			if other.Name == t.Body {
				body = k
			}
		}
		switch {
		case body < 0:
			b.src.fault(t.Path+".body", quoted(t.Body), "a body that is set up: %s", oneOf(t.Body, known))
			continue
		case slices.ContainsFunc(b.setup.MayBeCut, func(m MayBeCut) bool { return m.Body == body }):
			b.src.fault(t.Path+".body", quoted(t.Body)+" a second time", "each body once")
		case strings.TrimSpace(t.Reason) == "":
			b.src.fault(t.Path+".reason", quoted(t.Reason), "a reason, which the report prints")
		}
		b.setup.MayBeCut = append(b.setup.MayBeCut, MayBeCut{
			Body: body, Depth: b.unit.mm(b.src.positive(t.Path+".depth", t.Depth)), Reason: t.Reason,
		})
	}
}
