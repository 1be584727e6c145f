package machine

import (
	"fmt"
	"math"
	"strings"

	"gridswing/geom"
	"gridswing/geom/shape"
	"gridswing/machine/screws"

	"github.com/golang/geo/r2"
)

// driverTable is in a setup file or a tool file.
type driverTable struct {
	spot
	Name       string   `toml:"name,required"`
	Fits       string   `toml:"fits"`
	Key        *float64 `toml:"key"`
	Profile    []pair   `toml:"profile,required"`
	FreeHeight float64  `toml:"free_height,required"`
}

// Driver is what turns screws: a socket, a key with a long arm, a wrench, as the solid
// that it sweeps when it turns about its own axis.
type Driver struct {
	Name   string
	Thread string  // of the screws that it fits, without a pitch; "": Key says
	Key    float64 // width across flats of their sockets, mm; 0: Thread says
	// Solid encloses it, in its own frame, mm: the origin in the plane of the top of the
	// head, Z away from the screw.
	Solid *Solid
	// Free is how far above the head it comes from along the axis of the screw, mm. That
	// it gets as far as there is not looked at.
	Free float64
}

// sameKey is how far two widths across flats may differ and be the same, mm: as far as
// one that is written in inches to a thousandth.
const sameKey = 0.02

// Fits reports whether the driver fits a screw of a thread whose head has a socket of the
// given width across flats; 0: it has none, or none that is known. The pitch of the
// thread does not matter.
func (d *Driver) Fits(thread string, key float64) bool {
	diameter, _, _ := strings.Cut(thread, "x")
	return d.Thread != "" && d.Thread == diameter || d.Key > 0 && math.Abs(d.Key-key) <= sameKey
}

// driverSides is how many flat sides stand in for a round one: corners 0.1 % of the
// radius outside.
const driverSides = 72

// driver reads one driver. It is nil if there is none that could be made.
func (s *source) driver(t *driverTable, unit scale) *Driver {
	s.checkName(t.Path, t.Name)
	d := &Driver{Name: t.Name, Thread: t.Fits, Free: unit.mm(s.positive(t.Path+".free_height", t.FreeHeight))}
	switch fits := s.states(t.Path + ".fits"); {
	case fits && t.Key != nil:
		s.fault(t.Path+".key", "fits and key", "one of the two")
	case fits:
		size, err := screws.Find(t.Fits)
		if err != nil {
			s.fault(t.Path+".fits", quoted(t.Fits), "a thread: %s", oneOf(t.Fits, screws.Names()))
		}
		d.Thread, _, _ = strings.Cut(size.Name, "x")
	case t.Key == nil:
		s.fault(t.Path, "neither fits nor key", `fits = "M12", the thread of the screws that it fits, or key = 10, the width across flats`)
	default:
		d.Key = unit.mm(s.positive(t.Path+".key", *t.Key))
	}
	d.Solid = s.driverSolid(t, unit)
	return d
}

// driverSolid turns a profile into the solid around it; nil, and a fault, if it is none.
func (s *source) driverSolid(t *driverTable, unit scale) *Solid {
	var line shape.Contour
	for i, step := range t.Profile {
		if !(step[1] >= 0) || math.IsInf(step[1], 0) || math.IsNaN(step[0]) || math.IsInf(step[0], 0) {
			s.fault(fmt.Sprintf("%s.profile[%d]", t.Path, i), fmt.Sprintf("[%g, %g]", step[0], step[1]), "[distance from the head, diameter]")
			return nil
		}
		line = append(line, r2.Point{X: unit.mm(step[1]) / 2, Y: unit.mm(step[0])})
	}
	if len(line) < 2 {
		s.fault(t.Path+".profile", count(len(line), "point", "points"), "two or more, from the head away: [distance, diameter]")
		return nil
	}
	mesh, err := shape.Enclose(line, driverSides)
	if err != nil {
		s.fault(t.Path+".profile", err.Error(), "[distance, diameter] from the head away, the distances growing, or equal for a step")
		return nil
	}
	return &Solid{Mesh: mesh, Audit: geom.AuditOf(mesh)} // it is enclosed from outside: no chord error
}

// addDrivers lists the drivers of all tool files and of the setup.
func (b *builder) addDrivers() {
	names := make(map[string]bool)
	add := func(d *Driver, fault func()) {
		if names[d.Name] {
			fault()
			return
		}
		names[d.Name] = true
		b.setup.Drivers = append(b.setup.Drivers, d)
	}
	again := func(src *source, path string, d *Driver) func() {
		return func() { src.fault(path, quoted(d.Name)+" a second time", "each driver under its own name") }
	}
	for i, l := range b.libraries {
		for _, d := range l.drivers {
			add(d, again(b.src, fmt.Sprintf("tools[%d]", i), d))
		}
	}
	for i := range b.file.Drivers {
		t := &b.file.Drivers[i]
		d := b.src.driver(t, b.unit)
		add(d, again(b.src, t.Path+".name", d))
	}
}
