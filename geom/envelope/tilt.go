package envelope

import (
	"math"
	"runtime"

	"gridswing/geom"
	"gridswing/geom/together"

	"github.com/golang/geo/r3"
)

// Cells is in how many cells the larger extent of what is swept is divided where Sweep does not
// say: the mesh is then some 1.3 % of that larger than what is swept.
const Cells = 80

// leastExtent is how large what is swept is taken to be at least, mm: what has no size has cells, too.
const leastExtent = 0.1

// between is in how many steps the outline is carried from one row of nodes to the next.
const between = 3

// field is how far the nodes of a grid round the tilt axis are from what is swept: h along the
// axis, rho away from it and phi round it.
//
// Why the hull has everything in it. Let f be the distance from the swept space T, at the nodes.
// Distances differ by no more than the points do: f(n) <= |n - p| for a node n and a point p of T.
// Space is divided into tetrahedra with nodes as corners, and the hull is where the linear
// interpolation of f is level. At a point p of T in a tetrahedron, with the weights w of its
// corners n, the interpolation is
//
//	sum w f(n) <= sum w |n - p| <= sqrt(sum w |n - p|^2) = sqrt(sum over pairs of w w' |n - n'|^2).
//
// The corners of a tetrahedron, 0 to 3, lead along the edges of a cell, which are no longer than
// step, and those of one cell along h, rho and phi: i and j are at most sqrt(|i - j|) step apart (across a ring
// from one row to the next the diagonal squared is the step squared and the product of both chords). With F the sum of
// the first k weights, the sum over pairs of w w' |i - j| is that of F (1 - F) over k = 1, 2, 3: at most 3/4.
//
// So with a level above sqrt(3/4) step, p is inside. The same way a point on the hull is no farther
// from T than the level and sqrt(3/4) step.
//
// T is seen at steps of the tilt only; between two of them a point moves by at most half a
// step's arc from the nearer one, which is added to the level.
type field struct {
	nh, nr, np int
	h0, step   float64   // of the first layer, and between layers and rings, mm
	from, turn float64   // radians: of the first row round the axis, and between rows
	far        []float32 // of node (h, rho, phi), at most cap
	level      float64
	workers    int
}

const withinTetrahedron = 0.8661 // sqrt(3/4), rounded up

// tilted returns the hull of the outline carried over the range of the tilt joint of index a.
func tilted(loads []Load, o outline, a, c int, s Sweep) (*Hull, error) {
	chain := &loads[0].Chain
	tilt, rotary := &chain.Joints[a], &chain.Joints[c]
	pre := part(chain, 0, a, s.At)
	stand := standing(tilt.Point, tilt.Axis)
	if tilt.Gain[s.Tilt] < 0 {
		s.Lo, s.Hi = -s.Hi, -s.Lo
	}
	s.Lo, s.Hi = s.Lo+tilt.Offset, s.Hi+tilt.Offset
	// The outline in the tilt axis' frame, at tilt zero.
	out := stand.Inverse().Mul(part(chain, a+1, c, s.At)).Mul(standing(rotary.Point, rotary.Axis))
	radius, low, high := o.about(out)
	pose := pre.Mul(stand)
	extra := loose(loads, s.At, pose.T, math.Hypot(radius, max(-low, high)))
	f := &field{workers: runtime.GOMAXPROCS(0)}
	f.step = max(max(2*radius, high-low)+2*extra, leastExtent) / float64(s.Cells)
	f.layOut(radius, low, high, extra)
	f.measure(o, out.Inverse(), s.Lo, min(s.Hi-s.Lo, 2*math.Pi))
	return &Hull{Mesh: f.mesh(), Pose: pose, Beyond: f.level + withinTetrahedron*f.step}, nil
}

// about returns how far the outline gets from the Z axis of the frame that a pose leads to,
// and from where to where along it.
func (o outline) about(out geom.Pose) (radius, low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	axis := out.Dir(r3.Vector{Z: 1})
	across := math.Sqrt(max(0, 1-axis.Z*axis.Z))
	for _, d := range o {
		for _, z := range [2]float64{d.from, d.to} {
			q := out.Point(r3.Vector{Z: z})
			radius = max(radius, math.Hypot(q.X, q.Y)+d.radius)
			low, high = min(low, q.Z-d.radius*across), max(high, q.Z+d.radius*across)
		}
	}
	return radius, low, high
}

// diagonal is the longest edge of any tetrahedron.
func (f *field) diagonal() float64 { return math.Sqrt(3) * f.step }

// layOut makes the grid large enough, its cells at most step long, and chooses the level.
func (f *field) layOut(radius, low, high, extra float64) {
	rings := math.Ceil((radius+extra)/f.step) + 4
	f.np = int(math.Ceil(2 * math.Pi * rings))
	f.turn = 2 * math.Pi / float64(f.np)
	const rounding = 1e-3 // mm; of corners, float32 out to 8 m, and of what is stored of distances
	f.level = withinTetrahedron*f.step + f.step/(2*between) + extra + rounding
	border := math.Ceil(f.level/f.step) + 1
	f.nr = int(math.Ceil(radius/f.step)+border) + 1
	f.h0 = low - border*f.step
	f.nh = int(math.Ceil((high-low)/f.step)+2*border) + 1
	f.far = make([]float32, f.nh*f.nr*f.np)
}

// measure finds how far every node is from what the outline sweeps. At a node the tilt that
// brings the outline nearest is wanted: as seen from the outline, the node goes round the axis, the other way.
func (f *field) measure(o outline, toOutline geom.Pose, lo, width float64) {
	f.from = lo // so that the first end of the range is met exactly
	fine := f.np * between
	turn := f.turn / between
	steps := min(int(width/turn), fine-1)
	most := f.level + 2*f.diagonal()
	round := func(n int, angle func(k int) float64) []r3.Vector { // directions away from the axis
		list := make([]r3.Vector, n)
		for k := range list {
			s, c := math.Sincos(angle(k))
			list[k] = toOutline.Dir(r3.Vector{X: c, Y: s})
		}
		return list
	}
	all := round(fine, func(k int) float64 { return float64(k) * turn })
	ends := round(f.np, func(k int) float64 { return float64(k)*f.turn - width })
	f.parallel(f.nh, func(layer int) {
		still, last := make([]float64, fine), make([]float64, f.np)
		queue := make([]candidate, 0, 2*fine)
		middle := toOutline.Point(r3.Vector{Z: f.h0 + float64(layer)*f.step})
		for ring := range f.nr {
			rho := float64(ring) * f.step
			at := func(away r3.Vector) float64 {
				q := middle.Add(away.Mul(rho))
				return o.distance(math.Sqrt(q.X*q.X+q.Y*q.Y), q.Z, most)
			}
			for k := range fine {
				still[k] = at(all[k])
			}
			for k := range last {
				last[k] = at(ends[k])
			}
			least(still, last, steps, queue)
			for row := range f.np {
				f.far[f.index(layer, ring, row)] = float32(last[row])
			}
		}
	})
}

// candidate is one of the values that may be the least of those to come.
type candidate struct {
	at    int
	value float64
}

// least sets each last[i] to the least of itself and still[k], still[k-1] ... still[k-steps], with k
// between times i, going round (sliding minimum with a queue of candidates).
func least(still, last []float64, steps int, queue []candidate) {
	n := len(still)
	queue = queue[:0]
	head := 0
	for i := -steps; i < n; i++ {
		k := i
		if k < 0 {
			k += n
		}
		v := still[k]
		for len(queue) > head && queue[len(queue)-1].value >= v {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, candidate{i, v})
		for queue[head].at < i-steps {
			head++
		}
		if i >= 0 && i%between == 0 {
			last[i/between] = min(last[i/between], queue[head].value)
		}
	}
}

func (f *field) index(layer, ring, row int) int { return (layer*f.nr+ring)*f.np + row }

// parallel calls work for 0 to n-1 on all cores; every call writes its own part.
func (f *field) parallel(n int, work func(i int)) {
	var wg together.Group
	for w := range f.workers {
		wg.Go(func() {
			for i := w; i < n; i += f.workers {
				work(i)
			}
		})
	}
	wg.Wait()
}
