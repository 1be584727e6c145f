package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Rotation is a proper rotation matrix, row by row.
type Rotation [3][3]float64

// Pose maps points of a local frame to the frame it stands in: x -> R x + T.
// T is in mm. The zero value is not a pose; use Identity.
type Pose struct {
	R Rotation
	T r3.Vector
}

// Identity returns the pose that leaves every point in its place.
func Identity() Pose {
	return Pose{R: Rotation{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
}

// Shift returns the pose that moves every point by t, in mm.
func Shift(t r3.Vector) Pose {
	p := Identity()
	p.T = t
	return p
}

// Turn returns the right-handed rotation by angle (radians) about the line
// through point along the unit vector axis: Rodrigues' formula,
// R = I + sin(a) K + (1-cos(a)) K^2 with K the cross-product matrix of axis.
// Multiples of a quarter turn are exact, so that a component seated a quarter
// turn round keeps its faces square.
func Turn(point, axis r3.Vector, angle float64) Pose {
	s, c := sinCos(angle)
	v := 1 - c
	x, y, z := axis.X, axis.Y, axis.Z
	r := Rotation{
		{c + v*x*x, v*x*y - s*z, v*x*z + s*y},
		{v*x*y + s*z, c + v*y*y, v*y*z - s*x},
		{v*x*z - s*y, v*y*z + s*x, c + v*z*z},
	}
	return Pose{R: r, T: point.Sub(r.Apply(point))}
}

// sinCos is math.Sincos, exact at the float64 multiples of a quarter turn.
func sinCos(angle float64) (sin, cos float64) {
	quarters := math.Round(angle / (math.Pi / 2))
	if angle == quarters*(math.Pi/2) && math.Abs(quarters) < 1<<20 {
		switch int(quarters) & 3 {
		case 0:
			return 0, 1
		case 1:
			return 1, 0
		case 2:
			return 0, -1
		default:
			return -1, 0
		}
	}
	return math.Sincos(angle)
}

// Apply rotates v.
func (r *Rotation) Apply(v r3.Vector) r3.Vector {
	return r3.Vector{
		X: r[0][0]*v.X + r[0][1]*v.Y + r[0][2]*v.Z,
		Y: r[1][0]*v.X + r[1][1]*v.Y + r[1][2]*v.Z,
		Z: r[2][0]*v.X + r[2][1]*v.Y + r[2][2]*v.Z,
	}
}

// ApplyInverse rotates v back (R is orthonormal, so by its transpose).
func (r *Rotation) ApplyInverse(v r3.Vector) r3.Vector {
	return r3.Vector{
		X: r[0][0]*v.X + r[1][0]*v.Y + r[2][0]*v.Z,
		Y: r[0][1]*v.X + r[1][1]*v.Y + r[2][1]*v.Z,
		Z: r[0][2]*v.X + r[1][2]*v.Y + r[2][2]*v.Z,
	}
}

// Mul returns the rotation that applies s first and r afterwards.
func (r *Rotation) Mul(s *Rotation) Rotation {
	var m Rotation
	for i := range 3 {
		for j := range 3 {
			m[i][j] = r[i][0]*s[0][j] + r[i][1]*s[1][j] + r[i][2]*s[2][j]
		}
	}
	return m
}

// Point returns where a point of the local frame stands in the outer frame.
func (p *Pose) Point(v r3.Vector) r3.Vector { return p.R.Apply(v).Add(p.T) }

// Dir returns a direction of the local frame as the outer frame sees it.
func (p *Pose) Dir(v r3.Vector) r3.Vector { return p.R.Apply(v) }

// Mul returns the pose that applies q first and p afterwards.
func (p Pose) Mul(q Pose) Pose {
	return Pose{R: p.R.Mul(&q.R), T: p.Point(q.T)}
}

// Inverse returns the pose that undoes p.
func (p Pose) Inverse() Pose {
	r := p.R
	inv := Rotation{
		{r[0][0], r[1][0], r[2][0]},
		{r[0][1], r[1][1], r[2][1]},
		{r[0][2], r[1][2], r[2][2]},
	}
	return Pose{R: inv, T: inv.Apply(p.T).Mul(-1)}
}
