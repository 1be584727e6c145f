package bores

import (
	"cmp"
	"math"
	"slices"

	"github.com/golang/geo/r3"
)

// Bottom says how a hole ends.
type Bottom string

// How a hole ends: nobody can tell where the mesh is open there.
const (
	Through Bottom = "through"
	Blind   Bottom = "blind"
	Untold  Bottom = "untold"
)

// Step is a cylindrical length of a hole.
type Step struct {
	// Diameter of the circle on which the corners of the facets lie, mm. A writer
	// who keeps the corners on the true surface, as most do, makes the facets cut
	// into the bore by up to (Diameter - Flats) / 2; one who has them outside does
	// not. The mesh does not tell which.
	Diameter float64
	Flats    float64 // diameter of the largest circle within the facets, mm
	Sides    int     // of the polygon
	From, To float64 // depth below the mouth, mm; chamfers are counted to the step
	// RMS and Worst are how far the corners are from the cylinder, mm.
	RMS, Worst float64
}

// Hole is a round hole: one bore, or several on one axis that follow each other.
type Hole struct {
	Mouth  r3.Vector // on the axis, in the plane of the face around the mouth
	Axis   r3.Vector // unit, out of the mouth
	Steps  []Step    // from the mouth on
	Bottom Bottom
	// Depth to the end of the last step, where a through hole comes out, mm.
	Depth float64
	// Deepest is what lies beyond a blind hole's last step: how deep the point of
	// the drill is, or whatever else closes the hole; Depth if it is flat.
	Deepest float64
	// Point is the angle of the cone at the end of a drilled hole, radians; 0 where
	// there is none.
	Point float64
	// Chamfer and Exit are the diameters to which a chamfer widens the mouth and the
	// far end, mm; 0 where there is none.
	Chamfer, Exit float64
}

// Far returns where a through hole comes out, on its axis.
func (h *Hole) Far() r3.Vector { return h.Mouth.Sub(h.Axis.Mul(h.Depth)) }

// First returns the step at the mouth.
func (h *Hole) First() *Step { return &h.Steps[0] }

// Last returns the step at the end.
func (h *Hole) Last() *Step { return &h.Steps[len(h.Steps)-1] }

// holesOf joins bores that follow each other on one axis and says how they end.
func holesOf(t *faceted, patches []*patch) []Hole {
	var bores []*patch
	for _, p := range patches {
		if !p.boss && p.coverage >= fullCircle {
			bores = append(bores, p)
		}
	}
	var holes []Hole
	for _, chain := range chains(t, bores) {
		if h, ok := newHole(t, chain); ok {
			holes = append(holes, h)
		}
	}
	return holes
}

// chains gathers bores that follow each other, each chain in the order of heights
// along the axis, which all of a chain have in the same sense.
func chains(t *faceted, bores []*patch) [][]*patch {
	next := make([]int, len(bores)) // links of a forest
	for i := range next {
		next[i] = i
	}
	root := func(i int) int {
		for next[i] != i {
			i = next[i]
		}
		return i
	}
	for _, pair := range neighbours(t, bores) {
		if a, b := root(pair[0]), root(pair[1]); a != b {
			next[max(a, b)] = min(a, b)
		}
	}
	index := map[int]int{}
	var all [][]*patch
	for i, p := range bores {
		r := root(i)
		if r == i {
			index[i] = len(all)
			all = append(all, nil)
		}
		all[index[r]] = append(all[index[r]], p)
	}
	for _, chain := range all {
		first := chain[0]
		for _, p := range chain {
			p.lookAlong(first.axis)
		}
		slices.SortStableFunc(chain, func(a, b *patch) int {
			lowA, _ := first.span(a)
			lowB, _ := first.span(b)
			return cmp.Compare(lowA, lowB)
		})
	}
	return all
}

// lookAlong reverses the axis if it points the other way.
func (p *patch) lookAlong(axis r3.Vector) {
	if p.axis.Dot(axis) < 0 {
		p.axis = p.axis.Mul(-1)
		p.low, p.high = -p.high, -p.low
	}
}

// neighbours returns the pairs of bores of which one goes on where the other ends.
// Only those are compared whose axes pass the middle of the mesh alike.
func neighbours(t *faceted, bores []*patch) [][2]int {
	middle := t.mesh.Bounds().Center()
	type foot struct {
		i     int
		x     float64
		reach float64
	}
	feet := make([]foot, len(bores))
	for i, p := range bores {
		along := middle.Sub(p.center).Dot(p.axis)
		feet[i] = foot{i, p.center.Add(p.axis.Mul(along)).X, 0.05*p.radius + parallelTurn*math.Abs(along)}
	}
	slices.SortFunc(feet, func(a, b foot) int { return cmp.Or(cmp.Compare(a.x, b.x), cmp.Compare(a.i, b.i)) })
	widest := 0.0
	for _, f := range feet {
		widest = max(widest, f.reach)
	}
	var pairs [][2]int
	for a := range feet {
		for b := a + 1; b < len(feet) && feet[b].x-feet[a].x <= feet[a].reach+widest; b++ {
			i, k := min(feet[a].i, feet[b].i), max(feet[a].i, feet[b].i)
			if bores[i].coaxial(bores[k]) && bores[i].goesOn(t, bores[k]) {
				pairs = append(pairs, [2]int{i, k})
			}
		}
	}
	return pairs
}

// goesOn reports whether q begins where p ends or the other way round. Between the
// two there may be a shoulder, or a cone of 60 degrees and more.
func (p *patch) goesOn(t *faceted, q *patch) bool {
	const slope = 1.75 // height over difference of radii, 1/tan(30 degrees)
	low, high := p.span(q)
	gap := max(low-p.high, p.low-high)
	off := p.margin(t) + q.margin(t)
	return gap >= -off && gap <= slope*math.Abs(p.radius-q.radius)+off
}

// newHole puts a chain of bores together; false if it is closed at both ends.
func newHole(t *faceted, chain []*patch) (Hole, bool) {
	in := map[int32]bool{}
	for _, p := range chain {
		for _, f := range p.faces {
			for _, g := range t.faces[f].facets {
				in[g] = true
			}
		}
	}
	bottom, top := chain[0], chain[len(chain)-1]
	axis := bottom.axis
	if len(chain) > 1 { // the axis of the longest is the best known
		longest := slices.MaxFunc(chain, func(a, b *patch) int { return cmp.Compare(a.high-a.low, b.high-b.low) })
		axis = longest.axis
	}
	low, high := bottom.endOf(t, false, in), top.endOf(t, true, in)
	lowAt, highAt := bottom.center.Add(bottom.axis.Mul(low.height)), top.center.Add(top.axis.Mul(high.height))
	if !mouthIsHigh(chain, low, high, axis) {
		slices.Reverse(chain)
		low, high, lowAt, highAt, axis = high, low, highAt, lowAt, axis.Mul(-1)
	}
	if !high.opens() && high.closure != unknown {
		return Hole{}, false
	}
	h := Hole{Mouth: highAt, Axis: axis, Chamfer: 2 * high.cone}
	h.addSteps(chain)
	h.close(low, lowAt)
	return h, true
}

func (e *end) opens() bool { return e.closure == wider || e.closure == narrower && e.through }

// mouthIsHigh chooses the mouth: an end that is open; of two, the wider one; of
// equals, the one that looks more along +Z, or +Y, or +X.
func mouthIsHigh(chain []*patch, low, high end, axis r3.Vector) bool {
	rank := func(e end) int {
		switch {
		case e.closure == wider:
			return 2
		case e.opens(), e.closure == unknown:
			return 1
		}
		return 0
	}
	if a, b := rank(high), rank(low); a != b {
		return a > b
	}
	bottom, top := chain[0], chain[len(chain)-1]
	if d := top.radius - bottom.radius; math.Abs(d) > 0.01*top.radius {
		return d > 0
	}
	return looksUp(axis)
}

// looksUp tells a direction from its opposite: up is where its largest component is
// positive, Z before Y before X.
func looksUp(a r3.Vector) bool {
	const same = 1e-6
	most := largest(a) - same
	for _, x := range [3]float64{a.Z, a.Y, a.X} {
		if math.Abs(x) >= most {
			return x > 0
		}
	}
	return true
}

// addSteps takes over the cylinders, first the one at the mouth. A step reaches to
// where the next one begins, chamfers between them included.
func (h *Hole) addSteps(chain []*patch) {
	for k := len(chain) - 1; k >= 0; k-- {
		p := chain[k]
		a := h.Mouth.Sub(p.center.Add(p.axis.Mul(p.low))).Dot(h.Axis)
		b := h.Mouth.Sub(p.center.Add(p.axis.Mul(p.high))).Dot(h.Axis)
		s := Step{
			Diameter: 2 * p.radius, Flats: 2 * p.flats, Sides: p.sides,
			From: min(a, b), To: max(a, b), RMS: p.rms, Worst: p.worst,
		}
		if n := len(h.Steps); n > 0 && h.Steps[n-1].Diameter > s.Diameter {
			s.From = h.Steps[n-1].To // the chamfer of the shoulder's edge
		} else if n > 0 {
			h.Steps[n-1].To = s.From
		} else {
			s.From = 0
		}
		h.Steps = append(h.Steps, s)
	}
}

// close says how the hole ends.
func (h *Hole) close(e end, at r3.Vector) {
	last := h.Last()
	reach := h.Mouth.Sub(at).Dot(h.Axis)
	switch {
	case e.opens():
		h.Bottom = Through
		h.Exit = 2 * e.cone
		last.To = max(last.To, reach)
	case e.closure == unknown:
		h.Bottom = Untold
	default:
		h.Bottom = Blind
		h.Deepest = max(last.To, reach)
		if e.tip {
			h.Point = 2 * math.Atan2(last.Diameter/2, reach-last.To)
		}
	}
	h.Depth = last.To
	h.Deepest = max(h.Deepest, h.Depth)
}
