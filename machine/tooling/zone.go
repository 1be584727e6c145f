package tooling

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/shape"

	"github.com/golang/geo/r2"
)

// Zone is a stretch of a tool that something of its own is asked of.
type Zone uint8

// The zones, from the tip to the spindle.
const (
	Cutting    Zone = iota // may meet the stock, in its own operation's feed
	Neck                   // no wider than what cuts
	Shank                  // the cutter up to the holder's face
	HolderZone             // the holder
)

var zoneWords = [...]string{"cutting part", "neck", "shank", "holder"}

// String names the zone.
func (z Zone) String() string { return zoneWords[z] }

// Zones lists them all, from the tip to the spindle.
func Zones() []Zone { return []Zone{Cutting, Neck, Shank, HolderZone} }

// sides is how many flat sides stand in for a round one: corners 0.095 % of the
// radius outside.
const sides = 72

// Solid returns a closed solid around the zone, nowhere inside the true one that turns, in
// the gauge frame: origin on the gauge line, Z from the tip to the spindle, mm. It
// is larger by less than 0.15 % of its radius and 5 um. Zones that follow each other
// overlap by less than that, and the foremost point is as much below -LPR at most.
// A holder that is given as a mesh is returned as it is, Holder.ChordError
// inside the true one.
//
// It is nil where the tool has no such zone, such as a neck. A neck that is wider
// than what cuts belongs to the shank. Of a tool that Check finds a fault with, the
// solid is what can be made of it.
func (t *Tool) Solid(z Zone) *geom.Mesh {
	if z == HolderZone && t.Holder.Mesh != nil {
		return t.Holder.Mesh
	}
	return enclosed(t.zone(z))
}

// zone returns the outline of a zone in the gauge frame, X the radius, Y along
// Z; a holder's only if it has a profile.
func (t *Tool) zone(z Zone) shape.Contour {
	if z == HolderZone {
		return t.Holder.outline()
	}
	cut := t.Cutter.cutting()
	neck := cut
	if t.Cutter.neck() <= t.Cutter.Largest() {
		neck = t.Cutter.usable()
	}
	low, high := 0.0, cut
	switch z {
	case Neck:
		low, high = cut, neck
	case Shank:
		low, high = neck, t.StickOut
	}
	points := between(t.outline(), low, min(high, t.StickOut))
	for i := range points {
		points[i].Y -= t.LPR()
	}
	return points
}

// outline returns the profile from the face up, in the gauge frame. Where it
// stops short of the gauge line or the face, it goes on as wide as there.
func (h *Holder) outline() shape.Contour {
	n := len(h.Profile)
	if n == 0 {
		return nil
	}
	var line shape.Contour
	if last := h.Profile[n-1]; last[0] < h.Length {
		line = append(line, r2.Point{X: last[1] / 2, Y: -h.Length})
	}
	for i := n - 1; i >= 0; i-- {
		line = append(line, r2.Point{X: h.Profile[i][1] / 2, Y: -h.Profile[i][0]})
	}
	if first := h.Profile[0]; first[0] > 0 {
		line = append(line, r2.Point{X: first[1] / 2})
	}
	return line
}

// enclosed returns the solid around an outline, nil around nothing. An outline
// that is none gets a cylinder around all of its points: too large rather than missing.
func enclosed(line shape.Contour) *geom.Mesh {
	if len(line) == 0 {
		return nil
	}
	if m, err := shape.Enclose(line, sides); err == nil {
		return m
	}
	box := r2.RectFromPoints(line...)
	r := max(math.Abs(box.X.Lo), math.Abs(box.X.Hi))
	m, err := shape.Enclose(shape.Contour{{X: r, Y: box.Y.Lo}, {X: r, Y: box.Y.Hi}}, sides)
	if err != nil {
		return nil
	}
	return m
}
