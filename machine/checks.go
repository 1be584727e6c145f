package machine

import (
	"fmt"
	"strings"

	"github.com/golang/geo/r3"
)

// unitVector returns the direction at unit length; an axis-parallel one
// exactly. A zero one is a fault and becomes Z, so that the rest can be read.
func (s *source) unitVector(path string, d r3.Vector) r3.Vector {
	// Scaled first, so that no square of a component can underflow.
	size := max(d.X, -d.X, d.Y, -d.Y, d.Z, -d.Z)
	if size == 0 {
		if _, stated := s.places[path]; stated {
			s.fault(path, "[0, 0, 0]", "a direction that is not zero")
		}
		return r3.Vector{Z: 1}
	}
	return d.Mul(1 / size).Normalize()
}

// checkName checks what something is called.
func (s *source) checkName(table, name string) {
	if name == "" || strings.ContainsAny(name, "/\n\r\t") || strings.TrimSpace(name) != name {
		s.fault(join(table, "name"), quoted(name), "a name, without a slash")
	}
}

func (s *source) notNegative(path string, v float64) float64 {
	if v < 0 {
		s.fault(path, fmt.Sprint(v), "0 or more")
		return 0
	}
	return v
}

// positive checks a length that is required. A key that is missing has been
// reported already.
func (s *source) positive(path string, v float64) float64 {
	if _, stated := s.places[path]; stated && v <= 0 {
		s.fault(path, fmt.Sprint(v), "more than 0")
	}
	return v
}

// role checks a role stated in a file.
func (s *source) role(path, role string, known []string) {
	for _, r := range known {
		if r == role {
			return
		}
	}
	if _, stated := s.places[path]; stated {
		s.fault(path, quoted(role), "%s", oneOf(role, known))
	}
}
