package machine

import (
	"fmt"
	"strings"
	"sync"

	"gridswing/geom"
	"gridswing/machine/tooling"
)

// made keeps the solids that are computed and not read, so that setups that are much
// alike have the very same ones: what is known of a solid, such as its tree, then
// holds for all of them. Several goroutines may use it.
type made struct {
	lock   sync.Mutex
	solids map[any]*Solid
}

func newMade() *made { return &made{solids: make(map[any]*Solid)} }

// solid returns the solid that a key stands for: the one that was made for it, or a
// new one. A nil one is kept as well. A setup that was not loaded keeps none (m is nil).
func (m *made) solid(key any, build func() *Solid) *Solid {
	if m == nil {
		return build()
	}
	m.lock.Lock()
	defer m.lock.Unlock()
	s, known := m.solids[key]
	if !known {
		s = build()
		m.solids[key] = s
	}
	return s
}

// Keys of computed solids: all that their shape depends on.
type (
	prismKey struct{ diameter, bottom, top float64 }
	pinsKey  struct {
		grid  *grid
		holes string
	}
	zoneKey struct {
		cutter   *tooling.Cutter
		holder   *tooling.Holder
		zone     tooling.Zone
		stickOut float64
	}
)

// prism returns a prism around a cylinder about Z. Its facets enclose the true
// cylinder, so there is no chord error to add.
func (m *made) prism(diameter, bottom, top float64) *Solid {
	return m.solid(prismKey{diameter, bottom, top}, func() *Solid {
		mesh := prism(diameter, bottom, top)
		return &Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)}
	})
}

// pins returns the pins that stand out of a grid at some of its holes.
func (m *made) pins(g *grid, holes []string) *Solid {
	return m.solid(pinsKey{g, fmt.Sprint(len(holes), " ", strings.Join(holes, " "))}, func() *Solid { return g.pinSolid(holes) })
}

// zone returns what encloses a zone of a tool from outside; nil if it has none. A holder
// is where it is, whatever the stick-out.
func (m *made) zone(t *tooling.Tool, z tooling.Zone) *Solid {
	key := zoneKey{t.Cutter, t.Holder, z, t.StickOut}
	chord := 0.0
	if z == tooling.HolderZone {
		key.cutter, key.stickOut = nil, 0
		chord = t.Holder.ChordError // of one that is given as a solid
	}
	return m.solid(key, func() *Solid {
		mesh := t.Solid(z)
		if mesh == nil {
			return nil
		}
		return &Solid{Mesh: mesh, Audit: geom.AuditOf(mesh), ChordError: chord}
	})
}
