package geom

import (
	"github.com/golang/geo/r3"

	"gridswing/geom/together"
)

// Audit is what can be said of a mesh on its own, as delivered: whether it is
// the surface of a solid at all, and what is wrong with it if not.
//
// Corners are welded when their coordinates are exactly equal (-0 equals +0).
// An edge is the connection of two welded vertices by one or more facets.
//
// "First" is always by facet number, so it is found again in the file. Whether
// the surface crosses itself, and whether shells overlap, is not looked into: both
// are usual in models of machines, and legitimate.
type Audit struct {
	Facets   int
	Vertices int // after welding
	Edges    int // where no facet is degenerate, Vertices - Edges + Facets is 2 - 2 genus, summed over closed shells

	// Closed: no edge is open, so the surface bounds a volume. An edge is open if
	// an odd number of facets meet at it. Two is the rule; four or more occur
	// where bodies touch along an edge, and are as good as long as as many run
	// along the edge one way as the other.
	Closed    bool
	OpenEdges int
	FirstOpen [2]r3.Vector // its end points

	// Oriented: no edge is misoriented, so inside and outside are told apart. An
	// edge is misoriented if it is not open and unequal numbers of facets run
	// along it either way: neighbours do not agree which side is outside.
	Oriented         bool
	Misoriented      int
	FirstMisoriented [2]r3.Vector // its end points

	// InsideOut: some closed and oriented shell has its outside within, and is no
	// cavity. FirstInsideOut is its index in Shells, -1 if there is none.
	InsideOut      bool
	FirstInsideOut int

	// Degenerate facets have no area: corners that coincide, or that lie on a line
	// to within the resolution of float32. They leave no gap and do no harm but
	// for their normal, which means nothing. FirstDegenerate is -1 without any.
	Degenerate      int
	FirstDegenerate int

	Shells   []Shell // by their first facet
	Cavities int     // how many of them are voids in another

	Bounds Box     // empty for a mesh without facets
	Area   float64 // mm2
	Volume float64 // mm3, the sum over the shells: cavities count as the holes they are
}

// Shell is a connected piece of a mesh: facets that can be reached from each
// other across shared edges. Pieces that touch in a point only are apart, those
// that share an edge are one, judged by the sum of their volumes. A facet whose
// corners all coincide belongs to a shell that has a corner there.
type Shell struct {
	First  int // its lowest facet
	Facets int

	Closed   bool // no open edge on it
	Oriented bool // no misoriented edge on it

	// Volume in mm3: positive if the outside is without, negative if within; 0
	// for a shell that is not both closed and oriented, as it has none then.
	Volume float64

	// Cavity: closed, oriented, Volume below zero, and inside the material of the
	// other closed shells, so it is the wall of a void and right as it is.
	Cavity bool

	Point  r3.Vector // a corner of its first facet
	Bounds Box
}

// AuditOf examines m, in time linear in its facets but for a logarithm. It never
// fails: a mesh without facets is closed, oriented, and has no shells.
func AuditOf(m *Mesh) Audit {
	a := Audit{
		Facets:          len(m.Facets),
		Bounds:          EmptyBox(),
		FirstDegenerate: -1,
		FirstInsideOut:  -1,
	}
	var measured together.Group
	measured.Go(func() { a.measure(m) })
	w := weld(m)
	measured.Wait()
	a.Vertices = w.vertices
	shells := newShellFinder(len(m.Facets))
	marks := a.examineEdges(newEdgeTable(w), shells)
	a.Closed, a.Oriented = a.OpenEdges == 0, a.Misoriented == 0
	shellOf := a.collectShells(w, shells)
	for f, mark := range marks {
		s := &a.Shells[shellOf[f]]
		s.Closed = s.Closed && mark&besideOpen == 0
		s.Oriented = s.Oriented && mark&besideMisoriented == 0
	}
	a.shellVolumes(m, shellOf)
	a.findCavities(m, shellOf)
	a.sumShells()
	return a
}

// sumShells draws from the shells what is said of the mesh.
func (a *Audit) sumShells() {
	for i := range a.Shells {
		s := &a.Shells[i]
		a.Bounds = a.Bounds.Union(s.Bounds)
		a.Volume += s.Volume
		if s.Cavity {
			a.Cavities++
		}
		if s.Volume < 0 && !s.Cavity && !a.InsideOut {
			a.InsideOut, a.FirstInsideOut = true, i
		}
	}
}

// measure sums the area and counts the degenerate facets. Equal corners need no
// test of their own, they are in line.
func (a *Audit) measure(m *Mesh) {
	for f := range m.Facets {
		p, q, r := m.Triangle(f)
		n := q.Sub(p).Cross(r.Sub(p))
		a.Area += n.Norm() / 2
		if collinear(p, q, r, n) {
			if a.Degenerate == 0 {
				a.FirstDegenerate = f
			}
			a.Degenerate++
		}
	}
}

// collinear reports whether the triangle pqr, with n = (q-p) x (r-p), is no
// higher over its longest side than float32 resolves at its place: 2^-23 of the
// largest coordinate, the distance from one float32 to the next. The rounding of
// n itself, some 2^-52 of the squared size, is far below that.
func collinear(p, q, r, n r3.Vector) bool {
	const resolution = 1.0 / (1 << 23)
	most := max(largest(p), largest(q), largest(r)) * resolution
	side2 := max(q.Sub(p).Norm2(), r.Sub(q).Norm2(), p.Sub(r).Norm2())
	return n.Norm2() <= most*most*side2 // |n| = height * side
}

func largest(p r3.Vector) float64 {
	p = p.Abs()
	return max(p.X, p.Y, p.Z)
}

// Marks on the facets beside an edge at fault.
const (
	besideOpen = 1 << iota
	besideMisoriented
)

// examineEdges counts the edges and their faults and joins facets into shells.
// It returns a mark on one facet beside each edge at fault.
func (a *Audit) examineEdges(t *edgeTable, shells *shellFinder) (marks []uint8) {
	marks = make([]uint8, a.Facets)
	firstOpen, firstMisoriented := int32(-1), int32(-1)
	t.all(func(edge []int32, forward, backward int) {
		a.Edges++
		h := edge[0]
		for _, other := range edge[1:] {
			shells.join(h/3, other/3)
		}
		switch {
		case forward == backward:
		case len(edge)%2 == 1:
			a.OpenEdges++
			marks[h/3] |= besideOpen
			firstOpen = earlier(firstOpen, h)
		default:
			a.Misoriented++
			marks[h/3] |= besideMisoriented
			firstMisoriented = earlier(firstMisoriented, h)
		}
	})
	a.FirstOpen, a.FirstMisoriented = t.endPoints(firstOpen), t.endPoints(firstMisoriented)
	return marks
}

// earlier returns the lower half-edge; -1 stands for none.
func earlier(first, h int32) int32 {
	if first < 0 || h < first {
		return h
	}
	return first
}

// endPoints returns where half-edge h begins and ends; zero for -1.
func (w *welded) endPoints(h int32) [2]r3.Vector {
	if h < 0 {
		return [2]r3.Vector{}
	}
	return [2]r3.Vector{w.corner(h).Vector(), w.corner(next(h)).Vector()}
}
