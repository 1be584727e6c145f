package main

import (
	"fmt"
	"math"
	"slices"

	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// plan says how an area is cleared: in rows along a direction, in layers.
type plan struct {
	along  r3.Vector // of the rows, out of the part where they are open
	closed bool      // at the other end
	rows   []float64 // where, along the other side of the area
	beyond float64   // how far the tool goes out of the area at open ends
	layers int
}

// plans by feature. Rows are no farther apart than the cutters are flat (50 - 2 x 0.4 and 16 - 2 x 1).
var plans = map[string]plan{
	"face 1":       {along: r3.Vector{Y: 1}, rows: []float64{-18, 18}, beyond: 0, layers: 2},
	"slot, back":   {along: r3.Vector{Y: 1}, closed: true, rows: []float64{-9, 0, 9}, beyond: 9, layers: 8},
	"slot, front":  {along: r3.Vector{Y: -1}, closed: true, rows: []float64{-9, 0, 9}, beyond: 9, layers: 8},
	"shelf, back":  {along: r3.Vector{Y: 1}, closed: true, rows: []float64{-19, 19}, beyond: 9, layers: 8},
	"shelf, front": {along: r3.Vector{Y: -1}, closed: true, rows: []float64{-19, 19}, beyond: 9, layers: 8},
	"back, lower":  {along: r3.Vector{X: 1}, rows: []float64{57, 44.5, 32}, beyond: 10, layers: 3},
	"back, upper":  {along: r3.Vector{X: 1}, rows: []float64{57, 46}, beyond: 10, layers: 4},
	"front, lower": {along: r3.Vector{X: 1}, rows: []float64{57, 44.5, 32}, beyond: 10, layers: 3},
	"front, upper": {along: r3.Vector{X: 1}, rows: []float64{57, 46}, beyond: 10, layers: 4},
}

// span is how far an area reaches along a direction.
func span(a *machine.Area, d r3.Vector) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, u := range []float64{0, 1} {
		for _, v := range []float64{0, 1} {
			s := a.Corner.Add(a.U.Mul(u)).Add(a.V.Mul(v)).Dot(d)
			lo, hi = min(lo, s), max(hi, s)
		}
	}
	return lo, hi
}

// clearing is an area that is being cleared.
type clearing struct {
	plan
	axis, side r3.Vector
	out, in    float64 // where rows begin outside, and where they end
	from, to   float64 // the ends of the next row
	ordered    []float64
	height     float64 // of the layer before
}

func (c *clearing) at(along, row, height float64) r3.Vector {
	return c.along.Mul(along).Add(c.side.Mul(row)).Add(c.axis.Mul(height))
}

// area clears an area from outside, layer by layer: each begins where the one before has
// ended, down a ramp beside the block.
func (j *job) area(f *machine.Feature, first bool) error {
	p, ok := plans[f.Name]
	if !ok {
		return fmt.Errorf("no plan of how to clear it")
	}
	c := &clearing{plan: p, axis: f.Axes[0], ordered: slices.Clone(p.rows)}
	for _, d := range []r3.Vector{{X: 1}, {Y: 1}, {Z: 1}} { // rows are given along X, Y or Z
		if math.Abs(d.Dot(c.axis.Cross(p.along))) > 0.5 {
			c.side = d
		}
	}
	c.in, c.out = span(f.Area, p.along)
	c.out += p.beyond
	if !p.closed {
		c.in -= p.beyond
	}
	c.from, c.to = c.out, c.in
	top := f.Area.Corner.Dot(c.axis)
	if err := j.over(c.at(c.from, c.ordered[0], top), first); err != nil {
		return err
	}
	c.height = j.top(c.axis) + 1
	for n := 1; n <= p.layers; n++ {
		j.layer(c, top-f.Area.Depth*float64(n)/float64(p.layers))
	}
	return j.over(c.at(c.from, c.ordered[0], top), false)
}

// layer clears one layer, and ends outside.
func (j *job) layer(c *clearing, height float64) {
	feed := data[j.tool.Number].feed
	to := func(along, row float64) { j.cutTo(feed, j.view.to(c.at(along, row, height))) }
	j.rapid(xyz(j.view.to(c.at(c.from, c.ordered[0], c.height)))...)
	to(c.from+math.Copysign(min(3, c.beyond), c.to-c.from), c.ordered[0])
	for i, row := range c.ordered {
		if i > 0 {
			to(c.from, row)
		}
		to(c.to, row)
		c.from, c.to = c.to, c.from
	}
	c.height = height
	if n := len(c.ordered); c.closed && n > 1 && c.from == c.in { // the corner that two rows leave, and out
		to(c.in, c.ordered[n-2])
		to(c.out, c.ordered[n-2])
		c.from, c.to = c.out, c.in
		return
	}
	slices.Reverse(c.ordered)
}
