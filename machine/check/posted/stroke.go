package posted

import (
	"maps"
	"slices"

	"gridswing/collide/material"

	"github.com/golang/geo/r3"
)

// cutStep is how long a stretch is that is cut at one stroke, mm: what is cut in the air is told by it.
const cutStep = 5

// mostPieces is in how many pieces a leg is cut at most; beyond that less is taken away than could be.
const mostPieces = 1 << 16

// cut takes away what the cutter surely takes on a stretch.
func (w *cutWalk) cut(i int, st *pass) {
	for n := range w.sharp().cutters {
		w.cutWith(i, n, st)
	}
}

// cutWith is cut with one part of the cutter.
func (w *cutWalk) cutWith(i, n int, st *pass) {
	b, r := w.stock.blanks[i], w.sharp()
	c := &r.cutters[n]
	s := r.rides[i].over(st, c.center, c.radius)
	length := 0.0
	if len(s.Ways) > 0 {
		length = s.Ways[0].Norm()
	}
	if w.pieces < mostPieces && (s.bent > b.finest() || length > cutStep) {
		w.pieces++
		first, second := st.halves(0)
		w.cutWith(i, n, &first)
		w.cutWith(i, n, &second)
		return
	}
	w.join(i, n, &s)
}

// stroke is cuts into a blank, by a part of a cutter, that follow each other nearly straight on: they are made as one, not before
// somebody is asked who would meet what is not taken away yet.
type stroke struct {
	ends        []r3.Vector // of the ways, the beginning of the first one in front
	axes        []r3.Vector
	bent, loose float64 // the most of them
}

// Cuts are made as one over strokeCells cells, and by no more than a strokePart-th of a cell beside their ways.
const (
	strokeCells = 16
	strokePart  = 20
	longCells   = 4 // so long is what is a cut by itself: what is cut in the air is told by it
)

// join makes a cut together with those before, or later.
func (w *cutWalk) join(i, part int, s *swept) {
	j, c := &w.joined[i][part], &w.sharp().cutters[part]
	way := r3.Vector{}
	if len(s.Ways) > 0 {
		way = s.Ways[0]
	}
	long := way.Norm() > longCells*w.stock.blanks[i].cell
	if len(j.ends) > 0 && (long || j.ends[len(j.ends)-1].Sub(s.Origin).Norm() > sameLine) {
		w.finish(i, part)
	}
	if len(j.ends) == 0 {
		j.ends = append(j.ends, s.Origin)
	}
	j.ends, j.axes = append(j.ends, s.Origin.Add(way)), append(j.axes, s.Axis)
	b := w.stock.blanks[i]
	one, ok := j.one(c.radius, b.cell/strokePart)
	if n := len(j.axes); n > 1 && (!ok || one.Ways[0].Norm() > strokeCells*b.cell) {
		j.ends, j.axes = j.ends[:n], j.axes[:n-1]
		w.finish(i, part)
		j.ends, j.axes = append(j.ends, s.Origin, s.Origin.Add(way)), append(j.axes, s.Axis)
	}
	j.bent, j.loose = max(j.bent, s.bent), max(j.loose, s.loose)
	if long {
		w.finish(i, part)
	}
}

// one is the sweep that stands for all; ok is false where it would be farther than most beside them.
//
// The cutter's way is one without gaps from the first end to the last. So to each place on the straight way between
// the two there is a moment at which the cutter is level with it, no farther beside it than any end is, since
// what is between two ends is no farther than the farther one. A body of revolution that is so much and, by its axis,
// so much of its radius off holds the one in that place less both.
func (j *stroke) one(radius, most float64) (s swept, ok bool) {
	n := len(j.axes)
	from, to := j.ends[0], j.ends[n]
	axis := j.axes[0].Add(j.axes[n-1])
	if axis.Norm() < 1 {
		return s, false
	}
	s.Axis = axis.Normalize()
	s.Origin, s.Ways = from, []r3.Vector{to.Sub(from)}
	off, turned := 0.0, 0.0
	for _, p := range j.ends {
		off = max(off, besideOf(p, from, s.Ways[0]))
	}
	for _, a := range j.axes {
		turned = max(turned, a.Sub(s.Axis).Norm())
	}
	more := off + turned*radius
	s.bent, s.loose = j.bent+more, j.loose
	s.Off = s.bent + s.loose
	return s, more <= most
}

// besideOf is how far a point is from the line from a place along a way; from the place, without a way.
func besideOf(p, from, way r3.Vector) float64 {
	d := p.Sub(from)
	if l := way.Norm(); l > 0 {
		return d.Cross(way).Norm() / l
	}
	return d.Norm()
}

// made makes the cuts into a blank that are waiting.
func (w *cutWalk) made(i int) {
	for n := range w.joined[i] {
		w.finish(i, n)
	}
}

// waiting reports whether a cut into a blank is not made yet.
func (w *cutWalk) waiting(i int) bool {
	for n := range w.joined[i] {
		if len(w.joined[i][n].axes) > 0 {
			return true
		}
	}
	return false
}

// finish makes the cut of one part of the cutter, and counts it.
func (w *cutWalk) finish(i, part int) {
	j := &w.joined[i][part]
	if len(j.axes) == 0 {
		return
	}
	c := &w.sharp().cutters[part]
	s, _ := j.one(c.radius, 0)
	length := 0.0
	for n, p := range j.ends[1:] {
		length += p.Sub(j.ends[n]).Norm()
	}
	switch {
	case length == 0:
		s.Ways = nil
	case c.radius == 0: // a ball, which may be seen from the side: what goes square to its axis is cut sooner
		s.Axis = s.Ways[0].Ortho()
	}
	taken := w.stock.blanks[i].model.Cut(c.outline, &s.Sweep)
	w.cutting.cut(i, part, length, &taken)
	*j = stroke{ends: j.ends[:0], axes: j.axes[:0]}
}

// cutting is what a tool has cut.
type cutting struct {
	removed float64            // mm3
	fed     float64            // mm
	met     map[[2]int]float64 // mm on which something was met, by blank and part of the cutter
}

func (k *stock) cuttingOf(tool int) *cutting {
	if k.cutting[tool] == nil {
		k.cutting[tool] = &cutting{met: map[[2]int]float64{}}
	}
	return k.cutting[tool]
}

// beside counts a way on which nothing of the blank is met.
func (w *cutWalk) beside(i int, st *pass) {
	r := w.sharp()
	if s := r.rides[i].over(st, r.cutters[0].center, 0); len(s.Ways) > 0 {
		w.cutting.cut(i, 0, s.Ways[0].Norm(), &material.Taken{})
	}
}

// cut counts a cut into a blank. The way is the same whatever is cut.
func (t *cutting) cut(blank, part int, length float64, taken *material.Taken) {
	t.removed += taken.Volume
	if blank == 0 && part == 0 {
		t.fed += length
	}
	if taken.Any {
		t.met[[2]int{blank, part}] += length
	}
}

// air is how far the tool was fed without meeting anything: of the parts of a cutter that one counts
// that meets most.
func (t *cutting) air() float64 {
	most := map[int]float64{}
	for at, length := range t.met {
		most[at[0]] = max(most[at[0]], length)
	}
	left := t.fed
	for _, blank := range slices.Sorted(maps.Keys(most)) {
		left -= most[blank]
	}
	return max(0, left)
}
