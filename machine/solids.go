package machine

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"runtime"
	"slices"

	"gridswing/geom"
	"gridswing/geom/stl"
	"gridswing/geom/together"
)

// mesh is a solid file in one unit, read and examined once however often it
// is named.
type mesh struct {
	name     string
	unit     geom.Unit
	err      error
	sum      [sha256.Size]byte // of the file's bytes
	mesh     *geom.Mesh
	audit    geom.Audit
	rounding float64 // mm, of the conversion of units
	used     int     // by which load last, as Store.loads counts them
}

// meshKey is what a solid is known by: its file as resolved, and the unit it is
// read in.
type meshKey struct {
	name string
	unit scale
}

// largestSolid bounds the coordinates of a solid, in mm: a kilometre.
const largestSolid = 1e6

func (m *mesh) load(st *Store) {
	data, err := st.read(m.name)
	if err != nil {
		m.err = err
		return
	}
	m.sum = sha256.Sum256(data)
	raw, err := stl.Decode(data, m.name)
	if err != nil {
		m.err = err
		return
	}
	if m.mesh, m.rounding, m.err = m.unit.ToMillimetres(raw); m.err != nil {
		m.err = fmt.Errorf("%s: %w", m.name, m.err)
		return
	}
	m.audit = geom.AuditOf(m.mesh)
	b := m.audit.Bounds
	for _, v := range []float64{b.Min.X, b.Min.Y, b.Min.Z, b.Max.X, b.Max.Y, b.Max.Z} {
		if math.Abs(v) > largestSolid {
			m.err = fmt.Errorf("%s: found a coordinate of %g mm, expected at most %g: is the unit right?", m.name, v, float64(largestSolid))
			return
		}
	}
}

// loadSolids reads the solids of all assemblies, on all cores, each file once.
// What is wrong with one is a fault of the file that names it first.
func (st *Store) loadSolids(assemblies []*assembly) {
	var all []*mesh
	owned := make(map[*part]*mesh)
	assemblies = slices.DeleteFunc(assemblies, func(a *assembly) bool { return a.loaded })
	for _, a := range assemblies {
		for _, p := range a.parts {
			if p.solid != nil {
				continue // computed
			}
			name, ok := st.resolve(a.src, p.fileKey(), p.file)
			if !ok {
				continue
			}
			key := meshKey{name, p.unit}
			m := st.meshes[key]
			if m == nil {
				m = &mesh{name: name, unit: geom.Unit(p.unit)}
				st.meshes[key] = m
				all = append(all, m)
			}
			m.used = st.loads
			owned[p] = m
		}
	}
	var group together.Group
	free := make(chan struct{}, runtime.GOMAXPROCS(0))
	for _, m := range all {
		free <- struct{}{}
		group.Go(func() {
			defer func() { <-free }()
			m.load(st) // what is wrong is kept in m, to be told in order
		})
	}
	group.Wait()
	for _, a := range assemblies {
		for _, p := range a.parts {
			if m := owned[p]; m != nil {
				a.take(p, m)
			}
		}
		a.weigh()
		a.loaded = true
	}
}

// take gives a part its solid, or its file the fault.
func (a *assembly) take(p *part, m *mesh) {
	var missing *fs.PathError
	switch {
	case errors.As(m.err, &missing):
		a.src.missing(p.fileKey(), p.file, m.name, m.err)
		return
	case m.err != nil:
		a.src.fault(p.fileKey(), fmt.Sprintf("%q, which cannot be read: %v", p.file, m.err), "a solid in STL")
		return
	}
	p.sum = m.sum
	p.solid = &Solid{
		File: m.name, Mesh: m.mesh, Audit: m.audit, Outside: p.outside,
		ChordError: p.chordError + m.rounding,
	}
	warn := func(text string) { a.warnings = append(a.warnings, text) }
	if w := p.size.Implausible(m.audit.Bounds, m.unit); w != "" {
		warn(fmt.Sprintf("%s: solid %q: %s", a.src.name, p.name, w))
	}
	if !m.audit.Closed || !m.audit.Oriented || m.audit.InsideOut {
		for _, f := range m.audit.Faults() {
			warn(fmt.Sprintf("%s: solid %q: %s", a.src.name, p.name, f))
		}
	}
}

// weigh gives each part its mass and density. A stated mass is shared out by
// volume. What is not the surface of a volume has a mass only if it is the
// whole of a component with a stated mass.
func (a *assembly) weigh() {
	total := 0.0
	sound := true
	for _, p := range a.parts {
		if p.solid == nil {
			return
		}
		u := &p.solid.Audit
		if u.Closed && u.Oriented && !u.InsideOut {
			p.volume = u.Volume
		} else {
			sound = false
		}
		total += p.volume
	}
	if sound {
		a.weighsFarOff()
	}
	for _, p := range a.parts {
		switch {
		case a.mass == 0:
			p.mass = p.density * p.volume * 1e-9 // kg/m3 and mm3
		case len(a.parts) == 1:
			p.mass = a.mass
		case sound && total > 0:
			p.mass = a.mass * p.volume / total
		}
		if a.mass > 0 && p.volume > 0 {
			p.density = p.mass / p.volume * 1e9
		}
	}
}
