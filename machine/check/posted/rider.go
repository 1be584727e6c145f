package posted

import (
	"math"

	"gridswing/collide/material"
	"gridswing/geom"
	"gridswing/machine/check/spindle"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// rider is a body that goes with the spindle, as the stock is asked of it.
type rider struct {
	spindle.Mover
	mover int           // of side.movers
	tool  *tooling.Tool // in the spindle; nil if none is known
	// All of it is within radius of the point center on its frame's Z axis, mm; its outlines and
	// points are seen from there.
	center, radius float64
	hull           material.Outline
	pieces         []material.Outline // together as much as it is, where that is less than its hull
	points         []r3.Vector        // instead of outlines, of what does not turn
	inside         material.Outline   // of a cutting part: what it surely takes away
	cutters        []cutter           // the same in parts
	// By blank:
	rides  []ride
	slim   [][]rung // what follows a cutter, smaller and smaller
	close  []closer // the last that was asked for
	graze  []closer
	guards []guard
}

// with returns the riders of a chunk, in the order of side.movers: with a tool, its cutting part is the first.
func (k *stock) with(c *chunk) []*rider {
	if list, known := k.riders[c.tool]; known {
		return list
	}
	s := k.c.setup
	list := []*rider{}
	for i, m := range c.side.movers {
		r := &rider{Mover: m, mover: i}
		if m.Part {
			r.tool = s.Tools[c.tool]
			r.turned()
		} else {
			r.whole()
		}
		for _, b := range k.blanks {
			ride := newRide(s.Bodies[b.body].Chain, m.Body.Chain)
			if !m.Part { // a zone's outline holds the true one
				ride.chord = m.Body.Solid.ChordError
			}
			r.rides = append(r.rides, ride)
			r.slim = append(r.slim, r.rungs(b))
		}
		r.guards = make([]guard, len(k.blanks))
		r.close, r.graze = make([]closer, len(k.blanks)), make([]closer, len(k.blanks))
		list = append(list, r)
	}
	k.riders[c.tool] = list
	return list
}

// finest is how far a sweep may be from a cutter's way before it is parted, mm.
func (b *blank) finest() float64 { return b.cell / 20 }

// turned makes the outlines of a zone of the tool.
func (r *rider) turned() {
	pieces := r.tool.Around(r.Zone)
	hull := tooling.Hull(pieces)
	low, high := hull[0][1], hull[len(hull)-1][1]
	r.center = (low + high) / 2
	for _, c := range hull {
		r.radius = max(r.radius, math.Hypot(c[0], c[1]-r.center))
	}
	r.hull = r.seen(hull)
	if len(pieces) > 1 {
		for _, p := range pieces {
			r.pieces = append(r.pieces, r.seen(p))
		}
	}
	if r.Sharp() {
		r.inside = r.seen(r.tool.Inside())
		r.cutters = cuttersOf(r.tool)
	}
}

// cutter is a part of what surely takes material away: its outline is seen from the point center on the axis
// of the tool's frame, and radius is how far its places are from there, as far as the tool's attitude
// takes them.
type cutter struct {
	outline        material.Outline
	center, radius float64
}

// cuttersOf parts a ball from what cuts above it: of a ball no attitude matters, as long as all of the sphere
// is in what cuts, so that over a way on which the tool turns it is one cut where its middle goes straight on.
func cuttersOf(t *tooling.Tool) []cutter {
	whole := t.Inside()
	if len(whole) < 2 {
		return nil
	}
	c := t.Cutter
	tip, r, top := -t.LPR(), c.DC/2, whole[len(whole)-1]
	if c.Kind != tooling.BallEndMill || c.DCX > c.DC || top[1] < tip+2*r || c.RE > 0 && c.RE != r {
		return []cutter{cutterOf(whole)}
	}
	ball := cutter{center: tip + r}
	for i := 0; i <= 2*ballSteps; i++ {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / ballSteps)
		ball.outline = append(ball.outline, [2]float64{max(0, r*sin), -r * cos})
	}
	return []cutter{ball, cutterOf(tooling.Piece{{r, tip + r}, top})}
}

// ballSteps is how many chords stand for a quarter of a ball: each within 0.12 % of its radius.
const ballSteps = 16

// cutterOf is a part by itself, seen from its middle.
func cutterOf(p tooling.Piece) (c cutter) {
	c.center = (p[0][1] + p[len(p)-1][1]) / 2
	for _, corner := range p {
		corner[1] -= c.center
		c.outline = append(c.outline, corner)
		c.radius = max(c.radius, math.Hypot(corner[0], corner[1]))
	}
	return c
}

// seen is a piece as seen from the rider's center.
func (r *rider) seen(p tooling.Piece) (o material.Outline) {
	for _, c := range p {
		o = append(o, [2]float64{c[0], c[1] - r.center})
	}
	return o
}

// mostPoints is of how many points a body's hull is told; of more, it is a box.
const mostPoints = 64

// whole makes the points of a body that does not turn with the tool: its hull is asked about.
func (r *rider) whole() {
	box := r.Body.Solid.Mesh.Bounds()
	known := map[r3.Vector]bool{}
	var points []r3.Vector
	for i := range r.Body.Solid.Mesh.Facets {
		for _, v := range &r.Body.Solid.Mesh.Facets[i] {
			if p := v.Vector(); !known[p] && len(points) <= mostPoints {
				known[p] = true
				points = append(points, p)
			}
		}
	}
	if len(points) > mostPoints {
		corners := box.Corners()
		points = corners[:]
	}
	r.center = box.Center().Z
	for _, p := range points {
		p.Z -= r.center
		r.points = append(r.points, p)
		r.radius = max(r.radius, p.Norm())
	}
}

// body is an outline or, without one, the hull of the points, in the attitude of the sweep.
func (r *rider) body(o material.Outline, turn *geom.Rotation) material.Body {
	if r.points == nil {
		return material.Body{Outline: o}
	}
	b := material.Body{Points: make([]r3.Vector, len(r.points))}
	for i, p := range r.points {
		b.Points[i] = turn.Apply(p)
	}
	return b
}
