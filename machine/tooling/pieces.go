package tooling

import (
	"math"
	"slices"

	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
)

// Piece is the outline of a convex solid of revolution about the tool's axis: radius and
// height of its corners in the gauge frame, mm, from the bottom up, heights not decreasing.
type Piece [][2]float64

// Around returns convex pieces that together hold a zone as it turns, from the bottom up: those
// that Solid is made of, without its flat sides; nil where the tool has no such zone. A holder
// that is given as a mesh is held by slabs as wide as it is anywhere in them, its chord error included.
func (t *Tool) Around(z Zone) []Piece {
	if z == HolderZone && t.Holder.Mesh != nil {
		return slabs(t.Holder.Mesh, t.Holder.ChordError)
	}
	return parted(t.zone(z))
}

// Hull returns one convex piece that holds all of the pieces; nil without any.
func Hull(pieces []Piece) Piece {
	var points []r2.Point
	for _, p := range pieces {
		for _, c := range p {
			points = append(points, r2.Point{X: c[0], Y: c[1]})
		}
	}
	return bulge(points)
}

// Inside returns a convex solid of revolution that is nowhere outside what the cutting part
// takes away as it turns, in the gauge frame; nil of what takes nothing away for certain: a probe,
// and a tap, between whose threads material stays. Arcs are told by points on them, so that the
// outline is inside by less than 0.15 % of their radius. What widens above its tip
// (DCX) counts as narrow as at the tip, since nothing states where it widens.
func (t *Tool) Inside() Piece {
	c := t.Cutter
	r, top := c.DC/2, min(c.cutting(), t.StickOut)
	if c.Kind == TouchProbe || c.Kind == Tap || !(r > 0 && r < math.MaxFloat32 && top > 0) {
		return nil
	}
	var points []r2.Point
	switch re := c.corner(); {
	case c.pointed():
		points = []r2.Point{{X: c.flat()}, {X: r, Y: c.TipLength()}}
	case re > 0:
		points = inscribed(r2.Point{X: r - re, Y: re}, re)
	case c.widens() && c.RE > 0:
		re = min(c.RE, r) // DC counts to where the corner begins or to where it ends
		points = []r2.Point{{X: r - re}, {X: r - re, Y: re}}
	default:
		points = []r2.Point{{X: r}}
	}
	last := points[len(points)-1]
	if last.Y < top {
		points = append(points, r2.Point{X: last.X, Y: top})
	}
	var piece Piece
	for i, p := range points {
		if p.Y > top {
			low := points[i-1]
			p = r2.Point{X: low.X + (p.X-low.X)*(top-low.Y)/(p.Y-low.Y), Y: top}
		}
		piece = append(piece, [2]float64{p.X, p.Y - t.LPR()})
		if p.Y >= top {
			break
		}
	}
	return piece
}

// arcSteps is how many chords stand for a quarter of an arc: each within 0.12 % of its radius.
const arcSteps = 16

// inscribed returns points on a quarter of an arc, from straight below its centre on.
func inscribed(center r2.Point, radius float64) []r2.Point {
	points := make([]r2.Point, arcSteps+1)
	for i := range points {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / arcSteps)
		points[i] = r2.Point{X: center.X + radius*sin, Y: center.Y - radius*cos}
	}
	points[0].Y, points[arcSteps] = 0, r2.Point{X: center.X + radius, Y: center.Y}
	return points
}

// parted cuts an outline into convex pieces: at steps, and where it turns outward.
func parted(line shape.Contour) (pieces []Piece) {
	var piece []r2.Point
	end := func() {
		if p := bulge(piece); len(p) > 1 { // else it is lower than can be told
			pieces = append(pieces, p)
		}
	}
	for i, p := range line {
		if n := len(piece); n > 0 {
			last := piece[n-1]
			step := p.Y <= last.Y && p.X != last.X && i > 1
			outward := n > 1 && turns(piece[n-2], last, p) < -1e-9
			if step || outward {
				end()
				piece = piece[:0]
				if !step {
					piece = append(piece, last)
				}
			}
		}
		piece = append(piece, p)
	}
	end()
	return pieces
}

// turns is positive where the way from a over b to c turns to the axis, seen from the bottom up.
func turns(a, b, c r2.Point) float64 { return b.Sub(a).Cross(c.Sub(b)) }

// bulge returns the outline of the least convex solid of revolution that holds the points.
func bulge(points []r2.Point) (piece Piece) {
	points = slices.Clone(points)
	slices.SortStableFunc(points, func(a, b r2.Point) int {
		switch {
		case a.Y < b.Y, a.Y == b.Y && a.X < b.X:
			return -1
		case a == b:
			return 0
		}
		return 1
	})
	if len(points) == 0 {
		return nil
	}
	// The widest of those at the bottom is the first corner, of those at the top the last one.
	first := 0
	for first+1 < len(points) && points[first+1].Y == points[0].Y {
		first++
	}
	var hull []r2.Point
	for _, p := range points[first:] {
		for n := len(hull); n > 0 && (hull[n-1].Y == p.Y || n > 1 && turns(hull[n-2], hull[n-1], p) <= 0); n = len(hull) {
			hull = hull[:n-1]
		}
		hull = append(hull, p)
	}
	for _, p := range hull {
		piece = append(piece, [2]float64{p.X, p.Y})
	}
	return piece
}

// slabCount is in how many slabs a holder that is given as a mesh is told.
const slabCount = 16

// slabs returns cylinders around what turns when a mesh turns about Z.
func slabs(m *geom.Mesh, chord float64) (pieces []Piece) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range m.Facets {
		for _, v := range &m.Facets[i] {
			low, high = min(low, float64(v[2])), max(high, float64(v[2]))
		}
	}
	if !(low < high) {
		return nil
	}
	height := (high - low) / slabCount
	var widest [slabCount]float64
	for i := range m.Facets {
		f := &m.Facets[i]
		a, b := math.Inf(1), math.Inf(-1)
		for _, v := range f {
			a, b = min(a, float64(v[2])), max(b, float64(v[2]))
		}
		from := max(0, int((a-chord-low)/height)-1)
		to := min(slabCount-1, int((b+chord-low)/height)+1)
		for k := from; k <= to; k++ {
			z := low + float64(k)*height
			widest[k] = max(widest[k], clippedRadius(f, z-chord, z+height+chord))
		}
	}
	for k, r := range widest {
		z := low + float64(k)*height
		pieces = append(pieces, Piece{{r + chord, z - chord}, {r + chord, z + height + chord}})
	}
	return pieces
}

// clippedRadius is how far from Z the part of a facet between two heights gets; 0 of none. The
// distance from an axis is convex, so corners of the part tell.
func clippedRadius(f *geom.Facet, low, high float64) (r float64) {
	for i := range f {
		a, b := f[i].Vector(), f[(i+1)%3].Vector()
		if low <= a.Z && a.Z <= high {
			r = max(r, math.Hypot(a.X, a.Y))
		}
		for _, z := range [2]float64{low, high} {
			if (a.Z < z) != (b.Z < z) {
				p := a.Add(b.Sub(a).Mul((z - a.Z) / (b.Z - a.Z)))
				r = max(r, math.Hypot(p.X, p.Y))
			}
		}
	}
	return r
}
