package main

import "gridswing/geom/shape"

// The trunnion's main sizes, in its frame: origin under the middle of the base,
// tilt axis along X at the height tilt, rotary axis along Z.
const (
	tilt       = 235.0 // tilt axis above the seat
	baseTop    = 30.0
	armInner   = 190.0 // the cradle's arms, from the middle
	armOuter   = 214.0
	support    = 216.0 // inner face of both supports: 2 mm beside the arms
	journal    = 45.0  // radius
	journalEnd = 238.0
	floorTop   = 150.0 // the cradle's floor
	floorUnder = 95.0
	faceUnder  = 173.0 // the faceplate, 1 mm above the rotary's housing
	faceTop    = 205.0
)

// trunnionBase is 720 x 360 x 30 with a waist of 250 between the supports; pins
// through the holes at x = +-250, y = -150.
func trunnionBase() (shape.Surface, error) {
	outline := shape.Contour{at(-345, -180), at(-205, -180), at(-150, -125), at(150, -125), at(205, -180), at(345, -180), at(360, -165)}
	for i := range 7 { // the other half turned round
		outline = append(outline, outline[i].Mul(-1))
	}
	p := shape.Plate{Outline: outline, Thickness: baseTop, Chamfer: 1.5, Round: round}
	for _, x := range []float64{-300, 300} {
		for _, y := range []float64{-150, 150} {
			h := screwM12()
			h.At = at(x, y)
			p.Holes = append(p.Holes, h)
			h.At = at(x/2, y/1.5)
			p.Holes = append(p.Holes, h)
		}
	}
	for _, x := range []float64{-250, 250} {
		h := locating()
		h.At = at(x, -150)
		p.Holes = append(p.Holes, h)
	}
	return p.Surface()
}

// supportOutline is what both supports look like along the tilt axis.
func supportOutline() shape.Contour {
	c := shape.Contour{at(-120, baseTop), at(120, baseTop), at(120, 58), at(80, tilt)}
	return c.Arc(at(0, tilt), at(-80, tilt), true, round).Line(at(-120, 58))
}

// endSupport builds a support on the +X side: a bore for the journal, 1 mm wider
// than it, and outside a round housing of the radius and length, with cap screws
// M10 (head 16 x 10, key 8, ISO 4762) in its cover.
func endSupport(thickness, radius, length float64) (shape.Surface, error) {
	const edge, boreDepth = 2.0, 26.0
	outline := shape.Region{supportOutline()}
	narrow := outline.Inset(edge)
	hole := round.Circle(at(0, tilt), journal+1)
	n := round.Segments(radius)
	cover := shape.Region{round.CircleOf(at(0, tilt), radius, n)}
	lip := shape.Region{round.CircleOf(at(0, tilt), radius-3, n)}
	var heads, sockets []shape.Contour
	for _, h := range shape.BoltCircle(shape.Hole{}, at(0, tilt), radius-15, 6) {
		heads = append(heads, round.Circle(h.At, 8))
		sockets = append(sockets, hexagon(h.At, 8))
	}
	s, err := shape.Stack(support,
		bevelled(edge, append(narrow, hole), append(outline[:1:1], hole)),
		layer(boreDepth-edge, outline[0], hole),
		layer(thickness-boreDepth-edge, outline...),
		bevelled(edge, outline, narrow),
		layer(length-3, cover...),
		bevelled(3, cover, lip),
		layer(5, heads...),
		layer(5, append(heads, sockets...)...))
	return s.AlongX(), err
}

func driveSupport() (shape.Surface, error) {
	s, err := endSupport(100, 72, 40)
	return s.MirroredX(), err
}

func bearingSupport() (shape.Surface, error) { return endSupport(74, 60, 12) }

// cradle is the U that tilts: a floor between two arms with a journal each.
func cradle() (shape.Surface, error) {
	const edge = 2.0
	foot := shape.Contour{at(-125, 125), at(-95, floorUnder), at(95, floorUnder), at(125, 125), at(125, floorTop)}
	floor := append(foot[:5:5], at(-125, floorTop))
	arm := append(foot[:5:5], at(78, tilt)).
		Arc(at(0, tilt), at(-78, tilt), true, round).Line(at(-125, floorTop))
	arms := shape.Region{arm}
	narrow := arms.Inset(edge)
	n := round.Segments(journal)
	pin := shape.Region{round.CircleOf(at(0, tilt), journal, n)}
	tip := shape.Region{round.CircleOf(at(0, tilt), journal-edge, n)}
	s, err := shape.Stack(-journalEnd,
		bevelled(edge, tip, pin),
		layer(journalEnd-armOuter-edge, pin...),
		bevelled(edge, narrow, arms),
		layer(armOuter-armInner-edge, arms...),
		layer(2*armInner, floor),
		layer(armOuter-armInner-edge, arms...),
		bevelled(edge, arms, narrow),
		layer(journalEnd-armOuter-edge, pin...),
		bevelled(edge, pin, tip))
	return s.AlongX(), err
}

// rotaryHousing is bolted on the cradle's floor and bears the faceplate.
func rotaryHousing() (shape.Surface, error) {
	return shape.Revolve(shape.Contour{at(0, floorTop), at(122, floorTop), at(122, 167), at(117, 172),
		at(62, 172), at(62, 152), at(0, 152)}, round)
}

// rotaryMotor hangs under the cradle's floor.
func rotaryMotor() (shape.Surface, error) {
	return shape.Revolve(shape.Contour{at(0, floorUnder), at(0, 55), at(64, 55), at(70, 61), at(70, 87),
		at(78, 87), at(78, floorUnder)}, round)
}

// faceplate is the rotary's mounting face, 320 mm across, with 5 x 5 holes, on a
// shaft that turns in the housing.
func faceplate() (shape.Surface, error) {
	p := shape.Plate{Outline: round.Circle(at(0, 0), 160), Thickness: faceTop - faceUnder, Chamfer: 1.5, Round: round,
		Holes: shape.HoleGrid(bushed(28), at(0, 0), 5, 5, pitch, nil)}
	plate, err := p.Layers()
	if err != nil {
		return nil, err
	}
	shaft := layer(18, round.Circle(at(0, 0), 60))
	return shape.Stack(faceUnder-18, append([]shape.Layer{shaft}, plate...)...)
}
