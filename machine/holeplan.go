package machine

import (
	"fmt"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// HolePlan is a grid of holes as one sees it who looks at its face: X along its columns'
// letters and Y along its rows' numbers, in mm from hole A1, or from the centre of rings.
type HolePlan struct {
	Name   string // "plate/top", "riser/top"
	Places []PlannedHole
	// Columns and Rows are empty for rings.
	Columns, Rows []Mark
	frame         geom.Pose // of the plan in the bed frame, every axis at zero
}

// PlannedHole is a hole that is there.
type PlannedHole struct {
	Name string
	X, Y float64
}

// Mark is the name of a column or of a row, and where it is along the other direction.
type Mark struct {
	Name string
	At   float64
}

// HolePlan returns the grid in which a component of the setup stands. It is an error if
// it stands in no holes.
func (d *Draft) HolePlan(place string) (*HolePlan, error) {
	if _, err := d.read.pinned(place); err != nil {
		return nil, err
	}
	tr := d.trial(d.built.tables[place])
	g := tr.grid
	own := g.pose()
	p := &HolePlan{Name: tr.under.unit + "/" + g.name, frame: tr.frame.Mul(own)}
	back := own.Inverse()
	for _, name := range g.allNames() {
		at, _ := g.hole(name) // all of them are there
		at = back.Point(at)
		p.Places = append(p.Places, PlannedHole{name, at.X, at.Y})
	}
	if len(g.rings) == 0 {
		for c := range g.columns {
			p.Columns = append(p.Columns, Mark{columnLetters(c), float64(c) * g.pitch[0]})
		}
		for r := range g.rows {
			p.Rows = append(p.Rows, Mark{fmt.Sprint(r + 1), float64(r) * g.pitch[1]})
		}
	}
	return p, nil
}

// At returns where a point of the bed frame, every axis at zero, is on the plan.
func (p *HolePlan) At(point r3.Vector) (x, y float64) {
	back := p.frame.Inverse()
	at := back.Point(point)
	return at.X, at.Y
}
