package bores

import (
	"cmp"
	"slices"

	"github.com/golang/geo/r2"
)

// Patterns finds regular grids and bolt circles among the holes. A hole belongs to
// one pattern at most, that of more holes, with its mouth before its far end. Four
// holes in a square are a bolt circle if something round is in their middle, else a
// grid of two by two. Grids and circles come with the most holes first.
func (f *Found) Patterns() ([]Grid, []Circle) {
	var grids []Grid
	var circles []Circle
	used := make([]bool, len(f.Holes))
	for _, group := range inOneFace(f.Openings()) {
		for {
			group = slices.DeleteFunc(group, func(o Opening) bool { return used[o.Hole] })
			if len(group) < 3 {
				break
			}
			g, c := f.pattern(group)
			var members []Opening
			switch {
			case g != nil:
				grids, members = append(grids, *g), g.Openings
			case c != nil:
				circles, members = append(circles, *c), c.Openings
			}
			if members == nil {
				break
			}
			for _, o := range members {
				used[o.Hole] = true
			}
		}
	}
	slices.SortStableFunc(grids, func(a, b Grid) int { return cmp.Compare(len(b.Openings), len(a.Openings)) })
	slices.SortStableFunc(circles, func(a, b Circle) int { return cmp.Compare(len(b.Openings), len(a.Openings)) })
	return grids, circles
}

// pattern returns the pattern that holds most of a group of openings, as a grid or
// as a circle.
func (f *Found) pattern(group []Opening) (*Grid, *Circle) {
	plane := frameOf(group)
	points := make([]r2.Point, len(group))
	for i, o := range group {
		points[i] = plane.flat(o.At)
	}
	order := make([]int, len(group))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(points[a].X, points[b].X), cmp.Compare(points[a].Y, points[b].Y))
	})
	sorted, sortedGroup := make([]r2.Point, len(group)), make([]Opening, len(group))
	for i, k := range order {
		sorted[i], sortedGroup[i] = points[k], group[k]
	}
	l, p := bestLattice(sorted), bestPolar(sorted, f.centres(plane))
	switch {
	case l == nil && p == nil:
		return nil, nil
	case l == nil, p != nil && (len(p.members) > len(l.members) || len(p.members) == len(l.members) && p.marked):
		c := newCircle(p, plane, sortedGroup, sorted)
		return nil, &c
	}
	g := newGrid(l, plane, sortedGroup, sorted)
	return &g, nil
}

// centres returns where the axes of larger round things that are square to a plane
// meet it, as far as there are not too many.
func (f *Found) centres(plane frame) []r2.Point {
	const most = 50
	var centres []r2.Point
	for i := range f.Holes {
		if h := &f.Holes[i]; along(h.Axis, plane) {
			centres = append(centres, plane.flat(h.Mouth))
		}
	}
	for i := range f.Bosses {
		if b := &f.Bosses[i]; along(b.Axis, plane) {
			centres = append(centres, plane.flat(b.Base))
		}
	}
	if len(centres) > most {
		return nil
	}
	return centres
}
