package machine

import (
	"fmt"
	"math"

	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// area reads a face or a pocket: a path of tip positions, or a box to be cut.
func (r *reading) area(kind string, t *areaTable) {
	boxed := r.src.states(t.Path+".from") || r.src.states(t.Path+".to")
	path := r.src.states(t.Path + ".points")
	axis := r.direction(r.src.line(t.Path+".axis"), t.Path+".axis", t.Axis)
	f := Feature{Kind: kind, Axes: []r3.Vector{axis}, InLayers: t.Layers}
	r.cuts(kind)
	switch {
	case boxed && path:
		r.src.fault(t.Path+".points", "points, and from or to", "either a box or the points of a path")
	case path:
		for _, key := range []string{"along", "overrun"} {
			if r.src.states(t.Path + "." + key) {
				r.src.fault(t.Path+"."+key, key+" of a path", "none: its points are where the tip goes")
			}
		}
		if len(t.Points) == 0 {
			r.wrong(t.Path+".points", "no point", "one or more")
			return
		}
		for _, p := range t.Points {
			f.Tips = append(f.Tips, r.unit.point(p))
		}
		r.add(t.Path, t.Name, nil, false, f, f.Tips...)
	case t.From == nil || t.To == nil:
		r.src.fault(t.Path, "neither box nor points", "from = [x, y, z] and to = [x, y, z], opposite corners of the box to be cut, or points = [[x, y, z], ...]")
	default:
		if r.src.states(t.Path + ".in_layers") {
			r.src.fault(t.Path+".in_layers", "in_layers of a box", "none: a box is cut in layers")
		}
		from, to := r.unit.point(*t.From), r.unit.point(*t.To)
		f.Area = r.tips(kind, t, from, to, axis)
		r.add(t.Path, t.Name, nil, false, f, from, to)
	}
}

// tips returns where the foremost point is as a cutter cuts a box: it goes past
// the edges of a face with its whole width, and stays within those of a pocket.
// Both go farther by the overrun. The corner radius of a cutter leaves something
// at the bottom and does not lead it elsewhere.
func (r *reading) tips(kind string, t *areaTable, from, to, axis r3.Vector) *Area {
	u := r.along(t, axis)
	v := axis.Cross(u)
	across := to.Sub(from)
	size := r3.Vector{X: math.Abs(across.Dot(u)), Y: math.Abs(across.Dot(v)), Z: math.Abs(across.Dot(axis))}
	middle := from.Add(to).Mul(0.5)
	c := r.cutter()
	if c == nil {
		return &Area{Corner: middle}
	}
	beyond := r.unit.mm(t.Overrun) - c.Largest()/2
	if kind == Face {
		beyond += c.Largest()
	}
	if kind == Face && beyond < -1e-9 {
		r.wrong(t.Path+".overrun", fmt.Sprintf("%g mm, with which the middle of the cutter stays %g mm inside the edges and leaves stock",
			toThousandth(r.unit.mm(t.Overrun)), toThousandth(-beyond)), "no less than %g mm, half the width of the cutter inside", toThousandth(-c.Largest()/2))
	}
	width, length := size.X+2*beyond, size.Y+2*beyond
	if least := min(size.X, size.Y); min(width, length) < -1e-9 {
		r.wrong(t.Path, fmt.Sprintf("a %s %g mm wide and a cutter of %s %g mm", kind, toThousandth(least), largestOf(c), toThousandth(c.Largest())),
			"a cutter that fits into it with the overrun of %g mm", toThousandth(r.unit.mm(t.Overrun)))
	}
	width, length = max(0, width), max(0, length)
	return &Area{
		Corner: middle.Sub(u.Mul(width / 2)).Sub(v.Mul(length / 2)).Add(axis.Mul(size.Z / 2)),
		U:      u.Mul(width), V: v.Mul(length), Depth: size.Z,
	}
}

// largestOf names what is the largest diameter of a cutter.
func largestOf(c *tooling.Cutter) string {
	if c.DCX > c.DC {
		return "DCX"
	}
	return "DC"
}

// along returns the direction of a box's first side, square to its axis.
func (r *reading) along(t *areaTable, axis r3.Vector) r3.Vector {
	d := squarest(axis)
	if t.Along != nil {
		path := t.Path + ".along"
		d = r.direction(r.src.line(path), path, *t.Along)
		// A drawing gives directions to some six digits.
		if math.Abs(d.Dot(axis)) > 1e-6 {
			r.wrong(path, fmt.Sprintf("a direction at %.4f degrees to the axis", degrees(math.Acos(max(-1, min(1, d.Dot(axis)))))), "one that is square to it")
			d = axis.Ortho()
		}
	}
	return d.Sub(axis.Mul(d.Dot(axis))).Normalize()
}

// cuts notes a feature that a touch probe cannot make.
func (r *reading) cuts(kind string) {
	if c := r.cutter(); c != nil && c.Kind == tooling.TouchProbe {
		r.wrong(r.table.Path+".tool", "a touch probe for a "+kind, "a tool that cuts")
	}
}
