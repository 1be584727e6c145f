package main

import (
	"math"

	"gridswing/geom/shape"
)

// The hole grid of the shop: pitch 50, bushings of 16 mm bore over an M12 thread
// (core 10.2). Common practice, no source.
const (
	pitch      = 50.0
	bore       = 8.0
	threadCore = 5.1
)

// bushed is a locating hole with a thread under it.
func bushed(depth float64) shape.Hole {
	return shape.Hole{Radius: threadCore, Depth: depth, HeadRadius: bore, HeadDepth: 16, Chamfer: 0.5}
}

// screwM12 is a through hole with room for a cap screw's head: 13.5 medium
// (ISO 273), head 18 x 12 (ISO 4762).
func screwM12() shape.Hole {
	return shape.Hole{Radius: 6.75, HeadRadius: 10, HeadDepth: 13, Chamfer: 0.5}
}

// locating is a bore for a locating pin right through.
func locating() shape.Hole { return shape.Hole{Radius: bore, Chamfer: 0.5} }

// gridPlate is 800 x 450 x 30 with 15 x 9 holes. Pins through B4 and N4 locate
// it on the table, M16 screws (17.5, head 24 x 16) hold it in the T-slots.
func gridPlate() (shape.Surface, error) {
	p := shape.Plate{Outline: shape.Rect(-400, -225, 400, 225), Thickness: 30, Chamfer: 1.5, Round: round}
	for _, h := range shape.HoleGrid(bushed(0), at(0, 0), 15, 9, pitch, nil) {
		if h.At == at(-300, -50) || h.At == at(300, -50) {
			through := locating()
			through.At = h.At
			h = through
		}
		p.Holes = append(p.Holes, h)
	}
	for _, x := range []float64{-375, -125, 125, 375} {
		for _, y := range []float64{-100, 100} {
			p.Holes = append(p.Holes, shape.Hole{At: at(x, y), Radius: 8.75, HeadRadius: 13, HeadDepth: 17, Chamfer: 0.5})
		}
	}
	return p.Surface()
}

// riser is a block of 240 x 140 with 5 x 3 holes but for the four where M12 screws hold
// it down: its corners, or those further in, so that one kind stands on the other.
// Pins through A2 and E2 locate it.
func riser(height, screwsAt, chord float64) (shape.Surface, error) {
	const least = 40 // the height from which holes do not go through, and screws are sunk deeper
	depth, sunk := 0.0, 13.0
	if height > least {
		depth, sunk = height-10, height/2
	}
	p := shape.Plate{Outline: shape.Rect(-120, -70, 120, 70), Thickness: height, Chamfer: 2, Round: shape.Round{Chord: chord}}
	for _, h := range shape.HoleGrid(bushed(depth), at(0, 0), 5, 3, pitch, nil) {
		switch {
		case math.Abs(h.At.X) == 100 && h.At.Y == 0:
			through := locating()
			through.At = h.At
			h = through
		case math.Abs(h.At.X) == screwsAt && h.At.Y != 0:
			screw := screwM12()
			screw.At = h.At
			screw.HeadDepth = sunk
			h = screw
		}
		p.Holes = append(p.Holes, h)
	}
	return p.Surface()
}
