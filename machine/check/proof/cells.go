package proof

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"

	"github.com/golang/geo/r3"
)

// ringParts is how many parts are made of one where something turns all the way round.
const ringParts = 3

// SweptFar is Swept where something turns a long way: a box around those of parts of the
// range, in each of which nothing turns by more than a step, in rad, either way. For all
// these turns a few boxes around the solid stand for it.
func (t *Trees) SweptFar(s *machine.Solid, chain *motion.Chain, over *motion.Box, step float64) geom.Box {
	ring, turns := t.ringOf(s, chain, over)
	moved := chain
	if turns {
		// What turns all the way round need not be looked at in parts, so the others are smaller.
		moved, step = &ring.outer, step/ringParts
	}
	var parts [motion.MaxParams]int
	for k := range parts {
		parts[k] = 1
	}
	for i := range moved.Joints {
		if j := &moved.Joints[i]; j.Kind == motion.Rotary {
			for k, g := range j.Gain {
				parts[k] = max(parts[k], int(math.Ceil(math.Abs(g)*(over.Hi[k]-over.Lo[k])/(2*step)-1e-9)))
			}
		}
	}
	all := geom.EmptyBox()
	if s.Audit.Bounds.Empty() {
		return all
	}
	around := t.around(s)
	var scratch motion.Excursion
	var at [motion.MaxParams]int
	for {
		cell := *over
		for k, n := range parts {
			if n > 1 {
				wide := (over.Hi[k] - over.Lo[k]) / float64(n)
				cell.Lo[k], cell.Hi[k] = over.Lo[k]+float64(at[k])*wide, over.Lo[k]+float64(at[k]+1)*wide
			}
		}
		if turns {
			all = all.Union(ring.box(&cell, &scratch))
		} else {
			e := chain.Over(&cell, &scratch)
			all = all.Union(carried(around.turned(&e.Pose), e, s, boxRounding))
		}
		k := 0
		for ; k < len(at); k++ {
			if at[k]++; at[k] < parts[k] {
				break
			}
			at[k] = 0
		}
		if k == len(at) {
			return all
		}
	}
}

// around is boxes around a solid, each in a frame of its own: as it is drawn, and turned by an
// eighth about each axis, which holds what is round better.
type around [4]struct {
	turn geom.Rotation
	box  geom.Box
}

type aroundKey struct{ solid *machine.Solid }

func (t *Trees) around(s *machine.Solid) *around {
	return Fact(t, aroundKey{s}, func() *around {
		a := new(around)
		for i, axis := range []r3.Vector{{}, {X: 1}, {Y: 1}, {Z: 1}} {
			a[i].turn = geom.Identity().R
			if i > 0 {
				a[i].turn = geom.Turn(r3.Vector{}, axis, math.Pi/4).R
			}
			a[i].box = t.BoxOf(s, a[i].turn)
		}
		return a
	})
}

// turned is a box around the solid as a pose turns it, not shifted. Along any direction the
// solid reaches no farther than each of the boxes does.
func (a *around) turned(pose *geom.Pose) geom.Box {
	reach := func(x, y, z float64) float64 {
		u := pose.R.ApplyInverse(r3.Vector{X: x, Y: y, Z: z})
		least := math.Inf(1)
		for i := range a {
			v, b := a[i].turn.Apply(u), &a[i].box
			least = min(least, max(v.X*b.Min.X, v.X*b.Max.X)+max(v.Y*b.Min.Y, v.Y*b.Max.Y)+max(v.Z*b.Min.Z, v.Z*b.Max.Z))
		}
		return least
	}
	return geom.Box{
		Min: r3.Vector{X: -reach(-1, 0, 0), Y: -reach(0, -1, 0), Z: -reach(0, 0, -1)},
		Max: r3.Vector{X: reach(1, 0, 0), Y: reach(0, 1, 0), Z: reach(0, 0, 1)},
	}
}
