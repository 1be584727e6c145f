package geom

import (
	"fmt"

	"github.com/golang/geo/r3"
)

// Faults says in words what is wrong with the solid, what matters most first;
// nothing for a sound one. Degenerate facets are told last: they do no harm.
// Lengths are in the unit of the mesh, facets count from 1.
func (a *Audit) Faults() []string {
	var faults []string
	add := func(format string, args ...any) { faults = append(faults, fmt.Sprintf(format, args...)) }
	if a.Facets == 0 {
		add("no facets")
	}
	if !a.Closed {
		add("open: %s, the first from %s to %s", count(a.OpenEdges, "open edge"), at(a.FirstOpen[0]), at(a.FirstOpen[1]))
	}
	if !a.Oriented {
		add("not consistently oriented: %s, the first from %s to %s",
			count(a.Misoriented, "misoriented edge"), at(a.FirstMisoriented[0]), at(a.FirstMisoriented[1]))
	}
	if a.InsideOut {
		s := &a.Shells[a.FirstInsideOut]
		add("inside out: the shell of %s at %s has its outside within", count(s.Facets, "facet"), at(s.Point))
	}
	if a.Degenerate > 0 {
		add("%s without area, the first is facet %d", count(a.Degenerate, "facet"), a.FirstDegenerate+1)
	}
	return faults
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func at(p r3.Vector) string { return fmt.Sprintf("(%.6g, %.6g, %.6g)", p.X, p.Y, p.Z) }
