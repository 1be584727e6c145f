package text

import (
	"fmt"
	"io"

	"gridswing/cmd/gridswing/internal/terminal"
	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// SolidFormat is the version of the JSON form of Solid.
const SolidFormat = 1

// Solid is what is to be said of one solid, in mm whatever the unit of its file.
type Solid struct {
	Format int    `json:"format"`
	File   string `json:"file"`
	Units  string `json:"units"` // of the file
	// Sound: closed, oriented and not inside out, so that nothing about it
	// leaves a verdict unproven.
	Sound      bool       `json:"sound"`
	Faults     []string   `json:"faults"` // degenerate facets among them, which do no harm
	Facets     int        `json:"facets"`
	Vertices   int        `json:"vertices"`
	Closed     bool       `json:"closed"`
	OpenEdges  int        `json:"open_edges"`
	Oriented   bool       `json:"oriented"`
	InsideOut  bool       `json:"inside_out"`
	Degenerate int        `json:"degenerate"`
	Shells     int        `json:"shells"`
	Cavities   int        `json:"cavities"`
	Min        [3]float64 `json:"min_mm"`
	Max        [3]float64 `json:"max_mm"`
	Area       float64    `json:"area_mm2"`
	// Volume, its centre and what follows from it are nil where the solid is not
	// sound, Mass also where no material is stated.
	Volume   *float64    `json:"volume_mm3"`
	Centroid *[3]float64 `json:"centroid_mm"`
	Material string      `json:"material,omitempty"`
	Mass     *float64    `json:"mass_kg"`
	Warnings []string    `json:"warnings"`

	Holes *Holes `json:"round,omitempty"` // where they were asked for
}

// Examine audits a mesh, in mm, of a file in the given unit. The density, in
// kg/m3, goes with the material; neither is needed.
func Examine(file string, m *geom.Mesh, unit geom.Unit, material string, density float64) *Solid {
	a := geom.AuditOf(m)
	s := &Solid{
		Format: SolidFormat, File: file, Units: unit.String(),
		Sound: a.Closed && a.Oriented && !a.InsideOut, Faults: append([]string{}, a.Faults()...),
		Facets: a.Facets, Vertices: a.Vertices,
		Closed: a.Closed, OpenEdges: a.OpenEdges, Oriented: a.Oriented, InsideOut: a.InsideOut,
		Degenerate: a.Degenerate, Shells: len(a.Shells), Cavities: a.Cavities,
		Min: array(a.Bounds.Min), Max: array(a.Bounds.Max), Area: a.Area,
		Material: material, Warnings: []string{},
	}
	if w := geom.ImplausibleSize(a.Bounds, unit); w != "" {
		s.Warnings = append(s.Warnings, w)
	}
	if s.Sound {
		mass := geom.MassOf(m)
		center := array(mass.Centroid)
		s.Volume, s.Centroid = &mass.Volume, &center
		if material != "" {
			kg := mass.Volume * density * 1e-9 // mm3 to m3
			s.Mass = &kg
		}
	}
	return s
}

func array(v r3.Vector) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// Write says in words what is known of the solid.
func (s *Solid) Write(w io.Writer, look terminal.Look) error {
	p := &page{w: w, look: look}
	if s.Sound {
		p.line("%s: %s", p.styled(green, "sound"), p.bold(s.File))
	} else {
		p.line("%s: %s", p.styled(red, "not sound"), p.bold(s.File))
	}
	for _, f := range s.Faults {
		p.wrapped("   - ", 5, f)
	}
	p.field("size", fmt.Sprintf("%s x %s x %s mm, from (%s) to (%s), the file read in %s",
		fixed(s.Max[0]-s.Min[0], 2), fixed(s.Max[1]-s.Min[1], 2), fixed(s.Max[2]-s.Min[2], 2),
		corner(s.Min), corner(s.Max), s.Units))
	p.field("facets", fmt.Sprintf("%d, on %d vertices", s.Facets, s.Vertices))
	p.field("surface", s.surface())
	p.field("pieces", s.pieces())
	if s.Volume != nil {
		p.field("volume", fmt.Sprintf("%s cm3, its centre at (%s)", fixed(*s.Volume/1000, 2), corner(*s.Centroid)))
	} else {
		p.field("volume", "none: the surface does not bound one")
	}
	if s.Mass != nil {
		p.field("mass", fmt.Sprintf("%s kg, of %s", fixed(*s.Mass, 3), s.Material))
	}
	for _, warning := range s.Warnings {
		p.field("warning", warning)
	}
	if s.Holes != nil {
		s.Holes.write(p)
	}
	return p.err
}

func (s *Solid) surface() string {
	words := "closed"
	if !s.Closed {
		words = "open"
	}
	switch {
	case !s.Oriented:
		words += ", facets not turned alike"
	case s.InsideOut:
		words += ", inside out"
	case s.Closed:
		words += ", facets turned outward"
	}
	return words + fmt.Sprintf(", %s cm2", fixed(s.Area/100, 2))
}

func (s *Solid) pieces() string {
	words := plural(s.Shells, "shell")
	if s.Cavities > 0 {
		words += fmt.Sprintf(", of them %d the wall of a cavity", s.Cavities)
	}
	return words
}

func corner(p [3]float64) string {
	return fixed(p[0], 2) + ", " + fixed(p[1], 2) + ", " + fixed(p[2], 2)
}
