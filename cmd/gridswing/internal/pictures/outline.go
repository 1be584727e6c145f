package pictures

import (
	"cmp"
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/render/drafting"
)

// Of lines in a face: how far off it they may be, mm, and from which turn on an edge is drawn, radians.
const (
	inFace     = 0.05
	faceTurn   = 0.35
	sameCorner = 1e-3
)

// linesIn returns those of a mesh's edges that lie in the plane Z = 0 of a frame, joined to lines; a closed one
// ends where it begins. Pose is the mesh's in that frame.
func linesIn(edges []geom.Edge, pose geom.Pose) [][]drafting.Point {
	type key [2]int64
	at := map[key]drafting.Point{}
	next := map[key][]key{}
	of := func(v geom.Vertex) (k key, in bool) {
		p := pose.Point(v.Vector())
		k = key{int64(math.Round(p.X / sameCorner)), int64(math.Round(p.Y / sameCorner))}
		if in = math.Abs(p.Z) <= inFace; in {
			if _, known := at[k]; !known {
				at[k] = drafting.Point{X: p.X, Y: p.Y}
			}
		}
		return k, in
	}
	var order []key
	turn := math.Cos(faceTurn)
	for i := range edges {
		e := &edges[i]
		if !e.Crease && e.Normals[0].Dot(e.Normals[1]) > turn {
			continue
		}
		a, okA := of(e.A)
		b, okB := of(e.B)
		if okA && okB && a != b && !slices.Contains(next[a], b) {
			next[a], next[b] = append(next[a], b), append(next[b], a)
			order = append(order, a)
		}
	}
	take := func(from key) (to key, ok bool) {
		if len(next[from]) == 0 {
			return from, false
		}
		to = next[from][0]
		next[from] = next[from][1:]
		i := slices.Index(next[to], from)
		next[to] = slices.Delete(next[to], i, i+1)
		return to, true
	}
	// Lines that end somewhere first, from their ends.
	slices.SortStableFunc(order, func(a, b key) int { return cmp.Compare(len(next[b])%2, len(next[a])%2) })
	var lines [][]drafting.Point
	for _, from := range order {
		for len(next[from]) > 0 {
			line := []drafting.Point{at[from]}
			for k, ok := take(from); ok; k, ok = take(k) {
				line = append(line, at[k])
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// outer returns the closed ones of some lines that are inside none of the others.
func outer(lines [][]drafting.Point) (list [][]drafting.Point) {
	for i, line := range lines {
		if len(line) < 4 || line[0] != line[len(line)-1] {
			continue
		}
		inner := slices.ContainsFunc(lines, func(other []drafting.Point) bool {
			return &other[0] != &lines[i][0] && len(other) > 3 && other[0] == other[len(other)-1] && holds(other, line[0]) && holds(other, line[len(line)/2])
		})
		if !inner {
			list = append(list, line)
		}
	}
	return list
}

// holds reports whether a point is inside a closed line (the number of sides that a ray crosses is odd).
func holds(line []drafting.Point, p drafting.Point) bool {
	in := false
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if a.Y > p.Y != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// hull returns the convex outline of a mesh's corners as they are seen along Z of a frame, closed, of those no
// higher than so many mm (monotone chain: Andrew, Information Processing Letters 9(5), 1979).
func hull(m *geom.Mesh, pose geom.Pose, most float64) []drafting.Point {
	var all []drafting.Point
	for _, f := range m.Facets {
		for _, v := range f {
			if p := pose.Point(v.Vector()); p.Z <= most {
				all = append(all, drafting.Point{X: p.X, Y: p.Y})
			}
		}
	}
	slices.SortFunc(all, func(a, b drafting.Point) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	all = slices.Compact(all)
	if len(all) < 3 {
		return nil
	}
	var half []drafting.Point
	chain := func(p drafting.Point, least int) {
		for n := len(half); n > least && (half[n-1].X-half[n-2].X)*(p.Y-half[n-2].Y)-(half[n-1].Y-half[n-2].Y)*(p.X-half[n-2].X) <= 0; n = len(half) {
			half = half[:n-1]
		}
		half = append(half, p)
	}
	for _, p := range all {
		chain(p, 1)
	}
	least := len(half)
	for i := len(all) - 2; i >= 0; i-- {
		chain(all[i], least)
	}
	return half
}
