package main

import (
	"gridswing/geom/shape"
)

// The machine's main heights, bed frame with every axis at zero.
const (
	floorLevel  = -850.0
	bedTop      = -290.0
	railTop     = -241.0 // 1 mm under the saddle
	saddleUnder = -240.0
	saddleRail  = -91.0
	tableUnder  = -90.0
	gauge       = 700.0 // spindle nose: the gauge line
	headUnder   = 740.0
	columnFront = 600.0
	columnRail  = 560.0
)

// bed carries the saddle's ways in front and the column behind. Along Y; its
// contours are (z, x).
func bed() (shape.Surface, error) {
	const half, back, front = 420.0, 1050.0, -560.0
	profile := func(rails bool) shape.Contour {
		c := shape.Contour{at(floorLevel, -half), at(bedTop-40, -half), at(bedTop, -half+40)}
		for _, x := range []float64{-250, 250} {
			c = append(c, at(bedTop, x-25))
			if rails {
				c = append(c, at(railTop, x-25), at(railTop, x+25))
			}
			c = append(c, at(bedTop, x+25))
		}
		return append(c, at(bedTop, half-40), at(bedTop-40, half), at(floorLevel, half))
	}
	s, err := shape.Stack(front,
		layer(columnRail-10-front, profile(true)),
		layer(back-columnRail+10, profile(false)))
	return s.AlongY(), err
}

// saddle runs on the bed and carries the table's ways. Along X: contours (y, z).
func saddle() (shape.Surface, error) {
	const half, way = 230.0, -130.0
	c := shape.Contour{at(-half, saddleUnder), at(half, saddleUnder), at(half, way-20), at(half-20, way)}
	for _, y := range []float64{150, -150} {
		c = append(c, at(y+20, way), at(y+20, saddleRail), at(y-20, saddleRail), at(y-20, way))
	}
	c = append(c, at(-half+20, way), at(-half, way-20))
	s, err := shape.Stack(-350, layer(700, c))
	return s.AlongX(), err
}

// table is 1000 x 500 x 90 with five T-slots of 18 at a pitch of 100 (ISO 299:
// head 30..32 wide, 12..14 high, depth 30..36) and two rows of locating bores
// of 16 at a pitch of 100 between the slots.
func table() (shape.Surface, error) {
	const halfX, halfY, throat, head = 500.0, 250.0, 9.0, 15.5
	slots := []float64{-200, -100, 0, 100, 200}
	body := shape.Contour{at(-halfX, -halfY), at(halfX, -halfY)}
	for _, y := range slots {
		body = append(body, at(halfX, y-head), at(halfX, y+head))
	}
	body = append(body, at(halfX, halfY), at(-halfX, halfY))
	for i := len(slots) - 1; i >= 0; i-- {
		body = append(body, at(-halfX, slots[i]+head), at(-halfX, slots[i]-head))
	}
	var lands, necks []shape.Contour // beside the slots' heads, and beside their throats
	from := -halfY
	for i := range len(slots) + 1 {
		lo, hi, to := from, halfY, halfY
		if i < len(slots) {
			hi, to = slots[i]-head, slots[i]-throat
		}
		if i > 0 {
			lo += head - throat
		}
		lands = append(lands, shape.Rect(-halfX, lo, halfX, hi))
		necks = append(necks, land(halfX, from, lo, hi, to))
		from = to + 2*throat
	}
	var bores []shape.Contour
	for _, h := range shape.HoleGrid(shape.Hole{}, at(0, 0), 9, 2, 100, nil) {
		bores = append(bores, round.Circle(h.At, bore))
	}
	return shape.Stack(tableUnder,
		layer(58, body),
		layer(7, lands...),
		layer(5, append(lands, bores...)...),
		layer(20, append(necks, bores...)...))
}

// land is the strip between two slots from y0 to y3, with corners on its ends at
// y1 and y2, where the strip below it ends.
func land(halfX, y0, y1, y2, y3 float64) shape.Contour {
	var left, right shape.Contour
	last := y0 - 1
	for _, y := range []float64{y0, y1, y2, y3} {
		if y != last {
			right = append(right, at(halfX, y))
			left = append(left, at(-halfX, y))
		}
		last = y
	}
	for i := len(left) - 1; i >= 0; i-- {
		right = append(right, left[i])
	}
	return right
}

// column stands on the bed behind the saddle, with two rails for the head.
func column() (shape.Surface, error) {
	c := shape.Contour{at(-260, 1000), at(-260, columnFront)}
	for _, x := range []float64{-130, 130} {
		c = append(c, at(x-20, columnFront), at(x-20, columnRail), at(x+20, columnRail), at(x+20, columnFront))
	}
	c = append(c, at(260, columnFront), at(260, 1000), at(220, 1040), at(-220, 1040))
	return shape.Stack(bedTop, layer(1790, c))
}

// head is rounded about the spindle, with the spindle's motor on top.
func head() (shape.Surface, error) {
	const half, back, edge = 165.0, columnRail - 1, 18.0
	c := shape.Contour{at(half, back), at(-half, back), at(-half, 0)}.Arc(at(0, 0), at(half, 0), true, round)
	full := shape.Region{c}
	narrow := full.Inset(edge)
	n := round.Segments(110)
	motor := shape.Region{round.CircleOf(at(0, 0), 110, n)}
	lid := shape.Region{round.CircleOf(at(0, 0), 104, n)}
	return shape.Stack(headUnder,
		bevelled(edge, narrow, full),
		layer(500, full...),
		bevelled(edge, full, narrow),
		layer(150, motor...),
		bevelled(6, motor, lid))
}

// spindleNose ends in the gauge line, with the wide end of its 7/24 taper of
// size 40 (44.45 there, ISO 7388).
func spindleNose() (shape.Surface, error) {
	const wide, depth = 44.45 / 2, 38.0
	return shape.Revolve(shape.Contour{at(wide, gauge), at(62, gauge), at(70, gauge+8), at(70, headUnder), at(0, headUnder),
		at(0, gauge+depth), at(wide-depth*7/48, gauge+depth)}, round)
}
