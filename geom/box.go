package geom

import (
	"math"

	"github.com/golang/geo/r3"
)

// Box is an axis-parallel box, its faces included.
type Box struct {
	Min, Max r3.Vector
}

// EmptyBox returns the box that contains nothing and that Include grows.
func EmptyBox() Box {
	inf := math.Inf(1)
	return Box{
		Min: r3.Vector{X: inf, Y: inf, Z: inf},
		Max: r3.Vector{X: -inf, Y: -inf, Z: -inf},
	}
}

// Empty reports whether the box contains no point.
func (b Box) Empty() bool {
	return b.Min.X > b.Max.X || b.Min.Y > b.Max.Y || b.Min.Z > b.Max.Z
}

// Include returns the smallest box around b and p.
func (b Box) Include(p r3.Vector) Box {
	return Box{
		Min: r3.Vector{X: min(b.Min.X, p.X), Y: min(b.Min.Y, p.Y), Z: min(b.Min.Z, p.Z)},
		Max: r3.Vector{X: max(b.Max.X, p.X), Y: max(b.Max.Y, p.Y), Z: max(b.Max.Z, p.Z)},
	}
}

// Union returns the smallest box around both.
func (b Box) Union(c Box) Box {
	return Box{
		Min: r3.Vector{X: min(b.Min.X, c.Min.X), Y: min(b.Min.Y, c.Min.Y), Z: min(b.Min.Z, c.Min.Z)},
		Max: r3.Vector{X: max(b.Max.X, c.Max.X), Y: max(b.Max.Y, c.Max.Y), Z: max(b.Max.Z, c.Max.Z)},
	}
}

// Contains reports whether p is in the box or on its faces.
func (b Box) Contains(p r3.Vector) bool {
	return b.Min.X <= p.X && p.X <= b.Max.X &&
		b.Min.Y <= p.Y && p.Y <= b.Max.Y &&
		b.Min.Z <= p.Z && p.Z <= b.Max.Z
}

// Center returns the middle of the box.
func (b Box) Center() r3.Vector { return b.Min.Add(b.Max).Mul(0.5) }

// Size returns the lengths of the box's edges, in mm.
func (b Box) Size() r3.Vector { return b.Max.Sub(b.Min) }

// Corners returns the eight corners, those of the lower Z first.
func (b Box) Corners() (list [8]r3.Vector) {
	for k := range list {
		v := b.Min
		if k&1 != 0 {
			v.X = b.Max.X
		}
		if k&2 != 0 {
			v.Y = b.Max.Y
		}
		if k&4 != 0 {
			v.Z = b.Max.Z
		}
		list[k] = v
	}
	return list
}
