package proof

import (
	"math"

	"gridswing/geom"
	"gridswing/geom/motion"
	"gridswing/machine"
)

// SweptFar is Swept where something turns a long way: a box around those of parts of the
// range, in each of which nothing turns by more than a step, in rad, either way. For all
// these turns the corners of the solid's own box stand for it.
func SweptFar(s *machine.Solid, chain *motion.Chain, over *motion.Box, step float64) geom.Box {
	var parts [motion.MaxParams]int
	for k := range parts {
		parts[k] = 1
	}
	for i := range chain.Joints {
		if j := &chain.Joints[i]; j.Kind == motion.Rotary {
			for k, g := range j.Gain {
				parts[k] = max(parts[k], int(math.Ceil(math.Abs(g)*(over.Hi[k]-over.Lo[k])/(2*step)-1e-9)))
			}
		}
	}
	all, own := geom.EmptyBox(), s.Audit.Bounds
	if own.Empty() {
		return all
	}
	corners := own.Corners()
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
		e := chain.Over(&cell, &scratch)
		box := geom.EmptyBox()
		for _, v := range corners {
			box = box.Include(e.Pose.Dir(v))
		}
		all = all.Union(carried(box, e, s, 1e-9))
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
