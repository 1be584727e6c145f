package main

import (
	"gridswing/geom/shape"

	"github.com/golang/geo/r3"
)

// stock is a sawn block of 60 x 100 x 62, its origin under its middle.
func stock() (shape.Surface, error) {
	return shape.Box(r3.Vector{X: -30, Y: -50}, r3.Vector{X: 30, Y: 50, Z: 62}), nil
}

// bracket is the finished part inside the stock: a foot with four screw holes,
// two walls with tapered ends, and a bored boss between them.
func bracket() (shape.Surface, error) {
	const height, foot = 58.0, 12.0
	outline := shape.RoundRect(-28, -48, 28, 48, 6, round)
	hole := shape.Hole{Radius: 3.3, HeadRadius: 5.5, HeadDepth: 6.4, Chamfer: 0.3} // M6: ISO 273 medium, DIN 974
	p := shape.Plate{Outline: outline, Thickness: foot, Round: round}
	for _, x := range []float64{-8, 8} {
		for _, y := range []float64{-39, 39} {
			hole.At = at(x, y)
			p.Holes = append(p.Holes, hole)
		}
	}
	p.Holes = append(p.Holes, shape.Hole{Radius: 8})
	layers, err := p.Layers()
	if err != nil {
		return nil, err
	}
	boreRing := round.Circle(at(0, 0), 8)
	boss := round.Circle(at(0, 0), 13.5)
	walls := func(reach float64) shape.Region {
		return shape.Region{shape.Rect(-26, -reach, -17, reach), shape.Rect(17, -reach, 26, reach)}
	}
	low := append(walls(40), boss, boreRing)
	mid := append(walls(26), boss, boreRing)
	layers = append(layers,
		shape.Layer{Height: 24, Bottom: low, Top: mid},
		shape.Layer{Height: height - foot - 24, Bottom: walls(26), Top: walls(18)})
	return shape.Stack(0, layers...)
}
