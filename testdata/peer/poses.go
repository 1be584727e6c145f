package peer

import (
	"math"
	"math/rand/v2"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// RandomPose draws a pose of b as seen from a. A third of the poses stand b on
// the far side of a plane that touches a, at a gap between nothing and 100 mm;
// a third do the same with b turned by quarter turns only, so that flat faces
// come to lie parallel; the rest put b anywhere near a, through it included.
func RandomPose(rng *rand.Rand, a, b *geom.Mesh) geom.Pose {
	switch rng.IntN(3) {
	case 0:
		return beyond(rng, a, b, randomRotation(rng), randomDirection(rng))
	case 1:
		axis := [3]r3.Vector{at(1, 0, 0), at(0, 1, 0), at(0, 0, 1)}[rng.IntN(3)]
		return beyond(rng, a, b, squareRotation(rng), axis.Mul(float64(1-2*rng.IntN(2))))
	default:
		pose := geom.Pose{R: randomRotation(rng)}
		box, reach := a.Bounds(), b.Bounds().Size().Norm()/2
		size := box.Size()
		pose.T = box.Center().Add(at(
			(rng.Float64()-0.5)*(size.X+reach),
			(rng.Float64()-0.5)*(size.Y+reach),
			(rng.Float64()-0.5)*(size.Z+reach)))
		return pose
	}
}

// beyond places b, turned by rotation, so that a plane across u has a on its
// one side and b at least a random gap beyond: nothing at all (one in eight), or
// spread evenly over the decades from 1e-6 to 100 mm. Across u the two
// overlap in part, so that the gap mostly is the distance.
func beyond(rng *rand.Rand, a, b *geom.Mesh, rotation geom.Rotation, u r3.Vector) geom.Pose {
	gap := math.Pow(10, -6+8*rng.Float64())
	if rng.IntN(8) == 0 {
		gap = 0
	}
	pose := geom.Pose{R: rotation}
	topA, topB := math.Inf(-1), math.Inf(1)
	for i := range a.Facets {
		for _, v := range a.Facets[i] {
			topA = max(topA, u.Dot(v.Vector()))
		}
	}
	for i := range b.Facets {
		for _, v := range b.Facets[i] {
			topB = min(topB, u.Dot(pose.Point(v.Vector())))
		}
	}
	aside := randomDirection(rng).Mul(0.2 * a.Bounds().Size().Norm() * rng.Float64())
	aside = aside.Sub(u.Mul(u.Dot(aside)))
	pose.T = u.Mul(topA - topB + gap).Add(aside)
	return pose
}

// randomRotation draws evenly from all rotations, as a random unit quaternion.
func randomRotation(rng *rand.Rand) geom.Rotation {
	axis, angle := randomDirection(rng), 0.0
	for {
		// The angle's density is proportional to 1 - cos: rejection.
		angle = math.Pi * rng.Float64()
		if rng.Float64()*2 < 1-math.Cos(angle) {
			break
		}
	}
	return geom.Turn(r3.Vector{}, axis, angle).R
}

// squareRotation draws one of the 24 rotations of the cube.
func squareRotation(rng *rand.Rand) geom.Rotation {
	pose := geom.Identity()
	for _, axis := range []r3.Vector{at(1, 0, 0), at(0, 1, 0), at(0, 0, 1)} {
		pose = geom.Turn(r3.Vector{}, axis, float64(rng.IntN(4))*math.Pi/2).Mul(pose)
	}
	return pose.R
}

func at(x, y, z float64) r3.Vector { return r3.Vector{X: x, Y: y, Z: z} }

func randomDirection(rng *rand.Rand) r3.Vector {
	return at(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()).Normalize()
}

// Nested reports whether a shell of one solid has a point inside the other,
// b standing at pose as seen from a. Where no surfaces cross, that is one body
// inside the other: contact of solids, which a library of surfaces cannot see.
func Nested(a, b *Solid, pose geom.Pose) bool {
	inverse := pose.Inverse()
	for _, p := range b.Probes {
		if inside(a.Mesh, pose.Point(p)) {
			return true
		}
	}
	for _, p := range a.Probes {
		if inside(b.Mesh, inverse.Point(p)) {
			return true
		}
	}
	return false
}

// inside sums the solid angles of the facets seen from p: 4 pi inside a closed
// surface, 0 outside (van Oosterom and Strackee, "The solid angle of a plane
// triangle", IEEE Trans. Biomedical Engineering 30(2), 1983).
func inside(m *geom.Mesh, p r3.Vector) bool {
	sum := 0.0
	for i := range m.Facets {
		a, b, c := m.Triangle(i)
		a, b, c = a.Sub(p), b.Sub(p), c.Sub(p)
		la, lb, lc := a.Norm(), b.Norm(), c.Norm()
		sum += 2 * math.Atan2(a.Dot(b.Cross(c)), la*lb*lc+a.Dot(b)*lc+b.Dot(c)*la+c.Dot(a)*lb)
	}
	return sum > 2*math.Pi
}
