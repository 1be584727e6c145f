package machine

import (
	"fmt"

	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// What the depth of a hole is counted to.
const (
	toTip          = "tip"
	toFullDiameter = "full diameter"
)

// holes reads one table of holes that are alike, or a list of them.
func (r *reading) holes(t *holeTable) {
	r.cuts(Hole)
	rows := r.rows(t.Path, t.At)
	for i := range rows {
		row := &rows[i]
		if row.axis == nil {
			row.axis = t.Axis
		}
		if row.depth == nil {
			row.depth = t.Depth
		}
		if row.depthTo == "" {
			row.depthTo = t.DepthTo
		}
		if row.through == nil {
			row.through = &t.Breakthrough
		}
		switch {
		case row.axis == nil:
			r.lacks(t.Path, row, "axis", `axis = [0, 0, 1], out of the part towards the spindle`)
		case row.depth == nil:
			r.lacks(t.Path, row, "depth", `depth = 20`)
		case row.depthTo == "":
			r.lacks(t.Path, row, "depth_to", `depth_to = "tip" or "full diameter", which the depth is counted to`)
		default:
			r.hole(t, row, len(rows) > 1)
			continue
		}
		return // the others lack it too
	}
}

// lacks notes that neither the table nor its list says something. It is the
// table's fault: it could say it for all.
func (r *reading) lacks(path string, row *row, key, example string) {
	found := "no " + key
	if row.listed {
		found += ", and none in " + row.where
	}
	r.src.fault(path, found, "%s", example)
}

func (r *reading) hole(t *holeTable, row *row, several bool) {
	path := t.Path + ".axis"
	axis := r.direction(r.placeOf(row, path, "axis"), path, *row.axis)
	depth, through := *row.depth, *row.through
	if depth <= 0 {
		r.wrongly(row, t.Path, "depth", fmt.Sprint(depth), "more than 0")
	}
	if through < 0 {
		r.wrongly(row, t.Path, "breakthrough", fmt.Sprint(through), "0 or more")
	}
	down := r.unit.mm(depth) + r.unit.mm(through)
	switch row.depthTo {
	case toTip:
	case toFullDiameter:
		down += r.point(row, t.Path)
	default:
		r.wrongly(row, t.Path, "depth_to", quoted(row.depthTo), "%q or %q", toTip, toFullDiameter)
	}
	at := r.unit.point(row.at)
	f := Feature{Kind: Hole, Tips: []r3.Vector{at.Sub(axis.Mul(down))}, Axes: []r3.Vector{axis}}
	r.add(t.Path, t.Name, row, several, f, at)
}

// point returns how far the foremost point of the operation's cutter is ahead
// of its full diameter.
func (r *reading) point(row *row, table string) float64 {
	c := r.cutter()
	if c == nil {
		return 0 // told already
	}
	if c.Kind == tooling.Tap || c.Kind == tooling.Reamer {
		r.wrongly(row, table, "depth_to", fmt.Sprintf("%q of a %s", toFullDiameter, c.Kind), "%q: the length of its lead is nowhere stated", toTip)
	}
	if c.DCX > c.DC {
		r.wrongly(row, table, "depth_to", fmt.Sprintf("%q of a cutter with DCX", toFullDiameter), "%q: how far above its tip it is that wide is nowhere stated", toTip)
	}
	return c.TipLength()
}
