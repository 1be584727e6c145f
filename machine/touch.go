package machine

import (
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// touch reads points of a surface that a probe is sent to. The ball of its
// stylus (its diameter is DC) meets the point with its side that is foremost on
// the way, so the centre of the ball comes to stand half a diameter before the
// point, and the foremost point of the tool another half below that.
func (r *reading) touch(t *touchTable) {
	toward := r.direction(r.src.line(t.Path+".toward"), t.Path+".toward", t.Toward)
	axis := r.direction(r.src.line(t.Path+".axis"), t.Path+".axis", t.Axis)
	start := r.length(t.Path+".start", t.Start)
	search := r.length(t.Path+".search", t.Search)
	c := r.cutter()
	if c == nil {
		return
	}
	if c.Kind != tooling.TouchProbe {
		r.wrong(r.table.Path+".tool", "a "+c.Kind+" for a touch", "a touch probe")
	}
	if len(t.At) == 0 {
		r.wrong(t.Path+".at", "no point", "one or more")
	}
	for _, p := range t.At {
		at := r.unit.point(p)
		f := Feature{
			Kind: Touch, Axes: []r3.Vector{axis}, Search: toward.Mul(start + search), Find: start,
			Tips: []r3.Vector{at.Sub(toward.Mul(start + c.DC/2)).Sub(axis.Mul(c.DC / 2))},
		}
		r.add(t.Path, t.Name, nil, len(t.At) > 1, f, at)
	}
}
