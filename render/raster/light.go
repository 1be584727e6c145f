package raster

import (
	"image/color"

	"github.com/golang/geo/r3"
)

// The light is fixed to the viewer, as in a photographer's booth: a key light
// from the upper left, a weaker one from the right that keeps the shadow side
// readable, the rest from everywhere. In the isometric view the upper, front
// and right faces of a box come out at some 100, 85 and 70 per cent.
var (
	keyLight  = r3.Vector{X: -0.42, Y: 0.62, Z: 0.66}.Normalize()
	fillLight = r3.Vector{X: 0.75, Y: 0.05, Z: 0.66}.Normalize()
)

const (
	ambient = 0.62
	key     = 0.42
	fill    = 0.10
)

// lit returns the colour of a face with unit normal n, given in the camera's
// frame (right, up, toward the viewer).
func lit(base color.RGBA, n r3.Vector) color.RGBA {
	i := ambient + key*max(0, n.Dot(keyLight)) + fill*max(0, n.Dot(fillLight))
	f := func(v uint8) uint8 { return uint8(min(255, float64(v)*i+0.5)) }
	return color.RGBA{f(base.R), f(base.G), f(base.B), 255}
}
