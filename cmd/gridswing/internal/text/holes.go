package text

import (
	"math"
	"path/filepath"
	"strings"

	"gridswing/geom"
	"gridswing/geom/bores"
)

// Holes is what is round in a solid, in mm and degrees whatever the unit of its
// file; Tables alone are in that unit.
type Holes struct {
	Holes   []Hole       `json:"holes"`
	Bosses  []Boss       `json:"bosses"`
	Arcs    []Arc        `json:"arcs"` // round pieces of less than 350 degrees: fillets, ends of slots, bores with a keyway
	Grids   []Grid       `json:"grids"`
	Circles []BoltCircle `json:"bolt_circles"`
	// Tables are what a component file can take over, in TOML: grids as tables, a
	// seat and fasteners as comments.
	Tables string `json:"tables"`

	unit    geom.Unit // of Tables
	found   *bores.Found
	grids   []bores.Grid
	circles []bores.Circle
}

// Step is a length of a hole of one diameter.
type Step struct {
	Diameter float64 `json:"diameter_mm"` // of the circle on which the facets' corners lie
	Flats    float64 `json:"flats_mm"`    // of the largest circle within the facets
	From     float64 `json:"from_mm"`     // below the mouth
	To       float64 `json:"to_mm"`
	Sides    int     `json:"sides"`
	RMS      float64 `json:"rms_mm"` // distance of the corners from the cylinder
	Worst    float64 `json:"worst_mm"`
}

// Hole is a hole of one or more steps.
type Hole struct {
	Mouth   [3]float64 `json:"mouth_mm"`
	Axis    [3]float64 `json:"axis"` // out of the mouth
	Steps   []Step     `json:"steps"`
	Bottom  string     `json:"bottom"` // "through", "blind", "untold"
	Depth   float64    `json:"depth_mm"`
	Deepest float64    `json:"deepest_mm"` // with the point of the drill
	Point   float64    `json:"point_deg"`  // angle of the cone at the end, 0 without one
	Chamfer float64    `json:"chamfer_mm"` // to which the mouth is widened, 0 if it is not
	Exit    float64    `json:"exit_mm"`    // and the far end
}

// Boss is a round column.
type Boss struct {
	Base     [3]float64 `json:"base_mm"`
	Axis     [3]float64 `json:"axis"` // from the base to the free end
	Diameter float64    `json:"diameter_mm"`
	Flats    float64    `json:"flats_mm"`
	Height   float64    `json:"height_mm"`
	Sides    int        `json:"sides"`
	RMS      float64    `json:"rms_mm"`
	Worst    float64    `json:"worst_mm"`
}

// Arc is a round piece that is no hole and no boss, as it does not go all round.
type Arc struct {
	Middle   [3]float64 `json:"middle_mm"`
	Axis     [3]float64 `json:"axis"`
	Diameter float64    `json:"diameter_mm"`
	Length   float64    `json:"length_mm"`
	Coverage float64    `json:"coverage_deg"`
	Boss     bool       `json:"boss"` // the material is within
}

// Grid is a regular pattern of holes; numbers of holes count from 0.
type Grid struct {
	Name     string     `json:"name"`
	Diameter float64    `json:"diameter_mm"` // at the face
	Origin   [3]float64 `json:"origin_mm"`   // of place A1
	U        [3]float64 `json:"u"`
	V        [3]float64 `json:"v"`
	Pitch    [2]float64 `json:"pitch_mm"` // the second is 0 for a single row
	Columns  int        `json:"columns"`
	Rows     int        `json:"rows"`
	Holes    []int      `json:"holes"`
	Labels   []string   `json:"labels"` // of Holes
	Omit     []string   `json:"omit"`
	Worst    float64    `json:"worst_mm"` // of a hole from its place
}

// BoltCircle is a polar pattern.
type BoltCircle struct {
	Diameter float64    `json:"diameter_mm"` // of the holes, at the face
	Centre   [3]float64 `json:"centre_mm"`
	Axis     [3]float64 `json:"axis"`
	Radius   float64    `json:"radius_mm"` // of the circle
	First    [3]float64 `json:"first"`     // direction from the centre to the first hole
	Places   int        `json:"places"`
	Holes    []int      `json:"holes"`
	Missing  int        `json:"missing"`
	Worst    float64    `json:"worst_mm"`
}

// FindHoles looks for what is round in a mesh, in mm, of a file in the given unit.
func FindHoles(file string, m *geom.Mesh, unit geom.Unit) *Holes {
	f := bores.Find(m)
	h := &Holes{unit: unit, found: f, Holes: []Hole{}, Bosses: []Boss{}, Arcs: []Arc{}, Grids: []Grid{}, Circles: []BoltCircle{}}
	for i := range f.Holes {
		h.Holes = append(h.Holes, holeOf(&f.Holes[i]))
	}
	for _, b := range f.Bosses {
		h.Bosses = append(h.Bosses, Boss{
			Base: array(b.Base), Axis: array(b.Axis), Diameter: b.Diameter, Flats: b.Flats, Height: b.Height,
			Sides: b.Sides, RMS: b.RMS, Worst: b.Worst,
		})
	}
	for _, a := range f.Arcs {
		h.Arcs = append(h.Arcs, Arc{
			Middle: array(a.Middle), Axis: array(a.Axis), Diameter: a.Diameter, Length: a.Length,
			Coverage: a.Coverage * 180 / math.Pi, Boss: a.Boss,
		})
	}
	h.grids, h.circles = f.Patterns()
	for i := range h.grids {
		g := &h.grids[i]
		h.Grids = append(h.Grids, Grid{
			Name: gridName(i), Diameter: g.Diameter, Origin: array(g.Origin), U: array(g.U), V: array(g.V),
			Pitch: g.Pitch, Columns: g.Columns, Rows: g.Rows, Holes: numbers(g.Openings), Labels: g.Labels,
			Omit: append([]string{}, g.Omit...), Worst: g.Worst,
		})
	}
	for i := range h.circles {
		c := &h.circles[i]
		h.Circles = append(h.Circles, BoltCircle{
			Diameter: c.Diameter, Centre: array(c.Centre), Axis: array(c.Axis), Radius: c.Radius, First: array(c.First),
			Places: c.Places, Holes: numbers(c.Openings), Missing: c.Missing, Worst: c.Worst,
		})
	}
	h.Tables = h.tables(solidName(file), unit)
	return h
}

func holeOf(b *bores.Hole) Hole {
	h := Hole{
		Mouth: array(b.Mouth), Axis: array(b.Axis), Bottom: string(b.Bottom), Depth: b.Depth, Deepest: b.Deepest,
		Point: b.Point * 180 / math.Pi, Chamfer: b.Chamfer, Exit: b.Exit,
	}
	for _, s := range b.Steps {
		h.Steps = append(h.Steps, Step{s.Diameter, s.Flats, s.From, s.To, s.Sides, s.RMS, s.Worst})
	}
	return h
}

func numbers(of []bores.Opening) []int {
	list := make([]int, len(of))
	for i, o := range of {
		list[i] = o.Hole
	}
	return list
}

// solidName proposes the name of a solid: that of its file, without what a name may
// not have.
func solidName(file string) string {
	name := filepath.Base(file)
	name = strings.TrimSuffix(name, filepath.Ext(name))
	name = strings.TrimSpace(strings.Map(func(r rune) rune {
		if r < ' ' || r == '/' || r == '\\' || r == '"' || r == 0x7f || r == '\uFFFD' {
			return '-'
		}
		return r
	}, name))
	if name == "" || name == "." {
		return "solid"
	}
	return name
}
