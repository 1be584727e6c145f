package ink

import (
	"image/color"
	"math"
)

// Arc draws a part of a circle with square ends, from one angle to another, in degrees
// anticlockwise from the right.
func Arc(s Surface, at Point, radius, width, from, to float64, col color.RGBA) {
	const step = 5 // degrees: 0.01 pixels off the circle if the radius is 10
	n := max(math.Ceil((to-from)/step), 1)
	var outline []Point
	for side, r := range []float64{radius + width/2, radius - width/2} {
		for k := 0.0; k <= n; k++ {
			part := k / n
			if side == 1 {
				part = 1 - part
			}
			sin, cos := math.Sincos((from + (to-from)*part) * math.Pi / 180)
			outline = append(outline, Point{at.X + r*cos, at.Y - r*sin})
		}
	}
	s.Polygon(outline, col)
}
