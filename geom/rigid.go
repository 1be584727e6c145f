package geom

import "github.com/golang/geo/r3"

// Rigid is a body with weight: solid, material and place.
type Rigid struct {
	Mass     float64       // kg
	Centroid r3.Vector     // mm
	Inertia  [3][3]float64 // tensor about the centroid, kg mm2; signs as in Mass
}

// WithDensity returns the body of m's shape in a material of the given density
// in kg/m3.
func (m Mass) WithDensity(density float64) Rigid {
	return m.scaled(density * 1e-9) // 1 m3 is 1e9 mm3
}

// WithMass returns the body of m's shape that weighs the given mass in kg, its
// material spread evenly. Without a volume all of it is in one point, Centroid.
func (m Mass) WithMass(mass float64) Rigid {
	if m.Volume == 0 {
		return Rigid{Mass: mass, Centroid: m.Centroid}
	}
	return m.scaled(mass / m.Volume)
}

// scaled takes the density in kg/mm3.
func (m Mass) scaled(density float64) Rigid {
	r := Rigid{Mass: density * m.Volume, Centroid: m.Centroid}
	for i := range 3 {
		for j := range 3 {
			r.Inertia[i][j] = density * m.Inertia[i][j]
		}
	}
	return r
}

// At returns the body as the outer frame of p sees it: I' = R I R^T.
func (r Rigid) At(p Pose) Rigid {
	inertia := Rotation(r.Inertia) // only for its product
	half := p.R.Mul(&inertia)
	back := p.Inverse().R
	return Rigid{Mass: r.Mass, Centroid: p.Point(r.Centroid), Inertia: half.Mul(&back)}
}

// About returns the inertia tensor about point o instead of the centroid, axes
// parallel: the theorem of Huygens and Steiner, I + m (|d|^2 E - d d^T).
func (r Rigid) About(o r3.Vector) [3][3]float64 {
	d := array(r.Centroid.Sub(o))
	d2 := d[0]*d[0] + d[1]*d[1] + d[2]*d[2]
	inertia := r.Inertia
	for i := range 3 {
		for j := range 3 {
			inertia[i][j] -= r.Mass * d[i] * d[j]
		}
		inertia[i][i] += r.Mass * d2
	}
	return inertia
}

// Combined returns the bodies, all given in one frame, as one. Where the masses
// sum to zero, so does everything else.
func Combined(bodies ...Rigid) Rigid {
	var sum Rigid
	for _, b := range bodies {
		sum.Mass += b.Mass
		sum.Centroid = sum.Centroid.Add(b.Centroid.Mul(b.Mass))
	}
	if sum.Mass == 0 {
		return Rigid{}
	}
	sum.Centroid = sum.Centroid.Mul(1 / sum.Mass)
	for _, b := range bodies {
		about := b.About(sum.Centroid)
		for i := range 3 {
			for j := range 3 {
				sum.Inertia[i][j] += about[i][j]
			}
		}
	}
	return sum
}
