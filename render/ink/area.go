package ink

import (
	"image"
	"math"
)

// Area is an axis-parallel rectangle, in pixels.
type Area struct{ X0, Y0, X1, Y1 float64 }

// Width returns the extent across.
func (a Area) Width() float64 { return a.X1 - a.X0 }

// Height returns the extent downward.
func (a Area) Height() float64 { return a.Y1 - a.Y0 }

// Shrunk returns the area less a border; a negative one makes it larger.
func (a Area) Shrunk(by float64) Area {
	return Area{a.X0 + by, a.Y0 + by, a.X1 - by, a.Y1 - by}
}

// Overlaps reports whether the areas have more than a border in common.
func (a Area) Overlaps(b Area) bool {
	return a.X0 < b.X1 && b.X0 < a.X1 && a.Y0 < b.Y1 && b.Y0 < a.Y1
}

// Within reports whether a lies in b, borders included.
func (a Area) Within(b Area) bool {
	return a.X0 >= b.X0 && a.Y0 >= b.Y0 && a.X1 <= b.X1 && a.Y1 <= b.Y1
}

// Holds reports whether the point lies in the area, borders included.
func (a Area) Holds(p Point) bool {
	return a.X0 <= p.X && p.X <= a.X1 && a.Y0 <= p.Y && p.Y <= a.Y1
}

// Pixels returns the rectangle of whole pixels nearest to the area.
func (a Area) Pixels() image.Rectangle {
	r := func(v float64) int { return whole(v + 0.5) }
	return image.Rect(r(a.X0), r(a.Y0), r(a.X1), r(a.Y1))
}

// Rounded returns the area with its edges on whole pixels.
func (a Area) Rounded() Area {
	r := a.Pixels()
	return Area{float64(r.Min.X), float64(r.Min.Y), float64(r.Max.X), float64(r.Max.Y)}
}

// around is the square of the given half width round a point.
func around(p Point, half float64) Area {
	return Area{p.X - half, p.Y - half, p.X + half, p.Y + half}
}

// crosses reports whether the segment from a to b runs through the area
// (clipping by Liang and Barsky, ACM Transactions on Graphics 3(1), 1984).
func (a Area) crosses(p, q Point) bool {
	t0, t1 := 0.0, 1.0
	clip := func(at, d, lo, hi float64) bool {
		if d == 0 {
			return lo < at && at < hi
		}
		from, to := (lo-at)/d, (hi-at)/d
		t0, t1 = max(t0, math.Min(from, to)), min(t1, math.Max(from, to))
		return true
	}
	return clip(p.X, q.X-p.X, a.X0, a.X1) && clip(p.Y, q.Y-p.Y, a.Y0, a.Y1) && t0 < t1
}
