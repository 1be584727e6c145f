package geom

// shellFinder joins facets into shells: a forest of facets in which every facet
// points towards the lowest one of its shell (union by lowest number, with path
// halving; Tarjan and van Leeuwen, "Worst-case analysis of set union
// algorithms", J. ACM 31(2), 1984).
type shellFinder struct {
	parent []int32
}

func newShellFinder(facets int) *shellFinder {
	s := &shellFinder{parent: make([]int32, facets)}
	for f := range s.parent {
		s.parent[f] = int32(f)
	}
	return s
}

func (s *shellFinder) lowest(f int32) int32 {
	for s.parent[f] != f {
		s.parent[f] = s.parent[s.parent[f]]
		f = s.parent[f]
	}
	return f
}

func (s *shellFinder) join(f, g int32) {
	f, g = s.lowest(f), s.lowest(g)
	if f < g {
		s.parent[g] = f
	} else {
		s.parent[f] = g
	}
}

// collectShells fills a.Shells but for their volumes and faults, and returns the
// index of each facet's shell.
func (a *Audit) collectShells(w *welded, s *shellFinder) []int32 {
	s.joinPoints(w)
	// The lowest facet comes first of its shell, so its place can take the
	// shell's index before any other facet of the shell asks for it.
	shellOf := s.parent
	n := 0
	for f, lowest := range shellOf {
		if lowest == int32(f) {
			n++
		}
	}
	a.Shells = make([]Shell, 0, n)
	for f := range shellOf {
		// A parent is lower than its child, hence done.
		if shellOf[f] == int32(f) {
			p := w.mesh.Facets[f][0].Vector()
			a.Shells = append(a.Shells, Shell{First: f, Closed: true, Oriented: true, Point: p, Bounds: EmptyBox()})
			shellOf[f] = int32(len(a.Shells) - 1)
		} else {
			shellOf[f] = shellOf[shellOf[f]]
		}
		shell := &a.Shells[shellOf[f]]
		shell.Facets++
		for _, v := range &w.mesh.Facets[f] {
			shell.Bounds = shell.Bounds.Include(v.Vector())
		}
	}
	return shellOf
}

// joinPoints joins each facet that is a mere point, having no edge, to a facet
// that has a corner there.
func (s *shellFinder) joinPoints(w *welded) {
	points := map[int32]int32{} // vertex to the lowest facet that is only that point
	for f := range w.mesh.Facets {
		if a, b, c := w.facet(f); a == b && b == c {
			if g, ok := points[a]; ok {
				s.join(g, int32(f))
			} else {
				points[a] = int32(f)
			}
		}
	}
	if len(points) == 0 {
		return
	}
	for c, v := range w.vertex {
		g, ok := points[v]
		if a, b, d := w.facet(c / 3); ok && (a != b || b != d) {
			s.join(g, int32(c/3))
			delete(points, v)
		}
	}
}

// shellVolumes sums the volume of each closed and oriented shell: by the
// divergence theorem, tetrahedra from the centre of the shell's box, so that a
// small shell far from the origin loses no digits.
func (a *Audit) shellVolumes(m *Mesh, shellOf []int32) {
	for f := range m.Facets {
		s := &a.Shells[shellOf[f]]
		if !s.Closed || !s.Oriented {
			continue
		}
		o := s.Bounds.Center()
		p, q, r := m.Triangle(f)
		s.Volume += p.Sub(o).Dot(q.Sub(o).Cross(r.Sub(o))) / 6
	}
}
