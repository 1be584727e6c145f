package page

import (
	"cmp"
	"math"
	"slices"

	"gridswing/render/ink"
)

// edge is a piece of an outline, from a to b with a.X < b.X.
type edge struct {
	a, b  ink.Point
	sense int // 1, or -1 if the outline runs from b to a
}

func (e *edge) at(x float64) float64 { return e.a.Y + (e.b.Y-e.a.Y)*(x-e.a.X)/(e.b.X-e.a.X) }

// edges are ordered by where they begin.
type edges []edge

// edgesOf lists the edges of outlines, upright ones left out.
func edgesOf(outlines [][]ink.Point) (list edges) {
	for _, outline := range outlines {
		for i, q := range outline {
			p := outline[(i+len(outline)-1)%len(outline)]
			switch {
			case p.X < q.X:
				list = append(list, edge{p, q, 1})
			case p.X > q.X:
				list = append(list, edge{q, p, -1})
			}
		}
	}
	slices.SortStableFunc(list, func(a, b edge) int { return cmp.Compare(a.a.X, b.a.X) })
	return list
}

// most returns where the last edge ends.
func (e edges) most() float64 {
	most := math.Inf(-1)
	for i := range e {
		most = max(most, e[i].b.X)
	}
	return most
}

// slab is a part of the inside between two upright lines: its corners at the upper left, upper
// right, lower right and lower left (y down).
type slab [4]ink.Point

// slabs cuts what is inside of outlines (non-zero winding) between two upright lines into slabs,
// from left to right. Edges must not cross.
func (e edges) slabs(from, to float64) (list []slab) {
	stops := []float64{from, to}
	var near edges
	for i := range e {
		if e[i].a.X >= to {
			break
		}
		if e[i].b.X <= from {
			continue
		}
		near = append(near, e[i])
		for _, x := range []float64{e[i].a.X, e[i].b.X} {
			if x > from && x < to {
				stops = append(stops, x)
			}
		}
	}
	slices.Sort(stops)
	stops = slices.CompactFunc(stops, func(a, b float64) bool { return math.Abs(a-b) < nearlyOne })
	for i := 1; i < len(stops); i++ {
		list = append(list, near.between(stops[i-1], stops[i])...)
	}
	return list
}

// nearlyOne is a distance in pixels below which nothing is told apart.
const nearlyOne = 1e-7

// between returns the slabs between two upright lines with no corner between them.
func (e edges) between(from, to float64) (list []slab) {
	type crossing struct {
		*edge
		y float64
	}
	var crossings []crossing
	for i := range e {
		if mid := (from + to) / 2; e[i].a.X < mid && mid < e[i].b.X {
			crossings = append(crossings, crossing{&e[i], e[i].at(mid)})
		}
	}
	slices.SortStableFunc(crossings, func(a, b crossing) int { return cmp.Compare(a.y, b.y) })
	winding, open := 0, false
	var top *edge
	for i, c := range crossings {
		if !open {
			top, open = c.edge, true
		}
		winding += c.sense
		if winding != 0 || i+1 < len(crossings) && crossings[i+1].y-c.y < nearlyOne {
			continue // inside, or what adjoins begins
		}
		list = append(list, slab{{X: from, Y: top.at(from)}, {X: to, Y: top.at(to)}, {X: to, Y: c.at(to)}, {X: from, Y: c.at(from)}})
		open = false
	}
	return list
}

// within returns the outlines of what is inside between two upright lines.
func (e edges) within(from, to float64) (outlines [][]ink.Point) {
	type chain struct{ upper, lower []ink.Point }
	var open []*chain
	finish := func(c *chain) {
		slices.Reverse(c.lower)
		outlines = append(outlines, append(c.upper, c.lower...))
	}
	for _, s := range e.slabs(from, to) {
		var kept []*chain
		var next *chain
		for _, c := range open {
			u, l := c.upper[len(c.upper)-1], c.lower[len(c.lower)-1]
			switch {
			case same(u, s[0]) && same(l, s[3]):
				next = c
			case u.X < s[0].X-nearlyOne:
				finish(c)
				continue
			}
			kept = append(kept, c)
		}
		if open = kept; next == nil {
			next = &chain{s[:1:1], s[3:4:4]}
			open = append(open, next)
		}
		next.upper, next.lower = extended(next.upper, s[1]), extended(next.lower, s[2])
	}
	for _, c := range open {
		finish(c)
	}
	return outlines
}

func same(a, b ink.Point) bool { return math.Abs(a.X-b.X) < nearlyOne && math.Abs(a.Y-b.Y) < nearlyOne }

// extended returns a line that leads on to q; a corner that is none is left out.
func extended(line []ink.Point, q ink.Point) []ink.Point {
	if n := len(line); n > 1 {
		a, b := line[n-2], line[n-1]
		if math.Abs((b.X-a.X)*(q.Y-a.Y)-(b.Y-a.Y)*(q.X-a.X)) < nearlyOne {
			line = line[:n-1]
		}
	}
	return append(line, q)
}

// cut returns the part of a convex outline in the slab: it is cut by one side after the other
// (Sutherland and Hodgman, Communications of the ACM 17(1), 1974).
func (s *slab) cut(outline []ink.Point) []ink.Point {
	for i := range s {
		a, b := s[i], s[(i+1)%4]
		if same(a, b) {
			continue
		}
		inside := func(q ink.Point) float64 { return (b.X-a.X)*(q.Y-a.Y) - (b.Y-a.Y)*(q.X-a.X) }
		var kept []ink.Point
		for k, q := range outline {
			p := outline[(k+len(outline)-1)%len(outline)]
			dp, dq := inside(p), inside(q)
			if (dp > 0) != (dq > 0) {
				kept = append(kept, ink.Point{X: p.X + (q.X-p.X)*dp/(dp-dq), Y: p.Y + (q.Y-p.Y)*dp/(dp-dq)})
			}
			if dq > 0 {
				kept = append(kept, q)
			}
		}
		outline = kept
	}
	return outline
}
