package bores

import (
	"fmt"
	"math"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// Grid is a regular pattern of holes of one diameter in one face. Columns are
// lettered along U (A to Z, then AA), rows numbered along V from 1.
type Grid struct {
	Diameter      float64    // at the face, mm
	Origin        r3.Vector  // centre of place A1, in the face; the hole may be missing
	U, V          r3.Vector  // unit, square to each other; U x V points out of the holes
	Pitch         [2]float64 // mm, along U and V; 0 for a single column or row
	Columns, Rows int
	Openings      []Opening // row by row
	Labels        []string  // of Openings
	Omit          []string  // places without a hole
	Worst         float64   // the farthest hole from its place, mm
}

// Label names a place of a grid, counted from 0.
func Label(column, row int) string {
	letters := ""
	for column++; column > 0; column = (column - 1) / 26 {
		letters = string(rune('A'+(column-1)%26)) + letters
	}
	return fmt.Sprintf("%s%d", letters, row+1)
}

// newGrid names the places of a lattice of openings: U is the direction that comes
// nearer to the frame's u, A1 the corner from which both count up.
func newGrid(l *lattice, f frame, group []Opening, points []r2.Point) Grid {
	l.turnTo()
	low, high := l.box()
	g := Grid{
		Pitch:   [2]float64{l.u.Norm(), l.v.Norm()},
		Columns: high[0] - low[0] + 1, Rows: high[1] - low[1] + 1,
		U: f.lift(l.u.Normalize()), V: f.lift(l.u.Normalize().Ortho()),
	}
	corner := l.origin.Add(l.u.Mul(float64(low[0]))).Add(l.v.Mul(float64(low[1])))
	g.Origin = f.origin.Add(f.lift(corner))
	if g.Rows == 1 {
		g.Pitch[1] = 0
	}
	for row := range g.Rows {
		for column := range g.Columns {
			i, ok := l.members[[2]int{column + low[0], row + low[1]}]
			if !ok {
				g.Omit = append(g.Omit, Label(column, row))
				continue
			}
			g.Openings = append(g.Openings, group[i])
			g.Labels = append(g.Labels, Label(column, row))
			g.Diameter += group[i].Diameter
			_, off := l.place(points[i])
			g.Worst = max(g.Worst, off)
		}
	}
	g.Diameter /= float64(len(g.Openings))
	return g
}

// turnTo exchanges and reverses the directions so that u comes nearest to X and
// v is a quarter turn from it.
func (l *lattice) turnTo() {
	exchange := l.v != (r2.Point{}) && math.Abs(l.v.X) > math.Abs(l.u.X)+1e-9*l.u.Norm()
	if l.v == (r2.Point{}) {
		// A single row stays one, whichever way it runs.
		exchange = false
	}
	flipU, flipV := 1, 1
	u, v := l.u, l.v
	if exchange {
		u, v = v, u
	}
	if u.X < -1e-9*u.Norm() || math.Abs(u.X) <= 1e-9*u.Norm() && u.Y < 0 {
		u, flipU = u.Mul(-1), -1
	}
	if v.Dot(u.Ortho()) < 0 {
		v, flipV = v.Mul(-1), -1
	}
	members := make(map[[2]int]int, len(l.members))
	for at, i := range l.members {
		if exchange {
			at[0], at[1] = at[1], at[0]
		}
		members[[2]int{at[0] * flipU, at[1] * flipV}] = i
	}
	l.u, l.v, l.members = u, v, members
}

// lift returns a vector of the plane in space.
func (f *frame) lift(p r2.Point) r3.Vector { return f.u.Mul(p.X).Add(f.v.Mul(p.Y)) }

// flat returns where a point lies in the plane.
func (f *frame) flat(p r3.Vector) r2.Point {
	q := p.Sub(f.origin)
	return r2.Point{X: q.Dot(f.u), Y: q.Dot(f.v)}
}
