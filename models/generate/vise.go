package main

import "gridswing/geom/shape"

// The vise's main sizes, in its frame: origin on the seat in the middle between
// the locating pins, screw along X.
const (
	viseHalf   = 62.5 // half the jaw width of 125
	slotHalf   = 20.0
	viseLeft   = -100.0
	viseRight  = 150.0
	slotFloor  = 30.0
	viseBed    = 75.0 // where jaws and parallels stand
	jawTop     = 115.0
	gripFace   = -30.0 // the fixed jaw's
	screwAxis  = 52.0
	screwEnd   = 182.0
	parallelTo = 95.0
)

// bar is the outline of the body's lower part; its ends have corners at the
// given distances from the middle, where other layers begin or end.
func bar(ends ...float64) shape.Contour {
	var c shape.Contour
	for _, y := range ends {
		c = append(c, at(viseLeft, -y))
	}
	for i := range ends {
		c = append(c, at(viseRight, -ends[len(ends)-1-i]))
	}
	for _, y := range ends {
		c = append(c, at(viseRight, y))
	}
	for i := range ends {
		c = append(c, at(viseLeft, ends[len(ends)-1-i]))
	}
	return c
}

// viseBody is a floor with two rails, grooved at the sides for clamps; pins in
// the bores at x = +-50, M12 screws through both rails.
func viseBody() (shape.Surface, error) {
	pins := []shape.Contour{round.Circle(at(-50, 0), bore), round.Circle(at(50, 0), bore)}
	screws := []shape.Contour{round.Circle(at(0, -50), 6.75), round.Circle(at(0, 50), 6.75)}
	heads := []shape.Contour{round.Circle(at(0, -50), 10), round.Circle(at(0, 50), 10)}
	outline := bar(slotHalf, viseHalf-4, viseHalf)
	wide := append([]shape.Contour{outline}, append(pins, screws...)...)
	grooved := append([]shape.Contour{bar(slotHalf, viseHalf-4)}, wide[1:]...)
	chamfered := append(shape.Region{outline}.Inset(2), wide[1:]...)
	half := len(outline) / 2
	rails := shape.Region{outline[:half], outline[half:]}
	edged := rails.Inset(1)
	return shape.Stack(0,
		bevelled(2, chamfered, wide),
		layer(12, wide...),
		layer(10, grooved...),
		layer(slotFloor-24, wide...),
		layer(15, append(rails[:2:2], screws...)...),
		layer(viseBed-slotFloor-16, append(rails[:2:2], heads...)...),
		bevelled(1, append(rails[:2:2], heads...), append(edged, heads...)))
}

// jaw builds a jaw that grips towards +X, its face at x = 0: a block with a
// hardened plate in front that two M8 screws hold (head 13 x 8, key 6, ISO 4762).
func jaw() (shape.Surface, error) {
	outline := shape.Contour{at(-viseHalf, viseBed), at(viseHalf, viseBed), at(viseHalf, jawTop-8), at(viseHalf-8, jawTop),
		at(-viseHalf+8, jawTop), at(-viseHalf, jawTop-8)}
	block := shape.Region{outline}
	plate := block.Inset(1)
	var heads, keys []shape.Contour
	for _, y := range []float64{-36, 36} {
		heads = append(heads, round.Circle(at(y, 95), 7.5))
		keys = append(keys, hexagon(at(y, 95), 6))
	}
	s, err := shape.Stack(-50,
		bevelled(3, block.Inset(3), block),
		layer(37, block...),
		layer(5, append(plate[:1:1], keys...)...),
		layer(5, append(plate[:1:1], heads...)...))
	return s.AlongX(), err
}

func fixedJaw() (shape.Surface, error) {
	s, err := jaw()
	return s.Shifted(gripFace, 0, 0), err
}

// movingJaw stands closed: its face touches the fixed jaw's.
func movingJaw() (shape.Surface, error) {
	s, err := jaw()
	return s.MirroredX().Shifted(gripFace, 0, 0), err
}

// viseNut pulls the moving jaw; it runs in the slot, half a millimetre free.
func viseNut() (shape.Surface, error) {
	outline := shape.Region{shape.Rect(-slotHalf+0.5, slotFloor+2, slotHalf-0.5, viseBed)}
	hole := round.Circle(at(0, screwAxis), 13)
	s, err := shape.Stack(gripFace+15, layer(30, outline[0], hole))
	return s.AlongX(), err
}

// viseScrew is the screw with its bracket, one millimetre apart.
func viseScrew() (shape.Surface, error) {
	axis := at(0, screwAxis)
	n := round.Segments(16)
	ring := func(r float64) shape.Region { return shape.Region{round.CircleOf(axis, r, n)} }
	socket := hexagon(axis, 14)
	screw, err := shape.Stack(-25,
		bevelled(2, ring(9), ring(11)),
		layer(167-2+25, ring(11)...),
		layer(5, ring(16)...),
		layer(2, ring(12)...),
		layer(screwEnd-174-1, append(ring(12), socket)...),
		bevelled(1, append(ring(12), socket), append(ring(11), socket)))
	if err != nil {
		return nil, err
	}
	plate := shape.Region{shape.Contour{at(-50, 6), at(50, 6), at(50, 50), at(30, 72), at(-30, 72), at(-50, 50)}}
	hole := round.Circle(axis, 13)
	bracket, err := shape.Stack(viseRight,
		layer(14, plate[0], hole),
		bevelled(2, append(plate[:1:1], hole), append(plate.Inset(2), hole)))
	return shape.Join(screw, bracket).AlongX(), err
}

// parallels are two bars beside the jaws on which the stock stands.
func parallels() (shape.Surface, error) {
	outline := shape.Rect(-55, viseBed, 55, parallelTo)
	region := []shape.Contour{outline, round.Circle(at(-30, 85), 5), round.Circle(at(0, 85), 5), round.Circle(at(30, 85), 5)}
	near, err := shape.Stack(gripFace+1, layer(8, region...))
	if err != nil {
		return nil, err
	}
	far, err := shape.Stack(15, layer(8, region...))
	return shape.Join(near, far).AlongX(), err
}
