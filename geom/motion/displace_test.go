package motion

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gridswing/geom"

	"github.com/golang/geo/r3"
)

// variant is a chain that is much like another: stood elsewhere as a whole or from some joint on,
// turned, with more or less slack, other joints of it, gains a little off.
func variant(r *rand.Rand, c Chain) Chain {
	v := Chain{Home: c.Home, Joints: append([]Joint(nil), c.Joints...)}
	size := []float64{0, 1e-9, 0.1, 5, 50}[r.IntN(5)]
	switch r.IntN(4) {
	case 0: // from some joint on, or all, or the body alone, stands elsewhere
		by := point(r, size)
		for i := r.IntN(len(v.Joints) + 1); i < len(v.Joints); i++ {
			v.Joints[i].Point = v.Joints[i].Point.Add(by)
		}
		v.Home.T = v.Home.T.Add(by)
	case 1: // everything from some joint on is turned: quarter turns, or any
		angle := []float64{math.Pi / 2, math.Pi, -math.Pi / 2, 0.3, 1e-4}[r.IntN(5)]
		turn := geom.Turn(point(r, 100), r3.Vector{Z: 1}, angle)
		for i := r.IntN(len(v.Joints) + 1); i < len(v.Joints); i++ {
			v.Joints[i] = v.Joints[i].seenFrom(&turn)
		}
		v.Home = turn.Mul(v.Home)
	case 2: // another height, made up for by an axis
		for i := range v.Joints {
			if v.Joints[i].Kind == Linear {
				v.Joints[i].Offset += size
				v.Home.T = v.Home.T.Sub(v.Joints[i].Axis.Mul(size))
				break
			}
		}
	}
	for i := range v.Joints {
		j := &v.Joints[i]
		switch r.IntN(8) {
		case 0:
			j.Slack *= 2 * r.Float64()
		case 1:
			j.Gain[0] *= 1 + 0.01*r.NormFloat64()
		case 2:
			j.Axis = j.Axis.Add(point(r, 0.02)).Normalize()
		case 3:
			j.Point = j.Point.Add(point(r, size))
		}
	}
	for range r.IntN(3) {
		at := r.IntN(len(v.Joints) + 1)
		play := Joint{Kind: Kind(r.IntN(2)), Axis: unit(r), Point: point(r, 200), Slack: 0.02 * r.Float64()}
		v.Joints = append(v.Joints[:at:at], append([]Joint{play}, v.Joints[at:]...)...)
	}
	return v
}

// kept returns which joints of the chain its course over the box has.
func kept(c *Chain, b *Box) (list []int) {
	for i := range c.Joints {
		most := c.Joints[i].Slack
		for k, g := range c.Joints[i].Gain {
			most += math.Abs(g) * (b.Hi[k] - b.Lo[k])
		}
		if most > 0 {
			list = append(list, i)
		}
	}
	return list
}

// twin is the chain that belongs to a position of another: with its joints off as much as those
// of the other, whose excesses are given, as far as they have slack.
func twin(c, known *Chain, over, knownOver *Box, off []float64) Chain {
	a, b := c.Course(over), known.Course(knownOver)
	inA, inB := kept(c, over), kept(known, knownOver)
	t := Chain{Home: known.Home, Joints: append([]Joint(nil), known.Joints...)}
	left := b.joints
	for k := len(a.joints) - 1; k >= 0; k-- {
		if at := partner(left, &a.joints[k]); at >= 0 {
			j := &t.Joints[inB[at]]
			j.Offset += max(-j.Slack, min(j.Slack, off[inA[k]]))
			left = left[:at]
		}
	}
	return t
}

// Wherever a chain carries a body, one that is compared with it gets every point of it as near
// as is promised; and a bound that is never near what it bounds would be of no use.
func TestDisplacementHolds(t *testing.T) {
	compared, near := 0, 0
	seeds := uint64(6000)
	if testing.Short() {
		seeds = 600
	}
	for seed := range seeds {
		r := rand.New(rand.NewPCG(seed, 19))
		known, knownBox := randomChain(r)
		c := variant(r, known)
		box := knownBox
		for k := range 3 {
			if r.IntN(6) == 0 { // another range
				box.Lo[k] += 0.1 * r.NormFloat64()
				box.Hi[k] = max(box.Lo[k], box.Hi[k]+0.1*r.NormFloat64())
			}
		}
		if r.IntN(3) == 0 { // along ways
			from, within, ways := randomWays(r)
			known = known.Along(from, within, ways...)
			if r.IntN(2) == 0 {
				from[0] += 0.1 * r.NormFloat64()
			}
			c = c.Along(from, within, ways...)
			box, knownBox = Unit(len(ways)), Unit(len(ways))
		}
		center, radius := point(r, 100), 60*r.Float64()
		d := c.Course(&box).Displacement(known.Course(&knownBox), center, radius)
		if math.IsInf(d, 1) {
			continue
		}
		compared++
		most := 0.0
		for range 200 {
			p, off := somewhere(r, &c, &box)
			excess := make([]float64, len(c.Joints))
			for i := range c.Joints {
				excess[i] = off.Joints[i].Offset - c.Joints[i].Offset
			}
			var q Params
			for k := range q {
				q[k] = knownBox.Lo[k]
				if width := box.Hi[k] - box.Lo[k]; width > 0 {
					q[k] += (p[k] - box.Lo[k]) / width * (knownBox.Hi[k] - knownBox.Lo[k])
				} else {
					q[k] = (knownBox.Lo[k] + knownBox.Hi[k]) / 2
				}
			}
			other := twin(&c, &known, &box, &knownBox, excess)
			here, there := off.Pose(p), other.Pose(q)
			x := center.Add(unit(r).Mul(radius))
			apart := here.Point(x).Sub(there.Point(x)).Norm()
			if apart > d {
				t.Fatalf("seed %d: %.12g apart, bound %.12g\nchain %#v\nover %v\nknown %#v\nover %v", seed, apart, d, c, box, known, knownBox)
			}
			most = max(most, apart)
		}
		if most > 0.5*d {
			near++
		}
	}
	if compared < int(seeds)/2 || near < compared/3 {
		t.Errorf("%d compared, the bound within twice of what was reached in %d", compared, near)
	}
}

// What stands elsewhere as a whole has not moved as seen from itself, whatever turns in
// it; and what shifts the body alone is a displacement of as much.
func TestDisplacementOfShift(t *testing.T) {
	turn := Joint{Kind: Rotary, Axis: r3.Vector{X: 1}, Point: r3.Vector{Y: 100}, Gain: Params{1}}
	slide := Joint{Kind: Linear, Axis: r3.Vector{Z: 1}, Gain: Params{0, 1}}
	box := Box{Lo: Params{-2, 0}, Hi: Params{2, 300}}
	c := Chain{Joints: []Joint{slide, turn}, Home: geom.Shift(r3.Vector{X: 10, Y: 20, Z: 30})}
	course := c.Course(&box)
	by := r3.Vector{X: 3, Y: 4, Z: 12} // 13 long
	for _, s := range []struct {
		what     string
		axis     bool // the rotary axis too
		made     bool // the slide makes up for it, but for X and Y
		least    float64
		at, most float64
	}{
		{"nothing", false, false, 0, 0, 1e-9},
		{"axis and body", true, false, 13, 13, 13 + 1e-9},
		{"axis and body, the height made up for", true, true, 5, 5, 5 + 1e-9},
		{"the body alone", false, false, 13, 13, 13 + math.Hypot(4, 12)},
	} {
		other := Chain{Home: c.Home, Joints: append([]Joint(nil), c.Joints...)}
		if s.what != "nothing" {
			other.Home.T = other.Home.T.Add(by)
		}
		if s.axis {
			other.Joints[1].Point = other.Joints[1].Point.Add(by)
		}
		if s.made {
			other.Joints[0].Offset -= 12
		}
		d := other.Course(&box).Displacement(course, r3.Vector{}, 50)
		if d < s.least || d > s.most {
			t.Errorf("%s: %.12g, want from %g to %g", s.what, d, s.least, s.most)
		}
	}
}

// Chains of other joints, or of the same in another order, cannot be compared.
func TestDisplacementOfOtherJoints(t *testing.T) {
	turn := Joint{Kind: Rotary, Axis: r3.Vector{X: 1}, Gain: Params{1}}
	slide := Joint{Kind: Linear, Axis: r3.Vector{Z: 1}, Gain: Params{0, 1}}
	box := Box{Hi: Params{1, 10}}
	course := func(joints ...Joint) *Course {
		c := Chain{Joints: joints, Home: geom.Identity()}
		return c.Course(&box)
	}
	all := []*Course{course(), course(turn), course(slide), course(turn, slide), course(slide, turn), course(turn, turn)}
	for i, a := range all {
		for k, b := range all {
			if d := a.Displacement(b, r3.Vector{}, 1); math.IsInf(d, 1) != (i != k) {
				t.Errorf("%d beside %d: %g", i, k, d)
			}
		}
	}
}

// The location uncertainty carries no point farther than is said.
func TestLoosenessHolds(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 23))
		c, box := randomChain(r)
		center, radius := point(r, 100), 60*r.Float64()
		course := c.Course(&box)
		loose := course.Looseness(center, radius)
		slack := 0.0
		for i := range c.Joints {
			slack += c.Joints[i].Slack
		}
		if slack == 0 && loose > 1e-9 || slack > 0 && loose > slack*3000 {
			t.Fatalf("seed %d: %g without slack", seed, loose)
		}
		for range 100 {
			p, off := somewhere(r, &c, &box)
			x := center.Add(unit(r).Mul(radius))
			here, there := off.Pose(p), c.Pose(p)
			if d := here.Point(x).Sub(there.Point(x)).Norm(); d > loose+1e-9 {
				t.Fatalf("seed %d: off by %.12g, bound %.12g", seed, d, loose)
			}
		}
	}
}

// The rounded chain is the chain, but for rounding; and one that is put together otherwise, of the
// same motion, gives the same.
func TestRoundedIsTheSame(t *testing.T) {
	alike, compared := 0, 0
	for seed := range uint64(1000) {
		r := rand.New(rand.NewPCG(seed, 47))
		c, box := randomChain(r)
		course := c.Course(&box)
		chain, over := course.Rounded()
		center, radius := point(r, 100), 60*r.Float64()
		d := course.Displacement(chain.Course(&over), center, radius)
		if math.IsInf(d, 1) { // a range of less than the grid
			continue
		}
		compared++
		if d > 1e-5 {
			t.Fatalf("seed %d: %g apart", seed, d)
		}
		for range 20 {
			var u Params
			for k := range u {
				if over.Hi[k] > over.Lo[k] {
					u[k] = r.Float64() - 0.5
				}
			}
			p := box.Position(u)
			x := center.Add(unit(r).Mul(radius))
			here, there := c.Pose(p), chain.Pose(u)
			if apart := here.Point(x).Sub(there.Point(x)).Norm(); apart > d {
				t.Fatalf("seed %d: %g apart at %v, bound %g", seed, apart, u, d)
			}
		}
		// Everything stands elsewhere, and a slide at the root makes up for it.
		by := point(r, 300)
		other := Chain{Home: c.Home, Joints: []Joint{{Kind: Linear, Axis: by.Normalize(), Offset: -by.Norm()}}}
		for _, j := range c.Joints {
			j.Point = j.Point.Add(by)
			other.Joints = append(other.Joints, j)
		}
		other.Home.T = other.Home.T.Add(by)
		same, _ := other.Course(&box).Rounded()
		if same.Home == chain.Home && slices.Equal(same.Joints, chain.Joints) {
			alike++
		}
	}
	if compared < 900 || alike < compared*99/100 {
		t.Errorf("%d compared, of which only %d that differ by rounding only are the same", compared, alike)
	}
}
