package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// patch is a piece of the surface that lies on a cylinder.
type patch struct {
	cylinder
	boss    bool    // the normals point away from the axis
	tilt    float64 // of a side's normal against the square to the axis, at most
	faces   []int32
	corners []r3.Vector // where sides meet
	turn    float64     // the largest at a seam

	low, high  float64 // along the axis, from its centre
	coverage   float64 // radians of the circle
	rms, worst float64 // of the corners, from the cylinder
	flats      float64 // radius to the nearest side's plane
	sides      int     // how many different directions the corners lie in
	uneven     float64 // the widest but one angle between them over the least
}

const (
	// A patch is no cylinder if its corners are off by more, relative to the radius.
	mostRMS   = 0.002
	mostWorst = 0.01
	// An arc of less (radians) is not worth keeping.
	leastArc = math.Pi / 3
	// Sides of a prism do not lean, those that run askew may by 3 degrees.
	straight, askew = 0.01, 0.05
	// fullCircle is what counts as all of a circle, 350 degrees.
	fullCircle = 350 * math.Pi / 180
)

// finder collects the patches of a surface; a face belongs to one at most.
type finder struct {
	*faceted
	taken   []bool // faces
	patches []*patch
}

// findPatches finds all patches, whole cylinders and arcs.
func findPatches(t *faceted) []*patch {
	f := &finder{faceted: t, taken: make([]bool, len(t.faces))}
	for _, bunch := range t.strips() {
		f.try(f.facesOf(bunch.seams), bunch.convex, straight)
	}
	f.tryAskew()
	return joinArcs(t, f.patches)
}

// facesOf returns the faces on both sides of seams, each once, but for those taken.
func (f *finder) facesOf(seams []int32) []int32 {
	var faces []int32
	for _, m := range seams {
		faces = append(faces, f.seams[m].faces[0], f.seams[m].faces[1])
	}
	slices.Sort(faces)
	faces = slices.Compact(faces)
	return slices.DeleteFunc(faces, func(i int32) bool { return f.taken[i] })
}

// try fits a cylinder to faces, takes in their neighbours that lie on it too, and
// keeps the patch if it is good. It returns the faces it came to.
func (f *finder) try(faces []int32, convex bool, tilt float64) (reached []int32, good bool) {
	p := &patch{boss: convex, faces: faces, tilt: tilt}
	if !p.fit(f.faceted) {
		return faces, false
	}
	if f.grow(p) && !p.fit(f.faceted) {
		return p.faces, false
	}
	if rough := p.rms > mostRMS*p.radius+f.noise || p.worst > mostWorst*p.radius+2*f.noise; rough {
		return p.faces, false
	}
	p.measure(f.faceted)
	if p.coverage < leastArc || !p.even() || p.isBand(f.faceted) {
		return p.faces, false
	}
	for _, i := range p.faces {
		f.taken[i] = true
	}
	f.patches = append(f.patches, p)
	return p.faces, true
}

// fit fits the cylinder to the faces; false if they give none.
func (p *patch) fit(t *faceted) bool {
	p.gather(t)
	if len(p.corners) < 6 {
		return false
	}
	normals, weights := make([]r3.Vector, len(p.faces)), make([]float64, len(p.faces))
	for i, f := range p.faces {
		normals[i], weights[i] = t.faces[f].normal, t.faces[f].area
	}
	axis, _, middle, ok := axisOf(normals, weights)
	if !ok || middle < 1e-3 {
		return false
	}
	if p.cylinder, ok = fitCircle(p.corners, axis); !ok {
		return false
	}
	p.cylinder = p.refine(p.corners)
	p.rms, p.worst = p.errors(p.corners)
	return true
}

// gather collects the corners of the patch: the ends of the seams within it. What
// else a side has for corners lies on a chord and not on the circle.
func (p *patch) gather(t *faceted) {
	in := make(map[int32]bool, len(p.faces))
	for _, f := range p.faces {
		in[f] = true
	}
	p.corners, p.turn = p.corners[:0], 0
	seen := map[int32]bool{}
	for _, f := range p.faces {
		for _, i := range t.faces[f].seams {
			m := &t.seams[i]
			if m.faces[0] != f || !in[m.faces[1]] || m.convex != p.boss {
				continue
			}
			p.turn = max(p.turn, m.turn)
			for _, h := range m.halfEdges {
				for _, c := range [2]int32{h, t.Next(h)} {
					if v := t.Vertex[c]; !seen[v] {
						seen[v] = true
						p.corners = append(p.corners, t.at(c))
					}
				}
			}
		}
	}
}

// grow takes in neighbours that lie on the cylinder, over and over, and reports
// whether there were any.
func (f *finder) grow(p *patch) bool {
	in := make(map[int32]bool, len(p.faces))
	for _, i := range p.faces {
		in[i] = true
	}
	before := len(p.faces)
	take := func(next int32) {
		if !in[next] && !f.taken[next] && p.holds(f.faceted, next) {
			in[next] = true
			p.faces = append(p.faces, next)
		}
	}
	for k := 0; k < len(p.faces); k++ {
		at := p.faces[k]
		for _, i := range f.faces[at].seams {
			if m := &f.seams[i]; m.convex == p.boss {
				take(m.other(at))
			}
		}
		for _, next := range f.acrossGaps(at) {
			take(next)
		}
	}
	return len(p.faces) > before
}

// holds reports whether a face is a piece of the cylinder: square to the radius, its
// corners no further out than the circle and no further in than the middle of a side.
func (p *patch) holds(t *faceted, f int32) bool {
	face := &t.faces[f]
	if face.normal == (r3.Vector{}) || math.Abs(face.normal.Dot(p.axis)) > p.tilt || len(face.facets) > 1<<16 {
		return false
	}
	outer := p.radius*(1+mostRMS) + 2*t.noise
	inner := p.radius*(math.Cos(p.turn*alike/2)-mostRMS) - 2*t.noise
	for _, g := range face.facets {
		for c := 3 * g; c < 3*g+3; c++ {
			_, radial := p.from(t.at(c))
			if d := radial.Norm(); d > outer || d < inner || (radial.Dot(face.normal) > 0) != p.boss {
				return false
			}
		}
	}
	return true
}

// measure finds where the patch ends and how much of the circle it covers.
func (p *patch) measure(t *faceted) {
	p.low, p.high, p.flats = math.Inf(1), math.Inf(-1), p.radius
	u, v := square(p.axis)
	var arcs [][2]float64 // from, to; from within a turn
	for _, f := range p.faces {
		face := &t.faces[f]
		middle := math.Atan2(face.normal.Dot(v), face.normal.Dot(u))
		if !p.boss {
			middle += math.Pi
		}
		from, to := 0.0, 0.0
		for _, g := range face.facets {
			for c := 3 * g; c < 3*g+3; c++ {
				along, radial := p.from(t.at(c))
				p.low, p.high = min(p.low, along), max(p.high, along)
				angle := math.Remainder(math.Atan2(radial.Dot(v), radial.Dot(u))-middle, 2*math.Pi)
				from, to = min(from, angle), max(to, angle)
			}
		}
		_, radial := p.from(t.at(3 * face.facets[0]))
		p.flats = min(p.flats, math.Abs(radial.Dot(face.normal)))
		start := math.Mod(math.Mod(middle+from, 2*math.Pi)+2*math.Pi, 2*math.Pi)
		arcs = append(arcs, [2]float64{start, start + to - from})
	}
	p.coverage = covered(arcs)
	p.countSides(u, v)
}

// covered returns how much of the circle arcs cover together.
func covered(arcs [][2]float64) float64 {
	const turn = 2 * math.Pi
	for _, a := range arcs {
		if a[1] > turn {
			arcs = append(arcs, [2]float64{0, a[1] - turn})
		}
	}
	slices.SortFunc(arcs, func(a, b [2]float64) int { return cmp.Compare(a[0], b[0]) })
	total, end := 0.0, 0.0
	for _, a := range arcs {
		to := min(a[1], turn)
		if to > end {
			total += to - max(end, a[0])
			end = to
		}
	}
	return total
}

// countSides counts the directions in which corners lie, as seen along the axis, and
// compares the angles between them.
func (p *patch) countSides(u, v r3.Vector) {
	angles := make([]float64, len(p.corners))
	for i, c := range p.corners {
		_, radial := p.from(c)
		angles[i] = math.Atan2(radial.Dot(v), radial.Dot(u))
	}
	slices.Sort(angles)
	same := max(1e-3, min(p.turn/4, 2*p.worst/p.radius))
	p.sides = 0
	var gaps []float64
	last := angles[len(angles)-1] - 2*math.Pi
	for _, a := range angles {
		if gap := a - last; gap > same {
			gaps = append(gaps, gap)
		}
		last = a
	}
	slices.Sort(gaps)
	p.sides, p.uneven = len(gaps), 1
	gaps = gaps[:max(1, len(gaps))-1] // the widest may be an opening, or want a facet
	if len(gaps) > 1 {
		p.uneven = gaps[len(gaps)-1] / gaps[0]
	}
}

// even reports whether the sides of a coarse polygon are those of a circle: the
// corners of a rectangle with its edges broken lie on a circle as well.
func (p *patch) even() bool {
	const coarse, alike = 20 * math.Pi / 180, 1.8
	return p.turn < coarse || p.uneven < alike
}

// isBand reports whether the patch is but a row of facets of a surface that is round
// in both directions, such as the equator of a ball or a length of a bent tube: it is
// shorter than its radius, and at both ends the surface goes on smoothly with rows
// about as long.
func (p *patch) isBand(t *faceted) bool {
	length := p.high - p.low
	if length > p.radius {
		return false
	}
	in := make(map[int32]bool, len(p.faces))
	for _, f := range p.faces {
		in[f] = true
	}
	middle := (p.low + p.high) / 2
	var smooth [2]float64 // how much of the rim, below and above
	for _, f := range p.faces {
		for _, i := range t.faces[f].seams {
			m := &t.seams[i]
			next := m.other(f)
			if in[next] || m.turn > askewTurn || math.Abs(m.along.Dot(p.axis)) > 0.7 {
				continue
			}
			if low, high := t.extent(next, p.axis); high-low < 0.15*length {
				continue
			}
			end := 0
			if at, _ := p.from(t.at(m.halfEdges[0])); at > middle {
				end = 1
			}
			for _, h := range m.halfEdges {
				a, b := t.ends(h)
				smooth[end] += b.Sub(a).Norm()
			}
		}
	}
	return min(smooth[0], smooth[1]) > 0.5*p.coverage*p.radius
}
