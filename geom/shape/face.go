package shape

import (
	"slices"

	"github.com/golang/geo/r2"
)

// The two regions of a face between two layers, as bits.
const (
	lower uint8 = 1
	upper uint8 = 2
)

// flatFace triangulates the flat face between a layer that ends with the region
// below and one that begins with the region above: up holds the triangles,
// counter-clockwise, where only the lower has material (its top shows), down
// those where only the upper has (its underside shows).
func flatFace(below, above Region) (up, down [][3]r2.Point, err error) {
	below, above = withoutCommon(below, above)
	if len(below)+len(above) == 0 {
		return nil, nil, nil
	}
	var points []r2.Point
	index := map[r2.Point]int32{}
	for _, r := range []Region{below, above} {
		for _, c := range r {
			for _, p := range c {
				if _, seen := index[p]; !seen {
					index[p] = int32(len(points))
					points = append(points, p)
				}
			}
		}
	}
	t := triangulate(points)
	for side, r := range []Region{below, above} {
		bit := lower << side
		for _, c := range r {
			for i, p := range c {
				if err := t.hold(index[p], index[c[(i+1)%len(c)]], bit); err != nil {
					return nil, nil, err
				}
			}
		}
	}
	t.relax()
	for i, in := range t.inside() {
		f := &t.tris[i]
		tri := [3]r2.Point{}
		for k, c := range f.corner {
			tri[k] = t.points[c]
		}
		switch in & (lower | upper) {
		case lower:
			up = append(up, tri)
		case upper:
			down = append(down, tri)
		}
	}
	return up, down, nil
}

// inside returns for each triangle the regions it is in: their bits change
// across the edges that bound them, and outside of everything they are zero.
func (t *triangulation) inside() []uint8 {
	in := make([]uint8, len(t.tris))
	seen := make([]bool, len(t.tris))
	start := t.at[len(t.points)-1] // at a corner of the enclosing triangle
	seen[start] = true
	for queue := []int32{start}; len(queue) > 0; {
		tri := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		f := &t.tris[tri]
		for k, n := range f.neighbour {
			if n >= 0 && !seen[n] {
				seen[n] = true
				in[n] = in[tri] ^ f.fixed[k]&(lower|upper)
				queue = append(queue, n)
			}
		}
	}
	return in
}

// withoutCommon drops the contours that both regions have, where walls run
// through and no face is needed, if they are so far from all others that they
// neither hold nor are held by what differs.
func withoutCommon(below, above Region) (Region, Region) {
	used := make([]bool, len(above))
	var restBelow, restAbove, common Region
	for _, c := range below {
		match := -1
		for k, o := range above {
			if !used[k] && sameContour(c, o) {
				match = k
				break
			}
		}
		if match < 0 {
			restBelow = append(restBelow, c)
		} else {
			used[match] = true
			common = append(common, c)
		}
	}
	for k, o := range above {
		if !used[k] {
			restAbove = append(restAbove, o)
		}
	}
	var boxes []r2.Rect
	for _, c := range append(restBelow[:len(restBelow):len(restBelow)], restAbove...) {
		boxes = append(boxes, c.bounds())
	}
	for _, c := range common {
		if slices.ContainsFunc(boxes, c.bounds().Intersects) {
			restBelow, restAbove = append(restBelow, c), append(restAbove, c)
		}
	}
	return restBelow, restAbove
}

// sameContour reports whether two contours have the same corners from the same
// first one on, in either sense.
func sameContour(c, o Contour) bool {
	if len(c) != len(o) || c[0] != o[0] {
		return false
	}
	n := len(c)
	same, opposite := true, true
	for i := range c {
		same = same && c[i] == o[i]
		opposite = opposite && c[i] == o[(n-i)%n]
	}
	return same || opposite
}
