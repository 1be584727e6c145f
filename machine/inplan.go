package machine

import (
	"math"

	"gridswing/geom"
)

// inPlan is where something stands on a face, seen along the face's normal: its origin, and
// the direction of its X as cosine and sine.
type inPlan struct{ x, y, cos, sin float64 }

// flat returns a pose whose Z is the face's normal, without its height.
func flat(p geom.Pose) inPlan {
	return inPlan{p.T.X, p.T.Y, p.R[0][0], p.R[1][0]}
}

// then returns q, which stands in p, in the frame in which p stands.
func (p inPlan) then(q inPlan) inPlan {
	return inPlan{
		p.x + p.cos*q.x - p.sin*q.y, p.y + p.sin*q.x + p.cos*q.y,
		p.cos*q.cos - p.sin*q.sin, p.sin*q.cos + p.cos*q.sin,
	}
}

func (p inPlan) inverse() inPlan {
	return inPlan{-p.cos*p.x - p.sin*p.y, p.sin*p.x - p.cos*p.y, p.cos, -p.sin}
}

// samePlan is how far two places in plan may differ and be one nominally, in mm; of
// directions that much in radians: less than any seat leaves.
const samePlan = 1e-4

func (p inPlan) same(q inPlan) bool {
	return math.Abs(p.x-q.x) <= samePlan && math.Abs(p.y-q.y) <= samePlan &&
		math.Abs(p.cos-q.cos) <= samePlan && math.Abs(p.sin-q.sin) <= samePlan
}

// far is how far p is from q: of the origins, mm, and turned, rad; to a millionth, so that
// equal ones are equal.
func (p inPlan) far(q inPlan) [2]float64 {
	angle := math.Atan2(p.cos*q.sin-p.sin*q.cos, p.cos*q.cos+p.sin*q.sin)
	round := func(v float64) float64 { return math.Round(v*1e6) / 1e6 }
	return [2]float64{round(math.Hypot(p.x-q.x, p.y-q.y)), round(math.Abs(angle))}
}

// seatFrame is the frame of a seat in the component's: in the middle of the two locators, X
// along their line, Z the normal.
func (st *seat) seatFrame() geom.Pose {
	return geom.Pose{
		R: triad(st.pins[1].Sub(st.pins[0]), st.normal),
		T: st.pins[0].Add(st.pins[1]).Mul(0.5),
	}
}

// onTop returns where a grid is in the plan of its component's seat.
func (a *assembly) onTop(g *grid) inPlan {
	return flat(a.seat.seatFrame().Inverse().Mul(g.pose()))
}

// cells finds places in plan that are the same: cells of a few times samePlan's width in
// each of the four numbers, and the places in them.
type cells struct {
	first map[[4]int32]int32 // index of a place in the cell, and one
	next  []int32            // index of another one in the same cell, and one; 0: none
	at    []inPlan
}

const (
	cellWidth  = 16 * samePlan
	cellOffset = 0.37 * samePlan // no round number lies on the edge of a cell
)

func newCells() *cells { return &cells{first: make(map[[4]int32]int32)} }

// add adds a place; its index is the number of those before it.
func (c *cells) add(p inPlan) {
	key := [4]int32{cell(p.x), cell(p.y), cell(p.cos), cell(p.sin)}
	c.next = append(c.next, c.first[key])
	c.at = append(c.at, p)
	c.first[key] = int32(len(c.at))
}

// cell numbers the cells of one number. Those far beyond any table are one.
func cell(v float64) int32 {
	return int32(max(math.MinInt32, min(math.MaxInt32, math.Floor((v+cellOffset)/cellWidth))))
}

// find returns the index of a place that is the same; -1 if there is none.
func (c *cells) find(p inPlan) int {
	var low, high [4]int32
	for k, v := range [4]float64{p.x, p.y, p.cos, p.sin} {
		low[k], high[k] = cell(v-samePlan), cell(v+samePlan)
	}
	for key := low; ; {
		for i := c.first[key]; i > 0; i = c.next[i-1] {
			if c.at[i-1].same(p) {
				return int(i - 1)
			}
		}
		k := 0
		for ; k < 4; k++ {
			if key[k] < high[k] {
				key[k]++
				break
			}
			key[k] = low[k]
		}
		if k == 4 {
			return -1
		}
	}
}
