package posted

import (
	"context"
	"fmt"
	"math"

	"gridswing/geom/motion"
	"gridswing/machine"
	"gridswing/machine/check"
	"gridswing/machine/check/proof"
	"gridswing/machine/check/spindle"
	"gridswing/machine/program"
	"gridswing/machine/tooling"

	"github.com/golang/geo/r3"
)

// The window of a tool is between which stick-outs all that was proven of it still holds, if its length is
// measured and keyed in anew. It is narrowed chunk by chunk, while the program goes by.
//
// Of a tool that is longer by d the tip stays where it was wherever the length offset leads it: the axis along the
// tool stands d farther up, and with it the gauge line and all behind it. Where the
// length does not lead, as at home, the gauge line stays and the tip is d lower; such legs are level, and so
// are those from the one to the other, on which it is in between, but for those that lead along the tool alone and
// farther than d: there the front only goes less far. So over all d from a to b, a <= 0 <= b,
//
//   - the holder and all behind it are where they were on any leg, shifted up by a to b, whether it is level
//     or not; then the neck, the shank and what cuts are where they were on legs that are not level;
//   - on level legs the front of the longest tool there can be, pushed into its holder by what it is
//     longer, stands for the front of each: shifted up by longest - b to longest. What
//     of it is in the holder does no harm, since the holder is wider;
//   - what a longer tool draws out of the holder on other legs is where the holder was, since the window ends where
//     the holder is no longer, or narrower than the shank.
//
// The stock counts as loaded. Each of these questions is put to the tree of the chunk as in prover, the boxes of
// axis positions being longer by the shift.
type window struct {
	tool      *tooling.Tool
	low, high float64 // how much the stick-out may be changed, mm: at most 0, and at least
	longest   float64 // how much longer it can be
	lowBy     string
	highBy    string
	behind    []*pair // holder, and what is behind it, against all others
	front     []*pair // of the longest tool, against all others
}

const (
	windowStep  = 0.25 // mm to which the ends are found
	windowTests = 5000 // of a leg: where they do not do, it counts as not good
)

// upright is the axis along which tools stand, and 1 if it goes up with its position, -1 if down. It is not ok where a
// rotary axis turns the spindle, or no linear axis leads along it wherever the others stand.
func (c *checker) upright() (axis int, up float64, ok bool) {
	if c.setup.Spindle == nil {
		return 0, 0, false
	}
	chain := &c.setup.Spindle.Chain
	for i := range chain.Joints {
		if j := &chain.Joints[i]; j.Kind == motion.Rotary && j.Gain != (motion.Params{}) {
			return 0, 0, false
		}
	}
	along := chain.Home.Dir(r3.Vector{Z: 1})
	for i := range chain.Joints {
		j := &chain.Joints[i]
		for k, g := range j.Gain {
			if d := j.Axis.Dot(along) * g; math.Abs(math.Abs(d)-1) < 1e-9 && !c.setup.Axes[k].Free {
				return k, math.Copysign(1, d), true
			}
		}
	}
	return 0, 0, false
}

// newWindow makes that of a side's tool; nil where nothing is to be changed.
func (c *checker) newWindow(s *side) *window {
	if c.options.NoWindow || s.tool < 0 || c.axial < 0 {
		return nil
	}
	t := c.setup.Tools[s.tool]
	shortest, longest := t.StickOuts()
	w := &window{
		tool: t, low: min(0, shortest-t.StickOut), high: max(0, longest-t.StickOut),
		lowBy: check.GoesTogether, highBy: check.GoesTogether,
	}
	if most := covers(t); most < w.high {
		w.high, w.highBy = most, "what would be drawn out of the holder is not looked at beyond it"
	}
	w.longest = w.high
	for i := range s.pairs {
		p := s.pairs[i]
		for k := range s.movers {
			if m := &s.movers[k]; m.Index == p.a && (!m.Part || m.Zone == tooling.HolderZone) {
				w.behind = append(w.behind, p)
			}
		}
	}
	bodies := c.setup.BodiesOf(t.At(t.StickOut + w.longest))
	for i := range bodies {
		b := &bodies[i]
		if b.Zone == tooling.HolderZone {
			continue
		}
		c.trees.Plant(1, []machine.Body{b.Body})
		m := spindle.Mover{Body: &b.Body, Index: len(c.setup.Bodies) + i, Part: true, Zone: b.Zone}
		for _, k := range c.others {
			if c.options.NoStock && c.isStock(k) {
				continue
			}
			w.front = append(w.front, c.frontPair(&m, k))
		}
	}
	return w
}

// covers is how much of a shank can be drawn out of the holder and still be where the holder was, mm.
func covers(t *tooling.Tool) float64 {
	if t.Holder.Mesh != nil || len(t.Holder.Profile) == 0 {
		return 0
	}
	for _, p := range t.Holder.Profile {
		if p[1] < t.Cutter.DMM {
			return 0
		}
	}
	return t.Holder.Length
}

// frontPair asks of the front of a tool what is asked of it on level legs.
func (c *checker) frontPair(m *spindle.Mover, k int) *pair {
	p := c.newPair(m.Index, m.Body, k, &c.setup.Bodies[k])
	for kind, name := range map[program.Kind]string{
		program.Rapid: machine.DemandRapid, program.Feed: machine.DemandHolder, program.Change: machine.DemandChange,
	} {
		mm, why := c.setup.Demand.For(name, p.body.Name, p.other.Name)
		p.demands(kind, mm, why)
	}
	return p
}

// narrow narrows the window of the chunk's tool by the chunk.
func (c *checker) narrow(ctx context.Context, ch *chunk) error {
	w := ch.side.window
	if w == nil || len(ch.levels) == 0 || w.low == 0 && w.high == 0 {
		return nil
	}
	c.byTravel(w, ch)
	ends := make([][2]float64, len(w.behind))
	err := proof.InParallel(ctx, c.options.Jobs, len(w.behind), func(i int) error {
		var err error
		ends[i], err = c.around(ctx, ch, w.behind[i], w.low, w.high)
		return err
	})
	if err != nil {
		return err
	}
	for i, p := range w.behind {
		w.cut(ends[i], p)
	}
	if w.high == 0 {
		return nil
	}
	highs := make([]float64, len(w.front))
	err = proof.InParallel(ctx, c.options.Jobs, len(w.front), func(i int) error {
		v := &lifter{c: c, ch: ch, p: w.front[i], level: true}
		var err error
		highs[i], err = farthest(w.high, func(far float64) (bool, error) { return v.holds(ctx, w.longest-far, w.longest) })
		return err
	})
	for i, p := range w.front {
		w.cut([2]float64{w.low, highs[i]}, p)
	}
	return err
}

// cut takes down what is good for a pair.
func (w *window) cut(ends [2]float64, p *pair) {
	by := fmt.Sprintf("%s against %s", p.body.Name, p.other.Name)
	if p.stock {
		by += ", as loaded"
	}
	if ends[0] > w.low {
		w.low, w.lowBy = ends[0], by
	}
	if ends[1] < w.high {
		w.high, w.highBy = ends[1], by
	}
}

// byTravel ends the window where the axis along the tool would leave too little of its travel.
func (c *checker) byTravel(w *window, ch *chunk) {
	a := &c.setup.Axes[c.axial]
	over := &ch.levels[len(ch.levels)-1][0].over
	least := [2]float64{over.Lo[c.axial] - a.Travel[0], a.Travel[1] - over.Hi[c.axial]} // as if the length led all
	if c.up < 0 {
		least[0], least[1] = least[1], least[0]
	}
	if -w.low <= least[0]-c.setup.Demand.Travel && w.high <= least[1]-c.setup.Demand.Travel {
		return
	}
	for i := range ch.legs {
		l := &ch.legs[i]
		for i, p := range [2]float64{l.From[c.axial], l.To[c.axial]} {
			if !l.led[i] {
				continue
			}
			off := l.Within[c.axial] + a.Accuracy + c.setup.Demand.Travel
			down, up := p-a.Travel[0]-off, a.Travel[1]-p-off
			if c.up < 0 {
				down, up = up, down
			}
			if end := min(0, -down); end > w.low {
				w.low, w.lowBy = end, "the travel of "+a.Letter
			}
			if end := max(0, up); end < w.high {
				w.high, w.highBy = end, "the travel of "+a.Letter
			}
		}
	}
}

// around is between which shifts a pair is good on a chunk.
func (c *checker) around(ctx context.Context, ch *chunk, p *pair, low, high float64) (ends [2]float64, err error) {
	v := &lifter{c: c, ch: ch, p: p}
	if ok, err := v.holds(ctx, low, high); ok || err != nil {
		return [2]float64{low, high}, err
	}
	down, err := farthest(-low, func(far float64) (bool, error) { return v.holds(ctx, -far, 0) })
	if err != nil {
		return ends, err
	}
	up, err := farthest(high, func(far float64) (bool, error) { return v.holds(ctx, 0, far) })
	return [2]float64{0 - down, up}, err
}

// farthest is how far all is good, up to most; 0 if nothing is.
func farthest(most float64, good func(far float64) (bool, error)) (float64, error) {
	if most == 0 {
		return 0, nil
	}
	if ok, err := good(most); ok || err != nil {
		return most, err
	}
	at, bad := 0.0, most
	for bad-at > windowStep {
		mid := (at + bad) / 2
		ok, err := good(mid)
		if err != nil {
			return at, err
		}
		if ok {
			at = mid
		} else {
			bad = mid
		}
	}
	return at, nil
}

// lifter looks whether a pair is good on a chunk where the axis along the tool is shifted.
type lifter struct {
	c     *checker
	ch    *chunk
	p     *pair
	level bool // on level legs only
	from  float64
	to    float64
	own   prover
}

// holds reports whether all that is demanded is proven on the chunk with shifts from and to, and all in between.
func (v *lifter) holds(ctx context.Context, from, to float64) (bool, error) {
	if v.c.up < 0 {
		from, to = -to, -from
	}
	v.from, v.to = from, to
	v.own = prover{c: v.c, p: v.p}
	top := len(v.ch.levels) - 1
	s := &v.ch.levels[top][0]
	if v.none(s) {
		return true, nil
	}
	over, demand := v.shifted(s), v.p.most(s.kinds)
	if v.p.lifted.holds(&over, &v.p.uses, demand) {
		return true, nil
	}
	if box, ok := v.p.lifted.larger(&over, &v.p.uses, &v.c.travel); ok {
		most := v.p.most(v.p.asked)
		clear, err := v.own.clears(ctx, &box, most, branchTests)
		if err != nil {
			return false, err
		}
		if clear {
			v.p.lifted.keep(box, most)
			v.p.lifted.fits()
			return true, nil
		}
		v.p.lifted.tooLarge()
	}
	clear, err := v.own.clears(ctx, &over, demand, branchTests)
	if clear && err == nil {
		v.p.lifted.keep(over, demand)
	}
	if clear || err != nil {
		return clear, err
	}
	return v.children(ctx, top, 0)
}

// none reports whether nothing is asked on a stretch.
func (v *lifter) none(s *stretch) bool {
	return s.kinds&v.p.asked == 0 || v.level && !s.level
}

func (v *lifter) shifted(s *stretch) motion.Box {
	over := s.over
	over.Lo[v.c.axial] += v.from
	over.Hi[v.c.axial] += v.to
	return over
}

// children looks at what a branch is made of.
func (v *lifter) children(ctx context.Context, level, i int) (bool, error) {
	if level == 0 {
		from, to := v.ch.legsUnder(level, i)
		for k := from; k < to; k++ {
			s := v.ch.legs[k].stretch()
			if ok, err := v.one(ctx, &s, windowTests); !ok || err != nil {
				return false, err
			}
		}
		return true, nil
	}
	for k := i * branches; k < min((i+1)*branches, len(v.ch.levels[level-1])); k++ {
		ok, err := v.one(ctx, &v.ch.levels[level-1][k], branchTests)
		if err != nil {
			return false, err
		}
		if ok {
			continue
		}
		if ok, err := v.children(ctx, level-1, k); !ok || err != nil {
			return false, err
		}
	}
	return true, nil
}

// one looks at a stretch as a whole.
func (v *lifter) one(ctx context.Context, s *stretch, tests int64) (bool, error) {
	if v.none(s) {
		return true, nil
	}
	over, demand := v.shifted(s), v.p.most(s.kinds)
	if v.p.lifted.holds(&over, &v.p.uses, demand) {
		return true, nil
	}
	return v.own.clears(ctx, &over, demand, tests)
}
