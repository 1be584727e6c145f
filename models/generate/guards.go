package main

import (
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// guards are the enclosure: side walls, panels beside the column, and the front
// with the door's frame, each a shell of its own.
func guards() (shape.Surface, error) {
	const low, high = -600.0, 1350.0
	wall := func(x0, x1, y0, y1 float64) shape.Surface {
		return shape.Box(r3.Vector{X: x0, Y: y0, Z: low}, r3.Vector{X: x1, Y: y1, Z: high})
	}
	// along Y: contours (z, x)
	front, err := shape.Stack(-780,
		layer(20, shape.Rect(low, -1000, high, 1000), shape.RoundRect(-250, -520, 1150, 520, 40, round)))
	if err != nil {
		return nil, err
	}
	return shape.Join(front.AlongY(),
		wall(-1000, -980, -758, 543), wall(980, 1000, -758, 543),
		wall(-1000, -300, 545, 565), wall(300, 1000, 545, 565)), nil
}

// door slides in front of its frame, drawn shut; pane and handle are apart.
func door() (shape.Surface, error) {
	leaf, err := shape.Stack(-800,
		layer(18, shape.Rect(-290, -560, 1190, 560), shape.RoundRect(150, -400, 1000, 400, 60, round)))
	if err != nil {
		return nil, err
	}
	pane, err := shape.Stack(-796, layer(10, shape.RoundRect(151, -399, 999, 399, 59, round)))
	if err != nil {
		return nil, err
	}
	handle, err := shape.Chamfered(shape.Region{round.Circle(at(480, -830), 14)}, 350, 850, 2)
	if err != nil {
		return nil, err
	}
	return shape.Join(leaf.AlongY(), pane.AlongY(), handle), nil
}
