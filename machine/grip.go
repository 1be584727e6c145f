package machine

import (
	"fmt"

	"github.com/golang/geo/r3"
)

// grip is a set of jaws that clamp what stands between them.
type grip struct {
	path, name string
	jaws       []int       // parts
	opening    []r3.Vector // unit, assembly's frame: where each jaw moves as it opens
}

// grip reads one grip table. A jaw that a linear setting axis carries opens
// along the axis' direction (against it, if it is opposite); a jaw that does
// not move opens the other way from those that do. Else the file says.
func (s *source) grip(t *gripTable, a *assembly) *grip {
	g := &grip{path: t.Path, name: t.Name, jaws: s.partList(t.Path+".jaws", t.Jaws, a.parts)}
	if len(t.Jaws) < 2 {
		if _, stated := s.places[t.Path+".jaws"]; stated {
			s.fault(t.Path+".jaws", count(len(t.Jaws), "jaw", "jaws"), "two or more")
		}
		return g
	}
	if len(g.jaws) < len(t.Jaws) {
		return g // an unknown jaw has been reported
	}
	if t.Opening != nil {
		s.statedOpening(g, t)
		return g
	}
	s.derivedOpening(g, a)
	return g
}

func (s *source) statedOpening(g *grip, t *gripTable) {
	if len(t.Opening) != len(t.Jaws) {
		s.fault(t.Path+".opening", count(len(t.Opening), "direction", "directions"), "%d, one for each jaw", len(t.Jaws))
		return
	}
	for i, d := range t.Opening {
		g.opening = append(g.opening, s.unitVector(fmt.Sprintf("%s.opening[%d]", t.Path, i), d))
	}
}

func (s *source) derivedOpening(g *grip, a *assembly) {
	g.opening = make([]r3.Vector, len(g.jaws))
	var sum r3.Vector
	for i, jaw := range g.jaws {
		g.opening[i] = a.opens(a.parts[jaw])
		sum = sum.Add(g.opening[i])
	}
	for i := range g.opening {
		if g.opening[i] != (r3.Vector{}) {
			continue
		}
		if sum.Norm() < 0.5 { // no jaw moves, or they move against each other
			s.fault(g.path, "no opening", "opening = one direction for each jaw: no setting axis tells where jaw %q opens",
				a.parts[g.jaws[i]].name)
			return
		}
		g.opening[i] = sum.Mul(-1).Normalize()
	}
}
