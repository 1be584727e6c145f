package machine

import (
	"fmt"
	"slices"
)

// finishedParts lists the finished parts that the setup file names, in an assembly of their
// own: they are nowhere in the setup.
func (b *builder) finishedParts() *assembly {
	a := &assembly{src: b.src, name: b.file.Name, unit: b.unit}
	for i := range b.file.Parts {
		t := &b.file.Parts[i]
		b.statedWithFinished(t)
		if t.Finished == nil {
			continue
		}
		p := &part{path: t.Path, key: "finished", name: t.Name, file: *t.Finished, unit: b.unit, carriedBy: -1, size: componentSize}
		if t.FinishedError != nil {
			p.chordError = b.unit.mm(b.src.notNegative(t.Path+".finished_chord_error", *t.FinishedError))
		}
		a.parts = append(a.parts, p)
	}
	return a
}

// statedWithFinished checks that what goes with a finished part is stated with it and not
// without.
func (b *builder) statedWithFinished(t *partTable) {
	for _, k := range []struct {
		key, example string
		stated       bool
	}{
		{"finished_chord_error", "finished_chord_error = 0.02, how far the true surface can be from the facets", t.FinishedError != nil},
		{"gouge_within", "gouge_within = 0.05, how deep below its surface a cutter may go", t.GougeWithin != nil},
	} {
		switch {
		case t.Finished != nil && !k.stated:
			b.src.fault(t.Path, "finished and no "+k.key, "%s", k.example)
		case t.Finished == nil && k.stated:
			b.src.fault(t.Path+"."+k.key, k.key+" and no finished", `finished = "file.stl", what is to be left of the stock, in the part's coordinates`)
		}
	}
}

// addFinished gives a part what is to be left of it. Without an inside there is nothing that
// must not be cut into.
func (b *builder) addFinished(of *Part, t *partTable) {
	if t.Finished == nil || t.GougeWithin == nil {
		return
	}
	of.GougeWithin = b.unit.mm(b.src.positive(t.Path+".gouge_within", *t.GougeWithin))
	i := slices.IndexFunc(b.finished.parts, func(p *part) bool { return p.path == t.Path })
	if i < 0 {
		return
	}
	of.Finished = b.finished.parts[i].solid
	if of.Finished == nil {
		return
	}
	if u := &of.Finished.Audit; !u.Closed || !u.Oriented || u.InsideOut {
		b.src.fault(t.Path+".finished", fmt.Sprintf("%q, %s", *t.Finished, u.Faults()[0]), "a closed solid whose facets face outward")
	}
}
