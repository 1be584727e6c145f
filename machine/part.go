package machine

import (
	"crypto/sha256"
	"fmt"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// part is one solid of an assembly, before it is placed.
type part struct {
	path, name, role string
	file             string // as the source names it
	key              string // that names the file; "" for "file"
	unit             scale
	at               r3.Vector // where its frame stands in the assembly's, mm
	carriedBy        int       // the axis that carries it; -1: the base
	opposite         bool      // moves against its setting axis
	material         string    // "": not stated
	density, mass    float64   // kg/m3, kg; 0: not known
	chordError       float64   // mm
	outside          bool
	solid            *Solid            // nil until read, and if it cannot be
	sum              [sha256.Size]byte // of the bytes of its file
	volume           float64
	size             geom.SizeRange // what is plausible
}

// solid reads what the solids of machines and components have in common.
func (s *source) solid(t *solidTable, unit scale) *part {
	p := &part{
		path: t.Path, name: t.Name, file: t.File, unit: unit, carriedBy: -1, outside: t.Outside,
		chordError: unit.mm(s.notNegative(t.Path+".chord_error", t.ChordError)),
	}
	s.checkName(t.Path, t.Name)
	if p.material = t.Material; t.Material != "" {
		p.density = s.density(t.Path+".material", t.Material)
	}
	return p
}

// fileKey is the path of the key that names the part's file.
func (p *part) fileKey() string {
	if p.key != "" {
		return join(p.path, p.key)
	}
	return join(p.path, "file")
}

// part returns the index of a part by name; an unknown name is a fault.
func (s *source) part(path, name string, parts []*part) int {
	names := make([]string, len(parts))
	for i, p := range parts {
		if p.name == name {
			return i
		}
		names[i] = p.name
	}
	if _, stated := s.places[path]; stated {
		s.fault(path, quoted(name), "%s", oneOf(name, names))
	}
	return -1
}

// uniqueParts checks that no two solids share a name.
func (s *source) uniqueParts(parts []*part) {
	seen := make(map[string]bool)
	for _, p := range parts {
		if seen[p.name] {
			s.fault(p.path+".name", quoted(p.name)+" a second time", "each solid under its own name")
		}
		seen[p.name] = true
	}
}

// fixedParts lists the parts that no axis of the assembly carries.
func fixedParts(parts []*part) []int {
	var fixed []int
	for i, p := range parts {
		if p.carriedBy < 0 {
			fixed = append(fixed, i)
		}
	}
	return fixed
}

// partList looks up solids by name; unknown names are faults and left out.
func (s *source) partList(path string, names []string, parts []*part) []int {
	var list []int
	for i, name := range names {
		if p := s.part(fmt.Sprintf("%s[%d]", path, i), name, parts); p >= 0 {
			list = append(list, p)
		}
	}
	return list
}
