package shape

import (
	"math"

	"gridswing/geom"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
)

// GridPlate returns a plate of 400 x 300 x 30 mm about the origin's Z axis, its
// underside at z = 0, with 8 x 6 through holes of 16 mm at a pitch of 50, refined
// to about the given number of facets (never fewer than some 10,000).
func GridPlate(facets int) *geom.Mesh {
	p := Plate{
		Outline:   Rect(-200, -150, 200, 150),
		Thickness: 30,
		Holes:     HoleGrid(Hole{Radius: 8}, r2.Point{}, 8, 6, 50, nil),
		Round:     Round{Chord: 0.02},
	}
	s, err := p.Surface()
	if err != nil {
		panic(err) // fixed sizes
	}
	return s.WithFacets(facets).Mesh()
}

// ViseBlocks returns a vise roughed out of boxes, 330 x 125 x 120 mm, refined to
// about the given number of facets: seven closed shells, some apart, some
// sunk into each other as in the models that builders deliver.
func ViseBlocks(facets int) *geom.Mesh {
	box := func(x0, x1, y0, y1, z0, z1 float64) Surface {
		return Box(r3.Vector{X: x0, Y: y0, Z: z0}, r3.Vector{X: x1, Y: y1, Z: z1})
	}
	s := Join(
		box(-165, 150, -62.5, -20, 0, 75), // rails
		box(-165, 150, 20, 62.5, 0, 75),
		box(-160, 145, -20, 20, 0, 25),       // floor between them, flush
		box(-150, -40, -62.5, 62.5, 70, 120), // fixed jaw, sunk into the rails
		box(30, 90, -62.5, 62.5, 76, 120),    // moving jaw, apart
		box(-20, 165, -12, 12, 40, 64),       // screw, apart
		box(140, 160, -50, 50, 5, 60),        // bracket, sunk into rails and screw
	)
	return s.WithFacets(facets).Mesh()
}

// TorusKnot returns a tube of 12 mm along the (2, 3) torus knot, 125 mm across,
// with about the given number of facets: one closed shell that is nowhere flat
// and nowhere convex.
func TorusKnot(facets int) *geom.Mesh {
	const big, small, tube = 45.0, 14.0, 6.0
	const length = 650.0 // mm, roughly: for the shape of the facets only
	around := max(8, int(math.Sqrt(float64(facets)*2*math.Pi*tube/(2*length))))
	along := max(48, facets/(2*around))
	grid := make([][]r3.Vector, along)
	for i := range grid {
		t := 2 * math.Pi * float64(i) / float64(along)
		center, normal, binormal := torusKnot(big, small, t)
		grid[i] = make([]r3.Vector, around)
		for k := range grid[i] {
			d := direction(k, around)
			grid[i][k] = center.Add(normal.Mul(tube * d.X)).Add(binormal.Mul(tube * d.Y))
		}
	}
	var s Surface
	for i, ring := range grid {
		next := grid[(i+1)%along]
		for k := range ring {
			l := (k + 1) % around
			s.quad(ring[k], ring[l], next[l], next[k])
		}
	}
	return s.Mesh()
}

// torusKnot returns the point of the (2, 3) torus knot at t and its Frenet
// normal and binormal, from the first two derivatives.
func torusKnot(big, small, t float64) (center, normal, binormal r3.Vector) {
	s2, c2 := math.Sincos(2 * t)
	s3, c3 := math.Sincos(3 * t)
	r, r1, r2 := big+small*c3, -3*small*s3, -9*small*c3 // distance from the axis and its derivatives
	center = r3.Vector{X: r * c2, Y: r * s2, Z: small * s3}
	first := r3.Vector{X: r1*c2 - 2*r*s2, Y: r1*s2 + 2*r*c2, Z: 3 * small * c3}
	second := r3.Vector{X: r2*c2 - 4*r1*s2 - 4*r*c2, Y: r2*s2 + 4*r1*c2 - 4*r*s2, Z: -9 * small * s3}
	binormal = first.Cross(second).Normalize()
	return center, binormal.Cross(first).Normalize(), binormal
}

// BumpyBall returns a ball of 60 mm radius with smooth bumps of up to 6 mm, with
// about the given number of facets, poles on the Z axis.
func BumpyBall(facets int) *geom.Mesh {
	rows := max(6, int(math.Sqrt(float64(facets)/4)))
	columns := max(12, facets/(2*(rows-1)))
	at := func(row, column int) r3.Vector {
		north := r3.Vector{Z: -60}
		if row == rows {
			north.Z = 60
		}
		if row == 0 || row == rows {
			return north
		}
		d := direction(column, columns)
		lat := math.Pi * (float64(row)/float64(rows) - 0.5)
		lon := 2 * math.Pi * float64(column) / float64(columns)
		sin, cos := math.Sincos(lat)
		radius := 60 + 6*math.Sin(7*lon)*math.Sin(9*lat)*cos*cos
		return r3.Vector{X: radius * cos * d.X, Y: radius * cos * d.Y, Z: radius * sin}
	}
	var s Surface
	for row := range rows {
		for column := range columns {
			next := (column + 1) % columns
			a, b, c, d := at(row, column), at(row, next), at(row+1, next), at(row+1, column)
			switch row {
			case 0:
				s = append(s, geom.Triangle{a, c, d})
			case rows - 1:
				s = append(s, geom.Triangle{a, b, c})
			default:
				s.quad(a, b, c, d)
			}
		}
	}
	return s.Mesh()
}
