package machine

import (
	"fmt"
	"slices"

	"gridswing/geom"
	"gridswing/geom/motion"

	"github.com/golang/geo/r3"
)

// addParts lists the workpieces: each has coordinates of its own in those of
// the place it is cut from.
func (b *builder) addParts() {
	for i := range b.file.Parts {
		t := &b.file.Parts[i]
		b.src.checkName(t.Path, t.Name)
		part := Part{Name: t.Name, Unit: t.Place, Offset: t.Offset}
		if t.UnprobedWithin != nil {
			part.Unprobed = b.unit.mm(b.src.positive(t.Path+".unprobed_within", *t.UnprobedWithin))
		}
		for _, other := range b.setup.Parts {
			if other.Name == t.Name {
				b.src.fault(t.Path+".name", quoted(t.Name)+" a second time", "each part under its own name")
			}
			if other.Offset == t.Offset && t.Offset != "" {
				b.src.fault(t.Path+".offset", fmt.Sprintf("%q, which part %q has", t.Offset, other.Name), "an offset of its own for each part")
			}
		}
		place := b.done[t.Place]
		if place == nil {
			var names []string
			for k := range b.file.Places {
				names = append(names, b.file.Places[k].Name)
			}
			b.src.fault(t.Path+".place", quoted(t.Place), "a place: %s", oneOf(t.Place, names))
			continue
		}
		if role := place.parts[0].role; !slices.Contains(cutRoles, role) {
			b.src.fault(t.Path+".place", fmt.Sprintf("%q, a component of role %q", t.Place, role),
				"what is cut: a place whose component has the role %q or %q", cutRoles[0], cutRoles[1])
			continue
		}
		b.checkOffset(t)
		var pose geom.Pose
		pose = geom.Turn(r3.Vector{}, r3.Vector{Z: 1}, radians(t.Turned))
		if t.At != nil {
			pose = geom.Shift(b.unit.point(*t.At)).Mul(pose)
		}
		f := place.base.at(pose)
		part.Chain = motion.Chain{Joints: f.joints, Home: f.home}
		b.addFinished(&part, t)
		b.setup.Parts = append(b.setup.Parts, part)
	}
	b.addProbed()
}

// checkOffset holds a part's work offset to those that the machine has.
func (b *builder) checkOffset(t *partTable) {
	if r := b.setup.Offsets; r != nil && t.Offset != "" && !slices.Contains(r.Numbers, t.Offset) {
		b.src.fault(t.Path+".offset", quoted(t.Offset), "%s", oneOf(t.Offset, r.Numbers))
	}
}

// addProbed reads what probing found of the parts.
func (b *builder) addProbed() {
	for i := range b.file.Probed {
		t := &b.file.Probed[i]
		k := slices.IndexFunc(b.setup.Parts, func(p Part) bool { return p.Name == t.Part })
		switch {
		case k < 0:
			b.src.fault(t.Path+".part", quoted(t.Part), "a part: %s", oneOf(t.Part, b.partNames()))
			continue
		case b.setup.Parts[k].Probed != nil:
			b.src.fault(t.Path+".part", quoted(t.Part)+" a second time", "each part once")
		case !b.src.states(t.Path+".shift") && !b.src.states(t.Path+".skew"):
			b.src.fault(t.Path, "neither shift nor skew", "shift = [dx, dy, dz], skew = [about X, about Y, about Z] in degrees, or both")
		}
		b.setup.Parts[k].Probed = &Probed{
			Shift: b.unit.point(t.Shift),
			Skew:  r3.Vector{X: radians(t.Skew.X), Y: radians(t.Skew.Y), Z: radians(t.Skew.Z)},
		}
	}
}

func (b *builder) partNames() (names []string) {
	for _, p := range b.setup.Parts {
		names = append(names, p.Name)
	}
	return names
}

// partOf is a part that an operation is done at.
type partOf struct {
	index     int
	operation string // what the operation is called there
	wrongs    []wrong
}

// parts returns the parts that the operation is done at: the one it names, the
// only one there is, or each of several.
func (r *reading) parts() (list []partOf) {
	t := r.table
	several := r.src.states(t.Path + ".parts")
	if several && r.src.states(t.Path+".part") {
		r.src.fault(t.Path+".parts", "part and parts", "one of the two")
	}
	if !several {
		return []partOf{r.partOf(t.Path+".part", t.Part, t.Name)}
	}
	for i, name := range t.Parts {
		path := fmt.Sprintf("%s.parts[%d]", t.Path, i)
		list = append(list, r.partOf(path, name, fmt.Sprintf("%s (%s)", t.Name, name)))
	}
	if len(list) == 0 {
		r.src.fault(t.Path+".parts", "no part", "one or more")
	}
	return list
}

func (r *reading) partOf(path, name, operation string) partOf {
	found := partOf{operation: operation}
	names := r.partNames()
	wrongly := func(what, expected string) {
		found.wrongs = []wrong{{r.src.line(path), fmt.Sprintf("part: found %s, expected %s", what, expected)}}
	}
	switch k := slices.Index(names, name); {
	case k >= 0:
		found.index = k
	case len(names) == 0:
		wrongly("no part in this setup", `[[part]] with name and place: what is cut, and its coordinates`)
	case name == "" && len(names) > 1:
		wrongly("several parts to choose from", "part = "+oneOf("", names))
	case name != "":
		wrongly(quoted(name), oneOf(name, names))
	}
	return found
}

// warnOfPlace warns of features that are farther from the stock of their part
// than the approach, which counts from the stock: mostly a wrong number or the
// wrong zero.
func (r *reading) warnOfPlace(op *Operation) {
	part := &r.setup.Parts[op.Part]
	box := geom.EmptyBox()
	back := part.Chain.Home.Inverse()
	for i := range r.setup.Bodies {
		body := &r.setup.Bodies[i]
		if body.Unit != part.Unit || body.Solid == nil {
			continue
		}
		toPart := back.Mul(body.Chain.Home)
		for _, c := range body.Solid.Audit.Bounds.Corners() {
			box = box.Include(toPart.Point(c))
		}
	}
	if box.Empty() {
		return
	}
	for i, f := range op.Features {
		extent := geom.EmptyBox() // an open slot runs out of the stock: all of it has to be outside
		for _, p := range r.stated[i] {
			extent = extent.Include(p)
		}
		if mm := apart(extent, box); !extent.Empty() && mm > op.Approach {
			r.setup.Warnings = append(r.setup.Warnings, fmt.Sprintf("%s: operation %q: %s is %g mm outside %s, more than the approach of %g mm: is the part's zero where it should be?",
				f.Where, op.Name, f.Name, toThousandth(mm), part.Unit, toThousandth(op.Approach)))
		}
	}
}

// apart is the distance of two boxes.
func apart(a, b geom.Box) float64 {
	return r3.Vector{
		X: max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X),
		Y: max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y),
		Z: max(0, a.Min.Z-b.Max.Z, b.Min.Z-a.Max.Z),
	}.Norm()
}
